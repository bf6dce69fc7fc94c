"""From entries to what stands today: the same for every order in which the entries came.

Adding an entry puts it into sets; nothing is decided then. What a joint has come to is read from its own
entries, sorted by corrected time, writer and sequence, when somebody asks. So one new entry is folded once,
and only what it touches is read again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from operator import attrgetter
from typing import Any

from lineproof.logbook.amend import Amended
from lineproof.logbook.chains import Hole, forks_in, holes_in
from lineproof.logbook.state import Event, JointState, State, Thing, kinds_of
from lineproof.logbook.store import Stored
from lineproof.logbook.subjects import AMENDING, Subject, body_of, subjects_of


class Fold:
    """A fold that grows as entries come.

    Parameters
    ----------
    known_by : int, optional
        Only what was known by this receipt counts; None for all. [-]

    Attributes
    ----------
    folded : int
        Entries folded so far; each is folded once. [-]
    """

    def __init__(self, known_by: int | None = None) -> None:
        self.folded = 0
        self._known_by = known_by
        self._amended = Amended()
        self._by_subject: dict[Subject, _About] = {}
        self._others: set[str] = set()
        self._others_seen: tuple[Event, ...] | None = ()
        self._places: dict[str, set[int]] = {}
        self._crowded: set[str] = set()
        self._at_place: dict[tuple[str, int], set[str]] = {}
        self._seen: dict[Subject, JointState | Thing] = {}
        # Sorts of subjects of which none changed are handed out as they were.
        self._sorts: dict[str, dict[str, Any]] = {}
        self._stale: set[str] = set()
        # An entry on many joints, such as a logger's file, is read and checked once for all of them.
        self._told: dict[str, _Told] = {}

    def add(self, stored: Stored) -> None:
        """Take in one entry; one that was taken before changes nothing.

        Parameters
        ----------
        stored : Stored
            From a store, in any order.
        """
        late = self._known_by is not None and stored.receipt > self._known_by
        entry = stored.entry
        if late or entry.seal in self._amended.entries:
            return
        self.folded += 1
        touched = self._amended.add(stored)
        self._places.setdefault(entry.writer, set()).add(entry.sequence)
        near = self._at_place.setdefault((entry.writer, entry.sequence), set())
        near.add(entry.seal)
        twins = near | self._amended.with_id(entry.id)
        if len(twins) > 1:
            self._crowded |= twins
            for twin in twins:
                touched |= self._amended.reached(twin)
        named = subjects_of(entry.kind, body_of(entry))
        if not named and entry.kind not in AMENDING:
            self._others.add(entry.seal)
        if touched & self._others:
            self._others_seen = None
        # A correction may move an entry to another joint: it is then read with both.
        for seal in touched:
            if seal in self._told:
                self._told.pop(seal).stale = True
            for subject in self._amended.subjects(seal):
                self._by_subject.setdefault(subject, _About()).fresh.add(seal)
                self._seen.pop(subject, None)
                self._stale.add(subject[0])

    def state(self) -> State:
        """What stands, by all that has been taken in.

        Returns
        -------
        State
        """
        crowded = (self._amended.entries[seal].entry for seal in self._crowded)
        forks = self._amended.see_forks(forks_in((e.id, e.writer, e.sequence, e.seal) for e in crowded))
        for sort in self._stale:
            self._sorts[sort] = {}
        for subject in sorted(s for s in self._by_subject if s[0] in self._stale):
            view = self._seen.get(subject)
            if view is None:
                view = self._seen[subject] = self._view(subject)
            if view.events or isinstance(view, JointState):
                self._sorts[subject[0]][subject[1]] = view
        self._stale.clear()
        sorts = self._sorts
        joints: dict[str, JointState] = sorts.get("joint", {})
        tags: dict[str, Thing] = sorts.get("tag", {})
        if self._others_seen is None:
            self._others_seen = self._events(self._others)
        others = self._others_seen
        return State(
            joints=joints,
            field_joints=tuple(n for n, j in joints.items() if j.beside and not j.is_cut_out),
            cans=sorts.get("can", {}),
            tags=tags,
            gauges=sorts.get("gauge", {}),
            releases=sorts.get("release", {}),
            sections=sorts.get("section", {}),
            hanging=tuple(name for name, tag in tags.items() if _hangs(tag)),
            others=tuple(event for event in others if "newer" not in event.flags),
            unknown=tuple(event for event in others if "newer" in event.flags),
            pending=self._amended.pending(),
            holes=self._holes(),
            forks=forks,
            entries=self.folded,
        )

    def _events(self, seals: Iterable[str]) -> tuple[Event, ...]:
        found = (self._event(seal).event for seal in seals)
        return tuple(sorted((event for event in found if event is not None), key=lambda event: event.order))

    def _event(self, seal: str) -> _Told:
        told = self._told.get(seal)
        if told is None:
            event = self._amended.event(seal)
            told = self._told[seal] = _Told(
                event,
                frozenset() if event is None else subjects_of(event.kind, event.body),
                _FIRST if event is None else event.order,
                self._amended.taken_away_alone(seal),
            )
        return told

    def _about(self, subject: Subject) -> list[_Told]:
        """All that was ever said of a subject, in order; kept in order, so that one more is soon placed."""
        about = self._by_subject[subject]
        told = [each for each in about.told if not each.stale]
        told += map(self._event, sorted(about.fresh))
        told.sort(key=_order)
        about.told = told
        about.fresh.clear()
        return told

    def _view(self, subject: Subject) -> JointState | Thing:
        sort, name = subject
        told = self._about(subject)
        events = tuple(t.event for t in told if t.event is not None and subject in t.subjects)
        flags = {flag for event in events if event.flags for flag in event.flags}
        open_forks = self._amended.open_forks
        forks = {f for e in events if (f := open_forks.get(e.entry.seal))} if open_forks else set()
        unclear = [code for flag, code in _UNCLEAR if flag in flags]
        if any(t.alone for t in told):
            unclear.append("taken-away-alone")
        if sort != "joint":
            return Thing(id=name, events=events, unclear=tuple(sorted(unclear)))
        by_kind = kinds_of(events)
        made = by_kind.get("joint_made", ())
        stories = len(made) > 1
        if stories:
            stand = self._amended.stand(frozenset(event.entry.seal for event in made))
            if stand is not None and len(stand) < 2:
                made = tuple(event for event in made if event.entry.seal in stand)
                stories = False
                events = tuple(event for event in events if event.kind != "joint_made" or event in made)
                by_kind = kinds_of(events)
        if stories:
            unclear.append("two-stories")
        cut = [event.order for event in by_kind.get("cut_out", ())]
        if cut and any(event.order > min(cut) for event in made):
            unclear.append("made-after-cut-out")
        said = [event.body for event in by_kind.get("field_joint", ())]
        return JointState(
            id=name,
            events=events,
            made=made,
            two_stories=stories,
            unsettled=tuple(sorted(forks)),
            unclear=tuple(sorted(unclear)),
            beside=str(said[-1]["beside"]) if said else "",
            section=str(said[-1].get("section", "")) if said else "",
            readings=tuple(event for event in events if event.kind in ("reading", "reading_file")),
            by_kind=by_kind,
        )

    def _holes(self) -> tuple[Hole, ...]:
        return holes_in({w: s for w, s in self._places.items() if len(s) < max(s)})


@dataclass(slots=True, eq=False)
class _Told:
    """An entry as it counts today, read once however many joints it is about."""

    event: Event | None
    subjects: frozenset[Subject]
    order: tuple[datetime, str, int, str]
    alone: bool
    stale: bool = False


@dataclass(slots=True)
class _About:
    """What was said of a subject: in order as last read, and what has come or changed since."""

    told: list[_Told] = field(default_factory=list)
    fresh: set[str] = field(default_factory=set)


_order = attrgetter("order")
_FIRST = (datetime.min.replace(tzinfo=UTC), "", 0, "")
_UNCLEAR = (("forked", "fork"), ("newer", "newer-entry"), ("faulty", "faulty-entry"))


def _hangs(tag: Thing) -> bool:
    """A tag hangs if it was set last, or set more often than lifted: a clock that lies lifts no tag."""
    told = tag.of("hold_tag_set", "hold_tag_lifted")
    lifted = len(tag.of("hold_tag_lifted"))
    return bool(told) and (told[-1].kind == "hold_tag_set" or len(told) - lifted > lifted)


def fold(entries: Iterable[Stored], *, known_by: int | None = None) -> State:
    """What stands, by a set of entries.

    Parameters
    ----------
    entries : iterable of Stored
        In any order.
    known_by : int, optional
        Only entries taken with this receipt or before count; None for all. [-]

    Returns
    -------
    State
    """
    folding = Fold(known_by)
    for stored in entries:
        folding.add(stored)
    return folding.state()
