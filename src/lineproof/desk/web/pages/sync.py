"""The calls of a phone: what it sends, how far its chain is here, and what a card needs with no signal."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from starlette.concurrency import run_in_threadpool

from lineproof.desk.card_job import card_job
from lineproof.desk.lan.sendings import kinds_for
from lineproof.desk.record_book import FILE, opened, person_uuid
from lineproof.desk.web.inbox import Inbox
from lineproof.desk.web.told import CardJob, Heads, Refused, Taken
from lineproof.desk.web.tongue import Refused as NotFromHere
from lineproof.desk.web.who import who_of
from lineproof.floor.errors import LineproofError
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import is_uuid, moment_text
from lineproof.logbook.fold import Fold
from lineproof.logbook.inbox import LARGEST_SENT, MOST
from lineproof.logbook.state import State
from lineproof.logbook.writing import DeviceClock, synchronised

router = APIRouter(prefix="/sync")
LINES = "application/x-ndjson"
_SAID: dict[int | str, dict[str, Any]] = {
    403: {"model": Refused, "description": "This phone may not send that. Nothing was taken."},
    415: {"model": Refused, "description": f"It is not {LINES}."},
}


def _refused(error: LineproofError, code: int = 400) -> JSONResponse:
    said = error.sentence() if isinstance(error, NotFromHere) else str(error)
    return JSONResponse({"lineproof": "refused", "sentence": said}, code)


def _clock() -> dict[str, str]:
    """The clock of this machine, for a phone to hold its own against."""
    return {"now": moment_text(datetime.now(UTC)), "synchronised": synchronised()}


@router.post(
    "/entries",
    response_model=Taken,
    responses=_SAID,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {LINES: {"schema": {"type": "string", "minLength": 1}}},
            "description": (
                f"The exact bytes of up to {MOST} entries of one writer, one on each line, in the order of "
                f"its chain; up to {LARGEST_SENT} bytes."
            ),
        }
    },
)
async def take_entries(request: Request) -> JSONResponse:
    """Take entries of one writer's chain, all or none; answered once they are on the disk.

    An entry that is known is passed over. Another body under a known id, or at a taken place of the chain, is
    kept as a fork and named. A device clears its own copy only on the seal that is answered for that entry.
    """
    if request.headers.get("content-type", "").partition(";")[0].strip() != LINES:
        return JSONResponse({"lineproof": "refused", "sentence": f"entries are sent as {LINES}"}, 415)
    inbox: Inbox = request.app.state.inbox
    sent = await request.body()
    try:
        waiting = await run_in_threadpool(inbox.take, sent, who_of(request))
        answer = await asyncio.wrap_future(waiting)
    except NotFromHere as error:
        return _refused(error, 403)
    except LineproofError as error:
        return _refused(error, 409 if error.place.file else 400)
    return JSONResponse(
        {
            "lineproof": "taken",
            "entries": [
                {"id": k.id, "sequence": k.sequence, "seal": k.seal, "new": k.new, "forked": k.forked}
                for k in answer.kept
            ],
            "receipt": answer.receipt,
            "head": answer.head,
            "notes": list(answer.notes),
            **_clock(),
        }
    )


@router.get("/heads", response_model=Heads)
def heads(request: Request, writer: str = "") -> JSONResponse:
    """Ends of the chains that are here; those of one writer if it is named."""
    inbox: Inbox = request.app.state.inbox
    try:
        found = inbox.heads()
        job = inbox.job()
    except LineproofError as error:
        return _refused(error, 409)
    mine = [h for h in found if not writer or (is_uuid(writer) and h.writer == writer)]
    told = [{"writer": h.writer, "sequence": h.sequence, "seal": h.seal} for h in mine]
    return JSONResponse({"lineproof": "heads", "job": job, "heads": told, **_clock()})


@router.get("/job", response_model=CardJob)
def job(request: Request) -> JSONResponse:
    """What a card needs with no signal; no geometry, and no word that pressure may come on."""
    site = request.app.state.site
    try:
        pack = site.pack()
        settings = pack.work.job.settings
        told = card_job(pack, state_of(site.folder), _stamp(settings.site.timezone))
    except LineproofError as error:
        return _refused(error, 409)
    who = who_of(request)
    if not who.machine:
        told["me"] = {
            "id": who.person,
            "uuid": person_uuid(told["job"], who.person),
            "phone": who.device,
            "roles": sorted(r.value for r in who.roles),
            "kinds": list(kinds_for(who.roles)),
        }
    return JSONResponse({**told, **_clock()})


def _stamp(zone: str) -> Stamp:
    now = DeviceClock(zone).read()
    return Stamp(wall=now.wall, monotonic=now.monotonic, boot=now.boot, synchronised=now.synchronised)


def state_of(folder: Path) -> State:
    """The fold of a folder's logbook; an empty one without."""
    folding = Fold()
    if (folder / FILE).exists():
        with opened(folder) as store:
            for stored in store.read_since():
                folding.add(stored)
    return folding.state()
