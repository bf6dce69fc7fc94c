"""Fills a small disk with entries, makes room, goes on: run by test_small_disk as a process of its own.

Words: a folder on the small disk; then, where the system lets nobody make a small disk, a limit of bytes.
Prints JSON: what it said when full, how many entries it had acknowledged, what is there, what stands then.
"""

from __future__ import annotations

import json
import resource
import sys
from pathlib import Path

from lineproof.floor.errors import LineproofError
from lineproof.logbook.backup import backup
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify
from logbook.rig import JOB, chain

ROOM = 300_000  # bytes of the ballast that is thrown out once the disk is full


def fill(folder: Path, most: int) -> dict[str, object]:
    ballast = folder / "ballast"
    ballast.write_bytes(b"x" * ROOM)
    entries = chain("one", [("note", {"text": "x" * 3000})] * 2000)
    store = SqliteStore(folder / "logbook.db", job=JOB)
    store.append(entries[:1])
    if most:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))
    done, said = 1, ""
    while not said:
        try:
            store.append([entries[done]])
            done += 1
        except LineproofError as error:
            said = str(error)
    there = len(list(store.read_since()))
    good = verify(store).good
    backed_up = ""
    try:
        backup(store, folder / "copy.db")
    except LineproofError as error:
        backed_up = str(error)
    ballast.unlink()
    (folder / "copy.db").unlink(missing_ok=True)
    if most:
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    store.append([entries[done]])
    store.close()
    with SqliteStore(folder / "logbook.db") as again:
        kept = [stored.entry.seal for stored in again.read_since()]
        sound = verify(again).good
    return {
        "said": said, "done": done, "there": there, "good": good, "backed_up": backed_up,
        "same": kept == [entry.seal for entry in entries[: done + 1]], "sound": sound,
    }  # fmt: skip


if __name__ == "__main__":
    told = fill(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
    sys.stdout.write(json.dumps(told))
