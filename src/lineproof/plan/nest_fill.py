"""Filling sticks by rule: first fit, best fit, best pair, and an exact search for a handful of pieces.

First fit and best fit take pieces longest first. Belled pieces go before all others, each to the smallest
belled offcut that serves or to a new stick, because a stick has only one bell. Both run in time near-linear
in the number of pieces: equal pieces are placed together, and the stick is found by a tree or a sorted list.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections.abc import Iterator
from typing import Literal

from lineproof.plan.nest_grid import Bin, Problem


def _belled(problem: Problem) -> tuple[list[Bin], list[int]] | None:
    """Give each belled piece its stick; return these and the number of offcuts left of each kind."""
    left = [kind.count for kind in problem.kinds]
    bins: list[Bin] = []
    first = len(problem.plain)
    for c, weight in enumerate(problem.bell, start=first):
        for _ in range(problem.demand[c]):
            for k in [*range(1, len(left)), 0]:
                if left[k] != 0 and problem.kinds[k].bell >= weight:
                    left[k] -= 1 if k else 0
                    bins.append(Bin(k, c, [], problem.kinds[k].bell - weight))
                    break
            else:
                return None
    return bins, left


def opened(problem: Problem) -> list[Bin] | None:
    """Return the bins to fill: offcuts, smallest room first, then the new sticks of belled pieces."""
    begun = _belled(problem)
    if begun is None:
        return None
    bins, left = begun
    offcuts = [b for b in bins if b.kind]
    for k, kind in enumerate(problem.kinds):
        if k:
            offcuts += [Bin(k, -1, [], kind.plain) for _ in range(left[k])]
    offcuts.sort(key=lambda b: b.room)
    return offcuts + [b for b in bins if not b.kind]


class _First:
    """Finds the first bin with enough room: a tree of the largest room below each node."""

    def __init__(self, rooms: list[int], most: int) -> None:
        self.size = 1 << max(1, (max(1, most) - 1).bit_length())
        self.tree = [-1] * (2 * self.size)
        self.tree[self.size : self.size + len(rooms)] = rooms
        for node in range(self.size - 1, 0, -1):
            self.tree[node] = max(self.tree[2 * node], self.tree[2 * node + 1])

    def find(self, weight: int) -> int:
        """Return the first bin with room for ``weight``, or -1."""
        if self.tree[1] < weight:
            return -1
        node = 1
        while node < self.size:
            node *= 2
            if self.tree[node] < weight:
                node += 1
        return node - self.size

    def put(self, index: int, room: int) -> None:
        """Note the room of a bin, new or changed."""
        node = index + self.size
        self.tree[node] = room
        while node > 1:
            node //= 2
            self.tree[node] = max(self.tree[2 * node], self.tree[2 * node + 1])


class _Best:
    """Finds the bin with the least room that is enough: a sorted list of rooms."""

    def __init__(self, rooms: list[int], most: int) -> None:
        del most
        self.sorted = sorted((room, i) for i, room in enumerate(rooms))
        self.rooms = dict(enumerate(rooms))

    def find(self, weight: int) -> int:
        """Return the tightest bin with room for ``weight``, or -1."""
        at = bisect_left(self.sorted, (weight, -1))
        return self.sorted[at][1] if at < len(self.sorted) else -1

    def put(self, index: int, room: int) -> None:
        """Note the room of a bin, new or changed."""
        if index in self.rooms:
            del self.sorted[bisect_left(self.sorted, (self.rooms[index], index))]
        self.rooms[index] = room
        insort(self.sorted, (room, index))


def fill(problem: Problem, rule: Literal["first", "best"] = "first") -> list[Bin] | None:
    """Fill by first fit or best fit, longest first; None when a piece finds no place."""
    bins = opened(problem)
    if bins is None:
        return None
    rooms = [b.room for b in bins]
    finder: _First | _Best = (_First if rule == "first" else _Best)(rooms, len(bins) + problem.pieces)
    new_room = problem.kinds[0].plain
    for c, weight in enumerate(problem.plain):
        left = problem.demand[c]
        while left:
            at = finder.find(weight)
            if at < 0:
                if weight > new_room:
                    return None
                at = len(bins)
                bins.append(Bin(0, -1, [], new_room))
            bin_ = bins[at]
            n = min(left, bin_.room // weight)
            bin_.pieces += [c] * n
            bin_.room -= n * weight
            left -= n
            finder.put(at, bin_.room)
    return [b for b in bins if b.pieces or b.bell >= 0]


def fill_pairs(problem: Problem) -> list[Bin] | None:
    """Fill stick by stick: the longest that fits, then the one or two pieces that fill the rest best.

    Good where lengths are many and differ, since the two that fill a rest almost exactly then exist.
    """
    import numpy as np

    bins = opened(problem)
    if bins is None:
        return None
    order = [c for c in range(len(problem.plain) - 1, -1, -1) if problem.demand[c]]
    classes = np.array(order, dtype=np.int64)
    weight = np.array([problem.plain[c] for c in order], dtype=np.int64)
    left = np.array([problem.demand[c] for c in order], dtype=np.int64)

    def take(at: int, bin_: Bin) -> None:
        nonlocal classes, weight, left
        bin_.pieces.append(int(classes[at]))
        bin_.room -= int(weight[at])
        left[at] -= 1
        if left[at] == 0:
            classes, weight, left = np.delete(classes, at), np.delete(weight, at), np.delete(left, at)

    def best_pair(room: int, top: int) -> tuple[int, int, int]:
        """Return (sum, larger, smaller) of the fullest pair among the classes below ``top``."""
        partner = np.minimum(np.searchsorted(weight, room - weight[:top], side="right") - 1, np.arange(top))
        partner -= (partner == np.arange(top)) & (left[:top] < 2)
        total = np.where(partner >= 0, weight[:top] + weight[partner], -1)
        at = top - 1 - int(np.argmax(total[::-1]))
        return int(total[at]), at, int(partner[at])

    def fill_one(bin_: Bin) -> None:
        while weight.size and bin_.room >= weight[0]:
            room = bin_.room
            top = int(np.searchsorted(weight, room, side="right"))
            single = int(weight[top - 1])
            if not bin_.pieces and bin_.bell < 0:
                take(top - 1, bin_)
                continue
            pair, a, b = best_pair(room, top)
            smallest = int(weight[0])
            if pair == room or (pair > single and room - pair < smallest):
                take(a, bin_)
                take(b, bin_)
            else:
                take(top - 1, bin_)

    for bin_ in bins:
        fill_one(bin_)
    while weight.size:
        if weight[-1] > problem.kinds[0].plain:
            return None
        bins.append(Bin(0, -1, [], problem.kinds[0].plain))
        fill_one(bins[-1])
    return [b for b in bins if b.pieces or b.bell >= 0]


def quick_bound(problem: Problem) -> int:
    """Return a number of new sticks that no plan can go below, from bells, total length and long pieces."""
    new = problem.kinds[0]
    first = len(problem.plain)
    belled = sum(problem.demand[first:])
    bell_offcuts = sum(k.count for k in problem.kinds[1:] if k.bell >= 0)
    bound = max(0, belled - bell_offcuts)

    room = max(new.plain, new.bell)
    if room <= 0:
        return bound
    in_offcuts = sum(k.count * max(k.plain, k.bell, 0) for k in problem.kinds[1:])
    total = sum(w * n for w, n in zip(problem.weights, problem.demand, strict=True)) - in_offcuts
    most_belled = min(belled, -(-total // room)) if new.bell >= 0 else 0
    rest = total - most_belled * room
    if rest <= 0:
        bound = max(bound, -(-total // room))
    elif new.plain > 0:
        bound = max(bound, most_belled + -(-rest // new.plain))
    if not any(k.count for k in problem.kinds[1:]):
        bound = max(bound, _long_pieces(problem, room))
    return bound


def _long_pieces(problem: Problem, room: int) -> int:
    """Return the Martello-Toth bound L2: pieces over half a stick never share one."""
    pairs = sorted(zip(problem.weights, problem.demand, strict=True))
    weights = [w for w, _ in pairs]
    count, total = [0], [0]
    for w, n in pairs:
        count.append(count[-1] + n)
        total.append(total[-1] + w * n)
    half = bisect_right(weights, room // 2)
    best = count[-1] - count[half]
    for i in range(half):
        alone = bisect_right(weights, room - weights[i])
        alone = max(alone, half)
        sharing = count[alone] - count[half]
        spare = sharing * room - (total[alone] - total[half])
        over = total[half] - total[i] - spare
        best = max(best, count[-1] - count[half] + max(0, -(-over // room)))
    return best


def search(problem: Problem, most_new: int, nodes: int) -> list[Bin] | bool:
    """Look for a plan with at most ``most_new`` new sticks by trying every placing, longest first.

    Returns
    -------
    list of Bin or bool
        A plan; False when it is proved that there is none; True when ``nodes`` tries were not enough to know.
    """
    first = len(problem.plain)
    order = [c for c in range(first, len(problem.demand)) for _ in range(problem.demand[c])]
    order += [c for c in range(first) for _ in range(problem.demand[c])]
    weights, kinds = problem.weights, problem.kinds
    new = kinds[0]
    bins = [Bin(k, -1, [], kinds[k].plain) for k in range(1, len(kinds)) for _ in range(kinds[k].count)]
    remaining = [0] * (len(order) + 1)
    for i in range(len(order) - 1, -1, -1):
        remaining[i] = remaining[i + 1] + weights[order[i]]
    tries = 0

    def places(i: int, since: int) -> Iterator[tuple[int, Bin]]:
        """Yield bins that could take piece ``i``, alike ones once, a new stick last."""
        c = order[i]
        weight = weights[c]
        seen = set()
        for at in range(since, len(bins)):
            b = bins[at]
            if c >= first:
                if b.bell >= 0 or b.kind == 0 or kinds[b.kind].bell < weight or (b.kind, -1) in seen:
                    continue
                seen.add((b.kind, -1))
                yield at, b
            elif b.room >= weight and (b.room, 0) not in seen:
                seen.add((b.room, 0))
                yield at, b
        if opened_new[0] < most_new and weight <= (new.bell if c >= first else new.plain):
            fresh = Bin(0, -1, [], new.plain)
            yield len(bins), fresh

    opened_new = [0]

    def spare() -> int:
        return sum(max(0, b.room) for b in bins)

    def place(i: int, since: int) -> bool | None:
        """Place pieces from ``i`` on: True done, False impossible here, None out of tries."""
        nonlocal tries
        if i == len(order):
            return True
        tries += 1
        if tries > nodes:
            return None
        c = order[i]
        if c < first and remaining[i] > spare() + (most_new - opened_new[0]) * max(new.plain, 0):
            return False
        same_next = i + 1 < len(order) and order[i + 1] == c
        for at, b in list(places(i, since)):
            fresh = at == len(bins)
            if fresh:
                bins.append(b)
                opened_new[0] += 1
            before = b.room
            if c >= first:
                b.bell, b.room = c, kinds[b.kind].bell - weights[c]
            else:
                b.pieces.append(c)
                b.room -= weights[c]
            done = place(i + 1, at if same_next and c < first else 0)
            if done is not False:
                return done
            if c >= first:
                b.bell = -1
            else:
                b.pieces.pop()
            b.room = before
            if fresh:
                bins.pop()
                opened_new[0] -= 1
        return False

    done = place(0, 0)
    if done is None:
        return True
    return [b for b in bins if b.pieces or b.bell >= 0] if done else False
