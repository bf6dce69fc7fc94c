"""Puts a line together step by step: what comes apart last is made first, and every step has its room."""

from __future__ import annotations

from collections.abc import Sequence

from lineproof.job.graph import Vec
from lineproof.plan.sequence.apart import take_apart
from lineproof.plan.sequence.legs import Leg, as_links, legs_of
from lineproof.plan.sequence.rig import GROUND, How, Rig
from lineproof.plan.sequence.spools import Carry, spools_of
from lineproof.plan.sequence.steps import Blocked, Built, Step
from lineproof.plan.sequence.undo import Undo

__all__ = ["Blocked", "Built", "Step", "build"]


def build(
    rig: Rig,
    carry: Carry | None = None,
    *,
    side_by_side: frozenset[frozenset[int]] = frozenset(),
    legs: Sequence[Leg] | None = None,
) -> Built:
    """Find an order of steps.

    Parameters
    ----------
    rig : Rig
    carry : Carry, optional
        What can be carried as one.
    side_by_side : frozenset of frozenset of int
        Pairs of ties, as indices in the rig, that may be cemented at once.
    legs : sequence of Leg, optional
        Those of the rig, where they are known already.

    Returns
    -------
    Built
    """
    legs = legs_of(rig) if legs is None else legs
    links, source = as_links(legs)
    of_tie = {t: k for k, (n, m) in enumerate(source) for t in legs[n].bits[m].ties}
    pairs = frozenset(frozenset(of_tie[t] for t in pair) for pair in side_by_side if pair <= set(of_tie))
    weight = _weights(rig, legs)
    apart = take_apart(links, side_by_side=pairs, weight=weight)
    if apart.stuck:
        stuck = tuple(
            tuple(sorted(t for k in group for t in legs[source[k][0]].bits[source[k][1]].ties))
            for group in apart.stuck
        )
        return Built((), stuck=stuck)
    closings: list[tuple[tuple[int, ...], Vec]] = []
    for cut in apart.cuts:
        ties = []
        for k in cut.links:
            n, m = source[k]
            bit = legs[n].bits[m]
            ties.append(bit.ties[0] if links[k].a in cut.moved else bit.ties[-1])
        closings.append((tuple(sorted(ties)), cut.move))
    last = {t for ties, _ in closings for t in ties}
    rigid = {n for n, t in enumerate(rig.ties) if t.how is How.RIGID}
    spools = spools_of(rig, last | rigid, carry or Carry())
    done = Undo(rig, spools, closings).run()
    if done.blocked and any(len(s) > 1 for s in spools):
        done = Undo(rig, tuple((b,) for b in rig.blocks if b != GROUND), closings).run()
    return done


def _weights(rig: Rig, legs: Sequence[Leg]) -> dict[str, float]:
    """Mass of what lies between two bits of a leg, by the name the links give it. [kg]"""
    found: dict[str, float] = {b: rig.blocks[b].mass or 1.0 for leg in legs for b in (leg.a, leg.b)}
    for n, leg in enumerate(legs):
        here = leg.a
        for m, bit in enumerate(leg.bits):
            for t in bit.ties:
                here = rig.ties[t].other(here)
            found[f"{n}:{m + 1}"] = sum(rig.blocks[b].mass or 1.0 for b in bit.bodies) + (
                rig.blocks[here].mass or 1.0
            )
    return found
