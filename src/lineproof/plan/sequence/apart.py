"""Takes bodies apart in thought: a line that comes apart step by step goes together in the reverse order.

A step that takes a body off some bodies also takes it off any fewer of them, so nothing is lost by taking the
first that comes: what stays stuck is stuck whatever was tried first. The cemented rule is one joint a step,
or joints side by side where that is allowed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from lineproof.job.graph import Vec
from lineproof.plan.sequence.rig import ALONG, GROUND, STRAIGHT, How, along, back

LARGE = 60
"""In a group of more links than this the first step back is taken, in a smaller one the lightest. [-]"""


@dataclass(frozen=True, slots=True)
class Link:
    """A tie as far as coming apart goes: how it is made, its two bodies, the way of ``a`` to ``b``."""

    how: How
    a: str
    b: str
    way: Vec


@dataclass(frozen=True, slots=True)
class Cut:
    """One step back: the bodies that move, the way they came, and the links made by it."""

    move: Vec
    moved: frozenset[str]
    links: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Apart:
    """How far it came apart.

    Parameters
    ----------
    cuts : tuple of Cut
        In the order of taking apart; the last of them is made first.
    stuck : tuple of tuple of int
        Groups of links that hold each other; empty if all loops came apart.
    """

    cuts: tuple[Cut, ...]
    stuck: tuple[tuple[int, ...], ...]


def directions(links: Iterable[Link]) -> tuple[Vec, ...]:
    """The straight moves worth trying: along every axis, and in the planes of flat faces.

    Parameters
    ----------
    links : iterable of Link

    Returns
    -------
    tuple of tuple of float
        Unit vectors, sorted, so that the same line gives the same order.
    """
    axes: dict[Vec, Vec] = {}
    flats: dict[Vec, Vec] = {}

    def keep(v: Vec, into: dict[Vec, Vec]) -> None:
        size = (v[0] ** 2 + v[1] ** 2 + v[2] ** 2) ** 0.5
        if size > ALONG:
            one = (v[0] / size, v[1] / size, v[2] / size)
            key = (round(one[0], 3) + 0.0, round(one[1], 3) + 0.0, round(one[2], 3) + 0.0)
            into.setdefault(key, one)

    for link in links:
        if link.how in STRAIGHT or link.how is How.FLAT:
            keep(link.way, axes)
            keep(back(link.way), axes)
        if link.how is How.FLAT:
            first = link.way if max(link.way) > -min(link.way) else back(link.way)
            keep(first, flats)
    normals = [flats[k] for k in sorted(flats)]
    for n in normals:
        spare = min(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), key=lambda e: abs(along(e, n)))
        side = _cross(n, spare)
        for v in (side, _cross(n, side)):
            keep(v, axes)
            keep(back(v), axes)
    for n, m in combinations(normals, 2):
        both = _cross(n, m)
        keep(both, axes)
        keep(back(both), axes)
    return tuple(axes[k] for k in sorted(axes))


def _cross(u: Vec, v: Vec) -> Vec:
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def take_apart(
    links: Sequence[Link],
    *,
    side_by_side: frozenset[frozenset[int]] = frozenset(),
    weight: Mapping[str, float] | None = None,
) -> Apart:
    """Take loops apart until none is left or none comes apart.

    Parameters
    ----------
    links : sequence of Link
    side_by_side : frozenset of frozenset of int
        Pairs of cemented links that may be made at once.
    weight : mapping, optional
        Of bodies; the lightest part moves. [kg]

    Returns
    -------
    Apart
        A bridge needs no cut here: whatever hangs on one tie only is brought to it.
    """
    cuts: list[Cut] = []
    stuck: list[tuple[int, ...]] = []
    todo = loops_in(links, range(len(links)))
    while todo:
        group = todo.pop()
        cut = _best_cut(links, group, side_by_side, weight or {})
        if cut is None:
            stuck.append(tuple(group))
            continue
        cuts.append(cut)
        gone = set(cut.links)
        todo += loops_in(links, [n for n in group if n not in gone])
    return Apart(tuple(cuts), tuple(sorted(stuck)))


def loops_in(links: Sequence[Link], chosen: Iterable[int]) -> list[list[int]]:
    """Groups of links that lie on loops together; links that lie on none are left out.

    Parameters
    ----------
    links : sequence of Link
    chosen : iterable of int

    Returns
    -------
    list of list of int
        Blocks of the graph, each sorted, the one with the first link last.
    """
    import networkx

    net: networkx.Graph[Any] = networkx.Graph()
    found: list[list[int]] = []
    for n in chosen:
        if links[n].a == links[n].b:
            found.append([n])  # a stretch that begins and ends at one body is a loop by itself
        else:
            net.add_edge(links[n].a, n)
            net.add_edge(n, links[n].b)
    block: Any
    for block in networkx.biconnected_components(net):
        inside = sorted(n for n in block if isinstance(n, int))
        if len(inside) > 1 and len(block) > 3:
            found.append(inside)
    return sorted(found, reverse=True)


def _best_cut(
    links: Sequence[Link],
    group: Sequence[int],
    side_by_side: frozenset[frozenset[int]],
    weight: Mapping[str, float],
) -> Cut | None:
    best: tuple[float, int, tuple[int, ...], Cut] | None = None
    large = len(group) > LARGE
    for move in directions(links[n] for n in group):
        for cut in _cuts_along(links, group, move, side_by_side):
            if large:
                return cut  # any step back is as good as another for what follows
            mass = sum(weight.get(b, 0.0) for b in cut.moved)
            key = (mass, len(cut.moved), cut.links)
            if best is None or key < best[:3]:
                best = (*key, cut)
    return None if best is None else best[3]


def _cuts_along(
    links: Sequence[Link], group: Sequence[int], move: Vec, side_by_side: frozenset[frozenset[int]]
) -> Iterator[Cut]:
    """Every least set of bodies that comes with one move."""
    rigid: list[int] = []
    sockets: list[int] = []  # cemented joints that this move would make
    must: list[tuple[str, str]] = []  # who moves takes whom along
    for n in group:
        link = links[n]
        agree = along(link.way, move)
        if link.how is How.FLAT:
            if agree > ALONG:
                must.append((link.b, link.a))
            elif agree < -ALONG:
                must.append((link.a, link.b))
        elif link.how in STRAIGHT and abs(agree) > 1.0 - ALONG:
            if link.how is How.CEMENTED:
                sockets.append(n)
                rigid.append(n)
            else:
                must.append((link.b, link.a) if agree > 0 else (link.a, link.b))
        else:
            rigid.append(n)
    bodies = sorted({b for n in group for b in (links[n].a, links[n].b)})
    for gone, seeds in _seeds(links, bodies, rigid, sockets, move, side_by_side):
        root = _joined(links, [n for n in rigid if n not in gone], bodies)
        arcs: dict[str, list[str]] = {}
        for mover, taken in must:
            arcs.setdefault(root[mover], []).append(root[taken])
        for seed in seeds:
            reached = {root[seed]}
            stack = [root[seed]]
            while stack:
                for nxt in arcs.get(stack.pop(), ()):
                    if nxt not in reached:
                        reached.add(nxt)
                        stack.append(nxt)
            moved = frozenset(b for b in bodies if root[b] in reached)
            if GROUND in moved or len(moved) == len(bodies):
                continue
            if any((links[n].a in moved) == (links[n].b in moved) for n in gone):
                continue
            crossing = tuple(n for n in group if (links[n].a in moved) != (links[n].b in moved))
            yield Cut(move, moved, crossing)


def _seeds(
    links: Sequence[Link],
    bodies: Sequence[str],
    rigid: Sequence[int],
    sockets: Sequence[int],
    move: Vec,
    side_by_side: frozenset[frozenset[int]],
) -> list[tuple[frozenset[int], list[str]]]:
    """Which cemented joints a step makes, and the body that surely moves with it."""
    root = _joined(links, rigid, bodies)
    found: list[tuple[frozenset[int], list[str]]] = [(frozenset(), sorted(set(root.values())))]

    def mover(n: int) -> str:
        return links[n].a if along(links[n].way, move) > 0 else links[n].b

    bridges = _bridges(links, rigid)
    found += [(frozenset((n,)), [mover(n)]) for n in sockets if n in bridges]
    for pair in side_by_side:
        if pair <= set(sockets):
            found.append((pair, [mover(min(pair))]))
    return found


def _joined(links: Sequence[Link], rigid: Iterable[int], bodies: Iterable[str]) -> dict[str, str]:
    parent = {b: b for b in bodies}

    def root(b: str) -> str:
        while parent[b] != b:
            parent[b] = parent[parent[b]]
            b = parent[b]
        return b

    for n in rigid:
        u, v = root(links[n].a), root(links[n].b)
        if u != v:
            parent[max(u, v)] = min(u, v)
    return {b: root(b) for b in parent}


def _bridges(links: Sequence[Link], chosen: Iterable[int]) -> set[int]:
    """Links whose taking away parts what they tie."""
    at: dict[str, list[tuple[str, int]]] = {}
    for n in chosen:
        at.setdefault(links[n].a, []).append((links[n].b, n))
        at.setdefault(links[n].b, []).append((links[n].a, n))
    seen: dict[str, int] = {}
    low: dict[str, int] = {}
    found: set[int] = set()
    for start in at:
        if start in seen:
            continue
        seen[start] = low[start] = len(seen)
        stack = [(start, -1, iter(at[start]))]
        while stack:
            here, via, rest = stack[-1]
            for there, n in rest:
                if n == via:
                    continue
                if there in seen:
                    low[here] = min(low[here], seen[there])
                else:
                    seen[there] = low[there] = len(seen)
                    stack.append((there, n, iter(at[there])))
                    break
            else:
                stack.pop()
                if stack:
                    up = stack[-1][0]
                    low[up] = min(low[up], low[here])
                    if low[here] > seen[up]:
                        found.add(via)
    return found
