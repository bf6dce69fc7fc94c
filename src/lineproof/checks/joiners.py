"""Who may make the joint, and whether there are hands enough."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from lineproof.book.bonders import SCHEMES, profile
from lineproof.book.cement import crew
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.qualified import NO_WORK, UNKNOWN, Need, Worked, good_until, standing
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.people import Qualification


@dataclass(frozen=True, slots=True, kw_only=True)
class Joiner(About):
    """One joiner and what the line asks for.

    Parameters
    ----------
    person, name : str
    qualifications : tuple of Qualification
    need : Need
    worked : Worked
        What is recorded of the joiner's joints of this kind.
    scheme : str
        The profile of the job.
    bound : bool
        The job binds every qualification to it.
    """

    person: str
    name: str
    qualifications: tuple[Qualification, ...]
    need: Need
    worked: Worked = NO_WORK
    scheme: str = SCHEMES[0]
    bound: bool = False


def _told(need: Need) -> dict[str, Any]:
    return {
        "need_material": need.material,
        "need_steps": need.steps,
        "smallest": need.smallest.text,
        "largest": need.largest.text,
        "first_day": need.day,
    }


@check(
    id="PPL-01", stage="join", facts=Joiner,
    rule="the profile of the job: ASME B31.1a-2008, B31.3 ch. VII, IMO A.753(18), 49 CFR 192.285, EN 13067",
)  # fmt: skip
def joiner_qualified(facts: Joiner, book: Book) -> Finding:
    """STOP for a joiner whose qualification does not cover the line or has lapsed."""
    log = Reading()
    day = facts.need.day
    state = standing(
        facts.qualifications, facts.need, day, facts.scheme, book, log, worked=facts.worked,
        bound=facts.bound,
    )  # fmt: skip
    told: dict[str, Any] = {**_told(facts.need), **_when(facts, book)}
    if not state:
        return answer("PPL-01", Verdict.GO, facts, log, **told)
    if state == "no_day":
        return answer(
            "PPL-01", Verdict.CANNOT_TELL, facts, log, why="no_day", next_step="say_last_used",
            missing=("conditions.start" if day is None else "last day of use",), **told,
        )  # fmt: skip
    if state == "not_confirmed":
        return answer(
            "PPL-01", Verdict.CANNOT_TELL, facts, log, why="not_confirmed", next_step="confirm_joiner",
            missing=("the employer's confirmation",), **told,
        )  # fmt: skip
    if state == "no_expiry":
        return answer(
            "PPL-01", Verdict.CANNOT_TELL, facts, log, why="no_expiry", next_step="say_expiry",
            missing=("last day of the qualification",), **told,
        )  # fmt: skip
    if state == "no_size_rule":
        return answer(
            "PPL-01", Verdict.CANNOT_TELL, facts, log, why="no_size_rule", next_step="ask_sizes",
            missing=("how far the test piece reaches",), **told,
        )  # fmt: skip
    return answer(
        "PPL-01", Verdict.STOP, facts, log, why=state, governs=facts.person,
        next_step="requalify" if state in ("lapsed", "expired", "failed") else "other_joiner", **told,
    )  # fmt: skip


def _when(facts: Joiner, book: Book) -> dict[str, Any]:
    """For the sentence: when the process was last used and last tested, and the profile's months."""
    used = [d for q in facts.qualifications for d in (q.last_used_on, q.tested_on) if d is not None]
    used += facts.worked.days[-1:]
    tested = [q.tested_on for q in facts.qualifications if q.tested_on is not None]
    rules = profile(book, facts.scheme, Reading())
    return {
        "months": rules.idle, "last_used": max(used, default=None), "tested": max(tested, default=None),
        "until": _last_day(facts, book, Reading()),
    }  # fmt: skip


def _last_day(facts: Joiner | Ahead, book: Book, log: Reading) -> date | None:
    """The last day of the qualification that lasts longest, of those for this material and these steps."""
    ends = [
        good_until(q, profile(book, q.scheme or facts.scheme, log), facts.worked)
        for q in facts.qualifications
        if q.material == facts.need.material and facts.need.steps in ("", q.steps)
    ]
    return max((d for d in ends if d is not None), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead(About):
    """One joiner, who is qualified on the first day, and the last day of the joints of the crew.

    Parameters
    ----------
    person, name : str
    qualifications : tuple of Qualification
    need : Need
    last_day : date or None
        Of the crew's joints of this kind, as planned.
    worked : Worked
        What is recorded of the joiner's joints of this kind.
    scheme : str
        The profile of the job.
    """

    person: str
    name: str
    qualifications: tuple[Qualification, ...]
    need: Need
    last_day: date | None
    worked: Worked = NO_WORK
    scheme: str = SCHEMES[0]


@check(
    id="PPL-03", stage="join", facts=Ahead,
    rule="the profile of the job, held against the last planned day of the crew: own rule",
)  # fmt: skip
def holds_to_the_end(facts: Ahead, book: Book) -> Finding:
    """CARE where a qualification ends before the crew's last planned joint if nothing keeps it."""
    log = Reading()
    ends = _last_day(facts, book, log)
    if facts.last_day is None:
        return answer(
            "PPL-03", Verdict.CANNOT_TELL, facts, why="no_end", missing=("last day of joining",),
            next_step="say_last_day", until=ends,
        )  # fmt: skip
    if ends is None:
        return answer(
            "PPL-03", Verdict.CANNOT_TELL, facts, log, why="no_expiry", next_step="say_expiry",
            missing=("last day of the qualification",),
        )  # fmt: skip
    if ends < facts.last_day:
        return answer("PPL-03", Verdict.CARE, facts, log, why="ends", until=ends, next_step="keep_qualified")
    return answer("PPL-03", Verdict.GO, facts, log, until=ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class MockUp(About):
    """The largest joint of a joiner's line, and the largest test piece there was.

    Parameters
    ----------
    person, name : str
    test : Size or None
        None if nobody said.
    largest : Size
    """

    person: str
    name: str
    test: Size | None
    largest: Size


CREW_WORK = 6.0
"""Above this nominal size in inches a joint is work for a crew with pullers (laboratory page). [NPS]"""


@check(
    id="PPL-04", stage="join", facts=MockUp,
    rule="a small test piece says nothing about crew work at a large joint: own rule",
)  # fmt: skip
def mock_up(facts: MockUp, _book: Book) -> Finding:
    """CARE where the test piece was smaller than a joint that takes a crew: make one of full size first."""
    inches = facts.largest.nominal / (25.4 if facts.largest.metric else 1.0)
    if facts.test is None or facts.test >= facts.largest or inches <= CREW_WORK:
        return answer("PPL-04", Verdict.GO, facts, why="" if facts.test is not None else "not_said")
    return answer("PPL-04", Verdict.CARE, facts, why="small", next_step="full_size")


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewSkill(About):
    """The people of the crews of a line.

    Parameters
    ----------
    crews : tuple of str
        Ids of the crews that work on it; empty if none does.
    people : tuple of tuple
        Qualifications of each person, and what is recorded of their joints.
    need : Need
    scheme : str
        The profile of the job.
    bound : bool
        The job binds every qualification to it.
    """

    crews: tuple[str, ...]
    people: tuple[tuple[tuple[Qualification, ...], Worked], ...]
    need: Need
    scheme: str = SCHEMES[0]
    bound: bool = False


@check(
    id="PPL-02",
    stage="join",
    rule="the person with the brush is qualified: ASME B31.1a-2008",
    facts=CrewSkill,
)
def crew_qualified(facts: CrewSkill, book: Book) -> Finding:
    """STOP where nobody of the line's crew is qualified for it."""
    if not facts.crews:
        return answer(
            "PPL-02", Verdict.CANNOT_TELL, facts, why="no_crew", missing=("crew",), next_step="name_crew",
            **_told(facts.need),
        )  # fmt: skip
    log = Reading()
    states = []
    for held, worked in facts.people:
        own = Reading()
        states.append(
            standing(
                held, facts.need, facts.need.day, facts.scheme, book, own, worked=worked, bound=facts.bound
            )
        )
        if not states[-1]:
            log.add(own.as_tuple())
    good = states.count("")
    if good:
        return answer("PPL-02", Verdict.GO, facts, log, qualified=good)
    if any(state in UNKNOWN for state in states):
        return answer(
            "PPL-02", Verdict.CANNOT_TELL, facts, log, why="no_day", missing=("last day of use",),
            next_step="say_last_used", **_told(facts.need),
        )  # fmt: skip
    return answer("PPL-02", Verdict.STOP, facts, log, next_step="other_joiner", **_told(facts.need))


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsThere(About):
    """People at a joint of one size.

    Parameters
    ----------
    size : Size
    present : int or None
        People in the smallest crew of the line; None if none is named.
    by_procedure, by_crew : int or None
        People that the procedure and the crew's own rule ask for; None if they do not say.
    by_brushes : int or None
        People so that every applicator has a hand.
    coating_time, working_time : float or None
        All coats by one pair of hands; first coat to home. [s]
    by_time : int or None
        People so that all coats are on within the working time.
    """

    size: Size
    present: int | None
    by_procedure: int | None
    by_crew: int | None = None
    by_brushes: int | None = None
    coating_time: float | None = None
    working_time: float | None = None
    by_time: int | None = None


@check(
    id="HND-01", stage="join", facts=HandsThere,
    rule="the procedure's crew rule; else people by size: plastics-failure laboratory page",
)  # fmt: skip
def hands_there(facts: HandsThere, book: Book) -> Finding:
    """STOP with fewer people than the procedure asks for; CARE with fewer than size or time asks for."""
    if facts.present is None:
        return answer(
            "HND-01", Verdict.CANNOT_TELL, facts, why="no_crew", missing=("crew",), next_step="name_crew"
        )
    log = Reading()
    said = max((n for n in (facts.by_procedure, facts.by_crew) if n is not None), default=None)
    if facts.by_procedure is not None and facts.present < facts.by_procedure:
        return answer(
            "HND-01", Verdict.STOP, facts, why="procedure", needed=facts.by_procedure,
            short=facts.by_procedure - facts.present, next_step="more_hands",
        )  # fmt: skip
    if said is None:
        rule = crew(book, facts.size, log)
        if rule is None:
            return answer(
                "HND-01", Verdict.CANNOT_TELL, facts, log, why="no_rule", missing=("people a joint",),
                next_step="ask_hands",
            )  # fmt: skip
        said = rule.fewest
    needed = max(n for n in (said, facts.by_brushes, facts.by_time) if n is not None)
    if facts.present < needed:
        timed = facts.by_time is not None and facts.by_time > max(said, facts.by_brushes or 0)
        return answer(
            "HND-01", Verdict.CARE, facts, log, why="time" if timed else "few", needed=needed,
            short=needed - facts.present, next_step="more_hands",
        )  # fmt: skip
    return answer("HND-01", Verdict.GO, facts, log, needed=needed)
