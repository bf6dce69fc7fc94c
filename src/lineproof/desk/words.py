"""The languages of screens and papers, and the small words that every sentence is made with.

Spanish is plain site Spanish as used in North America, **to be read over by a native-speaking fitter**. What
has no Spanish sentence is told in English.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.floor.errors import BadInput

ENGLISH, SPANISH = LANGUAGES = ("en", "es")

_EN: Mapping[str, str] = {
    "not_known": "not known",
    "not_named": "(not named)",
    "above_gauge": "above the gauge",
    "below_gauge": "below the gauge",
    "and_more": "and {n} more",
    "of_this_kind": "{n} more of this kind.",
    "next": "Next:",
    "GO": "GO",
    "CARE": "CARE",
    "WAIT": "WAIT",
    "CANNOT TELL": "CANNOT TELL",
    "STOP": "STOP",
    "to make": "to make",
    "holding": "holding",
    "hands off": "hands off",
    "curing": "curing",
    "may be tested": "may be tested",
    "proven": "proven",
    "cut out": "cut out",
    "yes": "yes",
    "no": "no",
    "nobody": "nobody named",
}
_ES: Mapping[str, str] = {
    "not_known": "no se sabe",
    "not_named": "(sin nombre)",
    "above_gauge": "arriba del manómetro",
    "below_gauge": "abajo del manómetro",
    "and_more": "y {n} más",
    "of_this_kind": "{n} más de este tipo.",
    "next": "Siguiente paso:",
    "GO": "ADELANTE",
    "CARE": "CUIDADO",
    "WAIT": "NO ANTES",
    "CANNOT TELL": "FALTA UN DATO",
    "STOP": "ALTO",
    "to make": "por hacer",
    "holding": "sujetando",
    "hands off": "no tocar",
    "curing": "curando",
    "may be tested": "lista para prueba",
    "proven": "probada",
    "cut out": "cortada",
    "yes": "sí",
    "no": "no",
    "nobody": "nadie nombrado",
}
_WORDS = {ENGLISH: _EN, SPANISH: _ES}

TERMS_ES: Mapping[str, str] = {
    # what is missing
    "joint made": "junta hecha",
    "hold end": "fin de sostener",
    "pullers off": "polipastos quitados",
    "cement card": "tarjeta del cemento",
    "a clock that is set": "un reloj en hora",
    "joint temperature when made": "temperatura de la junta al hacerla",
    "joint temperature": "temperatura de la junta",
    "joint temperature now": "temperatura de la junta ahora",
    "flange pair": "par de bridas",
    "flat faces": "caras planas",
    "union": "tuerca unión",
    "handling.mass": "mass bajo [handling] en job.toml",
    "handling row": "renglón de tiempo antes de mover",
    "humidity since it was made": "humedad desde que se hizo",
    "one story": "una sola versión",
    "its place on the drawing": "su lugar en el plano",
    "another person's look": "revisión de otra persona",
    "what the tag hangs on": "dónde cuelga la etiqueta",
    "second reader": "segundo lector",
    "cure row": "renglón de curado",
    "pressure at the joint": "presión en la junta",
    "pressure cap": "presión máxima firmada",
    "design temperature": "temperatura de diseño",
    "planned pressure": "presión planeada",
    "engineer's signature": "firma del ingeniero",
    "gauge": "manómetro",
    "gauge elevation": "elevación del manómetro",
    "line elevation": "elevación de la línea",
    "medium": "medio de prueba",
    "test section": "sección de prueba",
    "insertion": "inserción",
    "allowed shortfall": "lo que le puede faltar",
    "a second named person": "una segunda persona con nombre",
    "one procedure": "un solo procedimiento",
    "the day it was made": "el día en que se hizo",
    "last day of use": "último día de uso",
    "when it went home": "cuándo llegó al tope",
    "hold time": "tiempo de sostener",
    "card row": "renglón de la tarjeta",
    "steps in their order": "pasos en su orden",
    "person in charge of the test": "persona a cargo de la prueba",
    "zero proved by an open vent": "cero comprobado con una purga abierta",
    "zero proved by an open vent today": "cero comprobado hoy con una purga abierta",
    "another person's examination": "revisión de otra persona",
    "expiry date": "fecha de vencimiento",
    "its cement card": "su tarjeta de cemento",
    "one elevation": "una sola elevación",
    "pipe wall temperature": "temperatura de la pared del tubo",
    "pressure asked for": "presión pedida",
    "procedure": "procedimiento",
    "source and its relief": "fuente y su válvula de alivio",
    "the day it was made, or the date printed": "el día en que se hizo, o la fecha impresa",
    "the procedure's word on primer": "lo que dice el procedimiento del primer",
    "when it was opened": "cuándo se abrió",
    "when it was thrown away": "cuándo se tiró",
    "which gauge hangs there": "qué manómetro cuelga ahí",
    "how far the test piece reaches": "hasta dónde alcanza la pieza de prueba",
    "last day of the qualification": "último día de la calificación",
    "the employer's confirmation": "confirmación del patrón",
    # what was done, and with what
    "pipe end": "la espiga",
    "socket": "la campana",
    "two-step": "de dos pasos",
    "one-step": "de un paso",
    "cement": "cemento",
    "primer": "primer",
    "cleaner": "limpiador",
    "water": "agua",
    "ring": "anillo",
    "nut": "tuerca",
    "grout": "grout",
    "anchor": "ancla",
    "thrust block": "atraque de concreto",
    "blind": "brida ciega",
    "air gap": "espacio de aire",
    "vent beyond": "purga más allá",
    "valve": "válvula",
    # codes of the logbook
    "two-stories": "dos versiones",
    "fork": "dos registros en un mismo lugar",
    "newer-entry": "registro de un programa más nuevo",
    "faulty-entry": "registro mal escrito",
    "made-after-cut-out": "hecha después de cortada",
    "taken-away-alone": "quitado por una sola persona",
    # what touched it
    "moved": "movida",
    "disturbed": "golpeada o jalada",
    "pushed back": "se regresó",
}
"""English words that facts carry, in Spanish; of ``word: text`` only the word is told in Spanish."""


def words_of(language: str) -> Mapping[str, str]:
    """The small words of a language.

    Parameters
    ----------
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    mapping

    Raises
    ------
    BadInput
        It is not carried.
    """
    if language not in _WORDS:
        raise BadInput(
            f"{language!r} is not a language that is carried", allowed="en, es", next="use one of these"
        )
    return _WORDS[language]


def term(value: object, language: str) -> object:
    """A word that a fact carries, in the language of the sentence it stands in.

    Parameters
    ----------
    value : object
        Anything but a word is handed back as it is.
    language : str

    Returns
    -------
    object
    """
    if language != SPANISH or not isinstance(value, str):
        return value
    head, sign, rest = value.partition(": ")
    return TERMS_ES.get(value) or f"{TERMS_ES.get(head, head)}{sign}{rest}"
