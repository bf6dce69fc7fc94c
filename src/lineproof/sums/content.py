"""Content: bore, water in the line, fill time, and what pipe and water weigh."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative, positive


@figure(
    "bore-area",
    formula="A = π d^2/4",
    symbols={
        "bore": ("d", "length", "inside diameter"),
    },
    result=("A", "area", "bore area"),
    source="area of a circle",
)
def bore_area(bore: float) -> float:
    """Area of the bore; also the water in one metre of pipe, in cubic metres.

    Parameters
    ----------
    bore : float
        Inside diameter. [m]

    Returns
    -------
    float
        Bore area. [m2]

    Valid range
    -----------
    bore > 0.

    Notes
    -----
    A = π d^2/4

    Examples
    --------
    >>> round(bore_area(bore=0.2), 5)
    0.03142

    References
    ----------
    .. [1] Area of a circle.
    """
    positive("bore", bore, unit="m")
    return math.pi * bore * bore / 4.0


@figure(
    "content",
    formula="V = π d^2 L/4",
    symbols={
        "bore": ("d", "length", "inside diameter"),
        "length": ("L", "length", "length of pipe"),
    },
    result=("V", "volume", "content"),
    source="area of a circle",
)
def content(bore: float, length: float) -> float:
    """Water in a length of pipe.

    Parameters
    ----------
    bore : float
        Inside diameter. [m]
    length : float
        Length of pipe. [m]

    Returns
    -------
    float
        Content. [m3]

    Valid range
    -----------
    bore > 0; length >= 0.

    Notes
    -----
    V = π d^2 L/4

    Examples
    --------
    >>> round(content(bore=0.2, length=100.0), 3)
    3.142

    References
    ----------
    .. [1] Area of a circle.
    """
    positive("bore", bore, unit="m")
    not_negative("length", length, unit="m")
    return math.pi * bore * bore / 4.0 * length


@figure(
    "fill-flow",
    formula="Q = π d^2 w/4",
    symbols={
        "bore": ("d", "length", "inside diameter"),
        "velocity": ("w", "velocity", "velocity of the water front"),
    },
    result=("Q", "flow", "flow"),
    source="continuity",
    note="fill from the low point, vent every high point, stay slow",
)
def fill_flow(bore: float, velocity: float) -> float:
    """Flow that fills a pipe at a given velocity.

    Parameters
    ----------
    bore : float
        Inside diameter. [m]
    velocity : float
        Velocity of the water front. [m/s]

    Returns
    -------
    float
        Flow. [m3/s]

    Valid range
    -----------
    bore > 0; velocity > 0.

    Notes
    -----
    Q = π d^2 w/4. Fill from the low point with every high point vented. Below 2 ft/s by one
    county's specification (its wording fits polyethylene); 1 ft/s from memory.

    Examples
    --------
    >>> round(fill_flow(bore=0.2, velocity=0.3) * 1000, 2)
    9.42

    References
    ----------
    .. [1] Area of a circle.
    """
    positive("bore", bore, unit="m")
    positive("velocity", velocity, unit="m/s")
    return math.pi * bore * bore / 4.0 * velocity


@figure(
    "fill-time",
    formula="t = 4 V/(π d^2 w)",
    symbols={
        "volume": ("V", "volume", "volume to fill"),
        "bore": ("d", "length", "inside diameter"),
        "velocity": ("w", "velocity", "velocity in that bore"),
    },
    result=("t", "time", "fill time"),
    source="continuity",
    note="fill from the low point, vent every high point, stay slow",
)
def fill_time(*, volume: float, bore: float, velocity: float) -> float:
    """Time to fill a volume through a pipe at a given velocity.

    Parameters
    ----------
    volume : float
        Volume to fill. [m3]
    bore : float
        Inside diameter. [m]
    velocity : float
        Velocity in that bore. [m/s]

    Returns
    -------
    float
        Fill time. [s]

    Valid range
    -----------
    volume >= 0; bore > 0; velocity > 0.

    Notes
    -----
    t = 4 V/(π d^2 w)

    Examples
    --------
    >>> round(fill_time(volume=3.1416, bore=0.2, velocity=0.5))
    200

    References
    ----------
    .. [1] Continuity.
    """
    not_negative("volume", volume, unit="m3")
    positive("bore", bore, unit="m")
    positive("velocity", velocity, unit="m/s")
    return volume / (math.pi * bore * bore / 4.0 * velocity)


@figure(
    "wall-area",
    formula="A = π (D - t) t",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "wall": ("t", "length", "wall of the pipe"),
    },
    result=("A", "area", "area of the wall"),
    source="area of a ring",
)
def wall_area(od: float, wall: float) -> float:
    """Area of the pipe wall.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    wall : float
        Wall of the pipe. [m]

    Returns
    -------
    float
        Area of the wall. [m2]

    Valid range
    -----------
    od and wall > 0; wall under half the od.

    Notes
    -----
    A = π (D - t) t

    Examples
    --------
    >>> round(wall_area(od=0.2, wall=0.01) * 1e4, 1)
    59.7

    References
    ----------
    .. [1] Area of a ring.
    """
    positive("od", od, unit="m")
    positive("wall", wall, unit="m")
    if 2.0 * wall >= od:
        raise OutsideTable(
            f"wall {wall:g} m leaves no bore in {od:g} m",
            allowed="a wall under half the outside diameter",
            by="the valid range of this sum",
            next="check wall and outside diameter",
        )
    return math.pi * (od - wall) * wall


@figure(
    "pipe-mass",
    formula="m = ρ π (D - t) t",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "wall": ("t", "length", "wall of the pipe"),
        "density": ("ρ", "density", "density of the material"),
    },
    result=("m", "line_mass", "mass of one metre"),
    source="area of a ring times density",
)
def pipe_mass(*, od: float, wall: float, density: float) -> float:
    """Mass of one metre of empty pipe.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    wall : float
        Wall of the pipe. [m]
    density : float
        Density of the material. [kg/m3]

    Returns
    -------
    float
        Mass of one metre. [kg/m]

    Valid range
    -----------
    od and wall > 0; wall under half the od; density from 500 to 3000 kg/m3.

    Notes
    -----
    m = ρ π (D - t) t. On the least wall it is the lightest the pipe can be: a wall may be an eighth
    thicker. Lift plans take the heavier.

    Examples
    --------
    >>> round(pipe_mass(od=0.2, wall=0.01, density=1400.0), 2)
    8.36

    References
    ----------
    .. [1] Area of a ring times density.
    """
    positive("od", od, unit="m")
    positive("wall", wall, unit="m")
    between("density", density, low=500.0, high=3000.0, unit="kg/m3")
    if 2.0 * wall >= od:
        raise OutsideTable(
            f"wall {wall:g} m leaves no bore in {od:g} m",
            allowed="a wall under half the outside diameter",
            by="the valid range of this sum",
            next="check wall and outside diameter",
        )
    return density * math.pi * (od - wall) * wall


@figure(
    "water-mass",
    formula="m = ρ π d^2/4",
    symbols={
        "bore": ("d", "length", "inside diameter"),
        "density": ("ρ", "density", "density of the water"),
    },
    result=("m", "line_mass", "mass of one metre"),
    source="area of a circle times density",
)
def water_mass(bore: float, density: float) -> float:
    """Mass of the water in one metre of full pipe.

    Parameters
    ----------
    bore : float
        Inside diameter. [m]
    density : float
        Density of the water. [kg/m3]

    Returns
    -------
    float
        Mass of one metre. [kg/m]

    Valid range
    -----------
    bore > 0; 900.0 <= density <= 1300.0.

    Notes
    -----
    m = ρ π d^2/4

    Examples
    --------
    >>> round(water_mass(bore=0.2, density=1000.0), 2)
    31.42

    References
    ----------
    .. [1] Area of a circle times density.
    """
    positive("bore", bore, unit="m")
    between("density", density, low=900.0, high=1300.0, unit="kg/m3")
    return density * math.pi * bore * bore / 4.0
