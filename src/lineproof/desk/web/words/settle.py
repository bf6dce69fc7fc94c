"""Words of the page where stories are settled, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Settle", "Aclarar"),
    "none": (
        "Nothing is to be settled: no fork, and no joint was told to be made twice.",
        "No hay nada que aclarar: ninguna bifurcación, y de ninguna junta se dijo que se hizo dos veces.",
    ),
    "choose": (
        "Both were told; until it is settled it is CANNOT TELL. Ask those who wrote, then mark what is true.",
        "Se dijeron las dos; hasta aclararlo: FALTA UN DATO. Pregunte a quienes anotaron; marque la "
        "verdadera.",
    ),
    "this": ("story {n} is true", "la versión {n} es verdadera"),
    "at": ("happened", "pasó"),
    "written": ("written", "anotado"),
    "written_by": (
        "{when} by {by}, writer {writer}, no. {n}",
        "{when} por {by}, escritor {writer}, núm. {n}",
    ),
    "reason": ("why it stands", "por qué vale"),
    "second": ("second person who stands by it", "segunda persona que lo respalda"),
    "no_second": ("nobody yet", "nadie todavía"),
    "alone": (
        "One person alone strikes no story out: it stays open until a second one stands by it.",
        "Una persona sola no anula ninguna versión: queda abierto hasta que una segunda lo respalde.",
    ),
    "still_open": (
        "Still open: one person alone strikes no story out. Next: again with a second person.",
        "Sigue abierto: una persona sola no anula ninguna versión. Siguiente paso: otra vez, con otra.",
    ),
    "stands": ("This stands", "Esto vale"),
    "struck": ("This is struck out", "Esto se anula"),
    "none_chosen": ("no story is marked as true", "no se marcó ninguna versión como verdadera"),
    "none_chosen_next": ("mark one; nothing was written", "marque una; no se anotó nada"),
    "no_reason": ("no reason is given", "no se da ninguna razón"),
    "no_reason_next": ("say why it stands; nothing was written", "diga por qué vale; no se anotó nada"),
    "gone": ("what is marked is not open any more", "lo marcado ya no está abierto"),
    "gone_next": ("open the page Settle again", "abra otra vez la página Aclarar"),
}
