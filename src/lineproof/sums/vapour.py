"""Vapour: how little solvent, evaporated in a closed space, makes air that burns."""

from __future__ import annotations

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative, positive

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact
_COLDEST, _HOTTEST = 250.0, 350.0  # K


@figure(
    "vapour-volume",
    formula="V_v = V_l ρ R T/(M P), R = 8.314462618, T absolute",
    symbols={
        "liquid": ("V_l", "volume", "liquid solvent evaporated"),
        "density": ("ρ", "density", "density of the liquid"),
        "molar_mass": ("M", "molar_mass", "molar mass"),
        "temperature": ("T", "temperature", "air temperature, absolute"),
        "atmosphere": ("P", "pressure", "pressure of the air, absolute"),
    },
    result=("V_v", "volume", "volume of vapour"),
    source="ideal gas",
    note=(
        "ventilate, no ignition source, measure with a meter at the lowest place; a sum is no permit to enter"
    ),
)
def vapour_volume(
    *, liquid: float, density: float, molar_mass: float, temperature: float, atmosphere: float = 101325.0
) -> float:
    """Vapour that a volume of liquid solvent makes.

    Parameters
    ----------
    liquid : float
        Liquid solvent evaporated. [m3]
    density : float
        Density of the liquid. [kg/m3]
    molar_mass : float
        Molar mass. [kg/mol]
    temperature : float
        Air temperature, absolute. [K]
    atmosphere : float
        Pressure of the air, absolute. [Pa]

    Returns
    -------
    float
        Volume of vapour. [m3]

    Valid range
    -----------
    Liquid and space > 0 or 0; density 500 to 1500 kg/m3; molar_mass 0.01 to 0.5 kg/mol; temperature
    250 to 350 K; atmosphere 50 to 120 kPa.

    Notes
    -----
    V_v = V_l ρ R T/(M P), R = 8.314462618, T absolute

    Examples
    --------
    >>> made = vapour_volume(liquid=1e-3, density=889.0, molar_mass=0.07211, temperature=293.15)
    >>> round(made, 4)
    0.2966

    References
    ----------
    .. [1] Ideal gas at one temperature and pressure; R = 8.314462618 J/(mol K), CODATA 2018.
    """
    not_negative("liquid", liquid, unit="m3")
    between("density", density, low=500.0, high=1500.0, unit="kg/m3")
    between("molar_mass", molar_mass, low=0.01, high=0.5, unit="kg/mol")
    between("temperature", temperature, low=_COLDEST, high=_HOTTEST, unit="K")
    between("atmosphere", atmosphere, low=5e4, high=1.2e5, unit="Pa")
    return liquid * density * GAS_CONSTANT * temperature / (molar_mass * atmosphere)


@figure(
    "vapour-share",
    formula="y = V_l ρ R T/(M P V), R = 8.314462618, T absolute",
    symbols={
        "liquid": ("V_l", "volume", "liquid solvent evaporated"),
        "space": ("V", "volume", "closed volume of air"),
        "density": ("ρ", "density", "density of the liquid"),
        "molar_mass": ("M", "molar_mass", "molar mass"),
        "temperature": ("T", "temperature", "air temperature, absolute"),
        "atmosphere": ("P", "pressure", "pressure of the air, absolute"),
    },
    result=("y", "fraction", "share by volume; 0.02 is 2 per cent"),
    source="ideal gas",
    note=(
        "ventilate, no ignition source, measure with a meter at the lowest place; a sum is no permit to enter"
    ),
)
def vapour_share(
    *,
    liquid: float,
    space: float,
    density: float,
    molar_mass: float,
    temperature: float,
    atmosphere: float = 101325.0,
) -> float:
    """Share of vapour in the air of a closed space once a volume of liquid has evaporated and mixed.

    Parameters
    ----------
    liquid : float
        Liquid solvent evaporated. [m3]
    space : float
        Closed volume of air. [m3]
    density : float
        Density of the liquid. [kg/m3]
    molar_mass : float
        Molar mass. [kg/mol]
    temperature : float
        Air temperature, absolute. [K]
    atmosphere : float
        Pressure of the air, absolute. [Pa]

    Returns
    -------
    float
        Share by volume; 0.02 is 2 per cent. [-]

    Valid range
    -----------
    Liquid and space > 0 or 0; density 500 to 1500 kg/m3; molar_mass 0.01 to 0.5 kg/mol; temperature
    250 to 350 K; atmosphere 50 to 120 kPa.

    Notes
    -----
    y = V_l ρ R T/(M P V), R = 8.314462618, T absolute. Evenly mixed. Vapour is 2.5 to 3.4 times as heavy as
    air: at the bottom it is more.

    Examples
    --------
    >>> share = vapour_share(
    ...     liquid=1e-5, space=0.15, density=889.0, molar_mass=0.07211, temperature=293.15
    ... )
    >>> round(share, 4)
    0.0198

    References
    ----------
    .. [1] Ideal gas at one temperature and pressure; R = 8.314462618 J/(mol K), CODATA 2018.
    """
    not_negative("liquid", liquid, unit="m3")
    positive("space", space, unit="m3")
    between("density", density, low=500.0, high=1500.0, unit="kg/m3")
    between("molar_mass", molar_mass, low=0.01, high=0.5, unit="kg/mol")
    between("temperature", temperature, low=_COLDEST, high=_HOTTEST, unit="K")
    between("atmosphere", atmosphere, low=5e4, high=1.2e5, unit="Pa")
    return liquid * density * GAS_CONSTANT * temperature / (molar_mass * atmosphere * space)


@figure(
    "solvent-to-limit",
    formula="V_l = y P V M/(R T ρ), R = 8.314462618, T absolute",
    symbols={
        "share": ("y", "fraction", "share by volume to reach"),
        "space": ("V", "volume", "closed volume of air"),
        "density": ("ρ", "density", "density of the liquid"),
        "molar_mass": ("M", "molar_mass", "molar mass"),
        "temperature": ("T", "temperature", "air temperature, absolute"),
        "atmosphere": ("P", "pressure", "pressure of the air, absolute"),
    },
    result=("V_l", "volume", "liquid solvent"),
    source="ideal gas",
    note=(
        "ventilate, no ignition source, measure with a meter at the lowest place; a sum is no permit to enter"
    ),
)
def solvent_to_reach(
    *,
    share: float,
    space: float,
    density: float,
    molar_mass: float,
    temperature: float,
    atmosphere: float = 101325.0,
) -> float:
    """Liquid solvent that brings a closed space to a share of vapour, such as the lower flammable limit.

    Parameters
    ----------
    share : float
        Share by volume to reach. [-]
    space : float
        Closed volume of air. [m3]
    density : float
        Density of the liquid. [kg/m3]
    molar_mass : float
        Molar mass. [kg/mol]
    temperature : float
        Air temperature, absolute. [K]
    atmosphere : float
        Pressure of the air, absolute. [Pa]

    Returns
    -------
    float
        Liquid solvent. [m3]

    Valid range
    -----------
    share from 0 to 1; liquid and space > 0 or 0; density 500 to 1500 kg/m3; molar_mass 0.01 to 0.5
    kg/mol; temperature 250 to 350 K; atmosphere 50 to 120 kPa.

    Notes
    -----
    V_l = y P V M/(R T ρ), R = 8.314462618, T absolute. Evenly mixed. Take the lowest limit that any source
    gives, and work far below it.

    Examples
    --------
    >>> millilitres = 1e6 * solvent_to_reach(
    ...     share=0.02, space=0.1025, density=890.0, molar_mass=0.07211, temperature=293.15
    ... )
    >>> round(millilitres, 1)
    6.9

    References
    ----------
    .. [1] Ideal gas at one temperature and pressure; R = 8.314462618 J/(mol K), CODATA 2018.
    """
    between("share", share, low=0.0, high=1.0, unit="-")
    positive("space", space, unit="m3")
    between("density", density, low=500.0, high=1500.0, unit="kg/m3")
    between("molar_mass", molar_mass, low=0.01, high=0.5, unit="kg/mol")
    between("temperature", temperature, low=_COLDEST, high=_HOTTEST, unit="K")
    between("atmosphere", atmosphere, low=5e4, high=1.2e5, unit="Pa")
    return share * atmosphere * space * molar_mass / (GAS_CONSTANT * temperature * density)
