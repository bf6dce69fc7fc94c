"""Spanish for closure and order.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

WHY_SEQUENCE_ES: Mapping[str, Mapping[str, str]] = {
    "SEQ-01": {
        "shut": "{who}: como está en el plano, la última junta no tiene por dónde entrar y ningún orden "
        "sirve; se abre con {count:#abertura}: {openings}.",
        "closed": "{who}: la última junta no tiene por dónde entrar, y nada de lo permitido la abre.",
        "at_once": "{who}: las dos últimas juntas van lado a lado y entran juntas o no entran.",
        "faces": "{who}: la última junta sólo entra si estas caras son planas, y nadie lo ha dicho: {faces}.",
        "ends": "{who}: la última junta entra si estas bridas fijas se aprietan al final: {ends}.",
        "not_found": "{who}: como está en el plano, la última junta no tiene por dónde entrar, y la búsqueda "
        "se cortó antes de hallar por dónde abrir.",
        "go": "{who}: la última junta tiene por dónde entrar.",
    },
    "SEQ-02": {
        "no_room": "{who}: no se halló un orden; la junta {joint:@} no tiene lugar para entrar, estorba "
        "{by:@}.",
        "loops_first": "{who}: no hay orden mientras no se abran todos los circuitos.",
        "go": "{who}: se halló un orden y cada paso se revisó otra vez.",
    },
    "SEQ-03": {
        "no_limit": "{who}: no se ha dicho cuánto levantan la gente y el equipo de esta obra.",
        "too_heavy": "{who}: {measured:mass} en una sola pieza; la gente y el equipo levantan {limit:mass}, "
        "{over:mass} menos.",
        "not_weighed": "{who}: no se puede decir cuánto pesa; sin pesar: {not_weighed}.",
        "go": "{who}: lo más pesado que se mueve en una pieza es {measured:mass}; la gente y el equipo "
        "levantan {limit:mass}.",
    },
    "SEQ-04": {
        "not_said": "{who}: se hacen a la vez, y no se sabe cuánta gente piden las dos.",
        "too_few": "{who}: a la vez piden {needed:#persona}, la cuadrilla tiene {have}.",
        "go": "{who}: a la vez piden {needed:#persona}, la cuadrilla tiene {have}.",
    },
}

NEXT_SEQUENCE_ES: Mapping[str, str] = {
    "allow_opening": "Pregunte al ingeniero dónde puede ir un par de bridas o una unión, y quítelo de "
    "keep_closed.",
    "ask_two_at_once": "Pregunte a quien aprobó el procedimiento si se pueden hacer dos juntas a la vez, "
    "y con "
    "cuánta gente.",
    "lighter": "Divida el carrete, o traiga equipo que lo levante y escríbalo en job.toml.",
    "make_travel": "Haga lugar ahí, o ponga una abertura en ese tramo.",
    "more_people": "Traiga la gente de las dos juntas, o ponga una abertura en una de ellas.",
    "open_first": "Ponga las aberturas nombradas y pregunte otra vez.",
    "open_loop": "Que el ingeniero esté de acuerdo; póngalas en el recorrido y planee otra vez: ahí "
    "cambia la "
    "lista de cortes.",
    "say_faces": "Mire las caras y escriba flat o ringed en parts.csv.",
    "say_handling": "Escriba mass, length, width y height bajo [handling] en job.toml.",
    "say_unbolt": "Vea si se alcanzan sus tornillos, y escriba may unbolt detrás de ellas en el recorrido.",
    "search_longer": "Pregunte otra vez con más --seconds.",
    "two_hands": "Escriba en el procedimiento la gente de una junta de esta medida.",
    "weigh": "Péselo, o léalo en su hoja de datos, y escríbalo en parts.csv.",
}
