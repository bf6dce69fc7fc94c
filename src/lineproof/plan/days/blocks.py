"""What blocks what: why a joint has no hours, and the chain that holds the last test up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, Ahead, Days, Placed, Task
from lineproof.plan.days.slots import first_from, mask_of, starts_in

WEATHER = "weather and card"
"""The hours themselves: rain, or no row of the card for the temperature."""


@dataclass(frozen=True, slots=True)
class Bind:
    """A limit without which a joint or test would have hours.

    Parameters
    ----------
    limit : str
        ``"shift"``, ``"qualification"``, ``"cement"``, ``"lost day"``, or ``WEATHER``.
    first : int
        The first slot in which it could begin if only this limit gave way.
    """

    limit: str
    first: int


def binds(ahead: Ahead, task: Task, layers: Mapping[str, Mapping[str, int]]) -> tuple[Bind, ...]:
    """The limits that each keep a joint from having any hours, taken one at a time.

    Parameters
    ----------
    ahead : Ahead
    task : Task
    layers : mapping
        Calendar to what it is made of.

    Returns
    -------
    tuple of Bind
        Empty where no limit alone would help.
    """
    told = {
        wait: mask_of(
            (first, after)
            for (first, slots), after in zip(
                ahead.waits[wait].steps,
                [*(f for f, _ in ahead.waits[wait].steps[1:]), ahead.horizon + 1],
                strict=True,
            )
            if slots >= 0
        )
        for wait in (task.hands_off, task.cured)
    }
    full = (1 << ahead.horizon) - 1
    best: dict[str, int] = {}
    for way in task.ways:
        made_of = layers.get(way.calendar, {})
        for lifted in (*made_of, WEATHER):
            mask = full
            for name, layer in made_of.items():
                if name != lifted:
                    mask &= layer
            starts = starts_in(mask, way.busy)
            if lifted != WEATHER:
                for wait in told.values():
                    starts &= wait >> way.busy
            first = first_from(starts, ahead.now)
            if first is not None:
                best[lifted] = min(best.get(lifted, first), first)
    return tuple(Bind(limit, first) for limit, first in best.items())


@dataclass(frozen=True, slots=True)
class Held:
    """One link of the chain that holds the finish up.

    Parameters
    ----------
    id : str
        The joint, or the section.
    first, end : int
        Its slots.
    by : str
        ``"cured"``, ``"hands off"``, ``"made"``: it waits for that of ``other``; ``"crew"``: its crew comes
        from ``other``; ``"pump"``: the pump does; ``"hours"``: it had to wait for open hours.
    other : str
        What it waits for; empty for hours.
    """

    id: str
    first: int
    end: int
    by: str
    other: str = ""


def chain(ahead: Ahead, days: Days) -> tuple[Held, ...]:
    """What holds the last test up, back to the first thing that nothing but open hours held.

    Parameters
    ----------
    ahead : Ahead
    days : Days

    Returns
    -------
    tuple of Held
        The last first. Empty without anything planned.
    """
    tasks = {t.id: t for t in ahead.tasks}
    trials = {t.id: t for t in ahead.trials}
    joints = {p.id: p for p in days.joints}

    def over(joint: str, what: str) -> int | None:
        past = ahead.past.get(joint)
        if past is not None:
            return {MADE: past.end, HANDS_OFF: past.over, CURED: past.cured}[what]
        at = joints.get(joint)
        if at is None:
            return None
        wait = 0 if what == MADE else _after(ahead, tasks[joint], what, at.end)
        return None if wait is None else at.end + wait

    found: list[Held] = []
    at: Placed | None = max(days.tests, key=lambda p: (p.end, p.id), default=None)
    if at is None:
        at = max(days.joints, key=lambda p: (over(p.id, CURED) or p.end, p.id), default=None)
    while at is not None and len(found) <= len(joints) + len(trials):
        causes: list[tuple[int, str, str]] = []
        if at.id in trials and at in days.tests:
            causes += [(o, CURED, j) for j in trials[at.id].joints if (o := over(j, CURED)) is not None]
            causes += [
                (p.end, "pump", p.id)
                for p in days.tests
                if set(p.holds) & set(at.holds) and p.end <= at.first
            ]
        else:
            causes += [
                (o, k.over, k.before) for k in tasks[at.id].links if (o := over(k.before, k.over)) is not None
            ]
            causes += [
                (p.end, "crew", p.id)
                for p in days.joints
                if set(p.holds) & set(at.holds) and p.end <= at.first
            ]
        last = max(causes, default=None)
        if last is None:
            found.append(Held(at.id, at.first, at.end, "hours"))
            break
        found.append(Held(at.id, at.first, at.end, last[1], last[2]))
        at = joints.get(last[2]) or next((p for p in days.tests if p.id == last[2]), None)
    return tuple(found)


def _after(ahead: Ahead, task: Task, what: str, end: int) -> int | None:
    return ahead.waits[task.hands_off if what == HANDS_OFF else task.cured].after(end)
