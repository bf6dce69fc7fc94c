"""Whole sticks from patterns: rounding and diving, a mixed-integer finish, and repacking the emptiest sticks.

A dive fixes the whole part of the linear program's answer, solves again for what is left, and tries the plain
filling rules on the rest at every step. With many different lengths the linear program is too slow for all of
them at once; then the sticks with the most left over are taken out and cut again as a small problem.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

import highspy
import numpy as np

from lineproof.plan.nest_columns import (
    COARSE_STEP,
    FEW_STEPS,
    LP_CELLS,
    Column,
    Master,
    Purse,
    generate,
)
from lineproof.plan.nest_fill import fill, fill_pairs, quick_bound
from lineproof.plan.nest_grid import Bin, Problem

Choice = Callable[[Sequence[float]], int]
RULES: tuple[Callable[[Problem], list[Bin] | None], ...] = (fill, partial(fill, rule="best"), fill_pairs)
MANY = 100
"""With more classes than this, repacking is tried before the linear program over all of them."""


WORK = 3_000_000_000
"""Knapsack cells visited by column generation over all classes before it is stopped."""
DIVE_WORK = 600_000_000
"""Knapsack cells visited in dives over all classes."""
DIVES = 24
NODES = 400
"""Branch-and-bound nodes of the mixed-integer finish."""
MIP_CLASSES = 120
"""With more classes than this a node takes too long for the mixed-integer finish."""
PART_WORK = 600_000_000
"""Knapsack cells visited by repacking, all parts together."""
ONE_PART = 150_000_000
"""Knapsack cells visited in one part."""


@dataclass(slots=True)
class Found:
    """What the search found: a better plan or None, the bound proved, how, and what stopped it, in words."""

    plan: list[Bin] | None
    bound: int
    how: str
    limit: str


def to_bin(problem: Problem, column: Column) -> Bin:
    """Return one stick cut by a pattern."""
    kind = problem.kinds[column.kind]
    pieces = [c for c, n in column.counts for _ in range(n) if c != column.bell]
    room = kind.bell if column.bell >= 0 else kind.plain
    room -= sum(problem.weights[c] * n for c, n in column.counts)
    return Bin(column.kind, column.bell, pieces, room)


def without_surplus(problem: Problem, bins: Sequence[Bin]) -> list[Bin]:
    """Take out pieces cut more often than wanted, from the emptiest sticks first, and sticks left empty."""
    surplus = [-d for d in problem.demand]
    for b in bins:
        for c in b.classes():
            surplus[c] += 1
    if max(surplus, default=0) <= 0:
        return list(bins)
    kept = [b.copy() for b in bins]
    first = len(problem.plain)
    for b in sorted(kept, key=lambda b: (b.kind == 0, -b.room, b.key())):
        for c in list(b.pieces):
            if surplus[c] > 0:
                b.pieces.remove(c)
                b.room += problem.weights[c]
                surplus[c] -= 1
        if (
            b.bell >= first
            and surplus[b.bell] > 0
            and problem.kinds[b.kind].plain >= sum(problem.weights[c] for c in b.pieces)
        ):
            surplus[b.bell] -= 1
            b.bell = -1
            b.room = problem.kinds[b.kind].plain - sum(problem.weights[c] for c in b.pieces)
    return [b for b in kept if b.pieces or b.bell >= 0]


def new_sticks(bins: Sequence[Bin]) -> int:
    """Count the new sticks of a plan."""
    return sum(1 for b in bins if b.kind == 0)


def _columns_of(bins: Sequence[Bin]) -> list[Column]:
    found: dict[Column, None] = {}
    for b in bins:
        counts: dict[int, int] = {}
        for c in b.classes():
            counts[c] = counts.get(c, 0) + 1
        found[Column(b.kind, b.bell, tuple(sorted(counts.items())))] = None
    return list(found)


def _dive(
    problem: Problem, master: Master, purse: Purse, best: int, target: int, choose: Choice
) -> list[Bin] | None:
    """Fix whole parts of the solution, then one pattern at a time, re-solving; None if not below ``best``."""
    fixed: list[Bin] = []
    rest = problem
    found: list[Bin] | None = None
    while True:
        master.want(rest)
        _, cut = generate(rest, master, purse)
        take = [(j, int(x + 1e-6)) for j, x in enumerate(cut) if x > 1.0 - 1e-6]
        if not take:
            j = choose(cut)
            if j < 0:
                return found
            take = [(j, 1)]
        for j, n in take:
            fixed += [to_bin(problem, master.columns[j]) for _ in range(n)]
        rest = problem.less(fixed)
        if any(k.count < 0 for k in rest.kinds[1:]):
            return found
        for rule in RULES:
            tail = rule(rest)
            if tail is not None:
                plan = without_surplus(problem, fixed + tail)
                if new_sticks(plan) < best:
                    best, found = new_sticks(plan), plan
        if best <= target or not any(rest.demand) or new_sticks(fixed) >= best or not purse.spend(0):
            return found


def _largest_part(cut: Sequence[float]) -> int:
    j = max(range(len(cut)), key=lambda i: (cut[i], -i), default=-1)
    return j if j >= 0 and cut[j] > 1e-6 else -1


def _drawn(rng: np.random.Generator) -> Choice:
    """Return a choice by lot, a pattern's chance growing with the square of its share."""

    def choose(cut: Sequence[float]) -> int:
        share = np.where(np.asarray(cut) > 1e-6, np.asarray(cut), 0.0) ** 2
        return int(rng.choice(len(share), p=share / share.sum())) if share.sum() > 0 else -1

    return choose


def _whole(problem: Problem, master: Master, best: int, deadline: float) -> list[Bin] | None:
    """Choose whole patterns among those at hand, fewer than ``best`` new sticks; None when none was found."""
    master.want(problem)
    solver = master.solver
    n = len(master.columns)
    solver.changeColsIntegrality(n, np.arange(n, dtype=np.int32), np.full(n, highspy.HighsVarType.kInteger))
    solver.setOptionValue("mip_max_nodes", NODES)
    solver.setOptionValue("mip_abs_gap", 0.999)
    solver.setOptionValue("objective_bound", float(best))
    solver.setOptionValue("time_limit", solver.getRunTime() + max(0.1, deadline - time.perf_counter()))
    solver.run()
    solution = solver.getSolution()
    if not solution.value_valid:
        return None
    bins: list[Bin] = []
    for column, x in zip(master.columns, list(solution.col_value), strict=True):
        bins += [to_bin(problem, column) for _ in range(round(x))]
    plan = without_surplus(problem, bins)
    return plan if new_sticks(plan) < best else None


def improve(problem: Problem, starts: Sequence[list[Bin]], bound: int, deadline: float, seed: int) -> Found:
    """Look for a plan with fewer new sticks than those at the start, down to the bound.

    Parameters
    ----------
    problem : Problem
        What to cut from what.
    starts : sequence of plans
        Plans at hand; their patterns begin the linear program.
    bound : int
        A bound proved before.
    deadline : float
        Guard on the time, on the clock of ``time.perf_counter``; on ordinary sizes the limits on work are
        reached first. [s]
    seed : int
        Seed of the choices by lot.
    """
    best = min(new_sticks(p) for p in starts)
    master = Master(problem, seed)
    for plan in starts:
        for column in _columns_of(plan):
            master.add(column)
    purse = Purse(WORK, deadline)
    lower, _ = generate(problem, master, purse, stop_at=best)
    bound = max(bound, math.ceil(lower - 1e-6))
    found: list[Bin] | None = None
    how = "column generation"
    dives = Purse(DIVE_WORK, deadline)
    dived = _dives(problem, master, dives, best, bound, seed, DIVES)
    if dived is not None:
        best, found, how = new_sticks(dived), dived, "column generation and a dive"
    if best > bound and not dives.late and len(problem.demand) <= MIP_CLASSES:
        whole = _whole(problem, master, best, deadline)
        if whole is not None:
            found, how = whole, "column generation and whole numbers"
    limit = ""
    if time.perf_counter() > deadline:
        limit = "; stopped by the clock"
    elif purse.cells <= 0 or dives.cells <= 0:
        limit = "; stopped by the work limit"
    return Found(found, bound, how, limit)


def _dives(
    problem: Problem, master: Master, purse: Purse, best: int, bound: int, seed: int, times: int
) -> list[Bin] | None:
    """Dive up to ``times`` times, first by the largest share, then by lot; return the best plan found."""
    rng = np.random.default_rng(seed)
    found: list[Bin] | None = None
    for number in range(times):
        if best <= bound or not purse.spend(0):
            break
        plan = _dive(problem, master, purse, best, bound, _largest_part if number == 0 else _drawn(rng))
        if plan is not None:
            best, found = new_sticks(plan), plan
    return found


def affordable(problem: Problem) -> bool:
    """Tell whether column generation over all classes can be expected to end within its work limit."""
    n = sum(1 for d in problem.demand if d)
    room = problem.kinds[0].plain
    coarse = room // COARSE_STEP if room > FEW_STEPS else room
    return n <= MANY or 2 * n * (1.3 * coarse * n + LP_CELLS * n * n) + 30 * room * n <= WORK / 2


def repack(problem: Problem, plan: list[Bin], bound: int, deadline: float, seed: int) -> list[Bin]:
    """Save sticks by cutting the ones with the most left over again, as small problems.

    Returns the plan with the fewest new sticks found; the one given when none was saved.
    """
    size = 16
    room = problem.kinds[0].plain
    purse = Purse(PART_WORK, deadline)
    while new_sticks(plan) > bound and size <= 128 and purse.spend(0):
        ranked = sorted(plan, key=lambda b: (-b.room, b.key()))
        part, rest = ranked[:size], ranked[size:]
        if sum(b.room for b in part) >= room:
            better = _repacked(problem, part, rest, bound, purse, seed)
            if better is not None:
                plan = rest + better
                continue
        size *= 2
    return plan


def _repacked(
    problem: Problem, part: list[Bin], rest: list[Bin], bound: int, purse: Purse, seed: int
) -> list[Bin] | None:
    """Cut the sticks of ``part`` again; None when no stick was saved."""
    asked = problem.less(rest)
    classes = [c for c, d in enumerate(asked.demand) if d]
    first = len(problem.plain)
    small = replace(
        asked,
        plain=tuple(problem.plain[c] for c in classes if c < first),
        bell=tuple(problem.bell[c - first] for c in classes if c >= first),
        demand=tuple(asked.demand[c] for c in classes),
        members=(),
    )
    number = {c: i for i, c in enumerate(classes)}
    start = [Bin(b.kind, number.get(b.bell, -1), [number[c] for c in b.pieces], b.room) for b in part]
    best = new_sticks(start)
    goal = max(quick_bound(small), bound - new_sticks(rest))
    if goal >= best:
        return None
    for rule in RULES:
        tail = rule(small)
        if tail is not None and new_sticks(tail) < best:
            return [_renamed(b, classes) for b in tail]
    cells = min(ONE_PART, purse.cells)
    own = Purse(cells, purse.deadline)
    master = Master(small, seed)
    for column in _columns_of(start):
        master.add(column)
    lower, _ = generate(small, master, own, stop_at=best)
    goal = max(goal, math.ceil(lower - 1e-6))
    found = _dives(small, master, own, best, goal, seed, 2)
    purse.spend(cells - own.cells)
    return None if found is None else [_renamed(b, classes) for b in found]


def _renamed(b: Bin, classes: Sequence[int]) -> Bin:
    return Bin(b.kind, classes[b.bell] if b.bell >= 0 else -1, [classes[c] for c in b.pieces], b.room)
