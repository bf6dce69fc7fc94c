"""Sets of slots as whole numbers: bit ``s`` is set where slot ``s`` is open. A month is one number."""

from __future__ import annotations

from collections.abc import Iterable

from lineproof.plan.days.model import NEVER, Ahead, Calendar, Task, Wait, Way


def mask_of(stretches: Iterable[tuple[int, int]]) -> int:
    """Set of all slots in some stretches.

    Parameters
    ----------
    stretches : iterable of (int, int)
        First slot and the first after.

    Returns
    -------
    int
    """
    mask = 0
    for first, after in stretches:
        if after > max(first, 0):
            mask |= (1 << after) - (1 << max(first, 0))
    return mask


def stretches_of(mask: int) -> tuple[tuple[int, int], ...]:
    """The stretches of a set, in order.

    Parameters
    ----------
    mask : int

    Returns
    -------
    tuple of (int, int)
    """
    found, at = [], 0
    while mask:
        skip = (mask & -mask).bit_length() - 1
        mask >>= skip
        run = (~mask & (mask + 1)).bit_length() - 1
        found.append((at + skip, at + skip + run))
        mask >>= run
        at += skip + run
    return tuple(found)


def starts_in(mask: int, busy: int) -> int:
    """Slots from which so many slots in a row are all in the set.

    Parameters
    ----------
    mask : int
    busy : int
        1 or more. [-]

    Returns
    -------
    int
    """
    covered = 1
    while covered < busy and mask:
        step = min(covered, busy - covered)
        mask &= mask >> step
        covered += step
    return mask


def spread(starts: int, busy: int) -> int:
    """All slots that something of this length may cover if it starts in the set; the other way round.

    Parameters
    ----------
    starts : int
    busy : int
        1 or more. [-]

    Returns
    -------
    int
    """
    covered = 1
    while covered < busy:
        step = min(covered, busy - covered)
        starts |= starts << step
        covered += step
    return starts


def first_from(mask: int, slot: int) -> int | None:
    """First slot of the set that is not before a slot; None if there is none."""
    rest = mask >> max(slot, 0)
    return None if not rest else max(slot, 0) + (rest & -rest).bit_length() - 1


class Board:
    """Allowed starts of every way and waits of every joint of some work, looked up once.

    Parameters
    ----------
    ahead : Ahead
    """

    def __init__(self, ahead: Ahead) -> None:
        self.ahead = ahead
        self.horizon = ahead.horizon
        self._open = {c.id: mask_of(c.stretches) for c in ahead.calendars.values()}
        self._from_now = ((1 << max(ahead.horizon, 0)) - 1) & ~((1 << max(ahead.now, 0)) - 1)
        self._told = {w.id: _told(w, ahead.horizon) for w in ahead.waits.values()}
        self._starts: dict[tuple[str, int, str, str], int] = {}

    def open(self, calendar: str) -> int:
        """Slots of a calendar from now on."""
        return self._open[calendar] & self._from_now

    def starts(self, way: Way, task: Task) -> int:
        """Slots in which a way may begin: all of it in one stretch, and both waits printed for its end."""
        key = (way.calendar, way.busy, task.hands_off, task.cured)
        found = self._starts.get(key)
        if found is None:
            told = self._told[task.hands_off] & self._told[task.cured]
            found = self._starts[key] = starts_in(self.open(way.calendar), way.busy) & (told >> way.busy)
        return found

    def trial_starts(self, calendar: str, busy: int) -> int:
        """Slots in which a test may begin."""
        return starts_in(self.open(calendar), busy)


def _told(wait: Wait, horizon: int) -> int:
    """Ends for which a wait is printed; an end on the horizon itself counts."""
    edges = [*(first for first, _ in wait.steps[1:]), horizon + 1]
    return mask_of(
        (first, after) for (first, slots), after in zip(wait.steps, edges, strict=True) if slots != NEVER
    )


def ends_where(wait: Wait, horizon: int) -> dict[int, int]:
    """For each length of a wait the ends that have it.

    Parameters
    ----------
    wait : Wait
    horizon : int
        Last slot. [-]

    Returns
    -------
    dict of int to int
        Slots to wait, to a set of ends.
    """
    edges = [*(first for first, _ in wait.steps[1:]), horizon + 1]
    found: dict[int, int] = {}
    for (first, slots), after in zip(wait.steps, edges, strict=True):
        if slots != NEVER:
            found[slots] = found.get(slots, 0) | mask_of([(first, min(after, horizon + 1))])
    return found


def calendar_of(id: str, mask: int) -> Calendar:
    """A calendar of a set of slots."""
    return Calendar(id, stretches_of(mask))
