"""Facts for the checks of what hangs on joints: their hold, their record, tags, pressure that stands."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from lineproof.checks.moving import HoldEnded, HoldTags, JointRecord
from lineproof.checks.section_state import (
    Pressed,
)
from lineproof.job.progress import Disturbance, JointProgress, Progress
from lineproof.plan.model import JointPlace
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
        more += [b for n in found for b in progress.of(n).replaced_by if b not in found]
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
    )
