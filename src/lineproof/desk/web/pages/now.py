"""What happens now: clocks, what may be moved, what must not be touched, who owes a signature."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.now_lines import NowWords, headline, parts_of
from lineproof.desk.now_short import short_lines
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import language, t

router = APIRouter()


@router.get("/", response_class=HTMLResponse)
def now(request: Request) -> HTMLResponse:
    """The state of the job, worst first."""
    judged = request.app.state.site.now()
    answer = judged.answer
    told = NowWords(answer, judged.shown, language())
    parts = [(told.tell(p.key), p.items or [p.empty]) for p in parts_of(told) if p.items or p.empty]
    if not answer.entries:
        parts = [(told.tell("joints"), [told.tell("first_use")])]
    return page(
        request, "now.html", title=t("now.title"), head=headline(told), parts=parts,
        short=short_lines(answer, told.shown, language()),
    )  # fmt: skip
