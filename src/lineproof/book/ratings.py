"""Pressure ratings as printed, temperature factors, and the limit of flanges, unions and valves."""

from __future__ import annotations

from lineproof.book.load import Book
from lineproof.book.pipe import series_of
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.book.table import to_si
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

_FACTORS = "temperature_factors"
_LIMIT = "joint_limit_by_temperature"


def rating_73f(book: Book, size: Size, spec: PipeSpec, reading: Reading) -> float | None:
    """Pressure rating of pipe with plain ends, water, at 73 F (metric PN: at 20 C).

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
        Rating; None where no table gives one (all CPVC, metric pipe by S). [Pa]
    """
    if spec.material != "pvc":
        return None
    if spec.kind == "sch":
        return book.maybe_number("ratings_73f", f"{size.key}/{spec.number}", "rating_psi", reading)
    if spec.kind == "sdr":
        return book.maybe_number("ratings_by_dr", spec.number, "rating_psi", reading)
    if spec.kind == "pn":
        try:
            series_of(book, size, spec, reading)
        except SizeNotListed:
            return None
        # PN is the rating in bar by its own name
        return float(spec.number) * 1e5
    return None


def temperature_factor(
    book: Book, material: str, temperature: float, reading: Reading, *, family: str = "A"
) -> float | None:
    """Factor on the rating at a wall temperature: that of the next hotter row, nothing between.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    temperature : float
        Wall temperature. [K]
    reading : Reading
        The log of what is read.
    family : str
        ``"A"``, ``"B"``, ``"C"`` (on the rating at 73 F) or ``"ISO"`` (on PN).

    Returns
    -------
    float or None
        Factor [-], at most 1; None above the hottest row or for a family that is not carried. Families B
        and C carry only the rows where they differ from A; the others are those of A.
    """
    prefixes = [f"{material}/{family}/"]
    if family in ("B", "C"):
        prefixes.append(f"{material}/A/")
    row = _next_hotter(book, _FACTORS, prefixes, temperature)
    return None if row is None else book.number(_FACTORS, row, "factor", reading)


def joint_limit(book: Book, material: str, temperature: float, reading: Reading) -> float | None:
    """Pressure limit of flanges, unions and valves by temperature: the next hotter row.

    Parameters
    ----------
    book : Book
        The tables.
    material : str
        ``"pvc"`` or ``"cpvc"``.
    temperature : float
        Wall temperature. [K]
    reading : Reading
        The log of what is read.

    Returns
    -------
    float or None
        Limit; None above the hottest row of the material. Common practice, no source: what is marked
        on the part beats it. [Pa]
    """
    row = _next_hotter(book, _LIMIT, [""], temperature)
    return None if row is None else book.maybe_number(_LIMIT, row, f"{material}_psi", reading)


def _next_hotter(book: Book, table: str, prefixes: list[str], temperature: float) -> str | None:
    hotter = []
    for rank, prefix in enumerate(prefixes):
        for key in book.keys(table):
            if key.startswith(prefix):
                hot = to_si("temp_degF", book.plain(table, key, "temp_degF"))
                if hot >= temperature - 1e-6:
                    hotter.append((hot, rank, key))
    return min(hotter)[2] if hotter else None
