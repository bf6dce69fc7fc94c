"""People with what they are qualified for, and cans with their dates."""

from __future__ import annotations

from datetime import datetime

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.answer_now import NowCan
from lineproof.desk.now_cans import NOT_KNOWN, OPEN_LIFE, can_lives
from lineproof.desk.web.page import finding_row, page
from lineproof.desk.web.tongue import language, t
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Verdict
from lineproof.job.people import Person, Qualification
from lineproof.job.settings import Settings
from lineproof.job.stock import Can
from lineproof.plan.people import joiners_on

router = APIRouter()


@router.get("/people", response_class=HTMLResponse)
def people(request: Request) -> HTMLResponse:
    """Who may make which joints today, and what is in the cans."""
    site = request.app.state.site
    known = site.known()
    settings, shown = known.job.settings, known.job.settings.shown.shown
    now = known.now.wall.astimezone(known.job.zone)
    today: dict[str, list[dict[str, str]]] = {}
    for j in joiners_on(known.work, now.date(), known.progress):
        today.setdefault(j.person, []).append(finding_row(j.finding, shown) | {"lines": ", ".join(j.lines)})
    rows = [
        {
            "name": p.name, "who": _who(p, settings), "qualified": [_qualified(q) for q in p.qualifications],
            "today": today.get(p.id, []),
        }
        for p in settings.people
    ]  # fmt: skip
    lots = [
        {
            "id": c.id, "what": _what(c), "expires": _expires(c), "lot": c.lot, "kind": c.kind,
            "card": c.card, "until": c.expires.isoformat() if c.expires else "",
        }
        for c in settings.cans
    ]  # fmt: skip
    cans = [_can(c, now) for c in can_lives(known.log.state, settings, now)]
    thrown = [name for name, thing in sorted(known.log.state.cans.items()) if thing.of("can_thrown")]
    return page(
        request, "people.html", title=t("people.title"), rows=rows, cans=lots, recorded=cans, thrown=thrown,
        day=now,
    )  # fmt: skip


def _can(c: NowCan, now: datetime) -> dict[str, object]:
    """One can of the record: in date, out of it, or nobody knows."""
    if c.dead:
        verdict = Verdict.STOP
    elif c.why == NOT_KNOWN or c.dies is None:
        verdict = Verdict.CANNOT_TELL
    else:
        verdict = Verdict.CARE if c.dies.date() <= now.date() else Verdict.GO
    if c.dies is None:
        why = t("people.life_unknown" if c.opened else "people.no_date")
    else:
        why = t("people.dies_open" if c.why == OPEN_LIFE else "people.dies_date", when=c.dies, card=c.card)
    return {
        "can": c.can, "what": t("people.can_card" if c.card else "people.can", what=_trade(c.holds),
                                card=c.card, lot=c.lot),
        "verdict": verdict.word, "why": why, "opened": c.opened, "card": c.card,
    }  # fmt: skip


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
