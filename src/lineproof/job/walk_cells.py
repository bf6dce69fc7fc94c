"""A statement as named cells, and cells as the text of a statement: one table for the walk and its CSV."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum, auto
from typing import TypeVar

from lineproof.floor.errors import BadInput
from lineproof.job import statements as s
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_words import bare_or_quoted, quoted

T = TypeVar("T")


class How(Enum):
    """How a cell stands in the walk."""

    PLAIN = auto()  # as it is
    NAME = auto()  # bare where it can be
    TEXT = auto()  # in quotes
    FLAG = auto()  # the word itself, where the cell says yes
    JOINED = auto()  # after a comma
    END_NAME = auto()  # in quotes; straight after "branch" as a name


@dataclass(frozen=True, slots=True)
class Part:
    """One column of one kind of statement, with the word before it in the walk."""

    column: str
    word: str = ""
    how: How = How.PLAIN


_LOT = Part("lot", "lot", How.NAME)
_FIELD = Part("field", "field", How.FLAG)
_STEPS = tuple(Part(c) for c in ("way", "length", "way2", "length2", "way3", "length3"))
_END = (
    Part("end"), Part("fixed", "fixed", How.FLAG), Part("may unbolt", "may unbolt", How.FLAG),
    Part("face"), Part("size"), Part("name", "", How.END_NAME),
    Part("east", "at"), Part("north", "", How.JOINED), Part("up", "", How.JOINED),
)  # fmt: skip

# The words of a statement, then its columns in the order in which they are printed.
FORMS: Mapping[str, tuple[Part, ...]] = {
    "drawing": (Part("name", "", How.NAME), Part("rev", "rev", How.NAME)),
    "line": (
        Part("name", "", How.NAME), Part("size", "size"), Part("material", "pipe"), Part("wall"),
        Part("od", "od"), Part("for", "for", How.TEXT),
    ),
    "starts at": (*_END, Part("facing", "facing"), Part("station", "station")),
    "ends at": _END,
    "go": (
        *_STEPS, Part("slope"), Part("basis"), Part("from", "from"), Part("to", "to"),
        Part("centre", "to centre"), Part("station", "to station"), Part("invert", "to invert"), _FIELD, _LOT,
    ),
    "offset": (*_STEPS, Part("angle", "with"), _FIELD, _LOT),
    "put": (Part("name", "", How.TEXT), Part("handle", "handle"), Part("mixed", "mixed", How.FLAG)),
    "tee": (Part("way"), Part("size"), Part("as", "as", How.NAME), _LOT),
    "saddle": (
        Part("way"), Part("size"), Part("threaded", "threaded", How.FLAG), Part("as", "as", How.NAME), _LOT,
    ),
    "reduce to": (Part("size"), Part("flat", "eccentric flat"), Part("bushing", "bushing", How.FLAG), _LOT),
    **{kind.value: (_LOT,) for kind in s.Inline},
    "expansion joint": (Part("travel", "travel"), Part("set", "set"), _LOT),
    "no joint": (Part("begin"), Part("until", "to")),
    "bells": (Part("facing", "facing"),),
    "spool": (Part("name", "", How.TEXT),),
    "spool ends": (),
}  # fmt: skip

COLUMNS = tuple(dict.fromkeys(part.column for form in FORMS.values() for part in form))
YES = "yes"


@dataclass(frozen=True, slots=True)
class Span:
    """Where a cell stands in the text of its statement (columns from 0, end not included)."""

    begin: int
    end: int
    column: str


def text_of(word: str, cells: Mapping[str, str]) -> tuple[str, list[Span]]:
    """Write a statement from its word and cells.

    Parameters
    ----------
    word : str
        A key of ``FORMS``.
    cells : mapping
        Column to text; empty cells are left out, flags are ``yes``.

    Returns
    -------
    tuple
        The text, and where each cell stands in it.
    """
    text = word
    spans = [Span(0, len(word), "word")]
    parts = FORMS[word]
    if cells.get("end") == "branch":  # its name comes first: what follows the word branch is read as a name
        parts = tuple(sorted(parts, key=lambda part: part.column not in ("end", "name")))
    for part in parts:
        value = cells.get(part.column, "")
        if not value:
            continue
        match part.how:
            case How.FLAG:
                said = part.word
            case How.NAME:
                said = f"{part.word} {bare_or_quoted(value)}"
            case How.TEXT:
                said = f"{part.word} {quoted(value)}"
            case How.END_NAME:
                said = bare_or_quoted(value) if cells.get("end") == "branch" else quoted(value)
            case _:
                said = f"{part.word} {value}"
        begin = len(text)
        text += ", " + said.strip() if part.how is How.JOINED else " " + said.strip()
        spans.append(Span(begin, len(text), part.column))
    return text, spans


def cells_of(statement: s.Statement, numbers: Numbers) -> tuple[str, dict[str, str]]:
    """Return the word and the cells of a statement.

    Parameters
    ----------
    statement : Statement
        Any but a remark.
    numbers : Numbers
        How its numbers are written.

    Returns
    -------
    tuple
        A key of ``FORMS``, and the filled cells by column.

    Raises
    ------
    BadInput
        If it is no statement of the walk.
    """
    cells: dict[str, str]
    match statement:
        case s.Drawing(name=name, rev=rev):
            word, cells = "drawing", {"name": name, "rev": rev}
        case s.Head():
            word = "line"
            cells = {
                "name": statement.name, "size": numbers.size(statement.size), "material": statement.material,
                "wall": statement.series, "od": statement.od_family, "for": statement.service,
            }  # fmt: skip
        case s.Starts():
            word, cells = "starts at", _end(statement.end, statement.point, numbers)
            cells["facing"] = statement.facing or ""
            cells["station"] = _or_empty(statement.station, numbers.station)
        case s.Ends():
            word, cells = "ends at", _end(statement.end, statement.point, numbers)
        case s.Go():
            word, cells = "go", _go(statement, numbers)
        case s.Offset():
            word = "offset"
            cells = _steps(statement.steps, numbers)
            cells |= {"angle": numbers.angle(statement.angle), "field": _yes(statement.field)}
            cells["lot"] = statement.lot
        case s.Put(tag=tag, handle=handle, mixed=mixed):
            word, cells = "put", {"name": tag, "handle": handle or "", "mixed": _yes(mixed)}
        case s.Tee():
            word = "tee"
            cells = {"way": statement.way, "size": _or_empty(statement.size, numbers.size)}
            cells |= {"as": statement.label, "lot": statement.lot}
        case s.Saddle():
            word = "saddle"
            cells = {"way": statement.way, "size": numbers.size(statement.size), "as": statement.label}
            cells |= {"threaded": _yes(statement.threaded), "lot": statement.lot}
        case s.Reduce():
            word = "reduce to"
            side = {"up": "top", "down": "bottom"}.get(statement.flat or "", statement.flat or "")
            cells = {"size": numbers.size(statement.size), "flat": side, "bushing": _yes(statement.bushing)}
            cells["lot"] = statement.lot
        case s.Mid(kind=kind, lot=lot):
            word, cells = kind.value, {"lot": lot}
        case s.Expansion():
            word = "expansion joint"
            cells = {"travel": numbers.length(statement.travel), "lot": statement.lot}
            cells["set"] = _or_empty(statement.set, numbers.length)
        case s.NoJoint(start=start, end=end):
            word, cells = "no joint", {"begin": numbers.length(start), "until": numbers.length(end)}
        case s.Bells(ahead=ahead):
            word, cells = "bells", {"facing": "ahead" if ahead else "back"}
        case s.Spool(name=name):
            word, cells = ("spool", {"name": name}) if name else ("spool ends", {})
        case _:
            raise BadInput(f"{type(statement).__name__} is no statement of a walk", next="use the statements")
    return word, {column: value for column, value in cells.items() if value}


def _yes(said: bool) -> str:
    return YES if said else ""


def _or_empty(value: T | None, show: Callable[[T], str]) -> str:
    return "" if value is None else show(value)


def _steps(steps: tuple[s.Step, ...], numbers: Numbers) -> dict[str, str]:
    cells: dict[str, str] = {}
    for number, step in zip(("", "2", "3"), steps, strict=False):
        cells[f"way{number}"] = step.way
        cells[f"length{number}"] = _or_empty(step.length, numbers.length)
    return cells


def _end(end: s.End, point: s.Point | None, numbers: Numbers) -> dict[str, str]:
    cells = {
        "end": end.kind.value, "fixed": _yes(end.fixed), "may unbolt": _yes(end.may_unbolt), "face": end.face,
        "size": _or_empty(end.size, numbers.size), "name": end.name,
    }  # fmt: skip
    if point is not None:
        cells |= {c: numbers.length(getattr(point, c)) for c in ("east", "north", "up")}
    return cells


def _go(go: s.Go, numbers: Numbers) -> dict[str, str]:
    cells = _steps(go.steps, numbers)
    if go.slope is not None:
        cells["slope"] = f"{go.slope_way} {numbers.slope(go.slope)}"
        cells["basis"] = go.basis or ""
    centre = s.Measure.CENTRE
    cells["from"] = "" if go.start_measure is centre else go.start_measure
    cells["to"] = "" if go.end_measure is centre else go.end_measure
    cells["centre"] = _or_empty(go.to_centre, numbers.length)
    cells["station"] = _or_empty(go.to_station, numbers.station)
    cells["invert"] = _or_empty(go.to_invert, numbers.length)
    cells["field"] = _yes(go.field)
    cells["lot"] = go.lot
    return cells
