"""From what stands in the logbook to the record of test sections, gauges and writers.

What lets a section go ahead grows old from the earliest moment it can have been said; an answer whose clock
cannot be held against ours does not count. Zero counts only where it surely came after the release.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import TypeVar

from lineproof.job.section_record import PRESSURE, Release, Said, SectionRecord, WriterSeen
from lineproof.logbook.alone import told
from lineproof.logbook.clocks import NONE, Stamp, elapsed, elapsed_at_most
from lineproof.logbook.entry import moment
from lineproof.logbook.readings_of import alone, by_two
from lineproof.logbook.state import Event, JointState, State, Thing

SEEN = timedelta(hours=24)
"""A writer that wrote of a section so long ago must be heard before it is put under pressure (the design)."""

LONG_AGO = datetime(1900, 1, 1, tzinfo=UTC)
"""When something was whose clock cannot be held against ours: too old for any answer to count."""

HEARD_FOR = "heard-for"
"""The one condition that is answered for each writer by itself."""

NOT_KNOWN: Mapping[int, datetime] = {}
"""No receipt is known."""

Key = TypeVar("Key")

Names = Mapping[str, str]
"""UUID of a person to the id in job.toml."""


def sections_of(
    state: State, now: Stamp, people: Names, received: Mapping[int, datetime] = NOT_KNOWN
) -> dict[str, SectionRecord]:
    """Record of each section that is named in the logbook.

    Parameters
    ----------
    state : State
    now : Stamp
        The moment judged.
    people : mapping
        UUID to id of the people in job.toml.
    received : mapping
        Receipts of the last day, and when each was given: nothing was said after it came in.

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
    told = {n: _as_received(thing, received) for n, thing in state.sections.items()}
    return {n: _section(n, told.get(n), given.get(n, []), now, people) for n in names}


def _as_received(thing: Thing, received: Mapping[int, datetime]) -> Thing:
    """A phone whose clock is ahead told nothing later than it was received here."""
    events = [
        replace(e, at=came) if (came := received.get(e.receipt)) is not None and came < e.at else e
        for e in thing.events
    ]
    return replace(thing, events=tuple(sorted(events, key=lambda e: e.order)))


def _section(id: str, thing: Thing | None, given: list[Thing], now: Stamp, people: Names) -> SectionRecord:
    section = thing or Thing(id=id)
    zeros = section.of("zero_proved")
    releases = sorted((r for t in given for r in _releases(t, people, now)), key=lambda r: (r.at, r.id))
    events = {e.entry.id: e for t in given for e in t.of("release_given")}
    over = {r.entry for r in releases if any(_ends(events[r.entry], zero, people) for zero in zeros)}
    releases = [replace(r, ended=r.ended or "over") if r.entry in over else r for r in releases]
    pressed = tuple(r for r in releases if r.may in PRESSURE and r.entry not in over)
    return SectionRecord(
        id=id,
        releases=tuple(releases),
        asked=tuple(sorted(t.id for t in given if t.of("release_asked") and not t.of("release_given"))),
        zero=_newest(zeros, now, people),
        under_pressure=pressed[-1] if pressed else None,
        pressed=pressed,
        opened=frozenset(
            str(name)
            for e in section.of("isolation")
            if "valve" in told(e, "how") and any(not surely_after(e, events[r.entry]) for r in pressed)
            for name in told(e, "boundary")
        ),
        restraint=_newest(section.of("restraint_checked"), now, people),
        bolts=_newest(section.of("bolts_torqued"), now, people),
        grout=tuple(replace(_said(e, now, people), until=_ready(e, now)) for e in section.of("grout")),
        ends=_latest(section.of("isolation"), lambda b: str(b["boundary"]), now, people),
        sources=_latest(section.of("source"), lambda b: str(b["source"]), now, people),
        conditions=_latest(section.of("condition"), _condition, now, people),
        unclear=tuple(sorted({*section.unclear, *(code for t in given for code in t.unclear)})),
    )


def _condition(body: Mapping[str, object]) -> tuple[str, str]:
    """What is answered for; whatever an answer is about, a no to it is a no."""
    name = "-".join(str(body["condition"]).lower().replace("_", " ").split())
    return name, str(body.get("about", "")) if name == HEARD_FOR else ""


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
            lines=tuple(str(line) for line in body.get("lines", ())),
        )


def _who(event: Event, people: Names) -> str:
    return people.get(event.entry.who, event.entry.who[:8])


def surely_after(first: Event, second: Event) -> bool:
    """Whether an entry was surely written after another: never on the word of a clock that may lie.

    Parameters
    ----------
    first, second : Event

    Returns
    -------
    bool
        A time that one person alone confirmed makes neither of them older or younger than its own clock did.
    """
    same = first.entry.writer == second.entry.writer
    if (
        same
        and first.entry.sequence < second.entry.sequence
        and "forked" not in (*first.flags, *second.flags)
    ):
        return True
    passed = elapsed(first.stamp, second.stamp)
    if passed is None or passed <= NONE:
        return False
    before = first.stamp.wall if by_two(first) else max(first.stamp.wall, first.entry.wall)
    after = second.stamp.wall if by_two(second) else min(second.stamp.wall, second.entry.wall)
    return before < after


def _ends(given: Event, zero: Event, people: Names) -> bool:
    """Whether an open vent surely showed zero after a release, by somebody who is named and as first told."""
    if zero.order <= given.order or zero.receipt < given.receipt or zero.late:
        return False
    return zero.entry.who in people and not zero.was and surely_after(given, zero)


def _earliest(event: Event, now: Stamp) -> datetime | None:
    """The earliest an event can have been, on the clock of now; None if that cannot be told."""
    age = elapsed_at_most(event.stamp, now)
    if age is None:
        return None
    found = min(now.wall - age, event.at)
    return found if by_two(event) else min(found, event.entry.wall)


def _ready(event: Event, now: Stamp) -> datetime | None:
    """When it is ready, as late as can be; as late again as the clock of now may be ahead.

    None where it is not said, was not said at first, or the clock cannot be held against that of the entry.
    """
    said = told(event, "ready")
    passed = elapsed(event.stamp, now)
    if passed is None or not all(said):
        return None
    return max(moment(str(at)) for at in said) + max(NONE, now.wall - event.stamp.wall - passed)


def _said(event: Event, now: Stamp, people: Names) -> Said:
    """What an event says; where its time cannot be told, it is taken for as old as can be.

    Of what one person alone corrected the worse word counts.
    """
    body = event.body
    most = [float(str(each["si"])) for each in told(event, "most") if isinstance(each, Mapping)]
    how = "valve" if "valve" in told(event, "how") else str(body.get("how", body.get("what", "")))
    return Said(
        at=_earliest(event, now) or LONG_AGO,
        good=not any(False in told(event, name) for name in ("good", "answer")),
        who=_who(event, people),
        place=str(body.get("place", body.get("vent", ""))),
        what=how,
        about=str(body.get("about", body.get("boundary", body.get("source", "")))),
        since=moment(str(body["since"])) if "since" in body else None,
        until=moment(str(body["ready"])) if "ready" in body else None,
        value=max(most, default=None),
        entry=event.entry.id,
    )


def _counts_for(event: Event, said: Said, now: Stamp, people: Names) -> bool:
    """Whether an event may make it better: somebody who is named said it himself, and its age is known.

    What one person alone corrected is to be said anew instead: it would be in the mouth of another.
    """
    dated = said.at is not LONG_AGO and event.at <= now.wall
    return dated and event.entry.who in people and not alone(event)


def _better(said: Said, before: Said) -> bool:
    lower = said.value is not None and before.value is not None and said.value < before.value
    return lower or (said.good and not before.good) or (before.what == "valve" and said.what != "valve")


def _worse(said: Said, before: Said | None) -> bool:
    more = said.value is not None and (before is None or said.value > (before.value or 0.0))
    return more or not said.good or said.what == "valve"


def _latest(
    events: Iterable[Event], key_of: Callable[[Mapping[str, object]], Key], now: Stamp, people: Names
) -> dict[Key, Said]:
    """The newest word on each thing; bad news only gives way to what was surely written after it."""
    found: dict[Key, tuple[Event, Said]] = {}
    for event in events:
        key, said = key_of(event.body), _said(event, now, people)
        then, before = found.get(key, (None, None))
        if (
            then is not None
            and before is not None
            and _better(said, before)
            and not surely_after(then, event)
        ):
            continue
        if _counts_for(event, said, now, people) or _worse(said, before):
            found[key] = event, said
    return {key: said for key, (_, said) in found.items()}


def _newest(events: Iterable[Event], now: Stamp, people: Names) -> Said | None:
    return _latest(events, lambda _: "", now, people).get("")


@dataclass(frozen=True, slots=True)
class Wrote:
    """What one writer wrote of a joint or section.

    Parameters
    ----------
    writer, device : str
        The device by the last entry.
    last : datetime
        The latest it was, by its own clock or as said.
    receipts : mapping
        With which receipts it came, and the latest it was written of each.
    newest : int
        The last of these. [-]
    """

    writer: str
    device: str
    last: datetime
    receipts: Mapping[int, datetime]
    newest: int


Wrotes = dict[tuple[str, str], tuple[JointState | Thing, tuple[Wrote, ...]]]
"""What was read of joints and sections before, to be read again only where they changed."""


def _wrote(thing: JointState | Thing) -> tuple[Wrote, ...]:
    device: dict[str, str] = {}
    lasts: dict[str, datetime] = {}
    receipts: dict[str, dict[int, datetime]] = {}
    for event in thing.events:
        writer, wall = event.entry.writer, event.entry.wall
        device[writer] = event.entry.device
        last = max(wall, event.at)
        lasts[writer] = max(lasts.get(writer, last), last)
        came = receipts.setdefault(writer, {})
        came[event.receipt] = max(came.get(event.receipt, wall), wall)
    return tuple(Wrote(w, device[w], lasts[w], receipts[w], max(receipts[w])) for w in device)


def writers_of(
    state: State,
    now: Stamp,
    *,
    here: str,
    received: Mapping[int, datetime],
    before: Wrotes | None = None,
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
    before : dict or None
        What was read before; it is added to.

    Returns
    -------
    tuple of WriterSeen
        By writer. A clock that is wrong makes no writer unseen: when its entry came in counts as well.
    """
    known: Wrotes = {} if before is None else before
    joints: dict[str, dict[str, datetime]] = {}
    sections: dict[str, dict[str, datetime]] = {}
    device: dict[str, str] = {}
    heard: dict[str, datetime] = {}
    since, oldest = now.wall - SEEN, min(received, default=sys.maxsize)
    for sort, subjects, seen in (("joint", state.joints, joints), ("section", state.sections, sections)):
        for name, thing in subjects.items():
            read = known.get((sort, name))
            if read is None or read[0] is not thing:
                read = known[sort, name] = (thing, _wrote(thing))
            for wrote in read[1]:
                device[wrote.writer] = wrote.device
                last = wrote.last
                if last < since and wrote.newest < oldest:
                    continue
                for receipt, wall in wrote.receipts.items():
                    came = received.get(receipt)
                    if came is not None:
                        _hear(heard, wrote.writer, min(came, wall))
                        last = max(last, came)
                if last >= since:
                    seen.setdefault(wrote.writer, {})[name] = last
    for event in (e for tag in state.tags.values() for e in tag.events):
        # Who hung or lifted a tag stood at what it hangs on.
        told, on = event.entry, str(event.body.get("on", ""))
        device[told.writer] = told.device
        came = received.get(event.receipt)
        last = max(t for t in (told.wall, event.at, came) if t is not None)
        if on and now.wall - last <= SEEN:
            for seen in (joints, sections):
                of = seen.setdefault(told.writer, {})
                of[on] = max(of.get(on, last), last)
        if came is not None:
            _hear(heard, told.writer, min(came, told.wall))
    for event in (*state.others, *(e for t in state.releases.values() for e in t.events)):
        came = received.get(event.receipt)
        if came is not None:
            _hear(heard, event.entry.writer, min(came, event.entry.wall))
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


def _hear(heard: dict[str, datetime], writer: str, at: datetime) -> None:
    """What was written long ago and comes in now is no word of the phone: another may have carried it."""
    heard[writer] = max(heard.get(writer, at), at)
