"""Dew point against PsychroLib 2.5.0 (MIT licence), values printed by running that version.

PsychroLib inverts the saturation pressure of the ASHRAE Handbook of Fundamentals (2017, SI, ch. 1), so it
is another formula than ours: they may differ by 0.02 K above 0 C.
"""

from __future__ import annotations

import math

import pytest

from lineproof.sums.air import dew_point, relative_humidity


@pytest.mark.parametrize(
    ("celsius", "humidity", "psychrolib"),
    [(20, 0.60, 12.007), (25, 0.50, 13.864), (10, 0.80, 6.713), (5, 0.90, 3.498), (35, 0.40, 19.385)],
)
def test_dew_point(celsius: float, humidity: float, psychrolib: float) -> None:
    assert dew_point(celsius + 273.15, humidity) - 273.15 == pytest.approx(psychrolib, abs=0.02)


def test_dew_point_in_fahrenheit() -> None:
    """PsychroLib 2.5.0, IP: 75 F and 50 % give 55.1199 F; 0.04 F is the 0.02 K above."""
    kelvin = dew_point((75 + 459.67) / 1.8, 0.5)
    assert kelvin * 1.8 - 459.67 == pytest.approx(55.1199, abs=0.04)


@pytest.mark.parametrize(
    ("cold", "cold_Pa", "warm", "warm_Pa"),
    [(5, 872.487, 20, 2338.804), (10, 1227.995, 30, 4246.030), (20, 2338.804, 30, 4246.030)],
)
def test_humidity_from_saturation_pressures(cold: float, cold_Pa: float, warm: float, warm_Pa: float) -> None:
    """Relative humidity is the ratio of saturation pressures; PsychroLib 2.5.0 gives the pressures."""
    share = relative_humidity(warm + 273.15, cold + 273.15)
    assert share == pytest.approx(cold_Pa / warm_Pa, rel=2e-3)
    assert math.isclose(dew_point(warm + 273.15, share), cold + 273.15, abs_tol=1e-9)
