"""The search: constraint programming between our first plan and our bound, and never without a limit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, Ahead, Days, Placed, Task, in_order
from lineproof.plan.days.slots import Board, ends_where, stretches_of

PROVED, SHARE, CLOCK = "proved", "share", "clock"


@dataclass(frozen=True, slots=True)
class Limits:
    """How long a search may take.

    Parameters
    ----------
    seconds : float
        By the clock: a guard. [s]
    share : float
        Of the solver's own measure of work, which is the same on every machine: with one worker the plan is
        then the same for the same seed.
    workers : int
        Searches side by side; more than one is quicker, and not the same twice. [-]
    gap : float
        Good enough: the search may end at this gap. [1]
    """

    seconds: float = 20.0
    share: float = 20.0
    workers: int = 1
    gap: float = 0.0


def alike(ahead: Ahead) -> tuple[str, ...] | None:
    """The crews, where each is as good as another for every joint.

    Parameters
    ----------
    ahead : Ahead

    Returns
    -------
    tuple of str or None
        None where it matters who makes a joint.
    """
    crews = sorted({who for t in ahead.tasks for w in t.ways for who in w.holds})
    for ways in {t.ways for t in ahead.tasks}:
        sizes = {(len(w.holds), w.busy, w.calendar) for w in ways}
        if len(sizes) != 1:
            return None
        size = next(iter(sizes))[0]
        if {tuple(sorted(w.holds)) for w in ways} != set(combinations(crews, size)):
            return None
    pumps = {p for t in ahead.trials for p in t.holds}
    return tuple(crews) if not pumps & set(crews) else None


class Model:
    """One piece of work as a constraint model.

    Parameters
    ----------
    ahead : Ahead
    board : Board
        Of the same work.
    earliest : mapping
        Slots before which no joint can begin.
    bound, upper : int
        The finish lies between, both included.
    """

    def __init__(
        self, ahead: Ahead, board: Board, *, earliest: Mapping[str, int], bound: int, upper: int
    ) -> None:
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model
        self.ahead = ahead
        self.board = board
        self.model = cp_model.CpModel()
        self.upper = upper
        self.earliest = earliest
        self.starts: dict[str, Any] = {}
        self.ends: dict[str, Any] = {}
        self.ways: dict[str, list[tuple[Any, tuple[str, ...]]]] = {}
        self.waits: dict[tuple[str, str], Any] = {}
        self.held: dict[str, list[Any]] = defaultdict(list)
        self.merged = alike(ahead)
        self.finish = self.model.new_int_var(bound, upper, "finish")
        after = {link.before for t in ahead.tasks for link in t.links if link.over == HANDS_OFF}
        tested = {joint for trial in ahead.trials for joint in trial.joints}
        for t in ahead.tasks:
            self._joint(t, waits=t.id in after)
            if t.id not in tested:
                self.model.add(self.finish >= self._over(t.id, CURED))
        self._links()
        self._tests()
        self._crews()
        self.model.minimize(self.finish)

    def _domain(self, mask: int) -> Any:
        return self.cp.Domain.from_intervals([[a, b - 1] for a, b in stretches_of(mask)])

    def _joint(self, t: Task, *, waits: bool) -> None:
        low, high = self.earliest.get(t.id, self.ahead.now), self.upper
        window = ((1 << max(high, 0)) - 1) & ~((1 << low) - 1)
        by_way = [(w, self.board.starts(w, t) & window) for w in t.ways]
        all_starts = 0
        for _, mask in by_way:
            all_starts |= mask
        start = self.model.new_int_var_from_domain(self._domain(all_starts), f"start {t.id}")
        self.starts[t.id] = start
        busy = {w.busy for w in t.ways}
        if self.merged is not None:
            length, size = next(iter(busy)), len(t.ways[0].holds)
            end = start + length
            self.ends[t.id] = end
            self.held["crews"].append((self.model.new_fixed_size_interval_var(start, length, t.id), size))
        elif len(t.ways) == 1:
            end = start + t.ways[0].busy
            self.ends[t.id] = end
            one = self.model.new_fixed_size_interval_var(start, t.ways[0].busy, t.id)
            for who in t.ways[0].holds:
                self.held[who].append(one)
        else:
            ends = 0
            for w, mask in by_way:
                ends |= mask << w.busy
            end = self.model.new_int_var_from_domain(self._domain(ends), f"end {t.id}")
            self.ends[t.id] = end
            taken = []
            for n, (w, mask) in enumerate(by_way):
                lit = self.model.new_bool_var(f"way {t.id} {n}")
                taken.append((lit, w.holds))
                if mask != all_starts or len(busy) > 1:
                    self.model.add_linear_expression_in_domain(start, self._domain(mask)).only_enforce_if(lit)
                opt = self.model.new_optional_interval_var(start, w.busy, end, lit, f"{t.id} {n}")
                for who in w.holds:
                    self.held[who].append(opt)
            self.model.add_exactly_one([lit for lit, _ in taken])
            self.ways[t.id] = taken
        reach = 0
        for w, mask in by_way:
            reach |= mask << w.busy
        for kind, wait in ((HANDS_OFF, t.hands_off), (CURED, t.cured)):
            if kind == CURED or waits:
                self.waits[t.id, kind] = self._wait(t.id, kind, wait, end, reach)

    def _wait(self, id: str, kind: str, wait: str, end: Any, reach: int) -> Any:
        """The wait by the band of the hour of finish: exactly one band, each tied to its own hours."""
        bands = {
            slots: mask
            for slots, where in ends_where(self.ahead.waits[wait], self.ahead.horizon).items()
            if (mask := where & reach)
        }
        if len(bands) == 1:
            return next(iter(bands))
        lits = []
        for slots, mask in sorted(bands.items()):
            lit = self.model.new_bool_var(f"{kind} {id} {slots}")
            self.model.add_linear_expression_in_domain(end, self._domain(mask)).only_enforce_if(lit)
            lits.append((lit, slots))
        self.model.add_exactly_one([lit for lit, _ in lits])
        return sum(slots * lit for lit, slots in lits)

    def _over(self, id: str, over: str) -> Any:
        return self.ends[id] if over == MADE else self.ends[id] + self.waits[id, over]

    def _links(self) -> None:
        for t in self.ahead.tasks:
            for link in t.links:
                if link.before in self.starts:
                    if (link.before, link.over) not in self.waits and link.over == HANDS_OFF:
                        continue
                    self.model.add(self.starts[t.id] >= self._over(link.before, link.over))

    def _tests(self) -> None:
        self.tests: dict[str, tuple[Any, list[tuple[Any, tuple[str, ...]]]]] = {}
        pumps: dict[str, list[Any]] = defaultdict(list)
        for trial in self.ahead.trials:
            mask = self.board.trial_starts(trial.calendar, trial.busy) & ((1 << max(self.upper, 0)) - 1)
            start = self.model.new_int_var_from_domain(self._domain(mask), f"test {trial.id}")
            for joint in trial.joints:
                past = self.ahead.past.get(joint)
                if past is not None:
                    self.model.add(start >= past.cured)
                else:
                    self.model.add(start >= self._over(joint, CURED))
            self.model.add(self.finish >= start + trial.busy)
            lits: list[tuple[Any, tuple[str, ...]]] = []
            for pump in trial.holds:
                if len(trial.holds) == 1:
                    pumps[pump].append(self.model.new_fixed_size_interval_var(start, trial.busy, trial.id))
                    lits.append((None, (pump,)))
                    continue
                lit = self.model.new_bool_var(f"{trial.id} {pump}")
                pumps[pump].append(
                    self.model.new_optional_fixed_size_interval_var(start, trial.busy, lit, trial.id)
                )
                lits.append((lit, (pump,)))
            if len(lits) > 1:
                self.model.add_exactly_one([lit for lit, _ in lits])
            self.tests[trial.id] = (start, lits)
        for intervals in pumps.values():
            self.model.add_no_overlap(intervals)

    def _crews(self) -> None:
        """Crews as lanes; the hours lost to all of them go in as intervals that fill every lane."""
        there = 0
        for t in self.ahead.tasks:
            for w in t.ways:
                there |= self.board.open(w.calendar)
        lost = ((1 << self.upper) - 1) & ~there
        gaps = [self.model.new_fixed_size_interval_var(a, b - a, f"lost {a}") for a, b in stretches_of(lost)]
        if self.merged is not None:
            lanes = len(self.merged)
            intervals = [i for i, _ in self.held["crews"]] + gaps
            demands = [d for _, d in self.held["crews"]] + [lanes] * len(gaps)
            if intervals:
                self.model.add_cumulative(intervals, demands, lanes)
            big = [i for i, d in self.held["crews"] if 2 * d > lanes > 1]
            if big:
                self.model.add_no_overlap(big + gaps)
            return
        for intervals in self.held.values():
            self.model.add_no_overlap(intervals + gaps)

    def hint(self, days: Days) -> None:
        """Begin from a plan."""
        for p in days.joints:
            self.model.add_hint(self.starts[p.id], p.first)
            for lit, holds in self.ways.get(p.id, ()):
                self.model.add_hint(lit, int(holds == p.holds))
        for p in days.tests:
            self.model.add_hint(self.tests[p.id][0], p.first)
        self.model.add_hint(self.finish, days.finish)

    def solve(self, limits: Limits, *, seed: int) -> tuple[Days | None, int, str]:
        """Search.

        Parameters
        ----------
        limits : Limits
        seed : int

        Returns
        -------
        Days or None, int, str
            The best plan that was found, if any; the solver's own bound; why it ended.
        """
        solver = self.cp.CpSolver()
        solver.parameters.random_seed = seed
        solver.parameters.num_workers = limits.workers
        solver.parameters.max_time_in_seconds = max(limits.seconds, 0.01)
        solver.parameters.max_deterministic_time = limits.share
        solver.parameters.relative_gap_limit = limits.gap
        status = solver.solve(self.model)
        known = status in (self.cp.OPTIMAL, self.cp.FEASIBLE)
        bound = int(solver.best_objective_bound + 0.999999) if known else 0
        if status == self.cp.OPTIMAL and limits.gap == 0:
            how = PROVED
        else:
            how = CLOCK if solver.wall_time >= limits.seconds * 0.98 else SHARE
        return (self._read(solver) if known else None), bound, how

    def _read(self, solver: Any) -> Days:
        joints: list[Placed] = []
        for t in self.ahead.tasks:
            first, end = solver.value(self.starts[t.id]), solver.value(self.ends[t.id])
            if self.merged is not None:
                holds = t.ways[0].holds
            elif t.id in self.ways:
                holds = next(h for lit, h in self.ways[t.id] if solver.value(lit))
            else:
                holds = t.ways[0].holds
            joints.append(Placed(t.id, first, end, holds))
        if self.merged is not None:
            joints = deal_out(joints, self.merged)
        tests = []
        for trial in self.ahead.trials:
            start, lits = self.tests[trial.id]
            holds = next((h for lit, h in lits if lit is None or solver.value(lit)), ())
            first = solver.value(start)
            tests.append(Placed(trial.id, first, first + trial.busy, holds))
        return Days(joints=in_order(joints), tests=in_order(tests), finish=solver.value(self.finish))


def deal_out(joints: list[Placed], crews: tuple[str, ...]) -> list[Placed]:
    """Give each joint its crews, where any crew will do: those that are free, the longest idle last.

    Parameters
    ----------
    joints : list of Placed
        With as many crews as each needs, whichever.
    crews : tuple of str

    Returns
    -------
    list of Placed
        No crew in two places.
    """
    until = dict.fromkeys(crews, -1)
    found = []
    for p in in_order(joints):
        free = sorted((k for k in crews if until[k] <= p.first), key=lambda k: (-until[k], k))
        holds = tuple(sorted(free[: len(p.holds)]))
        for k in holds:
            until[k] = p.end
        found.append(Placed(p.id, p.first, p.end, holds))
    return found
