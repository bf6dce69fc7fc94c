"""The tape list: fittings measured and gaps taped beside the line, shown back before they are kept."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk.papers.tape import tape_sheet
from lineproof.desk.papers.words import inches, listed, piece_name, series_words
from lineproof.desk.record_book import me_person
from lineproof.desk.take_part import Asked, Measured, asked_of, take_part, with_unit
from lineproof.desk.verbs_job import take_taped
from lineproof.desk.web.once import Form, dealt, read_form
from lineproof.desk.web.page import page
from lineproof.desk.web.pages.record import people_of
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import signed
from lineproof.floor.shown import Shown
from lineproof.job.parts import Form as EndForm
from lineproof.job.settings import Settings
from lineproof.plan.names import short
from lineproof.plan.work import Work

router = APIRouter()
FORM = {
    "requestBody": {
        "required": True,
        "content": {"application/x-www-form-urlencoded": {"schema": {"type": "object"}}},
    }
}
ENDS = ("in", "out", "branch")
MOST = 3
"""Fittings of a lot that one form takes. [-]"""


@router.get("/tape", response_class=HTMLResponse)
def tape(request: Request, done: str = "") -> HTMLResponse:
    """Fittings to measure, gaps to tape, and what was taped already."""
    return _tape(request, t("tape.kept") if done == "kept" else "")


def _tape(request: Request, done: str, lines: tuple[str, ...] = ()) -> HTMLResponse:
    pack = request.app.state.site.pack()
    plan: Work = pack.work
    shown = plan.job.settings.shown.shown
    every = asked_of(plan)
    rows = [_row(a, shown) for a in every]
    taped = [
        {
            "line": r.line, "a": r.face_a, "b": r.face_b, "typed": r.typed, "by": r.by, "when": r.when,
            "note": r.note,
        }
        for r in reversed(plan.job.taped)
    ]  # fmt: skip
    return page(
        request, "tape.html", title=t("tape.title"), sheet=tape_sheet(pack), done=done, lines=lines,
        wait=[r for r in rows if r["why"]], measured=[r for r in rows if not r["why"] and r["by"]],
        taped=taped[:60], units=plan.job.settings.shown.units, people=people_of(plan.job.settings),
        by=me_person(request.app.state.site.folder),
    )  # fmt: skip


def _row(a: Asked, shown: Shown) -> dict[str, Any]:
    c = a.cells
    sizes = c["size"] + (f" x {c['size2']}" if c["size2"] else "")
    angle = f" {c['angle']}" if c["angle"] else ""
    named = f"{c['tag']} · " if c["tag"] else ""
    lot = f" · {t('tape.lot', lot=c['lot'])}" if c["lot"] else ""
    pipe = f"{c['material'].upper()} {series_words(c['series'])}"
    return {
        "key": a.key, "what": f"{named}{c['kind']}{angle}, {sizes} {pipe}{lot}",
        "why": a.why, "measured": a.measured, "wants": a.wants, "by": a.by, "date": a.date,
        "places": listed([short(p) for p in a.places], 8),
        "pieces": listed([piece_name(p) for p in a.pieces], 8),
        "values": "; ".join(
            f"{_end(n)} {inches(o.reach, shown) or '-'} / {inches(o.depth, shown) or '-'}"
            for n, o in enumerate(a.outlets)
            if o.form not in (EndForm.CLOSED, EndForm.SADDLE)
        ),
    }  # fmt: skip


def _end(n: int) -> str:
    return t(f"end.{ENDS[n]}") if n < len(ENDS) else str(n + 1)


@router.get("/tape/fitting", response_class=HTMLResponse)
def fitting(request: Request, of: str = "") -> HTMLResponse:
    """One fitting type and lot, or one tagged item: boxes for its ends, beside the fitting."""
    return _fitting(request, of, {}, None)


def _asked(request: Request, of: str) -> tuple[Work, Asked]:
    plan: Work = request.app.state.site.pack().work
    for a in asked_of(plan):
        if a.key == of:
            return plan, a
    raise refused("tape.no_fitting", of=of[:80])


def _fitting(request: Request, of: str, typed: dict[str, str], look: dict[str, Any] | None) -> HTMLResponse:
    plan, a = _asked(request, of)
    settings: Settings = plan.job.settings
    shown = settings.shown.shown
    alone = bool(a.cells["tag"])
    boxes = [
        {
            "n": n + 1, "name": _end(n), "form": o.form.value,
            "reach": o.form not in (EndForm.CLOSED, EndForm.SADDLE),
            "deep": o.form in (EndForm.SOCKET, EndForm.MALE, EndForm.FEMALE),
            "was_reach": inches(o.reach, shown), "was_depth": inches(o.depth, shown),
        }
        for n, o in enumerate(a.outlets)
    ]  # fmt: skip
    more = 1 if alone else max(1, min(MOST, a.wants - a.measured if a.measured < a.wants else MOST))
    return page(
        request, "tape_fitting.html", title=t("tape.fitting"), row=_row(a, shown), boxes=boxes, typed=typed,
        fittings=range(1, more + 1), units=settings.shown.units, people=people_of(settings), alone=alone,
        by=typed.get("by") or me_person(request.app.state.site.folder), asked=a, look=look,
        lot=typed.get("lot", a.cells["lot"]), once=dealt(),
    )  # fmt: skip


@router.post("/tape/fitting", response_class=HTMLResponse, openapi_extra=FORM)
async def measured(request: Request) -> Response:
    """Look at what a measured fitting changes, or keep it in parts.csv."""
    return await run_in_threadpool(_measured, request, await read_form(request))


def _measured(request: Request, sent: Form) -> Response:
    site = request.app.state.site
    plan, a = _asked(request, sent.get("of"))
    by = signed(request, sent.get("by")).by
    if not by:
        raise refused("keep.no_by")
    units = plan.job.settings.shown.units
    ends = []
    for n in range(1, len(a.outlets) + 1):
        pairs = [
            (with_unit(sent.get(f"r{n}.{i}"), units), with_unit(sent.get(f"d{n}.{i}"), units))
            for i in range(1, MOST + 1)
        ]
        ends.append(tuple(p for p in pairs if p[0] or p[1]))
    said = Measured(
        ends=tuple(ends), again=sent.get("again") == "yes", by=by, count=sent.get("count"),
        hub=with_unit(sent.get("hub"), units), lot=sent.get("lot"), note=sent.get("note"),
    )  # fmt: skip

    def take(keep: bool) -> tuple[str, ...]:
        with site.writing:
            told = take_part(site.folder, a, said, today=site.today(), recorded=site.recorded(), keep=keep)
        row = told.row
        ends_said = "; ".join(
            f"{_end(n)} {inches(o.reach, plan.job.settings.shown.shown) or '-'} / "
            f"{inches(o.depth, plan.job.settings.shown.shown) or '-'}"
            for n, o in enumerate(row.outlets)
            if o.form not in (EndForm.CLOSED, EndForm.SADDLE)
        )
        spread = inches(row.spread, plan.job.settings.shown.shown)
        first = t("tape.stands", ends=ends_said, measured=row.measured, by=row.by, day=row.date)
        rest = [t("tape.spread", spread=spread)] if row.spread else []
        rest.append(t("tape.freed", n=told.freed) if told.freed else t("tape.freed_none"))
        rest += [t("tape.more", n=told.more)] if told.more else []
        return (first, *rest, *told.changed)

    if not sent.keep:
        hide = {k: v for k, v in sent.fields.items() if k not in ("key", "act", "once")}
        return _fitting(request, a.key, dict(sent.fields), {"lines": take(False), "fields": hide})
    lines, before = site.once.do(sent.get("once"), lambda: take(True))
    return _tape(request, t("keep.again") if before else t("tape.kept"), lines)


@router.post("/tape", response_class=HTMLResponse, openapi_extra=FORM)
async def taped(request: Request) -> Response:
    """Look at a taped gap, or keep it in taped.csv; what is not made yet is cut anew."""
    return await run_in_threadpool(_taped, request, await read_form(request))


def _taped(request: Request, sent: Form) -> Response:
    site = request.app.state.site
    by = signed(request, sent.get("by")).by
    if not by:
        raise refused("keep.no_by")
    length = with_unit(sent.get("length"), site.units())
    line, a, b, note = (sent.get(k) for k in ("line", "a", "b", "note"))

    def take(keep: bool) -> tuple[str, ...]:
        with site.writing:
            told = take_taped(site.folder, line, a, "to", b, length, by=by, note=note, keep=keep)
        return tuple(told.lines)

    if not sent.keep:
        fields = {"line": line, "a": a, "b": b, "length": length, "by": by, "note": note}
        return page(
            request, "tape_look.html", title=t("tape.title"), lines=take(False), fields=fields, once=dealt()
        )
    lines, before = site.once.do(sent.get("once"), lambda: take(True))
    return _tape(request, t("keep.again") if before else t("tape.kept"), lines)
