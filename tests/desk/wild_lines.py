"""Two hundred walks of every kind for the tests of the drawing. Every name and number is invented.

Seven kinds in turn: the mixed walks of :mod:`desk.walked_lines`, loops back into their own tee, cubes whose
corners fall on one another on isometric paper, tiny beside huge legs, metric mains with slopes, rolling legs,
and combs of many branches with more legs than a sheet holds.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from functools import cache

from desk.walked_lines import OPPOSITE, WAYS, example_job, random_walk
from lineproof.book.sizes import Size
from lineproof.job.folder import Job
from lineproof.job.walk_read import read_walk
from lineproof.plan.work import Work, work

COUNT = 200
KINDS = ("mixed", "loop", "cube", "tiny and huge", "metric", "rolling", "comb")


@dataclass(frozen=True, slots=True)
class Wild:
    """One generated line."""

    name: str
    kind: str
    text: str
    metric: bool = False


def wild(seed: int) -> Wild:
    """The walk of a seed, the same on every run."""
    rng = random.Random(f"wild {seed}")
    name, kind = f"W-{seed}", KINDS[seed % len(KINDS)]
    if kind == "mixed":
        return Wild(f"R-{seed}", kind, random_walk(seed, 5 + (seed * 37) % 80))
    metric = kind == "metric"
    pipe = "d160 pipe pvc pn10" if metric else f"{rng.choice(('2in', '4in', '8in'))} pipe pvc sch80"
    at = "0 m, 0 m, 1.2 m" if metric else "0, 0, 4'"
    head = [
        f"drawing {name} rev 0",
        f'line {name} size {pipe} for "made-up service {seed}"',
        f'starts at flange fixed "pump {seed}" at {at} facing north',
    ]
    make = {
        "loop": _loop, "cube": _cube, "tiny and huge": _tiny_and_huge, "metric": _metric, "rolling": _rolling,
        "comb": _comb,
    }[kind]  # fmt: skip
    body, end = make(rng, name)
    return Wild(name, kind, "\n".join([*head, *body, end]) + "\n", metric)


def _across(rng: random.Random, way: str) -> str:
    return rng.choice([w for w in WAYS if WAYS[w] != WAYS[way]])


def _loop(rng: random.Random, name: str) -> tuple[list[str], str]:
    """A closed way: out through a tee, round three or four corners at another level, back into its branch."""
    out, across, up = (rng.randint(6, 30) for _ in range(3))
    side, back = rng.choice((("east", "west"), ("west", "east")))
    rise, fall = rng.choice((("up", "down"), ("down", "up")))
    body = [f"go north {rng.randint(4, 12)}'", f"tee {side} as {name}-1", f"go north {out}'"]
    if rng.random() < 0.5:
        body += [rng.choice(("union", "coupling", "flanges")), "go north 5'"]
        out += 5
    body += [f"go {rise} {up}'", f"go {side} {across}'", f"go south {out}'", f"go {fall} {up}'"]
    return [*body, f"go {back} {across}'"], f"ends at branch {name}-1"


def _cube(rng: random.Random, name: str) -> tuple[list[str], str]:
    """Equal steps along east, south and up come back to the same point of the paper."""
    feet = rng.choice((3, 6, 10, 25))
    body = [f"go north {feet}'"]
    around = rng.choice((("east", "south", "up"), ("west", "north", "down"), ("up", "east", "south")))
    for n in range(rng.randint(1, 3)):
        for way in around:
            if rng.random() < 0.3:
                last = body[-1].split()[1]
                body.append(f"tee {_across(rng, last)} as {name}-{n}{way}")
                body.append(f"go {last} {feet}'")
            if body[-1].split()[1] == OPPOSITE[way]:
                body.append(f"go {_across(rng, way)} {feet}'")
            body.append(f"go {way} {feet}'")
    body.append(f"go {_across(rng, body[-1].split()[1])} {feet}'")
    return body, "ends at cap"


def _tiny_and_huge(rng: random.Random, name: str) -> tuple[list[str], str]:
    """Legs of a foot and a half beside legs of hundreds of feet."""
    way, body = "north", ["go north 3'"]
    for n in range(rng.randint(6, 24)):
        if rng.random() < 0.2:
            body.append(f"tee {_across(rng, way)} as {name}-{n}")
        else:
            way = _across(rng, way)
        long = rng.choice(("1'-6\"", "1'-9 1/16\"", "2'", "3'-0 1/16\"", "40'", "180'", "600'"))
        body.append(f"go {way} {long}")
    return body, rng.choice(("ends at cap", "ends at blind", 'ends at flange fixed "vessel"'))


def _metric(rng: random.Random, name: str) -> tuple[list[str], str]:
    """A metric main: slopes, risers, branches, field pieces."""
    way, body = "north", ["go north 2.5 m"]
    for n in range(rng.randint(6, 40)):
        roll = rng.random()
        if roll < 0.3:
            body.append(f"tee {_across(rng, way)} as {name}-{n}")
        elif roll < 0.45:
            body.append(rng.choice(("union", "coupling", "flanges")))
        else:
            way = _across(rng, way)
        last = body[-1].split()[0]
        level = way not in ("up", "down")
        slope = rng.choice((" down 10 mm/m along", " down 1:200 along", " up 5 mm/m in plan"))
        told = slope if level and last == "go" and rng.random() < 0.2 else ""
        field = " field" if rng.random() < 0.15 else ""
        body.append(f"go {way} {rng.choice((0.9, 1.25, 2.0, 3.475, 6.0, 12.5, 36.0))} m{told}{field}")
    return body, "ends at cap"


def _rolling(rng: random.Random, name: str) -> tuple[list[str], str]:
    """Rolling offsets of 45 degrees both ways, with plain legs and branches between."""
    body = ["go north 6'"]
    for n in range(rng.randint(2, 7)):
        side, rise = rng.choice(("east", "west")), rng.choice(("up", "down"))
        shift = rng.randint(2, 6)
        body.append(f"offset {side} {shift}' {rise} {rng.randint(2, 6)}' with 45")
        body.append(f"go north {rng.randint(9, 30)}'")
        if rng.random() < 0.5:
            body.append(f"tee {rng.choice(('east', 'west', 'up', 'down'))} as {name}-{n}")
            body.append(f"go north {rng.randint(4, 12)}'")
    return body, "ends at cap"


def _comb(rng: random.Random, name: str) -> tuple[list[str], str]:
    """More legs than a sheet holds: a header that turns back on itself, with a branch at every step."""
    body, way = ["go north 4'"], "north"
    for n in range(rng.randint(26, 64)):
        if n % 9 == 8:
            body += [f"go {rng.choice(('up', 'down', 'east'))} {rng.randint(3, 8)}'"]
            way = OPPOSITE[way]
        else:
            body.append(f"tee {_across(rng, way)} as {name}-{n}")
        body.append(f"go {way} {rng.choice((4, 5, 8, 12))}'")
    return body, "ends at blind"


@cache
def metric_job() -> Job:
    """The example job in millimetres, with metric pipe."""
    job = example_job()
    stock = job.settings.stock[0]
    pipe = replace(
        stock, id="D160", size=Size.parse("d160"), series="pn10", od_family="metric", length=6.0, lot="D-1"
    )
    shown = replace(job.settings.shown, units="metric")
    return replace(job, settings=replace(job.settings, stock=(pipe,), shown=shown))


def work_of_wild(line: Wild) -> Work:
    """The plan of a generated line."""
    job = metric_job() if line.metric else example_job()
    return work(replace(job, walks=(read_walk(line.text, "test.walk"),)), seconds=1, nest=False)
