"""Last positions of a drawing, so that a small edit of the walk moves few labels.

Places and labels are known again by the row of the walk that makes them. Where the order of the coordinates
on an axis is still the same, every place is drawn where it was, whatever its length now says: the drawing is
not to scale. What is new gets room; what no longer fits is spread anew.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from statistics import median

import numpy as np

from lineproof.desk.drawing.cut import Unit
from lineproof.desk.drawing.ink import Box
from lineproof.desk.drawing.meet import Floats
from lineproof.desk.drawing.place import Placed, Stand
from lineproof.desk.drawing.project import XY, North, View, project
from lineproof.desk.drawing.scene import LineScene
from lineproof.desk.drawing.spread import Spread
from lineproof.desk.drawing.trace import Ask
from lineproof.job.graph import LineGraph, Vec
from lineproof.plan.model import Cutting, JointKind

LEAST_GAP = 0.5
"""Two coordinates that are not one are drawn at least so far apart. [mm]"""
LEAST_FIT = 0.9
"""A drawing that grew off its sheet is drawn smaller down to this share before it is spread anew. [1]"""
CROWD_MORE = 2.0
"""So much more crowding than the last drawing had is borne before it is spread anew. [1]"""
KEY = "key "
"""Before the name of a label whose key stands there."""


@dataclass(frozen=True, slots=True)
class HeldSheet:
    """Last positions on one sheet.

    Parameters
    ----------
    first : str
        Its first leg.
    places : mapping
        Places on the drawn axes, shift left out. [mm]
    labels : mapping
        Where labels stood.
    shift : tuple of float
        Where the axes begin on the sheet. [mm]
    crowd : float
        How much its legs lay on one another. [1]
    """

    first: str
    places: Mapping[str, Vec]
    labels: Mapping[str, Stand]
    shift: XY
    crowd: float


@dataclass(frozen=True, slots=True)
class Hold:
    """Last positions of a line's drawing."""

    north: North
    sheets: tuple[HeldSheet, ...]

    def renamed(self, rows: Mapping[int, int]) -> Hold:
        """The same after rows of the walk moved.

        Parameters
        ----------
        rows : mapping
            Row before to row now; what stood on other rows is forgotten.

        Returns
        -------
        Hold
        """

        def now(key: str) -> str:
            kind, tilde, rest = key.rpartition("~")
            row, _, role = rest.partition(":")
            if row == "0":
                return key
            new = rows.get(int(row), 0) if row.isdecimal() else 0
            return f"{kind}{tilde}{new}:{role}" if new else ""

        return replace(
            self,
            sheets=tuple(
                replace(
                    s,
                    first=now(s.first),
                    places={now(k): v for k, v in s.places.items() if now(k)},
                    labels={now(k): v for k, v in s.labels.items() if now(k)},
                )
                for s in self.sheets
            ),
        )


def steady_names(graph: LineGraph, cutting: Cutting, line: str) -> dict[str, str]:
    """What parts, runs, pieces and joints of a line are known by: the row that makes them, and as what.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    line : str

    Returns
    -------
    dict
        As the drawing refers to them, to ``row:role``; row 0 for what other lines make.
    """
    found: dict[str, str] = {}
    count: dict[str, int] = {}

    def name(ref: str, row: int, role: str) -> None:
        key = f"{row}:{role}"
        count[key] = count.get(key, 0) + 1
        found[ref] = key if count[key] == 1 else f"{key}.{count[key]}"

    for part in graph.parts.values():
        if part.line == line:
            name(part.id, part.spot.line, part.key.partition(":")[2] or "part")
        else:
            found[part.id] = f"0:{part.id}"
    for run in graph.runs.values():
        if run.line == line:
            name(run.id, run.spot.line, "run")
    for piece in cutting.pieces:
        if piece.line == line and piece.run in found:
            found[piece.id] = f"{found[piece.run]}/{piece.n}"
    for joint in cutting.joints:
        if joint.line == line:
            end = joint.socket if joint.kind is JointKind.SADDLE else joint.spigot
            ref = joint.id or "|".join(joint.key)
            found[ref] = f"{found.get(end[0], f'0:{end[0]}')}/{end[1]}"
    return found


@dataclass(slots=True)
class Holder:
    """Gives a drawing its last positions and notes the new ones.

    Parameters
    ----------
    names : mapping
        From :func:`steady_names`.
    last : Hold, optional
    """

    names: Mapping[str, str]
    last: Hold | None = None
    noted: dict[int, tuple[North, HeldSheet]] = field(default_factory=dict)

    @property
    def north(self) -> North | None:
        """Where north pointed."""
        return self.last.north if self.last else None

    def hold(self, sheets: int) -> Hold | None:
        """What to start from next time.

        Parameters
        ----------
        sheets : int
            Sheets that were drawn. [-]

        Returns
        -------
        Hold or None
        """
        kept = [self.noted[n] for n in range(1, sheets + 1) if n in self.noted]
        return Hold(kept[0][0], tuple(s for _, s in kept)) if kept else None

    # ------------------------------------------------------------------ sheets

    def cuts(self, scene: LineScene, units: Sequence[Unit]) -> tuple[int, ...]:
        """Units that begin a sheet, as they did before; none if nothing is known."""
        if self.last is None or not units:
            return ()
        firsts = {s.first for s in self.last.sheets} - {""}
        begin = [n for n, unit in enumerate(units) if n and f"{self.leg(scene, unit[0])}+{unit[1]}" in firsts]
        return (*begin, len(units))

    def leg(self, scene: LineScene, n: int) -> str:
        """What a leg is known by."""
        leg = scene.legs[n]
        return self.names.get(leg.run) or self.names.get(scene.spots[leg.b].ref, "") or f"0:leg{n}"

    def sheet(self, part: LineScene) -> HeldSheet | None:
        """The last sheet that shows most of the same places."""
        if self.last is None:
            return None
        here = set(self.places(part))
        best = max(self.last.sheets, key=lambda s: len(here & s.places.keys()), default=None)
        return best if best is not None and here & best.places.keys() else None

    def places(self, part: LineScene) -> dict[str, int]:
        """What each place of a sheet is known by."""
        found: dict[str, int] = {}
        for n, spot in enumerate(part.spots):
            if key := self.names.get(spot.ref):
                found.setdefault(key, n)
        for leg in part.legs:
            if key := self.names.get(leg.run):
                bits = (leg.bits[0].ref, leg.bits[-1].ref) if leg.bits else ("", "")
                for end, bit, n in (("a", bits[0], leg.a), ("b", bits[1], leg.b)):
                    found.setdefault(f"{self.names.get(bit, key)}@{end}", n)
        return found

    # ------------------------------------------------------------------ places

    def view(self, part: LineScene, spread: Spread, area: Box) -> tuple[View, float] | None:
        """The last map to paper with room for what is new, and its crowding."""
        sheet = self.sheet(part)
        if sheet is None:
            return None
        want: list[tuple[int, Vec]] = [
            (n, sheet.places[key]) for key, n in self.places(part).items() if key in sheet.places
        ]
        gaps = spread.stretched(_gaps(spread, want))
        w, h = spread.size(gaps)
        fits = min((area.x1 - area.x0) / max(w, 1e-9), (area.y1 - area.y0) / max(h, 1e-9))
        if fits < LEAST_FIT:
            return None
        gaps = gaps * min(fits, 1.0)
        drawn = spread.drawn(gaps)
        at = [(n, tuple(float(drawn[k][spread.index[n, k]]) for k in range(3)), old) for n, old in want]
        # most places stay where they are on paper
        shifts = [_less(project(old, spread.north), project((now[0], now[1], now[2]), spread.north))
                  for _, now, old in at]  # fmt: skip
        by = (median(s[0] for s in shifts), median(s[1] for s in shifts))
        shift = (sheet.shift[0] + by[0], sheet.shift[1] + by[1])
        crowd = spread.crowding(gaps)[0]
        if crowd > sheet.crowd + CROWD_MORE or spread.meeting(gaps):
            return None
        low, high = spread.corners(gaps)
        inside = (
            shift[0] + _into(low[0] + shift[0], high[0] + shift[0], area.x0, area.x1),
            shift[1] + _into(low[1] + shift[1], high[1] + shift[1], area.y0, area.y1),
        )
        return replace(spread.view(gaps, 0.0, 0.0), shift=inside), crowd

    def labels(self, part: LineScene, asks: Sequence[Ask]) -> tuple[dict[int, Stand], dict[int, Stand]]:
        """Where labels stood, and where the keys of those stood that had found no place, by their numbers."""
        sheet = self.sheet(part)
        if sheet is None:
            return {}, {}
        names = list(enumerate(self.label_names(asks)))
        return (
            {n: sheet.labels[key] for n, key in names if key in sheet.labels},
            {n: sheet.labels[KEY + key] for n, key in names if KEY + key in sheet.labels},
        )

    def label_names(self, asks: Sequence[Ask]) -> list[str]:
        """What each label is known by."""
        count: dict[str, int] = {}
        found: list[str] = []
        for ask in asks:
            ref, _, rest = ask.ref.rpartition(":")
            steady = self.names.get(ask.ref) or (
                f"{self.names[ref]}:{rest}" if ref in self.names else f"0:{ask.ref}"
            )
            key = f"{ask.kind.value}~{steady}"
            count[key] = count.get(key, 0) + 1
            found.append(key if count[key] == 1 else f"{key}#{count[key]}")
        return found

    def note(
        self, number: int, part: LineScene, view: View, crowd: float, asks: Sequence[Ask], placed: Placed
    ) -> None:
        """Note where everything of a sheet stands."""
        places = {
            key: tuple(round(v, 3) for v in view.stretched(part.spots[n].at))
            for key, n in self.places(part).items()
        }
        names = self.label_names(asks)
        labels = {
            before + names[n]: ((round(x, 3), round(y, 3)), to)
            for before, stands in (("", placed.stands), (KEY, placed.keyed))
            for n, ((x, y), to) in stands.items()
        }
        first = ""
        if part.legs and (run := self.names.get(part.legs[0].run)):
            bit = part.legs[0].bits[0].ref if part.legs[0].bits else ""
            lo = int(self.names.get(bit, "/1").rpartition("/")[2] or 1) - 1
            first = f"{run}+{lo}"
        held = HeldSheet(first, {k: (v[0], v[1], v[2]) for k, v in places.items()}, labels, view.shift, crowd)
        self.noted[number] = (view.north, held)


def _into(low: float, high: float, least: float, most: float) -> float:
    """By how much a stretch must move to lie inside another. [mm]"""
    return max(least - low, 0.0) or min(most - high, 0.0)


def _less(a: XY, b: XY) -> XY:
    return (a[0] - b[0], a[1] - b[1])


def _gaps(spread: Spread, want: Sequence[tuple[int, Vec]]) -> Floats:
    """Gaps that draw known places where they were, and the others in proportion between them."""
    ends = [*spread.first, len(spread.base)]
    out = spread.base.copy()
    for k in range(3):
        lo, hi = ends[k], ends[k + 1]
        if lo == hi:
            continue
        base = spread.base[lo:hi]
        known: dict[int, list[float]] = {}
        for n, old in want:
            known.setdefault(int(spread.index[n, k]), []).append(old[k])
        line = _rising([(i, median(v)) for i, v in sorted(known.items())])
        at = np.concatenate(([0.0], np.cumsum(base)))
        per = 1.0
        if len(line) > 1:
            (i0, t0), (i1, t1) = line[0], line[-1]
            per = (t1 - t0) / float(at[i1] - at[i0])
        gaps = base * per
        for (i, t), (j, u) in pairwise(line):
            gaps[i:j] = base[i:j] * ((u - t) / float(at[j] - at[i]))
        out[lo:hi] = np.maximum(gaps, LEAST_GAP)
    return out


def _rising(known: Sequence[tuple[int, float]]) -> list[tuple[int, float]]:
    """The longest run of known places that still lie in order."""
    best: list[float] = []  # least last value of a chain of each length
    chain: list[int] = []
    back: list[int] = []
    for n, (_, value) in enumerate(known):
        k = bisect_left(best, value + LEAST_GAP / 2)
        while k and best[k - 1] > value - LEAST_GAP / 2:
            k -= 1
        back.append(chain[k - 1] if k else -1)
        if k == len(best):
            best.append(value)
            chain.append(n)
        else:
            best[k], chain[k] = value, n
    out: list[tuple[int, float]] = []
    n = chain[-1] if chain else -1
    while n >= 0:
        out.append((known[n][0], known[n][1]))
        n = back[n]
    return out[::-1]
