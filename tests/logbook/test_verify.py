"""Damage and mischief: what was changed, taken out, swapped or put back from an old copy is named."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import sqlite3
from pathlib import Path

import pytest

from lineproof.floor.errors import BadInput, EntrySealed, LineproofError
from lineproof.logbook import sqlite_care
from lineproof.logbook.backup import backup
from lineproof.logbook.merge import find_head, merge
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import Checked, check_chains, verify
from logbook.rig import chain, every_kind, named, pen_for, store_at

SHOVEL = "UPDATE entry SET raw = CAST(replace(CAST(raw AS TEXT), 'bucket', 'shovel') AS BLOB)"
CHANGED = (
    "UPDATE entry SET raw = CAST(replace(CAST(raw AS TEXT), 'note 3', 'note 4') AS BLOB) WHERE arrival = 5"
)
NOTES = [("note", {"text": f"note {i}"}) for i in range(1, 13)]


def ten_lines(path: Path) -> list[str]:
    """A check that shares no code with the package: only SQLite, JSON and SHA-256."""
    bad, ends = [], {}
    for seal, raw in sqlite3.connect(path).execute("SELECT seal, raw FROM entry ORDER BY writer, sequence"):
        told = json.loads(raw)
        if hashlib.sha256(bytes.fromhex(told["previous"]) + raw).digest() != seal:
            bad.append(told["id"])
        if ends.get(told["writer"], bytes(32)).hex() != told["previous"]:
            bad.append(told["id"])
        ends[told["writer"]] = seal
    head = hashlib.sha256(b"".join(sorted(ends.values()))).hexdigest()
    return [*bad, head]


@pytest.mark.filterwarnings("ignore:unclosed database")
def test_an_independent_script_of_ten_lines_agrees(tmp_path: Path) -> None:
    with store_at(tmp_path) as store:
        for word in ("one", "two", "three"):
            store.append(chain(word, every_kind()))
        assert ten_lines(store.path) == [verify(store).head] == [store.receipt().head]
    damage(store.path, SHOVEL)
    assert len(ten_lines(store.path)) > 1


def damage(path: Path, *statements: str) -> None:
    """With another tool, guards taken off first."""
    db = sqlite3.connect(path)
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    for statement in statements:
        db.execute(statement)
    db.commit()
    db.close()


def two_chains(folder: Path) -> Path:
    with store_at(folder) as store:
        for a, b in zip(chain("one", NOTES), chain("two", NOTES), strict=True):
            store.append([a])
            store.append([b])
        assert verify(store).good
        return store.path


def checked(path: Path, printed: str = "") -> Checked:
    with SqliteStore(path) as store:
        return verify(store, printed=printed)


ONE, TWO = named("writer one"), named("writer two")


@pytest.mark.parametrize(
    ("what", "statements", "said"),
    [
        (
            "a word of an entry",
            [CHANGED],
            "entry 5 .note, place 3 of writer .* was changed",
        ),
        ("an entry's bytes", ["UPDATE entry SET raw = x'00ff' WHERE arrival = 5"], "entry 5 was changed"),
        ("an entry's seal", ["UPDATE entry SET seal = zeroblob(32) WHERE arrival = 5"], "entry 5 .* changed"),
        ("an entry's id", [f"UPDATE entry SET id = '{ONE}' WHERE arrival = 5"], "under another name"),
        ("an entry's place", ["UPDATE entry SET sequence = 99 WHERE arrival = 5"], "under another name"),
        ("its receipt", ["UPDATE entry SET receipt = 1 WHERE arrival = 5"], "not taken with the receipt"),
        ("one taken out", ["DELETE FROM entry WHERE arrival = 5"], "entries 5 to 5 .* were taken out"),
        ("the last 4 taken out", ["DELETE FROM entry WHERE arrival > 20"], "tell of 24 entries, but 20"),
        ("a receipt", ["UPDATE receipt SET raw = x'7b7d' WHERE number = 7"], "receipt 7 was changed"),
        ("a receipt's heads", ["UPDATE receipt SET heads = x'' WHERE number = 7"], "receipt 7 was changed"),
        ("a receipt taken out", ["DELETE FROM receipt WHERE number = 7"], "receipt 7 was taken out"),
        (
            "two chains swapped by name",
            [
                f"UPDATE entry SET writer = 'x' WHERE writer = '{ONE}'",
                f"UPDATE entry SET writer = '{ONE}' WHERE writer = '{TWO}'",
                f"UPDATE entry SET writer = '{TWO}' WHERE writer = 'x'",
            ],
            "under another name",
        ),
        (
            "two chains swapped by bytes",
            [
                "CREATE TABLE s AS SELECT * FROM entry",
                "UPDATE entry SET raw = (SELECT raw FROM s WHERE s.sequence = entry.sequence"
                " AND s.writer != entry.writer), seal = (SELECT seal FROM s WHERE s.sequence ="
                " entry.sequence AND s.writer != entry.writer)",
                "DROP TABLE s",
            ],
            "under another name",
        ),
    ],
)
def test_mischief_is_named(tmp_path: Path, what: str, statements: list[str], said: str) -> None:
    path = two_chains(tmp_path)
    damage(path, *statements)
    found = checked(path)
    assert not found.good, what
    assert any(re.search(said, fault) for fault in found.faults)


def test_reading_a_changed_entry_is_refused_before_it_is_used(tmp_path: Path) -> None:
    path = two_chains(tmp_path)
    damage(
        path,
        CHANGED,
    )
    with (
        SqliteStore(path) as store,
        pytest.raises(EntrySealed, match="number 5 does not bear its seal"),
    ):
        list(store.read_since())


def test_the_last_entries_and_their_receipts_taken_out_show_by_a_printed_head(tmp_path: Path) -> None:
    """Such a file agrees with itself; only the paper, or another device, knows more."""
    path = two_chains(tmp_path)
    with SqliteStore(path) as store:
        heads = [store.receipt(number).head for number in range(25)]
    damage(path, "DELETE FROM entry WHERE arrival > 20", "DELETE FROM receipt WHERE number > 20")
    assert checked(path).good
    assert checked(path, heads[20]).good
    for printed in (heads[21], heads[24], heads[24][:16], heads[24][:16].upper(), " ".join(heads[24][:16])):
        (fault,) = checked(path, printed).faults
        assert "was never that of this logbook: it was cut short, put back from an older copy" in fault
        assert fault.split()[2] == printed.replace(" ", "").lower()[:16]


def test_yesterdays_file_put_back_shows_by_the_head_and_then_by_a_fork(tmp_path: Path) -> None:
    with store_at(tmp_path / "phone") as store:
        pen = pen_for(store)
        pen.write("note", {"text": "yesterday"})
        kept = backup(store, tmp_path / "yesterday.db").head
        pen.write("note", {"text": "today"})
        printed = store.receipt().head
        with store_at(tmp_path / "office") as office:
            merge(office, store)
    shutil.copy(tmp_path / "yesterday.db", tmp_path / "phone" / "logbook.db")
    with (
        SqliteStore(tmp_path / "phone" / "logbook.db") as store,
        SqliteStore(tmp_path / "office" / "logbook.db") as office,
    ):
        assert verify(store, printed=kept).good
        assert not verify(store, printed=printed).good
        pen_for(store).write("note", {"text": "today, told again"})
        taken = merge(office, store)
        assert len(taken.forked) == 1
        (fork,) = verify(office).forks
        assert (fork.why, fork.at) == ("place", f"{named('writer one')}:2")


@pytest.mark.parametrize("printed", ["", "abc", "0" * 15, "g" * 16, "0" * 63, "'; DROP TABLE entry"])
def test_what_is_no_head_is_refused(tmp_path: Path, printed: str) -> None:
    path = two_chains(tmp_path)
    if not printed:
        assert checked(path).good
        return
    with pytest.raises(BadInput, match="is not the head of a logbook"):
        checked(path, printed)


def test_the_head_of_a_merged_side_is_found_again(tmp_path: Path) -> None:
    with store_at(tmp_path / "a") as a, store_at(tmp_path / "b") as b:
        a.append(chain("one", NOTES))
        b.append(chain("two", NOTES))
        printed = b.receipt().head
        merge(a, b)
        found = find_head(a, printed[:16])
        assert found is not None
        assert printed in found.merged
        assert verify(a, printed=printed).good


def outcome(path: Path) -> str:
    """What a person is told of a file: good, faults, or one sentence; anything else raises."""
    try:
        with SqliteStore(path) as store:
            found = verify(store)
            if found.good:
                list(store.read_since())
            return "good" if found.good else found.faults[0]
    except LineproofError as error:
        return str(error)


def test_any_flipped_byte_is_harmless_or_told_in_one_sentence(tmp_path: Path) -> None:
    path = two_chains(tmp_path / "made")
    before = path.read_bytes()
    with SqliteStore(path) as store:
        entries = [stored.entry.raw for stored in store.read_since()]
    target = tmp_path / "flipped.db"
    told = set()
    for at in range(0, len(before), 61):
        for suffix in ("-wal", "-shm"):
            target.with_name(target.name + suffix).unlink(missing_ok=True)
        target.write_bytes(before[:at] + bytes([before[at] ^ 0x55]) + before[at + 1 :])
        said = outcome(target)
        told.add(said == "good")
        assert "Traceback" not in said
        assert "\n" not in said
        if said == "good":
            with SqliteStore(target) as store:
                assert [stored.entry.raw for stored in store.read_since()] == entries
    assert told == {True, False}


@pytest.mark.parametrize("cut", [0, 1, 99, 100, 4095, 4096, 5000, 9000])
def test_a_file_cut_short_is_told_in_one_sentence(tmp_path: Path, cut: int) -> None:
    path = two_chains(tmp_path)
    path.write_bytes(path.read_bytes()[:cut])
    said = outcome(path)
    assert said != "good"
    assert "\n" not in said


@pytest.mark.parametrize("content", [b"no database" * 600, b"\0" * 9000, b"SQLite format 3\0" + b"x" * 9000])
def test_something_else_is_told_in_one_sentence(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "logbook.db").write_bytes(content)
    said = outcome(tmp_path / "logbook.db")
    assert said.startswith("logbook.db: ")


def test_the_fast_walk_of_the_chains_sees_each_row_out_of_line(tmp_path: Path) -> None:
    path = two_chains(tmp_path)
    with SqliteStore(path) as store:
        assert check_chains(store.rows(), pytest.fail) == 24
    damage(path, "UPDATE entry SET raw = x'00' WHERE arrival IN (5, 6)")
    odd: list[int] = []
    with SqliteStore(path) as store:
        check_chains(store.rows(), lambda row: odd.append(row[0]))
    assert odd == [5, 6]


# ---- around the file


def test_a_copy_without_its_wal_is_warned_of(tmp_path: Path) -> None:
    store = store_at(tmp_path / "made")
    store.append(chain("one", NOTES))
    (tmp_path / "copy").mkdir()
    shutil.copy(store.path, tmp_path / "copy" / "logbook.db")
    with SqliteStore(tmp_path / "copy" / "logbook.db") as copy:
        assert [text for text in copy.warnings if "logbook.db-wal is missing" in text] != []
        assert list(copy.read_since()) == []
    store.close()
    with SqliteStore(store.path) as again:
        assert again.warnings == ()


def test_a_killed_writers_file_with_its_wal_is_not_warned_of(tmp_path: Path) -> None:
    store = store_at(tmp_path / "made")
    store.append(chain("one", NOTES))
    shutil.copytree(tmp_path / "made", tmp_path / "copy")
    with SqliteStore(tmp_path / "copy" / "logbook.db") as copy:
        assert copy.warnings == ()
        assert len(list(copy.read_since())) == 12


def test_the_wal_of_another_file_is_refused(tmp_path: Path) -> None:
    other = store_at(tmp_path / "other")
    other.append(chain("two", NOTES))
    path = two_chains(tmp_path / "made")
    shutil.copy(other.path.with_name("logbook.db-wal"), path.with_name("logbook.db-wal"))
    with pytest.raises(BadInput, match="comes from another file"):
        SqliteStore(path)
    path.with_name("logbook.db-wal").unlink()
    assert checked(path).good


def test_a_wal_of_another_page_size_is_refused(tmp_path: Path) -> None:
    path = two_chains(tmp_path / "made")
    db = sqlite3.connect(tmp_path / "other.db")
    db.execute("PRAGMA page_size = 1024")
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("CREATE TABLE t (a)")
    shutil.copy(tmp_path / "other.db-wal", path.with_name("logbook.db-wal"))
    db.close()
    with pytest.raises(BadInput, match="comes from another file"):
        SqliteStore(path)


@pytest.mark.parametrize(
    ("kind", "warned"), [("nfs4", True), ("cifs", True), ("ext4", False), ("overlay", False)]
)
def test_a_network_drive_is_warned_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str, warned: bool
) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text(f"/dev/a / ext4 rw 0 0\nserver:/x {tmp_path} {kind} rw 0 0\nbroken\n", "utf-8")
    monkeypatch.setattr(sqlite_care, "MOUNTS", mounts)
    with store_at(tmp_path / "made") as store:
        assert any("network drive" in text for text in store.warnings) is warned


def test_what_another_holds_too_long_is_said_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = store_at(tmp_path)
    holder = sqlite3.connect(store.path, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    store.connection.execute("PRAGMA busy_timeout = 1")
    with pytest.raises(BadInput, match="somebody else has held the logbook"):
        store.append(chain("one", NOTES))
    holder.close()
    assert len(store.append(chain("one", NOTES)).new) == 12
