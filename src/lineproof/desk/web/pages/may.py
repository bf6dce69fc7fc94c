"""May we move, lower, load, open, fill or raise it: the answer first, then what stands against it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.may_words import others
from lineproof.desk.verbs_may import SPOT, answer_may
from lineproof.desk.verbs_raise import answer_raise
from lineproof.desk.web.page import finding_row, page, verdict_head

router = APIRouter()
VERBS = ("move", "lower", "load", "open", "fill", "raise")
PRESSURE = ("fill", "raise")


@router.get("/may", response_class=HTMLResponse)
def may(
    request: Request, verb: str = "", subject: str = "", gauge: str = "", at: str = "", medium: str = ""
) -> HTMLResponse:
    """Ask, and be answered on the same page. Nothing is written: the release is given by the command line."""
    site = request.app.state.site
    settings = site.pack().work.job.settings
    shown = settings.shown.shown
    values = {
        "verbs": VERBS,
        "asked": {"verb": verb or "move", "subject": subject, "gauge": gauge, "at": at, "medium": medium},
        "sections": [s.id for s in settings.sections],
        "gauges": [g.id for g in settings.gauges],
        "answer": None,
    }
    if not subject:
        return page(request, "may.html", title="May we?", **values)
    if verb in PRESSURE:
        told = answer_raise(site.folder, verb, subject, gauge=gauge, at=at, medium=medium)
        then = [str(f.facts.get("condition", f.subject)) for f in told.to_answer_then]
        signs, count = told.signs, len(told.joints)
    else:
        told = answer_may(site.folder, verb, subject)
        then, signs, count = list(SPOT.get(verb, ())), "", len(told.joints)
    rows = others(told.verdict, None, told.findings)
    values["answer"] = {
        "head": verdict_head(told.verdict, told.until, told.when),
        "governs": finding_row(told.governs, shown) if told.governs else None,
        "rows": [finding_row(f, shown) for f in rows if f is not told.governs],
        "then": then,
        "signs": signs,
        "joints": count,
        "when": told.when,
        "known": told.known,
    }
    return page(request, "may.html", title="May we?", **values)
