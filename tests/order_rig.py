"""Order lists of small invented jobs for tests; walks, parts and papers are made up."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from lineproof.plan.joints import joint_plans
from lineproof.plan.order import order_list
from lineproof.plan.order_model import OrderList
from lineproof.plan.order_rows import Group, OrderRow
from rigs import coupling, elbow, flange, part, stock, tee, work_at


def held(count: int) -> dict[str, str]:
    """How many there are of a lot: three of them measured, or all if there are fewer."""
    return {"count": str(count), "measured": str(min(count, 3))}


PARTS = [
    elbow("6in", "6 1/2 in", "3 in", lot="E6", **held(8)),
    flange("6in", "3 1/2 in", "3 in", **held(4), thickness="1 in"),
    coupling("6in", "3 1/4 in", "3 in", **held(2)),
    tee("6in", "6 1/2 in", "3 in", **held(2)),
    part("cap", "6in", ends="socket closed", reach_1="3 in", depth_1="3 in", **held(1)),
]
PAPERS = """
[[lines]]
line = "*"
procedure = "BP"
cement = "C-2"
[[procedures]]
id = "BP"
steps = "two-step"
material = "pvc"
size_lo = "1/2in"
size_hi = "24in"
primer_coats = 3
pipe_coats = 2
socket_coats = 1
[[people]]
id = "A"
name = "Joiner A (invented)"
[[crews]]
id = "CR"
people = ["A"]
"""
STOCK = stock("6in", in_yard="1", ordered="1")


def card(**more: str) -> str:
    """A cement card that makes four 6 in joints of a quart."""
    told = {"containers": '["1 qt", "1 gal"]', "open_life": '"1 d"'} | more
    return (
        '[[cards]]\nid = "C-2"\nproduct = "Heavy (invented)"\nmaterial = "pvc"\nbody = "heavy"\n'
        + "".join(f"{k} = {v}\n" for k, v in told.items())
        + '[[cards.per_can]]\nsize_lo = "6in"\nsize_hi = "6in"\nvolume = "1 qt"\njoints = 4\n'
    )


def can(id: str, **more: str) -> str:
    """Cans of one lot: a quart of cement each, good until 2028, unless said otherwise."""
    told = {
        "kind": '"cement"', "card": '"C-2"', "volume": '"1 qt"', "count": "1", "lot": f'"L-{id}"',
        "expires": "2028-01-01",
    } | more  # fmt: skip
    return f'[[cans]]\nid = "{id}"\n' + "".join(f"{k} = {v}\n" for k, v in told.items() if v)


def ordered(
    folder: Path,
    walk: str | Mapping[str, str],
    parts: list[str] | None = None,
    *,
    cards: str | None = None,
    toml: str = "",
    **more: Any,
) -> OrderList:
    """The order list of a small job."""
    papers = PAPERS + (card() if cards is None else cards) + toml + STOCK
    w = work_at(folder / "job", walk, PARTS if parts is None else parts, toml=papers)
    plans = joint_plans(w.graph, w.cutting, w.job.settings, w.book, catalogue=w.job.parts)
    return order_list(w, plans, **more)


def the(listed: OrderList, group: Group, kind: str, **facts: object) -> OrderRow:
    """The one row of a group and kind, with these facts in what it is."""
    hits = [
        r
        for r in listed.group(group)
        if r.what.kind == kind and all(getattr(r.what, k) == v for k, v in facts.items())
    ]
    assert len(hits) == 1, [r.what for r in listed.group(group)]
    return hits[0]
