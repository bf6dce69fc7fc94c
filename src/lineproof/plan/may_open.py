"""May a line be opened: a cut, a bolt, a cap; and may weight come on it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from lineproof.checks.moving import JointRecord
from lineproof.checks.pressure import InSection
from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Finding, worst
from lineproof.job.progress import Progress
from lineproof.plan.facts_move import lines_at, pressed_facts, sections_pressed, tag_facts
from lineproof.plan.made_joint import made_findings
from lineproof.plan.may_move import MayMove, governs_first, may_move, what_moves
from lineproof.plan.model import JointPlace
from lineproof.plan.section_reach import reach_of
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

EXAMINED = ("MAD-01", "MAD-02")
"""Before weight comes on a joint it stands where it should, and another person has accepted it."""


def may_open(subject: str, work: Work, progress: Progress) -> MayMove:
    """Whether something may be cut, unbolted or uncapped: zero proved in each section that reaches it.

    Parameters
    ----------
    subject : str
        A joint, piece, spool, line or section.
    work : Work
        With named joints.
    progress : Progress

    Returns
    -------
    MayMove

    Raises
    ------
    BadInput
        Nothing, or more than one thing, is called so.
    """
    sections = work.job.settings.sections
    own = next((s for s in sections if s.id == subject), None)
    places = _places(work)
    if own is not None:
        lines: Collection[str] = reach_of(own, work.graph, progress.section(own.id).ends).own
        joints = tuple(n for n, j in places.items() if j.line in lines)
        kind, names = "section", frozenset({subject, *lines, *joints})
    else:
        moved = what_moves(subject, work, progress, places)
        lines = lines_at((*moved.names, *moved.joints), work, places)
        joints, kind, names = moved.joints, moved.kind, moved.names
    findings: list[Finding] = []
    reached = []
    for section in sections:
        reach = reach_of(section, work.graph, progress.section(section.id).ends)
        if set(reach.lines) & set(lines):
            reached.append(section.id)
    for section_id in dict.fromkeys((*reached, *sections_pressed(lines, work, progress))):
        facts = pressed_facts(section_id, progress, joints, zero_needed=True)
        findings.append(ask("MOV-05", facts, work.book))
    if progress.gaps:
        record = JointRecord(
            subject=subject,
            joints=joints,
            rejected=False,
            cut_out=False,
            off_drawing=False,
            unclear=(),
            gaps=progress.gaps,
        )
        findings.append(ask("MOV-03", record, work.book))
    for line in sorted(lines):
        if not work.job.settings.sections_of(line):
            findings.append(ask("PRS-05", InSection(subject=line, line=line, sections=()), work.book))
    findings.append(ask("MOV-04", tag_facts(names, subject, joints, work, progress), work.book))
    ordered = tuple(sorted(findings, key=governs_first))
    return MayMove(
        subject=subject,
        kind=kind,
        verdict=worst(findings),
        until=None,
        governs=ordered[0],
        findings=ordered,
        joints=joints,
        left_out=(),
    )


def may_load(
    subject: str,
    work: Work,
    progress: Progress,
    *,
    not_made: Collection[str] = (),
    dampest: float | None = None,
) -> MayMove:
    """Whether weight may come on it: soil, water of another line, a hung part, supports taken away.

    Parameters
    ----------
    subject : str
        A joint, piece, spool or line.
    work : Work
        With named joints.
    progress : Progress
    not_made, dampest
        As for ``may_move``.

    Returns
    -------
    MayMove
        All that moving asks, and that each joint stands where it should and was accepted.
    """
    found = may_move(subject, work, progress, not_made=not_made, dampest=dampest)
    places = _places(work)
    made = ((progress.of(n), places[n]) for n in found.joints if n in places and progress.of(n).made)
    more = [f for f in made_findings(made, work, progress) if f.id in EXAMINED]
    ordered = tuple(sorted((*found.findings, *more), key=governs_first))
    return replace(found, verdict=worst(ordered), governs=ordered[0], findings=ordered)


def _places(work: Work) -> dict[str, JointPlace]:
    return {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
