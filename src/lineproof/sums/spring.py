"""Cold spring: the travel a bent run gives before its wall is bent past the least radius. Small pipe only.

The sum says how far it *could* go, never that it may: see the check SPR-01.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lineproof.floor.errors import OutsideTable
from lineproof.sums.frame import Floats, Frame, Loads
from lineproof.sums.frame_solve import Ready
from lineproof.sums.limits import positive

_PARALLEL = 1e-9


@dataclass(frozen=True, slots=True)
class SpringTravel:
    """What springing a run gives.

    Parameters
    ----------
    travel : float
        At the open end, along the asked direction. [m]
    times : float
        How often the pattern of moves that was imposed goes into the limit. [-]
    member : int
        Row of the member that reaches the limit.
    """

    travel: float
    times: float
    member: int


def spring_travel(
    frame: Frame, moved: Floats, *, open_end: int, along: Floats, od: float, radius: float
) -> SpringTravel:
    """Travel that a run gives when it is bent until its wall reaches the strain of a least bend radius.

    Parameters
    ----------
    frame : Frame
        The run: its joints that stand are held, and so is what is pushed or turned to bend it.
    moved : array (n, 6)
        How held directions are moved to bend it, in any amount; it is scaled to the limit. [m]
    open_end : int
        Row of the node where the travel is wanted.
    along : array (3,)
        Direction of the travel, the axis of the joint that is to close. [m]
    od : float
        Outside diameter of the pipe. [m]
    radius : float
        Least radius of the bow. [m]

    Returns
    -------
    SpringTravel

    Raises
    ------
    OutsideTable
        If nothing is bent by what is moved, or something is free to move.

    Valid range
    -----------
    od > 0; radius > 0; small turns.

    Notes
    -----
    The pattern is scaled until D/2 M/(E I) + |N|/(E A) = D/(2 R) at the worst end of a member. A run with a
    bend gives travel at once; a straight one only by its bow, sum of 1/2 integral w'^2 dx, which is taken for
    straight runs alone. A run bent by end turns alone gives L^3/(24 R^2), the bow of an arc. Hands, hooks
    and the joints that stand are not looked at here.

    References
    ----------
    .. [1] Beam of Euler and Bernoulli; shortening of a bowed bar: integral of half the slope squared.
    """
    positive("od", od, unit="m")
    positive("radius", radius, unit="m")
    bent = Ready(frame).under(Loads(moved=np.asarray(moved, np.float64)))
    inertia = np.minimum(frame.inertia_y, frame.inertia_z)
    fibre = od / 2.0 * bent.bending / (frame.modulus * inertia)[:, None]
    strain = fibre.max(axis=1) + np.abs(bent.pull) / (frame.modulus * frame.area)
    member = int(np.argmax(strain))
    if not strain[member] > 0.0:
        raise OutsideTable(
            "what is moved bends nothing", allowed="a move that bends the run", by="the valid range of "
            "this sum",
            next="move a held direction across the run",
        )  # fmt: skip
    times = float(od / (2.0 * radius) / strain[member])
    way = np.asarray(along, np.float64) / np.linalg.norm(along)
    travel = times * abs(float(bent.moves[open_end, :3] @ way))
    straight = np.abs(np.abs(frame.axes[:, 0] @ way) - 1.0) < _PARALLEL
    if straight.all():
        travel += times**2 * float(_bowed(frame, bent.moves).sum())
    return SpringTravel(travel, times, member)


def _bowed(frame: Frame, moves: Floats) -> Floats:
    """How much each member's two ends come together by its bow alone. [m]"""
    own = np.einsum("mij,mpqj->mpqi", frame.axes, moves[frame.members].reshape(-1, 2, 2, 3))
    L = frame.lengths
    total = np.zeros_like(L)
    for move, turn, sign in ((1, 2, 1.0), (2, 1, -1.0)):
        v1, v2 = own[:, 0, 0, move], own[:, 1, 0, move]
        t1, t2 = sign * own[:, 0, 1, turn], sign * own[:, 1, 1, turn]
        d = v2 - v1
        slope = (36 * d**2 + 4 * L**2 * (t1**2 + t2**2) - 2 * L**2 * t1 * t2 - 6 * L * d * (t1 + t2)) / (
            30 * L
        )
        total += slope / 2.0
    return np.asarray(total, np.float64)
