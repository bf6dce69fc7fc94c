"""Which legs meet on paper: distances, crossings and folds of many at once, as arrays."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def point_to_legs(points: Floats, start: Floats, u: Floats, size: Floats) -> Floats:
    """Distance of each point (row) to each leg (column). [mm]"""
    rel = points[:, None, :] - start[None, :, :]
    t = np.clip((rel * u[None, :, :]).sum(axis=2), 0.0, size[None, :])
    gap = rel - t[:, :, None] * u[None, :, :]
    return np.asarray(np.hypot(gap[:, :, 0], gap[:, :, 1]), dtype=np.float64)


def crossed(start: Floats, end: Floats) -> NDArray[np.bool_]:
    """Whether two legs cross."""

    def side(p: Floats) -> Floats:
        rel = p[:, None, :] - start[None, :, :]
        along = (end - start)[None, :, :]
        return np.asarray(along[:, :, 0] * rel[:, :, 1] - along[:, :, 1] * rel[:, :, 0], dtype=np.float64)

    apart = side(start) * side(end) < 0
    return np.asarray(apart & apart.T, dtype=np.bool_)


def folds(ids: NDArray[np.int64], same_way: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Whether two legs that share a place lie on one another: they leave it the same way."""
    a, b = ids[:, 0], ids[:, 1]
    out_out = (a[:, None] == a[None, :]) | (b[:, None] == b[None, :])
    out_in = (a[:, None] == b[None, :]) | (b[:, None] == a[None, :])
    return np.asarray((out_out & same_way) | (out_in & ~same_way), dtype=np.bool_)
