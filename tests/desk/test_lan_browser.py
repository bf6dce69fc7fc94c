"""The card on a phone of the network, in a real browser that trusts the job's authority and nothing else.

No certificate error is ignored here by any flag: a browser that was told to ignore them, or that was clicked
past the warning, refuses the service worker, and the card would then be lost without a signal.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import shutil
import socket
import subprocess
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, Error, Page, sync_playwright

from lan_rig import HERE, Lan
from lineproof.desk.lan.pairing import offer
from lineproof.desk.lan.serving import Listeners
from lineproof.desk.record_book import settings_of
from lineproof.logbook.sqlite_store import SqliteStore

WAIT = 60_000


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lan = Lan(tmp_path / "job")
    lan.close()
    return lan.folder


def three_ports() -> int:
    """The first of three free ports in a row."""
    for _ in range(200):
        with contextlib.ExitStack() as stack:
            first = stack.enter_context(socket.socket())
            first.bind(("127.0.0.1", 0))
            port = first.getsockname()[1]
            try:
                for more in (1, 2):
                    stack.enter_context(socket.socket()).bind(("127.0.0.1", port + more))
            except (OSError, OverflowError):
                continue
        return int(port)
    raise AssertionError("no three free ports in a row")


@contextlib.contextmanager
def served(folder: Path, port: int) -> Iterator[Listeners]:
    listeners = Listeners(folder, port=port, host="127.0.0.1", here=lambda: HERE)
    up = threading.Event()
    thread = threading.Thread(target=lambda: asyncio.run(listeners.run(up.set)), daemon=True)
    thread.start()
    assert up.wait(60)
    try:
        yield listeners
    finally:
        listeners.stop()
        thread.join(60)
        assert not thread.is_alive()


@contextlib.contextmanager
def phone(home: Path, name: str, certificate: bytes | None) -> Iterator[BrowserContext]:
    """A browser with a home of its own; its store of certificates holds the given one or none."""
    certutil, chromium = shutil.which("certutil"), shutil.which("chromium")
    assert certutil, "certutil is not installed (libnss3-tools): ./test says how"
    assert chromium, "Chromium is not installed: ./test says how"
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    told = f"sql:{store}"
    subprocess.run([certutil, "-d", told, "-N", "--empty-password"], check=True)
    if certificate is not None:
        (home / "job-ca.crt").write_bytes(certificate)
        put = [certutil, "-d", told, "-A", "-n", "job", "-t", "C,,", "-i", str(home / "job-ca.crt")]
        subprocess.run(put, check=True)
    with sync_playwright() as play:
        context = play.chromium.launch_persistent_context(
            str(home / "profile"), executable_path=chromium, env={**os.environ, "HOME": str(home)},
            args=["--no-sandbox", f"--host-resolver-rules=MAP {name} 127.0.0.1"],
            viewport={"width": 360, "height": 740},
        )  # fmt: skip
        context.set_default_timeout(WAIT)
        yield context
        context.close()


def flags_of(home: Path) -> str:
    """The command line of the browser that lives in this home."""
    for process in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            told = (process / "cmdline").read_bytes().decode("utf-8", "replace").replace("\0", " ")
            if str(home) in told and "--type=" not in told:
                return told
    raise AssertionError("the browser is not found")


def pair(page: Page, listeners: Listeners, folder: Path, person: str, role: str) -> None:
    code = offer(listeners.network.phones, settings_of(folder), person, [role]).code
    page.goto(f"{listeners.network.address}/pair#{code}")
    page.wait_for_function("document.getElementById('code').value.length > 0")
    assert "#" not in page.url, "the code leaves the address and the history"
    page.fill("input[name=name]", "phone of the test")
    page.click("button")
    page.wait_for_url("**/card/")


def worker_state(page: Page) -> str:
    """What came of the worker: its state, or why it was refused."""
    return str(
        page.evaluate(
            """() => navigator.serviceWorker.register('/card/worker.js', { scope: '/card/' })
            .then(() => navigator.serviceWorker.ready).then((r) => r.active ? 'runs' : 'none')
            .catch((e) => `refused: ${e.message}`)"""
        )
    )


@pytest.mark.slow
def test_a_phone_that_trusts_the_job_keeps_records_without_a_signal(folder: Path, tmp_path: Path) -> None:
    port = three_ports()
    home = tmp_path / "home"
    with contextlib.ExitStack() as stack:
        up = stack.enter_context(contextlib.ExitStack())
        listeners = up.enter_context(served(folder, port))
        name = listeners.network.authority.name
        assert name.endswith(".local")
        context = stack.enter_context(phone(home, name, listeners.network.authority.file))
        assert "ignore-certificate" not in flags_of(home)
        page = context.new_page()
        pair(page, listeners, folder, "P-2", "joiner")
        assert urlsplit(page.url).hostname == name
        assert page.evaluate("isSecureContext")
        assert page.evaluate("document.cookie") == "", "no script reads a cookie"
        assert worker_state(page) == "runs"
        page.goto(f"{listeners.network.address}/card/B-201/J6")
        page.wait_for_selector("html[data-ready]")
        page.wait_for_selector("#photo")
        asked = page.get_by_role("heading", name="Who writes on this phone?")
        assert asked.count() == 0, "a paired phone is somebody's"
        page.wait_for_function("navigator.serviceWorker.controller !== null")

        up.close()  # the server is gone, and so is the way to it
        context.set_offline(True)
        page.reload()
        page.wait_for_selector("html[data-ready]")
        page.click("#photo")
        page.wait_for_selector("#kept")
        page.locator("#send", has_text="○ 1").wait_for()

        back = stack.enter_context(served(folder, port))
        assert back.network.address == listeners.network.address
        context.set_offline(False)
        page.locator("#send", has_text="●").wait_for()
        page.reload()
        page.wait_for_selector("html[data-ready]")
        page.locator("#send", has_text="●").wait_for()
    with SqliteStore(folder / "logbook.db") as store:
        entries = [s.entry for s in store.read_since()]
    notes = [e for e in entries if e.kind == "note"]
    assert len(notes) == 1, "once, and only once"
    bound = [e for e in entries if e.kind == "chain_bound"]
    assert [e.body["chain"] for e in bound] == [notes[0].writer]
    paired = next(e for e in entries if e.kind == "phone_paired")
    assert notes[0].who == paired.body["person"]
    assert bound[0].body["phone"] == paired.body["phone"]


@pytest.mark.slow
def test_without_the_authority_the_page_warns_and_the_worker_is_refused_even_past_the_warning(
    folder: Path, tmp_path: Path
) -> None:
    home = tmp_path / "home"
    with contextlib.ExitStack() as stack:
        listeners = stack.enter_context(served(folder, three_ports()))
        context = stack.enter_context(phone(home, listeners.network.authority.name, None))
        assert "ignore-certificate" not in flags_of(home)
        page = context.new_page()
        with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
            page.goto(f"{listeners.network.address}/pair")
        page.wait_for_function("typeof certificateErrorPageController === 'object'")
        page.evaluate("certificateErrorPageController.proceed()")  # what the link past the warning does
        page.wait_for_selector("#code")
        code = offer(listeners.network.phones, settings_of(folder), "P-2", ["joiner"]).code
        page.fill("#code", code)
        page.click("button")
        page.wait_for_url("**/card/")
        assert "SSL certificate error" in worker_state(page)
