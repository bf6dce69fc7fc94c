"""Steps bodies through space to see whether a line can be put together: cubes on a grid, and nothing else.

Imports nothing of the program. A body is a set of cubes; a socket is a real tube with a floor, a spigot a
real rod in it, a flat face a plate against a plate, a ringed face a plate with a pin in a hole. The only
rules given are: made joints hold; one cemented joint a step (two where that is said); a thread is turned
home. That a pipe has to travel the depth of its socket, that flat faces slide and ringed ones do not, comes
out by itself.

A line is told as nodes on a coarse grid with an edge between neighbours, ``PITCH`` cubes apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import combinations

Cube = tuple[int, int, int]
PITCH = 10
"""Cubes from node to node."""
DEPTH = 2
"""Cubes a spigot goes into its socket."""
GROUND = "ground"
AWAY = 9
"""A body that came this far in any direction, or out of the other's bounds, is away."""


@dataclass(frozen=True)
class Edge:
    """Two neighbouring nodes and how they are tied: cement, flat, ring, drop, thread or sleeve."""

    a: str
    b: str
    how: str


@dataclass(frozen=True)
class Line:
    """A line told by nodes and edges; ``dead`` are arms that end free, ``walls`` cubes that stand."""

    nodes: Mapping[str, Cube]
    edges: tuple[Edge, ...]
    standing: frozenset[str] = frozenset()
    dead: tuple[tuple[str, Cube, int], ...] = ()
    walls: frozenset[Cube] = frozenset()


@dataclass
class World:
    """Bodies as cubes, and the ties between them."""

    bodies: dict[str, set[Cube]] = field(default_factory=dict)
    ties: list[tuple[str, str, str, Cube, Cube]] = field(default_factory=list)
    """How, body, body, a point on the axis, its direction."""


def _add(p: Cube, d: Cube, by: int = 1) -> Cube:
    return (p[0] + d[0] * by, p[1] + d[1] * by, p[2] + d[2] * by)


def _plate(p: Cube, d: Cube, hole: bool = False) -> set[Cube]:
    u, v = [
        e for e in ((1, 0, 0), (0, 1, 0), (0, 0, 1)) if not any(x and y for x, y in zip(e, d, strict=True))
    ]
    found = {_add(_add(p, u, i), v, j) for i in (-1, 0, 1) for j in (-1, 0, 1)}
    return found - {p} if hole else found


def world_of(line: Line) -> World:
    """Cubes of a told line."""
    w = World()
    body = {n: (GROUND if n in line.standing else n) for n in line.nodes}
    w.bodies[GROUND] = set(line.walls)
    at = {n: (p[0] * PITCH, p[1] * PITCH, p[2] * PITCH) for n, p in line.nodes.items()}
    for n, p in at.items():
        w.bodies.setdefault(body[n], set()).add(p)
    for k, e in enumerate(line.edges):
        p, q = at[e.a], at[e.b]
        d = tuple((y - x) // PITCH for x, y in zip(p, q, strict=True))
        assert sum(map(abs, d)) == 1, f"{e} are no neighbours"
        back = (-d[0], -d[1], -d[2])
        mine, other = w.bodies[body[e.a]], w.bodies[body[e.b]]

        def rod(cubes: set[Cube], start: Cube, way: Cube, last: int) -> None:
            cubes.update(_add(start, way, t) for t in range(1, last + 1))

        if e.how in ("cement", "thread"):
            rod(mine, p, d, PITCH - 3)
            rod(other, q, back, 1)
            other |= _plate(_add(q, back, 2), d)
            other |= _plate(_add(q, back, 3), d, hole=True) | _plate(_add(q, back, 4), d, hole=True)
        elif e.how == "flat":
            rod(mine, p, d, 4)
            mine |= _plate(_add(p, d, 5), d)
            rod(other, q, back, 3)
            other |= _plate(_add(q, back, 4), d)
        elif e.how == "ring":
            rod(mine, p, d, 4)
            mine |= _plate(_add(p, d, 5), d) | {_add(p, d, 6)}
            rod(other, q, back, 3)
            other |= _plate(_add(q, back, 4), d, hole=True) | _plate(_add(q, back, 3), d)
        elif e.how == "drop":
            rod(mine, p, d, 2)
            mine |= _plate(_add(p, d, 3), d)
            rod(other, q, back, 2)
            other |= _plate(_add(q, back, 3), d)
            piece = w.bodies[f"drop{k}"] = {_add(p, d, 5)}
            piece |= _plate(_add(p, d, 4), d) | _plate(_add(p, d, 6), d)
        elif e.how == "sleeve":  # two bare pipes, a coupling without a stop round both ends
            rod(mine, p, d, 5)
            rod(other, q, back, 4)
            ring = w.bodies[f"sleeve{k}"] = set()
            for t in (5, 6):
                ring |= _plate(_add(p, d, t), d, hole=True)
        else:
            raise AssertionError(e.how)
        if e.how == "drop":
            w.ties += [("flat", body[e.a], f"drop{k}", p, d), ("flat", f"drop{k}", body[e.b], p, d)]
        elif e.how == "sleeve":
            w.ties += [("sleeve", f"sleeve{k}", body[e.a], p, d), ("sleeve", f"sleeve{k}", body[e.b], p, d)]
        else:
            w.ties.append((e.how, body[e.a], body[e.b], p, d))
    for n, way, length in line.dead:
        w.bodies[body[n]].update(_add(at[n], way, t) for t in range(1, length + 1))
    for x, y in combinations(sorted(w.bodies), 2):
        assert not w.bodies[x] & w.bodies[y], f"{x} and {y} take up the same cubes"
    return w


SIX = tuple((s if i == 0 else 0, s if i == 1 else 0, s if i == 2 else 0) for i in range(3) for s in (1, -1))


def gets_away(mover: set[Cube], still: set[Cube]) -> list[Cube] | None:
    """A way out by moves of one cube, or None: every place of the mover is tried."""
    if not still:
        return []
    low = [min(c[i] for c in still) for i in range(3)]
    high = [max(c[i] for c in still) for i in range(3)]
    mlow = [min(c[i] for c in mover) for i in range(3)]
    mhigh = [max(c[i] for c in mover) for i in range(3)]
    came: dict[Cube, Cube | None] = {(0, 0, 0): None}
    stack: list[Cube] = [(0, 0, 0)]
    while stack:
        at = stack.pop()
        if any(abs(x) >= AWAY for x in at) or any(
            mlow[i] + at[i] > high[i] or mhigh[i] + at[i] < low[i] for i in range(3)
        ):
            path = []
            here: Cube | None = at
            while here is not None:
                path.append(here)
                here = came[here]
            return path[::-1]
        last = came[at]
        order = list(SIX)
        if last is not None:  # straight on first
            ahead = (at[0] - last[0], at[1] - last[1], at[2] - last[2])
            order.remove(ahead)
            order.append(ahead)
        for d in order:
            to = _add(at, d)
            if to not in came and not any((c[0] + to[0], c[1] + to[1], c[2] + to[2]) in still for c in mover):
                came[to] = at
                stack.append(to)
    return None


def turns(mover: set[Cube], still: set[Cube], at: Cube, d: Cube) -> bool:
    """Whether a body turns full circle about an axis: no still cube lies in the rings it sweeps."""
    axis = next(i for i in range(3) if d[i])
    others = [i for i in range(3) if i != axis]

    def ring(c: Cube) -> tuple[int, float]:
        return c[axis], sum((c[i] - at[i]) ** 2 for i in others) ** 0.5

    swept: dict[int, list[float]] = {}
    for c in mover:
        level, radius = ring(c)
        if radius > 1.5:  # round parts about the axis turn in their own place
            swept.setdefault(level, []).append(radius)
    for c in still:
        level, radius = ring(c)
        if any(abs(radius - r) < 1.0 for r in swept.get(level, ())):
            return False
    return True


@dataclass(frozen=True)
class Allowed:
    """What the procedure allows: two joints side by side at once, a cemented repair coupling."""

    two_at_once: bool = False
    repair: bool = False


def can_be_made(line: Line, allowed: Allowed = Allowed()) -> bool:
    """Whether some order of steps puts the line together: every partition of every stage is tried."""
    world = world_of(line)
    return _made(world, allowed)


def _made(world: World, allowed: Allowed) -> bool:
    names = tuple(sorted(world.bodies))

    @cache
    def made(here: frozenset[str]) -> bool:
        if len(here) <= 1:
            return True
        if allowed.repair and _slid_back(world, here, allowed):
            return True
        rest = sorted(here - {GROUND})
        first = rest[0]
        for size in range(1, len(rest) + 1):
            for chosen in combinations(rest, size):
                mover = frozenset(chosen)
                still = here - mover
                if not still or (GROUND not in here and first in mover and 2 * size > len(here)):
                    continue
                if step(mover, still) and made(mover) and made(still):
                    return True
        return False

    def step(mover: frozenset[str], still: frozenset[str]) -> bool:
        return may_step(world, mover, still, allowed)

    return made(frozenset(names))


def may_step(world: World, mover: frozenset[str], still: frozenset[str], allowed: Allowed) -> bool:
    """Whether one step brings some bodies to some others, told backwards: they come off."""
    crossing = [
        t for t in world.ties if (t[1] in mover and t[2] in still) or (t[2] in mover and t[1] in still)
    ]
    wet = sum(t[0] in ("cement", "sleeve") for t in crossing)
    if wet > (2 if allowed.two_at_once else 1):
        return False
    moving = set().union(*(world.bodies[b] for b in mover))
    standing = set().union(*(world.bodies[b] for b in still))
    for t in crossing:
        if t[0] == "thread" and (len(crossing) > 1 or not turns(moving, standing, t[3], t[4])):
            return False
    return gets_away(moving, standing) is not None


def _slid_back(world: World, here: frozenset[str], allowed: Allowed) -> bool:
    """A repair coupling slid clear of one of its pipes rides on the other; the rest then comes apart."""
    for name in sorted(here):
        mine = [t for t in world.ties if t[0] == "sleeve" and t[1] == name and t[2] in here]
        if len(mine) != 2:
            continue
        d = mine[0][4]
        for sign, rides in ((-1, mine[0][2]), (1, mine[1][2])):
            way = (d[0] * sign, d[1] * sign, d[2] * sign)
            others = set().union(*(world.bodies[b] for b in here if b != name))
            cubes = world.bodies[name]
            if any(_add(c, way, t) in others for c in cubes for t in range(1, DEPTH + 1)):
                continue
            moved = {_add(c, way, DEPTH) for c in cubes}
            bodies = {b: set(c) for b, c in world.bodies.items() if b in here and b != name}
            bodies[rides] |= moved
            ties = [t for t in world.ties if name not in (t[1], t[2]) and {t[1], t[2]} <= here]
            if _made(World(bodies, ties), allowed):
                return True
    return False


def replays(line: Line, steps: Iterable[tuple[frozenset[str], frozenset[str]]], allowed: Allowed) -> bool:
    """Whether an order told as (what is brought, what it is brought to) works out step by step in space."""
    world = world_of(line)
    groups = {frozenset((b,)) for b in world.bodies}
    for moved, kept in steps:
        if moved not in groups or kept not in groups or GROUND in moved:
            return False
        if not may_step(world, moved, kept, allowed):
            return False
        groups -= {moved, kept}
        groups.add(moved | kept)
    return len(groups) == 1
