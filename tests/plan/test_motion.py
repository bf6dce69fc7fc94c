"""What the cubes say by themselves: the table of cases, and planted ones. Nothing of the plan is asked."""

from __future__ import annotations

import pytest

from closing_cases import CASES, Case
from motion import Allowed, can_be_made, gets_away, turns


def test_no_repair_coupling_makes_a_straight_run_back_off() -> None:
    straight = next(c for c in CASES if c.name.startswith("repair coupling in a straight run"))
    assert not can_be_made(straight.line, Allowed(two_at_once=True, repair=True))


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_the_cubes_give_the_tables_answer(case: Case) -> None:
    assert can_be_made(case.line) is case.works
    if case.only_with is not None:
        assert can_be_made(case.line, case.only_with)


def test_a_rod_in_a_tube_leaves_along_its_axis_only() -> None:
    tube = {(0, y, z) for y in (-1, 0, 1) for z in (-1, 0, 1)} | {
        (x, y, z) for x in (1, 2) for y in (-1, 0, 1) for z in (-1, 0, 1) if (y, z) != (0, 0)
    }
    rod = {(x, 0, 0) for x in (1, 2)}
    path = gets_away(rod, tube)
    assert path is not None
    assert path[:3] == [(0, 0, 0), (1, 0, 0), (2, 0, 0)]
    assert gets_away(rod, tube | {(3, 0, 0)}) is None


def test_an_elbow_turns_in_the_open_and_not_in_a_corner() -> None:
    elbow = {(0, y, 0) for y in range(5)}
    assert turns(elbow, set(), (0, 0, 0), (1, 0, 0))
    assert not turns(elbow, {(0, 0, -3)}, (0, 0, 0), (1, 0, 0))


def test_two_at_once_is_not_taken_for_granted() -> None:
    side = next(c for c in CASES if c.only_with == Allowed(two_at_once=True))
    assert not can_be_made(side.line, Allowed(repair=True))
