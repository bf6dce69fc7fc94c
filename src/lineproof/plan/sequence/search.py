"""Finds the openings that let every loop come apart, and the least that proves they are needed.

A set of openings that is not enough stays too little when any of them is taken out, so every failure says
that one of the openings left out is needed: such rows are collected, and the cheapest set that keeps all
rows is tried next. The first set that comes apart is then the cheapest there is; the rows are the proof.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from lineproof.floor.errors import OurFault
from lineproof.plan.sequence.apart import Apart, take_apart
from lineproof.plan.sequence.legs import Leg, as_links
from lineproof.plan.sequence.openings import Opening, by_leg, cheapest, opened, total

ROUNDS = 400
"""Most sets tried one after another; a bound of the work that does not hang on the machine. [-]"""
SMALL = 60
"""A stuck group of no more links than this is widened leg by leg before its row is kept. [-]"""


@dataclass(frozen=True, slots=True)
class Found:
    """What the search found.

    Parameters
    ----------
    chosen : tuple of Opening
        The cheapest openings found that let every loop come apart; those tried last where there are none.
    works : bool
        With them every loop comes apart.
    proven : bool
        No cheaper set does, or none at all where ``works`` is False.
    least : float
        No set that works costs less. [s]
    blocking : tuple of tuple of int
        Loops, as legs, that stay closed whatever is put into them.
    tried : int
        Sets tried. [-]
    out_of : str
        ``"time"`` or ``"rounds"`` where the search was ended early; empty else.
    """

    chosen: tuple[Opening, ...]
    works: bool
    proven: bool
    least: float
    blocking: tuple[tuple[int, ...], ...] = ()
    tried: int = 0
    out_of: str = ""


def stuck_loops(legs: Sequence[Leg], chosen: Iterable[Opening]) -> tuple[Apart, list[list[int]]]:
    """Take the legs apart with some openings: how far it went, and the stuck groups as legs."""
    links, source = as_links(opened(legs, tuple(chosen)))
    apart = take_apart(links)
    return apart, [sorted({source[n][0] for n in group}) for group in apart.stuck]


def search(
    legs: Sequence[Leg],
    options: Iterable[Opening],
    *,
    seconds: float = 60.0,
    rows: Iterable[frozenset[str]] = (),
) -> Found:
    """Find the cheapest openings that let every loop come apart.

    Parameters
    ----------
    legs : sequence of Leg
    options : iterable of Opening
    seconds : float
        Guard on the search. [s]
    rows : iterable of frozenset of str
        Names of openings of which one is needed, learnt elsewhere.

    Returns
    -------
    Found
        The same on any machine unless ``out_of`` is ``"time"``.
    """
    until = time.monotonic() + seconds
    every = {o.id: o for o in options}
    hunt = _Hunt(legs, every)
    hunt.rows += list(rows)
    best: tuple[Opening, ...] | None = None
    least, tried, out_of = 0.0, 0, ""
    chosen: tuple[Opening, ...] = ()
    while True:
        if tried >= ROUNDS or time.monotonic() > until:
            out_of = "rounds" if tried >= ROUNDS else "time"
            break
        if tried or hunt.rows:
            chosen, least = cheapest_of(every, hunt.rows)
        tried += 1
        _, stuck = stuck_loops(legs, chosen)
        if not stuck:
            return Found(chosen, True, True, total(chosen), (), tried)
        closed = [group for group in stuck if not hunt.learn(group, chosen)]
        if closed:
            return Found(chosen, False, True, least, tuple(tuple(g) for g in closed), tried)
    best = hunt.enough(chosen)
    _, stuck = stuck_loops(legs, best)
    return Found(best, not stuck, False, least, tuple(tuple(g) for g in stuck), tried, out_of)


class _Hunt:
    """Collects rows: openings of which at least one is needed."""

    def __init__(self, legs: Sequence[Leg], every: Mapping[str, Opening]) -> None:
        self.legs = legs
        self.every = every
        self.at = by_leg(every.values())
        self.rows: list[frozenset[str]] = []

    def spare(self, group: Iterable[int], chosen: Iterable[Opening]) -> list[Opening]:
        """Openings of some legs that were not chosen yet."""
        have = {o.id for o in chosen}
        return [o for n in group for o in self.at.get(n, ()) if o.id not in have]

    def learn(self, group: list[int], chosen: Sequence[Opening]) -> bool:
        """Add what a stuck group teaches; False where nothing can be put in any more."""
        learnt: set[frozenset[str]] = set()
        for ring in self.rings(group, chosen):
            if self.is_stuck(ring, chosen):
                row = self.widened(ring, chosen)
                if not row:
                    return False
                learnt.add(row)
        if not learnt:
            row = frozenset(o.id for o in self.spare(group, chosen))
            if len(group) <= SMALL:
                row = self.widened(group, chosen)
            if not row:
                return False
            learnt.add(row)
        self.rows += sorted(learnt - set(self.rows), key=sorted)
        return True

    def is_stuck(self, group: Iterable[int], chosen: Iterable[Opening]) -> bool:
        """Whether some legs alone hold each other."""
        here = sorted(group)
        place = {n: k for k, n in enumerate(here)}
        mine = [_moved(o, place[o.leg]) for o in chosen if o.leg in place]
        return bool(stuck_loops([self.legs[n] for n in here], mine)[1])

    def widened(self, group: Sequence[int], chosen: Sequence[Opening]) -> frozenset[str]:
        """The openings of a group of which one is needed: those of a leg that helps nothing are left out."""
        have = [o for o in chosen if o.leg in set(group)]
        spare = self.spare(group, chosen)
        for o in sorted(spare, key=lambda o: (-o.cost, -o.order, o.id)):
            if self.is_stuck(group, [*have, o]):
                have.append(o)
        kept = {o.id for o in have}
        return frozenset(o.id for o in spare if o.id not in kept)

    def rings(self, group: Sequence[int], chosen: Sequence[Opening]) -> list[list[int]]:
        """The shortest loop through each leg of a group, legs without an opening first."""
        import networkx

        net: networkx.MultiGraph[Any] = networkx.MultiGraph()
        weight = dict.fromkeys(group, 1.0)
        for o in chosen:
            if o.leg in weight:
                weight[o.leg] += 10.0
        for n in group:
            net.add_edge(self.legs[n].a, self.legs[n].b, key=n, weight=weight[n])
        found: dict[tuple[int, ...], list[int]] = {}
        for n in group:
            a, b = self.legs[n].a, self.legs[n].b
            if a == b:
                found.setdefault((n,), [n])
                continue
            net.remove_edge(a, b, key=n)
            if networkx.has_path(net, a, b):
                path = networkx.dijkstra_path(net, a, b)
                ring = [n]
                for u, v in pairwise(path):
                    ring.append(min((int(k) for k in net[u][v]), key=lambda k: (weight[k], k)))
                found.setdefault(tuple(sorted(ring)), ring)
            net.add_edge(a, b, key=n, weight=weight[n])
        return [found[k] for k in sorted(found)]

    def enough(self, chosen: Sequence[Opening]) -> tuple[Opening, ...]:
        """Openings added one by one, the cheapest first, until it comes apart or nothing is left."""
        have = list(chosen)
        while True:
            _, stuck = stuck_loops(self.legs, have)
            more = []
            for group in stuck:
                spare = self.spare(group, have)
                if spare:
                    more.append(cheapest(self.every, (o.id for o in spare)))
            if not more:
                return tuple(sorted(have, key=lambda o: o.id))
            have += {o.id: o for o in more}.values()


def _moved(o: Opening, leg: int) -> Opening:
    return Opening(o.id, leg, o.bit, o.kind, o.at, o.order, o.cost, o.joints, o.sure)


def cheapest_of(
    every: Mapping[str, Opening], rows: Sequence[frozenset[str]]
) -> tuple[tuple[Opening, ...], float]:
    """The cheapest openings that keep every row.

    Parameters
    ----------
    every : mapping
        Openings by name.
    rows : sequence of frozenset of str
        Of each at least one is needed.

    Returns
    -------
    tuple
        Openings by name, and their cost. [s]
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    names = sorted({n for row in rows for n in row} | _firsts(every, rows))
    place = {n: k for k, n in enumerate(names)}
    matrix, low = [], []
    for row in rows:
        line = np.zeros(len(names))
        line[[place[n] for n in row]] = 1.0
        matrix.append(line)
        low.append(1.0)
    for n in names:  # a second opening of a stretch comes with the first
        o = every[n]
        if o.order > 1:
            line = np.zeros(len(names))
            line[place[n]] = -1.0
            line[place[first_of(o, every)]] = 1.0
            matrix.append(line)
            low.append(0.0)
    # a hair more for later names, so that equal sets come out the same everywhere
    cost = np.array([every[n].cost for n in names])
    scale = max(float(cost.max()), 1.0)
    hair = 1e-6 * scale * (1.0 + np.arange(len(names))) / len(names)
    answer = milp(
        (cost + hair) / scale,
        constraints=LinearConstraint(np.array(matrix), np.array(low), np.inf),
        integrality=np.ones(len(names), dtype=np.int64),
        bounds=Bounds(0.0, 1.0),
        options={"mip_rel_gap": 0.0},
    )
    if answer.x is None:
        raise OurFault("no set of openings keeps every row", next="send us the job folder")
    picked = tuple(every[n] for n, x in zip(names, answer.x, strict=True) if x > 0.5)
    return picked, total(picked)


def first_of(second: Opening, every: Mapping[str, Opening]) -> str:
    """The first opening of the same stretch."""
    return next(
        n
        for n in sorted(every)
        if (every[n].leg, every[n].bit, every[n].order) == (second.leg, second.bit, 1)
    )


def _firsts(every: Mapping[str, Opening], rows: Iterable[frozenset[str]]) -> set[str]:
    return {first_of(every[n], every) for row in rows for n in row if every[n].order > 1}
