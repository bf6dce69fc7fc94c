"""Rules of the site: weather, storage, flammable liquids, labour."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.cement import band
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading


@dataclass(frozen=True, slots=True)
class WeatherRule:
    """A weather or storage rule; limits are None where it has none."""

    rule: str
    words: str
    low: float | None = None
    high: float | None = None
    margin_K: float | None = None


def weather_rule(book: Book, rule: str, reading: Reading) -> WeatherRule:
    """One weather or storage rule by its name in the table.

    Parameters
    ----------
    book : Book
        The tables.
    rule : str
        Such as ``"join-air-min"``, ``"join-sun-max"``, ``"store-cement"``, ``"dew-margin"``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    WeatherRule
        The rule; temperatures in [K].

    Raises
    ------
    SizeNotListed
        If there is no such rule; the names are listed.
    """
    table = "weather_and_storage"
    words = book.text(table, rule, "words", reading)
    return WeatherRule(
        rule=rule,
        words=words,
        low=book.maybe_number(table, rule, "low_degF", reading),
        high=book.maybe_number(table, rule, "high_degF", reading),
        margin_K=book.maybe_number(table, rule, "margin_K", reading),
    )


def flammable_limit(book: Book, rule: str, reading: Reading) -> float:
    """Most flammable liquid in one place on a construction site.

    Parameters
    ----------
    book : Book
        The tables.
    rule : str
        ``"room"``, ``"cabinet-1-3"``, ``"cabinet-4"`` [m3] or ``"cabinets"`` (a number).
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Limit; local fire code and site rules may be stricter. [m3]
    """
    table = "cfr_29_1926_152_store"
    return book.number(table, rule, "count" if rule == "cabinets" else "limit_gal", reading)


@dataclass(frozen=True, slots=True)
class JointHours:
    """Labour as person-seconds: a cemented joint, a bolt-up, a manual valve, a control valve. [s]"""

    joint: float
    bolt_up: float
    valve: float
    control_valve: float


def joint_hours(book: Book, size: Size, reading: Reading) -> JointHours | None:
    """Labour per joint by size; None where the handbook lists none.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    reading : Reading
        The log of what is read.

    Returns
    -------
    JointHours or None
        Person-seconds; NPS 3-1/2, 5, above 12 and metric sizes are not listed.
    """
    table = "labour_joint_hours"
    row = None if size.metric else band(book, table, size.nominal, "nps_lo", "nps_hi")
    if row is None:
        return None
    return JointHours(
        joint=book.number(table, row, "joint_mh", reading),
        bolt_up=book.number(table, row, "bolt_up_mh", reading),
        valve=book.number(table, row, "valve_mh", reading),
        control_valve=book.number(table, row, "control_valve_mh", reading),
    )
