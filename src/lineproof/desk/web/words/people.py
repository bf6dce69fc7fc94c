"""Words of the page of people and cans, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("People and cans", "Gente y latas"),
    "none": (
        "Nobody is named yet. Add [[people]] to job.toml.",
        "Todavía no hay nadie nombrado. Agregue [[people]] en job.toml.",
    ),
    "who": ("{id}, {role}", "{id}, {role}"),
    "no_role": ("role not said", "sin puesto"),
    "signs": ("signs as {roles}", "firma como {roles}"),
    "qualified": (
        "{material}, {steps}, {lo} to {hi}, last used {day}",
        "{material}, {steps}, {lo} a {hi}, usado por última vez el {day}",
    ),
    "qualified_never": (
        "{material}, {steps}, {lo} to {hi}, last use not said",
        "{material}, {steps}, {lo} a {hi}, último uso sin decir",
    ),
    "today": ("Qualified on {day}", "Calificados el {day}"),
    "for_lines": ("{lines}:", "{lines}:"),
    "none_recorded": (
        "No can is recorded. Record each can as it comes: its lot, its date, its card.",
        "No hay ninguna lata anotada. Anote cada lata cuando llega: su lote, su fecha, su tarjeta.",
    ),
    "no_card": ("belongs to no card", "sin tarjeta"),
    "dies_open": (
        "good until {when}: open life of card {card}",
        "sirve hasta {when}: vida abierta de la tarjeta {card}",
    ),
    "dies_date": (
        "good until {when}: date on it, card {card:@}",
        "sirve hasta {when}: fecha impresa, tarjeta {card:@}",
    ),
    "life_unknown": (
        "open, and no card says how long it lasts",
        "abierta, y ninguna tarjeta dice cuánto dura",
    ),
    "no_date": ("no date is known of it", "no se sabe su fecha"),
    "opened": ("opened {when}", "abierta {when}"),
    "open_it": ("It is opened", "Se abrió"),
    "throw_it": ("Thrown away", "Se tiró"),
    "thrown": ("Thrown away: {names}", "Tiradas: {names}"),
    "lots": ("Lots of job.toml", "Lotes de job.toml"),
    "one_came": ("A can of it came", "Llegó una lata"),
    "cans": ("Cans", "Latas"),
    "no_cans": (
        "No can is listed. Add [[cans]] to job.toml.",
        "No hay latas en la lista. Agregue [[cans]] en job.toml.",
    ),
    "can": ("{what}, lot {lot:@}", "{what}, lote {lot:@}"),
    "can_card": ("{what}, card {card}, lot {lot:@}", "{what}, tarjeta {card}, lote {lot:@}"),
    "expires": ("{count}, expires {day}", "{count}, vence {day}"),
    "expires_never": ("{count}, expiry date not said", "{count}, sin fecha de vencimiento"),
}
