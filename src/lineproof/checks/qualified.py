"""Whether a joiner is qualified on a day, by a profile: what lapses, what ends it, what keeps it."""

from __future__ import annotations

from bisect import bisect_left
from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from lineproof.book.bonders import Profile, piece_covers, profile
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading
from lineproof.job.people import Qualification, within

UNKNOWN = ("no_day", "not_confirmed", "no_expiry", "no_size_rule")
"""States that cannot be told, the nearest to qualified first."""
REFUSED = (
    "failed", "lapsed", "expired", "not_yet", "test_size", "size", "procedure", "steps", "scheme", "material",
    "none",
)  # fmt: skip
"""States that say no, the nearest to qualified first."""
_NEAREST = ("", *UNKNOWN, *REFUSED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a joiner must be qualified for.

    Parameters
    ----------
    material : str
    steps : str
        ``"two-step"``, ``"one-step"``; empty if no procedure says.
    smallest, largest : Size
        Of the joints.
    procedure : str
        Id; empty if none.
    day : date or None
        First day of joining.
    """

    material: str
    steps: str
    smallest: Size
    largest: Size
    procedure: str = ""
    day: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What is recorded of a joiner's joints of one material and steps.

    Parameters
    ----------
    days : tuple of date
        Days on which joints were made, in order, each once.
    joints : tuple of date
        The day of every joint, in order.
    failed : tuple of date
        Days on which a joint was found bad, in order.
    """

    days: tuple[date, ...] = ()
    joints: tuple[date, ...] = ()
    failed: tuple[date, ...] = ()


NO_WORK = Worked()


def months_later(day: date, months: int) -> date:
    """The same day of the month so many months later; the month's last day where it has no such day.

    Parameters
    ----------
    day : date
        The day.
    months : int
        How many, 0 or more. [-]

    Returns
    -------
    date
        The later day.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def standing(
    qualifications: Sequence[Qualification],
    need: Need,
    day: date | None,
    scheme: str,
    book: Book,
    reading: Reading,
    *,
    worked: Worked = NO_WORK,
    bound: bool = False,
) -> str:
    """Why nobody with these qualifications may make a joint on a day; empty if they may.

    Parameters
    ----------
    qualifications : sequence of Qualification
    need : Need
        Its own day does not count.
    day : date or None
    scheme : str
        Profile of the job; a qualification may name its own.
    book : Book
    reading : Reading
        The log of what is read.
    worked : Worked
        What is recorded of the joiner.
    bound : bool
        The job binds every qualification to its profile.

    Returns
    -------
    str
        The nearest miss, one of ``UNKNOWN`` or ``REFUSED``.
    """
    best, log = "none", Reading()
    for q in qualifications:
        own = Reading()
        found = _one(q, need, day, scheme, book, own, worked, bound)
        if _NEAREST.index(found) < _NEAREST.index(best):
            best, log = found, own
    reading.add(log.as_tuple())
    return best


def _one(
    q: Qualification, need: Need, day: date | None, scheme: str, book: Book, log: Reading, worked: Worked,
    bound: bool,
) -> str:  # fmt: skip
    if q.material != need.material:
        return "material"
    if bound and q.scheme and q.scheme != scheme:
        return "scheme"
    if need.steps and q.steps != need.steps:
        return "steps"
    if need.procedure and q.procedure and q.procedure != need.procedure:
        return "procedure"
    if not (within(need.smallest, q.size_lo, q.size_hi) and within(need.largest, q.size_lo, q.size_hi)):
        return "size"
    rules = profile(book, q.scheme or scheme, log)
    if q.test_size is not None:
        covers = piece_covers(book, rules.scheme, q.test_size, need.largest, log)
        if not covers:
            return "no_size_rule" if covers is None else "test_size"
    if day is None:
        return "no_day"
    if q.tested_on is not None and q.tested_on > day:
        return "not_yet"
    states = [_idle(q, rules, day, worked), _dated(q, rules, day), _failed(q, rules, day, worked)]
    if rules.confirm is not None:
        states.append(_confirmed(q, rules.confirm, day))
    if not rules.dated and q.expires is None:
        states.append("no_expiry")
    return max(states, key=_NEAREST.index)


def _idle(q: Qualification, rules: Profile, day: date, worked: Worked) -> str:
    """Whether the process was used often enough: by the days on the list, then by recorded joints."""
    if rules.idle is None:
        return ""
    kept = max((d for d in (q.tested_on, q.last_used_on) if d is not None and d <= day), default=None)
    if kept is None:
        return "no_day"
    first, last = bisect_left(worked.days, kept), bisect_left(worked.days, day)
    breaks = _breaks(worked.days, rules.idle) if last - first > 1 else ()
    at = bisect_left(breaks, first + 1)
    steps = [(kept, day)]
    if first < last:
        steps = [(kept, worked.days[first]), (worked.days[last - 1], day)]
    lapsed = any(use > months_later(before, rules.idle) for before, use in steps)
    if lapsed or (at < len(breaks) and breaks[at] < last):
        # A later day of use on the list does not say what was before it.
        later = q.last_used_on is not None and q.last_used_on > day
        return "no_day" if later else "lapsed"
    return ""


@lru_cache(maxsize=256)
def _breaks(days: tuple[date, ...], idle: int) -> tuple[int, ...]:
    """Places of the days that lie further than so many months after the day before them."""
    return tuple(n for n in range(1, len(days)) if days[n] > months_later(days[n - 1], idle))


def _dated(q: Qualification, rules: Profile, day: date) -> str:
    """Whether its last day is over, by the profile or by its own document."""
    if q.expires is not None and day > q.expires:
        return "expired"
    if rules.apart is None and rules.validity is None and not rules.calendar_year:
        return ""
    if q.tested_on is None:
        return "no_day"
    last = last_by_test(q.tested_on, rules)
    return "expired" if last is not None and day > last else ""


def last_by_test(tested: date, rules: Profile) -> date | None:
    """The last day that a test is good for, by what a profile says of tests; None if it says nothing.

    Parameters
    ----------
    tested : date
    rules : Profile

    Returns
    -------
    date or None
    """
    ends = [months_later(tested, m) for m in (rules.apart, rules.validity) if m is not None]
    if rules.calendar_year:
        ends.append(date(tested.year + 1, 12, 31))
    return min(ends, default=None)


def _confirmed(q: Qualification, every: int, day: date) -> str:
    told = max((d for d in (q.tested_on, q.confirmed_on) if d is not None and d <= day), default=None)
    return "" if told is not None and day <= months_later(told, every) else "not_confirmed"


def _failed(q: Qualification, rules: Profile, day: date, worked: Worked) -> str:
    """Whether failed joints since the test, before that day, end it."""
    if not rules.failed:
        return ""
    since = q.tested_on or date.min
    bad = sum(since <= d <= day for d in worked.failed)
    if rules.failed == "any":
        return "failed" if bad else ""
    made = bisect_left(worked.joints, day) - bisect_left(worked.joints, since)
    least = max(rules.failed_count or 1, (rules.failed_share or 0.0) * made)
    return "failed" if bad >= least else ""


def good_until(q: Qualification, rules: Profile, worked: Worked = NO_WORK) -> date | None:
    """The last day a qualification holds if nothing is done about it; None if nothing says.

    Parameters
    ----------
    q : Qualification
    rules : Profile
    worked : Worked

    Returns
    -------
    date or None
    """
    ends = [] if q.expires is None else [q.expires]
    if q.tested_on is not None:
        by_test = last_by_test(q.tested_on, rules)
        ends += [] if by_test is None else [by_test]
    if rules.idle is not None:
        used = [d for d in (q.tested_on, q.last_used_on, *worked.days[-1:]) if d is not None]
        ends += [months_later(max(used), rules.idle)] if used else []
    if rules.confirm is not None:
        told = [d for d in (q.tested_on, q.confirmed_on) if d is not None]
        ends += [months_later(max(told), rules.confirm)] if told else []
    return min(ends, default=None)
