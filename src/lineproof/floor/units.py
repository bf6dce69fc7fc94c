"""Reading numbers as they are written on site, and showing them again: SI inside, units at the edges.

Inside are metres, pascals (gauge pressure stays gauge), kelvins, kilograms, newtons, seconds, radians.
A number without its unit is refused, bar a plain 0.
"""

from __future__ import annotations

import math
import re
import unicodedata
from functools import lru_cache

from lineproof.floor.errors import BadInput, OutsideTable, UnitMissing
from lineproof.floor.shown import Shown, show, show_inches, show_length
from lineproof.floor.unit_table import AMBIGUOUS, FOOT, INCH, SPELLINGS, UNITS, Unit, bare

__all__ = [
    "FOOT",
    "INCH",
    "UNITS",
    "Shown",
    "Unit",
    "parse",
    "parse_length",
    "parse_slope",
    "show",
    "show_inches",
    "show_length",
]

LONGEST_TEXT = 80
LARGEST = 1e15  # SI; far above anything built, far below what would overflow a sum
LARGEST_PART = 64  # a tape is not read finer than 1/64 in

_QUOTES = str.maketrans(
    {
        **dict.fromkeys("\u2019\u2018\u2032\u02b9\u02bc\u00b4`\u201b", "'"),
        **dict.fromkeys("\u201d\u201c\u2033\u02ba\u201f\u301e", '"'),
        **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014", "-"),
        **dict.fromkeys("\u2044\u2215", "/"),
        "\u00ba": "\u00b0",
        "\u00b7": "*",
        "\u22c5": "*",
    }
)
_POWER_OF_NUMBER = re.compile(r"[\d.][\u00b9\u00b2\u00b3\u2070-\u2079]")
_NUMBER = r"(?:(?:(\d+)(?:\s+|-))?(\d+)/(\d+)|(\d+\.?\d*(?:e[+-]?\d+)?|\.\d+(?:e[+-]?\d+)?))"
_FLAGS = re.ASCII | re.IGNORECASE
_PLAIN = re.compile(rf"([+-]?)\s*{_NUMBER}\s*((?:[^\s\d.,+/-]|1?/[a-z]).*)?", _FLAGS)
_FEET_INCHES = re.compile(
    rf"([+-]?)\s*{_NUMBER}\s*(?:'(?!')|ft\.?|feet|foot)\s*-?\s*{_NUMBER}\s*(\"|''|in\.?|inch|inches)?", _FLAGS
)
_TIME_PARTS = re.compile(r"(?:\d+(?:\.\d+)?\s*[a-z]+\s*){2,4}", _FLAGS)
_TIME_PART = re.compile(r"(\d+(?:\.\d+)?)\s*([a-z]+)", _FLAGS)
_SLOPE_RATIO = re.compile(rf"{_NUMBER}\s*(?::|in\b)\s*{_NUMBER}", _FLAGS)
_SLOPE_PER = re.compile(r"(.+?)\s*(?:\bper\b|/)\s*((?:\d+\.?\d*)?)\s*('|[a-z]+)", _FLAGS)

_HOW_LENGTHS = '12\'-6 1/2", 6 1/2", 12.54 ft, 3.2 m, 3200 mm'


def _said(text: str) -> str:
    """The user's words, fit for one line of an error."""
    line = "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))
    return line if len(line) <= 40 else line[:37] + "..."


def _plainly(text: str) -> str:
    """The text with typographic quotes, primes, dashes, blanks and fractions made plain."""
    if text.isascii():
        return text.strip()
    if _POWER_OF_NUMBER.search(text):
        raise BadInput(
            f"{_said(text)} has a raised figure after a number",
            allowed="plain figures",
            next="write the number out",
        )
    out: list[str] = []
    for c in text.translate(_QUOTES):
        spelled = unicodedata.normalize("NFKC", c)
        if "\u2044" in spelled and len(spelled) > 1:  # one half, three eighths, written as one sign
            glued = bool(out) and out[-1][-1:].isdigit()
            spelled = (" " if glued else "") + spelled.replace("\u2044", "/") + " "
        out.append(spelled.translate(_QUOTES))
    return "".join(out).strip()


def _number(groups: tuple[str | None, ...], text: str) -> float:
    """Value of the four groups of a number: whole, top, bottom, decimal."""
    whole, top, bottom, decimal = groups
    if decimal is not None:
        return float(decimal)
    a, b = int(top or 0), int(bottom or 0)
    if not 0 < a < b or b > LARGEST_PART:
        raise BadInput(
            f"{_said(text)} holds the fraction {_said(f'{top}/{bottom}')}",
            allowed=f"a fraction below 1 with a bottom figure up to {LARGEST_PART}",
            next="write it as 6 1/2, or with decimals",
        )
    return int(whole or 0) + a / b


def _within(value: float, text: str) -> float:
    if not abs(value) < LARGEST:
        raise OutsideTable(f"{_said(text)} is too large to be meant", next="check the number and its unit")
    return value


def _names(quantity: str) -> str:
    return ", ".join(UNITS[quantity])


def _unit(spelling: str, quantity: str, text: str) -> Unit:
    """The unit of a quantity by any of its spellings."""
    key = bare(spelling)
    unit = SPELLINGS[quantity].get(key)
    if unit is not None:
        return unit
    words = quantity.replace("_", " ")
    twice = AMBIGUOUS.get(quantity, {}).get(key)
    if twice is not None:
        given = f"{_said(text)}: {_said(spelling)} {twice[0]}"
        raise BadInput(given, allowed=_names(quantity), next=twice[1])
    elsewhere = next((q for q, units in SPELLINGS.items() if key in units), "")
    if quantity in ("length", "time") and not elsewhere and any(c.isdigit() for c in key):
        raise _unread(text, quantity)
    if elsewhere:
        given = f"{_said(text)}: {_said(spelling)} is a unit of {elsewhere.replace('_', ' ')}, not of {words}"
    else:
        given = f"{_said(text)}: {_said(spelling)} is not a unit of {words}"
    if not UNITS[quantity]:
        raise BadInput(given, allowed="a number without a unit", next="write the number alone")
    raise BadInput(given, allowed=_names(quantity), next="write the number with one of these units")


def _refuse_commas(text: str) -> None:
    if "," not in text:
        return
    if re.search(r"\d,\d{3}(?!\d)", text, re.ASCII):
        next_step = "write a thousand without a comma (1200), a decimal with a point (1.2)"
    else:
        next_step = "write decimals with a point (3.2)"
    raise BadInput(f"{_said(text)} holds a comma", allowed="figures and one decimal point", next=next_step)


def _unread(text: str, quantity: str) -> BadInput:
    words = quantity.replace("_", " ")
    if quantity == "length":
        how = _HOW_LENGTHS
    elif UNITS[quantity]:
        how = "a number and one of " + _names(quantity)
    else:
        how = "a number such as 12 or 0.5"
    return BadInput(
        f"{_said(text)} cannot be read as a {words}", allowed=how, next="write one value this way"
    )


def _unit_missing(text: str, quantity: str) -> UnitMissing:
    first = next(iter(UNITS[quantity]))
    return UnitMissing(
        f"{_said(text)} has no unit",
        allowed=_names(quantity),
        next=f"write the unit after it, such as {first}",
    )


def _feet_inches(text: str) -> float | None:
    """Metres of a text in feet and inches; None if it is not written so."""
    m = _FEET_INCHES.fullmatch(text)
    if m is None:
        return None
    g = m.groups()
    feet, inches = _number(g[1:5], text), _number(g[5:9], text)
    if g[9] is None:
        raise UnitMissing(
            f"{_said(text)} has no inch mark",
            allowed="12'-6\" or 12 ft 6 in",
            next='write " or in after the inches',
        )
    if math.isfinite(feet) and feet != math.floor(feet):
        raise BadInput(
            f"{_said(text)} has broken feet before the inches",
            allowed="whole feet",
            next="write 12'-6\" or 12.5 ft",
        )
    if inches >= 12:
        raise BadInput(
            f"{_said(text)} has 12 or more inches after the feet",
            allowed="less than 12 inches after feet",
            next='check the tape: write 13\'-2" or 158"',
        )
    size = UNITS["length"]["in"].to_si(feet * 12 + inches)
    return -size if g[0] == "-" else size


def _time_parts(text: str) -> float | None:
    """Seconds of a text such as 1 h 30 min; None if it is not written so."""
    if not _TIME_PARTS.fullmatch(text):
        return None
    total, last = 0.0, math.inf
    for number, spelling in _TIME_PART.findall(text):
        unit = _unit(spelling, "time", text)
        if unit.factor >= last:
            raise BadInput(
                f"{_said(text)} is out of order", allowed="1 h 30 min", next="write the larger unit first"
            )
        total, last = total + unit.to_si(float(number)), unit.factor
    return total


@lru_cache(maxsize=16384)
def _read(text: str, quantity: str, default_unit: str) -> float:
    if quantity not in UNITS:
        raise BadInput(
            f"{_said(quantity)} is not a quantity", allowed=", ".join(UNITS), next="use one of these"
        )
    if len(text) > LONGEST_TEXT:
        raise BadInput(f"{_said(text)} is too long for a number", allowed=f"up to {LONGEST_TEXT} characters")
    plain = _plainly(text)
    if not plain:
        words = quantity.replace("_", " ")
        raise BadInput(f"nothing stands where a {words} is expected", next="write a number with its unit")
    _refuse_commas(plain)
    value: float | None = None
    if quantity == "length":
        value = _feet_inches(plain)
    elif quantity == "time":
        value = _time_parts(plain)
    if value is None:
        m = _PLAIN.fullmatch(plain)
        if m is None:
            raise _unread(text, quantity)
        g = m.groups()
        number = _number(g[1:5], text)
        value = _with_unit(-number if g[0] == "-" else number, g[5] or default_unit, quantity, text)
    return _within(value, text)


def _with_unit(number: float, spelling: str, quantity: str, text: str) -> float:
    if spelling:
        value = _unit(spelling, quantity, text).to_si(number)
        if quantity == "temperature" and value < 0.0:
            raise OutsideTable(f"{_said(text)} is below absolute zero", next="check the number and its unit")
        return value
    if quantity == "count":
        if math.isfinite(number) and number != math.floor(number):
            raise BadInput(
                f"{_said(text)} is not a count", allowed="a whole number", next="write a whole number"
            )
        return number
    if quantity == "plain" or (quantity == "fraction" and abs(number) <= 1.0):
        return number
    if quantity == "fraction":
        raise UnitMissing(f"{_said(text)} has no unit", allowed="60 % or 0.60", next="write % after it")
    if number == 0.0 and quantity != "temperature":
        return number
    raise _unit_missing(text, quantity)


def _text(text: object) -> str:
    if not isinstance(text, str):
        raise BadInput(
            f"{_said(str(text))} is not text", allowed="a number with its unit", next="put it in quotes"
        )
    return text


def parse(text: str, quantity: str, *, default_unit: str = "") -> float:
    """SI value of a number with its unit, as written on site.

    Parameters
    ----------
    text : str
        One value: decimals with a point, fractions up to 64ths, feet and inches, a leading sign.
    quantity : str
        A key of ``UNITS``; temperatures are absolute, ``temperature_step`` is a difference.
    default_unit : str
        Unit taken where none is written; empty refuses such a number (a 0 needs none, except as
        a temperature).

    Returns
    -------
    float
        The value. [SI]

    Raises
    ------
    BadInput
        If the text is not one value of that quantity; UnitMissing if its unit is missing.
    OutsideTable
        If the value is too large to be meant, or below absolute zero.

    Examples
    --------
    >>> round(parse("150 psi", "pressure"))
    1034214
    >>> parse("1 h 30 min", "time")
    5400.0
    """
    return _read(_text(text), quantity, default_unit)


def parse_length(text: str, *, default_unit: str = "") -> float:
    """Length of a text in feet and inches, or in any length unit.

    Parameters
    ----------
    text : str
        Such as ``12'-6 1/2"``, ``6-1/2"``, ``12.54 ft``, ``3.2 m``; a leading minus is kept.
    default_unit : str
        Unit taken where none is written.

    Returns
    -------
    float
        The length. [m]

    Raises
    ------
    BadInput
        If the text is not one length; UnitMissing if its unit is missing.
    OutsideTable
        If the length is too large to be meant.

    Examples
    --------
    >>> round(parse_length("12 ft 6 1/2 in"), 5)
    3.8227
    """
    return _read(_text(text), "length", default_unit)


def parse_slope(text: str) -> float:
    """Slope as rise over run.

    Parameters
    ----------
    text : str
        Such as ``1:100``, ``1 in 100``, ``2%``, ``1/4 in per ft``, ``10 mm/m``.

    Returns
    -------
    float
        Rise over run, above 0. [1]

    Raises
    ------
    BadInput
        If the text is not a slope, or is level or negative; UnitMissing for a number alone.
    OutsideTable
        If the slope is too large to be meant.

    Examples
    --------
    >>> parse_slope("1 in 100")
    0.01
    """
    value = _slope(_text(text))
    if not value > 0.0:
        raise BadInput(
            f"{_said(text)} is no slope",
            allowed="a slope above 0",
            next="leave the slope out where the pipe is level, and say up or down for its direction",
        )
    return value


@lru_cache(maxsize=2048)
def _slope(text: str) -> float:
    how = "1:100, 1 in 100, 2%, 1/4 in per ft, 10 mm/m"
    unread = BadInput(
        f"{_said(text)} cannot be read as a slope", allowed=how, next="write the slope this way"
    )
    if not text.strip():
        raise BadInput(
            "nothing stands where a slope is expected", allowed=how, next="write the slope this way"
        )
    if len(text) > LONGEST_TEXT:
        raise unread
    plain = _plainly(text)
    _refuse_commas(plain)
    if m := _SLOPE_RATIO.fullmatch(plain):
        g = m.groups()
        rise, run = _number(g[:4], text), _number(g[4:], text)
    elif plain.endswith("%"):
        rise, run = _read(plain, "fraction", ""), 1.0
    elif (m := _SLOPE_PER.fullmatch(plain)) and not m[1].strip().isdigit():
        rise = parse_length(m[1])
        run = parse_length(f"{m[2] or 1} {m[3]}")
    elif (m := _PLAIN.fullmatch(plain)) and not m[6]:
        raise UnitMissing(f"{_said(text)} alone is not a slope", allowed=how, next="write the slope this way")
    else:
        raise unread
    if not (run > 0.0 and math.isfinite(rise) and math.isfinite(run)):
        raise unread
    return _within(rise / run, text)
