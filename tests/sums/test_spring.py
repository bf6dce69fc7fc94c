"""Cold spring by the frame, against the arc geometry of the trade.

Arc: sagitta h = L^2/(8 R), gain 8 h^2/(3 L) = L^3/(24 R^2), R = 300 outside diameters (rule from memory).
The gains for 40 ft were worked by hand from it: NPS 2 9.1 in, 4 2.5, 6 1.17, 8 0.69, 12 0.31, 24 0.09; NPS
12, 100 ft 4.9.
"""

from __future__ import annotations

import numpy as np
import pytest

from lineproof.floor.errors import OutsideTable
from lineproof.sums.frame import Frame, ring
from lineproof.sums.spring import spring_travel

IN, FT, E, G = 0.0254, 0.3048, 2.76e9, 1.0e9


def run(points: list[tuple[float, float, float]], od: float, held: dict[int, str]) -> Frame:
    wall = ring(od=od, wall=0.06 * od)
    at = np.zeros((len(points), 6), bool)
    for node, ways in held.items():
        at[node, ["xyzabc".index(w) for w in ways]] = True
    return Frame(
        points=np.array(points, float), members=np.array([(i, i + 1) for i in range(len(points) - 1)]),
        modulus=E, shear_modulus=G, area=wall.area, inertia_y=wall.inertia, inertia_z=wall.inertia,
        torsion=wall.torsion, held=at,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("od_in", "length_ft", "gain_in", "digits"),
    [(2.375, 40, 9.1, 0.05), (4.5, 40, 2.5, 0.05), (6.625, 40, 1.17, 5e-3), (8.625, 40, 0.69, 5e-3),
     (12.75, 40, 0.31, 5e-3), (24.0, 40, 0.09, 5e-3), (12.75, 100, 4.9, 0.05)],
)  # fmt: skip
def test_a_straight_run_turned_at_both_ends_bows_as_an_arc(
    od_in: float, length_ft: float, gain_in: float, digits: float
) -> None:
    od, length = od_in * IN, length_ft * FT
    # one end may slide, both are turned the same way: the same curve everywhere
    frame = run([(length * i / 8, 0, 0) for i in range(9)], od, {0: "xyzabc", 8: "yzabc"})
    moved = np.zeros((9, 6))
    moved[0, 5], moved[8, 5] = 1e-3, -1e-3
    found = spring_travel(frame, moved, open_end=8, along=np.array([1.0, 0, 0]), od=od, radius=300 * od)
    assert found.travel / IN == pytest.approx(gain_in, abs=digits)
    assert found.travel == pytest.approx(length**3 / (24 * (300 * od) ** 2), rel=1e-9)


def test_pushed_at_its_middle_a_run_gives_less_than_the_arc() -> None:
    """Pinned, pushed at the middle: M = P L/4 there alone, and 1/2 integral w'^2 = L^3/(60 R^2), by hand."""
    od, length = 2.375 * IN, 40 * FT
    frame = run([(0, 0, 0), (length / 2, 0, 0), (length, 0, 0)], od, {0: "xyza", 1: "y", 2: "yza"})
    moved = np.zeros((3, 6))
    moved[1, 1] = 0.01
    found = spring_travel(frame, moved, open_end=2, along=np.array([1.0, 0, 0]), od=od, radius=300 * od)
    assert found.travel == pytest.approx(length**3 / (60 * (300 * od) ** 2), rel=1e-9)


def test_an_offset_leg_gives_travel_at_once() -> None:
    """An L: the long leg bends as a guided cantilever, d = L^2/(6 R) at the radius (by hand)."""
    od, leg = 2.375 * IN, 3.0
    # the turn at the corner is held, so that only the leg across bends; the leg along moves with it
    frame = run([(0, 0, 0), (0, leg, 0), (1, leg, 0)], od, {0: "xyzabc", 1: "abc", 2: "xyzabc"})
    moved = np.zeros((3, 6))
    moved[2, 0] = 0.01
    found = spring_travel(frame, moved, open_end=2, along=np.array([1.0, 0, 0]), od=od, radius=300 * od)
    assert found.travel == pytest.approx(leg**2 / (6 * 300 * od), rel=5e-3)
    assert found.member == 0


def test_a_move_that_bends_nothing_is_refused() -> None:
    frame = run([(0, 0, 0), (3, 0, 0)], 0.06, {0: "xyzabc", 1: "xyzabc"})
    with pytest.raises(OutsideTable, match="bends nothing"):
        spring_travel(frame, np.zeros((2, 6)), open_end=1, along=np.array([1.0, 0, 0]), od=0.06, radius=18.0)
