"""What a field of an entry may say, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "ring": ("ring", "anillo"),
    "nut": ("nut", "tuerca"),
    "joint": ("joint", "junta"),
    "air": ("air", "aire"),
    "pipe": ("pipe", "tubo"),
    "can": ("can", "lata"),
    "water": ("water", "agua"),
    "cement": ("cement", "cemento"),
    "primer": ("primer", "primer"),
    "cleaner": ("cleaner", "limpiador"),
    "grout": ("grout", "mortero"),
    "anchor": ("anchor", "anclaje"),
    "fill": ("fill", "llenar"),
    "raise": ("raise", "subir presión"),
    "move": ("move", "mover"),
    "lower": ("lower", "bajar"),
    "load": ("load", "cargar"),
    "blind": ("blind", "brida ciega"),
    "valve": ("valve", "válvula"),
    "pump": ("pump", "bomba"),
    "column": ("column of water", "columna de agua"),
    "people-out": ("people out of the area", "gente fuera del área"),
    "nothing-since": (
        "nothing made, cut, moved or repaired since",
        "nada hecho, cortado, movido ni reparado desde entonces",
    ),
    "vents-open": ("vents open", "venteos abiertos"),
    "air-out": ("air out", "aire fuera"),
    "joints-ready": ("joints of the section ready", "juntas de la sección listas"),
    "heard-for": ("answers for a phone not heard", "responde por un teléfono que no se oyó"),
}
