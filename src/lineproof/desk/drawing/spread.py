"""Spreads a scene over the paper: broken scales that give every leg the room its labels need.

Each axis has its own gaps between distinct coordinates. A gap grows with the true distance, ever slower;
it is stretched where a leg needs more room or where two legs would lie on one another on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from lineproof.desk.drawing.meet import Floats, crossed, folds, point_to_legs
from lineproof.desk.drawing.project import SAME, BrokenScale, North, View, axes, distinct, drawn_gap, index_of
from lineproof.job.graph import Vec

CLEAR_MM = 10.0
"""Legs that run side by side want this much room between them. [mm]"""
NODE_MM = 6.0
"""So much room a place wants from a leg that does not end there. [mm]"""
CROSSING = 0.5
"""What a crossing counts beside legs that lie on one another. [1]"""
STEPS = (1.6, 2.6, 0.6, 0.35)
"""Factors tried on a gap. [1]"""
SHAPES = (
    (1.0, 1.0, 1.0), (2.5, 1.0, 1.0), (1.0, 2.5, 1.0), (1.0, 1.0, 2.5), (2.5, 2.5, 1.0), (2.5, 1.0, 2.5),
    (1.0, 2.5, 2.5),
)  # fmt: skip
"""Stretches of east, north and up that are tried first. [1]"""
MEET_MM, ON_LEG_MM = 2.0, 1.5
"""Two places nearer than this on paper coincide, and so does a place with a leg that ends elsewhere. [mm]"""
OFFSET_MM = 6.0
"""What is put into an axis where places coincide, for every place beyond it. [mm]"""
TRIES = 24
PER_TRY = 18


@dataclass(frozen=True, slots=True)
class Need:
    """A leg to be spread: its two places and the length it needs on paper. [mm]"""

    a: int
    b: int
    least: float


@dataclass(frozen=True, slots=True)
class Tail:
    """A short line from a place that keeps its length whatever the scale: its way on paper [mm]."""

    at: int
    dx: float
    dy: float


@dataclass
class Spread:
    """One sheet's places and legs as arrays, and the search for gaps that fit.

    Parameters
    ----------
    points : sequence of tuple
        Places. [m]
    needs : sequence of Need
    tails : sequence of Tail
    north : North
    width, height : float
        Room for the places themselves. [mm]
    """

    points: Sequence[Vec]
    needs: Sequence[Need]
    tails: Sequence[Tail]
    north: North
    width: float
    height: float

    def __post_init__(self) -> None:
        """Index every place on its three axes."""
        # two axes of one part (an eccentric reducer) are drawn as one: its words say which side is flat
        self.same = tuple(
            max(
                [
                    SAME,
                    *(
                        abs(self.points[n.a][k] - self.points[n.b][k]) + 1e-6
                        for n in self.needs
                        if not n.least
                    ),
                ]
            )
            for k in range(3)
        )
        self.real = tuple(distinct((p[k] for p in self.points), self.same[k]) for k in range(3))
        self.index = np.array(
            [[index_of(p[k], self.real[k]) for k in range(3)] for p in self.points], dtype=np.int64
        ).reshape(-1, 3)
        counts = [max(len(r) - 1, 0) for r in self.real]
        self.first = [0, counts[0], counts[0] + counts[1]]
        self.base: Floats = np.array(
            [drawn_gap(b - a) for r in self.real for a, b in pairwise(r)], dtype=np.float64
        )
        self.axis = np.array(axes(self.north), dtype=np.float64)
        gaps = len(self.base)
        self.cover = np.zeros((len(self.needs), gaps), dtype=bool)
        self.a = np.array([n.a for n in self.needs], dtype=np.int64)
        self.b = np.array([n.b for n in self.needs], dtype=np.int64)
        self.least: Floats = np.array([n.least for n in self.needs], dtype=np.float64)
        self.tail_at = np.array([t.at for t in self.tails], dtype=np.int64)
        self.tail_by: Floats = np.array([[t.dx, t.dy] for t in self.tails], dtype=np.float64).reshape(-1, 2)
        for i, n in enumerate(self.needs):
            for k in range(3):
                lo, hi = sorted((int(self.index[n.a, k]), int(self.index[n.b, k])))
                self.cover[i, self.first[k] + lo : self.first[k] + hi] = True

    # ------------------------------------------------------------------ from gaps to paper

    def drawn(self, gaps: Floats) -> list[Floats]:
        """Where each distinct coordinate of each axis is drawn. [mm]"""
        ends = [*self.first, len(gaps)]
        return [
            np.concatenate(([0.0], np.cumsum(gaps[ends[k] : ends[k + 1]])))
            if len(self.real[k])
            else np.zeros(0)
            for k in range(3)
        ]

    def paper(self, gaps: Floats) -> Floats:
        """Places on paper, not shifted. [mm]"""
        drawn = self.drawn(gaps)
        stretched = np.stack([drawn[k][self.index[:, k]] for k in range(3)], axis=1)
        return np.asarray(stretched @ self.axis, dtype=np.float64)

    def size(self, gaps: Floats) -> tuple[float, float]:
        """Width and height of places and tails on paper. [mm]"""
        low, high = self.corners(gaps)
        return high[0] - low[0], high[1] - low[1]

    def corners(self, gaps: Floats) -> tuple[list[float], list[float]]:
        """Least and greatest x and y of places and tails on paper, not shifted. [mm]"""
        p = self.paper(gaps)
        if self.tails:
            p = np.concatenate((p, p[self.tail_at] + self.tail_by))
        return p.min(axis=0).tolist(), p.max(axis=0).tolist()

    def stretched(self, gaps: Floats) -> Floats:
        """Gaps stretched so that every leg has the length it needs."""
        if not len(self.needs) or not len(gaps):
            return gaps
        p = self.paper(gaps)
        long = np.hypot(*(p[self.b] - p[self.a]).T)
        factor = np.where(long > 1e-9, self.least / np.maximum(long, 1e-9), 1.0)
        most = np.where(self.cover, np.maximum(factor, 1.0)[:, None], 1.0).max(axis=0)
        return np.asarray(gaps * most, dtype=np.float64)

    def fit(self, weight: Floats) -> tuple[Floats, float]:
        """The largest gaps that fit the room, and the share of the needed length that they give.

        Parameters
        ----------
        weight : array
            Factor on each gap. [1]

        Returns
        -------
        tuple
            Gaps [mm] and a share, 1 where every leg has the length it needs.
        """
        if not len(self.base):
            return self.base, 1.0
        shape = self.base * weight
        lo, hi = 0.3, 40.0
        gaps = self.stretched(lo * shape)
        share = self.share(gaps)
        if share < 1.0:
            return gaps * share, share
        for _ in range(9):
            mid = (lo * hi) ** 0.5
            tried = self.stretched(mid * shape)
            if self.share(tried) >= 1.0:
                lo, gaps = mid, tried
            else:
                hi = mid
        return gaps, 1.0

    def share(self, gaps: Floats) -> float:
        """By how much the gaps must shrink to fit the room (1 or more: they fit). [1]"""
        w, h = self.size(gaps)
        return min(self.width / max(w, 1e-9), self.height / max(h, 1e-9))

    # ------------------------------------------------------------------ legs that meet on paper

    def crowding(self, gaps: Floats) -> tuple[float, list[tuple[float, int, int]]]:
        """How much legs lie on one another on paper, and the pairs that do, worst first."""
        p = self.paper(gaps)
        tails = [(p[t.at], p[t.at] + (t.dx, t.dy), t.at) for t in self.tails]
        start = np.array([*p[self.a], *(t[0] for t in tails)]).reshape(-1, 2)
        end = np.array([*p[self.b], *(t[1] for t in tails)]).reshape(-1, 2)
        n = len(start)
        if n < 2:
            return 0.0, []
        ends = list(zip(self.a.tolist(), self.b.tolist(), strict=True))
        ids = np.array([*ends, *((t.at, -1 - i) for i, t in enumerate(self.tails))], dtype=np.int64)
        touch = (ids[:, None, :, None] == ids[None, :, None, :]).any(axis=(2, 3))
        along = end - start
        size = np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-9)
        u = along / size[:, None]
        cross = np.abs(u[:, 0][:, None] * u[:, 1][None, :] - u[:, 1][:, None] * u[:, 0][None, :])
        same_way = (u @ u.T) > 0.0
        away = np.minimum.reduce(
            [
                point_to_legs(start, start, u, size),
                point_to_legs(end, start, u, size),
                point_to_legs(start, start, u, size).T,
                point_to_legs(end, start, u, size).T,
            ]
        )
        side_by_side = cross < 0.2
        room = np.where(side_by_side, CLEAR_MM, NODE_MM)
        bad = np.where(away < room, 1.0 - away / room, 0.0)
        bad = np.where(side_by_side & (away < 3.0), bad + 2.0, bad)
        # legs that share a place are bad only if they fold back on one another
        folded = side_by_side & touch & folds(ids, same_way)
        bad = np.where(crossed(start, end) & ~touch, bad + CROSSING, bad)
        bad = np.where(touch, np.where(folded, 3.0, 0.0), bad)
        bad = np.triu(bad, 1)
        pairs = np.argwhere(bad > 0.05)
        worst = sorted(((-float(bad[i, j]), int(i), int(j)) for i, j in pairs))
        return float(bad.sum()), worst

    def meeting(self, gaps: Floats) -> list[tuple[int, int]]:
        """Places that coincide on paper but not in space, and places on a leg that does not end there.

        Parameters
        ----------
        gaps : array
            [mm]

        Returns
        -------
        list of (int, int)
            Two places, or a place and the nearer end of the leg it lies on.
        """
        if len(self.needs) < 2:
            return []
        p = self.paper(gaps)
        start, end = p[self.a], p[self.b]
        size = np.maximum(np.hypot(*(end - start).T), 1e-9)
        away = point_to_legs(p, start, (end - start) / size[:, None], size)
        mine = np.arange(len(p))[:, None]
        own = (mine == self.a[None, :]) | (mine == self.b[None, :])
        used = np.zeros(len(p), dtype=bool)
        used[self.a] = used[self.b] = True
        found: list[tuple[int, int]] = []
        for n, leg in np.argwhere((away < MEET_MM) & ~own & used[:, None]).tolist():
            ends = (int(self.a[leg]), int(self.b[leg]))
            near = min(ends, key=lambda k: float(np.hypot(*(p[k] - p[n]))))
            at_place = float(np.hypot(*(p[near] - p[n]))) < MEET_MM
            joined = bool((((self.a == n) & (self.b == near)) | ((self.a == near) & (self.b == n))).any())
            if (at_place and not joined) or (not at_place and away[n, leg] < ON_LEG_MM):
                found.append((n, near))
        return sorted(set(found))

    def apart(self, gaps: Floats) -> tuple[Floats, int]:
        """Shift places that coincide: an offset is put into an axis between them, so that equal stays equal.

        Parameters
        ----------
        gaps : array
            [mm]

        Returns
        -------
        tuple
            Gaps [mm], and how many pairs still coincide.
        """
        met = self.meeting(gaps)
        for _ in range(TRIES):
            if not met:
                break
            a, b = met[0]
            best = (len(met), np.inf, gaps, met)
            for k in range(3):
                lo, hi = sorted((int(self.index[a, k]), int(self.index[b, k])))
                for g in {self.first[k] + lo, self.first[k] + hi - 1} if hi > lo else ():
                    tried = gaps.copy()
                    tried[g] += OFFSET_MM
                    left = self.meeting(tried)
                    best = min(best, (len(left), -self.share(tried), tried, left), key=lambda t: t[:2])
            if len(best[3]) >= len(met):
                break
            gaps, met = best[2], best[3]
        return gaps, len(met)

    def search(self) -> tuple[Floats, float, float]:
        """Gaps that fit, with as few legs on one another as a short search finds.

        Returns
        -------
        tuple
            Gaps [mm], the share of the needed lengths (0 if places still coincide), the crowding left.
        """
        weight, gaps, share, crowd, worst = self.shaped()
        skip: set[tuple[int, int]] = set()
        for _ in range(TRIES):
            todo = [w for w in worst if (w[1], w[2]) not in skip]
            if crowd < 0.3 or not todo:
                break
            _, i, j = todo[0]
            best: tuple[float, Floats, Floats, float, list[tuple[float, int, int]]] | None = None
            for g in self.between(i, j):
                for by in STEPS:
                    tried = weight.copy()
                    tried[g] *= by
                    new, new_share = self.fit(tried)
                    new_crowd, new_worst = self.crowding(new)
                    price = new_crowd + 40.0 * max(0.0, 0.9 - new_share)
                    if best is None or price < best[0] - 1e-9:
                        best = (price, tried, new, new_share, new_worst)
            if best is None or best[0] >= crowd + 40.0 * max(0.0, 0.9 - share) - 0.02:
                skip.add((i, j))
                continue
            _, weight, gaps, share, worst = best
            crowd = self.crowding(gaps)[0]
        if self.meeting(gaps):
            gaps, left = self.apart(gaps)
            fits = self.share(gaps)
            share, crowd = min(share, fits) if not left else 0.0, self.crowding(gaps)[0]
            gaps = gaps * min(fits, 1.0)
        return gaps, share, crowd

    def shaped(self) -> tuple[Floats, Floats, float, float, list[tuple[float, int, int]]]:
        """The best of a few stretches of whole axes, with what :meth:`search` needs to go on."""
        ends = [*self.first, len(self.base)]
        best: tuple[float, tuple[Floats, Floats, float, float, list[tuple[float, int, int]]]] | None = None
        for east, north, up in SHAPES:
            weight = np.ones_like(self.base)
            for k, by in enumerate((east, north, up)):
                weight[ends[k] : ends[k + 1]] *= by
            gaps, share = self.fit(weight)
            crowd, worst = self.crowding(gaps)
            price = crowd + 40.0 * max(0.0, 0.9 - share) - self.ease(gaps)
            if best is None or price < best[0] - 1e-9:
                best = (price, (weight, gaps, share, crowd, worst))
        return best[1] if best is not None else (self.base, self.base, 1.0, 0.0, [])

    def ease(self, gaps: Floats) -> float:
        """How much longer than needed the legs are, on the whole. [1]"""
        if not len(self.needs) or not len(gaps):
            return 0.0
        p = self.paper(gaps)
        long = np.hypot(*(p[self.b] - p[self.a]).T)
        return float(np.log(np.clip(long / np.maximum(self.least, 1.0), 0.2, 3.0)).sum()) * 0.3

    def between(self, i: int, j: int) -> list[int]:
        """Gaps that two legs span or that lie between them, the middle ones first."""
        ends: list[list[int]] = []
        for n in (i, j):
            if n < len(self.needs):
                ends.append([int(self.a[n]), int(self.b[n])])
            else:
                ends.append([self.tails[n - len(self.needs)].at])
        found: list[int] = []
        for k in range(3):
            here = [int(self.index[p, k]) for e in ends for p in e]
            found += range(self.first[k] + min(here), self.first[k] + max(here))
        if len(found) <= PER_TRY:
            return found
        step = len(found) / PER_TRY
        return [found[int(m * step)] for m in range(PER_TRY)]

    def view(self, gaps: Floats, left: float, top: float) -> View:
        """The map to paper, with the places in the middle of the room.

        Parameters
        ----------
        gaps : array
            [mm]
        left, top : float
            Corner of the room on the sheet. [mm]

        Returns
        -------
        View
        """
        drawn = self.drawn(gaps)
        low, high = self.corners(gaps)
        shift = (
            left + (self.width - (high[0] - low[0])) / 2 - low[0],
            top + (self.height - (high[1] - low[1])) / 2 - low[1],
        )
        scales = [BrokenScale(self.real[k], tuple(drawn[k].tolist()), self.same[k]) for k in range(3)]
        return View(self.north, scales[0], scales[1], scales[2], shift)
