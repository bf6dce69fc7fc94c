"""For tests of the cure clock: an abstract row, hours, and the rule once more in plain Python."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from lineproof.sums.cure_clock import CureClock, History, cure_clock
from lineproof.sums.readings import Readings
from lineproof.sums.waits import Waits

HOUR = 3600.0
ZERO_C = 273.15


def fahr(degrees: float) -> float:
    return (degrees - 32.0) / 1.8 + ZERO_C


EDGES = [fahr(f) for f in (0, 40, 60, 100)]


def abstract_row(coldest: float, _dampest: float | None = None) -> float | None:
    """24/48/192 h for 60-100, 40-60, 0-40 F; edges to the colder band. A test row, not a cure schedule."""
    if not EDGES[0] <= coldest <= EDGES[3]:
        return None
    return HOUR * (192 if coldest <= EDGES[1] else 48 if coldest <= EDGES[2] else 24)


ROW = Waits.of(abstract_row, edges=EDGES)


def hourly(celsius: Sequence[float], *, first: float = 0.0, apart: float = HOUR) -> Readings:
    return Readings([first + i * apart for i in range(len(celsius))], [c + ZERO_C for c in celsius])


def clock_of(
    celsius: Sequence[float],
    *,
    waits: Waits = ROW,
    history: History | None = None,
    now: float | None = None,
    assembled: float = 0.0,
    temperature: float | None = -1.0,
    started: float | None = -1.0,
    disturbed: Sequence[float] = (),
    humidity: float | None = None,
) -> CureClock:
    """A joint made at the first of hourly readings, unless said otherwise."""
    return cure_clock(
        history or History(hourly(celsius)),
        waits,
        now=(len(celsius) - 1) * HOUR if now is None else now,
        assembled=assembled,
        temperature=celsius[0] + ZERO_C if temperature == -1.0 else temperature,
        started=assembled if started == -1.0 else started,
        disturbed=disturbed,
        humidity=humidity,
    )


def plain_clock(
    points: Sequence[tuple[float, float, float]],
    wait: Callable[[float, float], float | None],
    *,
    started: float,
    max_gap: float = 2 * HOUR,
    late: Sequence[tuple[float, float]] = (),
    air: Callable[[float, float], float | None] = lambda a, b: None,
) -> float | None:
    """When the wait is whole, told again without arrays.

    ``points`` are (time, temperature, humidity) in order, the assembly first. ``late`` are temperatures that
    only make it colder; ``air`` gives the coldest that a hole may have had, or None.
    """
    coldest, dampest = points[0][1], points[0][2]
    earned = 0.0
    for (t0, temp0, rh0), (t1, temp1, rh1) in pairwise(points):
        inside = [temp for t, temp in late if t0 <= t <= t1]
        coldest = min([coldest, temp0, temp1, *inside])
        dampest = max(dampest, rh0, rh1)
        if t1 - t0 > max_gap:
            bridged = air(t0, t1)
            if bridged is None:
                return None
            coldest = min(coldest, bridged)
            continue
        tau = wait(coldest, dampest)
        begin = max(t0, started)
        if tau is None or t1 <= begin:
            continue
        if earned + (t1 - begin) >= tau:
            return begin + max(0.0, tau - earned)
        earned += t1 - begin
    return None
