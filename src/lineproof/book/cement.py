"""Cement bodies, applicators, crew, pull-in, bevel and hold by size; working time.

The approved procedure, the container and the crew's measured factor beat every row here.
"""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.book.table import to_si
from lineproof.floor.sources import Reading

_BODIES = "astm_d2564_cement_bodies"
_IN_MM = 25.4


@dataclass(frozen=True, slots=True)
class CementBody:
    """The lightest cement body whose size limit covers a joint.

    Parameters
    ----------
    body : str
        ``"regular"``, ``"medium"`` or ``"heavy"``.
    film : float
        Smallest wet film. [m]
    viscosity : float
        Smallest viscosity. [Pa s]
    """

    body: str
    film: float
    viscosity: float


def body_needed(book: Book, size: Size, reading: Reading) -> CementBody | None:
    """The lightest body whose size limit covers the joint; a wide gap asks for a heavier one.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the socket; a d size counts as d/25.4 in, which never gives a lighter body
        than its outside diameter would.
    reading : Reading
        The log of what is read.

    Returns
    -------
    CementBody or None
        None above NPS 12: written instructions are needed.
    """
    inches = size.nominal / _IN_MM if size.metric else size.nominal
    for body in book.keys(_BODIES):
        if inches <= book.plain(_BODIES, body, "max_nps"):
            book.cell(_BODIES, body, "max_nps", reading)
            return cement_body(book, body, reading)
    return None


def cement_body(book: Book, body: str, reading: Reading) -> CementBody:
    """Film and viscosity of a body.

    Parameters
    ----------
    book : Book
        The tables.
    body : str
        ``"regular"``, ``"medium"`` or ``"heavy"``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    CementBody
        The body.

    Raises
    ------
    SizeNotListed
        If there is no such body.
    """
    return CementBody(
        body=body,
        film=book.number(_BODIES, body, "wet_film_min_in", reading),
        viscosity=book.number(_BODIES, body, "viscosity_min_cP", reading),
    )


def applicator_width(book: Book, diameter: float, reading: Reading) -> float:
    """Width of the applicator: about half the pipe diameter.

    Parameters
    ----------
    book : Book
        The tables.
    diameter : float
        Outside diameter of the pipe. [m]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Width, about; the tool list limits it. [m]
    """
    return diameter * book.number("applicator_rule", "width", "share_of_diameter", reading)


def brush_width(book: Book, size: Size, reading: Reading) -> float | None:
    """Brush for a metric size by the association instruction; None where none is printed.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Width. [m]
    """
    table = "brush_by_size_a117"
    row = band(book, table, size.nominal, "d_lo_mm", "d_hi_mm") if size.metric else None
    if row is None:
        return None
    inch = book.maybe_number(table, row, "width_in", reading)
    return inch if inch is not None else book.maybe_number(table, row, "width_mm", reading)


@dataclass(frozen=True, slots=True)
class Crew:
    """People per joint: the procedure's rule as a floor, before the working time asks for more."""

    fewest: int
    most: int


def crew(book: Book, size: Size, reading: Reading) -> Crew | None:
    """People per joint by size.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size; a d size counts as d/25.4 in, rounded up to the next listed band.
    reading : Reading
        The log of what is read.

    Returns
    -------
    Crew or None
        None above NPS 24.
    """
    table = "crew_by_size"
    inches = size.nominal / _IN_MM if size.metric else size.nominal
    for row in book.keys(table):
        if inches <= book.plain(table, row, "nps_hi"):
            return Crew(
                int(book.number(table, row, "people_fewest", reading)),
                int(book.number(table, row, "people_most", reading)),
            )
    return None


def pull_in(book: Book, size: Size, reading: Reading) -> bool | None:
    """Whether a pull-in device is called for: above NPS 6, from d160.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    reading : Reading
        The log of what is read.

    Returns
    -------
    bool or None
        None above the sizes named.
    """
    table = "pull_in_by_size"
    if size.nominal > book.plain(table, size.system, "size_hi"):
        return None
    if size.metric:
        return size.nominal >= book.number(table, size.system, "size_from", reading)
    return size.nominal > book.number(table, size.system, "size_over", reading)


@dataclass(frozen=True, slots=True)
class Bevel:
    """Bevel of a pipe end: angle to the axis [rad] and length [m], both from and to."""

    angle_min: float
    angle_max: float
    length_min: float
    length_max: float


def bevel(book: Book, size: Size, reading: Reading) -> Bevel | None:
    """Bevel of the pipe end by size; None where none is listed.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    reading : Reading
        The log of what is read.

    Returns
    -------
    Bevel or None
        The bevel.
    """
    table = "bevel_by_size"
    unit = "mm" if size.metric else "in"
    for row in book.keys(table):
        here = row.startswith(size.system + "/")
        if here and book.plain(table, row, "size_lo") <= size.nominal <= book.plain(table, row, "size_hi"):
            return Bevel(
                angle_min=book.number(table, row, "angle_min_deg", reading),
                angle_max=book.number(table, row, "angle_max_deg", reading),
                length_min=book.number(table, row, f"length_min_{unit}", reading),
                length_max=book.number(table, row, f"length_max_{unit}", reading),
            )
    return None


def hold(book: Book, size: Size, reading: Reading) -> tuple[float, float] | None:
    """How long a joint is held after homing, from and to; the cement card governs.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size; a d size counts as d/25.4 in.
    reading : Reading
        The log of what is read.

    Returns
    -------
    tuple of float or None
        Shortest and longest; between two bands the longer one. [s]
    """
    table = "hold_by_size"
    inches = size.nominal / _IN_MM if size.metric else size.nominal
    for row in book.keys(table):
        if row != "all" and inches <= book.plain(table, row, "nps_hi"):
            return (
                book.number(table, row, "hold_min_s", reading),
                book.number(table, row, "hold_max_s", reading),
            )
    return None


def working_time(book: Book, temperature: float, reading: Reading) -> float | None:
    """Working time of a 1 mm film of THF cement for PVC-U: an upper bound, the next hotter row.

    Parameters
    ----------
    book : Book
        The tables.
    temperature : float
        Air temperature. [K]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Time; None above 40 C (printed as under one minute: do not start). [s]
    """
    table = "working_time_1mm_film"
    for row in book.keys(table):
        if to_si("temp_degC", book.plain(table, row, "temp_degC")) >= temperature - 1e-6:
            return book.maybe_number(table, row, "time_minutes", reading)
    return None


def band(book: Book, table: str, nominal: float, low: str, high: str) -> str | None:
    """The row whose band holds a size, or None; for finding the row, so not logged.

    Parameters
    ----------
    book : Book
        The tables.
    table : str
        Name of the table.
    nominal : float
        Nominal size. [number of the name]
    low, high : str
        Columns with the ends of the band.

    Returns
    -------
    str or None
        Key of the row.
    """
    for row in book.keys(table):
        if book.plain(table, row, low) <= nominal <= book.plain(table, row, high):
            return row
    return None
