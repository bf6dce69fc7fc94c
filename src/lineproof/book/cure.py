"""Handling and cure rows of a standard, to show beside a cement card. Nothing is extrapolated.

The cement card, the container and the approved procedure govern; these rows never release anything.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.book.table import to_si
from lineproof.floor.sources import Cell, Reading

_HANDLING = "astm_d2855_1996_handling"
_CURE = "astm_d2855_1996_cure"
_COLDEST = to_si("t_degF", 10)
_TINY = 1e-6


@dataclass(frozen=True, slots=True)
class StandardRow:
    """One printed wait.

    Parameters
    ----------
    cell : Cell
        The wait as printed, in hours.
    wait : float
        The wait, with the wet-air factor where it applies. [s]
    wet_air_factor : float
        1, or the factor above the printed humidity.
    """

    cell: Cell
    wait: float
    wet_air_factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardCell:
    """One row of the standard with the bands it is printed for.

    Parameters
    ----------
    table, key : str
        Where it stands.
    wait : float
        As printed. [s]
    nps_lo, nps_hi : float
        Both belong to it. [NPS]
    temp_lo, temp_hi : float
        [K]
    pressure_lo, pressure_hi : float
        Above the first, up to the second; the same everywhere for handling. [Pa]
    humidity : float
        Up to which it holds as printed. [-]
    wet_air_factor : float
        Above that humidity. [-]
    """

    table: str
    key: str
    wait: float
    nps_lo: float
    nps_hi: float
    temp_lo: float
    temp_hi: float
    pressure_lo: float
    pressure_hi: float
    humidity: float
    wet_air_factor: float


def standard_cells(book: Book, *, cure: bool) -> tuple[StandardCell, ...]:
    """All rows of the standard for handling or for cure; nothing is logged as read.

    Parameters
    ----------
    book : Book
        The tables.
    cure : bool
        Cure before pressure, else handling.

    Returns
    -------
    tuple of StandardCell
    """
    table = _CURE if cure else _HANDLING

    def at(key: str, column: str) -> float:
        return to_si(column, book.plain(table, key, column))

    return tuple(
        StandardCell(
            table=table,
            key=key,
            wait=at(key, "wait_h"),
            nps_lo=at(key, "nps_lo"),
            nps_hi=at(key, "nps_hi"),
            temp_lo=max(at(key, "temp_lo_degF"), _COLDEST),
            temp_hi=at(key, "temp_hi_degF"),
            pressure_lo=at(key, "pressure_lo_psi") if cure else 0.0,
            pressure_hi=at(key, "pressure_hi_psi") if cure else math.inf,
            humidity=at(key, "rh_max_pct") if cure else 1.0,
            wet_air_factor=at(key, "wet_air_factor") if cure else 1.0,
        )
        for key in book.keys(table)
    )


def handling_row(
    book: Book, size: Size, temperature: float | None, reading: Reading, *, material: str = "pvc"
) -> StandardRow | None:
    """When a joint may be moved, by the standard: PVC, to NPS 8, 10 to 100 F.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the joint.
    temperature : float or None
        Joint temperature. [K]
    reading : Reading
        The log of what is read.
    material : str
        ``"pvc"``; no row is carried for CPVC.

    Returns
    -------
    StandardRow or None
        The row; on the border of two bands the colder, longer one. None where none is carried.
    """
    row = _longest(book, _HANDLING, size, temperature, material)
    return None if row is None else _row(book, _HANDLING, row, reading, 1.0)


def cure_row(
    book: Book,
    size: Size,
    temperature: float | None,
    pressure: float | None,
    humidity: float | None,
    reading: Reading,
    *,
    material: str = "pvc",
) -> StandardRow | None:
    """Cure before pressure, by the standard: PVC, to NPS 8, 10 to 100 F, to 370 or 315 psi.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the joint.
    temperature : float or None
        Joint temperature. [K]
    pressure : float or None
        Gauge pressure at the joint. [Pa]
    humidity : float or None
        Relative humidity, 0 to 1; None is not known and gives no row. [-]
    reading : Reading
        The log of what is read.
    material : str
        ``"pvc"``; no row is carried for CPVC.

    Returns
    -------
    StandardRow or None
        The row; on a border of temperature the colder, longer one. None where none is carried.
    """
    if pressure is None or humidity is None or not 0 <= humidity <= 1:
        return None
    row = _longest(book, _CURE, size, temperature, material, pressure)
    if row is None:
        return None
    damp = humidity > book.number(_CURE, row, "rh_max_pct", reading) + _TINY
    factor = book.number(_CURE, row, "wet_air_factor", reading) if damp else 1.0
    return _row(book, _CURE, row, reading, factor)


def _longest(
    book: Book,
    table: str,
    size: Size,
    temperature: float | None,
    material: str,
    pressure: float | None = None,
) -> str | None:
    if size.metric or material != "pvc" or temperature is None or temperature < _COLDEST - _TINY:
        return None
    fits = []
    for key in book.keys(table):

        def at(column: str, key: str = key) -> float:
            return to_si(column, book.plain(table, key, column))

        in_size = at("nps_lo") <= size.nominal <= at("nps_hi")
        in_heat = at("temp_lo_degF") - _TINY <= temperature <= at("temp_hi_degF") + _TINY
        in_load = pressure is None or (
            (at("pressure_lo_psi") < pressure - _TINY or (pressure <= _TINY and at("pressure_lo_psi") == 0))
            and pressure <= at("pressure_hi_psi") + _TINY
        )
        if in_size and in_heat and in_load:
            fits.append((at("wait_h"), key))
    return max(fits)[1] if fits else None


def _row(book: Book, table: str, row: str, reading: Reading, factor: float) -> StandardRow:
    wait = book.number(table, row, "wait_h", reading)
    return StandardRow(book.cell(table, row, "wait_h", reading), wait * factor, factor)
