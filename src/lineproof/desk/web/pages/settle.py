"""Forks, and joints told to be made twice: the stories side by side, and which of them stand."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import EntryWords
from lineproof.desk.verbs_record import Open, shown
from lineproof.desk.verbs_settle import open_stories, settle_stories
from lineproof.desk.web.once import Form, dealt, read_form
from lineproof.desk.web.page import page
from lineproof.desk.web.pages.record import people_of
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import signed

router = APIRouter()


def _story(w: EntryWords, now: Open, fork: int) -> dict[str, Any]:
    return {
        "entry": w.entry, "kind": w.kind, "about": ", ".join(w.about), "at": w.at.astimezone(now.zone),
        "written": w.written.astimezone(now.zone), "by": w.by, "writer": w.writer[:8], "sequence": w.sequence,
        "flags": ", ".join(w.flags), "fork": fork,
        "fields": [
            (k.replace("_", " "), shown(v, now.people)) for k, v in w.body.items() if v not in w.about
        ],
    }  # fmt: skip


def _stories(request: Request) -> list[dict[str, Any]]:
    site = request.app.state.site
    if not (site.folder / book.FILE).exists():
        return []
    stories, now = open_stories(site.folder)
    return [{"why": s.why, "entries": [_story(w, now, n) for w in s.entries]} for n, s in enumerate(stories)]


@router.get("/settle", response_class=HTMLResponse)
def settle(request: Request) -> HTMLResponse:
    """What is to be settled."""
    return _page(request)


def _page(request: Request, **more: Any) -> HTMLResponse:
    settings = request.app.state.site.settings()
    values: dict[str, Any] = {"look": None, "done": None, **more}
    return page(
        request, "settle.html", title=t("settle.title"), stories=_stories(request),
        people=people_of(settings), by=book.me_person(request.app.state.site.folder), **values,
    )  # fmt: skip


@router.post(
    "/settle",
    response_class=HTMLResponse,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {"application/x-www-form-urlencoded": {"schema": {"type": "object"}}},
        }
    },
)
async def write(request: Request) -> Response:
    """Look at what would stand, or settle it."""
    return await run_in_threadpool(_write, request, await read_form(request))


def _write(request: Request, sent: Form) -> Response:
    site = request.app.state.site
    stand = [x for x in sent.get("stand").split(",") if x]
    by, second, reason = signed(request, sent.get("by")).by, sent.get("second"), sent.get("reason")
    if not by:
        raise refused("keep.no_by")
    if not stand:
        raise refused("settle.none_chosen")
    if not reason:
        raise refused("settle.no_reason")
    if not sent.keep:
        stories = _stories(request)
        chosen = [e for s in stories for e in s["entries"] if e["entry"] in stand]
        if len(chosen) != len(set(stand)):
            raise refused("settle.gone")
        forks = {e["fork"] for e in chosen}
        out = [
            e for n, s in enumerate(stories) if n in forks for e in s["entries"] if e["entry"] not in stand
        ]
        look = {"stand": chosen, "out": out, "by": by, "second": second, "reason": reason, "once": dealt()}
        return _page(request, look=look)
    once = sent.get("once")
    done, before = site.once.do(
        once, lambda: settle_stories(site.folder, stand, reason=reason, second=second, by=by, id=once)
    )
    return _page(request, done={"lines": done.lines, "again": before or done.again, "open": done.open,
                                "withdrawn": done.withdrawn})  # fmt: skip
