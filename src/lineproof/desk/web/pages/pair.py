"""Where a phone that nobody knows yet tells the code the lead gave."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.desk.lan.door import cookie, session_of
from lineproof.desk.lan.pairing import pair
from lineproof.desk.web.access import Role
from lineproof.desk.web.page import Pages
from lineproof.desk.web.tongue import language, t

router = APIRouter()


def _page(request: Request, code: int = 200, wrong: str = "") -> HTMLResponse:
    """Nothing of the job is on it: whoever asks is a stranger still."""
    pages: Pages = request.app.state.pages
    told = pages.templates.get_template("pair.html").render(lang=language(), wrong=wrong)
    return HTMLResponse(told, code)


@router.get("/pair", response_class=HTMLResponse)
def enter(request: Request) -> Response:
    """The form for the code; a code in the address's fragment is filled in by the page itself."""
    return _page(request)


@router.post("/pair", response_class=HTMLResponse)
async def paired(
    request: Request,
    code: Annotated[str, Form(max_length=40)] = "",
    name: Annotated[str, Form(max_length=200)] = "",
) -> Response:
    """A code used up, and a session that this browser did not have before."""
    network: Any = request.app.state.network
    if network is None:
        return _page(request, 409, t("phones.off"))
    wait = network.door.try_wait(request.scope)
    if wait:
        network.door.refused(request.scope, None, 429)
        seconds = max(1, int(wait + 0.999))
        told = _page(request, 429, t("door.often", seconds=seconds))
        told.headers["retry-after"] = str(seconds)
        return told
    session = session_of(request.headers)
    done = await run_in_threadpool(pair, network.phones, network.audit, code, name, session=session)
    if done is None:
        network.door.wrong_code(request.scope)
        return _page(request, 403, t("phones.wrong"))
    network.door.right_code(request.scope)
    answer = RedirectResponse("/card/" if done.phone.roles == {Role.JOINER} else "/", 303)
    answer.headers.append("set-cookie", cookie(done.session))
    return answer
