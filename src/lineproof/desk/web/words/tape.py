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
    "bells": ("Factory bells to measure", "Campanas de fábrica por medir"),
    "bell": ("{id}, lot {lot:@}", "{id}, lote {lot:@}"),
    "gaps": ("Gaps to tape", "Espacios por medir"),
    "gap": ("from {a} to {b}, by the drawing about {about}", "de {a} a {b}, según el plano unos {about}"),
    "taped_us": ("taped; a bare number is inches", "lo medido; un número solo son pulgadas"),
    "taped_metric": ("taped; a bare number is millimetres", "lo medido; un número solo son milímetros"),
    "by": ("who held the tape", "quién tuvo la cinta"),
    "kept": ("Kept.", "Guardado."),
    "lot": ("lot {lot}", "lote {lot}"),
    "fitting": ("Measure a fitting", "Medir una conexión"),
    "fitting_n": ("fitting {n}", "conexión {n}"),
    "this_one": ("this one", "esta"),
    "same_fitting": (
        "Centre to face and depth to the stop, both from the same fitting.",
        "Centro a cara y profundidad hasta el tope, las dos de la misma conexión.",
    ),
    "bare_us": ("A bare number is inches.", "Un número solo son pulgadas."),
    "bare_metric": ("A bare number is millimetres.", "Un número solo son milímetros."),
    "reach": ("{end} ({form}): centre to face", "{end} ({form}): centro a cara"),
    "depth": ("{end}: depth to the stop", "{end}: profundidad hasta el tope"),
    "again": (
        "these stand alone: what was measured before was wrong",
        "estas valen solas: lo medido antes estaba mal",
    ),
    "lot_is": ("lot as marked", "lote como está marcado"),
    "count": ("how many of it are in hand", "cuántas hay"),
    "hub": ("outside diameter of the hub", "diámetro de afuera de la campana"),
    "note": ("note", "nota"),
    "so_far": (
        "So far, centre to face / depth: {values}.",
        "Hasta ahora, centro a cara / profundidad: {values}.",
    ),
    "by_on": ("{by:@}, {day:@}", "{by:@}, {day:@}"),
    "kept_as": (
        "It becomes a row of parts.csv; the row as it was stays there as a remark. Of several the row holds "
        "the middle between the largest and the smallest.",
        "Queda como renglón de parts.csv; el renglón de antes se queda ahí como comentario. De varias el "
        "renglón tiene el medio entre la mayor y la menor.",
    ),
    "dry_fit": (
        "Entrance and bottom of a socket: the dry fit as a figure",
        "Entrada y fondo de la campana: la prueba en seco como cálculo",
    ),
    "stands": (
        "The row will stand as: {ends} (centre to face / depth), {measured} measured, {by}, {day}.",
        "El renglón queda: {ends} (centro a cara / profundidad), {measured} medidas, {by}, {day}.",
    ),
    "spread": ("Largest less smallest: {spread}.", "La mayor menos la menor: {spread}."),
    "freed": ("{n:#piece} can be cut now.", "Ya se puede cortar: {n:#pieza}."),
    "freed_none": ("No piece that waited is freed by it yet.", "Todavía no libera ninguna pieza que espera."),
    "more": ("{n} more of the lot are to be measured.", "Faltan {n} del lote por medir."),
    "was_taped": ("Taped gaps", "Espacios medidos"),
    "newest_counts": (
        "The newest row counts. To put one right, tape it again: nothing is changed or taken out.",
        "Cuenta el renglón más nuevo. Para corregir, mida otra vez: nada se cambia ni se quita.",
    ),
    "row_taped": ("{a} to {b}: {typed}, {by}", "{a} a {b}: {typed}, {by}"),
    "why_again": ("why it is taped again", "por qué se mide otra vez"),
    "was_measured": (
        "Measured fittings: open one to measure it again",
        "Conexiones medidas: abra una para medirla otra vez",
    ),
    "no_fitting": ("no fitting is called {of}", "ninguna conexión se llama {of}"),
    "no_fitting_next": ("open it from the tape list", "ábrala desde la lista de medidas"),
}
