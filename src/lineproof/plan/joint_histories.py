"""Readings of joints prepared for the cure clock: once for all joints that share them."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from lineproof.book.sizes import Size
from lineproof.job.cards import CementCard
from lineproof.job.progress import JointProgress, Progress, Series, SiteAir, Temperature
from lineproof.sums.cure_clock import MAX_GAP, History
from lineproof.sums.readings import Readings


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One joint and what it is held against.

    Parameters
    ----------
    joint : JointProgress
        One that was made, with a moment of assembly and a now.
    size : Size
    card : CementCard
    pullers : bool or None
        Whether it was pulled in with a device; None if nobody knows.
    pressure : float or None
        Gauge pressure at the joint itself, for its cure. [Pa]
    """

    joint: JointProgress
    size: Size
    card: CementCard
    pullers: bool | None
    pressure: float | None = None

    @property
    def start(self) -> datetime | None:
        """The latest of hold end and pullers off; None while one that is needed is not recorded."""
        ended, off = self.joint.hold_ended, self.joint.pullers_off
        if ended is None or (self.pullers is not False and off is None):
            return None
        return ended if off is None else max(ended, off)


class Histories:
    """Prepares readings by one progress.

    Parameters
    ----------
    progress : Progress
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]
    air : SiteAir
        What the air was where readings of a joint have a hole.
    """

    def __init__(self, progress: Progress, dampest: float | None, air: SiteAir) -> None:
        self.dampest = dampest
        self._progress = progress
        self._air = air.for_holes
        self._known: dict[Hashable, History] = {}
        self._said: tuple[float, float] | None = None

    def damp_of(self, asked: Asked) -> Series:
        """Relative humidities at a joint: its own, else those of the site.

        Parameters
        ----------
        asked : Asked

        Returns
        -------
        Series
        """
        own = asked.joint.damp
        return self._progress.humidity if own is None else own

    def shared(self, asked: Asked, ahead: tuple[Temperature, ...]) -> History:
        """Readings that a joint shares with others, prepared once for all of them.

        Parameters
        ----------
        asked : Asked
        ahead : tuple of Temperature
            A forecast to go on with; empty for none.

        Returns
        -------
        History
        """
        damp = self.damp_of(asked)
        cold = asked.joint.readings.parts[0]
        key = (id(cold), id(damp), bool(ahead), self._said)
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._prepared(cold.held, cold.late, damp, ahead)
        return known

    def whole(self, asked: Asked, ahead: tuple[Temperature, ...]) -> History:
        """The shared readings and its own together, for this joint alone.

        Parameters
        ----------
        asked : Asked
            A joint with a base.
        ahead : tuple of Temperature
            A forecast to go on with; empty for none.

        Returns
        -------
        History
            From the last reading before it was made.
        """
        base, own = asked.joint.readings.parts
        made = instant(asked.joint.assembled) or 0.0
        times, values = map(np.concatenate, zip(base.held.arrays(), own.held.arrays(), strict=True))
        before = times[times < made]
        kept = times >= (before.max() if before.size else made)
        late = map(np.concatenate, zip(base.late.arrays(), own.late.arrays(), strict=True))
        return self._prepared(
            Readings(times[kept], values[kept]), Readings(*late), self.damp_of(asked), ahead
        )

    def _prepared(
        self, held: Readings, late: Readings, damp: Series, ahead: tuple[Temperature, ...]
    ) -> History:
        told = [(t.at.timestamp(), t.value) for t in ahead]
        # Nobody foretells the humidity: for a NOT BEFORE it gets no damper than it was.
        dry = [(at, 0.0) for at in self._grid(self._progress.now.timestamp(), told[-1][0])] if told else []
        return History(
            _with(held, told),
            late=late,
            weather=self._air,
            humidity=_with(damp.held, [*self._said_damp(), *dry]),
            late_humidity=damp.late,
        )

    def say(self, asked: Sequence[Asked]) -> None:
        """What is said of the humidity of the whole time holds from the first joint asked on until now.

        Parameters
        ----------
        asked : sequence of Asked
        """
        if self.dampest is None or not asked:
            return
        first = min(instant(a.joint.assembled) or now_of(a) for a in asked)
        before, after = self._said or (first, first)
        self._said = min(before, first), max(after, self._progress.now.timestamp())

    def _said_damp(self) -> Collection[tuple[float, float]]:
        if self.dampest is None or self._said is None:
            return ()
        return [(at, self.dampest) for at in self._grid(*self._said)]

    @staticmethod
    def _grid(first: float, last: float) -> list[float]:
        """Moments without a hole from first to past last. [s]"""
        count = int(max(0.0, last - first) // MAX_GAP) + 2
        return [first + i * MAX_GAP for i in range(count)]


def instant(at: datetime | None) -> float | None:
    """A moment as an instant from the beginning of 1970, UTC. [s]

    Parameters
    ----------
    at : datetime or None

    Returns
    -------
    float or None
    """
    return None if at is None else at.timestamp()


def now_of(asked: Asked) -> float:
    """The earliest it can be now for a joint; not a number if that cannot be told. [s]

    Parameters
    ----------
    asked : Asked

    Returns
    -------
    float
    """
    now = asked.joint.now
    return float("nan") if now is None else now.timestamp()


def _with(held: Readings, more: Collection[tuple[float, float]]) -> Readings:
    if not more:
        return held
    return Readings(
        np.concatenate([np.asarray(held.times, dtype=np.float64), [at for at, _ in more]]),
        np.concatenate([np.asarray(held.values, dtype=np.float64), [value for _, value in more]]),
    )
