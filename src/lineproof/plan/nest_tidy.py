"""Tidying a plan without adding a stick: smaller offcuts, one long leftover rather than many short ones.

What is left over is valued by the square of its length, and only when it is useful, so a long leftover is
worth more than two halves. A move is made only when that value does not fall.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Sequence

from lineproof.plan.nest_grid import Bin, Problem


def leftover(problem: Problem, b: Bin) -> int:
    """Return the plain length left after the last cut, in steps."""
    over_bell = problem.kinds[b.kind].bell >= 0 and b.bell < 0
    return max(0, b.room if over_bell else b.room - problem.kerf)


def value(problem: Problem, plan: Sequence[Bin], useful: int) -> int:
    """Return the worth of what is left over: the sum of squares of the useful lengths, in steps squared."""
    left = (leftover(problem, b) for b in plan)
    return sum(x * x for x in left if x >= useful)


def patterns(plan: Sequence[Bin]) -> int:
    """Count the different ways a stick is cut."""
    return len({b.key() for b in plan})


def tidy(problem: Problem, plan: Sequence[Bin], useful: int) -> list[Bin]:
    """Return a plan with no more new sticks: smaller offcuts, leftovers gathered in one stick."""
    bins = [b.copy() for b in plan]
    bins = _smaller_offcuts(problem, bins)
    bins = _spare_offcuts(problem, bins, useful)
    return _gather(problem, bins, useful)


def _smaller_offcuts(problem: Problem, bins: list[Bin]) -> list[Bin]:
    """Move what is cut from each stick to the smallest offcut that holds it, new sticks first."""
    if len(problem.kinds) == 1:
        return bins
    left = [k.count for k in problem.kinds]
    for b in bins:
        left[b.kind] -= 1 if b.kind else 0
    weights = problem.weights
    content = {id(b): sum(weights[c] for c in b.classes()) for b in bins}
    for b in sorted(bins, key=lambda b: (b.kind != 0, content[id(b)], b.key())):
        most = b.kind or len(problem.kinds)
        for k in range(1, most):
            room = problem.kinds[k].bell if b.bell >= 0 else problem.kinds[k].plain
            if left[k] and room >= content[id(b)]:
                left[k] -= 1
                left[b.kind] += 1 if b.kind else 0
                b.kind, b.room = k, room - content[id(b)]
                break
    return bins


def _moves(problem: Problem, donor: Bin, others: Sequence[Bin]) -> list[tuple[int, Bin]]:
    """Say where each piece of the donor could go, longest first, each to the tightest stick that takes it."""
    rooms = sorted((b.room, i) for i, b in enumerate(others))
    moves: list[tuple[int, Bin]] = []
    for c in sorted(donor.pieces):
        weight = problem.weights[c]
        at = bisect_left(rooms, (weight, -1))
        if at < len(rooms):
            room, i = rooms.pop(at)
            insort(rooms, (room - weight, i))
            moves.append((c, others[i]))
    return moves


def _move(problem: Problem, donor: Bin, moves: Sequence[tuple[int, Bin]]) -> None:
    for c, to in moves:
        donor.pieces.remove(c)
        donor.room += problem.weights[c]
        to.pieces.append(c)
        to.room -= problem.weights[c]


def _spare_offcuts(problem: Problem, bins: list[Bin], useful: int) -> list[Bin]:
    """Leave an offcut whole when the room left in other sticks takes its pieces without loss."""
    for donor in sorted((b for b in bins if b.kind and b.bell < 0), key=lambda b: (-b.kind, b.key())):
        others = [b for b in bins if b is not donor]
        moves = _moves(problem, donor, others)
        if len(moves) < len(donor.pieces):
            continue
        before = value(problem, bins, useful)
        _move(problem, donor, moves)
        if value(problem, bins, useful) >= before:
            bins = others
        else:
            _move_back(problem, donor, moves)
    return bins


def _move_back(problem: Problem, donor: Bin, moves: Sequence[tuple[int, Bin]]) -> None:
    for c, to in moves:
        to.pieces.remove(c)
        to.room += problem.weights[c]
        donor.pieces.append(c)
        donor.room -= problem.weights[c]


def _gather(problem: Problem, bins: list[Bin], useful: int) -> list[Bin]:
    """Move pieces from the emptiest new stick into gaps of the others, so that its leftover grows."""
    while True:
        fresh = [b for b in bins if b.kind == 0 and b.bell < 0]
        if not fresh:
            return bins
        donor = min(fresh, key=lambda b: (-b.room, b.key()))
        others = [b for b in bins if b is not donor]
        moves = _moves(problem, donor, others)
        if len(moves) == len(donor.pieces):
            _move(problem, donor, moves)
            bins = others
            continue
        for move in moves:
            pair = (donor, move[1])
            before = value(problem, pair, useful)
            _move(problem, donor, [move])
            if value(problem, pair, useful) < before:
                _move_back(problem, donor, [move])
        return bins
