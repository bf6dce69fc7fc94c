"""How much time has surely passed between two entries, when clocks may be wrong.

A joint is raised too early when a clock says that more time has passed than has. So time is credited only
where it cannot be too much: inside one start of a device the smaller of what its two clocks say; from one
start, or one device, to another only if both ends were set by a time server or a person confirmed the time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import pairwise

NONE = timedelta(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """When something was, as far as clocks say.

    Parameters
    ----------
    wall : datetime
        The wall clock, UTC; the confirmed time where a person has confirmed it.
    monotonic : Decimal
        Seconds since the device started. [s]
    boot : str
        Which start of which device; empty if not known.
    synchronised : str
        Whether a time server had set the wall clock: yes, no or unknown.
    confirmed : bool
        Whether a person has confirmed ``wall``.
    """

    wall: datetime
    monotonic: Decimal = Decimal(0)
    boot: str = ""
    synchronised: str = "unknown"
    confirmed: bool = False

    @property
    def trusted(self) -> bool:
        """Whether the wall clock may be held against that of another device."""
        return self.confirmed or self.synchronised == "yes"


def elapsed(start: Stamp, end: Stamp) -> timedelta | None:
    """Time that has surely passed from one stamp to another.

    Parameters
    ----------
    start, end : Stamp
        Of two entries, or of an entry and now.

    Returns
    -------
    timedelta or None
        Never below nothing. None: it cannot be told, because the two are of different starts or devices and
        one of their clocks was neither set by a time server nor confirmed.
    """
    wall = end.wall - start.wall
    if start.boot and start.boot == end.boot:
        ticks = timedelta(microseconds=int((end.monotonic - start.monotonic) * 1_000_000))
        return max(NONE, min(wall, ticks))
    if start.trusted and end.trusted:
        return max(NONE, wall)
    return None


def elapsed_at_most(start: Stamp, end: Stamp) -> timedelta | None:
    """The most time that can have passed from one stamp to another: how old an answer may be.

    Parameters
    ----------
    start, end : Stamp
        Of an entry and now.

    Returns
    -------
    timedelta or None
        Never below nothing. None: it cannot be told, as for ``elapsed``.
    """
    wall = end.wall - start.wall
    if start.boot and start.boot == end.boot:
        ticks = timedelta(microseconds=int((end.monotonic - start.monotonic) * 1_000_000))
        return max(NONE, wall, ticks)
    return max(NONE, wall) if start.trusted and end.trusted else None


def elapsed_along(stamps: Sequence[Stamp]) -> timedelta:
    """Time that has surely passed along one writer's chain, even if a start of the device cannot be bridged.

    Parameters
    ----------
    stamps : sequence of Stamp
        In the order of the chain, which is the order they were written in.

    Returns
    -------
    timedelta
        What the ends say if they can be told, otherwise the sum over the steps that can be.
    """
    if len(stamps) < 2:
        return NONE
    ends = elapsed(stamps[0], stamps[-1])
    if ends is not None:
        return ends
    parts = (elapsed(a, b) for a, b in pairwise(stamps))
    return sum((part for part in parts if part is not None), NONE)


def latest_plausible_start(starts: Iterable[Stamp], now: Stamp) -> Stamp | None:
    """The start from which the least time has surely passed: hold end, pullers off, last disturbance.

    Parameters
    ----------
    starts : iterable of Stamp
        All instants the clock could start from.
    now : Stamp
        The moment judged.

    Returns
    -------
    Stamp or None
        None if there is none, or if for one of them it cannot be told.
    """
    least: tuple[timedelta, Stamp] | None = None
    for start in starts:
        passed = elapsed(start, now)
        if passed is None:
            return None
        if least is None or passed < least[0] or (passed == least[0] and start.wall > least[1].wall):
            least = passed, start
    return least[1] if least else None


def earliest_plausible_now(now: Stamp, since: Stamp) -> datetime | None:
    """The earliest moment it can be now, told on the clock of an earlier stamp.

    Parameters
    ----------
    now : Stamp
        What the clocks say now.
    since : Stamp
        What happened before.

    Returns
    -------
    datetime or None
        ``since.wall`` and the time that has surely passed; None if it cannot be told.
    """
    passed = elapsed(since, now)
    return None if passed is None else since.wall + passed
