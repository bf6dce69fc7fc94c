"""Who may make a joint on a day, and why not the others. Values only; a check gives the verdict."""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date

from lineproof.book.load import Book
from lineproof.book.rules import lapse_months
from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell, Reading
from lineproof.job.people import Person, Procedure, Qualification, within
from lineproof.job.settings import Settings

REASONS = ("none", "material", "steps", "size", "procedure", "lapsed")
"""Reasons a person may not make the joint, in the order they are told."""

LAST_USED = "last-used-unknown"
DAY = "day-unknown"

SCHEME = "asme-b31.1"
"""The rule a qualification lapses by, unless the job's code says another."""


@dataclass(frozen=True, slots=True)
class JoinerFit:
    """One person held against a joint.

    Parameters
    ----------
    person : Person
    qualification : Qualification or None
        The one that speaks best for the person.
    reasons : tuple of str
        Why not, out of :data:`REASONS`.
    unknown : tuple of str
        What nobody said: when the process was last used, or the day of the joint.
    lapses_on : date or None
        The last day on which the qualification still holds, if the process is not used before.
    cells : tuple of Cell
        The rule it lapses by.
    """

    person: Person
    qualification: Qualification | None
    reasons: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    lapses_on: date | None = None
    cells: tuple[Cell, ...] = ()

    @property
    def fits(self) -> bool:
        """Nothing speaks against it and nothing is left open."""
        return not self.reasons and not self.unknown


def months_later(day: date, months: int) -> date:
    """The same day of the month so many calendar months later, or the month's last.

    Parameters
    ----------
    day : date
    months : int
        [month]

    Returns
    -------
    date
        The day.

    Examples
    --------
    >>> months_later(date(2027, 8, 31), 6)
    datetime.date(2028, 2, 29)
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def joiners_for(
    settings: Settings,
    book: Book,
    day: date | None,
    *,
    line: str,
    material: str,
    size: Size,
    scheme: str = SCHEME,
) -> tuple[JoinerFit, ...]:
    """The people who may be asked to make a joint, those who may not with their reasons.

    Asked are the joiners in the crews of the line; without crews everyone with a qualification.

    Parameters
    ----------
    settings : Settings
    book : Book
    day : date or None
        The day of the joint.
    line : str
    material : str
        Of the joint.
    size : Size
        Of the joint: the socket's.
    scheme : str
        Row of the table of lapse rules.

    Returns
    -------
    tuple of JoinerFit
        In the order of the crews, then of the file.
    """
    reading = Reading()
    months = int(lapse_months(book, scheme, reading))
    duty = settings.duty(line)
    procedure = settings.procedure(duty.procedure) if duty else None
    crews = settings.crews_for(line)
    named = [settings.person(member) for c in crews for member in c.people]
    people = dict.fromkeys(p for p in named if p is not None) if crews else dict.fromkeys(settings.people)
    found = []
    for person in people:
        fits = [
            _held(person, q, material, procedure, size, day, months, reading.as_tuple())
            for q in person.qualifications
        ]
        if fits:
            found.append(min(fits, key=lambda f: (len(f.reasons), len(f.unknown))))
        elif crews:
            found.append(JoinerFit(person, None, ("none",)))
    return tuple(found)


def _held(
    person: Person,
    q: Qualification,
    material: str,
    procedure: Procedure | None,
    size: Size,
    day: date | None,
    months: int,
    cells: tuple[Cell, ...],
) -> JoinerFit:
    reasons: list[str] = []
    unknown: list[str] = []
    if q.material != material:
        reasons.append("material")
    if procedure is not None and q.steps != procedure.steps:
        reasons.append("steps")
    if not within(size, q.size_lo, q.size_hi):
        reasons.append("size")
    if q.procedure and procedure is not None and q.procedure != procedure.id:
        reasons.append("procedure")
    ends = None if q.last_used_on is None else months_later(q.last_used_on, months)
    if ends is None:
        unknown.append(LAST_USED)
    elif day is None:
        unknown.append(DAY)
    elif day > ends:
        reasons.append("lapsed")
    return JoinerFit(person, q, tuple(reasons), tuple(unknown), ends, cells)
