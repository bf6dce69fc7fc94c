"""Pages of invented jobs, asked by a client in this process or served to a real browser."""

from __future__ import annotations

import contextlib
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from importlib import resources
from pathlib import Path

import uvicorn
from playwright.sync_api import Browser, sync_playwright
from starlette.testclient import TestClient

from lineproof.desk.web.app import create_app
from lineproof.job.folder import new_job

HERE = "http://localhost"


def works(folder: Path) -> Path:
    """The built-in invented treatment works."""
    new_job(folder, like=resources.files("lineproof") / "demo" / "brackstow")
    return folder


def small(folder: Path) -> Path:
    """The short job a new folder starts with."""
    new_job(folder)
    return folder


def broken(folder: Path) -> Path:
    """A job whose walk cannot be read."""
    new_job(folder)
    file = next((folder / "lines").glob("*.walk"))
    file.write_text(file.read_text("utf-8").replace("go ", "gallop "), "utf-8")
    return folder


def client(folder: Path) -> TestClient:
    """Asks the pages of a job as a browser on this machine would."""
    return TestClient(create_app(folder), base_url=HERE, raise_server_exceptions=True)


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """The pages on a port of this machine, for a real browser."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(
        uvicorn.Config(create_app(folder), host="127.0.0.1", port=port, log_level="error")
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    try:
        yield f"http://localhost:{port}"
    finally:
        server.should_exit = True
        thread.join(10)


@contextlib.contextmanager
def browser() -> Iterator[Browser]:
    """The system's Chromium; a missing one fails."""
    chromium = shutil.which("chromium")
    assert chromium, "Chromium is not installed: ./test says how"
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield started
        started.close()
