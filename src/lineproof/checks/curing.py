"""May pressure come to it: the cure time of its cement card behind each joint, at its own pressure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.moving import rounded_up
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Cured(About):
    """The pressure clock of a joint: what the cement card prints for its pressure, held against its record.

    Parameters
    ----------
    size : Size
    card : str
        The cement card; empty if none is known.
    pressure : float or None
        Highest gauge pressure at the joint itself; None if it cannot be told. [Pa]
    column : float or None
        Highest pressure the printed row is for; None where no row or no limit is printed. [Pa]
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
    disturbed : tuple of str
        How it was moved or knocked so that the clock began again.
    last_disturbed : datetime or None
        The latest that the last of these can have been.
    """

    size: Size
    card: str
    pressure: float | None
    column: float | None = None
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
    disturbed: tuple[str, ...] = ()
    last_disturbed: datetime | None = None


@check(
    id="CUR-01", stage="raise", facts=Cured, hurts=True,
    rule="the cure row of the cement card for the pressure at the joint and the coldest band met, all "
    "factors in; logged joint temperatures; no row, no guess",
)  # fmt: skip
def cured(facts: Cured, _book: Book) -> Finding:
    """NOT BEFORE the card's cure time for the joint's pressure is over; CANNOT TELL without readings."""
    found = _cured(facts)
    if found.verdict is Verdict.GO or facts.not_before is None:
        return found
    return replace(found, until=rounded_up(facts.not_before))


def _cured(facts: Cured) -> Finding:
    if not facts.card:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_card", missing=("cement card",),
            next_step="type_card",
        )  # fmt: skip
    if facts.pressure is None:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_pressure", missing=("pressure at the joint",),
            next_step="say_heights",
        )  # fmt: skip
    if facts.unread:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="unread", missing=facts.unread, next_step="read_file"
        )
    if facts.clock_unsure:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="clock_unsure", missing=("a clock that is set",),
            next_step="confirm_time",
        )  # fmt: skip
    if NO_START in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_start", missing=("hold end",),
            next_step="record_hold_end",
        )  # fmt: skip
    if NO_ASSEMBLY_TEMPERATURE in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_first", missing=("joint temperature when made",),
            next_step="ask_coldest",
        )  # fmt: skip
    if TEMPERATURE_HOLE in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="hole_air" if facts.air else "hole",
            missing=("joint temperature",), next_step="import_weather" if facts.air else "ask_coldest",
        )  # fmt: skip
    if NO_CARD_ROW in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_row", missing=("cure row",),
            next_step="ask_card_row",
        )  # fmt: skip
    if HUMIDITY_NOT_KNOWN in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_humidity", missing=("humidity since it was made",),
            next_step="read_humidity",
        )  # fmt: skip
    if NO_READING_SINCE in facts.codes:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_reading", missing=("joint temperature now",),
            next_step="read_joint",
        )  # fmt: skip
    if facts.reached is not None and not facts.codes:
        return answer("CUR-01", Verdict.GO, facts, measured=facts.credited, limit=facts.wait, unit="s")
    if facts.wait is None or facts.not_before is None:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_row", missing=("cure row",),
            next_step="ask_card_row",
        )  # fmt: skip
    return answer(
        "CUR-01", Verdict.WAIT, facts, why="foretold" if facts.foretold else "", measured=facts.credited,
        limit=facts.wait, unit="s", governs=facts.subject, next_step="ask_again",
    )  # fmt: skip
