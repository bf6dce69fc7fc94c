"""What must hold for any numbers: Pythagoras, monotone fits, inverse pairs, straight lines through zero."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.sums import vectors as v
from lineproof.sums.air import dew_point, relative_humidity
from lineproof.sums.angles import nearest_fitting
from lineproof.sums.bond import cement_volume
from lineproof.sums.forces import end_load
from lineproof.sums.growth import length_at_joining, length_when_cut
from lineproof.sums.hands import hands_needed
from lineproof.sums.marks import bevel_depth, bevel_length
from lineproof.sums.offsets import advance, fitting_angle, rolling_travel, travel, true_offset
from lineproof.sums.pressure import gauge_reading, pressure_at
from lineproof.sums.slopes import along_from_plan, plan_from_along, rise_from_along, rise_from_plan
from lineproof.sums.sticks import laying_length, overall_length, sticks_for_leg
from lineproof.sums.takeout import cut_length, exposed_length, face_to_face, take_out
from lineproof.sums.taper import (
    Band,
    contact_depth,
    contact_fraction,
    dry_fit_band,
    fraction_from_tolerance,
    od_at_contact,
)
from lineproof.sums.vapour import solvent_to_reach, vapour_share

metres = st.floats(0.01, 100.0)
signed = st.floats(-50.0, 50.0)
turns = st.floats(0.05, math.pi / 2)
vector = st.tuples(signed, signed, signed).filter(lambda a: v.norm(a) > 1e-3)


@given(metres, turns)
def test_travel_is_the_hypotenuse(true: float, angle: float) -> None:
    on, leg = advance(true, angle), travel(true, angle)
    assert leg**2 == pytest.approx(on**2 + true**2, rel=1e-9)
    assert fitting_angle(true, on) == pytest.approx(angle, abs=1e-9)


@given(signed, signed, metres)
def test_rolling_travel_is_travel_on_the_true_offset(side: float, rise: float, on: float) -> None:
    true = true_offset(side, rise)
    assert rolling_travel(side=side, rise=rise, advance=on) == pytest.approx(math.hypot(true, on), rel=1e-12)


@given(metres, st.floats(-3.0, 3.0))
def test_sloped_leg_told_either_way(plan: float, slope: float) -> None:
    along = along_from_plan(plan, slope)
    assert plan_from_along(along, slope) == pytest.approx(plan, rel=1e-12)
    assert rise_from_along(along, slope) == pytest.approx(rise_from_plan(plan, slope), rel=1e-9, abs=1e-12)
    assert along >= plan


@given(st.floats(0.0, math.pi), st.lists(st.floats(0.0, math.pi), min_size=1, max_size=6))
def test_no_listed_fitting_is_nearer(angle: float, listed: list[float]) -> None:
    turn, left = nearest_fitting(angle, listed)
    assert turn in listed
    assert abs(left) == min(abs(angle - other) for other in listed)


@given(metres, st.floats(0.1, 1.0), st.floats(0.1, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_the_three_lengths_of_a_piece_agree(
    bare: float, face_a: float, face_b: float, share_a: float, share_b: float
) -> None:
    depth_a, depth_b = face_a * share_a, face_b * share_b
    centres = bare + face_a + face_b
    cut = cut_length(
        centre_to_centre=centres, take_out_a=take_out(face_a, depth_a), take_out_b=take_out(face_b, depth_b)
    )
    tape = face_to_face(centre_to_centre=centres, centre_to_face_a=face_a, centre_to_face_b=face_b)
    assert exposed_length(cut=cut, depth_a=depth_a, depth_b=depth_b) == pytest.approx(tape, abs=1e-9)
    assert tape == pytest.approx(bare, abs=1e-9)


@given(st.floats(1.0, 12.0), st.floats(0.0, 0.5), st.floats(0.1, 200.0), st.floats(0.0, 0.05))
def test_sticks_reach_and_one_less_would_not(overall: float, depth: float, leg: float, stop: float) -> None:
    laying = laying_length(overall, depth)
    assert overall_length(laying, depth) == pytest.approx(overall)
    n = sticks_for_leg(length=leg, stick=laying, stop=stop)
    assert n * laying + (n - 1) * stop >= leg - 1e-6
    assert (n - 1) * laying + (n - 2) * stop < leg + 1e-6 or n == 1


@given(metres, st.floats(0.0, 1e-4), st.floats(250.0, 330.0), st.floats(250.0, 330.0))
def test_sawn_warm_and_joined_cold_comes_out_right(L: float, alpha: float, cut: float, joined: float) -> None:
    sawn = length_when_cut(length=L, alpha=alpha, temperature_cut=cut, temperature_joined=joined)
    back = length_at_joining(cut=sawn, alpha=alpha, temperature_cut=cut, temperature_joined=joined)
    assert back == pytest.approx(L, rel=1e-12)
    assert (sawn - L) * (cut - joined) >= 0.0  # cut warm: saw it longer


@given(st.floats(0.02, 0.6), st.floats(1e-4, 2e-3), st.floats(-1.0, 2.0), st.floats(0.0, 1e-3))
def test_a_larger_pipe_stops_no_later(entrance: float, narrowing: float, at: float, more: float) -> None:
    bottom = entrance - narrowing
    od = od_at_contact(entrance=entrance, bottom=bottom, fraction=at)
    fraction = contact_fraction(entrance=entrance, bottom=bottom, od=od)
    assert fraction == pytest.approx(at, abs=1e-6)
    larger = contact_fraction(entrance=entrance, bottom=bottom, od=od + more)
    assert larger <= fraction
    depths = [contact_depth(od=d, entrance=entrance, bottom=bottom, depth=0.1) for d in (od, od + more)]
    assert 0.0 <= depths[1] <= depths[0] <= 0.1
    order = [Band.TIGHT, Band.GOOD, Band.NET, Band.LOOSE]
    assert order.index(dry_fit_band(larger)) <= order.index(dry_fit_band(fraction))


@given(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0), st.floats(0.5, 24.0), st.floats(1e-3, 0.031))
def test_tolerance_form_is_the_taper_with_the_design_rule(u: float, w: float, od: float, t: float) -> None:
    """A = OD + 2 t and B = OD - t, the rule seen in the socket tables of ASTM D2466 and D2467."""
    by_taper = contact_fraction(entrance=od + 2 * t + w * t, bottom=od - t + w * t, od=od + u * t)
    assert by_taper == pytest.approx(fraction_from_tolerance(u, w), abs=1e-9)


@given(st.floats(0.02, 0.6), st.floats(0.02, 0.4), st.floats(0.0, 1e-3), st.floats(0.1, 3.0))
def test_cement_grows_in_proportion(od: float, depth: float, film: float, k: float) -> None:
    one = cement_volume(od=od, depth=depth, film=film)
    assert cement_volume(od=od, depth=k * depth, film=film) == pytest.approx(k * one, rel=1e-12)
    assert cement_volume(od=k * od, depth=depth, film=film) == pytest.approx(k * one, rel=1e-12)
    assert cement_volume(od=od, depth=depth, film=film, coats=2.5 * k) == pytest.approx(k * one, rel=1e-12)


@given(st.floats(1.0, 3600.0), st.floats(1.0, 3600.0), st.integers(1, 6))
def test_hands_are_enough_and_no_more(coating: float, working: float, least: int) -> None:
    n = hands_needed(coating_time=coating, working_time=working, at_least=least)
    assert n >= least
    assert coating / n <= working * (1 + 1e-6)
    assert n == least or coating / (n - 1) > working * (1 - 1e-6)


@given(st.floats(0.0, 5e6), st.floats(0.02, 0.6), st.floats(0.0, 3.0))
def test_end_load_is_straight_in_pressure_and_square_in_diameter(p: float, od: float, k: float) -> None:
    assert end_load(k * p, od) == pytest.approx(k * end_load(p, od), rel=1e-12)
    assert end_load(p, 2 * od) == pytest.approx(4 * end_load(p, od), rel=1e-12)


@given(st.floats(-1e5, 3e6), signed, signed, st.floats(950.0, 1050.0))
def test_gauge_and_joint_are_inverse(p: float, at: float, gauge: float, rho: float) -> None:
    reading = gauge_reading(wanted=p, height=at, gauge_height=gauge, density=rho)
    back = pressure_at(gauge=reading, gauge_height=gauge, height=at, density=rho)
    assert back == pytest.approx(p, abs=1e-6)


@given(st.floats(0.0, 0.05), st.floats(0.02, 1.1))
def test_bevel_either_way(length: float, angle: float) -> None:
    assert bevel_length(bevel_depth(length, angle), angle) == pytest.approx(length, abs=1e-12)


@given(st.floats(250.0, 330.0), st.floats(0.05, 1.0))
def test_dew_point_and_humidity_are_inverse(T: float, humidity: float) -> None:
    Td = dew_point(T, humidity)
    assert Td <= T + 1e-9
    if Td > 228.15:
        assert relative_humidity(T, min(Td, T)) == pytest.approx(humidity, rel=1e-9)


@given(st.floats(1e-6, 0.5), st.floats(0.01, 1000.0), st.floats(260.0, 330.0))
def test_solvent_and_share_are_inverse(share: float, space: float, T: float) -> None:
    liquid = solvent_to_reach(share=share, space=space, density=889.0, molar_mass=0.0721, temperature=T)
    back = vapour_share(liquid=liquid, space=space, density=889.0, molar_mass=0.0721, temperature=T)
    assert back == pytest.approx(share, rel=1e-12)


@given(vector, vector, st.floats(-7.0, 7.0))
def test_turning_keeps_lengths_and_turns_back(a: v.Vector, axis: v.Vector, angle: float) -> None:
    turned = v.rotate_about(a, axis, angle)
    assert v.norm(turned) == pytest.approx(v.norm(a), rel=1e-9)
    assert v.dot(turned, axis) == pytest.approx(v.dot(a, axis), rel=1e-9, abs=1e-6)
    assert v.rotate_about(turned, axis, -angle) == pytest.approx(a, abs=1e-6)


@given(vector, vector)
def test_cross_is_square_to_both(a: v.Vector, b: v.Vector) -> None:
    c = v.cross(a, b)
    scale = v.norm(a) * v.norm(b)
    assert v.dot(a, c) == pytest.approx(0.0, abs=1e-9 * scale * v.norm(a))
    assert v.dot(b, c) == pytest.approx(0.0, abs=1e-9 * scale * v.norm(b))
    assert v.norm(c) == pytest.approx(scale * math.sin(v.angle_between(a, b)), abs=1e-9 * scale)
