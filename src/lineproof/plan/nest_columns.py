"""Fewest sticks by column generation: a linear program over cutting patterns, then whole sticks.

The linear program chooses how often to cut each pattern; patterns are made as they pay, by a bounded knapsack
over the steps of the stick (Gilmore and Gomory). Its rounded-up value is a bound no plan can beat. Work is
limited by counts, which are the same on every machine; the clock is a guard.

This module loads the solver, so it is imported only when filling by rule did not reach the bound.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from lineproof.plan.nest_grid import Problem

EPS = 1e-7
ITEM_CELLS = 1_500
"""Handling one item of the knapsack costs about as much as this many cells."""
FEW_STEPS = 2_000
COARSE_STEP = 8
LP_CELLS = 12
"""One linear program costs about as much as this many knapsack cells for each class squared."""


@dataclass(frozen=True, slots=True)
class Column:
    """A cutting pattern: kind of stock, belled class or -1, and how many of each class (the belled too)."""

    kind: int
    bell: int
    counts: tuple[tuple[int, int], ...]


class Purse:
    """A limit on work counted in knapsack cells, and the clock as guard."""

    def __init__(self, cells: int, deadline: float) -> None:
        self.cells = cells
        self.deadline = deadline
        self.late = False

    def spend(self, cells: int) -> bool:
        """Take ``cells`` from the purse; False when it is empty or the time is up."""
        self.cells -= cells
        if time.perf_counter() > self.deadline:
            self.late = True
        return self.cells > 0 and not self.late


class Knapsack:
    """Bounded knapsack over all rooms at once: the best value that fits in each number of steps."""

    def __init__(self, weights: Sequence[int], limits: Sequence[int], room: int) -> None:
        self.room = room
        self.items: list[tuple[int, int, int]] = []
        for c, (weight, limit) in enumerate(zip(weights, limits, strict=True)):
            left = min(limit, room // weight) if weight else limit
            times = 1
            while left > 0:
                n = min(times, left)
                self.items.append((c, n, weight * n))
                left -= n
                times *= 2
        self.best: NDArray[np.float64] = np.zeros(room + 1)
        self.taken: NDArray[np.bool_] = np.zeros((len(self.items), room + 1), dtype=np.bool_)
        self.used: list[int] = []
        self._sum: NDArray[np.float64] = np.empty(room + 1)

    def solve(self, values: Sequence[float]) -> int:
        """Fill ``best`` for the value of one piece of each class; return the cells visited."""
        best, room = self.best, self.room
        best[:] = 0.0
        self.used = [i for i, (c, _, _) in enumerate(self.items) if values[c] > EPS]
        cells = 0
        for i in self.used:
            c, n, weight = self.items[i]
            width = room + 1 - weight
            trial = self._sum[:width]
            np.add(best[:width], n * values[c], out=trial)
            upper = best[weight:]
            np.greater(trial, upper, out=self.taken[i, weight:])
            np.maximum(trial, upper, out=upper)
            cells += width + ITEM_CELLS
        return cells

    def pattern(self, room: int) -> dict[int, int]:
        """Return the pieces behind ``best[room]``, by class."""
        counts: dict[int, int] = {}
        for i in reversed(self.used):
            c, n, weight = self.items[i]
            if room >= weight and self.taken[i, room]:
                counts[c] = counts.get(c, 0) + n
                room -= weight
        return counts


def _hush(solver: highspy.Highs) -> None:
    """Turn output off, in place of the set-up of callbacks, which would first print a banner."""
    solver.setOptionValue("output_flag", False)


Quiet = type("Quiet", (highspy.Highs,), {"enableCallbacks": _hush})


class Master:
    """The linear program over patterns, kept warm while patterns are added."""

    def __init__(self, problem: Problem, seed: int) -> None:
        self.inf = highspy.kHighsInf
        self.solver: highspy.Highs = Quiet()
        self.solver.setOptionValue("parallel", "off")
        self.solver.setOptionValue("random_seed", seed)
        self.columns: list[Column] = []
        self.known: set[Column] = set()
        self.rows = len(problem.demand)
        for demand in problem.demand:
            self.solver.addRow(float(demand), self.inf, 0, np.empty(0, np.int32), np.empty(0))
        for kind in problem.kinds[1:]:
            self.solver.addRow(-self.inf, float(kind.count), 0, np.empty(0, np.int32), np.empty(0))

    def add(self, column: Column) -> bool:
        """Add a pattern; False when it is there already."""
        if column in self.known:
            return False
        self.known.add(column)
        self.columns.append(column)
        index = [c for c, _ in column.counts]
        value = [float(n) for _, n in column.counts]
        if column.kind:
            index.append(self.rows + column.kind - 1)
            value.append(1.0)
        cost = 0.0 if column.kind else 1.0
        self.solver.addCol(cost, 0.0, self.inf, len(index), np.array(index, np.int32), np.array(value))
        return True

    def want(self, problem: Problem) -> None:
        """Ask for another demand and another number of offcuts over the same patterns."""
        for c, demand in enumerate(problem.demand):
            self.solver.changeRowBounds(c, float(demand), self.inf)
        for k, kind in enumerate(problem.kinds[1:]):
            self.solver.changeRowBounds(self.rows + k, -self.inf, float(kind.count))

    def solve(self) -> tuple[list[float], list[float]]:
        """Return how often each pattern is cut, and the value of one piece of each class."""
        self.solver.run()
        solution = self.solver.getSolution()
        return list(solution.col_value), [max(0.0, v) for v in list(solution.row_dual)[: self.rows]]


def _price(
    problem: Problem, knapsack: Knapsack, step: int, values: Sequence[float]
) -> tuple[float, list[float], list[Column]]:
    """Return the most a new stick can be worth, and each kind of offcut, and the patterns behind it."""
    first = len(problem.plain)
    found: list[Column] = []
    worth: list[float] = []
    for k, kind in enumerate(problem.kinds):
        options: list[tuple[float, int, int]] = []
        room = kind.plain // step
        if kind.plain >= 0:
            options.append((float(knapsack.best[room]), -1, room))
        if kind.bell >= 0:
            for c, weight in enumerate(problem.bell, start=first):
                room = (kind.bell - weight) // step
                if problem.demand[c] and kind.bell >= weight:
                    options.append((values[c] + float(knapsack.best[room]), c, room))
        worth.append(max((o[0] for o in options), default=0.0))
        if kind.count == 0:
            continue
        best_plain = [o for o in options if o[1] < 0]
        best_bell = sorted((o for o in options if o[1] >= 0), key=lambda o: -o[0])[:4]
        for value, bell, room in best_plain + best_bell:
            if value > EPS:
                counts = knapsack.pattern(room)
                if bell >= 0:
                    counts[bell] = 1
                found.append(Column(k, bell, tuple(sorted(counts.items()))))
    return worth[0], worth[1:], found


def _sound_bound(problem: Problem, values: Sequence[float], new: float, offcuts: Sequence[float]) -> float:
    """Return a valid bound from any piece values: scaled until no stick is worth more than one (Farley)."""
    scale = max(1.0, new)
    total = sum(v * d for v, d in zip(values, problem.demand, strict=True))
    total -= sum(w * k.count for w, k in zip(offcuts, problem.kinds[1:], strict=True))
    return total / scale


def _room(problem: Problem) -> int:
    rooms = [k.plain for k in problem.kinds]
    rooms += [k.bell - min(problem.bell) for k in problem.kinds if k.bell >= 0 and problem.bell]
    return max(0, *rooms)


def generate(
    problem: Problem, master: Master, purse: Purse, *, stop_at: int = 0
) -> tuple[float, list[float]]:
    """Add patterns until none pays, the purse is empty, or ``stop_at`` new sticks are proved to be needed.

    The first rounds weigh pieces in steps eight times as long (rounded up), which is quick and gives patterns
    that can be cut; only rounds on the full grid prove a bound.

    Returns
    -------
    tuple of float and list of float
        The best bound proved and how often each pattern is cut in the last solution.
    """
    bound = 0.0
    room = _room(problem)
    limits = problem.demand[: len(problem.plain)]
    for step in (COARSE_STEP, 1) if room > FEW_STEPS else (1,):
        knapsack = Knapsack([-(-w // step) for w in problem.plain], limits, room // step)
        while True:
            cut, values = master.solve()
            cells = knapsack.solve(values)
            new, offcuts, found = _price(problem, knapsack, step, values)
            if step == 1:
                bound = max(bound, _sound_bound(problem, values, new, offcuts))
                if stop_at and math.ceil(bound - 1e-6) >= stop_at:
                    return bound, cut
            enough = purse.spend(cells + LP_CELLS * master.rows**2)
            added = False
            for column in found:
                worth = sum(values[c] * n for c, n in column.counts)
                if worth > (EPS if column.kind else 1.0 + EPS):
                    added |= master.add(column)
            if not enough:
                return bound, cut
            if not added:
                break
    return bound, cut
