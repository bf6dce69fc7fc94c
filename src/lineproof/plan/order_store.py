"""Flammable liquid on the site beside the limits of the rule: numbers, no verdict."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from lineproof.book.load import Book
from lineproof.book.rules import flammable_limit
from lineproof.floor.sources import Reading
from lineproof.job.settings import Settings
from lineproof.job.stock import Can
from lineproof.plan.joint_needs import Missing, lacks, would_help
from lineproof.plan.order_model import Storage, StoreLoad
from lineproof.plan.order_rows import Group, OrderRow


def storage(settings: Settings, rows: Iterable[OrderRow], book: Book) -> Storage:
    """Cement, primer and cleaner in every store, on order and still to be ordered.

    Parameters
    ----------
    settings : Settings
        Cans and stores; every lot counts, also one that may not be used.
    rows : iterable of OrderRow
        The order list, for what is still to come.
    book : Book

    Returns
    -------
    Storage
        Volumes and limits. [m3]
    """
    reading = Reading()
    room = flammable_limit(book, "room", reading)
    cabinet = flammable_limit(book, "cabinet-1-3", reading)
    most = int(flammable_limit(book, "cabinets", reading))
    missing: list[Missing] = []
    by_store: dict[str, list[Can]] = {s.id: [] for s in settings.stores}
    for can in settings.cans:
        by_store.setdefault(can.where if can.where in by_store else "", []).append(can)
    loads = []
    for store in settings.stores:
        cans = by_store[store.id]
        if store.limit is None:
            missing.append(would_help("store-limit", store=store.id))
        rule = {"cabinet": cabinet, "room": room}.get(store.kind)
        loads.append(
            StoreLoad(
                store.id, store.kind, store.where, _volume(cans), _volume(cans, ordered=True), store.limit,
                store.source, rule,
            )
        )  # fmt: skip
    nowhere = by_store.get("", [])
    if nowhere:
        missing += [lacks("store-of-can", can=c.id) for c in nowhere]
        loads.append(StoreLoad("", "", "", _volume(nowhere), _volume(nowhere, ordered=True), None, "", None))
    here = _volume(settings.cans)
    both = _volume(settings.cans, ordered=True)
    coming = [r for r in rows if r.group is Group.CEMENT]
    missing += [
        lacks("volume-to-order", kind=r.what.kind, card=r.what.id) for r in coming if r.to_order is None
    ]
    known = sum(r.to_order for r in coming if r.to_order is not None)
    told = all(r.to_order is not None for r in coming)
    return Storage(
        stores=tuple(loads), here=here, ordered=both - here, to_order=known if told else None,
        at_most=both + known if told else None, at_least=both + known,
        outside_cabinets=sum(load.here for load in loads if load.kind != "cabinet"),
        room_limit=room, cabinet_limit=cabinet, cabinets_limit=most,
        cabinets=dict(Counter(s.where for s in settings.stores if s.kind == "cabinet")),
        missing=tuple(missing), cells=reading.as_tuple(),
    )  # fmt: skip


def _volume(cans: Iterable[Can], *, ordered: bool = False) -> float:
    return sum(c.volume * (c.count + (c.ordered if ordered else 0)) for c in cans)
