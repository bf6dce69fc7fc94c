"""Every sum refuses what lies outside of its valid range, in one sentence, with nothing but our own error."""

from __future__ import annotations

import math
from typing import Any

import pytest

from lineproof.floor.errors import LineproofError, OutsideTable
from lineproof.sums import air as air_sums
from lineproof.sums import (
    angles,
    bond,
    bow,
    content,
    diameters,
    energy,
    forces,
    growth,
    hands,
    labour,
    marks,
    offsets,
    pressure,
    pull,
    ratings,
    slopes,
    sticks,
    takeout,
    taper,
    vapour,
)

SQUARE = math.pi / 2
OUTSIDE: list[tuple[Any, dict[str, Any]]] = [
    (offsets.advance, {"true": 1.0, "angle": 0.0}),
    (offsets.advance, {"true": 1.0, "angle": 2.0}),
    (offsets.travel, {"true": -1.0, "angle": 1.0}),
    (offsets.roll_angle, {"side": 0.0, "rise": 0.0}),
    (offsets.fitting_angle, {"true": 0.0, "advance": 0.0}),
    (angles.leftover, {"angle": 4.0, "fitting": 1.0}),
    (angles.nearest_fitting, {"angle": 1.0, "fittings": []}),
    (angles.nearest_fitting, {"angle": -0.1, "fittings": [1.0]}),
    (angles.angle_miss, {"length": 1.0, "error": 1.6}),
    (slopes.along_from_plan, {"plan": -1.0, "slope": 0.1}),
    (takeout.take_out, {"centre_to_face": 0.1, "depth": 0.2}),
    (takeout.cut_length, {"centre_to_centre": 0.2, "take_out_a": 0.1, "take_out_b": 0.1}),
    (takeout.cut_length, {"centre_to_centre": 1.0, "take_out_a": 0.1, "take_out_b": 0.1, "gap_a": -0.01}),
    (takeout.stop_to_stop, {"centre_to_centre": -0.2, "take_out_a": 0.1, "take_out_b": 0.1}),
    (takeout.face_to_face, {"centre_to_centre": 0.4, "centre_to_face_a": 0.3, "centre_to_face_b": 0.2}),
    (sticks.laying_length, {"overall": 0.1, "depth": 0.1}),
    (sticks.sticks_for_leg, {"length": 0.0, "stick": 6.0}),
    (growth.length_when_cut,
     {"length": 1.0, "alpha": 5e-5, "temperature_cut": 20.0, "temperature_joined": 293.0}),
    (growth.length_change, {"length": -1.0, "alpha": 5e-5, "dT_K": 1.0}),
    (growth.length_change, {"length": 1.0, "alpha": 54.0, "dT_K": 1.0}),
    (taper.contact_fraction, {"entrance": 1.0, "bottom": 1.0, "od": 1.0}),
    (taper.contact_depth, {"od": 1.0, "entrance": 1.1, "bottom": 0.9, "depth": 0.0}),
    (taper.fraction_from_tolerance, {"u": 1.01, "v": 0.0}),
    (taper.dry_fit_bands, {"depth": 0.0}),
    (taper.dry_fit_band, {"fraction": math.nan}),
    (diameters.out_of_round, {"largest": 0.1, "smallest": 0.2}),
    (diameters.end_play, {"od": 1.0, "entrance": 1.03, "bottom": 0.99, "depth": 0.5, "reach": 2.0}),
    (bond.cement_volume, {"od": 0.1, "depth": 0.1, "film": 0.3}),
    (bond.with_allowance, {"volume": 1.0, "allowance": 0.9}),
    (bond.cans_needed, {"joints": 2.5, "per_can": 3}),
    (hands.hands_needed, {"coating_time": 1.0, "working_time": 1.0, "at_least": 0}),
    (forces.bend_thrust, {"pressure": 1.0, "od": 0.1, "angle": 3.2}),
    (forces.end_load, {"pressure": -1.0, "od": 0.1}),
    (forces.joint_shear, {"pressure": 1.0, "od": 0.1, "depth": 0.1, "bonded": 0.0}),
    (pull.contact_pressure, {"modulus": 1.0, "interference": 0.1, "od": 1.0, "bore": 1.0, "socket_od": 2.0}),
    (pull.contact_pressure, {"modulus": 1.0, "interference": 0.1, "od": 1.0, "bore": 0.5, "socket_od": 1.0}),
    (bow.bow_gain, {"length": 2.0, "radius": 1.0}),
    (bow.sagitta, {"length": 2.0, "radius": 1.0}),
    (energy.air_energy, {"pressure": 1.0, "volume": 1.0, "gamma": 1.0}),
    (pressure.head, {"height": 1.0, "density": 1.0}),
    (pressure.pressure_at, {"gauge": 1.0, "gauge_height": math.nan, "height": 0.0, "density": 1000.0}),
    (ratings.rating, {"stress": 1.0, "od": 1.0, "wall": 0.5}),
    (ratings.derated, {"at_73F": 1.0, "factor": 1.1}),
    (content.wall_area, {"od": 1.0, "wall": 0.5}),
    (content.pipe_mass, {"od": 1.0, "wall": 0.6, "density": 1400.0}),
    (marks.depth_mark, {"depth": 0.1, "gap": 0.1}),
    (marks.straddle_angle, {"bolts": 1}),
    (marks.straddle_angle, {"bolts": 7.5}),
    (marks.wrap_curve, {"od": 0.1, "angle": 0.5, "points": 3}),
    (labour.joint_work, {"nps": 2.0}),
    (labour.joint_work_listed, {"nps": 14.0, "table": {12.0: 6480.0}}),
    (air_sums.dew_point, {"temperature": 20.0, "humidity": 0.5}),
    (air_sums.dew_point, {"temperature": 293.0, "humidity": 50.0}),
    (air_sums.relative_humidity, {"temperature": 290.0, "dew_point": 291.0}),
    (vapour.vapour_share,
     {"liquid": 1e-5, "space": 0.0, "density": 889.0, "molar_mass": 0.07, "temperature": 293.0}),
    (vapour.vapour_volume, {"liquid": 1e-5, "density": 889.0, "molar_mass": 72.0, "temperature": 293.0}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("call", "given"), OUTSIDE, ids=[f"{c.__name__}-{i}" for i, (c, _) in enumerate(OUTSIDE)]
)
def test_outside_is_refused_in_one_sentence(call: Any, given: dict[str, Any]) -> None:
    with pytest.raises(LineproofError) as caught:
        call(**given)
    error = caught.value
    assert error.allowed
    assert error.by
    assert error.next
    text = str(error)
    assert text.endswith(".")
    assert "\n" not in text


def test_the_error_names_value_limit_and_unit() -> None:
    with pytest.raises(OutsideTable) as caught:
        growth.length_change(length=-2.0, alpha=5e-5, dT_K=1.0)
    assert str(caught.value) == (
        "length = -2 m; allowed: 0 m or more (by the valid range of this sum); "
        "next: check the length and its unit."
    )


@pytest.mark.parametrize(
    ("call", "given"),
    [
        (offsets.advance, {"true": 0.0, "angle": SQUARE}),
        (takeout.take_out, {"centre_to_face": 0.1, "depth": 0.1}),
        (takeout.face_to_face, {"centre_to_centre": 0.5, "centre_to_face_a": 0.25, "centre_to_face_b": 0.25}),
        (taper.fraction_from_tolerance, {"u": 1.0, "v": -1.0}),
        (forces.end_load, {"pressure": 0.0, "od": 0.1}),
        (bond.cans_needed, {"joints": 0, "per_can": 3}),
        (diameters.out_of_round, {"largest": 0.2, "smallest": 0.2}),
        (energy.air_energy, {"pressure": 0.0, "volume": 1.0}),
    ],
)
def test_on_the_limit_is_allowed_and_is_nothing(call: Any, given: dict[str, Any]) -> None:
    assert call(**given) == pytest.approx(0.0, abs=1e-15)
