"""A phone with the joint card, and a server that can be killed."""

from __future__ import annotations

import contextlib
import re
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page

from lineproof.desk.record_book import job_uuid, person_uuid, settings_of
from lineproof.desk.web.app import create_app
from lineproof.logbook.entry import Entry
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify

PHONE = {"width": 360, "height": 740}
STATIC = "/static/card/"
PATIENCE = 20000
"""How long the browser is waited for. [ms]"""


class Server:
    """The pages of a job on one port; can be killed and started again there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = f"http://localhost:{self.port}"
        self.start()

    def start(self) -> None:
        self._server = uvicorn.Server(
            uvicorn.Config(create_app(self.folder), host="127.0.0.1", port=self.port, log_level="error")
        )
        self._thread = threading.Thread(target=self._server.run, daemon=True)
        self._thread.start()
        while not self._server.started:
            time.sleep(0.01)

    def stop(self) -> None:
        self._server.should_exit = True
        self._server.force_exit = True
        self._thread.join(10)

    def entries(self) -> list[Entry]:
        if not (self.folder / "logbook.db").exists():
            return []
        with SqliteStore(self.folder / "logbook.db") as store:
            assert verify(store).good
            return [s.entry for s in store.read_since() if s.entry.device.startswith("phone")]

    def person(self, id: str) -> str:
        return person_uuid(job_uuid(settings_of(self.folder)), id)


@contextlib.contextmanager
def phone(chromium: Browser, **more: Any) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport=PHONE, locale="en-US", timezone_id="America/Denver", **more)
    context.set_default_timeout(PATIENCE)
    yield context
    context.close()


def card(context: BrowserContext, server: Server, joint: str = "B-201/J1", who: str = "Joiner 1") -> Page:
    page = context.new_page()
    page.goto(f"{server.address}/card/{joint}")
    page.wait_for_selector("html[data-ready]")
    if page.get_by_role("heading", name="Who writes on this phone?").count():
        page.get_by_role("button", name=re.compile(f"^{who} ·")).click()
        page.wait_for_selector("#photo")
    return page


def shelf(page: Page, work: str) -> Any:
    """Something asked of the phone's own store."""
    return page.evaluate(
        "async () => { const { open } = await import('/static/card/shelf.js');"
        "const shelf = await open(`lineproof-${localStorage.getItem('lineproof-job')}`);"
        f"const told = await (async () => {{ {work} }})(); shelf.close(); return told; }}"
    )


def arrived(page: Page) -> None:
    page.locator("#send", has_text="●").wait_for()


def kept_by_worker(page: Page) -> None:
    """The worker is there, so that the page opens without a signal."""
    page.evaluate(
        "async () => { await navigator.serviceWorker.ready;"
        "while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 20)); }"
    )


def write(page: Page, kind: str, body: dict[str, Any]) -> None:
    """An entry as a tap writes it."""
    page.evaluate(
        "async ([kind, body]) => { await (await import('/static/card/card.js')).write(kind, body); }",
        [kind, body],
    )


def send(page: Page) -> None:
    page.evaluate("async () => (await import('/static/card/card.js')).send()")
