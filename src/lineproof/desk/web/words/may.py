"""Words of the page that answers whether something may be done, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("May we?", "¿Se puede?"),
    "also": ("{not_before}, as far as is known", "{not_before}, hasta donde se sabe"),
    "asked": ("may {verb} {subject} ({n:#joint})", "{verb} {subject} ({n:#junta})"),
    "asked_to": (
        "may {verb} {subject} to {gauge} at {at} ({n:#joint})",
        "{verb} {subject} a {gauge} en {at} ({n:#junta})",
    ),
    "more": ("Also", "También"),
    "then": ("To answer then", "Para contestar entonces"),
    "release": (
        "The release is given by {signs}, the person in charge of the test: lineproof may {verb} ... --by "
        "{signs} --release",
        "La autorización la da {signs}, la persona a cargo de la prueba: lineproof may {verb} ... --by "
        "{signs} --release",
    ),
    "judged": (
        "Judged for {when}, known by receipt {known}. These are the clocks and the record; they "
        "make no joint safe.",
        "Juzgado para {when}, según el recibo {known}. Esto son los relojes y el registro; no "
        "hacen segura ninguna junta.",
    ),
    "may_we": ("May we", "¿Se puede"),
    "what": ("what", "qué"),
    "section": ("section", "sección"),
    "pressure": ("For fill and raise", "Para llenar y subir presión"),
    "gauge": ("to, at the gauge", "a cuánto, en el manómetro"),
    "place": ("gauge place", "lugar del manómetro"),
    "medium": ("medium", "con qué"),
    "ask": ("Ask", "Preguntar"),
    "move": ("move", "mover"),
    "lower": ("lower", "bajar"),
    "load": ("load", "cargar"),
    "open": ("open", "abrir"),
    "fill": ("fill", "llenar"),
    "raise": ("raise", "subir presión"),
    "water": ("water", "agua"),
    "air": ("air", "aire"),
    "gas": ("gas", "gas"),
    "verb": ("{verb} is nothing that is asked here", "aquí no se pregunta {verb}"),
    "verb_allowed": ("{verbs}", "{verbs}"),
    "verb_next": ("choose one", "elija uno"),
}
