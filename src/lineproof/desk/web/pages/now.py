"""What happens now: clocks, what may be moved, what must not be touched, who owes a signature."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.now_lines import lines_of
from lineproof.desk.now_short import short_lines
from lineproof.desk.verbs_now import answer_now
from lineproof.desk.web.page import page

router = APIRouter()


@router.get("/", response_class=HTMLResponse)
def now(request: Request, language: str = "en") -> HTMLResponse:
    """The state of the job, worst first."""
    folder = request.app.state.site.folder
    answer, shown = answer_now(folder)
    rows = lines_of(answer, shown, language)
    return page(
        request, "now.html", title="Now", rows=rows, short=short_lines(answer, language), language=language
    )
