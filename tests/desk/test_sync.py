"""What a phone sends: all or none, once, on the disk before it is answered, and nothing of it believed."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import threading
from collections.abc import Iterable, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lineproof.desk.record_book import job_uuid, settings_of
from lineproof.floor.errors import BadInput
from lineproof.logbook.entry import Entry, canonical, make, parse
from lineproof.logbook.fold import fold
from lineproof.logbook.group_commit import Answer, GroupCommit
from lineproof.logbook.inbox import LARGEST_LINE, MOST, read_sent
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify
from logbook.rig import chain, named
from raise_rig import Site, job_folder
from verb_rig import verb
from web_rig import client, small

TYPE = {"content-type": "application/x-ndjson"}
HELD = [("hold_end", {"joint": f"L/J{n}"}) for n in range(1, 6)]


def lines(entries: Iterable[Entry]) -> bytes:
    return b"".join(e.raw + b"\n" for e in entries)


@pytest.fixture
def job(tmp_path: Path) -> tuple[TestClient, str, Path]:
    folder = small(tmp_path / "job")
    return client(folder), job_uuid(settings_of(folder)), folder


def held(folder: Path) -> list[Entry]:
    with SqliteStore(folder / "logbook.db") as store:
        return [s.entry for s in store.read_since()]


def post(ask: TestClient, entries: Sequence[Entry] | bytes) -> Any:
    sent = entries if isinstance(entries, bytes) else lines(entries)
    return ask.post("/sync/entries", content=sent, headers=TYPE)


def test_entries_are_kept_as_sent_and_each_is_answered_with_its_seal(
    job: tuple[TestClient, str, Path],
) -> None:
    ask, uuid, folder = job
    sent = chain("one", HELD, job=uuid)
    told = post(ask, sent).json()
    assert [k["seal"] for k in told["entries"]] == [e.seal for e in sent]
    assert [k["id"] for k in told["entries"]] == [e.id for e in sent]
    assert all(k["new"] and not k["forked"] for k in told["entries"])
    assert [e.raw for e in held(folder)] == [e.raw for e in sent]
    again = post(ask, sent).json()
    assert [k["seal"] for k in again["entries"]] == [e.seal for e in sent], "a lost answer is asked again"
    assert not any(k["new"] for k in again["entries"])
    assert len(held(folder)) == 5
    heads = ask.get("/sync/heads", params={"writer": sent[0].writer}).json()["heads"]
    assert heads == [{"writer": sent[0].writer, "sequence": 5, "seal": sent[-1].seal}]
    assert ask.get("/sync/heads", params={"writer": "x' OR 1=1"}).json()["heads"] == []


def faulty(uuid: str) -> dict[str, tuple[bytes, str]]:
    good = chain("one", HELD, job=uuid)
    other = chain("two", HELD, job=uuid)
    wrong_body = chain("one", [("hold_end", {"joint": 7})], job=uuid)
    spaced = json.dumps(json.loads(good[1].raw)).encode()
    long = chain("one", [("note", {"text": "a" * LARGEST_LINE})], job=uuid)
    return {
        "another job": (lines(chain("one", HELD)), "of another job"),
        "two writers": (lines([*good, *other]), "line 6 cannot be taken: it is of another writer"),
        "a body not as its kind": (lines(wrong_body), "line 1 cannot be taken: hold_end is not as it should"),
        "bytes written anew": (good[0].raw + b"\n" + spaced + b"\n", "line 2 cannot be taken"),
        "a page of a portal": (b"<html><body>Sign in</body></html>", "line 1 cannot be taken"),
        "nothing": (b"", "0 entries were sent"),
        "a hole": (lines([good[0], *good[2:]]), "follows an entry 2 that is not here"),
        "not from the start": (lines(good[1:]), "follows an entry 1 that is not here"),
        "too long a line": (long[0].raw, "it holds"),
        "half a letter": (good[0].raw[:-3] + b"\xff\xfe\n", "line 1 cannot be taken"),
        "too many": (b"{}\n" * (MOST + 1), f"{MOST + 1} entries were sent"),
    }


@pytest.mark.parametrize("fault", [
    "another job", "two writers", "a body not as its kind", "bytes written anew", "a page of a portal",
    "nothing", "a hole", "not from the start", "too long a line", "half a letter", "too many",
])  # fmt: skip
def test_what_is_not_a_chain_is_refused_in_one_sentence_and_nothing_is_kept(
    job: tuple[TestClient, str, Path], fault: str
) -> None:
    ask, uuid, folder = job
    sent, says = faulty(uuid)[fault]
    told = post(ask, sent)
    assert told.status_code == 400
    assert says in told.json()["sentence"]
    assert "Traceback" not in told.text
    assert not (folder / "logbook.db").exists() or held(folder) == []


def test_only_entries_are_taken_and_only_from_here(job: tuple[TestClient, str, Path]) -> None:
    ask, uuid, folder = job
    sent = lines(chain("one", HELD, job=uuid))
    assert ask.post("/sync/entries", content=sent).status_code == 415, "a plain form of another page"
    away = ask.post("/sync/entries", content=sent, headers={**TYPE, "origin": "http://evil.example"})
    assert away.status_code == 403
    assert not (folder / "logbook.db").exists()


def test_another_body_under_a_known_id_is_kept_as_a_fork(job: tuple[TestClient, str, Path]) -> None:
    ask, uuid, folder = job
    first = chain("one", HELD, job=uuid)
    post(ask, first)
    fields = {**json.loads(first[-1].raw), "body": {"joint": "L/J9"}}
    second = make(fields)
    assert second.id == first[-1].id
    told = post(ask, [second]).json()["entries"]
    assert told == [{"id": second.id, "sequence": 5, "seal": second.seal, "new": True, "forked": True}]
    assert post(ask, [second]).json()["entries"][0]["forked"] is True, "and again, when asked again"
    kept = held(folder)
    assert [e.raw for e in kept] == [*(e.raw for e in first), second.raw]
    with SqliteStore(folder / "logbook.db") as store:
        state = fold(store.read_since())
        assert verify(store).good
    assert {f.why for f in state.forks} == {"place", "id"}
    assert all("fork" in state.joints[j].unclear for j in ("L/J5", "L/J9"))


def test_an_entry_of_newer_software_is_kept_and_forwarded(job: tuple[TestClient, str, Path]) -> None:
    ask, uuid, folder = job
    entry = chain("one", HELD[:1], job=uuid)[0]
    newer = make({**json.loads(entry.raw), "kind": "thing_of_tomorrow", "body": {"joint": "L/J1"}})
    assert post(ask, [newer]).status_code == 200
    assert held(folder)[0].raw == newer.raw


def test_the_file_a_phone_writes_is_imported_once(job: tuple[TestClient, str, Path], tmp_path: Path) -> None:
    """The second way out: no network at all."""
    _, uuid, folder = job
    sent = chain("one", HELD, job=uuid)
    file = tmp_path / "phone.jsonl"
    file.write_bytes(lines(sent))
    for new in ("5 new entries", "0 new entries"):
        said = verb("record", "import", file, "--job", folder)
        assert said.code == 0, said
        assert new in said.out
    assert [e.raw for e in held(folder)] == [e.raw for e in sent]
    file.write_bytes(lines(sent)[:-9] + b"\n")
    said = verb("record", "import", file, "--job", folder)
    assert said.code == 64
    assert "phone.jsonl:5" in said.err
    file.write_bytes(lines(chain("two", HELD)))
    assert "of another job" in verb("record", "import", file, "--job", folder).err
    assert len(held(folder)) == 5


# ---------------------------------------------------------------- many at once


class Slow:
    """A store whose commits are counted and held up until many wait."""

    def __init__(self, store: SqliteStore, gate: threading.Event) -> None:
        self._store = store
        self._gate = gate
        self.appends = 0

    def __getattr__(self, name: str) -> Any:
        return getattr(self._store, name)

    def append(self, entries: Sequence[Entry], *, merged: Sequence[str] = ()) -> Any:
        self._gate.wait(10)
        self.appends += 1
        return self._store.append(entries, merged=merged)


def test_what_waits_goes_into_one_commit_and_a_bad_one_holds_up_nobody(tmp_path: Path) -> None:
    uuid = named("job of many")
    gate = threading.Event()
    opened: list[Slow] = []

    def store() -> Any:
        opened.append(Slow(SqliteStore(tmp_path / "logbook.db", job=uuid), gate))
        return opened[-1]

    group = GroupCommit(store, lambda _store, _entries: [])
    phones = [chain(f"phone {n}", HELD, job=uuid) for n in range(30)]
    hole = chain("hole", HELD, job=uuid)[1:]
    waits: list[Future[Answer]] = [group.give(phones[0])]
    while not opened:  # the first is being written while the others come
        pass
    waits += [group.give(p) for p in phones[1:]]
    bad = group.give(hole)
    doubled = group.give(phones[3])
    assert not any(w.done() for w in waits), "nobody is answered before the commit"
    gate.set()
    for phone, wait in zip(phones, waits, strict=True):
        assert [k.seal for k in wait.result(10).kept] == [e.seal for e in phone]
    with pytest.raises(BadInput, match="follows an entry 1"):
        bad.result(10)
    assert [k.seal for k in doubled.result(10).kept] == [e.seal for e in phones[3]]
    assert sum(s.appends for s in opened) <= 3
    with SqliteStore(tmp_path / "logbook.db") as read:
        assert sorted(s.entry.seal for s in read.read_since()) == sorted(e.seal for p in phones for e in p)
        assert verify(read).good


def test_a_commit_that_fails_answers_nobody_and_the_next_one_works(tmp_path: Path) -> None:
    uuid = named("job of failing")
    broken = [True]

    def store() -> SqliteStore:
        if broken[0]:
            raise BadInput("the disk is full", next="make room")
        return SqliteStore(tmp_path / "logbook.db", job=uuid)

    group = GroupCommit(store, lambda _store, _entries: [])
    sent = chain("one", HELD, job=uuid)
    with pytest.raises(BadInput, match="disk is full"):
        group.give(sent).result(10)
    broken[0] = False
    assert [k.seal for k in group.give(sent).result(10).kept] == [e.seal for e in sent]


KILLED = """
import os, signal, sys
from pathlib import Path
from lineproof.logbook.group_commit import GroupCommit
from lineproof.logbook.inbox import read_sent
from lineproof.logbook.sqlite_store import SqliteStore

where, job, when = Path(sys.argv[1]), sys.argv[2], sys.argv[3]

class Store(SqliteStore):
    def append(self, entries, *, merged=()):
        taken = super().append(entries, merged=merged)
        if when == "inside" and len(entries) > 5:
            os.kill(os.getpid(), signal.SIGKILL)
        return taken

def after(store, entries):
    if when == "after" and len(entries) > 5:
        os.kill(os.getpid(), signal.SIGKILL)
    return []

group = GroupCommit(lambda: Store(where / "logbook.db", job=job), after)
for name in sorted(where.glob("*.jsonl")):
    group.give(read_sent(name.read_bytes(), job)).result(10)
    print(name.name, flush=True)
"""


@pytest.mark.parametrize("when", ["inside", "after"])
def test_a_kill_inside_a_commit_leaves_all_of_it_or_none_and_nobody_was_answered(
    tmp_path: Path, when: str
) -> None:
    uuid = named("job killed")
    one, two = chain("one", HELD, job=uuid), chain("two", HELD * 2, job=uuid)
    (tmp_path / "1.jsonl").write_bytes(lines(one))
    (tmp_path / "2.jsonl").write_bytes(lines(two))
    ran = subprocess.run(
        [sys.executable, "-c", KILLED, str(tmp_path), uuid, when], capture_output=True, text=True, check=False
    )
    assert ran.returncode == -signal.SIGKILL, ran.stderr
    assert ran.stdout.split() == ["1.jsonl"], "the second sending was not answered"
    with SqliteStore(tmp_path / "logbook.db", job=uuid) as store:
        kept = [s.entry.seal for s in store.read_since()]
        assert kept == [e.seal for e in one] + ([e.seal for e in two] if when == "after" else [])
        assert verify(store).good
    again = GroupCommit(lambda: SqliteStore(tmp_path / "logbook.db", job=uuid), lambda _s, _e: [])
    assert all(k.seal for k in again.give(two).result(10).kept)
    with SqliteStore(tmp_path / "logbook.db") as store:
        assert len(list(store.read_since())) == 15


# ---------------------------------------------------------------- releases, cards, and what a card may know


def test_a_late_entry_from_a_phone_withdraws_the_release_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = Site(job_folder(tmp_path / "job"), monkeypatch)
    site.made_and_cured()
    site.around()
    assert "RELEASED" in site.asks("--release").out
    ask = client(site.folder)
    site.clock.wait(minutes=5)
    assert ask.get("/sync/job").json()["under_pressure"] == ["S"]
    calm = chain("phone calm", [("note", {"text": "lunch"})], job=site.job, who=site.who("A"))
    assert post(ask, calm).json()["notes"] == []
    knock = chain(
        "phone", [("disturbed", {"joint": "L/J3", "how": "bucket"})], job=site.job, who=site.who("A"),
        start=site.clock.wall,
    )  # fmt: skip
    told = post(ask, knock).json()
    assert [k["seal"] for k in told["entries"]] == [knock[0].seal]
    assert any("is WITHDRAWN" in note for note in told["notes"])
    kinds = [e.kind for e in held(site.folder)]
    assert kinds.count("release_withdrawn") == 1
    post(ask, knock)
    assert [e.kind for e in held(site.folder)].count("release_withdrawn") == 1


def test_what_a_server_did_not_come_to_look_at_is_looked_at_when_the_phone_sends_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed between the commit and the look at the releases: nobody was answered, so it is sent again."""
    site = Site(job_folder(tmp_path / "job"), monkeypatch)
    site.made_and_cured()
    site.around()
    assert "RELEASED" in site.asks("--release").out
    site.clock.wait(minutes=5)
    knock = chain(
        "phone", [("disturbed", {"joint": "L/J3", "how": "bucket"})], job=site.job, who=site.who("A"),
        start=site.clock.wall,
    )  # fmt: skip
    site.store.append(knock)
    assert [e.kind for e in held(site.folder)].count("release_withdrawn") == 0
    told = post(client(site.folder), knock).json()
    assert told["entries"][0]["new"] is False
    assert any("is WITHDRAWN" in note for note in told["notes"])


def test_the_cement_card_is_sealed_when_a_phone_tells_a_joint(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = Site(job_folder(tmp_path / "job"), monkeypatch)
    made = [("joint_made", {"joint": "L/J1"}), ("joint_made", {"joint": "L/J2"})]
    post(client(site.folder), chain("phone", made, job=site.job))
    assert [e.kind for e in held(site.folder)] == ["joint_made", "joint_made", "card"]


def test_what_a_card_keeps_names_no_verdict_no_cure_and_no_way_to_pressure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = Site(job_folder(tmp_path / "job"), monkeypatch)
    site.made_and_cured()
    told = client(site.folder).get("/sync/job")
    data = told.json()
    assert set(data["joints"]) == set(site.joints())
    assert data["told"]["L/J1"]["made"] == 1
    facts = data["facts"][data["joints"]["L/J1"]["facts"]]
    assert facts["steps"][-1] == "home"
    assert facts["hold_s"]
    assert facts["hands_off_s"]
    words = {str(w).upper() for w in _words(data)}
    assert not words & {"GO", "CARE", "CURE", "CURING", "MAY BE TESTED", "PROVEN", "ADELANTE"}
    assert not [w for w in _words(data) if "cure" in str(w).lower() or "pressure_pa" in str(w)]
    assert {p["id"] for p in data["people"]} >= {"A", "B", "C"}


def _words(value: object) -> Iterable[object]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _words(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _words(inner)
    else:
        yield value


def test_reading_a_sending_gives_the_very_bytes() -> None:
    uuid = named("job of bytes")
    sent = chain("one", [("note", {"text": 'ü "quoted" \\ \u2028 \U0001f6e0'})], job=uuid)
    assert [e.raw for e in read_sent(lines(sent), uuid)] == [e.raw for e in sent]
    assert canonical(json.loads(sent[0].raw)) == sent[0].raw == parse(sent[0].raw).raw
