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
