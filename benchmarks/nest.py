"""Fewest sticks: our plan beside first fit and OR-tools CP-SAT, and how the time grows.

Invented pieces: 60 lengths from 80 to 4200 mm, drawn evenly; bars of 6.1 m, saw cut 3 mm. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/nest.py``; ``--quick`` leaves CP-SAT and the largest sizes out.
"""

import argparse
import math
import random
import time
from collections import Counter

from lineproof.plan.nest import Nesting, Stick, Want, first_fit, nest

BAR, KERF = Stick("bar", 6.1), 0.003
PEER_SECONDS = 20.0


def pieces(seed: int, number: int, kinds: int) -> list[Want]:
    rng = random.Random(seed)
    lengths = rng.sample(range(80, 4201), kinds)
    return [Want(f"P{i}", rng.choice(lengths) / 1000) for i in range(number)]


def timed(wants: list[Want], best_of: int = 3) -> tuple[Nesting, float]:
    times = []
    for _ in range(best_of):
        start = time.perf_counter()
        plan = nest(wants, BAR, kerf=KERF)
        times.append(time.perf_counter() - start)
    return plan, min(times)


def cp_sat(wants: list[Want], bars: int) -> tuple[int | None, int, float]:
    """Return bars, bound and seconds of a plain CP-SAT model: so many of each length in each bar.

    It is given the bars that first fit needs, first fit itself as a hint, and sorted bars against symmetry.
    """
    from ortools.sat.python import cp_model

    start = time.perf_counter()
    demand = Counter(round(w.length * 1000) for w in wants)
    room = 6100 + 3
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in range(bars)]
    cut = {(mm, b): model.new_int_var(0, room // (mm + 3), "") for mm in demand for b in range(bars)}
    for mm, n in demand.items():
        model.add(sum(cut[mm, b] for b in range(bars)) == n)
    for b in range(bars):
        model.add(sum((mm + 3) * cut[mm, b] for mm in demand) <= room * used[b])
        if b:
            model.add_implication(used[b], used[b - 1])
    model.minimize(sum(used))
    length = {w.id: round(w.length * 1000) for w in wants}
    for b, stick in enumerate(first_fit(wants, BAR, kerf=KERF).sticks):
        held = Counter(length[i] for i in stick.pieces)
        model.add_hint(used[b], 1)
        for mm in demand:
            model.add_hint(cut[mm, b], held[mm])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = PEER_SECONDS
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    found = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return found, math.ceil(solver.best_objective_bound - 1e-6), time.perf_counter() - start


def beside_peers(peer: bool) -> None:
    print("2,000 pieces, 60 lengths; a ratio is to the rounded-up bound")
    for seed in (7, 1, 2, 3):
        wants = pieces(seed, 2000, 60)
        plan, seconds = timed(wants)
        start = time.perf_counter()
        plain = first_fit(wants, BAR, kerf=KERF)
        plain_seconds = time.perf_counter() - start
        assert plan.new_sticks <= plain.new_sticks
        bound = plan.bound
        print(f"seed {seed}: bound {bound}, gap {plan.gap}, {plan.method}")
        rows = [("nest", plan.new_sticks, seconds), ("first fit", plain.new_sticks, plain_seconds)]
        if peer:
            found, peer_bound, spent = cp_sat(wants, plain.new_sticks)
            rows.append((f"CP-SAT, bound {peer_bound}", found or 0, spent))
        for name, sticks, spent in rows:
            ratio = f"{sticks / bound:.4f}" if sticks else "none found"
            share = f"ours {seconds / spent:.3f} of it"
            print(f"  {name:18} {sticks:5d} sticks, ratio {ratio}, {spent:7.3f} s, {share}")


def growth(title: str, sizes: list[int], kinds: int | None) -> None:
    """Print seconds and the exponent p of time ~ pieces^p, fitted by least squares on logarithms."""
    print(f"\n{title}")
    points = []
    for number in sizes:
        spent, gaps = 0.0, []
        for seed in (7, 1, 2):
            plan, seconds = timed(pieces(seed, number, kinds or min(4000, number * 3 // 5)), best_of=2)
            spent += seconds / 3
            gaps.append(plan.gap)
        points.append((math.log(number), math.log(spent)))
        print(f"  {number:5d} pieces  {spent:7.3f} s   gaps {gaps}", flush=True)
    mean_x = sum(x for x, _ in points) / len(points)
    mean_y = sum(y for _, y in points) / len(points)
    slope = sum((x - mean_x) * (y - mean_y) for x, y in points) / sum((x - mean_x) ** 2 for x, _ in points)
    print(f"  fitted exponent {slope:.2f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    quick = parser.parse_args().quick
    handful = [Want(f"P{i}", mm / 1000) for i, mm in enumerate((4000, 2000, 3000, 1500, 800, 600, 2400))]
    print(f"a handful of pieces: {timed(handful)[1] * 1000:.2f} ms\n")
    beside_peers(peer=not quick)
    sizes = [500, 1000, 2000, 4000, 8000]
    growth("60 lengths", sizes[:3] if quick else sizes, 60)
    growth("up to 3 lengths for 5 pieces", sizes[:3] if quick else sizes, None)


if __name__ == "__main__":
    main()
