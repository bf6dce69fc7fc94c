"""The cure clock: 10,000 joints beside a year of hourly readings, against one bare NumPy pass.

Invented data: readings with a daily and a yearly swing and a hole now and then, weather and humidity beside
them; joints spread over the year, 8 sizes by 3 pressure columns of an invented card, so 24 tables. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/cure_clock.py``.

The bare pass is the least that any clock must do with the readings: for one joint a running minimum and a
running sum over the hours. The design asks for one whole answer, warm, within 0.1 s.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from lineproof.sums.cure_clock import History, JointTimes, clocks
from lineproof.sums.readings import Readings, Weather
from lineproof.sums.waits import Waits

HOUR = 3600.0
JOINTS = 10_000
HOURS = 8760
EDGES = [261.0, 266.5, 277.6, 288.7, 311.0]  # coldest to hottest [K]


def best(call: Callable[[], object], times: int = 5) -> float:
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        spent.append(time.perf_counter() - start)
    return min(spent)


def year(hours: int) -> tuple[Readings, Weather, Readings]:
    rng = np.random.default_rng(7)
    at = np.arange(hours) * HOUR
    kelvin = 285 + 10 * np.sin(at / (HOURS * HOUR) * 2 * np.pi) + 6 * np.sin(at / (24 * HOUR) * 2 * np.pi)
    kelvin += rng.normal(0, 1, hours)
    kept = rng.random(hours) > 0.01
    kept[0] = True
    weather = Weather(at, kelvin + 2, margin=5.0)
    return Readings(at[kept], kelvin[kept]), weather, Readings(at, np.clip(rng.normal(0.5, 0.1, hours), 0, 1))


def tables() -> list[Waits]:
    made = []
    for size in range(8):
        for column in range(3):
            base = HOUR * (2 + size) * (1 + 3 * column)

            def lookup(kelvin: float, rh: float | None, base: float = base) -> float | None:
                if rh is None or not EDGES[0] <= kelvin <= EDGES[-1]:
                    return None
                colder = sum(kelvin <= edge for edge in EDGES[1:-1])
                return base * (1, 2, 6, 8)[colder] * (1.5 if rh > 0.6 else 1.0)

            made.append(Waits.of(lookup, edges=EDGES, damp=[0.6]))
    return made


def joints(hours: int) -> list[JointTimes]:
    rng = np.random.default_rng(11)
    assembled = rng.uniform(0, hours * HOUR * 0.999, JOINTS)
    made = JointTimes(
        assembled=assembled,
        temperature=rng.uniform(280, 295, JOINTS),
        started=assembled + 900.0,
        humidity=np.full(JOINTS, 0.5),
    )
    kinds = rng.integers(0, 24, JOINTS)
    return [
        JointTimes(
            assembled=made.assembled[kinds == k],
            temperature=made.temperature[kinds == k],
            started=made.started[kinds == k],
            humidity=made.humidity[kinds == k],
        )
        for k in range(24)
    ]


def main() -> None:
    waits = tables()
    print(f"{JOINTS} joints, 24 tables of waits; seconds, best of 5")
    for hours in (HOURS // 8, HOURS, HOURS * 8):
        readings, weather, humidity = year(hours)
        groups = joints(hours)
        now = hours * HOUR

        def prepare(
            readings: Readings = readings, weather: Weather = weather, humidity: Readings = humidity
        ) -> History:
            return History(readings, weather=weather, humidity=humidity)

        history = prepare()

        def answer(
            history: History = history, groups: list[JointTimes] = groups, now: float = now
        ) -> list[object]:
            return [clocks(history, w, made, now=now) for w, made in zip(waits, groups, strict=True)]

        first = best(lambda answer=answer: answer(), 1)
        spent = best(answer)
        kelvin = np.asarray(readings.values)
        apart = np.diff(np.asarray(readings.times), prepend=0.0)

        def bare(kelvin: np.ndarray = kelvin, apart: np.ndarray = apart) -> None:
            np.minimum.accumulate(kelvin)
            np.cumsum(apart)

        one_pass = best(bare)
        reached = sum(int((~np.isnan(c.reached_at)).sum()) for c in answer())
        print(
            f"{hours:6d} readings: prepare {best(prepare):.4f}, first answer {first:.4f}, "
            f"answer once prepared {spent:.4f}; {reached} reached"
        )
        print(
            f"       a bare pass {one_pass * 1e6:.0f} us; all joints = {spent / one_pass:.0f} passes, "
            f"a pass for each joint would be {JOINTS} ({spent / one_pass / JOINTS:.4f} of that)"
        )


if __name__ == "__main__":
    main()
