"""Cement by wet film, against a table worked by hand before this code was written (derived).

Film by class of cement: 0.15 mm regular to NPS 1-1/4, 0.30 mm medium to NPS 3, 0.60 mm heavy above
(ASTM D2564 and D2855-96, from memory). Depths: ASTM D2467, from memory; NPS 24 carried on at half the size.
The table prints millilitres to about 1 %.
"""

from __future__ import annotations

import pytest

from lineproof.sums.bond import bond_area, cement_volume, joints_per_can, primer_by_film, with_allowance

US_QUART = 946.352946e-6  # 57.75 cubic inches


@pytest.mark.parametrize(
    ("od_mm", "depth_mm", "film_mm", "area_cm2", "net_mL", "order_mL", "primer_mL"),
    [
        (60.3, 38.1, 0.30, 72.2, 5.42, 10.83, 1.08),
        (114.3, 57.1, 0.60, 205.2, 30.78, 61.56, 3.08),
        (168.3, 76.2, 0.60, 402.8, 60.42, 120.85, 6.04),
        (609.6, 304.8, 0.60, 5837.3, 875.59, 1751.18, 87.56),
        (110.0, 61.0, 0.60, 210.8, 31.62, 63.24, 3.16),
        (400.0, 206.0, 0.60, 2588.7, 388.3, 776.6, 38.83),
    ],
    ids=["NPS 2", "NPS 4", "NPS 6", "NPS 24", "d110", "d400"],
)
def test_row(
    od_mm: float,
    depth_mm: float,
    film_mm: float,
    area_cm2: float,
    net_mL: float,
    order_mL: float,
    primer_mL: float,
) -> None:
    od, depth, film = od_mm / 1e3, depth_mm / 1e3, film_mm / 1e3
    net = cement_volume(od=od, depth=depth, film=film)
    assert bond_area(od, depth) * 1e4 == pytest.approx(area_cm2, rel=2e-3)
    assert net * 1e6 == pytest.approx(net_mL, rel=2e-3)
    assert with_allowance(net, 2.0) * 1e6 == pytest.approx(order_mL, rel=2e-3)
    assert primer_by_film(od=od, depth=depth) * 1e6 == pytest.approx(primer_mL, rel=5e-3)


@pytest.mark.parametrize(("order_mL", "joints"), [(10.83, 87), (61.56, 15), (120.85, 7), (1751.18, 0)])
def test_whole_joints_per_us_quart(order_mL: float, joints: int) -> None:
    """The table prints 87.4, 15.4, 7.8 and 0.5 joints per US quart; only whole joints count."""
    assert joints_per_can(US_QUART, order_mL * 1e-6) == joints
