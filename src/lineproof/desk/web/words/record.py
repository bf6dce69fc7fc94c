"""Words of the record and of the form of every kind of entry, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Record", "Registro"),
    "write": ("Write down what happened", "Anotar lo que pasó"),
    "g_joints": ("Joints", "Juntas"),
    "g_section": ("Test section and release", "Sección de prueba y autorización"),
    "g_measures": ("Temperature, humidity, weather", "Temperatura, humedad, clima"),
    "g_cans": ("Cans", "Latas"),
    "g_tags": ("Hold tags and notes", "Etiquetas de alto y notas"),
    "g_right": ("Putting it right", "Corregir"),
    "entries": ("What was written, newest first", "Lo anotado, lo más nuevo primero"),
    "about": ("about a joint, can, section, tag or kind", "sobre una junta, lata, sección, etiqueta o tipo"),
    "find": ("Find", "Buscar"),
    "none": (
        "Nothing is written yet. Give the pack to the crew first: the page Papers.",
        "Todavía no hay nada anotado. Primero entregue el paquete a la cuadrilla: página Papeles.",
    ),
    "none_about": ("Nothing is written about {about}.", "No hay nada anotado sobre {about}."),
    "by": ("by {by}", "por {by}"),
    "struck": ("STRUCK OUT", "ANULADA"),
    "was": (
        "corrected: {field} {old} -> {new} by {by} ({reason})",
        "corregido: {field} {old} -> {new} por {by} ({reason})",
    ),
    "correct": ("Correct it", "Corregirla"),
    "newest": (
        "The newest {most} of {count}; find the others by what they are about.",
        "Las {most} más nuevas de {count}; busque las demás por su tema.",
    ),
    "yes": ("yes", "sí"),
    "no": ("no", "no"),
    "set": ("{field}, corrected to", "{field}, corregido a"),
    "with_unit": ("{field}, with its unit", "{field}, con su unidad"),
    "more": ("More", "Más"),
    "insist": (
        "why an odd entry is kept all the same (it is flagged)",
        "por qué se guarda algo raro de todos modos (queda marcado)",
    ),
    "now_unless": (
        "Without a time it counts from the moment it is kept. Times are those of the site.",
        "Sin hora cuenta desde que se guarda. Las horas son las de la obra.",
    ),
    "owed": (
        "Not said: {what}. Nothing goes to pressure without.",
        "No se dijo: {what}. Sin eso nada va a presión.",
    ),
    "zero_care": (
        "Only the one who sees the open vent records this. Until then the section counts as UNDER PRESSURE.",
        "Solo lo anota quien ve el venteo abierto. Hasta entonces la sección cuenta CON PRESIÓN.",
    ),
}
