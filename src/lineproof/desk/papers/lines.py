"""Line sheets: the sketch of a line with its side table, its legs, offsets and turns."""

from __future__ import annotations

import math

from lineproof.desk.papers import words
from lineproof.floor.shown import Shown
from lineproof.job.graph import LineGraph, Run
from lineproof.plan.names import face_name, short
from lineproof.plan.pack import Pack

BOX_MM = {"a4": (273.0, 150.0), "us-letter": (255.0, 156.0)}
"""Room for the sketch on a landscape page. [mm]"""


def line_sheets_of(pack: Pack, line: str, paper: str) -> tuple[list[dict[str, object]], dict[str, str]]:
    """The sheets of one line.

    Parameters
    ----------
    pack : Pack
    line : str
    paper : str
        ``"a4"`` or ``"us-letter"``.

    Returns
    -------
    tuple
        Sheets for ``templates/lines.typ``, and their pictures by file name.
    """
    graph = pack.work.graph
    laid = graph.lines[line]
    shown = pack.work.job.settings.shown.shown
    width, height = BOX_MM[paper]
    drawn = drawing(pack, line, width, height)
    where = " · ".join(
        x
        for x in (
            f"line {line}", words.pipe_words(laid.size, laid.material, laid.series), laid.service,
            f"drawing {laid.drawing} rev {laid.rev}" if laid.drawing else "no drawing named",
        )
        if x
    )  # fmt: skip
    sheets: list[dict[str, object]] = []
    pictures: dict[str, str] = {}
    for n, (svg, table) in enumerate(drawn, 1):
        name = f"line-{_safe(line)}-{n}.svg"
        pictures[name] = svg
        sheets.append(
            {
                "kind": "line", "name": "Line sheet", "where": where, "picture": name, "table": table,
                "width": width, "height": height,
            }
        )  # fmt: skip
    sheets.append(
        {
            "kind": "legs", "name": "Line sheet", "where": where, "legs": legs(graph, line, shown),
            "offsets": offsets(graph, line, shown), "turns": turns(graph, line), "closing": closing(pack, line),
            "table": [], "columns": [],
        }
    )  # fmt: skip
    return sheets, pictures


def _safe(line: str) -> str:
    return "".join(c if c.isascii() and c.isalnum() else f"_{ord(c):x}" for c in line)


def drawing(pack: Pack, line: str, width: float, height: float) -> list[tuple[str, list[list[str]]]]:
    """The sketch of a line: SVG and side table for each sheet. [mm]"""
    return []


def legs(graph: LineGraph, line: str, shown: Shown) -> list[list[str]]:
    """Every leg: from, way, centre to centre, to."""
    rows = []
    for run_id in graph.lines[line].runs:
        run = graph.runs[run_id]
        notes = []
        if run.field:
            notes.append("field: cut after taping")
        notes += [f"no joint {words.length(a, shown)} to {words.length(b, shown)}" for a, b in run.no_joint]
        rows.append(
            [
                short(run.id), _face(graph, run.a[0]), _way(run), words.length(run.cc, shown),
                words.length(run.face_to_face, shown) or "not known", _face(graph, run.b[0]), "; ".join(notes),
            ]
        )  # fmt: skip
    return rows


def _face(graph: LineGraph, part: str) -> str:
    return face_name(graph.parts[part])


def _way(run: Run) -> str:
    told = []
    for value, plus, minus in zip(run.way, ("east", "north", "up"), ("west", "south", "down"), strict=True):
        if abs(value) > 1e-6:
            told.append(plus if value > 0 else minus)
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
