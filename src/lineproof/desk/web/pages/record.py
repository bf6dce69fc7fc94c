"""The record: what was written, and a form for every kind of entry; shown back before it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Any
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk import record_book as book
from lineproof.desk.lan.sendings import check_kind
from lineproof.desk.record_add import look_at, write_entry
from lineproof.desk.record_fields import ANYWHERE, BY_ITSELF, TYPED, Typed, kind_typed
from lineproof.desk.verbs_record import Open, read_open, shown
from lineproof.desk.web.fields import Known, field_of
from lineproof.desk.web.once import Form, dealt, local, read_form
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import signed, who_of
from lineproof.job.settings import Settings
from lineproof.logbook.kinds import latest
from lineproof.logbook.state import State

router = APIRouter()
NEWEST = 60
"""Entries that the page shows at once. [-]"""
GROUPS: Mapping[str, tuple[str, ...]] = {
    "joints": (
        "joint_made", "first_on", "dry_fit", "insertion", "hold_end", "pullers_off", "examined", "rejected",
        "cut_out", "replaced", "field_joint", "moved", "disturbed",
    ),
    "section": (
        "isolation", "source", "gauge", "restraint_checked", "bolts_torqued", "grout", "condition",
        "release_asked", "release_withdrawn", "release_expired", "zero_proved",
    ),
    "measures": ("reading", "humidity", "reading_file", "imported"),
    "cans": ("can_received", "can_opened", "can_thrown"),
    "tags": ("hold_tag_set", "hold_tag_lifted", "note"),
    "right": ("correction", "time_confirmed"),
}  # fmt: skip
"""Kinds that a person writes, as the page groups them."""


def known_of(request: Request) -> Known:
    """What forms choose from, without a plan: a slip in a walk keeps nobody from recording.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Known
    """
    site = request.app.state.site
    state: State = site.state()
    named = book.joints_of(site.folder).joints
    return Known(site.settings(), state, tuple(dict.fromkeys((*named, *state.field_joints))))


def people_of(settings: Settings) -> list[dict[str, str]]:
    """People to choose from: id and name."""
    return [{"id": p.id, "name": p.name} for p in settings.people]


@router.get("/record", response_class=HTMLResponse)
def record(request: Request, about: Annotated[str, Query(max_length=200)] = "") -> HTMLResponse:
    """What was written, the newest first, and what may be written."""
    site = request.app.state.site
    rows: list[dict[str, Any]] = []
    names: list[str] = []
    count = 0
    if (site.folder / book.FILE).exists():
        settings = site.settings()
        with book.opened(site.folder) as store:
            now = read_open(store, settings)
        rows, count, names = _entries(now, about.strip())
    groups = [(name, [{"kind": k, "word": t(f"kind.{k}")} for k in kinds]) for name, kinds in GROUPS.items()]
    return page(
        request, "record.html", title=t("record.title"), rows=rows, count=count, about=about, groups=groups,
        names=names, most=NEWEST,
    )  # fmt: skip


def _entries(now: Open, about: str) -> tuple[list[dict[str, Any]], int, list[str]]:
    events = now.events()
    told = sorted((now.words(e, events) for e in now.entries), key=lambda w: (w.at, w.writer, w.sequence))
    names = sorted({n for w in told for n in w.about})
    if about:
        told = [w for w in told if about.casefold() in {n.casefold() for n in w.about} or w.kind == about]
    rows = [
        {
            "entry": w.entry, "kind": w.kind, "about": ", ".join(w.about), "at": w.at.astimezone(now.zone),
            "by": w.by, "flags": ", ".join(w.flags), "stands": w.stands, "typed": w.kind not in BY_ITSELF,
            "fields": "; ".join(
                f"{k.replace('_', ' ')} {shown(v, now.people)}"
                for k, v in w.body.items()
                if v not in w.about and k != "told"
            ),
            "was": [
                t("record.was", field=c.field, old=shown(c.old, now.people), new=shown(c.new, now.people),
                  by=c.by, reason=c.reason)
                for c in w.was
            ],
        }
        for w in reversed(told[-NEWEST:])
    ]  # fmt: skip
    return rows, len(told), names


@router.get("/record/{kind}", response_class=HTMLResponse)
def form(request: Request, kind: str) -> HTMLResponse:
    """The form of one kind; what stands in the address is filled in."""
    typed = dict(request.query_params)
    return _form(request, kind, typed, local(typed.get("back", ""), "/record"))


@router.post(
    "/record/{kind}",
    response_class=HTMLResponse,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {
                "application/x-www-form-urlencoded": {"schema": {"type": "object"}},
                "multipart/form-data": {"schema": {"type": "object"}},
            },
        }
    },
)
async def write(request: Request, kind: str) -> Response:
    """Look at an entry, or keep it."""
    sent = await read_form(request)
    return await run_in_threadpool(_write, request, kind, sent)


def _write(request: Request, kind: str, sent: Form) -> Response:
    site = request.app.state.site
    typed = kind_typed(kind)
    check_kind(who_of(request), kind)
    fields = {k[2:]: v for k, v in sent.fields.items() if k.startswith("f.") and v.strip()}
    fields |= _shelved(request, sent)
    by = signed(request, sent.get("by")).by
    if not by:
        raise refused("keep.no_by")
    back = local(sent.get("back"), "/record")
    words = words_typed(typed, fields)
    insist = sent.get("insist")
    if not sent.keep:
        looked = look_at(site.folder, kind, words, by=by, insist=insist, files=False)
        again = urlencode({**fields, "by": by, "insist": insist, "back": back})
        return page(
            request, "record_look.html", title=t(f"kind.{kind}"), kind=kind, told=looked.fields, by=by,
            owed=", ".join(looked.owed), fields=fields, insist=insist, back=back, once=dealt(),
            change=f"/record/{quote(kind)}?{again}",
            under=kind == "zero_proved",
        )  # fmt: skip
    once = sent.get("once")
    done, before = site.once.do(
        once, lambda: write_entry(site.folder, kind, words, by=by, insist=insist, files=False, id=once)
    )
    if back != "/record" and not done.withdrawn and not before and not done.warnings:
        return RedirectResponse(back, 303)
    return page(
        request, "record_kept.html", title=t(f"kind.{kind}"), lines=done.lines, withdrawn=done.withdrawn,
        warnings=done.warnings, again=before or done.again, back=back,
    )  # fmt: skip


def words_typed(typed: Typed, fields: Mapping[str, str]) -> list[str]:
    """The fields of a form as they are typed after ``lineproof record add KIND``.

    Parameters
    ----------
    typed : Typed
    fields : mapping

    Returns
    -------
    list of str
        The subject first.
    """
    first = [f"{typed.subject}={fields[typed.subject]}"] if typed.subject in fields else []
    return first + [f"{k}={v}" for k, v in fields.items() if k != typed.subject]


def _shelved(request: Request, sent: Form) -> dict[str, str]:
    """Files that came with the form, put on the shelf: named by their hash, and by their own name."""
    if not sent.files:
        return {}
    site = request.app.state.site
    found: dict[str, str] = {}
    with book.opened(site.folder, job=book.job_uuid(site.settings())) as store:
        for name, (own, content) in sent.files.items():
            key = name.removeprefix("f.")
            found[key] = store.files().put(content)
            if key == "file":
                found["name"] = "".join(c for c in own if c.isprintable())[-120:]
    return found


def _form(request: Request, kind: str, filled: Mapping[str, str], back: str) -> HTMLResponse:
    typed = kind_typed(kind)
    known = known_of(request)
    needed, may = dict(typed.needed), {**typed.may, **ANYWHERE}
    if kind == "correction":
        may = _set_fields(request, filled, may)
    rows = [
        asdict(field_of(k, what, known, filled.get(k, ""), k in needed))
        for k, what in (*needed.items(), *may.items())
        if what not in ("new", "set") and not (k == "name" and kind in ("reading_file", "imported"))
        and not (k == "rows" and kind == "imported")
    ]  # fmt: skip
    by = filled.get("by") or book.me_person(request.app.state.site.folder)
    return page(
        request, "record_form.html", title=t(f"kind.{kind}"), kind=kind, says=latest(kind).says,
        needed=[r for r in rows if r["needed"]], may=[r for r in rows if not r["needed"]], back=back,
        people=people_of(known.settings), by=by, insist=filled.get("insist", ""),
        files=any(r["sort"] == "file" for r in rows),
    )  # fmt: skip


def _set_fields(request: Request, filled: Mapping[str, str], may: Mapping[str, str]) -> dict[str, str]:
    """What may be corrected of an entry: a field ``set.X`` for each of its own."""
    site = request.app.state.site
    entry = filled.get("corrects", "")
    rest = {k: v for k, v in may.items() if k != "fields"}
    if not entry or not (site.folder / book.FILE).exists():
        return rest
    with book.opened(site.folder) as store:
        found = [s.entry for s in store.read_since() if s.entry.seal.startswith(entry)]
    if len(found) != 1 or found[0].kind not in TYPED or found[0].kind == "correction":
        return rest
    of = TYPED[found[0].kind]
    return {**{f"set.{k}": w for k, w in {**of.needed, **of.may, "at": "moment"}.items()}, **rest}
