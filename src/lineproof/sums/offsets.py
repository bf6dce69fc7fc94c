"""Offsets: true offset, advance, travel, roll and the turn of the fittings."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative

# Angles are between two straight legs: 0 goes straight on, pi/2 is a square turn.
_SQUARE = math.pi / 2


@figure(
    "true-offset",
    formula="t = sqrt(a^2 + b^2)",
    symbols={
        "side": ("a", "length", "offset to the side, square to the run"),
        "rise": ("b", "length", "offset up or down, square to the run"),
    },
    result=("t", "length", "true offset"),
    source="plane trigonometry",
)
def true_offset(side: float, rise: float) -> float:
    """Distance between two parallel runs that differ to the side and in height.

    Parameters
    ----------
    side : float
        Offset to the side, square to the run. [m]
    rise : float
        Offset up or down, square to the run. [m]

    Returns
    -------
    float
        True offset. [m]

    Valid range
    -----------
    side finite; rise finite.

    Notes
    -----
    t = sqrt(a^2 + b^2)

    Examples
    --------
    >>> true_offset(side=1.2, rise=0.5)
    1.3

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    finite("side", side, unit="m")
    finite("rise", rise, unit="m")
    return math.sqrt(side * side + rise * rise)


@figure(
    "advance",
    formula="v = t/tan(θ)",
    symbols={
        "true": ("t", "length", "true offset: distance between the two parallel runs"),
        "angle": ("θ", "angle", "turn of each of the two fittings"),
    },
    result=("v", "length", "advance along the run, centre to centre"),
    source="plane trigonometry",
)
def advance(true: float, angle: float) -> float:
    """How far the run moves on while it moves over by the true offset.

    Parameters
    ----------
    true : float
        True offset: distance between the two parallel runs. [m]
    angle : float
        Turn of each of the two fittings. [rad]

    Returns
    -------
    float
        Advance along the run, centre to centre. [m]

    Valid range
    -----------
    true >= 0; angle from 0.001 rad to pi/2.

    Notes
    -----
    v = t/tan(θ). With 45 degree fittings the advance is the true offset; with square turns it is 0.

    Examples
    --------
    >>> round(advance(true=1.0, angle=math.radians(45)), 9)
    1.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("true", true, unit="m")
    between("angle", angle, low=1e-3, high=_SQUARE, unit="rad")
    return true * math.cos(angle) / math.sin(angle)


@figure(
    "travel",
    formula="c = t/sin(θ)",
    symbols={
        "true": ("t", "length", "true offset: distance between the two parallel runs"),
        "angle": ("θ", "angle", "turn of each of the two fittings"),
    },
    result=("c", "length", "travel, centre to centre"),
    source="plane trigonometry",
)
def travel(true: float, angle: float) -> float:
    """Length of the leg between the two fittings of an offset, centre to centre.

    Parameters
    ----------
    true : float
        True offset: distance between the two parallel runs. [m]
    angle : float
        Turn of each of the two fittings. [rad]

    Returns
    -------
    float
        Travel, centre to centre. [m]

    Valid range
    -----------
    true >= 0; angle from 0.001 rad to pi/2.

    Notes
    -----
    c = t/sin(θ). With 45 degree fittings travel is 1.414 times the true offset.

    Examples
    --------
    >>> round(travel(true=1.0, angle=math.radians(45)), 5)
    1.41421

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("true", true, unit="m")
    between("angle", angle, low=1e-3, high=_SQUARE, unit="rad")
    return true / math.sin(angle)


@figure(
    "roll-angle",
    formula="r = atan2(a, b)",
    symbols={
        "side": ("a", "length", "offset to the side, square to the run"),
        "rise": ("b", "length", "offset up or down, square to the run"),
    },
    result=("r", "angle", "roll from straight up towards the side"),
    source="plane trigonometry",
)
def roll_angle(side: float, rise: float) -> float:
    """How far the plane of a rolling offset leans over from upright.

    Parameters
    ----------
    side : float
        Offset to the side, square to the run. [m]
    rise : float
        Offset up or down, square to the run. [m]

    Returns
    -------
    float
        Roll from straight up towards the side. [rad]

    Valid range
    -----------
    side and rise finite and not both 0.

    Notes
    -----
    r = atan2(a, b). 0 is straight up, pi/2 level to the side, pi straight down; to the other side
    it is negative.

    Examples
    --------
    >>> round(math.degrees(roll_angle(side=1.0, rise=1.0)), 9)
    45.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    finite("side", side, unit="m")
    finite("rise", rise, unit="m")
    if side == 0.0 and rise == 0.0:
        raise OutsideTable(
            "side and rise are both 0",
            allowed="an offset to the side, up or down",
            by="the valid range of this sum",
            next="leave the offset out",
        )
    return math.atan2(side, rise)


@figure(
    "rolling-travel",
    formula="c = sqrt(a^2 + b^2 + v^2)",
    symbols={
        "side": ("a", "length", "offset to the side, square to the run"),
        "rise": ("b", "length", "offset up or down, square to the run"),
        "advance": ("v", "length", "advance along the run"),
    },
    result=("c", "length", "travel, centre to centre"),
    source="plane trigonometry",
)
def rolling_travel(*, side: float, rise: float, advance: float) -> float:
    """Length of a leg that goes to the side, up and on at once, centre to centre.

    Parameters
    ----------
    side : float
        Offset to the side, square to the run. [m]
    rise : float
        Offset up or down, square to the run. [m]
    advance : float
        Advance along the run. [m]

    Returns
    -------
    float
        Travel, centre to centre. [m]

    Valid range
    -----------
    side finite; rise finite; advance finite.

    Notes
    -----
    c = sqrt(a^2 + b^2 + v^2)

    Examples
    --------
    >>> rolling_travel(side=2.0, rise=3.0, advance=6.0)
    7.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    finite("side", side, unit="m")
    finite("rise", rise, unit="m")
    finite("advance", advance, unit="m")
    return math.sqrt(side * side + rise * rise + advance * advance)


@figure(
    "fitting-angle",
    formula="θ = atan2(t, v)",
    symbols={
        "true": ("t", "length", "true offset: distance between the two parallel runs"),
        "advance": ("v", "length", "advance along the run, centre to centre"),
    },
    result=("θ", "angle", "turn of each fitting"),
    source="plane trigonometry",
)
def fitting_angle(true: float, advance: float) -> float:
    """Turn that an offset asks of each of its two fittings.

    Parameters
    ----------
    true : float
        True offset: distance between the two parallel runs. [m]
    advance : float
        Advance along the run, centre to centre. [m]

    Returns
    -------
    float
        Turn of each fitting. [rad]

    Valid range
    -----------
    true >= 0; advance finite; not both 0.

    Notes
    -----
    θ = atan2(t, v)

    Examples
    --------
    >>> round(math.degrees(fitting_angle(true=1.0, advance=1.0)), 9)
    45.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("true", true, unit="m")
    finite("advance", advance, unit="m")
    if true == 0.0 and advance == 0.0:
        raise OutsideTable(
            "true offset and advance are both 0",
            allowed="a leg of some length",
            by="the valid range of this sum",
            next="leave the offset out",
        )
    return math.atan2(true, advance)
