"""A walk as a CSV with the same words in columns, for people who rather fill a sheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence

from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.floor.units import Shown
from lineproof.job.statements import Remark, Walk
from lineproof.job.walk_cells import COLUMNS, FORMS, YES, How, Span, cells_of, text_of
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_read import LONGEST_GIVEN, MOST_LINES, Reader, hidden_mark
from lineproof.job.walk_words import fit, nearest
from lineproof.job.walk_write import numbers_for

HEADER = ("word", *COLUMNS, "comment")
_SAYS_YES = frozenset({"yes", "y", "x", "true", "1"})
_SAYS_NO = frozenset({"", "no", "n", "false", "0"})
_POINT = ("east", "north", "up")


class _SheetReader(Reader):
    """A reader whose errors name row and column of the sheet."""

    def __init__(self, file: str, header: Sequence[str]) -> None:
        super().__init__(file, every=False)
        self.header = header
        self.spans: Sequence[Span] = ()

    def refuse(self, error: LineproofError, line: int, column: int = 0) -> None:
        """Turn the place in the statement's text into a column of the sheet."""
        position = max((column or error.place.column) - 1, 0)
        name = "word"
        for span in self.spans:
            if span.begin <= position:
                name = span.column
        raise _cell_error(error, self.file, line, name, self.header)


def _cell_error(
    error: LineproofError, file: str, row: int, column: str, header: Sequence[str]
) -> LineproofError:
    place = Place(file, row, header.index(column) + 1 if column in header else 1)
    given = f'row {row}, column "{column}": {fit(error.given, LONGEST_GIVEN)}'
    return type(error)(given, allowed=error.allowed, by=error.by, next=error.next, place=place)


def read_walk_csv(text: str, file: str) -> Walk:
    """Read a walk from a CSV.

    Parameters
    ----------
    text : str
        The file: a header with columns of ``HEADER`` in any order, then one statement a row. Cells stand
        apart by comma, semicolon or tab, as the header shows. Flags say ``yes``.
    file : str
        Its name, for the errors.

    Returns
    -------
    Walk
        The same statements as the walk in words gives.

    Raises
    ------
    LineproofError
        At the first fault, with row and column name.
    """
    rows = _rows(text, file)
    first = next(rows, None)
    if first is None:
        raise BadInput(
            "the file is empty", allowed="a header with word, name, size and so on",
            next="begin with the header", place=Place(file, 1, 1),
        )  # fmt: skip
    header = _header(first[1], file)
    reader = _SheetReader(file, header)
    for number, cells in rows:
        _take(reader, number, header, cells)
    reader.spans = ()
    return reader.finish()


def _rows(text: str, file: str) -> Iterator[tuple[int, list[str]]]:
    text = text.removeprefix("\ufeff")
    head = text.partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    number = 1
    try:
        for count, cells in enumerate(
            csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
        ):
            if count > MOST_LINES:
                raise BadInput(
                    f"the file has more than {MOST_LINES:,} rows",
                    next="split it",
                    place=Place(file, count, 1),
                )
            yield count + 1, cells
            number = count + 2
    except csv.Error as fault:
        raise BadInput(
            f"row {number} cannot be read as cells ({fault})",
            allowed='cells with commas or quotes in double quotes, inch marks doubled: "6\'-6"""',
            next="save the sheet as CSV again",
            place=Place(file, number, 1),
        ) from None


def _header(cells: Sequence[str], file: str) -> list[str]:
    header = [cell.strip().lower() for cell in cells]
    for index, name in enumerate(header):
        place = Place(file, 1, index + 1)
        if (wrong := hidden_mark(name)) is not None:
            wrong.place = place
            raise wrong
        if name and name not in HEADER:
            near = nearest(fit(name), HEADER)
            raise BadInput(
                f'row 1: there is no column "{fit(name)}"' + (f" (did you mean {near}?)" if near else ""),
                allowed=", ".join(HEADER), next="rename it or take it out", place=place,
            )  # fmt: skip
        if name and name in header[:index]:
            raise BadInput(f'row 1: the column "{name}" stands twice', next="take one out", place=place)
    if "word" not in header:
        raise BadInput(
            'row 1: the column "word" is missing', allowed=", ".join(HEADER),
            next='add the column "word" with line, starts at, go and so on', place=Place(file, 1, 1),
        )  # fmt: skip
    return header


def _take(reader: _SheetReader, number: int, header: Sequence[str], row: Sequence[str]) -> None:
    def refuse(column: str, given: str, allowed: str = "", next: str = "") -> LineproofError:
        return _cell_error(BadInput(given, allowed=allowed, next=next), reader.file, number, column, header)

    for index, cell in enumerate(row):
        wrong = hidden_mark(cell)
        name = header[index] if index < len(header) and header[index] else f"number {index + 1}"
        if wrong is not None:
            raise _cell_error(wrong, reader.file, number, name, header)
        if cell.strip() and not (index < len(header) and header[index]):
            raise refuse(name, "the cell has no column above it", next="name the column or empty the cell")
    cells = {name: cell for name, cell in zip(header, row, strict=False) if name}
    note = cells.pop("comment", "").rstrip(" \t")
    word = " ".join(cells.pop("word", "").lower().split())
    filled = {name: cell for name, cell in cells.items() if cell.strip()}
    if not word:
        if filled:
            column = next(iter(filled))
            raise refuse(column, "the row has cells but no word", next='say in column "word" what it is')
        reader.remark(number, 1, note)
        return
    if word not in FORMS:
        near = nearest(fit(word), FORMS)
        given = f'"{fit(word)}" is no statement' + (f" (did you mean {near}?)" if near else "")
        raise refuse("word", given, ", ".join(FORMS), "write one of these")
    ready = _ready(word, filled, refuse)
    body, reader.spans = text_of(word, ready)
    wrong = hidden_mark(body)
    if wrong is not None:
        raise _cell_error(wrong, reader.file, number, "word", header)
    reader.take(body, 1, number, note)


def _ready(word: str, filled: Mapping[str, str], refuse: Callable[..., LineproofError]) -> dict[str, str]:
    """Return the cells as the text of the statement wants them."""
    parts = {part.column: part for part in FORMS[word]}
    ready: dict[str, str] = {}
    for column, cell in filled.items():
        part = parts.get(column)
        if part is None:
            taken = ", ".join(parts) or "none"
            raise refuse(
                column, f'"{word}" has no use for this cell', f"the columns {taken}", "empty the cell"
            )
        if part.how is How.FLAG:
            said = cell.strip().lower()
            if said in _SAYS_YES or said == part.word:
                ready[column] = YES
            elif said not in _SAYS_NO:
                raise refuse(column, f'"{fit(said)}" is neither yes nor no', "yes, or empty", "write yes")
        else:
            names = part.how in (How.NAME, How.TEXT, How.END_NAME)
            ready[column] = cell if names else cell.strip()
    if "east" in parts:
        missing = [c for c in _POINT if c not in ready]
        if missing and len(missing) < 3:
            raise refuse(missing[0], "the point is not whole", "east, north and up, or none", "fill the cell")
    return ready


def write_walk_csv(walk: Walk, *, shown: Shown | None = None) -> str:
    """Write a walk as a CSV with the columns of ``HEADER``.

    Parameters
    ----------
    walk : Walk
        The statements.
    shown : Shown, optional
        As for ``print_walk``.

    Returns
    -------
    str
        The text; :func:`read_walk_csv` reads the same statements from it.

    Raises
    ------
    BadInput
        If a name or comment holds a break or an unseen mark.
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, HEADER, restval="", lineterminator="\n")
    writer.writeheader()
    numbers = Numbers(metric=shown is not None and shown.length == "mm")
    for row, statement in enumerate(walk.statements, start=2):
        numbers = numbers_for(statement, numbers, shown)
        cells = {"comment": statement.comment}
        if not isinstance(statement, Remark):
            word, filled = cells_of(statement, numbers)
            cells |= {"word": word, **filled}
        for column, cell in cells.items():
            wrong = hidden_mark(cell)
            if wrong is not None:
                raise _cell_error(wrong, walk.file, row, column, HEADER)
        writer.writerow(cells)
    return out.getvalue()
