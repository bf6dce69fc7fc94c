"""What a fold of entries comes to: joints, cans, tags, gauges and releases, as values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from lineproof.logbook.alone import span, told
from lineproof.logbook.chains import Fork, Hole
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import Entry


@dataclass(frozen=True, slots=True)
class Was:
    """A field as it was before a correction: struck through, never gone.

    Parameters
    ----------
    field : str
        Its name.
    old, new : object
        What it said, and what it says.
    by : str
        Id of the correcting entry.
    who, second : str
        Who corrected, and who else stands by it; empty if nobody.
    reason : str
    """

    field: str
    old: object
    new: object
    by: str
    who: str
    second: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """An entry as it counts today: its fields corrected, its time as good as it is known.

    Parameters
    ----------
    entry : Entry
        As written.
    kind : str
    body : mapping
        With corrections.
    at : datetime
        When it happened: as said, else as confirmed, else the wall clock.
    stamp : Stamp
        Clocks of the writing, with the confirmed time where there is one.
    late : bool
        It is said to have happened more than two minutes before it was written.
    receipt : int
        From which receipt on it is known. [-]
    was : tuple of Was
        Fields before they were corrected.
    confirmed_by : tuple of str
        Who confirmed the time of writing.
    flags : tuple of str
        ``insisted``, ``faulty`` (body not as its kind), ``newer`` (not understood), ``forked``.
    """

    entry: Entry
    kind: str
    body: Mapping[str, Any]
    at: datetime
    stamp: Stamp
    late: bool
    receipt: int = field(default=0, compare=False)  # the same story whenever it came
    was: tuple[Was, ...] = ()
    confirmed_by: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()

    @property
    def sound(self) -> bool:
        """Whether its body is as its kind says; where it is not, what it is about is unclear."""
        return "faulty" not in self.flags and "newer" not in self.flags

    @property
    def order(self) -> tuple[datetime, str, int, str]:
        """What events are sorted by: time, writer, sequence (and the seal where a chain is forked)."""
        return self.at, self.entry.writer, self.entry.sequence, self.entry.seal


def kinds_of(events: Iterable[Event]) -> dict[str, tuple[Event, ...]]:
    """Events by kind, those that are understood.

    Parameters
    ----------
    events : iterable of Event
        In order.

    Returns
    -------
    dict
        Each kind in the same order.
    """
    found: dict[str, list[Event]] = {}
    for event in events:
        if event.sound:
            found.setdefault(event.kind, []).append(event)
    return {kind: tuple(told) for kind, told in found.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class JointState:
    """All that is recorded of a joint.

    Parameters
    ----------
    id : str
    events : tuple of Event
        In order.
    made : tuple of Event
        Those that say it was made; more than one is more than one story.
    two_stories : bool
        It was told to be made more than once, and nobody has settled which stands.
    unsettled : tuple of Fork
        Forks that touch it.
    unclear : tuple of str
        Why nothing can be said of it, as codes: ``two-stories``, ``fork``, ``newer-entry``, ``faulty-entry``,
        ``made-after-cut-out``; empty if all is clear.
    beside : str
        For a joint that is not on the drawing: its neighbour.
    section : str
        For such a joint: the section it blocks, as far as it was said.
    readings : tuple of Event
        Temperatures read at it.
    by_kind : mapping
        The same events by kind, those that are understood; a joint may have a year of readings.
    """

    id: str
    events: tuple[Event, ...] = ()
    made: tuple[Event, ...] = ()
    two_stories: bool = False
    unsettled: tuple[Fork, ...] = ()
    unclear: tuple[str, ...] = ()
    beside: str = ""
    section: str = ""
    readings: tuple[Event, ...] = ()
    by_kind: Mapping[str, tuple[Event, ...]] | None = field(default=None, compare=False, repr=False)

    def of(self, *kinds: str) -> tuple[Event, ...]:
        """Events of some kinds that are understood, in order."""
        told = kinds_of(self.events) if self.by_kind is None else self.by_kind
        found = [told[kind] for kind in dict.fromkeys(kinds) if kind in told]
        if len(found) < 2:
            return found[0] if found else ()
        return tuple(sorted((event for events in found for event in events), key=lambda event: event.order))

    @property
    def is_made(self) -> bool:
        """Somebody said it was made, and it still stands."""
        return bool(self.made) and not self.is_cut_out

    @property
    def is_cut_out(self) -> bool:
        """It was cut out: it is not in the line any more."""
        return bool(self.of("cut_out"))

    @property
    def is_rejected(self) -> bool:
        """It was rejected, or not accepted when last examined; one person alone does not turn that."""
        looked = self.of("examined")
        if self.of("rejected") or not looked:
            return bool(self.of("rejected"))
        # A refusal told late may have come after an acceptance.
        last = max(span(event)[1] for event in looked)
        return any(span(event)[1] == last and not all(told(event, "accepted")) for event in looked)

    @property
    def replaced_by(self) -> tuple[str, ...]:
        """Joints that stand in its place."""
        return tuple(str(name) for event in self.of("replaced") for name in event.body["by"])

    @property
    def disturbances(self) -> tuple[Event, ...]:
        """When it was moved or disturbed."""
        return self.of("moved", "disturbed")

    @property
    def examined_by_another(self) -> tuple[Event, ...]:
        """Examinations that accept it, by somebody who did not make it; one alone turns nothing."""
        makers = {person for event in self.made for person in people_in(event)}
        return tuple(
            event
            for event in self.of("examined")
            if all(told(event, "accepted")) and event.entry.who not in makers
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Anything else with a name of its own: a can, a hold tag, a gauge, a release, a section.

    Parameters
    ----------
    id : str
    events : tuple of Event
        In order.
    unclear : tuple of str
        As for joints.
    """

    id: str
    events: tuple[Event, ...] = ()
    unclear: tuple[str, ...] = ()

    def of(self, *kinds: str) -> tuple[Event, ...]:
        """Events of some kinds that are understood, in order."""
        return tuple(event for event in self.events if event.kind in kinds and event.sound)

    @property
    def newest(self) -> Event | None:
        """What was said of it last."""
        return self.events[-1] if self.events else None


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Everything, at one moment of knowing.

    Parameters
    ----------
    joints : mapping
        Joint id to its state, field joints included.
    field_joints : tuple of str
        Joints not on the drawing that stand: each blocks its section.
    cans, tags, gauges, releases, sections : mapping
        Name to what was said of it.
    hanging : tuple of str
        Hold tags that hang.
    others : tuple of Event
        Clock steps, issues, imports, answers, notes and readings of no joint, in order.
    unknown : tuple of Event
        Entries of newer kinds that name no joint: nothing can be told of what they touch.
    pending : tuple of Event
        Corrections, confirmations and settlements of entries that have not come yet.
    holes : tuple of Hole
    forks : tuple of Fork
        Those not settled.
    entries : int
        How many entries it rests on. [-]
    """

    joints: Mapping[str, JointState]
    field_joints: tuple[str, ...]
    cans: Mapping[str, Thing]
    tags: Mapping[str, Thing]
    gauges: Mapping[str, Thing]
    releases: Mapping[str, Thing]
    sections: Mapping[str, Thing]
    hanging: tuple[str, ...]
    others: tuple[Event, ...]
    unknown: tuple[Event, ...]
    pending: tuple[Event, ...]
    holes: tuple[Hole, ...]
    forks: tuple[Fork, ...]
    entries: int


def people_in(event: Event) -> frozenset[str]:
    """Everybody who had a hand in an event: who wrote it, and the roles it names.

    Parameters
    ----------
    event : Event

    Returns
    -------
    frozenset of str
        UUIDs; those among them who stood there before one person alone changed that.
    """
    found = {event.entry.who}
    for roles in told(event, "roles"):
        for named in roles.values() if isinstance(roles, Mapping) else ():
            found |= set(named) if isinstance(named, list | tuple) else {named}
    return frozenset(str(person) for person in found if person)
