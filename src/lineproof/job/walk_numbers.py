"""Writing the numbers of a walk so that they read back as exactly the same value."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from lineproof.book.sizes import Size
from lineproof.floor.errors import LineproofError
from lineproof.floor.units import INCH, Shown, parse, parse_length, parse_slope, show_length
from lineproof.job.walk_values import FOOT, station

_US = replace(Shown.us(), inch_step=64)
_METRIC = replace(Shown.metric(), mm_step=0.001)


def _plain(value: float) -> str:
    """Write a float in full, without an exponent."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _rounded(value: float, most: int) -> Iterator[str]:
    """Yield shorter and longer decimals of a value that is near a round one."""
    for places in range(most + 1):
        text = f"{value:.{places}f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        yield text


def _first(value: float, texts: Iterator[str], read: Callable[[str], float]) -> str:
    """Return the first text that reads back as the value."""
    for text in texts:
        try:
            if read(text) == value:
                return text
        except LineproofError:
            continue
    return ""


@lru_cache(maxsize=8192)
def _length(value: float, metric: bool) -> str:
    if value == 0:
        return "0"
    if value < 0:
        return "-" + _length(-value, metric)

    def feet() -> Iterator[str]:
        yield show_length(value, _US)
        for text in _rounded(value / FOOT, 4):
            yield f"{text}ft"
        for text in _rounded(value / INCH, 4):
            yield f'{text}"'

    def metres() -> Iterator[str]:
        yield show_length(value, _METRIC)
        for text in _rounded(value, 4):
            yield f"{text} m"

    first, second = (metres, feet) if metric else (feet, metres)
    return (
        _first(value, first(), parse_length) or _first(value, second(), parse_length) or f"{_plain(value)} m"
    )


@dataclass(frozen=True, slots=True)
class Numbers:
    """How the numbers of a line are written.

    Every text reads back as the same float: feet and inches to 1/64, or millimetres, where they hit it,
    else as many decimals as it takes.

    Parameters
    ----------
    metric : bool
        Millimetres first, else feet and inches first.
    stations_metric : bool
        Stations in thousands of metres, else in hundreds of feet; goes by the size of the line.
    """

    metric: bool = False
    stations_metric: bool = False

    def length(self, value: float) -> str:
        """Write a length or coordinate. [m]"""
        return _length(value, self.metric)

    def size(self, value: Size) -> str:
        """Write a size, such as ``12in`` or ``d315``."""
        return value.text.replace(" in", "in")

    def slope(self, value: float) -> str:
        """Write a slope, such as ``1:100``. [1]"""

        def texts() -> Iterator[str]:
            for run in _rounded(1.0 / value, 3):
                yield f"1:{run}"
            for percent in _rounded(100.0 * value, 4):
                yield f"{percent}%"

        return _first(value, texts(), parse_slope) or f"{_plain(value)}:1"

    def angle(self, value: float) -> str:
        """Write an angle in degrees, or in radians if no short figure of degrees hits it. [rad]"""

        def read(text: str) -> float:
            return parse(text, "angle", default_unit="deg")

        return _first(value, _rounded(math.degrees(value), 6), read) or f"{_plain(value)} rad"

    def station(self, value: float) -> str:
        """Write a station, such as ``12+40``. [m]"""
        unit, hundred = (1.0, 1000) if self.stations_metric else (FOOT, 100)
        figures = len(str(hundred)) - 1

        def texts() -> Iterator[str]:
            for text in _rounded(abs(value) / unit, 4):
                whole, _, rest = text.partition(".")
                big, small = divmod(int(whole), hundred)
                yield f"{'-' * (value < 0)}{big}+{small:0{figures}d}{'.' + rest if rest else ''}"

        found = _first(value, texts(), lambda text: station(text, self.stations_metric))
        return found or f"{_plain(value)} m"
