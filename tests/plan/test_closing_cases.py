"""The table of cases and the planted ones: the plan's answer, the cubes' answer, and every order replayed."""

from __future__ import annotations

from itertools import combinations

import pytest

from closing_cases import CASES, Case
from closing_rig import rig_from
from lineproof.plan.sequence.build import Built, build
from lineproof.plan.sequence.rig import How, Rig
from lineproof.plan.sequence.verify import faults
from motion import Allowed, can_be_made, replays


def pairs(rig: Rig) -> frozenset[frozenset[int]]:
    wet = [n for n, t in enumerate(rig.ties) if t.how is How.CEMENTED]
    return frozenset(frozenset(p) for p in combinations(wet, 2))


def told(built: Built) -> list[tuple[frozenset[str], frozenset[str]]]:
    """Steps as whole groups, from the bodies each one meets."""
    groups: dict[str, frozenset[str]] = {}
    found = []
    for s in built.steps:
        to = groups.get(min(s.to), frozenset((min(s.to),)))
        found.append((s.moved, to))
        both = s.moved | to
        groups.update(dict.fromkeys(both, both))
    return found


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_the_plan_agrees_with_the_table(case: Case) -> None:
    rig = rig_from(case.line)
    built = build(rig)
    assert built.works is case.works, (built.stuck, built.blocked)
    if built.works:
        assert faults(rig, built.steps) == []
        assert replays(case.line, told(built), Allowed())


@pytest.mark.parametrize("case", [c for c in CASES if c.only_with], ids=lambda c: c.name)
def test_what_has_to_be_allowed_is_what_opens_it(case: Case) -> None:
    allowed = case.only_with
    assert allowed is not None
    rig = rig_from(case.line, repair=allowed.repair)
    twice = pairs(rig) if allowed.two_at_once else frozenset()
    built = build(rig, side_by_side=twice)
    assert built.works
    assert faults(rig, built.steps, twice) == []
    assert can_be_made(case.line, allowed)
    if allowed.two_at_once:
        assert faults(rig, built.steps) != []  # the checker does not let it pass untold
        assert replays(case.line, told(built), allowed)
        assert not replays(case.line, told(built), Allowed())
