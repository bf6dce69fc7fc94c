"""From what stands in the logbook to the record of test sections, gauges and writers.

What lets a section go ahead grows old from the earliest moment it can have been said; an answer whose clock
cannot be held against ours does not count. Zero counts only where it surely came after the release.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, timedelta

from lineproof.job.section_record import PRESSURE, GaugeRecord, Release, Said, SectionRecord, WriterSeen
from lineproof.logbook.clocks import NONE, Stamp, elapsed, elapsed_at_most
from lineproof.logbook.entry import moment
from lineproof.logbook.state import Event, State, Thing

SEEN = timedelta(hours=24)
"""A writer that wrote of a section so long ago must be heard before it is put under pressure (the design)."""

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
    pressed = [
        r
        for r in releases
        if r.may in PRESSURE and not any(_surely_after(events[r.entry], zero) for zero in zeros)
    ]
    newest = {kind: _newest(section.of(kind), now, people) for kind in ("restraint_checked", "bolts_torqued")}
    answers: dict[tuple[str, str], Said] = {}
    for event in section.of("condition"):
        key = (str(event.body["condition"]), str(event.body.get("about", "")))
        found = _said(event, now, people)
        if found is None:
            answers.pop(key, None)  # a newer answer that cannot be dated takes the older one away
        else:
            answers[key] = found
    zero = _newest(zeros, now, people)
    return SectionRecord(
        id=id,
        releases=tuple(releases),
        asked=tuple(sorted(t.id for t in given if t.of("release_asked") and not t.of("release_given"))),
        zero=zero,
        under_pressure=pressed[-1] if pressed else None,
        restraint=newest["restraint_checked"],
        bolts=newest["bolts_torqued"],
        grout=tuple(s for e in section.of("grout") if (s := _said(e, now, people, keep=True)) is not None),
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


def _said(event: Event, now: Stamp, people: Names, *, keep: bool = False) -> Said | None:
    """What an event says; None where its time cannot be told, unless it holds things up and is kept."""
    body = event.body
    at = _earliest(event, now)
    if at is None or event.at > now.wall:
        if not keep:
            return None
        at = event.at
    pressure = body.get("most")
    return Said(
        at=at,
        good=bool(body.get("good", body.get("answer", True))),
        who=_who(event, people),
        place=str(body.get("place", body.get("vent", ""))),
        what=str(body.get("how", body.get("what", ""))),
        about=str(body.get("about", body.get("boundary", body.get("source", "")))),
        since=moment(str(body["since"])) if "since" in body else None,
        until=moment(str(body["ready"])) if "ready" in body else None,
        value=float(pressure["si"]) if pressure else None,
        entry=event.entry.id,
    )


def _newest(events: Iterable[Event], now: Stamp, people: Names) -> Said | None:
    last = None
    for event in events:
        last = event
    return None if last is None else _said(last, now, people)


def _latest(events: Iterable[Event], field: str, now: Stamp, people: Names) -> dict[str, Said]:
    found: dict[str, Said] = {}
    for event in events:
        said = _said(event, now, people)
        name = str(event.body[field])
        if said is None:
            found.pop(name, None)
        else:
            found[name] = said
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
    state: State, now: Stamp, *, here: str, received: Callable[[int], datetime | None]
) -> tuple[WriterSeen, ...]:
    """Phones and machines that wrote of joints and sections within a day.

    Parameters
    ----------
    state : State
    now : Stamp
        The moment judged.
    here : str
        The writer of this machine; it needs no hearing.
    received : callable
        Number of a receipt to when it was given, by this machine's clock.

    Returns
    -------
    tuple of WriterSeen
        By writer. A clock that is wrong makes no writer unseen: when its entry came in counts as well.
    """
    times: dict[int, datetime | None] = {0: None}

    def came(receipt: int) -> datetime | None:
        if receipt not in times:
            times[receipt] = received(receipt)
        return times[receipt]

    joints: dict[str, dict[str, datetime]] = {}
    sections: dict[str, dict[str, datetime]] = {}
    device: dict[str, str] = {}
    newest: dict[str, int] = {}
    for subjects, seen in ((state.joints, joints), (state.sections, sections)):
        for name, thing in subjects.items():
            for event in thing.events:
                writer = event.entry.writer
                newest[writer] = max(newest.get(writer, 0), event.receipt)
                device[writer] = event.entry.device
                last = max(t for t in (event.entry.wall, event.at, came(event.receipt)) if t is not None)
                if now.wall - last <= SEEN:
                    of = seen.setdefault(writer, {})
                    of[name] = max(of.get(name, last), last)
    for event in (*state.others, *(e for t in state.releases.values() for e in t.events)):
        newest[event.entry.writer] = max(newest.get(event.entry.writer, 0), event.receipt)
    return tuple(
        WriterSeen(
            id=writer,
            device=device[writer],
            heard=came(newest[writer]),
            here=writer == here,
            joints=joints.get(writer, {}),
            sections=sections.get(writer, {}),
        )
        for writer in sorted(device)
    )
