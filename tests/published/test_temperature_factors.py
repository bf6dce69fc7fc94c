"""Pressure rating factors: a PVC pipe association bulletin repeating PPI Recommendation C (read at 73 and
80 F only); the other rows from memory. Typed by hand."""

from __future__ import annotations

import pytest

from lineproof.book.load import book

PVC = {73: 1.0, 80: 0.88, 90: 0.75, 100: 0.62, 110: 0.50, 120: 0.40, 130: 0.30, 140: 0.22}
CPVC = {73: 1.0, 90: 0.91, 100: 0.82, 140: 0.50, 150: 0.42, 180: 0.25, 200: 0.20}


@pytest.mark.parametrize(("material", "factors"), [("pvc", PVC), ("cpvc", CPVC)])
def test_family_a(material: str, factors: dict[int, float]) -> None:
    for temp, factor in factors.items():
        cell = book().peek("temperature_factors", f"{material}/A/{temp}", "factor")
        assert cell.value == factor
        assert cell.confirmed is (material == "pvc" and temp in (73, 80))


def test_the_bulletin_rating_by_dr() -> None:
    """Article of the same association, psi at 73 F."""
    printed = {51: 80, 41: 100, 32.5: 125, 26: 160, 25: 165, 21: 200, 18: 235, 14: 305}
    for dr, psi in printed.items():
        assert book().peek("ratings_by_dr", f"{dr:g}", "rating_psi").value == psi
