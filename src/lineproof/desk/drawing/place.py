"""Places labels: beside what they tell, else at the end of a leader, else as a key to the side table.

Greedy, those with the fewest free places first, against a grid of what is taken. Nothing that is placed
overlaps a label, a stroke or a leader.
"""

from __future__ import annotations

import math
import string
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from lineproof.desk.drawing.grid import STANDS, Grid
from lineproof.desk.drawing.ink import (
    THICK,
    THIN,
    Box,
    Segment,
    Stroke,
    Words,
    box_at,
    box_size,
    words_in,
)
from lineproof.desk.drawing.project import XY
from lineproof.desk.drawing.scene import Kind
from lineproof.desk.drawing.trace import Ask, Drawn

BESIDE: dict[Kind, tuple[float, ...]] = {
    Kind.JOINT: (0.7, 1.6),
    Kind.PIECE: (0.9, 1.8),
    Kind.LENGTH: (1.1, 2.2),
    Kind.TAPE: (1.1, 2.2),
    Kind.SLOPE: (1.1, 2.2),
    Kind.ROLL: (1.1, 2.2, 3.2),
    Kind.END: (2.0, 3.2, 4.6),
    Kind.BRANCH: (0.9, 1.8, 3.0),
    Kind.MATCH: (0.9, 2.0, 3.2, 5.6),
    Kind.PART: (1.2, 2.2, 3.2, 4.4),
    Kind.LEVEL: (1.2, 2.2, 3.2, 4.4),
}
"""How far a label stands off without a leader. [mm]"""
OF_A_PLACE = frozenset((Kind.END, Kind.BRANCH, Kind.MATCH, Kind.PART, Kind.LEVEL))
"""Labels that stand about a point, not along a leg."""
RINGS = (4.0, 5.5, 7.5, 10.0, 13.0, 16.5, 21.0, 26.0)
"""How far off a label may stand at the end of a leader. [mm]"""
FAR_RINGS = (*RINGS, 31.0, 37.0, 44.0, 54.0, 66.0, 80.0)
LEADER_ENDS = 0.45
"""A leader stops this short of its label and of what it points to. [mm]"""
LEADER_WAYS: tuple[XY, ...] = tuple(
    (math.cos(math.radians(a)), math.sin(math.radians(a)))
    for a in (-60, 60, -120, 120, 0, 180, -45, 45, -135, 135, -75, 75, -105, 105, -15, 15, 165, -165)
)
"""Ways of a leader: none along an axis of the drawing, so that it is not taken for a bar or a pipe. [1]"""
FINE_WAYS: tuple[XY, ...] = tuple(
    (math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(5, 365, 10)
)
OFF_AXIS = math.sin(math.radians(7.0))
WEDGE_MM = 4.6
"""Room of the little wedge before a slope. [mm]"""
FIRST = {
    Kind.JOINT: 0, Kind.PIECE: 1, Kind.LENGTH: 2, Kind.TAPE: 3, Kind.MATCH: 1, Kind.BRANCH: 4, Kind.END: 3,
    Kind.SLOPE: 4, Kind.PART: 5, Kind.ROLL: 6, Kind.LEVEL: 6,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class TableRow:
    """A row of the side table: the key on the drawing, and what it stands for."""

    key: str
    kind: str
    text: str
    where: str
    ref: str


Stand = tuple[XY, int]
"""Where a label stands: its middle from its first point [mm], and the point its leader goes to (-1: none)."""
NOWHERE: Stand = ((0.0, 0.0), -2)
"""Of a label whose key found no place either: it is in the side table only."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Labels in place, leaders, wedges, and the rows of those that found none."""

    words: tuple[Words, ...]
    strokes: tuple[Stroke, ...]
    table: tuple[TableRow, ...]
    direct: int
    """Labels that are on the drawing themselves."""
    led: int
    """Of those, at the end of a leader."""
    asked: int
    whole: bool
    """Every label is on the drawing or in the table; False if it was given up."""
    stands: Mapping[int, Stand] = field(default_factory=dict)
    """Where each label that is on the drawing stands, by its number among those that asked."""
    keyed: Mapping[int, Stand] = field(default_factory=dict)
    """Where the keys of those stand that found no place."""


def place(
    drawn: Drawn,
    area: Box,
    reserved: Iterable[Box] = (),
    *,
    give_up: float = 0.0,
    last: Mapping[int, Stand] | None = None,
    last_keys: Mapping[int, Stand] | None = None,
) -> Placed:
    """Place all labels of a sheet.

    Parameters
    ----------
    drawn : Drawn
        Strokes, words that stand already, and labels that ask.
    area : Box
        Where labels may stand. [mm]
    reserved : iterable of Box
        What is kept free for other things. [mm]
    give_up : float
        If a smaller share finds a place, no keys are sought: the sheet is to be cut again. [1]
    last : mapping, optional
        Where labels stood before; those that can stand there again do, before any other is placed.
    last_keys : mapping, optional
        Where the keys of labels stood that had found no place; they keep their keys.

    Returns
    -------
    Placed
    """
    grid = Grid(area)
    for box in reserved:
        grid.add_box(box)
    for word in drawn.words:
        grid.add_box(word.box)
    for stroke in drawn.strokes:
        for s in stroke.segments:
            grid.add_line(s, THICK / 2 if stroke.thick else THIN / 2, crossable=stroke.role == "aid")
    return _Placer(grid, drawn.asks).run(give_up, len(drawn.words), last or {}, last_keys or {})


@dataclass(slots=True)
class _Placer:
    grid: Grid
    asks: list[Ask]
    at: dict[int, tuple[Box, Segment | None, str]] = field(default_factory=dict)
    """Label to its box, its leader, and its key if it stands in the side table."""
    choices: list[list[Box]] = field(default_factory=list)
    table: list[TableRow] = field(default_factory=list)

    def run(
        self, give_up: float, standing: int, last: Mapping[int, Stand], last_keys: Mapping[int, Stand]
    ) -> Placed:
        for n, stand in last.items():
            self.again(n, stand, self.asks[n])
        self.choices = [
            [] if n in self.at or n in last_keys else [box for box in self.beside(ask) if self.grid.free(box)]
            for n, ask in enumerate(self.asks)
        ]
        order = sorted(
            (n for n in range(len(self.asks)) if n not in self.at and n not in last_keys),
            key=lambda n: (
                self.asks[n].kind is not Kind.MATCH,
                min(len(self.choices[n]), 12),
                FIRST[self.asks[n].kind],
                n,
            ),
        )
        waiting: list[int] = []
        for n in order:
            box = next((b for b in self.choices[n] if self.grid.free(b)), None)
            if box is None:
                waiting.append(n)
            else:
                self.put(n, box)
        for _ in range(2):
            waiting = [n for n in waiting if not self.make_room(n)]
        keyed: list[int] = [n for n in last_keys if n not in self.at]
        for n in waiting:
            found = self.at_leader(self.asks[n], self.asks[n].text, RINGS)
            if found is None:
                keyed.append(n)
            else:
                self.put(n, *found)
        total = len(self.asks) + standing
        whole = total - len(keyed) >= give_up * total
        if whole:
            self.keys(keyed, last_keys)
        words: list[Words] = []
        strokes: list[Stroke] = []
        for n in sorted(self.at):
            self.ink(n, words, strokes)
        led = sum(leader is not None and not key for _, leader, key in self.at.values())
        asked = len(self.asks)
        stands = {n: self.stand(n) for n in self.at if not self.at[n][2]}
        keys = {n: self.stand(n) if n in self.at else NOWHERE for n in keyed}
        direct = asked - len(keyed)
        table = tuple(self.table)
        return Placed(tuple(words), tuple(strokes), table, direct, led, asked, whole, stands, keys)

    def again(self, n: int, stand: Stand, ask: Ask, key: str = "") -> None:
        """Put a label or its key where it stood before, if that is still free."""
        off, to = stand
        box = box_at((ask.points[0][0] + off[0], ask.points[0][1] + off[1]), *self.size(ask, ask.text))
        if not self.grid.free(box):
            return
        if to < 0:
            self.put(n, box, None, key)
        elif to < len(ask.points):
            leader = _leader(box, ask.points[to], 0.0 if key else OFF_AXIS)
            if leader is not None and self.grid.clear(leader, ask.points[to]):
                self.put(n, box, leader, key)

    def stand(self, n: int) -> Stand:
        """Where a label that is placed stands."""
        box, leader, _ = self.at[n]
        points, (x, y) = self.asks[n].points, box.centre
        to = -1
        if leader is not None:
            tip = (leader[2], leader[3])
            to = min(range(len(points)), key=lambda i: math.dist(points[i], tip))
        return (x - points[0][0], y - points[0][1]), to

    def put(self, n: int, box: Box, leader: Segment | None = None, key: str = "") -> None:
        """Take a place for a label; one at a leader stays where it is."""
        self.at[n] = (box, leader, key)
        self.grid.add_box(box, STANDS if leader else n)
        if leader is not None:
            self.grid.add_leader(leader)

    def make_room(self, n: int) -> bool:
        """Move one label that stands in the way to another of its places."""
        for box in self.choices[n]:
            block = self.grid.blockers(box)
            if block is None or len(block) > 1:
                continue
            if not block:
                self.put(n, box)
                return True
            other = block.pop()
            old = self.at[other][0]
            self.grid.drop_box(old, other)
            self.grid.add_box(box, n)
            new = next((b for b in self.choices[other] if self.grid.free(b)), None)
            if new is not None:
                self.at[n] = (box, None, "")
                self.put(other, new)
                return True
            self.grid.drop_box(box, n)
            self.grid.add_box(old, other)
        return False

    def size(self, ask: Ask, text: str) -> tuple[float, float]:
        """Width and height a label needs. [mm]"""
        w, h = box_size(text, bold=ask.bold)
        return (w + WEDGE_MM if ask.sign and text == ask.text else w), h

    def beside(self, ask: Ask) -> Iterator[Box]:
        """Places close by, best first."""
        w, h = self.size(ask, ask.text)
        about = ask.kind in OF_A_PLACE
        for off in BESIDE[ask.kind]:
            for i, point in enumerate(ask.points):
                if ask.kind is Kind.JOINT:
                    yield from _at_tip(point, ask.ways[i], w, h, off)
                    continue
                for way in ask.ways:
                    near = _reach(way, w, h, off) if about else _support(way, w, h) + off
                    yield from _about(point, way, near, w, h)
        if about:
            for off in BESIDE[ask.kind][:2]:
                for way in ask.ways:
                    yield from _about(ask.points[0], way, _support(way, w, h) + off, w, h)

    def at_leader(self, ask: Ask, text: str, rings: tuple[float, ...]) -> tuple[Box, Segment] | None:
        """A place at the end of a leader."""
        w, h = self.size(ask, text)
        keyed = rings is FAR_RINGS
        for off in rings:
            for point in ask.points:
                for way in FINE_WAYS if keyed else LEADER_WAYS:
                    reach = _support(way, w, h) + off
                    box = box_at((point[0] + way[0] * reach, point[1] + way[1] * reach), w, h)
                    if not self.grid.area.holds(box):
                        continue
                    leader = _leader(box, point, 0.0 if keyed else OFF_AXIS)
                    if leader is not None and self.grid.free(box) and self.grid.clear(leader, point):
                        return box, leader
        return None

    def ink(self, n: int, words: list[Words], strokes: list[Stroke]) -> None:
        """A placed label as words and strokes."""
        box, leader, key = self.at[n]
        ask = self.asks[n]
        inner = box
        if ask.sign and not key:
            inner = Box(box.x0 + WEDGE_MM, box.y0, box.x1, box.y1)
            strokes.append(_wedge(box, ask))
        role = "key" if key else ask.kind.value
        words.append(words_in(inner, key or ask.text, role, ask.ref, bold=ask.bold or bool(key)))
        if leader is not None:
            strokes.append(Stroke(((leader[0], leader[1]), (leader[2], leader[3])), "leader", ask.ref))

    def keys(self, waiting: list[int], last: Mapping[int, Stand]) -> None:
        """Key letters for what found no place, and their rows."""
        order = list(Kind)
        names = _key_names()
        for n in sorted(waiting, key=lambda n: (order.index(self.asks[n].kind), n)):
            ask = self.asks[n]
            key = next(names)
            short = replace(ask, text=key, bold=True, sign="")
            nowhere = last.get(n) == NOWHERE
            if n in last and not nowhere:
                self.again(n, last[n], short, key)
            if n in self.at or nowhere:
                key = "" if nowhere else key
                self.table.append(TableRow(key, ask.kind.value, ask.text, ask.where, ask.ref))
                continue
            box = next((b for b in self.beside(short) if self.grid.free(b)), None)
            found = (box, None) if box is not None else self.at_leader(short, key, FAR_RINGS)
            if found is None:
                key = ""
            else:
                self.put(n, found[0], found[1], key)
            self.table.append(TableRow(key, ask.kind.value, ask.text, ask.where, ask.ref))


def _about(point: XY, way: XY, reach: float, w: float, h: float) -> Iterator[Box]:
    """A box whose middle lies along ``way``; straight above and below also a little to the sides."""
    yield box_at((point[0] + way[0] * reach, point[1] + way[1] * reach), w, h)
    if abs(way[0]) < 0.1:
        for share in (0.3, -0.3, 0.48, -0.48):
            yield box_at((point[0] + share * w, point[1] + way[1] * reach), w, h)


def _support(way: XY, w: float, h: float) -> float:
    """From the middle of a box to the line across ``way`` that just touches it. [mm]"""
    return abs(way[0]) * w / 2 + abs(way[1]) * h / 2


def _reach(way: XY, w: float, h: float, off: float) -> float:
    """How far along ``way`` the middle of a box must lie for the box to stand ``off`` a point. [mm]"""
    return min((w / 2 + off) / max(abs(way[0]), 1e-9), (h / 2 + off) / max(abs(way[1]), 1e-9))


def _at_tip(tip: XY, way: XY, w: float, h: float, off: float) -> Iterator[Box]:
    """Places of a number beyond the tip of its bar, straight on first, then to the sides."""
    x, y = tip[0] + way[0] * off, tip[1] + way[1] * off
    centre = (x + way[0] * (abs(way[0]) * w / 2 + abs(way[1]) * h / 2),
              y + way[1] * (abs(way[0]) * w / 2 + abs(way[1]) * h / 2))  # fmt: skip
    yield box_at(centre, w, h)
    if abs(way[1]) > abs(way[0]):
        for share in (0.25, -0.25, 0.5, -0.5):
            yield box_at((x + share * w, centre[1]), w, h)
    else:
        for share in (0.4, -0.4, 0.8, -0.8):
            yield box_at((centre[0], y + share * h), w, h)
    for sx in (1, -1):
        yield box_at((tip[0] + sx * (w / 2 + off), tip[1] + way[1] * h * 0.4), w, h)


def _leader(box: Box, point: XY, off_axis: float) -> Segment | None:
    """A leader from a label to a point, a little short at both ends."""
    nx, ny = box.nearest(point[0], point[1])
    dx, dy = nx - point[0], ny - point[1]
    long = math.hypot(dx, dy)
    if long < 2 * LEADER_ENDS + 1.0:
        return None
    for ax, ay in ((0.0, 1.0), (0.8660, 0.5), (0.8660, -0.5)):
        if abs(dx * ay - dy * ax) < off_axis * long:
            return None
    k = LEADER_ENDS / long
    return (nx - dx * k, ny - dy * k, point[0] + dx * k, point[1] + dy * k)


def _wedge(box: Box, ask: Ask) -> Stroke:
    """The wedge of a slope: its thin end points the way the line falls."""
    x0, x1, base = box.x0, box.x0 + WEDGE_MM - 0.9, box.y0 + 2.5
    high, low = (x0, x1) if ask.sign == "falls right" else (x1, x0)
    return Stroke(((low, base), (high, base), (high, base - 1.6)), "slope", ask.ref, closed=True)


def _key_names() -> Iterator[str]:
    letters = [c for c in string.ascii_lowercase if c not in "ijlo"]
    for a in letters:
        for b in letters:
            yield a + b
    for a in letters:
        for b in letters:
            for c in letters:
                yield a + b + c
