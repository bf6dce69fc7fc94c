"""The times of a cement card for a joint: there at all, and beside the row of a standard."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.cure import StandardRow, cure_row, handling_row
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict

TINY = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class CardTimes(About):
    """Hold and hands-off times of one size on one card.

    Parameters
    ----------
    size : Size
    card : str
        Empty if no card is named.
    hold, handling : float or None
        Times, all factors in; None if neither card nor procedure says. [s]
    temperature : float or None
        Coldest the joint will be. [K]
    humidity : float or None
        Highest expected. [-]
    lacks : tuple of str
        Inputs without which the card could not be asked.
    """

    size: Size
    card: str
    hold: float | None
    handling: float | None
    temperature: float | None
    humidity: float | None
    lacks: tuple[str, ...] = ()


@check(id="CEM-07", stage="join", rule="the cement card; no row, no guess", facts=CardTimes, hurts=True)
def card_times(facts: CardTimes, _book: Book) -> Finding:
    """CANNOT TELL how long to hold and keep hands off where the card has no row."""
    gone = [n for n, v in (("hold", facts.hold), ("handling", facts.handling)) if v is None]
    if not gone:
        return answer("CEM-07", Verdict.GO, facts, measured=facts.handling, unit="s")
    if facts.lacks:
        return answer(
            "CEM-07", Verdict.CANNOT_TELL, facts, why="no_input", missing=facts.lacks, next_step="say_inputs",
            rows=tuple(gone),
        )  # fmt: skip
    return answer(
        "CEM-07", Verdict.CANNOT_TELL, facts, why="no_row", missing=tuple(f"{g} row" for g in gone),
        rows=tuple(gone), next_step="ask_card_row",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCure(About):
    """Cure of one size on one card before its pressure.

    Parameters
    ----------
    size : Size
    card : str
        Empty if no card is named.
    cure : float or None
        Time, all factors in; None if the card does not say. [s]
    pressure : float or None
        Highest at these joints, gauge error added. [Pa]
    temperature : float or None
        Coldest the joint will be. [K]
    humidity : float or None
        Highest expected. [-]
    lacks : tuple of str
        Inputs without which the card could not be asked.
    """

    size: Size
    card: str
    cure: float | None
    pressure: float | None
    temperature: float | None
    humidity: float | None
    lacks: tuple[str, ...] = ()


@check(id="CEM-09", stage="raise", rule="the cement card; no row, no guess", facts=CardCure, hurts=True)
def card_cure(facts: CardCure, _book: Book) -> Finding:
    """CANNOT TELL when pressure may come where the card has no row for size, temperature and pressure."""
    if facts.cure is not None:
        return answer("CEM-09", Verdict.GO, facts, measured=facts.cure, unit="s")
    if facts.lacks:
        return answer(
            "CEM-09", Verdict.CANNOT_TELL, facts, why="no_input", missing=facts.lacks, next_step="say_inputs"
        )
    return answer(
        "CEM-09", Verdict.CANNOT_TELL, facts, why="no_row", missing=("cure row",), next_step="ask_card_row"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BesideStandard(About):
    """Times of a card beside those of the standard that is carried.

    Parameters
    ----------
    size : Size
    material : str
    card : str
    handling, cure : float or None
        By the card, all factors in. [s]
    temperature : float or None
        [K]
    pressure : float or None
        [Pa]
    humidity : float or None
        [-]
    both_names : bool
        The card was typed by one person and read back by another.
    """

    size: Size
    material: str
    card: str
    handling: float | None
    cure: float | None
    temperature: float | None
    pressure: float | None
    humidity: float | None
    both_names: bool


@check(
    id="CEM-08", stage="move", facts=BesideStandard,
    rule="ASTM D2855-96 handling and cure rows, from memory, to NPS 8; the card governs",
)  # fmt: skip
def beside_standard(facts: BesideStandard, book: Book) -> Finding:
    """CANNOT TELL where a card is shorter than the standard's row and lacks its two names; with them CARE."""
    log = Reading()
    standard = {
        "handling": handling_row(book, facts.size, facts.temperature, log, material=facts.material),
        "cure": cure_row(
            book, facts.size, facts.temperature, facts.pressure, facts.humidity, log, material=facts.material
        ),
    }
    carried = {"handling": facts.handling, "cure": facts.cure}
    both = [(k, carried[k], row) for k, row in standard.items() if row is not None and carried[k] is not None]
    shorter = [(k, t, row) for k, t, row in both if t is not None and t < row.wait - TINY]
    if not shorter:
        return answer("CEM-08", Verdict.GO, facts, log if both else None, why="" if both else "none_carried")
    kind, time, row = min(shorter, key=_share)
    verdict = Verdict.CARE if facts.both_names else Verdict.CANNOT_TELL
    return answer(
        "CEM-08", verdict, facts, log, why="shorter", measured=time, limit=row.wait, unit="s", clock=kind,
        next_step="ask_maker_writing" if facts.both_names else "read_back",
        missing=() if facts.both_names else ("second reader",),
    )  # fmt: skip


def _share(item: tuple[str, float | None, StandardRow]) -> float:
    return (item[1] or 0.0) / item[2].wait
