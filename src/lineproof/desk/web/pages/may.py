"""May we move, lower, load, open, fill or raise it: the answer first, then what stands against it."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.answer_may import MayAnswer
from lineproof.desk.answer_raise import RaiseAnswer
from lineproof.desk.may_words import others
from lineproof.desk.verbs_may import SPOT, answer_may
from lineproof.desk.verbs_raise import answer_of as answer_raise
from lineproof.desk.verbs_raise import asked_of
from lineproof.desk.web.page import finding_row, page, verdict_head
from lineproof.desk.web.tongue import refused, t
from lineproof.floor.shown import Shown

router = APIRouter()
VERBS = ("move", "lower", "load", "open", "fill", "raise")
PRESSURE = ("fill", "raise")
MEDIA = ("water", "air", "gas")


@router.get("/may", response_class=HTMLResponse)
def may(
    request: Request, verb: str = "", subject: str = "", gauge: str = "", at: str = "", medium: str = ""
) -> HTMLResponse:
    """Ask, and be answered on the same page. Nothing is written: the release is given by the command line."""
    site = request.app.state.site
    settings = site.pack().work.job.settings
    shown = settings.shown.shown
    values: dict[str, Any] = {
        "verbs": VERBS,
        "media": MEDIA,
        "asked": {"verb": verb or "move", "subject": subject, "gauge": gauge, "at": at, "medium": medium},
        "sections": [s.id for s in settings.sections],
        "gauges": [g.id for g in settings.gauges],
        "answer": None,
    }
    if subject:
        told: RaiseAnswer | MayAnswer
        if verb in PRESSURE:
            asked = asked_of(verb, subject, gauge=gauge, at=at, medium=medium, by="")
            told = raised = answer_raise(*site.may_raise(asked))
            then = [str(f.facts.get("condition", f.subject)) for f in raised.to_answer_then]
            signs = raised.signs
        elif verb in SPOT:
            told = answer_may(site.known(), verb, subject)
            then, signs = list(SPOT[verb]), ""
        else:
            raise refused("may.verb", verb=verb[:40], verbs=", ".join(VERBS))
        values["answer"] = _answer(told, then, signs, shown)
    return page(request, "may.html", title=t("may.title"), **values)


def _answer(told: RaiseAnswer | MayAnswer, then: list[str], signs: str, shown: Shown) -> dict[str, Any]:
    rows = others(told.verdict, None, told.findings)
    return {
        "head": verdict_head(told.verdict, told.until, told.when),
        "governs": finding_row(told.governs, shown) if told.governs else None,
        "rows": [finding_row(f, shown) for f in rows if f is not told.governs],
        "then": then,
        "signs": signs,
        "joints": len(told.joints),
        "when": told.when,
        "known": told.known,
    }
