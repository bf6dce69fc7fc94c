"""Valid ranges of the sums: one line a limit, one clear error when a value lies outside it."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable


def _outside(name: str, value: float, allowed: str, unit: str) -> OutsideTable:
    shown = "" if unit in {"-", ""} else f" {unit}"
    return OutsideTable(
        f"{name} = {value:g}{shown}",
        allowed=allowed.replace("@", shown),
        by="the valid range of this sum",
        next=f"check the {name.replace('_', ' ')} and its unit",
    )


def positive(name: str, value: float, *, unit: str) -> None:
    """Refuse a value that is not above zero, or not a finite number.

    Parameters
    ----------
    name : str
        Argument name, for the error.
    value : float
        Value to look at. [SI]
    unit : str
        Unit, for the error.

    Raises
    ------
    OutsideTable
        If the value is zero, negative, infinite or not a number.
    """
    if not 0.0 < value < math.inf:
        raise _outside(name, value, "above 0@", unit)


def not_negative(name: str, value: float, *, unit: str) -> None:
    """Refuse a value below zero, or not a finite number.

    Parameters
    ----------
    name : str
        Argument name, for the error.
    value : float
        Value to look at. [SI]
    unit : str
        Unit, for the error.

    Raises
    ------
    OutsideTable
        If the value is negative, infinite or not a number.
    """
    if not 0.0 <= value < math.inf:
        raise _outside(name, value, "0@ or more", unit)


def between(name: str, value: float, *, low: float, high: float, unit: str) -> None:
    """Refuse a value outside low to high, ends allowed.

    Parameters
    ----------
    name : str
        Argument name, for the error.
    value : float
        Value to look at. [SI]
    low : float
        Lowest value allowed. [SI]
    high : float
        Highest value allowed. [SI]
    unit : str
        Unit, for the error.

    Raises
    ------
    OutsideTable
        If the value lies outside or is not a number.
    """
    if not low <= value <= high:
        raise _outside(name, value, f"{low:g} to {high:g}@", unit)


def finite(name: str, value: float, *, unit: str) -> None:
    """Refuse infinity and not-a-number.

    Parameters
    ----------
    name : str
        Argument name, for the error.
    value : float
        Value to look at. [SI]
    unit : str
        Unit, for the error.

    Raises
    ------
    OutsideTable
        If the value is infinite or not a number.
    """
    if not math.isfinite(value):
        raise _outside(name, value, "a finite number", unit)


def whole(name: str, value: float, *, low: int) -> None:
    """Refuse a count that is not a whole number, or below the lowest.

    Parameters
    ----------
    name : str
        Argument name, for the error.
    value : float
        Count to look at. [-]
    low : int
        Lowest count allowed.

    Raises
    ------
    OutsideTable
        If the count is not whole or too small.
    """
    if not low <= value < math.inf or value != int(value):
        raise _outside(name, value, f"a whole number, {low} or more", "-")


def narrowing(entrance: float, bottom: float) -> None:
    """Refuse a socket that does not narrow from its entrance to its bottom.

    Parameters
    ----------
    entrance : float
        Socket diameter at the entrance. [m]
    bottom : float
        Socket diameter at the bottom. [m]

    Raises
    ------
    OutsideTable
        If a diameter is not positive, or the entrance is not the wider one.
    """
    positive("entrance", entrance, unit="m")
    positive("bottom", bottom, unit="m")
    if not entrance > bottom:
        raise OutsideTable(
            f"entrance {entrance:g} m is not wider than bottom {bottom:g} m",
            allowed="a socket that narrows inward",
            by="the valid range of this sum",
            next="use the gap at mid depth for a parallel or metric socket",
        )
