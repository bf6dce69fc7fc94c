"""Words of the page of what happens now, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Now", "Ahora"),
    "radio": ("To read over the radio", "Para leer por radio"),
}
