"""Words of the page of the papers, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Papers", "Papeles"),
    "none": (
        "Nothing is printed yet. Print the pack: lineproof plan",
        "Todavía no hay nada impreso. Imprima el paquete: lineproof plan",
    ),
    "no_such": ("there is no paper {name}", "no hay ningún papel {name}"),
    "no_such_allowed": ("a paper of the list", "un papel de la lista"),
    "no_such_next": ("print it: lineproof plan", "imprímalo: lineproof plan"),
}
