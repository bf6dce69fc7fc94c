"""Photographs of a phone: sent in parts after the entry that names them, shown on the page of their joint."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk.web.inbox import Inbox
from lineproof.desk.web.told import PhotoTold
from lineproof.desk.web.tongue import refused
from lineproof.floor.errors import BadInput
from lineproof.logbook.photos import LARGEST_PHOTO, Come, kind_of

router = APIRouter()
PARTS = "application/octet-stream"
Digest = Annotated[str, Path(pattern="^[0-9a-f]{64}$", description="SHA-256 of the whole photograph.")]
Bytes = Annotated[int, Query(ge=0, le=LARGEST_PHOTO)]
PICTURES = {kind: {"schema": {"type": "string", "format": "binary"}} for kind in ("image/jpeg", "image/png")}


def _told(digest: str, come: Come) -> JSONResponse:
    return JSONResponse({"lineproof": "photo", "photo": digest, "have": come.have, "whole": come.whole})


@router.get("/sync/photo/{digest}", response_model=PhotoTold)
def how_far(request: Request, digest: Digest) -> Response:
    """How much of a photograph is here: a phone goes on from there."""
    inbox: Inbox = request.app.state.inbox
    return _told(digest, inbox.coming.come(digest))


@router.post(
    "/sync/photo/{digest}",
    response_model=PhotoTold,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {PARTS: {"schema": {"type": "string", "format": "binary"}}},
            "description": "The next part of the picture, a JPEG or a PNG.",
        }
    },
)
async def take_part(request: Request, digest: Digest, at: Bytes, of: Bytes) -> Response:
    """Take the next part of a photograph that an entry here names; a part sent again changes nothing.

    A phone lets go of its picture only once the answer says that the whole is here.
    """
    inbox: Inbox = request.app.state.inbox
    return _told(digest, await run_in_threadpool(inbox.photo, digest, at, of, await request.body()))


@router.get("/photo/{digest}", response_class=Response, responses={200: {"content": PICTURES}})
def photo(request: Request, digest: Digest) -> Response:
    """A photograph that has come."""
    inbox: Inbox = request.app.state.inbox
    try:
        content = inbox.coming.shelf.get(digest)
    except BadInput:
        content = b""
    kind = kind_of(content)
    if not kind or not inbox.names(digest):
        raise refused("joints.no_photo")
    headers = {"cache-control": "private, max-age=86400", "content-disposition": "inline"}
    return Response(content, media_type=kind, headers=headers)
