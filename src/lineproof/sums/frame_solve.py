"""The sum of a frame: assembled and factored once, then asked for any number of loads.

``Ready(frame)`` does the first; ``ready.under(Loads(strain=alpha * dT_K))`` the second, as often as wanted.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_matrix, csc_matrix, csr_matrix
from scipy.sparse.linalg import SuperLU, splu

from lineproof.floor.errors import OutsideTable
from lineproof.sums.frame import Bent, Floats, Frame, Loads
from lineproof.sums.frame_member import Released, held_ends, in_words, stiffness

_BY = "the valid range of this sum"
_FREE = 2e-14
"""A frame whose softest way to move is softer than this, all directions scaled alike, is free there. A
cantilever of 2,000 members end to end still stands at three times as much. [-]"""


class Ready:
    """A frame, assembled and factored.

    Parameters
    ----------
    frame : Frame

    Raises
    ------
    OutsideTable
        If something is free to move: the node and the direction are named.
    """

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self._axes = frame.axes
        self._released = Released(frame, stiffness(frame))
        self._spread = (frame.members[:, :, None] * 6 + np.arange(6)).reshape(-1, 12)
        self._free = np.flatnonzero(~frame.held.reshape(-1))
        self._held = np.flatnonzero(frame.held.reshape(-1))
        whole = self._assembled()
        self._rows = whole[self._free]
        self._kept = whole[self._held].tocsr()
        self._solver = self._factored(self._rows[:, self._free].tocsc())

    def under(self, loads: Loads) -> Bent:
        """The frame under loads.

        Parameters
        ----------
        loads : Loads

        Returns
        -------
        Bent

        Raises
        ------
        OutsideTable
            If a direction that is not held is moved, or a number is not finite.
        """
        frame, size = self.frame, 6 * len(self.frame.points)
        pushed = np.zeros(size)
        if loads.at_nodes is not None:
            pushed += np.asarray(loads.at_nodes, np.float64).reshape(size)
        moves = np.zeros(size)
        if loads.moved is not None:
            moves += np.asarray(loads.moved, np.float64).reshape(size)
            loose = np.flatnonzero(moves[self._free])
            if loose.size:
                node, way = divmod(int(self._free[loose[0]]), 6)
                raise OutsideTable(
                    f"{frame.name_of(node)} is made to {in_words(way)} but is not held there",
                    allowed="moving held directions only", by=_BY,
                    next="hold it in that direction",
                )  # fmt: skip
        still = self._released.ends(held_ends(frame, loads, self._axes))
        onto = pushed.copy()
        np.subtract.at(onto, self._spread.reshape(-1), self._global(still).reshape(-1))
        if not (np.all(np.isfinite(onto)) and np.all(np.isfinite(moves))):
            raise OutsideTable("a load is not a number", allowed="finite loads", by=_BY)
        if self._free.size:
            known = self._rows @ moves
            moves[self._free] = self._solve(onto[self._free] - known)
        grip = np.zeros(size)
        grip[self._held] = self._kept @ moves - onto[self._held]
        reactions = grip.reshape(-1, 6)
        self._add_springs(reactions, moves.reshape(-1, 6))
        local = self._local(moves[self._spread])
        ends = np.einsum("mij,mj->mi", self._released.stiffness, local) + still
        return Bent(moves=moves.reshape(-1, 6), ends=ends, reactions=reactions)

    def _assembled(self) -> csr_matrix:
        frame, size = self.frame, 6 * len(self.frame.points)
        blocks = self._released.stiffness.reshape(-1, 4, 3, 4, 3).swapaxes(2, 3)
        axes = self._axes[:, None, None]
        whole = (axes.swapaxes(-1, -2) @ blocks @ axes).swapaxes(2, 3)
        rows = np.repeat(self._spread, 12, axis=1).reshape(-1)
        columns = np.tile(self._spread, (1, 12)).reshape(-1)
        values = [whole.reshape(-1)]
        at = [(rows, columns)]
        if frame.springs is not None and frame.springs.node.size:
            s = frame.springs
            block = s.stiffness[:, None, None] * s.direction[:, :, None] * s.direction[:, None, :]
            first = s.node[:, None] * 6 + 3 * s.turns[:, None] + np.arange(3)
            second = s.other[:, None] * 6 + 3 * s.turns[:, None] + np.arange(3)
            tied = s.other >= 0
            for a, b, sign, keep in (
                (first, first, 1.0, slice(None)), (second, second, 1.0, tied),
                (first, second, -1.0, tied), (second, first, -1.0, tied),
            ):  # fmt: skip
                at.append((np.repeat(a[keep], 3, axis=1).reshape(-1), np.tile(b[keep], (1, 3)).reshape(-1)))
                values.append(sign * block[keep].reshape(-1))
        where = (np.concatenate([r for r, _ in at]), np.concatenate([c for _, c in at]))
        return coo_matrix((np.concatenate(values), where), shape=(size, size)).tocsr()

    def _factored(self, core: csc_matrix) -> SuperLU | None:
        if not self._free.size:
            self._even = np.ones(0)
            return None
        stiff = core.diagonal()
        empty = np.flatnonzero(stiff <= 0.0)
        if empty.size:
            raise self._loose(int(self._free[empty[0]]))
        self._even = 1.0 / np.sqrt(stiff)
        rows, columns = core.indices, np.repeat(np.arange(core.shape[1]), np.diff(core.indptr))
        core = core.copy()
        core.data *= self._even[rows] * self._even[columns]
        try:
            solver = _symmetric(core)
            shake = np.random.default_rng(5).standard_normal(core.shape[0])
            shake /= np.linalg.norm(shake)
            with np.errstate(all="ignore"):
                for _ in range(2):  # the softest way to move, and how soft it is
                    shake = solver.solve(shake)
                    size = float(np.linalg.norm(shake))
                    shake /= size
            if np.isfinite(size) and size < 1.0 / _FREE:
                return solver
        except RuntimeError:  # the solver's word for a pivot that is exactly nothing
            pass
        raise self._loose(self._softest(core))

    def _softest(self, core: csc_matrix) -> int:
        """The direction that moves most where the frame is free, found with everything held a little."""
        little = core.copy()
        little.setdiag(little.diagonal() + 1e-9)
        solver = _symmetric(little)
        shake = np.random.default_rng(5).standard_normal(core.shape[0])
        for _ in range(4):
            shake = solver.solve(shake)
            shake /= np.linalg.norm(shake)
        return int(self._free[int(np.argmax(np.abs(shake)))])

    def _loose(self, direction: int) -> OutsideTable:
        node, way = divmod(direction, 6)
        return OutsideTable(
            f"the frame does not stand: {self.frame.name_of(node)} is free to {in_words(way)}",
            allowed="a frame that is held against every way to move",
            by=_BY,
            next="hold it there, put a spring there, or take a release back",
        )

    def _solve(self, right: Floats) -> Floats:
        if self._solver is None:
            return right
        return np.asarray(self._even * self._solver.solve(self._even * right), np.float64)

    def _add_springs(self, reactions: Floats, moves: Floats) -> None:
        """What springs to the ground do to their nodes; on a held direction the matrix has it already."""
        s = self.frame.springs
        if s is None or not s.node.size:
            return
        to_ground = s.other < 0
        node, turns = s.node[to_ground], s.turns[to_ground]
        columns = 3 * turns[:, None] + np.arange(3)
        moved = moves[node[:, None], columns]
        give = np.sum(moved * s.direction[to_ground], axis=1) * s.stiffness[to_ground]
        force = -give[:, None] * s.direction[to_ground]
        free = ~self.frame.held[node[:, None], columns]
        np.add.at(reactions, (node[:, None], columns), force * free)

    def _global(self, own: Floats) -> Floats:
        turned = np.einsum("mia,mpi->mpa", self._axes, own.reshape(-1, 4, 3))
        return np.ascontiguousarray(turned).reshape(-1, 12)

    def _local(self, moves: Floats) -> Floats:
        turned = np.einsum("mia,mpa->mpi", self._axes, moves.reshape(-1, 4, 3))
        return np.ascontiguousarray(turned).reshape(-1, 12)


def _symmetric(core: csc_matrix) -> SuperLU:
    return splu(
        csc_matrix(core), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )


def bend(frame: Frame, loads: Loads) -> Bent:
    """A frame under one set of loads.

    Parameters
    ----------
    frame : Frame
    loads : Loads

    Returns
    -------
    Bent

    Raises
    ------
    OutsideTable
        If something is free to move: the node and the direction are named.

    Examples
    --------
    >>> rod = Frame(
    ...     points=[[0, 0, 0], [5, 0, 0]], members=[[0, 1]], modulus=3e9, shear_modulus=1e9, area=1e-3,
    ...     inertia_y=1e-6, inertia_z=1e-6, torsion=2e-6, held=[[True] * 6, [False] * 6],
    ... )
    >>> round(float(bend(rod, Loads(strain=54e-6 * 25)).moves[1, 0]) * 1e3, 6)
    6.75
    """
    return Ready(frame).under(loads)
