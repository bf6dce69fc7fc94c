"""A page costs no more for a large job than for a small one: statements of SQL, and bytes for a phone."""

from __future__ import annotations

import sqlite3
import sys
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from web_rig import client

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"

pytestmark = pytest.mark.slow

FEW, MANY = 100, 2_000
BATCH = 50
"""Entries of a receipt. [-]"""
PAGES = ("/", "/lines", "/tape", "/pieces", "/joints", "/may", "/people", "/papers")
MOST_SQL = 60
"""Statements of a page once the job is held. [-]"""
MOST_BYTES = 250_000
"""Largest page that a phone is given. [bytes]"""


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every statement of SQL from here on."""
    told: list[str] = []
    connect = sqlite3.connect

    def traced(*args: Any, **kwargs: Any) -> sqlite3.Connection:
        made = connect(*args, **kwargs)
        made.set_trace_callback(told.append)
        return made

    monkeypatch.setattr("lineproof.logbook.sqlite_store.sqlite3.connect", traced)
    return told


def recorded(folder: Path, entries: int) -> TestClient:
    """A generated job with so many entries in its logbook."""
    import generated
    from release import Hand

    from lineproof.desk.record_book import job_uuid, settings_of
    from lineproof.logbook.sqlite_store import SqliteStore

    generated.write_job(folder, entries)
    job = job_uuid(settings_of(folder))
    hand = Hand(job)
    from datetime import UTC, datetime, timedelta

    at = datetime(2026, 5, 4, 14, tzinfo=UTC)
    for n in range(entries):
        hand.write(at + timedelta(minutes=n), "note", "A", {"text": f"invented note {n}"}, "office")
    with SqliteStore(folder / "logbook.db", job=job) as store:
        # The first receipt has none before it and is read with one statement less: two of them at least.
        for start in range(0, len(hand.made), BATCH):
            store.append(hand.made[start : start + BATCH])
    return client(folder)


def test_sql_and_bytes_stay_within_bounds(
    tmp_path: Path, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "path", [str(BENCHMARKS), *sys.path])  # not left on the path of the others
    counts: dict[int, dict[str, int]] = {}
    for entries in (FEW, MANY):
        at = recorded(tmp_path / str(entries), entries)
        for page in PAGES:
            assert at.get(page).status_code == 200  # held from here on
        site = at.app.state.site  # type: ignore[attr-defined]
        assert site.planned == 1
        for page in PAGES:
            said.clear()
            told = at.get(page)
            counts.setdefault(entries, {})[page] = len(said)
            assert len(told.content) < MOST_BYTES, page
            assert len(said) <= MOST_SQL, (page, said[:50])
        assert site.planned == 1
    assert any(counts[FEW].values()), "nothing was counted"
    assert {p: (counts[FEW][p], counts[MANY][p]) for p in PAGES if counts[MANY][p] > counts[FEW][p]} == {}
