"""Profiles by which a joiner is qualified: when it lapses, what ends it, how far a test piece reaches."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell, Reading

TABLE = "bonder_qualification"
SCHEMES = (
    "asme-b31.1", "asme-b31.3", "imo-a.753", "49-cfr-192.285", "49-cfr-192.285-2018", "en-13067",
)  # fmt: skip
"""Our names of the profiles; the rows of the table."""
_OD = "astm_d1785_2015_od"


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """The rules of one profile; None where none was read in its document.

    Parameters
    ----------
    scheme : str
        One of ``SCHEMES``.
    idle : int or None
        It lapses when the process was not used for longer. [month]
    apart : int or None
        From one test to the next at most. [month]
    calendar_year : bool
        A test in each calendar year.
    validity : int or None
        It holds for so long after the test. [month]
    confirm : int or None
        The employer confirms it at least so often. [month]
    failed : str
        ``"any"``: one failed production joint ends it; ``"share"``: so many do; empty: not said.
    failed_count : int or None
        Failed joints that end it, at least. [-]
    failed_share : float or None
        Share of the joints that ends it, at least. [-]
    """

    scheme: str
    idle: int | None = None
    apart: int | None = None
    calendar_year: bool = False
    validity: int | None = None
    confirm: int | None = None
    failed: str = ""
    failed_count: int | None = None
    failed_share: float | None = None

    @property
    def dated(self) -> bool:
        """Whether it has any rule that says when a qualification ends."""
        return any(v is not None for v in (self.idle, self.apart, self.validity)) or self.calendar_year


def profile(book: Book, scheme: str, reading: Reading) -> Profile:
    """The rules of a profile on when a qualification ends.

    Parameters
    ----------
    book : Book
        The tables.
    scheme : str
        One of ``SCHEMES``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    Profile

    Raises
    ------
    SizeNotListed
        There is no such profile; the names are listed.
    """
    found, read = _profile(book, scheme)
    reading.add(read)
    return found


@lru_cache(maxsize=64)
def _profile(book: Book, scheme: str) -> tuple[Profile, tuple[Cell, ...]]:
    """The rules and what was read for them; a book never changes."""
    reading = Reading()

    def months(column: str) -> int | None:
        value = book.maybe_number(TABLE, scheme, column, reading)
        return None if value is None else int(value)

    failed = book.peek(TABLE, scheme, "failed").value
    yearly = book.peek(TABLE, scheme, "calendar_year").value
    if failed:
        book.text(TABLE, scheme, "failed", reading)
    if yearly:
        book.text(TABLE, scheme, "calendar_year", reading)
    found = Profile(
        scheme=scheme,
        idle=months("idle_months"),
        apart=months("apart_months"),
        calendar_year=yearly == "yes",
        validity=months("validity_months"),
        confirm=months("confirm_months"),
        failed=str(failed or ""),
        failed_count=months("failed_count"),
        failed_share=book.maybe_number(TABLE, scheme, "failed_share_pct", reading),
    )
    return found, reading.as_tuple()


def piece_covers(book: Book, scheme: str, test: Size, largest: Size, reading: Reading) -> bool | None:
    """Whether a test piece stands for joints up to a size.

    Parameters
    ----------
    book : Book
        The tables.
    scheme : str
        One of ``SCHEMES``.
    test, largest : Size
        Size of the test piece, and of the largest joint to be made.
    reading : Reading
        The log of what is read.

    Returns
    -------
    bool or None
        None where the rule speaks of sizes that these two cannot be held against; True where the profile has
        no such rule.
    """
    inches = book.maybe_number(TABLE, scheme, "size_floor_nps", reading)
    outside = book.maybe_number(TABLE, scheme, "size_floor_mm", reading)
    floor = inches if inches is not None else outside
    if floor is None:
        return True
    share = book.number(TABLE, scheme, "size_share_pct", reading)
    if inches is not None:
        if test.metric or largest.metric:
            return None
        piece: float | None = test.nominal
        asked: float | None = largest.nominal
    else:
        piece, asked = _outside(book, test, reading), _outside(book, largest, reading)
    if piece is None or asked is None:
        return None
    hair = 1e-9 * floor
    return piece >= (asked if asked <= floor + hair else max(floor, share * asked)) - hair


def _outside(book: Book, size: Size, reading: Reading) -> float | None:
    """Outside diameter of pipe of a size; None where it is not listed. [m]"""
    if size.metric:
        return size.nominal / 1000.0
    return book.number(_OD, size.key, "od_in", reading) if book.has(_OD, size.key) else None
