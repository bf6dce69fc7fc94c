"""Moments in words, in the zone they carry; English whatever the machine speaks."""

from __future__ import annotations

from datetime import datetime

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_and_hour(when: datetime) -> str:
    """A moment with its day.

    Parameters
    ----------
    when : datetime
        In the zone it is shown in.

    Returns
    -------
    str

    Examples
    --------
    >>> day_and_hour(datetime(2026, 11, 26, 9, 40))
    'Thu 26 Nov 09:40'
    """
    return f"{DAYS[when.weekday()]} {when.day} {MONTHS[when.month - 1]} {when:%H:%M}"


def not_before(until: datetime, now: datetime) -> str:
    """What is shown for WAIT: the moment, with its day if that is not today.

    Parameters
    ----------
    until, now : datetime
        In the zone of the site.

    Returns
    -------
    str
        Such as ``NOT BEFORE 14:20, then ask again``.
    """
    same = (until.year, until.month, until.day) == (now.year, now.month, now.day)
    return f"NOT BEFORE {f'{until:%H:%M}' if same else day_and_hour(until)}, then ask again"
