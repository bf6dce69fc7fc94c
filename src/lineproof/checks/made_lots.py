"""Was each joint made right: cement and primer, their card, their dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from lineproof.book.load import Book
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class LotUsed:
    """A can or lot as it was used at a joint.

    Parameters
    ----------
    name : str
        Can or lot, as named.
    known : bool
        It stands in job.toml or was received.
    kind : str
        ``"cement"``, ``"primer"``, ``"cleaner"``.
    cards : tuple of str
        Cards it is said to carry; ``""`` where nobody said.
    expires : tuple of date or None
        As printed; None where nobody read it.
    opened : datetime or None
        The earliest it can have been opened.
    opened_needed : bool
        Its card limits how long it may stand open.
    thrown : str
        ``"before"``, ``"perhaps"`` (about the same time) or empty.
    unclear : bool
        Its record does not hold.
    """

    name: str
    known: bool
    kind: str = ""
    cards: tuple[str, ...] = ()
    expires: tuple[date | None, ...] = ()
    opened: datetime | None = None
    opened_needed: bool = False
    thrown: str = ""
    unclear: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LotsUsed(About):
    """Cement and primer of a joint.

    Parameters
    ----------
    lots : tuple of LotUsed
    lots_alone : bool
        One person alone named or changed them afterwards.
    cards : tuple of str
        Card the joint was made by; ``""`` where nobody said.
    card_material, card_steps : str
        Of that card; empty if it does not say.
    material, steps : str
        Of the joint, and of its procedure.
    first_day, last_day : date
        Between which it was made.
    latest : datetime
        The latest it can have been made.
    open_life : float or None
        How long a can of the card may stand open. [s]
    """

    lots: tuple[LotUsed, ...]
    lots_alone: bool
    cards: tuple[str, ...]
    card_material: str
    card_steps: str
    material: str
    steps: str
    first_day: date
    last_day: date
    latest: datetime
    open_life: float | None = None


@check(
    id="MAD-04", stage="raise", facts=LotsUsed, hurts=True,
    rule="cement past its marked date is not used: Kentucky 815 KAR 20:071 s.1(3); the container, its card",
)  # fmt: skip
def lots(facts: LotsUsed, _book: Book) -> Finding:
    """STOP for cement or primer of the wrong card, past its date or thrown away; unknown is CANNOT TELL."""
    wrong = _wrong_card(facts) or next((w for lot in facts.lots if (w := _wrong_lot(lot, facts))), None)
    if wrong is not None:
        why, lot = wrong
        return answer(
            "MAD-04", Verdict.STOP, facts, why=why, governs=lot, next_step="wrong_lot", lot=lot,
        )  # fmt: skip
    unsure = _unsure(facts) or next((u for lot in facts.lots if (u := _unsure_lot(lot, facts))), None)
    if unsure is not None:
        return unsure
    kinds = [lot.kind for lot in facts.lots]
    for kind in ("cement", "primer")[: 2 if facts.steps == "two-step" else 1]:
        if kind not in kinds:
            return answer(
                "MAD-04", Verdict.CANNOT_TELL, facts, why="not_named", missing=(f"{kind} lot",), kind=kind,
                next_step="record_lots",
            )  # fmt: skip
    if facts.steps == "one-step" and "primer" in kinds:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="primer", missing=("the procedure's word on primer",),
            next_step="one_procedure",
        )  # fmt: skip
    return answer("MAD-04", Verdict.GO, facts, names=tuple(lot.name for lot in facts.lots))


def _wrong_card(facts: LotsUsed) -> tuple[str, str] | None:
    if facts.card_material and facts.card_material != facts.material:
        return "card_material", facts.cards[0]
    if facts.card_steps and facts.steps and facts.card_steps != facts.steps:
        return "card_steps", facts.cards[0]
    return None


def _wrong_lot(lot: LotUsed, facts: LotsUsed) -> tuple[str, str] | None:
    if not lot.known or lot.unclear:
        return None
    if lot.thrown == "before":
        return "thrown", lot.name
    days = [day for day in lot.expires if day is not None]
    if days and max(days) < facts.first_day:
        return "expired", lot.name
    if lot.kind == "cement" and all(lot.cards) and len(facts.cards) == 1 and facts.cards[0]:
        if lot.cards and facts.cards[0] not in lot.cards:
            return "other_card", lot.name
    if lot.kind == "cement" and lot.opened is not None and facts.open_life is not None:
        if lot.opened + timedelta(seconds=facts.open_life) < facts.latest:
            return "open_long", lot.name
    return None


def _unsure(facts: LotsUsed) -> Finding | None:
    """What is not known of card, procedure and people, whatever the lots."""
    if facts.cards[:1] in ((), ("",)):
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="no_card", missing=("cement card",),
            next_step="say_card",
        )  # fmt: skip
    if len(facts.cards) > 1 or facts.lots_alone:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="alone", missing=("a second named person",),
            next_step="second_person",
        )  # fmt: skip
    if not facts.steps:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="no_steps", missing=("procedure",),
            next_step="say_procedure",
        )  # fmt: skip
    return None


def _unsure_lot(lot: LotUsed, facts: LotsUsed) -> Finding | None:
    """What is not known of one lot."""
    if not lot.known:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="unknown", missing=(f"lot {lot.name}",), lot=lot.name,
            next_step="receive_can",
        )  # fmt: skip
    if lot.unclear:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), lot=lot.name,
            next_step="settle",
        )  # fmt: skip
    if lot.thrown:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="thrown_about", lot=lot.name,
            missing=("when it was thrown away",), next_step="second_person",
        )  # fmt: skip
    if lot.kind != "cleaner" and (not lot.expires or None in lot.expires):
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="no_date", missing=("expiry date",), lot=lot.name,
            next_step="read_date",
        )  # fmt: skip
    if any(day is not None and day < facts.last_day for day in lot.expires):
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="date_unsure", lot=lot.name,
            missing=("the day it was made, or the date printed",), next_step="second_person",
        )  # fmt: skip
    if lot.kind == "cement" and lot.cards != (facts.cards[0],):
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="no_lot_card", missing=("its cement card",),
            lot=lot.name, next_step="say_lot_card",
        )  # fmt: skip
    if lot.kind == "cement" and lot.opened_needed and lot.opened is None:
        return answer(
            "MAD-04", Verdict.CANNOT_TELL, facts, why="not_opened", missing=("when it was opened",),
            lot=lot.name, next_step="record_opened",
        )  # fmt: skip
    return None
