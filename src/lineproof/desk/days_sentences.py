"""What the answer of the days says, in English and Spanish. Spanish is to be read over by a fitter."""

from __future__ import annotations

from lineproof.desk.words import ENGLISH, SPANISH

SAID: dict[str, dict[str, str]] = {
    "finish": {
        ENGLISH: "last test accepted {finish}",
        SPANISH: "última prueba aceptada {finish}",
    },
    "finish cure": {
        ENGLISH: "last joint cured {finish}; no test has a date",
        SPANISH: "última junta curada {finish}; ninguna prueba tiene fecha",
    },
    "proved": {
        ENGLISH: "no plan of this work finishes earlier (proved)",
        SPANISH: "ningún plan de este trabajo termina antes (demostrado)",
    },
    "gap": {
        ENGLISH: "no plan finishes before {bound}; gap {gap}",
        SPANISH: "ningún plan termina antes de {bound}; diferencia {gap}",
    },
    "clock": {
        ENGLISH: "the time limit was hit: this is the best plan found by then, another run may find another",
        SPANISH: "se acabó el tiempo: este es el mejor plan hallado hasta entonces, otra vez puede "
        "salir otro",
    },
    "share": {
        ENGLISH: "the search ended by its share of work: the same question gives the same plan",
        SPANISH: "la búsqueda agotó su parte: la misma pregunta da el mismo plan",
    },
    "idle": {
        ENGLISH: "people between two joints of a day: {hours} person-hours in all",
        SPANISH: "gente entre dos juntas de un día: {hours} horas-persona en total",
    },
    "caution": {
        ENGLISH: "days to plan by, no permission: ask lineproof may on the day; the container and the "
        "approved "
        "procedure govern",
        SPANISH: "días para planear, no un permiso: pregunte a lineproof may ese día; mandan el envase y el "
        "procedimiento aprobado",
    },
    "told": {
        ENGLISH: "weather.csv speaks until {until}; after that the conditions of job.toml stand in",
        SPANISH: "weather.csv llega hasta {until}; después valen las condiciones de job.toml",
    },
    "no weather": {
        ENGLISH: "no weather.csv: the conditions of job.toml stand for every hour, and no rain is counted",
        SPANISH: "sin weather.csv: las condiciones de job.toml valen a toda hora, y no se cuenta lluvia",
    },
    "walked": {
        ENGLISH: "no order of steps was found for the whole job: joints come as walked",
        SPANISH: "no se halló un orden de pasos para toda la obra: las juntas van como en el recorrido",
    },
    "no testing": {
        ENGLISH: "CANNOT TELL the tests: job.toml has no [testing] with pumps and takes",
        SPANISH: "FALTA UN DATO para las pruebas: job.toml no tiene [testing] con pumps y takes",
    },
    "undated": {
        ENGLISH: "CANNOT TELL when {section} is tested: no cure time for {joints}",
        SPANISH: "FALTA UN DATO: no se sabe cuándo se prueba {section}: sin tiempo de curado para {joints}",
    },
    "left": {
        ENGLISH: "CANNOT TELL {joints}: {why}",
        SPANISH: "FALTA UN DATO para {joints}: {why}",
    },
    "no crew": {
        ENGLISH: "{0} people are needed at the joint; no crew, nor two of them together, has so many ({1})",
        SPANISH: "se necesitan {0} personas en la junta; ninguna cuadrilla, ni dos juntas, las tiene ({1})",
    },
    "hands not told": {
        ENGLISH: "how many people the joint needs is not told ({0})",
        SPANISH: "no se sabe cuánta gente necesita la junta ({0})",
    },
    "no labour figure": {
        ENGLISH: "neither the labour table nor its rule reaches {0}",
        SPANISH: "ni la tabla de horas de trabajo ni su regla llegan a {0}",
    },
    "no hands-off time": {
        ENGLISH: "no hands-off time is printed for it ({0})",
        SPANISH: "no hay tiempo de no tocar impreso ({0})",
    },
    "waits for one that is left out": {
        ENGLISH: "they wait for {0}, which is left out",
        SPANISH: "esperan a {0}, que queda fuera",
    },
    "blocks": {
        ENGLISH: "what holds the finish up, the last first:",
        SPANISH: "lo que retrasa el final, lo último primero:",
    },
    "cured": {
        ENGLISH: "{id} {when}: waits for the cure of {other}",
        SPANISH: "{id} {when}: espera el curado de {other}",
    },
    "hands off": {
        ENGLISH: "{id} {when}: waits until {other} may be touched",
        SPANISH: "{id} {when}: espera a que se pueda tocar {other}",
    },
    "made": {
        ENGLISH: "{id} {when}: waits until {other} is made",
        SPANISH: "{id} {when}: espera a que se haga {other}",
    },
    "crew": {
        ENGLISH: "{id} {when}: its crew comes from {other}",
        SPANISH: "{id} {when}: su cuadrilla viene de {other}",
    },
    "pump": {
        ENGLISH: "{id} {when}: the pump comes from {other}",
        SPANISH: "{id} {when}: la bomba viene de {other}",
    },
    "hours": {
        ENGLISH: "{id} {when}: the first open hours",
        SPANISH: "{id} {when}: las primeras horas abiertas",
    },
    "more": {
        ENGLISH: "... and {n} more before it",
        SPANISH: "... y {n} más antes",
    },
    "since": {
        ENGLISH: "since the plan written last:",
        SPANISH: "desde el último plan escrito:",
    },
    "tried": {
        ENGLISH: "with {what}: {finish}, {days} than as it stands; no plan of it finishes before {bound}",
        SPANISH: "con {what}: {finish}, {days} que como está; ningún plan así termina antes de {bound}",
    },
    "earlier": {ENGLISH: "{n:.1f} days earlier", SPANISH: "{n:.1f} días antes"},
    "later": {ENGLISH: "{n:.1f} days later", SPANISH: "{n:.1f} días después"},
    "same": {ENGLISH: "no earlier and no later", SPANISH: "ni antes ni después"},
    "d finish": {ENGLISH: "finish {before} -> {after}", SPANISH: "final {before} -> {after}"},
    "d test": {ENGLISH: "test {id} {before} -> {after}", SPANISH: "prueba {id} {before} -> {after}"},
    "d joint": {ENGLISH: "{id} {before} -> {after}", SPANISH: "{id} {before} -> {after}"},
    "d crew": {ENGLISH: "{id} {after}: now {who}", SPANISH: "{id} {after}: ahora {who}"},
    "d new": {ENGLISH: "{id} is new, {after}", SPANISH: "{id} es nueva, {after}"},
    "d gone": {ENGLISH: "{id} is planned no more, was {before}", SPANISH: "{id} ya no está, era {before}"},
    "nothing": {
        ENGLISH: "nothing is left to make that can be planned",
        SPANISH: "no queda nada por hacer que se pueda planear",
    },
    "no hours": {
        ENGLISH: "no plan: {ids} has no hours at all before {until}",
        SPANISH: "sin plan: {ids} no tiene ninguna hora antes de {until}",
    },
    "no test hours": {
        ENGLISH: "no plan: the test of {ids} has no hours before {until}; next: longer hours for "
        "[shift] or the "
        "witness, or a shorter takes under [testing]",
        SPANISH: "sin plan: la prueba de {ids} no tiene horas antes de {until}; después: más horas en "
        "[shift] o "
        "del testigo, o un takes más corto en [testing]",
    },
    "too late": {
        ENGLISH: "no plan: it is proved that not all of it fits before {until}; next: more crews, "
        "longer shifts, "
        "or plan fewer lines at a time",
        SPANISH: "sin plan: está demostrado que no cabe todo antes de {until}; después: más "
        "cuadrillas, turnos "
        "más largos o menos líneas a la vez",
    },
    "not found": {
        ENGLISH: "no plan was found before {until}; it is not proved that there is none; next: give it more "
        "--seconds",
        SPANISH: "no se halló un plan antes de {until}; no está demostrado que no lo haya; después: "
        "más --seconds",
    },
    "limit": {
        ENGLISH: "without the limit of {limit} it could begin {first}",
        SPANISH: "sin el límite de {limit} podría empezar {first}",
    },
    "no limit": {
        ENGLISH: "no limit alone keeps it: two or more of shift, qualification, cement and weather do "
        "together",
        SPANISH: "ningún límite solo la detiene: lo hacen juntos dos o más de turno, calificación, cemento y "
        "clima",
    },
    "shift": {ENGLISH: "the shift hours", SPANISH: "las horas de turno"},
    "qualification": {
        ENGLISH: "qualification (nobody in the crew is qualified then)",
        SPANISH: "calificación (nadie de la cuadrilla está calificado entonces)",
    },
    "cement": {ENGLISH: "the cement's last day", SPANISH: "el último día del cemento"},
    "lost day": {ENGLISH: "the lost days", SPANISH: "los días perdidos"},
    "weather and card": {
        ENGLISH: "weather and card (rain, or no row of the card for the temperature)",
        SPANISH: "clima y envase (lluvia, o sin renglón para la temperatura)",
    },
    "strip": {
        ENGLISH: "# joint   T test   . open   blank closed   r rain",
        SPANISH: "# junta   T prueba   . abierto   blanco cerrado   r lluvia",
    },
    "drawn": {
        ENGLISH: "black: a joint is made · line below: hands off · outlined: a test · blue: rain",
        SPANISH: "negro: se hace una junta · raya abajo: no tocar · con borde: una prueba · azul: lluvia",
    },
    "joints": {ENGLISH: "{n} joints", SPANISH: "{n} juntas"},
}


def said(code: str, language: str, /, *args: object, **facts: object) -> str:
    """A sentence of the days.

    Parameters
    ----------
    code : str
    language : str
        ``"en"`` or ``"es"``.
    *args, **facts : object
        What goes into it.

    Returns
    -------
    str
    """
    return SAID[code][language].format(*args, **facts)
