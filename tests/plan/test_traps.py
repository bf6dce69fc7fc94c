"""Fifty seeded jobs with planted traps: each is named, and nothing else is.

The coordinates of every end come from a vector walk written here, so that a wrong walk of ours would close
on wrong ends. Traps: sockets that overlap, an end that does not close, a spool turned the wrong way, a
fitting without a row, parts of another system.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import pytest

from lineproof.floor.errors import DrawingMismatch
from lineproof.floor.verdicts import Verdict
from lineproof.plan.judge import judge
from lineproof.plan.work import work
from rigs import FOOT, INCH, coupling, elbow, flange, job_at, part, stock, tee

WAYS = {
    "north": (0, 1, 0), "south": (0, -1, 0), "east": (1, 0, 0), "west": (-1, 0, 0), "up": (0, 0, 1),
    "down": (0, 0, -1),
}  # fmt: skip
BACK = {"north": "south", "south": "north", "east": "west", "west": "east", "up": "down", "down": "up"}
LOOKED_AT = ("GEO-01", "GEO-02", "PRT-01", "SPL-01", "SYS-01", "SYS-02", "SYS-03")
SIZES = ("4in", "6in")
REACH = {"4in": (4.5, 2.25), "6in": (6.5, 3.0)}


def fittings(size: str) -> list[str]:
    reach, depth = (f"{v} in" for v in REACH[size])
    return [
        elbow(size, reach, depth),
        tee(size, reach, depth),
        coupling(size, f"{REACH[size][1] + 0.25} in", depth),
        flange(size, f"{REACH[size][1] + 0.5} in", depth),
        part("cap", size, ends="socket closed", reach_1=depth, depth_1=depth),
    ]


@dataclass
class Rig:
    """A job being written, and what must be found in it."""

    rng: random.Random
    walks: list[str] = field(default_factory=list)
    parts: list[str] = field(default_factory=lambda: [row for s in SIZES for row in fittings(s)])
    wanted: set[tuple[str, str]] = field(default_factory=set)
    misclosed: list[tuple[int, str, str]] = field(default_factory=list)


def typed(inches: float) -> str:
    """Feet and inches to the eighth."""
    feet, rest = divmod(inches, 12)
    whole, eighths = divmod(round(rest * 8), 8)
    tail = f" {eighths}/8" if eighths else ""
    return f"{int(feet)}'-{int(whole)}{tail}\""


def plain_line(rig: Rig, name: str, size: str, *, short: bool = False, off: bool = False) -> None:
    """A line between two fixed flanges; its end comes from the vectors summed here."""
    rng = rig.rng
    at = [float(rng.randrange(0, 200) * 12) for _ in range(3)]
    start = list(at)
    heading = rng.choice(("north", "south", "east", "west"))
    legs, came = [], ""
    count = rng.randrange(3, 7)
    squeezed = rng.randrange(1, count - 1) if short else -1
    for n in range(count):
        way = heading if n == 0 else rng.choice([w for w in WAYS if w not in (came, BACK[came])])
        inches = rng.randrange(48 * 8, 200 * 8) / 8
        if n == squeezed:
            inches = 2 * REACH[size][0] - rng.randrange(1, 16) / 8
        legs.append(f"go {way} {typed(inches)}{' field' if n == 0 else ''}")
        at = [a + inches * v for a, v in zip(at, WAYS[way], strict=True)]
        came = way
    end = list(at)
    if off:
        axis = rng.randrange(3)
        by = rng.choice((-1, 1)) * rng.randrange(8, 80) / 8
        end[axis] += by
        towards = (("east", "west"), ("north", "south"), ("up", "down"))[axis][by < 0]
        rig.misclosed.append((len(rig.walks), name, towards))
    rig.walks.append(
        "\n".join(
            [
                f"line {name} size {size} pipe pvc sch80",
                f'starts at flange fixed "S {name}" flat at {place(start)} facing {heading}',
                *legs,
                f'ends at flange fixed "E {name}" flat at {place(end)}',
            ]
        )
        + "\n"
    )
    if short:
        rig.wanted.add(("GEO-01", name))


def place(inches: list[float]) -> str:
    return ", ".join(("-" if v < 0 else "") + typed(abs(v)) for v in inches)


def spools(rig: Rig, wrong: bool) -> None:
    """A header with repeated drops; one of them may turn the wrong way."""
    drops = rig.rng.randrange(4, 7)
    bad = rig.rng.randrange(drops) if wrong else -1
    lines = ['line H size 6in pipe pvc sch80\nstarts at flange fixed "S H" flat at 0, 0, 9ft facing east\n']
    for n in range(drops):
        lines.append(f"go east 6'-0\"\ntee down as H{n}\n")
    lines.append("go east 3'-0\"\nends at cap\n")
    for n in range(drops):
        turn = "west" if n == bad else "east"
        lines.append(
            f'line H{n} size 6in pipe pvc sch80\nstarts at branch H{n}\nspool "drop"\n'
            f"go down 4'-0\"\ngo north 3'-0\"\ngo {turn} 2'-6\"\ngo down 2'-0\"\nspool ends\nends at cap\n"
        )
        if n == bad:
            rig.wanted.add(("SPL-01", f"H{n}"))
    rig.walks += lines


def missing_fitting(rig: Rig) -> None:
    """A 45 that nobody has a row for."""
    rig.walks.append(
        'line M size 4in pipe pvc sch80\nstarts at flange fixed "S M" flat at 0, 0, 50ft facing north\n'
        "go north 5'\noffset east 3' with 45\ngo north 5'\nends at cap\n"
    )
    rig.wanted.add(("PRT-01", "elbow 45"))


def mixed_systems(rig: Rig) -> None:
    """A metric part, or a part of another material, put into an inch line."""
    kind = rig.rng.choice(("size", "material"))
    size, material, series = ("d160", "pvc", "pn10") if kind == "size" else ("6in", "cpvc", "sch80")
    rig.parts.append(
        part(
            "valve", size, tag="V-X", material=material, series=series, count="1", measured="1",
            ends="socket socket", reach_1="8 in", reach_2="8 in", depth_1="3.4 in", depth_2="3.4 in",
        )
    )  # fmt: skip
    rig.walks.append(
        'line X size 6in pipe pvc sch80\nstarts at flange fixed "S X" flat at 0, 90ft, 0 facing north\n'
        "go north 5'\nput \"V-X\"\ngo north 5'\nends at cap\n"
    )
    rig.wanted.add(("SYS-01" if kind == "size" else "SYS-02", "V-X"))


def rig_of(seed: int) -> Rig:
    rng = random.Random(seed)
    rig = Rig(rng)
    traps = [t for t in ("short", "off", "spool", "missing", "mixed") if rng.random() < 0.5]
    plain_line(rig, "A-1", rng.choice(SIZES))
    plain_line(rig, "A-2", rng.choice(SIZES), short="short" in traps)
    plain_line(rig, "A-3", rng.choice(SIZES), off="off" in traps)
    spools(rig, "spool" in traps)
    if "missing" in traps:
        missing_fitting(rig)
    if "mixed" in traps:
        mixed_systems(rig)
    return rig


@pytest.mark.parametrize("seed", range(50))
def test_planted_traps_are_named_and_nothing_else(tmp_path, seed):
    rig = rig_of(seed)
    toml = stock("4in") + stock("6in")
    if rig.misclosed:
        index, name, towards = rig.misclosed[0]
        with pytest.raises(DrawingMismatch) as error:
            work(job_at(tmp_path / "off", "".join(rig.walks), rig.parts, toml=toml))
        assert f"line {name} ends" in str(error.value)
        assert towards in str(error.value)
        text = rig.walks[index].rsplit(" at ", 1)[0] + "\n"  # leave the wrong end out and go on
        rig.walks[index] = text
    judged = judge(work(job_at(tmp_path / "job", "".join(rig.walks), rig.parts, toml=toml)))
    found = [f for f in judged.each if f.id in LOOKED_AT and f.verdict in (Verdict.STOP, Verdict.CANNOT_TELL)]
    left = set(rig.wanted)
    for f in found:
        text = f"{f.subject} {dict(f.facts)}"
        hits = {(check, word) for check, word in rig.wanted if check == f.id and word in text}
        assert hits, f"not planted: {f.id} {text}"
        left -= hits
    assert not left


def test_the_seeds_plant_every_trap_and_leave_some_jobs_clean():
    rigs = [rig_of(seed) for seed in range(50)]
    planted = {check for rig in rigs for check, _ in rig.wanted}
    assert planted == {"GEO-01", "PRT-01", "SPL-01", "SYS-01", "SYS-02"}
    assert any(not rig.wanted and not rig.misclosed for rig in rigs)
    assert sum(bool(rig.misclosed) for rig in rigs) > 10
    assert {s for rig in rigs for s in (REACH["4in"], REACH["6in"])} == set(REACH.values())
    assert FOOT == 12 * INCH
