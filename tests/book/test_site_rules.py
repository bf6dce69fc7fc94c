"""Cement, crew, bevel, hold, weather, storage, labour, ratings, material, stock."""

from __future__ import annotations

import math

import pytest

from lineproof.book.cement import (
    applicator_width,
    bevel,
    body_needed,
    brush_width,
    cement_body,
    crew,
    hold,
    pull_in,
    working_time,
)  # fmt: skip
from lineproof.book.load import book
from lineproof.book.material import density, expansion, modulus, solvent, working_stress
from lineproof.book.ratings import joint_limit, rating_73f, temperature_factor
from lineproof.book.rules import flammable_limit, joint_hours, weather_rule
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.book.stock import stock_length
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading

PSI = 6894.757293168361


def nps(n: float) -> Size:
    return Size("nps", n)


def kelvin_f(f: float) -> float:
    return (f + 459.67) / 1.8


@pytest.mark.parametrize(
    ("size", "body"),
    [
        (nps(2), "regular"), (nps(2.5), "medium"), (nps(6), "medium"), (nps(8), "heavy"), (nps(12), "heavy"),
        (nps(14), None), (Size("d", 50), "regular"), (Size("d", 63), "medium"), (Size("d", 160), "heavy"),
        (Size("d", 315), None),
    ],
)  # fmt: skip
def test_body_by_size(size: Size, body: str | None) -> None:
    """D2564 with D2855-96 (memory): regular to 2, medium to 6, heavy to 12; above, written instruction."""
    found = body_needed(book(), size, Reading())
    assert (found.body if found else None) == body


def test_body_values_and_unknown_body() -> None:
    heavy = cement_body(book(), "heavy", Reading())
    assert heavy.film == pytest.approx(0.024 * 0.0254)
    assert heavy.viscosity == pytest.approx(1.6)
    with pytest.raises(SizeNotListed, match="regular, medium, heavy"):
        cement_body(book(), "syrup", Reading())


@pytest.mark.parametrize(
    ("size", "people"),
    [
        (nps(2), (1, 1)), (nps(4), (2, 2)), (nps(5), (2, 2)), (nps(8), (2, 3)), (nps(12), (3, 4)),
        (nps(24), (3, 4)), (Size("d", 110), (2, 2)), (Size("d", 315), (3, 4)), (nps(30), None),
    ],
)  # fmt: skip
def test_crew(size: Size, people: tuple[int, int] | None) -> None:
    found = crew(book(), size, Reading())
    assert (None if found is None else (found.fewest, found.most)) == people


def test_pull_in_device() -> None:
    """Above NPS 6 (laboratory page); from d160 (A 117)."""
    assert [pull_in(book(), nps(n), Reading()) for n in (6, 8, 24, 30)] == [False, True, True, None]
    assert [pull_in(book(), Size("d", d), Reading()) for d in (140, 160, 400)] == [False, True, True]


def test_applicator_bevel_hold() -> None:
    """Half the diameter; 10 to 15 degrees, 1/16 to 3/32 in; 30 s to NPS 3, 1 to 3 min from 4 (memory)."""
    log = Reading()
    assert applicator_width(book(), 0.168, log) == pytest.approx(0.084)
    inch = bevel(book(), nps(12), log)
    assert inch is not None
    assert inch.angle_min == pytest.approx(math.radians(10))
    assert inch.length_max == pytest.approx(0.0254 * 3 / 32)
    metric = bevel(book(), Size("d", 315), log)
    assert metric is not None
    assert (metric.length_min, metric.length_max) == (0.006, 0.008)
    assert bevel(book(), nps(30), log) is None
    assert hold(book(), nps(3), log) == (30, 30)
    assert hold(book(), nps(3.5), log) == hold(book(), nps(12), log) == (60, 180)
    assert hold(book(), nps(30), log) is None
    assert len(log.unconfirmed()) == len(log.cells)


def test_brushes() -> None:
    """A 117: round 8 mm to d32, 2-1/2 in d225 to 280; between 160 and 225 none is printed."""
    assert brush_width(book(), Size("d", 25), Reading()) == 0.008
    assert brush_width(book(), Size("d", 250), Reading()) == pytest.approx(0.0635)
    assert brush_width(book(), Size("d", 200), Reading()) is None
    assert brush_width(book(), nps(12), Reading()) is None


def test_working_time_takes_the_hotter_row() -> None:
    assert working_time(book(), 293.15, Reading()) == 240
    assert working_time(book(), 296.15, Reading()) == 180
    assert working_time(book(), 273.15, Reading()) == 240
    assert working_time(book(), 314.15, Reading()) is None
    assert working_time(book(), 320.15, Reading()) is None


def test_weather_and_storage() -> None:
    cold = weather_rule(book(), "join-air-min", Reading())
    assert cold.low == pytest.approx(kelvin_f(40))
    assert cold.high is None
    assert weather_rule(book(), "dew-margin", Reading()).margin_K == 3
    store = weather_rule(book(), "store-cement", Reading())
    assert (store.low, store.high) == (pytest.approx(kelvin_f(40)), pytest.approx(kelvin_f(110)))
    with pytest.raises(SizeNotListed, match="join-rain"):
        weather_rule(book(), "join-snow", Reading())
    log = Reading()
    assert flammable_limit(book(), "room", log) == pytest.approx(25 * 3.785411784e-3)
    assert flammable_limit(book(), "cabinets", log) == 3
    assert log.unconfirmed() == ()


def test_labour() -> None:
    hours = joint_hours(book(), nps(12), Reading())
    assert hours is not None
    assert hours.joint == 1.8 * 3600
    assert [joint_hours(book(), s, Reading()) for s in (nps(5), nps(14), Size("d", 110))] == [None] * 3


def test_ratings() -> None:
    def rating(size: Size, *words: str) -> float | None:
        return rating_73f(book(), size, PipeSpec(*words), Reading())

    assert rating(nps(12), "pvc", "sch80", "ips") == pytest.approx(230 * PSI)
    assert rating(nps(6), "pvc", "sdr26", "ips") == pytest.approx(160 * PSI)
    assert rating(Size("d", 315), "pvc", "pn10", "metric") == 1e6
    assert rating(Size("d", 315), "pvc", "pn7", "metric") is None
    assert rating(Size("d", 315), "pvc", "s12.5", "metric") is None
    assert rating(nps(3), "cpvc", "sch80", "ips") is None
    assert rating(nps(8), "pvc", "sch120", "ips") is None


def test_factor_is_that_of_the_next_hotter_row() -> None:
    def factor(f: float, material: str = "pvc", family: str = "A") -> float | None:
        return temperature_factor(book(), material, kelvin_f(f), Reading(), family=family)

    assert [factor(f) for f in (50, 73, 75, 80, 100, 101, 140)] == [1, 1, 0.88, 0.88, 0.62, 0.5, 0.22]
    assert factor(141) is None
    assert factor(110, family="B") == 0.51
    assert factor(90, family="B") == 0.75
    assert factor(79, family="C") == 0.9
    assert factor(200, "cpvc") == 0.2
    assert factor(201, "cpvc") is None
    assert factor(95, family="ISO") == 0.8
    assert factor(90, family="Z") is None


def test_joint_limit() -> None:
    assert joint_limit(book(), "pvc", kelvin_f(75), Reading()) == pytest.approx(132 * PSI)
    assert joint_limit(book(), "pvc", kelvin_f(145), Reading()) is None
    assert joint_limit(book(), "cpvc", kelvin_f(145), Reading()) == pytest.approx(63 * PSI)
    assert joint_limit(book(), "cpvc", kelvin_f(205), Reading()) is None


def test_material() -> None:
    log = Reading()
    assert expansion(book(), "pvc", log) == pytest.approx(5.04e-5)
    assert log.unconfirmed() == ()
    assert expansion(book(), "cpvc", log) == pytest.approx(6.12e-5)
    assert expansion(book(), "pvc", log, metric=True) == pytest.approx(8e-5)
    assert density(book(), "cpvc", log) == 1550
    assert modulus(book(), "pvc", kelvin_f(73), log) == pytest.approx(400000 * PSI)
    assert modulus(book(), "pvc", kelvin_f(74), log) == pytest.approx(352000 * PSI)
    assert modulus(book(), "pvc", kelvin_f(150), log) is None
    assert working_stress(book(), "cpvc", kelvin_f(140), log) == pytest.approx(1000 * PSI)
    assert solvent(book(), "thf", "liquid-density", log) == 885.4
    assert solvent(book(), "thf", "lower-limit", log) == pytest.approx(0.015)
    assert solvent(book(), "nmp", "idlh", log) is None


def test_stock_length() -> None:
    assert stock_length(book(), "ips-north-america-20ft", Reading()) == pytest.approx(6.096)
    assert stock_length(book(), "metric-industrial-5m", Reading()) == 5.0
    with pytest.raises(SizeNotListed, match="ips-astm-20ft"):
        stock_length(book(), "mine", Reading())
