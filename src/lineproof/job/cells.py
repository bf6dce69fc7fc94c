"""Reading the cells of a CSV: one small reader for each kind of value, refusals with row and column."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from typing import TypeVar

from lineproof.floor.errors import BadInput, LineproofError
from lineproof.floor.units import parse
from lineproof.job.files import Row
from lineproof.job.parts import Form
from lineproof.job.toml_words import refuse_word, shorten

T = TypeVar("T")


def read_cell(cells: Row, column: str, how: Callable[[str], T], empty: T) -> T:
    """The value of a cell; an empty cell gives ``empty``."""
    text = cells[column]
    if not text:
        return empty
    try:
        return how(text)
    except LineproofError as error:
        raise type(error)(
            f"column {column}: {error.given}",
            allowed=error.allowed,
            by=error.by,
            next=error.next,
            place=cells.place,
        ) from None


def word_cell(*words: str) -> Callable[[str], str]:
    """A reader of one word out of a list; case and underscores do not matter."""

    def how(text: str) -> str:
        plain = " ".join(text.lower().replace("_", " ").split())
        if plain not in words:
            raise refuse_word("the word", plain, words)
        return plain

    return how


def positive(quantity: str) -> Callable[[str], float]:
    """A reader of a quantity above 0, with its unit."""

    def how(text: str) -> float:
        value = parse(text, quantity)
        if not value > 0.0:
            raise BadInput(
                f"{shorten(text)!r} is not above 0", next="leave the cell empty if it is not known"
            )
        return value

    return how


def not_negative(text: str) -> float:
    """A length of 0 or more, in metres."""
    value = parse(text, "length")
    if value < 0.0:
        raise BadInput(f"{shorten(text)!r} is below 0", next="check the sign")
    return value


def whole(text: str) -> int:
    """A whole number."""
    if not (text.isascii() and text.isdigit() and len(text) <= 7):
        raise BadInput(f"{shorten(text)!r} is not a count", allowed="a whole number")
    return int(text)


def fitting_angle(text: str) -> float:
    """The angle of a fitting in degrees; a plain number is degrees."""
    degrees = round(math.degrees(parse(text, "angle", default_unit="deg")), 6)
    if not 0.0 < degrees < 180.0:
        raise BadInput(
            f"{shorten(text)!r} is not the angle of a fitting", allowed="above 0, below 180 degrees"
        )
    return degrees


def day_text(text: str) -> str:
    """A real date as year-month-day."""
    try:
        if len(text) == 10:
            return date.fromisoformat(text).isoformat()
    except ValueError:
        pass
    raise BadInput(f"{shorten(text)!r} is not a date", allowed="year-month-day, such as 2026-04-13")


def end_forms(text: str) -> tuple[Form, ...]:
    """The forms of the ends of a part, in order."""
    words = text.lower().replace("_", " ").replace(",", " ").split()
    known = [f.value for f in Form]
    forms: list[Form] = []
    i = 0
    while i < len(words):
        word, i = words[i], i + 1
        if word in ("male", "female"):
            word += " thread"
            if i < len(words) and words[i] == "thread":
                i += 1
        if word not in known:
            raise refuse_word("the end", word, known)
        forms.append(Form(word))
    if not 1 <= len(forms) <= 3:
        raise BadInput(f"{len(forms)} ends", allowed="one, two or three ends: in, out, branch")
    return tuple(forms)
