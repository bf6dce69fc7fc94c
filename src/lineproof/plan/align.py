"""Matches one sequence with another: what stayed, and where that can be told in more than one way.

Entries that are alone of their kind in both sequences are anchors; between anchors the longest common
sequence is taken. For sequences that are mostly equal the work grows with their length.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

Pairs = list[tuple[int, int]]

MOST_CELLS = 250_000
"""Largest table of a longest common sequence; beyond it a stretch counts as not matched."""


@dataclass(frozen=True, slots=True)
class Alignment:
    """Which entries stayed.

    Parameters
    ----------
    pairs : dict
        Old index to new index; rising but for entries alone of their kind that were moved.
    unclear : dict
        Old index to the new indices it could be (-1: gone), where more than one is as good.
    """

    pairs: dict[int, int]
    unclear: dict[int, tuple[int, ...]]


def align(old: Sequence[str], new: Sequence[str], fixed: Sequence[tuple[int, int]] = ()) -> Alignment:
    """Match two sequences.

    Parameters
    ----------
    old, new : sequence of str
        What is compared.
    fixed : sequence of (int, int)
        Pairs that are known; rising in both.

    Returns
    -------
    Alignment
        Matching from the front and from the back must agree, else the entry is unclear.
    """
    if list(old) == list(new) and not fixed:
        return Alignment({i: i for i in range(len(old))}, {})
    front: Pairs = []
    back: Pairs = []
    a = b = 0
    for i, j in (*fixed, (len(old), len(new))):
        front += [(a + x, b + y) for x, y in _match(old[a:i], new[b:j])]
        n, m = i - a, j - b
        turned = _match(old[a:i][::-1], new[b:j][::-1])
        back += [(a + n - 1 - x, b + m - 1 - y) for x, y in reversed(turned)]
        if i < len(old) and j < len(new):
            front.append((i, j))
            back.append((i, j))
        a, b = i + 1, j + 1
    first, last = dict(front), dict(back)
    unclear = {
        i: tuple(sorted({first.get(i, -1), last.get(i, -1)}))
        for i in sorted({*first, *last})
        if first.get(i) != last.get(i)
    }
    claims = Counter(j for options in unclear.values() for j in options if j >= 0)
    moved = {}
    for i, options in unclear.items():
        real = [j for j in options if j >= 0]
        if len(real) == 1 and claims[real[0]] == 1:
            moved[i] = real[0]  # nothing else can be it: it was moved
    unclear = {i: options for i, options in unclear.items() if i not in moved}
    taken = {j for options in unclear.values() for j in options} | set(moved.values())
    pairs = {i: j for i, j in first.items() if i not in unclear and i not in moved and j not in taken}
    return Alignment({**pairs, **moved}, unclear)


def gaps(pairs: dict[int, int], old_length: int, new_length: int) -> list[tuple[range, range]]:
    """The stretches between matched neighbours, old and new.

    Parameters
    ----------
    pairs : dict
        Old index to new index.
    old_length, new_length : int
        Lengths of the two sequences. [-]

    Returns
    -------
    list of (range, range)
        Those where something is left on both sides.
    """
    found = []
    a = b = 0
    for i, j in (*_rising(sorted(pairs.items())), (old_length, new_length)):
        if i > a and j > b:
            found.append((range(a, i), range(b, j)))
        a, b = i + 1, j + 1
    return found


def _match(old: Sequence[str], new: Sequence[str]) -> Pairs:
    """Pairs of one stretch, earliest first; without recursion, so that any length will do."""
    found: Pairs = []
    todo = [(0, len(old), 0, len(new))]
    while todo:
        a, i, b, j = todo.pop()
        while a < i and b < j and old[a] == new[b]:
            found.append((a, b))
            a, b = a + 1, b + 1
        while a < i and b < j and old[i - 1] == new[j - 1]:
            i, j = i - 1, j - 1
            found.append((i, j))
        if a == i or b == j:
            continue
        anchors = _anchors(old, new, a, i, b, j)
        if anchors:
            for x, y in (*anchors, (i, j)):
                todo.append((a, x, b, y))
                a, b = x + 1, y + 1
            found += anchors
        elif (i - a) * (j - b) <= MOST_CELLS:
            found += [(a + x, b + y) for x, y in _longest(old[a:i], new[b:j])]
    return sorted(found)


def _anchors(old: Sequence[str], new: Sequence[str], a: int, i: int, b: int, j: int) -> Pairs:
    """Entries that are alone of their kind in both stretches, as the longest rising chain."""
    one_old = Counter(old[a:i])
    one_new = Counter(new[b:j])
    where = {text: y for y, text in enumerate(new[b:j], b) if one_new[text] == 1}
    pairs = [(x, where[text]) for x, text in enumerate(old[a:i], a) if one_old[text] == 1 and text in where]
    return _rising(pairs)


def _rising(pairs: Pairs) -> Pairs:
    """The longest chain of pairs that rises on both sides; the pairs rise on the old side."""
    tails: list[int] = []
    ends: list[int] = []
    before: list[int] = []
    for n, (_, y) in enumerate(pairs):
        spot = bisect_left(tails, y)
        before.append(ends[spot - 1] if spot else -1)
        if spot == len(tails):
            tails.append(y)
            ends.append(n)
        else:
            tails[spot], ends[spot] = y, n
    chain: Pairs = []
    at = ends[-1] if ends else -1
    while at >= 0:
        chain.append(pairs[at])
        at = before[at]
    return chain[::-1]


def _longest(old: Sequence[str], new: Sequence[str]) -> Pairs:
    """The longest common sequence of two short stretches, taken as early as may be."""
    n, m = len(old), len(new)
    best = [[0] * (m + 1) for _ in range(n + 1)]
    for x in range(n - 1, -1, -1):
        row, below = best[x], best[x + 1]
        for y in range(m - 1, -1, -1):
            row[y] = below[y + 1] + 1 if old[x] == new[y] else max(below[y], row[y + 1])
    pairs: Pairs = []
    x = y = 0
    while x < n and y < m:
        if old[x] == new[y] and best[x][y] == best[x + 1][y + 1] + 1:
            pairs.append((x, y))
            x, y = x + 1, y + 1
        elif best[x][y] == best[x + 1][y]:
            x += 1
        else:
            y += 1
    return pairs
