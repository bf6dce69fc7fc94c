"""Forces: end load, bend thrust, held heat, and the shear in a bond."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative, positive


@figure(
    "end-load",
    formula="F = p π D^2/4",
    symbols={
        "pressure": ("p", "pressure", "gauge pressure in the pipe"),
        "od": ("D", "length", "outside diameter of the pipe"),
    },
    result=("F", "force", "force along the pipe"),
    source="statics",
    note=("keep out of the line of an end or bend under pressure; anchors are the engineer's"),
)
def end_load(pressure: float, od: float) -> float:
    """End load of a capped or turned pipe under pressure.

    Parameters
    ----------
    pressure : float
        Gauge pressure in the pipe. [Pa]
    od : float
        Outside diameter of the pipe. [m]

    Returns
    -------
    float
        Force along the pipe. [N]

    Valid range
    -----------
    pressure >= 0; od > 0.

    Notes
    -----
    F = p π D^2/4. Taken on the outside diameter, which is where a cemented joint seals at worst.

    Examples
    --------
    >>> round(end_load(pressure=1.0e6, od=0.1))
    7854

    References
    ----------
    .. [1] Pressure times area (statics).
    """
    not_negative("pressure", pressure, unit="Pa")
    positive("od", od, unit="m")
    return pressure * math.pi * od * od / 4.0


@figure(
    "bend-thrust",
    formula="F = 2 p (π D^2/4) sin(θ/2)",
    symbols={
        "pressure": ("p", "pressure", "gauge pressure in the pipe"),
        "od": ("D", "length", "outside diameter of the pipe"),
        "angle": ("θ", "angle", "turn of the bend"),
    },
    result=("F", "force", "thrust outward"),
    source="statics",
    note=("keep out of the line of an end or bend under pressure; anchors are the engineer's"),
)
def bend_thrust(*, pressure: float, od: float, angle: float) -> float:
    """Thrust of a bend under pressure, along the line that halves it.

    Parameters
    ----------
    pressure : float
        Gauge pressure in the pipe. [Pa]
    od : float
        Outside diameter of the pipe. [m]
    angle : float
        Turn of the bend. [rad]

    Returns
    -------
    float
        Thrust outward. [N]

    Valid range
    -----------
    pressure >= 0; od > 0; angle from 0 to pi.

    Notes
    -----
    F = 2 p (π D^2/4) sin(θ/2). Still water: the change of momentum is left out.

    Examples
    --------
    >>> round(bend_thrust(pressure=1.0e6, od=0.1, angle=math.pi / 2))
    11107

    References
    ----------
    .. [1] Statics of two end loads.
    """
    not_negative("pressure", pressure, unit="Pa")
    positive("od", od, unit="m")
    between("angle", angle, low=0.0, high=math.pi, unit="rad")
    return 2.0 * pressure * (math.pi * od * od / 4.0) * math.sin(angle / 2.0)


@figure(
    "restrained-force",
    formula="F = E α ΔT A",
    symbols={
        "modulus": ("E", "modulus", "modulus of pipe and fitting at this temperature and time"),
        "alpha": ("α", "expansion", "expansion coefficient of the material"),
        "dT_K": ("ΔT", "temperature_step", "later temperature less earlier temperature"),
        "area": ("A", "area", "area of the pipe wall"),
    },
    result=("F", "force", "force on the anchors; positive pushes, negative pulls"),
    source="Hooke's law",
    note="anchors are the engineer's",
)
def restrained_force(*, modulus: float, alpha: float, dT_K: float, area: float) -> float:
    """Force in a pipe that is held at both ends while its temperature changes.

    Parameters
    ----------
    modulus : float
        Modulus of pipe and fitting at this temperature and time. [Pa]
    alpha : float
        Expansion coefficient of the material. [1/K]
    dT_K : float
        Later temperature less earlier temperature. [K]
    area : float
        Area of the pipe wall. [m2]

    Returns
    -------
    float
        Force on the anchors; positive pushes, negative pulls. [N]

    Valid range
    -----------
    modulus and area > 0; alpha from 0 to 0.001 per K; dT_K finite.

    Notes
    -----
    F = E α ΔT A. With the short-term modulus; relaxation makes it less.

    Examples
    --------
    >>> round(restrained_force(modulus=2.8e9, alpha=5.4e-5, dT_K=10.0, area=0.005))
    7560

    References
    ----------
    .. [1] Hooke's law with thermal strain held to 0.
    """
    positive("modulus", modulus, unit="Pa")
    between("alpha", alpha, low=0.0, high=1e-3, unit="1/K")
    finite("dT_K", dT_K, unit="K")
    positive("area", area, unit="m2")
    return modulus * alpha * dT_K * area


@figure(
    "joint-shear",
    formula="τ = p D/(4 L φ)",
    symbols={
        "pressure": ("p", "pressure", "gauge pressure in the pipe"),
        "od": ("D", "length", "outside diameter of the pipe"),
        "depth": ("L", "length", "depth of the socket to its stop"),
        "bonded": ("φ", "plain", "share of the socket face that is bonded"),
    },
    result=("τ", "pressure", "mean shear stress"),
    source="statics",
    note="never a reason to shorten a cure",
)
def joint_shear(*, pressure: float, od: float, depth: float, bonded: float = 1.0) -> float:
    """Mean shear in the bond of a joint that carries the end load.

    Parameters
    ----------
    pressure : float
        Gauge pressure in the pipe. [Pa]
    od : float
        Outside diameter of the pipe. [m]
    depth : float
        Depth of the socket to its stop. [m]
    bonded : float
        Share of the socket face that is bonded. [-]

    Returns
    -------
    float
        Mean shear stress. [Pa]

    Valid range
    -----------
    pressure >= 0; od and depth > 0; bonded from 0.01 to 1.

    Notes
    -----
    τ = p D/(4 L φ). End load p pi D^2/4 over the area pi D L. A mean: the ends of the bond carry
    more. It never shortens a cure.

    Examples
    --------
    >>> round(joint_shear(pressure=1.0e6, od=0.16, depth=0.08, bonded=1.0))
    500000

    References
    ----------
    .. [1] Statics (derived).
    """
    not_negative("pressure", pressure, unit="Pa")
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    between("bonded", bonded, low=0.01, high=1.0, unit="-")
    return pressure * od / (4.0 * depth * bonded)
