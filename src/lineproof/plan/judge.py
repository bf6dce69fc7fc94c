"""Asks every check of a whole job, by cause, and says what a lead reads: some findings, not a thousand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from lineproof.checks.registry import MAKING, UNVERIFIED, all_checks
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict, worst
from lineproof.job.progress import Progress
from lineproof.plan.causes import Causes
from lineproof.plan.confirmations import Confirm, fewest_confirmations
from lineproof.plan.facts_joints import add_cement, add_joints
from lineproof.plan.facts_line import add_geometry, add_stock, add_systems
from lineproof.plan.facts_parts import add_flanges, add_parts
from lineproof.plan.facts_site import add_sections, add_site
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.joints import joint_plans
from lineproof.plan.people import add_joiners
from lineproof.plan.rough_days import rough_days
from lineproof.plan.subjects import Subjects
from lineproof.plan.work import Work

MERGE_OVER = 3
"""More causes than this with one reason are told together (own rule)."""
SUMMED = {"PRT-01": ("wants", "measured", "places")}
"""Counts of a check that are added up where alike findings are told together; the others show the worst."""
SHOWN_WHEN_GO = ("GEO-03", "PRS-01")
"""Answers a lead wants to read though nothing stands against them: leftover angles, the weakest part."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """What the checks say of a job.

    Parameters
    ----------
    findings : tuple of Finding
        For reading: worst first, alike ones told together, GO left out but where it is an answer by itself.
    each : tuple of Finding
        One a cause, GO among them; what ``findings`` is made from.
    joints, pieces : mapping
        Id to its worst verdict before it may be made (a joint) or cut (a piece).
    confirmations : tuple of Confirm
        The fewest tables that clear the most.
    """

    findings: tuple[Finding, ...]
    each: tuple[Finding, ...]
    joints: Mapping[str, Verdict]
    pieces: Mapping[str, Verdict]
    confirmations: tuple[Confirm, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of all."""
        return worst(self.each)

    def count(self, of: Mapping[str, Verdict], verdict: Verdict = Verdict.GO) -> int:
        """How many of ``joints`` or ``pieces`` stand at a verdict."""
        return sum(v is verdict for v in of.values())


def judge(
    work: Work,
    plans: Sequence[JointPlan] | None = None,
    *,
    last_day: date | None = None,
    progress: Progress | None = None,
) -> Judgement:
    """Ask every check of a job.

    Parameters
    ----------
    work : Work
    plans : sequence of JointPlan, optional
        One a joint, in the order of the cutting; made here if not given.
    last_day : date, optional
        Last day of joining by a plan of days; estimated from labour hours without one.
    progress : Progress, optional
        What was joined so far: it keeps qualifications alive.

    Returns
    -------
    Judgement
        Findings, and the verdict of each joint and piece.
    """
    if plans is None:
        plans = joint_plans(work.graph, work.cutting, work.job.settings, work.book, catalogue=work.job.parts)
    names = Subjects(work, last_day)
    causes = Causes()
    add_geometry(causes, work, names)
    add_systems(causes, work, names)
    add_stock(causes, work, names)
    add_parts(causes, work, names)
    add_flanges(causes, work, names)
    add_cement(causes, work, names)
    add_joints(causes, work, names, plans)
    add_joiners(causes, work, names, rough_days(work, plans), progress)
    add_sections(causes, work, names)
    add_site(causes, work, names)
    each = causes.ask(work.book)
    return Judgement(
        findings=told_together(each),
        each=each,
        joints=joint_verdicts(each, names.names),
        pieces=piece_verdicts(each, (p.id for p in work.cutting.pieces)),
        confirmations=fewest_confirmations(each),
    )


def _verdicts(findings: Iterable[Finding], ids: Iterable[str], what: str) -> dict[str, Verdict]:
    found = dict.fromkeys(ids, Verdict.GO)
    checks = all_checks()
    for f in findings:
        if f.verdict is Verdict.GO or checks[f.id].stage not in MAKING:
            continue
        hit = f.facts.get(what, ())
        for name in hit if isinstance(hit, tuple) else ():
            if f.verdict > found.get(name, Verdict.GO):
                found[name] = f.verdict
    return found


def joint_verdicts(findings: Iterable[Finding], joints: Iterable[str]) -> dict[str, Verdict]:
    """Worst verdict of each joint before it may be made and moved.

    Parameters
    ----------
    findings : iterable of Finding
        One a cause.
    joints : iterable of str
        Ids of all joints.

    Returns
    -------
    dict of str to Verdict
        GO where nothing stands against a joint.
    """
    return _verdicts(findings, joints, "joints")


def piece_verdicts(findings: Iterable[Finding], pieces: Iterable[str]) -> dict[str, Verdict]:
    """Worst verdict of each piece before it may be cut.

    Parameters
    ----------
    findings : iterable of Finding
        One a cause.
    pieces : iterable of str
        Ids of all pieces.

    Returns
    -------
    dict of str to Verdict
        GO where nothing stands against a piece.
    """
    return _verdicts(findings, pieces, "pieces")


def told_together(each: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings for reading: alike ones in one, worst first.

    Parameters
    ----------
    each : iterable of Finding
        One a cause.

    Returns
    -------
    tuple of Finding
        A merged one carries ``facts["told_together"]``, how many it stands for; its numbers are the worst,
        or where ``facts["summed"]`` says so, those of all.
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for f in each:
        if f.verdict is Verdict.GO and f.id not in SHOWN_WHEN_GO:
            continue
        groups.setdefault((f.id, f.verdict, f.facts.get("why"), f.next_step), []).append(f)
    told: list[Finding] = []
    for alike in groups.values():
        if len(alike) > MERGE_OVER or alike[0].facts.get("why") == UNVERIFIED:
            told.append(_merged(alike))
            continue
        by_governs: dict[str, list[Finding]] = {}
        for n, f in enumerate(alike):
            who = str(f.facts.get("person", "")) or str(n)
            by_governs.setdefault(who, []).append(f)
        told += [_merged(same) for same in by_governs.values()]
    return tuple(sorted(told, key=lambda f: (-f.verdict, f.id, f.subject)))


def _excess(f: Finding) -> float:
    """How far a value is past its limit, as a share of it; to show the worst of those told together."""
    if f.measured is None or f.limit is None:
        return 0.0
    return abs(f.measured - f.limit) / (abs(f.limit) or 1.0)


def _listed(f: Finding, what: str) -> tuple[str, ...]:
    found = f.facts.get(what)
    if isinstance(found, tuple) and found:
        return found
    return (f.subject,) if what == "subjects" else ()


def _merged(alike: list[Finding]) -> Finding:
    if len(alike) == 1:
        return alike[0]
    first = max(alike, key=_excess)
    log = Reading()
    facts = dict(first.facts)
    for what in ("subjects", "joints", "pieces"):
        facts[what] = tuple(dict.fromkeys(x for f in (first, *alike) for x in _listed(f, what)))
    for f in alike:
        log.add(f.sources)
    facts["told_together"] = len(alike)
    counted = SUMMED.get(first.id, ())
    if counted and all(isinstance(f.facts.get(name), int) for f in alike for name in counted):
        facts |= {name: sum(int(str(f.facts[name])) for f in alike) for name in counted}
        facts |= {"waiting": len(_listed(replace(first, facts=facts), "pieces")), "summed": True}
    return replace(
        first,
        facts=facts,
        missing=tuple(dict.fromkeys(m for f in alike for m in f.missing)),
        sources=log.as_tuple(),
    )
