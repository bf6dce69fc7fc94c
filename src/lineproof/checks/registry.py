"""The list of checks: each asks one question of plain facts and gives one Finding.

A check is a function ``(facts, book) -> Finding``. Its facts are a frozen value that the plan builds; what
it reads from the tables it reads itself, so that every Finding carries its sources.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from datetime import date
from enum import StrEnum
from functools import cache
from importlib import import_module
from typing import Any, TypeVar

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.errors import OurFault
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict, settle

STAGES = ("read", "order", "dry_fit", "join", "move", "fill", "raise", "handover")

MAKING = ("read", "order", "dry_fit", "join", "move")
"""Stages that stand between a joint and its making; pressure comes later."""

MODULES = (
    "geometry",
    "systems",
    "fittings",
    "flanges",
    "cement",
    "card_guards",
    "card_times",
    "conditions",
    "curing",
    "hour",
    "joiners",
    "last_gap",
    "made",
    "made_lots",
    "moving",
    "pressure",
    "raising",
    "section_state",
    "sequence",
    "site",
    "springing",
    "stock",
)
"""The modules of this room that hold checks."""

UNVERIFIED = "unverified"
"""The reason given where nothing but unconfirmed table values stands against GO."""


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a Finding is about; every set of facts begins with it.

    Parameters
    ----------
    subject : str
        The line, joint, part, lot, person or section it names.
    subjects : tuple of str
        All that share the same cause, the first one included; empty for one alone.
    joints, pieces : tuple of str
        Ids of the joints and pieces whose answer hangs on it.
    line : str
        The line, where it is one line's matter.
    where : str
        File and line of the input that says so.
    """

    subject: str
    subjects: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    line: str = ""
    where: str = ""


F = TypeVar("F", bound=About)


@dataclass(frozen=True, slots=True)
class Check:
    """One check as registered.

    Parameters
    ----------
    id : str
        Its name for good; never used twice.
    stage : str
        One of ``STAGES``: before which step the answer is wanted.
    rule : str
        Where the rule comes from.
    hurts : bool
        A wrong answer can hurt someone: then there is no CARE.
    ask : callable
        The function.
    facts : type
        The facts it takes.
    """

    id: str
    stage: str
    rule: str
    hurts: bool
    ask: Callable[[Any, Book], Finding]
    facts: type[About]


CHECKS: dict[str, Check] = {}
"""Every check by its id, filled as the modules of this room are read; ``all_checks`` reads them all."""


def check(
    *, id: str, stage: str, rule: str, facts: type[F], hurts: bool = False
) -> Callable[[Callable[[F, Book], Finding]], Callable[[F, Book], Finding]]:
    """Register a check.

    Parameters
    ----------
    id : str
        Such as ``"SYS-01"``; a second check with the same id is our own fault.
    stage : str
        One of ``STAGES``.
    rule : str
        The source of the rule, or ``"own rule"``.
    facts : type
        The facts it takes.
    hurts : bool
        Whether a wrong answer can hurt someone.

    Returns
    -------
    callable
        The decorator; the function itself is not changed.
    """

    def enlist(function: Callable[[F, Book], Finding]) -> Callable[[F, Book], Finding]:
        if id in CHECKS:
            raise OurFault(f"the check {id} is there twice", next="give the newer one an id of its own")
        if stage not in STAGES:
            raise OurFault(f"the stage {stage!r} of {id} is not known", allowed=", ".join(STAGES))
        CHECKS[id] = Check(id, stage, rule, hurts, function, facts)
        return function

    return enlist


@cache
def all_checks() -> dict[str, Check]:
    """Every check by its id, all modules read."""
    for name in MODULES:
        import_module(f"lineproof.checks.{name}")
    return dict(sorted(CHECKS.items()))


def _plain(value: object) -> object | None:
    """What a sentence may use: numbers, words, days, and lists of words; anything else is left out."""
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, Size):
        return value.text
    if isinstance(value, bool | int | float | str | date):
        return value
    if isinstance(value, tuple) and all(isinstance(v, str | int | float) for v in value):
        return value
    return None


def answer(
    id: str,
    verdict: Verdict,
    about: About,
    reading: Reading | None = None,
    *,
    why: str = "",
    next_step: str = "",
    measured: float | None = None,
    limit: float | None = None,
    unit: str = "",
    governs: str = "",
    missing: tuple[str, ...] = (),
    **more: object,
) -> Finding:
    """Build the Finding of a check: an unconfirmed value from memory never gives GO.

    Parameters
    ----------
    id : str
        The check.
    verdict : Verdict
        What the comparison says.
    about : About
        The facts; all that a sentence can use go into the Finding.
    reading : Reading, optional
        What was read from the tables.
    why : str
        A word for the reason; the verdict's own word by default.
    next_step : str
        A word for what to do now.
    measured, limit : float, optional
        The value met and the limit it was held against. [unit]
    unit : str
        SI unit of both.
    governs : str
        The id that decides.
    missing : tuple of str
        Inputs that are missing.
    **more : object
        Further values for the sentence.

    Returns
    -------
    Finding
        With ``facts["once_confirmed"]``, the verdict there would be if every value read were confirmed.
    """
    entry = CHECKS[id]
    log = reading or Reading()
    known = settle(verdict, Reading(), hurts=entry.hurts)
    given = settle(verdict, log, hurts=entry.hurts)
    facts: dict[str, object] = {}
    for f in fields(about):
        value = _plain(getattr(about, f.name))
        if value is not None:
            facts[f.name] = value
    facts.update({k: v for k, v in more.items() if v is not None})
    facts["why"] = why or verdict.name.lower()
    facts["once_confirmed"] = known.name
    if given is not known and known is Verdict.GO:
        facts["why"], next_step = UNVERIFIED, "confirm"
    return Finding(
        id=id,
        verdict=given,
        subject=about.subject,
        facts=facts,
        measured=measured,
        limit=limit,
        unit=unit,
        governs=governs,
        missing=missing,
        sources=log.as_tuple(),
        next_step=next_step,
        hurts=entry.hurts,
    )


def ask(id: str, facts: About, book: Book) -> Finding:
    """Ask one check.

    Parameters
    ----------
    id : str
        The check.
    facts : About
        The facts it takes.
    book : Book
        The tables.

    Returns
    -------
    Finding
        The answer.

    Raises
    ------
    OurFault
        If there is no such check, or the facts are another check's.
    """
    entry = all_checks().get(id)
    if entry is None:
        raise OurFault(f"there is no check {id}", allowed=", ".join(CHECKS))
    if not isinstance(facts, entry.facts):
        raise OurFault(f"{id} takes {entry.facts.__name__}, not {type(facts).__name__}")
    return entry.ask(facts, book)


def of_group(facts: F, subjects: tuple[str, ...], joints: tuple[str, ...], pieces: tuple[str, ...]) -> F:
    """The same facts for all subjects that share them.

    Parameters
    ----------
    facts : About
        The facts of one.
    subjects, joints, pieces : tuple of str
        All that share them.

    Returns
    -------
    About
        A copy.
    """
    return replace(facts, subject=subjects[0], subjects=subjects, joints=joints, pieces=pieces)
