"""Lists of sizes, and which size a measured diameter belongs to."""

from __future__ import annotations

from collections.abc import Callable

from lineproof.book.load import Book
from lineproof.book.pipe import od, od_tolerance
from lineproof.book.sizes import METRIC, NPS, Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.sources import Reading


def sizes_listed(book: Book, system: str = NPS) -> tuple[Size, ...]:
    """The pipe sizes of the tables, smallest first.

    Parameters
    ----------
    book : Book
        The tables.
    system : str
        ``"nps"`` or ``"d"``.

    Returns
    -------
    tuple of Size
        The sizes.
    """
    table = "iso1452_2_od" if system == METRIC else "astm_d1785_2015_od"
    return tuple(Size(system, float(key)) for key in book.keys(table))


def size_of_od(book: Book, measured: float, keep: Callable[[Size], bool] | None = None) -> tuple[Size, ...]:
    """The sizes whose tolerance band holds a measured mean outside diameter: to warn of a mix-up.

    Parameters
    ----------
    book : Book
        The tables.
    measured : float
        Measured mean outside diameter. [m]
    keep : callable, optional
        Keeps only the sizes for which it is true.

    Returns
    -------
    tuple of Size
        None, one, or (IPS and metric) more.
    """
    found = []
    for system, spec in (
        (NPS, PipeSpec("pvc", "sch80", "ips")),
        (METRIC, PipeSpec("pvc", "s12.5", "metric")),
    ):
        for size in sizes_listed(book, system):
            log = Reading()
            mean = od(book, size, spec, log)
            minus, plus = od_tolerance(book, size, spec, log)
            if minus is None or plus is None:
                continue
            inside = mean - minus - 1e-9 <= measured <= mean + plus + 1e-9
            if inside and (keep is None or keep(size)):
                found.append(size)
    return tuple(found)
