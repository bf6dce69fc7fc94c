"""Vectors in the frame of the line (east, north, up) as plain tuples: fast where they are asked for often."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable

Vector = tuple[float, float, float]

ZERO: Vector = (0.0, 0.0, 0.0)
EAST: Vector = (1.0, 0.0, 0.0)
NORTH: Vector = (0.0, 1.0, 0.0)
UP: Vector = (0.0, 0.0, 1.0)


def add(a: Vector, b: Vector) -> Vector:
    """Sum of two vectors.

    Examples
    --------
    >>> add((1.0, 2.0, 3.0), (0.5, 0.0, -3.0))
    (1.5, 2.0, 0.0)
    """
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vector, b: Vector) -> Vector:
    """First vector less the second: the way from b to a.

    Examples
    --------
    >>> sub((1.0, 2.0, 3.0), (1.0, 0.0, 1.0))
    (0.0, 2.0, 2.0)
    """
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vector, by: float) -> Vector:
    """Vector made longer or shorter.

    Parameters
    ----------
    a : Vector
        The vector.
    by : float
        Factor; negative turns it round. [-]

    Examples
    --------
    >>> scale((1.0, -2.0, 0.5), 2.0)
    (2.0, -4.0, 1.0)
    """
    return (a[0] * by, a[1] * by, a[2] * by)


def along(start: Vector, direction: Vector, distance: float) -> Vector:
    """Point reached from a start in a direction.

    Parameters
    ----------
    start : Vector
        Where to start.
    direction : Vector
        Direction of length 1; it is not made so here.
    distance : float
        How far. [m]

    Examples
    --------
    >>> along((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.5)
    (0.0, 1.0, 2.5)
    """
    return (
        start[0] + direction[0] * distance,
        start[1] + direction[1] * distance,
        start[2] + direction[2] * distance,
    )


def dot(a: Vector, b: Vector) -> float:
    """Inner product [product of the two units].

    Examples
    --------
    >>> dot((1.0, 2.0, 3.0), (4.0, -5.0, 6.0))
    12.0
    """
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Cross product, right-handed: east x north = up.

    Examples
    --------
    >>> cross(EAST, NORTH)
    (0.0, 0.0, 1.0)
    """
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def norm(a: Vector) -> float:
    """Length of a vector [its own unit].

    Examples
    --------
    >>> norm((2.0, 3.0, 6.0))
    7.0
    """
    return math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])


def distance(a: Vector, b: Vector) -> float:
    """Distance between two points [m].

    Examples
    --------
    >>> distance((1.0, 1.0, 1.0), (3.0, 4.0, 7.0))
    7.0
    """
    return norm(sub(a, b))


def unit(a: Vector) -> Vector:
    """Vector of length 1 in the same direction.

    Raises
    ------
    OutsideTable
        If the vector has no length, so no direction.

    Examples
    --------
    >>> unit((0.0, -3.0, 4.0))
    (0.0, -0.6, 0.8)
    """
    size = norm(a)
    if not 0.0 < size < math.inf:
        raise OutsideTable(
            "a leg of no length has no direction",
            allowed="a vector with a finite length above 0",
            by="the valid range of this sum",
            next="check the leg's components",
        )
    return (a[0] / size, a[1] / size, a[2] / size)


def angle_between(a: Vector, b: Vector) -> float:
    """Angle between two directions, 0 to pi [rad]; exact for small angles too.

    Examples
    --------
    >>> round(math.degrees(angle_between(EAST, (1.0, 1.0, 0.0))), 9)
    45.0
    """
    return math.atan2(norm(cross(a, b)), dot(a, b))


def rotate_about(a: Vector, axis: Vector, angle: float) -> Vector:
    """Vector turned about an axis, right-handed.

    Parameters
    ----------
    a : Vector
        The vector to turn.
    axis : Vector
        Direction of the axis; any length above 0.
    angle : float
        How far; positive turns east towards north about the upward axis. [rad]

    Returns
    -------
    Vector
        The turned vector, of the same length.

    Notes
    -----
    Rotation formula of Rodrigues: a cos t + (k x a) sin t + k (k . a)(1 - cos t).

    Examples
    --------
    >>> turned = rotate_about(EAST, UP, math.pi / 2)
    >>> tuple(round(c, 12) for c in turned)
    (0.0, 1.0, 0.0)
    """
    k = unit(axis)
    c, s = math.cos(angle), math.sin(angle)
    kxa = cross(k, a)
    lift = dot(k, a) * (1.0 - c)
    return (
        a[0] * c + kxa[0] * s + k[0] * lift,
        a[1] * c + kxa[1] * s + k[1] * lift,
        a[2] * c + kxa[2] * s + k[2] * lift,
    )


def across(direction: Vector, reference: Vector) -> Vector:
    """Unit vector square to a direction, as near to the reference as can be.

    Parameters
    ----------
    direction : Vector
        Axis of the pipe.
    reference : Vector
        Which way "top" should point, such as up, or north on a riser.

    Raises
    ------
    OutsideTable
        If the reference lies along the direction, so that it says nothing.

    Examples
    --------
    >>> across(NORTH, (0.0, 5.0, 2.0))
    (0.0, 0.0, 1.0)
    """
    d = unit(direction)
    square = sub(reference, scale(d, dot(d, reference)))
    if norm(square) <= 1e-12 * norm(reference):
        raise OutsideTable(
            "the reference direction lies along the pipe",
            allowed="a reference square or aslant to the pipe",
            by="the valid range of this sum",
            next="take north as top on a riser",
        )
    return unit(square)
