"""What is bought for the flange pairs: bolts by diameter and length, washers, gaskets, fillers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

from lineproof.book.sizes import Size
from lineproof.job.settings import Settings
from lineproof.plan.joint_needs import Missing, lacks
from lineproof.plan.order_bolts import FULL, one_said
from lineproof.plan.order_model import FlangePair
from lineproof.plan.order_rows import Code, Group, Note, OrderRow, What, order_row


def flange_rows(pairs: Iterable[FlangePair], settings: Settings) -> list[OrderRow]:
    """Bolts, nuts and washers by diameter and length, gaskets and fillers by size, over all pairs.

    Parameters
    ----------
    pairs : iterable of FlangePair
    settings : Settings
        Gaskets and fillers in hand.

    Returns
    -------
    list of OrderRow
        Bolts first, thin before thick, short before long.
    """
    listed = list(pairs)
    rows = _bolt_rows(listed)
    rows += _gasket_rows(listed, settings)
    fill = [p for p in listed if p.filler]
    for size in dict.fromkeys(p.size for p in fill):
        held = [f for f in settings.fillers if f.size == size and f.full_face]
        rows.append(
            order_row(
                Group.FLANGES,
                What(kind="filler", size=size, thickness=one_said(f.thickness for f in held), detail=FULL),
                needed=sum(p.size == size for p in fill),
                in_yard=sum(f.count for f in held) if held else None,
                by_line=Counter(p.line for p in fill if p.size == size),
                missing=[] if held else [lacks("fillers-in-hand", size=size)],
                notes=[Note(Code.FILLER)],
            )
        )
    return rows


def _bolt_rows(pairs: list[FlangePair]) -> list[OrderRow]:
    groups: dict[tuple[float, float], list[FlangePair]] = {}
    undrilled: dict[Size, list[FlangePair]] = {}
    for p in pairs:
        if p.bolt_dia is None:
            undrilled.setdefault(p.size, []).append(p)
        else:
            groups.setdefault((p.bolt_dia, p.bolt_length or 0.0), []).append(p)
    rows = []
    for (dia, length), members in sorted(groups.items(), key=lambda item: item[0]):
        by_line = _summed(members, lambda p: p.bolts)
        blank = not length
        rows.append(
            order_row(
                Group.FLANGES,
                What(kind="bolt and nut", diameter=dia, length=length or None),
                needed=sum(by_line.values()),
                by_line=by_line,
                missing=[lacks("bolts-in-hand", diameter=dia)]
                + [
                    m
                    for p in members
                    if blank
                    for m in p.missing
                    if "thickness" in m.code or "filler" in m.code
                ],
                notes=[Note(Code.LENGTH_UNKNOWN if blank else Code.BY_RULE)],
                cells=tuple(dict.fromkeys(c for p in members for c in p.cells)),
            )
        )
    for dia in dict.fromkeys(d for d, _ in sorted(groups)):
        members = [p for p in pairs if p.bolt_dia == dia]
        by_line = _summed(members, lambda p: p.washers)
        rows.append(
            order_row(
                Group.FLANGES,
                What(kind="washer", diameter=dia),
                needed=sum(by_line.values()),
                by_line=by_line,
                missing=[lacks("washers-in-hand", diameter=dia)],
            )
        )
    for size, members in undrilled.items():
        rows.append(
            order_row(
                Group.FLANGES,
                What(kind="bolt and nut", size=size),
                needed=None,
                missing=[m for p in members for m in p.missing if m.code.startswith("flange-drilling")],
            )
        )
    return rows


def _summed(pairs: Iterable[FlangePair], count: Callable[[FlangePair], int | None]) -> dict[str, float]:
    total: dict[str, float] = {}
    for p in pairs:
        total[p.line] = total.get(p.line, 0) + (count(p) or 0)
    return total


def _gasket_rows(pairs: list[FlangePair], settings: Settings) -> list[OrderRow]:
    groups: dict[tuple[Size, str], list[FlangePair]] = {}
    for p in pairs:
        groups.setdefault((p.size, p.gasket), []).append(p)
    rows = []
    for (size, face), members in groups.items():
        held = [g for g in settings.gaskets if g.size == size and g.face == face]
        missing = []
        if not face:
            missing += [m for p in members for m in p.missing if m.code == "flange-face"]
        if not held:
            missing.append(lacks("gaskets-in-hand", size=size, face=face))
        rows.append(
            order_row(
                Group.FLANGES,
                What(kind="gasket", size=size, detail=face, thickness=one_said(g.thickness for g in held)),
                needed=len(members),
                in_yard=sum(g.count for g in held) if held else None,
                by_line=Counter(p.line for p in members),
                missing=missing,
            )
        )
    return rows


def _for_length(pairs: Iterable[FlangePair]) -> list[Missing]:
    return [m for p in pairs for m in p.missing if "thickness" in m.code or "filler" in m.code]
