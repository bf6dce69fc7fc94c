"""A frame of 2,000 members, from bare arrays to moves, end forces and reactions, beside PyNiteFEA.

Invented pipe that winds back and forth, held at every seventh node, 25 K warmer and full of water; both
answer the same model in the same run, and their moves are held against each other. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/frame.py``. Bounds: 0.3 s, and ten times as fast as PyNiteFEA.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
# The rigs of the tests instead of this folder.
sys.path[0] = str(ROOT / "tests")

from frame_rig import moves_of, second_opinion, serpentine  # noqa: E402
from lineproof.sums.frame_solve import Ready, bend  # noqa: E402

MEMBERS = 2000
ALLOWED_S, TIMES = 0.3, 10.0


def main() -> int:
    frame, loads = serpentine(MEMBERS)
    ours = []
    for _ in range(5):
        start = time.perf_counter()
        built, what = serpentine(MEMBERS)
        bent = bend(built, what)
        ours.append(time.perf_counter() - start)
    ready = Ready(frame)
    start = time.perf_counter()
    for _ in range(20):
        ready.under(loads)
    again = (time.perf_counter() - start) / 20
    start = time.perf_counter()
    model = second_opinion(frame, loads)
    built_s = time.perf_counter() - start
    start = time.perf_counter()
    model.analyze_linear(log=False, check_stability=False, check_statics=False, sparse=True)
    theirs = time.perf_counter() - start
    apart = float(np.abs(bent.moves - moves_of(model, MEMBERS + 1)).max())
    best, worst = min(ours), max(ours)
    print(f"members                      {MEMBERS}")
    print(f"ours, all of it              {best:.3f} s best, {worst:.3f} s worst of 5")
    print(f"ours, one more load          {again * 1e3:.1f} ms")
    print(f"PyNiteFEA, build + analysis  {built_s:.2f} + {theirs:.2f} s")
    print(f"ratio to its analysis alone  {theirs / best:.0f}")
    print(f"largest move {np.abs(bent.moves).max():.4f}, apart by {apart:.1e}")
    good = best <= ALLOWED_S and theirs / best >= TIMES and apart <= 1e-6 * np.abs(bent.moves).max()
    print("within bounds" if good else "OUT OF BOUNDS")
    return 0 if good else 1


if __name__ == "__main__":
    raise SystemExit(main())
