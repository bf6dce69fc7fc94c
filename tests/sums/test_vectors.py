"""Vectors against NumPy arrays and known turns."""

from __future__ import annotations

import math

import numpy as np
import pytest

from lineproof.floor.errors import OutsideTable
from lineproof.sums import vectors as v

A, B = (1.0, -2.0, 3.5), (0.25, 4.0, -1.0)


def test_products_and_length_as_numpy_gives_them() -> None:
    a, b = np.array(A), np.array(B)
    assert v.add(A, B) == pytest.approx(a + b)
    assert v.sub(A, B) == pytest.approx(a - b)
    assert v.scale(A, -3.0) == pytest.approx(-3 * a)
    assert v.along(A, B, 2.0) == pytest.approx(a + 2 * b)
    assert v.dot(A, B) == pytest.approx(float(a @ b))
    assert v.cross(A, B) == pytest.approx(np.cross(a, b))
    assert v.norm(A) == pytest.approx(float(np.linalg.norm(a)))
    assert v.distance(A, B) == pytest.approx(float(np.linalg.norm(a - b)))
    assert v.unit(A) == pytest.approx(a / np.linalg.norm(a))


def test_east_north_up_is_right_handed() -> None:
    assert v.cross(v.EAST, v.NORTH) == v.UP
    assert v.rotate_about(v.EAST, v.UP, math.pi / 2) == pytest.approx(v.NORTH, abs=1e-15)


def test_a_turn_keeps_length_and_axis_and_a_full_turn_comes_back() -> None:
    axis = (1.0, 1.0, 1.0)
    third = v.rotate_about(v.EAST, axis, 2 * math.pi / 3)
    assert third == pytest.approx(v.NORTH, abs=1e-15)  # exact: the three axes change places
    assert v.rotate_about(axis, axis, 1.234) == pytest.approx(axis)
    assert v.rotate_about(A, B, 2 * math.pi) == pytest.approx(A)


@pytest.mark.parametrize("tiny", [1e-3, 1e-6, 1e-9])
def test_small_angles_are_not_lost(tiny: float) -> None:
    """An arc cosine would give 0 below 1e-8."""
    assert v.angle_between(v.EAST, (math.cos(tiny), math.sin(tiny), 0.0)) == pytest.approx(tiny, rel=1e-6)


def test_opposite_directions_are_half_a_turn_apart() -> None:
    assert v.angle_between(A, v.scale(A, -2.0)) == pytest.approx(math.pi)


def test_top_line_of_a_sloped_pipe_is_square_to_it() -> None:
    pipe = (0.0, 3.0, -1.0)
    top = v.across(pipe, v.UP)
    assert v.dot(top, pipe) == pytest.approx(0.0, abs=1e-15)
    assert top[2] > 0.9


@pytest.mark.parametrize("bad", [v.ZERO, (math.nan, 0.0, 1.0), (math.inf, 0.0, 0.0)])
def test_no_direction_without_length(bad: v.Vector) -> None:
    with pytest.raises(OutsideTable):
        v.unit(bad)


def test_up_says_nothing_about_the_top_of_a_riser() -> None:
    with pytest.raises(OutsideTable, match="north"):
        v.across(v.UP, v.UP)
