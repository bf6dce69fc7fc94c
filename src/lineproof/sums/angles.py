"""Angles at a fitting: what the drawing asks for, what the fitting turns, what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterable

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative


@figure(
    "leftover-angle",
    formula="δ = θ - φ",
    symbols={
        "angle": ("θ", "angle", "turn that the drawing asks for"),
        "fitting": ("φ", "angle", "turn of the fitting"),
    },
    result=("δ", "angle", "angle left over, positive when the fitting turns too little"),
    source="common practice, no source",
)
def leftover(angle: float, fitting: float) -> float:
    """Angle that the drawing asks for beyond what the fitting turns.

    Parameters
    ----------
    angle : float
        Turn that the drawing asks for. [rad]
    fitting : float
        Turn of the fitting. [rad]

    Returns
    -------
    float
        Angle left over, positive when the fitting turns too little. [rad]

    Valid range
    -----------
    angle and fitting from 0 to pi.

    Notes
    -----
    δ = θ - φ. It is shown with where it lands and never spread silently.

    Examples
    --------
    >>> round(math.degrees(leftover(angle=math.radians(46), fitting=math.radians(45))), 9)
    1.0

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    between("angle", angle, low=0.0, high=math.pi, unit="rad")
    between("fitting", fitting, low=0.0, high=math.pi, unit="rad")
    return angle - fitting


def nearest_fitting(angle: float, fittings: Iterable[float]) -> tuple[float, float]:
    """Listed fitting whose turn is nearest to the one asked for.

    Parameters
    ----------
    angle : float
        Turn that the drawing asks for. [rad]
    fittings : iterable of float
        Turns of the fittings that can be had. [rad]

    Returns
    -------
    tuple of float
        Turn of the nearest fitting and the angle left over (see ``leftover``). [rad]

    Raises
    ------
    OutsideTable
        If no fitting is listed, or the angle lies outside 0 to pi.

    Valid range
    -----------
    angle from 0 to pi. Of two fittings equally near, the smaller turn is taken.

    Examples
    --------
    >>> listed = [math.radians(d) for d in (22.5, 45, 90)]
    >>> turn, left = nearest_fitting(math.radians(88), listed)
    >>> round(math.degrees(turn)), round(math.degrees(left), 6)
    (90, -2.0)
    """
    between("angle", angle, low=0.0, high=math.pi, unit="rad")
    listed = sorted(fittings)
    if not listed:
        raise OutsideTable(
            "no fitting is listed",
            allowed="at least one turn",
            by="the valid range of this sum",
            next="list the fittings that can be had",
        )
    nearest = min(listed, key=lambda turn: abs(angle - turn))
    return nearest, angle - nearest


@figure(
    "angle-miss",
    formula="e = L tan(ε)",
    symbols={
        "length": ("L", "length", "length of the branch"),
        "error": ("ε", "angle", "error of angle"),
    },
    result=("e", "length", "sideways miss at the end of the branch"),
    source="plane trigonometry",
)
def angle_miss(length: float, error: float) -> float:
    """How far a branch end is off when its fitting has set at a wrong angle.

    Parameters
    ----------
    length : float
        Length of the branch. [m]
    error : float
        Error of angle. [rad]

    Returns
    -------
    float
        Sideways miss at the end of the branch. [m]

    Valid range
    -----------
    length >= 0; -1.5 <= error <= 1.5.

    Notes
    -----
    e = L tan(ε)

    Examples
    --------
    >>> round(angle_miss(length=3.0, error=math.radians(1)), 4)
    0.0524

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("length", length, unit="m")
    between("error", error, low=-1.5, high=1.5, unit="rad")
    return length * math.tan(error)
