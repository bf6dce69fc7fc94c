"""Waits by band: what a cement card prints for the coldest and the dampest met, as one small table.

The table holds no more than the look-up it was made from; it only lets many joints be asked at once.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Cells = NDArray[np.intp]
Lookup = Callable[[float, float | None], float | None]

_BEYOND_K = 1.0
"""How far outside of the outermost edge the look-up is asked what it says there. [K]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Waits:
    """Printed waits times all factors, by band of temperature and of humidity.

    Rows run from hot to cold and columns from dry to damp. An edge between two bands has a row of its own, so
    that it may belong to either. The last column is for humidity that is not known.

    Parameters
    ----------
    lows, highs : array
        Coldest and hottest temperature of each edge's own row, ascending. [K]
    damp : array
        Humidity above which the next column begins, ascending. [-]
    seconds : array
        Waits; infinite where nothing is printed. [s]
    """

    lows: Floats
    highs: Floats
    damp: Floats
    seconds: Floats

    @classmethod
    def of(
        cls, lookup: Lookup, *, edges: Sequence[float], damp: Sequence[float] = (), dT_K: float = 0.0
    ) -> Waits:
        """Table of a look-up that is constant between its edges.

        Parameters
        ----------
        lookup : callable
            Coldest met and dampest met (None: not known) to the wait, or to None where nothing is printed.
        edges : sequence of float
            Temperatures at which the look-up may change. [K]
        damp : sequence of float
            Humidities above which the look-up may change. [-]
        dT_K : float
            Two temperatures closer than this are one edge. [K]

        Returns
        -------
        Waits
            Where a look-up is shorter for colder or damper the longer wait of the warmer or drier stands.

        Examples
        --------
        >>> table = Waits.of(lambda t, _: 60.0 if t > 280.0 else 90.0, edges=[280.0])
        >>> table(280.0), table(280.5), table(300.0)
        (90.0, 60.0, 60.0)
        """
        groups: list[list[float]] = []
        for edge in sorted(set(edges)):
            if groups and edge - groups[-1][-1] <= 2.0 * dT_K:
                groups[-1].append(edge)
            else:
                groups.append([edge])
        lows = [group[0] - dT_K for group in groups]
        highs = [group[-1] + dT_K for group in groups]
        steps = sorted(set(damp))
        # A column is asked at its dampest, the last one between its step and full humidity.
        columns = [*steps, (steps[-1] + 1.0) / 2.0 if steps and steps[-1] < 1.0 else 1.0, None]
        rows = [
            [_longest([lookup(t, rh) for t in row]) for rh in columns] for row in _asked(groups, lows, highs)
        ]
        printed = np.array(rows, dtype=np.float64).reshape(len(rows), len(columns))
        known = np.where(np.isinf(printed), 0.0, printed)
        known = np.maximum.accumulate(np.maximum.accumulate(known, axis=0), axis=1)
        return cls(
            lows=np.array(lows, dtype=np.float64),
            highs=np.array(highs, dtype=np.float64),
            damp=np.array(steps, dtype=np.float64),
            seconds=np.where(np.isinf(printed), np.inf, known),
        )

    @property
    def key(self) -> bytes:
        """Same for tables with the same edges."""
        return self.lows.tobytes() + b"/" + self.highs.tobytes() + b"/" + self.damp.tobytes()

    def cold_cells(self, coldest: Floats) -> Cells:
        """Rows of the table, counted from hot to cold.

        Parameters
        ----------
        coldest : array
            Lowest temperatures met. [K]

        Returns
        -------
        array of int
        """
        above = np.searchsorted(self.highs, coldest, "left") + np.searchsorted(self.lows, coldest, "right")
        return (2 * len(self.lows) - above).astype(np.intp)

    def damp_cells(self, dampest: Floats) -> Cells:
        """Columns of the table, counted from dry to damp.

        Parameters
        ----------
        dampest : array
            Highest relative humidities met. [-]

        Returns
        -------
        array of int
        """
        return np.searchsorted(self.damp, dampest, "left").astype(np.intp)

    def __call__(self, coldest: float, dampest: float | None = None) -> float | None:
        """Wait for the coldest and dampest met (None: not known) in [s]; None where nothing is printed."""
        row = int(self.cold_cells(np.array([coldest]))[0])
        column = -1 if dampest is None else int(self.damp_cells(np.array([dampest]))[0])
        wait = float(self.seconds[row, column])
        return wait if math.isfinite(wait) else None


def _asked(groups: list[list[float]], lows: list[float], highs: list[float]) -> list[list[float]]:
    """Temperatures at which each row is asked, hot to cold."""
    if not groups:
        return [[288.15]]
    rows: list[list[float]] = [[highs[-1] + _BEYOND_K]]
    for k in range(len(groups) - 1, -1, -1):
        rows.append(groups[k])
        rows.append([(highs[k - 1] + lows[k]) / 2.0 if k else lows[0] - _BEYOND_K])
    return rows


def _longest(told: Sequence[float | None]) -> float:
    return max((t for t in told if t is not None), default=math.inf)
