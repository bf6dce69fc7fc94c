"""Words of the joints and the card of one, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Joints", "Juntas"),
    "none": ("There is no joint yet: walk a line first.", "Todavía no hay juntas: primero trace una línea."),
    "row": ("{end} into {into}, {size}", "{end} en {into}, {size}"),
    "times": (
        "hands {hands} · hold {hold} · off {off} · cure {cure}",
        "personas {hands} · sostener {hold} · no tocar {off} · curado {cure}",
    ),
    "joint": ("Joint {name}", "Junta {name}"),
    "card": ("Record it on a phone: the joint card", "Anotarla en el teléfono: la tarjeta de la junta"),
    "first": ("First:", "Primero:"),
    "fit": ("Dry fit", "Prueba en seco"),
    "cement": ("Cement", "Cemento"),
    "steps": ("Steps", "Pasos"),
    "no_steps": (
        "No procedure says how this joint is made. Ask the lead before a can is opened.",
        "Ningún procedimiento dice cómo se hace esta junta. Pregunte al encargado antes de abrir una lata.",
    ),
    "clocks": ("Times", "Tiempos"),
    "missing": ("Missing: {what}", "Falta: {what}"),
    "photos": ("Photographs", "Fotos"),
    "photo_of": ("Photograph {n} of joint {name}", "Foto {n} de la junta {name}"),
    "photos_owed": (
        "PHOTO OWED: {n} told on a phone, not here yet.",
        "SE DEBE LA FOTO: {n} anotadas en un teléfono, todavía no están aquí.",
    ),
    "photo_promised": (
        "PHOTO OWED: somebody noted that one is still to be taken.",
        "SE DEBE LA FOTO: alguien anotó que falta tomarla.",
    ),
    "no_photo": ("this photograph is not here", "esta foto no está aquí"),
    "no_photo_allowed": ("a photograph on the page of its joint", "una foto de la página de su junta"),
    "no_photo_next": (
        "let the phone that took it send what waits",
        "deje que el teléfono que la tomó envíe lo que espera",
    ),
    "no_such": ("there is no joint {name}", "no hay ninguna junta {name}"),
    "no_such_allowed": ("a joint of the list", "una junta de la lista"),
    "no_such_next": ("see the page Joints", "vea la página Juntas"),
}
