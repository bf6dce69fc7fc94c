"""Thermal growth and the weight of displaced water, against printed answers.

[GER] A general engineering reference page, two editions: NPS 2 PVC, 300 ft, 75 to 120 F.
      2.8e-5 per F printed 4.5 in; 2.9e-5 per F printed 4.7 in. Two editions of one page are one source.
[FLO] An answer in an engineers' forum: displaced water of an 8 ft pipe, 0.785 D^2 x 62.4 = 3135 lb/ft.
[AS1477] AS/NZS 1477:2017: reference expansion about 7e-5 per K; one 6 m length moves 0.42 mm per K (derived).
"""

from __future__ import annotations

import pytest

from lineproof.sums.content import water_mass
from lineproof.sums.growth import length_change

INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237


@pytest.mark.parametrize(("alpha_F", "printed_in"), [(2.8e-5, 4.5), (2.9e-5, 4.7)])
def test_growth_of_300_ft(alpha_F: float, printed_in: float) -> None:
    """[GER] printed to 0.1 in."""
    grown = length_change(length=300 * FOOT, alpha=alpha_F * 1.8, dT_K=45 / 1.8)
    assert round(grown / INCH, 1) == printed_in


def test_growth_of_one_stick_per_kelvin() -> None:
    """[AS1477] 0.42 mm per K for 6 m."""
    assert length_change(length=6.0, alpha=7e-5, dT_K=1.0) == pytest.approx(0.42e-3, rel=1e-12)


def test_displaced_water_of_a_large_pipe() -> None:
    """[FLO] 3135 lb/ft; the page writes 0.785 for pi/4 (0.05 % low), hence the tolerance of 2 lb/ft."""
    lb_ft3 = POUND / FOOT**3
    # The sum takes water, 900 to 1300 kg/m3: 62.4 lb/ft3 is 999.6.
    mass = water_mass(bore=8 * FOOT, density=62.4 * lb_ft3)
    assert mass / (POUND / FOOT) == pytest.approx(3135, abs=2.0)
