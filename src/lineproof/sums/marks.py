"""Marks: bevel, depth and second mark, rotation marks, bolt holes, and the strip for a slant cut."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative, positive, whole


@figure(
    "bevel-depth",
    formula="h = b tan(β)",
    symbols={
        "length": ("b", "length", "length of the bevel along the pipe"),
        "angle": ("β", "angle", "angle of the bevel to the pipe axis"),
    },
    result=("h", "length", "wall taken off at the end"),
    source="geometry",
)
def bevel_depth(length: float, angle: float) -> float:
    """How much of the wall a bevel takes off at the pipe end.

    Parameters
    ----------
    length : float
        Length of the bevel along the pipe. [m]
    angle : float
        Angle of the bevel to the pipe axis. [rad]

    Returns
    -------
    float
        Wall taken off at the end. [m]

    Valid range
    -----------
    length >= 0; 0.0 <= angle <= 1.2.

    Notes
    -----
    h = b tan(β)

    Examples
    --------
    >>> round(bevel_depth(length=0.006, angle=math.radians(15)) * 1000, 2)
    1.61

    References
    ----------
    .. [1] Geometry.
    """
    not_negative("length", length, unit="m")
    between("angle", angle, low=0.0, high=1.2, unit="rad")
    return length * math.tan(angle)


@figure(
    "bevel-length",
    formula="b = h/tan(β)",
    symbols={
        "depth": ("h", "length", "wall taken off at the end"),
        "angle": ("β", "angle", "angle of the bevel to the pipe axis"),
    },
    result=("b", "length", "length of the bevel along the pipe"),
    source="geometry",
)
def bevel_length(depth: float, angle: float) -> float:
    """Length of a bevel along the pipe that takes a given depth off the wall.

    Parameters
    ----------
    depth : float
        Wall taken off at the end. [m]
    angle : float
        Angle of the bevel to the pipe axis. [rad]

    Returns
    -------
    float
        Length of the bevel along the pipe. [m]

    Valid range
    -----------
    depth >= 0; 0.01 <= angle <= 1.2.

    Notes
    -----
    b = h/tan(β)

    Examples
    --------
    >>> round(bevel_length(depth=0.0024, angle=math.radians(15)) * 1000, 1)
    9.0

    References
    ----------
    .. [1] Geometry.
    """
    not_negative("depth", depth, unit="m")
    between("angle", angle, low=0.01, high=1.2, unit="rad")
    return depth / math.tan(angle)


@figure(
    "depth-mark",
    formula="x = L - g",
    symbols={
        "depth": ("L", "length", "depth of the socket to its stop"),
        "gap": ("g", "length", "gap left to the stop"),
    },
    result=("x", "length", "distance from the pipe end"),
    source="common practice, no source",
)
def depth_mark(depth: float, gap: float = 0.0) -> float:
    """Where the depth mark goes: the socket mouth stands here when the pipe is home.

    Parameters
    ----------
    depth : float
        Depth of the socket to its stop. [m]
    gap : float
        Gap left to the stop. [m]

    Returns
    -------
    float
        Distance from the pipe end. [m]

    Valid range
    -----------
    depth > 0; 0 <= gap < depth.

    Notes
    -----
    x = L - g

    Examples
    --------
    >>> depth_mark(depth=0.125, gap=0.0)
    0.125

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("depth", depth, unit="m")
    not_negative("gap", gap, unit="m")
    if gap >= depth:
        raise OutsideTable(
            f"gap {gap:g} m is not less than the depth {depth:g} m",
            allowed="a gap smaller than the depth",
            by="the valid range of this sum",
            next="check the gap",
        )
    return depth - gap


@figure(
    "second-mark",
    formula="x = L + w",
    symbols={
        "depth": ("L", "length", "depth of the socket to its stop"),
        "beyond": ("w", "length", "distance beyond the depth mark"),
    },
    result=("x", "length", "distance from the pipe end"),
    source="common practice, no source",
)
def second_mark(depth: float, beyond: float = 0.05) -> float:
    """Where the second mark goes: outside of the part that primer wipes clean.

    Parameters
    ----------
    depth : float
        Depth of the socket to its stop. [m]
    beyond : float
        Distance beyond the depth mark. [m]

    Returns
    -------
    float
        Distance from the pipe end. [m]

    Valid range
    -----------
    depth > 0; beyond > 0.

    Notes
    -----
    x = L + w. When the pipe is home the mark stands this distance in front of the socket mouth. 50
    mm (a couple of inches) is common practice.

    Examples
    --------
    >>> second_mark(depth=0.15, beyond=0.05)
    0.2

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("depth", depth, unit="m")
    positive("beyond", beyond, unit="m")
    return depth + beyond


@figure(
    "rotation-mark",
    formula="s = π D θ/360°",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "angle": ("θ", "angle", "angle from the top line, clockwise seen along the line"),
    },
    result=("s", "length", "length round the pipe"),
    source="length of an arc",
)
def rotation_mark(od: float, angle: float) -> float:
    """Where a rotation mark goes, as length round the pipe from the top line.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    angle : float
        Angle from the top line, clockwise seen along the line. [rad]

    Returns
    -------
    float
        Length round the pipe. [m]

    Valid range
    -----------
    od > 0; angle from -2 pi to 2 pi.

    Notes
    -----
    s = π D θ/360°

    Examples
    --------
    >>> round(rotation_mark(od=0.2, angle=math.pi / 2), 5)
    0.15708

    References
    ----------
    .. [1] Length of an arc.
    """
    positive("od", od, unit="m")
    between("angle", angle, low=-2 * math.pi, high=2 * math.pi, unit="rad")
    return od * angle / 2.0


@figure(
    "straddle-angle",
    formula="θ = π/n",
    symbols={
        "bolts": ("n", "count", "number of bolt holes"),
    },
    result=("θ", "angle", "angle from the centre line"),
    source="common practice, no source",
)
def straddle_angle(bolts: float) -> float:
    """Angle from the centre line to the first bolt hole when the holes straddle it.

    Parameters
    ----------
    bolts : float
        Number of bolt holes. [-]

    Returns
    -------
    float
        Angle from the centre line. [rad]

    Valid range
    -----------
    bolts a whole number, at least 2.

    Notes
    -----
    θ = π/n. On risers the centre line is plant north.

    Examples
    --------
    >>> round(math.degrees(straddle_angle(8)), 9)
    22.5

    References
    ----------
    .. [1] Common practice of flanged work: holes straddle the centre lines; no source.
    """
    whole("bolts", bolts, low=2)
    return math.pi / bolts


@figure(
    "wrap-height",
    formula="y = (D/2) tan(a) cos(2 x/D)",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "angle": ("a", "angle", "slant of the cut; 0 is square"),
        "along": ("x", "length", "length round the pipe from the longest side"),
    },
    result=("y", "length", "height above the middle line of the cut"),
    source="development of a cylinder",
)
def wrap_height(*, od: float, angle: float, along: float) -> float:
    """Height of the strip for a slant cut, above its middle line.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    angle : float
        Slant of the cut; 0 is square. [rad]
    along : float
        Length round the pipe from the longest side. [m]

    Returns
    -------
    float
        Height above the middle line of the cut. [m]

    Valid range
    -----------
    od > 0; angle from -1.4 to 1.4 rad; along finite.

    Notes
    -----
    y = (D/2) tan(a) cos(2 x/D). A plane cut of a cylinder unrolls to a cosine. Strip thickness left
    out: cut it to go round the outside.

    Examples
    --------
    >>> round(wrap_height(od=0.2, angle=math.radians(45), along=0.0), 9)
    0.1

    References
    ----------
    .. [1] Development of a cylinder cut by a plane (descriptive geometry).
    """
    positive("od", od, unit="m")
    between("angle", angle, low=-1.4, high=1.4, unit="rad")
    finite("along", along, unit="m")
    return od / 2.0 * math.tan(angle) * math.cos(2.0 * along / od)


def wrap_curve(*, od: float, angle: float, points: int) -> tuple[tuple[float, float], ...]:
    """Points of the wrap strip for a slant cut, once round the pipe.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    angle : float
        Slant of the cut; 0 is square. [rad]
    points : int
        Number of steps round the pipe.

    Returns
    -------
    tuple of tuple of float
        Length round the pipe and height above the middle line, first and last on the longest side. [m]

    Valid range
    -----------
    od > 0; angle from -1.4 to 1.4 rad; points a whole number, at least 4.

    Notes
    -----
    y = (D/2) tan(a) cos(2 x/D), see ``wrap_height``.

    Examples
    --------
    >>> [round(y, 9) for _, y in wrap_curve(od=0.2, angle=math.radians(45), points=4)]
    [0.1, 0.0, -0.1, -0.0, 0.1]

    References
    ----------
    .. [1] Development of a cylinder cut by a plane (descriptive geometry).
    """
    whole("points", points, low=4)
    positive("od", od, unit="m")
    step = math.pi * od / points
    return tuple((i * step, wrap_height(od=od, angle=angle, along=i * step)) for i in range(points + 1))
