"""Frame against closed forms of beams.

Gere and Goodno, Mechanics of Materials, 9th ed., 2018, appendix on deflections and slopes of beams; the same
forms are in every handbook. Typed from memory; each is a short integral of the elastic line. Tolerance: the
beam element is exact at its nodes, so only rounding is left, 1e-9 of the value.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from lineproof.sums.frame import Frame, Loads, Springs, ring
from lineproof.sums.frame_solve import bend

E, G = 2.9e9, 1.05e9
SECTION = ring(od=0.3239, wall=0.0175)
A, I2, J = SECTION.area, SECTION.inertia, SECTION.torsion
EXACT = pytest.approx


def exact(value: float) -> Any:
    return pytest.approx(value, rel=1e-9, abs=1e-15)


def beam(points: Any, held: Any, **more: Any) -> Frame:
    count = len(points)
    held_at = np.zeros((count, 6), bool)
    for node, ways in held.items():
        held_at[node, list(ways)] = True
    return Frame(
        points=np.asarray(points, float), members=np.array([(i, i + 1) for i in range(count - 1)]), modulus=E,
        shear_modulus=G, area=A, inertia_y=I2, inertia_z=I2, torsion=J, held=held_at, **more,
    )  # fmt: skip


def at(count: int, node: int, way: int, value: float) -> np.ndarray:
    loads = np.zeros((count, 6))
    loads[node, way] = value
    return loads


ALL, L, P, Q = range(6), 4.0, -900.0, -260.0


def test_cantilever_with_a_load_at_its_end() -> None:
    """P L^3/(3 E I), slope P L^2/(2 E I), moment P L at the wall."""
    bent = bend(beam([(0, 0, 0), (L, 0, 0)], {0: ALL}), Loads(at_nodes=at(2, 1, 2, P)))
    assert bent.moves[1, 2] == exact(P * L**3 / (3 * E * I2))
    assert bent.moves[1, 4] == exact(-P * L**2 / (2 * E * I2))  # it dips to the east: a turn about north
    assert bent.reactions[0, 2] == exact(-P)
    assert bent.bending[0, 0] == exact(-P * L)
    assert bent.bending[0, 1] == EXACT(0.0, abs=1e-9)


def test_cantilever_with_shear() -> None:
    """P L^3/(3 E I) + P L/(G A_s): a short beam of Timoshenko."""
    frame = beam([(0, 0, 0), (L, 0, 0)], {0: ALL}, shear_area=A / 2)
    bent = bend(frame, Loads(at_nodes=at(2, 1, 2, P)))
    assert bent.moves[1, 2] == exact(P * L**3 / (3 * E * I2) + P * L / (G * A / 2))


def test_pinned_beam_under_its_own_weight() -> None:
    """5 q L^4/(384 E I) in the middle, q L^3/(24 E I) at the ends, q L/2 on each support."""
    frame = beam([(0, 0, 0), (0, L / 2, 0), (0, L, 0)], {0: (0, 1, 2, 4), 2: (0, 2)})
    bent = bend(frame, Loads(along=np.array([0.0, 0.0, Q])))
    assert bent.moves[1, 2] == exact(5 * Q * L**4 / (384 * E * I2))
    assert abs(bent.moves[0, 3]) == exact(-Q * L**3 / (24 * E * I2))
    assert bent.reactions[[0, 2], 2] == EXACT([-Q * L / 2] * 2)
    assert bent.bending[0, 1] == exact(-Q * L**2 / 8)


def test_built_in_beam_under_its_own_weight_in_every_direction() -> None:
    """q L^2/12 at both walls, whichever way the beam lies and the load points."""
    east, north, up, down = (1, 0, 0), (0, 1, 0), (0, 0, 1), (0, 0, -1)
    for along, load in ((east, (0, Q, 0)), (north, (0, 0, Q)), (up, (Q, 0, 0)), (down, (0, Q, 0))):
        frame = beam([(0, 0, 0), np.array(along) * L], {0: ALL, 1: ALL})
        bent = bend(frame, Loads(along=np.array(load, float)))
        assert bent.bending[0] == EXACT([-Q * L**2 / 12] * 2)
        assert bent.reactions[0, :3] == EXACT(-np.array(load) * L / 2)


def test_propped_cantilever_by_release_and_by_support() -> None:
    """5 q L/8 at the wall, 3 q L/8 at the prop; a pinned end of a member is the same as a pinned support."""
    prop = beam([(0, 0, 0), (L, 0, 0)], {0: ALL, 1: (1, 2, 3)})
    released = np.zeros((1, 12), bool)
    released[0, [10, 11]] = True
    pinned = beam([(0, 0, 0), (L, 0, 0)], {0: ALL, 1: ALL}, released=released)
    for frame in (prop, pinned):
        bent = bend(frame, Loads(along=np.array([0.0, 0.0, Q])))
        assert bent.reactions[:, 2] == EXACT([-5 * Q * L / 8, -3 * Q * L / 8])
        assert bent.bending[0] == EXACT([-Q * L**2 / 8, 0.0], abs=1e-9)


def test_end_moved_sideways_between_two_walls() -> None:
    """12 E I d/L^3 and 6 E I d/L^2: a guided cantilever, which is how an offset leg takes up growth."""
    d = 0.02
    frame = beam([(0, 0, 0), (L, 0, 0)], {0: ALL, 1: ALL})
    bent = bend(frame, Loads(moved=at(2, 1, 1, d)))
    assert bent.reactions[1, 1] == exact(12 * E * I2 * d / L**3)
    assert bent.bending[0] == EXACT([6 * E * I2 * d / L**2] * 2)


def test_twist_pull_and_warmth() -> None:
    """T L/(G J); P L/(E A); a held bar pushes E A alpha dT, a free one grows alpha dT L."""
    rod = beam([(0, 0, 0), (0, 0, L)], {0: ALL})
    assert bend(rod, Loads(at_nodes=at(2, 1, 5, 50.0))).moves[1, 5] == exact(50.0 * L / (G * J))
    pulled = bend(rod, Loads(at_nodes=at(2, 1, 2, 800.0)))
    assert pulled.moves[1, 2] == exact(800.0 * L / (E * A))
    assert pulled.pull == EXACT([800.0])
    warm = Loads(strain=np.array([54e-6 * 25]))
    assert bend(rod, warm).moves[1, 2] == exact(54e-6 * 25 * L)
    assert bend(rod, warm).pull == EXACT([0.0], abs=1e-6)
    held = bend(beam([(0, 0, 0), (0, 0, L)], {0: ALL, 1: ALL}), warm)
    assert held.pull == EXACT([-E * A * 54e-6 * 25])
    assert held.reactions[1, 2] == exact(-E * A * 54e-6 * 25)


def test_a_bar_of_nps_12_held_while_30_f_warmer() -> None:
    """About 9,400 lbf: NPS 12 Sch 80, 30 F, E 400 ksi, 3e-5 per F, worked by hand as E a dT A (derived)."""
    inch, psi = 0.0254, 6894.757293168
    wall = ring(od=12.75 * inch, wall=0.687 * inch)
    frame = Frame(
        points=np.array([(0, 0, 0), (90.0, 0, 0)]), members=np.array([(0, 1)]), modulus=400e3 * psi,
        shear_modulus=1e9, area=wall.area, inertia_y=wall.inertia, inertia_z=wall.inertia,
        torsion=wall.torsion,
        held=np.ones((2, 6), bool),
    )  # fmt: skip
    force = bend(frame, Loads(strain=np.array([3e-5 * 30]))).pull[0] / 4.4482216152605
    assert force == pytest.approx(-9400, rel=0.01)


def test_spring_at_the_end_of_a_cantilever() -> None:
    """P/(k + 3 E I/L^3); a slanted spring shares by its cosines; one against a turn adds to G J/L."""
    k, own = 4e3, 3 * E * I2 / L**3
    up = Springs(node=np.array([1]), direction=np.array([(0, 0, 2.0)]), stiffness=np.array([k]))
    bent = bend(beam([(0, 0, 0), (L, 0, 0)], {0: ALL}, springs=up), Loads(at_nodes=at(2, 1, 2, P)))
    assert bent.moves[1, 2] == exact(P / (k + own))
    assert bent.reactions[1, 2] == exact(-k * P / (k + own))
    assert bent.reactions[:, 2].sum() == exact(-P)
    slanted = Springs(node=np.array([1]), direction=np.array([(0, 1.0, 1.0)]), stiffness=np.array([k]))
    bent = bend(beam([(0, 0, 0), (L, 0, 0)], {0: ALL}, springs=slanted), Loads(at_nodes=at(2, 1, 2, P)))
    # own (y, z) + k/2 [[1, 1], [1, 1]] (y, z) = (0, P), solved by hand
    assert bent.moves[1, 1] == exact(-P * (k / 2) / (own * (own + k)))
    assert bent.moves[1, 2] == exact(P * (own + k / 2) / (own * (own + k)))
    turn = Springs(
        node=np.array([1]),
        direction=np.array([(1.0, 0, 0)]),
        stiffness=np.array([600.0]),
        turns=np.array([True]),
    )
    bent = bend(beam([(0, 0, 0), (L, 0, 0)], {0: ALL}, springs=turn), Loads(at_nodes=at(2, 1, 3, 80.0)))
    assert bent.moves[1, 3] == exact(80.0 / (600.0 + G * J / L))


def test_spring_between_two_cantilevers_shares_the_load() -> None:
    """Two tips tied by k: the tie carries (P/own)/(1/own + 1/own + 1/k)."""
    k, own = 5e3, 3 * E * I2 / L**3
    tie = Springs(
        node=np.array([1]), other=np.array([3]), direction=np.array([(0, 0, 1.0)]), stiffness=np.array([k])
    )
    frame = Frame(
        points=np.array([(0, 0, 0), (L, 0, 0), (0, 1, 0), (L, 1, 0)], float),
        members=np.array([(0, 1), (2, 3)]),
        modulus=E, shear_modulus=G, area=A, inertia_y=I2, inertia_z=I2, torsion=J,
        held=np.array([[True] * 6, [False] * 6] * 2), springs=tie,
    )  # fmt: skip
    bent = bend(frame, Loads(at_nodes=at(4, 1, 2, P)))
    force = (P / own) / (1 / own + 1 / own + 1 / k)
    assert bent.moves[3, 2] == exact(force / own)
    assert bent.moves[1, 2] == exact((P - force) / own)
