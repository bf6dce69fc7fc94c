"""Values as JSON: SI numbers, sizes as text, dates as ISO; the shape is versioned in docs/schemas."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Set
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from pathlib import PurePath
from typing import Any

import lineproof
from lineproof.book.sizes import Size
from lineproof.floor.errors import Place
from lineproof.floor.sources import Cell
from lineproof.floor.verdicts import Verdict

VERSION = 1
"""Version of the shapes; raised when a field changes meaning or goes away."""


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
        if is_dataclass(kind):
            return self._record(tuple(f.name for f in fields(kind) if not f.name.startswith("_")))
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


def _as_it_is(value: Any) -> Any:
    return value


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _key(key: object) -> str:
    if isinstance(key, Size):
        return key.text
    if isinstance(key, Enum):
        return str(key.value)
    return str(key)


def _full(cell: Cell) -> dict[str, object]:
    return {
        "table": cell.table,
        "row": cell.row,
        "column": cell.column,
        "value": cell.value,
        "standing": cell.standing.value,
        "confirmed": cell.confirmed,
        "row_hash": cell.row_hash,
        "source": str(cell.source),
        "read_in": cell.source.read_in,
    }


def envelope(kind: str, body: Mapping[str, object]) -> dict[str, object]:
    """What every JSON answer begins with: its kind, the version of its shape, ours; and its cells.

    Parameters
    ----------
    kind : str
        Such as ``"pack"``; its schema is ``docs/schemas/<kind>.json``.
    body : mapping

    Returns
    -------
    dict
        With ``cells``: every table cell that the body names by its key, in full.
    """
    plain = Plain()
    written = {name: plain.of(value) for name, value in body.items()}
    cells = {key: _full(plain.cells[key]) for key in sorted(plain.cells)}
    return {"kind": kind, "version": VERSION, "lineproof": lineproof.__version__, **written, "cells": cells}


def dumps(kind: str, body: Mapping[str, object]) -> str:
    """The answer as JSON text, the same bytes for the same values."""
    return json.dumps(envelope(kind, body), ensure_ascii=False, indent=1)
