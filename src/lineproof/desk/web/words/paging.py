"""Words of lists that are shown in parts, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "parts": ("Parts of the list", "Partes de la lista"),
    "shown": ("{first} to {last} of {count}", "{first} a {last} de {count}"),
    "before": ("Before", "Anteriores"),
    "after": ("After", "Siguientes"),
    "line": ("Line", "Línea"),
    "all_lines": ("all lines", "todas las líneas"),
    "show": ("Show", "Ver"),
}
