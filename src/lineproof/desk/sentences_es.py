"""Spanish for Findings of the stages move, fill and raise; the rules of ``sentences_en`` hold.

Plain site Spanish, **to be read over by a native-speaking fitter**. A reason that is not here is told in
English; ``tests/house`` says which are missing.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.sentences_hour_es import WHY_HOUR_ES
from lineproof.desk.sentences_made_es import MADE_ES
from lineproof.desk.sentences_raise_es import WHY_RAISE_ES
from lineproof.desk.sentences_sequence_es import WHY_SEQUENCE_ES

STILL_ENGLISH: frozenset[str] = frozenset()
"""Checks of these stages whose Spanish is still to come."""

WHY_ES: Mapping[str, Mapping[str, str]] = {
    "CEM-06": {
        "same_person": "Tarjeta {card}: la misma persona la escribió y la leyó de regreso.",
        "not_read_back": "Tarjeta {card}: nadie la ha leído de regreso contra su foto.",
        "not_typed": "Tarjeta {card}: no dice quién la escribió.",
        "changed": "Tarjeta {card}: se cambiaron sus tiempos después de hacer una junta con ella y nadie la "
        "ha vuelto a leer.",
        "go": "Tarjeta {card}: escrita por {typed_by}, leída de regreso por {read_back_by}.",
    },
    "CEM-08": {
        "shorter": "{who}: el tiempo de la tarjeta es {measured:time}; el renglón de la norma dice "
        "{limit:time}.",
        "none_carried": "{who}: no hay renglón de norma con que comparar.",
        "go": "{who}: la tarjeta no es más corta que los renglones de la norma.",
    },
    "CEM-09": {
        "no_input": "{who}: no se puede saber el tiempo de curado de la tarjeta {card:@}; falta: {missing}.",
        "no_row": "{who}: la tarjeta {card} no tiene renglón de curado para esta medida a "
        "{pressure:pressure} y {temperature:temperature}.",
        "go": "{who}: curado {cure:time} según la tarjeta {card}.",
    },
    "CUR-01": {
        "no_card": "{who}: no se conoce su tarjeta de cemento.",
        "no_pressure": "{who}: no se puede saber la presión en la junta misma.",
        "unread": "{who}: no se puede leer un archivo del registrador de temperatura: {unread}.",
        "clock_unsure": "{who}: no se puede saber hace cuánto se hizo; los relojes de los aparatos no "
        "estaban puestos en hora por un servidor.",
        "no_start": "{who}: según el registro, su tiempo de curado no ha empezado.",
        "no_first": "{who}: no está registrada su temperatura al hacerla.",
        "hole": "{who}: no se leyó su temperatura por más de dos horas, así que no se sabe qué tanto se "
        "enfrió.",
        "hole_air": "{who}: no se leyó su temperatura por más de dos horas, y weather.csv no la suple: "
        "{air}.",
        "no_row": "{who}: la tarjeta {card} no tiene renglón de curado para {size} a {pressure:pressure} y "
        "{coldest:temperature}, lo más frío que tuvo.",
        "no_humidity": "{who}: la tarjeta {card} pide la humedad desde que se hizo, y no se sabe.",
        "no_reading": "{who}: se dejó de sostener o se tocó por última vez {started}; tarjeta {card}: "
        "{wait:time}. Puede que ya haya pasado, pero no se ha leído su temperatura desde entonces.",
        "foretold": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}, lo más frío "
        "{coldest:temperature}, ahí {pressure:pressure}; tarjeta {card} {mark}: {limit:time}, más largo por "
        "el frío que se espera.",
        "wait": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}, lo más frío "
        "{coldest:temperature}, ahí {pressure:pressure}; tarjeta {card} {mark}: {limit:time}.",
        "go": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}, ahí "
        "{pressure:pressure}; tarjeta {card} {mark}: {limit:time}, cumplido desde {reached}.",
    },
    "MOV-01": {
        "no_record": "{who}: nadie registró que se hizo.",
        "no_hold_end": "{who}: nadie registró que se dejó de sostener.",
        "no_pullers_off": "{who}: se dejó de sostener {hold_ended}, y nadie registró que se quitaron "
        "polipastos y correas.",
        "go": "{who}: se dejó de sostener {hold_ended}.",
    },
    "MOV-02": {
        "no_card": "{who}: no se conoce su tarjeta de cemento.",
        "unread": "{who}: no se puede leer un archivo del registrador de temperatura: {unread}.",
        "clock_unsure": "{who}: no se puede saber hace cuánto se hizo; los relojes de los aparatos no "
        "estaban puestos en hora por un servidor.",
        "no_start": "{who}: según el registro, su tiempo de fraguado (no tocar) no ha empezado.",
        "no_first": "{who}: no está registrada su temperatura al hacerla.",
        "hole": "{who}: no se leyó su temperatura por más de dos horas, así que no se sabe qué tanto se "
        "enfrió.",
        "hole_air": "{who}: no se leyó su temperatura por más de dos horas, y weather.csv no la suple: "
        "{air}.",
        "no_row": "{who}: la tarjeta {card} no tiene renglón de tiempo antes de mover para {size} a "
        "{coldest:temperature}, lo más frío que tuvo.",
        "no_humidity": "{who}: la tarjeta {card} pide la humedad desde que se hizo, y no se sabe.",
        "no_reading": "{who}: se dejó de sostener {started}; tarjeta {card}: {wait:time}. Puede que ya haya "
        "pasado, pero no se ha leído su temperatura desde entonces.",
        "foretold": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}, lo más frío "
        "{coldest:temperature}; tarjeta {card} {mark}: {limit:time}, más largo por el frío que se espera.",
        "wait": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}, lo más frío "
        "{coldest:temperature}; tarjeta {card} {mark}: {limit:time}.",
        "go": "{who}: se dejó de sostener o se tocó por última vez {started}, {size}; tarjeta {card} {mark}: "
        "{limit:time}, cumplido desde {reached}.",
    },
    "MOV-03": {
        "cut_out": "{who}: se cortó; ya no está en la línea.",
        "rejected": "{who}: fue rechazada.",
        "unclear": "{who}: su registro no cuenta una sola versión: {unclear}.",
        "gaps": "{who}: el registro no está completo ({gaps:#hueco}), y lo que falta puede ser de ella.",
        "off_drawing": "{who}: no está en el plano, así que no se conoce su medida ni su cemento.",
        "disturbed": "{who}: se tocó antes de cumplir su tiempo de fraguado ({disturbed}), y nadie más la ha "
        "revisado desde entonces.",
        "go": "{who}: nada en su registro está en contra.",
    },
    "MOV-04": {
        "stop": "{who}: cuelga una etiqueta de alto: {tags}.",
        "cannot_tell": "{who}: cuelga una etiqueta de alto y no se sabe de qué: {unplaced}.",
        "go": "{who}: no cuelga ninguna etiqueta de alto.",
    },
    "PRS-01": {
        "no_input": "Sección {who}: no se puede saber ninguna presión; falta: {missing}.",
        "unrated": "Sección {who}: no hay presión nominal marcada ni en tabla para {unknown}.",
        "unplaced": "Sección {who}: no se conoce la altura de {unknown}.",
        "stop": "Sección {who}: {part} ({what}) vería {there:pressure}, contando el error del manómetro y "
        "{below:~gauge}; aguanta {rating:pressure} a {wall:temperature} ({wall_by}).",
        "go": "Sección {who}: lo más débil es {part} ({what}): ahí {there:pressure}, aguanta "
        "{rating:pressure} a {wall:temperature} ({wall_by}); sobran {left:pressure}.",
    },
    "PRS-02": {
        "no_cap": "Sección {who}: no hay presión máxima firmada.",
        "no_plan": "Sección {who}: no hay presión planeada.",
        "stop": "Sección {who}: se planean {planned:pressure} y la presión máxima firmada es {cap:pressure}.",
        "not_engineer": "Sección {who}: la presión máxima no la firmó el ingeniero nombrado en job.toml.",
        "go": "Sección {who}: {planned:pressure} planeados, presión máxima firmada {cap:pressure}.",
    },
    "PRS-03": {
        "no_gauge": "Sección {who}: no hay lugar de manómetro nombrado.",
        "gauge": "Sección {who}: no se conoce la elevación del manómetro {gauge}.",
        "lines": "Sección {who}: hay alturas que no se apoyan en la referencia del plano: {unplaced}.",
        "go": "Sección {who}: se conocen las alturas.",
    },
    "PRS-04": {
        "not_said": "Sección {who}: no se dice con qué se prueba.",
        "stop": "Sección {who}: no se acepta una prueba con {medium}: con gas, el tubo de plástico revienta "
        "en pedazos.",
        "go": "Sección {who}: se prueba con agua.",
    },
    "PRS-05": {
        "cannot_tell": "{who}: no está en ninguna sección de prueba, así que no se conoce la presión en sus "
        "juntas.",
        "go": "{who}: en la sección {sections}.",
    },
    **MADE_ES,
    **WHY_RAISE_ES,
    **WHY_HOUR_ES,
    **WHY_SEQUENCE_ES,
}
"""Check and reason to sentence."""

UNVERIFIED_ES = (
    "{who}: nada está en contra, pero se apoya en valores que nadie ha confirmado (sin verificar): {tables}."
)
"""The sentence of every check where only unconfirmed values stand against GO."""
