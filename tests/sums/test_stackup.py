"""Stack-up: one loop by hand, a tape wrong all the way round, Monte Carlo, and which piece to tape."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lineproof.floor.errors import OutsideTable
from lineproof.sums.stackup import BELL, EVEN, SHARES, Play, lengthwise, misfit, out_of_line, which_to_tape
from lineproof.sums.vectors import Vector

EAST, NORTH, UP = (1.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0)
ROOT3 = math.sqrt(3.0)


def test_one_loop_by_hand() -> None:
    """An L, 3 m east then 2 m north to a face that looks north. Limits: each cut 2 mm, the elbow 1 mm on each
    leg, the first joint (at the start, axis east) 0.5 deg out of line; all alike likely within their limits.

    By hand, variance of a limit a is a^2/3 (JCGM 100:2008, 4.3.7). With w = 0.5 deg = 8.72665 mrad:
    - north (along the face): cut 2 mm, elbow 1 mm, and the joint's turn about up times its 3 m east:
      (2^2 + 1^2 + 26.17994^2)/3 = 230.1297 mm2, sd 15.17003 mm
    - east: cut 2, elbow 1, the turn about up times 2 m north: (4 + 1 + 17.45329^2)/3 = 103.2058 mm2
    - up: the turn about north times 3 m east (it moves down), the turn about east is none: 26.17994^2/3 =
      228.4630 mm2
    - angle: about up and about north w each; about north is the face's twist, so one is left: w/sqrt(3).
    """
    w = math.radians(0.5)
    plays = [
        lengthwise("A", EAST, 0.002), lengthwise("E1", EAST, 0.001), lengthwise("B", NORTH, 0.002),
        lengthwise("E1", NORTH, 0.001), *out_of_line("J1", (0, 0, 0), EAST, w),
    ]  # fmt: skip
    found = misfit(plays, face=(3.0, 2.0, 0.0), along=NORTH)
    sd = np.sqrt(np.diag(found.spread)) * 1e3
    assert sd[0] == pytest.approx(15.17003, abs=1e-4)
    assert sd[0] ** 2 == pytest.approx(230.1297, abs=1e-3)
    assert sd[1] ** 2 == pytest.approx(103.2058, abs=1e-3)  # across: east
    assert sd[2] ** 2 == pytest.approx(228.4630, abs=1e-3)  # across: up
    assert sd[3:] == pytest.approx([8.72665 / ROOT3, 0.0, 8.72665 / ROOT3], abs=1e-4)
    assert found.length == pytest.approx(1.959964 * 15.17003e-3, abs=1e-7)
    # all at their limits: 2 + 1 + 26.18 mm along the face
    assert found.worst[0] == pytest.approx(29.17994e-3, abs=1e-7)
    assert found.mean == pytest.approx(np.zeros(6))


def test_a_wrong_tape_adds_up_along_a_line_and_cancels_round_a_ring() -> None:
    """Closed form: n pieces of length L taped by one tape out by a share s: sd n L s, and not sqrt(n) L s;
    round a
    closed ring of taped pieces the sum of directions is nothing, and so is the misfit."""
    share, length, count = 4e-4, 2.5, 9
    line = [lengthwise(f"P{i}", EAST, share * length, shared="tape 1", shape=BELL) for i in range(count)]
    found = misfit(line, face=(count * length, 0, 0), along=EAST)
    assert math.sqrt(found.spread[0, 0]) == pytest.approx(count * length * share, rel=1e-12)
    alone = [lengthwise(f"P{i}", EAST, share * length, shape=BELL) for i in range(count)]
    assert math.sqrt(misfit(alone, face=(0, 0, 0), along=EAST).spread[0, 0]) == pytest.approx(
        math.sqrt(count) * length * share, rel=1e-12
    )
    ring: list[Vector] = [EAST, NORTH, (-1.0, 0, 0), (0, -1.0, 0)]
    round_it = [lengthwise(f"R{i}", way, share * length, shared="tape 1") for i, way in enumerate(ring)]
    assert misfit(round_it, face=(0, 0, 0), along=EAST).spread == pytest.approx(np.zeros((6, 6)), abs=1e-20)


VECTOR = st.tuples(*[st.floats(-1, 1)] * 3)
PLAY = st.builds(
    lambda shift, turn, at, shared: Play(
        name="x", shift=tuple(0.004 * s for s in shift), turn=tuple(0.006 * t for t in turn),
        at=tuple(6 * a for a in at), shared=shared, shape=BELL if shared == "saw" else EVEN,
    ),
    VECTOR, VECTOR, VECTOR, st.sampled_from(["", "", "tape", "saw"]),
)  # fmt: skip


def rotation(v: np.ndarray) -> np.ndarray:
    """Full turns, stacked (..., 3, 3): Rodrigues, not the small turns of the sum."""
    angle = np.linalg.norm(v, axis=-1)[..., None, None]
    u = v / np.maximum(np.linalg.norm(v, axis=-1), 1e-300)[..., None]
    zero = np.zeros(u.shape[:-1])
    k = np.stack(
        [zero, -u[..., 2], u[..., 1], u[..., 2], zero, -u[..., 0], -u[..., 1], u[..., 0], zero], axis=-1
    )
    k = k.reshape(*u.shape[:-1], 3, 3)
    return np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * k @ k


@settings(max_examples=8, deadline=None)
@given(plays=st.lists(PLAY, min_size=1, max_size=12), seed=st.integers(0, 2**31))
def test_against_monte_carlo(plays: list[Play], seed: int) -> None:
    """60,000 loops drawn and walked with whole turns: sd within 3 %, and 95 % really lies within."""
    draws, face, along = 60_000, (7.0, 3.0, -2.0), (0.0, 0.6, 0.8)
    rng = np.random.default_rng(seed)
    made: dict[str, np.ndarray] = {}
    place, facing = np.tile(np.array(face, float), (draws, 1)), np.tile(np.eye(3), (draws, 1, 1))
    for i, p in enumerate(plays):
        key = p.shared or str(i)
        if key not in made:
            made[key] = rng.uniform(-1, 1, draws) if p.shape == EVEN else rng.standard_normal(draws)
        z = made[key][:, None]
        turn = rotation(z * np.array(p.turn))
        place = np.einsum("nij,nj->ni", turn, place - p.at) + p.at + z * np.array(p.shift)
        facing = turn @ facing
    found = misfit(plays, face=face, along=along)
    from lineproof.sums.stackup import face_axes

    off = (place - face) @ face_axes(along).T
    sd = np.sqrt(np.diag(found.spread)[:3])
    scale = max(sd.max(), 1e-9)
    # second-order terms of turns of some mrad over some metres stay below 0.1 mm here
    np.testing.assert_allclose(off.std(axis=0), sd, rtol=0.03, atol=0.02 * scale + 1e-4)
    assert (np.abs(off[:, 0]) <= found.length + 1e-4).mean() >= 0.945
    assert (np.linalg.norm(off[:, 1:], axis=1) <= found.sideways + 1e-4).mean() >= 0.945
    assert (np.abs(off) <= found.worst[:3] + 5e-3).all() or any(p.shape == BELL for p in plays)


def test_the_piece_that_takes_most_away_is_left() -> None:
    """A long leg north with many cuts and a short one east: the north piece is left. By hand: 5 cuts of 2 mm
    and a
    tape of 1 mm; with a north piece taped, what is left north is its own tape and cut, (1^2 + 2^2)/3 mm2."""
    plays = [lengthwise(f"N{i}", NORTH, 0.002) for i in range(5)] + [lengthwise("E", EAST, 0.002)]
    own = {
        name: (lengthwise(name, way, 0.001), lengthwise(name, way, 0.002))
        for name, way in (("N3", NORTH), ("E", EAST))
    }
    first, second = which_to_tape(plays, [own["E"], own["N3"]], face=(2.0, 9.0, 0), along=NORTH)
    assert (first.piece, second.piece) == ("N3", "E")
    assert first.misfit.spread[0, 0] == pytest.approx((1 + 4) / 3 * 1e-6)
    assert first.misfit.spread[1, 1] == pytest.approx(4 / 3 * 1e-6)
    before, after = math.sqrt(24 / 3), math.sqrt(9 / 3)
    assert first.less == pytest.approx((before - after) * 1e-3)
    assert second.less < 0  # its tape adds to what its cut alone would do: nothing is gained


def test_taping_leaves_angle_and_what_lies_across_alone() -> None:
    plays = [*out_of_line("J1", (0, 0, 0), NORTH, 0.01), lengthwise("N", NORTH, 0.002)]
    before = misfit(plays, face=(0, 5.0, 0), along=NORTH)
    taped = which_to_tape(plays, [(lengthwise("N", NORTH, 0.001),)], face=(0, 5.0, 0), along=NORTH)[0].misfit
    assert taped.angle == pytest.approx(before.angle)
    assert taped.sideways == pytest.approx(before.sideways)
    assert taped.length == pytest.approx(1.959964 * 0.001 / ROOT3, rel=1e-6)


def test_a_lean_moves_the_middle_and_not_the_spread() -> None:
    gap = Play(name="J", shift=(0.002, 0, 0), lean=0.5)
    found = misfit([gap], face=(0, 0, 0), along=EAST)
    assert found.mean[0] == pytest.approx(0.001)
    assert found.length == pytest.approx(0.001 + 1.959964 * 0.002 / ROOT3, rel=1e-6)
    assert misfit([], face=(0, 0, 0), along=UP).length == 0.0
    assert found.twist == 0.0
    assert SHARES[BELL] == 1.0


@pytest.mark.parametrize(
    ("plays", "along", "said"),
    [
        ([Play(name="A", shape="round")], EAST, "shape 'round'"),
        ([Play(name="A", shift=(math.nan, 0, 0))], EAST, "not a number"),
        ([Play(name="A", shared="t"), Play(name="B", shared="t", shape=BELL)], EAST, "two shapes"),
        ([], (0.0, 0, 0), "points nowhere"),
    ],
)
def test_what_it_refuses(plays: list[Play], along: Vector, said: str) -> None:
    with pytest.raises(OutsideTable, match=said):
        misfit(plays, face=(0, 0, 0), along=along)


def test_a_piece_without_a_direction_is_refused() -> None:
    with pytest.raises(OutsideTable, match="A has no direction"):
        which_to_tape([], [(Play(name="A"),)], face=(0, 0, 0), along=EAST)
