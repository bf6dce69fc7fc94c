"""What stands before every page: who may ask for it from where, and what a browser may do with the answer."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import Response
from starlette.routing import BaseRoute, Match
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from lineproof.desk.web.access import LARGEST, Role, Row, row_of
from lineproof.desk.web.described import refuse
from lineproof.desk.web.tongue import t
from lineproof.desk.web.who import ROW, WHO, Who

LOOPBACK = ("localhost", "127.0.0.1", "[::1]")
"""Names that this machine alone is called by; any other name in a request was put there by somebody else."""

DOOR = "lineproof.door"
SAFE = frozenset({"GET", "HEAD"})
PATIENCE_S = 20.0
"""How long a body may take before it has to come steadily. [s]"""
STEADY = 4000.0
"""Slowest body after that. [bytes/s]"""
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
}
"""No script or style of a page itself, nothing from elsewhere, in no frame."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why somebody does not get in.

    Parameters
    ----------
    code : int
        Status of the answer. [-]
    said : str
        One sentence.
    headers : tuple of pairs
        Further headers of the answer.
    """

    code: int
    said: str
    headers: tuple[tuple[str, str], ...] = ()


class Door(Protocol):
    """Where a request came in, and who it is from."""

    origin_needed: bool
    """Whether what writes must say which page it comes from."""

    def names(self) -> frozenset[str]:
        """Names the server may be called by here, without a port."""
        ...

    def who(self, scope: Scope, headers: Headers) -> Who | Refusal:
        """Who asks, or why they may not even ask."""
        ...

    def stranger(self, scope: Scope, row: Row | None) -> Refusal:
        """What somebody is told whom nobody paired."""
        ...

    def refused(self, scope: Scope, who: Who | None, code: int) -> None:
        """Somebody was turned away."""
        ...

    def headers(self, scope: Scope) -> Sequence[tuple[str, str]]:
        """Headers of an answer that goes out here, besides those of every answer."""
        ...


class Guard:
    """Lets in who may ask for it, and turns away everything else before the pages see it.

    Parameters
    ----------
    app : ASGI application
    door : Door
        Where a request came in, unless the server says that it was another one.
    routes : sequence of routes
        In the order in which the application tries them.
    """

    def __init__(self, app: ASGIApp, door: Door, routes: Sequence[BaseRoute]) -> None:
        self.app = app
        self.door = door
        self.routes = tuple(routes)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return  # nothing here speaks anything else
        door: Door = scope.get(DOOR, self.door)
        send = _with_headers(send, door.headers(scope))
        headers = Headers(scope=scope)
        row = self._row(scope)
        who, refusal = self._let_in(door, scope, headers, row)
        if refusal is None and row is not None and scope["method"] not in SAFE:
            body = await _whole(receive, row.largest)
            if isinstance(body, Refusal):
                refusal = body
            else:
                receive = _again(body, receive)
        if refusal is not None:
            door.refused(scope, who, refusal.code)
            await _told(refusal, scope["path"])(scope, receive, send)
            return
        scope[WHO], scope[ROW] = who, row
        await self.app(scope, receive, send)

    def _row(self, scope: Scope) -> Row | None:
        """The row of the route that the application will take; None if no route or no row fits."""
        for route in self.routes:
            match, _ = route.matches(scope)
            if match is Match.FULL:
                return row_of(scope["method"], key_of(route))
        return None

    def _let_in(
        self, door: Door, scope: Scope, headers: Headers, row: Row | None
    ) -> tuple[Who | None, Refusal | None]:
        names = door.names()
        host = name_of(headers.get("host", ""))
        if host not in names:
            return None, Refusal(421, t("door.name", name=host[:60] or t("door.nothing")))
        who = door.who(scope, headers)
        if isinstance(who, Refusal):
            return None, who
        if scope["method"] not in SAFE and (wrong := _foreign(headers, names, door.origin_needed)):
            return who, wrong
        if row is None:
            # No page, or a page that nobody wrote a row for: the application says that there is none.
            return (who, None) if who.machine or who.roles else (who, door.stranger(scope, None))
        if not who.may(row):
            if not who.roles:
                return who, door.stranger(scope, row)
            said = t("door.role", mine=roles_said(who.roles), roles=roles_said(row.roles))
            return who, Refusal(403, said)
        if scope["method"] in SAFE:
            return who, None
        return who, _misfit(headers, row)


def key_of(route: BaseRoute) -> str:
    """The path of a route as the table has it."""
    path: str = getattr(route, "path", "")
    return path if hasattr(route, "endpoint") else path + "/{path:path}"


def _foreign(headers: Headers, names: frozenset[str], needed: bool) -> Refusal | None:
    """What writes comes from a page of ours."""
    origin = headers.get("origin", "")
    if (origin or needed) and name_of(urlsplit(origin).netloc) not in names:
        return Refusal(403, t("door.foreign"))
    if needed and urlsplit(origin).scheme != "https":
        return Refusal(403, t("door.foreign"))
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return Refusal(403, t("door.foreign"))
    return None


def _misfit(headers: Headers, row: Row) -> Refusal | None:
    """A body of a size and type that the row takes."""
    told = headers.get("content-length", "0")
    if not (told.isascii() and told.isdigit()):
        return Refusal(400, t("door.length"))
    if int(told) > row.largest:
        return Refusal(413, t("door.large", bytes=row.largest))
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind not in row.takes and (kind or row.takes):
        allowed = ", ".join(row.takes) or t("door.nothing")
        return Refusal(415, t("door.kind", allowed=allowed, kind=kind[:60] or t("door.no_kind")))
    return None


def roles_said(roles: Iterable[Role]) -> str:
    """Roles in the words of the page."""
    return ", ".join(t(f"phones.{role.value}") for role in Role if role in frozenset(roles))


def name_of(host: str) -> str:
    """A host without its port, as in a Host header."""
    if host.startswith("["):
        return (host.partition("]")[0] + "]").lower()
    return host.partition(":")[0].lower()


async def _whole(receive: Receive, largest: int) -> bytes | Refusal:
    """The whole body, before anybody works on it: no larger than allowed, and not dripping for ever."""
    loop = asyncio.get_running_loop()
    began, found = loop.time(), bytearray()
    try:
        while True:
            async with asyncio.timeout_at(began + PATIENCE_S + len(found) / STEADY):
                message = await receive()
            if message["type"] != "http.request":
                return Refusal(400, t("door.broke_off"))
            found += message.get("body", b"")
            if len(found) > largest:
                return Refusal(413, t("door.large", bytes=largest), (("connection", "close"),))
            if not message.get("more_body"):
                return bytes(found)
    except TimeoutError:
        return Refusal(408, t("door.slow"), (("connection", "close"),))


def _again(body: bytes, receive: Receive) -> Receive:
    """The body once more for the application, then what the server has to say."""
    given = False

    async def take() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return take


def _told(refusal: Refusal, path: str) -> Response:
    """A refusal as whoever asks there can read it."""
    return refuse(path, refusal.said, refusal.code, dict(refusal.headers))


def _with_headers(send: Send, also: Sequence[tuple[str, str]]) -> Send:
    async def put(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in (*HEADERS.items(), *also):
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return put


__all__ = ["DOOR", "HEADERS", "LARGEST", "LOOPBACK", "Door", "Guard", "Refusal", "key_of", "name_of"]
