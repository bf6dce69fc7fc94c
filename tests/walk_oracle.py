"""A second walker, for tests: plain vectors and plain subtraction, sharing no code with the first.

It keeps its own account of a walk in inches: where each fitting stands, where the line
ends, how long each pipe is between its stops, which sockets are cemented. Rules: centre to centre less the
take-out at either end; take-out is centre to face less depth to the stop (common practice, no source; Z of
IS 7834:1987, read in a digest); trigonometry of a 45-degree offset. It imports nothing of Lineproof.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Vec = NDArray[np.float64]
AXES = {
    "east": (1, 0, 0), "west": (-1, 0, 0), "north": (0, 1, 0), "south": (0, -1, 0),
    "up": (0, 0, 1), "down": (0, 0, -1),
}  # fmt: skip
LEVEL = ("east", "west", "north", "south")


def axis(word: str) -> Vec:
    return np.array(AXES[word], dtype=float)


@dataclass
class Socket:
    """An end of a part: how far its face lies off the centre and how deep a pipe goes in. [in]"""

    reach: float
    depth: float
    form: str = "socket"


@dataclass
class Pipe:
    """What a run of pipe should be. [in]"""

    line: str
    stop_to_stop: float
    face_to_face: float
    sockets: int
    start: Vec
    way: Vec


@dataclass
class Walked:
    """The text of a walk and the account kept of it. [in]"""

    text: str = ""
    parts: list[str] = field(default_factory=list)
    pipes: list[Pipe] = field(default_factory=list)
    centres: list[tuple[str, Vec]] = field(default_factory=list)
    sockets: int = 0
    end: Vec = field(default_factory=lambda: np.zeros(3))
    leftovers: list[float] = field(default_factory=list)


class Teller:
    """Tells one random walk and keeps account of it.

    ``exposed``, ``gap`` and ``gasket`` are the bare pipe between hubs, the gap at a stop, the gasket. [in]
    """

    def __init__(self, seed: int, *, exposed: float, gap: float, gasket: float) -> None:
        self.rng = random.Random(seed)
        self.exposed, self.gap, self.gasket = exposed, gap, gasket
        self.out = Walked()
        self.said: list[str] = []
        self.branches: list[str] = []
        self.valves = self.labels = 0
        self.size = "6in"
        self.dims: dict[tuple[str, str], tuple[float, float]] = {}
        self.place: Vec = np.zeros(3)
        self.leave = Socket(0.0, 0.0, "open")
        self.line = "L"

    # ------------------------------------------------------------ fittings in hand
    def measure(self, kind: str, size: str) -> Socket:
        """Reach and depth of a socket of a kind, dealt once and kept."""
        if (kind, size) not in self.dims:
            depth = self.rng.randint(20, 60) / 16
            self.dims[kind, size] = depth + self.rng.randint(2, 70) / 16, depth
        return Socket(*self.dims[kind, size])

    def rows(self) -> list[dict[str, str]]:
        """The fittings as rows of parts.csv."""
        rows: list[dict[str, str]] = []
        for (kind, size), (reach, depth) in list(self.dims.items()):
            r, d = f"{reach:.6f} in", f"{depth:.6f} in"
            ends = {"reach_1": r, "depth_1": d, "reach_2": r, "depth_2": d}
            if kind.startswith("elbow"):
                rows.append({"kind": "elbow", "size": size, "angle": kind[6:], **ends})
            elif kind in ("coupling", "union"):
                rows.append({"kind": kind, "size": size, **ends})
            elif kind == "flange":
                rows.append({"kind": kind, "size": size, "ends": "flange socket", "reach_2": r, "depth_2": d})
            elif kind == "cap":
                rows.append({"kind": kind, "size": size, "ends": "socket closed", "reach_1": r, "depth_1": d})
            elif kind == "tee":
                side = self.measure("branch", size)
                third = {"reach_3": f"{side.reach:.6f} in", "depth_3": f"{side.depth:.6f} in"}
                rows.append({"kind": "tee", "size": size, **ends, **third})
            elif kind.startswith("reducer"):
                small = self.measure("small", size)
                other = {"reach_2": f"{small.reach:.6f} in", "depth_2": f"{small.depth:.6f} in"}
                rows.append({"kind": "reducer", "size": size, "size2": "4in", **ends, **other})
            elif kind == "bushing":
                small = self.measure("in bushing", size)
                cells = {"reach_1": f"{reach:.6f} in", "reach_2": f"{small.reach:.6f} in"}
                cells["depth_2"] = f"{small.depth:.6f} in"
                rows.append({"kind": kind, "size": size, "size2": "4in", "ends": "spigot socket", **cells})
        return rows

    # ------------------------------------------------------------ arithmetic
    def mated(self, end: Socket, size: str) -> tuple[float, float]:
        """Take-out and depth where a pipe meets an end: our own flange or coupling goes on first."""
        if end.form == "flange":
            mate = self.measure("flange", size)
            self.out.sockets += 1
            return end.reach + self.gasket + mate.reach - mate.depth, mate.depth
        if end.form == "spigot":
            mate = self.measure("coupling", size)
            self.out.sockets += 2
            return end.reach - mate.depth + mate.reach + mate.reach - mate.depth, mate.depth
        return end.reach - end.depth, end.depth

    def lay(self, way: Vec, cc: float, enter: Socket, size: str, kind: str, out: Socket | None) -> None:
        """A pipe between the last place and one that lies cc further."""
        a, deep_a = self.mated(self.leave, size)
        b, deep_b = self.mated(enter, size)
        sockets = (deep_a > 0) + (deep_b > 0)
        stops = cc - a - b
        start = self.place + way * (a + (self.gap if deep_a > 0 else 0.0))
        self.out.pipes.append(
            Pipe(self.line, stops - self.gap * sockets, stops - deep_a - deep_b, sockets, start, way)
        )
        self.place = self.place + way * cc
        self.stand(kind, out)

    def close(self, way: Vec, enter: Socket, kind: str, out: Socket) -> None:
        """A part that follows the last one without a dimension."""
        forms = {self.leave.form, enter.form}
        if forms == {"flange"}:
            self.place = self.place + way * (self.leave.reach + self.gasket + enter.reach)
            self.stand(kind, out)
        elif forms == {"socket", "spigot"}:
            deep = max(self.leave.depth, enter.depth)
            self.place = self.place + way * (self.leave.reach - deep + enter.reach)
            self.stand(kind, out)
        else:
            a = self.with_mate(self.leave)
            b = self.with_mate(enter)
            self.lay(way, a + self.exposed + b, enter, self.size, kind, out)

    def with_mate(self, end: Socket) -> float:
        """Where bare pipe begins, off the centre of the part it leads to."""
        if end.form == "flange":
            return end.reach + self.gasket + self.measure("flange", self.size).reach
        if end.form == "spigot":
            mate = self.measure("coupling", self.size)
            return end.reach - mate.depth + 2 * mate.reach
        return end.reach

    def stand(self, kind: str, out: Socket | None) -> None:
        self.out.centres.append((kind, self.place))
        if out is not None:
            self.leave = out
