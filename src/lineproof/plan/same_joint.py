"""Finds the old row of every joint: by the socket, and for a made joint by both of its part-ports."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import JointRow, JointsFile
from lineproof.plan.ask import AskWhich
from lineproof.plan.keys import Keys, Tied
from lineproof.plan.model import JointKind
from lineproof.plan.rematch import statement_of

SAME_SPOT = 0.025
"""How far a joint within a leg may seem to move and still be the same (own rule). [m]"""

_INNER = re.compile(r"(\d+)\.(a|b|bell)")


class SameJoints:
    """Old rows for joints in lasting keys."""

    def __init__(
        self,
        graph: LineGraph,
        keys: Keys,
        old: JointsFile,
        recorded: frozenset[str],
        confirmed: set[str],
        asking: bool,
    ) -> None:
        self.graph = graph
        self.keys = keys
        self.living = old.joints
        self.recorded = recorded
        self.confirmed = confirmed
        self.asking = asking
        self.questions: list[AskWhich] = []
        self.by_a = {r.a: r for r in self.living.values()}
        self.tied: list[Tied] = []
        self.rows: list[JointRow | None] = []
        unknown = recorded - old.newest.keys()
        if unknown:
            raise BadInput(
                f"there is a record of {min(unknown)}, which joints.csv does not know",
                next="put back the joints.csv that belongs to the records; the newest issue holds a copy",
            )

    def match(self, tied: Sequence[Tied]) -> None:
        """Find the old row of every joint, or None."""
        inner = self.inner_numbers(tied)
        taken: set[str] = set()
        for t in tied:
            lookup = t.a
            if t.inner:
                run = self.keys.run(self.graph.runs[t.run])
                was, number = inner[t.run, t.inner]
                side = "pipe" if t.role == "bell" else {"a": "before", "b": "after"}[t.role]
                t = replace(t, a=f"{run}~{number}.{t.role}", b=f"{run}~{number}.{side}")
                lookup = f"{was}~{number}.{t.role}" if was else ""
            row = self.by_a.get(lookup)
            if row is not None and not self.is_same(row, t, lookup):
                row = None
            if row is not None:
                taken.add(row.id)
            self.tied.append(t)
            self.rows.append(row)
        if not self.asking:
            self.refuse_lost(taken)

    def is_same(self, row: JointRow, t: Tied, lookup: str) -> bool:
        """Whether a joint is still the one of an old row; a recorded one must match on both sides."""
        if row.kind != t.place.kind.value or (t.place.kind is JointKind.SPIGOT and row.b != t.b):
            return False
        if row.id in self.recorded:
            if (_kind(row.what_a), _kind(row.what_b)) != (_kind(t.what_a), _kind(t.what_b)):
                raise self.refusal(row, f"but the walk now says {t.what_a} and {t.what_b}")
            whole = row.b == t.b and lookup == t.a
            if t.inner and whole and row.at and t.at and abs(float(row.at) - float(t.at)) > SAME_SPOT:
                raise self.refusal(row, f"{row.at} m along its leg, but it would now stand at {t.at} m")
            if not whole and row.id not in self.confirmed:
                part = self.graph.parts.get(t.place.socket[0]) if not t.inner else None
                there = part or self.graph.runs[t.run]
                spot = Place(there.file, there.spot.line)
                self.questions.append(
                    AskWhich(
                        t.place.line,
                        f"{row.id} is made, its socket is found again, but its pipe now leads elsewhere;"
                        " if the pipe in it stays, say that it is the same, else cut it out in the logbook",
                        (row.id,),
                        (spot,),
                        may_be_gone=False,
                    )
                )
        return True

    def refuse_lost(self, taken: set[str]) -> None:
        """Refuse to lose a joint that has a record."""
        lost = sorted((self.recorded & self.living.keys()) - taken, key=_natural)
        if lost:
            more = f"; {len(lost) - 1} more recorded joints are missing" if len(lost) > 1 else ""
            raise self.refusal(self.living[lost[0]], f"but it is not in the walk any more{more}")

    def refusal(self, row: JointRow, what: str) -> EntrySealed:
        """A recorded joint may not be lost or changed by a change of the walk."""
        return EntrySealed(
            f"{row.id} has a record, {row.what_a} and {row.what_b}, {what}",
            allowed="a walk in which every recorded joint still stands",
            next="cut it out in the logbook first, or put the walk back",
            place=self.place_of(row),
        )

    def place_of(self, row: JointRow) -> Place:
        """The line's place in its walk, if it is still there."""
        key = statement_of(row)[0]
        for name, now in self.keys.line_keys.items():
            if now == key and name in self.graph.lines:
                line = self.graph.lines[name]
                return Place(line.file, line.spot.line)
        return Place()

    def inner_numbers(self, tied: Sequence[Tied]) -> dict[tuple[str, int], tuple[str, int]]:
        """For every joint within a leg: the old run and its lasting number there ("" for a new one).

        Of the joints within one leg, those that stay in their place keep their number; if there are as many
        as before, the others keep theirs in order.
        """
        were: dict[str, dict[int, str]] = {}
        for row in self.living.values():
            run, _, rest = row.a.rpartition("~")
            inner = _INNER.fullmatch(rest)
            if inner:
                were.setdefault(run, {}).setdefault(int(inner[1]), row.at)
        now: dict[str, dict[int, str]] = {}
        for t in tied:
            if t.inner:
                now.setdefault(t.run, {}).setdefault(t.inner, t.at)
        olds = self.old_runs(now, were)
        found: dict[tuple[str, int], tuple[str, int]] = {}
        for run_id, places in now.items():
            was = olds.get(run_id, "")
            begins = was.split(">")[0] == self.keys.run(self.graph.runs[run_id]).split(">")[0]
            pairs = (
                _same_spots(were.get(was, {}), places) if begins else _from_the_end(were.get(was, {}), places)
            )
            highest = max(were.get(was, {}), default=0)
            for n in sorted(places):
                if n in pairs:
                    found[run_id, n] = (was, pairs[n])
                else:
                    highest += 1
                    found[run_id, n] = ("", highest)
        return found

    def old_runs(self, now: Iterable[str], were: Mapping[str, object]) -> dict[str, str]:
        """Which old leg a leg is: by both ends, else by the one it begins at, else by the one it ends at."""
        keys = {run_id: self.keys.run(self.graph.runs[run_id]) for run_id in now}
        olds = {run_id: key for run_id, key in keys.items() if key in were}
        open_old = [key for key in were if key not in set(olds.values())]
        for end in (0, 1):
            by_end = {key.split(">")[end]: key for key in open_old}
            for run_id, key in keys.items():
                was = by_end.get(key.split(">")[end])
                if was is not None and run_id not in olds and was in open_old:
                    olds[run_id] = was
                    open_old.remove(was)
        return olds


def _same_spots(were: Mapping[int, str], now: Mapping[int, str]) -> dict[int, int]:
    """Number now to lasting number, for the joints within one leg."""
    pairs: dict[int, int] = {}
    left = sorted(were, key=lambda m: (float(were[m]) if were[m] else 0.0, m))
    order = list(left)
    for n in sorted(now):
        for m in left:
            if now[n] and were[m] and abs(float(now[n]) - float(were[m])) <= SAME_SPOT:
                pairs[n] = m
                left.remove(m)
                break
    if len(were) == len(now):
        free = [n for n in sorted(now) if n not in pairs]
        pairs.update(zip(free, [m for m in order if m in left], strict=True))
    return pairs


def _from_the_end(were: Mapping[int, str], now: Mapping[int, str]) -> dict[int, int]:
    """The same for a leg that begins elsewhere than before: counted from its end."""
    order = sorted(were, key=lambda m: (float(were[m]) if were[m] else 0.0, m))
    return dict(zip(sorted(now, reverse=True), reversed(order), strict=False))


def _kind(what: str) -> str:
    """What a part is, without what it is called."""
    return what.partition(' "')[0]


def _natural(joint: str) -> tuple[str, int]:
    prefix, _, number = joint.rpartition("/J")
    return prefix, int(number)
