"""A scanned tag: whether the sheet it is on still counts, and what changed since it was printed."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import t
from lineproof.floor.shown import Shown, show_length
from lineproof.plan.issued import read_issues
from lineproof.plan.subjects import joint_name
from lineproof.plan.tag_told import LONGEST, Change, Standing, TagTold, What, joints_file, tag_told

router = APIRouter()


@router.get("/tag", response_class=HTMLResponse)
def tag(request: Request, text: Annotated[str, Query(max_length=LONGEST)] = "") -> HTMLResponse:
    """What a tag says now, or the form to type one."""
    told: TagTold | None = None
    cut_out = False
    shown = Shown.us()
    if text.strip():
        site = request.app.state.site
        pack = site.pack()
        shown = pack.work.job.settings.shown.shown
        told = tag_told(
            text,
            job=pack.work.job.settings.job.id,
            lines=tuple(pack.work.graph.lines),
            joints=[joint_name(j.place, n) for n, j in enumerate(pack.joints)],
            now=joints_file(site.folder),
            issues=read_issues(site.folder),
        )
        state = site.known().log.state.joints.get(told.name)
        cut_out = state is not None and state.is_cut_out
    return page(
        request, "tag.html", title=t("tag.title"), text=text, told=told,
        head=_head(told, cut_out=cut_out) if told else (), cut_out=cut_out,
        changes=[_change(c, shown) for c in told.changes] if told else [],
    )  # fmt: skip


def _head(told: TagTold, *, cut_out: bool) -> tuple[str, str, str]:
    """Verdict, the first words, and the sentence under them."""
    said = {"name": told.name, "job": told.job, "issue": told.issue, "newest": told.newest}
    if told.standing is Standing.NO_TAG:
        return "CANNOT TELL", t("tag.no_tag_word"), t("tag.no_tag", text=told.text[:60])
    if told.standing is Standing.OTHER_JOB:
        return "STOP", t("tag.other_job_word"), t("tag.other_job", **said)
    if told.standing is Standing.UNKNOWN:
        return "STOP", t("tag.unknown_word"), t("tag.unknown", **said)
    if told.standing is Standing.AHEAD:
        return "CANNOT TELL", t("tag.ahead_word"), t("tag.ahead", **said)
    if told.standing is Standing.RETIRED:
        return "STOP", t("tag.superseded_word"), t("tag.retired", **said)
    if told.standing is Standing.SUPERSEDED:
        return "STOP", t("tag.superseded_word"), t("tag.superseded", **said)
    if cut_out:
        return "STOP", t("tag.cut_out_word"), t("tag.cut_out", **said)
    if not told.newest:
        return "CANNOT TELL", t("tag.draft_word"), t("tag.draft", **said)
    return "", t("tag.current_word"), t("tag.current", **said)


def _change(change: Change, shown: Shown) -> str:
    """One change in words."""
    before, now = (show_length(v, shown) if isinstance(v, float) else v for v in (change.before, change.now))
    said = {"before": before or t("tag.nothing"), "now": now or t("tag.nothing")}
    match change.what:
        case What.DRAWING:
            return t("tag.drawing", **said)
        case What.TIES:
            return t("tag.ties", **said)
        case What.PLACE:
            return t("tag.place", **said)
        case What.PIECE:
            return t("tag.piece", **said)
        case What.BORN:
            return t("tag.born", **said)
        case What.GONE:
            return t("tag.gone", **said)
        case _:
            return t("tag.changed", **said)
