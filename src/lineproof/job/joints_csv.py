"""joints.csv: joint ids and what they tie. Ours, append-only: no row is ever changed or taken out.

A row says how one joint (or one line) stands from an issue on; the last row of an id is the one that counts.
Its first row is its birth, a row with ``retired`` is its end. Every row carries a seal over itself and all
rows before it, so that a row changed by hand shows.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from lineproof.floor.errors import BadInput, EntrySealed, LineproofError, Place
from lineproof.job.toml_words import shorten

FILE = "joints.csv"
COLUMNS = (
    "id", "kind", "line", "a", "b", "what_a", "what_b", "born", "retired", "at", "piece", "walked", "seal",
)  # fmt: skip
LINE = "line"
"""Kind of the rows that hold a line as walked; all other kinds are joints."""

LONGEST_CELL = 30_000
"""Characters in a cell of statements: what opens CSV files often cuts off a little above (own rule)."""

_LETTERS = str.maketrans("0123456789abcdef", "abcdefghijklmnop")
_PUT_BACK = "put the file back from the newest folder under issued/, which holds a copy"
_UNIT = "\x1f"


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRow:
    """One row.

    Parameters
    ----------
    id : str
        Id of the joint, such as ``"B-201/J31"``; of a line its lasting key.
    kind : str
        What makes the joint, or ``"line"``.
    line : str
        Name of the line at the time.
    a, b : str
        Lasting keys of the two part-ports it ties; of a long line a says which of its rows this is.
    what_a, what_b : str
        The same in words.
    born : int
        Issue it was born with. [-]
    retired : int
        Issue it was retired with; 0 while it lives. [-]
    at : str
        Mouth of the socket along the pipe of its leg, in metres; empty if not measured yet.
    piece : str
        Start and end of the piece that enters, along the same pipe, in metres.
    walked : str
        Of a line: its statements, each with its lasting key and what it makes.
    """

    id: str
    kind: str
    line: str
    a: str = ""
    b: str = ""
    what_a: str = ""
    what_b: str = ""
    born: int
    retired: int = 0
    at: str = ""
    piece: str = ""
    walked: str = ""
    place: Place = field(default=Place(), compare=False, repr=False)

    def cells(self) -> tuple[str, ...]:
        """The cells of the row but for its seal."""
        return (
            self.id, self.kind, self.line, self.a, self.b, self.what_a, self.what_b, str(self.born),
            str(self.retired) if self.retired else "", self.at, self.piece, self.walked,
        )  # fmt: skip

    @property
    def prefix(self) -> str:
        """What stands before the number of a joint id."""
        return self.id.rpartition("/J")[0]

    @property
    def number(self) -> int:
        """The number of a joint id."""
        return int(self.id.rpartition("/J")[2])


@dataclass(frozen=True, slots=True)
class JointsFile:
    """joints.csv as it stands.

    Parameters
    ----------
    rows : tuple of JointRow
        In file order.
    seal : str
        Seal of the last row; empty if there is none.
    text : str
        The file; empty if there is none.
    """

    rows: tuple[JointRow, ...] = ()
    seal: str = ""
    text: str = ""

    @property
    def newest(self) -> dict[str, JointRow]:
        """The row that counts of each joint, retired ones too."""
        return {r.id: r for r in self.rows if r.kind != LINE}

    @property
    def joints(self) -> dict[str, JointRow]:
        """The row that counts of each living joint."""
        return {name: r for name, r in self.newest.items() if not r.retired}

    @property
    def lines(self) -> dict[str, JointRow]:
        """What counts of each living line, by its lasting key; a long one is put together again."""
        found: dict[str, JointRow] = {}
        for row in self.rows:
            if row.kind != LINE:
                continue
            goes_on = row.a and not row.a.startswith("1/")
            before = found[row.id].walked + "\n" if goes_on and row.id in found else ""
            found[row.id] = replace(row, a="", walked=before + row.walked)
        return {key: r for key, r in found.items() if not r.retired}

    @property
    def line_keys(self) -> frozenset[str]:
        """Every lasting key of a line ever given."""
        return frozenset(r.id for r in self.rows if r.kind == LINE)


def read_joints(text: str, file: str = FILE) -> JointsFile:
    """Read the text of a joints.csv.

    Parameters
    ----------
    text : str
        The file; empty if there is none.
    file : str
        Its name, for errors.

    Returns
    -------
    JointsFile

    Raises
    ------
    EntrySealed
        A row was changed, moved, put in or taken out by hand.
    BadInput
        It is no joints.csv.
    """
    if not text.strip():
        return JointsFile()
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    rows: list[JointRow] = []
    seal = ""
    heading: list[str] | None = None
    start = 1
    try:
        for cells in reader:
            here, start = start, reader.line_num + 1
            if heading is None:
                heading = cells
                if tuple(cells) != COLUMNS:
                    raise _no_joints_csv(cells, Place(file, here))
                continue
            if not cells:
                raise _tampered("an empty row", Place(file, here))
            if len(cells) != len(COLUMNS):
                raise _tampered(f"a row of {len(cells)} cells ({shorten(cells[0])})", Place(file, here))
            body = [c.replace("\r\n", "\n") for c in cells[:-1]]
            seal = next_seal(seal, body)
            if cells[-1] != seal:
                raise _tampered(f"the row of {shorten(cells[0]) or 'nothing'}", Place(file, here))
            rows.append(_row(body, Place(file, here)))
    except csv.Error as error:
        raise _tampered(f"a row that cannot be taken apart ({error})", Place(file, start)) from None
    return JointsFile(tuple(rows), seal, text)


def _no_joints_csv(cells: Sequence[str], place: Place) -> LineproofError:
    return BadInput(
        f"the heading is not that of a {FILE}: {shorten(', '.join(cells))!r}",
        allowed=", ".join(COLUMNS),
        next=_PUT_BACK,
        place=place,
    )


def _tampered(what: str, place: Place) -> LineproofError:
    return EntrySealed(
        f"{what} does not bear the seal of this file: it was changed, moved or put in, or a row before it was"
        " changed or taken out",
        allowed="rows as Lineproof appended them",
        next=_PUT_BACK,
        place=place,
    )


def line_rows(row: JointRow) -> tuple[JointRow, ...]:
    """A line as its rows: one, or several if its walk is longer than a cell may be.

    Parameters
    ----------
    row : JointRow
        Of kind ``"line"``.

    Returns
    -------
    tuple of JointRow
        In order; column a says which of how many.
    """
    parts: list[list[str]] = [[]]
    size = 0
    for statement in row.walked.split("\n"):
        if parts[-1] and size + len(statement) > LONGEST_CELL:
            parts.append([])
            size = 0
        parts[-1].append(statement)
        size += len(statement) + 1
    if len(parts) == 1:
        return (row,)
    return tuple(
        replace(row, a=f"{n}/{len(parts)}", walked="\n".join(part)) for n, part in enumerate(parts, 1)
    )


def _row(cells: Sequence[str], place: Place) -> JointRow:
    name, kind, line, a, b, what_a, what_b, born, retired, at, piece, walked = cells
    number = "0" if kind == LINE else name.rpartition("/J")[2]
    if not all(n.isascii() and n.isdigit() for n in (born, retired or "0", number)):
        raise _tampered(f"the row of {shorten(name)}", place)
    return JointRow(
        id=name, kind=kind, line=line, a=a, b=b, what_a=what_a, what_b=what_b, born=int(born),
        retired=int(retired or 0), at=at, piece=piece, walked=walked, place=place,
    )  # fmt: skip


def next_seal(before: str, cells: Iterable[str]) -> str:
    """The seal of a row: over its cells and the seal before it, in letters only.

    Letters only, because a program that opens CSV files may take a figure for a number or a date.

    Parameters
    ----------
    before : str
        Seal of the row above; empty for the first.
    cells : iterable of str
        The row without its seal.

    Returns
    -------
    str
        Sixteen letters.
    """
    said = _UNIT.join((before, *cells)).encode()
    return hashlib.sha256(said).hexdigest()[:16].translate(_LETTERS)


def appended(old: JointsFile, rows: Iterable[JointRow]) -> JointsFile:
    """The file with rows added at its end; what stands there is not touched.

    Parameters
    ----------
    old : JointsFile
        As it stands.
    rows : iterable of JointRow
        In the order they are added.

    Returns
    -------
    JointsFile
        Its text begins with the text of ``old``.

    Raises
    ------
    BadInput
        A joint would be born a second time, or a retired one would be used again.
    """
    new = tuple(rows)
    if not new:
        return old
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    if not old.text:
        writer.writerow(COLUMNS)
    living = old.newest
    seal = old.seal
    for row in new:
        if row.kind != LINE:
            before = living.get(row.id)
            if before is not None and (before.retired or before.born != row.born):
                raise BadInput(
                    f"the joint {row.id} was born with issue {before.born}"
                    + (f" and retired with issue {before.retired}" if before.retired else ""),
                    allowed="an id is used once and never again",
                    next="let Lineproof give the id",
                )
            living[row.id] = row
        cells = row.cells()
        seal = next_seal(seal, cells)
        writer.writerow((*cells, seal))
    gap = "" if not old.text or old.text.endswith("\n") else "\n"
    return JointsFile((*old.rows, *new), seal, old.text + gap + out.getvalue())
