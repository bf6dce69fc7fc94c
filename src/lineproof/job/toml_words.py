"""How one value of job.toml is read: every type that may stand in the file, with its unit and its refusal.

A quantity is text with its unit (``"135 psi"``); a bare number is refused, because a reader could not tell
psi from bar. The types below are plain ``float``, ``str`` and so on to the rest of the program; the marker
inside ``Annotated`` is only met while a file is being read, so nothing heavy is imported here.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Annotated, Any

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError, UnitMissing
from lineproof.floor.units import parse

if TYPE_CHECKING:
    from pydantic_core import CoreSchema


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like the one given; empty if none is like it."""
    by_small = {a.lower(): a for a in allowed}
    close = difflib.get_close_matches(word[:80].lower(), by_small, n=1, cutoff=0.5)
    return by_small[close[0]] if close else ""


def refuse_word(what: str, word: str, allowed: Iterable[str], *, by: str = "") -> BadInput:
    """The error for a word that is not among those allowed, with the nearest one."""
    words = list(allowed)
    near = nearest(word, words)
    shown = ", ".join(words[:24]) + (" ..." if len(words) > 24 else "")
    return BadInput(
        f"{what} {shorten(word)!r}" if word else f"{what} is empty",
        allowed=shown or "nothing yet",
        by=by,
        next=f"write {near!r}, if that is meant" if near else "use one of these",
    )


def shorten(value: object, most: int = 60) -> str:
    """A value as short text for a sentence."""
    text = value if isinstance(value, str) else repr(value)
    text = " ".join(text.split())
    return text if len(text) <= most else text[: most - 3] + "..."


@dataclass(frozen=True, slots=True)
class Read:
    """Marker inside ``Annotated``: how the raw value is read.

    Parameters
    ----------
    how : callable
        Takes the raw value of the file, gives the value kept; raises a ``LineproofError``.
    """

    how: Callable[[Any], Any]

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        """Called by pydantic while the reader is built."""
        from pydantic_core import PydanticCustomError, core_schema

        def run(raw: Any) -> Any:
            try:
                return self.how(raw)
            except LineproofError as error:
                # Carried out with its path, so that the line in the file can be found.
                told = {"text": str(error), "error": error}
                raise PydanticCustomError("lineproof", "{text}", told) from error

        return core_schema.no_info_plain_validator_function(run)


OTHER_MATERIALS = ("steel", "iron", "bronze", "pe", "pp", "pvdf", "abs", "rubber", "other")
"""What a valve, a meter or a pump may be made of: never cemented, so only named."""

MATERIALS = {
    **dict.fromkeys(("pvc", "pvc-u", "upvc", "pvcu"), "pvc"),
    **dict.fromkeys(("cpvc", "pvc-c", "pvcc"), "cpvc"),
    **{word: word for word in OTHER_MATERIALS},
}
_BETWEEN_PARTS = re.compile(r"[\s_-]")

EXAMPLES = {
    "length": '"12\'-6 1/2\\"" or "3.2 m"',
    "pressure": '"135 psi" or "6 bar"',
    "temperature": '"50 F" or "10 C"',
    "temperature_step": '"20 F" or "11 K"',
    "time": '"30 s", "5 min" or "96 h"',
    "volume": '"1 qt" or "1 L"',
    "force": '"1500 lbf" or "7 kN"',
    "wind": '"5 mph" or "2 m/s"',
    "angle": '"0.5 deg"',
    "coverage": '"0.3 m2/min" or "3 ft2/min"',
    "torque": '"33 ft-lb" or "45 N m"',
    "fraction": '"60 %"',
    "mass": '"12 lb" or "5.4 kg"',
}


def quantity(name: str, *, least: float = -math.inf, over: float = -math.inf) -> Callable[[Any], float]:
    """A reader of one quantity given as text with its unit.

    Parameters
    ----------
    name : str
        Name of the quantity as in ``floor.units``.
    least, over : float
        The value must be at least ``least`` and greater than ``over``. [SI of the quantity]
    """

    def how(raw: Any) -> float:
        example = EXAMPLES.get(name, "text with its unit")
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            raise UnitMissing(
                f"the number {shorten(raw)} has no unit",
                allowed=f"{name.replace('_', ' ')} in quotes with its unit, such as {example}",
                next="write the unit behind the number, in quotes",
            )
        if not isinstance(raw, str):
            raise BadInput(
                f"{shorten(raw)} is not a {name.replace('_', ' ')}",
                allowed=f"text with its unit, such as {example}",
            )
        value = float(parse(raw, name))
        if not math.isfinite(value) or value < least or value <= over:
            raise BadInput(
                f"{shorten(raw)!r} is too small",
                allowed="more than 0" if over == 0 else "0 or more" if least == 0 else f"such as {example}",
                next="check the sign and the unit",
            )
        return value

    return how


def text(raw: Any) -> str:
    """Plain text; blanks at its ends do not count."""
    if not isinstance(raw, str):
        raise BadInput(f"{shorten(raw)} is not text", allowed='text in quotes, such as "B-201"')
    return raw.strip()


def name(raw: Any) -> str:
    """Text that may not be empty."""
    word = text(raw)
    if not word:
        raise BadInput("an empty name", allowed='text in quotes, such as "B-201"')
    return word


def count(raw: Any) -> int:
    """A whole number, 0 or more."""
    if isinstance(raw, bool) or not isinstance(raw, int) or not 0 <= raw <= 10_000_000:
        raise BadInput(f"{shorten(raw)} is not a count", allowed="a whole number, 0 or more, without quotes")
    return raw


def factor(raw: Any) -> float:
    """A plain number, 1 or more: a factor that lengthens a time."""
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not 1 <= raw <= 1000:
        raise BadInput(
            f"the factor {shorten(raw)}", allowed="a number, 1 or more, without quotes, such as 1.5"
        )
    return float(raw)


def ratio(raw: Any) -> float:
    """A plain number above 0, such as joints per can."""
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not 0 < raw < 1e9:
        raise BadInput(f"{shorten(raw)} is not a number above 0", allowed="a number above 0, without quotes")
    return float(raw)


def flag(raw: Any) -> bool:
    """True or false."""
    if not isinstance(raw, bool):
        raise BadInput(f"{shorten(raw)} is not yes or no", allowed="true or false, without quotes")
    return raw


def day(raw: Any) -> date:
    """A real date of the calendar."""
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    if isinstance(raw, str) and len(raw.strip()) == 10:
        try:
            return date.fromisoformat(raw.strip())
        except ValueError:
            pass
    what = "is a moment, not a date" if isinstance(raw, datetime) else "is not a date"
    raise BadInput(
        f"{shorten(str(raw))} {what}",
        allowed="a date of the calendar as year-month-day, such as 2026-04-13",
    )


def size_word(word: str) -> Size:
    """A nominal size; text far too long to be one is refused before it is taken apart."""
    if len(word) > 40:
        raise BadInput(f"{shorten(word)!r} is not a size", allowed='a size, such as "12in" or "d315"')
    return Size.parse(word)


def material_word(word: str) -> str:
    """A pipe material as the walk writes it: ``pvc``, ``cpvc``."""
    known = MATERIALS.get(word.strip().lower())
    if known is None:
        raise refuse_word("the material", word.strip(), ["pvc", "cpvc", *OTHER_MATERIALS])
    return known


def series_word(word: str) -> str:
    """A wall series as the walk writes it: ``sch80``, ``sdr26``, ``pn10``."""
    plain = _BETWEEN_PARTS.sub("", word.lower())
    if not plain or len(plain) > 20:
        raise BadInput(
            f"the series {shorten(word)!r}" if plain else "an empty series",
            allowed="a schedule, SDR, S series or PN, such as sch80, sdr26, s10, pn10",
            next="write the wall as printed on the pipe",
        )
    return plain


def size(raw: Any) -> Size:
    """A nominal size, such as ``"12in"`` or ``"d315"``."""
    if not isinstance(raw, str):
        raise UnitMissing(
            f"the size {shorten(raw)} has no unit",
            allowed='a size in quotes, such as "12in" or "d315"',
            next="say inch size (in) or outside diameter (d)",
        )
    return size_word(raw)


def one_of(*words: str) -> Callable[[Any], str]:
    """A reader of one word out of a list."""

    def how(raw: Any) -> str:
        word = text(raw)
        for allowed in words:
            if word.lower() == allowed.lower():
                return allowed
        raise refuse_word("the word", word, words)

    return how


Length = Annotated[float, Read(quantity("length", least=0.0))]
LengthOver0 = Annotated[float, Read(quantity("length", over=0.0))]
Elevation = Annotated[float, Read(quantity("length"))]
Pressure = Annotated[float, Read(quantity("pressure", least=0.0))]
Temperature = Annotated[float, Read(quantity("temperature", over=0.0))]
TemperatureStep = Annotated[float, Read(quantity("temperature_step", least=0.0))]
Time = Annotated[float, Read(quantity("time", least=0.0))]
Volume = Annotated[float, Read(quantity("volume", over=0.0))]
Force = Annotated[float, Read(quantity("force", over=0.0))]
Wind = Annotated[float, Read(quantity("wind", least=0.0))]
Angle = Annotated[float, Read(quantity("angle", least=0.0))]
Latitude = Annotated[float, Read(quantity("angle", least=-1.5708))]
Longitude = Annotated[float, Read(quantity("angle", least=-3.1416))]
Coverage = Annotated[float, Read(quantity("coverage", over=0.0))]
Torque = Annotated[float, Read(quantity("torque", over=0.0))]
Text = Annotated[str, Read(text)]
Name = Annotated[str, Read(name)]
Count = Annotated[int, Read(count)]
Factor = Annotated[float, Read(factor)]
Ratio = Annotated[float, Read(ratio)]
Flag = Annotated[bool, Read(flag)]
Day = Annotated[date, Read(day)]
Nominal = Annotated[Size, Read(size)]
Material = Annotated[str, Read(lambda raw: material_word(text(raw)))]
Series = Annotated[str, Read(lambda raw: series_word(text(raw)))]


def _humidity(raw: Any) -> float:
    value = quantity("fraction", least=0.0)(raw)
    if value > 1.0:
        raise BadInput(f"a humidity of {shorten(raw)}", allowed='"0 %" to "100 %"')
    return value


Humidity = Annotated[float, Read(_humidity)]
