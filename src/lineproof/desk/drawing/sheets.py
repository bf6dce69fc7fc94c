"""A line on sheets of paper: cut with match lines, spread, drawn, labelled, written as SVG."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from lineproof.desk.drawing import signs
from lineproof.desk.drawing.cut import Cutter, Unit
from lineproof.desk.drawing.held import Holder
from lineproof.desk.drawing.ink import Box, Stroke, Words
from lineproof.desk.drawing.meet import Floats
from lineproof.desk.drawing.north import north_arrow
from lineproof.desk.drawing.place import place
from lineproof.desk.drawing.project import North, View, way_on_paper
from lineproof.desk.drawing.scene import Kind, LineScene, Sign
from lineproof.desk.drawing.scene_read import read_scene
from lineproof.desk.drawing.sections import SectionMark, section_marks
from lineproof.desk.drawing.spread import Need, Spread, Tail
from lineproof.desk.drawing.stand_off import TableRow
from lineproof.desk.drawing.svg import SIDE_WORDS, side_table, svg_text
from lineproof.desk.drawing.trace import LETTER_ROOM, Drawn, letter_reach, trace
from lineproof.desk.drawing.widths import shorten, text_width
from lineproof.floor.errors import BadInput
from lineproof.plan.work import Work

MOST_LEGS = 50
"""Legs on one sheet."""
MM2_A_JOINT = 760.0
"""Paper that a joint with its number, piece and share of the lengths wants (own rule). [mm2]"""
BIT_MM, SHORT_MM = 11.0, 7.0
EDGE, SIDE, TOP = 1.5, 15.0, 9.0
STRIP = 9.5
"""Height of the strip of words at the foot of a sheet. [mm]"""
NORTH_W, NORTH_H = 19.0, 17.0
LEAST_SHARE, LEAST_PLACED = 0.99, 0.95
"""A sheet whose legs or labels find less room than this is cut again. [1]"""
GIVE_UP = 0.90
"""A sheet that places less than this before its labels make room for one another is given up. [1]"""
TO_GROW = 0.93
"""The same for a sheet that will be edited: it is cut earlier, so that what is added finds room. [1]"""
FEWEST_UNITS = 2
SMALLEST = (90.0, 70.0)
"""Smallest sheet that is drawn on. [mm]"""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a line's drawing.

    Parameters
    ----------
    line : str
    number, of : int
        From 1.
    width, height : float
        [mm]
    strokes : tuple of Stroke
    words : tuple of Words
        Every text on it with its place.
    table : tuple of TableRow
        What its key letters stand for.
    view : View
        Its map from the plant.
    direct, led, asked : int
        Labels on the drawing itself, of those at a leader, and all labels.
    """

    line: str
    number: int
    of: int
    width: float
    height: float
    title: str
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]
    table: tuple[TableRow, ...]
    view: View
    legs: int
    direct: int
    led: int
    asked: int
    room: float = 1.0
    """Share of the length its legs need for their signs and letters that they have. [1]"""
    whole: bool = True
    sections: tuple[SectionMark, ...] = ()
    """Test sections that are drawn on it."""

    @property
    def placed_share(self) -> float:
        """Share of the labels that stand on the drawing, not in the side table. [1]"""
        return self.direct / self.asked if self.asked else 1.0

    @property
    def svg(self) -> str:
        """The sheet as SVG."""
        return svg_of(self)

    def on_screen(self, words: Sequence[str] = SIDE_WORDS) -> str:
        """The sheet as SVG, with its side table below it as HTML under the words given."""
        return svg_of(self) + side_table(((r.key, r.kind, r.text, r.where) for r in self.table), words)


def svg_of(sheet: Sheet) -> str:
    """A sheet as SVG; the same bytes for the same sheet.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    str
    """
    joints = sum(w.role == Kind.JOINT.value for w in sheet.words)
    pieces = sum(w.role == Kind.PIECE.value for w in sheet.words)
    return svg_text(
        name=f"{sheet.line}-{sheet.number}",
        title=f"Line {sheet.line}, isometric sketch, sheet {sheet.number} of {sheet.of}",
        about=(
            f"{sheet.title}. Not to scale. {joints} joints and {pieces} pieces are marked; "
            "the cut list and the joint list hold the same in words."
        ),
        width=sheet.width,
        height=sheet.height,
        strokes=sheet.strokes,
        words=sheet.words,
    )


def line_sheets(
    work: Work, line: str, *, width_mm: float, height_mm: float, holder: Holder | None = None
) -> tuple[Sheet, ...]:
    """The drawing of a line.

    Parameters
    ----------
    work : Work
    line : str
        Its name.
    width_mm, height_mm : float
        Room on the paper. [mm]
    holder : Holder, optional
        Last positions to start from; it notes the new ones.

    Returns
    -------
    tuple of Sheet
        In walking order; at least one.

    Raises
    ------
    BadInput
        If the job has no such line or the room is too small to draw in.
    """
    if line not in work.graph.lines:
        raise BadInput(
            f"the job has no line {line}", allowed=", ".join(work.graph.lines), next="name one of them"
        )
    settings = work.job.settings
    marks = section_marks(settings.sections, work.graph)
    scene = read_scene(work.graph, work.cutting, line, settings.shown.shown, marks)
    return sheets_of(scene, width_mm, height_mm, holder)


def sheets_of(
    scene: LineScene, width_mm: float, height_mm: float, holder: Holder | None = None
) -> tuple[Sheet, ...]:
    """Draw a scene on sheets.

    Parameters
    ----------
    scene : LineScene
    width_mm, height_mm : float
        Room on the paper. [mm]
    holder : Holder, optional
        Last positions to start from; it notes the new ones.

    Returns
    -------
    tuple of Sheet
    """
    w, h = SMALLEST
    if not (w <= width_mm <= 5000 and h <= height_mm <= 5000):
        raise BadInput(
            f"a sheet of {width_mm:g} x {height_mm:g} mm", allowed=f"{w:g} x {h:g} mm to 5000 x 5000 mm",
            next="use a larger paper",
        )  # fmt: skip
    return _Maker(scene, width_mm, height_mm, holder).sheets()


@dataclass(slots=True)
class _Maker:
    scene: LineScene
    width: float
    height: float
    holder: Holder | None = None
    cutter: Cutter = field(init=False)

    def __post_init__(self) -> None:
        """Cut the same scene."""
        self.cutter = Cutter(self.scene)

    def sheets(self) -> tuple[Sheet, ...]:
        units = self.cutter.units()
        most = max(int((self.width - 2 * EDGE) * (self.height - STRIP) / MM2_A_JOINT), 12)
        weights = [max(1.0 / MOST_LEGS, self.cutter.joints(u) / most) for u in units]
        pages = max(1, math.ceil(sum(weights) - 1e-9))
        share = sum(weights) / pages
        made: list[Sheet] = []
        north: North | None = self.holder.north if self.holder else None
        cuts = self.holder.cuts(self.scene, units) if self.holder else ()
        start = 0
        while start < len(units) or not made:
            stop, total = start, 0.0
            if cuts:
                stop, total = next((n for n in cuts if n > start), len(units)), math.inf
            while stop < len(units) and (stop == start or total + weights[stop] <= max(share, 0.2) + 1e-9):
                total += weights[stop]
                stop += 1
            sheet = self.sheet(units[start:stop], len(made) + 1, north, last=stop >= len(units))
            while stop - start > FEWEST_UNITS and not self.readable(sheet):
                stop = start + max(1, int((stop - start) * 0.7))
                sheet = self.sheet(units[start:stop], len(made) + 1, north, last=stop >= len(units))
            north = sheet.view.north
            made.append(sheet)
            start = max(stop, start + 1)
        return tuple(replace(s, of=len(made), words=(*s.words, *self.foot(s, len(made)))) for s in made)

    def readable(self, sheet: Sheet) -> bool:
        """Whether a sheet holds its legs: they have room, and nearly all labels found a place.

        A sheet that is edited may lose a few more before it is cut again.
        """
        least = GIVE_UP if self.holder else LEAST_PLACED
        return sheet.whole and sheet.room >= LEAST_SHARE and sheet.placed_share >= least

    # ------------------------------------------------------------------ drawing it

    def spread(self, part: LineScene, north: North, cut: float = 0.0) -> Spread:
        """The search for a sheet's scales; ``cut`` is kept free at the top. [mm]"""
        needs = []
        for leg in part.legs:
            sign_a, sign_b = part.spots[leg.a].sign, part.spots[leg.b].sign
            if not leg.bits and Sign.AXIS in (sign_a, sign_b):
                needs.append(Need(leg.a, leg.b, 0.0))  # two axes of one part, such as an eccentric reducer
                continue
            if not leg.bits:
                needs.append(Need(leg.a, leg.b, signs.half(sign_a) + signs.half(sign_b) + SHORT_MM))
                continue
            ends = signs.joint_off(sign_a, leg.mate_a) + signs.joint_off(sign_b, leg.mate_b)
            sleeves = 3.2 * sum(b.sleeve_after for b in leg.bits)
            way = way_on_paper(leg.way, north)
            bits = sum(max(BIT_MM, 2 * letter_reach(b.letter, way) + LETTER_ROOM + 0.4) for b in leg.bits)
            needs.append(Need(leg.a, leg.b, ends + sleeves + bits))
        tails = []
        for n, spot in enumerate(part.spots):
            for stub in spot.stubs:
                d = way_on_paper(stub.way, north)
                tails.append(Tail(n, d[0] * signs.STUB_MM, d[1] * signs.STUB_MM))
        return Spread(
            [s.at for s in part.spots],
            needs,
            tails,
            north,
            self.width - 2 * SIDE,
            self.height - STRIP - 2 * TOP - cut,
        )

    def sheet(self, units: Sequence[Unit], number: int, north: North | None, *, last: bool) -> Sheet:
        """Draw one sheet, without the words at its foot; the first one chooses where north points."""
        part = self.cutter.part(units, number, last=last)
        held = self.held(part, north)
        tried: list[tuple[float, int, Spread, Floats, float, float]] = []
        for way in () if held else (north,) if north else tuple(North):
            spread = self.spread(part, way)
            gaps, room, crowd = spread.search()
            tried.append((crowd - 20.0 * room, len(tried), spread, gaps, room, crowd))
        if held:
            view, crowd = held
            room = 1.0
            spread = self.spread(part, view.north)
        else:
            _, _, spread, gaps, room, crowd = min(tried, key=lambda t: t[:2])
            view = spread.view(gaps, SIDE, TOP)
        drawn = trace(part, view)
        self.trim(drawn)
        corner = self.corner(drawn)
        if corner is None:
            spread = self.spread(part, spread.north, NORTH_H)
            gaps, room, crowd = spread.search()
            view = spread.view(gaps, SIDE, TOP + NORTH_H)
            drawn = trace(part, view)
            self.trim(drawn)
            corner = self.corner(drawn) or Box(EDGE, EDGE, EDGE + NORTH_W, EDGE + NORTH_H)
        arrow, arrow_words = north_arrow(corner, view.north)
        area = Box(EDGE, EDGE, self.width - EDGE, self.height - STRIP)
        can_cut = len(units) > FEWEST_UNITS
        stood, keys = self.holder.labels(part, drawn.asks) if self.holder else ({}, {})
        give_up = (TO_GROW if self.holder else GIVE_UP) if can_cut else 0.0
        placed = place(
            drawn, area, (corner,), give_up=give_up, last=stood, last_keys=keys, shove=not self.holder
        )
        if self.holder:
            self.holder.note(number, part, view, crowd, drawn.asks, placed)
        inline = len(drawn.words)
        return Sheet(
            line=part.line,
            number=number,
            of=number,
            width=self.width,
            height=self.height,
            title=part.title,
            strokes=(*drawn.strokes, *placed.strokes, *arrow),
            words=(*drawn.words, *placed.words, *arrow_words),
            table=placed.table,
            view=view,
            legs=len(part.legs),
            direct=placed.direct + inline,
            led=placed.led,
            asked=placed.asked + inline,
            room=room,
            whole=placed.whole,
            sections=_sections(part),
        )

    def held(self, part: LineScene, north: North | None) -> tuple[View, float] | None:
        """The map of the last drawing, widened where a leg needs more; None if it no longer serves."""
        if self.holder is None or north is None:
            return None
        area = Box(EDGE + 2, EDGE + 2, self.width - EDGE - 2, self.height - STRIP - 2)
        return self.holder.view(part, self.spread(part, north), area)

    def trim(self, drawn: Drawn) -> None:
        """Leave out helping lines that would run off the sheet, and what would point to them."""
        area = Box(EDGE, EDGE, self.width - EDGE, self.height - STRIP)
        off = [
            s for s in drawn.strokes if s.role == "aid" and any(area.away(x, y) > 0.0 for x, y in s.points)
        ]
        drawn.strokes[:] = [s for s in drawn.strokes if s not in off]
        corners = {f"{s.ref}:roll": s.points[1:-1] for s in off}
        drawn.asks[:] = [
            replace(a, points=tuple(p for p in a.points if p not in corners[a.ref]))
            if a.ref in corners
            else a
            for a in drawn.asks
        ]

    def corner(self, drawn: Drawn) -> Box | None:
        """A corner that is free of the drawing, for the north arrow."""
        right, low = self.width - EDGE - NORTH_W, self.height - STRIP - NORTH_H
        for x, y in ((EDGE, EDGE), (right, EDGE), (EDGE, low), (right, low)):
            box = Box(x, y, x + NORTH_W, y + NORTH_H)
            wide = box.grown(1.5)
            if not any(wide.hits(s) for stroke in drawn.strokes for s in stroke.segments):
                return box
        return None

    def foot(self, sheet: Sheet, of: int) -> tuple[Words, ...]:
        """The words at the foot of a sheet."""
        room = self.width - 2 * EDGE
        head = " - ".join(w for w in (sheet.line, self.scene.title, self.drawing_words()) if w)
        page = f"sheet {sheet.number} of {of}"
        notes = ["Not to scale.", "Lengths centre to centre."]
        if not self.scene.issued:
            notes.append("j = joint number not issued yet.")
        notes += [mark.told for mark in sheet.sections]
        if any(s.dashed for s in sheet.strokes if s.role == "pipe"):
            notes.append("Dashed = cut after taping.")
        notes.append("Bar = joint, letter = piece.")
        note = ""
        for one in notes:
            longer = f"{note} {one}".strip()
            note = longer if text_width(longer) <= room else note
        right = text_width(page)
        return (
            Words(EDGE, self.height - 5.2, shorten(head, room - right - 4.0), "foot"),
            Words(self.width - EDGE - right, self.height - 5.2, page, "foot"),
            Words(EDGE, self.height - 1.2, note, "foot"),
        )

    def drawing_words(self) -> str:
        """The drawing it was walked from."""
        return f"drawing {self.scene.drawing}" if self.scene.drawing else ""


def _sections(part: LineScene) -> tuple[SectionMark, ...]:
    """Test sections on a sheet: that of the line, then those its branches lead to."""
    stubs = [stub for spot in part.spots for stub in spot.stubs]
    stubs += [saddle.stub for leg in part.legs for saddle in leg.saddles]
    found = [part.section, *(stub.section for stub in stubs)]
    return tuple(dict.fromkeys(mark for mark in found if mark is not None))
