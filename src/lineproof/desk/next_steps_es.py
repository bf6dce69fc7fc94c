"""Spanish for the next steps of the stages move, fill and raise: one sentence a code.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.sentences_hour_es import NEXT_HOUR_ES
from lineproof.desk.sentences_raise_es import NEXT_RAISE_ES
from lineproof.desk.sentences_sequence_es import NEXT_SEQUENCE_ES

NEXT_ES: Mapping[str, str] = {
    "ask_again": "Pregunte otra vez entonces; esto no es un permiso que se cumple solo.",
    "ask_card_row": "Pida el renglón por escrito al fabricante y escríbalo en la tarjeta.",
    "ask_coldest": "Pregunte al ingeniero y al fabricante qué espera vale para lo más frío que pudo tener.",
    "ask_maker_writing": "Pregunte por escrito al fabricante cuál vale; mientras tanto tome el más largo.",
    "ask_replacement": "Pregunte por la junta que está en su lugar.",
    "bring_in": "Traiga los registros que faltan de los aparatos que los escribieron, o aclare cuál vale.",
    "confirm": "Que el ingeniero o la persona de calidad los compare con el documento abierto.",
    "confirm_time": "Que una persona confirme con un registro cuándo se escribió de verdad.",
    "cut_it_out": "Córtela y haga una junta nueva; no levante de ella.",
    "draw_it": "Póngala en el plano y emita el paquete otra vez.",
    "examine": "Que otra persona la revise contra la lista y lo registre.",
    "lift_tag": "Pregunte a quien puso la etiqueta; se quita con un registro.",
    "lower_pressure": "Pida al ingeniero menos presión, otro lugar de manómetro o una sección más chica.",
    "mark_rating": "Lea la presión nominal en la pieza o en su hoja de datos y escríbala en parts.csv.",
    "name_gauge": "Nombre un lugar de manómetro con su elevación y su error.",
    "name_section": "Ponga la línea en una sección de prueba en job.toml.",
    "place_tag": "Vea dónde cuelga la etiqueta y corrija su registro.",
    "read_back": "Que una segunda persona lea la tarjeta de regreso contra su foto.",
    "import_weather": "Impórtelo: `lineproof record add imported weather.csv`, y diga air_margin.",
    "read_file": "Traiga el archivo aquí, o corríjalo, regístrelo de nuevo y anule el registro anterior.",
    "read_humidity": "Registre la humedad del sitio, cada dos horas o menos, o importe weather.csv con ella.",
    "read_joint": "Lea ahora la temperatura de la junta, regístrela y pregunte otra vez.",
    "record_hold_end": "Registre cuándo se dejó de sostener.",
    "record_made": "Registre la junta; si todavía no está hecha, dígalo con --not-made.",
    "record_pullers_off": "Registre cuándo se quitaron polipastos y correas.",
    "say_dampest": "Diga con --dampest la humedad más alta desde entonces, leída en el sitio.",
    "say_heights": "Dé la elevación en la referencia del plano y mida lo que sube o baja en el camino.",
    "say_inputs": "Escriba en job.toml lo que falta.",
    "say_medium": "Escriba agua (water) como medio de prueba.",
    "settle": "Pregunte a quienes lo escribieron y aclare con un registro cuál versión vale.",
    "sign_cap": "Pida al ingeniero una presión máxima firmada.",
    "type_card": "Escriba la tarjeta según el envase o el procedimiento.",
    "use_water": "Planee la prueba con agua.",
    "ask_sizes": "Pida por escrito, a quien dio la calificación, las medidas que cubre.",
    "confirm_joiner": "Que el patrón lo confirme, y escriba el día como confirmed_on.",
    "say_expiry": "Lea el último día en el documento y escríbalo como expires.",
    "ask_shortfall": "Pida el número a quien aprobó el procedimiento y escríbalo como allowed_shortfall.",
    "doubtful_joint": "Pregunte a quien aprobó el procedimiento; una junta dudosa se corta y se hace de "
    "nuevo.",
    "name_makers": "Corrija el registro y nombre a los dos; una segunda persona lo respalda con second=.",
    "one_procedure": "Pregunte qué procedimiento vale para la línea y corrija job.toml o el registro.",
    "read_date": "Lea la fecha en la lata y escríbala.",
    "receive_can": "Registre la lata como recibida, o escriba su lote en job.toml.",
    "record_first_on": "Vea si está puesto y regístrelo.",
    "record_home": "Corrija el registro y agregue el paso home; una segunda persona lo respalda con second=.",
    "record_insertion": "Mida desde la segunda marca y regístrelo.",
    "record_lots": "Corrija el registro y agregue latas o lotes; una segunda persona lo respalda con "
    "second=.",
    "record_opened": "Registre cuándo se abrió la lata.",
    "say_card": "Nombre la tarjeta de cemento de la línea en job.toml, o en la junta.",
    "say_last_used": "Pregunte cuándo se usó el proceso por última vez y escríbalo en job.toml.",
    "say_lot_card": "Escriba en job.toml qué tarjeta lleva el lote.",
    "say_procedure": "Nombre en job.toml el procedimiento de la línea.",
    "second_person": "Que una segunda persona que estuvo ahí lo respalde: una corrección con second=.",
    "unqualified_joint": "Pregunte al ingeniero; la junta se corta y la hace una persona calificada.",
    "wrong_lot": "Pregunte por escrito al ingeniero y al fabricante; mientras tanto vale como junta por "
    "cortar.",
    **NEXT_RAISE_ES,
    **NEXT_HOUR_ES,
    **NEXT_SEQUENCE_ES,
}
"""Code of a next step to its sentence."""
