"""Which phones are let in: a code for a new one, and the one that is lost is dropped."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any
from zoneinfo import ZoneInfo

import segno
from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.pairing import drop, offer, roles_open_to
from lineproof.desk.lan.phones import Phones
from lineproof.desk.web.access import Role
from lineproof.desk.web.forms import must_be_ours
from lineproof.desk.web.guard import roles_said
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import moment, refused, t
from lineproof.desk.web.who import who_of
from lineproof.job.settings import Settings

router = APIRouter()


@router.get("/phones", response_class=HTMLResponse)
def phones(request: Request, person: str = "") -> HTMLResponse:
    """Phones that are let in, and whose could be."""
    return _page(request, person=person)


@router.post("/phones/pair", response_class=HTMLResponse)
def pair(
    request: Request,
    key: Annotated[str, Form()],
    person: Annotated[str, Form(max_length=100)],
    roles: Annotated[list[str], Form(max_length=10)] = [],  # noqa: B006  # a form without a tick
    again: Annotated[str, Form(max_length=40)] = "",
) -> HTMLResponse:
    """A code with its picture; it is shown once."""
    must_be_ours(request, key)
    network: Any = request.app.state.network
    if network is None:
        raise refused("phones.alone")
    settings = request.app.state.inbox.settings()
    made = offer(network.phones, settings, person, roles, by=who_of(request).person, again=again)
    address = f"{network.address}/pair"
    picture = segno.make(f"{address}#{made.code}", error="m", micro=False)
    told = {
        "person": person,
        "code": made.code,
        "until": moment(datetime.fromtimestamp(made.ends, ZoneInfo(settings.site.timezone))),
        "picture": picture.svg_inline(scale=8, border=4, omitsize=True, title=made.code),
        "address": address,
    }
    return _page(request, person=person, code=told)


@router.post("/phones/drop", response_class=HTMLResponse)
def dropped(
    request: Request,
    key: Annotated[str, Form()],
    phone: Annotated[str, Form(max_length=40)],
    reason: Annotated[str, Form(max_length=500)] = "",
) -> HTMLResponse:
    """The session of a phone ends now."""
    must_be_ours(request, key)
    folder = request.app.state.site.folder
    network: Any = request.app.state.network
    there = network.phones if network is not None else Phones(folder)
    if drop(there, Audit(folder), phone, reason, by=who_of(request).person) is None:
        raise refused("phones.no_phone", phone=phone[:40])
    return _page(request, done=t("phones.drop_told", phone=phone))


def _page(request: Request, *, person: str = "", code: Any = None, done: str = "") -> HTMLResponse:
    settings: Settings = request.app.state.inbox.settings()
    network: Any = request.app.state.network
    there = network.phones if network is not None else Phones(request.app.state.site.folder)

    def when(seconds: float) -> str:
        return moment(datetime.fromtimestamp(seconds, UTC).astimezone(ZoneInfo(settings.site.timezone)))

    rows = [
        {
            "id": p.id,
            "name": p.name,
            "told": t("phones.row", person=p.person, roles=roles_said(p.roles)),
            "since": t("phones.dropped", when=when(p.dropped)) if p.dropped is not None
            else t("phones.since", paired=when(p.paired), seen=when(p.seen)),
            "dropped": p.dropped is not None,
        }
        for p in there.all()
    ]  # fmt: skip
    people = [{"id": p.id, "name": p.name} for p in settings.people]
    chosen = person or (people[0]["id"] if people else "")
    return page(
        request, "phones.html", title=t("phones.title"), network=network, rows=rows, people=people, code=code,
        chosen=chosen, done=done, roles=[(r.value, t(f"phones.{r.value}")) for r in Role],
        open_to={r.value for r in roles_open_to(settings, chosen)},
    )  # fmt: skip
