"""The line of a job as rigid bodies and ties, from the same graph and pieces that everything else reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from lineproof.job.graph import End, Part, Port, Tie, Vec
from lineproof.job.parts import Form, PartKind
from lineproof.job.places import guess_reach
from lineproof.plan.model import JointKind, JointPlace, Piece
from lineproof.plan.sequence.rig import GROUND, Block, Box, How, Rig, Tied, back, rig_of
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work
from lineproof.sums.vectors import add, scale

WORKING_GAP = 0.1
"""Room between socket face and pipe end while both are wetted: a hand and a swab (own rule). [m]"""
RING = 0.01
"""Straight travel of a ringed face: rings and grooves up to 10 mm deep (own rule). [m]"""
HUB = 1.25
"""A hub that nobody measured is taken so many nominal diameters wide, for room only (own rule). [1]"""
TURN_GAP = 0.05
"""Room round a part while faces are slid past each other (own rule). [m]"""
FLAT_FACES = ("flat", "raised")
FLAT_UNION, DROP_OUT = "union", "drop-out union"


@dataclass(frozen=True, slots=True)
class Assume:
    """What is taken for granted where nobody said.

    Parameters
    ----------
    unbolts : bool
        A standing flange that is not said to be unbolted may be bolted up last.
    flat : bool
        A face that nobody described is flat.
    """

    unbolts: bool = False
    flat: bool = False


@dataclass(frozen=True, slots=True)
class LineRig:
    """A rig with what was not said about it.

    Parameters
    ----------
    rig : Rig
    unsaid_ends : tuple of str
        Standing flanges that are not said to be unbolted.
    unsaid_faces : tuple of str
        Parts with a face that nobody described.
    rough : bool
        Some dimension stood in provisionally.
    stands : mapping
        What stands at the other side of a tie to the ground, by the tie's id.
    """

    rig: Rig
    unsaid_ends: tuple[str, ...] = ()
    unsaid_faces: tuple[str, ...] = ()
    rough: bool = False
    stands: Mapping[str, str] = field(default_factory=dict)


def line_rig(work: Work, assume: Assume | None = None, *, gap: float = WORKING_GAP) -> LineRig:
    """The rig of a job.

    Parameters
    ----------
    work : Work
        With named joints.
    assume : Assume, optional
        Nothing is taken for granted by default.
    gap : float
        Working gap at a socket face. [m]

    Returns
    -------
    LineRig
    """
    return _Reader(work, assume or Assume(), gap).read()


class _Reader:
    """Reads parts, pieces, joints and connections once."""

    def __init__(self, work: Work, assume: Assume, gap: float) -> None:
        self.work = work
        self.assume = assume
        self.gap = gap
        self.parts: dict[str, Part] = {**work.graph.parts, **work.cutting.couplings}
        self.pieces: dict[str, Piece] = {p.id: p for p in work.cutting.pieces}
        self.ends: dict[str, None] = {}
        self.faces: dict[str, None] = {}
        self.rough = False
        self.stands: dict[str, str] = {}

    def read(self) -> LineRig:
        """All of it."""
        blocks: list[Block] = []
        ties: list[Tied] = []
        standing: list[Box] = []
        for part in self.parts.values():
            if part.fixed:
                standing += self.part_boxes(part)
            elif part.kind is PartKind.UNION:
                blocks += self.halves(part)
                ties += self.nut(part)
            elif part.kind != GROUND:
                mass = part.row.mass if part.row else None
                blocks.append(Block(part.id, tuple(self.part_boxes(part)), mass, str(part.kind)))
        blocks.append(Block(GROUND, tuple(standing), None, "ground"))
        for piece in self.pieces.values():
            blocks.append(Block(piece.id, (self.piece_box(piece),), piece.mass, "piece"))
        known = {b.id for b in blocks}
        for n, joint in enumerate(self.work.cutting.joints):
            ties.append(self.cemented(joint, joint_name(joint, n)))
        ties += self.pushed()
        ties += self.connected()
        kept = (t for t in ties if t.a in known and t.b in known)
        return LineRig(rig_of(blocks, kept), tuple(self.ends), tuple(self.faces), self.rough, self.stands)

    # ------------------------------------------------------------- bodies
    def body(self, end: End) -> str:
        """The body that an end belongs to."""
        part = self.parts.get(end[0])
        if part is None:
            return end[0]
        if part.fixed:
            return GROUND
        return f"{part.id}.{end[1]}" if part.kind is PartKind.UNION else part.id

    def reach(self, port: Port) -> float:
        """Centre to face, or the provisional one. [m]"""
        if port.reach is None:
            self.rough = True
            return guess_reach(port.size)
        return port.reach

    def depth(self, port: Port) -> float:
        """Depth to the stop, or half a nominal diameter where nobody measured it. [m]"""
        if port.depth is None:
            self.rough = True
            return 0.5 * guess_reach(port.size)
        return port.depth

    def half(self, part: Part, port: Port) -> float:
        """Half the width of a hub. [m]"""
        hub = part.row.hub if part.row is not None else None
        return (hub if hub is not None else HUB * guess_reach(port.size)) / 2

    def port_box(self, part: Part, port: Port, inner: float = 0.0) -> Box:
        """A hub from its part's centre (or from a point further out) to its face."""
        axis = add(part.centre, port.shift)
        return Box(
            add(axis, scale(port.out, inner)), add(axis, scale(port.out, self.reach(port))),
            self.half(part, port),
        )  # fmt: skip

    def part_boxes(self, part: Part) -> list[Box]:
        """One box a port; a face that lies in the centre takes up nothing."""
        boxes = [self.port_box(part, port) for port in part.ports if port.form is not Form.SADDLE]
        return [b for b in boxes if b.start != b.end]

    def halves(self, part: Part) -> list[Block]:
        """The two ends of a union, and its body where it drops out."""
        mass = part.row.mass / 2 if part.row and part.row.mass is not None else None
        drops = part.style == DROP_OUT
        found, inner = [], []
        for port in part.ports:
            start = max(self.reach(port) - self.depth(port), 0.0) if drops else 0.0
            inner.append((port, start))
            found.append(Block(f"{part.id}.{port.name}", (self.port_box(part, port, start),), mass, "union"))
        if drops:
            boxes = tuple(
                Box(part.centre, add(part.centre, scale(p.out, at)), self.half(part, p))
                for p, at in inner
                if at
            )
            found.append(Block(part.id, boxes, None, "union body"))
        return found

    def piece_box(self, piece: Piece) -> Box:
        """The bar of a pipe piece."""
        length = piece.exact
        if length is None:
            self.rough = True
            length = max(piece.centre_to_centre, 0.01)
        dims = self.work.pipes.dims(piece.size, piece.material, piece.series)
        od = dims.od if dims is not None else guess_reach(piece.size)
        return Box(piece.start, add(piece.start, scale(piece.way, length)), od / 2)

    # ------------------------------------------------------------- ties
    def nut(self, part: Part) -> list[Tied]:
        """What holds the halves of a union together."""
        a, b = part.ports[0], part.ports[-1]
        flat = part.style in (FLAT_UNION, DROP_OUT)
        if not part.style:
            flat = a.face in FLAT_FACES or (self.assume.flat and a.face != "ringed")
            if a.face not in (*FLAT_FACES, "ringed"):
                self.faces[part.id] = None
        how = How.FLAT if flat else How.RINGED
        travel = 2 * self.half(part, a) + TURN_GAP if flat else RING
        if part.style == DROP_OUT:
            return [
                Tied(f"{part.id}.{p.name}-", How.FLAT, f"{part.id}.{p.name}", part.id, back(p.out), travel,
                     place=part.centre)
                for p in (a, b)
            ]  # fmt: skip
        return [Tied(part.id, how, f"{part.id}.{a.name}", f"{part.id}.{b.name}", back(a.out), travel,
                     place=part.centre)]  # fmt: skip

    def cemented(self, j: JointPlace, name: str) -> Tied:
        """A cemented joint: the spigot's side goes to the socket's."""
        self.note(name, j.socket[0], j.spigot[0])
        if j.kind is JointKind.SADDLE:
            saddle = self.parts[j.socket[0]]
            way = saddle.port("a").out
            travel = guess_reach(j.size) / 2 + self.gap
            return Tied(name, How.CEMENTED, saddle.id, j.spigot[0], way, travel, name, j.place)
        if j.kind is JointKind.BELL:
            way = j.way if j.spigot[1] == "b" else back(j.way)
        else:
            way = back(self.parts[j.socket[0]].port(j.socket[1]).out)
        depth = j.depth
        if depth is None:
            self.rough = True
            depth = 0.5 * guess_reach(j.size)
        return Tied(
            name, How.CEMENTED, self.body(j.spigot), self.body(j.socket), way, depth + self.gap, name, j.place
        )

    def note(self, tie: str, *parts: str) -> None:
        """Keep what stands at a tie."""
        for name in parts:
            part = self.parts.get(name)
            if part is not None and part.fixed:
                self.stands[tie] = part.name or part.id

    def pushed(self) -> list[Tied]:
        """Bells that hold a gasket: pushed on, not cemented."""
        gasketed = {s.id for s in self.work.job.settings.stock if s.ends == "gasket bell"}
        mates: dict[tuple[str, int], Piece] = {(p.run, p.n): p for p in self.pieces.values()}
        found = []
        for p in self.pieces.values():
            for side, end, step in (("a", p.a, -1), ("b", p.b, 1)):
                if p.stock in gasketed and "#" in end.part and not end.bell:
                    mate = mates.get((p.run, p.n + step))
                    if mate is not None:
                        way = p.way if side == "b" else back(p.way)
                        travel = (end.depth or 0.5 * guess_reach(p.size)) + self.gap
                        name = f"{p.id}-{mate.id.rpartition('/')[2]}"
                        found.append(Tied(name, How.PUSHED, p.id, mate.id, way, travel, place=p.start))
        return found

    def connected(self) -> list[Tied]:
        """Flange pairs, threads: ties without cement."""
        found = []
        for tie in self.work.graph.connections:
            if tie.tie is Tie.CEMENTED:
                continue
            pa, pb = self.parts[tie.a[0]], self.parts[tie.b[0]]
            port = pa.port(tie.a[1])
            place = add(pa.centre, scale(port.out, port.reach or 0.0))
            name = f"{pa.id}-{pb.id.rpartition('/')[2]}"
            self.note(name, pa.id, pb.id)
            how = How.THREADED if tie.tie is Tie.THREADED else self.faces_of(tie.tie, pa, pb, tie.a, tie.b)
            travel = RING if how is How.RINGED else self.across(pa, port)
            found.append(Tied(name, how, self.body(tie.a), self.body(tie.b), port.out, travel, place=place))
        return found

    def faces_of(self, tie: Tie, pa: Part, pb: Part, a: End, b: End) -> How:
        """How two flange faces come together."""
        fixed = next((p for p in (pa, pb) if p.fixed), None)
        if fixed is not None and not fixed.may_unbolt:
            self.ends[fixed.name or fixed.id] = None
            if not self.assume.unbolts:
                return How.RIGID
        if tie is Tie.RINGED:
            return How.RINGED
        unsaid = [
            (p.name or p.id) if p.fixed else p.id
            for p, e in ((pa, a), (pb, b))
            if p.port(e[1]).face not in FLAT_FACES
        ]
        if unsaid and not self.assume.flat:
            self.faces.update(dict.fromkeys(unsaid))
            return How.RINGED
        self.faces.update(dict.fromkeys(unsaid))
        return How.FLAT

    def across(self, part: Part, port: Port) -> float:
        """How far faces are slid to come clear of each other. [m]"""
        return 2 * self.half(part, port) + TURN_GAP


def direction_to(tie: Tied, body: str) -> Vec:
    """The move that brings one of its bodies to the other."""
    return tie.way if body == tie.a else back(tie.way)
