"""Reading the files of a job folder: whole, as text, or one sentence that says why not."""

from __future__ import annotations

import csv
import hashlib
import io
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from lineproof.floor.errors import BadInput, Place
from lineproof.job.toml_words import refuse_word, shorten
from lineproof.job.write import why

LARGEST = 32 * 1024 * 1024
"""A file of a job is text that people type; one larger than this is something else. [bytes]"""


@dataclass(slots=True)
class Folder:
    """A job folder while it is read; notes the hash of every file it hands out.

    Parameters
    ----------
    root : Path
        The folder.
    """

    root: Path
    _read: dict[str, str] = field(default_factory=dict)

    @property
    def inputs(self) -> tuple[tuple[str, str], ...]:
        """Relative path and SHA-256 of every file read, in order of path."""
        return tuple(sorted(self._read.items()))

    def text(self, name: str, *, needed: bool = False, next: str = "") -> str | None:
        """The text of a file.

        Parameters
        ----------
        name : str
            Path inside the folder, with ``/``.
        needed : bool
            Whether its absence is an error.
        next : str
            What to do when it is missing.

        Returns
        -------
        str or None
            None if it is not there and not needed.

        Raises
        ------
        BadInput
            It is missing, not a plain file, not readable, too large or not UTF-8.
        """
        content = read_bytes(self.root / name, name, needed=needed, next=next)
        if content is None:
            return None
        self._read[name] = hashlib.sha256(content).hexdigest()
        return as_text(content, name)

    def names(self, under: str, endings: Sequence[str]) -> list[str]:
        """Files in a folder below, by their endings, in sorted order; hidden ones are left out."""
        place = self.root / under
        try:
            if not place.exists() and not place.is_symlink():
                return []
            found = sorted(
                p.name for p in place.iterdir() if p.suffix.lower() in endings and p.name[0] != "."
            )
        except (OSError, RuntimeError) as error:
            raise BadInput(
                f"the folder cannot be read: {why(error)}", allowed="a folder", place=Place(under)
            ) from error
        return [f"{under}/{name}" for name in found]


def read_bytes(path: Path, name: str, *, needed: bool = True, next: str = "") -> bytes | None:
    """The bytes of a plain file, None if it is missing and not needed.

    Parameters
    ----------
    path : Path
        The file.
    name : str
        How errors call it.
    needed : bool
        Whether its absence is an error.
    next : str
        What to do when it is missing.

    Returns
    -------
    bytes or None
        All of it.

    Raises
    ------
    BadInput
        With the reason.
    """
    place = Place(name)
    try:
        if not path.is_symlink() and not path.exists():
            if not needed:
                return None
            raise BadInput("the file is not there", next=next or "write it", place=place)
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            what = "a folder" if stat.S_ISDIR(status.st_mode) else "not a plain file"
            raise BadInput(f"this is {what}", allowed="a text file", next="move it away", place=place)
        if status.st_size > LARGEST:
            raise BadInput(
                f"the file holds {status.st_size // 1024**2} MiB",
                allowed=f"up to {LARGEST // 1024**2} MiB of text",
                next="look whether the right file was put here",
                place=place,
            )
        return path.read_bytes()
    except (OSError, RuntimeError, ValueError) as error:
        raise BadInput(
            f"the file cannot be read: {why(error)}",
            allowed="a text file you may read",
            next="look at the file's owner and permissions",
            place=place,
        ) from error


def as_text(content: bytes, name: str) -> str:
    """Text of bytes in UTF-8; a byte order mark at the start is dropped.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        How errors call it.

    Returns
    -------
    str
        The text with its line ends as they are.

    Raises
    ------
    BadInput
        With the line and column of the first byte that is not UTF-8, or of a null byte.
    """
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - (content.rfind(b"\n", 0, error.start) + 1) + 1
        raise BadInput(
            f"the byte {content[error.start]:#04x} is not UTF-8",
            allowed="text saved as UTF-8",
            next="save the file again, with the encoding set to UTF-8",
            place=Place(name, line, column),
        ) from None
    if "\0" in text:
        at = text.index("\0")
        raise BadInput(
            "the file holds a null byte, so it is no text",
            allowed="text saved as UTF-8",
            next="look whether the right file was put here",
            place=Place(name, text.count("\n", 0, at) + 1),
        )
    return text.removeprefix("\ufeff")


def read_table(text: str, file: str, columns: Sequence[str], *, must: Sequence[str]) -> Iterator[Row]:
    """The rows of a CSV with a heading row, each with its line.

    Parameters
    ----------
    text : str
        The file.
    file : str
        Its name, for errors.
    columns : sequence of str
        The columns that may stand in it, in any order.
    must : sequence of str
        Those that may not be missing.

    Yields
    ------
    Row
        Empty rows are left out, and remarks: rows that begin with ``#`` and a blank.

    Raises
    ------
    BadInput
        A column that is not known, twice or missing; a row that is too long; quotes that do not close.
    """
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    heading: list[str] | None = None
    start = 1
    try:
        for cells in reader:
            line, start = start, reader.line_num + 1
            cells = [cell.strip() for cell in cells]
            if not any(cells) or is_remark(cells):
                continue
            if heading is None:
                heading = _heading(cells, Place(file, line), columns, must)
                continue
            if any(cells[len(heading) :]):
                raise BadInput(
                    f"the row has {len(cells)} cells for {len(heading)} columns",
                    allowed="one cell a column; a cell with a comma stands in quotes",
                    next="look for a comma too many",
                    place=Place(file, line),
                )
            yield Row(dict(zip(heading, cells, strict=False)), Place(file, line))
    except csv.Error as error:
        raise BadInput(
            f"the row cannot be taken apart: {shorten(str(error))}",
            allowed='cells with a comma or an inch mark in quotes, the mark doubled: "6 1/2""" ',
            next="close the quotes in this row",
            place=Place(file, start),
        ) from None


def is_remark(cells: Sequence[str]) -> bool:
    """Whether a row is a remark: it begins with ``#`` and a blank (a tag such as ``#12`` is none)."""
    return cells[0] == "#" or cells[0].startswith("# ")


def _heading(cells: list[str], place: Place, columns: Sequence[str], must: Sequence[str]) -> list[str]:
    names = [cell.lower().replace(" ", "_") for cell in cells]
    while names and not names[-1]:
        names.pop()
    for name in names:
        if name not in columns:
            raise refuse_word("there is no column", name, columns).at(file=place.file, line=place.line)
        if names.count(name) > 1:
            raise BadInput(f"the column {name} stands twice", allowed="each once", place=place)
    for name in must:
        if name not in names:
            raise BadInput(
                f"the column {name} is missing", allowed=", ".join(columns), next="add it", place=place
            )
    return names


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a CSV: its cells by column, and where it stands."""

    cells: dict[str, str]
    place: Place

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")

    def refuse(self, column: str, given: str, *, allowed: str = "", next: str = "") -> BadInput:
        """An error of one cell, with file, row and column name."""
        return BadInput(f"column {column}: {given}", allowed=allowed, next=next, place=self.place)
