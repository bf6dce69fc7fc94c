"""Reads a drawing back from its SVG alone, as a reader of the paper would; nothing of the layout is asked.

Widths of text come from the font files themselves (their ``cmap``, ``hmtx`` and ``glyf`` tables, OpenType
specification); shapely (GEOS) says what overlaps. The files in the package are DejaVu Sans Condensed, whose
letters are those of DejaVu Sans at 0.9 of their width: screens draw the wide ones, so those are measured.
"""

from __future__ import annotations

import math
import re
import struct
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from shapely import LineString, Polygon, STRtree, box
from shapely.geometry.base import BaseGeometry

import lineproof.desk.papers

XY = tuple[float, float]
SPACE = "{http://www.w3.org/2000/svg}"
FONTS = Path(lineproof.desk.papers.__file__).parent / "fonts"
WIDE = 1 / 0.9


@dataclass(frozen=True, slots=True)
class Font:
    """Advances of a font by sign, and the height of its capitals, both over the size of the type."""

    advance: dict[int, float]
    capital: float
    below: float = 0.24

    def width(self, text: str, size: float) -> float:
        return WIDE * size * sum(self.advance[ord(c)] for c in text)


@cache
def font(bold: bool) -> Font:
    """A font of the package, read from its own tables."""
    data = (FONTS / f"DejaVuSansCondensed{'-Bold' if bold else ''}.ttf").read_bytes()
    (tables,) = struct.unpack(">H", data[4:6])
    at: dict[bytes, int] = {}
    for n in range(tables):
        tag, _, offset, _ = struct.unpack(">4sIII", data[12 + 16 * n : 28 + 16 * n])
        at[tag] = offset
    (per_em,) = struct.unpack(">H", data[at[b"head"] + 18 : at[b"head"] + 20])
    (metrics,) = struct.unpack(">H", data[at[b"hhea"] + 34 : at[b"hhea"] + 36])
    pairs = data[at[b"hmtx"] : at[b"hmtx"] + 4 * metrics]
    wide = [advance for advance, _ in struct.iter_unpack(">Hh", pairs)]
    (far,) = struct.unpack(">h", data[at[b"head"] + 50 : at[b"head"] + 52])  # 1: glyf is found by long words
    glyphs = _cmap(data, at[b"cmap"])
    loca, step = at[b"loca"] + (4 if far else 2) * glyphs[ord("H")], 4 if far else 2
    (where,) = struct.unpack(">I" if far else ">H", data[loca : loca + step])
    shape = at[b"glyf"] + (where if far else 2 * where)
    (capital,) = struct.unpack(">h", data[shape + 8 : shape + 10])  # yMax of the letter H
    return Font({sign: wide[min(g, metrics - 1)] / per_em for sign, g in glyphs.items()}, capital / per_em)


def _cmap(data: bytes, at: int) -> dict[int, int]:
    """Sign to glyph: the table of format 4 (Windows, Unicode BMP)."""
    (count,) = struct.unpack(">H", data[at + 2 : at + 4])
    for n in range(count):
        platform, encoding, offset = struct.unpack(">HHI", data[at + 4 + 8 * n : at + 12 + 8 * n])
        start = at + offset
        if (platform, encoding) == (3, 1) and data[start : start + 2] == b"\x00\x04":
            break
    (double,) = struct.unpack(">H", data[start + 6 : start + 8])
    half = double // 2

    def row(skip: int, kind: str) -> tuple[int, ...]:
        return struct.unpack(f">{half}{kind}", data[start + skip : start + skip + double])

    ends, begins = row(14, "H"), row(16 + double, "H")
    deltas, ranges = row(16 + 2 * double, "h"), row(16 + 3 * double, "H")
    found: dict[int, int] = {}
    for i, (lo, hi, delta, by) in enumerate(zip(begins, ends, deltas, ranges, strict=True)):
        for sign in range(lo, min(hi, 0xFFFE) + 1):
            if by == 0:
                found[sign] = (sign + delta) & 0xFFFF
            else:
                where = start + 16 + 3 * double + 2 * i + by + 2 * (sign - lo)
                (glyph,) = struct.unpack(">H", data[where : where + 2])
                found[sign] = (glyph + delta) & 0xFFFF if glyph else 0
    return found


@dataclass(frozen=True, slots=True)
class Text:
    """A text of the drawing and the room its letters take."""

    text: str
    role: str
    ref: str
    capital: float
    room: Polygon


@dataclass(frozen=True, slots=True)
class Line:
    """A stroke of the drawing."""

    points: tuple[XY, ...]
    role: str
    ref: str
    weight: float
    dashes: str

    @property
    def line(self) -> LineString:
        return LineString(self.points)

    @property
    def ink(self) -> BaseGeometry:
        return LineString(self.points).buffer(self.weight / 2, cap_style="flat")


@dataclass(slots=True)
class Read:
    """One sheet as read back."""

    width: float
    height: float
    texts: list[Text] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)

    def said(self, role: str) -> list[Text]:
        return [t for t in self.texts if t.role == role]

    def drawn(self, *roles: str) -> list[Line]:
        return [s for s in self.lines if s.role in roles]


def read_sheet(svg: str) -> Read:
    """Read a sheet."""
    root = ElementTree.fromstring(svg)
    view = [float(v) for v in (root.get("viewBox") or "").split()]
    width, height = (float((root.get(k) or "").removesuffix("mm")) for k in ("width", "height"))
    assert view == [0, 0, width, height]  # one unit of the drawing is one millimetre of paper
    read = Read(width, height)
    weight = float(root.get("stroke-width") or 0)
    for group in root.findall(f"{SPACE}g"):
        role = group.get("class") or ""
        for path in group.findall(f"{SPACE}path"):
            told = path.get("d") or ""
            numbers = [float(v) for v in re.findall(r"-?\d+\.?\d*", told)]
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
            if told.rstrip().endswith("Z"):
                points.append(points[0])
            wide, dashes = float(path.get("stroke-width") or weight), path.get("stroke-dasharray") or ""
            read.lines.append(Line(tuple(points), role, path.get("data-ref") or "", wide, dashes))
        for one in group.findall(f"{SPACE}text"):
            x, y, size = (float(one.get(k) or 0) for k in ("x", "y", "font-size"))
            face, text = font(one.get("font-weight") == "bold"), one.text or ""
            high = face.capital * size
            room = box(x, y - high, x + face.width(text, size), y + face.below * size)
            read.texts.append(Text(text, one.get("class") or "", one.get("data-ref") or "", high, room))
    return read


INK = ("pipe", "part", "joint", "leader", "ground", "stub", "match", "aid", "slope", "north", "offset")


def faults(read: Read) -> list[str]:
    """What is wrong with a sheet to the eye: text on text, text on ink, off the paper, too small."""
    found: list[str] = []
    rooms = [t.room for t in read.texts]
    tree = STRtree(rooms)
    for a, b in tree.query(rooms, predicate="intersects").T.tolist():
        if a < b:
            found.append(f"{read.texts[a].text!r} on {read.texts[b].text!r}")
    inked = read.drawn(*INK)
    for i, j in STRtree([s.ink for s in inked]).query(rooms, predicate="intersects").T.tolist():
        found.append(f"{read.texts[i].text!r} on a stroke of {inked[j].role}")
    paper = box(0, 0, read.width, read.height)
    found += [f"{t.text!r} is off the paper" for t in read.texts if not paper.contains(t.room)]
    found += [f"a stroke of {s.role} is off the paper" for s in read.lines if not paper.contains(s.ink)]
    found += [f"{t.text!r} is {t.capital:.2f} mm high" for t in read.texts if t.capital < 2.5 - 1e-3]
    return found


def leaders_touch(read: Read) -> list[str]:
    """Leaders that touch a text, or ink other than what they point to."""
    found: list[str] = []
    for leader in read.drawn("leader"):
        line = LineString(leader.points)
        tip = line.boundary.geoms[1]
        for other in read.drawn("pipe", "part", "joint", "ground", "stub", "match"):
            met = other.ink.intersection(line)
            if not met.is_empty and met.hausdorff_distance(tip) > 1.6:
                found.append(f"leader to {leader.ref} crosses {other.role} {other.ref}")
    lines = [LineString(s.points) for s in read.drawn("leader")]
    for a in range(len(lines)):
        found += ["two leaders cross" for b in range(a) if lines[a].crosses(lines[b])]
    return found


def refs(read: Iterable[Read], role: str) -> list[str]:
    """What is said with a role on some sheets, by what it belongs to."""
    return [t.ref for sheet in read for t in sheet.said(role)]


def side_rows(on_screen: str) -> list[tuple[str, str, str, str]]:
    """Rows of the side table that stands below a drawing."""
    root = ElementTree.fromstring(f"<all>{on_screen}</all>")
    return [(c[0], c[1], c[2], c[3]) for c in ([e.text or "" for e in row] for row in root.iter("tr"))][1:]


def read_length(text: str) -> float:
    """A length as said on a drawing, in metres, by rules of our own: ``12'-6 1/2"`` or ``3475 mm``."""
    found = re.search(r"(\d+) mm|(\d+)'-(\d+)?(?: ?(\d+)/(\d+))?\"|(\d+)?(?: ?(\d+)/(\d+))?\"", text)
    assert found is not None, text
    mm, feet, inch, a, b, inch2, c, d = found.groups()
    if mm:
        return int(mm) / 1000
    whole, top, low = (inch, a, b) if feet else (inch2, c, d)
    return (int(feet or 0) * 12 + int(whole or 0) + int(top or 0) / int(low or 1)) * 0.0254


# ---------------------------------------------------------------- the map to paper, found from the strokes


@dataclass(frozen=True, slots=True)
class Drawn:
    """A leg on paper as its strokes show it: its first and last inked point, and every stroke."""

    a: XY
    b: XY
    strokes: tuple[Line, ...]

    @property
    def line(self) -> LineString:
        return LineString((self.a, self.b))


def leg_on_paper(read: Read, pieces: Sequence[str]) -> Drawn | None:
    """A leg from the strokes of its pieces, in their order; None if not all of it is on the sheet."""
    strokes = [s for s in read.drawn("pipe") if s.ref in pieces]
    if {s.ref for s in strokes} != set(pieces) or not pieces:
        return None
    order = {ref: n for n, ref in enumerate(pieces)}
    first = [s for s in strokes if order[s.ref] == 0]
    a, b = first[0].points[0], first[0].points[-1]
    along = (b[0] - a[0], b[1] - a[1])
    points = sorted((p for s in strokes for p in s.points), key=lambda p: p[0] * along[0] + p[1] * along[1])
    return Drawn(points[0], points[-1], tuple(strokes))


def north_points_right(read: Read) -> bool:
    """Whether the north arrow points up to the right (else up to the left)."""
    shaft = next(s for s in read.drawn("north") if s.weight > 0.5)
    return shaft.points[-1][0] > shaft.points[0][0]


C30, S30 = 3**0.5 / 2, 0.5
AXES = {
    True: ((C30, S30), (C30, -S30), (0.0, -1.0)),
    False: ((C30, -S30), (-C30, -S30), (0.0, -1.0)),
}
"""East, north and up on paper, y downwards: ISO 5456-3 (from memory), three axes at 120 degrees."""
EYE = {True: (1.0, -1.0, 1.0), False: (-1.0, -1.0, 1.0)}
"""Towards the eye: the way that the axes above draw as a point."""
Vec = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Found:
    """A map of each axis that explains a sheet, by rounded coordinate."""

    right: bool
    at: tuple[dict[float, float], dict[float, float], dict[float, float]]
    shift: XY

    def paper(self, v: Vec) -> XY:
        """A point of the drawn axes on paper. [mm]"""
        x, y = (sum(v[k] * AXES[self.right][k][i] for k in range(3)) + self.shift[i] for i in (0, 1))
        return (x, y)

    def stretched(self, p: Vec) -> Vec:
        e, n, u = (self.at[k][round(p[k], 4)] for k in range(3))
        return (e, n, u)


def scales_of(read: Read, legs: Sequence[tuple[Vec, Vec, Drawn]], slack: float = 0.08) -> Found | None:
    """One rising map an axis that puts the ends of all legs on their strokes' lines; None if there is none.

    Found by linear programming (HiGHS in scipy): the unknowns are where each distinct coordinate of an axis
    is drawn. Two ends that share a coordinate share its place, so a loop that did not close would leave none.
    """
    right = north_points_right(read)
    known = [sorted({round(p[k], 4) for a, b, _ in legs for p in (a, b)}) for k in range(3)]
    column: list[dict[float, int]] = []
    count = 2  # the two shifts
    for values in known:
        places: dict[float, int] = {}
        for i, v in enumerate(values):
            near = i and v - values[i - 1] < 6e-4
            places[v] = places[values[i - 1]] if near else count
            count += 0 if near else 1
        column.append(places)
    rows: list[NDArray[np.float64]] = []
    bound: list[float] = []

    def row(p: Vec, way: XY) -> NDArray[np.float64]:
        out = np.zeros(count)
        out[0], out[1] = way
        for k in range(3):
            axis = AXES[right][k]
            out[column[k][round(p[k], 4)]] += axis[0] * way[0] + axis[1] * way[1]
        return out

    for a, b, leg in legs:
        long = math.dist(leg.a, leg.b)
        d = ((leg.b[0] - leg.a[0]) / long, (leg.b[1] - leg.a[1]) / long)
        n = (-d[1], d[0])
        for p in (a, b):
            level = n[0] * leg.a[0] + n[1] * leg.a[1]
            rows += [row(p, n), -row(p, n)]
            bound += [level + slack, slack - level]
        for p, end, sense in ((a, leg.a, 1.0), (b, leg.b, -1.0)):  # the strokes lie between the two ends
            rows.append(sense * row(p, d))
            bound.append(sense * (d[0] * end[0] + d[1] * end[1]) + slack)
    for places in column:
        order = sorted(set(places.values()))
        for i, j in pairwise(order):
            step = np.zeros(count)
            step[i], step[j] = 1.0, -1.0
            rows.append(step)
            bound.append(0.0)
    free = [(None, None)] * count
    found = linprog(np.zeros(count), A_ub=np.array(rows), b_ub=np.array(bound), bounds=free, method="highs")
    if found.status != 0:
        return None
    at = tuple({v: float(found.x[i]) for v, i in places.items()} for places in column)
    return Found(right, (at[0], at[1], at[2]), (float(found.x[0]), float(found.x[1])))
