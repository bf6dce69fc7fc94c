"""Figures of the trade worked by hand before this code was written, and the handbook's labour table.

[Hand] End loads at 150 psi, gain of a bowed 40 ft run at 300 diameters, solvent to the 2 % limit in one
       20 ft stick of Schedule 80, gallons a foot, energy of 100 ft of NPS 12: each derived by its formula.
[MH]   Industrial Process Plant Construction Estimating and Man-Hour Analysis, sec. 2.7.4, PVC piping:
       man-hours per joint, read; joints a day derived from it for 8 h.
[OSHA] US OSHA chemical data, tetrahydrofuran: specific gravity 0.89, lower limit 2 %.
Outside diameters and walls: ASTM D1785, in inches.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from lineproof.sums.angles import angle_miss
from lineproof.sums.bow import bow_gain, sagitta
from lineproof.sums.content import content
from lineproof.sums.energy import air_energy, water_energy
from lineproof.sums.forces import bend_thrust, end_load, joint_shear, restrained_force
from lineproof.sums.labour import joint_time, joint_work, joints_a_day
from lineproof.sums.offsets import fitting_angle, roll_angle, rolling_travel, travel, true_offset
from lineproof.sums.pressure import head
from lineproof.sums.vapour import solvent_to_reach, vapour_volume

INCH, FOOT, PSI, LBF = 0.0254, 0.3048, 6894.757293168361, 4.4482216152605
OD = {2: 2.375, 4: 4.5, 6: 6.625, 8: 8.625, 10: 10.75, 12: 12.75, 16: 16.0, 20: 20.0, 24: 24.0}
WALL_80 = {6: 0.432, 8: 0.500, 10: 0.593, 12: 0.687, 24: 1.218}


@pytest.mark.parametrize(
    ("nps", "lbf"),
    [(4, 2390), (6, 5170), (8, 8760), (10, 13610), (12, 19150), (16, 30200), (20, 47100), (24, 67900)],
)
def test_end_load_at_150_psi(nps: int, lbf: float) -> None:
    """[Hand] printed to three or four figures."""
    assert end_load(150 * PSI, OD[nps] * INCH) / LBF == pytest.approx(lbf, rel=2.5e-3)


@pytest.mark.parametrize(("angle", "times"), [(90, math.sqrt(2)), (180, 2.0), (0, 0.0)])
def test_bend_thrust_is_the_vector_sum_of_two_end_loads(angle: float, times: float) -> None:
    """Exact solution: square bend root 2, return bend 2, straight pipe 0 end loads."""
    thrust = bend_thrust(pressure=1e6, od=0.3, angle=math.radians(angle))
    assert thrust == pytest.approx(times * end_load(1e6, 0.3), abs=1e-9)


@pytest.mark.parametrize(
    ("nps", "run_ft", "gain_in", "abs_in"),
    [(2, 40, 9.1, 0.05), (4, 40, 2.5, 0.05), (6, 40, 1.17, 0.005), (8, 40, 0.69, 0.005), (12, 40, 0.31, 0.01),
     (24, 40, 0.09, 0.005), (12, 100, 4.9, 0.05)],
)  # fmt: skip
def test_bowing_gains_next_to_nothing_on_large_pipe(
    nps: int, run_ft: float, gain_in: float, abs_in: float
) -> None:
    """[Hand] radius 300 outside diameters (from memory), to the figures printed."""
    radius = 300 * OD[nps] * INCH
    gain = bow_gain(run_ft * FOOT, radius)
    assert gain / INCH == pytest.approx(gain_in, abs=abs_in)
    # Exact circle: arc less chord. The shallow form is within 2.5 % up to a run of the radius.
    exact = run_ft * FOOT - 2 * radius * math.sin(run_ft * FOOT / (2 * radius))
    assert gain == pytest.approx(exact, rel=0.025)
    h = sagitta(run_ft * FOOT, radius)
    assert gain == pytest.approx(8 * h**2 / (3 * run_ft * FOOT), rel=1e-12)


def test_bow_of_100_ft_of_nps_12() -> None:
    """[Hand] it stands off 3.9 ft."""
    assert sagitta(100 * FOOT, 300 * OD[12] * INCH) / FOOT == pytest.approx(3.9, abs=0.05)


@pytest.mark.parametrize(("nps", "millilitres"), [(6, 7), (8, 12), (10, 19), (12, 27)])
def test_solvent_that_makes_one_stick_burn(nps: int, millilitres: float) -> None:
    """[Hand], [OSHA] 20 C, molar mass 72.11 g/mol; with the 1.5 % limit a quarter less."""
    stick = content((OD[nps] - 2 * WALL_80[nps]) * INCH, 20 * FOOT)
    needed = [
        solvent_to_reach(share=y, space=stick, density=890.0, molar_mass=0.07211, temperature=293.15) * 1e6
        for y in (0.02, 0.015)
    ]
    assert needed[0] == pytest.approx(millilitres, abs=0.6)
    assert needed[1] == pytest.approx(0.75 * needed[0], rel=1e-12)


def test_one_gallon_of_solvent_as_vapour() -> None:
    """[Hand] 1 US gal makes 1.12 m3 (39.7 ft3)."""
    vapour = vapour_volume(liquid=231 * INCH**3, density=890.0, molar_mass=0.07211, temperature=293.15)
    assert vapour == pytest.approx(1.12, abs=0.005)
    assert vapour / FOOT**3 == pytest.approx(39.7, abs=0.1)


def test_a_manhole_needs_less_than_a_fluid_ounce() -> None:
    """[Hand] 4 ft round, 10 ft deep: a tenth of the 2 % limit at about 0.8 fl oz."""
    space = content(4 * FOOT, 10 * FOOT)
    needed = solvent_to_reach(share=0.002, space=space, density=890.0, molar_mass=0.07211, temperature=293.15)
    assert needed / (231 * INCH**3 / 128) == pytest.approx(0.8, abs=0.05)


@pytest.mark.parametrize(("nps", "gal_ft", "near"), [(12, 5.28, 0.005), (24, 19.0, 0.2)])
def test_gallons_a_foot(nps: int, gal_ft: float, near: float) -> None:
    """[Hand] 0.0408 ID^2, Schedule 80."""
    volume = content((OD[nps] - 2 * WALL_80[nps]) * INCH, FOOT)
    assert volume / (231 * INCH**3) == pytest.approx(gal_ft, abs=near)


def test_head_of_water() -> None:
    """9.81 kPa/m and 0.433 psi/ft: handbook values, at 1000 kg/m3 and 62.4 lb/ft3."""
    assert head(1.0, 1000.0) / 1e3 == pytest.approx(9.81, abs=0.005)
    assert head(FOOT, 999.55) / PSI == pytest.approx(0.433, abs=5e-4)


def test_air_holds_hundreds_of_times_the_energy_of_water() -> None:
    """[Hand] 100 ft of NPS 12 Sch 80 at 100 psi: air about 1750 kJ, water about 3 kJ."""
    bore, wall = (OD[12] - 2 * WALL_80[12]) * INCH, WALL_80[12] * INCH
    volume = content(bore, 100 * FOOT)
    air = air_energy(pressure=100 * PSI, volume=volume)
    water = water_energy(
        pressure=100 * PSI, volume=volume, bulk_modulus=2.2e9, diameter=bore + wall, wall=wall, modulus=2.76e9
    )
    assert air / 1e3 == pytest.approx(1750, rel=0.01)
    assert water / 1e3 == pytest.approx(3.0, abs=0.5)
    assert 400 < air / water < 700


def test_air_energy_is_the_area_under_the_expansion() -> None:
    """Numerical integration of p dV along p V^k = constant, down to the outside pressure."""
    p1, pa, V1, k = 801_325.0, 101_325.0, 1.7, 1.4
    V2 = V1 * (p1 / pa) ** (1 / k)
    area, _ = quad(lambda V: p1 * (V1 / V) ** k, V1, V2, epsabs=1e-3)
    assert air_energy(pressure=p1 - pa, volume=V1) == pytest.approx(area, rel=1e-9)


def test_restrained_nps_6() -> None:
    """[Hand] NPS 6 Sch 80, 50 F, E 400 000 psi, 3.0e-5 per F, wall 8.405 in2: 5043 lbf."""
    force = restrained_force(modulus=4e5 * PSI, alpha=3e-5 * 1.8, dT_K=50 / 1.8, area=8.405 * INCH**2)
    assert force / LBF == pytest.approx(5043, rel=5e-3)


@pytest.mark.parametrize(("nps", "depth_in", "psi"), [(2, 1.5, 85), (6, 3.0, 118), (12, 6.0, 114)])
def test_mean_shear_at_150_psi(nps: int, depth_in: float, psi: float) -> None:
    """[Hand] with 70 % of the face bonded, the floor of EN 13067."""
    shear = joint_shear(pressure=150 * PSI, od=OD[nps] * INCH, depth=depth_in * INCH, bonded=0.70)
    assert shear / PSI == pytest.approx(psi, abs=0.6)


def test_one_degree_at_ten_feet() -> None:
    """[Hand] 120 x tan 1 deg is 2.1 in."""
    assert angle_miss(10 * FOOT, math.radians(1)) / INCH == pytest.approx(2.1, abs=0.01)


def test_travel_with_45_degree_fittings() -> None:
    """Handbook constant 1.414: the root of 2."""
    assert travel(1.0, math.radians(45)) == pytest.approx(1.41421, abs=5e-6)


@pytest.mark.parametrize(("side", "rise", "on"), [(6, 8, 10), (3, 4, 12), (-2, 5, 7), (1, -1, 0.5)])
def test_rolling_offset_against_a_vector_walk(side: float, rise: float, on: float) -> None:
    """Independent vector walk: three square legs added as arrays, then the angle between arrays."""
    leg = side * np.array([1.0, 0, 0]) + on * np.array([0, 1.0, 0]) + rise * np.array([0, 0, 1.0])
    length = float(np.linalg.norm(leg))
    assert rolling_travel(side=side, rise=rise, advance=on) == pytest.approx(length, rel=1e-12)
    turn = math.acos(float(leg @ np.array([0, 1.0, 0])) / length)
    true = true_offset(side, rise)
    assert fitting_angle(true, on) == pytest.approx(turn, abs=1e-9)
    assert travel(true, turn) == pytest.approx(length, rel=1e-9)
    flat = leg - np.array([0, on, 0])
    roll = roll_angle(side, rise)
    assert np.allclose(flat, true * np.array([math.sin(roll), 0, math.cos(roll)]))


def test_ten_west_six_and_eight_up_is_a_true_offset_of_ten() -> None:
    """6 and 8 make 10; with 45s the travel is 14 ft 1 11/16 in (10 ft x root 2 to the sixteenth)."""
    length = travel(true_offset(6 * FOOT, 8 * FOOT), math.radians(45))
    assert round(length / INCH * 16) == (14 * 12 + 1) * 16 + 11


HOURS = {2.5: 0.38, 3: 0.45, 4: 0.60, 6: 0.90, 8: 1.20, 10: 1.50, 12: 1.80}


@pytest.mark.parametrize("nps", HOURS)
def test_work_on_a_joint(nps: float) -> None:
    """[MH] printed to 0.01 h: 2-1/2 in prints 0.38 for 0.375."""
    assert joint_work(nps) / 3600 == pytest.approx(HOURS[nps], abs=0.0051)


@pytest.mark.parametrize(
    ("nps", "crew", "minutes", "full", "at_70"),
    [(4, 2, 18, 27, 19), (6, 3, 18, 27, 19), (8, 3, 24, 20, 14), (10, 4, 22, 21, 15), (12, 4, 27, 18, 12),
     (16, 4, 36, 13, 9), (20, 4, 45, 11, 7), (24, 4, 54, 9, 6)],
)  # fmt: skip
def test_joints_a_day(nps: float, crew: int, minutes: int, full: int, at_70: int) -> None:
    """[MH] an 8 h shift, printed as whole minutes and joints."""
    each = joint_time(joint_work(nps), crew)
    assert each / 60 == pytest.approx(minutes, abs=0.51)
    assert joints_a_day(day=8 * 3600.0, joint_time=each) == pytest.approx(full, abs=0.51)
    assert joints_a_day(day=8 * 3600.0, joint_time=each, productive=0.7) == pytest.approx(at_70, abs=0.51)
