"""Isometric projection and the broken scale that lets a long leg stand beside a short one.

Isometric axonometry as in ISO 5456-3 (from memory): the three axes lie at 120 degrees on paper and
have equal scales; up is up. On paper x runs to the right and y downwards. [mm]
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from lineproof.job.graph import Vec

XY = tuple[float, float]

SAME = 5e-4
"""Coordinates closer than this are one coordinate. [m]"""

_C = math.cos(math.radians(30.0))
_S = math.sin(math.radians(30.0))


class North(StrEnum):
    """Where north points on the sheet."""

    RIGHT = "up to the right"
    LEFT = "up to the left"


_AXES: dict[North, tuple[XY, XY, XY]] = {
    North.RIGHT: ((_C, _S), (_C, -_S), (0.0, -1.0)),
    North.LEFT: ((_C, -_S), (-_C, -_S), (0.0, -1.0)),
}
_NEAR: dict[North, Vec] = {North.RIGHT: (1.0, -1.0, 1.0), North.LEFT: (-1.0, -1.0, 1.0)}


def axes(north: North) -> tuple[XY, XY, XY]:
    """Unit vectors of east, north and up on paper.

    Parameters
    ----------
    north : North

    Returns
    -------
    tuple of (float, float)
        x to the right, y down. [1]
    """
    return _AXES[north]


def project(v: Vec, north: North) -> XY:
    """A point or a vector in isometric projection.

    Parameters
    ----------
    v : tuple of float
        East, north, up. [mm]
    north : North

    Returns
    -------
    tuple of float
        x to the right, y down. [mm]
    """
    e, n, u = _AXES[north]
    return (
        v[0] * e[0] + v[1] * n[0] + v[2] * u[0],
        v[0] * e[1] + v[1] * n[1] + v[2] * u[1],
    )


def nearness(v: Vec, north: North) -> float:
    """How near a point is to the eye; of two points that meet on paper the larger one is in front.

    Parameters
    ----------
    v : tuple of float
        East, north, up. [mm]
    north : North

    Returns
    -------
    float
        Along the line of sight, times the square root of three. [mm]
    """
    k = _NEAR[north]
    return v[0] * k[0] + v[1] * k[1] + v[2] * k[2]


def way_on_paper(way: Vec, north: North) -> XY:
    """Direction on paper of a direction in space, as a unit vector; a way along the sight is upwards.

    Parameters
    ----------
    way : tuple of float
        East, north, up. [1]
    north : North

    Returns
    -------
    tuple of float
        [1]
    """
    x, y = project(way, north)
    size = math.hypot(x, y)
    return (x / size, y / size) if size > 1e-6 else (0.0, -1.0)


def distinct(values: Iterable[float], same: float = SAME) -> tuple[float, ...]:
    """Sorted coordinates; those closer than ``same`` to the first of a group count as one.

    Parameters
    ----------
    values : iterable of float
        [m]
    same : float
        [m]

    Returns
    -------
    tuple of float
        The first of each group. [m]
    """
    found: list[float] = []
    for v in sorted(values):
        if not found or v - found[-1] > same:
            found.append(v)
    return tuple(found)


def index_of(value: float, sorted_values: Sequence[float]) -> int:
    """Index of the group a coordinate belongs to.

    Parameters
    ----------
    value : float
        [m]
    sorted_values : sequence of float
        From :func:`distinct`. [m]

    Returns
    -------
    int
        The last one not above it.
    """
    lo, hi = 0, len(sorted_values)
    while lo < hi:
        mid = (lo + hi) // 2
        if sorted_values[mid] <= value + 1e-12:
            lo = mid + 1
        else:
            hi = mid
    return max(lo - 1, 0)


def drawn_gap(gap: float) -> float:
    """How long a distance is drawn before fitting: small shifts stay small, long ones grow ever slower.

    Parameters
    ----------
    gap : float
        Distance along one axis, at least 0. [m]

    Returns
    -------
    float
        [1]
    """
    return math.log1p(gap / 0.6) * gap / (gap + 0.05)


@dataclass(frozen=True, slots=True)
class BrokenScale:
    """One axis: sorted coordinates and where each is drawn.

    Parameters
    ----------
    real : tuple of float
        Distinct coordinates, ascending. [m]
    drawn : tuple of float
        Their places along the drawn axis, ascending. [mm]
    same : float
        A coordinate so little above one of them is drawn as that one. [m]
    """

    real: tuple[float, ...]
    drawn: tuple[float, ...]
    same: float = SAME

    def at(self, value: float) -> float:
        """Where a coordinate is drawn; between two known ones in proportion.

        Parameters
        ----------
        value : float
            [m]

        Returns
        -------
        float
            [mm]
        """
        if not self.real:
            return 0.0
        i = index_of(value, self.real)
        if i + 1 >= len(self.real) or value - self.real[i] <= self.same:
            return self.drawn[i]
        share = (value - self.real[i]) / (self.real[i + 1] - self.real[i])
        return self.drawn[i] + min(max(share, 0.0), 1.0) * (self.drawn[i + 1] - self.drawn[i])


@dataclass(frozen=True, slots=True)
class View:
    """A sheet's map from the plant to paper: north, one broken scale an axis, and where it lies."""

    north: North
    east_scale: BrokenScale
    north_scale: BrokenScale
    up_scale: BrokenScale
    shift: XY = (0.0, 0.0)

    def stretched(self, p: Vec) -> Vec:
        """A place of the plant on the drawn axes. [mm]"""
        return (self.east_scale.at(p[0]), self.north_scale.at(p[1]), self.up_scale.at(p[2]))

    def paper(self, p: Vec) -> XY:
        """A place of the plant on paper. [mm]"""
        x, y = project(self.stretched(p), self.north)
        return (x + self.shift[0], y + self.shift[1])
