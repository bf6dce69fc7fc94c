"""The printed cure clock: how much of a printed wait a joint has behind it, and the first moment it is whole.

f = (time with readings behind it) / tau(coldest met so far). The wait of the coldest band met applies to the
whole history, so the clock never ends earlier than that printed row times all factors. It says "may be
asked", never "is strong": the container, the approved procedure and the person in charge of the test govern.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lineproof.sums.cure_answer import (
    HUMIDITY_NOT_KNOWN,
    NO_ASSEMBLY_TEMPERATURE,
    NO_CARD_ROW,
    NO_READING_SINCE,
    NO_START,
    NOT_YET,
    START_AHEAD,
    TEMPERATURE_HOLE,
    Clocks,
    CureClock,
)
from lineproof.sums.limits import finite, positive
from lineproof.sums.readings import First, Readings, Track, Weather, next_where
from lineproof.sums.waits import Cells, Floats, Waits

MAX_GAP = 7200.0
"""Readings further apart than 2 h leave a hole (the design's rule; common practice, no source). [s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class JointTimes:
    """What the clock needs of each joint; not-a-number where it is not known.

    Parameters
    ----------
    assembled : array
        Instants the joints were pushed home. [s]
    temperature : array
        Joint temperature at assembly. [K]
    started : array
        Latest plausible instant of hold end, pullers off and last disturbance. [s]
    humidity : array
        Relative humidity at assembly. [-]
    """

    assembled: Floats
    temperature: Floats
    started: Floats
    humidity: Floats


class History:
    """Readings that many joints share, prepared once so that each joint is a few look-ups.

    Parameters
    ----------
    readings : Readings
        Temperatures of the joint surface. [K]
    max_gap : float
        Readings further apart leave a hole: no credit, and the worst of neighbours and weather. [s]
    late : Readings or None
        Temperatures that came late and that no second person stands behind: they only make it colder.
    weather : Weather or None
        Air temperatures for the holes; without them a hole is CANNOT TELL.
    humidity : Readings or None
        Relative humidities; a hole in them is "not known". [-]
    late_humidity : Readings or None
        The same that came late: they only make it damper.
    """

    def __init__(
        self,
        readings: Readings,
        *,
        max_gap: float = MAX_GAP,
        late: Readings | None = None,
        weather: Weather | None = None,
        humidity: Readings | None = None,
        late_humidity: Readings | None = None,
    ) -> None:
        positive("max_gap", max_gap, unit="s")
        self.cold = Track(readings, sign=-1.0, max_gap=max_gap, late=late, weather=weather)
        self.damp = Track(
            Readings((), ()) if humidity is None else humidity, sign=1.0, max_gap=max_gap, late=late_humidity
        )
        self._ladders: dict[bytes, tuple[Cells, Cells, Cells, Cells]] = {}

    def ladders(self, waits: Waits) -> tuple[Cells, Cells, Cells, Cells]:
        """Rows and columns of each interval, and from each the next worse; made once for edges."""
        made = self._ladders.get(waits.key)
        if made is None:
            rows = waits.cold_cells(-self.cold.worst)
            columns = waits.damp_cells(self.damp.worst)
            made = self._ladders[waits.key] = (
                rows,
                np.array([next_where(rows > c) for c in range(waits.seconds.shape[0])]),
                columns,
                np.array([next_where(columns > c) for c in range(waits.seconds.shape[1])]),
            )
        return made


class _Credit:
    """Time that counts for each joint, as a function of the moment and back."""

    def __init__(self, track: Track, begin: Floats, first: First) -> None:
        self._track = track
        self._begin = begin
        self._until = first.until
        self._on = first.credited
        self._base = track.credit_at(np.maximum(begin, first.until))
        self._own = np.where(first.credited, np.maximum(0.0, first.until - begin), 0.0)

    def by(self, at: Floats) -> Floats:
        own: Floats = np.where(self._on, np.maximum(0.0, np.minimum(at, self._until) - self._begin), 0.0)
        since: Floats = np.maximum(0.0, self._track.credit_at(at) - self._base)
        return own + np.where(at > self._until, since, 0.0)

    def when(self, credit: Floats) -> Floats:
        later = self._track.when_credited(self._base + (credit - self._own))
        when: Floats = np.where(credit <= self._own, self._begin + credit, later)
        return when


def clocks(history: History, waits: Waits, made: JointTimes, *, now: float | Floats) -> Clocks:
    """Cure clocks of many joints for one table of waits.

    Parameters
    ----------
    history : History
        The readings they share.
    waits : Waits
        Printed waits times all factors for their size and pressure column.
    made : JointTimes
        Assembly and start of each joint.
    now : float or array
        Moment judged: the earliest plausible, of all joints or of each. [s]

    Returns
    -------
    Clocks

    Raises
    ------
    OutsideTable
        If the moment judged is not a finite number.

    Notes
    -----
    f = credit/tau(coldest so far, dampest so far), followed from one change of band to the next. Time while
    nothing is printed for the worst met so far earns no credit. A hole earns none either; while it is not
    covered by weather nothing can be told from its beginning on. There is no credit past the last reading.
    Cold counts from assembly, also where a disturbance starts the clock again: a disturbed joint is never
    ready earlier than one left alone.
    """
    for moment in (now,) if isinstance(now, float | int) else (now.min(initial=0.0), now.max(initial=0.0)):
        finite("now", float(moment), unit="s")
    asm, table = made.assembled, waits.seconds
    lost = np.isnan(asm) | np.isnan(made.started)
    begun = np.where(lost, np.fmax(asm, now) + 1.0, np.maximum(made.started, asm))
    cold, damp = history.cold.first(asm), history.damp.first(asm)
    met_cold = np.fmax(cold.worst, -made.temperature)
    met_damp = np.fmax(damp.worst, made.humidity)
    hole = _hole_from(history.cold, cold, asm, made.temperature)
    damp_hole = _hole_from(history.damp, damp, asm, made.humidity)
    rows, colder, columns, damper = history.ladders(waits)
    credit = _Credit(history.cold, begun, cold)

    row, column = waits.cold_cells(-met_cold), waits.damp_cells(met_damp)
    at = np.minimum(asm, now)
    earned = np.zeros(asm.shape)
    reached = np.full(asm.shape, np.nan)
    while True:
        # From one change of band to the next; a joint has at most as many as the table has rows and columns.
        live = (at < now) & np.isnan(reached)
        if not live.any():
            break
        next_cold, next_damp = colder[row, cold.interval + 1], damper[column, damp.interval + 1]
        cold_at, damp_at = history.cold.begins(next_cold), history.damp.begins(next_damp)
        end = np.minimum(np.minimum(cold_at, damp_at), now)
        for fall in (hole, damp_hole):
            end = np.where(fall > at, np.minimum(end, fall), end)
        printed = table[row, column]
        wait = np.where(at >= damp_hole, table[row, -1], printed)
        rest = np.where(at >= hole, np.inf, np.maximum(0.0, wait - earned))
        behind = credit.by(at)
        when = np.maximum(np.maximum(at, begun), credit.when(behind + rest))
        hit = live & (when <= end)
        reached = np.where(hit, when, reached)
        more = np.where(np.isfinite(printed), credit.by(end) - behind, 0.0)
        earned = np.where(live, np.where(hit, wait, earned + more), earned)
        row = np.where(live & (end >= cold_at), rows[np.minimum(next_cold, len(rows) - 1)], row)
        column = np.where(live & (end >= damp_at), columns[np.minimum(next_damp, len(columns) - 1)], column)
        at = np.where(live, end, at)

    done = ~np.isnan(reached)
    until = np.where(done, reached, now)
    coldest = np.maximum(met_cold, history.cold.range(cold.interval + 1, history.cold.interval(until)))
    dampest = np.maximum(met_damp, history.damp.range(damp.interval + 1, history.damp.interval(until)))
    printed = table[waits.cold_cells(-coldest), waits.damp_cells(dampest)]
    unknown = table[waits.cold_cells(-coldest), -1]
    seen = np.fmin(now, np.fmax(history.cold.last, asm))
    ready = np.maximum(begun, seen) + np.maximum(0.0, printed - earned)
    no_row = np.isinf(printed)
    no_hour = np.isnan(made.temperature)
    cold_gap = ~no_hour & (hole < seen)
    damp_gap = ~no_row & np.isinf(unknown) & (np.isnan(made.humidity) | (damp_hole < seen))
    blind = lost | no_hour | cold_gap | damp_gap
    told = {
        NO_START: lost,
        NO_ASSEMBLY_TEMPERATURE: no_hour,
        TEMPERATURE_HOLE: cold_gap,
        NO_CARD_ROW: no_row,
        HUMIDITY_NOT_KNOWN: damp_gap,
        NO_READING_SINCE: ~blind & ~no_row & (ready <= now),
        START_AHEAD: ~lost & (begun > now),
        NOT_YET: ~blind & ~no_row & (ready > now),
    }
    share = np.minimum(earned / np.where(no_row, np.inf, printed), math.nextafter(1.0, 0.0))
    return Clocks(
        fraction=np.where(done, 1.0, np.where(blind | no_row, np.nan, share)),
        reached_at=reached,
        earliest_if=np.where(done, reached, np.where(lost | no_row, np.nan, np.maximum(now, ready))),
        coldest=np.where(~done & (lost | no_hour | cold_gap), np.nan, -coldest),
        dampest=np.where(np.isinf(dampest) | (~done & damp_gap), np.nan, dampest),
        wait=np.where(done, earned, np.where(no_row | blind, np.nan, printed)),
        credited=earned,
        why_not={code: flags & ~done for code, flags in told.items()},
    )


def _hole_from(track: Track, first: First, assembled: Floats, at_assembly: Floats) -> Floats:
    """Since when the worst met is not known; infinity if it is known throughout."""
    later = track.begins(track.next_unknown[first.interval + 1])
    return np.where(np.isnan(at_assembly) | ~first.known, assembled, later)


def cure_clock(
    history: History,
    waits: Waits,
    *,
    now: float,
    assembled: float,
    temperature: float | None,
    started: float | None,
    disturbed: Sequence[float] = (),
    humidity: float | None = None,
) -> CureClock:
    """Cure clock of one joint.

    Parameters
    ----------
    history : History
        The readings.
    waits : Waits
        Printed waits times all factors for its size and pressure column.
    now : float
        Moment judged: the earliest plausible. [s]
    assembled : float
        Instant the joint was pushed home. [s]
    temperature : float or None
        Joint temperature at assembly. [K]
    started : float or None
        Latest plausible instant of hold end and pullers off. [s]
    disturbed : sequence of float
        Latest plausible instants at which the joint was moved, knocked or reworked; each starts the clock
        again. [s]
    humidity : float or None
        Relative humidity at assembly. [-]

    Returns
    -------
    CureClock

    Raises
    ------
    OutsideTable
        If an instant, temperature or humidity is not a finite number.

    Notes
    -----
    See ``clocks``; a higher pressure is another table, applied to the whole history.

    Examples
    --------
    Readings each hour, 20 C; a row of 3 h above 15.6 C:

    >>> warm = Readings([3600.0 * h for h in range(6)], [293.15] * 6)
    >>> row = Waits.of(lambda t, _: 10800.0, edges=[])
    >>> clock = cure_clock(
    ...     History(warm), row, now=18000.0, assembled=600.0, temperature=293.15, started=900.0
    ... )
    >>> clock.reached_at
    11700.0

    References
    ----------
    .. [1] The waits are those of the cement card; the rule that the coldest band met applies to the whole
           history is the design's own and never shorter than the printed row.
    """
    given = {"assembled": assembled, "temperature": temperature, "started": started, "humidity": humidity}
    for name, value in given.items():
        if value is not None:
            finite(name, value, unit="")
    for instant in disturbed:
        finite("disturbed", instant, unit="s")

    def one(value: float | None) -> NDArray[np.float64]:
        return np.array([math.nan if value is None else value])

    last = None if started is None else max([started, *disturbed])
    joint = JointTimes(
        assembled=one(assembled), temperature=one(temperature), started=one(last), humidity=one(humidity)
    )
    return clocks(history, waits, joint, now=now).joint(0)
