"""The order list: what is needed, here and to order, by line; flange pairs, cans, storage, test points."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lineproof.book.sizes import Size
from lineproof.desk.papers import words
from lineproof.floor.shown import Shown
from lineproof.plan.joint_needs import Missing
from lineproof.plan.names import short
from lineproof.plan.order_model import CementNeed, FlangePair, OrderList, StoreLoad
from lineproof.plan.order_rows import Group, Note, OrderRow, Unit, What
from lineproof.plan.pack import Pack


def order_sheet(pack: Pack) -> dict[str, object] | None:
    """The order list as data; None without one.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    dict or None
        For ``templates/orders.typ``.
    """
    if pack.order is None:
        return None
    shown = pack.work.job.settings.shown.shown
    order = pack.order
    groups = [
        {"title": g.value, "rows": [order_row(r, shown) for r in rows]}
        for g in Group
        if (rows := order.group(g))
    ]
    return {
        "kind": "orders", "name": "Order list", "where": "everything to have before the work starts",
        "groups": groups, "flanges": [_flange(p, shown) for p in order.flange_pairs],
        "flange_notes": flange_notes(order.flange_pairs),
        "cement": [_cement(c, shown) for c in order.cement], "storage": _storage(order, shown),
        "tests": _tests(order, shown),
    }  # fmt: skip


def what_words(w: What, shown: Shown) -> str:
    """What is needed, in a few words."""
    kind = w.kind
    if kind in ("cement", "primer", "cleaner"):
        told = [kind, w.detail and f"{w.detail} body", w.id and f"card {w.id}"]
        if w.volume is not None:
            told.append(f"cans of {words.volume(w.volume, shown)}")
        return ", ".join(x for x in told if x)
    sizes = "" if w.size is None else w.size.text + ("" if w.size2 is None else f" x {w.size2.text}")
    pipe = f"{w.material.upper()} {words.series_words(w.series)}".strip() if w.material else ""
    angle = f" {w.angle_deg:g}" if w.angle_deg else ""
    told = [f"{kind}{angle}", " ".join(x for x in (sizes, pipe) if x)]
    if w.diameter is not None:
        told.append(f"diameter {words.inches(w.diameter, shown)}")
    if w.length is not None:
        told.append(f"{words.length(w.length, shown)} long")
    if w.width is not None:
        told.append(f"{words.inches(w.width, shown)} wide")
    if w.thickness is not None:
        told.append(f"{words.inches(w.thickness, shown)} thick")
    if w.detail and w.detail != "plain":
        told.append(w.detail)
    if w.id:
        told.append(w.id)
    if w.lot:
        told.append(f"lot {w.lot}")
    return ", ".join(x for x in told if x)


def amount(value: float | None, unit: Unit, shown: Shown) -> str:
    """A count or a volume; empty if it is not known. [-, m3]"""
    if value is None:
        return ""
    if unit is Unit.VOLUME:
        return words.volume(value, shown) if value else "0"
    return f"{value:.0f}" if math.isclose(value, round(value), abs_tol=1e-9) else f"{value:.2f}"


def order_row(r: OrderRow, shown: Shown) -> dict[str, object]:
    """One row of the list as text."""

    def said(value: float | None) -> str:
        return amount(value, r.unit, shown)

    needed = said(r.needed) or "cannot tell"
    return {
        "what": what_words(r.what, shown),
        "needed": needed,
        "yard": said(r.in_yard) or "not said",
        "received": said(r.received),
        "ordered": said(r.ordered),
        "short": said(r.short) or "?",
        "order": said(r.to_order) or "?",
        "lines": " · ".join(f"{line} {said(n)}" for line, n in r.by_line.items()),
        "note": "; ".join([*(note_words(n) for n in r.notes), *missing_words(r.missing)]),
    }


def note_words(n: Note) -> str:
    """A remark in words."""
    names = words.listed([words.piece_name(x) for x in n.names], 6)
    return n.code.value + (f": {names}" if names else f": {n.number:g}" if n.number is not None else "")


def missing_words(missing: Sequence[Missing]) -> list[str]:
    """Missing inputs in words, one for each kind with the names it is about."""
    kinds: dict[str, list[str]] = {}
    for m in missing:
        names = kinds.setdefault(m.code.replace("-", " ").replace("_", " "), [])
        about = " ".join(str(value) for _, value in m.facts if isinstance(value, str | Size) and str(value))
        if about and about not in names:
            names.append(about)
    return [f"missing: {kind}{' ' if names else ''}{words.listed(names, 4)}" for kind, names in kinds.items()]


def flange_notes(pairs: Sequence[FlangePair]) -> list[str]:
    """Remarks on flange pairs, each once with the pairs it holds for."""
    found: dict[str, list[str]] = {}
    for p in pairs:
        for n in p.notes:
            where = found.setdefault(n.code.value, [])
            name = f"{p.line} {p.size.text}"
            if name not in where:
                where.append(name)
        for m in p.missing:
            where = found.setdefault(f"missing: {m.code.replace('-', ' ').replace('_', ' ')}", [])
            if p.line not in where:
                where.append(p.line)
    return [f"{told}: {words.listed(where, 12)}" for told, where in found.items()]


def _flange(p: FlangePair, shown: Shown) -> dict[str, str]:
    faces = " to ".join(f"{x.kind.value}{', ' + x.face if x.face else ', face not said'}" for x in (p.a, p.b))
    gasket = p.gasket or "cannot tell"
    if p.gasket_thickness is not None:
        gasket += f", {words.inches(p.gasket_thickness, shown)} thick"
    bolts = "cannot tell"
    if p.bolts is not None:
        size = words.inches(p.bolt_dia, shown)
        bolts = f"{p.bolts} x {size} x {words.inches(p.bolt_length, shown) or 'length to measure'}"
    torque = "no paper named"
    if p.torque is not None:
        torque = f"{words.quantity(p.torque, 'torque', shown)} ({p.torque_source})"
    filler = ""
    if p.filler:
        thick = words.inches(p.filler_thickness, shown)
        filler = f"STOP until a full-face filler{f', {thick} thick,' if thick else ''} is in"
    return {
        "line": p.line, "size": p.size.text,
        "sides": f"{p.a.name or short(p.a.part)} to {p.b.name or short(p.b.part)}",
        "faces": faces, "gasket": gasket, "bolts": bolts,
        "washers": "" if p.washers is None else f"{p.washers}", "torque": torque,
        "note": "; ".join(x for x in (filler, "for the test" if p.test else "") if x),
    }  # fmt: skip


def _cement(c: CementNeed, shown: Shown) -> dict[str, str]:
    name = ", ".join(x for x in (c.kind, c.card and f"card {c.card}", c.body and f"{c.body} body") if x)
    sizes = " · ".join(
        f"{words.volume(s.volume, shown)}: {s.cans} cans"
        + ("" if s.used_up is None else ", used up in time" if s.used_up else ", not used up in time")
        for s in c.sizes
    )
    here = " · ".join(
        f"{u.can}: {u.count} x {words.volume(u.volume, shown)}, {u.state.value}" for u in c.cans
    )
    return {
        "name": name,
        "joints": f"{c.joints_known} of {c.joints}",
        "volume": words.volume(c.volume, shown) or "cannot tell",
        "day": words.volume(c.day_volume, shown),
        "sizes": sizes,
        "here": here,
        "order": "?" if c.cans_to_order is None else str(c.cans_to_order),
        "chosen": words.volume(c.chosen, shown),
        "note": "; ".join(missing_words(c.missing)),
    }


def _storage(order: OrderList, shown: Shown) -> list[list[str]]:
    st = order.storage

    def said(value: float | None) -> str:
        return words.quantity(value, "volume", shown) or "cannot tell"

    rows = [
        [
            f"{s.store or 'place not said'} ({s.kind or 'kind not said'}) {s.where}".strip(),
            said(s.here), said(s.with_ordered), _limit(s, shown),
        ]
        for s in st.stores
    ]  # fmt: skip
    rows.append(["all on the site", said(st.here), said(st.at_most), ""])
    rows.append(["outside cabinets", said(st.outside_cabinets), "", f"{said(st.room_limit)} by the rule"])
    return rows


def _limit(s: StoreLoad, shown: Shown) -> str:
    told = []
    if s.own_limit is not None:
        told.append(f"{words.quantity(s.own_limit, 'volume', shown)} ({s.own_source or 'no paper named'})")
    if s.rule_limit is not None:
        told.append(f"{words.quantity(s.rule_limit, 'volume', shown)} by the rule")
    return "; ".join(told) or "no limit named"


def _tests(order: OrderList, shown: Shown) -> list[dict[str, object]]:
    return [
        {
            "section": t.section or "lines in no section",
            "lines": words.listed(t.lines, 20),
            "vents": words.listed(
                [_point(p.part, p.z, datum=p.datum, shown=shown) for p in t.points if p.high], 30
            ),
            "drains": words.listed(
                [_point(p.part, p.z, datum=p.datum, shown=shown) for p in t.points if not p.high], 30
            ),
            "standing": words.listed([words.piece_name(x) for x in t.standing], 30),
            "open": words.listed([words.piece_name(x) for x in t.open_ends], 30),
        }
        for t in order.tests
    ]


def _point(part: str, z: float, *, datum: bool, shown: Shown) -> str:
    return f"{words.piece_name(part)}{f' at {words.length(z, shown)}' if datum else ''}"
