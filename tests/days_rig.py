"""Small pieces of work for the tests of the days, and a search through every plan that knows no solver."""

from __future__ import annotations

import random
from datetime import UTC, datetime
from itertools import permutations

from lineproof.plan.days.model import (
    CURED,
    HANDS_OFF,
    MADE,
    NEVER,
    Ahead,
    Calendar,
    Link,
    Task,
    Trial,
    Wait,
    Way,
)

BEGIN = datetime(2027, 4, 12, tzinfo=UTC)


def tiny(seed: int) -> Ahead:
    """Two to four joints, one to three crews, a calendar with holes, waits that change by the hour."""
    rng = random.Random(seed)
    horizon = rng.randrange(20, 34)
    crews = [f"K{n}" for n in range(rng.choice((1, 2, 2, 3)))]

    def calendar(name: str, share: float) -> Calendar:
        slots = [rng.random() < share for _ in range(horizon)]
        for n in range(1, horizon):  # stretches, not single slots
            if rng.random() < 0.75:
                slots[n] = slots[n - 1]
        found: list[tuple[int, int]] = []
        for n, on in enumerate(slots):
            if on and found and found[-1][1] == n:
                found[-1] = (found[-1][0], n + 1)
            elif on:
                found.append((n, n + 1))
        return Calendar(name, tuple(found))

    def wait(name: str, most: int) -> Wait:
        steps = [(0, rng.randrange(0, most))]
        for _ in range(rng.randrange(0, 3)):
            at = steps[-1][0] + rng.randrange(3, 9)
            steps.append((at, NEVER if rng.random() < 0.1 else rng.randrange(0, most)))
        return Wait(name, tuple(steps))

    calendars = {f"C{n}": calendar(f"C{n}", 0.75) for n in range(2)} | {"T": calendar("T", 0.9)}
    waits = {f"W{n}": wait(f"W{n}", 3 if n < 2 else 7) for n in range(4)}
    tasks: list[Task] = []
    for n in range(rng.choice((2, 3, 3, 4))):
        busy = rng.randrange(1, 5)
        name = rng.choice(("C0", "C1"))
        if len(crews) > 1 and rng.random() < 0.35:
            ways = [Way((a, b), busy, name) for i, a in enumerate(crews) for b in crews[i + 1 :]]
        else:
            ways = [Way((k,), busy + rng.choice((0, 0, 1)), name) for k in crews]
            ways = rng.sample(ways, rng.randrange(1, len(ways) + 1))
        links = tuple(
            Link(t.id, rng.choice((MADE, HANDS_OFF, HANDS_OFF, CURED))) for t in tasks if rng.random() < 0.3
        )
        tasks.append(
            Task(
                id=f"J{n}", ways=tuple(ways), hands_off=rng.choice(("W0", "W1")),
                cured=rng.choice(("W2", "W3")), links=links,
            )
        )  # fmt: skip
    shares = rng.choice((0, 1, 2))
    trials = [
        Trial(
            id=f"S{s}", joints=tuple(t.id for n, t in enumerate(tasks) if n % shares == s),
            busy=rng.randrange(1, 4), calendar="T", holds=("P",),
        )
        for s in range(shares)
    ]  # fmt: skip
    return Ahead(
        begin=BEGIN, horizon=horizon, calendars=calendars, waits=waits, tasks=tuple(tasks),
        trials=tuple(t for t in trials if t.joints),
    )  # fmt: skip


def _open(calendar: Calendar) -> set[int]:
    return {slot for first, after in calendar.stretches for slot in range(first, after)}


def _told(wait: Wait, end: int) -> int | None:
    found = [slots for first, slots in wait.steps if first <= end][-1]
    return None if found == NEVER else found


def best_of_all(ahead: Ahead) -> int | None:
    """The least finish over every start of every joint by every way, and every order at the pump."""
    best: list[int | None] = [None]
    open_ = {name: _open(c) for name, c in ahead.calendars.items()}
    trial_of = {j: t for t in ahead.trials for j in t.joints}

    def tests(cured: dict[str, int]) -> int | None:
        least: int | None = None
        for order in permutations(ahead.trials):
            free, finish = 0, 0
            for trial in order:
                at = max([free, *(cured[j] for j in trial.joints)])
                while at + trial.busy <= ahead.horizon:
                    if all(s in open_[trial.calendar] for s in range(at, at + trial.busy)):
                        break
                    at += 1
                else:
                    break
                free = finish = at + trial.busy
            else:
                finish = max([finish, *(c for j, c in cured.items() if j not in trial_of)])
                least = finish if least is None else min(least, finish)
        return least

    def go(n: int, taken: dict[str, set[int]], over: dict[tuple[str, str], int]) -> None:
        if n == len(ahead.tasks):
            finish = tests({j: at for (j, what), at in over.items() if what == CURED})
            if finish is not None and (best[0] is None or finish < best[0]):
                best[0] = finish
            return
        task = ahead.tasks[n]
        earliest = max([0, *(over[k.before, k.over] for k in task.links)])
        tail = trial_of[task.id].busy if task.id in trial_of else 0
        for way in task.ways:
            for first in range(earliest, ahead.horizon - way.busy + 1):
                span = range(first, first + way.busy)
                if not all(s in open_[way.calendar] for s in span):
                    continue
                if any(s in taken[who] for who in way.holds for s in span):
                    continue
                end = first + way.busy
                off = _told(ahead.waits[task.hands_off], end)
                cured = _told(ahead.waits[task.cured], end)
                if off is None or cured is None:
                    continue
                if best[0] is not None and end + cured + tail >= best[0]:
                    continue
                now_taken = {
                    who: slots | set(span) if who in way.holds else slots for who, slots in taken.items()
                }
                told = {MADE: end, HANDS_OFF: end + off, CURED: end + cured}
                go(n + 1, now_taken, over | {(task.id, what): at for what, at in told.items()})

    go(0, {who: set() for t in ahead.tasks for w in t.ways for who in w.holds}, {})
    return best[0]
