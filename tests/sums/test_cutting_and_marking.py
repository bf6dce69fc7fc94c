"""Cuts, sticks, marks, hands: small cases worked with pencil and paper, named as such."""

from __future__ import annotations

import math

import pytest

from lineproof.sums.angles import nearest_fitting
from lineproof.sums.bond import cans_needed, joints_per_can
from lineproof.sums.hands import applicator_width, applicators, coating_rate, coating_time, hands_needed
from lineproof.sums.marks import bevel_depth, rotation_mark, second_mark, straddle_angle, wrap_curve
from lineproof.sums.pressure import gauge_reading, low_point_pressure, pressure_at
from lineproof.sums.sticks import sticks_for_leg
from lineproof.sums.takeout import (
    cut_length,
    exposed_length,
    face_to_face,
    shortest_nipple,
    shortfall,
    stop_to_stop,
    take_out,
)
from lineproof.sums.taper import Band, dry_fit_band, dry_fit_bands

INCH = 0.0254


def test_a_spool_three_ways() -> None:
    """Pencil: 48 in centre to centre, elbows 9 in to the face, 6 in deep: cut 42, bare 30, tape 30."""
    Z = take_out(9 * INCH, 6 * INCH)
    cut = cut_length(centre_to_centre=48 * INCH, take_out_a=Z, take_out_b=Z)
    assert cut / INCH == pytest.approx(42)
    tape = face_to_face(centre_to_centre=48 * INCH, centre_to_face_a=9 * INCH, centre_to_face_b=9 * INCH)
    assert tape / INCH == pytest.approx(30)
    assert exposed_length(cut=cut, depth_a=6 * INCH, depth_b=6 * INCH) == pytest.approx(tape)


def test_sockets_that_meet_are_told_by_how_much() -> None:
    """Pencil: 17 in between centres, take-outs 3: room 11; depths of 6 and 2 bare need 14; short 3."""
    room = stop_to_stop(centre_to_centre=17 * INCH, take_out_a=3 * INCH, take_out_b=3 * INCH)
    least = shortest_nipple(depth_a=6 * INCH, depth_b=6 * INCH, exposed=2 * INCH)
    assert shortfall(room, least) / INCH == pytest.approx(3)
    assert shortfall(least, least) == 0.0


@pytest.mark.parametrize(
    ("length", "stick", "stop", "count"),
    [(6.0, 6.0, 0.0, 1), (6.001, 6.0, 0.0, 2), (18.0, 6.0, 0.0, 3), (0.3, 0.1, 0.0, 3),
     (12.004, 6.0, 0.004, 2), (12.005, 6.0, 0.004, 3), (0.01, 6.0, 0.0, 1)],
)  # fmt: skip
def test_sticks_for_a_leg(length: float, stick: float, stop: float, count: int) -> None:
    """Pencil: two sticks of 6 m with a 4 mm stop between reach 12.004 m and not a millimetre more."""
    assert sticks_for_leg(length=length, stick=stick, stop=stop) == count


@pytest.mark.parametrize(
    ("fraction", "band"),
    [(-0.5, Band.TIGHT), (0.33, Band.TIGHT), (1 / 3, Band.GOOD), (2 / 3, Band.GOOD), (0.67, Band.NET),
     (1.0, Band.NET), (1.001, Band.LOOSE), (0.018 / 0.027, Band.GOOD)],
)  # fmt: skip
def test_band_edges(fraction: float, band: Band) -> None:
    """ASTM F3328-18, abstract: one third to two thirds; the net band is from memory of D2855."""
    assert dry_fit_band(fraction) is band


def test_band_depths_are_thirds() -> None:
    """ASTM F3328-18, abstract: one third to two thirds of the depth."""
    assert dry_fit_bands(6 * INCH) == pytest.approx((2 * INCH, 4 * INCH, 6 * INCH))


def test_nearest_fitting_prefers_the_smaller_turn_when_two_are_equally_near() -> None:
    turn, left = nearest_fitting(math.radians(60), [math.radians(75), math.radians(45)])
    assert math.degrees(turn) == pytest.approx(45)
    assert math.degrees(left) == pytest.approx(15)


def test_hands_against_the_clock() -> None:
    """Pencil: 0.4 m2 three times at 0.5 m2 a minute is 2.4 min; in two minutes that takes two people."""
    one = coating_time(area=0.4, coats=3, rate=0.5 / 60)
    assert one / 60 == pytest.approx(2.4)
    assert hands_needed(coating_time=one, working_time=120.0) == 2
    assert hands_needed(coating_time=one, working_time=120.0, at_least=3) == 3
    assert hands_needed(coating_time=120.0, working_time=120.0) == 1
    assert coating_rate(area=0.4, coats=3, time=one) == pytest.approx(0.5 / 60)


@pytest.mark.parametrize(
    ("od_in", "widest_in", "width_in", "count"), [(4, 4, 2, 1), (8, 4, 4, 1), (12.75, 4, 4, 2), (24, 4, 4, 3)]
)
def test_applicators(od_in: float, widest_in: float, width_in: float, count: int) -> None:
    """Half the diameter: practice of ASTM D2855, from memory."""
    assert applicator_width(od_in * INCH, widest_in * INCH) / INCH == pytest.approx(width_in)
    assert applicators(od_in * INCH, widest_in * INCH) == count


def test_cans() -> None:
    assert joints_per_can(0.946, 0.0946) == 10  # exactly ten in binary too
    assert cans_needed(10, 10) == 1
    assert cans_needed(11, 10) == 2


def test_bevel_of_common_practice() -> None:
    """3/32 in off the wall at 10 to 15 degrees, 0.53 to 0.35 in along: common practice, no source."""
    assert bevel_depth(0.35 * INCH, math.radians(15)) / INCH == pytest.approx(3 / 32, abs=1e-3)
    assert bevel_depth(0.53 * INCH, math.radians(10)) / INCH == pytest.approx(3 / 32, abs=1e-3)


def test_marks() -> None:
    """Second mark a couple of inches back (common practice, no source); a quarter turn is a quarter round."""
    assert second_mark(0.150) - 0.150 == pytest.approx(2 * INCH, abs=1e-3)
    assert rotation_mark(0.3, math.pi / 2) == pytest.approx(math.pi * 0.3 / 4)
    assert rotation_mark(0.3, -math.pi / 2) == pytest.approx(-math.pi * 0.3 / 4)


@pytest.mark.parametrize(("bolts", "degrees"), [(4, 45), (8, 22.5), (12, 15), (16, 11.25), (20, 9)])
def test_bolts_straddle_the_centre_line(bolts: int, degrees: float) -> None:
    """Half the angle between two neighbours: common practice of flanged work, no source."""
    assert math.degrees(straddle_angle(bolts)) == pytest.approx(degrees)


def test_wrap_strip_lies_on_the_cutting_plane() -> None:
    """Exact solution: points of the unrolled strip put back on the cylinder satisfy z = tan(a) x."""
    R, a = 0.1, math.radians(22.5)
    curve = wrap_curve(od=2 * R, angle=a, points=24)
    assert len(curve) == 25
    assert curve[-1][0] == pytest.approx(2 * math.pi * R)
    for s, z in curve:
        assert z == pytest.approx(math.tan(a) * R * math.cos(s / R), abs=1e-12)
    assert curve[0][1] == pytest.approx(curve[-1][1])


def test_gauge_above_and_below() -> None:
    """Pencil: 10 m of water is 98.07 kPa; a joint below the gauge sees more, one above sees less."""
    low = pressure_at(gauge=5e5, gauge_height=10.0, height=0.0, density=1000.0)
    high = pressure_at(gauge=5e5, gauge_height=10.0, height=20.0, density=1000.0)
    assert low - 5e5 == pytest.approx(98_066.5)
    assert high - 5e5 == pytest.approx(-98_066.5)
    assert pressure_at(gauge=5e5, gauge_height=0, height=0, density=1000.0, gauge_error=5e3) == 5.05e5
    assert gauge_reading(wanted=low, height=0.0, gauge_height=10.0, density=1000.0) == pytest.approx(5e5)
    assert low_point_pressure(high_pressure=high, drop=20.0, density=1000.0) == pytest.approx(low)
