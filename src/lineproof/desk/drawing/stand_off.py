"""Where a label may stand about a point: beside it, beyond a bar's tip, at the end of a leader."""

from __future__ import annotations

import math
import string
from collections.abc import Iterator
from dataclasses import dataclass

from lineproof.desk.drawing.ink import Box, Segment, Stroke, box_at
from lineproof.desk.drawing.project import XY
from lineproof.desk.drawing.scene import Kind
from lineproof.desk.drawing.trace import Ask

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
LEADER_WAYS: tuple[XY, ...] = tuple(
    (math.cos(math.radians(a)), math.sin(math.radians(a)))
    for a in (-60, 60, -120, 120, 0, 180, -45, 45, -135, 135, -75, 75, -105, 105, -15, 15, 165, -165)
)
"""Ways of a leader: none along an axis of the drawing, so that it is not taken for a bar or a pipe. [1]"""
FINE_WAYS: tuple[XY, ...] = tuple(
    (math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(5, 365, 10)
)
OFF_AXIS = math.sin(math.radians(7.0))
"""Sine of the least angle of a leader to an axis. [1]"""
LEADER_ENDS = 0.45
"""A leader stops this short of its label and of what it points to. [mm]"""
WEDGE_MM = 4.6
"""Room of the little wedge before a slope. [mm]"""


@dataclass(frozen=True, slots=True)
class TableRow:
    """A row of the side table: the key on the drawing, and what it stands for."""

    key: str
    kind: str
    text: str
    where: str
    ref: str


def around_point(point: XY, way: XY, reach: float, w: float, h: float) -> Iterator[Box]:
    """A box whose middle lies along ``way``; straight above and below also a little to the sides."""
    yield box_at((point[0] + way[0] * reach, point[1] + way[1] * reach), w, h)
    if abs(way[0]) < 0.1:
        for share in (0.3, -0.3, 0.48, -0.48):
            yield box_at((point[0] + share * w, point[1] + way[1] * reach), w, h)


def support(way: XY, w: float, h: float) -> float:
    """From the middle of a box to the line across ``way`` that just touches it. [mm]"""
    return abs(way[0]) * w / 2 + abs(way[1]) * h / 2


def reach_along(way: XY, w: float, h: float, off: float) -> float:
    """How far along ``way`` the middle of a box must lie for the box to stand ``off`` a point. [mm]"""
    return min((w / 2 + off) / max(abs(way[0]), 1e-9), (h / 2 + off) / max(abs(way[1]), 1e-9))


def at_bar_tip(tip: XY, way: XY, w: float, h: float, off: float) -> Iterator[Box]:
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


def leader_to(box: Box, point: XY, off_axis: float) -> Segment | None:
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


def slope_wedge(box: Box, ask: Ask) -> Stroke:
    """The wedge of a slope: its thin end points the way the line falls."""
    x0, x1, base = box.x0, box.x0 + WEDGE_MM - 0.9, box.y0 + 2.5
    high, low = (x0, x1) if ask.sign == "falls right" else (x1, x0)
    return Stroke(((low, base), (high, base), (high, base - 1.6)), "slope", ask.ref, closed=True)


def key_names() -> Iterator[str]:
    """Key letters in pairs, without those that are taken for figures; after the last pair, in threes."""
    letters = [c for c in string.ascii_lowercase if c not in "ijlo"]
    for a in letters:
        for b in letters:
            yield a + b
    for a in letters:
        for b in letters:
            for c in letters:
                yield a + b + c
