"""Walks made by a seeded generator, for the tests of the drawing. Every name and number is invented."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from lineproof.book.sizes import Size
from lineproof.job.folder import Job, new_job, read_job
from lineproof.job.walk_read import read_walk
from lineproof.plan.work import Work, work

WAYS = {"north": 1, "south": 1, "east": 0, "west": 0, "up": 2, "down": 2}
OPPOSITE = {"north": "south", "south": "north", "east": "west", "west": "east", "up": "down", "down": "up"}


@cache
def example_job() -> Job:
    """The job folder a new user gets, with pipe of a few more sizes."""
    with TemporaryDirectory() as folder:
        new_job(Path(folder) / "job")
        job = read_job(Path(folder) / "job")
    stock = job.settings.stock[0]
    more = tuple(replace(stock, id=f"P{n}", size=Size.parse(f"{n}in")) for n in (4, 8, 12))
    return replace(job, settings=replace(job.settings, stock=(*job.settings.stock, *more)), taped=())


def work_of(text: str) -> Work:
    """The plan of a walk."""
    return work(replace(example_job(), walks=(read_walk(text, "test.walk"),)), seconds=1)


def random_walk(seed: int, legs: int) -> str:
    """A line of so many legs with all that may stand in one."""
    rng = random.Random(seed)
    size = "8in"
    lines = [f'drawing R-{seed} rev 1', f'line R-{seed} size {size} pipe pvc sch80 for "made-up service"',
             'starts at flange fixed "pump A" at 0, 0, 4\'-0" facing north']  # fmt: skip
    way, small = "north", False
    branches = 0
    lines.append(f"go north {rng.randint(3, 12)}'-{rng.randint(0, 11)}\"")
    made = 1
    while made < legs:
        roll = rng.random()
        if roll < 0.16:
            branches += 1
            side = rng.choice([w for w in WAYS if WAYS[w] != WAYS[way]])
            lines.append(f"tee {side} as R-{seed}-{branches}")
        elif roll < 0.22:
            lines.append("union")
        elif roll < 0.27:
            lines.append("flanges")
        elif roll < 0.31:
            lines.append("coupling")
        elif roll < 0.34 and not small:
            small = True
            lines.append("reduce to 6in eccentric flat top" if WAYS[way] != 2 else "reduce to 6in concentric")
        elif roll < 0.4:
            side, rise = rng.choice(["east", "west"]), rng.choice(["up", "down"])
            if WAYS[way] == 1:
                lines.append(f"offset {side} {rng.randint(2, 4)}' {rise} {rng.randint(2, 4)}' with 45")
                lines.append(f"go {way} 14'")
                lines.append("coupling")
                made += 2
        else:
            way = rng.choice([w for w in WAYS if WAYS[w] != WAYS[way]])
        inches = rng.choice(["", "", '-6"', '-3 1/2"', '-7 5/16"'])
        feet = rng.choice([2, 3, 4, 5, 6, 8, 11, 14, 19, 26, 45, 90])
        length = f"{feet}'{inches}"
        last = lines[-1].split()[0]
        level = WAYS[way] != 2
        slope = (
            f" {rng.choice(['up', 'down'])} 1:100 along"
            if level and last == "go" and rng.random() < 0.1
            else ""
        )
        lines.append(f"go {way} {length}{slope}" + (" field" if rng.random() < 0.1 else ""))
        made += 1
    lines.append(
        rng.choice(['ends at flange fixed "vessel B"', "ends at cap", "ends at blind", "ends at open"])
    )
    return "\n".join(lines) + "\n"
