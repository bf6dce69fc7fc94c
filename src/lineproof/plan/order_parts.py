"""Sticks, kept offcuts, fittings and tagged items of the order list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from lineproof.book.sizes import Size
from lineproof.job.graph import Part, Tie, Wait
from lineproof.job.parts import Catalogue, PartKind, PartRow, TypeKey
from lineproof.plan.joint_needs import Missing, lacks
from lineproof.plan.model import Piece
from lineproof.plan.order_rows import Code, Group, Note, OrderRow, What, order_row

if TYPE_CHECKING:
    from lineproof.plan.sticks import StickPlan
    from lineproof.plan.work import Work

TEST_NAMES = ("test cap", "test blind")


def is_test_item(part: Part) -> bool:
    """Whether a part is there for the test only."""
    return part.name in TEST_NAMES and part.kind in (PartKind.CAP, PartKind.BLIND)


# ------------------------------------------------------------------ sticks


def stick_rows(work: Work) -> list[OrderRow]:
    """Sticks and kept offcuts by stock item, and pipe that no stock item is named for.

    Parameters
    ----------
    work : Work

    Returns
    -------
    list of OrderRow
        In the order of job.toml.
    """
    pieces = {p.id: p for p in work.cutting.pieces}
    rows: list[OrderRow] = []
    for plan in work.sticks:
        rows.append(_sticks(plan, pieces))
        used = _offcuts(plan, pieces, sum(o.stock == plan.stock.id for o in work.job.settings.offcuts))
        if used is not None:
            rows.append(used)
    rows.extend(_no_stock(work.cutting.pieces))
    return rows


def _sticks(plan: StickPlan, pieces: Mapping[str, Piece]) -> OrderRow:
    stock = plan.stock
    by_line: Counter[str] = Counter(pieces[i].line for i in plan.whole)
    shared = False
    for stick in plan.nesting.sticks if plan.nesting else ():
        if stick.source == "new":
            line, mixed = _most(stick.pieces, pieces)
            by_line[line] += 1
            shared = shared or mixed
    missing: list[Missing] = []
    if plan.waiting:
        missing.append(lacks("piece-lengths", stock=stock.id, pieces=plan.waiting))
    if plan.trouble:
        missing.append(lacks("stick-plan", stock=stock.id, why=plan.trouble))
    notes = []
    if plan.waiting:
        notes.append(Note(Code.NOT_COUNTED, plan.waiting, len(plan.waiting)))
    if plan.later:
        notes.append(Note(Code.FIELD_COUNTED, tuple(sorted(plan.later)), len(plan.later)))
    if shared:
        notes.append(Note(Code.STICK_BY_LINE))
    counted = not plan.trouble
    return order_row(
        Group.STICKS,
        What(
            kind="stick", id=stock.id, size=stock.size, material=stock.material, series=stock.series,
            lot=stock.lot, length=stock.length, detail=stock.ends,
        ),
        needed=plan.needed if counted else None,
        in_yard=stock.in_yard,
        received=stock.received,
        ordered=stock.ordered,
        by_line=by_line if counted else {},
        missing=missing,
        notes=notes,
    )  # fmt: skip


def _most(ids: Iterable[str], pieces: Mapping[str, Piece]) -> tuple[str, bool]:
    """The line that takes most of a stick (the first of two alike), and whether others share it."""
    length: dict[str, float] = {}
    for i in ids:
        length[pieces[i].line] = length.get(pieces[i].line, 0.0) + (pieces[i].cut or 0.0)
    return max(length, key=lambda line: length[line]), len(length) > 1


def _offcuts(plan: StickPlan, pieces: Mapping[str, Piece], kept: int) -> OrderRow | None:
    used = [s for s in plan.nesting.sticks if s.source == "offcut"] if plan.nesting else []
    if not used:
        return None
    by_line = Counter(_most(s.pieces, pieces)[0] for s in used)
    stock = plan.stock
    return order_row(
        Group.OFFCUTS,
        What(kind="offcut", id=stock.id, size=stock.size, material=stock.material, series=stock.series),
        needed=len(used),
        in_yard=kept,
        by_line=by_line,
        notes=[Note(Code.USES_OFFCUTS, tuple(s.stick_id for s in used), len(used))],
    )


def _no_stock(pieces: Iterable[Piece]) -> list[OrderRow]:
    groups: dict[tuple[Size, str, str], list[Piece]] = {}
    for p in pieces:
        if not p.stock:
            groups.setdefault((p.size, p.material, p.series), []).append(p)
    rows = []
    for (size, material, series), members in groups.items():
        rows.append(
            order_row(
                Group.STICKS,
                What(kind="stick", size=size, material=material, series=series),
                needed=None,
                missing=[lacks("stock-item", size=size, material=material, series=series)],
                notes=[Note(Code.NOT_COUNTED, tuple(p.id for p in members), len(members))],
            )
        )
    return rows


# ------------------------------------------------------------------ fittings


_Lot = tuple[TypeKey, str]


def fitting_rows(work: Work) -> list[OrderRow]:
    """Fittings by type and lot, backing rings, tagged items; what is there for the test only is left out.

    Parameters
    ----------
    work : Work

    Returns
    -------
    list of OrderRow
        In the order in which the walk first needs them.
    """
    parts = [p for p in work.graph.parts.values() if p.kind != "ground" and not is_test_item(p)]
    added = set(work.cutting.couplings)
    parts += work.cutting.couplings.values()
    companions = companion_ids(work)
    by_type: dict[_Lot, list[Part]] = {}
    tagged: dict[str, list[Part]] = {}
    for part in parts:
        if part.type is None:
            tagged.setdefault(part.name or part.id, []).append(part)
        else:
            lot = "" if part.wait is Wait.ONE_BY_ONE or (part.row and part.row.fabricated) else part.lot
            by_type.setdefault((part.type, lot), []).append(part)
    rows = [_typed(key, lot, m, work.job.parts, added, companions) for (key, lot), m in by_type.items()]
    rows += _rings(parts)
    rows += [_tagged(tag, members) for tag, members in tagged.items()]
    return rows


def companion_ids(work: Work) -> frozenset[str]:
    """Flanges that the walk put on because pipe meets a flange or stub: their keys say mate."""
    found = []
    for c in work.graph.connections:
        if c.tie in (Tie.FLANGED, Tie.RINGED):
            for end in (c.a[0], c.b[0]):
                part = work.graph.parts[end]
                if part.kind is PartKind.FLANGE and ("mate-in" in part.key or "mate-out" in part.key):
                    found.append(end)
    return frozenset(found)


def yard(rows: Iterable[PartRow]) -> int | None:
    """How many fittings some rows of parts.csv stand for; None if one does not say.

    Parameters
    ----------
    rows : iterable of PartRow
        Rows of one type and lot.

    Returns
    -------
    int or None
        A fabricated or tagged fitting that was measured counts as one.
    """
    total = 0
    seen = False
    for row in rows:
        seen = True
        if row.count is not None:
            total += row.count
        elif (row.fabricated or row.tag) and row.measured:
            total += 1
        else:
            return None
    return total if seen else None


def _typed(
    key: TypeKey,
    lot: str,
    members: list[Part],
    catalogue: Catalogue,
    added: set[str],
    companions: frozenset[str],
) -> OrderRow:
    first = members[0]
    waits = Counter(p.wait for p in members)
    fabricated = bool(waits[Wait.ONE_BY_ONE]) or bool(first.row and first.row.fabricated)
    rows = catalogue.of_type(key)
    if not fabricated and not waits[Wait.WHICH_LOT]:
        # a lot without a name is one lot: rows whose lot is blank
        rows = tuple(r for r in rows if r.lot == lot) if first.row is not None else ()
    in_yard = yard(r for r in rows if r.fabricated == fabricated)
    facts: dict[str, Any] = {"kind": str(first.kind), "size": first.size, "lot": lot}
    missing: list[Missing] = []
    notes: list[Note] = []
    if waits[Wait.NO_ROW]:
        missing.append(lacks("row-of-parts.csv", **facts))
        notes.append(Note(Code.NO_ROW))
    elif waits[Wait.WHICH_LOT]:
        missing.append(lacks("count-or-lot", **facts))
        notes.append(Note(Code.WHICH_LOT))
    elif in_yard is None:
        missing.append(lacks("count-in-parts.csv", **facts))
        notes.append(Note(Code.COUNT_NOT_SAID))
    if waits[Wait.LOT_USED_UP]:
        notes.append(Note(Code.LOT_USED_UP, number=waits[Wait.LOT_USED_UP]))
    if fabricated:
        notes.append(Note(Code.ONE_BY_ONE))
    split = sum(p.id in added for p in members)
    if split:
        notes.append(Note(Code.FROM_SPLITTING, number=split))
    mates = sum(p.id in companions for p in members)
    if mates:
        notes.append(Note(Code.COMPANIONS, number=mates))
    return order_row(
        Group.FITTINGS,
        What(
            kind=str(first.kind), size=first.size, size2=first.size2, angle_deg=key[1], material=key[2],
            series=key[3], lot=lot,
        ),
        needed=len(members),
        in_yard=in_yard,
        by_line=Counter(p.line for p in members),
        missing=missing,
        notes=notes,
    )  # fmt: skip


def _rings(parts: Iterable[Part]) -> list[OrderRow]:
    groups: dict[Size, list[Part]] = {}
    for part in parts:
        if part.kind is PartKind.STUB:
            groups.setdefault(part.size, []).append(part)
    return [
        order_row(
            Group.FITTINGS,
            What(kind="backing ring", size=size),
            needed=len(members),
            by_line=Counter(p.line for p in members),
            missing=[lacks("backing-rings-in-the-yard", size=size)],
            notes=[Note(Code.RING_ASK)],
        )
        for size, members in groups.items()
    ]


def _tagged(tag: str, members: list[Part]) -> OrderRow:
    first = members[0]
    row = first.row
    in_yard = None if row is None else yard([row])
    missing = [] if in_yard is not None else [lacks("whether-the-item-is-here", tag=tag)]
    return order_row(
        Group.TAGGED,
        What(
            kind=str(first.kind), id=tag, size=first.size, size2=first.size2, angle_deg=first.angle_deg,
            material=first.ports[0].material, series=first.ports[0].series, lot=first.lot,
        ),
        needed=len(members),
        in_yard=in_yard,
        by_line=Counter(p.line for p in members),
        missing=missing,
        notes=[] if in_yard is not None else [Note(Code.COUNT_NOT_SAID)],
    )  # fmt: skip
