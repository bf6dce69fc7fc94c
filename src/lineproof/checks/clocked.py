"""A printed clock of a joint, be it for hands or for pressure: how it stands, and what is missing for it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.cure_answer import (
    HUMIDITY_NOT_KNOWN,
    NO_ASSEMBLY_TEMPERATURE,
    NO_CARD_ROW,
    NO_READING_SINCE,
    NO_START,
    TEMPERATURE_HOLE,
)

STEP = timedelta(minutes=5)
"""A NOT BEFORE is rounded up to this (the design's rule)."""


def age(now: datetime, then: datetime) -> timedelta:
    """Time from one moment to another, also through the night in which an hour comes twice.

    Parameters
    ----------
    now, then : datetime
        With their offsets; of one zone Python would hold their faces against each other, not the moments.

    Returns
    -------
    timedelta

    Examples
    --------
    >>> from datetime import datetime
    >>> from zoneinfo import ZoneInfo
    >>> zone = ZoneInfo("America/Denver")
    >>> str(age(datetime(2026, 11, 1, 2, 5, tzinfo=zone), datetime(2026, 11, 1, 1, 55, tzinfo=zone)))
    '1:10:00'
    """
    return now.astimezone(UTC) - then.astimezone(UTC)


def rounded_up(when: datetime) -> datetime:
    """The next whole five minutes, or the moment itself.

    Parameters
    ----------
    when : datetime
        With its offset.

    Returns
    -------
    datetime
        In the same zone.

    Examples
    --------
    >>> from datetime import UTC
    >>> rounded_up(datetime(2026, 11, 26, 9, 36, 1, tzinfo=UTC)).strftime("%H:%M")
    '09:40'
    """
    over = timedelta(minutes=when.minute % 5, seconds=when.second, microseconds=when.microsecond)
    return when if not over else when + (STEP - over)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clocked(About):
    """One clock of a joint: what the cement card prints, held against what is recorded.

    Parameters
    ----------
    size : Size
    card : str
        The cement card; empty if none is known.
    mark : str
        Where on the card the row stands.
    factors : tuple of str
        Factors of the card that lengthen it.
    wait : float or None
        Printed time of the coldest band met, all factors in; None where nothing is printed. [s]
    credited : float
        Time with readings behind it. [s]
    coldest : float or None
        Coldest met since it was made. [K]
    started : datetime or None
        The latest that hold end, pullers off or a disturbance can have been.
    reached : datetime or None
        When the wait was whole.
    not_before : datetime or None
        Not before this moment, if it gets no colder; None where that cannot be told.
    codes : tuple of str
        Why it is not whole, as the clock says, the heaviest first.
    clock_unsure : bool
        Whether the time passed cannot be told, because the clocks of the devices cannot be compared.
    unread : tuple of str
        Logger's files that cannot be read.
    foretold : bool
        A forecast is in ``not_before``.
    air : str
        Why weather.csv stands in for no hole in its readings; empty if it may, or there is none.
    """

    size: Size
    card: str
    mark: str
    factors: tuple[str, ...]
    wait: float | None
    credited: float
    coldest: float | None
    started: datetime | None
    reached: datetime | None
    not_before: datetime | None
    codes: tuple[str, ...] = ()
    clock_unsure: bool = False
    unread: tuple[str, ...] = ()
    foretold: bool = False
    air: str = ""


@dataclass(frozen=True, slots=True)
class Stands:
    """How a clock stands.

    Parameters
    ----------
    verdict : Verdict
    why, next_step : str
        Words for the reason and for what to do now.
    missing : tuple of str
        Inputs that are missing.
    """

    verdict: Verdict
    why: str = ""
    missing: tuple[str, ...] = ()
    next_step: str = ""


def stands(facts: Clocked, *, row: str, humidity: str) -> Stands:
    """What is missing for a clock, the heaviest first; else whether its wait is over.

    Parameters
    ----------
    facts : Clocked
    row : str
        What the row of the card is called.
    humidity : str
        The next step where the humidity is not known.

    Returns
    -------
    Stands
    """
    unknown = Verdict.CANNOT_TELL
    if not facts.card:
        return Stands(unknown, why="no_card", missing=("cement card",), next_step="type_card")
    if facts.unread:
        return Stands(unknown, why="unread", missing=facts.unread, next_step="read_file")
    if facts.clock_unsure:
        clock = ("a clock that is set",)
        return Stands(unknown, why="clock_unsure", missing=clock, next_step="confirm_time")
    if NO_START in facts.codes:
        return Stands(unknown, why="no_start", missing=("hold end",), next_step="record_hold_end")
    if NO_ASSEMBLY_TEMPERATURE in facts.codes:
        first = ("joint temperature when made",)
        return Stands(unknown, why="no_first", missing=first, next_step="ask_coldest")
    if TEMPERATURE_HOLE in facts.codes:
        return Stands(
            unknown, why="hole_air" if facts.air else "hole", missing=("joint temperature",),
            next_step="import_weather" if facts.air else "ask_coldest",
        )  # fmt: skip
    if NO_CARD_ROW in facts.codes:
        return Stands(unknown, why="no_row", missing=(row,), next_step="ask_card_row")
    if HUMIDITY_NOT_KNOWN in facts.codes:
        damp = ("humidity since it was made",)
        return Stands(unknown, why="no_humidity", missing=damp, next_step=humidity)
    if NO_READING_SINCE in facts.codes:
        return Stands(unknown, why="no_reading", missing=("joint temperature now",), next_step="read_joint")
    if facts.reached is not None and not facts.codes:
        return Stands(Verdict.GO)
    if facts.wait is None or facts.not_before is None:
        return Stands(unknown, why="no_row", missing=(row,), next_step="ask_card_row")
    return Stands(Verdict.WAIT, why="foretold" if facts.foretold else "", next_step="ask_again")


def clock_answer(id: str, facts: Clocked, found: Stands) -> Finding:
    """The Finding of a check that asks a clock, with the moment before which it need not be asked again.

    Parameters
    ----------
    id : str
        The check.
    facts : Clocked
    found : Stands

    Returns
    -------
    Finding
    """
    timed = found.verdict in (Verdict.GO, Verdict.WAIT)
    given = answer(
        id, found.verdict, facts, why=found.why, missing=found.missing, next_step=found.next_step,
        measured=facts.credited if timed else None, limit=facts.wait if timed else None,
        unit="s" if timed else "", governs=facts.subject if found.verdict is Verdict.WAIT else "",
    )  # fmt: skip
    if given.verdict is Verdict.GO or facts.not_before is None:
        return given
    return replace(given, until=rounded_up(facts.not_before))
