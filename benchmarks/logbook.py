"""The logbook beside bare SQLite, in the same run: a durable entry, and the check of a chain.

Invented entries. Run with ``PYTHONPATH=src .venv/bin/python benchmarks/logbook.py [--quick] [FOLDER]``; the
folder must lie on a real disk, as a disk in memory has nothing to sync to.
"""

import gc
import hashlib
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from lineproof.logbook.entry import NOTHING_BEFORE, Entry, make, moment_text, new_id
from lineproof.logbook.fold import Fold
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import Stored
from lineproof.logbook.verify import check_chains, verify
from lineproof.logbook.writing import DeviceClock, Pen, Writer

QUICK = "--quick" in sys.argv
PLACES = [word for word in sys.argv[1:] if not word.startswith("-")]
TURN = 100
JOB, WHO = new_id(), new_id()
BODY = {
    "joint": "B-201/J31",
    "note": "hold let go, no push back seen, bead all round, straps still on",
    "pushed_back": {"typed": "0 mm", "si": "0", "unit": "m"},
}


def entries(count: int, writers: int = 1) -> list[Entry]:
    names = [new_id() for _ in range(writers)]
    ends = dict.fromkeys(names, (0, NOTHING_BEFORE))
    now = DeviceClock("Europe/London").read()
    made = []
    for i in range(count):
        writer = names[i % writers]
        sequence, previous = ends[writer]
        entry = make(
            {
                "version": 1, "kind": "hold_end", "kind_version": 1, "id": new_id(), "job": JOB,
                "writer": writer, "sequence": sequence + 1, "previous": previous,
                "wall": moment_text(now.wall), "zone": now.zone, "monotonic": f"{now.monotonic:f}",
                "boot": now.boot, "synchronised": "yes", "who": WHO, "device": "bench", "software": "0.1.0",
                "tables": {}, "body": {**BODY, "joint": f"B-201/J{i % 10_000}"},
            }
        )  # fmt: skip
        ends[writer] = (sequence + 1, entry.seal)
        made.append(entry)
    return made


def bare(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("CREATE TABLE t (n INTEGER PRIMARY KEY, raw BLOB NOT NULL) STRICT")
    return db


def durable(folder: Path) -> None:
    """One entry a commit, turn by turn with a bare commit of the same bytes."""
    count = 1_000 if QUICK else 4_000
    given = entries(count)
    store, db = SqliteStore(folder / "logbook.db", job=JOB), bare(folder / "bare.db")
    ours, theirs = [], []
    # In turns of a hundred, so that neither pays for what the other left to the disk.
    for turn in range(0, count, TURN):
        for entry in given[turn : turn + TURN]:
            start = time.perf_counter()
            store.append([entry])
            ours.append(time.perf_counter() - start)
        for entry in given[turn : turn + TURN]:
            start = time.perf_counter()
            db.execute("BEGIN IMMEDIATE")
            db.execute("INSERT INTO t (raw) VALUES (?)", (entry.raw,))
            db.execute("COMMIT")
            theirs.append(time.perf_counter() - start)
    pen = Pen(store, Writer(id=new_id(), who=WHO, device="bench", software="0.1.0"), DeviceClock("UTC"))
    made = []
    for _ in range(count // 2):
        start = time.perf_counter()
        pen.write("hold_end", BODY)
        made.append(time.perf_counter() - start)
    store.close()
    db.close()
    for name, many in (("append of an entry", ours), ("pen: clocks, body, entry, append", made)):
        ratio, middle_ratio = (f(many) / f(theirs) for f in (statistics.fmean, statistics.median))
        print(
            f"{name:34} {statistics.fmean(many) * 1e6:6.0f} us,"
            f" bare {statistics.fmean(theirs) * 1e6:6.0f} us:"
            f" ratio {ratio:.2f}, of medians {middle_ratio:.2f} (aim: at most 1.50)"
        )


def best(what: Callable[[], object], of: int = 3) -> float:
    times = []
    for _ in range(of):
        gc.collect()
        start = time.perf_counter()
        what()
        times.append(time.perf_counter() - start)
    return min(times)


def chains(folder: Path) -> None:
    """The walk of all chains beside reading the same rows and hashing their bytes."""
    count = 100_000 if QUICK else 1_000_000
    store = SqliteStore(folder / "long.db", job=JOB)
    for _ in range(10):
        store.append(entries(count // 10, writers=20))

    def peer() -> None:
        for row in store.rows():
            hashlib.sha256(row[6]).digest()

    odd: list[object] = []
    theirs = best(peer)
    ours = best(lambda: check_chains(store.rows(), odd.append))
    assert not odd
    print(
        f"chain check of {count} entries       {ours:6.2f} s, read and hash {theirs:6.2f} s:"
        f" ratio {ours / theirs:.2f} (aim: at most 1.30)"
    )
    start = time.perf_counter()
    assert verify(store).good
    print(f"everything verified                {time.perf_counter() - start:6.2f} s")
    store.close()


def folding() -> None:
    count = 20_000
    told = [Stored(entry, 1, i) for i, entry in enumerate(entries(count, writers=20), 1)]
    growing = Fold()
    start = time.perf_counter()
    for each in told[:-100]:
        growing.add(each)
    growing.state()
    whole = time.perf_counter() - start
    before = growing.folded
    start = time.perf_counter()
    for each in told[-100:]:
        growing.add(each)
        growing.state()
    one = (time.perf_counter() - start) / 100
    print(
        f"fold of {count} entries on 10,000 joints {whole:5.2f} s; one more {one * 1e3:.1f} ms,"
        f" entries folded for it {(growing.folded - before) / 100:.0f} (aim: at most 1)"
    )


def main() -> None:
    with tempfile.TemporaryDirectory(dir=PLACES[0] if PLACES else None) as place:
        durable(Path(place))
        folding()
        chains(Path(place))


if __name__ == "__main__":
    main()
