"""Reads a line of the graph and its cutting into a scene."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from lineproof.desk.drawing.scene import (
    Bit,
    JointMark,
    Kind,
    Leg,
    LineScene,
    Mate,
    Saddle,
    Sign,
    Spot,
    SpotList,
    Stub,
)
from lineproof.desk.drawing.scene_words import MATES, said, sign_and_words
from lineproof.desk.drawing.sections import SectionMark
from lineproof.floor.shown import Shown, show_length
from lineproof.job.graph import Connection, End, LaidLine, LineGraph, Part, Run, Tie, Turn, Vec
from lineproof.job.parts import PartKind
from lineproof.plan.model import Cutting, JointKind, JointPlace, Piece, State
from lineproof.plan.names import short
from lineproof.sums.vectors import add, norm, scale, sub, unit

STEEP = 0.3
"""Rise over length above which a leg is no slope but a leg of its own direction. [1]"""
ON_AXIS = 0.9995
"""Cosine to an axis above which a leg follows it. [1]"""
LEVEL = 1e-6


def joint_names(joints: tuple[JointPlace, ...], line: str) -> dict[tuple[str, str], str]:
    """What each joint of a line is called: its issued number, else ``j`` and its place in the walk.

    Parameters
    ----------
    joints : tuple of JointPlace
        Of a whole job.
    line : str

    Returns
    -------
    dict
        Joint key to name.
    """
    mine = [j for j in joints if j.line == line]
    return {j.key: short(j.id) if j.id else f"j{n}" for n, j in enumerate(mine, 1)}


def read_scene(
    graph: LineGraph,
    cutting: Cutting,
    line: str,
    shown: Shown,
    sections: Mapping[str, SectionMark] | None = None,
) -> LineScene:
    """The scene of one line.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    line : str
        A line of the graph.
    shown : Shown
        How the job shows lengths.
    sections : mapping, optional
        Test section of each line.

    Returns
    -------
    LineScene
    """
    return _Reader(graph, cutting, graph.lines[line], shown, sections or {}).read()


@dataclass(slots=True)
class _Reader:
    graph: LineGraph
    cutting: Cutting
    line: LaidLine
    shown: Shown
    sections: Mapping[str, SectionMark]
    places: SpotList = field(default_factory=SpotList)
    at: dict[str, int] = field(default_factory=dict)
    """Part id to number of its place."""
    by_piece: dict[End, JointPlace] = field(default_factory=dict)
    by_saddle: dict[str, JointPlace] = field(default_factory=dict)
    by_pair: dict[frozenset[str], list[JointPlace]] = field(default_factory=dict)
    names: Mapping[tuple[str, str], str] = field(default_factory=dict)
    used: dict[str, set[str]] = field(default_factory=dict)
    turns: Mapping[str, Turn] = field(default_factory=dict)
    starts: dict[End, tuple[str, str]] = field(default_factory=dict)
    """Port to ``to`` or ``from`` and the line that starts or ends there."""

    def read(self) -> LineScene:
        name = self.line.name
        self.turns = {t.part: t for t in self.graph.turns if t.line == name}
        self.names = joint_names(self.cutting.joints, name)
        mine = [j for j in self.cutting.joints if j.line == name]
        for j in mine:
            if j.kind is JointKind.SADDLE:
                self.by_saddle[j.socket[0]] = j
            elif j.kind is JointKind.SPIGOT:
                self.by_pair.setdefault(frozenset((j.socket[0], j.spigot[0])), []).append(j)
            else:
                self.by_piece[j.spigot] = j
        runs = [self.graph.runs[r] for r in self.line.runs]
        ties = [c for c in self.graph.connections if c.line == name]
        for c in self.graph.connections:
            for end, mate in ((c.a, c.b), (c.b, c.a)):
                if c.line != name and self.graph.parts[end[0]].line == name:
                    self.starts[end] = ("to", self.graph.parts[mate[0]].line)
        for other in self.graph.lines.values():
            if other.name != name and other.runs:
                self.starts[self.graph.runs[other.runs[-1]].b] = ("from", other.name)
                self.starts[self.graph.runs[other.runs[0]].a] = ("to", other.name)
        for run in runs:
            self.use(run.a)
            self.use(run.b)
        for c in ties:
            self.use(c.a)
            self.use(c.b)
        legs: list[Leg] = []
        by_run: dict[str, list[Piece]] = {}
        for p in self.cutting.pieces:
            if p.line == name:
                by_run.setdefault(p.run, []).append(p)
        for run in runs:
            a, b = run.start, add(run.start, scale(run.way, run.cc))
            na, mate_a, extra_a = self.end(run.a, a, ties, runs)
            nb, mate_b, extra_b = self.end(run.b, b, ties, runs)
            if extra_a is not None:
                legs.append(self.short_leg(extra_a, na))
            legs.append(self.leg(run, na, nb, mate_a, mate_b, by_run.get(run.id, [])))
            if extra_b is not None:
                legs.append(self.short_leg(nb, extra_b))
        for part_id in self.line.parts:
            part = self.graph.parts[part_id]
            if part_id not in self.at and part.kind is not PartKind.SADDLE:
                self.core(part, self.places.number(part.centre))
        loose: list[tuple[int, Vec, JointMark]] = []
        legs = self.with_ties(legs, ties, loose)
        self.elevations(legs)
        return LineScene(
            line=name,
            title=", ".join(
                w
                for w in (
                    self.line.size.text,
                    f"{self.line.material} {self.line.series}",
                    self.line.service,
                )
                if w
            ),
            drawing=" rev ".join(w for w in (self.line.drawing, self.line.rev) if w),
            spots=tuple(self.places.spots),
            legs=tuple(legs),
            loose=tuple(loose),
            issued=all(j.id for j in mine),
            section=self.sections.get(name),
        )  # fmt: skip

    def use(self, end: End) -> None:
        """Note that a port is taken."""
        self.used.setdefault(end[0], set()).add(end[1])

    # ------------------------------------------------------------------ places

    def end(self, end: End, at: Vec, ties: list[Connection], runs: list[Run]) -> tuple[int, Mate, int | None]:
        """Place and mate at the end of a run; a third number if its part stands at another place already."""
        part = self.graph.parts[end[0]]
        mate = MATES.get(part.kind, Mate.NONE) if isinstance(part.kind, PartKind) else Mate.NONE
        n = self.places.number(at)
        if mate is Mate.NONE:
            before = self.at.get(part.id)
            if before is not None and before != n:
                self.places.spots[n] = replace(self.places.spots[n], sign=Sign.AXIS)
                return n, mate, before
            self.core(part, n)
            return n, mate, None
        self.at.setdefault(part.id, n)
        in_runs = {e[0] for r in runs for e in (r.a, r.b)}
        for c in ties:
            if end[0] not in (c.a[0], c.b[0]):
                continue
            other = self.graph.parts[c.b[0] if c.a[0] == end[0] else c.a[0]]
            pair = isinstance(other.kind, PartKind) and other.kind in MATES and other.id in in_runs
            if pair:
                self.at.setdefault(other.id, n)
                sign = Sign.THREAD if c.tie is Tie.THREADED else Sign.FLANGES
                spot = self.places.spots[n]
                if spot.sign is Sign.NONE:
                    name, along = f"{sign.value} {short(part.id)}", part.port(end[1]).out
                    self.places.spots[n] = replace(spot, sign=sign, ref=part.id, name=name, along=along)
                return n, Mate.NONE, None
            self.core(other, n)
            if mate is Mate.FLANGE:
                self.bolted(part, n)
            return n, mate, None
        self.core(part, n)
        return n, Mate.NONE, None

    def bolted(self, flange: Part, n: int) -> None:
        """Name a flange of ours beside what it is bolted to: cut list and tape list call it so."""
        spot = self.places.spots[n]
        if spot.words:
            (kind, text), *rest = spot.words
            between = ", " if " with " in text else " with "
            words = ((kind, f"{text}{between}{short(flange.id)}"), *rest)
            self.places.spots[n] = replace(spot, words=words)

    def core(self, part: Part, n: int) -> None:
        """Set what stands at a place."""
        if part.id in self.at and self.places.spots[self.at[part.id]].ref == part.id:
            return
        self.at[part.id] = n
        if self.places.spots[n].sign is not Sign.NONE:
            return
        spot = self.places.spots[n]
        self.places.spots[n] = self.spot(part, spot.at)

    def spot(self, part: Part, at: Vec) -> Spot:
        """A place from the part that stands there."""
        line = self.line.name
        if part.line != line:
            used = frozenset(self.used.get(part.id, set()))
            rest = tuple(Stub(p.out, "", part.id) for p in part.ports if p.name not in used)
            came = "into" if self.is_end(part) else "from"
            text = f"{came} {part.line} {short(part.id)}"
            name = f"{short(part.id)} of {part.line}"
            return Spot(at, Sign.BRANCH, part.id, name, ((Kind.BRANCH, text),), rest)
        sign, words = sign_and_words(part, self.turns.get(part.id))
        ports = {p.name: p for p in part.ports}
        along = ports["b"].out if "b" in ports else part.ports[0].out
        stubs: tuple[Stub, ...] = ()
        if sign is Sign.TEE:
            used = frozenset(self.used.get(part.id, set()))
            stubs = tuple(
                Stub(p.out, self.branch_words(part, p.name), part.id, section=self.beyond(part, p.name))
                for p in part.ports
                if p.name not in used
            )
        narrow = True
        if sign is Sign.REDUCER and "a" in ports and "b" in ports:
            narrow = ports["b"].size.nominal < ports["a"].size.nominal
        return Spot(at, sign, part.id, said(part), words, stubs, along, part.handle, narrow)

    def is_end(self, part: Part) -> bool:
        """Whether a part of another line stands at the end of this line, not at its start."""
        if not self.line.runs:
            return False
        last = self.graph.runs[self.line.runs[-1]].b[0]
        first = self.graph.runs[self.line.runs[0]].a[0]
        return last == part.id and first != part.id

    def branch_words(self, part: Part, port: str) -> str:
        """Where an open branch leads."""
        size = part.port(port).size
        text = " ".join(self.starts.get((part.id, port), ())) or f"branch {part.name}".strip()
        text = text if size == part.size else f"{text}, {size.text}"
        beyond = self.beyond(part, port)
        return text if beyond is None or not beyond.name else f"{text}, section {beyond.name}"

    def beyond(self, part: Part, port: str) -> SectionMark | None:
        """The section of the line that an open branch leads to, if it is another one."""
        _, line = self.starts.get((part.id, port), ("", ""))
        mark = self.sections.get(line)
        return None if mark == self.sections.get(self.line.name) else mark

    # ------------------------------------------------------------------ legs

    def mark(self, joint: JointPlace | None, where: str, bell: int = 0) -> JointMark | None:
        """The mark of a joint."""
        if joint is None:
            return None
        return JointMark(self.names[joint.key], joint.id or "|".join(joint.key), where, bell)

    def short_leg(self, a: int, b: int, tie: JointMark | None = None, *, flanged: bool = False) -> Leg:
        """Two places tied without a pipe."""
        gap = sub(self.places.spots[b].at, self.places.spots[a].at)
        way = unit(gap) if norm(gap) > 1e-9 else (0.0, 0.0, 1.0)
        return Leg(a, b, way, tie=tie, tie_flanged=flanged)

    def leg(self, run: Run, a: int, b: int, mate_a: Mate, mate_b: Mate, pieces: list[Piece]) -> Leg:
        """A run as a leg."""
        bits: list[Bit] = []
        pieces = sorted(pieces, key=lambda p: p.n)
        for i, p in enumerate(pieces):
            at_a = self.graph.parts[run.a[0]] if i == 0 else None
            at_b = self.graph.parts[run.b[0]] if i == len(pieces) - 1 else None
            to_a = said(at_a) if at_a else f"piece {pieces[i - 1].letter}"
            to_b = said(at_b) if at_b else f"piece {pieces[i + 1].letter}"
            joint_a, joint_b = self.by_piece.get((p.id, "a")), self.by_piece.get((p.id, "b"))
            bits.append(
                Bit(
                    letter=p.letter,
                    ref=p.id,
                    taped_later=p.state is State.FIELD
                    or (p.state is State.WAIT and run.field and at_b is not None),
                    a=self.mark(joint_a, f"{p.letter} to {to_a}", -1 if _bell(joint_a) else 0),
                    b=self.mark(joint_b, f"{p.letter} to {to_b}", 1 if _bell(joint_b) else 0),
                    sleeve_after=i < len(pieces) - 1 and "#" not in p.b.part,
                )
            )  # fmt: skip
        tape = len(bits) == 1 and bits[0].taped_later
        length = show_length(run.cc, self.shown)
        if not run.exact:
            length = f"about {length}"
        if run.close:
            length = f"close {length}"
        if tape:
            length += ", tape"
            bits[0] = replace(bits[0], word=False)
        slope, roll = self.slope_and_roll(run)
        ends = [self.graph.parts[e[0]] for e in (run.a, run.b)]
        return Leg(
            a=a,
            b=b,
            way=run.way,
            run=run.id,
            mate_a=mate_a,
            mate_b=mate_b,
            bits=tuple(bits),
            length=length,
            slope=slope,
            falls_ahead=run.way[2] < 0,
            roll=roll,
            saddles=tuple(self.saddle(part, along, run) for part, along in run.saddles),
            where=" to ".join(said(p) for p in ends),
        )

    def slope_and_roll(self, run: Run) -> tuple[str, str]:
        """Words for a leg that follows no axis."""
        rise = abs(run.way[2])
        if rise < LEVEL and max(abs(run.way[0]), abs(run.way[1])) > 1 - 1e-7:
            return "", ""
        if rise > 1 - 1e-7:
            return "", ""
        plan = math.sqrt(max(1 - rise * rise, 0.0))
        slope = ""
        if LEVEL <= rise < STEEP:
            ratio = plan / rise
            slope = f"1:{ratio:.0f}" if ratio >= 9.95 else f"1:{ratio:.1f}"
        if slope and max(abs(run.way[0]), abs(run.way[1])) / plan > ON_AXIS:
            return slope, ""
        said = []
        for value, plus, minus in zip(run.way, ("E", "N", "up"), ("W", "S", "down"), strict=True):
            part = value * run.cc
            if abs(part) > self.shown.step / 2 and not (slope and plus == "up"):
                said.append(f"{plus if part > 0 else minus} {show_length(abs(part), self.shown)}")
        return slope, ", ".join(said)

    def saddle(self, part_id: str, along: float, run: Run) -> Saddle:
        """A saddle on a run."""
        part = self.graph.parts[part_id]
        port = part.port("c")
        words = self.branch_words(part, "c")
        joint = self.mark(self.by_saddle.pop(part_id, None), f"saddle {short(part_id)}")
        share = along / run.cc if run.cc > 1e-9 else 0.5
        stub = Stub(port.out, f"{short(part_id)} {words}", part_id, section=self.beyond(part, "c"))
        return Saddle(min(max(share, 0.0), 1.0), stub, joint)

    def with_ties(
        self, legs: list[Leg], ties: list[Connection], loose: list[tuple[int, Vec, JointMark]]
    ) -> list[Leg]:
        """Add the legs of parts tied without a pipe, in walking order of their places."""
        made: list[Leg] = []
        for c in ties:
            na, nb = self.at.get(c.a[0]), self.at.get(c.b[0])
            joints = self.by_pair.pop(frozenset((c.a[0], c.b[0])), [])
            joint = joints[0] if joints else None
            where = f"{short(c.a[0])} to {short(c.b[0])}"
            mark = self.mark(joint, where)
            if na is None or nb is None or na == nb:
                n = na if na is not None else nb
                if mark is not None and joint is not None and n is not None:
                    loose.append((n, joint.way, mark))
                continue
            made.append(self.short_leg(na, nb, mark, flanged=c.tie in (Tie.FLANGED, Tie.RINGED)))
        known = {(leg.a, leg.b) for leg in legs} | {(leg.b, leg.a) for leg in legs}
        for leg in made:
            if (leg.a, leg.b) in known:
                if leg.tie is not None:
                    loose.append((leg.a, leg.way, leg.tie))
                continue
            after = [i for i, other in enumerate(legs) if other.b in (leg.a, leg.b)]
            legs.insert(after[0] + 1 if after else 0, leg)
        return legs

    # ------------------------------------------------------------------ elevations

    def elevations(self, legs: list[Leg]) -> None:
        """Elevations at the ends of the line and wherever the level changes."""
        rises: dict[int, list[float]] = {}
        for leg in legs:
            for n in (leg.a, leg.b):
                rises.setdefault(n, []).append(leg.way[2] if leg.run else 0.0)
        for n, ways in sorted(rises.items()):
            spot = self.places.spots[n]
            passed = len(ways) > 1 and max(ways) - min(ways) < LEVEL
            if passed and (abs(ways[0]) < LEVEL or spot.sign is not Sign.TEE):
                continue  # the level does not change here, or the pipe rises straight through
            part = self.graph.parts.get(spot.ref)
            if part is None or not part.datum:
                continue
            text = f"EL {show_length(spot.at[2], self.shown)}"
            self.places.spots[n] = replace(spot, words=(*spot.words, (Kind.LEVEL, text)))


def _bell(joint: JointPlace | None) -> bool:
    return joint is not None and joint.kind is JointKind.BELL
