"""Places labels: beside what they tell, else at the end of a leader, else as a key to the side table.

Greedy, those with the fewest free places first, against a grid of what is taken. Nothing that is placed
overlaps a label, a stroke or a leader.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

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
from lineproof.desk.drawing.stand_off import (
    BESIDE,
    FAR_RINGS,
    FINE_WAYS,
    LEADER_WAYS,
    OF_A_PLACE,
    OFF_AXIS,
    RINGS,
    WEDGE_MM,
    TableRow,
    around_point,
    at_bar_tip,
    key_names,
    leader_to,
    reach_along,
    slope_wedge,
    support,
)
from lineproof.desk.drawing.trace import Ask, Drawn

SHOVED = 12
"""So many neighbours are asked to make room for a label. [-]"""
SHOVED_TWO = 8
"""And any two of so many, for a key. [-]"""
FIRST = {
    Kind.JOINT: 0, Kind.PIECE: 1, Kind.LENGTH: 2, Kind.TAPE: 3, Kind.MATCH: 1, Kind.BRANCH: 4, Kind.END: 3,
    Kind.SLOPE: 4, Kind.PART: 5, Kind.ROLL: 6, Kind.LEVEL: 6,
}  # fmt: skip


Stand = tuple[XY, int]
"""Where a label stands: its middle from its first point [mm], and the point its leader goes to (-1: none)."""
NOWHERE: Stand = ((0.0, 0.0), -2)
"""Of a label whose key found no place either."""


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
    shove: bool = True,
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
    shove : bool
        Labels make room for one another; not on the pad, where few may move.

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
    return _Placer(grid, drawn.asks, shoves=shove).run(give_up, len(drawn.words), last or {}, last_keys or {})


@dataclass(slots=True)
class _Placer:
    grid: Grid
    asks: list[Ask]
    shoves: bool = True
    at: dict[int, tuple[Box, Segment | None, str]] = field(default_factory=dict)
    """Label to its box, its leader, and its key if it stands in the side table."""
    choices: list[list[Box]] = field(default_factory=list)
    table: list[TableRow] = field(default_factory=list)
    short: dict[int, Ask] = field(default_factory=dict)
    """Labels that stand in the side table, as the key letters that stand for them."""
    names: Iterator[str] = field(default_factory=lambda: key_names())

    def run(
        self, give_up: float, standing: int, last: Mapping[int, Stand], last_keys: Mapping[int, Stand]
    ) -> Placed:
        for n, stand in last.items():
            self.again(n, stand, self.asks[n])
        self.choices = [
            [] if n in self.at or n in last_keys else [box for box in self.open(ask) if self.grid.free(box)]
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
            for n in [n for n in keyed if n not in last_keys]:
                spot = self.shove(self.asks[n], RINGS, keyed=(False,))
                if spot is not None:
                    self.put(n, *spot)
                    keyed.remove(n)
            self.keys(keyed, last_keys)
            whole = give_up == 0.0 or not self.shoves or all(n in self.at for n in self.short)
        words: list[Words] = []
        strokes: list[Stroke] = []
        for n in sorted(self.at):
            self.ink(n, words, strokes)
        led = sum(leader is not None and not key for _, leader, key in self.at.values())
        asked = len(self.asks)
        stands = {n: self.stand(n) for n in self.at if not self.at[n][2]}
        keys = {n: self.stand(n) if n in self.at else NOWHERE for n in self.short}
        direct = asked - max(len(keyed), len(self.short))
        return Placed(
            tuple(words), tuple(strokes), tuple(self.table), direct, led, asked, whole, stands, keys
        )

    def again(self, n: int, stand: Stand, ask: Ask, key: str = "") -> None:
        """Put a label or its key where it stood before, if that is still free."""
        off, to = stand
        box = box_at((ask.points[0][0] + off[0], ask.points[0][1] + off[1]), *self.size(ask, ask.text))
        if not self.grid.free(box):
            return
        if to < 0:
            self.put(n, box, None, key)
        elif to < len(ask.points):
            leader = leader_to(box, ask.points[to], 0.0 if key else OFF_AXIS)
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

    def open(self, ask: Ask) -> list[Box]:
        """Places close by that the raster does not refuse, best first."""
        boxes = list(self.beside(ask))
        known = np.array([(b.x0, b.y0, b.x1, b.y1) for b in boxes], dtype=np.float64).reshape(-1, 4)
        return [b for b, good in zip(boxes, self.grid.maybe(known).tolist(), strict=True) if good]

    def beside(self, ask: Ask) -> Iterator[Box]:
        """Places close by, best first."""
        w, h = self.size(ask, ask.text)
        about = ask.kind in OF_A_PLACE
        for off in BESIDE[ask.kind]:
            for i, point in enumerate(ask.points):
                if ask.kind is Kind.JOINT:
                    yield from at_bar_tip(point, ask.ways[i], w, h, off)
                    continue
                for way in ask.ways:
                    near = reach_along(way, w, h, off) if about else support(way, w, h) + off
                    yield from around_point(point, way, near, w, h)
        if about:
            for off in BESIDE[ask.kind][:2]:
                for way in ask.ways:
                    yield from around_point(ask.points[0], way, support(way, w, h) + off, w, h)

    def at_leader(self, ask: Ask, text: str, rings: tuple[float, ...]) -> tuple[Box, Segment] | None:
        """A place at the end of a leader."""
        w, h = self.size(ask, text)
        keyed = rings is FAR_RINGS
        ways = np.array(FINE_WAYS if keyed else LEADER_WAYS)
        points = np.array(ask.points)
        reach = np.abs(ways) @ np.array((w / 2, h / 2)) + np.array(rings)[:, None]
        # ring, point, way: the order of preference
        centre = points[None, :, None, :] + (ways * reach[..., None])[:, None, :, :]
        flat = centre.reshape(-1, 2)
        half = np.array((w / 2, h / 2))
        boxes = np.concatenate((flat - half, flat + half), axis=1)
        for i in np.flatnonzero(self.grid.maybe(boxes)).tolist():
            point = ask.points[i // len(ways) % len(ask.points)]
            box = box_at((float(flat[i, 0]), float(flat[i, 1])), w, h)
            leader = leader_to(box, point, 0.0 if keyed else OFF_AXIS)
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
            strokes.append(slope_wedge(box, ask))
        role = "key" if key else ask.kind.value
        words.append(words_in(inner, key or ask.text, role, ask.ref, bold=ask.bold or bool(key)))
        if leader is not None:
            strokes.append(Stroke(((leader[0], leader[1]), (leader[2], leader[3])), "leader", ask.ref))

    def keys(self, waiting: list[int], last: Mapping[int, Stand]) -> None:
        """Key letters for what found no place, and their rows."""
        for n in sorted(waiting, key=self.table_order):
            short = self.key_for(n)
            if n in last and last[n] != NOWHERE:
                self.again(n, last[n], short, short.text)
            if n not in self.at:
                found = self.spot(short, FAR_RINGS) or self.shove(short, FAR_RINGS)
                if found is not None:
                    self.put(n, found[0], found[1], short.text)
        for n in sorted(self.short, key=self.table_order):
            ask, key = self.asks[n], self.short[n].text if n in self.at else ""
            self.table.append(TableRow(key, ask.kind.value, ask.text, ask.where, ask.ref))

    def table_order(self, n: int) -> tuple[int, int]:
        """Rows of the side table go by kind, then as they were asked."""
        return list(Kind).index(self.asks[n].kind), n

    def key_for(self, n: int) -> Ask:
        """A label as the key letters that stand for it."""
        self.short[n] = replace(self.asks[n], text=next(self.names), bold=True, sign="")
        return self.short[n]

    def spot(self, ask: Ask, rings: tuple[float, ...]) -> tuple[Box, Segment | None] | None:
        """A place for a label or a key: beside what it tells, else at a leader."""
        box = next((b for b in self.open(ask) if self.grid.free(b)), None)
        return (box, None) if box is not None else self.at_leader(ask, ask.text, rings)

    def shove(
        self, ask: Ask, rings: tuple[float, ...], keyed: tuple[bool, ...] = (False, True)
    ) -> tuple[Box, Segment | None] | None:
        """A place that a neighbour, or at last two of them, give up.

        A neighbour goes to a leader, or (where ``keyed`` says so) to a key of its own; if it finds neither,
        it stays where it was.
        """
        if not self.shoves:
            return None
        near = sorted((min(box.away(*p) for p in ask.points), n) for n, (box, _, _) in self.at.items())
        names = [n for _, n in near]
        for by_key in keyed:
            groups: list[tuple[int, ...]] = [(n,) for n in names[:SHOVED]]
            if by_key:
                groups += combinations(names[:SHOVED_TWO], 2)
            for group in groups:
                found = self.moved_for(ask, rings, group, by_key=by_key)
                if found is not None:
                    return found
        return None

    def moved_for(
        self, ask: Ask, rings: tuple[float, ...], group: tuple[int, ...], *, by_key: bool
    ) -> tuple[Box, Segment | None] | None:
        """A place once some others were moved; None, and nothing changed, if one of them cannot be."""
        before = {n: self.take_out(n) for n in group}
        keys = dict(self.short)
        found = self.spot(ask, rings)
        if found is not None:
            self.hold(found)
            for n in group:
                moved = self.elsewhere(n, before[n][2], keyed=by_key)
                if moved is None:
                    break
                self.put(n, *moved)
            self.let_go(found)
            if all(n in self.at for n in group):
                return found
        for n in group:
            if n in self.at:
                self.take_out(n)
        for n in group:
            self.put(n, *before[n])
        self.short = keys
        return None

    def elsewhere(self, n: int, key: str, *, keyed: bool) -> tuple[Box, Segment | None, str] | None:
        """Another place for a label that was taken out; ``keyed``: as a key if it must be."""
        if not key:
            found = self.spot(self.asks[n], RINGS)
            if found is not None or not keyed:
                return found and (*found, "")
        short = self.short[n] if key else self.key_for(n)
        spot = self.spot(short, FAR_RINGS)
        return None if spot is None else (*spot, short.text)

    def take_out(self, n: int) -> tuple[Box, Segment | None, str]:
        """Take a label off the sheet."""
        box, leader, key = self.at.pop(n)
        self.grid.drop_box(box, STANDS if leader else n)
        if leader is not None:
            self.grid.drop_leader(leader)
        return box, leader, key

    def hold(self, found: tuple[Box, Segment | None]) -> None:
        """Keep a place free while another is sought."""
        self.grid.add_box(found[0])
        if found[1] is not None:
            self.grid.add_leader(found[1])

    def let_go(self, found: tuple[Box, Segment | None]) -> None:
        """Undo :meth:`hold`."""
        self.grid.drop_box(found[0], STANDS)
        if found[1] is not None:
            self.grid.drop_leader(found[1])
