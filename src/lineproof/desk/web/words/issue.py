"""Words of the page that gives the pack to the crew, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Issue", "Emisión"),
    "next": (
        "Issue {number} would change this against issue {before}:",
        "La emisión {number} cambiaría esto contra la emisión {before}:",
    ),
    "first": (
        "Issue 1 would give every joint its id: {n:#joint}.",
        "La emisión 1 daría su número a cada junta: {n:#junta}.",
    ),
    "nothing": (
        "Nothing is new since issue {before}: it stands.",
        "No hay nada nuevo desde la emisión {before}: sigue valiendo.",
    ),
    "verdict": ("The whole pack:", "El paquete completo:"),
    "born": ("Joints that get an id", "Juntas que reciben número"),
    "retired": ("Ids that are taken back", "Números que se retiran"),
    "pieces": ("Pieces that change", "Piezas que cambian"),
    "lines": ("Lines and drawings", "Líneas y planos"),
    "files": ("Files that changed", "Archivos que cambiaron"),
    "ask": ("Answer first: which joint is which", "Conteste primero: cuál junta es cuál"),
    "choose": ("choose", "elija"),
    "answer": ("Look again with these answers", "Ver otra vez con estas respuestas"),
    "by": ("who gives it", "quién la entrega"),
    "give": ("Give issue {number} to the crew", "Entregar la emisión {number} a la cuadrilla"),
    "given": (
        "Issue {number} is given to the crew; its papers lie on the page Papers. Older sheets are "
        "superseded.",
        "La emisión {number} está entregada; sus hojas están en la página Papeles. Las hojas viejas "
        "ya no valen.",
    ),
    "stands": (
        "Issue {number} stands: nothing was new.",
        "La emisión {number} sigue valiendo: no había nada nuevo.",
    ),
    "other": (
        "somebody issued meanwhile: the next is issue {number}",
        "alguien emitió mientras tanto: la próxima es la emisión {number}",
    ),
    "other_next": ("look at its changes again", "vea otra vez sus cambios"),
    "papers": ("Papers", "Papeles"),
}
