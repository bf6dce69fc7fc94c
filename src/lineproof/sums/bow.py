"""Bow: how far a bowed run stands off, and the travel it gains."""

from __future__ import annotations

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import positive


@figure(
    "sagitta",
    formula="h = L^2/(8 R)",
    symbols={
        "length": ("L", "length", "length of the run"),
        "radius": ("R", "length", "radius of the bow"),
    },
    result=("h", "length", "sagitta"),
    source="geometry of a shallow circle segment",
)
def sagitta(length: float, radius: float) -> float:
    """How far a bowed run stands off its straight line at the middle.

    Parameters
    ----------
    length : float
        Length of the run. [m]
    radius : float
        Radius of the bow. [m]

    Returns
    -------
    float
        Sagitta. [m]

    Valid range
    -----------
    0 < length <= radius.

    Notes
    -----
    h = L^2/(8 R)

    Examples
    --------
    >>> sagitta(length=8.0, radius=80.0)
    0.1

    References
    ----------
    .. [1] Circle segment, shallow: h = L^2/(8 R), gain = 8 h^2/(3 L).
    """
    positive("length", length, unit="m")
    positive("radius", radius, unit="m")
    if length > radius:
        raise OutsideTable(
            f"a run of {length:g} m at a radius of {radius:g} m is no shallow bow",
            allowed="a run no longer than the radius",
            by="the valid range of this sum",
            next="take a shorter run",
        )
    return length * length / (8.0 * radius)


@figure(
    "bow-gain",
    formula="e = L^3/(24 R^2)",
    symbols={
        "length": ("L", "length", "length of the run"),
        "radius": ("R", "length", "radius of the bow"),
    },
    result=("e", "length", "gain in length"),
    source="geometry of a shallow circle segment",
    note=("a least radius of 300 outside diameters is from memory: confirm it; large pipe is never sprung"),
)
def bow_gain(length: float, radius: float) -> float:
    """How much the two ends of a bowed run come together: the travel that springing gives.

    Parameters
    ----------
    length : float
        Length of the run. [m]
    radius : float
        Radius of the bow. [m]

    Returns
    -------
    float
        Gain in length. [m]

    Valid range
    -----------
    0 < length <= radius.

    Notes
    -----
    e = L^3/(24 R^2). The same as 8 h^2/(3 L) with the sagitta h. Never spring a joint that is
    setting; large pipe gives almost nothing.

    Examples
    --------
    >>> bow_gain(length=12.0, radius=60.0)
    0.02

    References
    ----------
    .. [1] Circle segment, shallow: h = L^2/(8 R), gain = 8 h^2/(3 L).
    """
    positive("length", length, unit="m")
    positive("radius", radius, unit="m")
    if length > radius:
        raise OutsideTable(
            f"a run of {length:g} m at a radius of {radius:g} m is no shallow bow",
            allowed="a run no longer than the radius",
            by="the valid range of this sum",
            next="take a shorter run",
        )
    return length**3 / (24.0 * radius * radius)
