"""What lies on paper: strokes in two weights, words, and boxes. All in millimetres, y downwards."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from lineproof.desk.drawing.project import XY
from lineproof.desk.drawing.widths import TYPE_MM, text_height, text_width

THICK, THIN = 0.7, 0.35
"""The two line weights, two to one as in ISO 128 (from memory). [mm]"""

Segment = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle. [mm]"""

    x0: float
    y0: float
    x1: float
    y1: float

    def grown(self, by: float) -> Box:
        """Larger by the same on every side. [mm]"""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def meets(self, other: Box) -> bool:
        """Whether two boxes share more than an edge."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1

    def holds(self, other: Box) -> bool:
        """Whether another box lies wholly inside."""
        return self.x0 <= other.x0 and other.x1 <= self.x1 and self.y0 <= other.y0 and other.y1 <= self.y1

    @property
    def centre(self) -> XY:
        """Its middle. [mm]"""
        return ((self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2)

    def nearest(self, x: float, y: float) -> XY:
        """Its point nearest to a point. [mm]"""
        return (min(max(x, self.x0), self.x1), min(max(y, self.y0), self.y1))

    def away(self, x: float, y: float) -> float:
        """Distance of a point; 0 inside. [mm]"""
        nx, ny = self.nearest(x, y)
        return math.hypot(nx - x, ny - y)

    def hits(self, s: Segment) -> bool:
        """Whether a straight line passes through."""
        x, y, x1, y1 = s
        if (
            (x < self.x0 and x1 < self.x0)
            or (x > self.x1 and x1 > self.x1)
            or (y < self.y0 and y1 < self.y0)
            or (y > self.y1 and y1 > self.y1)
        ):
            return False
        dx, dy = x1 - x, y1 - y
        lo, hi = 0.0, 1.0
        for p, q in ((-dx, x - self.x0), (dx, self.x1 - x), (-dy, y - self.y0), (dy, self.y1 - y)):
            if abs(p) < 1e-12:
                if q < 0:
                    return False
                continue
            t = q / p
            if p < 0:
                lo = max(lo, t)
            else:
                hi = min(hi, t)
            if lo > hi:
                return False
        return True


def cross(a: Segment, b: Segment) -> bool:
    """Whether two straight lines meet."""

    def side(ox: float, oy: float, px: float, py: float, qx: float, qy: float) -> float:
        return (px - ox) * (qy - oy) - (py - oy) * (qx - ox)

    d1 = side(a[0], a[1], a[2], a[3], b[0], b[1])
    d2 = side(a[0], a[1], a[2], a[3], b[2], b[3])
    d3 = side(b[0], b[1], b[2], b[3], a[0], a[1])
    d4 = side(b[0], b[1], b[2], b[3], a[2], a[3])
    if ((d1 > 0) != (d2 > 0)) and ((d3 > 0) != (d4 > 0)):
        return True
    return min(abs(d1), abs(d2), abs(d3), abs(d4)) < 1e-9 and Box(
        min(a[0], a[2]), min(a[1], a[3]), max(a[0], a[2]), max(a[1], a[3])
    ).grown(1e-6).meets(Box(min(b[0], b[2]), min(b[1], b[3]), max(b[0], b[2]), max(b[1], b[3])).grown(1e-6))


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line on paper.

    Parameters
    ----------
    points : tuple of (float, float)
        [mm]
    role : str
        ``pipe``, ``part``, ``joint``, ``leader``, ``stub``, ``ground``, ``match``, ``north`` or ``aid``.
    ref : str
        What it belongs to.
    thick, dashed, closed, filled : bool
    pattern : int
        Dots between its dashes, 0 for none. [-]
    start : float
        Where in the pattern it begins, so that a pattern runs on over a break. [mm]
    """

    points: tuple[XY, ...]
    role: str
    ref: str = ""
    thick: bool = False
    dashed: bool = False
    closed: bool = False
    filled: bool = False
    pattern: int = 0
    start: float = 0.0

    @property
    def segments(self) -> tuple[Segment, ...]:
        """Its straight parts."""
        p = (*self.points, self.points[0]) if self.closed else self.points
        return tuple((a[0], a[1], b[0], b[1]) for a, b in pairwise(p))


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text: the left end of its base line. [mm]"""

    x: float
    y: float
    text: str
    role: str
    ref: str = ""
    bold: bool = False
    size: float = TYPE_MM

    @property
    def box(self) -> Box:
        """The room it takes. [mm]"""
        above, below = text_height(size=self.size)
        return Box(
            self.x,
            self.y - above,
            self.x + text_width(self.text, size=self.size, bold=self.bold),
            self.y + below,
        )


def words_in(box: Box, text: str, role: str, ref: str = "", *, bold: bool = False) -> Words:
    """Text that fills a box made with :func:`box_size`.

    Parameters
    ----------
    box : Box
        [mm]
    text, role, ref : str
    bold : bool

    Returns
    -------
    Words
    """
    return Words(box.x0, box.y0 + text_height()[0], text, role, ref, bold)


def box_size(text: str, *, bold: bool = False) -> tuple[float, float]:
    """Width and height of the box of a text. [mm]"""
    return text_width(text, bold=bold), sum(text_height())


def box_at(centre: XY, w: float, h: float) -> Box:
    """A box about its middle. [mm]"""
    return Box(centre[0] - w / 2, centre[1] - h / 2, centre[0] + w / 2, centre[1] + h / 2)
