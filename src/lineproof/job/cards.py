"""The cement card: what the container or the bonding procedure prints, typed in and read back.

A look-up gives the printed row or None. None means the card does not say: nothing is interpolated, nothing is
extended past what is printed. Temperatures on the edge between two bands belong to the colder one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Annotated

from lineproof.book.sizes import Size
from lineproof.job.card_rows import (
    CURE,
    HANDLING,
    HOLD,
    PULLERS,
    CardFactor,
    CardRow,
    CardTime,
    PerCan,
    WorkingRow,
)
from lineproof.job.people import within
from lineproof.job.toml_words import Day, Material, Name, Nominal, Read, Text, Time, Volume, one_of

EDGE_K = 1e-6
"""Two temperatures closer than this are one (float noise of F to K); always taken to the colder side. [K]"""
EDGE_PA = 0.5
"""Two pressures closer than this are one (float noise of psi to Pa). [Pa]"""
EDGE_RH = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class CementCard:
    """What one cement's container or bonding procedure says.

    Parameters
    ----------
    product : str
        Words on the container (invented in examples).
    material : str
        Pipe material it is for, such as ``"pvc"``.
    body : str
        ``"regular"``, ``"medium"``, ``"heavy"`` or ``"extra heavy"``.
    steps : str
        ``"two-step"`` or ``"one-step"``; empty if the card does not say.
    thickener : str
        ``"silica"``, ``"none"``, or empty if nobody knows.
    sizes_to : Size or None
        Largest size it is made for.
    source : str
        Title and edition of the document, or words of the container.
    typed_by, read_back_by : str
        Ids of two different people.
    typed_on, read_back_on : date or None
    photo : str
        File name of the photo it was read back against.
    edges : str
        ``"colder"`` unless the card itself prints that a shared edge belongs to the ``"warmer"`` band.
    containers : tuple of float
        Sizes it is sold in. [m3]
    shelf_life, open_life : float or None
        Unopened, and after opening. [s]
    """

    id: Name
    product: Name
    material: Material
    body: Annotated[str, Read(one_of("regular", "medium", "heavy", "extra heavy", ""))] = ""
    steps: Annotated[str, Read(one_of("two-step", "one-step", ""))] = ""
    thickener: Annotated[str, Read(one_of("silica", "none", ""))] = ""
    standard: Text = ""
    sizes_to: Nominal | None = None
    source: Text = ""
    typed_by: Text = ""
    typed_on: Day | None = None
    read_back_by: Text = ""
    read_back_on: Day | None = None
    photo: Text = ""
    edges: Annotated[str, Read(one_of("colder", "warmer"))] = "colder"
    rows: tuple[CardRow, ...] = ()
    factors: tuple[CardFactor, ...] = ()
    working: tuple[WorkingRow, ...] = ()
    per_can: tuple[PerCan, ...] = ()
    containers: tuple[Volume, ...] = ()
    shelf_life: Time | None = None
    open_life: Time | None = None

    @property
    def read_back(self) -> bool:
        """A second person read the card back."""
        return bool(self.typed_by and self.read_back_by and self.typed_by != self.read_back_by)

    def suits(self, size: Size) -> bool | None:
        """Whether the cement is made for this size; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.

        Returns
        -------
        bool or None
            None also where the card speaks of the other kind of size.
        """
        if self.sizes_to is None or self.sizes_to.system != size.system:
            return None
        return size.nominal <= self.sizes_to.nominal

    def covers(self, size: Size, temp_K: float) -> bool:
        """Whether a handling or cure row is printed for this size and temperature.

        Parameters
        ----------
        size : Size
            The joint's size.
        temp_K : float
            Temperature of the joint. [K]

        Returns
        -------
        bool
        """
        return any(
            r.kind in (HANDLING, CURE)
            and within(size, r.size_lo, r.size_hi)
            and _in_band(r.temp_lo, r.temp_hi, temp_K)
            for r in self.rows
        )

    def hold(self, size: Size, temp_K: float | None = None) -> CardTime | None:
        """How long the joint is kept pushed in; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.
        temp_K : float or None
            Coldest temperature met; needed where the rows have bands. [K]

        Returns
        -------
        CardTime or None
            The row and its factors.
        """
        return self._time(HOLD, size, temp_K)

    def pullers_off(self, size: Size, temp_K: float | None) -> CardTime | None:
        """How long the pull-in tools stay on; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.
        temp_K : float or None
            Coldest temperature met. [K]

        Returns
        -------
        CardTime or None
            The row and its factors.
        """
        return self._time(PULLERS, size, temp_K)

    def handling(
        self, size: Size, temp_K: float | None, rh: float | None, *, also: Collection[str] = ()
    ) -> CardTime | None:
        """How long nobody may move the joint; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.
        temp_K : float or None
            Coldest temperature met. [K]
        rh : float or None
            Highest relative humidity met; needed where a row or factor asks for it. [1]
        also : collection of str
            Names of factors that hold, such as ``"loose fit"``.

        Returns
        -------
        CardTime or None
            The row and its factors.
        """
        return self._time(HANDLING, size, temp_K, rh=rh, also=also)

    def cure(
        self,
        size: Size,
        temp_K: float | None,
        pressure_Pa: float | None,
        rh: float | None,
        *,
        also: Collection[str] = (),
    ) -> CardTime | None:
        """How long before this pressure at the joint itself; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.
        temp_K : float or None
            Coldest temperature met. [K]
        pressure_Pa : float or None
            Highest gauge pressure at the joint. [Pa]
        rh : float or None
            Highest relative humidity met; needed where a row or factor asks for it. [1]
        also : collection of str
            Names of factors that hold.

        Returns
        -------
        CardTime or None
            The row and its factors.
        """
        if pressure_Pa is None:
            return None
        return self._time(CURE, size, temp_K, pressure=pressure_Pa, rh=rh, also=also)

    def working_time(
        self, temp_K: float | None, *, film: float | None = None, wind: float | None = None
    ) -> WorkingRow | None:
        """Time from first coat to home; None if the card does not say.

        On a shared edge, and where more rows fit, the shortest time is given: here the warmer side is safe.

        Parameters
        ----------
        temp_K : float or None
            Pipe temperature. [K]
        film : float or None
            Thickness of the wet coat; needed where rows are printed for one. [m]
        wind : float or None
            Wind speed; needed where rows are printed for one. [m/s]

        Returns
        -------
        WorkingRow or None
            The printed row.
        """
        fits = [
            r
            for r in self.working
            if _in_band(r.temp_lo, r.temp_hi, temp_K)
            and (r.film is None or (film is not None and film >= r.film * (1 - 1e-9)))
            and (r.wind_max is None or (wind is not None and wind <= r.wind_max * (1 + 1e-9)))
        ]
        return min(fits, key=lambda r: r.time, default=None)

    def joints_per_can(self, size: Size, volume: float | None = None) -> PerCan | None:
        """The row that says how many joints a can makes; None if the card does not say.

        Parameters
        ----------
        size : Size
            The joint's size.
        volume : float or None
            Content of the can asked for; None for any. [m3]

        Returns
        -------
        PerCan or None
            Where several fit, the one that makes the fewest joints of a litre.
        """
        fits = [
            r
            for r in self.per_can
            if within(size, r.size_lo, r.size_hi) and (volume is None or abs(r.volume - volume) < 1e-9)
        ]
        return min(fits, key=lambda r: r.joints / r.volume, default=None)

    def _time(
        self,
        kind: str,
        size: Size,
        temp: float | None,
        *,
        pressure: float | None = None,
        rh: float | None = None,
        also: Collection[str] = (),
    ) -> CardTime | None:
        factors = [f for f in self.factors if f.lengthens(kind)]
        damp = [f for f in factors if f.humidity_over is not None]
        if damp and rh is None:
            return None
        on = tuple(f for f in factors if f.when in also or _damper(rh, f.humidity_over))
        rows = [r for r in self.rows if r.kind == kind and within(size, r.size_lo, r.size_hi)]
        # The band is settled first: an edge belongs to the colder band even where that band prints no time.
        rows = self._band(rows, temp)
        rows = _column([(r.pressure_max, r) for r in rows], pressure, EDGE_PA)
        carried = [f.humidity_over for f in on if f.humidity_over is not None]
        rows = _column([(_reach(r.humidity_max, carried), r) for r in rows], rh, EDGE_RH)
        longest = max(rows, key=lambda r: r.time, default=None)
        return None if longest is None else CardTime(longest, on)

    def _band(self, rows: Iterable[CardRow], temp: float | None) -> list[CardRow]:
        """The rows of the one band that holds the temperature."""
        fits = [r for r in rows if _in_band(r.temp_lo, r.temp_hi, temp)]
        if not fits:
            return []
        edge = min if self.edges == "colder" else max
        lowest = edge(-1.0 if r.temp_lo is None else r.temp_lo for r in fits)
        return [r for r in fits if abs((-1.0 if r.temp_lo is None else r.temp_lo) - lowest) <= EDGE_K]


def _in_band(low: float | None, high: float | None, temp: float | None) -> bool:
    if low is None and high is None:
        return True
    if temp is None:
        return False
    return (low is None or temp >= low - EDGE_K) and (high is None or temp <= high + EDGE_K)


def _damper(rh: float | None, over: float | None) -> bool:
    return rh is not None and over is not None and rh > over + EDGE_RH


def _reach(limit: float | None, carried: Collection[float]) -> float | None:
    """How far a row's humidity reaches; a damp factor that begins before the row ends carries it on."""
    if limit is not None and any(start <= limit + EDGE_RH for start in carried):
        return None
    return limit


def _column(rows: Iterable[tuple[float | None, CardRow]], asked: float | None, noise: float) -> list[CardRow]:
    """The rows of the first printed column that reaches what is asked; rows without a limit always do."""
    reach = [
        (limit, r) for limit, r in rows if limit is None or (asked is not None and asked <= limit + noise)
    ]
    limits = [limit for limit, _ in reach if limit is not None]
    if not limits:
        return [r for _, r in reach]
    first = min(limits)
    return [r for limit, r in reach if limit is None or limit <= first + noise]
