"""What a cement card prints: rows of times, factors, working times and joints a can."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from lineproof.job.toml_words import (
    Factor,
    Humidity,
    Length,
    Name,
    Nominal,
    Pressure,
    Ratio,
    Read,
    Temperature,
    Text,
    Time,
    Volume,
    Wind,
    one_of,
)

HOLD, PULLERS, HANDLING, CURE = ROW_KINDS = ("hold", "pullers", "handling", "cure")
RowKind = Annotated[str, Read(one_of(*ROW_KINDS))]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRow:
    """One printed row.

    Parameters
    ----------
    kind : str
        ``"hold"`` (kept pushed in), ``"pullers"`` (until they may come off), ``"handling"`` (hands off until
        then), ``"cure"`` (before pressure).
    size_lo, size_hi : Size
        Both belong to the row.
    temp_lo, temp_hi : float or None
        Band of temperature; None where the card gives no band. [K]
    pressure_max : float or None
        Cure rows: the highest pressure this column is printed for, included. [Pa]
    humidity_max : float or None
        The highest humidity the row is printed for, included; None where it does not matter. [1]
    time : float
        [s]
    mark : str
        Where on the card it stands, such as ``"row 3"``.
    """

    kind: RowKind
    size_lo: Nominal
    size_hi: Nominal
    time: Time
    temp_lo: Temperature | None = None
    temp_hi: Temperature | None = None
    pressure_max: Pressure | None = None
    humidity_max: Humidity | None = None
    mark: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFactor:
    """A factor the card prints, such as damp weather times 1.5.

    Parameters
    ----------
    when : str
        In a word: ``"damp"``, ``"loose fit"``.
    times : float
        1 or more.
    kinds : tuple of str
        Rows it lengthens; empty for handling and cure.
    humidity_over : float or None
        It applies above this humidity; None: only when the look-up is told that ``when`` holds. [1]
    """

    when: Name
    times: Factor
    kinds: tuple[RowKind, ...] = ()
    humidity_over: Humidity | None = None

    def lengthens(self, kind: str) -> bool:
        """Whether it applies to rows of this kind."""
        return kind in (self.kinds or (HANDLING, CURE))


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingRow:
    """Time from the first coat to home, by band of temperature and by what the card says beside it.

    ``film`` is the thinnest coat it holds for [m], ``wind_max`` the strongest wind [m/s].
    """

    time: Time
    temp_lo: Temperature | None = None
    temp_hi: Temperature | None = None
    film: Length | None = None
    wind_max: Wind | None = None
    mark: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PerCan:
    """Joints of these sizes that one can of this volume [m3] makes, from the label or counted by the crew."""

    size_lo: Nominal
    size_hi: Nominal
    volume: Volume
    joints: Ratio
    source: Text = ""


@dataclass(frozen=True, slots=True)
class CardTime:
    """A time read from a card: the printed row and the factors that lengthen it."""

    row: CardRow
    factors: tuple[CardFactor, ...] = ()

    @property
    def multiplier(self) -> float:
        """All factors multiplied. [1]"""
        product = 1.0
        for f in self.factors:
            product *= f.times
        return product

    @property
    def time(self) -> float:
        """Printed time times all factors. [s]"""
        return self.row.time * self.multiplier
