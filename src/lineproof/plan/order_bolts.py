"""Flange pairs of the order list: faces, gasket, bolts with their length, washers, torque, filler.

A length is told only from thicknesses measured on both sides; a torque only with its paper.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from lineproof.book.flanges import FlangeDims, flange_dims
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Cell, Reading
from lineproof.floor.unit_table import INCH
from lineproof.job.graph import Connection, End, Part, Tie
from lineproof.job.parts import PartKind
from lineproof.job.settings import BoltTorque, Filler, Gasket
from lineproof.plan.joint_needs import Missing, lacks
from lineproof.plan.order_model import FlangePair, FlangeSide, SideKind
from lineproof.plan.order_parts import is_test_item
from lineproof.plan.order_rows import Code, Note
from lineproof.sums.bolts import bolt_bought, bolt_length, longest_fittings

if TYPE_CHECKING:
    from lineproof.plan.work import Work

STEP_INCH = INCH / 4
STEP_METRIC = 0.005
"""Steps in which bolts are sold, inch and metric: common practice, no source. [m]"""

T = TypeVar("T")

FULL, RING, SEAL = "full", "ring", "seal ring"


@dataclass(frozen=True, slots=True)
class Drilling:
    """How a flange of a size is drilled: ``"class150"``, ``"pn10"`` or ``"pn16"``, and its DN if marked."""

    name: str
    nominal: float | None = None


class _Drillings:
    """The drilling of each size, read once."""

    def __init__(self, book: Book, said: Mapping[Size, Drilling]) -> None:
        self.book = book
        self.said = said
        self._known: dict[Size, tuple[FlangeDims | None, tuple[Cell, ...], Missing | None]] = {}

    def of(self, size: Size) -> tuple[FlangeDims | None, tuple[Cell, ...], Missing | None]:
        """Drilling, cells it was read from, and what is missing."""
        if size not in self._known:
            self._known[size] = self._read(size)
        return self._known[size]

    def _read(self, size: Size) -> tuple[FlangeDims | None, tuple[Cell, ...], Missing | None]:
        said = self.said.get(size)
        if said is None and size.metric:
            return None, (), lacks("flange-drilling", size=size)
        name = said.name if said else "class150"
        reading = Reading()
        try:
            dims = flange_dims(self.book, size, name, reading, nominal=said.nominal if said else None)
        except LineproofError:
            return None, (), lacks("flange-drilling-in-the-book", size=size, drilling=name)
        used = [c for c in reading.as_tuple() if c.column.startswith(("bolt_count", "bolt_dia"))]
        return dims, tuple(used), None


def flange_pairs(work: Work, drillings: Mapping[Size, Drilling]) -> tuple[FlangePair, ...]:
    """One row for each pair of flanges that is bolted together.

    Parameters
    ----------
    work : Work
    drillings : mapping
        Drilling by size, where it is said; inch sizes are Class 150 otherwise, metric sizes are missing.

    Returns
    -------
    tuple of FlangePair
        In walking order.
    """
    settings, parts = work.job.settings, work.graph.parts
    gaskets = _by_size(settings.gaskets, lambda g: g.size)
    torques = _by_size(settings.torques, lambda t: t.size)
    fillers = _by_size([f for f in settings.fillers if f.full_face], lambda f: f.size)
    drilled = _Drillings(work.book, drillings)
    walked = {part_id: n for n, part_id in enumerate(parts)}
    bolted = sorted(
        (c for c in work.graph.connections if c.tie in (Tie.FLANGED, Tie.RINGED)),
        key=lambda c: min(walked[c.a[0]], walked[c.b[0]]),
    )
    return tuple(_pair(c, parts, drilled, gaskets, torques, fillers, said=bool(drillings)) for c in bolted)


def _by_size(rows: Iterable[T], size: Callable[[T], Size]) -> dict[Size, list[T]]:
    found: dict[Size, list[T]] = {}
    for row in rows:
        found.setdefault(size(row), []).append(row)
    return found


def _side(end: End, parts: Mapping[str, Part]) -> FlangeSide:
    part = parts[end[0]]
    port = part.port(end[1])
    if part.kind == "ground":
        kind = SideKind.EQUIPMENT
    else:
        kind = {
            PartKind.FLANGE: SideKind.ONE_PIECE,
            PartKind.STUB: SideKind.STUB,
            PartKind.BLIND: SideKind.BLIND,
        }.get(PartKind(part.kind), SideKind.PART)
    # What stands has the line's material in its port for want of a better word; only its own row says it.
    material = port.material
    if part.kind == "ground":
        material = part.row.material if part.row else ""
    thickness = part.row.thickness if part.row else None
    return FlangeSide(part.id, port.name, part.name, kind, port.face, material, thickness)


def gasket_kind(a: FlangeSide, b: FlangeSide, *, ringed: bool) -> str:
    """Which gasket two faces take (common practice, no source).

    Parameters
    ----------
    a, b : FlangeSide
    ringed : bool
        The tie is said to be ringed.

    Returns
    -------
    str
        ``"seal ring"`` where a face carries its own ring; ``"ring"`` between raised faces or on a stub;
        ``"full"`` between flat faces and on a filler; empty while a face is not said.
    """
    if ringed or "ringed" in (a.face, b.face):
        return SEAL
    if SideKind.STUB in (a.kind, b.kind):
        return RING
    faces = {a.face, b.face}
    if "" in faces:
        return ""
    return RING if faces == {"raised"} else FULL


def filler_needed(a: FlangeSide, b: FlangeSide) -> bool | None:
    """Whether a flat plastic face meets a raised one; None while a face is not said.

    Parameters
    ----------
    a, b : FlangeSide
        A face whose material nobody said counts as plastic only if it is ours.

    Returns
    -------
    bool or None
        A stub's loose ring does not bend the face, so a stub needs none.
    """
    known = True
    for one, other in ((a, b), (b, a)):
        plastic = one.material in ("pvc", "cpvc") and one.kind is not SideKind.STUB
        if not plastic or one.face in ("raised", "ringed") or other.face in ("flat", "ringed"):
            continue
        if one.face == "flat" and other.face == "raised":
            return True
        known = False
    return False if known else None


def _pair(
    c: Connection,
    parts: Mapping[str, Part],
    drilled: _Drillings,
    gaskets: Mapping[Size, list[Gasket]],
    torques: Mapping[Size, list[BoltTorque]],
    fillers: Mapping[Size, list[Filler]],
    *,
    said: bool,
) -> FlangePair:
    a, b = _side(c.a, parts), _side(c.b, parts)
    size = parts[c.a[0]].port(c.a[1]).size
    missing = [lacks("flange-face", part=s.part) for s in (a, b) if not s.face and c.tie is Tie.FLANGED]
    notes: list[Note] = []
    ringed = c.tie is Tie.RINGED
    kind = gasket_kind(a, b, ringed=ringed)
    named = [g for g in gaskets.get(size, ()) if not kind or g.face == kind]
    if not kind and len({g.face for g in named}) == 1:
        kind = named[0].face
    thickness = 0.0 if kind == SEAL else one_said(g.thickness for g in named)
    filler = filler_needed(a, b)
    filler_thickness = one_said(f.thickness for f in fillers.get(size, ())) if filler else None
    if filler:
        notes.append(Note(Code.FILLER))
    dims, cells, lack = drilled.of(size)
    if lack is not None:
        missing.append(lack)
    elif not said:
        notes.append(Note(Code.CLASS_150))
    length = None
    unmeasured = [s.part for s in (a, b) if s.thickness is None]
    missing += [lacks("flange-thickness", part=p) for p in unmeasured]
    if thickness is None:
        missing.append(lacks("gasket-thickness", size=size, face=kind))
    if filler and filler_thickness is None:
        missing.append(lacks("filler-thickness", size=size))
    if filler is None:
        missing.append(lacks("whether-a-filler-is-needed", a=a.part, b=b.part))
    if unmeasured:
        notes.append(Note(Code.LENGTH_UNKNOWN, tuple(unmeasured)))
    known = filler is False or (filler is True and filler_thickness is not None)
    if dims and a.thickness and b.thickness and thickness is not None and known:
        washer, nut, pitch = longest_fittings(dims.bolt_dia)
        least = bolt_length(
            thickness_a=a.thickness, thickness_b=b.thickness, gasket=thickness + (filler_thickness or 0.0),
            washer=washer, nut=nut, pitch=pitch,
        )  # fmt: skip
        length = bolt_bought(least, STEP_METRIC if dims.drilling != "class150" else STEP_INCH)
        notes.append(Note(Code.BY_RULE))
    torque, paper, no_torque = _torque(torques.get(size, []), kind, named)
    if no_torque:
        missing.append(lacks(no_torque, size=size))
    bolts = dims.bolt_count if dims else None
    return FlangePair(
        line=c.line, size=size, a=a, b=b, ringed=ringed, gasket=kind, gasket_thickness=thickness,
        drilling=dims.drilling if dims else "", bolts=bolts, bolt_dia=dims.bolt_dia if dims else None,
        bolt_length=length, washers=None if bolts is None else 2 * bolts, nuts=bolts, torque=torque,
        torque_source=paper, filler=filler, filler_thickness=filler_thickness,
        test=is_test_item(parts[a.part]) or is_test_item(parts[b.part]),
        missing=tuple(missing), notes=tuple(notes), cells=cells,
    )  # fmt: skip


def one_said(values: Iterable[float | None]) -> float | None:
    """The one value that is said; None if none or several are.

    Parameters
    ----------
    values : iterable of float or None

    Returns
    -------
    float or None
    """
    said = {v for v in values if v is not None}
    return said.pop() if len(said) == 1 else None


def _torque(rows: list[BoltTorque], face: str, gaskets: list[Gasket]) -> tuple[float | None, str, str]:
    """Torque and its paper; else what is missing. Several rows are told apart by their gasket's words."""
    if not rows:
        return None, "", "torque-and-its-paper"
    fits = rows
    if len(rows) > 1:
        words = {w for w in (face, *(g.material for g in gaskets)) if w}
        fits = [r for r in rows if r.gasket and words & set(r.gasket.replace("-", " ").split())]
    if len({(r.value, r.source) for r in fits}) != 1:
        return None, "", "which-torque-belongs-to-the-gasket"
    return fits[0].value, fits[0].source, ""
