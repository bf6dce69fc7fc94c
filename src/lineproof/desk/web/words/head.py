"""The head and the foot of every page, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "now": ("Now", "Ahora"),
    "lines": ("Lines", "Líneas"),
    "pad": ("Walk pad", "Trazar"),
    "tape": ("Tape", "Medir"),
    "pieces": ("Pieces", "Piezas"),
    "joints": ("Joints", "Juntas"),
    "may": ("May we?", "¿Se puede?"),
    "figures": ("Figures", "Cálculos"),
    "people": ("People and cans", "Gente y latas"),
    "papers": ("Papers", "Papeles"),
    "phones": ("Phones", "Teléfonos"),
    "skip": ("To the content", "Ir al contenido"),
    "pages": ("Pages", "Páginas"),
    "in_en": ("English", "English"),
    "in_es": ("Español", "Español"),
    "day": ("day", "día"),
    "dark": ("dark", "oscuro"),
    "glare": ("sun", "sol"),
    "record": ("Record", "Anotar"),
    "settle": ("Settle", "Aclarar"),
    "pressure": ("Under pressure", "Con presión"),
    "under_pressure": (
        "{section} UNDER PRESSURE since {since} (release {release}): do not cut, loosen or cap; zero "
        "is not proved",
        "{section} CON PRESIÓN desde {since} (autorización {release}): no corte, no afloje, no tape; "
        "el cero no está comprobado",
    ),
    "may_be_pressed": (
        "{section}: its record is unclear, take it to be UNDER PRESSURE since {since} (release {release})",
        "{section}: su registro no es claro, tómela CON PRESIÓN desde {since} (autorización {release})",
    ),
    "pressure_unknown": (
        "The logbook cannot be read, so any section may be UNDER PRESSURE: {why}",
        "No se puede leer el registro, así que cualquier sección puede estar CON PRESIÓN: {why}",
    ),
    "release": ("The release", "La autorización"),
    "may_open": ("May it be opened?", "¿Se puede abrir?"),
    "zero": ("Zero is proved: record it", "El cero está comprobado: anotarlo"),
    "foot": (
        "The approved procedure, the container's label, local codes and licensed or competent persons stand "
        "above this page. Nothing leaves this machine and its paired phones.",
        "El procedimiento aprobado, la etiqueta del envase, el reglamento local y las personas con licencia "
        "o competentes mandan sobre esta página. Nada sale de esta máquina y de sus teléfonos emparejados.",
    ),
    "mark": (
        "Spanish to be read over by a native-speaking fitter",
        "Español: falta que lo lea un instalador de habla hispana (to be read over by a native-speaking "
        "fitter).",
    ),
}
