"""Papers: made here, opened or taken away; and the pack given to the crew as an issue."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk import release_watch
from lineproof.desk.issue_change import issue_change
from lineproof.desk.record_book import FILE, head_of, me_person, opened, record_of
from lineproof.desk.verbs_plan import carried, check_choice, issued, write_out
from lineproof.desk.verbs_record_print import PRINTS, print_record
from lineproof.desk.web.once import Form, dealt, read_form
from lineproof.desk.web.page import page
from lineproof.desk.web.pages.record import people_of
from lineproof.desk.web.tongue import language, refused, t
from lineproof.desk.web.who import signed
from lineproof.job.folder import read_job
from lineproof.logbook.store import SHORT
from lineproof.plan.ask import read_answer
from lineproof.plan.issued import latest
from lineproof.plan.make_pack import Made, make_pack
from lineproof.plan.pack import Pack

router = APIRouter()
KINDS = {".pdf": "application/pdf", ".json": "application/json", ".xlsx": "application/octet-stream"}
PACK = "pack"
FORM = {
    "requestBody": {
        "required": True,
        "content": {"application/x-www-form-urlencoded": {"schema": {"type": "object"}}},
    }
}


def _there(folder: Path) -> list[Path]:
    out = folder / "out"
    return sorted(f for f in out.glob("*") if f.suffix in KINDS and f.is_file()) if out.is_dir() else []


def _newest(folder: Path) -> float:
    """When the job or its record last changed; reading the logbook changes nothing of it."""
    files = [folder / name for name in ("job.toml", "parts.csv", "taped.csv", "joints.csv")]
    files += (folder / "lines").glob("*")
    found = [f.stat().st_mtime for f in files if f.exists()]
    if (folder / FILE).exists():
        with opened(folder) as store:
            at = store.receipt().received_at
        found += [at.timestamp()] if at is not None else []
    return max(found, default=0.0)


@router.get("/papers", response_class=HTMLResponse)
def papers(request: Request) -> HTMLResponse:
    """What can be made, and files that lie in out/."""
    return _papers(request)


def _papers(request: Request, said: str = "", made: tuple[str, ...] = ()) -> HTMLResponse:
    site = request.app.state.site
    newest = _newest(site.folder)
    files = [
        {
            "name": f.name, "kb": f"{f.stat().st_size / 1000:.0f}", "old": f.stat().st_mtime < newest,
            "at": datetime.fromtimestamp(f.stat().st_mtime, site.zone()), "new": f.name in made,
        }
        for f in _there(site.folder)
    ]  # fmt: skip
    before = latest(site.folder)
    return page(
        request, "papers.html", title=t("papers.title"), files=files, said=said, once=dealt(),
        what=(PACK, *PRINTS), issue=before.number if before else 0, head=head_of(site.folder)[:SHORT],
    )  # fmt: skip


@router.post("/papers/make", response_class=HTMLResponse, openapi_extra=FORM)
async def make(request: Request) -> Response:
    """Make a paper into out/, the same as the command line makes it."""
    return await run_in_threadpool(_make, request, await read_form(request))


def _make(request: Request, sent: Form) -> Response:
    site = request.app.state.site
    what, paper, day = sent.get("what"), sent.get("paper"), sent.get("day")
    subjects = [x.strip() for x in sent.get("subjects").split(",") if x.strip()]
    carried(paper)

    def write() -> tuple[str, tuple[str, ...]]:
        if what == PACK:
            line = subjects[0] if subjects else ""
            before = latest(site.folder)
            planned = _planned(site.folder, ()) if before else None
            stands = planned is not None and issue_change(site.folder, planned).nothing
            pack: Pack = planned.pack if planned is not None and stands else site.pack()
            check_choice(pack, day=day, line=line)
            number = str(before.number) if before and stands else ""
            files = write_out(replace(pack, issue=number), paper, day=day, line=line)
            said = t("papers.made_pack" if number else "papers.made_draft", issue=number or "-",
                     head=head_of(site.folder)[:SHORT] or "-")  # fmt: skip
            return said, tuple(f.name for f in files)
        told, _, warnings = print_record(
            site.folder, what, subjects, day=day, dampest=sent.get("dampest"), paper=paper,
            language=sent.get("language") or language(),
        )  # fmt: skip
        said = t("papers.made_record", file=told.file, known=told.known, head=told.head[:SHORT])
        return " ".join((said, *warnings)), (Path(told.file).name,)

    (said, made), _ = site.once.do(sent.get("once"), write)
    return _papers(request, said, made)


def _planned(folder: Path, answers: tuple[str, ...]) -> Made:
    job = read_job(folder)
    stays, progress = record_of(folder, job.settings)
    return make_pack(
        job, issuing=True, recorded=stays, progress=progress, answers=[read_answer(x) for x in answers]
    )


@router.get("/issue", response_class=HTMLResponse)
def issue(request: Request) -> HTMLResponse:
    """What the next issue would change for the crew; nothing is written."""
    return _issue(request, ())


def _issue(request: Request, answers: tuple[str, ...], done: str = "") -> HTMLResponse:
    site = request.app.state.site
    made = _planned(site.folder, answers)
    change = issue_change(site.folder, made)
    settings = made.pack.work.job.settings
    values: dict[str, Any] = {
        "change": change, "verdict": made.pack.verdict.word, "done": done, "once": dealt(),
        "answers": answers, "people": people_of(settings), "by": me_person(site.folder),
        "asked": [
            {"what": q.what, "joints": ", ".join(q.joints), "choices": q.choices} for q in change.questions
        ],
    }  # fmt: skip
    return page(request, "issue.html", title=t("issue.title"), **values)


@router.post("/issue", response_class=HTMLResponse, openapi_extra=FORM)
async def give(request: Request) -> Response:
    """Answer which joint is which, or give the pack to the crew."""
    return await run_in_threadpool(_give, request, await read_form(request))


def _give(request: Request, sent: Form) -> Response:
    site = request.app.state.site
    answers = tuple(x for k, x in sorted(sent.fields.items()) if k.startswith("same") and x)
    if not sent.keep:
        return _issue(request, answers)
    by = signed(request, sent.get("by")).by
    if not by:
        raise refused("keep.no_by")
    seen = sent.get("number")

    def write() -> str:
        made = _planned(site.folder, answers)
        if str(made.named.revision) != seen:
            raise refused("issue.other", number=made.named.revision)
        with site.writing:
            pack, new = issued(site.folder, made, person=by, mind=False)
        write_out(pack, sent.get("paper"), day="", line="")
        folder, settings = site.folder, made.pack.work.job.settings
        taken = release_watch.told(release_watch.watch(folder, settings, [], anyway=True)) if new else []
        return " ".join((t("issue.given" if new else "issue.stands", number=pack.issue), *taken))

    said, _ = site.once.do(sent.get("once"), write)
    return _issue(request, (), said)


@router.get(
    "/papers/{name}",
    response_class=FileResponse,
    responses={200: {"content": {kind: {} for kind in KINDS.values()}}},
)
def paper(request: Request, name: str) -> Response:
    """One of them."""
    for file in _there(request.app.state.site.folder):
        if file.name == name:
            return FileResponse(
                file, media_type=KINDS[file.suffix], filename=file.name,
                content_disposition_type="inline" if file.suffix == ".pdf" else "attachment",
            )  # fmt: skip
    raise refused("papers.no_such", name=name[:60])
