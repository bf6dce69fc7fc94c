"""What the server holds between pages: never an old answer, never work twice, and no page that hangs."""

from __future__ import annotations

import os
import threading
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lineproof.desk.web import site as held
from lineproof.desk.web.app import create_app
from lineproof.desk.web.site import JobSite
from lineproof.floor.errors import LineproofError
from verb_rig import verb
from web_rig import HERE, broken, client, small


def walk_of(folder: Path) -> Path:
    return next((folder / "lines").glob("*.walk"))


def test_a_plan_is_made_once_and_again_when_a_byte_changes(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    site = JobSite(folder)
    first = site.pack()
    assert site.pack() is first
    assert site.planned == 1
    file = walk_of(folder)
    before, stat = file.read_text("utf-8"), file.stat()
    file.write_text(
        before.replace("8'-0\"", "9'-0\"", 1).replace("8'-0\", 8'-6\"", "9'-0\", 8'-6\"", 1), "utf-8"
    )
    assert file.stat().st_size == stat.st_size
    # The same size, and the time set back: only the content tells.
    os.utime(file, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    try:
        second = site.pack()
        assert second is not first
    except LineproofError:
        pass  # another walk, and one that does not close: not the old plan either
    assert site.planned == 2
    file.write_text(before, "utf-8")
    assert site.pack().joints == first.joints
    site.close()


def test_now_is_judged_again_after_an_entry_and_after_a_minute(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = small(tmp_path / "job")
    site = JobSite(folder)
    first = site.now()
    assert site.now() is first
    assert site.judged == 1
    ticks = held.time.monotonic
    monkeypatch.setattr(held.time, "monotonic", lambda: ticks() + held.FRESH_S + 1)
    assert site.now() is not first
    assert site.judged == 2
    told = verb("record", "add", "note", "text=the trench is wet", "--by", "P-1", "--job", folder)
    assert told.code == 0, told.err
    assert site.now().answer.entries > first.answer.entries
    site.close()


def test_what_is_not_read_yet_is_said_at_once_and_comes_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = small(tmp_path / "job")
    gate, asked = threading.Event(), threading.Event()
    real = held.read_job

    def slow(folder: Path) -> object:
        asked.set()
        assert gate.wait(60)
        return real(folder)

    monkeypatch.setattr(held, "read_job", slow)
    at = TestClient(create_app(folder, patience=0.01), base_url=HERE)
    for address in ("/joints", "/joints?in=es", "/pieces", "/may", "/lines"):
        told = at.get(address)
        assert told.status_code == 202
        assert told.headers["refresh"] == "2"
        assert f'href="{address}"' in told.text
        assert told.text.count("<h1>") == 1
    assert "Still reading the job" in told.text or "Todavía" in told.text
    assert at.get("/figures").status_code == 200  # needs no plan
    assert at.get("/papers").status_code == 200
    gate.set()
    site: JobSite = at.app.state.site  # type: ignore[attr-defined]
    site.pack()
    assert at.get("/joints").status_code == 200
    assert site.planned == 1


def test_a_broken_job_is_read_once_and_says_so_each_time(tmp_path: Path) -> None:
    at = client(broken(tmp_path / "job"))
    site: JobSite = at.app.state.site  # type: ignore[attr-defined]
    for page in ("/joints", "/pieces", "/lines"):
        told = at.get(page)
        assert told.status_code == 409
        assert "gallop" in told.text
    assert site.planned == 1


def test_many_that_ask_at_once_share_the_work(tmp_path: Path) -> None:
    site = JobSite(small(tmp_path / "job"))
    found: list[object] = []
    asks = [threading.Thread(target=lambda: found.append(site.now())) for _ in range(8)]
    for ask in asks:
        ask.start()
    for ask in asks:
        ask.join(60)
    assert len(found) == 8
    assert len(set(map(id, found))) == 1
    assert site.judged == 1
    site.close()
