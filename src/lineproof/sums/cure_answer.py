"""What a cure clock answers: the share behind a joint, the moment it was whole, or why it is not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lineproof.sums.readings import Flags
from lineproof.sums.waits import Floats

NO_START = "no_start"
NO_ASSEMBLY_TEMPERATURE = "no_assembly_temperature"
TEMPERATURE_HOLE = "temperature_hole"
NO_CARD_ROW = "no_card_row"
HUMIDITY_NOT_KNOWN = "humidity_not_known"
NO_READING_SINCE = "no_reading_since"
START_AHEAD = "start_ahead"
NOT_YET = "not_yet"

CANNOT_TELL = frozenset(
    {
        NO_START,
        NO_ASSEMBLY_TEMPERATURE,
        TEMPERATURE_HOLE,
        NO_CARD_ROW,
        HUMIDITY_NOT_KNOWN,
        NO_READING_SINCE,
    }
)
"""Reasons that only an input or a person can clear; the others clear with time."""

CODES = (
    NO_START,
    NO_ASSEMBLY_TEMPERATURE,
    TEMPERATURE_HOLE,
    NO_CARD_ROW,
    HUMIDITY_NOT_KNOWN,
    NO_READING_SINCE,
    START_AHEAD,
    NOT_YET,
)
"""Why a clock is not whole yet, the heaviest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureClock:
    """One joint's clock for one wait.

    Parameters
    ----------
    fraction : float or None
        Share of the wait that is behind the joint; 1 once reached. None where nothing is printed. [-]
    reached_at : float or None
        First moment the wait was whole; it stays, whatever the weather does afterwards. [s]
    earliest_if : float or None
        Not before this moment, if it gets no colder and no damper and readings go on; rounding up is for the
        screen. Never a permission. None where nothing is printed. [s]
    coldest, dampest : float or None
        Worst met so far, until reached. [K], [-]
    wait : float or None
        The wait that applies, all factors in. [s]
    credited : float
        Time that counts. [s]
    why_not : tuple of str
        Codes, the heaviest first; empty once reached.
    """

    fraction: float | None
    reached_at: float | None
    earliest_if: float | None
    coldest: float | None
    dampest: float | None
    wait: float | None
    credited: float
    why_not: tuple[str, ...]

    @property
    def cannot_tell(self) -> bool:
        """Something is missing that time alone does not bring."""
        return not CANNOT_TELL.isdisjoint(self.why_not)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Clocks:
    """The clocks of many joints for one wait, as arrays; not-a-number stands for None.

    The fields are those of ``CureClock``; ``why_not`` has one array of flags for each code that occurs.
    """

    fraction: Floats
    reached_at: Floats
    earliest_if: Floats
    coldest: Floats
    dampest: Floats
    wait: Floats
    credited: Floats
    why_not: dict[str, Flags]

    def joint(self, place: int) -> CureClock:
        """The clock of one joint.

        Parameters
        ----------
        place : int
            Its place among the joints asked. [-]

        Returns
        -------
        CureClock
        """
        return CureClock(
            fraction=_or_none(self.fraction[place]),
            reached_at=_or_none(self.reached_at[place]),
            earliest_if=_or_none(self.earliest_if[place]),
            coldest=_or_none(self.coldest[place]),
            dampest=_or_none(self.dampest[place]),
            wait=_or_none(self.wait[place]),
            credited=float(self.credited[place]),
            why_not=tuple(code for code in CODES if code in self.why_not and self.why_not[code][place]),
        )

    def joints(self) -> list[CureClock]:
        """The clocks of all joints, in order.

        Returns
        -------
        list of CureClock
        """
        codes: list[tuple[str, ...]] = [()] * len(self.credited)
        for code in reversed(CODES):
            flags = self.why_not.get(code)
            for place in () if flags is None else np.flatnonzero(flags).tolist():
                codes[place] = (code, *codes[place])
        columns = (
            self.fraction, self.reached_at, self.earliest_if, self.coldest, self.dampest, self.wait,
        )  # fmt: skip
        # A value that is not a number differs from itself.
        told = ([v if v == v else None for v in column.tolist()] for column in columns)
        return list(map(_clock, *told, self.credited.tolist(), codes))


def _clock(
    fraction: float | None,
    reached_at: float | None,
    earliest_if: float | None,
    coldest: float | None,
    dampest: float | None,
    wait: float | None,
    credited: float,
    why_not: tuple[str, ...],
) -> CureClock:
    return CureClock(
        fraction=fraction,
        reached_at=reached_at,
        earliest_if=earliest_if,
        coldest=coldest,
        dampest=dampest,
        wait=wait,
        credited=credited,
        why_not=why_not,
    )


def _or_none(value: float) -> float | None:
    return None if math.isnan(value) else float(value)
