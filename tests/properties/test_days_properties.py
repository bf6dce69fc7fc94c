"""What holds for any work: more crews are never later, colder or lost hours never earlier, at the bound."""

from dataclasses import replace

import pytest

from days_rig import tiny
from lineproof.plan.days.bound import Bound
from lineproof.plan.days.model import NEVER, Ahead, Calendar, Wait, Way
from lineproof.plan.days.slots import (
    Board,
    first_from,
    mask_of,
    spread,
    starts_in,
    stretches_of,
)


def bound(ahead: Ahead) -> float:
    found = Bound(ahead, Board(ahead)).slot()
    return float("inf") if found is None else found


def more_crews(ahead: Ahead) -> Ahead:
    """What a crew may do alone the new one may as well; what two do, the new one may with either."""
    tasks = []
    for t in ahead.tasks:
        new = tuple(
            Way(tuple(dict.fromkeys(("NEW" if k == w.holds[-1] else k) for k in w.holds)), w.busy, w.calendar)
            for w in t.ways
        )
        tasks.append(replace(t, ways=(*t.ways, *new)))
    return replace(ahead, tasks=tuple(tasks))


def colder(ahead: Ahead) -> Ahead:
    """Every wait longer, and where nothing is printed still nothing."""
    waits = {
        name: Wait(name, tuple((at, slots if slots == NEVER else slots + 2) for at, slots in w.steps))
        for name, w in ahead.waits.items()
    }
    return replace(ahead, waits=waits)


def lost_hours(ahead: Ahead) -> Ahead:
    gone = mask_of([(5, 9)])
    return replace(
        ahead,
        calendars={
            n: Calendar(n, stretches_of(mask_of(c.stretches) & ~gone)) for n, c in ahead.calendars.items()
        },
    )


@pytest.mark.parametrize("seed", range(1000, 1040))
def test_the_bound_follows_what_is_tried(seed):
    ahead = tiny(seed)
    stands = bound(ahead)
    assert bound(more_crews(ahead)) <= stands
    assert bound(colder(ahead)) >= stands
    assert bound(lost_hours(ahead)) >= stands


@pytest.mark.parametrize("seed", range(40))
def test_sets_of_slots_agree_with_slots_counted_one_by_one(seed):
    calendar = tiny(seed).calendars["C0"]
    mask = mask_of(calendar.stretches)
    slots = {s for a, b in calendar.stretches for s in range(a, b)}
    assert stretches_of(mask) == calendar.stretches
    for busy in (1, 2, 3, 5):
        starts = {s for s in range(40) if all(s + n in slots for n in range(busy))}
        found = starts_in(mask, busy)
        assert {s for s in range(40) if found >> s & 1} == starts
        assert {s for s in range(40) if spread(found, busy) >> s & 1} == {
            s + n for s in starts for n in range(busy)
        }
        for at in (0, 7, 19):
            assert first_from(found, at) == min((s for s in starts if s >= at), default=None)
