"""Diameters: mean, out of round, at one temperature; gaps, interference and play."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, narrowing, not_negative, positive


@figure(
    "out-of-round",
    formula="R = a - b",
    symbols={
        "largest": ("a", "length", "largest diameter"),
        "smallest": ("b", "length", "smallest diameter"),
    },
    result=("R", "length", "out of round"),
    source="ASTM D1785-15, 6.1.1 (abstract read)",
)
def out_of_round(largest: float, smallest: float) -> float:
    """Ovality: largest less smallest outside diameter at one place.

    Parameters
    ----------
    largest : float
        Largest diameter. [m]
    smallest : float
        Smallest diameter. [m]

    Returns
    -------
    float
        Out of round. [m]

    Valid range
    -----------
    largest >= smallest > 0.

    Notes
    -----
    R = a - b

    Examples
    --------
    >>> round(out_of_round(largest=0.325, smallest=0.322), 6)
    0.003

    References
    ----------
    .. [1] ASTM D1785-15, 6.1.1 (abstract): out-of-roundness is maximum less minimum diameter and
           applies before shipment only.
    """
    positive("largest", largest, unit="m")
    positive("smallest", smallest, unit="m")
    if smallest > largest:
        raise OutsideTable(
            f"smallest {smallest:g} m is above largest {largest:g} m",
            allowed="the larger reading first",
            by="the valid range of this sum",
            next="swap the two readings",
        )
    return largest - smallest


@figure(
    "entry-clearance",
    formula="k = A - (D + R/2)",
    symbols={
        "entrance": ("A", "length", "socket diameter at the entrance"),
        "od": ("D", "length", "mean outside diameter of the pipe"),
        "out_of_round": ("R", "length", "out of round: largest less smallest diameter"),
    },
    result=("k", "length", "room on the diameter; negative: round the pipe before it can start"),
    source="geometry",
)
def entry_clearance(*, entrance: float, od: float, out_of_round: float) -> float:
    """Room left at the entrance for the largest diameter of an oval pipe.

    Parameters
    ----------
    entrance : float
        Socket diameter at the entrance. [m]
    od : float
        Mean outside diameter of the pipe. [m]
    out_of_round : float
        Out of round: largest less smallest diameter. [m]

    Returns
    -------
    float
        Room on the diameter; negative: round the pipe before it can start. [m]

    Valid range
    -----------
    entrance > 0; od > 0; out_of_round >= 0.

    Notes
    -----
    k = A - (D + R/2). An ellipse of mean diameter D reaches D + R/2 across its longer axis.

    Examples
    --------
    >>> round(entry_clearance(entrance=12.78, od=12.75, out_of_round=0.12), 6)
    -0.03

    References
    ----------
    .. [1] Geometry of a slightly oval circle.
    """
    positive("entrance", entrance, unit="m")
    positive("od", od, unit="m")
    not_negative("out_of_round", out_of_round, unit="m")
    return entrance - (od + out_of_round / 2.0)


@figure(
    "mean-od",
    formula="D = c/π",
    symbols={
        "circumference": ("c", "length", "circumference, by tape round the pipe"),
    },
    result=("D", "length", "mean outside diameter"),
    source="ISO 4065:2018, 3.2",
)
def mean_od(circumference: float) -> float:
    """Mean outside diameter from the circumference.

    Parameters
    ----------
    circumference : float
        Circumference, by tape round the pipe. [m]

    Returns
    -------
    float
        Mean outside diameter. [m]

    Valid range
    -----------
    circumference > 0.

    Notes
    -----
    D = c/π

    Examples
    --------
    >>> round(mean_od(1.0), 5)
    0.31831

    References
    ----------
    .. [1] ISO 4065:2018, 3.2: mean outside diameter is circumference over pi.
    """
    positive("circumference", circumference, unit="m")
    return circumference / math.pi


@figure(
    "diameter-at",
    formula="D_T = D (1 + α (T - T_m))",
    symbols={
        "diameter": ("D", "length", "diameter as measured"),
        "alpha": ("α", "expansion", "expansion coefficient of the material"),
        "temperature_measured": ("T_m", "temperature", "wall temperature when measured"),
        "temperature": ("T", "temperature", "temperature to bring it to"),
    },
    result=("D_T", "length", "diameter at that temperature"),
    source="definition of the expansion coefficient",
)
def diameter_at(*, diameter: float, alpha: float, temperature_measured: float, temperature: float) -> float:
    """A diameter measured warm or cold, brought to another temperature.

    Parameters
    ----------
    diameter : float
        Diameter as measured. [m]
    alpha : float
        Expansion coefficient of the material. [1/K]
    temperature_measured : float
        Wall temperature when measured. [K]
    temperature : float
        Temperature to bring it to. [K]

    Returns
    -------
    float
        Diameter at that temperature. [m]

    Valid range
    -----------
    diameter > 0; alpha from 0 to 0.001 per K; temperatures from 230 to 350 K.

    Notes
    -----
    D_T = D (1 + α (T - T_m)). Pipe and fitting must be compared at one temperature: sun on the pipe
    alone makes a false tight fit.

    Examples
    --------
    >>> warm = diameter_at(diameter=0.32385, alpha=5.4e-5, temperature_measured=293.15, temperature=318.15)
    >>> round((warm - 0.32385) * 1000, 3)
    0.437

    References
    ----------
    .. [1] Linear expansion (definition of alpha).
    """
    positive("diameter", diameter, unit="m")
    between("alpha", alpha, low=0.0, high=1e-3, unit="1/K")
    between("temperature_measured", temperature_measured, low=230.0, high=350.0, unit="K")
    between("temperature", temperature, low=230.0, high=350.0, unit="K")
    return diameter * (1.0 + alpha * (temperature - temperature_measured))


@figure(
    "mid-depth-gap",
    formula="g = d_m - D",
    symbols={
        "socket_mid": ("d_m", "length", "socket inside diameter at mid depth"),
        "od": ("D", "length", "mean outside diameter of the pipe"),
    },
    result=("g", "length", "gap on the diameter; negative is interference"),
    source="geometry",
)
def mid_depth_gap(socket_mid: float, od: float) -> float:
    """Gap of a metric socket: its inside diameter at mid depth less the pipe's mean outside diameter.

    Parameters
    ----------
    socket_mid : float
        Socket inside diameter at mid depth. [m]
    od : float
        Mean outside diameter of the pipe. [m]

    Returns
    -------
    float
        Gap on the diameter; negative is interference. [m]

    Valid range
    -----------
    socket_mid > 0; od > 0.

    Notes
    -----
    g = d_m - D. A metric socket is judged by this gap, not by the depth at which the pipe stops.

    Examples
    --------
    >>> round(mid_depth_gap(socket_mid=0.3154, od=0.3150), 6)
    0.0004

    References
    ----------
    .. [1] Definition; limits come from ISO 727-1 or the cement (from memory, not read).
    """
    positive("socket_mid", socket_mid, unit="m")
    positive("od", od, unit="m")
    return socket_mid - od


@figure(
    "bottom-interference",
    formula="i = D - B",
    symbols={
        "od": ("D", "length", "mean outside diameter of the pipe"),
        "bottom": ("B", "length", "socket diameter at the bottom"),
    },
    result=("i", "length", "interference on the diameter; negative is a gap"),
    source="geometry",
)
def bottom_interference(od: float, bottom: float) -> float:
    """Interference on the diameter when the pipe is at the bottom of its socket.

    Parameters
    ----------
    od : float
        Mean outside diameter of the pipe. [m]
    bottom : float
        Socket diameter at the bottom. [m]

    Returns
    -------
    float
        Interference on the diameter; negative is a gap. [m]

    Valid range
    -----------
    od > 0; bottom > 0.

    Notes
    -----
    i = D - B

    Examples
    --------
    >>> round(bottom_interference(od=6.625, bottom=6.614), 6)
    0.011

    References
    ----------
    .. [1] Linear taper of the socket from entrance to bottom (geometry).
    """
    positive("od", od, unit="m")
    positive("bottom", bottom, unit="m")
    return od - bottom


@figure(
    "end-play",
    formula="w = (A - D) + r (A + B - 2 D)/L",
    symbols={
        "od": ("D", "length", "mean outside diameter of the pipe"),
        "entrance": ("A", "length", "socket diameter at the entrance"),
        "bottom": ("B", "length", "socket diameter at the bottom"),
        "depth": ("L", "length", "depth of the socket to its stop"),
        "reach": ("r", "length", "length of pipe outside of the socket"),
    },
    result=("w", "length", "side to side at the free end"),
    source="geometry",
)
def end_play(*, od: float, entrance: float, bottom: float, depth: float, reach: float) -> float:
    """How far the free end of a loose pipe moves from side to side.

    Parameters
    ----------
    od : float
        Mean outside diameter of the pipe. [m]
    entrance : float
        Socket diameter at the entrance. [m]
    bottom : float
        Socket diameter at the bottom. [m]
    depth : float
        Depth of the socket to its stop. [m]
    reach : float
        Length of pipe outside of the socket. [m]

    Returns
    -------
    float
        Side to side at the free end. [m]

    Valid range
    -----------
    entrance > bottom >= od > 0; depth > 0; reach >= 0.

    Notes
    -----
    w = (A - D) + r (A + B - 2 D)/L. The pipe leans until it touches the entrance on one side and
    the bottom on the other, both ways.

    Examples
    --------
    >>> round(end_play(od=1.0, entrance=1.03, bottom=1.0, depth=0.5, reach=2.0), 6)
    0.15

    References
    ----------
    .. [1] Geometry of a straight pipe in a taper, small angles.
    """
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    not_negative("reach", reach, unit="m")
    narrowing(entrance, bottom)
    if bottom < od:
        raise OutsideTable(
            "the pipe jams before the bottom, so it has no play",
            allowed="a pipe no larger than the bottom of its socket",
            by="the valid range of this sum",
            next="ask for the dry fit instead",
        )
    return (entrance - od) + reach * (entrance + bottom - 2.0 * od) / depth
