"""Laying lengths: centre to stop. A table value is a default with a flag; the fitting in hand is taped."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading

_TABLE = "is7834_1987_laying"
_TEE45 = "is7834_1987_tee45"
# fitting and port -> key of the fitting in the table
_FITTINGS = {"elbow-90": "elbow_90", "elbow-45": "elbow_45", "tee-90": "tee_90", "coupling": "coupling"}


@dataclass(frozen=True, slots=True)
class Laying:
    """Centre to stop of one port, from a table.

    Parameters
    ----------
    z : float
        Centre to the stop; for a coupling the width of the stop. [m]
    plus, minus : float or None
        Tolerance, both as positive numbers. [m]
    table : str
        The table read.
    default : bool
        Always True: a default to plan with, to be replaced by the taped value.
    tolerance_sure : bool
        False where the tolerances were read badly (45 degree tees).
    """

    z: float
    plus: float | None
    minus: float | None
    table: str
    default: bool = True
    tolerance_sure: bool = True


def laying_length(book: Book, size: Size, fitting: str, reading: Reading, *, port: str = "") -> Laying | None:
    """Centre to stop of a metric fitting where the table gives it.

    Parameters
    ----------
    book : Book
        The tables.
    size : Size
        Nominal size.
    fitting : str
        ``"elbow-90"``, ``"elbow-45"``, ``"tee-90"``, ``"tee-45"`` or ``"coupling"``.
    reading : Reading
        The log of what is read.
    port : str
        For a 45 degree tee: ``"branch"`` or ``"run"`` (the short side); the long side is not listed.

    Returns
    -------
    Laying or None
        None for every fitting that no table gives: all inch fittings, whose standards list only
        smallest laying lengths, are taped.
    """
    if not size.metric:
        return None
    if fitting == "tee-45":
        if port not in ("branch", "run"):
            return None
        z = book.maybe_number(_TEE45, size.key, f"z_{port}_mm", reading)
        if z is None:
            return None
        return Laying(
            z=z,
            plus=book.maybe_number(_TEE45, size.key, f"z_{port}_tol_plus_mm", reading),
            minus=book.maybe_number(_TEE45, size.key, f"z_{port}_tol_minus_mm", reading),
            table=_TEE45,
            tolerance_sure=False,
        )
    word = _FITTINGS.get(fitting)
    row = f"{size.key}/{word}"
    z = None if word is None else book.maybe_number(_TABLE, row, "z_mm", reading)
    if z is None:
        return None
    return Laying(
        z=z,
        plus=book.maybe_number(_TABLE, row, "z_tol_plus_mm", reading),
        minus=book.maybe_number(_TABLE, row, "z_tol_minus_mm", reading),
        table=_TABLE,
    )
