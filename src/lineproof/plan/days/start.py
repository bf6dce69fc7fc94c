"""A first plan by hand's rule: the joint with the most behind it goes next, in the first hours that fit.

Many tries with other weights, each the same for a given seed; a plan is also read backwards from its last
test, which tells what may wait, and laid out again in that order.
"""

from __future__ import annotations

import random
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from heapq import heapify, heappop, heappush

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, Ahead, Days, Placed, in_order
from lineproof.plan.days.slots import Board, first_from, starts_in

Order = tuple[str, ...]
"""Joints, each after all that it waits for."""


class Layer:
    """Lays joints one after the other into the first hours that fit.

    Parameters
    ----------
    ahead : Ahead
    board : Board
        Of the same work.
    """

    def __init__(self, ahead: Ahead, board: Board) -> None:
        self.ahead = ahead
        self.board = board
        self.tasks = {t.id: t for t in ahead.tasks}
        self.after: dict[str, list[tuple[str, str]]] = {t.id: [] for t in ahead.tasks}
        for t in ahead.tasks:
            for link in t.links:
                if link.before in self.after:
                    self.after[link.before].append((t.id, link.over))
        self.section = {joint: trial.id for trial in ahead.trials for joint in trial.joints}
        self.tails = self._tails()

    def _least(self, wait: str) -> int:
        return min((slots for _, slots in self.ahead.waits[wait].steps if slots >= 0), default=0)

    def _tails(self) -> dict[str, int]:
        """The least time from the end of a joint to the end of its section's test."""
        busy = {t.id: t.busy for t in self.ahead.trials}
        tails: dict[str, int] = {}
        for t in reversed(self.ahead.tasks):
            tail = self._least(t.cured) + busy.get(self.section.get(t.id, ""), 0)
            for after, over in self.after[t.id]:
                wait = 0 if over == MADE else self._least(t.hands_off if over == HANDS_OFF else t.cured)
                tail = max(tail, wait + min(w.busy for w in self.tasks[after].ways) + tails[after])
            tails[t.id] = tail
        return tails

    def order_by(self, weight: Mapping[str, float]) -> Order:
        """Heaviest first among the joints that nothing ahead holds back."""
        waits = {t.id: sum(1 for k in t.links if k.before in self.tasks) for t in self.ahead.tasks}
        ready = [(-weight[name], name) for name, n in waits.items() if not n]
        heapify(ready)
        found: list[str] = []
        while ready:
            _, name = heappop(ready)
            found.append(name)
            for after, _ in self.after[name]:
                waits[after] -= 1
                if not waits[after]:
                    heappush(ready, (-weight[after], after))
        return tuple(found)

    def over(self, id: str, what: str, end: int) -> int:
        """Slot from which something is over for a joint that ends so."""
        if what == MADE:
            return end
        task = self.tasks[id]
        steps = self.ahead.waits[task.hands_off if what == HANDS_OFF else task.cured].steps
        return end + steps[bisect_right(steps, (end, 1 << 60)) - 1][1]

    def lay(self, order: Sequence[str]) -> Days | None:
        """Lay joints in an order that respects their links.

        Parameters
        ----------
        order : sequence of str

        Returns
        -------
        Days or None
            None where one of them finds no hours before the horizon.
        """
        board, past = self.board, self.ahead.past
        free: dict[str, int] = {}
        full = (1 << (self.ahead.horizon + 1)) - 1
        placed: dict[str, Placed] = {}
        for name in order:
            task, earliest = self.tasks[name], self.ahead.now
            for link in task.links:
                done = past.get(link.before)
                if done is not None:
                    over = {MADE: done.end, HANDS_OFF: done.over, CURED: done.cured}[link.over]
                else:
                    over = self.over(link.before, link.over, placed[link.before].end)
                earliest = max(earliest, over)
            best: tuple[int, int, tuple[str, ...]] | None = None
            for way in task.ways:
                if best is not None and earliest + way.busy >= best[0]:
                    continue
                open_ = full
                for who in way.holds:
                    open_ &= free.get(who, full)
                begin = first_from(
                    starts_in(open_ >> earliest, way.busy) & (board.starts(way, task) >> earliest), 0
                )
                if begin is not None:
                    found = (earliest + begin + way.busy, earliest + begin, way.holds)
                    best = found if best is None else min(best, found)
            if best is None:
                return None
            end, first, holds = best
            taken = full & ~((1 << end) - (1 << first))
            for who in holds:
                free[who] = free.get(who, full) & taken
            placed[name] = Placed(name, first, end, holds)
        return self._tested(placed)

    def _tested(self, placed: Mapping[str, Placed]) -> Days | None:
        """The tests, each as soon as its joints have cured and a pump is free, the first ready one first."""
        ahead, finish = self.ahead, self.ahead.now
        ready: list[tuple[int, str, int]] = []
        for n, trial in enumerate(ahead.trials):
            at = ahead.now
            for joint in trial.joints:
                done = ahead.past.get(joint)
                at = max(at, done.cured if done else self.over(joint, CURED, placed[joint].end))
            ready.append((at, trial.id, n))
        free: dict[str, int] = {}
        full = (1 << (ahead.horizon + 1)) - 1
        tests: list[Placed] = []
        for at, _, n in sorted(ready):
            trial = ahead.trials[n]
            starts = self.board.trial_starts(trial.calendar, trial.busy)
            best: tuple[int, tuple[str, ...]] | None = None
            for pump in trial.holds or ("",):
                begin = first_from(starts & starts_in(free.get(pump, full), trial.busy), at)
                if begin is not None:
                    found = (begin, (pump,) if pump else ())
                    best = found if best is None else min(best, found)
            if best is None:
                return None
            first, holds = best
            for pump in holds:
                free[pump] = free.get(pump, full) & ~((1 << (first + trial.busy)) - (1 << first))
            tests.append(Placed(trial.id, first, first + trial.busy, holds))
            finish = max(finish, first + trial.busy)
        for name, p in placed.items():
            if name not in self.section:
                finish = max(finish, self.over(name, CURED, p.end))
        return Days(joints=in_order(placed.values()), tests=in_order(tests), finish=finish)

    def merit(self, days: Days) -> tuple[int, int, int]:
        """What makes one plan better than another while both finish in the same slot: less is better."""
        ends = {p.id: p.end for p in days.joints}
        ready = [
            max((self.over(j, CURED, ends[j]) for j in trial.joints if j in ends), default=0)
            for trial in self.ahead.trials
        ]
        return days.finish, sum(p.end for p in days.tests), sum(ready)

    def critical(self, days: Days, rng: random.Random) -> list[str]:
        """Joints that hold the finish up: back from a late test by what each waits for, crews as well."""
        by_id = {p.id: p for p in days.joints}
        by_end: dict[tuple[str, int], str] = {(who, p.end): p.id for p in days.joints for who in p.holds}
        late = [p for p in days.tests if p.end == days.finish] or list(days.tests)
        chosen = rng.choice(late) if late else None
        if chosen is None:
            last = max(days.joints, key=lambda p: self.over(p.id, CURED, p.end))
        else:
            mine = [j for t in self.ahead.trials if t.id == chosen.id for j in t.joints if j in by_id]
            if not mine:
                return []
            last = by_id[max(mine, key=lambda j: self.over(j, CURED, by_id[j].end))]
        found, at = [], last
        for _ in range(len(by_id)):
            found.append(at.id)
            task = self.tasks[at.id]
            held = [
                k.before for k in task.links
                if k.before in by_id and self.over(k.before, k.over, by_id[k.before].end) == at.first
            ]  # fmt: skip
            held += [before for who in at.holds if (before := by_end.get((who, at.first)))]
            if not held:  # the night or the weather: what it waited for before that
                links = [k.before for k in task.links if k.before in by_id]
                held = [max(links, key=lambda j: self.over(j, HANDS_OFF, by_id[j].end))] if links else []
            if not held:
                break
            at = by_id[rng.choice(held)]
        return found


def first_plan(
    layer: Layer,
    *,
    weight: Mapping[str, float] | None = None,
    seed: int = 0,
    tries: int = 200,
    enough: int = 0,
    stop: Callable[[], bool] = lambda: False,
) -> Days | None:
    """The best of many plans by the rule.

    Parameters
    ----------
    layer : Layer
    weight : mapping, optional
        Heaviest goes first; what comes after a joint unless said.
    seed : int
    tries : int
        How many plans to lay. [-]
    enough : int
        A plan that finishes by this slot cannot be beaten.
    stop : callable
        Asked after every try.

    Returns
    -------
    Days or None
        The same for the same seed and tries. None where none was found.
    """
    rng = random.Random(seed)
    weight = dict(weight or {name: float(tail) for name, tail in layer.tails.items()})
    ids = list(weight)
    best = layer.lay(layer.order_by(weight))
    if not ids:
        return best
    kept = None if best is None else layer.merit(best)
    for _ in range(tries - 1):
        if (best is not None and best.finish <= enough) or stop():
            break
        trial = dict(weight)
        step = rng.choice((6.0, 24.0, 96.0, 288.0))
        if best is not None and rng.random() < 0.7:
            for name in layer.critical(best, rng):
                trial[name] += abs(rng.gauss(0.0, step))
        else:
            for name in rng.sample(ids, max(1, len(ids) // rng.choice((3, 10, 30)))):
                trial[name] += rng.gauss(0.0, step)
        plan = layer.lay(layer.order_by(trial))
        if plan is None:
            continue
        merit = layer.merit(plan)
        if kept is None or merit <= kept:
            best, weight, kept = plan, trial, merit
    return best
