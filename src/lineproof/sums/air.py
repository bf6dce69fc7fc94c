"""Air: dew point and margin to it, and how little solvent makes vapour that burns."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between

_A, _B = 17.62, 243.12  # Magnus over water; second in C
_ICE_POINT = 273.15
_COLDEST, _HOTTEST = 228.15, 333.15  # K, range of the coefficients
_WARMEST = 350.0


@figure(
    "dew-point",
    formula="T_d = B x/(A - x), x = ln(H) + A T/(B + T), A = 17.62, B = 243.12, temperatures in C",
    symbols={
        "temperature": ("T", "temperature", "air temperature"),
        "humidity": ("H", "fraction", "relative humidity, 0 to 1"),
    },
    result=("T_d", "temperature", "dew point over water"),
    source="Magnus form, WMO-No. 8 (from memory); agrees with PsychroLib 2.5.0",
)
def dew_point(temperature: float, humidity: float) -> float:
    """Dew point of air: on anything colder, water condenses.

    Parameters
    ----------
    temperature : float
        Air temperature. [K]
    humidity : float
        Relative humidity, 0 to 1. [-]

    Returns
    -------
    float
        Dew point over water. [K]

    Valid range
    -----------
    temperature from -45 to 60 C (228.15 to 333.15 K); humidity from 0.01 to 1.

    Notes
    -----
    T_d = B x/(A - x), x = ln(H) + A T/(B + T), A = 17.62, B = 243.12, temperatures in C. Below 0 C it
    is still the dew point over water, not the frost point.

    Examples
    --------
    >>> round(dew_point(temperature=293.15, humidity=0.60) - 273.15, 2)
    12.0

    References
    ----------
    .. [1] Magnus form with 17.62 and 243.12 C over water, -45 to 60 C: WMO-No. 8, annex on humidity
           formulas (from memory); agrees with PsychroLib 2.5.0 within 0.02 K from 5 to 35 C.
    """
    between("temperature", temperature, low=_COLDEST, high=_HOTTEST, unit="K")
    between("humidity", humidity, low=0.01, high=1.0, unit="-")
    celsius = temperature - _ICE_POINT
    x = math.log(humidity) + _A * celsius / (_B + celsius)
    return _ICE_POINT + _B * x / (_A - x)


@figure(
    "relative-humidity",
    formula="H = exp(A T_d/(B + T_d) - A T/(B + T)), A = 17.62, B = 243.12, temperatures in C",
    symbols={
        "temperature": ("T", "temperature", "air temperature"),
        "dew_point": ("T_d", "temperature", "dew point over water"),
    },
    result=("H", "fraction", "relative humidity, 0 to 1"),
    source="Magnus form, WMO-No. 8 (from memory)",
)
def relative_humidity(temperature: float, dew_point: float) -> float:
    """Relative humidity of air from its temperature and dew point.

    Parameters
    ----------
    temperature : float
        Air temperature. [K]
    dew_point : float
        Dew point over water. [K]

    Returns
    -------
    float
        Relative humidity, 0 to 1. [-]

    Valid range
    -----------
    both from -45 to 60 C; dew_point up to temperature.

    Notes
    -----
    H = exp(A T_d/(B + T_d) - A T/(B + T)), A = 17.62, B = 243.12, temperatures in C

    Examples
    --------
    >>> round(relative_humidity(temperature=293.15, dew_point=293.15), 9)
    1.0

    References
    ----------
    .. [1] Magnus form with 17.62 and 243.12 C over water, -45 to 60 C: WMO-No. 8, annex on humidity
           formulas (from memory); agrees with PsychroLib 2.5.0 within 0.02 K from 5 to 35 C.
    """
    between("temperature", temperature, low=_COLDEST, high=_HOTTEST, unit="K")
    between("dew_point", dew_point, low=_COLDEST, high=_HOTTEST, unit="K")
    if dew_point > temperature + 1e-9:
        raise OutsideTable(
            f"dew point {dew_point:g} K is above the air temperature {temperature:g} K",
            allowed="a dew point up to the air temperature",
            by="the valid range of this sum",
            next="check which reading is which",
        )
    wet, air = dew_point - _ICE_POINT, temperature - _ICE_POINT
    return math.exp(_A * wet / (_B + wet) - _A * air / (_B + air))


@figure(
    "dew-margin",
    formula="ΔT = T_s - T_d",
    symbols={
        "surface": ("T_s", "temperature", "temperature of the pipe surface, or of the chilled film"),
        "dew_point": ("T_d", "temperature", "dew point of the air"),
    },
    result=("ΔT", "temperature_step", "margin; 0 or below it is wet"),
    source="definition; the 3 K limit is from memory of ISO 8502-4",
)
def dew_margin(surface: float, dew_point: float) -> float:
    """How far a surface is from gathering dew.

    Parameters
    ----------
    surface : float
        Temperature of the pipe surface, or of the chilled film. [K]
    dew_point : float
        Dew point of the air. [K]

    Returns
    -------
    float
        Margin; 0 or below it is wet. [K]

    Valid range
    -----------
    surface from 228.15 to 350 K; dew_point from 228.15 to 333.15 K.

    Notes
    -----
    ΔT = T_s - T_d. At least 3 K is borrowed from coating practice, from memory. Solvent chills the
    wall: ask again with the film's temperature.

    Examples
    --------
    >>> round(dew_margin(surface=290.15, dew_point=285.15), 9)
    5.0

    References
    ----------
    .. [1] Definition; the limit of 3 K is from memory of ISO 8502-4.
    """
    between("surface", surface, low=_COLDEST, high=_WARMEST, unit="K")
    between("dew_point", dew_point, low=_COLDEST, high=_HOTTEST, unit="K")
    return surface - dew_point
