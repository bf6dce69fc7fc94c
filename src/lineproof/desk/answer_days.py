"""What ``lineproof days --json`` prints; docs/schemas/days.json is written from this."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from lineproof.plan.days.differences import Difference


@dataclass(frozen=True, slots=True, kw_only=True)
class DayJoint:
    """A joint with its hours.

    Parameters
    ----------
    id, line, size : str
    first, end : datetime
        From when to when it is made, hold among it.
    who : tuple of str
        Crews, and people that crews share.
    hands_off_until : datetime
        By the card, for the coldest it is expected to meet.
    cured : datetime or None
        When its section could be tested as far as this joint goes; None if that cannot be told.
    bench : bool
        Made on the bench.
    """

    id: str
    line: str
    size: str
    first: datetime
    end: datetime
    who: tuple[str, ...]
    hands_off_until: datetime
    cured: datetime | None
    bench: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTest:
    """A test with its hours and its pump."""

    section: str
    first: datetime
    end: datetime
    pump: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLeftOut:
    """A joint that is not planned, and why: a code, and what it is about."""

    id: str
    why: str
    about: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayUndated:
    """A section whose test has no date, and the joints whose cure time cannot be told."""

    section: str
    joints: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayHeld:
    """What holds the finish up: something waits for something else, the last first.

    Parameters
    ----------
    id : str
    first : datetime
        When it begins.
    by : str
        ``"cured"``, ``"hands off"``, ``"made"``, ``"crew"``, ``"pump"``, ``"hours"``.
    other : str
        What it waits for.
    """

    id: str
    first: datetime
    by: str
    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLimit:
    """A limit without which there would be hours, and when the first of them would be."""

    limit: str
    first: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class DayNone:
    """Why there is no plan.

    Parameters
    ----------
    why : str
        ``"no hours"``, ``"no test hours"``, ``"too late"``, ``"not found"``.
    ids : tuple of str
        Joints or sections.
    limits : tuple of DayLimit
        Of the first of them, each of which alone keeps it from having hours.
    until : datetime
        How far the calendars were looked at.
    """

    why: str
    ids: tuple[str, ...]
    limits: tuple[DayLimit, ...]
    until: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTried:
    """The same work with something changed.

    Parameters
    ----------
    what : str
        As it was asked.
    finish, bound : datetime or None
        None where there is no plan with it.
    differences : tuple of Difference
        From the plan as it stands to this one.
    none : DayNone or None
    """

    what: str
    finish: datetime | None
    bound: datetime | None
    differences: tuple[Difference, ...]
    none: DayNone | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysAnswer:
    """The days of a job.

    Parameters
    ----------
    job : str
    invented : bool
    finish : datetime or None
        When the last test is accepted, or the last joint has cured where no test has a date.
    bound : datetime or None
        No plan finishes earlier.
    gap : float or None
        From the bound to the finish, as a share of the time from the first day on. [1]
    how : str
        ``"proved"``, ``"share"`` (the search ended by its share of work), ``"clock"`` (by the time limit).
    idle_person_s : float
        People between two joints of a day, all together. [s]
    order_by : str
        ``"steps"``: a replayed order; ``"walked"``: the order of the walk.
    joints : tuple of DayJoint
    tests : tuple of DayTest
    left_out : tuple of DayLeftOut
    undated : tuple of DayUndated
    no_testing : bool
        job.toml does not say what tests need.
    told_until : datetime or None
        weather.csv speaks of the hours before; None if it says nothing.
    holds : tuple of DayHeld
    since_last : tuple of Difference
        What moved since the plan that was written last.
    tried : DayTried or None
    none : DayNone or None
    """

    job: str
    invented: bool
    finish: datetime | None
    bound: datetime | None
    gap: float | None
    how: str
    idle_person_s: float
    order_by: str
    joints: tuple[DayJoint, ...]
    tests: tuple[DayTest, ...]
    left_out: tuple[DayLeftOut, ...]
    undated: tuple[DayUndated, ...]
    no_testing: bool
    told_until: datetime | None
    holds: tuple[DayHeld, ...]
    since_last: tuple[Difference, ...] = ()
    tried: DayTried | None = None
    none: DayNone | None = None
