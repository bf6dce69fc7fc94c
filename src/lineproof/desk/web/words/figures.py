"""Words of the hand calculators, in English and Spanish.

The Spanish is plain site Spanish, **to be read over by a native-speaking fitter**.
"""

from __future__ import annotations

from collections.abc import Mapping

SAID: Mapping[str, tuple[str, str]] = {
    "title": ("Figures", "Cálculos"),
    "input": ("{letter}: {words} ({unit}, with its unit)", "{letter}: {words} ({unit}, con su unidad)"),
    "work": ("Work it out", "Calcular"),
    "source": ("Source: {source}", "Fuente: {source}"),
    "in_english": ("", "Los nombres de los cálculos están todavía en inglés."),
}
