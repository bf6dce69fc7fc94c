"""Sun, wall, dew and chill against pvlib, psychrolib, ASHRAE's sol-air, ASTM D4803 and worked values."""

from __future__ import annotations

import math
from datetime import UTC, datetime

import numpy as np
import pandas as pd
import psychrolib
import pvlib
import pytest

from lineproof.sums.air import dew_point
from lineproof.sums.sunlight import Sun, light, sun_place
from lineproof.sums.wall import Skin, Solvent, chilled, dew_points, sol_air, wall, wind_factor

ICE = 273.15
PLACES = [(39.74, -104.99), (36.08, -79.95), (55.33, -160.5), (-33.9, 151.2), (64.1, -21.9), (1.3, 103.8)]


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
def test_the_sun_stands_where_pvlib_has_it(latitude: float, longitude: float) -> None:
    """pvlib's solar position algorithm of NREL (Reda and Andreas 2004), 0.02 deg: ours is the short form."""
    times = pd.date_range("2025-01-01", "2027-12-31", freq="17h", tz="UTC")
    other = pvlib.solarposition.get_solarposition(times, latitude, longitude)
    at = np.array([t.timestamp() for t in times])
    ours = sun_place(at, latitude=math.radians(latitude), longitude=math.radians(longitude))
    assert np.abs(np.degrees(ours.height) - other["elevation"].to_numpy()).max() < 0.02
    apart = (np.degrees(ours.bearing) - other["azimuth"].to_numpy() + 180) % 360 - 180
    # bearings run together straight below and above
    assert np.abs(apart * np.cos(ours.height)).max() < 0.02


def test_clear_light_is_that_of_haurwitz_and_the_split_that_of_erbs() -> None:
    """pvlib.clearsky.haurwitz and pvlib.irradiance.erbs, from 5 degrees up."""
    heights = np.radians(np.arange(5.0, 90.0, 1.0))
    ours = light(Sun(heights, heights * 0), np.zeros_like(heights))
    level = ours.beam * np.sin(heights) + ours.diffuse
    theirs = pvlib.clearsky.haurwitz(pd.Series(90 - np.degrees(heights)))["ghi"].to_numpy()
    np.testing.assert_allclose(level, theirs, rtol=1e-6)
    split = pvlib.irradiance.erbs(theirs, 90 - np.degrees(heights), 80)
    # its sun is some per cent nearer or farther by the day of the year, ours stays at the mean
    np.testing.assert_allclose(ours.diffuse, split["dhi"], rtol=0.06, atol=3)


def test_cloud_takes_three_quarters_of_it_and_night_all() -> None:
    """Kasten and Czeplak 1980: 1 - 0.75 N^3.4; half covered 0.75 (1/2)^3.4 = 7.1 % off."""
    high = np.radians([40.0, 40.0, 40.0, -5.0])
    ours = light(Sun(high, high * 0), np.array([0.0, 0.5, 1.0, 0.0]))
    level = ours.beam * np.sin(high) + ours.diffuse
    assert level[1] / level[0] == pytest.approx(1 - 0.75 * 0.5**3.4)
    assert level[2] / level[0] == pytest.approx(0.25)
    assert level[3] == ours.beam[3] == 0.0
    assert ours.diffuse[2] > 0.9 * level[2]


WHITE, GREY, BLACK = 0.35, 0.75, 0.95


def skin(absorptance: float, h: float) -> Skin:
    return Skin(absorptance=absorptance, emissivity=0.9, ground=0.2, sky_drop=20.0, still=h, per_wind=0.0)


@pytest.mark.parametrize(
    ("absorptance", "h", "mean", "line"),
    [(WHITE, 6, 37.3, 47.4), (WHITE, 12, 34.9, 41.8), (GREY, 6, 49.9, 73.9), (GREY, 12, 43.5, 60.7),
     (BLACK, 6, 56.0, 85.9), (BLACK, 12, 47.8, 69.8)],
)  # fmt: skip
def test_pipe_in_the_open(absorptance: float, h: float, mean: float, line: float) -> None:
    """Worked: 30 C, beam 800 square to the axis, diffuse 100, emissivity 0.9, sky 20 K colder (derived)."""
    one = np.ones(1)
    found = wall(
        skin(absorptance, h), air=one * (30 + ICE), wind=one, cloud=0 * one, beam=800 * one,
        diffuse=100 * one, level=900 * one,
    )  # fmt: skip
    assert found.mean[0] - ICE == pytest.approx(mean, abs=0.1)
    assert found.warmest[0] - ICE == pytest.approx(line, abs=0.1)


@pytest.mark.parametrize(("h", "mean", "top"), [(6, 6.0, 2.0), (3, 4.4, -1.3)])
def test_clear_night(h: float, mean: float, top: float) -> None:
    """Worked: air 10 C, clear: 4 to 6 K below the air, the top line 8 to 11 K (derived)."""
    one, dark = np.ones(1), np.zeros(1)
    night = {"air": 283.15 * one, "wind": one, "beam": dark, "diffuse": dark, "level": dark}
    found = wall(skin(GREY, h), cloud=dark, **night)
    assert found.mean[0] - ICE == pytest.approx(mean, abs=0.1)
    assert found.coldest[0] - ICE == pytest.approx(top, abs=0.15)
    assert wall(skin(GREY, h), cloud=one, **night).mean[0] == pytest.approx(283.15)


def test_sol_air() -> None:
    """32 C, 900 W/m2: light 51.4, dark 74.8 level; 55.4, 78.8 upright (ASHRAE form, 0.026 and 0.052)."""
    for ratio, sky, celsius in ((0.026, 4, 51.4), (0.052, 4, 74.8), (0.026, 0, 55.4), (0.052, 0, 78.8)):
        assert sol_air(air=305.15, light=900, per_light=ratio, sky=sky) - ICE == pytest.approx(
            celsius, abs=0.01
        )


def test_our_balance_lies_near_sol_air() -> None:
    """The same dark face, 17 W/m2K with radiation in it: the line in the sun within 4 K of sol-air."""
    one = np.ones(1)
    # 17 less what a grey face radiates near 50 C, 4 e s T^3, about 7
    found = wall(
        Skin(absorptance=0.9, emissivity=0.9, ground=0.2, sky_drop=12.0, still=10.0, per_wind=0.0),
        air=305.15 * one, wind=0 * one, cloud=0 * one, beam=800 * one, diffuse=100 * one,
        level=900 * one,
    )  # fmt: skip
    assert found.warmest[0] == pytest.approx(
        sol_air(air=305.15, light=900, per_light=0.0529, sky=4.0), abs=4.0
    )


def test_no_wall_of_a_real_year_is_hotter_than_a_black_panel() -> None:
    """ASTM D4803-10: black rigid PVC, insulated behind, no wind, clear: 50 C (90 F) over the air, level."""
    heights = np.radians(np.arange(1.0, 90.0))
    sun = light(Sun(heights, heights * 0), np.zeros_like(heights))
    one = np.ones_like(heights)
    level = sun.beam * np.sin(heights) + sun.diffuse
    calm = Skin(absorptance=BLACK, emissivity=0.9, ground=0.2, sky_drop=20.0, still=5.7, per_wind=3.8)
    found = wall(
        calm, air=303.15 * one, wind=0.5 * one, cloud=0 * one, beam=sun.beam, diffuse=sun.diffuse, level=level
    )
    rise = found.mean - 303.15
    assert 15 < rise.max() < 50


def test_dew_points_agree_with_psychrolib_and_with_our_own() -> None:
    """PsychroLib 2.5.0, 0.05 K above 0 C; below it gives the frost point, ours stays over water."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for celsius in range(2, 41, 3):
        for rh in (0.3, 0.5, 0.6, 0.8, 0.95, 1.0):
            ours = float(dew_points(np.array([celsius + ICE]), np.array([rh]))[0])
            assert ours == pytest.approx(dew_point(celsius + ICE, rh), abs=1e-9)
            theirs = psychrolib.GetTDewPointFromRelHum(celsius, rh)
            if theirs > 0:
                assert ours - ICE == pytest.approx(theirs, abs=0.05)
    assert np.isnan(dew_points(np.array([290.0]), np.array([0.0]))[0])


PVC = {"conductivity": 0.16, "store": 1.4e6}
# Antoine: chemicals Psat_data_AntoinePoling; heats and molar masses of the table of substances. Schmidt
# number: kinematic viscosity of air 1.516e-5 over Fuller's diffusivities 0.0993, 0.0903, 0.1040 cm2/s
THF = Solvent(molar_mass=0.072106, heat=446.8e3, a=9.12142, b=1203.11, c=-46.795, schmidt=1.527, **PVC)
MEK = Solvent(molar_mass=0.072106, heat=483.8e3, a=9.1386, b=1232.63, c=-54.46, schmidt=1.679, **PVC)
ACETONE = Solvent(molar_mass=0.058079, heat=539.2e3, a=9.2184, b=1197.01, c=-45.09, schmidt=1.458, **PVC)


@pytest.mark.parametrize(
    ("solvent", "wind", "told"),
    [(THF, 0.5, (16.4, 14.4, 12.7)), (THF, 2.0, (11.7, 8.2, 5.8)),
     (ACETONE, 0.5, (15.1, 12.5, 10.3)),
     (ACETONE, 2.0, (9.1, 5.0, 2.3)), (MEK, 0.5, (17.9, 16.6, 15.5)), (MEK, 2.0, (14.8, 12.4, 10.6))],
    ids=["thf light", "thf wind", "acetone light", "acetone wind", "mek light", "mek wind"],
)  # fmt: skip
def test_a_wetted_wall_at_20_c(solvent: Solvent, wind: float, told: tuple[float, ...]) -> None:
    """Worked: after 10, 30 and 60 s, conduction into PVC k 0.16, rho c 1.4e6, air 20 C and dry (derived)."""
    at = np.array([293.15])
    for seconds, celsius in zip((10, 30, 60), told, strict=True):
        found = chilled(solvent, surface=at, air=at, wind=np.array([wind]), time=seconds, stretch=0.3)
        assert found[0] - ICE == pytest.approx(celsius, abs=0.6)


def test_the_chill_settles_with_finer_steps() -> None:
    at = np.array([293.15])
    coarse, fine = (
        chilled(THF, surface=at, air=at, wind=np.array([2.0]), time=60, stretch=0.3, steps=n)[0]
        for n in (12, 200)
    )
    assert coarse == pytest.approx(fine, abs=0.1)


def test_wind_of_five_divides_the_working_time_by_six() -> None:
    """(5/0.5)^(7/9) = 5.99 (derived from Mackay and Matsugu); still air leaves it."""
    assert wind_factor(np.array([5.0, 0.2]), calm=0.5) == pytest.approx([5.99, 1.0], abs=0.01)


def test_midnight_sun_and_midsummer_noon() -> None:
    """Midsummer noon on the tropic: the sun stands overhead; past the circle it does not set."""
    noon = np.array([datetime(2026, 6, 21, 12, 2, tzinfo=UTC).timestamp()])
    assert np.degrees(sun_place(noon, latitude=math.radians(23.44), longitude=0.0).height)[0] > 89.5
    midnight = np.array([datetime(2026, 6, 21, 0, 0, tzinfo=UTC).timestamp()])
    assert sun_place(midnight, latitude=math.radians(70), longitude=0.0).height[0] > 0
