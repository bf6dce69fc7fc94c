"""What is said while the job is still being read, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Still reading the job", "Todavía se está leyendo la obra"),
    "told": (
        "The job is being read and planned as its files and its record stand now. This page comes by itself "
        "in a moment. Nothing is shown before, so that nothing old is taken for new.",
        "Se está leyendo y planeando la obra como están ahora sus archivos y su registro. La página sale "
        "sola en un momento. Antes no se muestra nada, para que nada viejo se tome por nuevo.",
    ),
    "again": ("Ask again now", "Preguntar otra vez ahora"),
}
