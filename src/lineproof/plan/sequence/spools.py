"""Spools: what is joined on the bench and carried as one, so that the fewest joints are made in place."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from lineproof.plan.sequence.rig import GROUND, Box, How, Rig

BENCH = (How.CEMENTED, How.THREADED)
"""Ties that are made on the bench; faces are bolted up in place."""


@dataclass(frozen=True, slots=True)
class Carry:
    """What can be carried as one; None where nobody said.

    Parameters
    ----------
    length, width, height : float or None
        Of the truck, the door or the hatch, largest side first. [m]
    mass : float or None
        What people and tackle lift. [kg]
    """

    length: float | None = None
    width: float | None = None
    height: float | None = None
    mass: float | None = None

    @property
    def said(self) -> bool:
        """Somebody said at least how long or how heavy."""
        return self.length is not None or self.mass is not None


@dataclass(slots=True)
class _Bulk:
    """What a bundle of bodies takes up: its corners and its mass."""

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    mass: float

    def with_(self, other: _Bulk) -> _Bulk:
        return _Bulk(
            tuple(min(a, b) for a, b in zip(self.low, other.low, strict=True)),  # type: ignore[arg-type]
            tuple(max(a, b) for a, b in zip(self.high, other.high, strict=True)),  # type: ignore[arg-type]
            self.mass + other.mass,
        )

    @property
    def sides(self) -> tuple[float, float, float]:
        """Longest side first. [m]"""
        a, b, c = sorted((h - x for h, x in zip(self.high, self.low, strict=True)), reverse=True)
        return a, b, c

    def fits(self, carry: Carry) -> bool:
        room = (carry.length, carry.width, carry.height)
        return all(r is None or s <= r + 1e-9 for s, r in zip(self.sides, room, strict=True)) and (
            carry.mass is None or self.mass <= carry.mass + 1e-9
        )


def bulk_of(rig: Rig, bodies: Collection[str]) -> tuple[tuple[float, float, float], float]:
    """Sides, longest first, and mass of some bodies as they lie. [m, kg]

    Parameters
    ----------
    rig : Rig
    bodies : collection of str

    Returns
    -------
    tuple
        A body nobody weighed counts nothing.
    """
    whole: _Bulk | None = None
    for name in bodies:
        one = _bulk(rig.blocks[name].boxes, rig.blocks[name].mass)
        whole = one if whole is None else whole.with_(one)
    return ((0.0, 0.0, 0.0), 0.0) if whole is None else (whole.sides, whole.mass)


def _bulk(boxes: Collection[Box], mass: float | None) -> _Bulk:
    points = [(p, b.half, q) for b in boxes for p, q in ((b.start, b.end), (b.end, b.start))]
    if not points:
        return _Bulk((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), mass or 0.0)
    low, high = [1e9] * 3, [-1e9] * 3
    for p, half, q in points:
        size = sum((a - b) ** 2 for a, b in zip(p, q, strict=True)) ** 0.5 or 1.0
        for i in range(3):
            across = half * (1.0 - ((p[i] - q[i]) / size) ** 2) ** 0.5 if abs(p[i] - q[i]) < size else 0.0
            low[i], high[i] = min(low[i], p[i] - across), max(high[i], p[i] + across)
    return _Bulk((low[0], low[1], low[2]), (high[0], high[1], high[2]), mass or 0.0)


def fits(rig: Rig, bodies: Collection[str], carry: Carry) -> bool:
    """Whether some bodies can be carried as one.

    Parameters
    ----------
    rig : Rig
    bodies : collection of str
    carry : Carry

    Returns
    -------
    bool
        As they lie in the line: a spool is not tipped to get it through a door.
    """
    (a, b, c), mass = bulk_of(rig, bodies)
    room = (carry.length, carry.width, carry.height)
    inside = all(r is None or s <= r + 1e-9 for s, r in zip((a, b, c), room, strict=True))
    return inside and (carry.mass is None or mass <= carry.mass + 1e-9)


def spools_of(rig: Rig, in_place: Collection[int], carry: Carry) -> tuple[tuple[str, ...], ...]:
    """Bundle bodies into spools, from the ends of the trees inwards.

    Parameters
    ----------
    rig : Rig
    in_place : collection of int
        Ties that are made in place whatever happens, such as those that close a loop.
    carry : Carry
        Where nobody said anything, every body is its own spool.

    Returns
    -------
    tuple of tuple of str
        Every body but the ground, once; spools in the order of their first ties.
    """
    keep = set(in_place)
    order = {b: n for n, b in enumerate(rig.blocks)}
    inside = {
        n for n, t in enumerate(rig.ties) if t.how in BENCH and n not in keep and GROUND not in (t.a, t.b)
    }
    at: dict[str, list[int]] = {}
    for n in sorted(inside):
        at.setdefault(rig.ties[n].a, []).append(n)
        at.setdefault(rig.ties[n].b, []).append(n)
    seen: set[str] = set()
    found: list[tuple[str, ...]] = []
    for start in rig.blocks:
        if start in seen or start == GROUND:
            continue
        walk, parent = [start], {start: ""}
        for body in walk:
            for n in at.get(body, ()):
                other = rig.ties[n].other(body)
                if other not in parent:
                    parent[other] = body
                    walk.append(other)
        seen.update(walk)
        found += _bundled(rig, walk, parent, carry)
    return tuple(sorted((tuple(sorted(s, key=order.__getitem__)) for s in found), key=lambda s: order[s[0]]))


def _bundled(rig: Rig, walk: list[str], parent: Mapping[str, str], carry: Carry) -> list[tuple[str, ...]]:
    """Every body takes in its children's bundles, the lightest first, as long as it can be carried."""
    bundle = {b: [b] for b in walk}
    bulk = {b: _bulk(rig.blocks[b].boxes, rig.blocks[b].mass) for b in walk}
    children: dict[str, list[str]] = {}
    for b in walk:
        if parent[b]:
            children.setdefault(parent[b], []).append(b)
    done: list[tuple[str, ...]] = []
    for body in reversed(walk):
        for child in sorted(children.get(body, ()), key=lambda c: (bulk[c].mass, len(bundle[c]), c)):
            both = bulk[body].with_(bulk[child])
            if carry.said and both.fits(carry):
                bundle[body] += bundle[child]
                bulk[body] = both
            else:
                done.append(tuple(bundle[child]))
    done.append(tuple(bundle[walk[0]]))
    return done


def alike(rig: Rig, spools: Collection[tuple[str, ...]]) -> dict[tuple[str, ...], int]:
    """How many spools are made the same way, by one of each kind.

    Parameters
    ----------
    rig : Rig
    spools : collection of tuple of str

    Returns
    -------
    dict
        The first spool of each kind that comes more than once, and how often it comes.
    """
    kinds: dict[object, list[tuple[str, ...]]] = {}
    for spool in spools:
        if len(spool) > 1:
            kinds.setdefault(_shape(rig, spool), []).append(spool)
    return {found[0]: len(found) for found in kinds.values() if len(found) > 1}


def _shape(rig: Rig, spool: tuple[str, ...]) -> object:
    """Kinds, lengths and distances of a spool, however it is turned; a mirrored one counts as another.

    Distances between all bodies and the handedness of their first three directions tell it.
    """
    bodies = [rig.blocks[b] for b in spool]
    centres = [
        tuple(sum(x.start[i] + x.end[i] for x in b.boxes) / (2 * max(len(b.boxes), 1)) for i in range(3))
        for b in bodies
    ]
    apart = tuple(
        round(sum((p[i] - q[i]) ** 2 for i in range(3)) ** 0.5, 3)
        for n, p in enumerate(centres)
        for q in centres[:n]
    )
    d = [tuple(c[i] - centres[0][i] for i in range(3)) for c in centres[1:]]
    hand = 0
    for n in range(2, len(d)):
        u, v, w = d[0], d[1], d[n]
        det = (
            u[0] * (v[1] * w[2] - v[2] * w[1]) - u[1] * (v[0] * w[2] - v[2] * w[0])
            + u[2] * (v[0] * w[1] - v[1] * w[0])
        )  # fmt: skip
        if abs(det) > 1e-4:
            hand = 1 if det > 0 else -1
            break
    return tuple(b.what for b in bodies), apart, hand
