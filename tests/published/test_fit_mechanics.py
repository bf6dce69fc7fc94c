"""Contact pressure and pull-in force against the textbook shrink fit and its general form.

[Lame] Thick-walled cylinders, shrink fit of two rings, as in textbooks of machine design: inner radius 10,
       common 20, outer 40 mm, steel 207 GPa, radial interference 0.02 mm: 62.10 MPa.
       General form for two materials:
       p = d/{r [((ro2 + r2)/(ro2 - r2) + nu)/Eo + ((r2 + ri2)/(r2 - ri2) - nu)/Ei]}.
Values for NPS 8 were worked from the same theory before this code was written (derived).
"""

from __future__ import annotations

import math

import pytest

from lineproof.sums.diameters import diameter_at
from lineproof.sums.pull import contact_pressure, pull_in_force


def general(E: float, d: float, ri: float, r: float, ro: float, nu: float) -> float:
    """[Lame], with radial interference d; one material on both sides."""
    outer = ((ro**2 + r**2) / (ro**2 - r**2) + nu) / E
    inner = ((r**2 + ri**2) / (r**2 - ri**2) - nu) / E
    return d / (r * (outer + inner))


def test_textbook_shrink_fit() -> None:
    """[Lame] 62.10 MPa; the interference on the diameter is twice the radial one."""
    p = contact_pressure(modulus=207e9, interference=2 * 0.02e-3, od=0.040, bore=0.020, socket_od=0.080)
    assert p / 1e6 == pytest.approx(62.10, abs=0.005)


@pytest.mark.parametrize("nu", [0.0, 0.33, 0.41])
def test_general_form_for_any_poisson_ratio(nu: float) -> None:
    """With one material the ratio drops out of the general form."""
    p = contact_pressure(
        modulus=2.9e9, interference=0.4e-3, od=0.219075, bore=0.219075 - 0.0254, socket_od=0.219075 + 0.03176
    )
    r = 0.219075 / 2
    assert p == pytest.approx(general(2.9e9, 0.2e-3, r - 0.0127, r, r + 0.01588, nu), rel=1e-12)


def test_nps_8_pressure_and_pull() -> None:
    """0.40 mm on the diameter: 0.340 MPa; over 60 mm at 0.05/0.15/0.40: 0.35/1.05/2.81 kN (derived)."""
    p = contact_pressure(
        modulus=2.9e9, interference=0.4e-3, od=0.219075, bore=0.219075 - 0.0254, socket_od=0.219075 + 0.03176
    )
    assert p / 1e6 == pytest.approx(0.3397, abs=5e-5)
    kN = [
        pull_in_force(friction=mu, contact_pressure=p, od=0.219075, grip=0.060) / 1e3
        for mu in (0.05, 0.15, 0.4)
    ]
    assert [round(f, 2) for f in kN] == [0.35, 1.05, 2.81]


@pytest.mark.parametrize(
    ("od_mm", "alpha", "dT", "change_mm"),
    [(219.075, 5.4e-5, 25, 0.296), (323.85, 5.4e-5, 25, 0.437), (609.6, 5.4e-5, 25, 0.823),
     (323.85, 6.7e-5, 30, 0.651), (315.0, 8e-5, 25, 0.630), (400.0, 8e-5, 25, 0.800)],
)  # fmt: skip
def test_sun_on_the_pipe(od_mm: float, alpha: float, dT: float, change_mm: float) -> None:
    """Growth of the diameter, worked by hand from alpha D dT and printed to 0.001 mm (derived)."""
    warm = diameter_at(
        diameter=od_mm / 1e3, alpha=alpha, temperature_measured=293.15, temperature=293.15 + dT
    )
    assert (warm - od_mm / 1e3) * 1e3 == pytest.approx(change_mm, abs=6e-4)


def test_pull_is_the_sum_of_friction_over_the_taper() -> None:
    """Exact solution: pressure grows in a straight line from nothing at first contact."""
    steps, p, D, L, mu = 1000, 0.3e6, 0.2, 0.06, 0.15
    total = sum(mu * p * (i + 0.5) / steps * math.pi * D * L / steps for i in range(steps))
    force = pull_in_force(friction=mu, contact_pressure=p, od=D, grip=L)
    assert force == pytest.approx(total, rel=1e-9)
