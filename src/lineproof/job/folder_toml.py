"""Reading job.toml: from text to ``Settings``, or one sentence with file and line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from types import UnionType
from typing import TYPE_CHECKING, Any, cast, get_args, get_type_hints

from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.settings import Settings
from lineproof.job.settings_check import faults
from lineproof.job.toml_places import Path, place_all
from lineproof.job.toml_words import nearest, shorten

if TYPE_CHECKING:
    from pydantic import TypeAdapter

_WHERE = re.compile(r"\s*\((?:at line (\d+), column (\d+)|at end of document)\)\s*$")


def read_settings(text: str, file: str = "job.toml") -> Settings:
    """Read the text of a job.toml.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Its name, for errors.

    Returns
    -------
    Settings
        SI values; every reference between tables has been followed.

    Raises
    ------
    BadInput
        With file and line: the syntax is broken, a key is not known, a value is not what it should be, or a
        name is used that nothing carries.
    """
    table = _toml(text, file)
    settings = _settings(table, text, file)
    wrong = list(faults(settings))
    if wrong:
        raise _first(wrong, text, file)
    return settings


def _toml(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        told = str(error)
        hit = _WHERE.search(told)
        line, column = text.count("\n") + 1, 0
        if hit and hit.group(1):
            line, column = int(hit.group(1)), int(hit.group(2))
        if hit:
            told = told[: hit.start()]
        raise BadInput(
            f"the file is not TOML here: {shorten(told, 100)}",
            allowed='key = "value", [table] or [[list of tables]]',
            next="look at this line and the one above for a missing quote, bracket or =",
        ).at(file=file, line=line, column=column) from None
    except (ValueError, RecursionError):
        # A number of thousands of digits, or brackets nested past any use.
        raise BadInput(
            "the file holds a number or a nesting that is far too long",
            allowed="plain tables and short values",
            next="take out what was pasted by mistake",
        ).at(file=file) from None


@cache
def _reader() -> TypeAdapter[Settings]:
    from pydantic import TypeAdapter

    return TypeAdapter(Settings)


def _settings(table: Mapping[str, Any], text: str, file: str) -> Settings:
    from pydantic import ValidationError

    try:
        return _reader().validate_python(table)
    except ValidationError as error:
        wrong = [_fault(e) for e in error.errors(include_url=False)]
    # A key that is not known comes before one that is missing: it is often the same key, misspelt.
    missing = [w for w in wrong if w[1].given.endswith("is missing")]
    raise _first([w for w in wrong if w not in missing] or missing, text, file)


def _first(wrong: list[tuple[Path, LineproofError]], text: str, file: str) -> LineproofError:
    """The error that stands first in the file, with its place filled in."""
    spots = place_all(text, [path for path, _ in wrong])
    spot, error = min(zip(spots, (e for _, e in wrong), strict=True), key=lambda both: both[0])
    return error.at(file=file, line=spot[0], column=spot[1])


def _said(path: Path) -> str:
    """A path as the reader of the file would say it: ``cards, entry 2, rows, entry 5, time``."""
    return ", ".join(f"entry {p + 1}" if isinstance(p, int) else p for p in path) or "job.toml"


def _fault(e: Mapping[str, Any]) -> tuple[Path, LineproofError]:
    path = cast(Path, tuple(e["loc"]))
    kind, raw = e["type"], e.get("input")
    key = path[-1] if path else ""
    if kind == "lineproof":
        error = cast(LineproofError, e["ctx"]["error"])
        told = type(error)(
            f"{_said(path)}: {error.given}", allowed=error.allowed, by=error.by, next=error.next
        )
        return path, told
    if kind == "missing":
        allowed, next_step = _how_to_write(path)
        return path, BadInput(f"{_said(path)} is missing", allowed=allowed, next=next_step)
    if kind in ("unexpected_keyword_argument", "invalid_key"):
        known = [f.name for f in fields(_class_at(path[:-1]))]
        near = nearest(str(key), known)
        return path, BadInput(
            f"{_said(path[:-1])} has no {shorten(str(key))!r}",
            allowed=", ".join(known),
            next=f"write {near!r}, if that is meant" if near else "take the line out, or use one of these",
        )
    if kind in ("dataclass_type", "dataclass_exact_type"):
        what = f"[{path[0]}]" if len(path) == 1 else "a table"
        return path, BadInput(f"{_said(path)} is {shorten(raw)}, not a table", allowed=f"{what} with keys")
    if kind in ("tuple_type", "too_short", "too_long"):
        shown = f"[[{path[0]}]]" if len(path) == 1 else "a list in square brackets"
        return path, BadInput(f"{_said(path)} is {shorten(raw)}, not a list", allowed=shown)
    return path, BadInput(f"{_said(path)}: {shorten(raw)} cannot be read here", allowed=str(e.get("msg", "")))


def _how_to_write(path: Path) -> tuple[str, str]:
    if len(path) == 1:
        return f"a table [{path[0]}]", "add it; `lineproof new` writes a job.toml that shows every table"
    return "", f"add the line {path[-1]} = ...; `lineproof new` writes a job.toml that shows it"


def _class_at(path: Path) -> type[Any]:
    """The class of values that stands at a path of the file."""
    here: Any = Settings
    for step in path:
        here = _inner(here) if isinstance(step, int) else _hints(here)[step]
        if isinstance(here, UnionType):  # a table that may be left out
            here = _inner(here)
    return cast(type[Any], here)


@cache
def _hints(cls: type[Any]) -> dict[str, Any]:
    return get_type_hints(cls)


def _inner(hint: Any) -> Any:
    """The type of the entries of a list."""
    return next(a for a in get_args(hint) if is_dataclass(a))
