"""Merging, carrying and backing up: the union of chains, in whatever order, as often as one likes."""

from __future__ import annotations

import itertools
import tempfile
import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lineproof.floor.errors import BadInput, EntrySealed, LineproofError
from lineproof.logbook.backup import backup
from lineproof.logbook.carry import entries_of, export_to, import_from
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.merge import merge
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.verify import verify
from logbook.rig import BODIES, JOB, MADE, MEMORY, J, chain, entry, named, pen_for, store_at

NOTES = [("note", {"text": f"note {i}"}) for i in range(1, 6)]


def all_entries() -> list[Entry]:
    """Three chains, one of them forked, and one id told twice."""
    one, two, three = (chain(word, [*NOTES, ("joint_made", MADE)]) for word in ("one", "two", "three"))
    twin = entry("one", 3, one[1].seal, "disturbed", BODIES["disturbed"], id=named("twin"))
    again = entry("two", 2, two[0].seal, "note", {"text": "another"})
    return [*one, *two, *three, twin, again]


ALL = all_entries()


def filled(folder: Path, entries: Sequence[Entry]) -> SqliteStore:
    store = store_at(folder)
    for each in entries:
        store.append([each])
    return store


def seals(store: SqliteStore) -> set[str]:
    return {stored.entry.seal for stored in store.read_since()}


SETS = st.lists(st.sampled_from(ALL), unique_by=lambda e: e.seal, max_size=10)


@settings(max_examples=25)
@given(SETS, SETS, SETS)
def test_merge_is_commutative_associative_and_idempotent(
    one: list[Entry], two: list[Entry], three: list[Entry]
) -> None:
    with tempfile.TemporaryDirectory(dir=MEMORY) as place:
        outcomes = set()
        states = []
        for i, order in enumerate(itertools.permutations((one, two, three))):
            target = store_at(Path(place) / f"{i}")
            for j, entries in enumerate(order):
                side = filled(Path(place) / f"{i}-{j}", entries)
                merge(target, side)
                merge(target, side)
                side.close()
            outcomes.add((target.receipt().head, frozenset(seals(target))))
            states.append(fold(target.read_since()))
            assert verify(target).good
            target.close()
        first, second, third = (
            filled(Path(place) / word, entries) for word, entries in (("x", one), ("y", two), ("z", three))
        )
        merge(second, third)
        merge(first, second)
        outcomes.add((first.receipt().head, frozenset(seals(first))))
        states.append(fold(first.read_since()))
        for store in (first, second, third):
            store.close()
    assert len(outcomes) == 1
    assert all(state == states[0] for state in states)


def test_one_receipt_names_both_heads_and_a_second_merge_gives_none(tmp_path: Path) -> None:
    a, b = filled(tmp_path / "a", ALL[:6]), filled(tmp_path / "b", ALL[6:12])
    heads = tuple(sorted((a.receipt().head, b.receipt().head)))
    before = a.receipt().number
    taken = merge(a, b)
    assert (taken.receipt.number, taken.receipt.merged) == (before + 1, heads)
    assert len(taken.new) == 6
    assert merge(a, b).receipt == taken.receipt == a.receipt()
    back = merge(b, a)
    assert back.receipt.head == taken.receipt.head
    assert merge(a, b).new == ()


def test_stores_of_different_jobs_are_not_merged(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:6])
    with SqliteStore(tmp_path / "b.db", job=named("another")) as b:
        b.append(chain("x", NOTES, job=named("another")))
        with pytest.raises(BadInput, match="is of another job"):
            merge(a, b)
    assert a.receipt().number == 6


def test_files_come_along(tmp_path: Path) -> None:
    a, b = store_at(tmp_path / "a"), store_at(tmp_path / "b")
    digest = b.files().put(b"photo")
    pen_for(b).write("note", {"text": "see photo", "photos": [digest]})
    merge(a, b)
    assert a.files().get(digest) == b"photo"
    assert verify(a).files_missing == ()


# ---- carried in a file


def test_out_and_in_again(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL)
    digest = a.files().put(b"photo")
    head = export_to(a, tmp_path / "carried.zip")
    assert head == a.receipt().head
    b = store_at(tmp_path / "b")
    taken = import_from(b, tmp_path / "carried.zip")
    assert (b.receipt().head, len(taken.new)) == (head, len(ALL))
    assert b.files().get(digest) == b"photo"
    assert fold(b.read_since()) == fold(a.read_since())
    assert import_from(b, tmp_path / "carried.zip").new == ()
    assert {each.seal for each in entries_of(tmp_path / "carried.zip")} == seals(a)


def test_the_same_store_gives_the_same_bytes(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:4])
    export_to(a, tmp_path / "one.zip")
    export_to(a, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def rewritten(path: Path, name: str, content: bytes | None) -> Path:
    out = path.with_name("rewritten.zip")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(out, "w") as new:
        for each in old.namelist():
            if each != name:
                new.writestr(each, old.read(each))
        if content is not None:
            new.writestr(name, content)
    return out


@pytest.mark.parametrize("name", ["about.json", "entries.jsonl", "receipts.jsonl", "hashes.json", "further"])
def test_a_carried_file_that_was_changed_is_refused_whole(tmp_path: Path, name: str) -> None:
    a, b = filled(tmp_path / "a", ALL[:4]), store_at(tmp_path / "b")
    export_to(a, tmp_path / "carried.zip")
    with zipfile.ZipFile(tmp_path / "carried.zip") as file:
        content = file.read(name).replace(b"4", b"5") if name in file.namelist() else b"x"
    with pytest.raises(LineproofError, match=r"rewritten\.zip"):
        import_from(b, rewritten(tmp_path / "carried.zip", name, content))
    assert list(b.read_since()) == []


def test_a_photo_swapped_on_the_way_is_refused(tmp_path: Path) -> None:
    a, b = filled(tmp_path / "a", ALL[:4]), store_at(tmp_path / "b")
    digest = a.files().put(b"photo")
    export_to(a, tmp_path / "carried.zip")
    with pytest.raises(EntrySealed, match="does not bear its hash"):
        import_from(b, rewritten(tmp_path / "carried.zip", f"files/{digest[:2]}/{digest}", b"other"))
    assert list(b.files().names()) == []


def test_any_flipped_byte_of_a_carried_file_is_harmless_or_refused(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:3])
    export_to(a, tmp_path / "carried.zip")
    before = (tmp_path / "carried.zip").read_bytes()
    spoilt = tmp_path / "spoilt.zip"
    refused: list[str] = []
    whole = i = 0
    for i, at in enumerate(range(0, len(before), 23)):
        spoilt.write_bytes(before[:at] + bytes([before[at] ^ 0x41]) + before[at + 1 :])
        with store_at(tmp_path / f"b{i}") as b:
            try:
                import_from(b, spoilt)
            except LineproofError as error:
                refused.append(str(error))
            assert seals(b) in (set(), seals(a))
            whole += bool(seals(b))
    assert whole + len(refused) == i + 1
    assert len(refused) > 10
    assert not any("\n" in sentence for sentence in refused)


@pytest.mark.parametrize("content", [b"", b"no zip", b"PK\x03\x04"])
def test_something_else_is_refused_in_words(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "carried.zip").write_bytes(content)
    with store_at(tmp_path / "b") as b, pytest.raises(BadInput, match="not a carried logbook"):
        import_from(b, tmp_path / "carried.zip")
    with pytest.raises(BadInput, match="not a carried logbook"):
        entries_of(tmp_path / "carried.zip")


def test_a_file_of_another_job_or_format_is_refused(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:3])
    export_to(a, tmp_path / "carried.zip")
    with (
        SqliteStore(tmp_path / "b.db", job=named("another")) as b,
        pytest.raises(BadInput, match="another job"),
    ):
        import_from(b, tmp_path / "carried.zip")
    about = b'{"entries":3,"format":9,"head":"","job":""}'
    newer = rewritten(tmp_path / "carried.zip", "about.json", about)
    with store_at(tmp_path / "c") as c, pytest.raises(BadInput, match="of format 9"):
        import_from(c, newer)


# ---- backup


def test_a_backup_is_taken_while_another_writes_and_verifies(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:6])
    digest = a.files().put(b"photo")
    with SqliteStore(a.path) as other:
        other.append(ALL[6:8])
        (tmp_path / "copy").mkdir()
        checked = backup(a, tmp_path / "copy" / "logbook.db")
        other.append(ALL[8:])
    assert (checked.good, checked.entries, checked.files_missing) == (True, 8, ())
    with SqliteStore(tmp_path / "copy" / "logbook.db") as copy:
        assert (copy.job, copy.warnings) == (JOB, ())
        assert copy.receipt() == a.receipt(7)
        assert copy.files().get(digest) == b"photo"
        copy.append(ALL[8:])
        assert seals(copy) == seals(a)


def test_a_backup_over_an_older_one_replaces_it_whole(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:2])
    backup(a, tmp_path / "copy.db")
    a.append(ALL[2:4])
    assert backup(a, tmp_path / "copy.db").entries == 4
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "copy.db"]


def test_a_backup_into_a_missing_folder_is_refused_in_words(tmp_path: Path) -> None:
    a = filled(tmp_path / "a", ALL[:2])
    with pytest.raises(BadInput, match=r"copy\.db"):
        backup(a, tmp_path / "no" / "copy.db")


def test_two_phones_and_the_office_end_with_one_story(tmp_path: Path) -> None:
    """A repair made on another phone: the office knows of it once both have reported."""
    phone, other, office = (store_at(tmp_path / name) for name in ("phone", "other", "office"))
    pen_for(phone, "phone").write("joint_made", MADE)
    pen_for(other, "other").write("cut_out", {"joint": J, "reason": "dripped in the leak check"})
    pen_for(other, "other").write("field_joint", BODIES["field_joint"])
    merge(office, phone)
    assert fold(office.read_since()).joints[J].is_made
    merge(office, other)
    state = fold(office.read_since())
    assert (state.joints[J].is_made, state.field_joints) == (False, ("B-201/F1",))
    assert fold(office.read_since(), known_by=1).joints[J].is_made
