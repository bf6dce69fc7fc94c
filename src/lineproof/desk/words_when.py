"""Moments in words, in the zone they carry: English or Spanish, whatever the machine speaks."""

from __future__ import annotations

from datetime import datetime

from lineproof.desk.words import ENGLISH, SPANISH

DAYS = {
    ENGLISH: ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"),
    SPANISH: ("lun", "mar", "mié", "jue", "vie", "sáb", "dom"),
}
MONTHS = {
    ENGLISH: ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
    SPANISH: ("ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"),
}


def day_and_hour(when: datetime, language: str = ENGLISH, *, year: bool = False) -> str:
    """A moment with its day.

    Parameters
    ----------
    when : datetime
        In the zone it is shown in.
    language : str
        ``"en"`` or ``"es"``.
    year : bool
        With its year.

    Returns
    -------
    str

    Examples
    --------
    >>> day_and_hour(datetime(2026, 11, 26, 9, 40)), day_and_hour(datetime(2026, 11, 26, 9, 40), "es")
    ('Thu 26 Nov 09:40', 'jue 26 nov 09:40')
    """
    day, month = DAYS[language][when.weekday()], MONTHS[language][when.month - 1]
    of = f" {when.year}" if year else ""
    return f"{day} {when.day} {month}{of} {when:%H:%M}"


def same_day(a: datetime, b: datetime) -> bool:
    """Whether two moments fall on one day, each in the zone it carries."""
    return (a.year, a.month, a.day) == (b.year, b.month, b.day)


def earliest(until: datetime, now: datetime, language: str = ENGLISH) -> str:
    """The moment of a wait as it stands after NOT BEFORE, with its day if that is not today.

    Parameters
    ----------
    until, now : datetime
        In the zone of the site.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str

    Examples
    --------
    >>> earliest(datetime(2026, 11, 26, 13, 5), datetime(2026, 11, 26), "es")
    'las 13:05'
    """
    day = same_day(until, now)
    if language == SPANISH:
        return (
            f"{'la' if until.hour == 1 else 'las'} {until:%H:%M}"
            if day
            else f"el {day_and_hour(until, SPANISH)}"
        )
    return f"{until:%H:%M}" if day else day_and_hour(until)


def not_before(until: datetime, now: datetime, language: str = ENGLISH) -> str:
    """What is shown for WAIT: the moment, with its day if that is not today.

    Parameters
    ----------
    until, now : datetime
        In the zone of the site.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        Such as ``NOT BEFORE 14:20, then ask again``.

    Examples
    --------
    >>> not_before(datetime(2026, 11, 26, 14, 20), datetime(2026, 11, 26), "es")
    'NO ANTES de las 14:20; pregunte otra vez'
    """
    when = earliest(until, now, language)
    if language == SPANISH:
        return f"NO ANTES {'d' + when if when.startswith('el ') else 'de ' + when}; pregunte otra vez"
    return f"NOT BEFORE {when}, then ask again"
