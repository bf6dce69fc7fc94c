"""Values as JSON: SI numbers, sizes as text, dates as ISO; the shape is versioned in docs/schemas."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from enum import Enum
from pathlib import PurePath
from typing import Any

import lineproof
from lineproof.book.sizes import Size
from lineproof.floor.errors import Place
from lineproof.floor.sources import Cell, Standing
from lineproof.floor.verdicts import Verdict

VERSION = 1
"""Version of the shapes; raised when a field changes meaning or goes away (docs/schemas/README.md)."""


@dataclass(frozen=True, slots=True)
class CellShape:
    """A value read from a table, with where it was read.

    Parameters
    ----------
    table : str
        Folder name of the table.
    row, column : str
        Key of the row; name of the column, with its unit.
    value : float, str or None
        As printed, in the unit of the column's name.
    standing : Standing
        How it came to us.
    confirmed : bool
        False where it rests on memory and nobody confirmed it.
    row_hash : str
        What a confirmation is keyed by.
    source : str
        The document.
    read_in : str
        The copy, reprint or library that was on the desk.
    """

    table: str
    row: str
    column: str
    value: float | str | None
    standing: Standing
    confirmed: bool
    row_hash: str
    source: str
    read_in: str


class Plain:
    """Turns values into what JSON can hold; table cells are written once and referred to by their key."""

    def __init__(self) -> None:
        self.cells: dict[str, Cell] = {}
        self._writers: dict[type, Callable[[Any], Any]] = {}
        self._shared: dict[int, tuple[Any, Any]] = {}

    def of(self, value: Any) -> Any:
        """Any of our values as lists, dicts, strings and numbers.

        Parameters
        ----------
        value : object
            A dataclass, enum, size, date, mapping, sequence, number or string.

        Returns
        -------
        object
            What JSON can hold; a number that is not finite becomes null.
        """
        kind = type(value)
        writer = self._writers.get(kind)
        if writer is None:
            writer = self._writers[kind] = self._writer(kind)
        return writer(value)

    def _writer(self, kind: type) -> Callable[[Any], Any]:
        if kind in (type(None), bool, int, str):
            return _as_it_is
        if kind is float:
            return _finite
        if issubclass(kind, Verdict):
            return lambda v: v.word
        if issubclass(kind, Enum):
            return lambda v: v.value
        if kind is Size:
            return lambda v: v.text
        if kind is Cell:
            return self._cell
        if kind is Place or issubclass(kind, PurePath):
            return str
        if names := names_of(kind):
            return self._record(names)
        if issubclass(kind, date):
            return lambda v: v.isoformat()
        if issubclass(kind, Mapping):
            return lambda v: {_key(k): self.of(x) for k, x in v.items()}
        if issubclass(kind, Set):
            return lambda v: sorted(self.of(x) for x in v)
        if issubclass(kind, (list, tuple)):
            return lambda v: [self.of(x) for x in v]
        raise TypeError(f"{kind.__name__} has no JSON form")

    def _record(self, names: tuple[str, ...]) -> Callable[[Any], Any]:
        of, shared = self.of, self._shared

        def write(value: Any) -> Any:
            # alike joints share their needs; the value is kept beside its form, so that its id stays its own
            known = shared.get(id(value))
            if known is None:
                known = shared[id(value)] = (value, {n: of(getattr(value, n)) for n in names})
            return known[1]

        return write

    def _cell(self, cell: Cell) -> str:
        key = "/".join(cell.key)
        self.cells[key] = cell
        return key


def names_of(kind: type) -> tuple[str, ...]:
    """Fields of a dataclass or a named tuple that are written, in order; none for any other type."""
    names = [f.name for f in fields(kind)] if is_dataclass(kind) else getattr(kind, "_fields", ())
    return tuple(n for n in names if not n.startswith("_"))


def _as_it_is(value: Any) -> Any:
    return value


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _key(key: object) -> str:
    if isinstance(key, Verdict):
        return key.word
    if isinstance(key, Size):
        return key.text
    if isinstance(key, Enum):
        return str(key.value)
    return str(key)


def _shape(cell: Cell) -> CellShape:
    source = cell.source
    return CellShape(
        table=cell.table,
        row=cell.row,
        column=cell.column,
        value=cell.value,
        standing=cell.standing,
        confirmed=cell.confirmed,
        row_hash=cell.row_hash,
        source=str(source),
        read_in=source.read_in,
    )


def envelope(kind: str, body: object) -> dict[str, object]:
    """What every JSON answer begins with: its kind, the version of its shape, ours; and its cells.

    Parameters
    ----------
    kind : str
        Such as ``"pack"``; its schema is ``docs/schemas/<kind>.json``.
    body : dataclass
        The answer; see ``answers_job`` and ``answer_pack``.

    Returns
    -------
    dict
        With ``cells``: every table cell that the body names by its key, in full.
    """
    plain = Plain()
    written = plain.of(body)
    cells = {key: plain.of(_shape(plain.cells[key])) for key in sorted(plain.cells)}
    return {"kind": kind, "version": VERSION, "lineproof": lineproof.__version__, **written, "cells": cells}


def dumps(kind: str, body: object, *, compact: bool = False) -> str:
    """The answer as JSON text, the same bytes for the same values.

    Parameters
    ----------
    kind : str
    body : dataclass
    compact : bool
        Without line breaks and blanks.

    Returns
    -------
    str
    """
    layout: dict[str, Any] = {"separators": (",", ":")} if compact else {"indent": 1}
    return json.dumps(envelope(kind, body), ensure_ascii=False, allow_nan=False, **layout)
