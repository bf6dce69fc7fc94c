"""Sticks: laying and overall length of belled pipe, and how many sticks a leg takes."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import not_negative, positive


@figure(
    "laying-length",
    formula="y = O - S",
    symbols={
        "overall": ("O", "length", "overall length of the stick, bell included"),
        "depth": ("S", "length", "depth of the bell"),
    },
    result=("y", "length", "laying length"),
    source="AS/NZS 1477:2017 cl. 4.3.3",
)
def laying_length(overall: float, depth: float) -> float:
    """Length that one belled stick adds to the run.

    Parameters
    ----------
    overall : float
        Overall length of the stick, bell included. [m]
    depth : float
        Depth of the bell. [m]

    Returns
    -------
    float
        Laying length. [m]

    Valid range
    -----------
    overall > 0; 0 <= depth < overall.

    Notes
    -----
    y = O - S

    Examples
    --------
    >>> laying_length(overall=6.0, depth=0.125)
    5.875

    References
    ----------
    .. [1] AS/NZS 1477:2017 cl. 4.3.3: effective length of a solvent-cement belled pipe is its
           overall length less the socket length.
    """
    positive("overall", overall, unit="m")
    not_negative("depth", depth, unit="m")
    if depth >= overall:
        raise OutsideTable(
            f"bell depth {depth:g} m is not less than the stick of {overall:g} m",
            allowed="a bell shorter than its stick",
            by="the valid range of this sum",
            next="check whether the stick length is overall or laying length",
        )
    return overall - depth


@figure(
    "overall-length",
    formula="O = y + S",
    symbols={
        "laying": ("y", "length", "laying length of the stick"),
        "depth": ("S", "length", "depth of the bell"),
    },
    result=("O", "length", "overall length, bell included"),
    source="AS/NZS 1477:2017 cl. 4.3.3",
)
def overall_length(laying: float, depth: float) -> float:
    """Overall length of a belled stick that is sold by its laying length.

    Parameters
    ----------
    laying : float
        Laying length of the stick. [m]
    depth : float
        Depth of the bell. [m]

    Returns
    -------
    float
        Overall length, bell included. [m]

    Valid range
    -----------
    laying > 0; depth >= 0.

    Notes
    -----
    O = y + S

    Examples
    --------
    >>> overall_length(laying=6.0, depth=0.125)
    6.125

    References
    ----------
    .. [1] AS/NZS 1477:2017 cl. 4.3.3: effective length of a solvent-cement belled pipe is its
           overall length less the socket length.
    """
    positive("laying", laying, unit="m")
    not_negative("depth", depth, unit="m")
    return laying + depth


@figure(
    "sticks-for-leg",
    formula="N = ceil((L + z)/(y + z))",
    symbols={
        "length": ("L", "length", "length of the leg between its end stops"),
        "stick": ("y", "length", "laying length of one stick"),
        "stop": ("z", "length", "thickness of the stop in each coupling between sticks; 0 for bells"),
    },
    result=("N", "count", "number of sticks"),
    source="arithmetic",
)
def sticks_for_leg(*, length: float, stick: float, stop: float = 0.0) -> int:
    """Fewest sticks that one straight leg is made of.

    Parameters
    ----------
    length : float
        Length of the leg between its end stops. [m]
    stick : float
        Laying length of one stick. [m]
    stop : float
        Thickness of the stop in each coupling between sticks; 0 for bells. [m]

    Returns
    -------
    int
        Number of sticks. [-]

    Valid range
    -----------
    length > 0; stick > 0; stop >= 0.

    Notes
    -----
    N = ceil((L + z)/(y + z)). N sticks with N - 1 couplings are N y + (N - 1) z long. Kerf and end
    trim are not in it.

    Examples
    --------
    >>> sticks_for_leg(length=12.0, stick=6.0, stop=0.0)
    2

    References
    ----------
    .. [1] Arithmetic; no source needed.
    """
    positive("length", length, unit="m")
    positive("stick", stick, unit="m")
    not_negative("stop", stop, unit="m")
    # A leg of exactly so many sticks must not need one more for the last bit of a float.
    return math.ceil((length + stop) / (stick + stop) - 1e-9)
