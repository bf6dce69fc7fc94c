"""How long a page waits for the job, before it says that the job is still being read."""

from __future__ import annotations

from contextvars import ContextVar

from starlette.types import ASGIApp, Receive, Scope, Send

PATIENCE_S = 0.15
"""How long a page of ``serve`` waits for the job before it says that it is still being read. [s]"""
CALLS = ("/sync/", "/api/", "/card/", "/static/", "/openapi.json")
"""What a program asks for: it waits."""

patience: ContextVar[float | None] = ContextVar("how long a page waits for the job", default=None)
"""Of the page that is being made; None: as long as it takes. [s]"""


class StillReading(Exception):
    """The job is being read and planned; the page can be asked for again in a moment."""


class Hurry:
    """Lets a page wait for the job only so long.

    Parameters
    ----------
    app : ASGI application
    patience : float or None
        None: as long as it takes. [s]
    """

    def __init__(self, app: ASGIApp, patience: float | None) -> None:
        self.app = app
        self.patience = patience

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        shows = scope["type"] == "http" and scope["method"] == "GET"
        patience.set(self.patience if shows and not scope["path"].startswith(CALLS) else None)
        await self.app(scope, receive, send)
