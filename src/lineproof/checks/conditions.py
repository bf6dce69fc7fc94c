"""What only counts on the spot, and who may answer: unanswered is CANNOT TELL, an old answer is none."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from lineproof.book.load import Book
from lineproof.checks.clocked import age
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict

FILL, RAISE = "fill", "raise"
ANYBODY, ASKER, LEAD = "a named person", "the one who asks", "the lead"
"""Who may answer: anybody by name, only the one who asks for the answer, only the lead of job.toml."""

SHIFT = timedelta(hours=12)
QUARTER = timedelta(minutes=15)
REPORTED = timedelta(minutes=10)
"""How long an answer is good for: 15 and 10 minutes by the design; a shift is our own rule."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Something a person answers for by an entry ``condition``.

    Parameters
    ----------
    id : str
        As it is typed; never used for anything else.
    verbs : tuple of str
        ``"fill"``, ``"raise"``: what waits for it.
    who : str
        One of ``ANYBODY``, ``ASKER``, ``LEAD``.
    at_place : bool
        Whether it is answered by somebody who stands there, so that the place must be told.
    good_for : timedelta
        An older answer counts for nothing.
    """

    id: str
    verbs: tuple[str, ...]
    who: str
    at_place: bool
    good_for: timedelta


CONDITIONS: dict[str, Condition] = {
    c.id: c
    for c in (
        Condition("people-out", (FILL, RAISE), ANYBODY, True, QUARTER),
        Condition("nothing-since", (FILL, RAISE), ASKER, False, QUARTER),
        Condition("vents-open", (FILL,), ANYBODY, True, QUARTER),
        Condition("air-out", (RAISE,), ANYBODY, True, SHIFT),
        Condition("joints-ready", (FILL, RAISE), LEAD, False, SHIFT),
    )
}
"""Every condition by its id. ``heard-for`` is asked for each silent writer by itself, see RAI-05."""

HEARD_FOR = "heard-for"
"""A writer that is not heard is answered for by name with this condition, ``about`` the writer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTheSpot(About):
    """One condition and the newest answer to it.

    Parameters
    ----------
    condition : str
        A key of ``CONDITIONS``.
    now : datetime
        The moment judged.
    asker, lead : str
        Who asks, and the lead of job.toml; empty if not said.
    answered : datetime or None
        The earliest the newest answer can have been given.
    good : bool
        The answer was yes.
    answered_by, place : str
        Who answered and where.
    since : datetime or None
        For ``nothing-since``: the moment the answer speaks from.
    needed_since : datetime or None
        Up to when the record of the section is known: the answer must reach back to it.
    after : datetime or None
        The newest thing recorded of the section; an older answer does not speak of it.
    """

    condition: str
    now: datetime
    asker: str = ""
    lead: str = ""
    answered: datetime | None = None
    good: bool = False
    answered_by: str = ""
    place: str = ""
    since: datetime | None = None
    needed_since: datetime | None = None
    after: datetime | None = None


@check(
    id="RAI-06", stage="fill", facts=OnTheSpot, hurts=True,
    rule="people out, every phone heard, nothing done since: lessons of a published fatal same-day test; own "
    "times of 15 min and a shift",
)  # fmt: skip
def on_the_spot(facts: OnTheSpot, _book: Book) -> Finding:
    """CANNOT TELL until somebody who may answers, and again when the answer has grown old; STOP on a no."""
    of = CONDITIONS[facts.condition]

    def not_told(why: str) -> Finding:
        return answer(
            "RAI-06", Verdict.CANNOT_TELL, facts, why=why, missing=(facts.condition,), next_step="answer_it",
            may_answer=of.who, minutes=of.good_for.total_seconds(),
        )  # fmt: skip

    if facts.answered is None:
        return not_told("no_answer")
    if not facts.good:
        return answer("RAI-06", Verdict.STOP, facts, why="no", next_step="put_it_right")
    if age(facts.now, facts.answered) > of.good_for:
        return not_told("old")
    if facts.after is not None and age(facts.answered, facts.after) < timedelta(0):
        return not_told("before")
    if of.who == ASKER and (not facts.asker or facts.answered_by != facts.asker):
        return not_told("not_asker")
    if of.who == LEAD and (not facts.lead or facts.answered_by != facts.lead):
        return not_told("not_lead")
    if of.at_place and not facts.place:
        return not_told("no_place")
    if facts.since is not None and facts.needed_since is not None:
        if age(facts.since, facts.needed_since) > timedelta(0):
            return not_told("too_short")
    return answer("RAI-06", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard(About):
    """A phone or machine that wrote of the section within a day.

    Parameters
    ----------
    writer, device : str
        Start of its UUID, and what it calls itself.
    now : datetime
        The moment judged.
    here : bool
        It is this machine.
    heard : datetime or None
        When something of it last came in.
    answered : datetime or None
        When somebody last answered for it.
    good : bool
        That answer was yes.
    answered_by : str
        Who answered.
    """

    writer: str
    device: str
    now: datetime
    here: bool = False
    heard: datetime | None = None
    answered: datetime | None = None
    good: bool = False
    answered_by: str = ""


@check(
    id="RAI-05", stage="fill", facts=Heard, hurts=True,
    rule="own rule: every phone seen on the section in 24 h has reported in the last 10 minutes, or somebody "
    "answers for it by name",
)  # fmt: skip
def heard(facts: Heard, _book: Book) -> Finding:
    """CANNOT TELL while a phone seen on the section in 24 h has not reported in the last 10 minutes."""
    if facts.here:
        return answer("RAI-05", Verdict.GO, facts)
    if facts.heard is not None and timedelta(0) <= age(facts.now, facts.heard) <= REPORTED:
        return answer("RAI-05", Verdict.GO, facts)
    if facts.answered is not None and age(facts.now, facts.answered) <= REPORTED:
        if facts.good:
            return answer("RAI-05", Verdict.GO, facts, why="answered_for")
        return answer("RAI-05", Verdict.STOP, facts, why="no", next_step="hear_it")
    return answer(
        "RAI-05", Verdict.CANNOT_TELL, facts, why="silent", missing=(f"word of {facts.device}",),
        next_step="hear_it",
    )  # fmt: skip
