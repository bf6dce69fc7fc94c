"""Values as JSON: SI numbers, sizes as text, dates as ISO; the shape is versioned in docs/schemas."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Set
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from functools import cache
from pathlib import PurePath
from typing import Any

import lineproof
from lineproof.book.sizes import Size
from lineproof.floor.errors import Place
from lineproof.floor.sources import Cell
from lineproof.floor.verdicts import Verdict

VERSION = 1
"""Version of the shapes; raised when a field changes meaning or goes away."""


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(f.name for f in fields(kind))


def plain(value: Any) -> Any:
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
    if value is None or (isinstance(value, (bool, int)) and not isinstance(value, Enum)):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Verdict):
        return value.word
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, str):
        return value
    if isinstance(value, Size):
        return value.text
    if isinstance(value, Cell):
        return _cell(value)
    if isinstance(value, Place):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {name: plain(getattr(value, name)) for name in _names(type(value)) if not name.startswith("_")}
    if isinstance(value, (datetime, date)):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {_key(k): plain(v) for k, v in value.items()}
    if isinstance(value, Set):
        return sorted(plain(v) for v in value)
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    if isinstance(value, PurePath):
        return str(value)
    raise TypeError(f"{type(value).__name__} has no JSON form")


def _key(key: object) -> str:
    if isinstance(key, Size):
        return key.text
    if isinstance(key, Enum):
        return str(key.value)
    return str(key)


def _cell(cell: Cell) -> dict[str, object]:
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
    """What every JSON answer begins with: its kind, the version of its shape, ours.

    Parameters
    ----------
    kind : str
        Such as ``"pack"``; its schema is ``docs/schemas/<kind>.json``.
    body : mapping

    Returns
    -------
    dict
    """
    return {"kind": kind, "version": VERSION, "lineproof": lineproof.__version__, **plain(body)}


def dumps(kind: str, body: Mapping[str, object]) -> str:
    """The answer as JSON text, the same bytes for the same values."""
    return json.dumps(envelope(kind, body), ensure_ascii=False, indent=1)
