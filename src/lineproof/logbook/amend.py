"""Entries as they count: with corrections, confirmed times and settled forks, in whatever order they came."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from lineproof.logbook.chains import Fork
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import Entry, moment
from lineproof.logbook.kinds import KINDS, faults, understood
from lineproof.logbook.state import Event, Was
from lineproof.logbook.store import Stored
from lineproof.logbook.subjects import AMENDING, Subject, body_of, subjects_of

LATE = timedelta(minutes=2)
"""An entry written this long after it is said to have happened is late."""

STAYS = ("card",)
"""Kinds that one person alone cannot strike out: a sealed card is the measure of joints already made."""

FIXED = ("release_given",)
"""Kinds that no correction changes or strikes out: once let in, only a proof of zero ends the pressure."""

MOVES = frozenset(
    {"joint", "joints", "beside", "section", "on", "tag", "gauge", "boundary", "source", "condition", "about"}
)  # fmt: skip
"""Fields that say what an entry is about: corrected, it is not said of the old one any more."""


class Amended:
    """All entries of a fold, and what later ones say of them."""

    def __init__(self) -> None:
        self.entries: dict[str, Stored] = {}
        self.open_forks: dict[str, Fork] = {}
        self.groups: dict[str, list[frozenset[str]]] = {}
        self._by_id: dict[str, set[str]] = {}
        self._about: dict[str, dict[str, set[str]]] = {kind: {} for kind in AMENDING}

    def add(self, stored: Stored) -> set[str]:
        """Take in an entry.

        Parameters
        ----------
        stored : Stored

        Returns
        -------
        set of str
            Seals of the entries that may count differently now, its own included.
        """
        entry = stored.entry
        self.entries[entry.seal] = stored
        self._by_id.setdefault(entry.id, set()).add(entry.seal)
        if entry.kind in AMENDING and understood(entry) and not faults(entry):
            for target in _targets(entry):
                self._about[entry.kind].setdefault(target, set()).add(entry.seal)
        return self.reached(entry.seal)

    def reached(self, seal: str) -> set[str]:
        """Seals of an entry and of all that it speaks of, through corrections of corrections.

        Parameters
        ----------
        seal : str

        Returns
        -------
        set of str
        """
        reached: set[str] = set()
        todo = [seal]
        while todo:
            now = todo.pop()
            if now in reached or now not in self.entries:
                continue
            reached.add(now)
            entry = self.entries[now].entry
            if entry.kind in AMENDING and understood(entry) and not faults(entry):
                for target in _targets(entry):
                    todo += self._by_id.get(target, {target})
        return reached

    def with_id(self, id: str) -> set[str]:
        """Seals of the entries that bear an id."""
        return set(self._by_id.get(id, ()))

    def subjects(self, seal: str) -> frozenset[Subject]:
        """Everything an entry names, as written and as corrected."""
        entry = self.entries[seal].entry
        found = subjects_of(entry.kind, body_of(entry))
        for correction in self._corrections(entry):
            found |= subjects_of(entry.kind, correction.body.get("fields", {}))
        return found

    def event(self, seal: str) -> Event | None:
        """An entry as it counts; None if it was voided, or does not stand after a fork.

        Parameters
        ----------
        seal : str
            Of an entry here.

        Returns
        -------
        Event or None
        """
        stored = self.entries[seal]
        entry = stored.entry
        if entry.kind not in FIXED and (self._fallen(seal) or not self._live(entry)):
            return None
        body: dict[str, Any] = dict(body_of(entry))
        was: list[Was] = []
        flags = {"forked"} if seal in self.open_forks else set()
        if not understood(entry):
            flags.add("newer")
        if faults(entry):
            flags.add("faulty")
        for correction in () if entry.kind in FIXED else self._corrections(entry):
            if not self._live(correction) or self._fallen(correction.seal):
                continue
            if correction.seal in self.open_forks:
                flags.add("forked")
            changed = {**body, **correction.body.get("fields", {})}
            if understood(entry) and KINDS[entry.kind, entry.kind_version].shape(changed, ""):
                flags.add("faulty")
                continue
            was += [
                Was(
                    field=name,
                    old=body.get(name),
                    new=new,
                    by=correction.id,
                    who=correction.who,
                    second=str(correction.body.get("second", "")),
                    reason=str(correction.body["reason"]),
                )
                for name, new in correction.body.get("fields", {}).items()
            ]
            body = changed
        confirmations = self._confirmations(entry)
        if any(c.seal in self.open_forks for c in confirmations):
            flags.add("forked")
        if "insisted" in body:
            flags.add("insisted")
        return _timed(stored, body, tuple(was), confirmations, frozenset(flags))

    def see_forks(self, forks: tuple[Fork, ...]) -> tuple[Fork, ...]:
        """Note which entries contradict each other.

        Parameters
        ----------
        forks : tuple of Fork
            All there are.

        Returns
        -------
        tuple of Fork
            Those not settled.
        """
        self.groups = {}
        for fork in forks:
            for seal in fork.seals:
                self.groups.setdefault(seal, []).append(frozenset(fork.seals))
        unsettled = tuple(fork for fork in forks if self.stand(frozenset(fork.seals)) is None)
        self.open_forks = {seal: fork for fork in reversed(unsettled) for seal in fork.seals}
        return unsettled

    def stand(self, seals: frozenset[str]) -> frozenset[str] | None:
        """Which of some contradicting entries stand; None if not two people, or not all alike, settled it.

        Parameters
        ----------
        seals : frozenset of str

        Returns
        -------
        frozenset of str or None
        """
        about = self._about["fork_settled"]
        told: dict[frozenset[str], set[str]] = {}
        for seal in set.intersection(*(about.get(seal, set()) for seal in seals)):
            entry = self.entries[seal].entry
            if self._live(entry):
                people = {entry.who, str(entry.body.get("second") or entry.who)}
                told.setdefault(seals & frozenset(entry.body["stand"]), set()).update(people)
        if len(told) != 1:
            return None
        stand, people = told.popitem()
        # To let all stand takes nothing away; to strike one out takes two people, as any correction.
        return stand if stand == seals or len(people) > 1 else None

    def pending(self) -> tuple[Event, ...]:
        """Corrections, confirmations and settlements whose entries have not come."""
        found = []
        for kind, about in self._about.items():
            for target, seals in about.items():
                there = target in self.entries if kind == "fork_settled" else target in self._by_id
                if not there:
                    found += [self.event(seal) for seal in seals]
        return tuple(
            sorted({e.entry.seal: e for e in found if e is not None}.values(), key=lambda e: e.order)
        )

    def _corrections(self, entry: Entry) -> list[Entry]:
        seals = self._about["correction"].get(entry.id, ())
        found = [self.entries[seal].entry for seal in seals]
        return sorted(found, key=lambda c: (c.wall, c.writer, c.sequence, c.seal))

    def _confirmations(self, entry: Entry) -> list[Entry]:
        found = [self.entries[seal].entry for seal in self._about["time_confirmed"].get(entry.id, ())]
        return sorted((c for c in found if self._live(c)), key=lambda c: c.seal)

    def _live(self, entry: Entry, above: frozenset[str] = frozenset()) -> bool:
        """Whether no live correction says that it should not stand; corrections in a circle void nothing."""
        for correction in self._corrections(entry):
            if entry.kind in STAYS and correction.body.get("second") in (None, "", correction.who):
                continue
            if correction.body.get("void") is True and correction.seal not in above:
                if self._live(correction, above | {correction.seal}):
                    return False
        return True

    def taken_away_alone(self, seal: str) -> bool:
        """Whether one person alone voided an entry or made it speak of something else: a wait may be shorter.

        Parameters
        ----------
        seal : str
            Of an entry here.

        Returns
        -------
        bool
            False if it stands where it was, or if another person is named behind every such correction.
        """
        return any(
            (c.body.get("void") is True or not MOVES.isdisjoint(c.body.get("fields", {})))
            and c.body.get("second") in (None, "", c.who)
            and self._live(c)
            for c in self._corrections(self.entries[seal].entry)
        )

    def _fallen(self, seal: str) -> bool:
        """Whether a fork it was in is settled so that another stands instead."""
        for group in self.groups.get(seal, ()):
            stand = self.stand(group)
            if stand is not None and seal not in stand:
                return True
        return False


def _targets(entry: Entry) -> list[str]:
    if entry.kind == "fork_settled":
        return list(entry.body["seals"])
    return [entry.body["corrects" if entry.kind == "correction" else "of"]]


def _timed(
    stored: Stored, body: Mapping[str, Any], was: tuple[Was, ...], said: list[Entry], flags: frozenset[str]
) -> Event:
    entry = stored.entry
    # Of several confirmed times the latest counts: it credits the least.
    true = max((moment(c.body["true_time"]) for c in said), default=None)
    stamp = Stamp(
        wall=true or entry.wall,
        monotonic=entry.monotonic,
        boot=entry.boot,
        synchronised=entry.synchronised,
        confirmed=true is not None,
    )
    told = body.get("at") if "newer" not in flags and "faulty" not in flags else None
    at = moment(told) if isinstance(told, str) else stamp.wall
    return Event(
        entry=entry,
        kind=entry.kind,
        body=body,
        at=at,
        stamp=stamp,
        late=at < stamp.wall - LATE,
        receipt=stored.receipt,
        was=was,
        confirmed_by=tuple(sorted({c.who for c in said})),
        flags=tuple(sorted(flags)),
    )
