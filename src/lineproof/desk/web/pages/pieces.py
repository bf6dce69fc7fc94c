"""Pieces with their cut lengths and marks, and the sticks they come from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.papers.cuts import cut_sheet, stick_sheet
from lineproof.desk.web.page import page
from lineproof.desk.web.paging import part_of
from lineproof.desk.web.tongue import language, t

router = APIRouter()


@router.get("/pieces", response_class=HTMLResponse)
def pieces(
    request: Request,
    part: Annotated[int, Query(alias="page", ge=1, le=100_000)] = 1,
    sticks: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> HTMLResponse:
    """The cut list and the stick pictures."""
    pack = request.app.state.site.pack()
    cuts: Any = cut_sheet(pack, language())
    plans: Any = stick_sheet(pack, language()) or {"plans": []}
    rows = [(group, row) for group in cuts["groups"] for row in group["rows"]]
    shown = part_of(rows, part, "/pieces", sticks=str(sticks) if sticks > 1 else "")
    sawn = [(plan, stick) for plan in plans["plans"] for stick in plan["sticks"]]
    saw = part_of(sawn, sticks, "/pieces", name="sticks", page=str(part) if part > 1 else "")
    return page(
        request, "pieces.html", title=t("pieces.title"), part=shown, saw=saw,
        groups=_together(shown.rows, "rows"), plans=_together(saw.rows, "sticks"),
    )  # fmt: skip


def _together(rows: Sequence[tuple[dict[str, Any], Any]], name: str) -> list[dict[str, Any]]:
    """Rows under the heads they stand under in the whole list."""
    found: dict[int, dict[str, Any]] = {}
    for head, row in rows:
        found.setdefault(id(head), {**head, name: []})[name].append(row)
    return list(found.values())
