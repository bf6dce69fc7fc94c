"""Short words of the papers: sizes, pipe, places, clock positions, times, state signs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from lineproof.book.sizes import Size
from lineproof.desk.words import ENGLISH, words_of
from lineproof.desk.words_pipe import pipe_words as pipe_words
from lineproof.desk.words_pipe import series_words as series_words
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown, show, show_inches, show_length
from lineproof.job.parts import PartKind
from lineproof.plan.model import PieceEnd, Turned
from lineproof.plan.names import short

BLANK = ""
NOT_KNOWN = "cannot tell"
"""What stands where a number is missing."""


def length(value: float | None, shown: Shown) -> str:
    """A length in feet and inches or millimetres; empty if it is not known. [m]"""
    return BLANK if value is None or not math.isfinite(value) else show_length(value, shown)


def inches(value: float | None, shown: Shown) -> str:
    """A length without feet; empty if it is not known. [m]"""
    return BLANK if value is None or not math.isfinite(value) else show_inches(value, shown)


def diameter(value: float | None, shown: Shown) -> str:
    """A diameter as measured: thousandths of an inch or tenths of a millimetre. [m]"""
    return BLANK if value is None else show(value, "length", shown, digits=3 if shown.length == "in" else 1)


def quantity(value: float | None, name: str, shown: Shown) -> str:
    """Any quantity with its unit; empty if it is not known. [SI]"""
    return BLANK if value is None or not math.isfinite(value) else show(value, name, shown)


def volume(value: float | None, shown: Shown) -> str:
    """A volume of cement or primer: fluid ounces or millilitres when it is small. [m3]"""
    if value is None:
        return BLANK
    small = "fl oz" if shown.volume == "gal" else "mL"
    factor = 29.5735295625e-6 if small == "fl oz" else 1e-6
    amount = value / factor
    if amount >= (128 if small == "fl oz" else 1000):
        return show(value, "volume", shown)
    return f"{amount:.0f} {small}" if amount >= 10 else f"{amount:.1f} {small}"


def wait(value: float | None, shown: Shown) -> str:
    """A time to wait, rounded up to the whole second, minute or hour. [s]"""
    if value is None:
        return BLANK
    step = 1.0 if value < 120 else 60.0 if value < 7200 else 3600.0
    return show(math.ceil(value / step - 1e-9) * step, "time", shown)


def clock(angle: float) -> str:
    """Clock position of an angle from the top line, to the nearest five minutes. [rad]

    Examples
    --------
    >>> clock(math.pi / 2), clock(0.0), clock(math.radians(15))
    ('3:00', '12:00', '12:30')
    """
    minutes = round(angle / (2 * math.pi) * 720 / 5) * 5 % 720
    hour = minutes // 60 or 12
    return f"{hour}:{minutes % 60:02d}"


def turned(mark: Turned, shown: Shown) -> str:
    """A rotation mark: feature, arc length from the top line, clock position."""
    arc = inches(mark.arc, shown)
    return f"{mark.feature}: {arc + ' = ' if arc else ''}{clock(mark.angle)}"


def goes_into(end: PieceEnd, line: str, told: Sheets | None = None) -> str:
    """What an end of a piece of a line meets: the part's short name, a bell, the next piece, or nothing."""
    told = told or Sheets(Shown.us())
    if end.bell:
        return told("factory_bell")
    if not end.part:
        return told("open_end")
    if "#" in end.part:
        return told("next_bell")
    other = end.part.rsplit("/", 1)[0]
    mine = other in (line, end.part)
    return short(end.part) if mine else told("of", part=short(end.part), line=other)


def kind_sizes(kind: PartKind | str, angle_deg: float, size: Size | None, size2: Size | None) -> str:
    """A fitting's kind, angle and sizes: ``elbow 90, 12 in``."""
    word = kind.value if isinstance(kind, PartKind) else str(kind)
    word = "standing end" if word == "ground" else word
    angle = f" {angle_deg:g}" if angle_deg else ""
    sizes = "" if size is None else f", {size.text}" + ("" if size2 is None else f" x {size2.text}")
    return f"{word}{angle}{sizes}"


def moment(when: datetime, zone: ZoneInfo) -> str:
    """A moment in the site's time: ``Mon 19 Apr 2027 08:05``; English whatever the machine speaks."""
    local = when.astimezone(zone)
    day = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[local.weekday()]
    month = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")[
        local.month - 1
    ]
    return f"{day} {local.day} {month} {local.year} {local:%H:%M}"


def piece_name(piece_id: str) -> str:
    """A piece as said: ``B-201 C``."""
    return piece_id.replace("/", " ")


def listed(names: Sequence[str], most: int = 8, between: str = ", ", language: str = ENGLISH) -> str:
    """Names in a row, the rest counted."""
    shown = between.join(names[:most])
    rest = len(names) - most
    return shown if rest <= 0 else f"{shown} {words_of(language)['and_more'].format(n=rest)}"


def plural(count: int, one: str, many: str = "") -> str:
    """``1 piece``, ``3 pieces``."""
    return f"{count} {one if count == 1 else many or one + 's'}"
