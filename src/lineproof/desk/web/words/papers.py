"""Words of the page of the papers, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Papers", "Papeles"),
    "none": (
        "Nothing is made yet. Choose a paper above and make it.",
        "Todavía no hay nada hecho. Elija arriba un papel y hágalo.",
    ),
    "make": ("Make a paper", "Hacer un papel"),
    "what": ("paper", "papel"),
    "w_pack": (
        "work pack, cards, strips, tags, lists",
        "paquete de trabajo, tarjetas, tiras, etiquetas, listas",
    ),
    "w_joints": ("joint record", "registro de juntas"),
    "w_stickers": ("stickers for joints", "calcomanías para juntas"),
    "w_cans": ("stickers for cans", "calcomanías para latas"),
    "w_ledger": ("cure ledger", "libro de curado"),
    "w_release": ("release form", "hoja de autorización"),
    "w_cautions": ("cautions", "cuidados"),
    "subjects": (
        "only these joints, lines, sections, cans or releases, parted by commas; of the pack one line",
        "solo estas juntas, líneas, secciones, latas o autorizaciones, separadas por comas; del "
        "paquete una línea",
    ),
    "day": ("only of this day", "solo de este día"),
    "size": ("paper size", "tamaño de papel"),
    "size_own": ("as the job's units", "según las unidades del trabajo"),
    "language": ("language", "idioma"),
    "dampest": ("highest humidity since", "humedad más alta desde entonces"),
    "go": ("Make it", "Hacerlo"),
    "stands": (
        "Issue {issue} is with the crew; record head {head}.",
        "La cuadrilla tiene la emisión {issue}; sello del registro {head}.",
    ),
    "not_issued": ("Nothing is issued to the crew yet.", "Todavía no hay ninguna emisión para la cuadrilla."),
    "issue": ("Give the pack to the crew", "Entregar el paquete a la cuadrilla"),
    "files": ("Made", "Hechos"),
    "old": ("made before the last change: make it again", "hecho antes del último cambio: hágalo otra vez"),
    "new": ("made just now", "recién hecho"),
    "made_pack": (
        "Made the pack of issue {issue}, head {head}.",
        "Se hizo el paquete de la emisión {issue}, sello {head}.",
    ),
    "made_draft": (
        "Made a draft that is not issued ({issue}), head {head}.",
        "Se hizo un borrador sin emitir ({issue}), sello {head}.",
    ),
    "made_record": (
        "Made {file}: known by receipt {known}, head {head}.",
        "Se hizo {file}: según el recibo {known}, sello {head}.",
    ),
    "no_such": ("there is no paper {name}", "no hay ningún papel {name}"),
    "no_such_allowed": ("a paper of the list", "un papel de la lista"),
    "no_such_next": ("make it on the page Papers", "hágalo en la página Papeles"),
}
