"""Sunlight: where the sun stands, and how much of it comes down through the cloud; many hours at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lineproof.sums.limits import between

Floats = NDArray[np.float64]

SOLAR = 1367.0
"""Solar constant as the split of Erbs was fitted with. [W/m2]"""
_DAY, _NOON_2000 = 86400.0, 946728000.0  # s; 2000-01-01T12:00Z


@dataclass(frozen=True, slots=True, eq=False)
class Sun:
    """Where the sun stands: height over the horizon and bearing from north by east. [rad]"""

    height: Floats
    bearing: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """Sunlight: straight from the sun on a face that looks at it, and from the sky on a level face. [W/m2]"""

    beam: Floats
    diffuse: Floats


def sun_place(at: Floats, *, latitude: float, longitude: float) -> Sun:
    """Where the sun stands.

    Parameters
    ----------
    at : array
        Instants, in seconds since 1970-01-01T00:00Z. [s]
    latitude : float
        North positive. [rad]
    longitude : float
        East positive. [rad]

    Returns
    -------
    Sun
        Without refraction, which lifts it by half a degree at the horizon.

    Valid range
    -----------
    Years 1950 to 2050: within 0.01 deg, by the author.

    References
    ----------
    .. [1] Michalsky, The Astronomical Almanac's algorithm for approximate solar position (1950-2050), Solar
           Energy 40 (1988) 227-235 (from memory; within 0.02 deg of pvlib's long form).
    """
    between("latitude", latitude, low=-np.pi / 2, high=np.pi / 2, unit="rad")
    between("longitude", longitude, low=-np.pi, high=np.pi, unit="rad")
    when = np.asarray(at, np.float64)
    n = (when - _NOON_2000) / _DAY
    mean = np.radians(280.460 + 0.9856474 * n)
    g = np.radians(357.528 + 0.9856003 * n)
    ecliptic = mean + np.radians(1.915) * np.sin(g) + np.radians(0.020) * np.sin(2 * g)
    tilt = np.radians(23.439 - 4e-7 * n)
    right = np.arctan2(np.cos(tilt) * np.sin(ecliptic), np.cos(ecliptic))
    decline = np.arcsin(np.sin(tilt) * np.sin(ecliptic))
    hours = (when % _DAY) / 3600.0
    sidereal = np.radians(15.0 * ((6.697375 + 0.0657098242 * n + hours) % 24.0)) + longitude
    turn = sidereal - right
    height = np.arcsin(np.sin(latitude) * np.sin(decline) + np.cos(latitude) * np.cos(decline) * np.cos(turn))
    bearing = np.arctan2(-np.sin(turn), np.cos(latitude) * np.tan(decline) - np.sin(latitude) * np.cos(turn))
    return Sun(height, bearing % (2 * np.pi))


def light(sun: Sun, cloud: Floats) -> Light:
    """Sunlight through the cloud.

    Parameters
    ----------
    sun : Sun
    cloud : array
        Share of the sky that is covered, 0 to 1. [-]

    Returns
    -------
    Light
        0 while the sun is down.

    Notes
    -----
    Level, clear: G = 1098 c exp(-0.059/c), c the sine of the sun's height. Cloud: G (1 - 0.75 N^3.4). The
    share from the sky by the clearness k = G/(1367 c): 1 - 0.09 k up to 0.22; a polynomial to 0.80; then
    0.165.

    References
    ----------
    .. [1] Haurwitz, J. Meteorology 3 (1946) 123-124, in the form of Reno, Hansen and Stein, SAND2012-2389;
           held against pvlib in the tests.
    .. [2] Kasten and Czeplak, Solar Energy 24 (1980) 177-189 (from memory).
    .. [3] Erbs, Klein and Duffie, Solar Energy 28 (1982) 293-302; held against pvlib in the tests.
    """
    c = np.sin(sun.height)
    up = c > 1e-3
    high = np.where(up, c, 1.0)
    level = np.where(up, 1098.0 * high * np.exp(-0.059 / high), 0.0)
    level *= 1.0 - 0.75 * np.clip(cloud, 0.0, 1.0) ** 3.4
    k = np.minimum(level / (SOLAR * np.maximum(high, 0.065)), 1.0)
    share = np.where(
        k <= 0.22,
        1.0 - 0.09 * k,
        np.where(k <= 0.80, 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4, 0.165),
    )
    diffuse = level * share
    # low sun: what little comes in level is never blown up beyond what comes through the air at all
    beam = np.where(up, np.minimum((level - diffuse) / np.maximum(high, 0.087), 1000.0), 0.0)
    return Light(beam, diffuse)
