"""Pressure: head, pressure at a place, gauge readings."""

from __future__ import annotations

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative

STANDARD_GRAVITY = 9.80665  # m/s2, 3rd CGPM 1901


@figure(
    "head",
    formula="p = ρ g h, g = 9.80665",
    symbols={
        "height": ("h", "length", "height of the column; negative takes pressure off"),
        "density": ("ρ", "density", "density of the water"),
    },
    result=("p", "pressure", "pressure of the column"),
    source="hydrostatics",
)
def head(height: float, density: float) -> float:
    """Pressure of a column of water.

    Parameters
    ----------
    height : float
        Height of the column; negative takes pressure off. [m]
    density : float
        Density of the water. [kg/m3]

    Returns
    -------
    float
        Pressure of the column. [Pa]

    Valid range
    -----------
    height finite; density from 900 to 1300 kg/m3.

    Notes
    -----
    p = ρ g h, g = 9.80665

    Examples
    --------
    >>> round(head(height=1.0, density=1000.0), 2)
    9806.65

    References
    ----------
    .. [1] Hydrostatics: p = rho g h, g = 9.80665 m/s2 (3rd CGPM, 1901).
    """
    finite("height", height, unit="m")
    between("density", density, low=900.0, high=1300.0, unit="kg/m3")
    return density * STANDARD_GRAVITY * height


@figure(
    "joint-pressure",
    formula="p = p_g + ρ g (z_g - z) + e, g = 9.80665",
    symbols={
        "gauge": ("p_g", "pressure", "gauge reading"),
        "gauge_height": ("z_g", "length", "height of the gauge"),
        "height": ("z", "length", "height of the joint"),
        "density": ("ρ", "density", "density of the water"),
        "gauge_error": ("e", "pressure", "error that the gauge may have"),
    },
    result=("p", "pressure", "pressure at the joint, gauge error added"),
    source="hydrostatics",
)
def pressure_at(
    *, gauge: float, gauge_height: float, height: float, density: float, gauge_error: float = 0.0
) -> float:
    """Highest pressure that a joint may be seeing, from a gauge at another height.

    Parameters
    ----------
    gauge : float
        Gauge reading. [Pa]
    gauge_height : float
        Height of the gauge. [m]
    height : float
        Height of the joint. [m]
    density : float
        Density of the water. [kg/m3]
    gauge_error : float
        Error that the gauge may have. [Pa]

    Returns
    -------
    float
        Pressure at the joint, gauge error added. [Pa]

    Valid range
    -----------
    heights and gauge finite; density from 900 to 1300 kg/m3; gauge_error >= 0.

    Notes
    -----
    p = p_g + ρ g (z_g - z) + e, g = 9.80665. Still water; both heights from the same datum. Without
    both heights there is no answer.

    Examples
    --------
    >>> round(pressure_at(gauge=5.0e5, gauge_height=10.0, height=0.0, density=1000.0, gauge_error=1000.0), 1)
    599066.5

    References
    ----------
    .. [1] Hydrostatics: p = rho g h, g = 9.80665 m/s2 (3rd CGPM, 1901).
    """
    finite("gauge", gauge, unit="Pa")
    finite("gauge_height", gauge_height, unit="m")
    finite("height", height, unit="m")
    between("density", density, low=900.0, high=1300.0, unit="kg/m3")
    not_negative("gauge_error", gauge_error, unit="Pa")
    return gauge + density * STANDARD_GRAVITY * (gauge_height - height) + gauge_error


@figure(
    "gauge-reading",
    formula="p_g = p + ρ g (z - z_g), g = 9.80665",
    symbols={
        "wanted": ("p", "pressure", "pressure wanted at the place"),
        "height": ("z", "length", "height of the place"),
        "gauge_height": ("z_g", "length", "height of the gauge"),
        "density": ("ρ", "density", "density of the water"),
    },
    result=("p_g", "pressure", "gauge reading"),
    source="hydrostatics",
)
def gauge_reading(*, wanted: float, height: float, gauge_height: float, density: float) -> float:
    """What a gauge must read for a wanted pressure at another height.

    Parameters
    ----------
    wanted : float
        Pressure wanted at the place. [Pa]
    height : float
        Height of the place. [m]
    gauge_height : float
        Height of the gauge. [m]
    density : float
        Density of the water. [kg/m3]

    Returns
    -------
    float
        Gauge reading. [Pa]

    Valid range
    -----------
    wanted and heights finite; density from 900 to 1300 kg/m3.

    Notes
    -----
    p_g = p + ρ g (z - z_g), g = 9.80665

    Examples
    --------
    >>> round(gauge_reading(wanted=5.0e5, height=10.0, gauge_height=0.0, density=1000.0), 1)
    598066.5

    References
    ----------
    .. [1] Hydrostatics: p = rho g h, g = 9.80665 m/s2 (3rd CGPM, 1901).
    """
    finite("wanted", wanted, unit="Pa")
    finite("height", height, unit="m")
    finite("gauge_height", gauge_height, unit="m")
    between("density", density, low=900.0, high=1300.0, unit="kg/m3")
    return wanted + density * STANDARD_GRAVITY * (height - gauge_height)


@figure(
    "low-point-pressure",
    formula="p = p_h + ρ g h, g = 9.80665",
    symbols={
        "high_pressure": ("p_h", "pressure", "pressure at the high point"),
        "drop": ("h", "length", "height from low point to high point"),
        "density": ("ρ", "density", "density of the water"),
    },
    result=("p", "pressure", "pressure at the low point"),
    source="hydrostatics",
)
def low_point_pressure(*, high_pressure: float, drop: float, density: float) -> float:
    """Pressure at the low point while the high point stands at its test pressure.

    Parameters
    ----------
    high_pressure : float
        Pressure at the high point. [Pa]
    drop : float
        Height from low point to high point. [m]
    density : float
        Density of the water. [kg/m3]

    Returns
    -------
    float
        Pressure at the low point. [Pa]

    Valid range
    -----------
    high_pressure finite; drop >= 0; density from 900 to 1300 kg/m3.

    Notes
    -----
    p = p_h + ρ g h, g = 9.80665

    Examples
    --------
    >>> round(low_point_pressure(high_pressure=5.0e5, drop=10.0, density=1000.0), 1)
    598066.5

    References
    ----------
    .. [1] Hydrostatics: p = rho g h, g = 9.80665 m/s2 (3rd CGPM, 1901).
    """
    finite("high_pressure", high_pressure, unit="Pa")
    not_negative("drop", drop, unit="m")
    between("density", density, low=900.0, high=1300.0, unit="kg/m3")
    return high_pressure + density * STANDARD_GRAVITY * drop
