"""Stored energy: what lets go when a line bursts, with air in it and with water."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative, positive


@figure(
    "stored-energy-air",
    formula="W = ((p + P_a) V/(k - 1)) (1 - (P_a/(p + P_a))^((k - 1)/k))",
    symbols={
        "pressure": ("p", "pressure", "gauge pressure in the pipe"),
        "volume": ("V", "volume", "volume under pressure"),
        "atmosphere": ("P_a", "pressure", "pressure of the air outside, absolute"),
        "gamma": ("k", "plain", "ratio of specific heats"),
    },
    result=("W", "energy", "energy let go"),
    source="isentropic expansion of an ideal gas",
    note=(
        "gas stores hundreds of times the energy of water: no gas tests of PVC or CPVC;"
        " stand off from any trapped air"
    ),
)
def air_energy(*, pressure: float, volume: float, atmosphere: float = 101325.0, gamma: float = 1.4) -> float:
    """Energy of air under pressure, let go without time to warm up.

    Parameters
    ----------
    pressure : float
        Gauge pressure in the pipe. [Pa]
    volume : float
        Volume under pressure. [m3]
    atmosphere : float
        Pressure of the air outside, absolute. [Pa]
    gamma : float
        Ratio of specific heats. [-]

    Returns
    -------
    float
        Energy let go. [J]

    Valid range
    -----------
    pressure and volume >= 0; atmosphere > 0; gamma from 1.01 to 1.67.

    Notes
    -----
    W = ((p + P_a) V/(k - 1)) (1 - (P_a/(p + P_a))^((k - 1)/k)). Isentropic expansion of an ideal gas
    down to the outside pressure.

    Examples
    --------
    >>> round(air_energy(pressure=7.0e5, volume=1.0, atmosphere=101325.0, gamma=1.4) / 1e3)
    894

    References
    ----------
    .. [1] Isentropic expansion of an ideal gas (thermodynamics).
    """
    not_negative("pressure", pressure, unit="Pa")
    not_negative("volume", volume, unit="m3")
    positive("atmosphere", atmosphere, unit="Pa")
    between("gamma", gamma, low=1.01, high=1.67, unit="-")
    inside = pressure + atmosphere
    share = 1.0 - math.pow(atmosphere / inside, (gamma - 1.0) / gamma)
    return inside * volume / (gamma - 1.0) * share


@figure(
    "stored-energy-water",
    formula="W = (p^2 V/2) (1/K + D_m/(E t))",
    symbols={
        "pressure": ("p", "pressure", "gauge pressure in the pipe"),
        "volume": ("V", "volume", "volume under pressure"),
        "bulk_modulus": ("K", "modulus", "bulk modulus of water"),
        "diameter": ("D_m", "length", "mean diameter of the wall"),
        "wall": ("t", "length", "wall of the pipe"),
        "modulus": ("E", "modulus", "modulus of pipe and fitting at this temperature and time"),
    },
    result=("W", "energy", "energy let go"),
    source="elastic energy, thin wall",
    note=(
        "gas stores hundreds of times the energy of water: no gas tests of PVC or CPVC;"
        " stand off from any trapped air"
    ),
)
def water_energy(
    *, pressure: float, volume: float, bulk_modulus: float, diameter: float, wall: float, modulus: float
) -> float:
    """Energy of water under pressure and of the pipe stretched round it.

    Parameters
    ----------
    pressure : float
        Gauge pressure in the pipe. [Pa]
    volume : float
        Volume under pressure. [m3]
    bulk_modulus : float
        Bulk modulus of water. [Pa]
    diameter : float
        Mean diameter of the wall. [m]
    wall : float
        Wall of the pipe. [m]
    modulus : float
        Modulus of pipe and fitting at this temperature and time. [Pa]

    Returns
    -------
    float
        Energy let go. [J]

    Valid range
    -----------
    pressure >= 0; volume >= 0; bulk_modulus > 0; diameter > 0; wall > 0; modulus > 0.

    Notes
    -----
    W = (p^2 V/2) (1/K + D_m/(E t)). Thin wall, free to shorten; with no air in it at all.

    Examples
    --------
    >>> joules = water_energy(
    ...     pressure=6.9e5, volume=2.0, bulk_modulus=2.2e9, diameter=0.3, wall=0.0175, modulus=2.8e9
    ... )
    >>> round(joules)
    3131

    References
    ----------
    .. [1] Elastic energy of water and of a thin pipe wall (strength of materials).
    """
    not_negative("pressure", pressure, unit="Pa")
    not_negative("volume", volume, unit="m3")
    positive("bulk_modulus", bulk_modulus, unit="Pa")
    positive("diameter", diameter, unit="m")
    positive("wall", wall, unit="m")
    positive("modulus", modulus, unit="Pa")
    return pressure * pressure * volume / 2.0 * (1.0 / bulk_modulus + diameter / (modulus * wall))
