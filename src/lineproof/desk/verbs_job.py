"""Verbs on the job folder: new, walk, taped, figure."""

from __future__ import annotations

import math
import shlex
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from lineproof.desk.papers.words import plural
from lineproof.desk.words_pipe import line_words
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown, show_length
from lineproof.floor.verdicts import Verdict
from lineproof.floor.worked import Figure
from lineproof.job.graph import LaidLine, LineGraph, Part, Run
from lineproof.job.statements import Drawing, Head, Remark, Statement, Walk
from lineproof.plan.names import face_name, kind_words, short

if TYPE_CHECKING:
    from lineproof.desk.answers_job import TapedAnswer


def make_new(folder: Path, *, as_json: bool) -> None:
    """Write a job folder and say what to do next."""
    from lineproof.job.folder import new_job

    files = new_job(folder)
    if as_json:
        from lineproof.desk.answers_job import NewAnswer
        from lineproof.desk.as_json import dumps

        typer.echo(dumps("new", NewAnswer(folder=str(folder), files=files)))
        return
    typer.echo(f"Made {folder}. It holds invented data that plan as they stand. Next:")
    typer.echo(
        f"  1. walk your line in {folder / 'lines'}, and write your site, pipe and cement into job.toml"
    )
    typer.echo(f"  2. lineproof plan --job {shlex.quote(str(folder))}")


def show_walk(folder: Path, line: str, *, as_csv: bool, as_text: bool, as_json: bool) -> None:
    """Read the walks back."""
    from lineproof.job.folder import read_job
    from lineproof.plan.work import graph_of

    said = [words for words, asked in (("--csv", as_csv), ("--text", as_text), ("--json", as_json)) if asked]
    if len(said) > 1:
        raise BadInput(
            f"{' and '.join(said)} cannot be printed together", allowed="one of them", next="ask for each"
        )
    job = read_job(folder)
    known = [s.name for one in job.walks for s in one.statements if isinstance(s, Head)]
    if line and line not in known:
        raise BadInput(f"no line is named {line!r}", allowed=", ".join(known), next="name one of these")
    if as_csv or as_text:
        from lineproof.job.walk_csv import write_walk_csv
        from lineproof.job.walk_write import print_walk

        walk = only(job.walks, line) if line else one_file(job.walks)
        typer.echo(write_walk_csv(walk) if as_csv else print_walk(walk), nl=False)
        return
    graph = graph_of(job)
    names = [line] if line else list(graph.lines)
    if as_json:
        from lineproof.desk.answers_job import WalkAnswer, walked
        from lineproof.desk.as_json import dumps

        typer.echo(dumps("walk", WalkAnswer(lines=tuple(walked(graph, n) for n in names))))
        return
    shown = job.settings.shown.shown
    for name in names:
        for text in walk_lines(graph, name, shown):
            typer.echo(text)


def only(walks: Iterable[Walk], line: str) -> Walk:
    """The statements of one line, with the drawing it stands on.

    Parameters
    ----------
    walks : iterable of Walk
    line : str
        A line that is in one of them.

    Returns
    -------
    Walk
    """
    kept: list[Statement] = []
    file = ""
    for walk in walks:
        drawing: Drawing | None = None
        inside = False
        for s in walk.statements:
            if isinstance(s, Drawing):
                drawing, inside = s, False
            elif isinstance(s, Head):
                inside = s.name == line
                if inside:
                    file = walk.file
                    kept += [drawing] if drawing else []
            if inside:
                kept.append(s)
    while kept and isinstance(kept[-1], Remark):  # what is said above the next line
        kept.pop()
    return Walk(file, tuple(kept))


def one_file(walks: Sequence[Walk]) -> Walk:
    """All walks as one, so that a sheet has one heading.

    Parameters
    ----------
    walks : sequence of Walk

    Returns
    -------
    Walk

    Raises
    ------
    BadInput
        If a file without a drawing would take over the drawing of the one before it.
    """
    drawn = False
    for walk in walks:
        first = next((s for s in walk.statements if isinstance(s, Drawing | Head)), None)
        if drawn and isinstance(first, Head):
            raise BadInput(
                f"{walk.file} names no drawing, so it cannot stand behind another file that does",
                allowed=f"a drawing before line {first.name}",
                next="write the drawing there, or name one line",
            )
        drawn = drawn or any(isinstance(s, Drawing) for s in walk.statements)
    return Walk("", tuple(s for walk in walks for s in walk.statements))


def walk_lines(graph: LineGraph, name: str, shown: Shown) -> list[str]:
    """A laid line as lines of text, in walking order."""
    laid = graph.lines[name]
    head = line_words(laid)
    total = sum(graph.runs[r].cc for r in laid.runs)
    rows = [head, f"  {plural(len(laid.runs), 'leg')}, {show_length(total, shown)} along the centre-line"]
    for run_id in laid.runs:
        run = graph.runs[run_id]
        rows.append(f"  {_end(graph, run.a[0], name):<28} {_way(run):<14} {show_length(run.cc, shown):>14}"
                    f"   {_end(graph, run.b[0], name)}{'   field' if run.field else ''}")  # fmt: skip
    for turn in graph.turns:
        if turn.line == name:
            fit = "no fitting" if turn.fitting_deg is None else f"{turn.fitting_deg:g} fitting"
            left = "" if turn.fitting_deg is None else f", leaves {turn.leftover_deg:.2f} deg at its outlet"
            at = _held(graph.parts[turn.part], name)
            rows.append(f"  line {turn.spot.line}: turns {turn.angle_deg:.2f} deg at {at}: {fit}{left}")
    for o in graph.offsets:
        if o.line == name:
            told = (("set", o.set), ("roll", o.roll), ("true offset", o.true_offset), ("advance", o.advance))
            lengths = ", ".join(f"{w} {show_length(v, shown)}" for w, v in (*told, ("travel", o.travel)))
            rows.append(f"  line {o.spot.line}: {lengths}, roll angle {math.degrees(o.roll_angle):.1f} deg")
    rows.append(f"  {_closing(laid)}")
    return rows


def _held(part: Part, line: str) -> str:
    return short(part.id) if part.line == line else face_name(part, line)


def _end(graph: LineGraph, part_id: str, line: str) -> str:
    part = graph.parts[part_id]
    name = face_name(part, line)
    return f"{name} ({kind_words(part)})" if part.kind != "ground" else name


def _way(run: Run) -> str:
    words = []
    for value, plus, minus in zip(run.way, ("east", "north", "up"), ("west", "south", "down"), strict=True):
        if abs(value) > 1e-6:
            words.append(plus if value > 0 else minus)
    return " ".join(words)


def _closing(laid: LaidLine) -> str:
    if laid.closed:
        return "ends where it is said to end"
    if laid.misclosure is not None:
        return "cannot be closed yet: a dimension runs to the face of an unmeasured fitting"
    return "no end point was given, so nothing was checked"


def enter_taped(
    folder: Path,
    line: str,
    face_a: str,
    to: str,
    face_b: str,
    length: str,
    *,
    by: str,
    note: str,
    as_json: bool,
) -> None:
    """Append a taped gap and show the pieces that it recuts."""
    told = take_taped(folder, line, face_a, to, face_b, length, by=by, note=note)
    if as_json:
        from lineproof.desk.as_json import dumps

        typer.echo(dumps("taped", told.answer))
        return
    for text in told.lines:
        typer.echo(text)


@dataclass(frozen=True, slots=True)
class TapedTold:
    """A gap as it was taken.

    Parameters
    ----------
    answer : TapedAnswer
    lines : tuple of str
        The same in words.
    """

    answer: TapedAnswer
    lines: tuple[str, ...]


def take_taped(
    folder: Path,
    line: str,
    face_a: str,
    to: str,
    face_b: str,
    length: str,
    *,
    by: str,
    note: str,
    keep: bool = True,
) -> TapedTold:
    """Append a taped gap, and say which pieces it recuts.

    Parameters
    ----------
    folder : Path
    line, face_a, to, face_b, length, by, note
        As typed.
    keep : bool
        Write it; else only say what it would recut.

    Returns
    -------
    TapedTold

    Raises
    ------
    BadInput
        There is no such gap, or the length is none.
    """
    from lineproof.desk.answers_job import TapedAnswer
    from lineproof.desk.record_book import recorded
    from lineproof.job.folder import read_job
    from lineproof.job.taped import Taped, append_taped, gap_length
    from lineproof.plan.legs import leg_text
    from lineproof.plan.names import faces_of, find_face
    from lineproof.plan.work import work

    if to != "to":
        raise BadInput(
            f"{to!r} stands where the word to belongs",
            allowed='lineproof taped LINE "FACE A" to "FACE B" LENGTH',
            next="put to between the two faces",
        )
    made = recorded(folder)
    before = work(read_job(folder), nest=False, recorded=made)
    job = before.job
    if line not in before.graph.lines:
        raise BadInput(
            f"no line is named {line!r}", allowed=", ".join(before.graph.lines), next="name one of these"
        )
    faces = faces_of(before.graph, line)
    a, b = find_face(faces, line, face_a), find_face(faces, line, face_b)
    runs = [r for r in before.graph.runs.values() if {r.a[0], r.b[0]} == {a, b}]
    if not runs:
        names = "; ".join(
            f"{face_name(faces[r.a[0]], line)} to {face_name(faces[r.b[0]], line)}"
            for r in before.graph.runs.values()
            if r.line == line and a in (r.a[0], r.b[0])
        )
        raise BadInput(
            f"no pipe runs from {face_a} to {face_b} on {line}", allowed=names or "two faces of one gap",
            next="name the two faces of one gap",
        )  # fmt: skip
    row = Taped(
        line=line, face_a=_held(faces[a], line), face_b=_held(faces[b], line),
        length=gap_length(length), typed=length, by=by or "not said",
        when=datetime.now(job.zone).replace(microsecond=0), note=note,
        leg=leg_text(job.walks, runs[0]),
    )  # fmt: skip
    after = work(replace(job, taped=(*job.taped, row)), nest=False, recorded=made)
    if keep:
        append_taped(folder / "taped.csv", [row], job.zone)
    old = {p.id: p for p in before.cutting.pieces}
    changed = [p for p in after.cutting.pieces if p.run == runs[0].id or old.get(p.id) != p]
    drawn = runs[0].face_to_face
    allowed = job.settings.cutting.field_extra
    far = None if drawn is None else abs(row.length - drawn) > allowed
    shown = job.settings.shown.shown
    said = [f"{line}: {face_a} to {face_b} taped {show_length(row.length, shown)}."]
    if drawn is not None:
        off = show_length(row.length - drawn, shown)
        said.append(f"  the drawing says {show_length(drawn, shown)}: off by {off}")
    if far:
        said.append(
            f"  {Verdict.CARE.word}: more than the {show_length(allowed, shown)} by which a field piece is "
            "listed long; tape again before you cut, the newest row counts"
        )
    for p in changed:
        was = old[p.id].cut if p.id in old else None
        says = "" if p.cut is None else f", {show_length(p.cut, shown)}"
        before_text = (
            ""
            if was is None or was == p.cut
            else f" (was {show_length(was, shown)}, {old[p.id].state.value})"
        )
        name = p.letter if p.line == line else p.id
        said.append(f"  piece {name}: {p.state.value}{says}{before_text}")
    return TapedTold(TapedAnswer(taped=row, drawn=drawn, far_off=far, pieces=tuple(changed)), tuple(said))


def show_figure(name: str, inputs: list[str], *, as_json: bool) -> None:
    """One figure with its working, or the list of figures."""
    from lineproof.desk import figure_verb
    from lineproof.sums.figures import load_all

    if not name and as_json:
        figures_as_json(load_all().values())
        return
    if not name:
        for text in figure_verb.listing():
            typer.echo(text)
        return
    figure = figure_verb.find(name)
    if not inputs and figure.symbols and as_json:
        figures_as_json([figure])
        return
    if not inputs and figure.symbols:
        for text in figure_verb.usage(figure):
            typer.echo(text)
        return
    worked = figure.work(reading=None, **figure_verb.read_inputs(figure, inputs))
    if as_json:
        from lineproof.desk.answers_job import FigureAnswer
        from lineproof.desk.as_json import dumps

        typer.echo(dumps("figure", FigureAnswer(figure=name, worked=worked, source=figure.source)))
        return
    shown = Shown.metric() if figure_verb.metric_typed(inputs) else Shown.us()
    for text in figure_verb.lines_of(figure, worked, shown):
        typer.echo(text)


def figures_as_json(figures: Iterable[Figure]) -> None:
    """How figures are asked, by name."""
    from lineproof.desk.answers_job import FiguresAnswer, figure_words
    from lineproof.desk.as_json import dumps

    told = tuple(figure_words(f) for f in sorted(figures, key=lambda f: f.name))
    typer.echo(dumps("figures", FiguresAnswer(figures=told)))
