"""Words of the pages of the lines and their drawings, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Lines", "Líneas"),
    "none": (
        "No line is walked yet. Begin one on the walk pad.",
        "Todavía no hay ninguna línea trazada. Empiece una en la página Trazar.",
    ),
    "begin": ("Begin a line", "Empezar una línea"),
    "count": ("{n:#joint}", "{n:#junta}"),
    "line": ("Line {name}", "Línea {name}"),
    "change": ("Change it on the walk pad", "Cambiarla en la página Trazar"),
    "drawing": ("Drawing of line {name}, sheet {n} of {of}", "Dibujo de la línea {name}, hoja {n} de {of}"),
    "legs": ("Legs", "Tramos rectos"),
    "leg": ("leg", "tramo"),
    "from": ("from", "de"),
    "way": ("way", "rumbo"),
    "centre": ("centre to centre", "centro a centro"),
    "face": ("face to face", "cara a cara"),
    "to": ("to", "a"),
    "note": ("note", "nota"),
    "side_title": ("Key letters on this sheet", "Letras clave de esta hoja"),
    "side_key": ("key", "clave"),
    "side_what": ("what", "qué es"),
    "side_name": ("name", "nombre"),
    "side_where": ("where", "dónde"),
    "no_such": ("no line is called {name}", "ninguna línea se llama {name}"),
    "no_such_allowed": ("{names}", "{names}"),
    "no_such_next": ("open one of the page Lines", "abra una de la página Líneas"),
}
