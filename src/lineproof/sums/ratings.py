"""Ratings: what a pipe wall is rated for, at temperature, and what is left of a limit."""

from __future__ import annotations

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative, positive


@figure(
    "rating",
    formula="P = 2 S t/(D - t)",
    symbols={
        "stress": ("S", "pressure", "hydrostatic design stress"),
        "od": ("D", "length", "outside diameter of the pipe"),
        "wall": ("t", "length", "least wall"),
    },
    result=("P", "pressure", "pressure rating"),
    source="ISO relation, as in ASTM D1785 (document not read)",
    note="the pipe alone; fittings, flanges, unions, valves and threads carry less",
)
def rating(*, stress: float, od: float, wall: float) -> float:
    """Pressure rating of a pipe from its design stress, diameter and wall.

    Parameters
    ----------
    stress : float
        Hydrostatic design stress. [Pa]
    od : float
        Outside diameter of the pipe. [m]
    wall : float
        Least wall. [m]

    Returns
    -------
    float
        Pressure rating. [Pa]

    Valid range
    -----------
    stress, od and wall > 0; wall under half the od.

    Notes
    -----
    P = 2 S t/(D - t). For the pipe alone, at the temperature the stress holds for. Fittings,
    flanges, unions, valves and threads carry less.

    Examples
    --------
    >>> round(rating(stress=2000.0, od=6.625, wall=0.432), 2)
    279.02

    References
    ----------
    .. [1] ISO relation between pressure, stress, diameter and wall, as in the appendix of ASTM
           D1785 (document not read; a copy of its pressure table agrees to its rounding) and in 16
           NYCRR 255.121.
    """
    positive("stress", stress, unit="Pa")
    positive("od", od, unit="m")
    positive("wall", wall, unit="m")
    if 2.0 * wall >= od:
        raise OutsideTable(
            f"wall {wall:g} m leaves no bore in {od:g} m",
            allowed="a wall under half the outside diameter",
            by="the valid range of this sum",
            next="check wall and outside diameter",
        )
    return 2.0 * stress * wall / (od - wall)


@figure(
    "rating-by-ratio",
    formula="P = 2 S/(R - 1)",
    symbols={
        "stress": ("S", "pressure", "hydrostatic design stress"),
        "ratio": ("R", "plain", "outside diameter over least wall (DR, SDR)"),
    },
    result=("P", "pressure", "pressure rating"),
    source="ISO relation, as in ASTM D1785 (document not read)",
    note="the pipe alone; fittings, flanges, unions, valves and threads carry less",
)
def rating_by_ratio(stress: float, ratio: float) -> float:
    """Pressure rating of a pipe from its design stress and dimension ratio.

    Parameters
    ----------
    stress : float
        Hydrostatic design stress. [Pa]
    ratio : float
        Outside diameter over least wall (DR, SDR). [-]

    Returns
    -------
    float
        Pressure rating. [Pa]

    Valid range
    -----------
    stress > 0; 3.0 <= ratio <= 100.0.

    Notes
    -----
    P = 2 S/(R - 1)

    Examples
    --------
    >>> rating_by_ratio(stress=2000.0, ratio=26.0)
    160.0

    References
    ----------
    .. [1] ISO relation between pressure, stress, diameter and wall, as in the appendix of ASTM
           D1785 (document not read; a copy of its pressure table agrees to its rounding) and in 16
           NYCRR 255.121.
    """
    positive("stress", stress, unit="Pa")
    between("ratio", ratio, low=3.0, high=100.0, unit="-")
    return 2.0 * stress / (ratio - 1.0)


@figure(
    "derated",
    formula="P = P_0 f",
    symbols={
        "at_73F": ("P_0", "pressure", "rating at 73 F (23 C)"),
        "factor": ("f", "plain", "temperature factor of the material, from its table"),
    },
    result=("P", "pressure", "rating at the wall temperature"),
    source="rating practice; the factor brings its own source",
)
def derated(at_73F: float, factor: float) -> float:
    """Rating at a wall temperature, from the rating at 73 F and a factor.

    Parameters
    ----------
    at_73F : float
        Rating at 73 F (23 C). [Pa]
    factor : float
        Temperature factor of the material, from its table. [-]

    Returns
    -------
    float
        Rating at the wall temperature. [Pa]

    Valid range
    -----------
    at_73F >= 0; 0.0 <= factor <= 1.0.

    Notes
    -----
    P = P_0 f. The factor belongs to the wall temperature of the weakest part: sun on a dark pipe
    counts.

    Examples
    --------
    >>> derated(at_73F=280.0, factor=0.5)
    140.0

    References
    ----------
    .. [1] Practice of the rating tables of PVC and CPVC pipe; factors come from the book with their
           own source.
    """
    not_negative("at_73F", at_73F, unit="Pa")
    between("factor", factor, low=0.0, high=1.0, unit="-")
    return at_73F * factor


@figure(
    "margin",
    formula="m = P - p",
    symbols={
        "limit": ("P", "pressure", "highest pressure allowed"),
        "actual": ("p", "pressure", "pressure there is, or will be"),
    },
    result=("m", "pressure", "margin; negative is too much"),
    source="arithmetic",
)
def margin(limit: float, actual: float) -> float:
    """What is left of a limit.

    Parameters
    ----------
    limit : float
        Highest pressure allowed. [Pa]
    actual : float
        Pressure there is, or will be. [Pa]

    Returns
    -------
    float
        Margin; negative is too much. [Pa]

    Valid range
    -----------
    limit finite; actual finite.

    Notes
    -----
    m = P - p

    Examples
    --------
    >>> margin(limit=1.0e6, actual=0.75e6)
    250000.0

    References
    ----------
    .. [1] Arithmetic; no source needed.
    """
    finite("limit", limit, unit="Pa")
    finite("actual", actual, unit="Pa")
    return limit - actual
