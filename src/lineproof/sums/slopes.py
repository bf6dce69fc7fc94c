"""Slopes: a leg told in plan or along the pipe, and its rise."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import finite, not_negative


@figure(
    "rise-from-plan",
    formula="h = m p",
    symbols={
        "plan": ("p", "length", "length in plan (level)"),
        "slope": ("m", "plain", "rise per length in plan; 1:100 is 0.01, down is negative"),
    },
    result=("h", "length", "rise, negative when the leg falls"),
    source="plane trigonometry",
)
def rise_from_plan(plan: float, slope: float) -> float:
    """Rise of a sloped leg whose length in plan is known.

    Parameters
    ----------
    plan : float
        Length in plan (level). [m]
    slope : float
        Rise per length in plan; 1:100 is 0.01, down is negative. [-]

    Returns
    -------
    float
        Rise, negative when the leg falls. [m]

    Valid range
    -----------
    plan >= 0; slope finite.

    Notes
    -----
    h = m p

    Examples
    --------
    >>> rise_from_plan(plan=20.0, slope=-0.01)
    -0.2

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("plan", plan, unit="m")
    finite("slope", slope, unit="-")
    return slope * plan


@figure(
    "along-from-plan",
    formula="s = p sqrt(1 + m^2)",
    symbols={
        "plan": ("p", "length", "length in plan (level)"),
        "slope": ("m", "plain", "rise per length in plan; 1:100 is 0.01, down is negative"),
    },
    result=("s", "length", "length along the pipe"),
    source="plane trigonometry",
)
def along_from_plan(plan: float, slope: float) -> float:
    """Length along the pipe of a sloped leg whose length in plan is known.

    Parameters
    ----------
    plan : float
        Length in plan (level). [m]
    slope : float
        Rise per length in plan; 1:100 is 0.01, down is negative. [-]

    Returns
    -------
    float
        Length along the pipe. [m]

    Valid range
    -----------
    plan >= 0; slope finite.

    Notes
    -----
    s = p sqrt(1 + m^2)

    Examples
    --------
    >>> along_from_plan(plan=4.0, slope=0.75)
    5.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("plan", plan, unit="m")
    finite("slope", slope, unit="-")
    return plan * math.sqrt(1.0 + slope * slope)


@figure(
    "plan-from-along",
    formula="p = s/sqrt(1 + m^2)",
    symbols={
        "along": ("s", "length", "length along the pipe"),
        "slope": ("m", "plain", "rise per length in plan; 1:100 is 0.01, down is negative"),
    },
    result=("p", "length", "length in plan"),
    source="plane trigonometry",
)
def plan_from_along(along: float, slope: float) -> float:
    """Length in plan of a sloped leg whose length along the pipe is known.

    Parameters
    ----------
    along : float
        Length along the pipe. [m]
    slope : float
        Rise per length in plan; 1:100 is 0.01, down is negative. [-]

    Returns
    -------
    float
        Length in plan. [m]

    Valid range
    -----------
    along >= 0; slope finite.

    Notes
    -----
    p = s/sqrt(1 + m^2)

    Examples
    --------
    >>> plan_from_along(along=5.0, slope=0.75)
    4.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("along", along, unit="m")
    finite("slope", slope, unit="-")
    return along / math.sqrt(1.0 + slope * slope)


@figure(
    "rise-from-along",
    formula="h = m s/sqrt(1 + m^2)",
    symbols={
        "along": ("s", "length", "length along the pipe"),
        "slope": ("m", "plain", "rise per length in plan; 1:100 is 0.01, down is negative"),
    },
    result=("h", "length", "rise, negative when the leg falls"),
    source="plane trigonometry",
)
def rise_from_along(along: float, slope: float) -> float:
    """Rise of a sloped leg whose length along the pipe is known.

    Parameters
    ----------
    along : float
        Length along the pipe. [m]
    slope : float
        Rise per length in plan; 1:100 is 0.01, down is negative. [-]

    Returns
    -------
    float
        Rise, negative when the leg falls. [m]

    Valid range
    -----------
    along >= 0; slope finite.

    Notes
    -----
    h = m s/sqrt(1 + m^2)

    Examples
    --------
    >>> rise_from_along(along=5.0, slope=-0.75)
    -3.0

    References
    ----------
    .. [1] Plane trigonometry (Pythagoras; definitions of sine and tangent).
    """
    not_negative("along", along, unit="m")
    finite("slope", slope, unit="-")
    return slope * along / math.sqrt(1.0 + slope * slope)
