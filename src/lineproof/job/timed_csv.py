"""A CSV of values against time, each column headed with its unit: a logger's file, weather.csv."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from math import isfinite

from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.floor.units import parse
from lineproof.job.files import is_remark
from lineproof.job.taped import YEARS
from lineproof.job.toml_words import shorten

TIME = "time"
_HOW_TIME = (
    "2026-11-22T09:40-07:00, or without an offset in a column headed `time UTC` or `time site` (the site's "
    "own zone)"
)
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What may stand in such a file.

    Parameters
    ----------
    numbers : mapping
        Column to the quantity of its numbers, a key of the unit table.
    limits : mapping
        Column to its least and most in SI; a value outside is a slip or a broken sensor. [SI]
    words : mapping
        Column to the words its cells may hold.
    must : sequence of str
        Columns that may not be missing, besides the time; their cells may not be empty.
    others : bool
        Columns that are not known are left alone; otherwise they are refused.
    """

    numbers: Mapping[str, str]
    limits: Mapping[str, tuple[float, float]]
    words: Mapping[str, Sequence[str]]
    must: Sequence[str]
    others: bool = False


@dataclass(frozen=True, slots=True)
class TimedRow:
    """One row.

    Parameters
    ----------
    at : datetime
        UTC.
    numbers : mapping
        Column to its number, where the cell is not empty. [SI]
    words : mapping
        Column to its word.
    place : Place
    """

    at: datetime
    numbers: Mapping[str, float]
    words: Mapping[str, str]
    place: Place


def read_timed(text: str, file: str, columns: Columns, zone: tzinfo) -> tuple[TimedRow, ...]:
    """The rows of such a file.

    Parameters
    ----------
    text : str
        With a heading row; empty rows and remarks are left out.
    file : str
        Its name, for errors.
    columns : Columns
    zone : tzinfo
        The site's, for times that are said to be of the site.

    Returns
    -------
    tuple of TimedRow
        In the order of the file, none earlier than the row before.

    Raises
    ------
    BadInput
        With file and line: the first row that cannot be read. Nothing of such a file counts.
    """
    rows: list[TimedRow] = []
    heading: _Heading | None = None
    for cells, place in _cells(text, file):
        if heading is None:
            heading = _heading(cells, place, columns, zone)
            continue
        row = heading.row(cells, place)
        if rows and row.at < rows[-1].at:
            raise BadInput(
                f"the time {cells[heading.time]} is earlier than that of the row before",
                allowed="rows in order of time",
                next="look whether its clock was set back, and write the file as two where it was",
                place=place,
            )
        rows.append(row)
    if heading is None or not rows:
        raise BadInput(
            "the file holds no row",
            allowed="a heading and at least one row",
            next="look whether the right file was put here",
            place=Place(file, 1),
        )
    return tuple(rows)


def _cells(text: str, file: str) -> Iterator[tuple[list[str], Place]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    line = 1
    try:
        for cells in reader:
            place, line = Place(file, line), reader.line_num + 1
            cells = [cell.strip() for cell in cells]
            if any(cells) and not is_remark(cells):
                yield cells, place
    except csv.Error as error:
        raise BadInput(
            f"the row cannot be taken apart: {shorten(str(error))}",
            allowed="cells parted by commas, a cell with a comma in quotes",
            next="close the quotes in this row",
            place=Place(file, line),
        ) from None


@dataclass(frozen=True, slots=True)
class _Number:
    """A column of numbers: SI value = zero + number * unit."""

    name: str
    unit: str
    zero: float
    one: float
    low: float
    high: float
    must: bool

    def read(self, cell: str) -> float | None:
        """One cell; an empty one is nothing, where it may be."""
        if not cell and not self.must:
            return None
        value = self.zero + float(cell) * self.one if _NUMBER.fullmatch(cell) else float("nan")
        if not isfinite(value):
            raise BadInput(
                f"{self.name} is {shorten(cell)!r}" if cell else f"{self.name} is empty",
                allowed=f"a plain number in {self.unit}, with a point for decimals",
                next="put it right or take the row out; a hole is named, a guess is not",
            )
        if not self.low <= value <= self.high:
            low, high = ((side - self.zero) / self.one for side in (self.low, self.high))
            raise BadInput(
                f"{self.name} is {shorten(cell)} {self.unit}",
                allowed=f"{low:.6g} to {high:.6g} {self.unit}",
                next="look whether its sensor or cable failed, and take the row out",
            )
        return value


@dataclass(frozen=True, slots=True)
class _Heading:
    """Where the columns stand."""

    file: str
    width: int
    time: int
    zone: tzinfo | None
    numbers: tuple[tuple[int, _Number], ...]
    words: tuple[tuple[int, str, tuple[str, ...]], ...]

    def row(self, cells: list[str], place: Place) -> TimedRow:
        """One row read."""
        if any(cells[self.width :]):
            raise BadInput(
                f"the row has {len(cells)} cells for {self.width} columns",
                allowed="one cell a column",
                next="look for a comma too many; decimals are written with a point",
                place=place,
            )
        cells += [""] * (self.width - len(cells))
        try:
            at = _moment(cells[self.time], self.zone)
            read = ((column.name, column.read(cells[i])) for i, column in self.numbers)
            numbers = {name: value for name, value in read if value is not None}
            words = {name: _word(name, cells[i], allowed) for i, name, allowed in self.words}
        except BadInput as error:
            raise error.at(file=place.file, line=place.line) from None
        return TimedRow(at, numbers, words, place)


def _word(name: str, cell: str, allowed: tuple[str, ...]) -> str:
    word = cell.lower()
    if word not in allowed:
        raise BadInput(
            f"{name} is {shorten(cell)!r}" if cell else f"{name} is empty",
            allowed=", ".join(allowed),
            next="use one of these",
        )
    return word


def _moment(cell: str, zone: tzinfo | None) -> datetime:
    """An instant; without an offset only where the heading says whose time it is."""
    try:
        if len(cell) < len("2026-11-22T09:40"):
            raise ValueError(cell)
        when = datetime.fromisoformat(cell)
        if not YEARS[0] < when.year < YEARS[1]:
            raise ValueError(cell)
    except ValueError:
        raise BadInput(
            f"{shorten(cell)!r} is not a moment", allowed=f"day and time such as {_HOW_TIME}",
            next="write it like that",
        ) from None  # fmt: skip
    if when.tzinfo is not None:
        return when.astimezone(UTC)
    if zone is None:
        raise BadInput(
            f"the time {shorten(cell)} has no offset, so nobody knows which hour it is", allowed=_HOW_TIME,
            next="add the offset, or say in the heading whose time it is",
        )  # fmt: skip
    first, second = when.replace(tzinfo=zone, fold=0), when.replace(tzinfo=zone, fold=1)
    if first.utcoffset() != second.utcoffset():
        twice = (first.utcoffset() or timedelta()) > (second.utcoffset() or timedelta())
        raise BadInput(
            f"{shorten(cell)} {'comes twice' if twice else 'is left out'}, as the clocks change on that day",
            allowed="times with their offset, or UTC, around a change of the clocks",
            next="have the file written in UTC",
        )
    return first.astimezone(UTC)


def _heading(cells: list[str], place: Place, columns: Columns, zone: tzinfo) -> _Heading:
    while cells and not cells[-1]:
        cells.pop()
    time: list[tuple[int, tzinfo | None]] = []
    numbers: dict[str, tuple[int, _Number]] = {}
    words: dict[str, tuple[int, str, tuple[str, ...]]] = {}
    known = sorted((TIME, *columns.numbers, *columns.words), key=len, reverse=True)
    for i, cell in enumerate(cells):
        name, unit = _parted(cell, known)
        if name in numbers or name in words or (name == TIME and time):
            raise BadInput(
                f"the column {name} stands twice", allowed="each once",
                next="take one out, so that it is plain which one counts", place=place,
            )  # fmt: skip
        if name == TIME:
            time.append((i, _whose(unit, zone, place)))
        elif name in columns.numbers:
            numbers[name] = i, _number(name, unit, columns, place)
        elif name in columns.words and not unit:
            words[name] = i, name, tuple(columns.words[name])
        elif not columns.others:
            raise BadInput(
                f"there is no column {shorten(cell)!r}", allowed=", ".join(reversed(known)),
                next="use one of these", place=place,
            )  # fmt: skip
    lacks = [n for n in (TIME, *columns.must) if n not in (*numbers, *words, *((TIME,) if time else ()))]
    if lacks:
        raise BadInput(
            f"the column {lacks[0]} is missing",
            allowed=f"a heading row with {', '.join((TIME, *columns.must))}, each number with its unit such "
            "as `temperature C`",
            next="add it to the heading, or say there what the column holds",
            place=place,
        )
    at, own = time[0]
    return _Heading(place.file, len(cells), at, own, tuple(numbers.values()), tuple(words.values()))


def _parted(cell: str, known: Sequence[str]) -> tuple[str, str]:
    """A heading as name and unit: ``Air temperature [F]`` is ``air temperature`` and ``F``."""
    text = re.sub(r"[\s_]+", " ", cell).strip()
    for name in known:
        if text.lower() == name or re.match(rf"{name}[ (\[,]", text.lower()):
            return name, text[len(name) :].strip(" ,()[]")
    return text.lower(), ""


def _whose(said: str, zone: tzinfo, place: Place) -> tzinfo | None:
    if not said:
        return None
    if said.lower() in ("utc", "z"):
        return UTC
    if said.lower() in ("site", "local", "site time", "local time"):
        return zone
    raise BadInput(
        f"the heading of the time says {shorten(said)!r}", allowed="time, time UTC or time site",
        next="use one of these", place=place,
    )  # fmt: skip


def _number(name: str, unit: str, columns: Columns, place: Place) -> _Number:
    quantity = columns.numbers[name]
    try:
        if not unit:
            like = f"head it with one, such as {_LIKE[quantity]}"
            raise BadInput(f"the column {name} has no unit", next=like)
        zero, hundred = parse(f"0 {unit}", quantity), parse(f"100 {unit}", quantity)
    except LineproofError as error:
        raise BadInput(
            f"{name}: {error.given.removeprefix(f'0 {unit}: ')}",
            allowed=error.allowed or f"such as {_LIKE[quantity]}",
            next=error.next,
            place=place,
        ) from None
    low, high = columns.limits[name]
    return _Number(name, unit, zero, (hundred - zero) / 100.0, low, high, name in columns.must)


_LIKE = {"temperature": "C or F", "fraction": "%", "wind": "m/s or mph", "length": "mm or in"}
