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
        "The release is given by {signs}, the person in charge of the test.",
        "La autorización la da {signs}, la persona a cargo de la prueba.",
    ),
    "release_nobody": (
        "Nobody is named as the person in charge of the test: name one under [signs] in job.toml.",
        "Nadie está nombrado como persona a cargo de la prueba: nómbrela en [signs] de job.toml.",
    ),
    "record_it": ("Record it", "Anotarlo"),
    "again": ("Ask again", "Preguntar otra vez"),
    "spot": ("Answered on the spot", "Se contesta en el lugar"),
    "answer": ("answer", "respuesta"),
    "where": ("where the one who answers stands", "dónde está quien contesta"),
    "answers": ("{by} answers this", "esto lo contesta {by}"),
    "name_asker": (
        "The one who asks answers this: say below who asks, and ask again.",
        "Esto lo contesta quien pregunta: diga abajo quién pregunta y pregunte otra vez.",
    ),
    "asker": ("who asks", "quién pregunta"),
    "word_of": ("word of {device}", "noticia de {device}"),
    "keep": ("Keep this answer in the record", "Guardar esta respuesta en el registro"),
    "keep_why": (
        "It is kept with the name of who asked and the hashes of all it rests on.",
        "Se guarda con el nombre de quien preguntó y las huellas de todo en lo que se basa.",
    ),
    "kept": ("The answer is kept ({entry}).", "La respuesta se guardó ({entry})."),
    "beyond": ("beyond", "más allá"),
    "beyond_said": (
        "{names}: nothing that holds lies between, so it counts",
        "{names}: nada que cierre hay en medio, así que cuenta",
    ),
    "left_out": ("left out", "sin contar"),
    "left_out_said": (
        "{names}: cut out, or said not to be made",
        "{names}: cortadas, o se dijo que no están hechas",
    ),
    "left_out_raise": ("{names}: cut out and replaced", "{names}: cortadas y reemplazadas"),
    "as_said": ("as said", "como se dijo"),
    "dampest_said": (
        "humidity since then at most {percent} %",
        "humedad desde entonces a lo más {percent} %",
    ),
    "since": ("since", "desde"),
    "since_said": (
        "was any joint made, cut, moved or repaired since {when}?",
        "¿se hizo, cortó, movió o reparó alguna junta desde {when}?",
    ),
    "dampest": (
        "highest humidity since the joints were made",
        "humedad más alta desde que se hicieron las juntas",
    ),
    "not_made": (
        "joints without a record that are not made yet, by name, or all",
        "juntas sin registro que todavía no están hechas, por nombre, o all para todas",
    ),
    "when": ("judged for another moment", "juzgado para otro momento"),
    "known": ("only what was known by receipt", "solo lo que se sabía con el recibo"),
    "receipt": ("{known} is no receipt", "{known} no es un recibo"),
    "receipt_allowed": ("a whole number", "un número entero"),
    "receipt_next": ("leave it empty for all that is known", "déjelo vacío para todo lo que se sabe"),
    "line": ("line", "línea"),
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
