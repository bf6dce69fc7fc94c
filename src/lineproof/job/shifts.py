"""When people work: shifts by clock and weekday, days off, and what tests need."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from typing import Annotated, Any

from lineproof.floor.errors import BadInput
from lineproof.job.toml_words import Count, Day, Read, Time, shorten, text

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MIDNIGHT = 86400.0


def _clock(raw: Any) -> float:
    """A time of day, such as ``"07:30"``; ``"24:00"`` is the end of the day. [s]"""
    found = re.fullmatch(r"(\d{1,2}):(\d{2})", text(raw))
    seconds = (int(found[1]) * 60 + int(found[2])) * 60 if found else -1
    if found is None or int(found[2]) > 59 or seconds > MIDNIGHT:
        raise BadInput(
            f"{shorten(str(raw))} is no time of day", allowed='hours and minutes in quotes, such as "07:30"'
        )
    return float(seconds)


def _weekdays(raw: Any) -> tuple[int, ...]:
    """Days of the week: ``"mon-fri"``, ``"mon tue sat"``, ``"all"``."""
    found: set[int] = set()
    for word in text(raw).lower().replace(",", " ").split():
        first, _, last = word.partition("-")
        names = ("mon", "sun") if word == "all" else (first, last or first)
        if any(n not in WEEKDAYS for n in names):
            raise BadInput(
                f"{shorten(str(raw))} are no days of the week",
                allowed='"mon-fri", "mon wed sat" or "all": ' + " ".join(WEEKDAYS),
            )
        a, b = (WEEKDAYS.index(n) for n in names)
        found |= {n % 7 for n in range(a, b + 1 if b >= a else b + 8)}
    if not found:
        raise BadInput("no day of the week is named", allowed='"mon-fri", "mon wed sat" or "all"')
    return tuple(sorted(found))


Clock = Annotated[float, Read(_clock)]
Weekdays = Annotated[tuple[int, ...], Read(_weekdays)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Hours of work.

    Parameters
    ----------
    begins, ends : float
        From midnight on the site's clock; a shift that ends before it begins goes over midnight. [s]
    weekdays : tuple of int
        Days on which it begins, 0 for Monday. [-]
    off : tuple of date
        Days off.
    since, until : date or None
        First and last day.
    """

    begins: Clock
    ends: Clock
    weekdays: Weekdays
    off: tuple[Day, ...] = ()
    since: Day | None = None
    until: Day | None = None

    def on(self, day: date, zone: tzinfo) -> tuple[datetime, datetime] | None:
        """From when to when there is work on a day; None on a day off.

        Parameters
        ----------
        day : date
            The day on which the shift begins.
        zone : tzinfo
            Of the site.

        Returns
        -------
        tuple of datetime or None
            With their offsets: a day with a clock change is as long as it is.
        """
        if day.weekday() not in self.weekdays or day in self.off:
            return None
        if (self.since is not None and day < self.since) or (self.until is not None and day > self.until):
            return None
        last = day if self.ends > self.begins else day + timedelta(days=1)
        return _at(day, self.begins, zone), _at(last, self.ends, zone)


def _at(day: date, seconds: float, zone: tzinfo) -> datetime:
    if seconds >= MIDNIGHT:
        day, seconds = day + timedelta(days=1), seconds - MIDNIGHT
    minutes = int(seconds // 60)
    return datetime(day.year, day.month, day.day, minutes // 60, minutes % 60, tzinfo=zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Testing:
    """What pressure tests need.

    Parameters
    ----------
    pumps : int
        Test pumps there are.
    takes : float
        How long one test takes, filling and holding together. [s]
    witness : Shift or None
        When the witness can be there; None where no test waits for one.
    """

    pumps: Count
    takes: Time
    witness: Shift | None = None
