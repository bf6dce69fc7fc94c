"""Loops of a line: what hangs on one tie only is pruned, the rest told as legs between branching bodies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lineproof.job.graph import Vec
from lineproof.plan.sequence.apart import Link
from lineproof.plan.sequence.rig import ALONG, GROUND, How, Rig, along, back


@dataclass(frozen=True, slots=True)
class Bit:
    """What comes after one another on a leg: a straight stretch of cemented joints, or one other tie.

    Parameters
    ----------
    how : How
    way : tuple of float
        The move of the body before it towards the body behind it.
    ties : tuple of int
        Indices in the rig, in the leg's order.
    bodies : tuple of str
        Bodies between those ties: in a stretch, pieces and couplings that lie in one line.
    """

    how: How
    way: Vec
    ties: tuple[int, ...]
    bodies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of the line between two bodies where it branches, or that stand.

    Parameters
    ----------
    a, b : str
        The bodies at its ends; one and the same where it comes back.
    bits : tuple of Bit
    bodies : tuple of str
        Everything between the ends, in order.
    """

    a: str
    b: str
    bits: tuple[Bit, ...]
    bodies: tuple[str, ...]


def cyclomatic(rig: Rig, hows: Iterable[How] = (How.CEMENTED, How.RIGID, How.THREADED)) -> int:
    """How many loops of ties have no opening in them: so many openings are needed at least.

    Parameters
    ----------
    rig : Rig
    hows : iterable of How
        Ties that hold: cemented ones, and threads, which cannot be turned inside a loop.

    Returns
    -------
    int
        Ties less bodies plus groups.
    """
    kinds = set(hows)
    parent: dict[str, str] = {}

    def root(b: str) -> str:
        parent.setdefault(b, b)
        while parent[b] != b:
            parent[b] = parent[parent[b]]
            b = parent[b]
        return b

    extra = 0
    for tie in rig.ties:
        if tie.how in kinds:
            u, v = root(tie.a), root(tie.b)
            if u == v:
                extra += 1
            else:
                parent[u] = v
    return extra


def core_ties(rig: Rig) -> set[int]:
    """Ties left once everything that hangs on one tie only is pruned: those on loops and between them.

    Parameters
    ----------
    rig : Rig

    Returns
    -------
    set of int
    """
    degree = {b: len(at) for b, at in rig.at.items()}
    left = set(range(len(rig.ties)))
    loose = [b for b, d in degree.items() if d == 1 and b != GROUND]
    while loose:
        body = loose.pop()
        for n in rig.at[body]:
            if n in left:
                left.discard(n)
                other = rig.ties[n].other(body)
                degree[other] -= 1
                degree[body] -= 1
                if degree[other] == 1 and other != GROUND:
                    loose.append(other)
    return left


def legs_of(rig: Rig) -> tuple[Leg, ...]:
    """The loops of a rig as legs.

    Parameters
    ----------
    rig : Rig

    Returns
    -------
    tuple of Leg
        In the order of their first ties.
    """
    left = core_ties(rig)
    at: dict[str, list[int]] = {}
    for n in sorted(left):
        at.setdefault(rig.ties[n].a, []).append(n)
        at.setdefault(rig.ties[n].b, []).append(n)
    nodes = {b for b, here in at.items() if len(here) != 2 or b == GROUND}
    used: set[int] = set()
    legs = []

    def trace(start: str, first: int) -> None:
        chain, bodies, here, n = [], [], start, first
        while True:
            used.add(n)
            chain.append(n)
            here = rig.ties[n].other(here) if rig.ties[n].a != rig.ties[n].b else here
            if here in nodes or here == start:
                break
            bodies.append(here)
            n = next(m for m in at[here] if m != n)
        legs.append(Leg(start, here, _bits(rig, start, chain), tuple(bodies)))

    for body in sorted(nodes):
        for n in at[body]:
            if n not in used:
                trace(body, n)
    for n in sorted(left - used):  # rings with nothing branching from them
        if n not in used:
            trace(min(rig.ties[n].a, rig.ties[n].b), n)
    return tuple(sorted(legs, key=lambda leg: leg.bits[0].ties[0]))


def _bits(rig: Rig, start: str, chain: list[int]) -> tuple[Bit, ...]:
    bits: list[Bit] = []
    here = start
    for n in chain:
        tie = rig.ties[n]
        way = tie.way if tie.a == here else back(tie.way)
        last = bits[-1] if bits else None
        if (
            last is not None
            and tie.how is How.CEMENTED
            and last.how is How.CEMENTED
            and along(last.way, way) > 1.0 - ALONG
        ):
            bits[-1] = Bit(How.CEMENTED, last.way, (*last.ties, n), (*last.bodies, here))
        else:
            bits.append(Bit(tie.how, way, (n,)))
        here = tie.other(here)
    return tuple(bits)


def as_links(legs: Iterable[Leg]) -> tuple[tuple[Link, ...], tuple[tuple[int, int], ...]]:
    """Legs as links, one a bit, and where each link comes from.

    Parameters
    ----------
    legs : iterable of Leg

    Returns
    -------
    tuple
        Links; for each the number of its leg and of its bit. Bodies between bits are named by both numbers.
    """
    links: list[Link] = []
    source: list[tuple[int, int]] = []
    for n, leg in enumerate(legs):
        for m, bit in enumerate(leg.bits):
            before = leg.a if m == 0 else f"{n}:{m}"
            behind = leg.b if m == len(leg.bits) - 1 else f"{n}:{m + 1}"
            links.append(Link(bit.how, before, behind, bit.way))
            source.append((n, m))
    return tuple(links), tuple(source)
