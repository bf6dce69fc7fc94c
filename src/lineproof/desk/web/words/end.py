"""Ends of a fitting, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "in": ("in", "entrada"),
    "out": ("out", "salida"),
    "branch": ("branch", "ramal"),
}
