"""Numbers of the hour: what a pipe does with sun and wind, and what solvent does to it."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.material import solvent
from lineproof.floor.errors import SourceMissing
from lineproof.floor.sources import Reading

_TABLE = "hour_numbers"
COLOURS = ("white", "grey", "black")
_COLUMNS = (
    "value_ratio", "value_K", "value_W_m2_K", "value_J_m3_K", "value_m_s", "value_s", "value_m",
    "value_W_m_K",
)  # fmt: skip


def hour_number(book: Book, name: str, reading: Reading) -> float:
    """One number of the hour.

    Parameters
    ----------
    book : Book
        The tables.
    name : str
        Such as ``"calm"`` or ``"reading-life"``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    float
        In the unit of its column. [SI]
    """
    for column in _COLUMNS:
        value = book.maybe_number(_TABLE, name, column, reading)
        if value is not None:
            return value
    raise SourceMissing(f"{name} stands in the table without a number")


@dataclass(frozen=True, slots=True)
class SkinNumbers:
    """How a pipe's surface takes sun and wind: see ``sums.wall.Skin``."""

    absorptance: float
    emissivity: float
    ground: float
    sky_drop: float
    still: float
    per_wind: float


def skin_numbers(book: Book, colour: str, reading: Reading) -> SkinNumbers:
    """What a pipe of a colour does with sun and wind.

    Parameters
    ----------
    book : Book
        The tables.
    colour : str
        One of ``COLOURS``.
    reading : Reading
        The log of what is read.

    Returns
    -------
    SkinNumbers
    """
    names = (f"absorptance-{colour}", "emissivity", "ground", "sky-drop", "still", "per-wind")
    return SkinNumbers(*(hour_number(book, n, reading) for n in names))


@dataclass(frozen=True, slots=True)
class ChillNumbers:
    """What solvent does to a wall: see ``sums.wall.Solvent``; open for a ``time`` [s] and ``stretch`` [m]."""

    molar_mass: float
    heat: float
    a: float
    b: float
    c: float
    schmidt: float
    conductivity: float
    store: float
    time: float
    stretch: float


def chill_numbers(book: Book, reading: Reading) -> ChillNumbers:
    """What pure THF does to a wall of PVC, the most volatile of what is common in primer and cement.

    Parameters
    ----------
    book : Book
        The tables.
    reading : Reading
        The log of what is read.

    Returns
    -------
    ChillNumbers
    """
    mass = solvent(book, "thf", "molar-mass", reading)
    heat = solvent(book, "thf", "heat-of-vaporisation", reading)
    if mass is None or heat is None:
        raise SourceMissing("THF has no molar mass or heat of vaporisation in the table")
    names = (
        "thf-a", "thf-b", "thf-c", "thf-schmidt", "wall-conductivity", "wall-store", "chill-time",
        "wet-length",
    )  # fmt: skip
    return ChillNumbers(mass, heat, *(hour_number(book, n, reading) for n in names))
