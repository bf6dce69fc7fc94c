"""Spanish for the Findings of ``may fill`` and ``may raise``; the rules of ``sentences_en`` hold.

Plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

WHY_RAISE_ES: Mapping[str, Mapping[str, str]] = {
    "MOV-05": {
        "pressed": "sección {section}: cuenta como CON PRESIÓN: autorización {release}, dada {since}, y "
        "desde "
        "entonces ninguna purga abierta ha comprobado el cero; cada corte, tornillo y tapa se queda como "
        "está.",
        "unclear": "sección {section}: su registro no es claro ({unclear}); puede tener presión.",
        "no_zero": "sección {section}: nadie ha registrado que una purga abierta mostró que no hay presión.",
        "old_zero": "sección {section}: el cero se comprobó por última vez {zero}, hace más de un día.",
        "go": "sección {section}: ninguna autorización está en contra.",
    },
    "RAI-01": {
        "no_cap": "sección {section}: no hay presión máxima firmada.",
        "no_input": "sección {section}: no se puede saber la presión en el lugar de la presión máxima; "
        "falta: "
        "{missing}.",
        "not_engineer": "sección {section}: la presión máxima la firmó {signed_by:@}, y job.toml nombra "
        "ingeniero a {engineer:@}.",
        "stop": "sección {section}: {measured:pressure} en {place:@}, con el error del manómetro; ahí la "
        "presión máxima firmada es {limit:pressure}.",
        "go": "sección {section}: {measured:pressure} en {place:@}, debajo de la presión máxima firmada de "
        "{limit:pressure}.",
    },
    "RAI-02": {
        "no_cap": "sección {section}: no hay presión máxima firmada, así que no vale ninguna temperatura de "
        "pared.",
        "no_reading": "sección {section}: nadie leyó la pared del tubo en las últimas dos horas; la presión "
        "máxima vale hasta {signed_for:temperature}.",
        "stop": "sección {section}: el tubo está a {measured:temperature}; la presión máxima se firmó para "
        "{limit:temperature}.",
        "go": "sección {section}: el tubo está a {measured:temperature}; la presión máxima se firmó para "
        "{limit:temperature}.",
    },
    "RAI-03": {
        "no_source": "sección {section}: nadie registró de dónde viene el agua ni lo más que puede dar.",
        "no_input": "sección {section}: no se dice la presión contra la que se compara la fuente.",
        "stop": "sección {section}: {strongest:@} puede dar {measured:pressure}, y se pidieron "
        "{limit:pressure}.",
        "go": "sección {section}: {strongest:@} puede dar {measured:pressure} y no más.",
    },
    "RAI-04": {
        "not_said": "sección {section}: nadie registró cómo termina en {who}.",
        "valve": "sección {section}: en {who} solo hay una válvula cerrada; su asiento puede dejar pasar.",
        "old": "sección {section}: hace más de un día que se revisó cómo termina en {who}.",
        "counts": "sección {section}: nada que aguante hay entre ella y {who}, así que sus juntas cuentan.",
        "go": "sección {section}: {how} en {boundary}.",
    },
    "RAI-05": {
        "silent": "{who} escribió de esta sección en las últimas 24 horas y no se ha reportado en 10 "
        "minutos.",
        "no": "a {answered_by:@} se le preguntó por {who} y no pudo responder.",
        "answered_for": "alguien respondió por {who}.",
        "go": "{who} se reportó.",
    },
    "RAI-06": {
        "no_answer": "{condition}: nadie ha respondido; puede responder {may_answer}.",
        "no": "{condition}: la respuesta fue no.",
        "old": "{condition}: se respondió {answered}, y una respuesta vale {minutes:time}.",
        "before": "{condition}: se respondió {answered}, antes de lo último registrado de la sección.",
        "not_asker": "{condition}: solo puede responder quien pregunta, y respondió {answered_by:@}.",
        "not_lead": "{condition}: solo puede responder el encargado, y respondió {answered_by:@}.",
        "no_place": "{condition}: quien respondió no dijo dónde está parado.",
        "too_short": "{condition}: la respuesta habla desde {since}; el registro se conoce hasta "
        "{needed_since}.",
        "go": "{condition}: respondido.",
    },
    "RAI-07": {
        "none": "lugar de manómetro {place}: no hay registrado ningún manómetro ahí.",
        "several": "lugar de manómetro {place}: ahí están registrados {gauges}.",
        "unclear": "lugar de manómetro {place}: el registro de {gauges} no es claro.",
        "half": "manómetro {gauges} en {place}: no está registrado: {missing}.",
        "due": "manómetro {gauges} en {place}: su calibración valía hasta {due}.",
        "range": "manómetro {gauges} en {place}: se pidieron {measured:pressure} y su escala acaba en "
        "{limit:pressure}.",
        "place": "manómetro {gauges}: la elevación registrada no es la de {place} en job.toml.",
        "go": "manómetro {gauges} en {place}: con calibración vigente.",
    },
    "RAI-08": {
        "not": "sección {section}: nadie ha revisado sus sujeciones y atraques.",
        "bad": "sección {section}: sus sujeciones y atraques no estaban bien.",
        "before": "sección {section}: sus sujeciones y atraques se revisaron antes del último cambio.",
        "old": "sección {section}: hace más de un día que se revisaron sus sujeciones y atraques.",
        "go": "sección {section}: se revisaron sus sujeciones y atraques.",
    },
    "RAI-09": {
        "no_time": "sección {section}: nadie dijo cuándo se puede cargar lo recién colado ({what}).",
        "wait": "sección {section}: lo recién colado ({what}) no está listo antes de {ready}.",
        "go": "sección {section}: ya está listo ({what}).",
    },
    "RAI-10": {
        "not": "sección {section}: nadie ha vuelto a apretar los tornillos de sus bridas a su par.",
        "bad": "sección {section}: los tornillos de sus bridas no estaban bien.",
        "before": "sección {section}: los tornillos de sus bridas se apretaron antes del último cambio.",
        "old": "sección {section}: hace más de un día que se apretaron los tornillos de sus bridas.",
        "go": "sección {section}: los tornillos de sus bridas están a su par.",
    },
    "RAI-11": {
        "unclear": "sección {section}: su registro no es claro ({unclear}).",
        "stray": "sección {section}: no están en el plano, y están en ella o nadie sabe dónde: {strays}.",
        "nobody": "sección {section}: job.toml no nombra a nadie a cargo de la prueba.",
        "go": "sección {section}: {in_charge} está a cargo de la prueba.",
    },
}
"""Check and reason to sentence."""

NEXT_RAISE_ES: Mapping[str, str] = {
    "answer_it": "Que se responda entonces: record add condition {subject} condition={condition} answer=yes.",
    "blind_it": "Póngale brida ciega, deje un espacio de aire o abra una purga más allá, y regístrelo.",
    "cool_or_sign": "Espere a que el tubo se enfríe, o pida al ingeniero una presión máxima firmada para "
    "esta "
    "temperatura.",
    "hear_it": "Que se reporte, o que una persona con nombre responda por él (condition=heard-for).",
    "look_restraint": "Que se revisen contra el plano, y regístrelo.",
    "name_in_charge": "Nombre en job.toml, en [signs], a la persona a cargo de la prueba.",
    "other_gauge": "Cuelgue otro manómetro, con calibración vigente y escala suficiente, y regístrelo.",
    "prove_zero": "Abra una purga de la sección, vea que no sale nada y registre zero_proved.",
    "put_it_right": "Corríjalo y responda otra vez.",
    "read_wall": "Lea la pared del tubo en el lugar más caliente, y regístrelo.",
    "record_end": "Véalo y regístrelo: isolation, con cómo termina ahí.",
    "record_gauge": "Registre el único manómetro que cuelga ahí: fecha de calibración, error, escala, lugar.",
    "record_source": "Ajuste su válvula de alivio y regístrelo: source, con lo más que puede dar.",
    "record_made_first": "Haga la junta, o regístrela; una línea con una junta por hacer no recibe agua.",
    "say_ready": "Pregunte al ingeniero cuándo se puede cargar, y regístrelo.",
    "set_relief": "Ajuste su válvula de alivio a lo pedido, o pida la presión que puede dar.",
    "torque_bolts": "Apriételos al par que dice el papel de la brida, y regístrelo.",
}
"""Code of a next step to its sentence."""
