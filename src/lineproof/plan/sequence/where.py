"""Where an opening could go: pieces with room, lines where it is allowed, heights where bolts are reached."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lineproof.book.rules import joint_hours
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading
from lineproof.job.closing import UNION_TO
from lineproof.job.duty import matches
from lineproof.job.parts import Form, PartKind, type_key
from lineproof.job.people import within
from lineproof.job.places import guess_reach
from lineproof.plan.model import Piece
from lineproof.plan.rough_days import labour_of
from lineproof.plan.sequence.legs import Bit, Leg
from lineproof.plan.sequence.openings import FACES, FLANGES, UNION, Opening
from lineproof.plan.sequence.rig import GROUND, Block, Box, How, Rig, Tied, rig_of
from lineproof.plan.work import Work
from lineproof.sums.vectors import distance

BOLT_UP = 0.40 * 3600.0 / 0.0254
"""Bolt-up where no table lists it: 0.40 h an inch, derived from the estimating handbook. [s/m]"""
SWAP = 60.0
"""What changing ringed faces for flat ones is held at, so that no opening is free: a minute. [s]"""
MOST = 2
"""More openings on one straight stretch open nothing more: the piece between two of them drops in. [-]"""
INCH = 0.0254


@dataclass(frozen=True, slots=True)
class Takes:
    """What one opening takes up: from socket face to socket face, and whether that was measured."""

    length: float
    sure: bool


class Where:
    """Looks for places, leg by leg.

    Parameters
    ----------
    work : Work
    rig : Rig
    legs : sequence of Leg
        Those of the rig.
    """

    def __init__(self, work: Work, rig: Rig, legs: Sequence[Leg]) -> None:
        self.work = work
        self.rig = rig
        self.legs = legs
        self.settings = work.job.settings
        self.pieces = {p.id: p for p in work.cutting.pieces}
        self._takes: dict[tuple[Size, str, str, str], Takes] = {}

    def options(self) -> tuple[Opening, ...]:
        """Every opening that could be put in."""
        found: list[Opening] = []
        for n, leg in enumerate(self.legs):
            for m, bit in enumerate(leg.bits):
                if bit.how is How.RINGED:
                    found += self.faces(n, m, bit)
                elif bit.how is How.CEMENTED:
                    found += self.stretch(n, m, bit)
        return tuple(found)

    def faces(self, n: int, m: int, bit: Bit) -> list[Opening]:
        """Flat faces in place of ringed ones; not where one of them stands."""
        tie = self.rig.ties[bit.ties[0]]
        if GROUND in (tie.a, tie.b) or not self.allowed(tie.a, tie.place[2]):
            return []
        return [Opening(f"{tie.id}: {FACES}", n, m, FACES, tie.id, 1, SWAP, 0)]

    def stretch(self, n: int, m: int, bit: Bit) -> list[Opening]:
        """The cheapest openings on a straight stretch: up to two."""
        found: list[Opening] = []
        for name in bit.bodies:
            piece = self.pieces.get(name)
            if piece is None or len(found) >= MOST:
                continue
            kind = self.kind(piece.size)
            if not kind or not self.allowed(piece.id, piece.start[2]):
                continue
            takes = self.takes(piece, kind)
            room, measured = self.room(piece, takes.length)
            for k in range(min(room, MOST - len(found))):
                order = len(found) + 1
                cost = self.cost(piece.size, kind)
                name = f"{piece.id}: {kind} {k + 1}"
                found.append(Opening(name, n, m, kind, piece.id, order, cost, 2, takes.sure and measured))
        return found

    def allowed(self, body: str, height: float) -> bool:
        """Whether the job allows an opening there."""
        closing = self.settings.closing
        line = body.partition("/")[0]
        if any(matches(p, line) for p in closing.keep_closed):
            return False
        low, high = closing.reach_low, closing.reach_high
        return (low is None or height >= low - 1e-9) and (high is None or height <= high + 1e-9)

    def kind(self, size: Size) -> str:
        """What opens pipe of a size; empty where nothing may."""
        closing = self.settings.closing
        most = [closing.union_to] if closing.union_to is not None else list(UNION_TO)
        low = Size(size.system, 0.001)
        if "union" in closing.openings and any(within(size, low, s) for s in most):
            return UNION
        return FLANGES if "flange" in closing.openings else ""

    def takes(self, piece: Piece, kind: str) -> Takes:
        """From socket face to socket face of an opening. [m]"""
        key = (piece.size, piece.material, piece.series, kind)
        if key not in self._takes:
            part = PartKind.UNION if kind == UNION else PartKind.FLANGE
            rows = self.work.job.parts.of_type(type_key(part, 0.0, piece.material, piece.series, piece.size))
            reaches = [
                o.reach for r in rows for o in r.outlets if o.form is Form.SOCKET and o.reach is not None
            ]
            each = max(reaches) if reaches else 0.75 * guess_reach(piece.size)
            self._takes[key] = Takes(2 * each, bool(reaches))
        return self._takes[key]

    def room(self, piece: Piece, length: float) -> tuple[int, bool]:
        """How many openings fit on a piece off stretches kept free of joints; whether it is measured."""
        bare = self.settings.cutting.exposed or 0.0
        run = self.work.graph.runs[piece.run]
        whole = piece.exact
        sure = whole is not None
        if whole is None:
            whole = max(piece.centre_to_centre - 2 * guess_reach(piece.size), 0.0)
        ends = (piece.a.depth or 0.0, piece.b.depth or 0.0)
        start = distance(run.start, piece.start)
        low, high = start + ends[0], start + whole - ends[1]
        free = [(low, high)]
        for a, b in run.no_joint:
            free = [
                (x, y)
                for s, e in free
                for x, y in ((s, min(e, a)), (max(s, b), e))
                if y > x
            ]  # fmt: skip
        return sum(max(0, int((e - s - bare + 1e-9) // (length + bare))) for s, e in free), sure

    def cost(self, size: Size, kind: str) -> float:
        """Work that an opening adds: two joints, and a bolt-up where it has bolts. [s]"""
        inches = size.nominal / 25.4 if size.metric else size.nominal
        joint = labour_of(self.work.book, size) or 540.0 * inches
        listed = joint_hours(self.work.book, size, Reading())
        bolts = listed.bolt_up if listed is not None else BOLT_UP * inches * INCH
        return 2 * joint + (bolts if kind == FLANGES else 0.0)


def opened_rig(rig: Rig, chosen: Iterable[Opening]) -> Rig:
    """The rig with openings put in: pieces cut in two or three, faces changed.

    Parameters
    ----------
    rig : Rig
    chosen : iterable of Opening

    Returns
    -------
    Rig
        A piece ``B-201/C`` comes as ``B-201/C(1)`` and ``B-201/C(2)``, each with its half of the opening
        on it; the joints that the halves add are made with them.
    """
    cuts: dict[str, int] = {}
    flat: set[str] = set()
    for o in chosen:
        if o.kind == FACES:
            flat.add(o.at)
        else:
            cuts[o.at] = cuts.get(o.at, 0) + 1
    blocks: list[Block] = []
    extra: list[Tied] = []
    ends: dict[str, tuple[Box, int]] = {}
    for block in rig.blocks.values():
        count = cuts.get(block.id, 0)
        if not count:
            blocks.append(block)
            continue
        box = block.boxes[0]
        ends[block.id] = (box, count)
        names = [f"{block.id}({k + 1})" for k in range(count + 1)]
        step = [(box.end[i] - box.start[i]) / (count + 1) for i in range(3)]
        mass = block.mass / (count + 1) if block.mass is not None else None
        way = unit_of(box)
        for k, name in enumerate(names):
            low = (box.start[0] + k * step[0], box.start[1] + k * step[1], box.start[2] + k * step[2])
            high = (low[0] + step[0], low[1] + step[1], low[2] + step[2])
            blocks.append(Block(name, (Box(low, high, box.half),), mass, "piece"))
            if k:
                extra.append(
                    Tied(
                        f"{names[k - 1]}-{k + 1}",
                        How.FLAT,
                        names[k - 1],
                        name,
                        way,
                        3 * box.half + 0.05,
                        place=low,
                    )
                )
    ties = []
    for tie in rig.ties:
        a, b = (_half(x, tie, ends) for x in (tie.a, tie.b))
        how = How.FLAT if tie.id in flat else tie.how
        travel = 0.3 if tie.id in flat else tie.travel
        ties.append(Tied(tie.id, how, a, b, tie.way, travel, tie.joint, tie.place))
    return rig_of(blocks, [*ties, *extra])


def unit_of(box: Box) -> tuple[float, float, float]:
    """The direction of a bar."""
    d = [e - s for s, e in zip(box.start, box.end, strict=True)]
    size = sum(x * x for x in d) ** 0.5 or 1.0
    return (d[0] / size, d[1] / size, d[2] / size)


def _half(body: str, tie: Tied, ends: dict[str, tuple[Box, int]]) -> str:
    if body not in ends:
        return body
    box, count = ends[body]
    way = unit_of(box)
    along = sum((tie.place[i] - box.start[i]) * way[i] for i in range(3))
    length = distance(box.start, box.end) or 1.0
    return f"{body}({min(count, max(0, int(along / length * (count + 1)))) + 1})"
