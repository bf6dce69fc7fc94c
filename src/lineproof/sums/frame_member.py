"""One beam in its own axes, many at a time: stiffness, what held ends bear, and ends that pass nothing on."""

from __future__ import annotations

import numpy as np

from lineproof.floor.errors import OutsideTable
from lineproof.sums.frame import DIRECTIONS, Flags, Floats, Frame, Ints, Loads

_OWN = ("along", "upright", "across", "twist", "turn across", "turn upright")
_SOFT = 1e-10
"""A released group whose stiffness is less than this share of its largest is a mechanism of its own."""


def stiffness(frame: Frame) -> Floats:
    """Stiffness of every member in its own axes, before anything is released.

    Parameters
    ----------
    frame : Frame

    Returns
    -------
    array (m, 12, 12)
        [N/m], [N], [N m]

    Notes
    -----
    Straight uniform beam of Euler and Bernoulli; with a shear area the ratio 12 E I/(G A_s L^2) softens it.

    References
    ----------
    .. [1] Przemieniecki, Theory of Matrix Structural Analysis, 1968, eq. 5.116 (from memory; held against
           closed forms and a second program in the tests).
    """
    L, E = frame.lengths, frame.modulus
    k = np.zeros((len(L), 12, 12))
    axial, twist = E * frame.area / L, frame.shear_modulus * frame.torsion / L
    for i, value in ((0, axial), (3, twist)):
        k[:, i, i] = k[:, i + 6, i + 6] = value
        k[:, i, i + 6] = k[:, i + 6, i] = -value
    # bending upright (about z): directions 1, 5; across (about y): 2, 4, where a turn has the other sign
    for inertia, move, turn, sign in ((frame.inertia_z, 1, 5, 1.0), (frame.inertia_y, 2, 4, -1.0)):
        soft = np.zeros_like(L)
        if frame.shear_area is not None:
            soft = 12.0 * E * inertia / (frame.shear_modulus * frame.shear_area * L**2)
        base = E * inertia / (1.0 + soft)
        a, b = 12.0 * base / L**3, sign * 6.0 * base / L**2
        near, far = (4.0 + soft) * base / L, (2.0 - soft) * base / L
        i, j, p, q = move, turn, move + 6, turn + 6
        for r, c, value in (
            (i, i, a), (p, p, a), (i, p, -a), (i, j, b), (i, q, b), (p, j, -b), (p, q, -b),
            (j, j, near), (q, q, near), (j, q, far),
        ):  # fmt: skip
            k[:, r, c] = value
            k[:, c, r] = value
    return k


def held_ends(frame: Frame, loads: Loads, axes: Floats) -> Floats:
    """What acts on the ends of each member while both are held still, in its own axes.

    Parameters
    ----------
    frame : Frame
    loads : Loads
    axes : array (m, 3, 3)
        Of the members. [-]

    Returns
    -------
    array (m, 12)
        [N], [N m]
    """
    count, L = len(frame.members), frame.lengths
    ends = np.zeros((count, 12))
    if loads.strain is not None:
        push = frame.modulus * frame.area * np.broadcast_to(loads.strain, (count,))
        ends[:, 0] += push
        ends[:, 6] -= push
    if loads.along is not None:
        own = np.einsum("mij,mj->mi", axes, np.broadcast_to(loads.along, (count, 3)))
        ends[:, 0:3] -= own * (L / 2.0)[:, None]
        ends[:, 6:9] -= own * (L / 2.0)[:, None]
        moment = own * (L**2 / 12.0)[:, None]
        ends[:, 5] -= moment[:, 1]
        ends[:, 11] += moment[:, 1]
        ends[:, 4] += moment[:, 2]
        ends[:, 10] -= moment[:, 2]
    return ends


class Released:
    """Members some of whose ends pass nothing on: their stiffness condensed, once for every load.

    Parameters
    ----------
    frame : Frame
    whole : array (m, 12, 12)
        Stiffness with nothing released. [N/m], [N], [N m]
    """

    def __init__(self, frame: Frame, whole: Floats) -> None:
        self.stiffness = whole.copy()
        self._groups: list[tuple[Ints, Flags, Floats]] = []
        if frame.released is None or not frame.released.any():
            return
        patterns, which = np.unique(frame.released, axis=0, return_inverse=True)
        for number, free in enumerate(patterns):
            if not free.any():
                continue
            rows = np.flatnonzero(which.reshape(-1) == number)
            inner = whole[np.ix_(rows, free, free)]
            scale = np.sqrt(np.einsum("mii->mi", inner))
            even = inner / scale[:, :, None] / scale[:, None, :]
            loose = np.flatnonzero(np.linalg.eigvalsh(even)[:, 0] < _SOFT)
            if loose.size:
                raise _comes_loose(frame, int(rows[loose[0]]), free)
            outer = whole[np.ix_(rows, ~free, free)]
            carry = np.swapaxes(np.linalg.solve(inner, np.swapaxes(outer, 1, 2)), 1, 2)
            left = np.zeros((len(rows), 12, 12))
            left[np.ix_(np.arange(len(rows)), ~free, ~free)] = whole[np.ix_(rows, ~free, ~free)] - np.einsum(
                "mij,mkj->mik", carry, outer
            )
            self.stiffness[rows] = left
            self._groups.append((rows, free, carry))

    def ends(self, held: Floats) -> Floats:
        """What acts on held ends once the released directions have given way.

        Parameters
        ----------
        held : array (m, 12)
            What acts on them while nothing gives way. [N], [N m]

        Returns
        -------
        array (m, 12)
            [N], [N m]
        """
        if not self._groups:
            return held
        left = held.copy()
        for rows, free, carry in self._groups:
            left[np.ix_(rows, ~free)] -= np.einsum("mij,mj->mi", carry, held[np.ix_(rows, free)])
            left[np.ix_(rows, free)] = 0.0
        return left


def _comes_loose(frame: Frame, row: int, free: Flags) -> OutsideTable:
    first, second = (frame.name_of(int(i)) for i in frame.members[row])
    let_go = ", ".join(f"{_OWN[i % 6]} at {second if i >= 6 else first}" for i in np.flatnonzero(free))
    return OutsideTable(
        f"the member from {first} to {second} comes loose: released {let_go}",
        allowed="releases that leave it held, such as a turn at each end but no twist at both",
        by="the valid range of this sum",
        next="take one release back",
    )


def in_words(way: int) -> str:
    """A direction of a node in a sentence: ``move east``, ``turn about up``."""
    return ("move " if way < 3 else "turn ") + DIRECTIONS[way]
