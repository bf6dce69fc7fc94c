"""What is taken on a sheet, by cells, so that a place is tried against its neighbours only."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from lineproof.desk.drawing.ink import THICK, THIN, Box, Segment, cross
from lineproof.desk.drawing.project import XY

CELL = 6.0
"""Side of a cell of the grid. [mm]"""
NEAR = 1.5
"""A line is entered in every cell that lies this near. [mm]"""
LEAVE = 1.5
"""This far from its tip a leader is clear of what it points to. [mm]"""
CLEAR = 0.55
"""Room a label keeps from every stroke. [mm]"""
APART = 0.7
"""Room two labels keep from one another. [mm]"""
STANDS = -1
"""Owner of what cannot be moved."""


@dataclass(slots=True)
class Grid:
    """What is taken, by cells. Boxes have an owner, so that a label can be moved for another."""

    area: Box
    boxes: dict[tuple[int, int], list[tuple[Box, int]]] = field(default_factory=dict)
    lines: dict[tuple[int, int], list[tuple[Segment, float]]] = field(default_factory=dict)
    aids: dict[tuple[int, int], list[tuple[Segment, float]]] = field(default_factory=dict)
    """Thin helping lines: labels keep off them, leaders may cross them."""

    leads: dict[tuple[int, int], list[Segment]] = field(default_factory=dict)
    """Leaders: nothing may touch them."""

    def add_box(self, box: Box, owner: int = STANDS) -> None:
        """Take a rectangle."""
        for cell in _cells(box):
            self.boxes.setdefault(cell, []).append((box, owner))

    def drop_box(self, box: Box, owner: int) -> None:
        """Give a rectangle back."""
        for cell in _cells(box):
            self.boxes[cell].remove((box, owner))

    def add_line(self, s: Segment, half: float, *, crossable: bool = False) -> None:
        """Take a straight stroke of half a width. [mm]"""
        for cell in _along(s):
            (self.aids if crossable else self.lines).setdefault(cell, []).append((s, half))

    def add_leader(self, s: Segment) -> None:
        """Take a leader."""
        for cell in _along(s):
            self.leads.setdefault(cell, []).append(s)

    def blockers(self, box: Box) -> set[int] | None:
        """Owners of the labels that stand in the way; None if something that cannot move does."""
        if not self.area.holds(box):
            return None
        wide, thin, thick = box.grown(APART), box.grown(CLEAR + THIN / 2), box.grown(CLEAR + THICK / 2)
        found: set[int] = set()
        for cell in _cells(box.grown(CLEAR + 0.4)):
            for b, owner in self.boxes.get(cell, ()):
                if wide.meets(b):
                    if owner == STANDS:
                        return None
                    found.add(owner)
            if any(thin.hits(s) for s in self.leads.get(cell, ())):
                return None
            for s, half in (*self.lines.get(cell, ()), *self.aids.get(cell, ())):
                if (thick if half > THIN / 2 else thin).hits(s):
                    return None
        return found

    def free(self, box: Box) -> bool:
        """Whether a label may stand there."""
        return self.blockers(box) == set()

    def clear(self, s: Segment, tip: XY) -> bool:
        """Whether a leader may run there; near its tip it may touch what it points to."""
        for cell in _along(s):
            for b, _ in self.boxes.get(cell, ()):
                if b.grown(0.5).hits(s):
                    return False
            if any(cross(s, lead) or _apart(s, lead) < 0.6 for lead in self.leads.get(cell, ())):
                return False
            for other, half in self.lines.get(cell, ()):
                if _distance(other, tip) <= half + 0.9:
                    # what it points to: the leader must leave it, not run along it
                    if min(_distance(other, at) for at in ((s[0], s[1]), _middle(s))) < 1.0:
                        return False
                    if _distance(other, _from_tip(s, LEAVE)) < 0.8:
                        return False
                elif cross(s, other) or _apart(s, other) < half + 0.4:
                    return False
        return True


def _cells(box: Box) -> list[tuple[int, int]]:
    return [
        (i, j)
        for i in range(math.floor(box.x0 / CELL), math.floor(box.x1 / CELL) + 1)
        for j in range(math.floor(box.y0 / CELL), math.floor(box.y1 / CELL) + 1)
    ]


def _along(s: Segment) -> list[tuple[int, int]]:
    """Cells within a little of a straight line."""
    near = _cells(_bounds(s).grown(NEAR))
    if len(near) <= 4:
        return near
    steps = math.ceil(math.hypot(s[2] - s[0], s[3] - s[1]) / NEAR)
    found: dict[tuple[int, int], None] = {}
    for i in range(steps + 1):
        x, y = s[0] + (s[2] - s[0]) * i / steps, s[1] + (s[3] - s[1]) * i / steps
        for cell in _cells(Box(x - NEAR, y - NEAR, x + NEAR, y + NEAR)):
            found[cell] = None
    return list(found)


def _bounds(s: Segment) -> Box:
    return Box(min(s[0], s[2]), min(s[1], s[3]), max(s[0], s[2]), max(s[1], s[3]))


def _distance(s: Segment, p: XY) -> float:
    dx, dy = s[2] - s[0], s[3] - s[1]
    long = dx * dx + dy * dy
    t = 0.0 if long < 1e-12 else min(max(((p[0] - s[0]) * dx + (p[1] - s[1]) * dy) / long, 0.0), 1.0)
    return math.hypot(s[0] + t * dx - p[0], s[1] + t * dy - p[1])


def _middle(s: Segment) -> XY:
    return ((s[0] + s[2]) / 2, (s[1] + s[3]) / 2)


def _from_tip(s: Segment, far: float) -> XY:
    """A point of a leader so far from its tip, or its other end. [mm]"""
    long = math.hypot(s[0] - s[2], s[1] - s[3])
    k = min(far / long, 1.0) if long > 1e-9 else 0.0
    return (s[2] + (s[0] - s[2]) * k, s[3] + (s[1] - s[3]) * k)


def _apart(s: Segment, t: Segment) -> float:
    """Distance of two straight lines that do not cross."""
    return min(
        _distance(s, (t[0], t[1])),
        _distance(s, (t[2], t[3])),
        _distance(t, (s[0], s[1])),
        _distance(t, (s[2], s[3])),
    )
