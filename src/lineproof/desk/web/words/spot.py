"""What only counts on the spot, by what is asked, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

_KNOCKED = (
    "has any joint of it been made, cut, knocked or moved that is not recorded?",
    "¿se hizo, cortó, golpeó o movió alguna junta suya que no esté anotada?",
)
SAID: Mapping[str, tuple[str, str]] = {
    "move_0": _KNOCKED,
    "lower_0": _KNOCKED,
    "lower_1": (
        "nobody stands below it or in the trench under it",
        "nadie está debajo ni en la zanja debajo de ella",
    ),
    "lower_2": (
        "slings, rigging and the trench: the competent person on the site",
        "eslingas, maniobra y zanja: la persona competente en la obra",
    ),
    "load_0": _KNOCKED,
    "load_1": (
        "supports, straps and bedding stand as drawn under all of it",
        "soportes, abrazaderas y cama están como en el plano debajo de todo",
    ),
    "load_2": (
        "what is laid on it: the engineer says how much and when",
        "lo que se le pone encima: el ingeniero dice cuánto y cuándo",
    ),
    "open_0": (
        "the vent is open now and nothing comes; what lies beyond every end is drained or cut off and tagged",
        "el venteo está abierto ahora y no sale nada; lo que hay más allá de cada extremo está vaciado o "
        "cerrado y etiquetado",
    ),
    "open_1": (
        "lockout and tags: the site's own rules and the person in charge",
        "bloqueo y etiquetas: las reglas de la obra y la persona a cargo",
    ),
    "open_2": (
        "nobody stands in line with a cap, a blind or the pipe's end",
        "nadie está enfrente de una tapa, una brida ciega o la punta del tubo",
    ),
}
