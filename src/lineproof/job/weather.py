"""The air on the site, hour by hour: what was seen, and what is foretold."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.job.progress import NOTHING_READ, Temperature
from lineproof.sums.readings import Readings, Weather


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SiteAir:
    """Air temperatures that the clocks of the joints may ask.

    Parameters
    ----------
    seen : Readings
        Air temperatures that were seen. Instants count from the beginning of 1970, UTC. [s], [K]
    margin : float or None
        How much colder than the air a joint may have been; None if nobody said. [K]
    forecast : tuple of Temperature
        Of the air to come, in order; never a reading.
    """

    seen: Readings = NOTHING_READ
    margin: float | None = None
    forecast: tuple[Temperature, ...] = ()

    @property
    def for_holes(self) -> Weather | None:
        """What stands in where a joint's readings have a hole; None without a margin or a row."""
        if self.margin is None or not len(self.seen.times):
            return None
        return Weather(self.seen.times, self.seen.values, margin=self.margin)
