"""No plan can finish earlier than this: a bound that knows the calendar, not only the hours of work.

For a finish D every joint has slots in which it could be made: after what comes before it at the earliest,
and early enough that the waits behind it, as printed for that very hour, and the tests leave room before D.
The work of all joints is poured into those slots, as crew time that may be cut at will, never more in a slot
than there are crews for it; joints that need several crews share the lanes that so many crews make. Sections
that share a pump take their turns at it: one is last, one is last but one, and each may use only the slots
that its turn leaves it. Where the work does not fit, no plan finishes by D. The first D for which it fits is
the bound. Cutting at will, turns in shares, and crews that may take any joint they could make only make it
easier, so the bound is never above the best.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, Ahead, Task
from lineproof.plan.days.slots import Board, ends_where, first_from, spread, stretches_of

ROUND, MANY = 48, 60
"""Earliest and latest are rounded outwards to so many slots, so that many joints are alike, where there are
more joints than ``MANY``. [-]"""
_INFEASIBLE = 2
SHORT = 1e-3
"""Less work than this left over counts as none: solvers round, and a bound may only be too low. [-]"""


@dataclass(frozen=True, slots=True)
class _Kind:
    """Joints with the same slots: crew time in slots, crews at a time, who could make them.

    ``opens`` has their slots if their section is tested last, last but one and so on: fewer and fewer; just
    the first where that does not matter, and then ``section`` is empty.
    """

    section: str
    opens: tuple[int, ...]
    crews: int
    who: frozenset[str]
    work: int


class Bound:
    """The bound of one piece of work.

    Parameters
    ----------
    ahead : Ahead
    board : Board
        Of the same work.
    step : int, optional
        Slots that earliest and latest are rounded to; by the number of joints unless said. [-]
    """

    def __init__(self, ahead: Ahead, board: Board, *, step: int | None = None) -> None:
        self.ahead = ahead
        self.board = board
        self.step = step or (ROUND if len(ahead.tasks) > MANY else 1)
        self.tasks = {t.id: t for t in ahead.tasks}
        self.starts = {
            t.id: [(w.busy, frozenset(w.holds), board.starts(w, t)) for w in t.ways] for t in ahead.tasks
        }
        self.waits = {w.id: ends_where(w, ahead.horizon) for w in ahead.waits.values()}
        self.after: dict[str, list[tuple[str, str]]] = defaultdict(list)
        for t in ahead.tasks:
            for link in t.links:
                if link.before in self.tasks:
                    self.after[link.before].append((t.id, link.over))
        self.trials = {joint: trial for trial in ahead.trials for joint in trial.joints}
        self.earliest: dict[str, int] | None = self._earliest()

    # ------------------------------------------------------------ one joint alone
    def _ends(self, task: Task, earliest: int) -> int:
        """Ends that a joint may have if it begins no earlier."""
        ends = 0
        for busy, _, starts in self.starts[task.id]:
            ends |= (starts >> earliest << earliest) << busy
        return ends

    def _first_over(self, wait: str, ends: int) -> int | None:
        """The first slot in which a wait can be over, by the ends there are."""
        found = [
            end + slots
            for slots, where in self.waits[wait].items()
            if (end := first_from(ends & where, 0)) is not None
        ]
        return min(found, default=None)

    def _earliest(self) -> dict[str, int] | None:
        """The earliest each joint can begin by its links alone; None where one never can."""
        found: dict[str, int] = {}
        over: dict[tuple[str, str], int] = {}
        for t in self.ahead.tasks:
            at = self.ahead.now
            for link in t.links:
                past = self.ahead.past.get(link.before)
                if past is not None:
                    at = max(at, {MADE: past.end, HANDS_OFF: past.over, CURED: past.cured}[link.over])
                else:
                    at = max(at, over[link.before, link.over])
            found[t.id] = at
            ends = self._ends(t, at)
            made = first_from(ends, 0)
            off, cured = self._first_over(t.hands_off, ends), self._first_over(t.cured, ends)
            if made is None or off is None or cured is None:
                return None
            over[t.id, MADE], over[t.id, HANDS_OFF], over[t.id, CURED] = made, off, cured
        return found

    def never(self) -> tuple[str, ...]:
        """Joints that have no hours at all before the horizon, taken alone."""
        return tuple(t.id for t in self.ahead.tasks if not self._ends(t, self.ahead.now))

    def _by(self, wait: str, limit: int) -> int:
        """Ends after which a wait is over by a slot."""
        ends = 0
        for slots, where in self.waits[wait].items():
            if limit >= slots:
                ends |= where & ((1 << (limit - slots + 1)) - 1)
        return ends

    def _test_by(self, finish: int) -> dict[str, int] | None:
        """The latest that each test could begin; None where one has no hours."""
        found: dict[str, int] = {}
        for trial in self.ahead.trials:
            starts = self.board.trial_starts(trial.calendar, trial.busy)
            starts &= (1 << max(finish - trial.busy + 1, 0)) - 1
            if not starts:
                return None
            found[trial.id] = starts.bit_length() - 1
        return found

    def latest(self, finish: int) -> dict[str, int] | None:
        """The latest each joint can begin, taken alone, if all is to finish by D; None where it cannot."""
        tests = self._test_by(finish)
        if self.earliest is None or tests is None:
            return None
        found: dict[str, int] = {}
        for t in reversed(self.ahead.tasks):
            last = max(
                (can.bit_length() - 1 for *_, can in self._allowed(t, finish, tests, found)), default=-1
            )
            if last < 0:
                return None
            found[t.id] = last
        return found

    def _allowed(
        self, t: Task, finish: int, tests: Mapping[str, int], latest: Mapping[str, int]
    ) -> list[tuple[int, frozenset[str], int]]:
        """The starts of each way of a joint that leave room for all that comes after it."""
        trial = self.trials.get(t.id)
        ends = self._by(t.cured, finish if trial is None else tests[trial.id])
        for after, over in self.after[t.id]:
            if over == MADE:
                ends &= (1 << (latest[after] + 1)) - 1
            else:
                ends &= self._by(t.hands_off if over == HANDS_OFF else t.cured, latest[after])
        lowest = (self.earliest or {}).get(t.id, self.ahead.now)
        each = [
            (busy, who, (starts >> lowest << lowest) & (ends >> busy))
            for busy, who, starts in self.starts[t.id]
        ]
        return [way for way in each if way[2]]

    def _ranks(self, finish: int) -> list[int]:
        """Latest starts of the last test, the last but one and so on, where all wait for the same pumps."""
        trials = self.ahead.trials
        if len({t.holds for t in trials}) != 1 or not trials[0].holds:
            return []
        least, pumps = min(t.busy for t in trials), len(trials[0].holds)
        starts = 0
        for calendar in {t.calendar for t in trials}:
            starts |= self.board.trial_starts(calendar, least)
        found: list[int] = []
        by = finish - least
        for n in range(len(trials)):
            if n and n % pumps == 0:
                by = found[-1] - least
            starts &= (1 << max(by + 1, 0)) - 1
            found.append(starts.bit_length() - 1)
        return found

    def _slots(self, finish: int, tests: Mapping[str, int], loose: Mapping[str, int]) -> dict[str, int]:
        """Slots each joint may use by the latest starts of the tests; other sections count loosely."""
        latest: dict[str, int] = {}
        found: dict[str, int] = {}
        for t in reversed(self.ahead.tasks):
            section = self.trials.get(t.id)
            if section is not None and tests.get(section.id, -1) < 0:
                continue
            after = {
                k: latest.get(k, -1) if self.trials.get(k) is section else loose[k]
                for k, _ in self.after[t.id]
            }
            allowed = self._allowed(t, finish, tests, after)
            last = max((can.bit_length() - 1 for *_, can in allowed), default=-1)
            latest[t.id] = last
            if last < 0:
                continue
            low = (self.earliest or {})[t.id] // self.step * self.step
            high = -(-(last + 1) // self.step) * self.step
            window = ((1 << high) - 1) & ~((1 << low) - 1)
            by = self._by(t.cured, finish if section is None else tests[section.id])
            # Its hours are rounded outwards, to those that any joint of that length could have.
            found[t.id] = 0
            for busy, _, starts in self.starts[t.id]:
                found[t.id] |= spread(starts & window & (by >> busy), busy)
        return found

    def _kinds(self, finish: int) -> list[_Kind] | None:
        """Joints that are alike, together; None where one of them has no slots."""
        own = self._test_by(finish)
        loose = self.latest(finish)
        if own is None or loose is None:
            return None
        ranks = self._ranks(finish) or [finish]
        each = [
            self._slots(finish, {name: min(by, rank) for name, by in own.items()}, loose) for rank in ranks
        ]
        whole: dict[str, bool] = {}
        for n, slots in enumerate(each):
            for joint in self.tasks:
                trial = self.trials.get(joint)
                if trial is not None and joint not in slots:
                    whole[f"{n} {trial.id}"] = False
        kinds: dict[tuple[str, tuple[int, ...], int, frozenset[str]], int] = defaultdict(int)
        for t in self.ahead.tasks:
            trial = self.trials.get(t.id)
            ways = self.starts[t.id]
            crews = min(len(who) for _, who, _ in ways)
            work = crews * min(busy for busy, _, _ in ways)
            section = "" if trial is None or len(ranks) < 2 else trial.id
            opens = [each[0].get(t.id, 0)]
            if section:
                opens += [
                    slots[t.id] if whole.get(f"{n} {section}", True) else 0
                    for n, slots in enumerate(each[1:], 1)
                ]
            kinds[section, tuple(opens), crews, frozenset(k for _, who, _ in ways for k in who)] += work
        return [_Kind(s, o, c, w, work) for (s, o, c, w), work in kinds.items()]

    # ------------------------------------------------------------ all of them
    def fits(self, finish: int) -> bool:
        """Whether nothing here proves that no plan finishes by a slot."""
        kinds = self._kinds(finish)
        return kinds is not None and (not kinds or _pours(kinds, self._present()))

    def _present(self) -> dict[str, int]:
        """Slots in which each crew could be busy at all."""
        there: dict[str, int] = defaultdict(int)
        for ways in self.starts.values():
            for busy, who, starts in ways:
                covers = spread(starts, busy)
                for k in who:
                    there[k] |= covers
        return there

    def slot(self, upper: int | None = None, *, grain: int = 1) -> int | None:
        """The bound.

        Parameters
        ----------
        upper : int, optional
            A finish that is known to be possible; the last there is unless said.
        grain : int
            How far below the first slot that cannot be excluded the answer may lie. [-]

        Returns
        -------
        int or None
            None where nothing fits before the horizon.
        """
        high = self.ahead.far if upper is None else upper
        least = self.alone(high)
        if least is None or not self.fits(high):
            return None
        found = self._first(least - 1, high, self.fits, grain=grain)
        return None if found is None else max(found, least)

    def alone(self, upper: int) -> int | None:
        """The bound that each joint makes with what comes before and after it, as if it had all crews.

        Parameters
        ----------
        upper : int
            The last finish that is looked at.

        Returns
        -------
        int or None
            Never above that of ``slot``, and quick. None where a joint does not fit before ``upper``.
        """
        return self._first(self.ahead.now - 1, upper, lambda finish: self.latest(finish) is not None)

    @staticmethod
    def _first(low: int, high: int, holds: Callable[[int], bool], *, grain: int = 1) -> int | None:
        """The first slot above ``low`` from which on something holds; None if not by ``high``."""
        if not holds(high):
            return None
        while high - low > grain:
            middle = (low + high) // 2
            if holds(middle):
                high = middle
            else:
                low = middle
        return low + 1


def _pours(kinds: list[_Kind], there: Mapping[str, int]) -> bool:
    """Whether all work fits into its slots, cut at will."""
    from scipy.optimize import linprog
    from scipy.sparse import csr_matrix

    cuts = {0}
    for mask in {mask for k in kinds for mask in k.opens} | set(there.values()):
        for first, after in stretches_of(mask):
            cuts |= {first, after}
    edges = sorted(cuts)
    cells: list[tuple[int, int]] = []
    rows: list[int] = []
    cols: list[int] = []
    data: list[float] = []
    limits: list[float] = []
    by_cell: dict[int, list[int]] = defaultdict(list)
    of_kind: list[list[int]] = []
    for n, kind in enumerate(kinds):
        mine = []
        for cell, first in enumerate(edges[:-1]):
            if kind.opens[0] >> first & 1:
                by_cell[cell].append(len(cells))
                mine.append(len(cells))
                cells.append((n, cell))
        of_kind.append(mine)

    def row(terms: list[tuple[int, float]], limit: float) -> None:
        for col, value in terms:
            rows.append(len(limits))
            cols.append(col)
            data.append(value)
        limits.append(limit)

    for cell, mine in by_cell.items():
        length = edges[cell + 1] - edges[cell]
        here = frozenset(k for k, mask in there.items() if mask >> edges[cell] & 1)
        row([(v, 1.0) for v in mine], float(length * len(here)))
        for who in {kinds[cells[v][0]].who for v in mine}:
            if not here <= who:
                row(
                    [(v, 1.0) for v in mine if kinds[cells[v][0]].who <= who], float(length * len(here & who))
                )
        for crews in {kinds[cells[v][0]].crews for v in mine} - {1}:
            big = [(v, 1.0 / kinds[cells[v][0]].crews) for v in mine if kinds[cells[v][0]].crews >= crews]
            row(big, float(length * (len(here) // crews)))
    for n, kind in enumerate(kinds):
        row([(v, 1.0) for v in of_kind[n]], float(kind.work))
    ranks = max(len(k.opens) for k in kinds)
    sections = sorted({k.section for k in kinds if k.section})
    width = len(cells)
    rank = {(name, n): width + i * ranks + n for i, name in enumerate(sections) for n in range(ranks)}
    for n, kind in enumerate(kinds):
        for r in range(1, len(kind.opens)):
            if kind.opens[r] != kind.opens[r - 1]:
                gone = [(v, 1.0) for v in of_kind[n] if not kind.opens[r] >> edges[cells[v][1]] & 1]
                row(gone + [(rank[kind.section, q], -float(kind.work)) for q in range(r)], 0.0)
    for name in sections:
        every = [(rank[name, r], 1.0) for r in range(ranks)]
        row(every, 1.0)
        row([(v, -c) for v, c in every], -1.0)
    for r in range(ranks):
        row([(rank[name, r], 1.0) for name in sections], 1.0)
    total = width + len(rank)
    matrix: Any = csr_matrix((data, (rows, cols)), shape=(len(limits), total))  # its stubs know arrays only
    objective: NDArray[np.float64] = np.zeros(total)
    objective[:width] = -1.0
    told = linprog(objective, A_ub=matrix, b_ub=np.array(limits), bounds=(0, None), method="highs-ds")
    if told.status == _INFEASIBLE:
        return False
    work = float(sum(k.work for k in kinds))
    return not told.success or -float(told.fun or 0.0) >= work - SHORT
