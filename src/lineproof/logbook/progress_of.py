"""From what stands in the logbook to what the plan and the checks need, with every time on the safe side.

What one person alone says late or corrects never makes a wait shorter: a start counts from when it was
written, a colder value stays, and a warm reading that came late only counts where it makes it colder.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from lineproof.job.making import Making
from lineproof.job.progress import (
    NO_AIR,
    Disturbance,
    HoldTag,
    JointProgress,
    Progress,
    SiteAir,
    Temperature,
)
from lineproof.logbook.alone import measures, span, told, worst_of
from lineproof.logbook.clock_frames import ClockFrames
from lineproof.logbook.clocks import NONE, Stamp, elapsed
from lineproof.logbook.entry import moment
from lineproof.logbook.logger_files import LoggerFiles
from lineproof.logbook.making_of import cans_of, cards_used_of, makings_of
from lineproof.logbook.readings_of import ReadingsOf, by_two
from lineproof.logbook.state import Event, JointState, State

TOUCHED = ("moved", "disturbed")
CHANGED = (*TOUCHED, "joint_made", "cut_out", "replaced", "field_joint")
STARTS = ("hold_end", "pullers_off", *TOUCHED)
"""Kinds of entries that the hands-off clock may start from."""


def progress_of(
    state: State,
    now: Stamp,
    *,
    forecast: Iterable[Temperature] = (),
    people: Mapping[str, str] | None = None,
    files: LoggerFiles | None = None,
    air: SiteAir = NO_AIR,
) -> Progress:
    """Progress of a job by one state of its logbook.

    Parameters
    ----------
    state : State
        The fold of what was known.
    now : Stamp
        The moment judged, as far as clocks say.
    forecast : iterable of Temperature
        Of the air to come, beside what ``air`` foretells.
    people : mapping or None
        UUID of a person to the id in job.toml; without it nobody who made a joint is known.
    files : LoggerFiles or None
        Loggers' files that are on this machine; without them none has been read in.
    air : SiteAir
        By weather.csv as it was imported.

    Returns
    -------
    Progress
    """
    frames = ClockFrames(state)
    read = ReadingsOf(state, now, files, air, frames)
    joints = {name: joint_of(joint, now, read, frames) for name, joint in state.joints.items()}
    makings = makings_of(state, people or {})
    return progress_with(state, now, read, joints, makings, forecast=forecast, air=air)


def progress_with(
    state: State,
    now: Stamp,
    read: ReadingsOf,
    joints: Mapping[str, JointProgress],
    makings: Mapping[str, Making],
    *,
    forecast: Iterable[Temperature] = (),
    air: SiteAir = NO_AIR,
) -> Progress:
    """Progress of a job, its joints read already.

    Parameters
    ----------
    state : State
    now : Stamp
    read : ReadingsOf
    joints, makings : mapping
        By the same state.
    forecast : iterable of Temperature
    air : SiteAir

    Returns
    -------
    Progress
    """
    cards_used, unread = cards_used_of(state)
    return Progress(
        now=now.wall,
        joints=joints,
        tags=_tags(state),
        gaps=(*_gaps(state), *(f"cement card {name} as it was sealed cannot be read" for name in unread)),
        humidity=read.site,
        forecast=tuple(sorted((*forecast, *air.forecast), key=lambda t: t.at)),
        air=air,
        makings=makings,
        cans=cans_of(state),
        cards_used=cards_used,
    )


def _tags(state: State) -> tuple[HoldTag, ...]:
    found = []
    for name, tag in state.tags.items():
        on = tuple(sorted({str(name) for e in tag.of("hold_tag_set") for name in told(e, "on")}))
        if name in state.hanging or tag.unclear:
            found.append(HoldTag(tag=name, on=on, sure=not tag.unclear))
    return tuple(found)


def _gaps(state: State) -> tuple[str, ...]:
    found = [str(hole) for hole in state.holes]
    if state.unknown:
        found.append(f"{len(state.unknown)} entries of newer software that this one cannot read")
    if state.pending:
        found.append(f"{len(state.pending)} corrections whose entries have not come")
    return tuple(found)


def starts_of(joint: JointState) -> tuple[Event, ...]:
    """Entries that the hands-off clock of a joint may start from."""
    starts = joint.of(*STARTS)
    if not joint.made:
        return starts
    # A hold that ended before it went home is that of an earlier making; what touched it always counts.
    home = _earliest(joint.made[-1])
    return tuple(e for e in starts if e.kind in TOUCHED or _latest(e) >= home)


def joint_of(joint: JointState, now: Stamp, read: ReadingsOf, frames: ClockFrames) -> JointProgress:
    """What is known of one joint.

    Parameters
    ----------
    joint : JointState
    now : Stamp
        The moment judged.
    read : ReadingsOf
        What was read, by the same state and moment.
    frames : ClockFrames

    Returns
    -------
    JointProgress
    """
    made = joint.made[-1] if joint.made else None
    starts = starts_of(joint)
    ends = [_latest(event) for event in starts if event.kind == "hold_end"]
    off = [_latest(event) for event in starts if event.kind == "pullers_off"]
    cold, unread = read.temperatures(joint)
    return JointProgress(
        id=joint.id,
        made=joint.is_made,
        cut_out=joint.is_cut_out,
        rejected=joint.is_rejected,
        assembled=_earliest(made) if made is not None else None,
        temperature=worst_of(made, "joint_temperature", higher=False) if made is not None else None,
        humidity=worst_of(made, "humidity", higher=True) if made is not None else None,
        card=str(made.body.get("card", "")) if made is not None else "",
        hold_ended=max(ends, default=None),
        pullers_off=max(off, default=None),
        disturbances=_disturbances(starts),
        accepted=tuple(
            looked
            for event in joint.examined_by_another
            if (looked := min(span(event)[0], event.entry.wall)) <= now.wall
        ),
        now=now_of((*starts, *joint.made), now, frames),
        readings=cold,
        damp=read.humidities(joint),
        unread=unread,
        unclear=joint.unclear,
        replaced_by=joint.replaced_by,
        beside=joint.beside,
        section=joint.section,
        changed=max((_latest(event) for event in joint.of(*CHANGED)), default=None),
        begun=min((min(event.at, event.entry.wall) for event in joint.events), default=None),
        ended=min((min(event.at, event.entry.wall) for event in joint.of("cut_out")), default=None),
    )


def _disturbances(events: Iterable[Event]) -> tuple[Disturbance, ...]:
    found = []
    for event in events:
        how = str(event.body.get("how", ""))
        first = min(span(event)[0], event.stamp.wall, event.entry.wall)
        if event.kind in TOUCHED:
            found.append(Disturbance(first, _latest(event), event.kind, how))
        back = [back for back in measures(event, "pushed_back") if back] if event.kind == "hold_end" else []
        if back and max(back) > 0.0:
            typed = (v["typed"] for v in told(event, "pushed_back") if v and float(v["si"]) > 0.0)
            found.append(Disturbance(first, _latest(event), "pushed back", str(next(typed))))
    return tuple(sorted(found, key=lambda d: (d.at, d.kind)))


def _latest(event: Event) -> datetime:
    """The latest an event can have been: never before it was written, unless two people say so."""
    written = event.stamp.wall if by_two(event) else max(event.stamp.wall, event.entry.wall)
    return max(written, span(event)[1])


def _earliest(made: Event) -> datetime:
    """The earliest a joint can have gone home, by anybody's word: cold counts from then on."""
    steps = [
        moment(step["at"])
        for steps in told(made, "steps")
        for step in steps or ()
        if step["step"] in ("pushed", "home")
    ]
    return min([span(made)[0], made.stamp.wall, *steps])


def now_of(events: Iterable[Event], now: Stamp, frames: ClockFrames) -> datetime | None:
    """The earliest it can be now, held against everything the clock may start from."""
    earliest = now.wall
    for event in events:
        passed = elapsed(event.stamp, now)
        if passed is None:
            return None
        if event.stamp.boot != now.boot:
            # Asked elsewhere, or for a moment that was typed: a clock that jumped may have been behind.
            passed = max(NONE, passed - frames.behind(event))
        earliest = min(earliest, event.stamp.wall + passed)
    return earliest
