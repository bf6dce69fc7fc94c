"""The checker of a plan: every rule broken on purpose is found, and named by its rule."""

from dataclasses import replace

import pytest

from days_rig import BEGIN
from lineproof.plan.days.lay_out import lay_out
from lineproof.plan.days.model import (
    CURED,
    HANDS_OFF,
    NEVER,
    Ahead,
    Calendar,
    Days,
    Link,
    Past,
    Placed,
    Task,
    Trial,
    Wait,
    Way,
)
from lineproof.plan.days.search import Limits
from lineproof.plan.days.slots import Board
from lineproof.plan.days.tighten import close_up, idle_people
from lineproof.plan.days.verify import RULES, faults_of

QUICK = Limits(seconds=20.0, share=5.0)


def work() -> Ahead:
    """Two crews, a joint for both, one that waits for another's hands-off time, one made; two tests."""
    return Ahead(
        begin=BEGIN,
        horizon=100,
        calendars={
            "day": Calendar("day", ((10, 30), (40, 60), (70, 90))),
            "all": Calendar("all", ((0, 100),)),
        },
        waits={
            "set": Wait("set", ((0, 4), (50, 6))),
            "cure": Wait("cure", ((0, 12), (45, 20), (85, NEVER))),
        },
        tasks=(
            Task(id="J1", ways=(Way(("A",), 5, "day"), Way(("B",), 7, "day")), hands_off="set", cured="cure"),
            Task(id="J2", ways=(Way(("A", "B"), 6, "day"),), hands_off="set", cured="cure"),
            Task(
                id="J3", ways=(Way(("A",), 5, "day"),), hands_off="set", cured="cure",
                links=(Link("J1", HANDS_OFF), Link("J0", HANDS_OFF)),
            ),
            Task(
                id="J4", ways=(Way(("B",), 4, "day"),), hands_off="set", cured="cure",
                links=(Link("J2", CURED),),
            ),
        ),
        trials=(
            Trial(id="S1", joints=("J0", "J1", "J2"), busy=6, calendar="all", holds=("P",)),
            Trial(id="S2", joints=("J3", "J4"), busy=6, calendar="all", holds=("P",)),
        ),
        past={"J0": Past("J0", 2, 6, 12, 30)},
        people={"A": 3, "B": 2},
        now=8,
    )  # fmt: skip


def good() -> tuple[Ahead, Days]:
    ahead = work()
    days = lay_out(ahead, limits=QUICK, tries=20)
    assert isinstance(days, Days)
    assert faults_of(ahead, days) == ()
    return ahead, days


def with_joint(days: Days, joint: str, **to: object) -> Days:
    return replace(days, joints=tuple(replace(p, **to) if p.id == joint else p for p in days.joints))


def with_test(days: Days, section: str, **to: object) -> Days:
    return replace(days, tests=tuple(replace(p, **to) if p.id == section else p for p in days.tests))


def of(days: Days, joint: str) -> Placed:
    return next(p for p in (*days.joints, *days.tests) if p.id == joint)


def _broken() -> dict[str, tuple[Ahead, Days]]:
    ahead, days = good()
    j1, j2, j3 = of(days, "J1"), of(days, "J2"), of(days, "J3")
    s1 = of(days, "S1")
    no_row = replace(ahead, waits=ahead.waits | {"cure": Wait("cure", ((0, NEVER),))})
    never = replace(ahead, calendars=ahead.calendars | {"day": Calendar("day", ((10, j3.end - 1),))})
    return {
        "missing": (ahead, replace(days, joints=tuple(p for p in days.joints if p.id != "J4"))),
        "twice": (ahead, replace(days, joints=(*days.joints, j1))),
        "unknown": (ahead, replace(days, joints=(*days.joints, Placed("J9", 70, 75, ("A",))))),
        "again": (ahead, replace(days, joints=(*days.joints, Placed("J0", 70, 75, ("A",))))),
        "too early": (replace(ahead, now=j1.first + 1), days),
        "crew": (ahead, with_joint(days, "J2", holds=("A",))),
        "length": (ahead, with_joint(days, "J2", end=j2.end - 1)),
        "closed": (never, days),
        "busy": (ahead, with_joint(days, "J3", first=j2.first, end=j2.first + 5)),
        "order": (ahead, with_joint(days, "J3", first=j1.end + 3, end=j1.end + 8)),
        "no wait": (no_row, days),
        "not cured": (ahead, with_test(days, "S1", first=s1.first - 1, end=s1.end - 1)),
        "pump": (ahead, with_test(days, "S2", holds=("Q",))),
        "finish": (ahead, replace(days, finish=days.finish - 1)),
        "bound": (ahead, replace(days, bound=days.finish + 1)),
        "beyond": (replace(ahead, horizon=days.finish - 1), days),
    }


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_broken_on_purpose_is_found(rule):
    ahead, days = _broken()[rule]
    assert rule in {f.rule for f in faults_of(ahead, days)}


def test_every_rule_has_its_broken_plan():
    assert set(_broken()) == set(RULES)


def test_two_tests_at_one_pump_at_once_are_found():
    ahead, days = good()
    s1 = of(days, "S1")
    both = with_test(days, "S2", first=s1.first, end=s1.end)
    assert "busy" in {f.rule for f in faults_of(ahead, both)}


def test_a_joint_over_the_noon_break_is_found_at_the_slot_that_is_closed():
    ahead, days = good()
    moved = with_joint(days, "J4", first=58, end=62)
    assert [f.at for f in faults_of(ahead, moved) if f.rule == "closed"] == [60]


def test_a_wait_that_one_crew_would_meet_and_the_other_would_not():
    ahead, days = good()
    j1 = of(days, "J1")
    # crew B needs 7 slots: the same first slot with A's 5 is no way of B
    assert {f.rule for f in faults_of(ahead, with_joint(days, "J1", holds=("B",), end=j1.first + 5))} >= {
        "length"
    }


def test_gaps_are_closed_up_and_nothing_after_moves():
    ahead, _ = good()
    # J1 at once, then nothing until J3, on one day: J1 may as well begin later
    loose = Days(
        joints=(
            Placed("J1", 10, 15, ("A",)),
            Placed("J3", 24, 29, ("A",)),
            Placed("J2", 40, 46, ("A", "B")),
            Placed("J4", 70, 74, ("B",)),
        ),
        tests=(Placed("S1", 66, 72, ("P",)), Placed("S2", 94, 100, ("P",))),
        finish=100,
    )
    assert faults_of(ahead, loose) == ()
    tight = close_up(ahead, Board(ahead), loose)
    assert faults_of(ahead, tight) == ()
    # J3 ends at the break; J1 so that its hands-off time of 4 slots ends when J3 begins
    assert (of(tight, "J3").end, of(tight, "J1").first) == (30, 30 - 5 - 4 - 5)
    assert tight.tests == loose.tests
    assert tight.finish == loose.finish
    assert idle_people(ahead, loose) - idle_people(ahead, tight) == (16 - 10) * 300.0 * 3


def test_the_same_work_and_seed_give_the_same_plan():
    ahead = work()
    one, other = (lay_out(ahead, seed=7, limits=QUICK, tries=30) for _ in range(2))
    assert one == other
