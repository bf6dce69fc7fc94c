"""A year of hourly windows: sun, wall, dew point, chilled film, card, hands and rain, for one joint.

Invented weather of 8,760 hours. Beside it, in the same run: the dew points alone, hour by hour through the
plain sum of the hand calculator, which is the least that asking each hour by itself would cost. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/hours.py``. Bound: 0.2 s.
"""

from __future__ import annotations

import math
import sys
import time
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
# The rigs of the tests instead of this folder.
sys.path[0] = str(ROOT / "tests")

from joint_rig import planned  # noqa: E402
from lineproof.book.load import book  # noqa: E402
from lineproof.floor.sources import Reading  # noqa: E402
from lineproof.plan.hours_air import Cover, Hourly, pipe_in  # noqa: E402
from lineproof.plan.hours_wants import wants_of  # noqa: E402
from lineproof.sums.air import dew_point  # noqa: E402
from lineproof.sums.hours import HOUR, Air, judge  # noqa: E402

HOURS, ALLOWED_S = 8760, 0.2


def year(seed: int) -> Hourly:
    rng = np.random.default_rng(seed)
    at = HOUR * np.arange(HOURS)
    warm = 285 - 12 * np.cos(2 * np.pi * at / (HOUR * HOURS)) - 6 * np.cos(2 * np.pi * at / (24 * HOUR))
    told = rng.random(HOURS) > 0.01
    air = Air(
        at=1.8e9 + at, temperature=np.where(told, warm + rng.normal(0, 2, HOURS), np.nan),
        humidity=rng.uniform(0.3, 1.0, HOURS), wind=rng.uniform(0, 9, HOURS),
        rain=np.where(rng.random(HOURS) < 0.06, 1e-3, 0.0),
    )  # fmt: skip
    return Hourly(air, rng.uniform(0, 1, HOURS), told, told)


def main() -> int:
    with TemporaryDirectory() as folder:
        made, plans = planned(Path(folder))
    settings, tables = made.job.settings, book()
    site = replace(settings.site, latitude=math.radians(40.0), longitude=math.radians(-75.0))
    hours, joint = year(3), plans[0]
    card = settings.card(joint.card)
    ours = []
    for _ in range(7):
        start = time.perf_counter()
        log = Reading()
        pipe = pipe_in(hours, Cover(), site, tables, log)
        judged = judge(
            hours.air, pipe, wants_of(joint, card, hours, pipe, tables, log, people=4, sheltered=False)
        )
        ours.append(time.perf_counter() - start)
    start = time.perf_counter()
    for t, h in zip(np.nan_to_num(hours.air.temperature, nan=285.0), hours.air.humidity, strict=True):
        dew_point(float(t), float(h))
    plain = time.perf_counter() - start
    print(f"hours                                  {HOURS}")
    print(f"all of it                              {min(ours):.3f} s best, {max(ours):.3f} s worst of 7")
    print(f"dew points alone, an hour at a time    {plain:.3f} s; ours is {min(ours) / plain:.1f} times that")
    print(
        f"refused {(judged.stands == 3).sum()}, not known {(judged.stands == 2).sum()}, "
        f"care {(judged.stands == 1).sum()}, clear {(judged.stands == 0).sum()}"
    )
    good = min(ours) <= ALLOWED_S
    print("within bounds" if good else "OUT OF BOUNDS")
    return 0 if good else 1


if __name__ == "__main__":
    raise SystemExit(main())
