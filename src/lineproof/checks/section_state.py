"""How a section stands: its ends, restraints, bolts, grout, who is in charge, and pressure that is in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from lineproof.book.load import Book
from lineproof.checks.clocked import age, rounded_up
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict

ISOLATED = ("blind", "air gap", "vent beyond")
"""Ends that hold: a closed valve is none of them, its seat may pass."""

LOOKED_AT = timedelta(hours=24)
"""How old a look at ends, restraints and bolts may be: own rule. [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionEnd(About):
    """One place where a section meets something that is not of it.

    Parameters
    ----------
    section, boundary : str
    another_line : bool
        Another line lies beyond, whose joints count while it is not cut off.
    how : str
        How it ends there as recorded; empty if nobody recorded it.
    now : datetime
        The moment judged.
    looked : datetime or None
        When that was recorded.
    """

    section: str
    boundary: str
    another_line: bool
    how: str
    now: datetime
    looked: datetime | None = None


@check(
    id="RAI-04", stage="fill", facts=SectionEnd, hurts=True,
    rule="own rule: blinded, air-gapped or vented beyond; a closed valve is no isolation",
)  # fmt: skip
def section_end(facts: SectionEnd, _book: Book) -> Finding:
    """STOP where only a valve stands against equipment; CANNOT TELL where an end is not recorded in a day.

    Where another line lies beyond an end that does not hold, that line is judged with the section instead.
    """
    if not facts.how and facts.another_line:
        return answer("RAI-04", Verdict.GO, facts, why="counts")
    if not facts.how:
        return answer(
            "RAI-04", Verdict.CANNOT_TELL, facts, why="not_said",
            missing=(f"how it ends at {facts.boundary}",), next_step="record_end",
        )  # fmt: skip
    if facts.how not in ISOLATED:
        if facts.another_line:
            return answer("RAI-04", Verdict.GO, facts, why="counts")
        return answer("RAI-04", Verdict.STOP, facts, why="valve", next_step="blind_it")
    if facts.looked is None or age(facts.now, facts.looked) > LOOKED_AT:
        return answer(
            "RAI-04", Verdict.CANNOT_TELL, facts, why="old",
            missing=(f"a look at {facts.boundary} today",), next_step="record_end",
        )  # fmt: skip
    return answer("RAI-04", Verdict.GO, facts)


RESTRAINT, BOLTS = "restraint", "bolts"


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt(About):
    """Restraints, or flange bolts, as somebody last found them.

    Parameters
    ----------
    section : str
    what : str
        ``"restraint"`` or ``"bolts"``.
    now : datetime
        The moment judged.
    looked : datetime or None
        The earliest it can have been; None if it was not.
    good : bool
    looked_by : str
    after : datetime or None
        The newest thing made, moved or cut in the section.
    """

    section: str
    what: str
    now: datetime
    looked: datetime | None = None
    good: bool = False
    looked_by: str = ""
    after: datetime | None = None


def _lack(facts: LookedAt) -> str:
    """Why a look does not count; empty if it does."""
    if facts.looked is None:
        return "not"
    if not facts.good:
        return "bad"
    if facts.after is not None and age(facts.looked, facts.after) < timedelta(0):
        return "before"
    return "old" if age(facts.now, facts.looked) > LOOKED_AT else ""


@check(
    id="RAI-08", stage="raise", facts=LookedAt, hurts=True,
    rule="restraints are looked at and written down before pressure: published report of a fatal riser test",
)  # fmt: skip
def restraint_looked_at(facts: LookedAt, _book: Book) -> Finding:
    """STOP where restraints were found bad; CANNOT TELL until looked at since the last change, today."""
    why = _lack(facts)
    if not why:
        return answer("RAI-08", Verdict.GO, facts)
    if why == "bad":
        return answer("RAI-08", Verdict.STOP, facts, why="bad", next_step="put_it_right")
    return answer(
        "RAI-08", Verdict.CANNOT_TELL, facts, why=why, missing=(facts.what,), next_step="look_restraint"
    )


@check(
    id="RAI-10", stage="raise", facts=LookedAt, hurts=True,
    rule="flange and restraint bolts to torque before pressure: published report of a fatal riser test",
)  # fmt: skip
def bolts_tight(facts: LookedAt, _book: Book) -> Finding:
    """STOP where bolts were found loose; CANNOT TELL until tightened since the last change, today."""
    why = _lack(facts)
    if not why:
        return answer("RAI-10", Verdict.GO, facts)
    if why == "bad":
        return answer("RAI-10", Verdict.STOP, facts, why="bad", next_step="put_it_right")
    return answer(
        "RAI-10", Verdict.CANNOT_TELL, facts, why=why, missing=(facts.what,), next_step="torque_bolts"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Fresh(About):
    """Fresh grout, an anchor or a thrust block.

    Parameters
    ----------
    section, what : str
    now : datetime
        The moment judged.
    ready : datetime or None
        When it may be loaded, as recorded.
    """

    section: str
    what: str
    now: datetime
    ready: datetime | None = None


@check(
    id="RAI-09", stage="raise", facts=Fresh, hurts=True,
    rule="no thrust on green grout or blocks: common practice, no source; the engineer says when it is ready",
)  # fmt: skip
def fresh(facts: Fresh, _book: Book) -> Finding:
    """NOT BEFORE grout, anchor or block is ready; CANNOT TELL where nobody said when that is."""
    if facts.ready is None:
        return answer(
            "RAI-09", Verdict.CANNOT_TELL, facts, why="no_time", missing=(f"when the {facts.what} is ready",),
            next_step="say_ready",
        )  # fmt: skip
    if age(facts.ready, facts.now) > timedelta(0):
        found = answer("RAI-09", Verdict.WAIT, facts, governs=facts.what, next_step="ask_again")
        return replace(found, until=rounded_up(facts.ready))
    return answer("RAI-09", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionKnown(About):
    """Whether the section and its record are whole.

    Parameters
    ----------
    section : str
    unclear : tuple of str
        Why its record does not hold.
    strays : tuple of str
        Joints made on site that are not on the drawing, of this section or of nobody knows which.
    in_charge : str
        Person in charge of the test by job.toml; empty if nobody is named.
    joints : tuple of str
    """

    section: str
    unclear: tuple[str, ...] = ()
    strays: tuple[str, ...] = ()
    in_charge: str = ""


@check(
    id="RAI-11", stage="fill", facts=SectionKnown, hurts=True,
    rule="own rule: one person in charge of the test, named; nothing stands in the section that the drawing "
    "does not show",
)  # fmt: skip
def section_known(facts: SectionKnown, _book: Book) -> Finding:
    """CANNOT TELL while its record is unclear, a joint of it is off the drawing, or nobody is in charge."""
    if facts.unclear:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), next_step="settle"
        )
    if facts.strays:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="stray", missing=("its place on the drawing",),
            next_step="draw_it",
        )  # fmt: skip
    if not facts.in_charge:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="nobody", missing=("person in charge of the test",),
            next_step="name_in_charge",
        )  # fmt: skip
    return answer("RAI-11", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed(About):
    """Whether a section stands under pressure by the record.

    Parameters
    ----------
    section : str
    release : str
        The release that has no later proof of zero; empty if none.
    asked : float or None
        The pressure it was for. [Pa]
    since : datetime or None
        When it was given.
    zero : datetime or None
        When an open vent last showed zero.
    zero_needed : bool
        Zero must have been proved, as somebody is about to open the line.
    now : datetime or None
        The moment judged, where zero must have been proved.
    unclear : tuple of str
        Why the record of the section does not hold.
    """

    section: str
    release: str = ""
    asked: float | None = None
    since: datetime | None = None
    zero: datetime | None = None
    zero_needed: bool = False
    now: datetime | None = None
    unclear: tuple[str, ...] = ()


@check(
    id="MOV-05", stage="move", facts=Pressed, hurts=True,
    rule="nobody works on a pressurised pipe: published report of a state fatality investigation; zero is "
    "proved by an open vent at each section",
)  # fmt: skip
def not_pressed(facts: Pressed, _book: Book) -> Finding:
    """STOP for every cut, bolt and cap in a section UNDER PRESSURE, until an open vent proved zero."""
    if facts.release:
        return answer("MOV-05", Verdict.STOP, facts, why="pressed", next_step="prove_zero")
    if facts.unclear:
        return answer(
            "MOV-05", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), next_step="settle"
        )
    if facts.zero_needed and facts.zero is None:
        return answer(
            "MOV-05", Verdict.CANNOT_TELL, facts, why="no_zero", missing=("zero proved by an open vent",),
            next_step="prove_zero",
        )  # fmt: skip
    if facts.zero_needed and facts.zero is not None and facts.now is not None:
        if age(facts.now, facts.zero) > LOOKED_AT:
            return answer(
                "MOV-05", Verdict.CANNOT_TELL, facts, why="old_zero",
                missing=("zero proved by an open vent today",), next_step="prove_zero",
            )  # fmt: skip
    return answer("MOV-05", Verdict.GO, facts)
