"""The pressure clocks of 10,000 joints with a year of hourly temperatures, from the logbook's entries on.

Invented data: one logger's file of a year for each of eight areas, joints spread over the year, four sizes,
pressures that differ from joint to joint, every fifth joint read by hand as well, every fiftieth moved and
every hundredth knocked; the card is that of the tests. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/pressure_clocks.py``.

Bounds measured in the same run: one bare NumPy pass over the year (a running minimum and a running sum), and
making 10,000 plain Python values with as many fields as an answer has, which is the least that an answer a
joint can cost.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import fields
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
# The rigs of the tests instead of this folder, whose logbook.py would stand before tests/logbook.
sys.path[0] = str(ROOT / "tests")

from cure_rig import CARD, inch, psi  # noqa: E402  # the invented card of the tests
from lineproof.checks.curing import Cured  # noqa: E402
from lineproof.logbook.clocks import Stamp  # noqa: E402
from lineproof.logbook.entry import moment_text  # noqa: E402
from lineproof.logbook.fold import Fold  # noqa: E402
from lineproof.logbook.logger_files import LoggerFiles  # noqa: E402
from lineproof.logbook.progress_of import progress_of  # noqa: E402
from lineproof.logbook.shelf import Shelf  # noqa: E402
from lineproof.logbook.store import Stored  # noqa: E402
from lineproof.plan.cure_clocks import CureAsked, CureClocks  # noqa: E402
from logbook.rig import chain  # noqa: E402

JOINTS = 10_000
HOURS = 8760
AREAS = 8
BEGIN = datetime(2026, 1, 1, tzinfo=UTC)
NOW = BEGIN + timedelta(hours=HOURS)
SIZES = [inch(text) for text in ("1", "2", "4", "8")]
ZONE = ZoneInfo("America/Denver")


def best(call: Callable[[], object], times: int = 5) -> float:
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        spent.append(time.perf_counter() - start)
    return min(spent)


def year(seed: int) -> np.ndarray:
    rng = np.random.default_rng(seed)
    at = np.arange(HOURS) / 24.0
    return 14 + 9 * np.sin(at / 365 * 2 * np.pi) + 5 * np.sin(at * 2 * np.pi) + rng.normal(0, 1, HOURS)


def file_of(celsius: np.ndarray) -> bytes:
    rows = (f"{(BEGIN + timedelta(hours=h)).isoformat()},{celsius[h]:.2f}\n" for h in range(len(celsius)))
    return ("time,temperature C\n" + "".join(rows)).encode()


def entries(shelf: Shelf) -> list[Stored]:
    """Joints made through the year, and at its end the loggers' files of it."""
    rng = np.random.default_rng(3)
    told: list[tuple[str, dict[str, object]]] = []
    celsius = [year(area) for area in range(AREAS)]
    for n in range(JOINTS):
        hour = int(n / JOINTS * (HOURS - 50))
        at = moment_text(BEGIN + timedelta(hours=hour, minutes=10))
        end = moment_text(BEGIN + timedelta(hours=hour, minutes=14))
        joint, cold = f"L/J{n}", float(celsius[n % AREAS][hour])
        kelvin = {"typed": f"{cold:.2f} C", "si": f"{cold + 273.15:.4f}", "unit": "K"}
        damp = {"typed": "50 %", "si": "0.5", "unit": "1"}
        told.append(("joint_made", {"joint": joint, "at": at, "joint_temperature": kelvin, "humidity": damp}))
        told.append(("hold_end", {"joint": joint, "at": end}))
        if n % 5 == 0:
            told.append(("reading", {"joint": joint, "temperature": kelvin, "of": "joint"}))
        if n % 50 == 0:
            told.append(("moved", {"joint": joint}))
        if n % 100 == 1:
            told.append(("disturbed", {"joint": joint}))
    made = chain("one", told, start=BEGIN, apart=timedelta(hours=HOURS) / (len(told) + 1))
    files = [
        (
            "reading_file",
            {
                "file": shelf.put(file_of(celsius[area])), "name": f"logger-{area}.csv", "of": "joint",
                "clock_checked": True, "joints": [f"L/J{n}" for n in range(area, JOINTS, AREAS)],
            },
        )
        for area in range(AREAS)
    ]  # fmt: skip
    read = chain("two", files, start=NOW - timedelta(minutes=20), apart=timedelta(seconds=1))
    rng.shuffle(made)
    return [Stored(entry, 1, i) for i, entry in enumerate([*made, *read], 1)]


def main() -> None:
    with TemporaryDirectory() as there:
        shelf = Shelf(Path(there) / "files")
        stored = entries(shelf)
        files = LoggerFiles(shelf, ZONE)
        now = Stamp(wall=NOW, confirmed=True)

        folding = Fold()
        start = time.perf_counter()
        for each in stored:
            folding.add(each)
        state = folding.state()
        folded = time.perf_counter() - start

        start = time.perf_counter()
        progress = progress_of(state, now, files=files)
        first_progress = time.perf_counter() - start
        warm_progress = best(lambda: progress_of(state, now, files=files))

        rng = np.random.default_rng(5)
        pressures = [psi(float(p)) for p in rng.uniform(60, 240, JOINTS)]
        asked = [
            CureAsked(
                joint=progress.of(f"L/J{n}"), size=SIZES[n % 4], card=CARD, pressure=pressures[n],
                pullers=False,
            )
            for n in range(JOINTS)
        ]  # fmt: skip
        start = time.perf_counter()
        clocks = CureClocks(progress, ZONE, 0.5)
        found = clocks.facts_of(asked)
        first = time.perf_counter() - start
        warm = best(lambda: clocks.facts_of(asked))

        celsius = year(0)
        one_pass = best(lambda: (np.minimum.accumulate(celsius), np.cumsum(celsius)))
        names = [f.name for f in fields(Cured)]
        values = {name: getattr(found[0], name) for name in names}
        plain = best(lambda: [Cured(**values) for _ in range(JOINTS)])

        reached = sum(f.reached is not None for f in found)
        series = len({id(progress.of(f"L/J{n}").readings.parts[0]) for n in range(JOINTS)})
        print(f"{JOINTS} joints, {AREAS} loggers of {HOURS} hours, {len(stored)} entries; best of 5, seconds")
        print(f"  folding the entries once         {folded:.3f}; {folding.folded} folded")
        print(f"  progress, files read the first time {first_progress:.3f}; again {warm_progress:.3f}")
        print(f"  {series} years held for all joints; {reached} joints reached")
        print(f"  clocks, first call {first:.3f}; warm {warm:.3f}")
        print(f"  bare pass over a year {one_pass * 1e6:.0f} us: warm = {warm / one_pass:.0f} passes")
        print(f"  {JOINTS} plain answers {plain:.3f}: warm = {warm / plain:.1f} x that")


if __name__ == "__main__":
    main()
