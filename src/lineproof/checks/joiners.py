"""Who may make the joint, and whether there are hands enough."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from lineproof.book.cement import crew
from lineproof.book.load import Book
from lineproof.book.rules import lapse_months
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.people import Qualification, within

SCHEMES = ("asme-b31.1", "asme-b31.3", "49-cfr-192.285", "en-13067")


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a joiner must be qualified for.

    Parameters
    ----------
    material : str
    steps : str
        ``"two-step"``, ``"one-step"``; empty if no procedure says.
    smallest, largest : Size
        Of the joints.
    procedure : str
        Id; empty if none.
    day : date or None
        First day of joining.
    """

    material: str
    steps: str
    smallest: Size
    largest: Size
    procedure: str = ""
    day: date | None = None


def months_later(day: date, months: int) -> date:
    """The same day of the month so many months later; the month's last day where it has no such day.

    Parameters
    ----------
    day : date
        The day.
    months : int
        How many, 0 or more. [-]

    Returns
    -------
    date
        The later day.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _standing(q: Qualification, need: Need, months: int, day: date | None, uses: Sequence[date] = ()) -> str:
    """Why a qualification does not count, worst last; empty if it does."""
    if q.material != need.material:
        return "material"
    if need.steps and q.steps != need.steps:
        return "steps"
    if need.procedure and q.procedure and q.procedure != need.procedure:
        return "procedure"
    if not (within(need.smallest, q.size_lo, q.size_hi) and within(need.largest, q.size_lo, q.size_hi)):
        return "size"
    return _in_use(q, months, day, uses)


def _in_use(q: Qualification, months: int, day: date | None, uses: Sequence[date]) -> str:
    """Whether the process was used often enough up to a day: the days on the list, then recorded joints."""
    if day is None or (q.tested_on is None and q.last_used_on is None):
        return "no_day"
    if q.tested_on is not None and q.tested_on > day:
        return "not_yet"
    kept = max((d for d in (q.tested_on, q.last_used_on) if d is not None and d <= day), default=None)
    if kept is None:
        return "no_day"
    for use in (*(u for u in uses if kept < u < day), day):
        if use > months_later(kept, months):
            # A later day of use on the list does not say what was before it.
            later = q.last_used_on is not None and q.last_used_on > day
            return "no_day" if later else "lapsed"
        kept = use
    return ""


_NEAREST = ("", "no_day", "not_yet", "lapsed", "size", "procedure", "steps", "material", "none")


def standing_on(
    qualifications: Sequence[Qualification],
    need: Need,
    months: int,
    day: date | None,
    uses: Sequence[date] = (),
) -> str:
    """Why nobody with these qualifications may make a joint on a day; empty if they may.

    Parameters
    ----------
    qualifications : sequence of Qualification
    need : Need
        Its own day does not count.
    months : int
        After so many without the process it lapses. [-]
    day : date or None
    uses : sequence of date
        Days on which joints of this kind are recorded as made, in order.

    Returns
    -------
    str
        The nearest miss: ``"no_day"``, ``"not_yet"``, ``"lapsed"``, ``"size"``, ``"procedure"``,
        ``"steps"``, ``"material"``, ``"none"``.
    """
    found = [_standing(q, need, months, day, uses) for q in qualifications] or ["none"]
    return min(found, key=_NEAREST.index)


def _best(qualifications: tuple[Qualification, ...], need: Need, months: int) -> str:
    return standing_on(qualifications, need, months, need.day)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joiner(About):
    """One joiner and what the line asks for.

    Parameters
    ----------
    person, name : str
    qualifications : tuple of Qualification
    need : Need
    scheme : str
        Row of the table of lapse rules.
    """

    person: str
    name: str
    qualifications: tuple[Qualification, ...]
    need: Need
    scheme: str = SCHEMES[0]


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
    rule="lapse over 6 months without the process: ASME B31.1a-2008; other schemes in the table",
)  # fmt: skip
def joiner_qualified(facts: Joiner, book: Book) -> Finding:
    """STOP for a joiner whose qualification does not cover the line or has lapsed."""
    log = Reading()
    months = int(lapse_months(book, facts.scheme, log))
    state = _best(facts.qualifications, facts.need, months)
    used = max(
        (d for q in facts.qualifications for d in (q.last_used_on, q.tested_on) if d is not None),
        default=None,
    )
    told: dict[str, Any] = {**_told(facts.need), "months": months, "last_used": used}
    if not state:
        return answer("PPL-01", Verdict.GO, facts, log, **told)
    if state == "no_day":
        missing = "conditions.start" if facts.need.day is None else "last day of use"
        return answer(
            "PPL-01", Verdict.CANNOT_TELL, facts, log, why=state, missing=(missing,),
            next_step="say_last_used", **told,
        )  # fmt: skip
    if state == "none":
        log = Reading()
    return answer(
        "PPL-01", Verdict.STOP, facts, log, why=state, governs=facts.person,
        next_step="requalify" if state == "lapsed" else "other_joiner", **told,
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewSkill(About):
    """The people of the crews of a line.

    Parameters
    ----------
    crews : tuple of str
        Ids of the crews that work on it; empty if none does.
    qualifications : tuple of tuple of Qualification
        Those of each person, person by person.
    need : Need
    scheme : str
        Row of the table of lapse rules.
    """

    crews: tuple[str, ...]
    qualifications: tuple[tuple[Qualification, ...], ...]
    need: Need
    scheme: str = SCHEMES[0]


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
    months = int(lapse_months(book, facts.scheme, log))
    states = [_best(q, facts.need, months) for q in facts.qualifications]
    good = states.count("")
    if good:
        return answer("PPL-02", Verdict.GO, facts, log, qualified=good)
    if "no_day" in states:
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
