"""Words of the hours, on the screen and in the strip, English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.words import ENGLISH, SPANISH

SAID: Mapping[str, Mapping[str, str]] = {
    ENGLISH: {
        "head": "{line} · {size} · {cover} · {job}",
        "open": "in the open, {colour} pipe",
        "shade": "in shade, {colour} pipe",
        "tent": "in a tent at {air:temperature}",
        "now": "this hour",
        "no_hour": "weather.csv has no row for this hour; bring it up to date.",
        "key": "# STOP   ? CANNOT TELL   ! CARE, a limit binds   o nothing against it: ask again on the "
        "spot   "
        "G GO",
        "hands": "hands that brush: {told}",
        "hands_one": "{size} {least}",
        "hands_range": "{size} {least} to {most}",
        "hands_none": "{size} cannot be told",
        "numbers": "air {air:temperature}, pipe {pipe:temperature}, its coldest line "
        "{coldest:temperature}, dew "
        "point {dew:temperature}, after primer {film:temperature}",
        "dry": "joint and set want {wants:time} without rain",
        "caution": "The container, the approved procedure, local codes and the people in charge govern. Wall "
        "temperatures are worked out; a reading of the pipe beats them.",
        "clear": "nothing against it; ask again with a reading of the pipe",
        "title": "Hours for joining {line}, {day}",
    },
    SPANISH: {
        "head": "{line} · {size} · {cover} · {job}",
        "open": "al aire libre, tubo {colour}",
        "shade": "a la sombra, tubo {colour}",
        "tent": "en carpa a {air:temperature}",
        "now": "esta hora",
        "no_hour": "weather.csv no tiene renglón para esta hora; póngalo al día.",
        "key": "# ALTO   ? FALTA UN DATO   ! CUIDADO, manda un límite   o nada en contra: pregunte otra "
        "vez en "
        "el lugar · G ADELANTE",
        "hands": "manos que cubren: {told}",
        "hands_one": "{size} {least}",
        "hands_range": "{size} {least} a {most}",
        "hands_none": "{size} no se puede decir",
        "numbers": "aire {air:temperature}, tubo {pipe:temperature}, su línea más fría "
        "{coldest:temperature}, "
        "punto de rocío {dew:temperature}, tras el primer {film:temperature}",
        "dry": "junta y fraguado piden {wants:time} sin lluvia",
        "caution": "Mandan el envase, el procedimiento aprobado, los códigos locales y los responsables. La "
        "temperatura de la pared es calculada; vale más leer el tubo.",
        "clear": "nada en contra; pregunte otra vez con una lectura del tubo",
        "title": "Horas para unir {line}, {day}",
    },
}
COLOURS_ES = {"white": "blanco", "grey": "gris", "black": "negro"}
BINDS: Mapping[str, Mapping[str, str]] = {
    ENGLISH: {
        "rain": "rain", "rain_soon": "rain before it sets", "cold": "too cold", "wet": "wet pipe",
        "hole": "not known", "no_row": "no row of the card", "rain_end": "weather ends too early",
        "sun": "hot in the sun", "hot": "hot pipe", "dew": "near the dew point",
        "film": "primer chills it to dew",
        "hands": "hands or working time", "": "",
    },
    SPANISH: {
        "rain": "lluvia", "rain_soon": "lluvia antes de fraguar", "cold": "muy frío", "wet": "tubo mojado",
        "hole": "no se sabe", "no_row": "sin renglón en la tarjeta", "rain_end": "el pronóstico no alcanza",
        "sun": "calor al sol", "hot": "tubo caliente", "dew": "cerca del rocío",
        "film": "el primer lo enfría al rocío", "hands": "manos o tiempo de trabajo", "": "",
    },
}  # fmt: skip
