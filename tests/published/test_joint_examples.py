"""Joints against figures worked outside this project. Each says where it comes from.

Wet-film volumes: a table worked by hand from V = 2.5 t pi D L before this code was written (derived), films
by class of cement from ASTM D2564 and D2855-96 (from memory). Heads: 0.433 psi a foot of water, the trade's
figure.
"""

from __future__ import annotations

import math

import pytest

from joint_rig import CARD_ROWS, PAPERS, planned
from lineproof.plan.joint_needs import Bond
from rigs import FOOT, INCH, elbow

WALK_UP = """line L size {} pipe pvc sch80
starts at open at 0, 0, 0 facing north
go north 10'
go up 8'
ends at open
"""
PSI = 6894.757293168361


@pytest.mark.parametrize(
    ("size", "depth_mm", "body", "area_cm2", "net_mL", "order_mL"),
    [
        ("2in", 38.1, "medium", 72, 5.4, 10.8),
        ("4in", 57.1, "heavy", 205, 31, 62),
        ("6in", 76.2, "heavy", 403, 60, 121),
        ("24in", 304.8, "heavy", 5837, 876, 1751),
    ],
)
def test_wet_film_table(tmp_path, size, depth_mm, body, area_cm2, net_mL, order_mL):
    """Rows as printed; 2.5 % for their rounding and for the film: 0.012 in is 0.305 mm, not 0.30."""
    walk = WALK_UP.format(size)
    papers = PAPERS.replace('body = "heavy"', f'body = "{body}"').replace(
        'sizes_to = "12in"', 'sizes_to = "24in"'
    )
    parts = [elbow(size, "24 in", f"{depth_mm} mm")]
    needs = planned(tmp_path, walk, papers=papers, parts=parts)[1][0].needs
    assert needs.bond.area * 1e4 == pytest.approx(area_cm2, rel=6e-3)
    assert needs.wet.net * 1e6 == pytest.approx(net_mL, rel=2.5e-2)
    assert needs.wet.volume * 1e6 == pytest.approx(order_mL, rel=2.5e-2)


def test_bond_area_of_a_12_in_face(tmp_path):
    """Common practice, no source: face = pi x 12.75 in x 6 1/2 in = 260.4 square inches."""
    walk = WALK_UP.format("12in")
    bond: Bond = planned(tmp_path, walk)[1][0].needs.bond
    assert bond.area / INCH**2 == pytest.approx(260.4, abs=0.05)
    assert bond.area == pytest.approx(math.pi * 12.75 * 6.5 * INCH**2)


def test_dry_fit_bands_are_a_third_and_two_thirds(tmp_path):
    """Common practice, no source; the abstract of ASTM F3328-18 names 1/3 to 2/3 of the depth."""
    bands = planned(tmp_path)[1][0].needs.fit.bands
    assert (bands.tight, bands.good, bands.net) == pytest.approx((1 * INCH, 2 * INCH, 3 * INCH))


def test_a_valve_22_ft_below_the_gauge_sees_9_5_psi_more(tmp_path):
    """Worked by hand: 135 + 22 x 0.433 = 144.5 psi."""
    low = planned(tmp_path)[1][0].pressure
    assert low.elevation == 0
    assert low.pressure / PSI == pytest.approx(144.5, abs=0.05)
    a_foot = (low.pressure / PSI - 135) / 22
    assert 0.433 <= a_foot < 0.434  # water is taken at 1000 kg/m3, rounded up to the safe side


def test_118_ft_of_fall_is_51_psi(tmp_path):
    """Worked by hand: 118 x 0.433 = 51.1 psi; 75 psi at the top is 126 psi at the bottom."""
    papers = PAPERS.replace('elevation = "22 ft"', 'elevation = "118 ft"').replace("135 psi", "75 psi")
    low = planned(tmp_path, papers=papers)[1][0].pressure
    assert low.pressure / PSI == pytest.approx(126, abs=0.3)


@pytest.mark.parametrize(("nps", "coats", "seconds"), [(6, 3, 60.4), (12, 3, 252.0)])
def test_coating_time_by_hand(tmp_path, nps, coats, seconds):
    """Area x coats / rate, worked by hand: 402.8 cm2 and 1679.7 cm2, three coats, 0.12 m2 a minute."""
    walk = WALK_UP.format(f"{nps}in")
    hands = planned(tmp_path, walk)[1][0].needs.hands
    assert hands.coats == coats
    assert hands.coating_time == pytest.approx(seconds, abs=0.06)


def test_the_shortest_hold_of_the_trade_is_shown_beside(tmp_path):
    """Common practice, no source: hold 30 s or more; large sizes one to three minutes (from memory)."""
    hold = planned(tmp_path, rows=CARD_ROWS)[1][0].hold
    assert hold.printed >= 30
    assert hold.printed == 180
    assert pytest.approx(12 * INCH) == FOOT
