"""May a section be filled, or taken to a pressure: each joint at its own, and all that stands around."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Finding, Verdict, worst
from lineproof.job.progress import Progress
from lineproof.plan.facts_raise import card_findings, section_facts, spot_facts
from lineproof.plan.may_move import governs_first
from lineproof.plan.raise_kept import RaiseKept
from lineproof.plan.section_at import Asked, SectionAt
from lineproof.plan.work import Work


@dataclass(frozen=True, slots=True, kw_only=True)
class MayRaise:
    """The answer.

    Parameters
    ----------
    asked : Asked
    verdict : Verdict
    until : datetime or None
        Not before this moment, as far as that is known; it stands beside CANNOT TELL as well.
    governs : Finding or None
        The one that decides.
    findings : tuple of Finding
        All that count, the worst first.
    then : tuple of Finding
        What is to be answered on the spot once nothing else waits.
    joints, beyond : tuple of str
        Joints that were asked, and lines beyond an end that does not hold.
    lines : tuple of str
        All lines that water can reach.
    left_out : tuple of str
        Joints that are cut out.
    since : datetime
        Up to when the record of the section is known: what was done since is asked.
    governing_pressure : float or None
        At the joint that governs. [Pa]
    """

    asked: Asked
    verdict: Verdict
    until: datetime | None
    governs: Finding | None
    findings: tuple[Finding, ...]
    then: tuple[Finding, ...]
    joints: tuple[str, ...]
    beyond: tuple[str, ...]
    lines: tuple[str, ...]
    left_out: tuple[str, ...]
    since: datetime
    governing_pressure: float | None


def may_raise(asked: Asked, work: Work, progress: Progress, kept: RaiseKept | None = None) -> MayRaise:
    """Whether a section may be filled or taken to a pressure, by the clocks and the record.

    Parameters
    ----------
    asked : Asked
    work : Work
        With named joints.
    progress : Progress
    kept : RaiseKept, optional
        What was told before of the same section of the same work; the answer is the same without it.

    Returns
    -------
    MayRaise

    Raises
    ------
    BadInput
        There is no such section or gauge place.
    """
    kept = RaiseKept(work) if kept is None else kept
    at = SectionAt(asked, work, progress, kept.drawn)
    book = work.book
    findings = [ask(name, facts, book) for name, facts in section_facts(at)]
    findings += card_findings(at)
    findings += kept.findings(at)
    spot = [ask(name, facts, book) for name, facts in spot_facts(at)]
    then: tuple[Finding, ...] = ()
    if worst(findings) is Verdict.GO:
        findings += spot
    else:
        # What only counts on the spot is asked then, as its answers would be old by that time; a no stands.
        findings += [f for f in spot if f.verdict is Verdict.STOP]
        then = tuple(f for f in spot if f.verdict not in (Verdict.STOP, Verdict.GO))
    ordered = sorted(findings, key=governs_first)
    governs = ordered[0] if ordered else None
    there = governs.facts.get("pressure") if governs is not None else None
    return MayRaise(
        asked=asked,
        verdict=worst(findings),
        until=max((f.until for f in findings if f.until is not None), default=None),
        governs=governs,
        findings=tuple(ordered),
        then=then,
        joints=tuple(j.id for j in (*at.made_of, *at.strays)),
        beyond=at.reach.beyond,
        lines=at.reach.lines,
        left_out=at.out,
        since=at.since,
        governing_pressure=there if isinstance(there, float) else None,
    )
