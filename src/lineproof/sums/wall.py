"""Wall: how warm the pipe is in air, sun and wind and under the sky, and how cold solvent makes it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative, positive
from lineproof.sums.vapour import GAS_CONSTANT

Floats = NDArray[np.float64]

SIGMA = 5.670374419e-8
"""Stefan-Boltzmann constant, CODATA 2018. [W/(m2 K4)]"""
_A, _B, _ICE = 17.62, 243.12, 273.15  # Magnus over water, as in ``air``


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """What a pipe's surface does with light and heat; the numbers come from the book.

    Parameters
    ----------
    absorptance : float
        Share of sunlight it takes up. [-]
    emissivity : float
        [-]
    ground : float
        Share of sunlight that the ground throws back. [-]
    sky_drop : float
        How much colder than the air a clear sky is. [K]
    still, per_wind : float
        Heat passed to the air: h = still + per_wind v. [W/(m2 K)], [J/(m3 K)]
    """

    absorptance: float
    emissivity: float
    ground: float
    sky_drop: float
    still: float
    per_wind: float


@dataclass(frozen=True, slots=True, eq=False)
class WallAt:
    """Temperature of a pipe's wall: round it on the average, on its warmest and on its coldest line. [K]"""

    mean: Floats
    warmest: Floats
    coldest: Floats


def wall(
    skin: Skin, *, air: Floats, wind: Floats, cloud: Floats, beam: Floats, diffuse: Floats, level: Floats
) -> WallAt:
    """Temperature of an empty pipe in the open, once it has settled.

    Parameters
    ----------
    skin : Skin
    air : array
        Air temperature. [K]
    wind : array
        At the pipe. [m/s]
    cloud : array
        Share of the sky that is covered; 1 for a pipe under a roof. [-]
    beam : array
        Sunlight on a face that looks at the sun. [W/m2]
    diffuse : array
        Light of the sky on a level face. [W/m2]
    level : array
        Sunlight on a level face, both together: what the ground throws back. [W/m2]

    Returns
    -------
    WallAt

    Notes
    -----
    a Q = h (T - T_a) + e s (T^4 - T_r^4). Round the pipe Q = beam/pi + diffuse/2 + ground level/2 and T_r^4
    is half sky, half ground at air temperature. The line that looks at the sun has Q = beam + diffuse and
    the line that looks up sees the sky alone. The sun is taken to stand square to the pipe, which is never
    too cool. A wall of 17 mm follows in about half an hour; within the hour it may lag.

    References
    ----------
    .. [1] Balance of a grey surface; sol-air temperature is the same balance with one coefficient: ASHRAE
    Handbook,
           Fundamentals (form read, figures from memory).
    """
    h = skin.still + skin.per_wind * wind
    sky = air - skin.sky_drop * (1.0 - np.clip(cloud, 0.0, 1.0))
    half = (sky**4 + air**4) / 2.0
    round_it = beam / np.pi + diffuse / 2.0 + skin.ground * level / 2.0
    mean = _settled(skin, round_it, h, air, half)
    lit = _settled(skin, beam + diffuse, h, air, sky**4)
    shaded = _settled(skin, np.minimum(diffuse, round_it), h, air, sky**4)
    return WallAt(mean, np.maximum(mean, lit), np.minimum(mean, shaded))


def _settled(skin: Skin, light: Floats, h: Floats, air: Floats, around: Floats) -> Floats:
    gain = skin.emissivity * SIGMA
    t = np.array(air, np.float64)
    for _ in range(5):
        out = h * (t - air) + gain * (t**4 - around) - skin.absorptance * light
        t = t - out / (h + 4.0 * gain * t**3)
    return t


@figure(
    "sol-air",
    formula="T_e = T_o + r E - ΔR",
    symbols={
        "air": ("T_o", "temperature", "air temperature"),
        "light": ("E", "plain", "sunlight on the face, W/m2"),
        "per_light": ("r", "plain", "absorptance over the heat passed to the air, m2K/W"),
        "sky": ("ΔR", "temperature_step", "what the sky takes off; none on an upright face"),
    },
    result=("T_e", "temperature", "sol-air temperature"),
    source="ASHRAE Handbook, Fundamentals: form read in a library; figures from memory",
)
def sol_air(*, air: float, light: float, per_light: float, sky: float = 0.0) -> float:
    """Temperature of air in shade that would warm a face as much as sun and air do.

    Parameters
    ----------
    air : float
        Air temperature. [K]
    light : float
        Sunlight on the face. [W/m2]
    per_light : float
        Absorptance over the heat passed to the air. [m2 K/W]
    sky : float
        What the sky takes off; 0 for an upright face. [K]

    Returns
    -------
    float
        Sol-air temperature. [K]

    Valid range
    -----------
    air from 200 to 340 K; light from 0 to 1400 W/m2; per_light not negative.

    Notes
    -----
    T_e = T_o + r E - ΔR

    Examples
    --------
    >>> round(sol_air(air=305.15, light=900.0, per_light=0.026, sky=4.0) - 273.15, 1)
    51.4

    References
    ----------
    .. [1] ASHRAE Handbook, Fundamentals (form read in a library; figures from memory).
    """
    between("air", air, low=200.0, high=340.0, unit="K")
    between("light", light, low=0.0, high=1400.0, unit="W/m2")
    not_negative("per_light", per_light, unit="m2 K/W")
    finite("sky", sky, unit="K")
    return air + per_light * light - sky


def dew_points(air: Floats, humidity: Floats) -> Floats:
    """Dew points over water of many hours: the sum of ``air.dew_point``.

    Parameters
    ----------
    air : array
        Air temperature. [K]
    humidity : array
        Relative humidity. [-]

    Returns
    -------
    array
        Not a number where the humidity is none. [K]
    """
    celsius = air - _ICE
    with np.errstate(divide="ignore", invalid="ignore"):
        x = np.log(np.where(humidity > 0.0, humidity, np.nan)) + _A * celsius / (_B + celsius)
    return np.asarray(_ICE + _B * x / (_A - x), np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Solvent:
    """A solvent as it dries, and the wall it dries on; the numbers come from the book.

    Parameters
    ----------
    molar_mass : float
        [kg/mol]
    heat : float
        Of vaporisation. [J/kg]
    a, b, c : float
        log10 p = a - b/(T + c). [Pa], [K]
    schmidt : float
        Of its vapour in air. [-]
    conductivity : float
        Of the wall. [W/(m K)]
    store : float
        Density times specific heat of the wall. [J/(m3 K)]
    """

    molar_mass: float
    heat: float
    a: float
    b: float
    c: float
    schmidt: float
    conductivity: float
    store: float


def chilled(
    solvent: Solvent,
    *,
    surface: Floats,
    air: Floats,
    wind: Floats,
    time: float,
    stretch: float,
    steps: int = 12,
) -> Floats:
    """Temperature of a wall some time after solvent was brushed on, while it dries in the wind.

    Parameters
    ----------
    solvent : Solvent
    surface : array
        Temperature of the wall before. [K]
    air : array
        Air temperature. [K]
    wind : array
        At the joint. [m/s]
    time : float
        Since it was brushed on. [s]
    stretch : float
        Length of the wet face in the wind. [m]
    steps : int
        Steps of time. [-]

    Returns
    -------
    array
        Of pure solvent: never warmer than a cement's film. [K]

    Valid range
    -----------
    time > 0; stretch > 0; surfaces above -20 C.

    Notes
    -----
    Vapour leaves at k M p/(R T), k = 0.0048 U^(7/9) L^(-1/9) Sc^(-2/3); the air gives heat back by the same
    film of air (h = k rho c (Sc/Pr)^(2/3)); the wall conducts into its depth as if it were endless. Steps
    even in the root of time; the flux of each step is that of the surface at its beginning, taken half way
    to its end.

    References
    ----------
    .. [1] Mackay and Matsugu 1973, in the form of Kawamura and Mackay 1987 (form read in a lecture).
    .. [2] Carslaw and Jaeger, Conduction of Heat in Solids, 2.9: flux into a half-space.
    """
    positive("time", time, unit="s")
    positive("stretch", stretch, unit="m")
    slip = 0.0048 * np.maximum(wind, 0.1) ** (7 / 9) * stretch ** (-1 / 9)
    slip = slip * solvent.schmidt ** (-2 / 3)
    back = slip * 1.2 * 1005.0 * (solvent.schmidt / 0.71) ** (2 / 3)
    edges = time * (np.arange(steps + 1) / steps) ** 2
    root = 2.0 / np.sqrt(np.pi * solvent.conductivity * solvent.store)
    fluxes: list[Floats] = []

    def flux(t: Floats) -> Floats:
        pressure = 10.0 ** (solvent.a - solvent.b / (t + solvent.c))
        gone = slip * solvent.molar_mass * pressure / (GAS_CONSTANT * t)
        return np.asarray(solvent.heat * gone - back * (air - t), np.float64)

    now = np.array(surface, np.float64)
    for k in range(1, steps + 1):
        past = np.sqrt(edges[k] - edges[:k]) - np.sqrt(np.maximum(edges[k] - edges[1 : k + 1], 0.0))
        known = surface - root * sum((q * w for q, w in zip(fluxes, past[:-1], strict=True)), 0.0 * surface)
        step = flux(now)
        for _ in range(2):
            step = (flux(now) + flux(known - root * past[-1] * step)) / 2.0
        fluxes.append(step)
        now = known - root * past[-1] * step
    return now


def wind_factor(wind: Floats, *, calm: float) -> Floats:
    """By how much wind shortens the working time of a card that was printed for still air.

    Parameters
    ----------
    wind : array
        At the joint. [m/s]
    calm : float
        Wind that still counts as still air. [m/s]

    Returns
    -------
    array
        1 or more. [-]

    Notes
    -----
    (U/U_0)^(7/9): what dries the film goes with that power of the wind.

    References
    ----------
    .. [1] Mackay and Matsugu 1973 (derived).
    """
    positive("calm", calm, unit="m/s")
    return np.asarray(np.maximum(wind / calm, 1.0) ** (7 / 9), np.float64)
