"""The power goes at every moment: images of the disk from the recorded writes and syncs, and real kills.

A kill alone cannot see a missing sync, as what was written stays in the system's memory. So every call of
SQLite to its files is recorded, and for every moment the disk is rebuilt with what was not synced dropped,
torn or zeroed. Not covered: a disk that loses what it said it had synced, and the making of the file itself.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from lineproof.floor.errors import LineproofError
from lineproof.job import write as writing_files
from lineproof.logbook.entry import Entry
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify
from logbook.rig import JOB, chain, named, store_at
from logbook.vfs import Call, Files, images, recorded

ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
TOLD = [("note", {"text": f"note {i} " + "x" * 300}) for i in range(14)]


def history(folder: Path, *, synchronous: str = "", pages: int = 0) -> list[Call]:
    """Appends of one to three entries, a checkpoint, a close, a second session: all calls, with acks."""
    entries = chain("one", TOLD)
    with recorded() as log:
        store = store_at(folder)
        log.append(Call("ack"))
        for setting in [f"synchronous = {synchronous}"] * bool(synchronous) + [
            f"wal_autocheckpoint = {pages}"
        ] * bool(pages):
            store.connection.execute(f"PRAGMA {setting}")
        for batch in (entries[:1], entries[1:3], entries[3:6], entries[6:7], entries[7:8]):
            store.append(batch)
            log.append(Call("ack", data=b"".join(each.raw + b"\n" for each in batch)))
        store.close()
        with SqliteStore(folder / "logbook.db") as again:
            for each in entries[8:]:
                again.append([each])
                log.append(Call("ack", data=each.raw + b"\n"))
    assert any(call.what == "sync" and call.file.endswith("-wal") for call in log) or synchronous, (
        "the shim does not see SQLite's files: its library is not the one this Python uses"
    )
    return log


def laid_out(image: Files, folder: Path) -> Path:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, content in image.items():
        (folder / Path(name).name).write_bytes(content)
    return folder / "logbook.db"


def lost(log: list[Call], folder: Path) -> list[str]:
    """Every way a power cut loses an acknowledged entry, half-writes one, or breaks the file."""
    first = next(i for i, call in enumerate(log) if call.what == "ack") + 1
    told = [line for call in log for line in call.data.splitlines() if call.what == "ack"]
    found: list[str] = []
    seen: set[tuple[tuple[str, bytes], ...]] = set()
    tried = 0
    for upto in range(first, len(log) + 1):
        acked = sum(len(call.data.splitlines()) for call in log[:upto] if call.what == "ack")
        for what, image in images(log, upto):
            key = (*sorted(image.items()), ("", bytes([acked])))
            if key in seen:
                continue
            seen.add(key)
            tried += 1
            path = laid_out(image, folder)
            try:
                with SqliteStore(path) as store:
                    there = [stored.entry.raw for stored in store.read_since()]
                    good = verify(store).good
            except LineproofError as error:
                found.append(f"after call {upto}, {what}: {error}")
                continue
            if there[:acked] != told[:acked] or there != told[: len(there)] or not good:
                found.append(f"after call {upto}, {what}: {len(there)} entries, {acked} acknowledged, {good}")
    assert tried > 50, "the history is too short to tell anything"
    return found


@pytest.mark.parametrize("pages", [0, 4], ids=["rare checkpoints", "a checkpoint at nearly every commit"])
def test_no_power_cut_loses_an_acknowledged_entry(tmp_path: Path, pages: int) -> None:
    log = history(tmp_path / "made", pages=pages)
    assert lost(log, tmp_path / "image") == []


def test_a_batch_is_there_whole_or_not_at_all(tmp_path: Path) -> None:
    log = history(tmp_path / "made")
    whole = set()
    first = next(i for i, call in enumerate(log) if call.what == "ack") + 1
    for upto in range(first, len(log) + 1):
        for _, image in images(log, upto):
            with SqliteStore(laid_out(image, tmp_path / "image")) as store:
                whole.add(len(list(store.read_since())))
    assert whole == {0, 1, 3, 6, 7, 8, 9, 10, 11, 12, 13, 14}, "entries 2 to 3 and 4 to 6 came as one"


@pytest.mark.parametrize("weaker", ["NORMAL", "OFF"])
def test_the_images_would_show_a_missing_sync(tmp_path: Path, weaker: str) -> None:
    log = history(tmp_path / "made", synchronous=weaker)
    assert lost(log, tmp_path / "image") != []


def test_a_wal_cut_or_spoilt_after_the_last_sync_loses_nothing_acknowledged(tmp_path: Path) -> None:
    """The WAL cut at many lengths inside the last commit, and its bytes there turned over."""
    entries = chain("one", TOLD)
    store = store_at(tmp_path / "made")
    wal = tmp_path / "made" / "logbook.db-wal"
    store.append(entries[:5])
    synced = wal.stat().st_size
    store.append(entries[5:6])
    main, log = (tmp_path / "made" / "logbook.db").read_bytes(), wal.read_bytes()
    assert len(log) > synced
    for at in range(synced, len(log), 97):
        for content in (log[:at], log[:at] + bytes([log[at] ^ 0xFF]) + log[at + 1 :]):
            image = {"logbook.db": main, "logbook.db-wal": content}
            with SqliteStore(laid_out(image, tmp_path / "image")) as again:
                there = [stored.entry for stored in again.read_since()]
            assert there in (entries[:5], entries[:6])


# ---- the shelf of files


def shelf_calls(folder: Path, monkeypatch: pytest.MonkeyPatch, contents: list[bytes]) -> list[Call]:
    """Put files, and note what reached the system: writes, syncs, renames, new folders."""
    log: list[Call] = []
    real_fsync, real_replace, real_mkdir = os.fsync, Path.replace, Path.mkdir

    def fsync(handle: int) -> None:
        real_fsync(handle)
        name = str(Path(f"/proc/self/fd/{handle}").readlink())
        if Path(name).is_dir():
            log.append(Call("sync-folder", name))
        else:
            log.append(Call("write", name, 0, Path(name).read_bytes()))
            log.append(Call("sync", name))

    def replace(self: Path, target: Path) -> Path:
        if not any(call.what == "write" and call.file == str(self) for call in log):
            log.append(Call("write", str(self), 0, self.read_bytes()))
        log.append(Call("rename", str(self), data=str(target).encode()))
        return real_replace(self, target)

    def mkdir(self: Path, *given: object, **named: object) -> None:
        log.append(Call("mkdir", str(self)))
        real_mkdir(self, *given, **named)  # type: ignore[arg-type]  # handed on as given

    monkeypatch.setattr(Path, "replace", replace)
    monkeypatch.setattr(Path, "mkdir", mkdir)
    monkeypatch.setattr(writing_files.os, "fsync", fsync)
    shelf = Shelf(folder / "files")
    for content in contents:
        digest = shelf.put(content)
        log.append(Call("ack", digest, data=content))
    monkeypatch.undo()
    return log


def shelf_on_disk(log: list[Call], upto: int) -> tuple[set[str], dict[str, bytes]]:
    """Folders and file contents that surely are on the disk after so many calls; the rest may be lost."""
    contents: dict[str, bytes] = {}
    synced: set[str] = set()
    new: list[Call] = []
    names: dict[str, str] = {}
    folders: set[str] = set()
    for call in log[:upto]:
        if call.what == "write":
            contents[call.file] = call.data
        elif call.what == "sync":
            synced.add(call.file)
        elif call.what in ("rename", "mkdir"):
            new.append(call)
        elif call.what == "sync-folder":
            for each in list(new):
                target = each.data.decode() if each.what == "rename" else each.file
                if str(Path(target).parent) == call.file:
                    new.remove(each)
                    if each.what == "mkdir":
                        folders.add(target)
                    else:
                        names[target] = each.file
    whole = {name: contents[source] if source in synced else b"torn" for name, source in names.items()}
    return folders, whole


def check_shelf(log: list[Call], root: Path) -> list[str]:
    bad = []
    for upto in range(len(log) + 1):
        folders, whole = shelf_on_disk(log, upto)
        for call in log[:upto]:
            if call.what == "ack":
                path = root / "files" / call.file[:2] / call.file
                missing = [str(p) for p in (path.parent, path.parent.parent) if str(p) not in folders]
                if whole.get(str(path)) != call.data or missing:
                    bad.append(f"after call {upto}: {call.file[:8]} is not surely there")
    return bad


def test_a_file_that_was_taken_is_on_the_disk_with_its_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log = shelf_calls(tmp_path, monkeypatch, [b"one", b"two", b"three", b"one"])
    assert [call.what for call in log].count("ack") == 4
    assert check_shelf(log, tmp_path) == []


@pytest.mark.parametrize("left_out", ["sync", "sync-folder", "rename"])
def test_the_check_of_the_shelf_sees_a_missing_sync(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, left_out: str
) -> None:
    log = shelf_calls(tmp_path, monkeypatch, [b"one", b"two"])
    assert check_shelf([call for call in log if call.what != left_out], tmp_path) != []


def test_a_torn_file_is_never_taken_for_the_whole_one(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "files")
    digest = shelf.put(b"photo of J31")
    for cut in range(12):
        shelf.place(digest).write_bytes(b"photo of J31"[:cut])
        with pytest.raises(LineproofError):
            shelf.get(digest)
    assert shelf.put(b"photo of J31") == digest
    assert shelf.get(digest) == b"photo of J31"


# ---- real kills

CHILD = """
import sys
from pathlib import Path
from lineproof.logbook.writing import DeviceClock, Pen, Writer
from lineproof.logbook.sqlite_store import SqliteStore
folder, job, word, who = Path(sys.argv[1]), sys.argv[2], sys.argv[3], sys.argv[4]
count = int(sys.argv[5])
store = SqliteStore(folder / "logbook.db", job=job)
pen = Pen(store, Writer(id=word, who=who, device="child", software="0.1.0"), DeviceClock("UTC"))
out = sys.stdout
while count:
    entry, _ = pen.write("hold_end", {"joint": "B-201/J31"})
    out.write(entry.id + "\\n")
    out.flush()
    count -= 1
store.close()
"""


def child(folder: Path, word: str, count: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", CHILD, str(folder), JOB, word, word, str(count)],
        stdout=subprocess.PIPE,
        text=True,
        env=ENVIRONMENT,
    )


def kill_at_random(folder: Path, times: int, after: Callable[[], float]) -> tuple[int, int]:
    """Kill a writing child again and again; every entry it told of must be there. Gives how many."""
    told: list[str] = []
    for _ in range(times):
        process = child(folder, named("writer child"), 10**6)
        assert process.stdout is not None
        told.append(process.stdout.readline().strip())
        time.sleep(after())
        process.send_signal(signal.SIGKILL)
        rest = process.stdout.read()
        told += [line for line in rest.split("\n")[:-1] if line]
        process.stdout.close()
        process.wait()
        with SqliteStore(folder / "logbook.db") as store:
            kept = [stored.entry.id for stored in store.read_since()]
            checked = verify(store)
        assert (checked.good, checked.holes, checked.forks) == (True, (), ())
        assert set(told) <= set(kept)
        assert len(kept) - len(told) <= times, "at most one was on its way at each kill"
    return len(told), len(kept)


def test_kills_at_random_moments_lose_nothing_that_was_told(tmp_path: Path) -> None:
    dice = random.Random(3)
    told, kept = kill_at_random(tmp_path, 25, lambda: dice.random() * 0.03)
    assert told > 25
    assert kept >= told


@pytest.mark.slow
def test_two_hundred_kills_lose_nothing_that_was_told(tmp_path: Path) -> None:
    dice = random.Random(4)
    told, kept = kill_at_random(tmp_path, 200, lambda: dice.random() * 0.02)
    assert told > 200
    assert kept >= told


def test_sixteen_writers_at_once_make_sixteen_whole_chains(tmp_path: Path) -> None:
    each = 500
    children = [child(tmp_path, named(f"writer {i}"), each) for i in range(16)]
    told = set()
    for process in children:
        assert process.stdout is not None
        told |= set(process.stdout.read().split())
        process.stdout.close()
        assert process.wait() == 0
    with SqliteStore(tmp_path / "logbook.db") as store:
        kept: list[Entry] = [stored.entry for stored in store.read_since()]
        checked = verify(store)
    assert {entry.id for entry in kept} == told
    assert len(kept) == 16 * each
    assert (checked.good, checked.holes, checked.forks) == (True, (), ())
    assert len({entry.writer for entry in kept}) == 16


# ---- a full disk


@pytest.mark.parametrize("pages", [1, 2, 3, 5])
def test_a_full_disk_refuses_in_words_with_nothing_half_written(tmp_path: Path, pages: int) -> None:
    """SQLite's own limit on the size of the file stands for the full disk."""
    store = store_at(tmp_path)
    entries = chain("one", [("note", {"text": "x" * 3000})] * 40)
    store.append(entries[:2])
    now = store.connection.execute("PRAGMA page_count").fetchone()[0]
    store.connection.execute(f"PRAGMA max_page_count = {now + pages}")
    said, kept = "", 2
    while not said:
        try:
            store.append(entries[kept : kept + 2])
            kept += 2
        except LineproofError as error:
            said = str(error)
    assert "the disk is full" in said
    assert [stored.entry for stored in store.read_since()] == entries[:kept]
    assert verify(store).good
    store.connection.execute("PRAGMA max_page_count = 100000")
    store.append(entries[kept:])
    assert len(list(store.read_since())) == 40


FULL = """
import resource, sys
from pathlib import Path
from lineproof.floor.errors import LineproofError
from lineproof.logbook.sqlite_store import SqliteStore
from logbook.rig import JOB, chain
store = SqliteStore(Path(sys.argv[1]), job=JOB)
entries = chain("one", [("note", {"text": "x" * 3000})] * 400)
store.append(entries[:1])
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), int(sys.argv[2])))
done = 1
try:
    for each in entries[1:]:
        store.append([each])
        done += 1
except LineproofError as error:
    print(error)
print(done, len(list(store.read_since())))
"""


@pytest.mark.parametrize("size", [100_000, 200_001, 300_002, 500_003])
def test_a_disk_that_takes_no_more_bytes_refuses_in_words(tmp_path: Path, size: int) -> None:
    """The system itself refuses further bytes (its limit on the size of a file), also half-way in a page."""
    path = tmp_path / "logbook.db"
    run = subprocess.run(
        [sys.executable, "-c", FULL, str(path), str(size)],
        capture_output=True,
        text=True,
        check=False,
        env=ENVIRONMENT,
    )
    assert run.stderr == ""
    sentence, counts = run.stdout.splitlines()
    assert "the disk is full or does not take what is written; nothing of this was kept" in sentence
    done, there = (int(count) for count in counts.split())
    assert 1 <= done < 400
    assert there == done
    with SqliteStore(path) as store:
        entries = chain("one", [("note", {"text": "x" * 3000})] * 400)
        assert [stored.entry for stored in store.read_since()] == entries[:done]
        assert verify(store).good
        store.append(entries[done : done + 1])


def test_a_shelf_on_a_full_disk_refuses_in_words(tmp_path: Path) -> None:
    script = (
        "import resource, sys\n"
        "from pathlib import Path\n"
        "from lineproof.floor.errors import LineproofError\n"
        "from lineproof.logbook.shelf import Shelf\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "shelf = Shelf(Path(sys.argv[1]))\n"
        "try:\n"
        "    shelf.put(b'x' * 5000)\n"
        "except LineproofError as error:\n"
        "    print(error)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "files")],
        capture_output=True,
        text=True,
        check=True,
        env=ENVIRONMENT,
    )
    assert "cannot be written" in run.stdout
    assert [path for path in (tmp_path / "files").rglob("*") if path.is_file()] == []
