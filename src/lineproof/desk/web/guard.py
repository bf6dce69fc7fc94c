"""What stands before every page: who may ask from where, and what a browser may do with the answer."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOOPBACK = ("localhost", "127.0.0.1", "[::1]")
"""Names that this machine alone is called by; any other name in a request was put there by somebody else."""

LARGEST = 1_000_000
"""Largest body of a form. [bytes]"""

FOREIGN = "this form does not come from a page of this server; open the page here and send it again"
SAFE = frozenset({"GET", "HEAD"})
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
}
"""No script or style of a page itself, nothing from elsewhere, in no frame."""


class Guard:
    """Refuses what does not come from a page of ours on this machine, and too large bodies.

    Parameters
    ----------
    app : ASGI application
    names : iterable of str
        Names that the server may be called by, without a port.
    """

    def __init__(self, app: ASGIApp, names: Iterable[str] = LOOPBACK) -> None:
        self.app = app
        self.names = frozenset(names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        why = self._refusal(scope["method"], headers)
        if why:
            code, said = why
            await PlainTextResponse(said, code)(scope, receive, _with_headers(send))
            return
        await self.app(scope, _limited(receive), _with_headers(send))

    def _refusal(self, method: str, headers: Headers) -> tuple[int, str] | None:
        """Status and one sentence; None for what may go on."""
        host = _name(headers.get("host", ""))
        if host not in self.names:
            return 421, f"this server is not called {host[:60] or 'nothing'}; use the address it printed"
        if method in SAFE:
            return None
        origin = headers.get("origin", "")
        if origin and _name(urlsplit(origin).netloc) not in self.names:
            return 403, FOREIGN
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, FOREIGN
        try:
            length = int(headers.get("content-length", "0"))
        except ValueError:
            return 400, "the length of this form is not a number"
        if length > LARGEST:
            return 413, f"this form is larger than {LARGEST} bytes"
        return None


def _name(host: str) -> str:
    """A host without its port, as in a Host header."""
    if host.startswith("["):
        return host.partition("]")[0] + "]"
    return host.partition(":")[0].lower()


def _limited(receive: Receive) -> Receive:
    """A body that says less than it sends is cut off as well."""
    seen = 0

    async def take() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        return message if seen <= LARGEST else {"type": "http.disconnect"}

    return take


def _with_headers(send: Send) -> Send:
    async def put(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return put


class FormKey:
    """A word that every form of this run of the server carries: a page of somebody else cannot know it."""

    def __init__(self) -> None:
        self.word = secrets.token_urlsafe(24)

    def fits(self, told: str) -> bool:
        """Whether a form carried it."""
        return hmac.compare_digest(told.encode(), self.word.encode())
