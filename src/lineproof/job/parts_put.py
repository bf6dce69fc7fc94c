"""One row put into a parts.csv: what stood there stays as a remark, every other row as it was written."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lineproof.floor.errors import BadInput
from lineproof.job.files import is_remark
from lineproof.job.parts_csv import COLUMNS

FILE = "parts.csv"


@dataclass(frozen=True, slots=True)
class _Written:
    """A row of the file: its cells, and the lines it takes, from 1."""

    cells: list[str]
    first: int
    last: int


def put_row(text: str, cells: Mapping[str, str], *, at: int = 0, said: str) -> str:
    """A parts.csv with one row more, or one row anew.

    Parameters
    ----------
    text : str
        The file; empty where there is none yet.
    cells : mapping
        Column to what it holds; a row that is written anew keeps its other cells.
    at : int
        Line on which the row begins that is written anew; 0 to put a row at the end. [-]
    said : str
        Why, for the remark that keeps the row as it was: who and when.

    Returns
    -------
    str
        The whole file. A column that the file lacks is added to its heading.

    Raises
    ------
    BadInput
        There is no such row.
    """
    lines = io.StringIO(text, newline="").readlines()
    end = "\r\n" if lines and lines[0].endswith("\r\n") else "\n"
    if lines and not lines[-1].endswith(("\n", "\r")):
        lines[-1] += end
    rows = list(_rows(text))
    if not rows:
        return "".join(lines) + _line(list(COLUMNS), end) + _line([cells.get(c, "") for c in COLUMNS], end)
    heading, *body = rows
    written = list(heading.cells)
    while written and not written[-1]:
        written.pop()
    names = [name.lower().replace(" ", "_") for name in written]
    more = [c for c in COLUMNS if cells.get(c) and c not in names]
    names += more
    if not at:
        lines.append(_line([cells.get(name, "") for name in names], end))
    else:
        old = next((r for r in body if r.first == at), None)
        if old is None:
            raise BadInput(
                f"{FILE} has no row that begins on line {at}", allowed="a row of the file as it is now",
                next="open the tape list again; nothing was written",
            )  # fmt: skip
        before = [*old.cells, *[""] * len(names)]
        new = [cells.get(name, before[n]) for n, name in enumerate(names)]
        was = _line([f"# {said} before:", *(c for c in before if c)], end)
        lines[old.first - 1 : old.last] = [was, _line(new, end)]
    if more:
        lines[heading.first - 1 : heading.last] = [_line([*written, *more], end)]
    return "".join(lines)


def _rows(text: str) -> Iterator[_Written]:
    reader = csv.reader(io.StringIO(text, newline=""))
    start = 1
    for cells in reader:
        first, start = start, reader.line_num + 1
        plain = [c.strip() for c in cells]
        if any(plain) and not is_remark(plain):
            yield _Written(plain, first, reader.line_num)


def _line(cells: list[str], end: str) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator=end).writerow(cells)
    return out.getvalue()
