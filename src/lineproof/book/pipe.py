"""Pipe: outside diameter, tolerance, out-of-roundness, wall and bore by size, series and OD family."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.series import series_listed, series_of, tables_of
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

__all__ = [
    "PipeDims",
    "PipeSpec",
    "bore",
    "od",
    "od_tolerance",
    "out_of_round",
    "pipe_dims",
    "series_listed",
    "series_of",
    "tables_of",
    "wall_max",
    "wall_min",
]


@dataclass(frozen=True, slots=True)
class PipeDims:
    """Dimensions of a pipe; None where the table lists none.

    Parameters
    ----------
    od : float
        Outside diameter: average for IPS, smallest mean for metric. [m]
    od_tol_minus, od_tol_plus : float or None
        Tolerance on the average diameter. [m]
    out_of_round : float or None
        Largest less smallest diameter, before shipment. [m]
    wall_min, wall_max : float, float or None
        Wall. [m]
    id_nominal : float
        Bore at ``id_basis``. [m]
    id_basis : str
        ``"min wall"``: bore = OD - 2 x smallest wall, the largest bore.
    id_mid_wall : float or None
        Bore at the middle of the wall tolerance. [m]
    od_table, wall_table : str
        The tables read.
    """

    od: float
    od_tol_minus: float | None
    od_tol_plus: float | None
    out_of_round: float | None
    wall_min: float
    wall_max: float | None
    id_nominal: float
    id_basis: str
    id_mid_wall: float | None
    od_table: str
    wall_table: str


def od(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float:
    """Outside diameter: average for IPS, smallest mean for metric.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Diameter. [m]

    Raises
    ------
    SizeNotListed
        If it is not listed; the neighbours are named.
    """
    table, _ = tables_of(size, spec)
    _must_list(book, table, size.key, size, spec)
    return book.number(table, size.key, "od_mean_min_mm" if size.metric else "od_in", reading)


def od_tolerance(
    book: Book, size: Size, spec: PipeSpec, reading: Reading
) -> tuple[float, float] | tuple[None, None]:
    """Tolerance on the average outside diameter, minus and plus, both as positive numbers.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    tuple of float or None
        Minus and plus. [m]
    """
    table, _ = tables_of(size, spec)
    if size.metric:
        largest = book.maybe_number(table, size.key, "od_mean_max_mm", reading)
        return (None, None) if largest is None else (0.0, largest - od(book, size, spec, reading))
    both = book.maybe_number(table, size.key, "od_tol_in", reading)
    return (None, None) if both is None else (both, both)


def out_of_round(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float | None:
    """Out-of-roundness allowed before shipment: largest less smallest diameter.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Difference of diameters. [m]
    """
    table, _ = tables_of(size, spec)
    if size.metric:
        series = float(series_of(book, size, spec, reading))
        column = "oor_s20_s16_mm" if series >= 16 else "oor_s12p5_s5_mm"
    elif spec.kind == "sdr":
        column = "oor_thin_in" if float(spec.number) >= 21 else "oor_thick_in"
    else:
        from_a = {"40": 3.5, "80": 8.0}.get(spec.number, math.inf)
        column = "oor_a_in" if size.nominal >= from_a else "oor_b_in"
    return book.maybe_number(table, size.key, column, reading)


def _must_list(book: Book, table: str, row: str, size: Size, spec: PipeSpec) -> None:
    if book.has(table, row):
        return
    rest = row.partition("/")[2]
    sizes = sorted(float(k.partition("/")[0]) for k in book.keys(table) if k.partition("/")[2] == rest)
    below = [Size(size.system, s).text for s in sizes if s < size.nominal][-1:]
    above = [Size(size.system, s).text for s in sizes if s > size.nominal][:1]
    series = ", ".join(series_listed(book, size, spec.material))
    raise SizeNotListed(
        f"{size.text} {spec.text} is not listed",
        allowed=" or ".join(below + above) + (f"; for {size.text}: {series}" if series else ""),
        by=str(book.table(table).source),
        next="check size and series on the drawing, or measure the pipe and enter what you measured",
    )


def _wall_row(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> tuple[str, str]:
    _, table = tables_of(size, spec)
    series = series_of(book, size, spec, reading) if size.metric else spec.number
    return table, f"{size.key}/{series}"


def wall_min(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float:
    """Smallest wall.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Wall. [m]

    Raises
    ------
    SizeNotListed
        If it is not listed; the neighbours are named.
    """
    table, row = _wall_row(book, size, spec, reading)
    _must_list(book, table, row, size, spec)
    return book.number(table, row, "wall_min_mm" if size.metric else "wall_min_in", reading)


def wall_max(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float | None:
    """Largest wall, by a tolerance rule from memory.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Wall. [m]
    """
    table, row = _wall_row(book, size, spec, reading)
    return book.maybe_number(table, row, "wall_max_mm" if size.metric else "wall_max_in", reading)


def bore(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float:
    """Largest bore: outside diameter less twice the smallest wall.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read; diameter and wall only, no tolerance.

    Returns
    -------
    float
        Bore. [m]
    """
    return od(book, size, spec, reading) - 2 * wall_min(book, size, spec, reading)


def pipe_dims(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> PipeDims:
    """Everything the tables say about a pipe; logs tolerances too.

    For an answer that needs less, ask ``od``, ``wall_min`` or ``bore``: then nothing from memory
    weakens it that it did not use.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.
    reading : Reading
        The log of what is read.

    Returns
    -------
    PipeDims
        The dimensions.

    Raises
    ------
    SizeNotListed
        If diameter or wall is not listed; the neighbours are named.
    """

    def find(log: Reading) -> PipeDims:
        tables = tables_of(size, spec)
        outside = od(book, size, spec, log)
        wall = wall_min(book, size, spec, log)
        thick = wall_max(book, size, spec, log)
        minus, plus = od_tolerance(book, size, spec, log)
        return PipeDims(
            od=outside,
            od_tol_minus=minus,
            od_tol_plus=plus,
            out_of_round=out_of_round(book, size, spec, log),
            wall_min=wall,
            wall_max=thick,
            id_nominal=outside - 2 * wall,
            id_basis="min wall",
            id_mid_wall=None if thick is None else outside - wall - thick,
            od_table=tables[0],
            wall_table=tables[1],
        )

    return book.once(("pipe_dims", size, spec), reading, find)
