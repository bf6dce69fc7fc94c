"""What ``now`` tells, read from the job, its plan and its logbook: values, no sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from lineproof.desk.answer_now import NowAnswer, NowJoints, NowSection, NowTag
from lineproof.desk.now_cans import cans_now
from lineproof.desk.now_owed import doubts_now, owed_now
from lineproof.desk.record_book import job_uuid, people_of
from lineproof.desk.site_known import SiteKnown
from lineproof.floor.shown import Shown, show
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.progress import Progress
from lineproof.logbook.entry import Entry
from lineproof.logbook.state import Event, State
from lineproof.plan.joint_states import JointStands, JointState
from lineproof.plan.subjects import joint_name


def joints_alike(stands: Iterable[JointStands]) -> tuple[NowJoints, ...]:
    """Joints with a record, alike ones together: the worst first, of those that wait the soonest first.

    Parameters
    ----------
    stands : iterable of JointStands

    Returns
    -------
    tuple of NowJoints
    """
    groups: dict[tuple[object, ...], list[JointStands]] = {}
    for s in stands:
        if s.state is JointState.TO_MAKE and not s.findings:
            continue
        first = s.findings[0] if s.findings else None
        why = (first.id, first.facts.get("why"), first.next_step) if first else ()
        groups.setdefault((s.state, s.verdict, s.until, s.held_by, *why), []).append(s)
    found = [
        NowJoints(
            state=alike[0].state.value,
            verdict=alike[0].verdict,
            joints=tuple(s.id for s in alike),
            until=alike[0].held_until if alike[0].held_by else alike[0].until,
            held_by=alike[0].held_by,
            why=_together(alike),
        )
        for alike in groups.values()
    ]
    return tuple(sorted(found, key=lambda g: (-g.verdict, _stamp(g.until), g.joints)))


def _stamp(moment: datetime | None) -> float:
    return moment.timestamp() if moment is not None else float("inf")


def _together(alike: Sequence[JointStands]) -> Finding | None:
    return alike[0].findings[0] if alike[0].findings else None


def tags_now(
    state: State, progress: Progress, people: Mapping[str, str], zone: ZoneInfo
) -> tuple[NowTag, ...]:
    """Hold tags that hang.

    Parameters
    ----------
    state : State
    progress : Progress
    people : mapping
        UUID to the id in job.toml.
    zone : ZoneInfo

    Returns
    -------
    tuple of NowTag
    """
    found = []
    for tag in progress.tags:
        thing = state.tags.get(tag.tag)
        told = thing.of("hold_tag_set") if thing is not None else ()
        last = told[-1] if told else None
        found.append(
            NowTag(
                tag=tag.tag,
                on=tag.on,
                reason=str(last.body.get("reason", "")) if last else "",
                by=_who(last, people) if last else "",
                since=last.at.astimezone(zone) if last else None,
                sure=tag.sure,
            )
        )
    return tuple(found)


def _who(event: Event, people: Mapping[str, str]) -> str:
    return people.get(event.entry.who, event.entry.who)


def sections_now(progress: Progress, shown: Shown, zone: ZoneInfo) -> tuple[NowSection, ...]:
    """Sections under pressure: let go ahead, and no zero proved by an open vent since.

    A release that expired or was withdrawn takes no pressure out of the pipe.

    Parameters
    ----------
    progress : Progress
    shown : Shown
        How the job shows its numbers.
    zone : ZoneInfo

    Returns
    -------
    tuple of NowSection
    """
    found = []
    for name, record in sorted(progress.sections.items()):
        release = record.under_pressure
        if release is None:
            continue
        pressure = show(release.pressure, "pressure", shown) if release.pressure is not None else ""
        found.append(
            NowSection(
                section=name,
                release=release.id,
                may=release.may,
                since=release.at.astimezone(zone),
                expires=None if release.expires is None else release.expires.astimezone(zone),
                told=" · ".join(t for t in (pressure, release.gauge, release.medium) if t),
                claimed=release.claimed,
                sure=not record.unclear,
            )
        )
    return tuple(found)


def now_answer(
    site: SiteKnown,
    stands: Mapping[str, JointStands],
    entries: Sequence[Entry],
    *,
    dampest: float | None = None,
) -> NowAnswer:
    """Everything ``now`` tells.

    Parameters
    ----------
    site : SiteKnown
    stands : mapping
        Where each joint stands.
    entries : sequence of Entry
        All that are known.
    dampest : float or None
        As the one who asks says. [-]

    Returns
    -------
    NowAnswer
    """
    job, state, progress = site.job, site.log.state, site.progress
    settings, zone = job.settings, job.zone
    people = people_of(job_uuid(settings), settings)
    now = progress.now.astimezone(zone)
    sections = sections_now(progress, settings.shown.shown, zone)
    counted = Counter(s.state for s in stands.values())
    newest = max((e.wall for e in entries), default=None)
    drawn = [joint_name(j, n) for n, j in enumerate(site.work.cutting.joints)]
    return NowAnswer(
        job=settings.job.id,
        name=settings.job.name,
        when=now,
        known=site.log.receipt,
        head=site.log.head,
        entries=len(entries),
        newest=None if newest is None else newest.astimezone(zone),
        dampest=dampest,
        counts={s.value: counted[s] for s in JointState},
        joints=joints_alike(stands.values()),
        tags=tags_now(state, progress, people, zone),
        sections=sections,
        cans=cans_now(state, settings, now),
        cans_recorded=len(state.cans),
        owed=owed_now(state, progress, settings, entries, sections, _has(site)),
        doubts=doubts_now(state, progress, drawn),
        inputs=dict(job.inputs),
    )


def _has(site: SiteKnown) -> Callable[[str], bool]:
    shelf = site.log.shelf
    return shelf.has if shelf is not None else lambda _digest: False


def is_free(group: NowJoints) -> bool:
    """Whether joints may be moved, and all that moves with them."""
    return group.verdict is Verdict.GO and not group.held_by


def movable(answer: NowAnswer) -> tuple[str, ...]:
    """Joints that may be moved by the clocks and the record.

    Parameters
    ----------
    answer : NowAnswer

    Returns
    -------
    tuple of str
    """
    return tuple(n for g in answer.joints if is_free(g) for n in g.joints)
