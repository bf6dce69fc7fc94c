"""What is taken on a sheet, by cells, so that a place is tried against its neighbours only.

A fine raster beside the cells refuses in one look what surely lies on ink; only what passes it is measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

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
FINE = 0.5
"""Side of a field of the raster: one that bears ink has some of it within. [mm]"""
OF_TIP = 2.2
"""The raster is not asked about a leader so near its tip. [mm]"""


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

    hard: NDArray[np.int16] = field(init=False)
    """Strokes on each field that no leader may cross. [-]"""
    thin: NDArray[np.int16] = field(init=False)
    """Other strokes on each field. [-]"""
    soft: NDArray[np.int16] = field(init=False)
    """Labels on each field. [-]"""
    taken: NDArray[np.int32] | None = None
    """Fields taken above and left of each, summed; None after a change."""

    def __post_init__(self) -> None:
        """An empty raster over the area."""
        shape = (math.ceil(self.area.y1 / FINE) + 2, math.ceil(self.area.x1 / FINE) + 2)
        self.hard = np.zeros(shape, dtype=np.int16)
        self.thin = np.zeros(shape, dtype=np.int16)
        self.soft = np.zeros(shape, dtype=np.int16)

    def add_box(self, box: Box, owner: int = STANDS) -> None:
        """Take a rectangle."""
        for cell in _cells(box):
            self.boxes.setdefault(cell, []).append((box, owner))
        self.soft[_touched(box)] += 1
        self.taken = None

    def drop_box(self, box: Box, owner: int) -> None:
        """Give a rectangle back."""
        for cell in _cells(box):
            self.boxes[cell].remove((box, owner))
        self.soft[_touched(box)] -= 1
        self.taken = None

    def add_line(self, s: Segment, half: float, *, crossable: bool = False) -> None:
        """Take a straight stroke of half a width. [mm]"""
        for cell in _along(s):
            (self.aids if crossable else self.lines).setdefault(cell, []).append((s, half))
        self._mark(self.thin if crossable else self.hard, s)

    def add_leader(self, s: Segment) -> None:
        """Take a leader."""
        for cell in _along(s):
            self.leads.setdefault(cell, []).append(s)
        self._mark(self.hard, s)

    def drop_leader(self, s: Segment) -> None:
        """Give a leader back."""
        for cell in _along(s):
            self.leads[cell].remove(s)
        self._mark(self.hard, s, -1)

    def _mark(self, raster: NDArray[np.int16], s: Segment, by: int = 1) -> None:
        """Note the fields that a straight line runs through; what lies off the sheet is left out."""
        y, x = _fields(s)
        on = (x >= 0) & (y >= 0) & (x < raster.shape[1]) & (y < raster.shape[0])
        raster[y[on], x[on]] += by  # once a field, however often it is named
        self.taken = None

    def maybe(self, boxes: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Which of many boxes lie on the sheet and surely on nothing that the raster knows.

        Parameters
        ----------
        boxes : array
            One a row: x0, y0, x1, y1. [mm]

        Returns
        -------
        array of bool
            False where no label may stand; where True, :meth:`free` decides.
        """
        if self.taken is None:
            full = (self.hard + self.thin + self.soft) > 0
            self.taken = np.zeros((full.shape[0] + 1, full.shape[1] + 1), dtype=np.int32)
            np.cumsum(np.cumsum(full, axis=0, dtype=np.int32), axis=1, out=self.taken[1:, 1:])
        a, e = self.area, 1e-9
        on = (boxes[:, 0] >= a.x0 - e) & (boxes[:, 1] >= a.y0 - e)
        on &= (boxes[:, 2] <= a.x1 + e) & (boxes[:, 3] <= a.y1 + e)
        x0, y0 = (np.ceil((boxes[:, k] - APART) / FINE).astype(np.int64) for k in (0, 1))
        x1, y1 = (np.floor((boxes[:, k] + APART) / FINE).astype(np.int64) for k in (2, 3))
        rows, columns = self.taken.shape
        x0, x1 = np.clip(x0, 0, columns - 1), np.clip(x1, 0, columns - 1)
        y0, y1 = np.clip(y0, 0, rows - 1), np.clip(y1, 0, rows - 1)
        x1, y1 = np.maximum(x1, x0), np.maximum(y1, y0)
        t = self.taken
        return np.asarray(on & (t[y1, x1] - t[y0, x1] - t[y1, x0] + t[y0, x0] == 0), dtype=np.bool_)

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
        long = math.dist(s[:2], s[2:])
        if long > OF_TIP + FINE:
            y, x = _fields((s[0], s[1], *_from_tip(s, OF_TIP)))
            if self.hard[y, x].any() or self.soft[y, x].any():
                return False
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


def _touched(box: Box) -> tuple[slice, slice]:
    """Fields that a box touches."""
    return (
        slice(max(math.floor(box.y0 / FINE), 0), max(math.ceil(box.y1 / FINE), 0)),
        slice(max(math.floor(box.x0 / FINE), 0), max(math.ceil(box.x1 / FINE), 0)),
    )


def _fields(s: Segment) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Rows and columns of fields that hold a point of a straight line, tried every half field."""
    count = max(math.ceil(2 * math.dist(s[:2], s[2:]) / FINE), 1)
    share = np.linspace(0.0, 1.0, count + 1)
    x = np.floor((s[0] + (s[2] - s[0]) * share) / FINE).astype(np.int64)
    y = np.floor((s[1] + (s[3] - s[1]) * share) / FINE).astype(np.int64)
    return y, x


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
