"""May it be moved or lowered: what hangs on a joint, piece, spool or line, asked joint by joint."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime

from lineproof.checks.cement import ReadBack
from lineproof.checks.moving import HoldEnded
from lineproof.checks.registry import About, ask
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Finding, Verdict, worst
from lineproof.job.cards import CementCard
from lineproof.job.duty import matches
from lineproof.job.progress import Disturbance, JointProgress, Progress
from lineproof.plan.facts_move import (
    field_joints_beside,
    hold_facts,
    lines_at,
    pressed_facts,
    record_facts,
    sections_pressed,
    tag_facts,
)
from lineproof.plan.joints import Planner
from lineproof.plan.model import JointPlace
from lineproof.plan.move_clock import MoveAsked, MoveClock
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

CLOCKS = ("MOV-02", "CUR-01")
"""Checks of the two clocks: of several answers that are alike theirs is told."""

ALL = "all"
"""Said of joints without a record: none of them is made."""


@dataclass(frozen=True, slots=True)
class Moved:
    """What is moved: the joints that hang on it, and every name it goes by.

    Parameters
    ----------
    subject : str
    kind : str
        ``"joint"``, ``"piece"``, ``"spool"`` or ``"line"``.
    joints : tuple of str
        Ids, those of joints that are not on the drawing among them.
    names : frozenset of str
        What a hold tag could call it, its parts and where it stands.
    """

    subject: str
    kind: str
    joints: tuple[str, ...]
    names: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class MayMove:
    """The answer.

    Parameters
    ----------
    subject, kind : str
        What was asked, and whether that is a joint, piece, spool or line.
    verdict : Verdict
    until : datetime or None
        Not before this moment, as far as that is known; it stands beside CANNOT TELL as well.
    governs : Finding or None
        The one that decides.
    findings : tuple of Finding
        All of them, the worst first.
    joints : tuple of str
        Joints that were asked.
    left_out : tuple of str
        Joints that are said not to be made, or are cut out.
    """

    subject: str
    kind: str
    verdict: Verdict
    until: datetime | None
    governs: Finding | None
    findings: tuple[Finding, ...]
    joints: tuple[str, ...]
    left_out: tuple[str, ...]


def may_move(
    subject: str,
    work: Work,
    progress: Progress,
    *,
    not_made: Collection[str] = (),
    dampest: float | None = None,
) -> MayMove:
    """Whether what is named may be moved or lowered, by the clocks and the record of its joints.

    Parameters
    ----------
    subject : str
        Id of a joint or a piece, name of a spool or a line.
    work : Work
        With named joints.
    progress : Progress
    not_made : collection of str
        Joints without a record that the one who asks says are not made; ``"all"`` for all of them.
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]

    Returns
    -------
    MayMove

    Raises
    ------
    BadInput
        Nothing, or more than one thing, is called so.
    """
    places = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
    moved = what_moves(subject, work, progress, places)
    unknown = sorted(n for n in not_made if n != ALL and n not in moved.joints)
    if unknown:
        raise BadInput(
            f"{', '.join(unknown[:3])} does not hang on {subject}",
            allowed="joints of it that have no record",
            next="leave it out",
        )
    told = [progress.of(name) for name in moved.joints]
    recorded = sorted(j.id for j in told if not j.untouched and j.id in not_made)
    if recorded:
        raise BadInput(
            f"{recorded[0]} has a record of what is only done to a made joint",
            allowed="joints that have no record",
            next="leave it out",
        )
    out = {j.id for j in told if j.untouched and (ALL in not_made or j.id in not_made)}
    if moved.kind != "joint":
        out |= {j.id for j in told if j.cut_out and not j.unclear}
    asked = [j for j in told if j.id not in out]
    findings = _findings(asked, places, moved, work, progress, dampest)
    if not asked:
        facts = HoldEnded(subject=subject, made=False, hold_ended=None, pullers=None, pullers_off=None)
        findings.append(ask("MOV-01", facts, work.book))
    ordered = sorted(findings, key=governs_first)
    return MayMove(
        subject=subject,
        kind=moved.kind,
        verdict=worst(findings),
        until=max((f.until for f in findings if f.until is not None), default=None),
        governs=ordered[0] if ordered else None,
        findings=tuple(ordered),
        joints=tuple(j.id for j in asked),
        left_out=tuple(sorted(out)),
    )


def governs_first(f: Finding) -> tuple[int, float, str, str]:
    """Key to sort by: worst first; of those that wait the one that waits longest; of GO the clocks first.

    Parameters
    ----------
    f : Finding

    Returns
    -------
    tuple
    """
    over = f.until if f.until is not None else f.facts.get("reached")
    until = -over.timestamp() if isinstance(over, datetime) else 0.0
    return -f.verdict, until, "" if f.id in CLOCKS else f.id, f.subject


def what_moves(subject: str, work: Work, progress: Progress, places: dict[str, JointPlace]) -> Moved:
    """Find what is named.

    Parameters
    ----------
    subject : str
    work : Work
    progress : Progress
        Joints that are not on the drawing are known from it alone.
    places : dict
        Joints of the drawing by name.

    Returns
    -------
    Moved

    Raises
    ------
    BadInput
        Nothing, or more than one thing, is called so.
    """
    pieces = {p.id: p for p in work.cutting.pieces}
    parts = {**work.graph.parts, **work.cutting.couplings}
    in_spool = {p.id for p in pieces.values() if p.spool == subject}
    in_spool |= {p.id for p in parts.values() if p.spool == subject}
    found: dict[str, list[str]] = {}
    if subject in places or subject in progress.joints:
        found["joint"] = [subject]
    if subject in pieces:
        found["piece"] = [n for n, j in places.items() if subject in (j.socket[0], j.spigot[0])]
    if subject and in_spool:
        found["spool"] = [n for n, j in places.items() if {j.socket[0], j.spigot[0]} & in_spool]
    if subject in work.graph.lines:
        found["line"] = [n for n, j in places.items() if j.line == subject or _touches(j, subject)]
    if len(found) != 1:
        what = f"{subject!r} is a {' and a '.join(found)}" if found else f"nothing is called {subject!r}"
        raise BadInput(
            what,
            allowed="a joint such as B-201/J31, a piece such as B-201/C, a spool or a line",
            next="name it as on the pack",
        )
    kind, names = next(iter(found.items()))
    joints = field_joints_beside(names, progress) if kind != "joint" else tuple(names)
    own = {subject, *joints}
    for name in joints:
        place = places.get(name)
        if place is not None:
            own |= {place.line, place.socket[0], place.spigot[0]}
        else:
            own.add(progress.of(name).beside)
    lines = {n.partition("/")[0] for n in own}
    for section in work.job.settings.sections:
        if any(matches(pattern, line) for pattern in section.lines for line in lines):
            own.add(section.id)
    return Moved(
        subject,
        kind,
        joints,
        frozenset(own | lines | {part.spool for part in parts.values() if part.id in own and part.spool}),
    )


def _touches(j: JointPlace, line: str) -> bool:
    return any(end[0].partition("/")[0] == line for end in (j.socket, j.spigot))


def _findings(
    asked: Iterable[JointProgress],
    places: dict[str, JointPlace],
    moved: Moved,
    work: Work,
    progress: Progress,
    dampest: float | None,
) -> list[Finding]:
    settings = work.job.settings
    planner = Planner(work.graph, work.cutting, settings, work.book, work.job.parts)
    clock = MoveClock(progress, work.job.zone, dampest)
    cards: dict[str, CementCard] = {}
    pulled: dict[str, bool | None] = {}
    clocks: list[MoveAsked] = []
    told = tuple(asked)
    for joint in told:
        place = places.get(joint.id)
        if place is None:
            continue
        part, spigot = planner.part(place.socket[0]), planner.part(place.spigot[0])
        piece = planner.heights.pieces.get(place.spigot[0])
        papers = planner.papers(place.line)
        pulled[joint.id] = planner.needs(planner.mates(place, part, spigot, piece), papers).pull_in.needed
        card = settings.card(joint.card) if joint.card else papers.card
        if joint.made:
            clocks.append(
                MoveAsked(joint=joint, size=place.size, card=card, pullers=pulled[joint.id])
            )  # fmt: skip
        if card is not None:
            cards[card.id] = card
    ran = dict(zip((a.joint.id for a in clocks), clock.facts_of(clocks), strict=True))
    facts: list[tuple[str, About]] = []
    for joint in told:
        kept: tuple[Disturbance, ...] = joint.disturbances
        if joint.id in ran:
            hands_off, kept = ran[joint.id]
            facts.append(("MOV-02", hands_off))
        facts.append(("MOV-01", hold_facts(joint, pulled.get(joint.id), work)))
        facts.append(("MOV-03", record_facts(joint, places.get(joint.id), progress, kept)))
    for card in cards.values():
        read = ReadBack(
            subject=card.id, card=card.id, typed_by=card.typed_by, read_back_by=card.read_back_by,
            changed=progress.changed_unread(card),
        )  # fmt: skip
        facts.append(("CEM-06", read))
    facts.append(("MOV-04", tag_facts(moved.names, moved.subject, moved.joints, work, progress)))
    own = [s.id for s in work.job.settings.sections if s.id in moved.names]
    for section_id in dict.fromkeys(
        (*own, *sections_pressed(lines_at(moved.names, work, places), work, progress))
    ):
        facts.append(("MOV-05", pressed_facts(section_id, progress, moved.joints)))
    return [ask(name, each, work.book) for name, each in facts]
