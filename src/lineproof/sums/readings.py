"""Readings that hold until the next: the worst that a joint may have met between two of them.

Everything is kept so that worse is greater (temperature as its negative), so that one rule serves both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from lineproof.floor.errors import OutsideTable
from lineproof.sums.waits import Cells, Floats

Flags = NDArray[np.bool_]

_INSTANT = 1e-3
"""Float noise of a time counted from far back. [s]"""


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """Readings at instants, in any order.

    Parameters
    ----------
    times : sequence of float
        Instants, counted from any one moment. [s]
    values : sequence of float
        Temperatures [K] or relative humidities [-].
    """

    times: Sequence[float] | Floats = field(repr=False)
    values: Sequence[float] | Floats = field(repr=False)

    def arrays(self) -> tuple[Floats, Floats]:
        """Times and values as arrays.

        Raises
        ------
        OutsideTable
            If there are not as many times as values, or one of them is not a finite number.
        """
        times = np.asarray(self.times, dtype=np.float64)
        values = np.asarray(self.values, dtype=np.float64)
        if times.shape != values.shape or times.ndim != 1:
            raise OutsideTable(
                f"{times.size} times and {values.size} readings",
                allowed="one time to each reading",
                by="the cure clock",
                next="look at the file of readings for a row with an empty cell",
            )
        if not (np.isfinite(times).all() and np.isfinite(values).all()):
            raise OutsideTable(
                "a reading or its time is not a number",
                allowed="finite numbers",
                by="the cure clock",
                next="take the row out of the file of readings; a hole is named, a guess is not",
            )
        return times, values


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weather(Readings):
    """Air temperatures that stand in where the joint's own readings have a hole.

    Parameters
    ----------
    margin : float
        How much colder than the air the joint may have been; a pipe under a clear night sky is. [K]
    """

    margin: float


class RangeWorst:
    """Greatest of any stretch of a series in two look-ups.

    Parameters
    ----------
    values : array
        The series.
    """

    def __init__(self, values: Floats) -> None:
        rows = [values]
        half = 1
        while 2 * half <= len(values):
            longer = rows[-1].copy()
            longer[: len(values) - half] = np.maximum(rows[-1][:-half], rows[-1][half:])
            rows.append(longer)
            half *= 2
        self._rows = np.array(rows)

    def __call__(self, first: Cells, last: Cells) -> Floats:
        """Greatest from first to last, both counted; minus infinity where last comes before first."""
        length = last - first + 1
        empty = length < 1
        # The exponent of a float is the floor of its logarithm to base 2, without rounding.
        row = (np.frexp(np.maximum(length, 1).astype(np.float64))[1] - 1).astype(np.intp)
        head = np.where(empty, 0, first)
        tail = np.where(empty, 0, last - (np.intp(1) << row) + 1)
        worst = np.maximum(self._rows[row, head], self._rows[row, tail])
        return np.where(empty, -np.inf, worst)


@dataclass(frozen=True, slots=True, eq=False)
class First:
    """What a joint meets from its assembly to the first reading after it."""

    interval: Cells
    until: Floats
    worst: Floats
    known: Flags
    credited: Flags


class Track:
    """One series of readings with what holds between them.

    Interval k ends at reading k; interval 0 comes before all readings and interval n after them.

    Parameters
    ----------
    readings : Readings
        Readings that somebody stands behind.
    sign : float
        -1 where less is worse (temperature), 1 where more is worse (humidity). [-]
    max_gap : float
        Readings further apart leave a hole. [s]
    late : Readings or None
        Readings that came late: they make it worse, and neither close a hole nor make it better.
    weather : Weather or None
        Stands in for the holes.
    """

    def __init__(
        self,
        readings: Readings,
        *,
        sign: float,
        max_gap: float,
        late: Readings | None = None,
        weather: Weather | None = None,
    ) -> None:
        self.sign = sign
        self.max_gap = max_gap
        self.times, value = _in_order(readings, sign)
        n = len(self.times)
        # The worst of the reading that ends the interval and of what came late inside it.
        self.right = np.append(value, -np.inf)
        if late is not None:
            late_times, late_values = late.arrays()
            np.maximum.at(self.right, self.interval(late_times), sign * late_values)
        apart = np.diff(self.times)
        hole = np.zeros(n + 1, dtype=np.bool_)
        hole[1:n] = apart > max_gap + _INSTANT
        self._air = _Air(weather, max_gap)
        self.bridge = np.full(n + 1, -np.inf)
        self.known = np.ones(n + 1, dtype=np.bool_)
        k = np.flatnonzero(hole)
        self.bridge[k], self.known[k] = self._air.between(self.times[k - 1], self.times[k])
        self.known[n] = False  # a reading holds until the next, and there is none
        # The reading that begins an interval ended the one before: the worst met so far has it already.
        self.worst = np.maximum(self.right, self.bridge)
        self.range = RangeWorst(self.worst)
        self.credited = np.zeros(n + 1, dtype=np.bool_)
        self.credited[1:n] = ~hole[1:n]
        self.credit = np.concatenate([[0.0], np.cumsum(np.where(hole[1:n], 0.0, apart))])
        self.last = float(self.times[-1]) if n else -np.inf
        # First interval from k on whose worst is not known, and one past the end for none.
        self.next_unknown = next_where(~self.known)

    def interval(self, at: Floats) -> Cells:
        """The interval that an instant lies in; a reading ends its own.

        Parameters
        ----------
        at : array
            Instants. [s]

        Returns
        -------
        array of int
        """
        return np.searchsorted(self.times, at, "left").astype(np.intp)

    def begins(self, interval: Cells) -> Floats:
        """When intervals begin; infinity past the last one. [s]"""
        n = len(self.times)
        if n == 0:
            return np.full(interval.shape, np.inf)
        return np.where(interval > n, np.inf, self.times[np.clip(interval - 1, 0, n - 1)])

    def credit_at(self, at: Floats) -> Floats:
        """Time with readings behind it, from the first reading to an instant.

        Parameters
        ----------
        at : array
            Instants. [s]

        Returns
        -------
        array
            Credited time. [s]
        """
        n = len(self.times)
        if n == 0:
            return np.zeros(at.shape)
        k = self.interval(at)
        end = np.minimum(k, n - 1)
        short = np.where(self.credited[k], self.times[end] - at, 0.0)
        return self.credit[end] - short

    def when_credited(self, credit: Floats) -> Floats:
        """First instant by which so much is credited.

        Parameters
        ----------
        credit : array
            Credited time since the first reading. [s]

        Returns
        -------
        array
            Instants; infinity where the readings do not reach so far. [s]
        """
        n = len(self.times)
        if n == 0:
            return np.full(credit.shape, np.inf)
        i = np.searchsorted(self.credit, credit, "left")
        end = np.minimum(i, n - 1)
        return np.where(i < n, self.times[end] - (self.credit[end] - credit), np.inf)

    def first(self, assembled: Floats) -> First:
        """What holds from the assembly, itself a reading, to the first reading after it.

        Parameters
        ----------
        assembled : array
            Instants of assembly. [s]

        Returns
        -------
        First
        """
        n = len(self.times)
        k = self.interval(assembled)
        until = np.full(k.shape, np.inf)
        before = k < n
        until[before] = self.times[k[before]]
        near = until - assembled <= self.max_gap + _INSTANT
        bridge = np.where(near, -np.inf, self.bridge[k])
        known = near | self.known[k]
        head = np.flatnonzero(before & (k == 0) & ~near)
        bridge[head], known[head] = self._air.between(assembled[head], until[head])
        return First(k, until, np.maximum(self.right[k], bridge), known, near)


class _Air:
    """Weather as what the worst in a hole may have been."""

    def __init__(self, weather: Weather | None, max_gap: float) -> None:
        self._times = np.zeros(0)
        self._margin = 0.0
        if weather is None:
            return
        if not np.isfinite(weather.margin) or weather.margin < 0.0:
            raise OutsideTable(
                f"margin = {weather.margin:g} K",
                allowed="0 K or more",
                by="the cure clock",
                next="say how much colder than the air the pipe may have been",
            )
        self._times, worst = _in_order(weather, -1.0)
        self._margin = weather.margin
        self._range = RangeWorst(worst)
        holes = np.diff(self._times) > max_gap + _INSTANT
        self._holes = np.concatenate([[0], np.cumsum(holes)])

    def between(self, begin: Floats, end: Floats) -> tuple[Floats, Flags]:
        """Worst from begin to end, and whether the weather covers it without a hole of its own."""
        n = len(self._times)
        if n == 0:
            return np.full(begin.shape, -np.inf), np.zeros(begin.shape, dtype=np.bool_)
        i = np.searchsorted(self._times, begin, "right").astype(np.intp) - 1
        j = np.searchsorted(self._times, end, "left").astype(np.intp)
        inside = (i >= 0) & (j < n)
        i, j = np.clip(i, 0, n - 1), np.clip(j, 0, n - 1)
        whole = inside & (self._holes[j] == self._holes[i])
        return np.where(whole, self._range(i, j) + self._margin, -np.inf), whole


def _in_order(readings: Readings, sign: float) -> tuple[Floats, Floats]:
    """Times in order and the worst reading at each."""
    times, values = readings.arrays()
    ordered, at = np.unique(times, return_inverse=True)
    worst = np.full(len(ordered), -np.inf)
    np.maximum.at(worst, at, sign * values)
    return ordered, worst


def next_where(flag: Flags) -> Cells:
    """For each place the first one from there on that is flagged; one past the end for none."""
    n = len(flag)
    at = np.where(flag, np.arange(n), n)
    ahead = np.minimum.accumulate(at[::-1])[::-1]
    return np.append(ahead, [n, n]).astype(np.intp)
