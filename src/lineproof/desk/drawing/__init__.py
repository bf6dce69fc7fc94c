"""The isometric drawing of a line on paper: projection, scene, labels, sheets, SVG."""
