"""What to tape first, and where a taped gap is typed in."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.papers.tape import tape_sheet
from lineproof.desk.verbs_job import take_taped
from lineproof.desk.web.forms import must_be_ours
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import language, t

router = APIRouter()


@router.get("/tape", response_class=HTMLResponse)
def tape(request: Request, done: str = "") -> HTMLResponse:
    """Fittings to measure, gaps to tape."""
    sheet = tape_sheet(request.app.state.site.pack(), language())
    return page(request, "tape.html", title=t("tape.title"), sheet=sheet, done=done)


@router.post("/tape", response_class=HTMLResponse)
def taped(
    request: Request,
    key: Annotated[str, Form()],
    line: Annotated[str, Form()],
    a: Annotated[str, Form()],
    b: Annotated[str, Form()],
    length: Annotated[str, Form()],
    by: Annotated[str, Form()] = "",
) -> HTMLResponse:
    """A taped gap; what is not made yet is cut anew."""
    must_be_ours(request, key)
    told = take_taped(request.app.state.site.folder, line, a, "to", b, length, by=by, note="")
    sheet = tape_sheet(request.app.state.site.pack(), language())
    return page(request, "tape.html", title=t("tape.title"), sheet=sheet, done=" ".join(told.lines))
