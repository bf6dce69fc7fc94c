"""Every part and piece as a body in space: centre-line, content, mass, rating, heights.

Filled once from the same graph, so that vents, supports, anchors and sections read the same figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from lineproof.book.ratings import rating_73f
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Reading
from lineproof.job.graph import Part, Port, Vec
from lineproof.plan.model import Piece
from lineproof.plan.work import Pipes, Work
from lineproof.sums.content import bore_area
from lineproof.sums.vectors import add, distance, scale


@dataclass(frozen=True, slots=True)
class Body:
    """A part or a piece as a body.

    Parameters
    ----------
    id : str
    centreline : tuple of tuple of float
        Polylines: one from each port to the centre of a part, one along a piece. [m]
    content : float or None
        Water it holds; None where a bore or a reach is not known. [m3]
    mass : float or None
        Empty; None for a part nobody weighed. [kg]
    rating, rating_temperature : float or None
        Pressure it is marked or listed for [Pa] at a temperature [K]; None where neither is known.
    low, high : float or None
        Lowest and highest point of its outside; None where its diameter is not known. [m]
    datum : bool
        Whether those heights stand on the drawing's datum.
    """

    id: str
    centreline: tuple[tuple[Vec, ...], ...]
    content: float | None
    mass: float | None
    rating: float | None
    rating_temperature: float | None
    low: float | None
    high: float | None
    datum: bool


F73 = 295.9277777777778
"""73 F, the temperature of the pipe rating tables. [K]"""


def bodies(work: Work) -> dict[str, Body]:
    """Bodies of all parts, couplings of split legs and pieces.

    Parameters
    ----------
    work : Work

    Returns
    -------
    dict
        By part or piece id.
    """
    made = _Bodies(work)
    found = {p.id: made.part(p) for p in work.graph.parts.values()}
    found |= {p.id: made.part(p) for p in work.cutting.couplings.values()}
    found |= {p.id: made.piece(p) for p in work.cutting.pieces}
    return found


class _Bodies:
    """Looks each pipe up once."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.pipes: Pipes = work.pipes
        self._ratings: dict[tuple[Size, str, str], float | None] = {}

    def part(self, part: Part) -> Body:
        """Body of a fitting or of something that stands."""
        lines, content = [], 0.0
        known = part.kind != "ground"
        heights: list[tuple[float, float]] = []
        for port in part.ports:
            axis = add(part.centre, port.shift)
            reach = port.reach or 0.0
            tip = add(axis, scale(port.out, reach))
            lines.append((part.centre, tip) if axis == part.centre else (part.centre, axis, tip))
            share = self._bore(port)
            known = known and share is not None and port.reach is not None
            content += (share or 0.0) * reach
            od = self._od(port.size, port.material, port.series)
            if od is not None:
                # the outside of a level end stands half a diameter off its axis, that of a riser not at all
                half = od / 2 * (1.0 - port.out[2] ** 2) ** 0.5
                heights += [(axis[2] - half, axis[2] + half), (tip[2] - half, tip[2] + half)]
        row = part.row
        return Body(
            id=part.id,
            centreline=tuple(lines),
            content=content if known else None,
            mass=row.mass if row else None,
            rating=row.rating if row else None,
            rating_temperature=row.rating_temperature if row else None,
            low=min((h[0] for h in heights), default=None),
            high=max((h[1] for h in heights), default=None),
            datum=part.datum,
        )

    def piece(self, piece: Piece) -> Body:
        """Body of a pipe piece."""
        run = self.work.graph.runs[piece.run]
        start = self.work.graph.parts[run.a[0]]
        length = piece.exact
        along = length if length is not None else max(run.cc, 0.0)
        end = add(piece.start, scale(piece.way, along))
        dims = self.pipes.dims(piece.size, piece.material, piece.series)
        low = high = content = None
        if dims is not None:
            half = dims.od / 2 * (1.0 - piece.way[2] ** 2) ** 0.5
            low, high = min(piece.start[2], end[2]) - half, max(piece.start[2], end[2]) + half
            content = None if length is None else bore_area(dims.id_nominal) * length
        return Body(
            id=piece.id,
            centreline=((piece.start, end),),
            content=content,
            mass=piece.mass,
            rating=self._rating(piece.size, piece.material, piece.series),
            rating_temperature=F73,
            low=low,
            high=high,
            datum=start.datum,
        )

    def _bore(self, port: Port) -> float | None:
        dims = self.pipes.dims(port.size, port.material, port.series)
        return None if dims is None else bore_area(dims.id_nominal)

    def _od(self, size: Size, material: str, series: str) -> float | None:
        dims = self.pipes.dims(size, material, series)
        return None if dims is None else dims.od

    def _rating(self, size: Size, material: str, series: str) -> float | None:
        key = (size, material, series)
        if key not in self._ratings:
            family = self.pipes.family(*key)
            found = None
            if family:
                try:
                    found = rating_73f(self.work.book, size, PipeSpec(material, series, family), Reading())
                except LineproofError:
                    found = None
            self._ratings[key] = found
        return self._ratings[key]


def length_of(body: Body) -> float:
    """Length of a body's centre-line. [m]"""
    return sum(distance(a, b) for line in body.centreline for a, b in pairwise(line))
