"""Shapes that fields of a body must have: each a function that says in words what is wrong, or nothing."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from lineproof.logbook.entry import is_decimal, is_moment, is_seal, is_uuid

Shape = Callable[[object, str], list[str]]
"""Takes a value and the name of its field; gives one sentence for each fault."""

LONGEST = 4000  # letters of a note
_UNITS = {
    "temperature": "K", "pressure": "Pa", "length": "m", "speed": "m/s", "fraction": "1", "volume": "m3",
}  # fmt: skip


def _said(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."


def text(value: object, at: str) -> list[str]:
    """Any text a person typed, not empty."""
    if isinstance(value, str) and value.strip() and len(value) <= LONGEST:
        return []
    return [f"{at} is {_said(value)}; allowed: a text of up to {LONGEST} letters"]


def name(value: object, at: str) -> list[str]:
    """A short name on one line: a joint, a lot, a section."""
    if isinstance(value, str) and value.strip() and len(value) <= 120 and value.isprintable():
        return []
    return [f"{at} is {_said(value)}; allowed: a name on one line, up to 120 letters"]


def person(value: object, at: str) -> list[str]:
    """The UUID of a person."""
    return [] if is_uuid(value) else [f"{at} is {_said(value)}; allowed: the UUID of a person"]


def entry_id(value: object, at: str) -> list[str]:
    """The id of another entry."""
    return [] if is_uuid(value) else [f"{at} is {_said(value)}; allowed: the id of an entry"]


def digest(value: object, at: str) -> list[str]:
    """A SHA-256."""
    return [] if is_seal(value) else [f"{at} is {_said(value)}; allowed: a SHA-256, 64 hex figures"]


def when(value: object, at: str) -> list[str]:
    """A moment."""
    good = "UTC such as 2026-11-22T09:38:00.000000Z"
    return [] if is_moment(value) else [f"{at} is {_said(value)}; allowed: {good}"]


def day(value: object, at: str) -> list[str]:
    """A day of the calendar."""
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", value, re.ASCII):
        if is_moment(f"{value}T00:00:00.000000Z"):
            return []
    return [f"{at} is {_said(value)}; allowed: a day such as 2026-11-22"]


def yes_no(value: object, at: str) -> list[str]:
    """True or false."""
    return [] if isinstance(value, bool) else [f"{at} is {_said(value)}; allowed: true or false"]


def decimal(value: object, at: str) -> list[str]:
    """A number as decimal text."""
    return [] if is_decimal(value) else [f"{at} is {_said(value)}; allowed: a decimal text such as '1.5'"]


def whole(least: int, most: int) -> Shape:
    """A whole number within limits.

    Parameters
    ----------
    least, most : int
        The limits, both allowed. [-]

    Returns
    -------
    Shape
    """

    def shape(value: object, at: str) -> list[str]:
        if type(value) is int and least <= value <= most:
            return []
        return [f"{at} is {_said(value)}; allowed: a whole number from {least} to {most}"]

    return shape


def one_of(*words: str) -> Shape:
    """One word out of a list."""

    def shape(value: object, at: str) -> list[str]:
        if isinstance(value, str) and value in words:
            return []
        return [f"{at} is {_said(value)}; allowed: {', '.join(words)}"]

    return shape


def measure(quantity: str) -> Shape:
    """A value as typed with its SI value beside it: ``{"typed": "72 F", "si": "295.372", "unit": "K"}``.

    Parameters
    ----------
    quantity : str
        temperature, pressure, length, speed, fraction or volume.

    Returns
    -------
    Shape
    """
    unit = _UNITS[quantity]

    def shape(value: object, at: str) -> list[str]:
        if not isinstance(value, Mapping) or set(value) != {"typed", "si", "unit"}:
            return [f"{at} is {_said(value)}; allowed: what was typed, its SI value and the SI unit"]
        faults = text(value["typed"], f"{at} as typed") + decimal(value["si"], f"{at} in SI")
        if value["unit"] != unit:
            faults.append(f"{at} has the unit {_said(value['unit'])}; allowed: {unit}")
        if not faults and quantity == "temperature" and not 0.0 < float(str(value["si"])) < 1000.0:
            faults.append(f"{at} is {value['si']} K; allowed: above 0 and below 1000 K")
        return faults

    return shape


def several(inner: Shape, *, least: int = 0) -> Shape:
    """A list, each of one shape."""

    def shape(value: object, at: str) -> list[str]:
        if not isinstance(value, list | tuple) or len(value) < least:
            return [f"{at} is {_said(value)}; allowed: a list" + (f" of at least {least}" if least else "")]
        return [fault for i, each in enumerate(value, 1) for fault in inner(each, f"{at} {i}")]

    return shape


def by_name(inner: Shape) -> Shape:
    """Names, each with a value of one shape."""

    def shape(value: object, at: str) -> list[str]:
        if not isinstance(value, Mapping):
            return [f"{at} is {_said(value)}; allowed: names with values"]
        return [fault for key, each in value.items() for fault in inner(each, f"{at} {key}")]

    return shape


def anything(value: object, at: str) -> list[str]:
    """Whatever an entry can hold."""
    del value, at
    return []


def fields(needed: Mapping[str, Shape], also: Mapping[str, Shape] | None = None) -> Shape:
    """A set of fields: those needed, those that may be there, and no other.

    Parameters
    ----------
    needed, also : mapping
        Field name to shape.

    Returns
    -------
    Shape
    """
    known = {**needed, **(also or {})}

    def shape(value: object, at: str) -> list[str]:
        if not isinstance(value, Mapping):
            return [f"{at} is {_said(value)}; allowed: {', '.join(known)}"]
        inside = f"{at} " if at else ""
        faults = [f"{inside}{name} is missing" for name in needed if name not in value]
        for key, each in value.items():
            if key in known:
                faults += known[key](each, f"{inside}{key}")
            else:
                faults.append(f"{inside}{_said(key)} is not a field of it; allowed: {', '.join(known)}")
        return faults

    return shape
