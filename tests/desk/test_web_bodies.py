"""Bodies of forms and calls at the edge of the server: type, size, pace, and what breaks off."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import pytest
from starlette.types import Message, Scope

from lineproof.desk.web import guard
from lineproof.desk.web.access import ROWS
from lineproof.desk.web.app import create_app
from web_rig import client, small

WRITING = [row for row in ROWS if row.method == "POST"]


def ask(app: Any, scope: dict[str, Any], messages: list[Message | float]) -> tuple[int, str]:
    """One request, told message by message; a number is a pause without an end in it."""
    told: list[Message] = []

    async def receive() -> Message:
        if not messages:
            await asyncio.sleep(3600)
        first = messages.pop(0)
        if isinstance(first, float):
            await asyncio.sleep(first)
            return await receive()
        return first

    async def send(message: Message) -> None:
        told.append(message)

    whole: Scope = {
        "type": "http", "http_version": "1.1", "method": "POST", "scheme": "http", "query_string": b"",
        "server": ("127.0.0.1", 80), "client": ("127.0.0.1", 9), "root_path": "",
        "headers": [(b"host", b"localhost"), (b"content-type", b"application/x-ndjson")],
        **scope,
    }  # fmt: skip
    whole.setdefault("raw_path", whole["path"].encode())
    asyncio.run(app(whole, receive, send))
    return told[0]["status"], b"".join(m.get("body", b"") for m in told).decode()


def part(body: bytes, more: bool = True) -> Message:
    return {"type": "http.request", "body": body, "more_body": more}


@pytest.mark.parametrize("row", WRITING, ids=lambda row: row.path)
def test_each_call_takes_its_own_types_and_no_more_than_its_size(tmp_path: Path, row: Any) -> None:
    folder = small(tmp_path / "job")
    before = sorted(folder.rglob("*"))
    path = row.path.replace("{line:path}", "EX-1")
    with client(folder) as page:
        for kind in sorted({"text/html", "image/svg+xml", "application/octet-stream", ""} - {*row.takes}):
            told = page.post(path, content=b"x", headers={"content-type": kind})
            assert told.status_code == 415, kind
            assert row.takes[0] in told.text
        large = b"x" * (row.largest + 1)
        assert page.post(path, content=large, headers={"content-type": row.takes[0]}).status_code == 413
    assert sorted(folder.rglob("*")) == before


def test_a_body_that_says_less_than_it_sends_is_cut_off(tmp_path: Path) -> None:
    app = create_app(small(tmp_path / "job"))
    piece = b"x" * 300_000
    code, said = ask(app, {"path": "/sync/entries"}, [part(piece)] * 4)
    assert code == 413
    assert "larger than" in said
    code, said = ask(app, {"path": "/sync/entries"}, [part(piece), {"type": "http.disconnect"}])
    assert code == 400
    assert "broke off" in said


def test_a_body_that_drips_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "PATIENCE_S", 0.05)
    app = create_app(small(tmp_path / "job"))
    code, said = ask(app, {"path": "/sync/entries"}, [part(b"{"), 30.0, part(b"}", more=False)])
    assert code == 408
    assert "too slowly" in said


@pytest.mark.parametrize("length", ["-1", "1e3", "٣", "12, 13", "", "0x10"])
def test_a_length_that_is_no_number_is_refused(tmp_path: Path, length: str) -> None:
    app = create_app(small(tmp_path / "job"))
    headers = [(b"host", b"localhost"), (b"content-type", b"application/x-ndjson")]
    headers.append((b"content-length", length.encode("utf-8")))
    code, said = ask(app, {"path": "/sync/entries", "headers": headers}, [part(b"{}", more=False)])
    assert code == 400
    assert "not a number" in said


def test_a_request_by_another_socket_than_loopback_is_no_request_of_this_machine(tmp_path: Path) -> None:
    """Also under the right name: which socket took it is told by the server, not by the request."""
    app = create_app(small(tmp_path / "job"))
    for server in (("192.168.1.20", 8765), ("::", 8765), ("203.0.113.7", 80), None):
        told = ask(
            app, {"method": "GET", "path": "/static/lineproof.css", "server": server}, [part(b"", False)]
        )
        assert told[0] == 421, server
    assert ask(app, {"method": "GET", "path": "/static/mark.svg"}, [part(b"", False)])[0] == 200
