"""Names the cemented joints that pieces, couplings, bells, spigots and saddles make."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lineproof.job.graph import LineGraph, Part, Run, Tie
from lineproof.job.parts import Form
from lineproof.plan.model import JointKind, JointPlace, Piece, PieceEnd
from lineproof.sums.vectors import add, dot, scale, sub


def run_key(graph: LineGraph, run: Run) -> str:
    """The run in words that survive a re-reading: the keys of its two ends."""
    a, b = graph.parts[run.a[0]], graph.parts[run.b[0]]
    return f"{a.line}|{a.key}.{run.a[1]}>{b.line}|{b.key}.{run.b[1]}"


@dataclass(frozen=True, slots=True)
class Tier:
    """Ties pieces to the sockets they enter."""

    graph: LineGraph
    couplings: Mapping[str, Part]
    gasketed: frozenset[str] = frozenset()
    """Stock items whose bells hold a gasket: no cemented joint there."""

    def joints(self, pieces: list[Piece], parts: tuple[str, ...]) -> list[JointPlace]:
        """Joints of one line: pipe in sockets and bells, spigots in sockets, saddles.

        Parameters
        ----------
        pieces : list of Piece
            Of one line, in walking order.
        parts : tuple of str
            Part ids of the line.

        Returns
        -------
        list of JointPlace
            In walking order.
        """
        found: list[JointPlace] = []
        by_run: dict[str, dict[int, Piece]] = {}
        for p in pieces:
            by_run.setdefault(p.run, {})[p.n] = p
        for p in pieces:
            for side, end in (("a", p.a), ("b", p.b)):
                joint = self.joint_at(p, side, end, by_run[p.run])
                if joint is not None:
                    found.append(joint)
            for saddle, along in self.graph.runs[p.run].saddles:
                if p is self.under(by_run[p.run], along):
                    found.append(self.saddle_joint(p, saddle, along))
        here = set(parts)
        for tie in self.graph.connections:
            if tie.tie is Tie.CEMENTED and tie.b[0] in here:
                found.append(self.direct_joint(tie.a, tie.b))
        return found

    def joint_at(self, p: Piece, side: str, end: PieceEnd, mates: Mapping[int, Piece]) -> JointPlace | None:
        """The joint at one end of a piece, if this end is the spigot of one."""
        run = self.graph.runs[p.run]
        key = f"{run_key(self.graph, run)}~p{p.n}.{side}"
        sign = 1.0 if side == "b" else -1.0
        tip = p.start if side == "a" else add(p.start, scale(p.way, p.exact or 0.0))
        mouth = add(tip, scale(p.way, -sign * (end.depth or 0.0)))
        if "#" in end.part:
            if end.bell or p.stock in self.gasketed:
                return None
            other = mates[p.n + (1 if side == "b" else -1)]
            return JointPlace(
                p.line, (f"{run_key(self.graph, run)}~p{other.n}.bell", key), JointKind.BELL,
                (other.id, "bell"), (p.id, side), p.size, p.material, p.series, end.depth, mouth, p.way,
            )  # fmt: skip
        part = self.couplings.get(end.part) or self.graph.parts[end.part]
        port = part.port(end.port)
        if port.form is not Form.SOCKET:
            return None
        return JointPlace(
            p.line, (f"{part.line}|{part.key}.{end.port}", key), JointKind.SOCKET, (part.id, end.port),
            (p.id, side), port.size, port.material, port.series, end.depth, mouth, p.way,
        )  # fmt: skip

    def direct_joint(self, a: tuple[str, str], b: tuple[str, str]) -> JointPlace:
        """A spigot of one part in the socket of another."""
        pa, pb = self.graph.parts[a[0]], self.graph.parts[b[0]]
        if pa.port(a[1]).form is not Form.SOCKET:
            (a, pa), (b, pb) = (b, pb), (a, pa)
        port = pa.port(a[1])
        mouth = add(pa.centre, scale(port.out, port.reach or 0.0))
        return JointPlace(
            pb.line, (f"{pa.line}|{pa.key}.{a[1]}", f"{pb.line}|{pb.key}.{b[1]}"), JointKind.SPIGOT, a, b,
            port.size, port.material, port.series, port.depth, mouth, port.out,
        )  # fmt: skip

    def under(self, mates: Mapping[int, Piece], along: float) -> Piece:
        """The piece of a run that lies under a point of its axis, from the run's start. [m]"""
        run = self.graph.runs[next(iter(mates.values())).run]
        first, *rest = (mates[n] for n in sorted(mates))
        for p in rest:
            if dot(sub(p.start, run.start), run.way) <= along:
                first = p
        return first

    def saddle_joint(self, p: Piece, saddle: str, along: float) -> JointPlace:
        """A saddle cemented on the pipe."""
        part = self.graph.parts[saddle]
        run = self.graph.runs[p.run]
        return JointPlace(
            p.line, (f"{part.line}|{part.key}.a", f"{run_key(self.graph, run)}~saddle"), JointKind.SADDLE,
            (part.id, "a"), (p.id, "a"), part.size, part.ports[0].material, part.ports[0].series, None,
            add(run.start, scale(run.way, along)), run.way,
        )  # fmt: skip
