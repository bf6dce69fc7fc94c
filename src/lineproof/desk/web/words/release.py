"""Words of the release, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Release", "Autorización"),
    "of": ("Release {id}", "Autorización {id}"),
    "given": ("Releases", "Autorizaciones"),
    "gone": ("taken back or run out", "retirada o vencida"),
    "go_is_not": (
        "GO is not the release. Only the person in charge of the test gives it.",
        "ADELANTE no es la autorización. Solo la da la persona a cargo de la prueba.",
    ),
    "good": ("may be begun on for", "se puede empezar durante"),
    "by": ("person in charge of the test", "persona a cargo de la prueba"),
    "not_go": (
        "Not released: the answer is not GO now.",
        "No se autorizó: la respuesta ahora no es ADELANTE.",
    ),
    "what": ("may", "se puede"),
    "pressure": ("pressure", "presión"),
    "pressure_at": ("{pressure} at {at}", "{pressure} en {at}"),
    "begun_by": ("to be begun by", "hay que empezar antes de"),
    "joints": ("joints asked", "juntas consideradas"),
    "voids": ("It is void at once with", "Deja de valer en seguida con"),
    "under": (
        "From then on the section counts as UNDER PRESSURE until an open vent proves zero.",
        "Desde entonces la sección cuenta CON PRESIÓN hasta que un venteo abierto compruebe el cero.",
    ),
    "give": ("{by} gives the release", "{by} da la autorización"),
    "not_yet": ("Not yet: back to the question", "Todavía no: volver a la pregunta"),
    "when": ("given", "dada"),
    "claimed": (
        "claimed: the name was typed on this machine, nothing proves it",
        "dicho: el nombre se escribió en esta máquina, nada lo prueba",
    ),
    "lines": ("lines the water can reach", "líneas a las que puede llegar el agua"),
    "zero": ("zero", "cero"),
    "zero_not": ("NOT PROVED: UNDER PRESSURE", "SIN COMPROBAR: CON PRESIÓN"),
    "zero_no_need": ("nothing recorded", "nada anotado"),
    "sheet": ("Make its sheet", "Hacer su hoja"),
    "withdraw": ("Withdraw it", "Retirarla"),
    "s_open": ("RELEASED", "AUTORIZADA"),
    "s_withdrawn": ("WITHDRAWN", "RETIRADA"),
    "s_expired": ("RUN OUT: ask again", "VENCIDA: pregunte otra vez"),
    "s_over": ("OVER: zero is proved", "TERMINADA: el cero está comprobado"),
    "s_unclear": ("UNCLEAR: ask again", "NO ES CLARA: pregunte otra vez"),
    "none": ("no release is called {id}", "ninguna autorización se llama {id}"),
    "none_allowed": ("{names}", "{names}"),
    "none_next": ("see the page May we?", "vea la página ¿Se puede?"),
}
