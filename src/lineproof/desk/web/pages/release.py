"""The release: given by the person in charge of the test on GO, and how it stands afterwards."""

from __future__ import annotations

from datetime import UTC
from typing import Any
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk.raise_keep import GOOD_FOR, VOIDS, keep, lasting
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.verbs_raise import CAUTION, answer_of, asked_of, known_person, must_be_in_charge
from lineproof.desk.web.once import Form, dealt, read_form
from lineproof.desk.web.page import page
from lineproof.desk.web.pages.may import ask_raise, may_page, mind, question_of
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import signed
from lineproof.floor.shown import show
from lineproof.floor.verdicts import Verdict
from lineproof.plan.may_raise import may_raise

router = APIRouter()


@router.post(
    "/release",
    response_class=HTMLResponse,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {"application/x-www-form-urlencoded": {"schema": {"type": "object"}}},
        }
    },
)
async def give(request: Request) -> Response:
    """Look at a release, or give it: only on GO, only by the person in charge of the test."""
    return await run_in_threadpool(_give, request, await read_form(request))


def _give(request: Request, sent: Form) -> Response:
    q = question_of(request, sent)
    good = sent.get("good") or GOOD_FOR
    lasts = lasting(good)
    if not sent.keep:
        now, answer = ask_raise(request, q)
        must_be_in_charge(now, q.by, replay=False)
        if answer.verdict is not Verdict.GO:
            return may_page(request, q, said=t("release.not_go"))
        shown = now.job.settings.shown.shown
        pressure = "" if answer.pressure is None else show(answer.pressure, "pressure", shown)
        return page(
            request, "release_look.html", title=t("release.title"), asked=q, good=good, pressure=pressure,
            until=(answer.when.astimezone(UTC) + lasts).astimezone(answer.when.tzinfo), once=dealt(),
            joints=len(answer.joints), voids=[t(f"void.{n}") for n in range(len(VOIDS))],
            caution=CAUTION,
        )  # fmt: skip
    once = sent.get("once")
    claimed = signed(request, q.by).claimed

    def write() -> tuple[str, tuple[str, ...]]:
        site = site_known(request.app.state.site.folder)
        before = next((e for e in site.log.entries if e.id == once), None)
        if before is not None:
            return str(before.body.get("release", "")), ()
        known_person(site, q.by)
        must_be_in_charge(site, q.by, replay=False)
        asked = asked_of(q.verb, q.subject, gauge=q.gauge, at=q.at, medium=q.medium, by=q.by)
        found = may_raise(asked, site.work, site.progress)
        done = keep(
            site, answer_of(site, found), q.gauge, release=True, good_for=good, reaches=found.lines,
            claimed=claimed, id=once,
        )  # fmt: skip
        taken = mind(request, site, done)
        return (done.release.id if done.release else ""), taken

    (given, taken), before = request.app.state.site.once.do(once, write)
    if not given:
        return may_page(request, q, said=" ".join((t("release.not_go"), *taken)))
    told = {"again": "1"} if before else {}
    return RedirectResponse(f"/release/{quote(given)}" + (f"?{urlencode(told)}" if told else ""), 303)


@router.get("/release/{id:path}", response_class=HTMLResponse)
def release(request: Request, id: str, again: str = "") -> HTMLResponse:
    """How a release stands: to be begun by a moment, withdrawn, run out; and until zero is proved."""
    now: SiteKnown = request.app.state.site.known()
    every = [(s, r) for s in now.progress.sections.values() for r in s.releases]
    found = next(((s, r) for s, r in every if r.id == id), None)
    if found is None:
        raise refused("release.none", id=id[:60], names=", ".join(r.id for _, r in every[-8:]))
    section, r = found
    zone, shown = now.job.zone, now.job.settings.shown.shown
    at = now.now.wall
    state = "open" if r.open_at(at) else (r.ended or "expired")
    pressed = section.under_pressure is not None
    values: dict[str, Any] = {
        "id": r.id, "section": section.id, "may": r.may, "by": r.who, "claimed": r.claimed, "state": state,
        "pressure": "" if r.pressure is None else show(r.pressure, "pressure", shown),
        "typed": "" if r.pressure is None else show(r.pressure, "pressure", shown).replace(" ", ""),
        "gauge": r.gauge, "medium": r.medium, "at": r.at.astimezone(zone), "reason": r.reason,
        "expires": None if r.expires is None else r.expires.astimezone(zone),
        "zero": None if pressed or section.zero is None else section.zero.at.astimezone(zone),
        "under": pressed, "again": bool(again), "once": dealt(),
        "voids": [t(f"void.{n}") for n in range(len(VOIDS))],
        "lines": ", ".join(r.lines),
    }  # fmt: skip
    return page(request, "release.html", title=t("release.of", id=r.id), **values)
