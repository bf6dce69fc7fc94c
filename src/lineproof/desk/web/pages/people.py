"""People with what they are qualified for, and cans with their dates."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import language, t
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown
from lineproof.job.people import Person, Qualification
from lineproof.job.settings import Settings
from lineproof.job.stock import Can

router = APIRouter()


@router.get("/people", response_class=HTMLResponse)
def people(request: Request) -> HTMLResponse:
    """Who may do what, and what is in the cans."""
    settings = request.app.state.site.pack().work.job.settings
    rows = [
        {"name": p.name, "who": _who(p, settings), "qualified": [_qualified(q) for q in p.qualifications]}
        for p in settings.people
    ]
    cans = [{"id": c.id, "what": _what(c), "expires": _expires(c)} for c in settings.cans]
    return page(request, "people.html", title=t("people.title"), rows=rows, cans=cans)


def _trade(word: str) -> str:
    return Sheets(Shown.us(), language()).trade(word)


def _who(p: Person, settings: Settings) -> str:
    told = t("people.who", id=p.id, role=_trade(p.role) or t("people.no_role"))
    signs = [_trade(r.replace("_", " ")) for r in settings.signs.role_of(p.id)]
    return f"{told}; {t('people.signs', roles=', '.join(signs))}" if signs else told


def _qualified(q: Qualification) -> str:
    told = {"material": q.material, "steps": q.steps, "lo": q.size_lo.text, "hi": q.size_hi.text}
    if q.last_used_on is None:
        return t("people.qualified_never", **told)
    return t("people.qualified", day=q.last_used_on, **told)


def _what(c: Can) -> str:
    what = _trade(c.kind)
    return t("people.can_card" if c.card else "people.can", what=what, card=c.card, lot=c.lot)


def _expires(c: Can) -> str:
    return t("people.expires" if c.expires else "people.expires_never", count=c.count, day=c.expires)
