"""The application behind ``lineproof serve``: pages, their errors in one sentence, and what guards them."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator, Iterable, Mapping
from functools import partial
from pathlib import Path

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.routing import BaseRoute
from starlette.staticfiles import StaticFiles

import lineproof
from lineproof.desk.web.described import describe, is_call, refuse
from lineproof.desk.web.guard import LOOPBACK, Guard
from lineproof.desk.web.inbox import Inbox
from lineproof.desk.web.machine import Machine
from lineproof.desk.web.page import Pages
from lineproof.desk.web.pages import (
    card,
    figures,
    joints,
    lines,
    may,
    now,
    pad,
    pair,
    papers,
    people,
    phones,
    photos,
    pieces,
    record,
    release,
    settle,
    sync,
    tag,
    tape,
)
from lineproof.desk.web.patience import Hurry, StillReading
from lineproof.desk.web.site import JobSite
from lineproof.desk.web.tongue import Refused, Tongues, language, t
from lineproof.desk.web.who import ROW
from lineproof.floor.errors import BadInput, LineproofError

HERE = Path(__file__).parent
PAGES = (
    now,
    lines,
    pad,
    tape,
    pieces,
    joints,
    tag,
    may,
    figures,
    people,
    papers,
    record,
    release,
    settle,
    sync,
    photos,
    card,
    pair,
    phones,
)


def create_app(folder: Path, *, names: Iterable[str] = LOOPBACK, patience: float | None = None) -> FastAPI:
    """The application of one job.

    Parameters
    ----------
    folder : Path
        The job folder.
    names : iterable of str
        Names the server may be called by.
    patience : float or None
        How long a page waits for the job before it says that it is still being read; None: until it is. [s]

    Returns
    -------
    FastAPI
    """
    app = FastAPI(
        title="Lineproof",
        version=lineproof.__version__,
        summary="From a drawing to a proven line of solvent-cemented plastic pressure pipe.",
        docs_url=None,
        redoc_url=None,
        lifespan=_ahead_of_the_first_page if patience is not None else _while_it_runs,
        dependencies=[Depends(_has_a_row)],
    )
    app.state.site = JobSite(folder)
    app.state.inbox = Inbox(folder)
    app.state.pages = Pages()
    app.state.network = None
    for page in PAGES:
        app.include_router(page.router)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.add_exception_handler(LineproofError, _said)
    app.add_exception_handler(StillReading, _reading)
    app.add_exception_handler(RequestValidationError, _wrong)
    app.add_exception_handler(HTTPException, _missing)
    app.add_middleware(Guard, door=Machine(names), routes=routes_of(app))
    app.add_middleware(Hurry, patience=patience)
    app.add_middleware(Tongues)
    app.openapi = partial(describe, app)  # type: ignore[method-assign]
    return app


def routes_of(app: FastAPI) -> tuple[BaseRoute, ...]:
    """Every route, in the order in which they are tried.

    Parameters
    ----------
    app : FastAPI

    Returns
    -------
    tuple of routes
        Each with the path it has in the table of access.
    """
    own = [route for route in app.routes if hasattr(route, "path")]
    return (*(route for page in PAGES for route in page.router.routes), *own)


async def _has_a_row(request: Request) -> None:
    """The second lock: the route that was taken is the one whose row the guard asked."""
    row, route = request.scope.get(ROW), request.scope["route"]
    if row is None or row.path != route.path:
        raise HTTPException(404)


@contextlib.asynccontextmanager
async def _while_it_runs(app: FastAPI) -> AsyncIterator[None]:
    """The logbook that answers hold open is let go when the server stops."""
    yield
    app.state.site.close()


@contextlib.asynccontextmanager
async def _ahead_of_the_first_page(app: FastAPI) -> AsyncIterator[None]:
    """The job is read while nobody asks for it yet."""
    await run_in_threadpool(app.state.site.begin)
    async with _while_it_runs(app):
        yield


async def _reading(request: Request, _error: Exception) -> Response:
    """The job is still being read: said at once, and asked for again by the browser."""
    pages: Pages = request.app.state.pages
    again = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    text = pages.text(request, "reading.html", title=t("reading.title"), again=again)
    return HTMLResponse(text, 202, {"refresh": "2", "retry-after": "2"})


def _page(
    request: Request,
    sentence: str,
    code: int,
    tongue: str = "",
    headers: Mapping[str, str] | None = None,
) -> Response:
    if is_call(request.url.path):
        return refuse(request.url.path, sentence, code, headers)
    pages: Pages = request.app.state.pages
    told = {"sentence": sentence, "tongue": tongue or language()}
    text = pages.text(request, "trouble.html", title=t("trouble.title"), **told)
    return HTMLResponse(text, code, dict(headers or {}))


async def _said(request: Request, error: Exception) -> Response:
    """An error of ours as one sentence; 400 for what was typed, 409 for what the files say."""
    code = 400 if isinstance(error, BadInput) and not error.place.file else 409
    if isinstance(error, Refused):
        return _page(request, error.sentence(), code)
    return _page(request, str(error), code, "en")


async def _wrong(request: Request, _error: Exception) -> Response:
    return _page(request, t("trouble.wrong"), 422)


async def _missing(request: Request, error: Exception) -> Response:
    code = error.status_code if isinstance(error, HTTPException) else 500
    said = t("trouble.missing") if code == 404 else t("trouble.cannot")
    return _page(request, said, code, headers=error.headers if isinstance(error, HTTPException) else None)
