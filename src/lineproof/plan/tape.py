"""The tape list: what must be measured before more can be cut, one row a fitting type, size and lot."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.laying import laying_length
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell, Reading
from lineproof.job.graph import LineGraph, Part, Wait
from lineproof.job.parts import MEASURED_TO_STAND_FOR_LOT, Form, Outlet, PartKind, TypeKey
from lineproof.job.settings import Settings
from lineproof.job.stock import StockItem
from lineproof.plan.model import Cutting, Piece, Short, State
from lineproof.plan.names import face_name, of_line


@dataclass(frozen=True, slots=True)
class TapeRow:
    """One fitting type, size and lot to measure.

    Parameters
    ----------
    kind : PartKind or str
    outlets : tuple of Outlet
        Its ends, with what is measured already.
    places : tuple of str
        Part ids that wait for it.
    pieces : tuple of str
        Piece ids that wait for it.
    wants : int
        How many to measure: three of a lot, or each one of a fabricated fitting. [-]
    rough : float or None
        Centre to stop by a table, unverified, to plan with only. [m]
    """

    kind: PartKind | str
    angle_deg: float
    material: str
    series: str
    size: Size
    size2: Size | None
    lot: str
    tag: str
    why: Wait
    outlets: tuple[Outlet, ...]
    places: tuple[str, ...]
    pieces: tuple[str, ...]
    wants: int
    measured: int
    rough: float | None = None
    rough_cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class GapRow:
    """A gap to tape: the field piece between two faces."""

    piece: str
    line: str
    face_a: str
    face_b: str
    about: float | None


@dataclass(frozen=True, slots=True)
class TapeList:
    """Everything to be taped: fittings, bells of stock, gaps."""

    rows: tuple[TapeRow, ...] = ()
    bells: tuple[StockItem, ...] = ()
    gaps: tuple[GapRow, ...] = ()


_Group = tuple[TypeKey | None, str, str, Wait]


def tape_list(graph: LineGraph, cutting: Cutting, settings: Settings, book: Book) -> TapeList:
    """Collect what waits for a tape.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    settings : Settings
    book : Book
        For a rough centre to stop of metric fittings.

    Returns
    -------
    TapeList
        Rows in the order in which the line first needs them.
    """
    parts = {**graph.parts, **cutting.couplings}
    groups: dict[_Group, list[Part]] = {}
    for part in parts.values():
        if part.wait is Wait.NONE:
            continue
        alone = part.kind == "ground" or part.type is None or part.wait is Wait.ONE_BY_ONE
        tag = (part.name or part.id) if alone else ""
        groups.setdefault((part.type, part.lot, tag, part.wait), []).append(part)
    blocked: dict[str, list[str]] = {}
    for piece in cutting.pieces:
        for part_id in piece.waits:
            blocked.setdefault(part_id, []).append(piece.id)
    rows = tuple(_row(tag, members, blocked, book) for (_, _, tag, _), members in groups.items())
    bells = tuple(
        s for s in settings.stock if any(p.short is Short.BELL and p.stock == s.id for p in cutting.pieces)
    )
    gaps = tuple(_gap(p, parts) for p in cutting.pieces if p.state is State.FIELD)
    return TapeList(rows, bells, gaps)


def _row(tag: str, members: list[Part], blocked: dict[str, list[str]], book: Book) -> TapeRow:
    first = members[0]
    outlets = tuple(Outlet(p.form, p.size, p.reach, p.depth, p.face) for p in first.ports)
    if first.row is not None:
        outlets = first.row.outlets
    pieces = tuple(dict.fromkeys(x for m in members for x in blocked.get(m.id, ())))
    measured = first.row.measured if first.row else 0
    alone = bool(tag)
    wants = len(members) if alone else min(len(members), MEASURED_TO_STAND_FOR_LOT)
    rough, cells = _rough(first, book)
    return TapeRow(
        kind=first.kind,
        angle_deg=first.angle_deg,
        material=first.ports[0].material,
        series=first.ports[0].series,
        size=first.size,
        size2=first.size2,
        lot=first.lot,
        tag=tag,
        why=first.wait,
        outlets=outlets,
        places=tuple(m.id for m in members),
        pieces=pieces,
        wants=max(wants, 1),
        measured=measured,
        rough=rough,
        rough_cells=cells,
    )


_TABLE_NAME = {
    (PartKind.ELBOW, 90.0): "elbow-90",
    (PartKind.ELBOW, 45.0): "elbow-45",
    (PartKind.TEE, 0.0): "tee-90",
    (PartKind.COUPLING, 0.0): "coupling",
}


def _rough(part: Part, book: Book) -> tuple[float | None, tuple[Cell, ...]]:
    name = _TABLE_NAME.get((part.kind, part.angle_deg)) if isinstance(part.kind, PartKind) else None
    if name is None or not part.size.metric or part.size2 is not None:
        return None, ()
    reading = Reading()
    found = laying_length(book, part.size, name, reading)
    if found is None:
        return None, ()
    return (found.z / 2 if part.kind is PartKind.COUPLING else found.z), reading.as_tuple()


def _gap(piece: Piece, parts: dict[str, Part]) -> GapRow:
    def name(part_id: str) -> str:
        part = parts.get(part_id)
        if part is None:
            return "end of the piece before"
        return face_name(part, piece.line) if part.line == piece.line else of_line(part)

    return GapRow(piece.id, piece.line, name(piece.a.part), name(piece.b.part), piece.face_to_face)


def dimensions_needed(outlet: Outlet) -> tuple[str, ...]:
    """Which of an end's dimensions are still blank: ``"reach"``, ``"depth"``."""
    blank = []
    if outlet.reach is None and outlet.form not in (Form.CLOSED, Form.SADDLE):
        blank.append("reach")
    if outlet.depth is None and outlet.form in (Form.SOCKET, Form.MALE, Form.FEMALE):
        blank.append("depth")
    return tuple(blank)
