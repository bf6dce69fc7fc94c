"""Writing a value with its unit so that it reads back as the same value, as short as that allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from lineproof.floor.units import UNITS, Shown, parse, show_length

_SIXTY_FOURTHS = replace(Shown.us(), inch_step=64)
_SI = {"length": "m", "pressure": "Pa", "temperature": "K", "mass": "kg", "angle": "rad", "volume": "m3"}
_US = {"length": "in", "pressure": "psi", "temperature": "F", "mass": "lb", "angle": "deg", "volume": "qt"}
_METRIC = {"length": "mm", "pressure": "bar", "temperature": "C", "mass": "kg", "angle": "deg", "volume": "L"}


@lru_cache(maxsize=8192)
def exact_text(value: float, quantity: str, *, metric: bool = False) -> str:
    """Text of an SI value that ``parse`` reads back as exactly the same value.

    Parameters
    ----------
    value : float
        Finite. [SI]
    quantity : str
        ``length``, ``pressure``, ``temperature``, ``mass``, ``angle`` or ``volume``.
    metric : bool
        Millimetres and bar, or inches and psi, where they hold the value exactly.

    Returns
    -------
    str
        The number with its unit; in the SI unit where no short text of the unit asked is exact.

    Examples
    --------
    >>> exact_text(0.1651, "length")
    '6 1/2"'
    >>> exact_text(0.1651, "length", metric=True)
    '165.1 mm'
    """
    for text in _texts(value, quantity, metric):
        if parse(text, quantity) == value:
            return text
    return f"{value!r} {_SI[quantity]}"


def _texts(value: float, quantity: str, metric: bool) -> Iterator[str]:
    if quantity == "length" and not metric:
        yield show_length(value, _SIXTY_FOURTHS, feet=False)
    name = (_METRIC if metric else _US)[quantity]
    number = UNITS[quantity][name].from_si(value)
    for digits in (4, 6, 9, 12, 15, 16, 17):
        yield f"{number:.{digits}g} {name}"
