"""Words of the cut list and the sticks, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Pieces and sticks", "Piezas y tramos"),
    "none": ("There is no piece yet: walk a line first.", "Todavía no hay piezas: primero trace una línea."),
    "piece": ("piece", "pieza"),
    "pipe": ("pipe", "tubo"),
    "cut": ("cut", "corte"),
    "face": ("face to face", "cara a cara"),
    "centre": ("centre to centre", "centro a centro"),
    "end_a": ("end a", "punta a"),
    "end_b": ("end b", "punta b"),
    "sticks": ("Sticks", "Tramos"),
}
