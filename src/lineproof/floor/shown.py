"""How a job shows its numbers: the units it likes and how finely."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Self

from lineproof.floor.errors import BadInput, OutsideTable
from lineproof.floor.rounding import steps
from lineproof.floor.unit_table import INCH, UNITS, Unit

_FINEST_INCH = 64
_SIGNIFICANT = 3  # figures a number below 1 shows at least, so that a little cement is not shown as none


@dataclass(frozen=True, slots=True)
class Shown:
    """How a job shows things.

    Parameters
    ----------
    length : str
        ``"in"`` shows feet and inches, ``"mm"`` millimetres.
    inch_step : int
        Inches are shown to 1/inch_step, 1 to 64.
    mm_step : float
        Millimetres are shown to this step, above 0. [mm]
    pressure, temperature, volume, mass, force, area, wind, velocity, density, flow, energy, torque : str
        Unit name in ``UNITS``; temperature serves differences too.
    angle, modulus, expansion, line_mass, line_load, inertia, viscosity, coverage, molar_mass, fraction : str
        Unit name in ``UNITS``.
    time : str
        Unit name, or ``"auto"`` for seconds, minutes or hours by size.

    Raises
    ------
    BadInput
        If a unit is not one of its quantity or a step is out of range.
    """

    length: str = "in"
    inch_step: int = 16
    mm_step: float = 1.0
    pressure: str = "psi"
    temperature: str = "F"
    volume: str = "gal"
    mass: str = "lb"
    force: str = "lbf"
    area: str = "in2"
    velocity: str = "ft/s"
    wind: str = "mph"
    density: str = "lb/ft3"
    flow: str = "gpm"
    energy: str = "ft-lbf"
    torque: str = "ft-lb"
    angle: str = "deg"
    time: str = "auto"
    modulus: str = "psi"
    expansion: str = "1/F"
    line_mass: str = "lb/ft"
    line_load: str = "lbf/ft"
    inertia: str = "in4"
    viscosity: str = "cP"
    coverage: str = "ft2/min"
    molar_mass: str = "g/mol"
    fraction: str = "%"

    def __post_init__(self) -> None:
        """Refuse what could not be shown."""
        if self.length not in ("in", "mm"):
            raise BadInput(
                f"lengths cannot be shown in {self.length}", allowed="in, mm", next="use one of these"
            )
        if self.inch_step not in range(1, _FINEST_INCH + 1):
            raise BadInput(
                f"inches cannot be shown to 1/{self.inch_step}", allowed="1/1 to 1/64", next="use 16 or 32"
            )
        if not (self.mm_step > 0.0 and math.isfinite(self.mm_step)):
            raise BadInput(
                f"millimetres cannot be shown to {self.mm_step:g}", allowed="above 0", next="use 1 or 0.5"
            )
        for quantity, units in UNITS.items():
            if not units or quantity in ("length", "temperature_step"):
                continue
            name = self.unit_name(quantity)
            if name not in units and (quantity, name) != ("time", "auto"):
                raise BadInput(
                    f"{quantity.replace('_', ' ')} cannot be shown in {name}",
                    allowed=", ".join(units),
                    next="use one of these",
                )

    @classmethod
    def us(cls) -> Self:
        """Feet and inches to 1/16 in, psi, F, gal, lb.

        Returns
        -------
        Shown
            The usual way in the United States.
        """
        return cls()

    @classmethod
    def metric(cls) -> Self:
        """Millimetres, bar, C, L, kg, kN.

        Returns
        -------
        Shown
            The usual way where the metre rules.
        """
        return cls(
            length="mm", pressure="bar", temperature="C", volume="L", mass="kg", force="kN", area="cm2",
            velocity="m/s", wind="m/s", density="kg/m3", flow="L/s", energy="J", torque="N m", modulus="MPa",
            expansion="mm/m/K", line_mass="kg/m", line_load="N/m", inertia="cm4", coverage="m2/min",
        )  # fmt: skip

    def unit_name(self, quantity: str) -> str:
        """Unit name of a quantity; the first in ``UNITS`` where this way of showing has no wish.

        Parameters
        ----------
        quantity : str
            A key of ``UNITS`` that has units.

        Returns
        -------
        str
            A unit name, or ``"auto"`` for times.
        """
        if quantity == "temperature_step":
            return self.temperature
        name: str = getattr(self, quantity, "") or next(iter(UNITS[quantity]))
        return name

    @property
    def step(self) -> float:
        """The step lengths are shown to. [m]"""
        return INCH / self.inch_step if self.length == "in" else self.mm_step * 1e-3


def _fixed(number: float, decimals: int, *, strip: bool) -> str:
    """A number to so many decimals, half away from zero, never -0."""
    scale = 10.0**decimals
    count = steps(abs(number), 1.0 / scale)
    text = f"{count / scale:.{decimals}f}"
    if strip and decimals > 0:
        text = text.rstrip("0").rstrip(".")
    return f"-{text}" if number < 0 and count else text


def _finite(value: float, quantity: str) -> float:
    if not math.isfinite(value):
        raise OutsideTable(f"a {quantity.replace('_', ' ')} of {value}", allowed="a finite number")
    return value


def _in_unit(value: float, unit: Unit, digits: int | None) -> str:
    number = unit.from_si(value)
    if digits is not None:
        return f"{_fixed(number, digits, strip=False)} {unit.name}"
    if unit.decimals < 0:
        return f"{number:.6g} {unit.name}"
    decimals = unit.decimals
    size = abs(number)
    if 0.0 < size < 1.0 and not unit.offset:
        # No more than four further decimals: what is smaller is float noise around nothing.
        decimals = min(max(decimals, _SIGNIFICANT - 1 - math.floor(math.log10(size))), decimals + 4)
    return f"{_fixed(number, decimals, strip=True)} {unit.name}"


def _unit_for(value: float, quantity: str, shown: Shown) -> Unit:
    name = shown.unit_name(quantity)
    if name == "auto":
        size = abs(value)
        name = "s" if size < 120.0 else "min" if size < 7200.0 else "h"
    return UNITS[quantity][name]


def show(value: float, quantity: str, shown: Shown, *, digits: int | None = None) -> str:
    """Text of an SI value with its unit; ``parse`` reads it back within half a step.

    Parameters
    ----------
    value : float
        The value, finite. [SI]
    quantity : str
        A key of ``UNITS``.
    shown : Shown
        How the job shows things.
    digits : int, optional
        Decimals, 0 to 12, kept even where they are 0; inches then show decimals instead of a fraction.

    Returns
    -------
    str
        The number and its unit.

    Raises
    ------
    BadInput
        If the quantity is not known or the digits are out of range.
    OutsideTable
        If the value is not finite.

    Examples
    --------
    >>> show(1034213.6, "pressure", Shown.us())
    '150 psi'
    >>> show(293.15, "temperature", Shown.us(), digits=1)
    '68.0 F'
    """
    if quantity not in UNITS:
        raise BadInput(f"{quantity} is not a quantity", allowed=", ".join(UNITS), next="use one of these")
    if digits is not None and not 0 <= digits <= 12:
        raise BadInput(f"{digits} decimals cannot be shown", allowed="0 to 12", next="ask for fewer")
    _finite(value, quantity)
    if quantity == "length":
        if digits is None:
            return show_length(value, shown)
        if shown.length == "in":
            return _fixed(value / INCH, digits, strip=False) + '"'
        return _fixed(value * 1e3, digits, strip=False) + " mm"
    if not UNITS[quantity]:
        if digits is not None:
            return _fixed(value, digits, strip=False)
        return _fixed(value, 0, strip=False) if quantity == "count" else f"{value + 0.0:.6g}"
    return _in_unit(value, _unit_for(value, quantity, shown), digits)


def show_length(value: float, shown: Shown, *, feet: bool = True) -> str:
    """Text of a length, in feet and inches or in millimetres as the job shows it.

    Parameters
    ----------
    value : float
        The length, finite. [m]
    shown : Shown
        How the job shows things.
    feet : bool
        False shows inches only.

    Returns
    -------
    str
        Such as ``12'-6 1/2"``, ``6 1/2"`` or ``3212 mm``.

    Raises
    ------
    OutsideTable
        If the length is not finite.

    Examples
    --------
    >>> print(show_length(3.8227, Shown.us()))
    12'-6 1/2"
    >>> print(show_length(3.8227, Shown.metric()))
    3823 mm
    """
    _finite(value, "length")
    if shown.length == "mm":
        count = steps(abs(value) * 1e3, shown.mm_step)
        text = f"{count * shown.mm_step:.6f}".rstrip("0").rstrip(".") + " mm"
    else:
        per_inch = shown.inch_step
        count = steps(abs(value), INCH / per_inch)
        inches, parts = divmod(count, per_inch)
        whole, inches = divmod(inches, 12) if feet else (0, inches)
        common = math.gcd(parts, per_inch)
        part = f"{parts // common}/{per_inch // common}" if parts else ""
        text = f"{inches} {part}" if part and (inches or whole) else part or str(inches)
        text = f"{whole}'-{text}\"" if whole else f'{text}"'
    return f"-{text}" if value < 0 and count else text


def show_inches(value: float, shown: Shown) -> str:
    """Text of a length as the saw wants it: inches without feet, or millimetres.

    Parameters
    ----------
    value : float
        The length, finite. [m]
    shown : Shown
        How the job shows things.

    Returns
    -------
    str
        Such as ``150 1/2"`` or ``3823 mm``.

    Raises
    ------
    OutsideTable
        If the length is not finite.
    """
    return show_length(value, shown, feet=False)
