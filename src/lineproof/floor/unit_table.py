"""The units that may be typed and shown, each with its exact factor to SI.

Definitions: inch 25.4 mm, pound 0.45359237 kg, US gallon 231 cubic inches, standard gravity
9.80665 m/s2 (all exact: international yard and pound agreement 1959; 3rd CGPM 1901, standard gravity).
Water columns use water of 1000 kg/m3. Pressures are gauge pressures and stay so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
GRAVITY = 9.80665
GALLON = 231 * INCH**3
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2
WATER = 1000.0 * GRAVITY  # pascal a metre of water column
FAHRENHEIT = 5.0 / 9.0


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one quantity: SI value = number x factor / over + offset.

    Parameters
    ----------
    name : str
        The spelling that is shown.
    factor : float
        Value of one unit. [SI]
    words : str
        Meaning in a few words.
    spellings : tuple of str
        Other spellings that are read; blanks, case and a closing full stop do not matter.
    decimals : int
        Decimals shown unless asked otherwise; -1 shows six significant digits.
    offset : float
        SI value of the unit's zero; other than 0 for temperatures only. [SI]
    over : float
        Divides the factor, so that a decimal factor such as 254/10000 is rounded once and
        12 ft, 144 in and 3657.6 mm give the same float.
    """

    name: str
    factor: float
    words: str
    spellings: tuple[str, ...] = ()
    decimals: int = 2
    offset: float = 0.0
    over: float = 1.0

    def to_si(self, number: float) -> float:
        """SI value of a number in this unit.

        Parameters
        ----------
        number : float
            The number as written, any. [this unit]

        Returns
        -------
        float
            The value. [SI]
        """
        return number * self.factor / self.over + self.offset

    def from_si(self, value: float) -> float:
        """Number in this unit of an SI value.

        Parameters
        ----------
        value : float
            The value, any. [SI]

        Returns
        -------
        float
            The number to write. [this unit]
        """
        return (value - self.offset) * self.over / self.factor


def _unit(
    name: str,
    factor: float,
    words: str,
    spellings: str = "",
    decimals: int = 2,
    *,
    offset: float = 0.0,
    over: float = 1.0,
) -> Unit:
    others = tuple(s.strip() for s in spellings.split(",") if s.strip())
    return Unit(name, factor, words, others, decimals, offset, over)


_PRESSURE = (
    _unit("Pa", 1.0, "pascal", "", 0),
    _unit("hPa", 100.0, "hectopascal", "mbar", 1),
    _unit("kPa", 1e3, "kilopascal", "kPag", 1),
    _unit("MPa", 1e6, "megapascal", "MPag", 3),
    _unit("bar", 1e5, "bar", "barg", 2),
    _unit("psi", PSI, "pound-force a square inch", "psig, lbf/in2, lb/in2", 1),
    _unit("ft H2O", WATER * FOOT, "feet of water column", "ftH2O, ft of water, ft water, ft head", 1),
    _unit("in H2O", WATER * INCH, "inches of water column", "in of water, in water", 1),
    _unit("m H2O", WATER, "metres of water column", "mH2O, m of water, m water, m head, mwc", 2),
)
_VELOCITY = (
    _unit("m/s", 1.0, "metre a second", "", 2),
    _unit("km/h", 1 / 3.6, "kilometre an hour", "kph, kmh", 1),
    _unit("ft/s", FOOT, "foot a second", "fps, ft/sec", 1),
    _unit("mph", 5280 * FOOT / 3600, "mile an hour", "mi/h", 1),
    _unit("knot", 1852 / 3600, "sea mile an hour", "knots, kt", 1),
)
_TABLE: dict[str, tuple[Unit, ...]] = {
    "length": (
        _unit("mm", 1.0, "millimetre", "millimetre, millimetres, millimeter, millimeters", 1, over=1e3),
        _unit("cm", 1.0, "centimetre", "centimetre, centimetres, centimeter, centimeters", 2, over=1e2),
        _unit("m", 1.0, "metre", "metre, metres, meter, meters", 3),
        _unit("km", 1e3, "kilometre", "", 3),
        _unit("in", 254.0, "inch", "\", '', inch, inches", 3, over=1e4),
        _unit("ft", 3048.0, "foot", "', feet, foot", 2, over=1e4),
        _unit("yd", 9144.0, "yard", "yard, yards", 2, over=1e4),
        _unit("um", 1.0, "micrometre", "\u03bcm, micron, microns", 0, over=1e6),
    ),
    "area": (
        _unit("m2", 1.0, "square metre", "sq m", 3),
        _unit("cm2", 1e-4, "square centimetre", "sq cm", 1),
        _unit("mm2", 1e-6, "square millimetre", "sq mm", 0),
        _unit("in2", INCH**2, "square inch", "sq in", 1),
        _unit("ft2", FOOT**2, "square foot", "sq ft", 2),
    ),
    "volume": (
        _unit("m3", 1.0, "cubic metre", "cu m", 3),
        _unit("L", 1.0, "litre", "litre, litres, liter, liters", 2, over=1e3),
        _unit("mL", 1.0, "millilitre", "cm3, cc", 0, over=1e6),
        _unit("gal", GALLON, "US gallon of 231 cubic inches", "gallon, gallons, us gal, gal us", 2),
        _unit("qt", GALLON / 4, "US quart", "quart, quarts", 2),
        _unit("pt", GALLON / 8, "US pint", "pint, pints", 2),
        _unit("fl oz", GALLON / 128, "US fluid ounce", "us fl oz", 1),
        _unit("ft3", FOOT**3, "cubic foot", "cu ft", 2),
        _unit("in3", INCH**3, "cubic inch", "cu in", 1),
    ),
    "mass": (
        _unit("kg", 1.0, "kilogram", "kgs", 1),
        _unit("g", 1e-3, "gram", "gram, grams", 0),
        _unit("t", 1e3, "tonne of 1000 kg", "tonne, tonnes", 3),
        _unit("lb", POUND, "pound", "lbs, lbm, pound, pounds", 1),
        _unit("oz", POUND / 16, "ounce (mass)", "", 1),
    ),
    "force": (
        _unit("N", 1.0, "newton", "newton, newtons", 0),
        _unit("kN", 1e3, "kilonewton", "", 2),
        _unit("lbf", POUND_FORCE, "pound-force", "", 0),
        _unit("kip", 1e3 * POUND_FORCE, "1000 pound-force", "kips", 2),
        _unit("kgf", GRAVITY, "kilogram-force", "", 1),
    ),
    "pressure": _PRESSURE,
    "modulus": (
        *(u for u in _PRESSURE if u.name in {"Pa", "kPa"}),
        _unit("MPa", 1e6, "megapascal", "N/mm2", 0),
        _unit("GPa", 1e9, "gigapascal", "", 3),
        _unit("psi", PSI, "pound-force a square inch", "", 0),
        _unit("ksi", 1e3 * PSI, "1000 psi", "", 1),
    ),
    "temperature": (
        _unit("F", FAHRENHEIT, "degree Fahrenheit", "degF, fahrenheit", 1, offset=459.67 * FAHRENHEIT),
        _unit("C", 1.0, "degree Celsius", "degC, celsius", 1, offset=273.15),
        _unit("K", 1.0, "kelvin", "kelvin", 2),
    ),
    "temperature_step": (
        _unit("F", FAHRENHEIT, "Fahrenheit degree", "degF", 1),
        _unit("C", 1.0, "Celsius degree", "degC", 1),
        _unit("K", 1.0, "kelvin", "kelvin", 2),
    ),
    "time": (
        _unit("s", 1.0, "second", "sec, secs, second, seconds", 0),
        _unit("min", 60.0, "minute", "mins, minute, minutes", 1),
        _unit("h", 3600.0, "hour", "hr, hrs, hour, hours", 1),
        _unit("d", 86400.0, "day of 24 hours", "day, days", 2),
        _unit("wk", 604800.0, "week", "week, weeks", 2),
    ),
    "angle": (
        _unit("deg", math.pi / 180, "degree", "degree, degrees", 2),
        _unit("rad", 1.0, "radian", "radian, radians", 4),
    ),
    "velocity": _VELOCITY,
    "wind": _VELOCITY,
    "density": (
        _unit("kg/m3", 1.0, "kilogram a cubic metre", "", 1),
        _unit("g/cm3", 1e3, "gram a cubic centimetre", "g/mL, kg/L, g/cc", 4),
        _unit("lb/ft3", POUND / FOOT**3, "pound a cubic foot", "", 2),
        _unit("lb/gal", POUND / GALLON, "pound a US gallon", "", 2),
    ),
    "flow": (
        _unit("m3/s", 1.0, "cubic metre a second", "", 5),
        _unit("m3/h", 1 / 3600, "cubic metre an hour", "m3/hr", 2),
        _unit("L/s", 1e-3, "litre a second", "", 2),
        _unit("L/min", 1e-3 / 60, "litre a minute", "lpm", 1),
        _unit("gpm", GALLON / 60, "US gallon a minute", "gal/min", 1),
        _unit("ft3/s", FOOT**3, "cubic foot a second", "cfs", 3),
    ),
    "energy": (
        _unit("J", 1.0, "joule", "", 0),
        _unit("kJ", 1e3, "kilojoule", "", 2),
        _unit("ft-lbf", FOOT * POUND_FORCE, "foot pound-force", "ft-lb, ftlb, ftlbf", 0),
    ),
    "torque": (
        _unit("N m", 1.0, "newton metre", "N-m", 1),
        _unit("ft-lb", FOOT * POUND_FORCE, "foot pound-force", "ft-lbf, lb-ft, lbf-ft, ftlb, ftlbf", 1),
        _unit("in-lb", INCH * POUND_FORCE, "inch pound-force", "in-lbf, lb-in, lbf-in, inlb, inlbf", 0),
    ),
    "line_mass": (
        _unit("kg/m", 1.0, "kilogram a metre", "", 2),
        _unit("lb/ft", POUND / FOOT, "pound a foot", "", 2),
    ),
    "line_load": (
        _unit("N/m", 1.0, "newton a metre", "", 1),
        _unit("kN/m", 1e3, "kilonewton a metre", "", 3),
        _unit("lbf/ft", POUND_FORCE / FOOT, "pound-force a foot", "", 1),
    ),
    "inertia": (
        _unit("m4", 1.0, "metre to the fourth", "", -1),
        _unit("cm4", 1e-8, "centimetre to the fourth", "", 1),
        _unit("mm4", 1e-12, "millimetre to the fourth", "", 0),
        _unit("in4", INCH**4, "inch to the fourth", "", 2),
    ),
    "viscosity": (
        _unit("Pa s", 1.0, "pascal second", "Pa-s", 5),
        _unit("cP", 1e-3, "centipoise", "mPa s, mPa-s", 1),
    ),
    "expansion": (
        _unit("1/K", 1.0, "a kelvin", "/K, 1/C, /C, m/m/K, m/m/C, 1/degC, /degC", -1),
        _unit("1/F", 1 / FAHRENHEIT, "a Fahrenheit degree", "/F, in/in/F, 1/degF, /degF, in/in/degF", -1),
        _unit("mm/m/K", 1e-3, "millimetre a metre and kelvin", "mm/m/C, mm/m/degC, mm/m K, mm/(m K)", 4),
        _unit(
            "in/100ft/10F",
            INCH / (100 * FOOT) / (10 * FAHRENHEIT),
            "inch a 100 ft and 10 F",
            "in/100 ft/10 F",
            4,
        ),
    ),
    "coverage": (
        _unit("m2/min", 1 / 60, "square metre a minute", "", 3),
        _unit("m2/s", 1.0, "square metre a second", "", 5),
        _unit("ft2/min", FOOT**2 / 60, "square foot a minute", "", 2),
    ),
    "molar_mass": (
        _unit("g/mol", 1e-3, "gram a mole", "kg/kmol", 3),
        _unit("kg/mol", 1.0, "kilogram a mole", "", 6),
    ),
    "fraction": (_unit("%", 1.0, "per cent", "percent, per cent, pct", 1, over=1e2),),
    "plain": (),
    "count": (),
}

UNITS: Mapping[str, Mapping[str, Unit]] = MappingProxyType(
    {quantity: MappingProxyType({u.name: u for u in units}) for quantity, units in _TABLE.items()}
)


def bare(spelling: str) -> str:
    """A unit's spelling without what does not matter: blanks, case, dots, powers written with ^."""
    text = spelling.replace("\u00b0", "deg").replace("\u00b7", "-").replace("\u22c5", "-").replace("*", "-")
    return "".join(text.replace("^", "").split()).rstrip(".").lower()


SPELLINGS: Mapping[str, Mapping[str, Unit]] = MappingProxyType(
    {
        quantity: MappingProxyType({bare(s): u for u in units for s in (u.name, *u.spellings)})
        for quantity, units in _TABLE.items()
    }
)

# Spellings that mean two things on site: refused with the words that settle it.
AMBIGUOUS: Mapping[str, Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "length": {
            "mil": ("may be a thousandth of an inch or a millimetre", "write in, um or mm"),
            "mils": ("may be a thousandth of an inch or a millimetre", "write in, um or mm"),
        },
        "volume": {
            "oz": ("may be a fluid ounce or an ounce of mass", "write fl oz"),
            "impgal": ("is the imperial gallon, which is not kept here", "write the volume in L"),
            "ukgal": ("is the imperial gallon, which is not kept here", "write the volume in L"),
        },
        "mass": {
            "ton": ("may be 1000 kg, 2000 lb or 2240 lb", "write t for 1000 kg, or give lb"),
            "tons": ("may be 1000 kg, 2000 lb or 2240 lb", "write t for 1000 kg, or give lb"),
        },
        "force": {
            "lb": ("is a mass", "write lbf for the pull of a pound"),
            "lbs": ("is a mass", "write lbf for the pull of a pound"),
            "kg": ("is a mass", "write kgf or N"),
            "t": ("is a mass", "write kN"),
            "ton": ("may be 1000 kg, 2000 lb or 2240 lb", "write kN or lbf"),
            "tons": ("may be 1000 kg, 2000 lb or 2240 lb", "write kN or lbf"),
        },
        "pressure": {
            "psia": (
                "is an absolute pressure; gauge pressure is asked",
                "take off the air pressure, write psi",
            ),
            "bara": (
                "is an absolute pressure; gauge pressure is asked",
                "take off the air pressure, write bar",
            ),
            "kpaa": (
                "is an absolute pressure; gauge pressure is asked",
                "take off the air pressure, write kPa",
            ),
            "ft": ("is a length", "write ft H2O for a head of water"),
            "m": ("is a length", "write m H2O for a head of water"),
            "lb": ("is a mass", "write psi"),
            "lbs": ("is a mass", "write psi"),
        },
        "temperature": {"deg": ("is a degree of no named scale", "write F or C")},
        "temperature_step": {"deg": ("is a degree of no named scale", "write F or C")},
        "time": {
            "m": ("may be minutes or metres", "write min"),
            "mo": ("is a month, which has no fixed length", "write d"),
            "month": ("is a month, which has no fixed length", "write d"),
            "months": ("is a month, which has no fixed length", "write d"),
        },
    }
)
