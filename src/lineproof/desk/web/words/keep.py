"""Words of every form that writes, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "long": (
        "the field {field} is longer than a form has room for",
        "el campo {field} es más largo que lo que cabe",
    ),
    "long_allowed": ("up to {most} letters", "hasta {most} letras"),
    "long_next": ("say it shorter; nothing was written", "dígalo más corto; no se anotó nada"),
    "no_id": ("this form does not say which writing it is", "este formulario no dice qué anotación es"),
    "no_id_next": ("open the page again; nothing was written", "abra la página otra vez; no se anotó nada"),
    "look": ("Show it back before it is kept", "Mostrarlo antes de guardar"),
    "right": ("Is this right? Nothing is kept yet.", "¿Está bien? Todavía no se guardó nada."),
    "keep": ("Keep it", "Guardar"),
    "change": ("Change it", "Cambiarlo"),
    "kept": ("Kept.", "Guardado."),
    "again": (
        "This form was sent before: it counted once. What it wrote then:",
        "Este formulario ya se había mandado: contó una vez. Lo que anotó entonces:",
    ),
    "by": ("who writes this", "quién lo anota"),
    "nobody": ("choose", "elija"),
    "no_by": ("nobody is named who writes this", "no se dice quién lo anota"),
    "no_by_allowed": ("a person of job.toml", "una persona de job.toml"),
    "no_by_next": ("choose the name; nothing was written", "elija el nombre; no se anotó nada"),
    "claimed": (
        "At this machine a name is only typed: it counts as claimed.",
        "En esta máquina el nombre solo se escribe: cuenta como dicho, no probado.",
    ),
    "back": ("Go on", "Seguir"),
}
