"""Reads a plan of days against the work it is for, rule by rule, in plain Python.

It shares nothing with what made the plan but the values themselves, and counts slots one by one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, Ahead, Days, Placed, Task, Trial

RULES = (
    "missing", "twice", "unknown", "again", "too early", "crew", "length", "closed", "busy", "order",
    "no wait", "not cured", "pump", "finish", "bound", "beyond",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fault:
    """A rule that a plan breaks.

    Parameters
    ----------
    rule : str
        One of ``RULES``.
    id : str
        The joint or the section; empty for the plan as a whole.
    at : int
        The slot it is about. [-]
    other : str
        What it clashes with.
    """

    rule: str
    id: str
    at: int = 0
    other: str = ""


def faults_of(ahead: Ahead, days: Days) -> tuple[Fault, ...]:
    """Every rule that a plan breaks.

    Parameters
    ----------
    ahead : Ahead
        The work.
    days : Days
        The plan.

    Returns
    -------
    tuple of Fault
        None at all for a plan that may be shown.
    """
    tasks = {t.id: t for t in ahead.tasks}
    trials = {t.id: t for t in ahead.trials}
    found = [*_once(days.joints, tasks, ahead), *_once(days.tests, trials, ahead)]
    joints = {p.id: p for p in days.joints}
    for placed in days.joints:
        if placed.id in tasks:
            found += _joint(placed, tasks, ahead, joints)
    for placed in days.tests:
        if placed.id in trials:
            found += _test(placed, trials[placed.id], ahead, joints, tasks)
    found += _nobody_twice(days)
    found += _claims(ahead, days, tasks, trials)
    return tuple(found)


def _once(placed: tuple[Placed, ...], wanted: Mapping[str, object], ahead: Ahead) -> Iterator[Fault]:
    seen: set[str] = set()
    for p in placed:
        if p.id in seen:
            yield Fault("twice", p.id, p.first)
        seen.add(p.id)
        if p.id in ahead.past:
            yield Fault("again", p.id, p.first)
        elif p.id not in wanted:
            yield Fault("unknown", p.id, p.first)
        if p.first < ahead.now or p.first < 0:
            yield Fault("too early", p.id, p.first)
        if p.end > ahead.horizon:
            yield Fault("beyond", p.id, p.end)
    for name in wanted:
        if name not in seen and name not in ahead.past:
            yield Fault("missing", name)


def _open(ahead: Ahead, calendar: str, first: int, end: int) -> int | None:
    """The first slot of a stretch of time that its calendar does not leave open; None if all are."""
    known = ahead.calendars.get(calendar)
    stretches = () if known is None else known.stretches
    for slot in range(first, end):
        if not any(a <= slot < b for a, b in stretches):
            return slot
    return None


def _wait(ahead: Ahead, wait: str, end: int) -> int | None:
    """Slots of a wait by the last step that begins no later than the finish."""
    known = ahead.waits.get(wait)
    if known is None:
        return None
    told: int | None = None
    for first, slots in known.steps:
        if first <= end:
            told = slots
    return told if told is not None and told >= 0 else None


def _over(
    ahead: Ahead, id: str, over: str, joints: Mapping[str, Placed], tasks: Mapping[str, Task]
) -> int | None:
    """Slot from which something of a joint is over; None where it is not made or nothing is printed."""
    past = ahead.past.get(id)
    if past is not None:
        return {MADE: past.end, HANDS_OFF: past.over, CURED: past.cured}[over]
    placed, task = joints.get(id), tasks.get(id)
    if placed is None or task is None:
        return None
    if over == MADE:
        return placed.end
    wait = _wait(ahead, task.hands_off if over == HANDS_OFF else task.cured, placed.end)
    return None if wait is None else placed.end + wait


def _joint(
    p: Placed, tasks: Mapping[str, Task], ahead: Ahead, joints: Mapping[str, Placed]
) -> Iterator[Fault]:
    task = tasks[p.id]
    ways = [w for w in task.ways if sorted(w.holds) == sorted(p.holds)]
    if not ways:
        yield Fault("crew", p.id, p.first, ", ".join(p.holds))
    elif all(w.busy != p.end - p.first for w in ways):
        yield Fault("length", p.id, p.first)
    else:
        closed = [_open(ahead, w.calendar, p.first, p.end) for w in ways if w.busy == p.end - p.first]
        if None not in closed:
            yield Fault("closed", p.id, next(c for c in closed if c is not None))
    for wait in (task.hands_off, task.cured):
        if _wait(ahead, wait, p.end) is None:
            yield Fault("no wait", p.id, p.end, wait)
    for link in task.links:
        over = _over(ahead, link.before, link.over, joints, tasks)
        if over is None or p.first < over:
            yield Fault("order", p.id, p.first, link.before)


def _test(
    p: Placed, trial: Trial, ahead: Ahead, joints: Mapping[str, Placed], tasks: Mapping[str, Task]
) -> Iterator[Fault]:
    if p.end - p.first != trial.busy:
        yield Fault("length", p.id, p.first)
    closed = _open(ahead, trial.calendar, p.first, p.end)
    if closed is not None:
        yield Fault("closed", p.id, closed)
    if (len(p.holds) != 1 or p.holds[0] not in trial.holds) if trial.holds else bool(p.holds):
        yield Fault("pump", p.id, p.first, ", ".join(p.holds))
    for joint in trial.joints:
        if joint not in tasks and joint not in ahead.past:
            yield Fault("unknown", joint, p.first, p.id)
            continue
        cured = _over(ahead, joint, CURED, joints, tasks)
        if cured is None or p.first < cured:
            yield Fault("not cured", p.id, p.first, joint)


def _nobody_twice(days: Days) -> Iterator[Fault]:
    held: dict[str, list[Placed]] = {}
    for p in (*days.joints, *days.tests):
        for who in p.holds:
            held.setdefault(who, []).append(p)
    for who, all_of in held.items():
        all_of.sort(key=lambda p: p.first)
        for n, one in enumerate(all_of):
            for other in all_of[n + 1 :]:
                if other.first >= one.end:
                    break  # and so do all that begin later
                yield Fault("busy", one.id, other.first, f"{other.id}, {who}")


def _claims(
    ahead: Ahead, days: Days, tasks: Mapping[str, Task], trials: Mapping[str, Trial]
) -> Iterator[Fault]:
    joints = {p.id: p for p in days.joints}
    tested = {joint for t in trials.values() for joint in t.joints}
    loose = [_over(ahead, name, CURED, joints, tasks) for name in tasks if name not in tested]
    last = max(
        [ahead.now, *(p.end for p in days.tests), *(slot for slot in loose if slot is not None)], default=0
    )
    if last != days.finish:
        yield Fault("finish", "", days.finish)
    if days.bound > days.finish:
        yield Fault("bound", "", days.bound)
