"""Words of lists that are shown in parts, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "above": ("Parts of the list, above it", "Partes de la lista, arriba"),
    "below": ("Parts of the list, below it", "Partes de la lista, abajo"),
    "saw_above": ("Parts of the saw list, above it", "Partes de la lista de cortes, arriba"),
    "saw_below": ("Parts of the saw list, below it", "Partes de la lista de cortes, abajo"),
    "shown": ("{first} to {last} of {count}", "{first} a {last} de {count}"),
    "before": ("Before", "Anteriores"),
    "after": ("After", "Siguientes"),
    "line": ("Line", "Línea"),
    "all_lines": ("all lines", "todas las líneas"),
    "show": ("Show", "Ver"),
}
