"""Line sheets: the sketch of a line with its side table, its legs, offsets and turns."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.desk.drawing.sheets import Sheet, line_sheets
from lineproof.desk.papers import words
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown
from lineproof.job.graph import LineGraph, Run
from lineproof.plan.names import face_name, short
from lineproof.plan.pack import Pack

BOX_MM = {"a4": (273.0, 150.0), "us-letter": (255.0, 156.0)}
"""Room for one sketch on a landscape page. [mm]"""
HALF_MM = {"a4": (134.0, 148.0), "us-letter": (125.0, 154.0)}
"""Room for each of two sketches side by side. [mm]"""
SMALL = 5
"""Lines with at most so many legs share a page with another one."""


def line_papers(pack: Pack, paper: str) -> list[dict[str, object]]:
    """Sketches of all lines, then their legs, offsets and turns in one paper.

    Parameters
    ----------
    pack : Pack
    paper : str
        ``"a4"`` or ``"us-letter"``.

    Returns
    -------
    list
        Sheets for ``templates/lines.typ``.
    """
    sheets: list[dict[str, object]] = []
    waiting: list[Drawn] = []
    for line in pack.work.graph.lines:
        for d in _draw(pack, line, paper):
            if waiting and not d.half:
                sheets.append(_page(waiting))
                waiting = []
            waiting.append(d)
            if len(waiting) == 2 or not d.half:
                sheets.append(_page(waiting))
                waiting = []
    if waiting:
        sheets.append(_page(waiting))
    sheets.append(legs_sheet(pack))
    return sheets


@dataclass(frozen=True, slots=True)
class Drawn:
    """One sheet of a drawing, what it is called, and whether it takes half a page."""

    sheet: Sheet
    where: str
    half: bool


def _draw(pack: Pack, line: str, paper: str) -> list[Drawn]:
    where = line_words(pack, line)
    if len(pack.work.graph.lines[line].runs) <= SMALL:
        width, height = HALF_MM[paper]
        one = line_sheets(pack.work, line, width_mm=width, height_mm=height)
        if len(one) == 1 and not one[0].table:
            return [Drawn(one[0], where, half=True)]
    width, height = BOX_MM[paper]
    sheets = line_sheets(pack.work, line, width_mm=width, height_mm=height)
    return [Drawn(s, where, half=False) for s in sheets]


def _page(drawn: list[Drawn]) -> dict[str, object]:
    return {
        "kind": "line",
        "name": "Line sheet",
        "where": _where(drawn),
        "pictures": [
            {
                "svg": d.sheet.svg, "w": d.sheet.width, "h": d.sheet.height,
                "where": d.where if len(drawn) > 1 else "",
            }
            for d in drawn
        ],
        "table": [[r.key, r.kind, r.text, r.where] for d in drawn for r in d.sheet.table],
    }  # fmt: skip


def _where(drawn: list[Drawn]) -> str:
    """What stands in the head of a page, and of each page its side table goes on to."""
    if len(drawn) > 1:
        return " and ".join(f"line {d.sheet.line}" for d in drawn)
    sheet = drawn[0].sheet
    return drawn[0].where + (f" · sheet {sheet.number} of {sheet.of}" if sheet.of > 1 else "")


def line_words(pack: Pack, line: str, language: str = ENGLISH) -> str:
    """Line, pipe, service and drawing."""
    say = Sheets(pack.work.job.settings.shown.shown, language)
    laid = pack.work.graph.lines[line]
    drawing = say("drawing", drawing=laid.drawing, rev=laid.rev) if laid.drawing else say("no_drawing")
    told = (
        say("line", line=line),
        words.pipe_words(laid.size, laid.material, laid.series),
        laid.service,
        drawing,
    )
    return " · ".join(x for x in told if x)


def legs_sheet(pack: Pack) -> dict[str, object]:
    """Legs, offsets and turns of all lines.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    dict
        For ``templates/lines.typ``.
    """
    graph, shown = pack.work.graph, pack.work.job.settings.shown.shown
    return {
        "kind": "legs", "name": "Legs and offsets", "where": "as walked, line by line",
        "lines": [
            {
                "where": line_words(pack, line), "legs": legs(graph, line, shown),
                "offsets": offsets(graph, line, shown), "turns": turns(graph, line),
                "closing": closing(pack, line),
            }
            for line in graph.lines
        ],
    }  # fmt: skip


def legs(graph: LineGraph, line: str, shown: Shown, language: str = ENGLISH) -> list[list[str]]:
    """Every leg: its name, from, way, centre to centre, face to face, to, and a note."""
    say = Sheets(shown, language)
    rows = []
    for run_id in graph.lines[line].runs:
        run = graph.runs[run_id]
        notes = []
        if run.field:
            notes.append(say("leg_field"))
        notes += [
            say("no_joint", a=words.length(a, shown), b=words.length(b, shown)) for a, b in run.no_joint
        ]
        rows.append(
            [
                short(run.id), _face(graph, run.a[0], run.line), _way(run, say), words.length(run.cc, shown),
                words.length(run.face_to_face, shown) or say("not_known"), _face(graph, run.b[0], run.line),
                "; ".join(notes),
            ]
        )  # fmt: skip
    return rows


def _face(graph: LineGraph, part: str, line: str) -> str:
    return face_name(graph.parts[part], line)


def _way(run: Run, say: Sheets) -> str:
    told = []
    for value, plus, minus in zip(run.way, ("east", "north", "up"), ("west", "south", "down"), strict=True):
        if abs(value) > 1e-6:
            told.append(say(plus if value > 0 else minus))
    return " ".join(told)


def offsets(graph: LineGraph, line: str, shown: Shown) -> list[list[str]]:
    """Offsets with their numbers."""
    return [
        [
            f"{o.spot.line}", words.length(o.set, shown), words.length(o.roll, shown),
            words.length(o.true_offset, shown), words.length(o.advance, shown), words.length(o.travel, shown),
            f"{math.degrees(o.roll_angle):.1f}°",
        ]
        for o in graph.offsets
        if o.line == line
    ]  # fmt: skip


def turns(graph: LineGraph, line: str) -> list[list[str]]:
    """Turns that do not fit a fitting exactly, or have none."""
    rows = []
    for t in graph.turns:
        if t.line != line or (t.fitting_deg is not None and abs(t.leftover_deg) < 0.005):
            continue
        fitting = "STOP: no fitting" if t.fitting_deg is None else f"{t.fitting_deg:g}° fitting"
        choices = "listed: " + ", ".join(f"{c:g}°" for c in t.choices) if t.fitting_deg is None else ""
        rows.append(
            [
                short(t.part), f"{t.angle_deg:.2f}°", fitting,
                choices or f"{t.leftover_deg:.2f}° is left at its outlet",
            ]
        )  # fmt: skip
    return rows


def closing(pack: Pack, line: str) -> str:
    """Whether the line ends where it should."""
    laid = pack.work.graph.lines[line]
    if laid.closed:
        return "The walk ends where it is said to end."
    if laid.misclosure is not None:
        return "Cannot be closed yet: a dimension runs to the face of an unmeasured fitting."
    return "No end point was given, so the walk's end was not checked."
