"""Where every joint stands, in the order of our clocks, and whether it may be moved: what ``now`` tells."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from lineproof.checks.moving import HoldTags
from lineproof.checks.registry import ask
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Finding, Verdict, worst
from lineproof.job.progress import JointProgress, Progress
from lineproof.plan.facts_move import tag_facts
from lineproof.plan.hang_together import hang_together
from lineproof.plan.may_move import ALL, may_move
from lineproof.plan.model import JointPlace
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work


class JointState(StrEnum):
    """How far a joint is, in the order of our clocks."""

    TO_MAKE = "to make"
    HOLDING = "holding"
    HANDS_OFF = "hands off"
    CURING = "curing"
    TO_TEST = "may be tested"
    PROVEN = "proven"
    CUT_OUT = "cut out"


@dataclass(frozen=True, slots=True, kw_only=True)
class JointStands:
    """One joint now.

    Parameters
    ----------
    id, line : str
    state : JointState
    verdict : Verdict
        Whether it may be moved; CANNOT TELL for a joint that is not made. (It says nothing of pressure.)
    until : datetime or None
        Not before this moment, as far as is known.
    findings : tuple of Finding
        Worse than GO, the worst first.
    held_by : str
        The worst other joint of its body that may not be moved; empty if there is none.
    held_until : datetime or None
        None of the body before this moment, as far as is known.
    """

    id: str
    line: str
    state: JointState
    verdict: Verdict
    until: datetime | None = None
    findings: tuple[Finding, ...] = ()
    held_by: str = ""
    held_until: datetime | None = None

    @property
    def free(self) -> bool:
        """Whether it may be moved: nothing stands against it, nor against any joint that moves with it."""
        return self.verdict is Verdict.GO and not self.held_by


def joint_stands(
    work: Work,
    progress: Progress,
    *,
    cured: Collection[str] = (),
    proven: Collection[str] = (),
    dampest: float | None = None,
) -> dict[str, JointStands]:
    """Where every joint of a job stands: those of the drawing, then those that are only recorded.

    Parameters
    ----------
    work : Work
        With named joints.
    progress : Progress
    cured : collection of str
        Joints whose cure time for the pressure planned there is over.
    proven : collection of str
        Joints that passed their test.
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]

    Returns
    -------
    dict
        Joint id to where it stands. No joint is said to be ready to move on a doubt.
    """
    places = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
    told = _findings(work, progress, places, dampest)
    unplaced = tag_facts((), "", (), work, progress).unplaced if progress.tags else ()
    spools = _spools(work) if progress.tags else {}
    found: dict[str, JointStands] = {}
    for name in (*places, *(n for n in progress.joints if n not in places)):
        joint = progress.of(name)
        line = places[name].line if name in places else name.partition("/")[0]
        if joint.cut_out and not joint.unclear:
            found[name] = JointStands(
                id=name, line=line, state=JointState.CUT_OUT, verdict=Verdict.CANNOT_TELL
            )
            continue
        if joint.untouched:
            found[name] = JointStands(
                id=name, line=line, state=JointState.TO_MAKE, verdict=Verdict.CANNOT_TELL
            )
            continue
        findings = list(told.get(name, ()))
        if progress.tags:
            own = _names(name, joint, places, work, spools)
            hang = tuple(tag.tag for tag in progress.tags if tag.sure and own & set(tag.on))
            unsure = tuple(tag for tag in unplaced if tag not in hang)
            facts = HoldTags(subject=name, joints=(name,), tags=hang, unplaced=unsure)
            findings.append(ask("MOV-04", facts, work.book))
        verdict = worst(findings) if findings else Verdict.CANNOT_TELL
        found[name] = JointStands(
            id=name,
            line=line,
            state=_state(joint, findings, cured, proven),
            verdict=verdict,
            until=max((f.until for f in findings if f.until is not None), default=None),
            findings=tuple(
                sorted((f for f in findings if f.verdict is not Verdict.GO), key=lambda f: (-f.verdict, f.id))
            ),
        )
    return _held(found, work, progress)


def _held(found: dict[str, JointStands], work: Work, progress: Progress) -> dict[str, JointStands]:
    """The same, with the joint of each body that holds the others back."""
    gone = (JointState.TO_MAKE, JointState.CUT_OUT)
    # What is in doubt ties as well: a joint told of in any way is taken to be there.
    here = [n for n, s in found.items() if s.state not in gone or (s.findings and s.state is not gone[1])]
    bodies = hang_together(work, progress, here)
    worst_of: dict[str, JointStands] = {}
    until: dict[str, datetime] = {}
    for name, body in bodies.items():
        stands = found[name]
        if stands.verdict is Verdict.GO:
            continue
        if body not in worst_of or _weight(stands) > _weight(worst_of[body]):
            worst_of[body] = stands
        if stands.until is not None:
            until[body] = max(stands.until, until.get(body, stands.until))
    for name, body in bodies.items():
        if found[name].verdict is Verdict.GO and body in worst_of:
            found[name] = replace(
                found[name], held_by=worst_of[body].id, held_until=until.get(body)
            )  # fmt: skip
    return found


def _weight(stands: JointStands) -> tuple[int, float]:
    return int(stands.verdict), stands.until.timestamp() if stands.until is not None else 0.0


def _state(
    joint: JointProgress, findings: list[Finding], cured: Collection[str], proven: Collection[str]
) -> JointState:
    if not joint.made:
        return JointState.TO_MAKE
    said = {f.id: f.verdict for f in findings}
    if said.get("MOV-01") is not Verdict.GO:
        return JointState.HOLDING
    if said.get("MOV-02") is not Verdict.GO:
        return JointState.HANDS_OFF
    if joint.id in proven:
        return JointState.PROVEN
    return JointState.TO_TEST if joint.id in cured else JointState.CURING


def _findings(
    work: Work, progress: Progress, places: Mapping[str, JointPlace], dampest: float | None
) -> dict[str, list[Finding]]:
    """Findings of each joint with a record, hold tags left out; asked line by line, as that is quick."""
    told: dict[str, list[Finding]] = {}
    lines = {places[n].line for n in progress.joints if n in places and not progress.of(n).untouched}
    for line in sorted(lines):
        try:
            answer = may_move(line, work, progress, not_made=(ALL,), dampest=dampest)
        except BadInput:  # the line has the name of something else as well: its joints one by one
            continue
        joints = set(answer.joints)
        for f in answer.findings:
            if f.id == "MOV-04":
                continue
            for name in _about(f, answer.findings, joints):
                mine = told.setdefault(name, [])
                if f not in mine:
                    mine.append(f)
    for name, joint in progress.joints.items():
        if name not in told and not joint.untouched and not (joint.cut_out and not joint.unclear):
            alone = may_move(name, work, progress, dampest=dampest)
            told[name] = [f for f in alone.findings if f.id != "MOV-04"]
    return told


def _about(f: Finding, findings: tuple[Finding, ...], joints: set[str]) -> set[str]:
    """Joints a finding is about: those it names, those of its card, else all."""
    named = f.facts.get("joints")
    if isinstance(named, tuple) and named:
        return {str(n) for n in named}
    if f.subject in joints:
        return {f.subject}
    card = f.facts.get("card")
    if card:
        return {o.subject for o in findings if o.id == "MOV-02" and o.facts.get("card") in (card, "")}
    return joints


def _spools(work: Work) -> dict[str, str]:
    parts = (*work.graph.parts.values(), *work.cutting.couplings.values())
    found = {part.id: part.spool for part in parts if part.spool}
    return found | {piece.id: piece.spool for piece in work.cutting.pieces if piece.spool}


def _names(
    name: str,
    joint: JointProgress,
    places: Mapping[str, JointPlace],
    work: Work,
    spools: Mapping[str, str],
) -> frozenset[str]:
    """What a hold tag on this joint could call it: itself, its parts, its line, spool and section."""
    own = {name}
    place = places.get(name)
    if place is not None:
        own |= {place.line, place.socket[0], place.spigot[0]}
    elif joint.beside:
        own.add(joint.beside)
    lines = {n.partition("/")[0] for n in own}
    sections = {section.id for line in lines for section in work.job.settings.sections_of(line)}
    return frozenset(own | lines | sections | {spools[n] for n in own if n in spools})
