"""Rounding to a step and along a run; the running sums are worked by hand."""

from __future__ import annotations

import math

import pytest

from lineproof.floor.errors import BadInput, OutsideTable
from lineproof.floor.rounding import round_run, steps, to_step

SIXTEENTH = 0.0254 / 16


@pytest.mark.parametrize(
    ("value", "step", "count"),
    [
        (0.0, 1.0, 0),
        (0.49, 1.0, 0),
        (0.5, 1.0, 1),
        (1.5, 1.0, 2),
        (2.5, 1.0, 3),  # not to the even neighbour
        (-0.5, 1.0, 0),  # up
        (-2.5, 1.0, -2),
        (-2.51, 1.0, -3),
        (0.15, 0.1, 2),  # 0.15/0.1 is 1.4999999999999998 in floats: the half still goes up
        (0.35, 0.1, 4),
        (1e-300, 1.0, 0),
        (3.8227, SIXTEENTH, 2408),  # 150 1/2 in = 2408 sixteenths
    ],
)
def test_a_half_goes_up_whatever_the_float_says(value: float, step: float, count: int) -> None:
    assert steps(value, step) == count
    assert to_step(value, step) == count * step


@pytest.mark.parametrize("step", [0.0, -1.0, math.nan, math.inf])
def test_a_step_that_is_none_is_refused(step: float) -> None:
    with pytest.raises(OutsideTable):
        steps(1.0, step)
    with pytest.raises(OutsideTable):
        round_run([1.0], step)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_not_rounded(value: float) -> None:
    with pytest.raises(OutsideTable):
        to_step(value, 1.0)
    with pytest.raises(OutsideTable):
        round_run([1.0, value], 1.0)


def test_a_run_carries_its_residue() -> None:
    # sums 1.3, 2.6, 3.9, 5.2, 6.5 round to 1, 3, 4, 5, 7; each by itself would give 5 x 1
    assert round_run([1.3] * 5, 1.0) == [1.0, 2.0, 1.0, 1.0, 2.0]


def test_thirty_equal_pieces_do_not_grow_the_run() -> None:
    """30 pieces of 10 1/32 in: each rounded up by itself is 15/16 in too long together."""
    piece = 10.03125 * 0.0254
    alone = sum(to_step(piece, SIXTEENTH) for _ in range(30))
    run = round_run([piece] * 30, SIXTEENTH)
    assert math.isclose(alone - 30 * piece, 15 / 16 * 0.0254, rel_tol=1e-9)
    assert abs(sum(run) - 30 * piece) < 1e-12
    assert {steps(length, SIXTEENTH) for length in run} == {160, 161}


def test_the_carry_restarts_where_it_is_told() -> None:
    lengths = [1.4, 1.4, 1.4, 1.4]
    assert round_run(lengths, 1.0) == [1.0, 2.0, 1.0, 2.0]
    assert round_run(lengths, 1.0, restart=[True, False, True, False]) == [1.0, 2.0, 1.0, 2.0]
    assert round_run(lengths, 1.0, restart=[False, True, False, False]) == [1.0, 1.0, 2.0, 1.0]
    assert round_run(lengths, 1.0, restart=[True] * 4) == [1.0] * 4


def test_repeated_spools_come_out_alike() -> None:
    spool = [2.3, 0.7, 4.4]
    rounded = round_run(spool * 5, 0.5, restart=[True, False, False] * 5)
    assert rounded == rounded[:3] * 5


def test_an_empty_run_is_empty() -> None:
    assert round_run([], 1.0) == []
    assert round_run([], 1.0, restart=[]) == []


def test_a_restart_for_each_length_or_none() -> None:
    with pytest.raises(BadInput, match="1 restart marks for 2 lengths"):
        round_run([1.0, 2.0], 1.0, restart=[True])


def test_a_long_run_loses_no_digits() -> None:
    """Ten thousand tenths are a thousand; a plain running sum of floats is off by 1.6e-10 there."""
    run = round_run([0.1] * 10_000, 0.3)
    assert steps(sum(run), 0.3) == steps(1000.0, 0.3)
    assert abs(math.fsum(run) - 1000.0) <= 0.15 * (1 + 1e-9)
