"""Flange drilling: Class 150, PN 10, PN 16. Thickness is never from a table: plastic rings differ."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import NPS, Size
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

DRILLINGS = {"class150": "asme_b16_5_class150", "pn10": "en1092_1_pn10", "pn16": "en1092_1_pn16"}


@dataclass(frozen=True, slots=True)
class FlangeDims:
    """Drilling of a flange.

    Parameters
    ----------
    drilling : str
        ``"class150"``, ``"pn10"`` or ``"pn16"``.
    name : str
        Nominal name: ``"12 in"`` or ``"DN 300"``.
    od, bolt_circle, bolt_hole, bolt_dia : float
        Dimensions. [m]
    bolt_count : int
        Number of bolts.
    thickness : None
        Not carried: measure the ring or flange in hand.
    first_hole : float
        Angle from the centre-line to the first hole, pi/n: the holes straddle it. [rad]
    """

    drilling: str
    name: str
    od: float
    bolt_circle: float
    bolt_count: int
    bolt_hole: float
    bolt_dia: float
    first_hole: float
    thickness: None = None


def flange_dims(
    book: Book, size: Size, drilling: str, reading: Reading, *, nominal: float | None = None
) -> FlangeDims:
    """The drilling of a flange on a pipe of this size.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size of the pipe.
    drilling : str
        ``"class150"``, ``"pn10"`` or ``"pn16"``.
    reading : Reading
        The log of what is read.
    nominal : float, optional
        The flange's own name, DN or inches, where the pipe size does not settle it (d125, d200, d250,
        a Class 150 flange on metric pipe). [DN or in]

    Returns
    -------
    FlangeDims
        The drilling.

    Raises
    ------
    SizeNotListed
        If drilling and size are not in a table; the neighbours are named.
    """
    table = DRILLINGS.get(drilling)
    if table is None:
        raise SizeNotListed(
            f"{drilling!r} is not a flange drilling we carry",
            allowed=", ".join(DRILLINGS),
            next="write the drilling marked on the flange",
        )
    if nominal is not None:
        row = f"{nominal:g}"
    elif drilling != "class150":
        row = _usual_dn(book, table, size)
    elif not size.metric:
        row = size.key
    else:
        raise SizeNotListed(
            f"Class 150 is named by inch size, not by {size.text}",
            allowed="1/2 to 24 in, or pn10 or pn16",
            next="say which flange it is",
        )
    inch = drilling == "class150"
    unit = "in" if inch else "mm"
    name = Size(NPS, float(row)).text if inch else f"DN {row}"
    count = int(book.number(table, row, "bolt_count", reading))
    return FlangeDims(
        drilling=drilling,
        name=name,
        od=book.number(table, row, f"flange_od_{unit}", reading),
        bolt_circle=book.number(table, row, f"bolt_circle_{unit}", reading),
        bolt_count=count,
        bolt_hole=book.number(table, row, f"bolt_hole_{unit}", reading),
        bolt_dia=book.number(table, row, f"bolt_dia_{unit}", reading),
        first_hole=math.pi / count,
    )


def _usual_dn(book: Book, table: str, size: Size) -> str:
    for key in book.keys(table):
        if size.metric and book.plain(table, key, "usual_d_mm") == size.nominal:
            return key
    sizes = ", ".join(f"d{book.plain(table, key, 'usual_d_mm'):g}" for key in book.keys(table))
    raise SizeNotListed(
        f"no usual DN is listed for {size.text}",
        allowed=sizes,
        by=str(book.table(table).source),
        next="write the DN marked on the flange",
    )


@dataclass(frozen=True, slots=True)
class Alignment:
    """How far two flanges may lie apart before they are bolted: sideways [m], out of parallel [rad]."""

    sideways: float
    angle: float


def alignment(book: Book, reading: Reading) -> Alignment:
    """How far two flanges may lie apart before they are bolted.

    Parameters
    ----------
    book : Book
        The tables.
    reading : Reading
        The log of what is read.

    Returns
    -------
    Alignment
        No length: how much a gasket takes up is its own paper's.
    """
    return Alignment(
        sideways=book.number("flange_alignment", "flange", "sideways_mm", reading),
        angle=book.number("flange_alignment", "flange", "angle_deg", reading),
    )
