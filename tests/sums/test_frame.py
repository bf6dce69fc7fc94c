"""Frame: against PyNiteFEA, by its properties, and what it says of a frame that does not stand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from frame_rig import ALPHA, E, moves_of, piped, reactions_of, second_opinion, serpentine
from lineproof.floor.errors import OutsideTable
from lineproof.sums.frame import Frame, Loads, Springs, ring
from lineproof.sums.frame_solve import Ready, bend

FREE, FIXED = [False] * 6, [True] * 6


def trestle() -> Frame:
    """Three legs, a hinge, a spring, a slope, a tee."""
    points = [(0, 0, 0), (0, 0, 3), (4, 1, 3.2), (8, 0, 0), (4, 5, 3), (4, 5, 0)]
    members = [(0, 1), (1, 2), (2, 3), (2, 4), (4, 5)]
    released = np.zeros((5, 12), bool)
    released[1, [4, 5]] = True
    released[3, [10, 11]] = True
    springs = Springs(
        node=np.array([1, 4, 2]), direction=np.array([(1.0, 0, 0), (0, 0, 1.0), (0, 1.0, 0)]),
        stiffness=np.array([2e5, 4e5, 900.0]), turns=np.array([False, False, True]),
    )  # fmt: skip
    held = [FIXED, FREE, FREE, [True, True, True, False, False, True], FREE, FIXED]
    return piped(points, members, held, released=released, springs=springs)


def trestle_loads() -> Loads:
    at_nodes = np.zeros((6, 6))
    at_nodes[2], at_nodes[4, 0] = (300, -200, -900, 40, 0, 70), 500
    moved = np.zeros((6, 6))
    moved[3, 2], moved[5, 0], moved[0, 4] = -0.012, 0.02, 0.003
    return Loads(
        at_nodes=at_nodes, along=np.tile([15.0, -20.0, -310.0], (5, 1)),
        strain=ALPHA * np.array([25, -10, 40, 0, 5]),
        moved=moved,
    )  # fmt: skip


@pytest.mark.parametrize("model", ["trestle", "serpentine"])
def test_agrees_with_a_second_program(model: str) -> None:
    """Moves and reactions of every node; PyNiteFEA (locked in the tests) builds its own matrices."""
    frame, loads = (trestle(), trestle_loads()) if model == "trestle" else serpentine(60)
    other = second_opinion(frame, loads)
    other.analyze_linear(log=False, check_stability=True, check_statics=False, sparse=True)
    ours, nodes = bend(frame, loads), len(frame.points)
    theirs = moves_of(other, nodes)
    assert np.abs(ours.moves).max() > 1e-3
    np.testing.assert_allclose(ours.moves, theirs, rtol=1e-6, atol=1e-8 * np.abs(theirs).max())
    pushes = reactions_of(other, nodes)
    np.testing.assert_allclose(ours.reactions, pushes, rtol=1e-6, atol=1e-7 * np.abs(pushes).max())


def test_ground_and_loads_balance_in_forces_and_moments() -> None:
    frame, loads = trestle(), trestle_loads()
    bent = bend(frame, loads)
    assert loads.at_nodes is not None
    assert loads.along is not None
    middles = frame.points[frame.members].mean(axis=1)
    weight = loads.along * frame.lengths[:, None]
    acting = loads.at_nodes + bent.reactions
    force = acting[:, :3].sum(axis=0) + weight.sum(axis=0)
    turn = acting[:, 3:].sum(axis=0) + np.cross(frame.points, acting[:, :3]).sum(axis=0)
    turn += np.cross(middles, weight).sum(axis=0)
    size = np.abs(bent.reactions).max()
    assert size > 100
    np.testing.assert_allclose(force, 0, atol=1e-9 * size)
    np.testing.assert_allclose(turn, 0, atol=1e-8 * size)


def test_released_ends_pass_nothing_on() -> None:
    bent = bend(trestle(), trestle_loads())
    assert np.abs(bent.ends[[1, 1, 3, 3], [4, 5, 10, 11]]).max() < 1e-6
    assert np.abs(bent.ends[0]).min() > 1e-3


FORCES = st.lists(st.floats(-500, 500), min_size=36, max_size=36).map(lambda v: np.array(v).reshape(6, 6))


@settings(max_examples=25, deadline=None)
@given(first=FORCES, second=FORCES, share=st.floats(-3, 3))
def test_loads_add_up(first: Any, second: Any, share: float) -> None:
    ready = Ready(trestle())
    one, two = ready.under(Loads(at_nodes=first)), ready.under(Loads(at_nodes=second))
    both = ready.under(Loads(at_nodes=first + share * second))
    for got, a, b in ((both.moves, one.moves, two.moves), (both.ends, one.ends, two.ends)):
        size = max(1.0, np.abs(a).max(), np.abs(share * b).max())
        np.testing.assert_allclose(got, a + share * b, atol=1e-9 * size)


WAY = st.tuples(st.sampled_from([1, 2, 4]), st.integers(0, 5))


@settings(max_examples=25, deadline=None)
@given(a=WAY, b=WAY)
def test_what_a_does_at_b_is_what_b_does_at_a(a: tuple[int, int], b: tuple[int, int]) -> None:
    """Reciprocity, of Maxwell and Betti."""
    ready = Ready(trestle())
    moved = []
    for here, there in ((a, b), (b, a)):
        loads = np.zeros((6, 6))
        loads[here] = 1000.0
        moved.append(ready.under(Loads(at_nodes=loads)).moves[there])
    assert moved[0] == pytest.approx(moved[1], rel=1e-8, abs=1e-14)


@settings(max_examples=25, deadline=None)
@given(axis=st.tuples(*[st.floats(0.1, 1)] * 3), angle=st.floats(-3, 3))
def test_turning_everything_turns_the_answer(axis: tuple[float, ...], angle: float) -> None:
    """Round pipe with everything held or free at a node: the frame of reference does not matter."""
    points = np.array([(0, 0, 0), (3, 0, 0), (3, 2, 0), (3, 2, 4), (6, 2, 4)], float)
    members = [(0, 1), (1, 2), (2, 3), (3, 4)]
    held = [FIXED, FREE, FREE, FREE, FIXED]
    u = np.array(axis) / np.linalg.norm(axis)
    cross = np.array([[0, -u[2], u[1]], [u[2], 0, -u[0]], [-u[1], u[0], 0]])
    turn = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross
    loads = Loads(strain=np.full(4, ALPHA * 30), along=np.tile([10.0, 20.0, -300.0], (4, 1)))
    turned = Loads(strain=loads.strain, along=np.tile(turn @ [10.0, 20.0, -300.0], (4, 1)))
    one, two = bend(piped(points, members, held), loads), bend(piped(points @ turn.T, members, held), turned)
    for a, b in ((one.moves, two.moves), (one.reactions, two.reactions)):
        for part in (slice(0, 3), slice(3, 6)):
            np.testing.assert_allclose(a[:, part] @ turn.T, b[:, part], atol=1e-9 * np.abs(a).max())
    np.testing.assert_allclose(one.bending, two.bending, atol=1e-9 * one.bending.max())


def test_one_member_cut_in_many_answers_alike() -> None:
    whole = piped([(0, 0, 0), (6, 0, 0)], [(0, 1)], [FIXED, FREE])
    many = piped([(i / 10, 0, 0) for i in range(61)], [(i, i + 1) for i in range(60)], [FIXED, *[FREE] * 60])
    load = np.array([0.0, 30.0, -200.0])
    np.testing.assert_allclose(
        bend(whole, Loads(along=load)).moves[-1],
        bend(many, Loads(along=load)).moves[-1],
        rtol=1e-7,
        atol=1e-12,
    )


ONE, TWO = [(0, 0, 0), (3, 0, 0)], [(0, 0, 0), (3, 0, 0), (3, 3, 0)]
NO_TWIST = [[True, True, True, False, False, False], [False, True, True, False, False, False]]
LOOSE: list[tuple[str, Frame, str]] = [
    ("no twist held", piped(ONE, [(0, 1)], NO_TWIST, names=("pump", "wall")), "free to turn about east"),
    ("nothing held", piped(TWO, [(0, 1), (1, 2)], [FREE] * 3), "free to"),
    ("a node of no member", piped([*ONE, (9, 9, 9)], [(0, 1)], [FIXED, FREE, FREE]), "node 3 is free to"),
    ("slides along", piped(ONE, [(0, 1)], [[False, *[True] * 5]] * 2), "free to move east"),
]


@pytest.mark.parametrize(("name", "frame", "said"), LOOSE, ids=[n for n, _, _ in LOOSE])
def test_a_frame_that_does_not_stand_is_named(name: str, frame: Frame, said: str) -> None:
    with pytest.raises(OutsideTable, match=said):
        Ready(frame)


def test_a_second_part_that_hangs_on_nothing_is_named_where_it_moves() -> None:
    points = [(0, 0, 0), (3, 0, 0), (0, 5, 0), (3, 5, 0)]
    frame = piped(
        points, [(0, 1), (2, 3)], [FIXED, FREE, FREE, FREE], names=("a", "b", "loose end", "loose tail")
    )
    with pytest.raises(OutsideTable, match=r"loose (end|tail) is free to"):
        Ready(frame)
    tied = replace(
        frame, springs=Springs(node=np.array([2] * 6), direction=np.tile(np.eye(3), (2, 1)),
                               stiffness=np.full(6, 1e3), turns=np.array([False] * 3 + [True] * 3)),
    )  # fmt: skip
    assert bend(tied, Loads(along=np.array([0, 0, -10.0]))).reactions[2, 2] == pytest.approx(30.0)


def test_a_hinge_too_many_is_named() -> None:
    released = np.zeros((2, 12), bool)
    released[:, [4, 5]] = True
    released[0, [10, 11]] = True
    with pytest.raises(OutsideTable, match="node 2 is free to"):
        Ready(
            piped(
                [(0, 0, 0), (3, 0, 0), (6, 0, 0)],
                [(0, 1), (1, 2)],
                [FIXED, FREE, [False, *[True] * 5]],
                released=released,
            )
        )
    released[0, [3, 9]] = True
    with pytest.raises(OutsideTable, match="comes loose: released twist at node 1"):
        Ready(
            piped(
                [(0, 0, 0), (3, 0, 0), (6, 0, 0)], [(0, 1), (1, 2)], [FIXED, FREE, FIXED], released=released
            )
        )


def test_a_long_soft_run_stands() -> None:
    """1,000 members with nothing between: soft, and not taken for loose."""
    count = 1000
    frame = piped(
        [(i / 2, 0, 0) for i in range(count + 1)],
        [(i, i + 1) for i in range(count)],
        [FIXED, *[FREE] * count],
    )
    tip = np.zeros((count + 1, 6))
    tip[-1, 2] = 1e-6
    section = ring(od=0.3239, wall=0.0175)
    # the closed form P L^3/(3 E I); what a matrix of this size keeps of it
    assert bend(frame, Loads(at_nodes=tip)).moves[-1, 2] == pytest.approx(
        1e-6 * 500**3 / (3 * E * section.inertia), rel=1e-2
    )


def beam(**change: Any) -> Frame:
    given: dict[str, Any] = {
        "points": np.array([(0, 0, 0), (3, 0, 0)], float), "members": np.array([(0, 1)]), "modulus": E,
        "shear_modulus": 1e9, "area": 0.01, "inertia_y": 1e-5, "inertia_z": 1e-5, "torsion": 2e-5,
        "held": np.array([FIXED, FREE]),
    }  # fmt: skip
    return Frame(**{**given, **change})


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"points": np.zeros((2, 3))}, "has no length"),
        ({"points": np.array([(0, 0, 0), (np.nan, 0, 0)])}, "no place"),
        ({"members": np.array([(0, 2)])}, "not there"),
        ({"modulus": -1.0}, "modulus of a member"),
        ({"area": np.array([0.1, 0.1])}, "2 numbers for 1 members"),
    ],
)
def test_a_bad_frame_is_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(OutsideTable, match=said):
        beam(**change)


def test_bad_springs_loads_and_walls_are_refused() -> None:
    one = np.array([1])
    with pytest.raises(OutsideTable, match="no direction"):
        Springs(node=one, direction=np.zeros((1, 3)), stiffness=np.array([1.0]))
    with pytest.raises(OutsideTable, match="the wrong way"):
        Springs(node=one, direction=np.eye(3)[:1], stiffness=np.array([-1.0]))
    with pytest.raises(OutsideTable, match="spring ends"):
        beam(springs=Springs(node=np.array([7]), direction=np.eye(3)[:1], stiffness=np.array([1.0])))
    moved = np.zeros((2, 6))
    moved[1, 0] = 0.1
    with pytest.raises(OutsideTable, match="made to move east but is not held"):
        bend(beam(), Loads(moved=moved))
    with pytest.raises(OutsideTable, match="not a number"):
        bend(beam(), Loads(along=np.array([0, 0, np.nan])))
    with pytest.raises(OutsideTable, match="half the outside diameter"):
        ring(od=0.1, wall=0.06)
    everything = beam(held=np.array([FIXED, FIXED]))
    assert bend(everything, Loads(along=np.array([0, 0, -10.0]))).reactions[:, 2] == pytest.approx(
        [15.0, 15.0]
    )
