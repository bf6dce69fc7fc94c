"""Reading and showing units: every notation typed by hand, every unit against the library `pint`.

Handbook figures are those of NIST Special Publication 811 (2008), appendix B, to the digits printed
there, typed from memory; `pint` is the independent check that is run.
"""

from __future__ import annotations

import math

import pint
import pytest

from lineproof.floor.errors import BadInput, LineproofError, OutsideTable, UnitMissing
from lineproof.floor.unit_table import AMBIGUOUS, SPELLINGS, bare
from lineproof.floor.units import (
    UNITS,
    Shown,
    parse,
    parse_length,
    parse_slope,
    show,
    show_inches,
    show_length,
)

US, METRIC = Shown.us(), Shown.metric()


# ------------------------------------------------------------------ lengths as typed
@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        # 150 1/2 in x 25.4 = 3822.7, by hand
        ("12'-6 1/2\"", 3822.7),
        ("12' 6 1/2\"", 3822.7),
        ("12'6 1/2\"", 3822.7),
        ("12'6.5\"", 3822.7),
        ("12'-6.5\"", 3822.7),
        ("12' - 6 1/2\"", 3822.7),
        ("12'-6-1/2\"", 3822.7),
        ("12'-6 1/2''", 3822.7),
        ("12 ft 6 1/2 in", 3822.7),
        ("12ft 6.5in", 3822.7),
        ("12 ft. 6 1/2 in.", 3822.7),
        ("12 FT-6 1/2 IN", 3822.7),
        ("12 feet 6 1/2 inches", 3822.7),
        ("  12'-6 1/2\"  ", 3822.7),
        # typographic marks, fractions and blanks
        ("12\u2019-6 1/2\u201d", 3822.7),
        ("12\u2032-6 1/2\u2033", 3822.7),
        ("12\u2032\u20136\u00bd\u2033", 3822.7),
        ("12'-6\u00bd\"", 3822.7),
        ("12'-6-\u00bd\"", 3822.7),
        ("12\u00a0ft\u00a06\u00a0\u00bd\u00a0in", 3822.7),
        ("12'\u2011\u202f6 1\u20442\"", 3822.7),
        # others
        ("12'-6\"", 3810.0),
        ("12'", 3657.6),
        ("12''", 304.8),
        ("0'-6\"", 152.4),
        ("12'-0\"", 3657.6),
        ("12'-0 1/16\"", 3659.1875),
        ("12'-1/2\"", 3670.3),
        ('6-1/2"', 165.1),
        ('6 1/2"', 165.1),
        ("6 1/2 in", 165.1),
        ('6\u00bc"', 158.75),
        ('6\u00be"', 171.45),
        ('6\u215b"', 155.575),
        ("6\u215e in", 174.625),
        ('1/2"', 12.7),
        ('\u00bd"', 12.7),
        ("1/2in", 12.7),
        ('63/64"', 25.003125),
        ("1/3 in", 25.4 / 3),
        (".5 in", 12.7),
        ("5. in", 127.0),
        ("12.54ft", 3822.192),
        ("12.54 ft", 3822.192),
        ("12 1/2 ft", 3810.0),
        ("3.2 m", 3200.0),
        ("3200 mm", 3200.0),
        ("3200mm", 3200.0),
        ("320 cm", 3200.0),
        ("1e3 mm", 1000.0),
        ("2 yd", 1828.8),
        ("500 \u00b5m", 0.5),
        ("-12'-6\"", -3810.0),
        ("\u22126 in", -152.4),
        ("- 6 in", -152.4),
        ("+6 in", 152.4),
        ("0", 0.0),
        ("0.0", 0.0),
        ("0 mm", 0.0),
        ("0'-0\"", 0.0),
    ],
)
def test_a_length_is_read_as_typed(text: str, millimetres: float) -> None:
    assert math.isclose(parse_length(text) * 1e3, millimetres, rel_tol=1e-12, abs_tol=1e-12)
    assert parse(text, "length") == parse_length(text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1,200 mm", "write a thousand without a comma (1200), a decimal with a point (1.2)"),
        ("3,2 m", "write decimals with a point (3.2)"),
        ("1,200.5 mm", "holds a comma"),
        ("12'-14\"", "less than 12 inches after feet"),
        ("12'-12\"", "less than 12 inches after feet"),
        ("12.5'-6\"", "whole feet"),
        ('3/2"', "bottom figure up to 64"),
        ('2/2"', "bottom figure up to 64"),
        ('0/8"', "bottom figure up to 64"),
        ('1/65"', "bottom figure up to 64"),
        ('1/0"', "bottom figure up to 64"),
        ('6.5 1/2"', "cannot be read as a length"),
        ('6--1/2"', "cannot be read as a length"),
        ("1 200 mm", "cannot be read as a length"),
        ("\u00bd5 in", "cannot be read as a length"),
        ("12'-6\" x", "cannot be read as a length"),
        ("12'-6\" 1/2", "cannot be read as a length"),
        ("--6 in", "cannot be read as a length"),
        ("nan", "cannot be read as a length"),
        ("inf", "cannot be read as a length"),
        ("nan m", "cannot be read as a length"),
        ("mm", "cannot be read as a length"),
        ("\u0661 m", "cannot be read as a length"),
        ("1.2.3 m", "cannot be read as a length"),
        ("10\u00b2 mm", "raised figure"),
        ("5 psi", "psi is a unit of pressure, not of length"),
        ("5 wands", "wands is not a unit of length"),
        ("5 mil", "may be a thousandth of an inch or a millimetre"),
        ("", "nothing stands where a length is expected"),
        ("   ", "nothing stands where a length is expected"),
        ("9" * 81, "too long for a number"),
    ],
)
def test_a_length_that_cannot_be_meant_is_refused_in_words(text: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_length(text)
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)
    assert not isinstance(caught.value, UnitMissing)


@pytest.mark.parametrize("text", ["12", "6 1/2", "6-1/2", "1/2", "-3", "1e2", "12'6", "12'-6 1/2", "12 ft 6"])
def test_a_length_without_its_unit_is_refused_and_names_the_units(text: str) -> None:
    with pytest.raises(UnitMissing) as caught:
        parse_length(text)
    assert "in" in caught.value.allowed
    assert caught.value.next


@pytest.mark.parametrize("text", ["1e400 m", "-1e400 m", "1e400'-6\"", "1e16 m", "9" * 70 + " mm"])
def test_a_length_too_large_to_be_meant_is_refused(text: str) -> None:
    with pytest.raises(OutsideTable, match="too large to be meant"):
        parse_length(text)


def test_the_same_length_is_the_same_float_however_it_is_written() -> None:
    written = ["12'", "144 in", "3657.6 mm", "365.76 cm", "3.6576 m", "12 ft", "4 yd"]
    assert {parse_length(text) for text in written} == {3.6576}


def test_a_default_unit_is_taken_only_where_none_is_written() -> None:
    assert parse_length("6 1/2", default_unit="in") == 0.1651
    assert parse_length("6 1/2 mm", default_unit="in") == 0.0065
    assert parse("50", "pressure", default_unit="psi") == parse("50 psi", "pressure")
    with pytest.raises(BadInput, match="furlong is not a unit of length"):
        parse_length("6", default_unit="furlong")


# ------------------------------------------------------------------ other quantities
@pytest.mark.parametrize(
    ("text", "quantity", "value", "digits"),
    [
        # NIST SP 811 appendix B, to the digits printed there (from memory)
        ("1 psi", "pressure", 6.894757e3, 7),
        ("1 psig", "pressure", 6.894757e3, 7),
        ("1 ft H2O", "pressure", 2.989067e3, 7),
        ("1 in H2O", "pressure", 2.490889e2, 7),
        ("1 lbf", "force", 4.448222, 7),
        ("1 kip", "force", 4.448222e3, 7),
        ("1 lb", "mass", 4.535924e-1, 7),
        ("1 oz", "mass", 2.834952e-2, 7),
        ("1 gal", "volume", 3.785412e-3, 7),
        ("1 qt", "volume", 9.463529e-4, 7),
        ("1 pt", "volume", 4.731765e-4, 7),
        ("1 fl oz", "volume", 2.957353e-5, 7),
        ("1 ft3", "volume", 2.831685e-2, 7),
        ("1 in3", "volume", 1.638706e-5, 7),
        ("1 gpm", "flow", 6.309020e-5, 7),
        ("1 lb/ft3", "density", 1.601846e1, 7),
        ("1 lb/gal", "density", 1.198264e2, 7),
        ("1 ft-lb", "torque", 1.355818, 7),
        ("1 in-lb", "torque", 1.129848e-1, 7),
        ("1 lb/ft", "line_mass", 1.488164, 7),
        ("1 lbf/ft", "line_load", 1.459390e1, 7),
        ("1 mph", "velocity", 4.4704e-1, 7),
        ("1 ksi", "modulus", 6.894757e6, 7),
        ("1 ft2", "area", 9.290304e-2, 7),
        ("1 in4", "inertia", 4.162314e-7, 7),
        # by definition
        ("32 F", "temperature", 273.15, 12),
        ("212 degF", "temperature", 373.15, 12),
        ("-40\u00b0F", "temperature", 233.15, 12),
        ("-40 C", "temperature", 233.15, 12),
        ("20 \u00b0C", "temperature", 293.15, 12),
        ("20\u2103", "temperature", 293.15, 12),
        ("68\u2109", "temperature", 293.15, 12),
        ("293.15 K", "temperature", 293.15, 12),
        ("9 F", "temperature_step", 5.0, 12),
        ("5 C", "temperature_step", 5.0, 12),
        ("5 K", "temperature_step", 5.0, 12),
        ("1.5 bar", "pressure", 1.5e5, 12),
        ("150 kPa", "pressure", 1.5e5, 12),
        ("0.15 MPa", "pressure", 1.5e5, 12),
        ("150 mpa", "pressure", 1.5e8, 12),
        ("150000 Pa", "pressure", 1.5e5, 12),
        ("10 m H2O", "pressure", 98066.5, 12),
        ("10 mH2O", "pressure", 98066.5, 12),
        ("30 ftH2O", "pressure", 30 * 0.3048 * 9806.65, 12),
        ("-2 psi", "pressure", -2 * 6894.757293168362, 12),
        ("2 L", "volume", 0.002, 12),
        ("2 l", "volume", 0.002, 12),
        ("250 mL", "volume", 0.00025, 12),
        ("1/2 gal", "volume", 231 * 0.0254**3 / 2, 12),
        ("1.5 m\u00b3", "volume", 1.5, 12),
        ("1.5 m^3", "volume", 1.5, 12),
        ("2 t", "mass", 2000.0, 12),
        ("90 min", "time", 5400.0, 12),
        ("1 h 30 min", "time", 5400.0, 12),
        ("1h30min", "time", 5400.0, 12),
        ("1 d 2 h 3 min 4 s", "time", 93784.0, 12),
        ("2 1/2 min", "time", 150.0, 12),
        ("96 h", "time", 345600.0, 12),
        ("180 deg", "angle", math.pi, 12),
        ("22-1/2\u00b0", "angle", math.pi / 8, 12),
        ("1 rad", "angle", 1.0, 12),
        ("120 N\u00b7m", "torque", 120.0, 12),
        ("120 Nm", "torque", 120.0, 12),
        ("1 m3/h", "flow", 1 / 3600, 12),
        ("1 L/s", "flow", 1e-3, 12),
        ("5e-5 1/K", "expansion", 5e-5, 12),
        ("5e-5/K", "expansion", 5e-5, 12),
        ("3e-5 in/in/F", "expansion", 5.4e-5, 12),
        ("0.054 mm/m/K", "expansion", 5.4e-5, 12),
        ("0.36 in/100ft/10F", "expansion", 5.4e-5, 12),  # 0.36/1200/10 a degree F = 3e-5/F
        ("60 %", "fraction", 0.6, 12),
        ("60%", "fraction", 0.6, 12),
        ("0.6", "fraction", 0.6, 12),
        ("1/3", "fraction", 1 / 3, 12),
        ("150 %", "fraction", 1.5, 12),
        ("12", "count", 12.0, 12),
        ("2.5", "plain", 2.5, 12),
        ("0", "pressure", 0.0, 12),
    ],
)
def test_a_value_is_read_with_its_unit(text: str, quantity: str, value: float, digits: int) -> None:
    assert math.isclose(parse(text, quantity), value, rel_tol=0.51 * 10.0 ** (1 - digits), abs_tol=1e-15)


@pytest.mark.parametrize(
    ("text", "quantity", "says"),
    [
        ("1 ton", "mass", "write t for 1000 kg"),
        ("5 lb", "force", "write lbf"),
        ("50 psia", "pressure", "gauge pressure is asked"),
        ("30 ft", "pressure", "write ft H2O"),
        ("5 m", "time", "write min"),
        ("1 month", "time", "no fixed length"),
        ("20 deg", "temperature", "write F or C"),
        ("8 oz", "volume", "write fl oz"),
        ("2 gallons of paint", "volume", "is not a unit of volume"),
        ("30 min 1 h", "time", "write the larger unit first"),
        ("1 h 30", "time", "cannot be read as a time"),
        ("1 h 3 zz", "time", "zz is not a unit of time"),
        ("2.5", "count", "a whole number"),
        ("3 m", "plain", "write the number alone"),
        ("abc", "plain", "a number such as 12"),
        ("5", "zork", "zork is not a quantity"),
        ("50 \u0007psi", "pressure", "is not a unit of pressure"),
    ],
)
def test_a_value_that_may_mean_two_things_is_refused(text: str, quantity: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse(text, quantity)
    assert says in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("text", "quantity"),
    [("50", "pressure"), ("0", "temperature"), ("60", "fraction"), ("20", "temperature_step"), ("3", "mass")],
)
def test_a_number_alone_is_refused_where_it_needs_a_unit(text: str, quantity: str) -> None:
    with pytest.raises(UnitMissing) as caught:
        parse(text, quantity)
    assert caught.value.allowed


def test_nothing_is_colder_than_absolute_zero() -> None:
    assert parse("-459.67 F", "temperature") == 0.0
    assert parse("-273.15 C", "temperature") == 0.0
    for text in ("-460 F", "-274 C", "-1 K"):
        with pytest.raises(OutsideTable, match="below absolute zero"):
            parse(text, "temperature")


def test_what_is_no_text_is_refused() -> None:
    for given in (12, None, 3.5, b"3 m"):
        with pytest.raises(BadInput, match="is not text"):
            parse_length(given)  # type: ignore[arg-type]  # the wrong type is the point


def test_a_refusal_is_made_anew_each_time() -> None:
    """An error is given its place by the reader: a cached one would carry the place of another line."""
    places = []
    for line in (3, 7):
        with pytest.raises(UnitMissing) as caught:
            parse_length("12")
        places.append(caught.value.at(file="a.walk", line=line).place.line)
    assert places == [3, 7]


# ------------------------------------------------------------------ every unit against pint
PINT = {
    ("density", "lb/gal"): "lb/gallon",
    ("expansion", "1/F"): "1/delta_degF",
    ("expansion", "1/K"): "1/kelvin",
    ("expansion", "in/100ft/10F"): "in/(100 ft)/(10 delta_degF)",
    ("expansion", "mm/m/K"): "mm/m/kelvin",
    ("flow", "gpm"): "gallon/minute",
    ("force", "kip"): "kip",
    ("fraction", "%"): "percent",
    ("temperature_step", "C"): "delta_degC",
    ("temperature_step", "F"): "delta_degF",
    ("temperature_step", "K"): "kelvin",
    ("time", "d"): "day",
    ("time", "h"): "hour",
    ("time", "wk"): "week",
    ("velocity", "knot"): "international_knot",
    ("wind", "knot"): "international_knot",
    ("volume", "fl oz"): "US_fluid_ounce",
    ("volume", "pt"): "US_pint",
    ("volume", "qt"): "US_liquid_quart",
    ("mass", "t"): "metric_ton",
    ("pressure", "ft H2O"): "foot_H2O",
    ("pressure", "in H2O"): "inch_H2O",
    ("pressure", "m H2O"): "100 cmH2O",
    ("torque", "N m"): "newton*metre",
    ("torque", "ft-lb"): "foot*force_pound",
    ("torque", "in-lb"): "inch*force_pound",
    ("energy", "ft-lbf"): "foot*force_pound",
    ("viscosity", "Pa s"): "pascal*second",
}
SI = {
    "length": "m", "area": "m**2", "volume": "m**3", "mass": "kg", "force": "N", "pressure": "Pa",
    "modulus": "Pa", "temperature_step": "delta_degC", "time": "s", "angle": "rad", "velocity": "m/s",
    "wind": "m/s", "density": "kg/m**3", "flow": "m**3/s", "energy": "J", "torque": "N*m",
    "line_mass": "kg/m", "coverage": "m**2/s", "molar_mass": "kg/mol",
    "line_load": "N/m", "inertia": "m**4", "viscosity": "Pa*s",
    "expansion": "1/delta_degC", "fraction": "",
}  # fmt: skip
EVERY_UNIT = [(q, n) for q, units in UNITS.items() for n in units]


def pint_words(quantity: str, name: str) -> str:
    return PINT.get((quantity, name)) or name.replace("2", "**2").replace("3", "**3").replace("4", "**4")


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("quantity", "name"), [u for u in EVERY_UNIT if u[0] != "temperature"])
def test_every_factor_agrees_with_pint(registry: pint.UnitRegistry, quantity: str, name: str) -> None:
    """Reference library: pint. Its factors come from its own definition file."""
    reference = registry.Quantity(pint_words(quantity, name)).to(SI[quantity]).magnitude
    assert math.isclose(parse(f"1 {name}", quantity), reference, rel_tol=1e-12)


@pytest.mark.parametrize("number", [-40.0, 0.0, 32.0, 73.0, 212.0])
@pytest.mark.parametrize(("name", "word"), [("F", "degF"), ("C", "degC"), ("K", "kelvin")])
def test_temperatures_agree_with_pint(
    registry: pint.UnitRegistry, name: str, word: str, number: float
) -> None:
    """Reference library: pint, offset units."""
    if name == "K":
        number += 100.0
    reference = registry.Quantity(number, word).to("kelvin").magnitude
    assert math.isclose(parse(f"{number} {name}", "temperature"), reference, rel_tol=1e-12)


def test_a_quantity_without_a_wish_is_shown_in_its_first_unit() -> None:
    for shown in (US, METRIC):
        for quantity, units in UNITS.items():
            if units and quantity != "length":
                assert shown.unit_name(quantity) in (*units, "auto")


def test_no_two_units_of_a_quantity_share_a_spelling() -> None:
    for quantity, units in UNITS.items():
        spelled = [bare(s) for u in units.values() for s in {bare(t) for t in (u.name, *u.spellings)}]
        assert len(spelled) == len(set(spelled)), quantity
        assert not set(spelled) & set(AMBIGUOUS.get(quantity, {})), quantity
        assert set(spelled) == set(SPELLINGS[quantity])


@pytest.mark.parametrize(("quantity", "name"), EVERY_UNIT)
def test_every_spelling_reads_as_its_unit(quantity: str, name: str) -> None:
    unit = UNITS[quantity][name]
    values = {parse(f"300 {s}", quantity) for s in (name, *unit.spellings)}
    assert values == {unit.to_si(300.0)}
    assert math.isclose(unit.from_si(unit.to_si(300.0)), 300.0, rel_tol=1e-12)
    assert unit.words


# ------------------------------------------------------------------ slopes
@pytest.mark.parametrize(
    ("text", "slope"),
    [
        ("1:100", 1 / 100),
        ("1 : 66.7", 1 / 66.7),
        ("1 in 100", 1 / 100),
        ("2%", 0.02),
        ("2 %", 0.02),
        ("1/2 %", 0.005),
        ("1/4 in per ft", 1 / 48),  # a quarter in twelve inches
        ("1/4 in/ft", 1 / 48),
        ('1/4" per ft', 1 / 48),
        ('1/4"/ft', 1 / 48),
        ("1/4\" / '", 1 / 48),
        ("\u00bc\u2033 per ft", 1 / 48),
        ("1/8 in per foot", 1 / 96),
        ("1 in per 100 ft", 1 / 1200),
        ("10 mm/m", 0.01),
        ("10 mm per m", 0.01),
    ],
)
def test_a_slope_is_read_as_rise_over_run(text: str, slope: float) -> None:
    assert math.isclose(parse_slope(text), slope, rel_tol=1e-12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1/4", "alone is not a slope"),
        ("2", "alone is not a slope"),
        ("0", "alone is not a slope"),
        ("0%", "leave the slope out"),
        ("-2%", "leave the slope out"),
        ("-1/4 in per ft", "leave the slope out"),
        ("1:0", "cannot be read as a slope"),
        ("1:1e400", "cannot be read as a slope"),
        ("1/4 m", "cannot be read as a slope"),
        ("steep", "cannot be read as a slope"),
        ("1 : 100 : 2", "cannot be read as a slope"),
        ("1:" + "9" * 90, "cannot be read as a slope"),
        ("1:1,000", "holds a comma"),
        ("", "nothing stands where a slope is expected"),
        ("1/4 psi per ft", "psi is a unit of pressure"),
        ("1:1e-300", "too large to be meant"),
    ],
)
def test_what_is_no_slope_is_refused(text: str, says: str) -> None:
    with pytest.raises(LineproofError) as caught:
        parse_slope(text)
    assert says in str(caught.value)


# ------------------------------------------------------------------ showing
@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("150.5 in", "12'-6 1/2\""),
        ("12 ft", "12'-0\""),
        ("144.5 in", "12'-0 1/2\""),
        ("6.5 in", '6 1/2"'),
        ("0.5 in", '1/2"'),
        ("0.25 in", '1/4"'),
        ("0.0625 in", '1/16"'),
        ("0", '0"'),
        ("11.97 in", "1'-0\""),  # 191.5 sixteenths: rounds up to 12 in, and is carried into feet
        ("11.96 in", '11 15/16"'),
        ("-150.5 in", "-12'-6 1/2\""),
        ("-0.01 in", '0"'),
        ("0.03125 in", '1/16"'),  # exactly half a step goes up
        ("-0.03125 in", '-1/16"'),
    ],
)
def test_feet_and_inches_are_shown_as_on_a_drawing(text: str, shown: str) -> None:
    assert show_length(parse_length(text), US) == shown


def test_lengths_are_shown_as_the_job_says() -> None:
    length = parse_length("12'-6 1/2\"")  # 3822.7 mm
    assert show_length(length, METRIC) == "3823 mm"
    assert show_length(-length, METRIC) == "-3823 mm"
    assert show_length(length, Shown(length="mm", mm_step=0.5)) == "3822.5 mm"
    assert show_length(length, Shown(length="mm", mm_step=5.0)) == "3825 mm"
    assert show_inches(length, US) == '150 1/2"'
    assert show_inches(length, METRIC) == "3823 mm"
    assert show_length(length, US, feet=False) == '150 1/2"'
    assert show(length, "length", US) == "12'-6 1/2\""
    assert show(length, "length", US, digits=3) == '150.500"'
    assert show(length, "length", METRIC, digits=1) == "3822.7 mm"
    assert show_length(parse_length('1/32"'), Shown(inch_step=32)) == '1/32"'
    assert Shown(inch_step=32).step == 0.0254 / 32
    assert METRIC.step == 0.001


@pytest.mark.parametrize(
    ("value", "quantity", "shown", "digits", "text"),
    [
        ("99.6 psi", "pressure", US, None, "99.6 psi"),
        ("150 psi", "pressure", US, None, "150 psi"),
        ("-2 psi", "pressure", US, None, "-2 psi"),
        ("150 psi", "pressure", METRIC, None, "10.34 bar"),  # 10.3421 bar
        ("68 F", "temperature", US, None, "68 F"),
        ("68 F", "temperature", US, 1, "68.0 F"),
        ("68 F", "temperature", METRIC, None, "20 C"),
        ("11.4 C", "temperature", METRIC, None, "11.4 C"),
        ("0 F", "temperature", US, None, "0 F"),
        ("18 F", "temperature_step", METRIC, None, "10 C"),
        ("18 F", "temperature_step", US, None, "18 F"),
        ("0.004 gal", "volume", US, None, "0.004 gal"),  # a little cement is not none
        ("1 L", "volume", METRIC, None, "1 L"),
        ("90 s", "time", US, None, "90 s"),
        ("2 1/2 min", "time", US, None, "2.5 min"),
        ("96 h", "time", US, None, "96 h"),
        ("22.5 deg", "angle", US, None, "22.5 deg"),
        ("60 %", "fraction", US, None, "60 %"),
        ("5.4e-5 1/K", "expansion", US, None, "3e-05 1/F"),
        ("5.4e-5 1/K", "expansion", METRIC, None, "0.054 mm/m/K"),
        ("30 ft-lb", "torque", METRIC, None, "40.7 N m"),  # 40.6745
        ("12", "count", US, None, "12"),
        ("0.333333", "plain", US, None, "0.333333"),
        ("2.5", "plain", US, 2, "2.50"),
        ("0 psi", "pressure", US, None, "0 psi"),
    ],
)
def test_a_value_is_shown_with_its_unit(
    value: str, quantity: str, shown: Shown, digits: int | None, text: str
) -> None:
    assert show(parse(value, quantity), quantity, shown, digits=digits) == text


def test_float_noise_is_shown_as_nothing() -> None:
    assert show(1e-12, "pressure", US) == "0 psi"
    assert show(-1e-12, "pressure", US) == "0 psi"
    assert show(-0.0, "plain", US) == "0"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_shown(value: float) -> None:
    for quantity in UNITS:
        with pytest.raises(OutsideTable):
            show(value, quantity, US)
    with pytest.raises(OutsideTable):
        show_length(value, METRIC)
    with pytest.raises(OutsideTable):
        show_inches(value, US)


def test_showing_refuses_what_it_does_not_know() -> None:
    with pytest.raises(BadInput, match="zork is not a quantity"):
        show(1.0, "zork", US)
    with pytest.raises(BadInput, match="13 decimals"):
        show(1.0, "pressure", US, digits=13)


@pytest.mark.parametrize(
    "wrong",
    [
        {"length": "ft"},
        {"inch_step": 0},
        {"inch_step": 65},
        {"mm_step": 0.0},
        {"mm_step": math.nan},
        {"pressure": "furlong"},
        {"temperature": "R"},
        {"volume": "auto"},
    ],
)
def test_a_way_of_showing_that_cannot_be_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(BadInput) as caught:
        Shown(**wrong)  # type: ignore[arg-type]  # the wrong value is the point
    assert caught.value.allowed
