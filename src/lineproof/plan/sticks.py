"""Which pieces come out of which sticks, one plan for each stock item."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lineproof.floor.errors import LineproofError
from lineproof.job.settings import Settings
from lineproof.job.stock import StockItem
from lineproof.plan.model import Piece, State
from lineproof.plan.nest import nest
from lineproof.plan.nest_model import Nesting, Offcut, Stick, Want


@dataclass(frozen=True, slots=True)
class StickPlan:
    """The sticks of one stock item.

    Parameters
    ----------
    stock : StockItem
    nesting : Nesting or None
        None if it could not be nested; ``trouble`` says why.
    whole : tuple of str
        Pieces that are whole sticks and not cut.
    later : frozenset of str
        Field pieces: counted at their long length, but not cut yet.
    waiting : tuple of str
        Pieces whose length is not known, so not counted.
    needed : int
        New sticks in all.
    bound : int
        No plan needs fewer new sticks. [-]
    """

    stock: StockItem
    nesting: Nesting | None
    whole: tuple[str, ...]
    later: frozenset[str]
    waiting: tuple[str, ...]
    needed: int
    bound: int
    trouble: str = ""


def stick_plans(
    pieces: Iterable[Piece], settings: Settings, *, seconds: float = 10.0
) -> tuple[StickPlan, ...]:
    """Nest all pieces, stock item by stock item.

    Parameters
    ----------
    pieces : iterable of Piece
    settings : Settings
        Stock, kept offcuts and what the saw takes.
    seconds : float
        Guard on the time spent on each stock item. [s]

    Returns
    -------
    tuple of StickPlan
        In the order of job.toml, stock items that no piece needs left out.
    """
    by_stock: dict[str, list[Piece]] = {}
    for p in pieces:
        if p.stock:
            by_stock.setdefault(p.stock, []).append(p)
    return tuple(
        _plan(item, by_stock[item.id], settings, seconds) for item in settings.stock if item.id in by_stock
    )


def _plan(item: StockItem, pieces: list[Piece], settings: Settings, seconds: float) -> StickPlan:
    cutting = settings.cutting
    whole = tuple(p.id for p in pieces if p.whole)
    waiting = tuple(p.id for p in pieces if p.cut is None)
    wants = [
        Want(p.id, p.cut, bell=p.a.bell or p.b.bell, order=n)
        for n, p in enumerate(pieces)
        if p.cut is not None and not p.whole
    ]
    later = frozenset(p.id for p in pieces if p.state is State.FIELD)
    overall = item.overall
    if overall is None:
        return StickPlan(
            item, None, whole, later, waiting, len(whole), len(whole), "the bell is not measured"
        )
    bell = (item.bell_reach or item.bell_depth or 0.0) if item.belled else 0.0
    trim = cutting.trim if item.trim is None else item.trim
    useful = cutting.useful_offcut if item.useful_offcut is None else item.useful_offcut
    offcuts = [
        Offcut(o.id, o.length, o.bell and item.belled, bell if o.bell and item.belled else 0.0)
        for o in settings.offcuts
        if o.stock == item.id
    ]
    if not wants:
        return StickPlan(item, None, whole, later, waiting, len(whole), len(whole))
    stick = Stick(item.id, overall, item.belled, bell, trim)
    try:
        nesting = nest(
            wants, stick, kerf=cutting.kerf, offcuts=offcuts, useful_offcut=useful, seconds=seconds, seed=0
        )
    except LineproofError as error:
        return StickPlan(item, None, whole, later, waiting, len(whole), len(whole), str(error))
    return StickPlan(
        item,
        nesting,
        whole,
        later,
        waiting,
        nesting.new_sticks + len(whole),
        nesting.bound + len(whole),
    )
