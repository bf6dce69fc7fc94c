"""What the walk pad answers: the text after a step, its rows, what is wrong beside each, and the drawing.

Nothing is kept between two questions: the pad sends the text as it stands and one step.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from lineproof.desk.drawing.held import Hold, Holder, steady_names
from lineproof.desk.drawing.sheets import line_sheets
from lineproof.desk.drawing.svg import SIDE_WORDS
from lineproof.floor.errors import LineproofError
from lineproof.job.files import Folder
from lineproof.job.folder import read_job
from lineproof.job.lay import split_lines
from lineproof.job.statements import Drawing, Head, Remark, Spot, Statement, Walk
from lineproof.job.walk_cells import cells_of
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_read import read_statement, read_walk, read_walk_all
from lineproof.job.walk_steps import Step, line_end, rows_of, same_rows, stepped
from lineproof.job.walk_words import split_comment
from lineproof.plan.make_pack import named_work
from lineproof.plan.work import Work, work

ROOM = (250.0, 160.0)
"""Room of a sheet on the screen; it is drawn as on paper and scaled. [mm]"""


@dataclass(frozen=True, slots=True)
class PadRow:
    """A row of the walk as the pad lists it.

    Parameters
    ----------
    row : int
        From 1, as in the file. [-]
    said : str
        The statement as it stands, without its comment.
    comment : str
    word : str
        What kind of statement it is; empty for a remark or one that cannot be read.
    cells : mapping
        What it says, by column.
    line : str
        The line it belongs to; empty above the first.
    """

    row: int
    said: str
    comment: str
    word: str
    cells: Mapping[str, str]
    line: str


@dataclass(frozen=True, slots=True)
class PadTrouble:
    """What is wrong, in one sentence, and at which row (0: not in this file)."""

    row: int
    column: int
    sentence: str


@dataclass(frozen=True, slots=True)
class PadAnswer:
    """The answer to one tap.

    Parameters
    ----------
    text : str
        The whole file as it is now.
    row : int
        Where the walk stands: the next statement goes below it. [-]
    told : str
        What the step did beyond itself.
    rows : tuple of PadRow
    troubles : tuple of PadTrouble
        Empty if the job can be planned with this text.
    sheets : tuple of str
        The drawing, as SVG, each sheet with its side table as HTML.
    north : str
        Where north points on it: ``"right"`` or ``"left"``.
    whole : bool
        The drawing shows all statements; False if it stops before one that is wrong or missing.
    joints, pieces : int
        Of the line as drawn. [-]
    marks : mapping
        Row to the parts and runs that it makes, as the drawing names them.
    hold : Hold or None
        Where everything stands on the drawing, for the next tap to start from.
    """

    text: str
    row: int
    told: str
    rows: tuple[PadRow, ...]
    troubles: tuple[PadTrouble, ...]
    sheets: tuple[str, ...]
    north: str
    whole: bool
    joints: int
    pieces: int
    marks: Mapping[int, list[str]]
    hold: Hold | None


def pad_answer(
    folder: Path,
    file: str,
    line: str,
    text: str,
    step: Step | None = None,
    *,
    recorded: frozenset[str] = frozenset(),
    last: tuple[str, Hold] | None = None,
    side: Sequence[str] = SIDE_WORDS,
) -> PadAnswer:
    """One step on a walk, and the walk as it stands then.

    Parameters
    ----------
    folder : Path
        The job.
    file : str
        Path of the walk in it, such as ``lines/B-201.walk``; it need not be there yet.
    line : str
        The line that is drawn.
    text : str
        The file as the pad has it.
    step : Add, Change, Delete, Split, optional
    recorded : frozenset of str
        Ids of joints that have a record: they may not be lost.
    last : tuple, optional
        The text of the last drawing and its positions, to start from.
    side : sequence of str
        Words over the side table of a sheet.

    Returns
    -------
    PadAnswer

    Raises
    ------
    BadInput
        The step cannot be taken; the text stays as it was.
    """
    told, row = "", last_row(text, line)
    if step is not None:
        done = stepped(text, step)
        text, row, told = done.text, done.row, done.told
    walk, wrong = read_walk_all(text, file)
    made: Work | None = None
    if walk is not None:
        try:
            made = plan_with(folder, file, text, recorded)
        except LineproofError as error:
            wrong = [error]
    troubles = tuple(_trouble(e, file) for e in wrong)
    whole = made is not None and line in made.graph.lines
    if not whole:
        made = _draft(folder, file, line, text, troubles)
    sheets: tuple[str, ...] = ()
    north = "right"
    joints = pieces = 0
    hold: Hold | None = None
    if made is not None:
        before = last[1].renamed(same_rows(last[0], text)) if last else None
        holder = Holder(steady_names(made.graph, made.cutting, line), before)
        try:
            drawn = line_sheets(made, line, width_mm=ROOM[0], height_mm=ROOM[1], holder=holder)
        except LineproofError:
            drawn = ()  # a line without a leg has nothing to draw yet
        hold = holder.hold(len(drawn))
        sheets = tuple(s.on_screen(side) for s in drawn)
        north = "left" if drawn and "left" in drawn[0].view.north.value else "right"
        joints = sum(j.line == line for j in made.cutting.joints)
        pieces = sum(p.line == line for p in made.cutting.pieces)
    return PadAnswer(
        text, row, told, tuple(rows(text)), troubles, sheets, north, whole, joints, pieces,
        _marks(made, line) if made is not None else {}, hold,
    )  # fmt: skip


def _marks(made: Work, line: str) -> dict[int, list[str]]:
    """What each row of a line makes."""
    found: dict[int, list[str]] = {}
    for part in made.graph.parts.values():
        if part.line == line:
            found.setdefault(part.spot.line, []).append(part.id)
    for run in made.graph.runs.values():
        if run.line == line:
            found.setdefault(run.spot.line, []).append(run.id)
    for piece in made.cutting.pieces:
        if piece.line == line:
            found.setdefault(made.graph.runs[piece.run].spot.line, []).append(piece.id)
    return found


def plan_with(folder: Path, file: str, text: str, recorded: frozenset[str]) -> Work:
    """The job cut up with a text in place of one of its walks, its joints named.

    Parameters
    ----------
    folder : Path
    file : str
    text : str
    recorded : frozenset of str
        Ids of joints that have a record.

    Returns
    -------
    Work
        Without its sticks.

    Raises
    ------
    EntrySealed
        The walk takes out or changes a joint that has a record.
    LineproofError
        With file, line and column of what cannot be laid.
    """
    job = read_job(folder, instead={file: text})
    return named_work(work(job, nest=False, recorded=recorded), recorded=recorded)[0]


def rows(text: str) -> Iterator[PadRow]:
    """The rows of a walk, read one by one: a slip in one hides no other.

    Parameters
    ----------
    text : str

    Yields
    ------
    PadRow
    """
    name, numbers = "", Numbers()
    for n, row in enumerate(rows_of(text), 1):
        said, comment = split_comment(row.removeprefix("\ufeff").rstrip("\r\n"))
        said = said.strip(" \t\u00a0")
        found = _read_row(said)
        word, cells = "", dict[str, str]()
        if isinstance(found, Head):
            name = found.name
            numbers = Numbers(metric=found.size.metric, stations_metric=found.size.metric)
        if found is not None:
            word, cells = cells_of(found, numbers)
        yield PadRow(n, said, (comment or "").strip(), word, cells, name)


@lru_cache(maxsize=8192)
def _read_row(said: str) -> Statement | None:
    if not said:
        return None
    try:
        found = read_statement(said).statement(Spot(), "", metric=False)
    except LineproofError:
        return None
    return found


def last_row(text: str, line: str) -> int:
    """The row below which a line goes on: its last statement before its end.

    Parameters
    ----------
    text : str
    line : str

    Returns
    -------
    int
        From 1; 0 if the text has no row. [-]
    """
    found = 0
    for row in rows(text):
        if row.line == line and row.word and row.word != "ends at":
            found = row.row
    return found or len(rows_of(text))


def _trouble(error: LineproofError, file: str) -> PadTrouble:
    place = error.place
    mine = place.file in ("", file)
    return PadTrouble(place.line if mine else 0, place.column if mine else 0, str(error))


# ------------------------------------------------------------------ a line that is not whole yet


def _draft(folder: Path, file: str, line: str, text: str, wrong: Iterable[PadTrouble]) -> Work | None:
    """The line as far as it goes, with an open end where it stops; None if not even that can be laid."""
    mine = [r for r in rows(text) if r.line == line]
    if not mine:
        return None
    bad = min((t.row for t in wrong if mine[0].row < t.row <= mine[-1].row), default=0)
    for stop in dict.fromkeys((mine[-1].row + 1, bad or mine[-1].row + 1)):
        cut = _with_end([r for r in mine if r.row < stop], text)
        try:
            walk = read_walk(cut, file)
            job = read_job(folder, instead=dict.fromkeys(_files(folder)))
        except LineproofError:
            continue
        walks = tuple(_needed((walk, *_others(folder, file)), line))
        try:
            return work(replace(job, walks=walks, taped=(), joints_text=""), nest=False)
        except LineproofError:
            continue
    return None


def _with_end(mine: list[PadRow], text: str) -> str:
    """The rows of one line as a text of its own at the same rows, with an end if it has none."""
    all_rows = rows_of(text)
    keep = {r.row for r in mine}
    end = line_end(text)
    out = [row if n in keep else end for n, row in enumerate(all_rows[: max(keep)], 1)]
    if out and not out[-1].endswith(("\r", "\n")):
        out[-1] += end
    if not any(r.word == "ends at" for r in mine):
        spools = [r.word for r in mine if r.word in ("spool", "spool ends")]
        out += [f"spool ends{end}"] if spools and spools[-1] == "spool" else []
        if not any(r.word == "starts at" for r in mine):
            return "".join(out)
        out.append(f"ends at open{end}")
    return "".join(out)


def _files(folder: Path) -> list[str]:
    return Folder(folder).names("lines", (".walk", ".csv"))


def _others(folder: Path, file: str) -> Iterator[Walk]:
    """The other walks that can be read."""
    from lineproof.job.walk_csv import read_walk_csv

    files = Folder(folder)
    for name in _files(folder):
        if name == file:
            continue
        try:
            text = files.text(name) or ""
            yield read_walk_csv(text, name) if name.lower().endswith(".csv") else read_walk(text, name)
        except LineproofError:
            continue


def _needed(walks: tuple[Walk, ...], line: str) -> Iterator[Walk]:
    """The statements of one line and of the lines that open the branches it starts from or ends at."""
    texts = {t.head.name: t for t in reversed(split_lines(walks))}
    opener = {label: name for name, t in texts.items() for label in t.opens}
    wanted, ask = set(), [line]
    while ask:
        name = ask.pop()
        if name not in wanted and name in texts:
            wanted.add(name)
            ask += [opener[label] for label in texts[name].needs if label in opener]
    for walk in walks:
        kept: list[Statement] = []
        inside = False
        for s in walk.statements:
            if isinstance(s, Head):
                inside = s.name in wanted
            if inside or isinstance(s, Drawing | Remark):
                kept.append(s)
        yield Walk(walk.file, tuple(kept))
