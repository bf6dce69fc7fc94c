"""Values in a walk: lengths, stations and sizes read from their tokens; slots, each filled once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.floor.units import parse_length
from lineproof.job import statements as s

if TYPE_CHECKING:
    from lark import Token

T = TypeVar("T")
LONGEST_LENGTH = 20_000.0  # [m] nobody walks 20 km in one go; a slip of the unit does
LONGEST_LINE = 1_000_000.0  # [m] of a station
FOOT = parse_length("1 ft")
_SAID = {
    "to_centre": "centre", "to_invert": "invert", "to_station": "station", "end_measure": "measure after to",
    "start_measure": "measure after from", "called": "name", "may_unbolt": "words may unbolt",
    "flat": "flat side", "od_family": "family of outside diameters", "way": "direction",
    "label": "branch name",
}  # fmt: skip
_STATION = re.compile(r"([-+]?)(\d+)\+(\d+)((?:\.\d+)?)\s*([a-z]*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Slot:
    """One thing said in a statement: which, its value, where it begins (columns from 0)."""

    name: str
    value: Any
    position: int


@dataclass(frozen=True, slots=True)
class StationText:
    """A station as typed; its unit may hang on the line's size."""

    text: str


@dataclass(frozen=True, slots=True)
class Draft:
    """A statement without its place and comment; ``marks`` tells where each slot begins."""

    kind: type[s.Statement]
    values: Mapping[str, Any]
    marks: Mapping[str, int]

    def statement(self, spot: s.Spot, comment: str, metric: bool) -> s.Statement:
        """Make the statement."""
        values = {
            name: placed(lambda text: station(text, metric), value.text, self.marks[name])
            if isinstance(value, StationText)
            else value
            for name, value in self.values.items()
        }
        return self.kind(spot=spot, comment=comment, **values)


def slip(position: int, given: str, *, allowed: str = "", next: str = "") -> BadInput:
    """Return an error at a column of the line (``position`` counts from 0)."""
    return BadInput(given, allowed=allowed, next=next, place=Place(column=position + 1))


def placed(read: Callable[[str], T], text: str, position: int) -> T:
    """Read a text; an error from below gets its column here."""
    try:
        return read(text)
    except LineproofError as error:
        error.place = Place(column=position + 1)
        raise


def station(text: str, metric: bool) -> float:
    """Distance of a station along its line.

    Parameters
    ----------
    text : str
        ``12+40`` (1240 ft), ``1+240`` (1240 m); a suffix ``ft`` or ``m`` says which.
    metric : bool
        The unit where no suffix says it: metres for a line in d sizes, else feet.

    Returns
    -------
    float
        The distance. [m]

    Raises
    ------
    BadInput
        If the figures after the plus are not two for feet, three for metres.
    """
    found = _STATION.fullmatch(text)
    if found is None:
        return _far(text, parse_length(text))
    sign, big, small, rest, suffix = found.groups()
    in_metres = metric if not suffix else suffix.lower() == "m"
    figures = 3 if in_metres else 2
    if len(small) != figures:
        raise BadInput(
            f"station {text} has {len(small)} figure{'s' * (len(small) != 1)} after the plus",
            allowed="three in metres (1+240 = 1240 m)" if in_metres else "two in feet (12+40 = 1240 ft)",
            next="write it so, or with its unit, such as 12+40ft or 1+240m",
        )
    return _far(text, parse_length(f"{sign}{big}{small}{rest} {'m' if in_metres else 'ft'}"))


def _far(text: str, value: float) -> float:
    if abs(value) > LONGEST_LINE:
        raise BadInput(f"station {text} is too far to be meant", allowed="up to 1000 km", next="check it")
    return value


def station_text(text: str) -> float | StationText:
    """Read a station: metres if it says its unit, else the text for later."""
    found = _STATION.fullmatch(text)
    if found is None or found[5]:
        return station(text, metric=False)
    return StationText(text)


@lru_cache(maxsize=8192)
def _metres(text: str) -> float:
    value = parse_length(text)
    if abs(value) > LONGEST_LENGTH:
        raise BadInput(f"{text} is longer than 20 km", allowed="up to 20 km", next="check the unit")
    return value


@lru_cache(maxsize=1024)
def size_of(text: str) -> Size:
    """Read a size."""
    return Size.parse(text)


def length_of(token: Token, *, zero: bool = False) -> float:
    """Read a length above 0 (or from 0). [m]"""
    value = placed(_metres, str(token), token.start_pos or 0)
    if value < 0 or (value == 0 and not zero):
        raise slip(
            token.start_pos or 0,
            f"the length {token} is {'negative' if value < 0 else 'zero'}",
            allowed="a length above 0" if not zero else "0 or more",
            next="turn the direction round instead" if value < 0 else "leave this part out",
        )
    return value


def level_of(token: Token) -> float:
    """Read a coordinate or an elevation, of either sign. [m]"""
    return placed(_metres, str(token), token.start_pos or 0)


def at(child: Token | Slot) -> int:
    """Column of a child, from 0."""
    return child.position if isinstance(child, Slot) else child.start_pos or 0


def named(children: Sequence[Slot]) -> tuple[str, dict[str, Any], dict[str, int]]:
    """Return a leading name, then the other slots."""
    slots, marks = slots_of(children[1:])
    marks.setdefault("name", children[0].position)
    return children[0].value, slots, marks


def slots_of(children: Iterable[Slot]) -> tuple[dict[str, Any], dict[str, int]]:
    """Return the slots by name and where each begins; refuse one that is said twice."""
    slots: dict[str, Any] = {}
    marks: dict[str, int] = {}
    for child in children:
        if child.name in slots:
            word = _SAID.get(child.name, child.name.replace("_", " "))
            raise slip(child.position, f"the {word} is said twice", next="leave one out")
        slots[child.name] = child.value
        marks[child.name] = child.position
    return slots, marks


def need(slots: Mapping[str, Any], word: str, fault: str, allowed: str) -> None:
    """Refuse a statement that lacks a slot."""
    if word not in slots:
        raise slip(0, fault, allowed=allowed, next="add it")


def steps_of(children: Iterable[Slot]) -> list[Slot]:
    """Return the directions of a leg; no axis of the plant grid twice."""
    steps = [c for c in children if c.name == "step"]
    seen: dict[int, s.Way] = {}
    for step in steps:
        axis = [abs(part) for part in step.value.way.vector].index(1.0)
        if axis in seen:
            raise slip(
                step.position,
                f"{seen[axis]} and {step.value.way} stand in one leg",
                allowed="each of east or west, north or south, up or down once",
                next="write one go for each leg",
            )
        seen[axis] = step.value.way
    return steps


def check_aims(steps: Sequence[Slot], slots: Mapping[str, Any], marks: Mapping[str, int]) -> None:
    """Refuse a leg whose lengths are not settled, or settled twice, by its lengths, slope and aims."""
    level = [n for n in ("to_centre", "to_invert") if n in slots]
    along = [c for c in steps if c.value.way not in (s.Way.UP, s.Way.DOWN)]
    upright = [c for c in steps if c not in along]
    if len(level) > 1:
        raise slip(
            marks["to_invert"], "the leg has both a centre and an invert to reach", next="leave one out"
        )
    if upright and "slope" in slots:
        raise slip(
            marks["slope"],
            f"the leg goes {upright[0].value.way} by a length and by a slope",
            allowed="one of the two",
            next="leave one out",
        )
    if "to_station" in slots and not along:
        raise slip(
            marks["to_station"],
            "a station cannot be reached going up or down",
            allowed="go north to station 12+40",
            next="say the direction along the line",
        )
    unknown = [c for c in along if c.value.length is None]
    rise = [c for c in upright if c.value.length is None]
    aims = ["to_station"] * ("to_station" in slots) + level * ("slope" in slots)
    if len(unknown) < len(aims):
        raise slip(
            marks[aims[-1]],
            f"the length of this leg is given and also the {_SAID[aims[-1]]} it runs to",
            allowed="one of the two",
            next="leave one out",
        )
    if level and upright and not rise:
        raise slip(
            marks[level[0]],
            f"the leg goes {upright[0].value.way} by a length and also to a {_SAID[level[0]]}",
            allowed="one of the two",
            next="leave one out",
        )
    loose = unknown[len(aims) :] + (rise if not level else [])
    if loose:
        raise slip(
            loose[0].position,
            f"{loose[0].value.way} has no length",
            allowed="a length such as 12'-6 1/2\" or 3.2 m, or to centre, to invert, to station",
            next="write it after the direction",
        )


# ------------------------------------------------------------- rules of one value each
def flag(name: str, value: object = True) -> Callable[[Any, list[Token]], Slot]:
    """Return the reader of a word that stands alone."""

    def read(_self: object, children: list[Token]) -> Slot:
        return Slot(name, value, at(children[0]))

    return read


def carry(name: str) -> Callable[[Any, list[Slot]], Slot]:
    """Return the reader of a word with a slot behind it."""

    def read(_self: object, children: list[Slot]) -> Slot:
        return Slot(name, children[0].value, children[0].position)

    return read


def number(name: str, read_number: Callable[[Token], object]) -> Callable[[Any, list[Token]], Slot]:
    """Return the reader of a word with a number behind it."""

    def read(_self: object, children: list[Token]) -> Slot:
        return Slot(name, read_number(children[-1]), at(children[-1]))

    return read
