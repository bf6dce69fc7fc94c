"""Pieces with their cut lengths and marks, and the sticks they come from."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.papers.cuts import cut_sheet, stick_sheet
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import language, t

router = APIRouter()


@router.get("/pieces", response_class=HTMLResponse)
def pieces(request: Request) -> HTMLResponse:
    """The cut list and the stick pictures."""
    pack = request.app.state.site.pack()
    cuts, sticks = cut_sheet(pack, language()), stick_sheet(pack, language())
    return page(request, "pieces.html", title=t("pieces.title"), cuts=cuts, sticks=sticks)
