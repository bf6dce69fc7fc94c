"""The work that lies ahead, as plain values: joints, who may make them and when, what waits for what, tests.

Time counts in slots of five minutes from one instant, so that a day with a clock change needs no rule of
its own. Nothing here knows a solver, a folder or the weather: what those leave open is a *calendar*, and what
a cement card prints is a *wait* by the slot in which a joint is finished.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

SLOT = 300.0
"""Length of a slot. [s]"""
MADE, HANDS_OFF, CURED = WAITS = ("made", "hands off", "cured")
"""What has to be over: the making, the wait without handling, the cure to test pressure."""
NEVER = -1
"""A wait where the card prints nothing: such a finish is not allowed."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """Slots in which something may go on.

    Parameters
    ----------
    id : str
    stretches : tuple of (int, int)
        First slot and the first one after, in order, not touching.
    """

    id: str
    stretches: tuple[tuple[int, int], ...]

    def holds(self, first: int, after: int) -> bool:
        """Whether everything from a slot up to another lies in one stretch."""
        at = bisect_right(self.stretches, (first, 1 << 60)) - 1
        return at >= 0 and self.stretches[at][0] <= first and after <= self.stretches[at][1]


@dataclass(frozen=True, slots=True)
class Wait:
    """Waits after a joint is finished, by the slot in which it is.

    Parameters
    ----------
    id : str
    steps : tuple of (int, int)
        From which slot on, and how many slots; in order, the first from slot 0. ``NEVER`` where nothing is
        printed.
    """

    id: str
    steps: tuple[tuple[int, int], ...]

    def after(self, end: int) -> int | None:
        """Slots to wait after a finish; None where nothing is printed."""
        found = self.steps[bisect_right(self.steps, (end, 1 << 60)) - 1][1]
        return None if found == NEVER else found


@dataclass(frozen=True, slots=True)
class Way:
    """One way to make a joint.

    Parameters
    ----------
    holds : tuple of str
        Crews, and people that crews share, who are busy all the while.
    busy : int
        Slots.
    calendar : str
        When they may make it: shift, qualification, cement, weather.
    """

    holds: tuple[str, ...]
    busy: int
    calendar: str


@dataclass(frozen=True, slots=True)
class Link:
    """What must be over before a joint is begun.

    Parameters
    ----------
    before : str
        Id of the joint that comes before.
    over : str
        One of ``WAITS``.
    """

    before: str
    over: str = MADE


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One joint to make.

    Parameters
    ----------
    id : str
    ways : tuple of Way
        Any of them will do.
    hands_off, cured : str
        Ids of its waits.
    links : tuple of Link
    group : str
        What it is like, such as its size: for the screen only.
    place : str
        Line it belongs to: for the screen only.
    bench : bool
        Made on the bench.
    """

    id: str
    ways: tuple[Way, ...]
    hands_off: str
    cured: str
    links: tuple[Link, ...] = ()
    group: str = ""
    place: str = ""
    bench: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One pressure test of a section.

    Parameters
    ----------
    id : str
        The section.
    joints : tuple of str
        Those that must have cured.
    busy : int
        Slots, fill and hold together.
    calendar : str
        When pump, witness and the person in charge are there.
    holds : tuple of str
        Pumps, any one of which will do; empty where none is needed.
    """

    id: str
    joints: tuple[str, ...]
    busy: int
    calendar: str
    holds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Past:
    """A joint that is made already, or a test that is accepted.

    Parameters
    ----------
    id : str
    first, end : int
        Slots; before the first slot of the plan they are negative.
    over : int
        Slot from which hands-off time is over.
    cured : int
        Slot from which it may be tested; for a test its end.
    """

    id: str
    first: int
    end: int
    over: int
    cured: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """All the work that lies ahead.

    Parameters
    ----------
    begin : datetime
        Instant of slot 0.
    now : int
        Nothing is planned to begin before this slot.
    horizon : int
        The calendars end here.
    calendars, waits : mapping
        By id.
    tasks : tuple of Task
        In an order that respects their links.
    trials : tuple of Trial
    past : mapping
        What is done, by id.
    people : mapping
        Crew, or person that crews share, to how many people that is.
    """

    begin: datetime
    horizon: int
    calendars: Mapping[str, Calendar]
    waits: Mapping[str, Wait]
    tasks: tuple[Task, ...]
    trials: tuple[Trial, ...] = ()
    past: Mapping[str, Past] = field(default_factory=dict)
    people: Mapping[str, int] = field(default_factory=dict)
    now: int = 0

    @property
    def far(self) -> int:
        """The latest finish there can be: a cure may end after the calendars do, a test may not."""
        return self.horizon + max((slots for w in self.waits.values() for _, slots in w.steps), default=0)

    def task(self, id: str) -> Task | None:
        """The joint with this id, None if it is not ahead."""
        return next((t for t in self.tasks if t.id == id), None)

    def at(self, slot: int) -> datetime:
        """The instant a slot begins, UTC."""
        return self.begin.astimezone(UTC) + timedelta(seconds=slot * SLOT)

    def slot_of(self, moment: datetime, *, up: bool = False) -> int:
        """The slot a moment lies in, or the first that begins no earlier."""
        seconds = (moment - self.begin).total_seconds()
        return int(-(-seconds // SLOT)) if up else int(seconds // SLOT)


@dataclass(frozen=True, slots=True)
class Placed:
    """A joint or a test with its hours and who is busy with it.

    Parameters
    ----------
    id : str
    first, end : int
        First slot, and the first one after.
    holds : tuple of str
    """

    id: str
    first: int
    end: int
    holds: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """A plan.

    Parameters
    ----------
    joints, tests : tuple of Placed
        In order of time, then of id.
    finish : int
        Slot in which the last test is accepted, or the last joint outside of any section has cured.
    bound : int
        No plan can finish earlier.
    how : str
        Why the search ended: ``"proved"``, ``"share"`` (its share of work was used up) or ``"clock"`` (the
        time limit was hit: another run may end elsewhere).
    """

    joints: tuple[Placed, ...]
    tests: tuple[Placed, ...]
    finish: int
    bound: int = 0
    how: str = ""

    @property
    def gap(self) -> float:
        """How much later than the bound it finishes, as a share of the finish. [1]"""
        return 0.0 if self.finish <= self.bound else (self.finish - self.bound) / self.finish


def in_order(placed: Iterable[Placed]) -> tuple[Placed, ...]:
    """In order of time, then of id."""
    return tuple(sorted(placed, key=lambda p: (p.first, p.end, p.id)))
