"""The hours ahead: how cold and damp a joint will be, and when it rains: weather.csv and what is stated."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from lineproof.job.settings import Conditions
from lineproof.job.weather import HOUR, WeatherRow
from lineproof.plan.days.model import NEVER, SLOT, Wait
from lineproof.sums.waits import Waits

PER_HOUR = int(HOUR.total_seconds() / SLOT)


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour.

    Parameters
    ----------
    temperature : float or None
        The coldest a joint may be in it; None if nobody said. [K]
    humidity : float or None
        [1]
    rain : bool
        Rain or snow falls.
    told : bool
        weather.csv speaks of it; else the stated conditions stand in.
    """

    temperature: float | None
    humidity: float | None
    rain: bool = False
    told: bool = False


@dataclass(frozen=True, slots=True)
class Colder:
    """A stretch of days that is colder than foretold.

    Parameters
    ----------
    dT_K : float
        How much colder. [K]
    since, until : datetime
        From when to when.
    """

    dT_K: float
    since: datetime
    until: datetime


def hours_of(
    conditions: Conditions,
    rows: Sequence[WeatherRow],
    begin: datetime,
    count: int,
    *,
    colder: Iterable[Colder] = (),
) -> tuple[Hour, ...]:
    """Hours from a moment on.

    Parameters
    ----------
    conditions : Conditions
        As stated; they stand in where weather.csv is silent.
    rows : sequence of WeatherRow
        Empty under a roof, or where there is no weather.csv.
    begin : datetime
        The first hour begins.
    count : int
        How many. [-]
    colder : iterable of Colder
        What is tried.

    Returns
    -------
    tuple of Hour
        The air of a row less the stated margin; without a margin the colder of the air and what is stated.
    """
    first = begin.astimezone(UTC)
    by_hour: dict[int, list[WeatherRow]] = {}
    for row in rows:
        last = row.last if row.last > row.first else row.first + timedelta(seconds=1)
        at = int((row.first - first).total_seconds() // 3600)
        while first + timedelta(hours=at) < last:
            by_hour.setdefault(at, []).append(row)
            at += 1
    tried = tuple(colder)
    found = []
    for n in range(count):
        here = by_hour.get(n, [])
        stated = conditions.pipe_temperature
        if here:
            air = min(r.temperature for r in here)
            if conditions.air_margin is not None:
                temperature: float | None = air - conditions.air_margin
            else:
                temperature = air if stated is None else min(air, stated)
            damp = [r.humidity for r in here if r.humidity is not None]
            humidity = max(damp) if damp else conditions.humidity
        else:
            temperature, humidity = stated, conditions.humidity
        at_hour = first + timedelta(hours=n)
        if temperature is not None:
            temperature -= sum(c.dT_K for c in tried if c.since <= at_hour < c.until)
        found.append(Hour(temperature, humidity, any(r.rain for r in here), bool(here)))
    return tuple(found)


def wait_by(id: str, table: Waits, hours: Sequence[Hour], *, dry: bool = False) -> Wait:
    """A wait by the hour of finish, as the printed clock would run through the hours ahead.

    Parameters
    ----------
    id : str
    table : Waits
        What is printed for the coldest and the dampest met.
    hours : sequence of Hour
        From slot 0 on; the last one goes on.
    dry : bool
        No rain may fall until the wait is over.

    Returns
    -------
    Wait
        The longest for any finish in the hour, so never shorter than the printed row of the coldest band
        met. ``NEVER`` where nothing is printed, or where rain falls on a joint that must stay dry.
    """
    steps: list[tuple[int, int]] = []
    known: dict[tuple[float, float | None], float | None] = {}

    def printed(cold: float, damp: float | None) -> float | None:
        if (cold, damp) not in known:
            known[cold, damp] = table(cold, damp)
        return known[cold, damp]

    for n in range(len(hours) + 1):
        slots = _wait_from(printed, hours, n, dry)
        if not steps or steps[-1][1] != slots:
            steps.append((n * PER_HOUR, slots))
    return Wait(id, tuple(steps))


def _wait_from(
    table: Callable[[float, float | None], float | None], hours: Sequence[Hour], n: int, dry: bool
) -> int:
    """Slots, for a finish in hour ``n``: the hour before counts as well, the joint was made in it."""
    cold: float | None = None
    damp: float | None = None
    known = True
    at = max(n - 1, 0)
    while True:
        hour = hours[min(at, len(hours) - 1)]
        if hour.temperature is None or (dry and hour.rain and at < len(hours)):
            return NEVER
        cold = hour.temperature if cold is None else min(cold, hour.temperature)
        if hour.humidity is None:
            known = False
        else:
            damp = hour.humidity if damp is None else max(damp, hour.humidity)
        wait = table(cold, damp if known else None)
        if wait is None:
            return NEVER
        # a finish at the end of hour n is the latest; the wait must be over by the end of hour ``at``
        if (n + 1) * 3600.0 + wait <= (at + 1) * 3600.0 or at > len(hours) + 24 * 60:
            return int(-(-wait // SLOT))
        at += 1
