"""May it be moved or lowered: hold ended, hands-off time behind each joint, nothing wrong, no hold tag."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from lineproof.book.load import Book
from lineproof.checks.clocked import Clocked, clock_answer, stands
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict


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
class HandsOff(Clocked):
    """The hands-off clock of a joint: what the cement card prints, held against what is recorded."""


@check(
    id="MOV-02", stage="move", facts=HandsOff, hurts=True,
    rule="the handling row of the cement card for the coldest band met, all factors in; logged joint "
    "temperatures; no row, no guess",
)  # fmt: skip
def hands_off(facts: HandsOff, _book: Book) -> Finding:
    """NOT BEFORE the card's hands-off time is behind the joint; CANNOT TELL without readings or a row."""
    return clock_answer("MOV-02", facts, stands(facts, row="handling row", humidity="say_dampest"))


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
