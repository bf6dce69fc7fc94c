"""Phones that sync beside bare commits, in the same run: waiting with group commit, and that nothing is lost.

Invented entries over the real page calls, without a network: 100 phones send 10 entries each second. Printed
is the time from sending to the answer, as a ratio to one bare SQLite commit with full sync on the same disk.
Run with ``PYTHONPATH=src .venv/bin/python benchmarks/sync.py [--quick] [FOLDER]``; the folder must lie on a
real disk, as a disk in memory has nothing to sync to.
"""

import asyncio
import json
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from lineproof.desk.record_book import job_uuid, settings_of
from lineproof.desk.web.app import create_app
from lineproof.job.folder import new_job
from lineproof.logbook.entry import NOTHING_BEFORE, Entry, make, moment_text, new_id
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify
from lineproof.logbook.writing import DeviceClock

QUICK = "--quick" in sys.argv
PLACES = [word for word in sys.argv[1:] if not word.startswith("-")]
PHONES, EACH, SECONDS = 100, 10, 5 if QUICK else 60
ALLOWED_S = 0.25


def chain(job: str, phone: int, count: int) -> list[Entry]:
    writer, who, previous, made = new_id(), new_id(), NOTHING_BEFORE, []
    now = DeviceClock("UTC").read()
    for n in range(1, count + 1):
        entry = make(
            {
                "version": 1, "kind": "hold_end", "kind_version": 1, "id": new_id(), "job": job,
                "writer": writer, "sequence": n, "previous": previous, "wall": moment_text(now.wall),
                "zone": "UTC", "monotonic": f"{n}.000000", "boot": "bench", "synchronised": "unknown",
                "who": who, "device": "phone, bench", "software": "card", "tables": {},
                "body": {"joint": f"B-201/J{phone * 40 + n % 40}"},
            }
        )  # fmt: skip
        made.append(entry)
        previous = entry.seal
    return made


def bare(folder: Path, count: int) -> list[float]:
    """Seconds of commits of ten rows each, on the same disk with full sync."""
    db = sqlite3.connect(folder / "bare.db", isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("CREATE TABLE entry (raw BLOB)")
    took = []
    for _ in range(count):
        start = time.perf_counter()
        db.execute("BEGIN IMMEDIATE")
        db.executemany("INSERT INTO entry VALUES (?)", [(b"x" * 600,)] * EACH)
        db.execute("COMMIT")
        took.append(time.perf_counter() - start)
    db.close()
    return took


async def post(app: Callable[..., Awaitable[None]], sent: bytes) -> dict[str, Any]:
    """One call of the application itself, as a server would make it."""
    told: list[bytes] = []
    parts = iter([{"type": "http.request", "body": sent, "more_body": False}])

    async def receive() -> dict[str, Any]:
        return next(parts, {"type": "http.disconnect"})

    async def send(message: dict[str, Any]) -> None:
        told.append(message.get("body", b""))

    scope = {
        "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": "POST",
        "path": "/sync/entries", "raw_path": b"/sync/entries", "root_path": "", "scheme": "http",
        "query_string": b"", "server": ("localhost", 80), "client": ("127.0.0.1", 1),
        "headers": [(b"host", b"localhost"), (b"content-type", b"application/x-ndjson"),
                    (b"content-length", str(len(sent)).encode())],
    }  # fmt: skip
    await app(scope, receive, send)
    answer: dict[str, Any] = json.loads(b"".join(told))
    return answer


async def phone(app: Any, entries: list[Entry], start: float, offset: float, took: list[float]) -> None:
    for second in range(SECONDS):
        await asyncio.sleep(max(0.0, start + second + offset - time.perf_counter()))
        some = entries[second * EACH : (second + 1) * EACH]
        begun = time.perf_counter()
        answer = await post(app, b"".join(e.raw + b"\n" for e in some))
        took.append(time.perf_counter() - begun)
        assert [k["seal"] for k in answer["entries"]] == [e.seal for e in some], answer


async def all_phones(app: Any, chains: list[list[Entry]], *, together: bool) -> list[float]:
    took: list[float] = []
    start = time.perf_counter() + 0.2
    await asyncio.gather(
        *(phone(app, c, start, 0.0 if together else n / PHONES, took) for n, c in enumerate(chains))
    )
    return took


def run(folder: Path, *, together: bool) -> None:
    new_job(folder)
    job = job_uuid(settings_of(folder))
    chains = [chain(job, n, EACH * SECONDS) for n in range(PHONES)]
    once = statistics.median(bare(folder, 100))
    app = create_app(folder)
    took = sorted(asyncio.run(all_phones(app, chains, together=together)))
    p95 = took[int(len(took) * 0.95)]
    time.sleep(2.5)  # the store is closed again by itself
    with SqliteStore(folder / "logbook.db") as store:
        kept = [s.entry.seal for s in store.read_since()]
        good = verify(store).good
    sent = [e.seal for c in chains for e in c]
    word = "all at the same moment" if together else "spread over the second"
    print(f"{PHONES} phones, {EACH} entries a second each for {SECONDS} s, {word}:")
    told = f"p50 {took[len(took) // 2] / once:.1f}, p95 {p95 / once:.1f}, worst {took[-1] / once:.1f}"
    print(f"  {told} bare commits ({once * 1000:.2f} ms); p95 is {p95 / ALLOWED_S:.2f} of what is allowed")
    print(f"  {len(took)} sendings in {app.state.inbox.group.commits} commits")
    print(f"  lost {len(set(sent) - set(kept))}, doubled {len(kept) - len(set(kept))}, as written: {good}")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=PLACES[0] if PLACES else None) as place:
        run(Path(place) / "spread", together=False)
        run(Path(place) / "together", together=True)
