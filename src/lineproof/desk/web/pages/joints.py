"""Joints: the list, the card of one, and what a scanned tag says."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.papers.cards import card_sheet
from lineproof.desk.papers.days import joint_sheet
from lineproof.desk.web.page import page
from lineproof.desk.web.paging import part_of
from lineproof.desk.web.tongue import language, refused, t
from lineproof.logbook.photos import Photos, photos_of
from lineproof.plan.subjects import joint_name

router = APIRouter()


@router.get("/joints", response_class=HTMLResponse)
def joints(
    request: Request,
    line: Annotated[str, Query(max_length=200)] = "",
    part: Annotated[int, Query(alias="page", ge=1, le=100_000)] = 1,
) -> HTMLResponse:
    """Joints in walking order, of all lines or of one."""
    pack = request.app.state.site.pack()
    lines = list(pack.work.graph.lines)
    found = [j for j in pack.joints if not line or j.place.line == line]
    shown = part_of(found, part, "/joints", line=line)
    return page(
        request, "joints.html", title=t("joints.title"), sheet=joint_sheet(pack, language(), shown.rows),
        part=shown, lines=lines, line=line,
    )  # fmt: skip


@router.get("/joint/{line}/{number}", response_class=HTMLResponse)
def joint(request: Request, line: str, number: str) -> HTMLResponse:
    """The card of one joint."""
    pack = request.app.state.site.pack()
    name = f"{line}/{number}"
    found = [j for n, j in enumerate(pack.joints) if joint_name(j.place, n) == name]
    if not found:
        raise refused("joints.no_such", name=name[:60])
    title = t("joints.joint", name=name)
    return page(
        request, "joint.html", title=title, sheet=card_sheet(pack, found, language=language()),
        name=name, photos=_photos(request, name),
    )  # fmt: skip


def _photos(request: Request, name: str) -> Photos:
    log = request.app.state.site.log()
    if log.shelf is None:
        return Photos()
    mine = [e for e in log.entries if e.body.get("joint") == name]
    return photos_of(mine, log.shelf.has).get(name, Photos())
