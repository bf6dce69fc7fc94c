"""May it be moved or lowered: hold ended, hands-off time behind each joint, nothing wrong, no hold tag."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
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
class HoldEnded(About):
    """What is recorded of a joint's hold.

    Parameters
    ----------
    made : bool
        The joint is recorded as made.
    hold_ended : datetime or None
    pullers : bool or None
        Whether it was pulled in with a device; None if no table says.
    pullers_off : datetime or None
    for_pressure : bool
        A section is asked for: a joint that is not made cannot be left out.
    """

    made: bool
    hold_ended: datetime | None
    pullers: bool | None
    pullers_off: datetime | None
    for_pressure: bool = False


@check(
    id="MOV-01", stage="move", facts=HoldEnded, hurts=True,
    rule="a joint is held and left alone until the hold ends: the container or the procedure; own rule: it "
    "is recorded",
)  # fmt: skip
def hold_ended(facts: HoldEnded, _book: Book) -> Finding:
    """CANNOT TELL while a joint's making, the end of its hold, or pullers off are not recorded."""
    if not facts.made:
        return answer(
            "MOV-01", Verdict.CANNOT_TELL, facts, why="no_record", missing=("joint made",),
            next_step="record_made_first" if facts.for_pressure else "record_made",
        )  # fmt: skip
    if facts.hold_ended is None:
        return answer(
            "MOV-01", Verdict.CANNOT_TELL, facts, why="no_hold_end", missing=("hold end",),
            next_step="record_hold_end",
        )  # fmt: skip
    if facts.pullers is not False and facts.pullers_off is None:
        return answer(
            "MOV-01", Verdict.CANNOT_TELL, facts, why="no_pullers_off", missing=("pullers off",),
            next_step="record_pullers_off",
        )  # fmt: skip
    return answer("MOV-01", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsOff(About):
    """The hands-off clock of a joint: what the cement card prints, held against what is recorded.

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
        Logger's files that nobody has read in.
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


@check(
    id="MOV-02", stage="move", facts=HandsOff, hurts=True,
    rule="the handling row of the cement card for the coldest band met, all factors in; logged joint "
    "temperatures; no row, no guess",
)  # fmt: skip
def hands_off(facts: HandsOff, _book: Book) -> Finding:
    """NOT BEFORE the card's hands-off time is behind the joint; CANNOT TELL without readings or a row."""
    found = _hands_off(facts)
    if found.verdict is Verdict.GO or facts.not_before is None:
        return found
    return replace(found, until=rounded_up(facts.not_before))


def _hands_off(facts: HandsOff) -> Finding:
    if not facts.card:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_card", missing=("cement card",),
            next_step="type_card",
        )  # fmt: skip
    if facts.unread:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="unread", missing=facts.unread, next_step="read_file"
        )
    if facts.clock_unsure:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="clock_unsure", missing=("a clock that is set",),
            next_step="confirm_time",
        )  # fmt: skip
    if NO_START in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_start", missing=("hold end",),
            next_step="record_hold_end",
        )  # fmt: skip
    if NO_ASSEMBLY_TEMPERATURE in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_first", missing=("joint temperature when made",),
            next_step="ask_coldest",
        )  # fmt: skip
    if TEMPERATURE_HOLE in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="hole_air" if facts.air else "hole",
            missing=("joint temperature",), next_step="import_weather" if facts.air else "ask_coldest",
        )  # fmt: skip
    if NO_CARD_ROW in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_row", missing=("handling row",),
            next_step="ask_card_row",
        )  # fmt: skip
    if HUMIDITY_NOT_KNOWN in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_humidity", missing=("humidity since it was made",),
            next_step="say_dampest",
        )  # fmt: skip
    if NO_READING_SINCE in facts.codes:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_reading", missing=("joint temperature now",),
            next_step="read_joint",
        )  # fmt: skip
    if facts.reached is not None and not facts.codes:
        return answer("MOV-02", Verdict.GO, facts, measured=facts.credited, limit=facts.wait, unit="s")
    if facts.wait is None or facts.not_before is None:
        return answer(
            "MOV-02", Verdict.CANNOT_TELL, facts, why="no_row", missing=("handling row",),
            next_step="ask_card_row",
        )  # fmt: skip
    return answer(
        "MOV-02", Verdict.WAIT, facts, why="foretold" if facts.foretold else "", measured=facts.credited,
        limit=facts.wait, unit="s", governs=facts.subject, next_step="ask_again",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRecord(About):
    """Whether the record of a joint holds, and says that it is good.

    Parameters
    ----------
    rejected, cut_out : bool
    off_drawing : bool
        It is not on the drawing.
    unclear : tuple of str
        Codes of the logbook: two stories, a fork, an entry that is not understood.
    gaps : tuple of str
        What is missing from the record as a whole.
    disturbed : tuple of str
        How it was moved or knocked before its hands-off time was over.
    looked : bool
        Another person has examined and accepted it since.
    """

    rejected: bool = False
    cut_out: bool = False
    off_drawing: bool = False
    unclear: tuple[str, ...] = ()
    gaps: tuple[str, ...] = ()
    disturbed: tuple[str, ...] = ()
    looked: bool = False


@check(
    id="MOV-03", stage="move", facts=JointRecord, hurts=True,
    rule="own rule: a doubtful joint is looked at by another person before anything hangs on it",
)  # fmt: skip
def joint_record(facts: JointRecord, _book: Book) -> Finding:
    """STOP for a joint rejected or cut out; CANNOT TELL where it was disturbed or its record is not whole."""
    if facts.cut_out and not facts.unclear:
        return answer("MOV-03", Verdict.STOP, facts, why="cut_out", next_step="ask_replacement")
    if facts.rejected:
        return answer("MOV-03", Verdict.STOP, facts, why="rejected", next_step="cut_it_out")
    if facts.unclear:
        return answer(
            "MOV-03", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), next_step="settle"
        )
    if facts.gaps:
        return answer(
            "MOV-03", Verdict.CANNOT_TELL, facts, why="gaps", missing=facts.gaps, next_step="bring_in"
        )
    if facts.off_drawing:
        return answer(
            "MOV-03", Verdict.CANNOT_TELL, facts, why="off_drawing", missing=("its place on the drawing",),
            next_step="draw_it",
        )  # fmt: skip
    if facts.disturbed and not facts.looked:
        return answer(
            "MOV-03", Verdict.CANNOT_TELL, facts, why="disturbed", missing=("another person's look",),
            next_step="examine",
        )  # fmt: skip
    return answer("MOV-03", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldTags(About):
    """Hold tags that hang on what is moved.

    Parameters
    ----------
    tags : tuple of str
        Those that hang on it.
    unplaced : tuple of str
        Those whose record is unclear, or that hang on something nobody knows.
    """

    tags: tuple[str, ...] = ()
    unplaced: tuple[str, ...] = ()


@check(
    id="MOV-04", stage="move", facts=HoldTags, hurts=True,
    rule="a hold tag is lifted before work goes on: common practice, no source",
)  # fmt: skip
def hold_tags(facts: HoldTags, _book: Book) -> Finding:
    """STOP while a hold tag hangs on it; CANNOT TELL while one hangs that nobody can place."""
    if facts.tags:
        return answer("MOV-04", Verdict.STOP, facts, next_step="lift_tag")
    if facts.unplaced:
        return answer(
            "MOV-04", Verdict.CANNOT_TELL, facts, missing=("what the tag hangs on",), next_step="place_tag"
        )
    return answer("MOV-04", Verdict.GO, facts)
