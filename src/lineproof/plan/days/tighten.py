"""People who stand about: how much of it a plan has, and closing gaps up without changing the finish."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from dataclasses import replace

from lineproof.plan.days.model import CURED, HANDS_OFF, MADE, SLOT, Ahead, Days, Placed, in_order
from lineproof.plan.days.slots import Board, ends_where

DAY = 86400.0


def idle_people(ahead: Ahead, days: Days) -> float:
    """Time that people stand between two joints of one day, all people together.

    Parameters
    ----------
    ahead : Ahead
    days : Days

    Returns
    -------
    float
        From the first joint of a crew on a day to its last, less the making. Lunch is not looked at. [s]
    """
    held: dict[tuple[str, int], list[Placed]] = defaultdict(list)
    for p in days.joints:
        for who in p.holds:
            held[who, _day(p.first)].append(p)
    idle = 0.0
    for (who, _), mine in held.items():
        span = max(p.end for p in mine) - min(p.first for p in mine)
        idle += ahead.people.get(who, 1) * (span - sum(p.end - p.first for p in mine)) * SLOT
    return idle


def _day(slot: int) -> int:
    return int(slot * SLOT // DAY)


def close_up(ahead: Ahead, board: Board, days: Days) -> Days:
    """Begin joints later where that closes a gap to the next joint of the same crews on the same day.

    Parameters
    ----------
    ahead : Ahead
    board : Board
    days : Days

    Returns
    -------
    Days
        Tests, crews and finish as before; a joint never moves to another day, and nothing that comes after
        it moves. Never more idle people than before.
    """
    waits = {w.id: ends_where(w, ahead.horizon) for w in ahead.waits.values()}
    tasks = {t.id: t for t in ahead.tasks}
    after: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for t in ahead.tasks:
        for link in t.links:
            after[link.before].append((t.id, link.over))
    test = {p.id: p.first for p in days.tests}
    section = {joint: trial.id for trial in ahead.trials for joint in trial.joints}
    at = {p.id: p for p in days.joints}
    ahead_of: dict[str, list[tuple[int, str]]] = defaultdict(list)
    for p in days.joints:
        for who in p.holds:
            ahead_of[who].append((p.first, p.id))
    for row in ahead_of.values():
        row.sort()

    def by(wait: str, limit: int) -> int:
        ends = 0
        for slots, where in waits[wait].items():
            if limit >= slots:
                ends |= where & ((1 << (limit - slots + 1)) - 1)
        return ends

    for p in reversed(in_order(days.joints)):
        t = tasks[p.id]
        following = []
        for who in p.holds:
            row = ahead_of[who]
            n = bisect_right(row, (p.first, p.id))
            following.append(at[row[n][1]] if n < len(row) else None)
        if any(f is None or _day(f.first) != _day(p.first) for f in following):
            continue  # the last of the day of one of its crews: later would only lengthen the day
        ends = by(t.cured, test.get(section.get(p.id, ""), days.finish))
        for next_, over in after[p.id]:
            limit = at[next_].first
            ends &= (
                (1 << (limit + 1)) - 1
                if over == MADE
                else by({HANDS_OFF: t.hands_off, CURED: t.cured}[over], limit)
            )
        ends &= (1 << (min(f.first for f in following if f is not None) + 1)) - 1
        busy = p.end - p.first
        starts = 0
        for way in t.ways:
            if way.holds == p.holds and way.busy == busy:
                starts |= board.starts(way, t)
        allowed = (starts & (ends >> busy)) >> p.first << p.first
        last = allowed.bit_length() - 1
        if last > p.first and _day(last) == _day(p.first):
            moved = Placed(p.id, last, last + busy, p.holds)
            at[p.id] = moved
            for who in p.holds:
                row = ahead_of[who]
                row[row.index((p.first, p.id))] = (last, p.id)
    closed = replace(days, joints=in_order(at.values()))
    return closed if idle_people(ahead, closed) <= idle_people(ahead, days) else days
