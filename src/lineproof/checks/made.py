"""Was each joint made right: insertion, examination, makers, and whether its record is whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from lineproof.book.bonders import SCHEMES, profile
from lineproof.book.load import Book
from lineproof.checks.qualified import NO_WORK, UNKNOWN, Need, Worked, standing
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.people import Qualification

HAIR = 1e-9
"""Float noise of a length. [m]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Insertion(About):
    """How far a joint stops short of its mark.

    Parameters
    ----------
    shortfall : float or None
        As it counts today, the most of all entries; None if nobody recorded it. [m]
    worst : float or None
        The most it has been told as, where one person alone put it down. [m]
    allowed : float or None
        By the procedure of the line; None if it says nothing. [m]
    procedure : str
        Of the line; empty if none is named.
    typed : float or None
        What was typed as allowed beside the measure, where it differs. [m]
    other_procedure : str
        Named beside the measure, where it is another than the line's.
    """

    shortfall: float | None
    worst: float | None
    allowed: float | None
    procedure: str
    typed: float | None = None
    other_procedure: str = ""


@check(
    id="MAD-01", stage="raise", facts=Insertion, hurts=True,
    rule="the allowed shortfall is the procedure's number; none given, no pressure: own rule",
)  # fmt: skip
def home(facts: Insertion, _book: Book) -> Finding:
    """STOP where a joint stops shorter than the procedure allows, or the procedure allows no number."""
    if facts.allowed is None:
        return answer(
            "MAD-01", Verdict.STOP, facts, why="no_allowed", measured=facts.shortfall, unit="m",
            governs=facts.procedure, next_step="ask_shortfall",
        )  # fmt: skip
    if facts.shortfall is None:
        return answer(
            "MAD-01", Verdict.CANNOT_TELL, facts, why="not_recorded", missing=("insertion",),
            next_step="record_insertion",
        )  # fmt: skip
    if facts.shortfall > facts.allowed + HAIR:
        return answer(
            "MAD-01", Verdict.STOP, facts, why="short", measured=facts.shortfall, limit=facts.allowed,
            unit="m", next_step="cut_it_out",
        )  # fmt: skip
    if facts.worst is not None and facts.worst > facts.allowed + HAIR:
        return answer(
            "MAD-01", Verdict.CANNOT_TELL, facts, why="alone", measured=facts.worst, limit=facts.allowed,
            unit="m", missing=("a second named person",), next_step="second_person",
        )  # fmt: skip
    if facts.other_procedure:
        return answer(
            "MAD-01", Verdict.CANNOT_TELL, facts, why="procedure", missing=("one procedure",),
            next_step="one_procedure",
        )  # fmt: skip
    return answer(
        "MAD-01", Verdict.GO, facts, why="typed" if facts.typed is not None else "",
        measured=facts.shortfall, limit=facts.allowed, unit="m",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Examined(About):
    """Who looked at a joint, as far as it counts.

    Parameters
    ----------
    state : str
        ``"accepted"``, ``"refused"``, ``"not_looked"``, ``"nobody"`` (who looked is not known),
        ``"maker"`` (only those who made it), ``"before"`` (before the last thing that happened to it),
        ``"points"`` (accepted with a point refused), ``"alone"`` (turned to accepted by one person alone).
    by : str
        Id of who looked last, as far as it counts.
    list : str
        The acceptance list.
    at : datetime or None
    last_touched : datetime or None
        The last thing that happened to the joint.
    points : tuple of str
        Points that were refused.
    """

    state: str
    by: str = ""
    list: str = ""
    at: datetime | None = None
    last_touched: datetime | None = None
    points: tuple[str, ...] = ()


@check(
    id="MAD-02", stage="raise", facts=Examined, hurts=True,
    rule="examined by a qualified person: 49 CFR 192.287; that it is another one than the maker, own rule",
)  # fmt: skip
def examined(facts: Examined, _book: Book) -> Finding:
    """STOP for a joint not accepted; CANNOT TELL until another person accepted it after all was done."""
    if facts.state == "accepted":
        return answer("MAD-02", Verdict.GO, facts)
    if facts.state == "refused":
        return answer("MAD-02", Verdict.STOP, facts, why="refused", next_step="cut_it_out")
    if facts.state == "alone":
        return answer(
            "MAD-02", Verdict.CANNOT_TELL, facts, why="alone", missing=("a second named person",),
            next_step="second_person",
        )  # fmt: skip
    return answer(
        "MAD-02", Verdict.CANNOT_TELL, facts, why=facts.state, missing=("another person's examination",),
        next_step="examine",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """One who did the pipe end or the socket of a joint.

    Parameters
    ----------
    role : str
        ``"pipe end"`` or ``"socket"``.
    person : str
        Id; empty if not named, or not a person of job.toml.
    qualifications : tuple of Qualification
    worked : Worked
        What is recorded of this person's joints of this kind.
    """

    role: str
    person: str
    qualifications: tuple[Qualification, ...] = ()
    worked: Worked = NO_WORK


@dataclass(frozen=True, slots=True, kw_only=True)
class Makers(About):
    """Who made a joint, and what it asked of them.

    Parameters
    ----------
    hands : tuple of Hand
    need : Need
        On the earliest day it can have been made.
    last_day : date
        The latest day it can have been made.
    scheme : str
        The qualification profile of the job.
    bound : bool
        The job binds every qualification to it.
    """

    hands: tuple[Hand, ...]
    need: Need
    last_day: date
    scheme: str = SCHEMES[0]
    bound: bool = False


@check(
    id="MAD-03", stage="raise", facts=Makers, hurts=True,
    rule="each joint by a person qualified on that day: the profile of the job; ASME B31.1a-2008",
)  # fmt: skip
def makers(facts: Makers, book: Book) -> Finding:
    """STOP where somebody who made it was not qualified that day; CANNOT TELL where that cannot be told."""
    log = Reading()
    told: dict[str, Any] = {
        "material": facts.need.material, "steps": facts.need.steps, "size": facts.need.largest.text,
        "day": facts.need.day, "months": profile(book, facts.scheme, Reading()).idle,
    }  # fmt: skip
    found = []
    for hand in facts.hands:
        if not hand.person:
            found.append(("not_named", hand))
            continue
        states = {
            standing(
                hand.qualifications, facts.need, day, facts.scheme, book, log, worked=hand.worked,
                bound=facts.bound,
            )
            for day in {facts.need.day or facts.last_day, facts.last_day}
        }  # fmt: skip
        if len(states) > 1 and "" in states:
            found.append(("day", hand))
        else:
            found += [(state, hand) for state in states if state]
    told_of = {"not_named", "day", *UNKNOWN}
    if found:
        why, hand = next((each for each in found if each[0] not in told_of), found[0])
        told |= {"person_id": hand.person, "role": hand.role}
        if why not in told_of:
            return answer(
                "MAD-03", Verdict.STOP, facts, log, why=why, governs=hand.person,
                next_step="unqualified_joint", **told,
            )  # fmt: skip
        if why == "not_named":
            return answer(
                "MAD-03", Verdict.CANNOT_TELL, facts, log, why="not_named", next_step="name_makers",
                missing=(f"who did the {hand.role}",), **told,
            )  # fmt: skip
        if why == "day":
            return answer(
                "MAD-03", Verdict.CANNOT_TELL, facts, log, why="day", missing=("the day it was made",),
                next_step="second_person", **told,
            )  # fmt: skip
        if why == "not_confirmed":
            return answer(
                "MAD-03", Verdict.CANNOT_TELL, facts, log, why="not_confirmed", next_step="confirm_joiner",
                missing=("the employer's confirmation",), **told,
            )  # fmt: skip
        if why == "no_expiry":
            return answer(
                "MAD-03", Verdict.CANNOT_TELL, facts, log, why="no_expiry", next_step="say_expiry",
                missing=("last day of the qualification",), **told,
            )  # fmt: skip
        if why == "no_size_rule":
            return answer(
                "MAD-03", Verdict.CANNOT_TELL, facts, log, why="no_size_rule", next_step="ask_sizes",
                missing=("how far the test piece reaches",), **told,
            )  # fmt: skip
        return answer(
            "MAD-03", Verdict.CANNOT_TELL, facts, log, why="no_day", missing=("last day of use",),
            next_step="say_last_used", **told,
        )  # fmt: skip
    people = tuple(dict.fromkeys(hand.person for hand in facts.hands))
    return answer("MAD-03", Verdict.GO, facts, log, people=people, **told)


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeRecord(About):
    """Whether the record of a making is whole.

    Parameters
    ----------
    first_needed : tuple of str
        ``"ring"``, ``"nut"``: what had to be on the pipe before.
    first_on : tuple of str
        What is recorded.
    held : float or None
        The least it can have been held; None if the end is not recorded. [s]
    held_from_home : bool
        Whether the moment it went home was told.
    hold : float or None
        By card and procedure, the longer; None if neither says. [s]
    temperature : float or None
        Of the joint when it was made. [K]
    in_card : bool
        The card has rows for that temperature and size.
    card : str
    wet_order : tuple of str
        Steps from primer to home that run backwards.
    shown : tuple of str
        What else looked wrong and was kept, or was corrected by one person alone.
    """

    first_needed: tuple[str, ...]
    first_on: tuple[str, ...]
    held: float | None
    held_from_home: bool
    hold: float | None
    temperature: float | None
    in_card: bool
    card: str
    wet_order: tuple[str, ...] = ()
    shown: tuple[str, ...] = ()


@check(
    id="MAD-05", stage="raise", facts=WholeRecord, hurts=True,
    rule="hold of procedure and card, temperatures of the card; own rule: it is recorded",
)  # fmt: skip
def whole_record(facts: WholeRecord, _book: Book) -> Finding:
    """STOP for a hold that was too short; CANNOT TELL for what is not recorded, or runs backwards."""
    if facts.held is not None and facts.hold is not None and facts.held < facts.hold - 0.5:
        if facts.held_from_home:
            return answer(
                "MAD-05", Verdict.STOP, facts, why="hold_short", measured=facts.held, limit=facts.hold,
                unit="s", next_step="doubtful_joint",
            )  # fmt: skip
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="hold_unsure", measured=facts.held, limit=facts.hold,
            unit="s", missing=("when it went home",), next_step="record_home",
        )  # fmt: skip
    lacks = [what for what in facts.first_needed if what not in facts.first_on]
    if lacks:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="first_on", next_step="record_first_on",
            missing=tuple(f"{w} on first" for w in lacks), lacks=tuple(lacks),
        )  # fmt: skip
    if facts.held is None:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="no_hold_end", missing=("hold end",),
            next_step="record_hold_end",
        )  # fmt: skip
    if facts.hold is None:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="no_hold_row", missing=("hold time",),
            next_step="ask_card_row",
        )  # fmt: skip
    if facts.temperature is None:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="no_temperature",
            missing=("joint temperature when made",), next_step="ask_coldest",
        )  # fmt: skip
    if not facts.in_card:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="outside_card", measured=facts.temperature, unit="K",
            missing=("card row",), next_step="ask_card_row",
        )  # fmt: skip
    if facts.wet_order:
        return answer(
            "MAD-05", Verdict.CANNOT_TELL, facts, why="order", missing=("steps in their order",),
            next_step="doubtful_joint",
        )  # fmt: skip
    return answer(
        "MAD-05", Verdict.GO, facts, why="shown" if facts.shown else "", measured=facts.held,
        limit=facts.hold, unit="s",
    )  # fmt: skip
