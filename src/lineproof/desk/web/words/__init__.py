"""What the pages say, in English and in Spanish: one module a page, every key with both languages beside it.

A page ``tape`` keeps its words in ``words/tape.py`` as ``SAID``, key to (English, Spanish); they are called
``tape.title`` and so on. A new module is found by itself. Placeholders are those of ``sentences_en``:
``{name}``, ``{n:#piece}`` or ``{n:#can/cans}`` for a count, ``{wait:time}`` for a quantity in the
job's units. The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

import functools
import importlib
import pkgutil
from collections.abc import Mapping


@functools.cache
def catalogue() -> Mapping[str, tuple[str, str]]:
    """Every word of the pages.

    Returns
    -------
    mapping
        Key, such as ``tape.title``, to English and Spanish.
    """
    found: dict[str, tuple[str, str]] = {}
    for module in pkgutil.iter_modules(__path__):
        said: Mapping[str, tuple[str, str]] = importlib.import_module(f"{__name__}.{module.name}").SAID
        found |= {f"{module.name}.{key}": both for key, both in said.items()}
    return found
