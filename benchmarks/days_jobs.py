"""Invented work for the benchmark of the days: 200 joints, three crews, fourteen days of invented weather.

Written and committed before any tuning; ``SEEDS`` are the ten that count. All figures are INVENTED DATA: the
waits are no standard's. Sizes NPS 2 to 24; a joint takes 15 min and 4.2 min per inch; from NPS 12 up two
crews join hands. Twelve branched lines in six sections; a joint waits for the hands-off time of the one
before it. Waits by four sizes of pipe and three bands of temperature, the band that of the hour of finish.
Nothing is joined outside 06:30 to 18:00, in rain, or below 5 or above 38 C. One pump, three hours a test.
"""

from __future__ import annotations

import math
import random
from datetime import UTC, datetime

from lineproof.plan.days.model import HANDS_OFF, NEVER, Ahead, Calendar, Link, Task, Trial, Wait, Way

SEEDS = (3, 11, 17, 29, 41, 53, 67, 79, 97, 113)
HOUR, DAY = 12, 288
"""In slots."""
CREWS = ("K-1", "K-2", "K-3")
SIZES = ((2, 0.20), (3, 0.14), (4, 0.16), (6, 0.16), (8, 0.14), (12, 0.10), (16, 0.05), (24, 0.05))
CLASSES = (("to 3", 3), ("to 6", 6), ("to 10", 10), ("above 10", 99))
SET_H = ((0.5, 1.0, 2.0), (1.0, 2.0, 4.0), (2.0, 4.0, 8.0), (4.0, 8.0, 16.0))
CURE_H = ((6.0, 12.0, 24.0), (12.0, 24.0, 36.0), (24.0, 36.0, 48.0), (36.0, 48.0, 72.0))
BANDS_C = (25.0, 15.0, 5.0)


def weather(rng: random.Random, days: int) -> tuple[list[float], list[bool]]:
    """Hourly air in C, and whether it rains."""
    base, heat, rain = 17.0, [], [False] * (days * 24)
    for day in range(days):
        base += rng.uniform(-2.5, 2.5)
        base = min(max(base, 11.0), 23.0)
        swing = rng.uniform(4.0, 9.0)
        heat += [base - swing * math.cos(2 * math.pi * (hour - 3) / 24) for hour in range(24)]
        if rng.random() < 0.35:
            first = rng.randrange(6, 18)
            for hour in range(first, min(first + rng.randrange(1, 6), 24)):
                rain[day * 24 + hour] = True
    return heat, rain


def _steps(hours: tuple[float, float, float], heat: list[float], horizon: int) -> tuple[tuple[int, int], ...]:
    steps: list[tuple[int, int]] = []
    for hour in range(horizon // HOUR + 1):
        air = heat[min(hour, len(heat) - 1)]
        band = next((n for n, low in enumerate(BANDS_C) if air >= low), None)
        slots = NEVER if band is None else round(hours[band] * HOUR)
        if not steps or steps[-1][1] != slots:
            steps.append((hour * HOUR, slots))
    return tuple(steps)


def instance(seed: int, joints: int = 200, crews: int = 3, days: int = 14, lines: int = 12) -> Ahead:
    """One piece of work.

    Parameters
    ----------
    seed : int
    joints, crews, days, lines : int
        How large. The weather of a seed is the same for any number of joints.
    """
    heat, rain = weather(random.Random(f"weather {seed}"), days)
    horizon = days * DAY
    open_hours = [5.0 <= c <= 38.0 and not wet for c, wet in zip(heat, rain, strict=True)]
    stretches: list[tuple[int, int]] = []
    for slot in range(horizon):
        if 78 <= slot % DAY < 216 and open_hours[slot // HOUR]:
            if stretches and stretches[-1][1] == slot:
                stretches[-1] = (stretches[-1][0], slot + 1)
            else:
                stretches.append((slot, slot + 1))
    waits = {}
    for n, (name, _) in enumerate(CLASSES):
        waits[f"set {name}"] = Wait(f"set {name}", _steps(SET_H[n], heat, horizon))
        waits[f"cure {name}"] = Wait(f"cure {name}", _steps(CURE_H[n], heat, horizon))

    rng = random.Random(f"joints {seed}")
    names = CREWS[:crews] if crews <= 3 else tuple(f"K-{n + 1}" for n in range(crews))
    tasks: list[Task] = []
    on_line: dict[int, list[str]] = {}
    for n in range(joints):
        line = rng.randrange(lines)
        size = rng.choices([s for s, _ in SIZES], [w for _, w in SIZES])[0]
        name = next(text for text, most in CLASSES if size <= most)
        busy = math.ceil((15 + 4.2 * size) / 5)
        teams = [(k,) for k in names]
        if size >= 12 and crews > 1:
            teams = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
        before = on_line.setdefault(line, [])
        links = ()
        if before:
            at = before[-1] if rng.random() < 0.75 else rng.choice(before)  # else a branch
            links = (Link(at, HANDS_OFF),)
        name_of = f"L{line + 1:02d}/J{n + 1}"
        before.append(name_of)
        tasks.append(
            Task(
                id=name_of, ways=tuple(Way(team, busy, "work") for team in teams), hands_off=f"set {name}",
                cured=f"cure {name}", links=links, group=f"{size} in", place=f"L{line + 1:02d}",
            )
        )  # fmt: skip
    sections = max(1, lines // 2)
    trials = []
    for s in range(sections):
        ids = tuple(t.id for t in tasks if int(t.id[1:3]) % sections == s)
        if ids:
            trials.append(Trial(id=f"S-{s + 1}", joints=ids, busy=36, calendar="tests", holds=("PUMP",)))
    return Ahead(
        begin=datetime(2027, 4, 12, tzinfo=UTC),
        horizon=horizon,
        calendars={
            "work": Calendar("work", tuple(stretches)),
            "tests": Calendar("tests", tuple((d * DAY + 78, d * DAY + 216) for d in range(days))),
        },
        waits=waits,
        tasks=tuple(tasks),
        trials=tuple(trials),
        people=dict.fromkeys(names, 3),
    )
