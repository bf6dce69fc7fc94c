"""The contract of a store: every implementation passes the same tests."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import cast

import pytest

from lineproof.floor.errors import BadInput, EntrySealed
from lineproof.logbook.entry import Entry
from lineproof.logbook.schema import refuse_foreign
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import NO_RECEIPT, Bare, Head, head_seal
from lineproof.logbook.verify import verify
from logbook.rig import JOB, START, chain, entry, every_kind, named, pen_for, store_at

MakeStore = Callable[[str], Bare]
KINDS_OF_STORE = {"sqlite": lambda folder, name: store_at(folder / name)}
NOTES = [("note", {"text": f"note {i}"}) for i in range(1, 7)]


@pytest.fixture(params=KINDS_OF_STORE)
def make_store(request: pytest.FixtureRequest, tmp_path: Path) -> MakeStore:
    return lambda name: KINDS_OF_STORE[request.param](tmp_path, name)


def ids(entries: list[Entry]) -> tuple[str, ...]:
    return tuple(each.id for each in entries)


def read(store: Bare, since: int = 0) -> list[bytes]:
    return [stored.entry.raw for stored in store.read_since(since)]


def test_an_empty_store(make_store: MakeStore) -> None:
    store = make_store("a")
    assert (store.receipt(), store.receipt(0), store.heads()) == (NO_RECEIPT, NO_RECEIPT, ())
    assert read(store) == []
    assert store.job == JOB
    assert verify(store).good
    with pytest.raises(BadInput, match="there is no receipt 1"):
        store.receipt(1)
    with pytest.raises(BadInput, match="there is no receipt 1"):
        list(store.read_since(1))


def test_what_is_appended_is_read_back_byte_for_byte(make_store: MakeStore) -> None:
    store = make_store("a")
    entries = chain("one", every_kind())
    taken = store.append(entries)
    assert (taken.new, taken.forked) == (ids(entries), ())
    assert read(store) == [each.raw for each in entries]
    assert store.heads() == (Head(entries[-1].writer, len(entries), entries[-1].seal),)
    assert verify(store).good


def test_reading_since_a_receipt_gives_what_came_after_it(make_store: MakeStore) -> None:
    store = make_store("a")
    entries = chain("one", NOTES)
    receipts = [store.append([each]).receipt for each in entries]
    assert [r.number for r in receipts] == [1, 2, 3, 4, 5, 6]
    for receipt in receipts:
        assert read(store, receipt.number) == [each.raw for each in entries[receipt.number :]]
        assert store.receipt(receipt.number) == receipt
    assert [s.receipt for s in store.read_since(4)] == [5, 6]


def test_receipts_are_a_chain_of_their_own(make_store: MakeStore) -> None:
    store = make_store("a")
    before = NO_RECEIPT
    for each in chain("one", NOTES):
        receipt = store.append([each]).receipt
        assert receipt.previous == before.seal
        assert receipt.head == head_seal(store.heads()) != before.head
        before = receipt


def test_the_same_bytes_again_give_the_same_receipt_and_nothing_new(make_store: MakeStore) -> None:
    store = make_store("a")
    entries = chain("one", NOTES)
    first = store.append(entries[:3]).receipt
    second = store.append(entries[3:]).receipt
    again = store.append(entries[:2])
    assert (again.receipt, again.new) == (first, ())
    assert store.append(entries).receipt == second == store.receipt()
    assert len(read(store)) == 6


def test_the_same_id_with_another_body_is_kept_as_a_fork_and_told(make_store: MakeStore) -> None:
    store = make_store("a")
    one = entry("one", 1, "0" * 64, "note", {"text": "as written"})
    other = entry("one", 1, "0" * 64, "note", {"text": "as written later"})
    assert one.id == other.id
    assert store.append([one]).forked == ()
    assert store.append([other]).forked == (one.id,)
    assert store.append([other]).new == ()
    assert read(store) == [one.raw, other.raw]
    checked = verify(store)
    assert checked.good
    assert sorted(fork.why for fork in checked.forks) == ["id", "place"]
    assert len(store.heads()) == 2


def test_the_same_id_at_another_place_is_a_fork(make_store: MakeStore) -> None:
    store = make_store("a")
    one, two = chain("one", NOTES[:2])
    elsewhere = entry("two", 1, "0" * 64, "note", {"text": "mine"}, id=one.id)
    store.append([one, two])
    assert store.append([elsewhere]).forked == (one.id,)
    assert [fork.at for fork in verify(store).forks] == [one.id]


def test_two_entries_at_one_place_are_a_fork_and_both_are_kept(make_store: MakeStore) -> None:
    store = make_store("a")
    one, two = chain("one", NOTES[:2])
    other = entry("one", 2, one.seal, "note", {"text": "the same phone, restored"}, id=named("another"))
    store.append([one, two])
    assert store.append([other]).forked == (other.id,)
    checked = verify(store)
    assert [str(fork) for fork in checked.forks] == [f"2 entries stand at place 2 of writer {one.writer}"]
    assert {head.seal for head in store.heads()} == {two.seal, other.seal}


def test_a_missing_place_is_a_named_hole_until_it_is_filled(make_store: MakeStore) -> None:
    store = make_store("a")
    entries = chain("one", NOTES)
    store.append([entries[0], entries[3], entries[5]])
    holes = verify(store).holes
    assert [(hole.first, hole.last) for hole in holes] == [(2, 3), (5, 5)]
    assert str(holes[1]) == f"entry 5 of writer {entries[0].writer} missing"
    store.append([entries[4], entries[2], entries[1]])
    assert verify(store).holes == ()
    assert store.heads() == (Head(entries[5].writer, 6, entries[5].seal),)
    assert verify(store).good


def test_heads_do_not_depend_on_the_order_of_arrival(make_store: MakeStore) -> None:
    entries = [*chain("one", NOTES), *chain("two", NOTES)]
    heads = set()
    for name, order in [("a", entries), ("b", entries[::-1]), ("c", entries[::2] + entries[1::2])]:
        store = make_store(name)
        for each in order:
            store.append([each])
        heads.add(store.receipt().head)
        assert verify(store).good
    assert len(heads) == 1


def test_an_entry_of_another_job_is_refused_and_nothing_is_kept(make_store: MakeStore) -> None:
    store = make_store("a")
    mine, other = chain("one", NOTES[:1]), chain("two", NOTES[:1], job=named("another job"))
    with pytest.raises(BadInput, match="is of another job"):
        store.append([*mine, *other])
    assert read(store) == []


def broken_off(store: Bare, entries: list[Entry]) -> None:
    with store.lock():
        store.append(entries)
        raise RuntimeError("power")


def test_under_the_lock_appends_stand_or_fall_together(make_store: MakeStore) -> None:
    store = make_store("a")
    entries = chain("one", NOTES)
    with store.lock():
        store.append(entries[:1])
        store.append(entries[1:2])
    with pytest.raises(RuntimeError, match="power"):
        broken_off(store, entries[2:3])
    assert read(store) == [each.raw for each in entries[:2]]
    assert store.receipt().number == 2
    assert store.append(entries[2:]).receipt.number == 3
    assert verify(store).good


def test_files_are_kept_by_their_hash(make_store: MakeStore) -> None:
    shelf = make_store("a").files()
    digest = shelf.put(b"photo of J31")
    assert shelf.put(b"photo of J31") == digest
    assert (shelf.get(digest), shelf.has(digest), list(shelf.names())) == (b"photo of J31", True, [digest])
    assert not shelf.has("00" * 32)
    with pytest.raises(BadInput, match="not on the shelf"):
        shelf.get("00" * 32)
    with pytest.raises(BadInput, match="not the hash of a file"):
        shelf.place("../../etc/passwd")


def test_a_file_that_was_changed_is_not_handed_out(make_store: MakeStore) -> None:
    store = make_store("a")
    digest = store.files().put(b"photo of J31")
    store.files().place(digest).write_bytes(b"photo of J32")
    with pytest.raises(EntrySealed, match="was changed after it was kept"):
        store.files().get(digest)
    assert not verify(store).good
    assert store.files().put(b"photo of J31") == digest
    assert verify(store).good


def test_a_file_that_an_entry_names_but_nobody_brought_is_told(make_store: MakeStore) -> None:
    store = make_store("a")
    digest = store.files().put(b"logger")
    for name, file in [("one", digest), ("two", "cd" * 32)]:
        store.append(chain(name, [("imported", {"file": file, "name": "logger.csv"})]))
    assert verify(store).files_missing == ("cd" * 32,)


def test_a_pen_goes_on_where_its_chain_ends(make_store: MakeStore) -> None:
    store = make_store("a")
    for _ in range(2):
        pen = pen_for(store, "one")
        for _ in range(3):
            pen.write("note", {"text": "x"})
            pen_for(store, "two").write("note", {"text": "y"})
    assert {(head.writer, head.sequence) for head in store.heads()} == {
        (named("writer one"), 6),
        (named("writer two"), 6),
    }
    assert (verify(store).good, verify(store).forks, verify(store).holes) == (True, (), ())


def test_a_pen_refuses_a_wrong_body_and_writes_nothing(make_store: MakeStore) -> None:
    store = make_store("a")
    with pytest.raises(BadInput, match="hold_end cannot be written: joint is missing"):
        pen_for(store).write("hold_end", {})
    assert read(store) == []


# ---- what is SQLite's own


@pytest.fixture
def filled(tmp_path: Path) -> SqliteStore:
    store = store_at(tmp_path)
    store.append(chain("one", NOTES))
    return store


COLUMNS = "(arrival, receipt, forked, id, writer, sequence, seal, raw)"


@pytest.mark.parametrize("guarded", [True, False])
@pytest.mark.parametrize(
    "attack",
    [
        "UPDATE entry SET raw = x'00' WHERE arrival = 3",
        "DELETE FROM entry WHERE arrival = 3",
        "INSERT OR REPLACE INTO entry SELECT * FROM entry WHERE arrival = 3",
        f"INSERT OR REPLACE INTO entry {COLUMNS}"
        " SELECT 99, receipt, forked, id, writer, sequence, seal, x'00' FROM entry WHERE arrival = 3",
        f"INSERT INTO entry {COLUMNS} SELECT * FROM entry WHERE arrival = 3"
        " ON CONFLICT (arrival) DO UPDATE SET raw = x'00'",
        f"INSERT OR IGNORE INTO entry {COLUMNS} SELECT * FROM entry WHERE arrival = 3",
        "UPDATE receipt SET raw = x'00'",
        "DELETE FROM receipt",
        "INSERT OR REPLACE INTO receipt SELECT * FROM receipt",
        "INSERT INTO receipt SELECT * FROM receipt WHERE true ON CONFLICT (number) DO UPDATE SET raw = x'00'",
        "UPDATE about SET value = 'x'",
        "DELETE FROM about",
        "INSERT OR REPLACE INTO about VALUES ('job', 'x')",
        "INSERT INTO about VALUES ('job', 'x') ON CONFLICT (what) DO UPDATE SET value = 'x'",
    ],
)
def test_triggers_stop_update_delete_replace_and_upsert(
    filled: SqliteStore, attack: str, guarded: bool
) -> None:
    """Also on a connection of another tool, which has not set recursive_triggers."""
    before = read(filled)
    other = filled.connection if guarded else sqlite3.connect(filled.path)
    with pytest.raises(sqlite3.IntegrityError, match="only added to"):
        other.execute(attack)
    if not guarded:
        other.rollback()
        other.close()
    assert read(filled) == before
    assert verify(filled).good


def test_the_file_is_set_so_that_every_commit_is_on_the_disk(filled: SqliteStore) -> None:
    ask = filled.connection.execute
    assert ask("PRAGMA journal_mode").fetchone() == ("wal",)
    assert ask("PRAGMA synchronous").fetchone() == (2,)  # FULL
    assert ask("PRAGMA recursive_triggers").fetchone() == (1,)
    strict = ask("SELECT name, strict FROM pragma_table_list WHERE schema = 'main'").fetchall()
    assert [name for name, is_strict in strict if not is_strict and not name.startswith("sqlite_")] == []


def test_a_logbook_of_another_job_is_not_opened(filled: SqliteStore) -> None:
    filled.close()
    with pytest.raises(BadInput, match="this logbook is of another job"):
        SqliteStore(filled.path, job=named("another job"))
    with SqliteStore(filled.path) as again:
        assert again.job == JOB


def test_a_missing_file_or_folder_is_said_in_words(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is no logbook yet"):
        SqliteStore(tmp_path / "none.db")
    with pytest.raises(BadInput, match="cannot be opened for writing"):
        SqliteStore(tmp_path / "no" / "logbook.db", job=JOB)
    with pytest.raises(BadInput, match="'J' is not a job"):
        SqliteStore(tmp_path / "logbook.db", job="J")


def test_another_database_is_not_taken_for_a_logbook(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "other.db") as db:
        db.execute("CREATE TABLE t (a)")
    db.close()
    with pytest.raises(BadInput, match="a database, but not a logbook"):
        SqliteStore(tmp_path / "other.db", job=JOB)


def test_a_newer_schema_is_refused_in_words_and_left_as_it_was(filled: SqliteStore) -> None:
    filled.connection.execute("INSERT INTO schema_step VALUES (9, 'from the future', 'later')")
    filled.close()
    before = filled.path.read_bytes()
    with pytest.raises(BadInput, match="newer software") as told:
        SqliteStore(filled.path)
    assert "nothing was changed" in str(told.value)
    assert filled.path.read_bytes() == before


def test_a_migration_that_fails_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from lineproof.logbook import schema

    monkeypatch.setattr(
        schema, "STEPS", (*schema.STEPS, (2, "broken", "CREATE TABLE half (a);\nSELECT no;\n"))
    )
    with pytest.raises(BadInput):
        store_at(tmp_path)
    db = sqlite3.connect(tmp_path / "logbook.db")
    assert db.execute("SELECT name FROM sqlite_master").fetchall() == []
    db.close()
    monkeypatch.undo()
    with store_at(tmp_path) as store:
        assert verify(store).good


def test_a_further_step_is_taken_on_an_old_file(filled: SqliteStore, monkeypatch: pytest.MonkeyPatch) -> None:
    from lineproof.logbook import schema

    before = read(filled)
    filled.close()
    more = (2, "places", "CREATE TABLE place (name TEXT PRIMARY KEY) STRICT;\n")
    monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, more))
    with SqliteStore(filled.path) as again:
        assert read(again) == before
        assert again.connection.execute("SELECT max(number) FROM schema_step").fetchone() == (2,)


def test_receipts_bear_the_time_of_the_store(tmp_path: Path) -> None:
    times = [START + timedelta(hours=h) for h in range(6)]
    store = store_at(tmp_path, clock=iter(times).__next__)
    for each in chain("one", NOTES):
        store.append([each])
    assert [store.receipt(n).received_at for n in range(1, 7)] == times


def test_a_file_that_another_process_makes_meanwhile_is_a_logbook(tmp_path: Path) -> None:
    """Between the first and the second look at the file the other process commits what it makes."""
    db = sqlite3.connect(tmp_path / "logbook.db", isolation_level=None)
    looks: list[str] = []

    class Seen:
        def __init__(self, row: tuple[int] | None) -> None:
            self.row = row

        def fetchone(self) -> tuple[int] | None:
            return self.row

    class Meanwhile:
        def execute(self, sql: str) -> Seen:
            row = db.execute(sql).fetchone()
            looks.append(sql)
            if len(looks) == 1:
                store_at(tmp_path).close()
            return Seen(row)

    refuse_foreign(cast(sqlite3.Connection, Meanwhile()), "logbook.db")
    assert len(looks) > 1
    db.close()
