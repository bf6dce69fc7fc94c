"""Pressure rating from stress, diameter and wall, against printed ratings.

[D1785] ASTM D1785, appendix, pressure ratings of PVC 1120 pipe at 73 F, as printed in a secondary table
        whose publisher is not established; the standard itself was not read. S = 2000 psi.
[16NYCRR] New York State, 16 NYCRR 255.191, design pressures of plastic pipe, with the relation of 255.121.
[PVCPA] A PVC pipe association's force-main design example: pressure rating by dimension ratio, 2000 psi.
Diameters and walls are typed from ASTM D1785 Table 1 and 2 as transcribed in an open library.
The ratio is free of units, so inch and psi are used as they are printed.
"""

from __future__ import annotations

import pytest

from lineproof.sums.ratings import rating, rating_by_ratio


@pytest.mark.parametrize(
    ("od_in", "wall_in", "printed_psi"),
    [(6.625, 0.432, 280), (12.750, 0.406, 130), (24.000, 0.687, 120), (24.000, 1.218, 210)],
    ids=["NPS 6 Sch 80", "NPS 12 Sch 40", "NPS 24 Sch 40", "NPS 24 Sch 80"],
)
def test_rating_rounds_to_the_printed_one(od_in: float, wall_in: float, printed_psi: int) -> None:
    """[D1785] prints tens of psi: the sum must round to them."""
    assert round(rating(stress=2000.0, od=od_in, wall=wall_in), -1) == printed_psi


@pytest.mark.parametrize(("factor", "printed_psi"), [(0.25, 88), (0.20, 71)])
def test_rating_with_class_factor(factor: float, printed_psi: int) -> None:
    """[16NYCRR] NPS 6 Schedule 40, stress 4000 psi, class factors 0.25 and 0.20, printed to 1 psi."""
    assert round(factor * rating(stress=4000.0, od=6.625, wall=0.280)) == printed_psi


@pytest.mark.parametrize(
    ("ratio", "printed_psi"),
    [(51, 80), (41, 100), (32.5, 125), (26, 160), (25, 165), (21, 200), (18, 235), (14, 305)],
)
def test_rating_by_dimension_ratio(ratio: float, printed_psi: int) -> None:
    """[PVCPA] prints 5 psi steps downward; the rule of rounding was inferred from the values."""
    assert 5 * int(rating_by_ratio(stress=2000.0, ratio=ratio) // 5) == printed_psi


def test_both_forms_of_the_relation_agree() -> None:
    """2 S t/(D - t) is 2 S/(D/t - 1): algebra."""
    by_wall = rating(stress=2000.0, od=8.625, wall=0.5)
    assert by_wall == pytest.approx(rating_by_ratio(stress=2000.0, ratio=8.625 / 0.5), rel=1e-12)
