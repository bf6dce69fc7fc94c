"""Spanish for Findings on how a joint was made; the rules of ``sentences_en`` hold.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

MADE_ES: Mapping[str, Mapping[str, str]] = {
    "MAD-01": {
        "no_allowed": "{who}: el procedimiento {procedure:@} no da en números cuánto le puede faltar, así "
        "que "
        "ninguna pasa.",
        "not_recorded": "{who}: nadie registró dónde quedó la espiga respecto a su marca.",
        "short": "{who}: le faltan {measured:length} para su marca; {procedure} permite {limit:length}.",
        "alone": "{who}: se dijo que le faltaban {measured:length}, y una sola persona lo bajó a "
        "{shortfall:length}; {procedure} permite {limit:length}.",
        "procedure": "{who}: se midió según {other_procedure}, y el procedimiento de la línea es "
        "{procedure}.",
        "typed": "{who}: le faltan {measured:length}; {procedure} permite {limit:length}, diga lo que diga "
        "lo "
        "escrito ({typed:length}).",
        "go": "{who}: le faltan {measured:length} para su marca; {procedure} permite {limit:length}.",
    },
    "MAD-02": {
        "not_looked": "{who}: nadie la ha revisado.",
        "refused": "{who}: {by:@} la revisó contra {list} y no la aceptó.",
        "maker": "{who}: solo la revisó alguien que ayudó a hacerla.",
        "nobody": "{who}: no se sabe quién la revisó.",
        "alone": "{who}: fue rechazada, y una sola persona lo cambió a aceptada.",
        "points": "{who}: aceptada por {by}, y sin embargo rechazada en: {points}.",
        "before": "{who}: {by} la revisó {at}; desde entonces le pasó algo, {last_touched}.",
        "go": "{who}: revisada por {by} contra {list} y aceptada.",
    },
    "MAD-03": {
        "not_named": "{who}: no se sabe quién hizo {role}.",
        "day": "{who}: que {person_id} estuviera calificado depende del día en que se hizo, y una sola "
        "persona "
        "dice cuál fue.",
        "not_confirmed": "{who}: no se sabe cuándo confirmó el patrón a {person_id} por última vez antes del "
        "{day}.",
        "no_expiry": "{who}: ni el perfil ni el documento dicen hasta cuándo está calificado {person_id}.",
        "no_size_rule": "{who}: no se puede saber si la pieza de prueba de {person_id} alcanza para {size}.",
        "failed": "{who}: {person_id} hizo {role} el {day}, después de una junta que salió mal.",
        "expired": "{who}: {person_id} hizo {role} el {day}, después del último día de su calificación.",
        "test_size": "{who}: {person_id} hizo {role}, y su pieza de prueba era muy chica para {size}.",
        "scheme": "{who}: {person_id} hizo {role} y está calificado por otro perfil que el de la obra.",
        "no_day": "{who}: no se sabe cuándo usó {person_id} el proceso por última vez antes del {day}.",
        "not_yet": "{who}: {person_id} hizo {role} el {day}, antes de la prueba de su calificación.",
        "lapsed": "{who}: {person_id} hizo {role} el {day}, más de {months:#mes/meses} después de usar el "
        "proceso por última vez.",
        "size": "{who}: {person_id} hizo {role} y no está calificado para {size}.",
        "procedure": "{who}: {person_id} hizo {role} y está calificado para otro procedimiento.",
        "steps": "{who}: {person_id} hizo {role} y no está calificado para juntas {steps}.",
        "material": "{who}: {person_id} hizo {role} y no está calificado para {material}.",
        "none": "{who}: {person_id} hizo {role} y no tiene calificación en la lista.",
        "go": "{who}: hecha por {people}, calificados el {day}.",
    },
    "MAD-04": {
        "card_material": "{who}: la tarjeta {lot} es cemento para {card_material} y la junta es de "
        "{material}.",
        "card_steps": "{who}: la tarjeta {lot} es {card_steps} y el procedimiento es {steps}.",
        "thrown": "{who}: {lot} ya se había tirado.",
        "expired": "{who}: {lot} ya había vencido cuando se hizo, el {first_day}.",
        "other_card": "{who}: {lot} es de otra tarjeta que {cards}, con la que se hizo.",
        "open_long": "{who}: {lot} estuvo abierta más de {open_life:time}, lo que dice su tarjeta.",
        "no_card": "{who}: no se conoce la tarjeta de cemento con que se hizo.",
        "alone": "{who}: una sola persona cambió después su tarjeta, sus latas o sus lotes.",
        "no_steps": "{who}: ningún procedimiento dice si lleva primer.",
        "unknown": "{who}: {lot} no está en job.toml ni entre las latas recibidas.",
        "unclear": "{who}: lo registrado de {lot} no cuenta una sola versión.",
        "thrown_about": "{who}: {lot} se tiró más o menos cuando se hizo.",
        "no_date": "{who}: nadie leyó la fecha de {lot}.",
        "date_unsure": "{who}: que {lot} estuviera vigente depende de lo que dice una sola persona.",
        "no_lot_card": "{who}: no se sabe con certeza qué tarjeta lleva {lot}.",
        "not_opened": "{who}: su tarjeta limita cuánto puede estar abierta {lot}, y nadie registró cuándo se "
        "abrió.",
        "not_named": "{who}: no hay registrada lata ni lote de {kind}.",
        "primer": "{who}: hay primer registrado, y el procedimiento es de un paso.",
        "go": "{who}: cemento y primer vigentes y de su tarjeta: {names}.",
    },
    "MAD-05": {
        "hold_short": "{who}: se sostuvo {measured:time}, se piden {limit:time}.",
        "hold_unsure": "{who}: según el registro se sostuvo al menos {measured:time}, se piden {limit:time}; "
        "no está registrado cuándo llegó al tope.",
        "first_on": "{who}: nadie registró que primero estaba puesto en el tubo: {lacks}.",
        "no_hold_end": "{who}: nadie registró que se dejó de sostener.",
        "no_hold_row": "{who}: ni la tarjeta {card:@} ni el procedimiento dicen cuánto sostenerla.",
        "no_temperature": "{who}: no está registrada su temperatura al hacerla.",
        "outside_card": "{who}: se hizo a {measured:temperature}, y para eso la tarjeta {card:@} no tiene "
        "renglón.",
        "order": "{who}: los pasos se dijeron en otro orden del que se hacen: {wet_order}.",
        "shown": "{who}: se sostuvo {measured:time}, se piden {limit:time}; guardado como se dijo: {shown}.",
        "go": "{who}: se sostuvo {measured:time}, se piden {limit:time}; su registro está completo.",
    },
}
"""Check and reason to sentence."""
