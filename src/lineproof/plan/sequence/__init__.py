"""In what order the joints are made, and how the last one closes: steps of bodies, openings, spools."""
