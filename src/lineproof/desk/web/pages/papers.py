"""The papers that were printed, to be opened or taken away."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, HTMLResponse, Response

from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import refused, t

router = APIRouter()
KINDS = {".pdf": "application/pdf", ".json": "application/json", ".xlsx": "application/octet-stream"}


def _there(folder: Path) -> list[Path]:
    out = folder / "out"
    return sorted(f for f in out.glob("*") if f.suffix in KINDS and f.is_file()) if out.is_dir() else []


@router.get("/papers", response_class=HTMLResponse)
def papers(request: Request) -> HTMLResponse:
    """Files that lie in out/."""
    there = _there(request.app.state.site.folder)
    files = [{"name": f.name, "kb": f"{f.stat().st_size / 1000:.0f}"} for f in there]
    return page(request, "papers.html", title=t("papers.title"), files=files)


@router.get(
    "/papers/{name}",
    response_class=FileResponse,
    responses={200: {"content": {kind: {} for kind in KINDS.values()}}},
)
def paper(request: Request, name: str) -> Response:
    """One of them."""
    for file in _there(request.app.state.site.folder):
        if file.name == name:
            return FileResponse(file, media_type=KINDS[file.suffix], filename=file.name)
    raise refused("papers.no_such", name=name[:60])
