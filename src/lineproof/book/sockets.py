"""Sockets: tapered (IPS) and parallel (metric), their diameters and smallest depth."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

TAPER_IPS = "taper-ips"
PARALLEL_METRIC = "parallel-metric"
TAPER_METRIC = "taper-metric"

_FITTINGS = {
    ("pvc", "sch40"): "astm_d2466_sockets",
    ("pvc", "sch80"): "astm_d2467_sockets",
    ("cpvc", "sch40"): "astm_f438_sockets",
    ("cpvc", "sch80"): "astm_f439_sockets",
}
_METRIC = "iso727_1_2002_sockets"
_BELLS = "astm_d2672_bells"
_BAND = "socket_band_nps14_24"
_MEASURE = "measure the fitting: entrance, bottom and depth to the stop"


@dataclass(frozen=True, slots=True)
class SocketDims:
    """Dimensions of a socket; None where the table lists none.

    Parameters
    ----------
    kind : str
        ``"taper-ips"``, ``"parallel-metric"`` or ``"taper-metric"`` (mouth and root measured).
    entrance, bottom : float or None
        Inside diameters of a taper. [m]
    dia_tol : float or None
        Tolerance on both, plus and minus. [m]
    mid_bore_min, mid_bore_max : float or None
        Mean bore at mid depth of a metric socket. [m]
    out_of_round : float or None
        Largest less smallest diameter. [m]
    depth_min : float or None
        Smallest depth in the standard; never taken off a taped centre-to-face. [m]
    table : str
        The table read.
    """

    kind: str
    entrance: float | None
    bottom: float | None
    dia_tol: float | None
    mid_bore_min: float | None
    mid_bore_max: float | None
    out_of_round: float | None
    depth_min: float | None
    table: str


def socket_table(size: Size, spec: PipeSpec) -> str:
    """The table of sockets for a fitting; ``spec`` is the fitting's, not the pipe's.

    Parameters
    ----------
    size : Size
        Nominal size of the socket.
    spec : PipeSpec
        Material and series of the fitting.

    Returns
    -------
    str
        Name of the table.

    Raises
    ------
    SizeNotListed
        If no table is carried.
    """
    if size.metric:
        return _METRIC
    table = _FITTINGS.get((spec.material, spec.series))
    if table is None or spec.od_family != "ips":
        raise SizeNotListed(
            f"no table of sockets is carried for {spec.text} ({spec.od_family})",
            allowed="fittings of sch40 or sch80, and metric; fittings on SDR pipe are one of the two",
            next="say the series of the fitting, or " + _MEASURE,
        )
    return table


def _check_large(size: Size, table: str, book: Book) -> None:
    if not book.has(table, size.key):
        last = book.keys(table)[-1]
        raise SizeNotListed(
            f"sockets of {size.text} are not listed",
            allowed=f"sizes to {Size(size.system, float(last)).text}",
            by=str(book.table(table).source),
            next=_MEASURE,
        )


def socket_dims(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> SocketDims:
    """Everything the table says about a socket; ``spec`` is the fitting's, not the pipe's.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the socket.
    spec : PipeSpec
        Material and series of the fitting.
    reading : Reading
        The log of what is read.

    Returns
    -------
    SocketDims
        The dimensions.

    Raises
    ------
    SizeNotListed
        If it is not listed; nothing is extrapolated, the fitting is measured.
    """

    def find(log: Reading) -> SocketDims:
        table = socket_table(size, spec)
        _check_large(size, table, book)
        if table == _METRIC:
            return SocketDims(
                kind=PARALLEL_METRIC,
                entrance=None,
                bottom=None,
                dia_tol=None,
                mid_bore_min=book.maybe_number(table, size.key, "mid_bore_min_mm", log),
                mid_bore_max=book.maybe_number(table, size.key, "mid_bore_max_mm", log),
                out_of_round=book.maybe_number(table, size.key, "oor_mm", log),
                depth_min=book.maybe_number(table, size.key, "depth_min_mm", log),
                table=table,
            )
        return _taper(book, table, size, log)

    return book.once(("socket_dims", size, spec), reading, find)


def _taper(book: Book, table: str, size: Size, log: Reading) -> SocketDims:
    return SocketDims(
        kind=TAPER_IPS,
        entrance=book.number(table, size.key, "entrance_in", log),
        bottom=book.number(table, size.key, "bottom_in", log),
        dia_tol=book.maybe_number(table, size.key, "dia_tol_in", log),
        mid_bore_min=None,
        mid_bore_max=None,
        out_of_round=book.maybe_number(table, size.key, "oor_in", log),
        depth_min=book.maybe_number(table, size.key, "depth_min_in", log),
        table=table,
    )


def socket_depth_min(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float | None:
    """Smallest depth in the standard, or None where none is listed (or no table is carried).

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the socket.
    spec : PipeSpec
        Material and series of the fitting.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Depth, a minimum: never taken off a taped centre-to-face. [m]
    """
    try:
        table = socket_table(size, spec)
    except SizeNotListed:
        return None
    return book.maybe_number(table, size.key, "depth_min_mm" if size.metric else "depth_min_in", reading)


def bell_dims(book: Book, size: Size, reading: Reading) -> SocketDims:
    """Cement bell of IPS pipe: diameters only; its depth is not listed and is measured.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size, IPS.
    reading : Reading
        The log of what is read.

    Returns
    -------
    SocketDims
        Diameters; ``depth_min`` is None.

    Raises
    ------
    SizeNotListed
        If the size is not listed.
    """
    if size.metric:
        raise SizeNotListed(f"no table of cement bells is carried for {size.text}", next="measure the bell")
    _check_large(size, _BELLS, book)
    return book.once(("bell_dims", size), reading, lambda log: _taper(book, _BELLS, size, log))


@dataclass(frozen=True, slots=True)
class SocketBand:
    """What to expect of a large socket, to warn of a slip of the tape; never a dimension.

    Parameters
    ----------
    entrance, bottom, dia_tol, depth_about : float
        Expected values. [m]
    """

    entrance: float
    bottom: float
    dia_tol: float
    depth_about: float


def plausible_socket(book: Book, size: Size, reading: Reading) -> SocketBand | None:
    """Plausibility band for NPS 14 to 24: own extrapolation, no standard, for a warning only.

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
    SocketBand or None
        The band; None for sizes it does not cover.
    """
    if size.metric or not book.has(_BAND, size.key):
        return None
    return SocketBand(
        entrance=book.number(_BAND, size.key, "entrance_in", reading),
        bottom=book.number(_BAND, size.key, "bottom_in", reading),
        dia_tol=book.number(_BAND, size.key, "dia_tol_in", reading),
        depth_about=book.number(_BAND, size.key, "depth_about_in", reading),
    )
