"""Spanish for the hour, for cold spring and for the last gap.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

WHY_HOUR_ES: Mapping[str, Mapping[str, str]] = {
    "GAP-01": {
        "no_misfit": "{who}: no se puede decir cuánto pueden errar sus caras; falta: {missing}.",
        "no_limit": "{who}: sus caras pueden errar hasta {length:length} y nadie dijo cuánto absorbe el "
        "empaque.",
        "over": "{who}: sus caras pueden errar hasta {measured:length} ({side}); empaque y brida admiten "
        "{limit:length}.",
        "over_angle": "{who}: sus caras pueden quedar {measured:angle} fuera de paralelo; se admiten "
        "{limit:angle}.",
        "go": "{who}: sus caras yerran a lo más {measured:length}; se absorben {limit:length}.",
    },
    "HRS-01": {
        "rain": "{who}: llueve.",
        "rain_soon": "{who}: lluvia en {measured:time}; junta y fraguado piden {limit:time}.",
        "cold": "{who}: {measured:temperature} es más frío que {limit:temperature}, y la tarjeta no tiene "
        "renglón.",
        "wet": "{who}: el tubo está {measured:temperature_step} sobre el punto de rocío: está mojado.",
        "no_row": "{who}: la tarjeta no tiene renglón para un tubo a {measured:temperature}.",
        "rain_end": "{who}: el tiempo conocido termina en {measured:time}; junta y fraguado piden "
        "{limit:time}.",
        "hole": "{who}: no se sabe de esta hora: {missing}.",
        "sun": "{who}: {measured:temperature} al sol, más de {limit:temperature}.",
        "hot": "{who}: el tubo está a unos {measured:temperature}, más de {limit:temperature}.",
        "dew": "{who}: el tubo está {measured:temperature_step} sobre el punto de rocío; se piden "
        "{limit:temperature_step}.",
        "film": "{who}: el primer que se seca con este viento enfría la pared a "
        "{measured:temperature_step} del rocío: toma agua.",
        "hands": "{who}: {measured:#mano} para cubrir en el tiempo de trabajo, y {limit:#persona} en la "
        "junta.",
        "no_time": "{who}: no se puede decir cuántas manos pide: falta el tiempo de trabajo o el ritmo de "
        "la cuadrilla.",
        "forecast": "{who}: nada en contra en el pronóstico; un pronóstico no es una lectura.",
        "no_reading": "{who}: nada en contra en el tiempo; falta leer este tubo y pasarle la mano seca en "
        "30 minutos.",
        "go": "{who}: nada en contra de la hora; tubo leído y seco a la mano.",
    },
    "TNT-01": {
        "heater": "{who}: el calentador arde con el primer abierto.",
        "heat": "{who}: el calor apunta a la junta; el fraguado nunca se apura.",
        "not_said": "{who}: no se dice de la carpa: {missing}.",
        "band": "{who}: {measured:temperature} en la carpa, fuera de {limit:temperature} de la tarjeta.",
        "after": "{who}: no se sabe cuánto frío hará al quitar la carpa.",
        "cold_after": "{who}: vienen {measured:temperature} mientras fragua, y la tarjeta termina en "
        "{limit:temperature}.",
        "go": "{who}: {measured:temperature} en la carpa, calentador afuera, sin calor sobre la junta.",
    },
    "SPR-01": {
        "not_allowed": "{who}: el procedimiento {procedure:@} no permite con palabras doblar el tubo para "
        "hacerlo "
        "entrar.",
        "too_large": "{who}: el tubo de {size} no se dobla; el mayor es {most}.",
        "no_state": "{who}: no se sabe si todas las juntas del tramo doblado están curadas.",
        "not_cured": "{who}: {not_cured:#junta} sin curar en el tramo doblado: {not_cured}.",
        "no_run": "{who}: no se puede decir cuánto daría el tramo; falta: {missing}.",
        "no_radius": "{who}: no hay radio mínimo de curva para este tubo.",
        "short": "{who}: con el radio mínimo el tramo da {measured:length} y la junta pide {limit:length}.",
        "not_signed": "{who}: lo firma el ingeniero; firmado por {signed_by:@}, ingeniero {engineer:@}.",
        "go": "{who}: el tramo da {measured:length} y la junta pide {limit:length}; {procedure:@} lo "
        "permite.",
    },
}

NEXT_HOUR_ES: Mapping[str, str] = {
    "put_tent": "Espere un rato seco, o ponga una carpa.",
    "get_weather": "Ponga al día weather.csv para esa hora y las siguientes.",
    "read_on_day": "Pregunte otra vez ese día, con una lectura del tubo.",
    "read_pipe": "Lea el tubo, pásele la mano seca y pregunte otra vez con --pipe y --dry-hand.",
    "shield_wind": "Ponga un resguardo del viento, trabaje rápido o espere aire más seco.",
    "more_hands": "Traiga más manos o un resguardo del viento, o mida el ritmo de la cuadrilla.",
    "heater_out": "Saque el calentador de la carpa y déjelo enfriar antes de abrir el primer.",
    "turn_heat": "Aparte el calor; caliente el aire, nunca la junta.",
    "say_tent": "Diga el aire de la carpa y dónde está el calentador.",
    "tent_air": "Lleve el aire de la carpa a la banda de la tarjeta.",
    "keep_tent": "Deje la carpa hasta que la junta haya fraguado, o espere noches menos frías.",
    "say_errors": "Escriba tape_error, cut_error y stop_gap en [cutting], y mida las conexiones.",
    "say_closing": "Escriba en [cutting] cuánto absorbe el empaque, como closing_length.",
    "tape_gap": "Deje la pieza nombrada para medirla y córtela a la holgura.",
    "ask_closing": "Deje una pieza para medir en este circuito, o pregunte al ingeniero qué admite la brida.",
    "open_otherwise": "Cierre el circuito con una brida, una tuerca unión o una pieza de ajuste.",
    "record_run": "Registre las juntas del tramo, para que se conozca su curado.",
    "let_cure": "Espere a que todas las juntas del tramo estén curadas; una junta fresca no se dobla.",
    "say_run": "Diga el largo recto del tramo, su tubo y lo que pide la junta.",
    "ask_radius": "Pida al ingeniero el radio mínimo de curva y escríbalo como spring_radius.",
    "ask_spring": "Pida la firma del ingeniero.",
}
