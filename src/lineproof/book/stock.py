"""Stock lengths that are usual; what stands in the yard is asked, and overall or laying once per item."""

from __future__ import annotations

from lineproof.book.load import Book
from lineproof.floor.errors import OurFault
from lineproof.floor.sources import Reading

_TABLE = "stock_lengths"


def stock_length(book: Book, stock: str, reading: Reading) -> float:
    """A usual stock length.

    Parameters
    ----------
    book : Book
        The tables.
    stock : str
        Row name, such as ``"ips-north-america-20ft"`` or ``"metric-industrial-5m"``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        Length; the row's ``basis`` says what it means. [m]

    Raises
    ------
    SizeNotListed
        If there is no such row; the names are listed.
    """
    book.peek(_TABLE, stock, "system")
    for column in ("length_ft", "length_m"):
        value = book.maybe_number(_TABLE, stock, column, reading)
        if value is not None:
            return value
    raise OurFault(f"table {_TABLE}, row {stock} holds no length")
