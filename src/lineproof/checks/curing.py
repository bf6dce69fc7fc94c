"""May pressure come to it: the cure time of its cement card behind each joint, at its own pressure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from lineproof.book.load import Book
from lineproof.checks.clocked import Clocked, clock_answer, stands
from lineproof.checks.registry import answer, check
from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Cured(Clocked):
    """The pressure clock of a joint: what the cement card prints for its pressure, held against its record.

    Parameters
    ----------
    pressure : float or None
        Highest gauge pressure at the joint itself; None if it cannot be told. [Pa]
    column : float or None
        Highest pressure the printed row is for; None where no row or no limit is printed. [Pa]
    disturbed : tuple of str
        How it was moved or knocked so that the clock began again.
    last_disturbed : datetime or None
        The latest that the last of these can have been.
    """

    pressure: float | None
    column: float | None = None
    disturbed: tuple[str, ...] = ()
    last_disturbed: datetime | None = None


@check(
    id="CUR-01", stage="raise", facts=Cured, hurts=True,
    rule="the cure row of the cement card for the pressure at the joint and the coldest band met, all "
    "factors in; logged joint temperatures; no row, no guess",
)  # fmt: skip
def cured(facts: Cured, _book: Book) -> Finding:
    """NOT BEFORE the card's cure time for the joint's pressure is over; CANNOT TELL without readings."""
    if facts.card and facts.pressure is None:
        return answer(
            "CUR-01", Verdict.CANNOT_TELL, facts, why="no_pressure", missing=("pressure at the joint",),
            next_step="say_heights",
        )  # fmt: skip
    return clock_answer("CUR-01", facts, stands(facts, row="cure row", humidity="read_humidity"))
