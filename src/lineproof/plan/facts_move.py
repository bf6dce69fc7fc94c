"""Facts for the checks of what hangs on joints: their hold, their record, tags, pressure that stands."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from lineproof.checks.moving import HoldEnded, HoldTags, JointRecord
from lineproof.checks.section_state import (
    Pressed,
)
from lineproof.floor.errors import BadInput
from lineproof.job.duty import Section
from lineproof.job.progress import Disturbance, JointProgress, Progress
from lineproof.job.section_record import Said
from lineproof.plan.model import JointPlace
from lineproof.plan.section_reach import reach_of
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work


def field_joints_beside(names: Iterable[str], progress: Progress) -> tuple[str, ...]:
    """Joints, those made beside them that are not on the drawing, and those that stand in their place.

    Parameters
    ----------
    names : iterable of str
        Joints.
    progress : Progress

    Returns
    -------
    tuple of str
    """
    found = dict.fromkeys(names)
    grown = True
    while grown:
        more = [j.id for j in progress.joints.values() if j.beside in found and j.id not in found]
        told = (j for n in found if (j := progress.joints.get(n)) is not None and j.replaced_by)
        more += [b for j in told for b in j.replaced_by if b not in found]
        found.update(dict.fromkeys(more))
        grown = bool(more)
    return tuple(found)


def hold_facts(
    joint: JointProgress, pullers: bool | None, work: Work, *, for_pressure: bool = False
) -> HoldEnded:
    """What check MOV-01 asks of a joint.

    Parameters
    ----------
    joint : JointProgress
    pullers : bool or None
        Whether it is pulled in with a device; None if no table says.
    work : Work
    for_pressure : bool
        A section is asked for.

    Returns
    -------
    HoldEnded
    """
    zone = work.job.zone
    return HoldEnded(
        subject=joint.id,
        joints=(joint.id,),
        made=joint.made or joint.cut_out,
        hold_ended=joint.hold_ended and joint.hold_ended.astimezone(zone),
        pullers=pullers,
        pullers_off=joint.pullers_off and joint.pullers_off.astimezone(zone),
        for_pressure=for_pressure,
    )


def record_facts(
    joint: JointProgress, place: JointPlace | None, progress: Progress, kept: Iterable[Disturbance]
) -> JointRecord:
    """What check MOV-03 asks of a joint.

    Parameters
    ----------
    joint : JointProgress
    place : JointPlace or None
        None for one that is not on the drawing.
    progress : Progress
    kept : iterable of Disturbance
        Those that started its clock again.

    Returns
    -------
    JointRecord
    """
    kept = tuple(kept)
    last = max((d.at for d in kept), default=None)
    return JointRecord(
        subject=joint.id,
        joints=(joint.id,),
        rejected=joint.rejected,
        cut_out=joint.cut_out,
        off_drawing=place is None,
        unclear=joint.unclear,
        gaps=progress.gaps,
        disturbed=tuple(f"{d.kind}: {d.how}" if d.how else d.kind for d in kept),
        looked=last is not None and any(at >= last for at in joint.accepted),
    )


def tag_facts(
    names: Collection[str], subject: str, joints: tuple[str, ...], work: Work, progress: Progress
) -> HoldTags:
    """What check MOV-04 asks: hold tags that hang on something, or may.

    Parameters
    ----------
    names : collection of str
        Everything it goes by.
    subject : str
    joints : tuple of str
        Its joints.
    work : Work
    progress : Progress

    Returns
    -------
    HoldTags
    """
    if not progress.tags:
        return HoldTags(subject=subject, joints=joints, tags=(), unplaced=())
    known = {
        *(joint_name(j, n) for n, j in enumerate(work.cutting.joints)),
        *progress.joints, *work.graph.lines, *work.graph.parts, *work.cutting.couplings,
        *(p.id for p in work.cutting.pieces), *(s.id for s in work.job.settings.sections),
        *(p.spool for p in work.graph.parts.values() if p.spool),
    }  # fmt: skip
    hang, unplaced = [], []
    for tag in progress.tags:
        if tag.sure and set(names) & set(tag.on):
            hang.append(tag.tag)
        elif not tag.sure or not set(tag.on) <= known:
            unplaced.append(tag.tag)
    return HoldTags(subject=subject, joints=joints, tags=tuple(hang), unplaced=tuple(unplaced))


def sections_pressed(lines: Collection[str], work: Work, progress: Progress) -> tuple[str, ...]:
    """Sections UNDER PRESSURE by the record that some lines belong to, or did when water was let in.

    Parameters
    ----------
    lines : collection of str
        Lines of what is to be moved or opened.
    work : Work
    progress : Progress
        Its sections are asked whether or not job.toml still names them.

    Returns
    -------
    tuple of str
    """
    named = {s.id: s for s in work.job.settings.sections}
    found = []
    for name, record in progress.sections.items():
        if record.under_pressure is None:
            continue
        reached: set[str] = set()
        for release in record.pressed or (record.under_pressure,):
            # Where nobody wrote down how far it reached, no end counts as closed.
            reached |= set(release.lines) or _reaches(named.get(name), work, {})
        closed = {k: said for k, said in record.ends.items() if k not in record.opened}
        reached |= _reaches(named.get(name), work, closed) if name in named else set()
        if reached & set(lines) or not reached or not reached <= set(work.graph.lines):
            found.append(name)  # a line that is not drawn under that name any more may be any of them
    return tuple(found)


def _reaches(section: Section | None, work: Work, ends: Mapping[str, Said]) -> set[str]:
    try:
        return set() if section is None else set(reach_of(section, work.graph, ends).lines)
    except BadInput:
        return set()


def lines_at(names: Iterable[str], work: Work, places: Mapping[str, JointPlace]) -> set[str]:
    """Lines that joints, pieces and parts lie on; a joint where a branch begins lies on both.

    Parameters
    ----------
    names : iterable of str
    work : Work
    places : mapping
        Joints of the drawing by name.

    Returns
    -------
    set of str
    """
    found = {n.partition("/")[0] for n in names}
    for name in names:
        place = places.get(name)
        if place is not None:
            found |= {place.line, place.socket[0].partition("/")[0], place.spigot[0].partition("/")[0]}
    return found & set(work.graph.lines)


def pressed_facts(
    section: str, progress: Progress, joints: tuple[str, ...] = (), *, zero_needed: bool = False
) -> Pressed:
    """What check MOV-05 asks: whether a section stands under pressure.

    Parameters
    ----------
    section : str
    progress : Progress
    joints : tuple of str
        Those whose answer hangs on it.
    zero_needed : bool
        The line is to be opened: zero must have been proved.

    Returns
    -------
    Pressed
    """
    record = progress.section(section)
    release = record.under_pressure
    return Pressed(
        subject=section,
        section=section,
        joints=joints,
        release=release.id if release else "",
        asked=release.pressure if release else None,
        since=release.at if release else None,
        zero=record.zero.at if record.zero else None,
        zero_needed=zero_needed,
        now=progress.now,
        unclear=record.unclear,
    )
