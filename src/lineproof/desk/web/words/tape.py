"""Words of the tape list, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Tape list", "Lista de medidas"),
    "none": (
        "Nothing waits for a tape. The pieces can be cut as the page Pieces lists them.",
        "Nada espera la cinta. Las piezas se pueden cortar como las da la página Piezas.",
    ),
    "fittings": ("Fittings to measure", "Conexiones por medir"),
    "row": ("{why}; measured {measured}, wanted {wants}", "{why}; medidas {measured}, se piden {wants}"),
    "at": ("at {places}; pieces that wait: {pieces}", "en {places}; piezas que esperan: {pieces}"),
    "at_none": ("at {places}; no piece waits", "en {places}; ninguna pieza espera"),
    "type_them": (
        "Type them into parts.csv: centre to face (reach) and depth to the stop, both from the same fitting.",
        "Escríbalas en parts.csv: centro a cara (reach) y profundidad hasta el tope (depth), las dos de la "
        "misma conexión.",
    ),
    "bells": ("Factory bells to measure", "Campanas de fábrica por medir"),
    "bell": ("{id}, lot {lot:@}", "{id}, lote {lot:@}"),
    "gaps": ("Gaps to tape", "Espacios por medir"),
    "gap": ("from {a} to {b}, by the drawing about {about}", "de {a} a {b}, según el plano unos {about}"),
    "taped": ("Taped, with its unit", "Lo medido, con su unidad"),
    "by": ("By", "Quién"),
    "write": ("Write it down", "Anotar"),
}
