"""Hands: time to coat a joint, hands and brushes for it within the working time."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import positive, whole


@figure(
    "coating-time",
    formula="t = A n/r",
    symbols={
        "area": ("A", "area", "bond area of the joint"),
        "coats": ("n", "plain", "times that the area is brushed, pipe and socket together"),
        "rate": ("r", "coverage", "area that one brush coats in a time"),
    },
    result=("t", "time", "coating time for one pair of hands"),
    source="common practice, no source",
    note="both faces must still be wet at the push",
)
def coating_time(*, area: float, coats: float, rate: float) -> float:
    """Time that one pair of hands needs to brush all coats of a joint.

    Parameters
    ----------
    area : float
        Bond area of the joint. [m2]
    coats : float
        Times that the area is brushed, pipe and socket together. [-]
    rate : float
        Area that one brush coats in a time. [m2/s]

    Returns
    -------
    float
        Coating time for one pair of hands. [s]

    Valid range
    -----------
    area > 0; coats > 0; rate > 0.

    Notes
    -----
    t = A n/r. The rate is the crew's own, timed on scrap. Both faces must still be wet at the push.

    Examples
    --------
    >>> coating_time(area=0.24, coats=3.0, rate=0.004)
    180.0

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("area", area, unit="m2")
    positive("coats", coats, unit="-")
    positive("rate", rate, unit="m2/s")
    return area * coats / rate


@figure(
    "coating-rate",
    formula="r = A n/t",
    symbols={
        "area": ("A", "area", "bond area of the joint"),
        "coats": ("n", "plain", "times that the area is brushed, pipe and socket together"),
        "time": ("t", "time", "time there is for coating"),
    },
    result=("r", "coverage", "area coated in a time, all brushes together"),
    source="common practice, no source",
)
def coating_rate(*, area: float, coats: float, time: float) -> float:
    """Rate that all brushes together must reach to finish within the working time.

    Parameters
    ----------
    area : float
        Bond area of the joint. [m2]
    coats : float
        Times that the area is brushed, pipe and socket together. [-]
    time : float
        Time there is for coating. [s]

    Returns
    -------
    float
        Area coated in a time, all brushes together. [m2/s]

    Valid range
    -----------
    area > 0; coats > 0; time > 0.

    Notes
    -----
    r = A n/t

    Examples
    --------
    >>> round(coating_rate(area=0.24, coats=3.0, time=180.0), 6)
    0.004

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("area", area, unit="m2")
    positive("coats", coats, unit="-")
    positive("time", time, unit="s")
    return area * coats / time


@figure(
    "hands-needed",
    formula="N = max(m, ceil(t/w))",
    symbols={
        "coating_time": ("t", "time", "coating time for one pair of hands"),
        "working_time": ("w", "time", "working time of the cement in this wind, sun and heat"),
        "at_least": ("m", "count", "fewest hands that the procedure asks for"),
    },
    result=("N", "count", "hands that brush"),
    source="common practice, no source",
    note="hands that brush only; the procedure's crew rule is the floor",
)
def hands_needed(*, coating_time: float, working_time: float, at_least: float = 1.0) -> int:
    """Hands that must brush at once to finish within the working time.

    Parameters
    ----------
    coating_time : float
        Coating time for one pair of hands. [s]
    working_time : float
        Working time of the cement in this wind, sun and heat. [s]
    at_least : float
        Fewest hands that the procedure asks for. [-]

    Returns
    -------
    int
        Hands that brush. [-]

    Valid range
    -----------
    coating_time > 0; working_time > 0; at_least a whole number, at least 1.

    Notes
    -----
    N = max(m, ceil(t/w)). Hands that brush only: puller, timekeeper and fire watch come on top.
    Working time comes from the container or the procedure.

    Examples
    --------
    >>> hands_needed(coating_time=150.0, working_time=120.0, at_least=1.0)
    2

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("coating_time", coating_time, unit="s")
    positive("working_time", working_time, unit="s")
    whole("at_least", at_least, low=1)
    return max(int(at_least), math.ceil(coating_time / working_time - 1e-9))


@figure(
    "applicator-width",
    formula="b = min(D/2, w)",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "widest": ("w", "length", "widest applicator to be had"),
    },
    result=("b", "length", "width of applicator"),
    source="practice of ASTM D2855, from memory",
)
def applicator_width(od: float, widest: float) -> float:
    """Width of applicator for a pipe: half its diameter, up to the widest there is.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    widest : float
        Widest applicator to be had. [m]

    Returns
    -------
    float
        Width of applicator. [m]

    Valid range
    -----------
    od > 0; widest > 0.

    Notes
    -----
    b = min(D/2, w)

    Examples
    --------
    >>> applicator_width(od=0.25, widest=0.15)
    0.125

    References
    ----------
    .. [1] About half the pipe diameter: practice of ASTM D2855, from memory.
    """
    positive("od", od, unit="m")
    positive("widest", widest, unit="m")
    return min(od / 2.0, widest)


@figure(
    "applicators",
    formula="N = ceil(D/(2 w))",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "widest": ("w", "length", "widest applicator to be had"),
    },
    result=("N", "count", "applicators at once"),
    source="practice of ASTM D2855, from memory",
)
def applicators(od: float, widest: float) -> int:
    """Applicators to work side by side where one of half the diameter cannot be had.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    widest : float
        Widest applicator to be had. [m]

    Returns
    -------
    int
        Applicators at once. [-]

    Valid range
    -----------
    od > 0; widest > 0.

    Notes
    -----
    N = ceil(D/(2 w)). More applicators mean more hands.

    Examples
    --------
    >>> applicators(od=0.5, widest=0.125)
    2

    References
    ----------
    .. [1] About half the pipe diameter: practice of ASTM D2855, from memory.
    """
    positive("od", od, unit="m")
    positive("widest", widest, unit="m")
    return math.ceil(od / (2.0 * widest) - 1e-9)
