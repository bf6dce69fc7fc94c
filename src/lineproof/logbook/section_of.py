"""From what stands in the logbook to the record of test sections, gauges and writers.

What lets a section go ahead grows old from the earliest moment it can have been said; an answer whose clock
cannot be held against ours does not count. Zero counts only where it surely came after the release.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import TypeVar

from lineproof.job.section_record import PRESSURE, GaugeRecord, Release, Said, SectionRecord, WriterSeen
from lineproof.logbook.clocks import NONE, Stamp, elapsed, elapsed_at_most
from lineproof.logbook.entry import moment
from lineproof.logbook.state import Event, State, Thing

SEEN = timedelta(hours=24)
"""A writer that wrote of a section so long ago must be heard before it is put under pressure (the design)."""

LONG_AGO = datetime(1, 1, 1, tzinfo=UTC)
"""When something was whose clock cannot be held against ours: too old for any answer to count."""

Key = TypeVar("Key")

Names = Mapping[str, str]
"""UUID of a person to the id in job.toml."""


def sections_of(state: State, now: Stamp, people: Names) -> dict[str, SectionRecord]:
    """Record of each section that is named in the logbook.

    Parameters
    ----------
    state : State
    now : Stamp
        The moment judged.
    people : mapping
        UUID to id of the people in job.toml.

    Returns
    -------
    dict
        Section id to its record.
    """
    given: dict[str, list[Thing]] = {}
    for thing in state.releases.values():
        for section in {str(e.body["section"]) for e in thing.of("release_asked", "release_given")}:
            given.setdefault(section, []).append(thing)
    names = sorted({*state.sections, *given})
    return {n: _section(n, state.sections.get(n), given.get(n, []), now, people) for n in names}


def _section(id: str, told: Thing | None, given: list[Thing], now: Stamp, people: Names) -> SectionRecord:
    section = told or Thing(id=id)
    zeros = section.of("zero_proved")
    releases = sorted((r for t in given for r in _releases(t, people, now)), key=lambda r: (r.at, r.id))
    events = {e.entry.id: e for t in given for e in t.of("release_given")}
    over = {r.id for r in releases if any(_surely_after(events[r.entry], zero) for zero in zeros)}
    releases = [replace(r, ended=r.ended or "over") if r.id in over else r for r in releases]
    pressed = [r for r in releases if r.may in PRESSURE and r.id not in over]
    newest = {kind: _newest(section.of(kind), now, people) for kind in ("restraint_checked", "bolts_torqued")}
    answers: dict[tuple[str, str], Said] = {}
    for event in section.of("condition"):
        key = (str(event.body["condition"]), str(event.body.get("about", "")))
        _put(answers, key, event, now, people)
    zero = _newest(zeros, now, people)
    return SectionRecord(
        id=id,
        releases=tuple(releases),
        asked=tuple(sorted(t.id for t in given if t.of("release_asked") and not t.of("release_given"))),
        zero=zero,
        under_pressure=pressed[-1] if pressed else None,
        restraint=newest["restraint_checked"],
        bolts=newest["bolts_torqued"],
        grout=tuple(_said(e, now, people) for e in section.of("grout")),
        ends=_latest(section.of("isolation"), "boundary", now, people),
        sources=_latest(section.of("source"), "source", now, people),
        conditions=answers,
        unclear=tuple(sorted({*section.unclear, *(code for t in given for code in t.unclear)})),
    )


def _releases(thing: Thing, people: Names, now: Stamp) -> Iterable[Release]:
    back = thing.of("release_withdrawn")
    over = thing.of("release_expired")
    for event in thing.of("release_given"):
        body = event.body
        pressure = body.get("pressure")
        ended = "unclear" if thing.unclear else "withdrawn" if back else "expired" if over else ""
        expires = moment(str(body["expires"])) if "expires" in body else None
        yield Release(
            id=thing.id,
            may=str(body["may"]),
            at=_earliest(event, now) or min(event.at, event.entry.wall),
            who=_who(event, people),
            claimed=bool(body["claimed"]),
            pressure=float(pressure["si"]) if pressure else None,
            gauge=str(body.get("gauge", "")),
            medium=str(body.get("medium", "")),
            expires=expires,
            ended=ended,
            reason=str(back[-1].body.get("reason", "")) if back else "",
            receipt=event.receipt,
            entry=event.entry.id,
        )


def _who(event: Event, people: Names) -> str:
    return people.get(event.entry.who, event.entry.who[:8])


def _surely_after(given: Event, zero: Event) -> bool:
    """Whether an open vent surely showed zero after a release: never on the word of a clock that may lie."""
    if zero.order <= given.order or zero.receipt < given.receipt or zero.late:
        return False
    passed = elapsed(given.stamp, zero.stamp)
    return passed is not None and passed > NONE


def _earliest(event: Event, now: Stamp) -> datetime | None:
    """The earliest an event can have been, on the clock of now; None if that cannot be told."""
    age = elapsed_at_most(event.stamp, now)
    return None if age is None else min(now.wall - age, event.at)


def _said(event: Event, now: Stamp, people: Names) -> Said:
    """What an event says; where its time cannot be told, it is taken for as old as can be."""
    body = event.body
    pressure = body.get("most")
    return Said(
        at=_earliest(event, now) or LONG_AGO,
        good=not _speaks_against(event),
        who=_who(event, people),
        place=str(body.get("place", body.get("vent", ""))),
        what=str(body.get("how", body.get("what", ""))),
        about=str(body.get("about", body.get("boundary", body.get("source", "")))),
        since=moment(str(body["since"])) if "since" in body else None,
        until=moment(str(body["ready"])) if "ready" in body else None,
        value=float(pressure["si"]) if pressure else None,
        entry=event.entry.id,
    )


def _speaks_against(event: Event) -> bool:
    return event.body.get("good") is False or event.body.get("answer") is False


def _put(found: dict[Key, Said], key: Key, event: Event, now: Stamp, people: Names) -> None:
    """The newest word on something; one whose time cannot be told only ever makes it worse."""
    said = _said(event, now, people)
    before = found.get(key)
    dated = said.at is not LONG_AGO and event.at <= now.wall
    worse = (
        not said.good
        or said.what == "valve"
        or (said.value is not None and (before is None or said.value > (before.value or 0.0)))
    )
    if dated or worse:
        found[key] = said


def _newest(events: Iterable[Event], now: Stamp, people: Names) -> Said | None:
    found: dict[str, Said] = {}
    for event in events:
        _put(found, "", event, now, people)
    return found.get("")


def _latest(events: Iterable[Event], field: str, now: Stamp, people: Names) -> dict[str, Said]:
    found: dict[str, Said] = {}
    for event in events:
        _put(found, str(event.body[field]), event, now, people)
    return found


def gauges_of(state: State) -> dict[str, GaugeRecord]:
    """Gauges as recorded last.

    Parameters
    ----------
    state : State

    Returns
    -------
    dict
        Gauge to its record.
    """
    found = {}
    for name, thing in state.gauges.items():
        told = thing.of("gauge")
        if not told:
            found[name] = GaugeRecord(id=name, unclear=thing.unclear or ("faulty-entry",))
            continue
        body = told[-1].body
        found[name] = GaugeRecord(
            id=name,
            place=str(body.get("place", "")),
            calibrated=date.fromisoformat(body["calibrated"]) if "calibrated" in body else None,
            due=date.fromisoformat(body["due"]) if "due" in body else None,
            elevation=_si(body, "elevation"),
            error=_si(body, "error"),
            full=_si(body, "range"),
            unclear=thing.unclear,
        )
    return found


def _si(body: Mapping[str, object], field: str) -> float | None:
    told = body.get(field)
    return float(str(told["si"])) if isinstance(told, Mapping) else None


def writers_of(
    state: State, now: Stamp, *, here: str, received: Mapping[int, datetime]
) -> tuple[WriterSeen, ...]:
    """Phones and machines that wrote of joints and sections within a day.

    Parameters
    ----------
    state : State
    now : Stamp
        The moment judged.
    here : str
        The writer of this machine; it needs no hearing.
    received : mapping
        Receipts of the last day, and when each was given, by this machine's clock.

    Returns
    -------
    tuple of WriterSeen
        By writer. A clock that is wrong makes no writer unseen: when its entry came in counts as well.
    """
    joints: dict[str, dict[str, datetime]] = {}
    sections: dict[str, dict[str, datetime]] = {}
    device: dict[str, str] = {}
    heard: dict[str, datetime] = {}
    for subjects, seen in ((state.joints, joints), (state.sections, sections)):
        for name, thing in subjects.items():
            for event in thing.events:
                writer = event.entry.writer
                device[writer] = event.entry.device
                last = max(event.entry.wall, event.at)
                came = received.get(event.receipt)
                if came is not None:
                    heard[writer] = max(heard.get(writer, came), came)
                    last = max(last, came)
                if now.wall - last <= SEEN:
                    of = seen.setdefault(writer, {})
                    of[name] = max(of.get(name, last), last)
    for event in (*state.others, *(e for t in state.releases.values() for e in t.events)):
        came = received.get(event.receipt)
        if came is not None:
            heard[event.entry.writer] = max(heard.get(event.entry.writer, came), came)
    return tuple(
        WriterSeen(
            id=writer,
            device=device[writer],
            heard=heard.get(writer),
            here=writer == here,
            joints=joints.get(writer, {}),
            sections=sections.get(writer, {}),
        )
        for writer in sorted(device)
    )
