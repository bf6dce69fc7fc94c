"""Room: whether a body that is moved straight, or turned, meets another on its way.

Pipes and hubs are straight square bars with flat ends; a move is judged by the interval in which each of the
axes that could part two bars fails to part them, which is exact for bars.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping

from lineproof.job.graph import Vec
from lineproof.plan.sequence.rig import Block, Box

SKIN = 0.002
"""Bars are taken so much thinner all round, so that faces in touch do not count as meeting (own rule). [m]"""
CELL = 1.0
"""Edge of the cells bodies are looked up by. [m]"""
LONG = 60
"""A bar over more cells than this is kept in a list of its own. [-]"""

STILL = (0.0, 0.0, 0.0)

Frame = tuple[Vec, tuple[Vec, Vec, Vec], tuple[float, float, float]]
"""Centre, three axes, half lengths."""


def frame_of(box: Box, skin: float = SKIN) -> Frame:
    """A bar as centre, axes and half lengths, a skin taken off all round.

    Parameters
    ----------
    box : Box
    skin : float
        [m]

    Returns
    -------
    tuple
    """
    a, b = box.start, box.end
    d = (b[0] - a[0], b[1] - a[1], b[2] - a[2])
    length = math.sqrt(d[0] ** 2 + d[1] ** 2 + d[2] ** 2)
    u = (d[0] / length, d[1] / length, d[2] / length) if length else (1.0, 0.0, 0.0)
    helper = (0.0, 0.0, 1.0) if abs(u[2]) < 0.9 else (0.0, 1.0, 0.0)
    v = _cross(u, helper)
    size = math.sqrt(v[0] ** 2 + v[1] ** 2 + v[2] ** 2)
    v = (v[0] / size, v[1] / size, v[2] / size)
    centre = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)
    half = max(box.half - skin, 1e-4)
    return centre, (u, v, _cross(u, v)), (max(length / 2 - skin, 1e-4), half, half)


def _cross(u: Vec, v: Vec) -> Vec:
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def _dot(u: Vec, v: Vec) -> float:
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def met(mover: Frame, still: Frame, shift: Vec) -> tuple[float, float] | None:
    """When two bars meet while one is shifted.

    Parameters
    ----------
    mover, still : tuple
        See :func:`frame_of`.
    shift : tuple of float
        The whole way of the mover. [m]

    Returns
    -------
    tuple of float or None
        First and last share of the way at which they meet, within 0 to 1; None if they never do.
    """
    (p, us, hs), (q, vs, ks) = mover, still
    apart = (p[0] - q[0], p[1] - q[1], p[2] - q[2])
    low, high = 0.0, 1.0
    axes = [*us, *vs]
    axes += [c for u in us for v in vs if _dot(c := _cross(u, v), c) > 1e-9]
    for axis in axes:
        reach = sum(h * abs(_dot(u, axis)) for u, h in zip(us, hs, strict=True))
        reach += sum(k * abs(_dot(v, axis)) for v, k in zip(vs, ks, strict=True))
        at, by = _dot(apart, axis), _dot(shift, axis)
        if abs(by) < 1e-12:
            if abs(at) >= reach:
                return None
            continue
        first, last = sorted(((-reach - at) / by, (reach - at) / by))
        low, high = max(low, first), min(high, last)
        if low >= high:
            return None
    return low, high


class Room:
    """The bodies that are there, found by where they lie."""

    def __init__(self, blocks: Mapping[str, Block], there: Iterable[str] = ()) -> None:
        self.frames = {b.id: tuple(frame_of(x) for x in b.boxes) for b in blocks.values()}
        self._cells: dict[tuple[int, int, int], set[str]] = {}
        self._long: set[str] = set()
        self._at: dict[str, list[tuple[int, int, int]]] = {}
        self.there: set[str] = set()
        for name in there:
            self.put(name)

    def put(self, name: str) -> None:
        """A body is there from now on."""
        self.there.add(name)
        cells = [c for frame in self.frames[name] for c in _cells(*_bounds(frame))]
        if len(cells) > LONG:
            self._long.add(name)
            return
        self._at[name] = cells
        for c in cells:
            self._cells.setdefault(c, set()).add(name)

    def take(self, name: str) -> None:
        """A body is there no longer."""
        self.there.discard(name)
        self._long.discard(name)
        for c in self._at.pop(name, ()):
            self._cells[c].discard(name)

    def near(self, low: Vec, high: Vec) -> set[str]:
        """Bodies that may lie between two corners."""
        cells = _cells(low, high)
        if len(cells) > 20 * LONG:
            return set(self.there)
        found = set(self._long)
        for c in cells:
            found |= self._cells.get(c, set())
        return found

    def in_the_way(
        self, moved: Iterable[str], shift: Vec, among: Collection[str] | None = None
    ) -> str | None:
        """The first body that some bodies meet while they are taken off by a shift.

        Parameters
        ----------
        moved : iterable of str
        shift : tuple of float
            The whole way, from where they end up. [m]
        among : collection of str, optional
            Bodies that are there at that time; all unless said.

        Returns
        -------
        str or None
            What overlaps in place, as a pipe and its socket do, says nothing of the move and is passed over.
        """
        names = sorted(moved)
        here = set(names)
        for name in names:
            for frame in self.frames[name]:
                low, high = _bounds(frame)
                low = (
                    min(low[0], low[0] + shift[0]),
                    min(low[1], low[1] + shift[1]),
                    min(low[2], low[2] + shift[2]),
                )
                high = (
                    max(high[0], high[0] + shift[0]), max(high[1], high[1] + shift[1]),
                    max(high[2], high[2] + shift[2]),
                )  # fmt: skip
                for other in sorted(self.near(low, high) - here):
                    if among is not None and other not in among:
                        continue
                    for still in self.frames[other]:
                        if met(frame, still, shift) is not None and met(frame, still, STILL) is None:
                            return other
        return None

    def in_the_swing(
        self, moved: Iterable[str], at: Vec, axis: Vec, among: Collection[str] | None = None
    ) -> str | None:
        """The first body that some bodies meet while they are turned about an axis.

        Parameters
        ----------
        moved : iterable of str
        at, axis : tuple of float
            A point of the axis [m] and its unit vector.
        among : collection of str, optional
            Bodies that are there at that time; all unless said.

        Returns
        -------
        str or None
            Every place of a still body whose ring about the axis a moved one sweeps is in the way.
        """
        names = sorted(moved)
        here = set(names)
        for name in names:
            for frame in self.frames[name]:
                low, high, near, far = _ring(frame, at, axis)
                if far <= 1.5 * max(frame[2][1:]):
                    continue  # round the axis itself: it turns in its own place
                for other in sorted((self.there if among is None else self.there & set(among)) - here):
                    for still in self.frames[other]:
                        ring = _ring(still, at, axis)
                        apart = ring[0] >= high or low >= ring[1] or ring[2] >= far or near >= ring[3]
                        if not apart and met(frame, still, STILL) is None:
                            return other
        return None


def _ring(frame: Frame, at: Vec, axis: Vec) -> tuple[float, float, float, float]:
    """A bar about an axis: from and to along it, its nearest and farthest distance from it."""
    centre, (u, _, _), (half, width, _) = frame
    ends = []
    for s in (-1.0, 1.0):
        p = tuple(centre[i] + s * half * u[i] - at[i] for i in range(3))
        along = sum(p[i] * axis[i] for i in range(3))
        ends.append((along, tuple(p[i] - along * axis[i] for i in range(3))))
    tilt = math.sqrt(max(0.0, 1.0 - _dot(u, axis) ** 2))
    low = min(e[0] for e in ends) - width * tilt
    high = max(e[0] for e in ends) + width * tilt
    a, b = ends[0][1], ends[1][1]
    d = tuple(b[i] - a[i] for i in range(3))
    size = sum(x * x for x in d)
    t = 0.0 if size < 1e-12 else min(1.0, max(0.0, -sum(a[i] * d[i] for i in range(3)) / size))
    near = math.sqrt(sum((a[i] + t * d[i]) ** 2 for i in range(3)))
    far = max(math.sqrt(sum(x * x for x in e[1])) for e in ends)
    return low, high, max(0.0, near - width), far + width


def _bounds(frame: Frame) -> tuple[Vec, Vec]:
    centre, axes, halves = frame
    reach = [sum(h * abs(u[i]) for u, h in zip(axes, halves, strict=True)) for i in range(3)]
    return (
        (centre[0] - reach[0], centre[1] - reach[1], centre[2] - reach[2]),
        (centre[0] + reach[0], centre[1] + reach[1], centre[2] + reach[2]),
    )


def _cells(low: Vec, high: Vec) -> list[tuple[int, int, int]]:
    a = [math.floor(x / CELL) for x in low]
    b = [math.floor(x / CELL) for x in high]
    return [
        (i, j, k) for i in range(a[0], b[0] + 1) for j in range(a[1], b[1] + 1) for k in range(a[2], b[2] + 1)
    ]
