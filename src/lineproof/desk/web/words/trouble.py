"""What is said when something could not be done, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Not done", "No se hizo"),
    "allowed": ("allowed", "se permite"),
    "next": ("next", "siguiente paso"),
    "in_english": ("In English:", "En inglés:"),
    "wrong": (
        "that is not what this page asks for; open the page again and fill it in",
        "eso no es lo que pide esta página; ábrala otra vez y llénela",
    ),
    "missing": (
        "there is no such page here; the pages are named above",
        "esa página no existe; las páginas están arriba",
    ),
    "cannot": ("that cannot be done", "eso no se puede hacer"),
    "old_form": (
        "this form was made before the server was started again, or for another phone",
        "este formulario es de antes de que el servidor arrancara otra vez, o de otro teléfono",
    ),
    "old_form_allowed": ("a form of a page that is open now", "el formulario de una página abierta ahora"),
    "old_form_next": (
        "open the page again and send it from there; nothing was written",
        "abra la página otra vez y mándelo desde ahí; no se escribió nada",
    ),
}
