"""Keeps releases honest: what comes in after one was given withdraws it, and nobody cuts under pressure.

A release is withdrawn by an entry of its own, which names the entry that spoiled it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from lineproof.desk import record_book as book
from lineproof.desk.say import reason
from lineproof.desk.site_known import SiteKnown, progress_known, site_known
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.floor.verdicts import Verdict
from lineproof.job.section_record import PRESSURE, Release, SectionRecord
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.section_of import sections_of, surely_after
from lineproof.logbook.state import Event, State
from lineproof.logbook.store import JobStore
from lineproof.logbook.subjects import subjects_of
from lineproof.plan.may_raise import may_raise
from lineproof.plan.section_at import Asked
from lineproof.plan.section_reach import reach_of

AT_ONCE = (
    "joint_made", "cut_out", "moved", "disturbed", "rejected", "field_joint", "replaced", "hold_tag_set",
)  # fmt: skip
"""Kinds that end a release of the section they touch, whatever the clocks say."""

HANDS_ON = ("joint_made", "cut_out", "moved", "bolts_torqued", "replaced")
"""Kinds that say somebody worked on the line."""


HARMLESS = frozenset(
    {
        "answer", "release_asked", "release_given", "release_withdrawn", "release_expired", "zero_proved",
        "note", "issue", "step_in_clock", "phone_paired", "phone_dropped", "chain_bound", "refusals",
    }
)  # fmt: skip
"""Kinds that spoil no release."""


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A release that was taken back.

    Parameters
    ----------
    release, section : str
    reason : str
        In words.
    because : str
        Id of the entry that spoiled it.
    """

    release: str
    section: str
    reason: str
    because: str


def refuse_under_pressure(settings: Settings, state: State, kind: str, body: Mapping[str, Any]) -> None:
    """Refuse to write, unless somebody insists, that a hand was laid on a line that is UNDER PRESSURE.

    Parameters
    ----------
    settings : Settings
    state : State
    kind : str
        Of the entry.
    body : mapping
        Its fields.

    Raises
    ------
    BadInput
        Its section counts as UNDER PRESSURE.
    """
    if kind not in HANDS_ON or "insisted" in body or not state.releases:
        return
    joints = [name for sort, name in subjects_of(kind, body) if sort == "joint"]
    named = {str(body.get("section", ""))} | {
        s.id for j in joints for s in settings.sections_of(j.partition("/")[0])
    }
    lines = {j.partition("/")[0] for j in joints} | {str(body.get("beside", "")).partition("/")[0]}
    for section, release in _pressed(settings, state).items():
        if section in named or lines & set(release.lines):
            raise BadInput(
                f"section {section} counts as UNDER PRESSURE: {release.id} and no proof of zero since",
                allowed="no cut, bolt or cap in it until an open vent has proved zero",
                next="keep off the line; open a vent, record zero_proved, then this; or insist with a reason",
            )


def _pressed(settings: Settings, state: State) -> dict[str, Release]:
    """Sections UNDER PRESSURE and the release that says so."""
    given = [e for t in state.releases.values() for e in t.of("release_given") if e.body["may"] in PRESSURE]
    if not given:
        return {}
    now = max((e.stamp for e in given), key=lambda s: s.wall)
    told = sections_of(state, now, book.people_of(book.job_uuid(settings), settings))
    return {name: s.under_pressure for name, s in told.items() if s.under_pressure is not None}


def watch(
    folder: Path, settings: Settings, new: Sequence[Entry], *, anyway: bool = False
) -> tuple[Withdrawn, ...]:
    """Take back what new entries spoil of the releases that stand.

    Parameters
    ----------
    folder : Path
    settings : Settings
    new : sequence of Entry
        As just written, or brought in.
    anyway : bool
        Judge again although nothing was written: job.toml or the drawing may have changed.

    Returns
    -------
    tuple of Withdrawn
    """
    given = any(e.kind == "release_given" for e in new)
    new = [e for e in new if e.kind not in HARMLESS]
    if not new and not given and not anyway:  # a release that came in is held against what was here before it
        return ()
    with book.opened(folder) as store:
        state = fold(store.read_since())
        if not any(t.of("release_given") and not t.of("release_withdrawn") for t in state.releases.values()):
            return ()
        found = tuple(_spoiled(folder, state, new))
        for each in found:
            body = {"release": each.release, "reason": each.reason, "because": each.because}
            book.pen(folder, store, settings, who=_nobody(store)).write("release_withdrawn", body)
    return found


def _nobody(store: JobStore) -> str:
    """Written by the tool itself, on nobody's word."""
    return book.person_uuid(store.job, "")


def _spoiled(folder: Path, state: State, new: Sequence[Entry]) -> Iterable[Withdrawn]:
    given = {e.entry.id: e for t in state.releases.values() for e in t.of("release_given")}
    try:
        site = site_known(folder)
    except LineproofError as error:
        # Nothing can be judged any more, so nothing may stand on an answer of before.
        for thing in state.releases.values():
            for event in () if thing.of("release_withdrawn") else thing.of("release_given"):
                if event.body["may"] in PRESSURE:
                    because = new[-1].id if new else event.entry.id
                    yield Withdrawn(thing.id, str(event.body["section"]), str(error), because)
        return
    seals = {e.seal for e in new}
    told = [*(j.events for j in state.joints.values()), *(t.events for t in state.tags.values())]
    for section in site.progress.sections.values():
        for release in section.releases:
            if release.ended or release.may not in PRESSURE:
                continue
            gave = given[release.entry]
            # What was not surely written before the release counts, whenever it came here.
            events = [
                e for each in told for e in each
                if e.kind in AT_ONCE and (e.entry.seal in seals or not surely_after(e, gave))
            ]  # fmt: skip
            spoil = _at_once(site, section, events)
            spoil = spoil or _judged_again(site, section.id, release, gave, new)
            if spoil is not None:
                yield Withdrawn(release.id, section.id, *spoil)


def _at_once(site: SiteKnown, section: SectionRecord, events: Iterable[Event]) -> tuple[str, str] | None:
    """Work told on a line of the section, be it from before: the release was given without knowing of it."""
    rows = [s for s in site.job.settings.sections if s.id == section.id]
    lines = set(reach_of(rows[0], site.work.graph, section.ends).lines) if rows else set()
    lines |= {line for release in section.pressed for line in release.lines}
    for event in events:
        if event.kind not in AT_ONCE:
            continue
        body = event.body
        names = [str(body[k]) for k in ("joint", "beside", "on", "section") if k in body]
        if section.id in names or any(n.partition("/")[0] in lines for n in names):
            return f"{event.kind.replace('_', ' ')}: {names[0]}", event.entry.id
    return None


def _judged_again(
    site: SiteKnown, section: str, release: Release, given: Event, new: Sequence[Entry]
) -> tuple[str, str] | None:
    """Whether the answer a release was given on would be GO by what is known now, at the same moment."""
    asked = Asked(
        verb=release.may, section=section, pressure=release.pressure, gauge=release.gauge,
        medium=release.medium, asker=release.who,
    )  # fmt: skip
    because = new[-1].id if new else given.entry.id
    heard = {n: at for n, at in site.log.received.items() if n <= given.receipt}
    try:
        progress = progress_known(site.folder, site.job, replace(site.log, received=heard), given.stamp)
        found = may_raise(asked, site.work, progress)
    except LineproofError as error:
        return str(error), because
    if found.verdict is Verdict.GO or found.governs is None:
        return None
    return reason(found.governs, site.job.settings.shown.shown), because


def told(withdrawn: Iterable[Withdrawn]) -> list[str]:
    """What is said of releases that were taken back: loud, and what to do.

    Parameters
    ----------
    withdrawn : iterable of Withdrawn

    Returns
    -------
    list of str
    """
    return [
        f"STOP: release {w.release} of section {w.section} is WITHDRAWN: {w.reason} "
        "Next: keep everybody off the line, let the pressure down by the procedure, prove zero, ask again."
        for w in withdrawn
    ]
