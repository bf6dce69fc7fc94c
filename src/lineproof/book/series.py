"""Which tables a pipe is in, its pipe series, and the series listed for a size."""

from __future__ import annotations

from lineproof.book.load import Book
from lineproof.book.sizes import METRIC, Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

# (material, kind of series) -> tables of diameters and of walls, for IPS
_IPS = {
    ("pvc", "sch"): ("astm_d1785_2015_od", "astm_d1785_2015_wall"),
    ("pvc", "sdr"): ("astm_d2241_od", "astm_d2241_wall"),
    ("cpvc", "sch"): ("astm_f441_2015_od", "astm_f441_2015_wall"),
}
_METRIC_OD = "iso1452_2_od"
_METRIC_WALL = "iso4065_wall"
_PN = "iso1452_2_pn_series"


def tables_of(size: Size, spec: PipeSpec) -> tuple[str, str]:
    """The tables of diameters and walls for a pipe.

    Parameters
    ----------
    size : Size
        Nominal size.
    spec : PipeSpec
        Kind of pipe.

    Returns
    -------
    tuple of str
        Table of diameters, table of walls.

    Raises
    ------
    SizeNotListed
        If no table is carried for this family, or size and family do not go together.
    """
    if spec.od_family in ("irrigation", "cast-iron"):
        raise SizeNotListed(
            f"no table of {spec.od_family} outside diameters is carried",
            allowed="ips or metric from the tables",
            next="measure the outside diameter and the wall and enter what you measured",
        )
    if (spec.od_family == "metric") != size.metric:
        raise SizeNotListed(
            f"{size.text} is no size of {spec.od_family} pipe",
            allowed="d16 to d400 for metric, 1/2 to 24 in for IPS",
            next="check the size and the OD family on the drawing",
        )
    if size.metric:
        return (_METRIC_OD, _METRIC_WALL)
    pair = _IPS.get((spec.material, spec.kind))
    if pair is None:
        raise SizeNotListed(
            f"no table of {spec.text} is carried",
            allowed="pvc sch40, sch80, sch120 or an SDR; cpvc sch40 or sch80",
            next="measure the outside diameter and the wall and enter what you measured",
        )
    return pair


def series_of(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> str:
    """The pipe series S of a metric pipe; PN is turned into S for PVC-U only.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size, metric.
    spec : PipeSpec
        Kind of pipe, by S or PN.
    reading : Reading
        The log of what is read.

    Returns
    -------
    str
        Such as ``"12.5"``.

    Raises
    ------
    SizeNotListed
        If the PN is not listed for this size, or the pipe is CPVC by PN.
    """
    if spec.kind == "s":
        return spec.number
    if spec.material != "pvc":
        raise SizeNotListed(
            f"no table of PN and pipe series is carried for {spec.material.upper()}",
            allowed="the series S, such as s6.3",
            next="read the series or SDR on the pipe and write it",
        )
    choices = []
    for key in book.keys(_PN):
        if book.plain(_PN, key, "d_lo_mm") <= size.nominal <= book.plain(_PN, key, "d_hi_mm"):
            pn = f"{book.plain(_PN, key, 'pn_bar'):g}"
            if pn == spec.number:
                return book.text(_PN, key, "series_s", reading)
            choices.append("pn" + pn)
    raise SizeNotListed(
        f"{spec.text} is not listed for {size.text}",
        allowed=", ".join(choices) or "d16 to d400",
        by=str(book.table(_PN).source),
        next="write the series S that is marked on the pipe",
    )


def series_listed(book: Book, size: Size, material: str = "pvc") -> tuple[str, ...]:
    """The wall series listed for a size: choices for an error message.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    material : str
        ``"pvc"`` or ``"cpvc"``.

    Returns
    -------
    tuple of str
        Such as ``("sch40", "sch80", "sdr26")``.
    """
    if size.system == METRIC:
        found = [("s", _METRIC_WALL)]
    else:
        found = [(kind, walls) for (made_of, kind), (_, walls) in _IPS.items() if made_of == material]
    return tuple(
        kind + key.partition("/")[2]
        for kind, table in found
        for key in book.keys(table)
        if key.partition("/")[0] == size.key
    )
