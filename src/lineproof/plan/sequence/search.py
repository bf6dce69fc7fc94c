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
from lineproof.job.graph import Vec
from lineproof.plan.sequence.apart import Apart, take_apart
from lineproof.plan.sequence.legs import Leg, as_links
from lineproof.plan.sequence.openings import Opening, by_leg, cheapest, opened, total
from lineproof.plan.sequence.rig import STRAIGHT, How, admits, back

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
            if not ring_opens(self.legs, ring, chosen):
                row = self.widened_ring(ring, chosen)
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

    def widened_ring(self, ring: Sequence[int], chosen: Sequence[Opening]) -> frozenset[str]:
        """The openings of one loop of which one is needed."""
        have = [o for o in chosen if o.leg in set(ring)]
        spare = self.spare(ring, chosen)
        for o in sorted(spare, key=lambda o: (-o.cost, -o.order, o.id)):
            if not ring_opens(self.legs, ring, [*have, o]):
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
                path = networkx.dijkstra_path(net, b, a)
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


def ring_opens(legs: Sequence[Leg], ring: Sequence[int], chosen: Iterable[Opening]) -> bool:
    """Whether one loop alone has a last step: two of its ties that one move of what lies between them makes.

    Parameters
    ----------
    legs : sequence of Leg
    ring : sequence of int
        Legs in the order of the loop.
    chosen : iterable of Opening

    Returns
    -------
    bool
        The cone test: at most one of the two is cemented.
    """
    here = opened([legs[n] for n in ring], [_moved(o, ring.index(o.leg)) for o in chosen if o.leg in ring])
    bits: list[tuple[How, Vec]] = []
    at = here[0].b
    for k, leg in enumerate(here):
        ahead = k == 0 or leg.a == at
        at = leg.b if ahead else leg.a
        for bit in leg.bits if ahead else reversed(leg.bits):
            bits.append((bit.how, bit.way if ahead else back(bit.way)))
    return any(_one_move(x, y) for i, x in enumerate(bits) for y in bits[i + 1 :])


def _one_move(first: tuple[How, Vec], second: tuple[How, Vec]) -> bool:
    """Whether a move of what lies between two ties makes both."""
    hows = (first[0], second[0])
    if hows == (How.CEMENTED, How.CEMENTED) or How.THREADED in hows or How.RIGID in hows:
        return False
    if hows == (How.FLAT, How.FLAT):
        return True  # in the planes of both faces
    move = back(first[1]) if first[0] in STRAIGHT else second[1]
    return admits(first[0], back(first[1]), move) and admits(second[0], second[1], move)


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
    import highspy

    from lineproof.plan.nest_columns import Quiet

    names = sorted({n for row in rows for n in row} | _firsts(every, rows))
    place = {n: k for k, n in enumerate(names)}
    # a hair more for later names, so that equal sets come out the same everywhere
    scale = max(max(every[n].cost for n in names), 1.0)
    solver = Quiet()
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 1e-9)
    for k, n in enumerate(names):
        solver.addCol(every[n].cost / scale + 2e-5 * (1.0 + k) / len(names), 0.0, 1.0, 0, [], [])
        solver.changeColIntegrality(k, highspy.HighsVarType.kInteger)
    for row in rows:
        places = sorted(place[n] for n in row)
        solver.addRow(1.0, highspy.kHighsInf, len(places), places, [1.0] * len(places))
    for k, n in enumerate(names):  # a second opening of a stretch comes with the first
        if every[n].order > 1:
            pair = [place[first_of(every[n], every)], k]
            solver.addRow(0.0, highspy.kHighsInf, 2, pair, [1.0, -1.0])
    solver.run()
    solution = solver.getSolution()
    if not solution.value_valid:
        raise OurFault("no set of openings keeps every row", next="send us the job folder")
    picked = tuple(every[n] for n, x in zip(names, list(solution.col_value), strict=True) if x > 0.5)
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
