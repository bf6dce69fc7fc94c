"""The record verbs one by one: what they say, write and refuse; what plan and papers take from them."""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import pypdf
import pytest
from jsonschema import Draft202012Validator

from lineproof.desk.record_book import made_of, recorded
from lineproof.desk.record_fields import ANYWHERE, BY_ITSELF, ROLES, TYPED, owed_by
from lineproof.logbook.fold import fold
from lineproof.logbook.kinds import ANYWHERE as ANYWHERE_KEPT
from lineproof.logbook.kinds import KINDS, latest
from lineproof.logbook.sqlite_store import SqliteStore
from rigs import coupling, elbow, flange, job_at, stock
from verb_rig import Said, files, refused, verb

WALK = (
    'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
    "go north 10'\ngo east 4'\nends at open\n"
)
LONG = WALK.replace("go north 10'\ngo east 4'\n", "go north 50'\n")
PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
]
PERSON = '\n[[people]]\nid = "{}"\nname = "{} (invented)"\n'
PEOPLE = PERSON.format("P-1", "Lead") + PERSON.format("P-2", "Joiner")
SCHEMAS = Path(__file__).resolve().parents[2] / "docs" / "schemas"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    job_at(folder, WALK, PARTS[:2], toml=stock("6in") + PEOPLE)
    assert verb("plan", "--issue", "--no-paper", "--job", folder).err == ""
    return folder


def add(folder: Path, *words: str | Path, by: str = "P-1") -> str:
    said = verb("record", "add", *words, "--by", by, "--job", folder)
    assert (said.code, said.err) == (0, ""), said
    return said.out.split()[0]


def check_said(said: Said, kind: str) -> Any:
    data = said.data
    schema = json.loads((SCHEMAS / f"{kind}.json").read_text("utf-8"))
    assert (said.err, data["kind"]) == ("", kind)
    assert [e.message[:200] for e in Draft202012Validator(schema).iter_errors(data)] == []
    return data


def newest(folder: Path) -> dict[str, Any]:
    return verb("record", "list", "--json", "--job", folder).data["entries"][-1]


# ---------------------------------------------------------------- kinds


def test_every_kind_of_the_logbook_is_told_and_no_other() -> None:
    assert {name for name, _ in KINDS} == {*TYPED, *BY_ITSELF}
    told = check_said(verb("record", "kinds", "--json"), "record-kinds")["kinds"]
    assert {k["kind"] for k in told if k["typed"]} == set(TYPED)
    said = verb("record", "kinds").out
    assert [k for k in TYPED if f"lineproof record add {k} " not in said] == []


@pytest.mark.parametrize("kind", TYPED)
def test_fields_that_are_typed_are_those_that_are_kept(kind: str) -> None:
    """Needed and allowed fields, asked from the shape of the kind itself."""
    typed = TYPED[kind]
    wrong = latest(kind).shape({"no such field": 1}, "")
    needed = {w.removesuffix(" is missing") for w in wrong if w.endswith(" is missing")}
    allowed = set(wrong[-1].split("allowed: ")[1].split(", "))
    roles = set(ROLES) if kind == "joint_made" else set()
    mine = ({*typed.needed, *typed.may, *ANYWHERE, "insisted"} - roles - {"primer"}) | (
        {"roles"} if roles else set()
    )
    assert set(typed.needed) == needed
    assert mine == allowed
    assert {*ANYWHERE, "insisted"} == set(ANYWHERE_KEPT)


def test_a_kind_that_nobody_types_says_who_writes_it(job: Path) -> None:
    before = files(job)
    said = refused(verb("record", "add", "release_given", "R-1", "--job", job))
    assert "never typed" in said
    assert "did you mean joint_made?" in refused(verb("record", "add", "joint-made", "--job", job))
    assert files(job) == before


# ---------------------------------------------------------------- add


def test_a_measure_is_kept_as_typed_and_in_si(job: Path) -> None:
    add(job, "dry_fit", "L/J1", "depth=2 1/4 in")
    body = newest(job)["body"]
    assert body == {
        "joint": "L/J1",
        "depth": {"typed": "2 1/4 in", "si": "0.05715", "unit": "m"},
    }  # 25.4 mm an inch


def test_people_cans_and_lots_are_held_against_what_is_known(job: Path) -> None:
    add(job, "can_received", "C-04", "lot=7731", "holds=cement", "expires=2027-06-30")
    words = (
        "pipe-end=p-2",
        "socket=Lead (invented)",
        "pulls=P-1,P-2",
        "calls=P-1",
        "can=C-04",
        "joint-temp=52F",
    )
    said = verb("record", "joint", "J1", *words, "wind=4 mph", "--by", "P-2", "--job", job)
    assert (said.code, said.err) == (0, "")
    assert "pulled P-1, P-2" in said.out
    body = newest(job)["body"]
    assert (body["joint"], body["cans"]) == ("L/J1", ["C-04"])
    assert body["wind"]["si"] == "1.78816"  # 4 mph at 0.44704 m/s a mph, exact


BAD = [
    (("dry_fit", "L/J1"), "needs depth"),
    (("dry_fit", "L/J1", "depth=3"), "has no unit"),
    (("dry_fit", "L/J1", "depth=9 F"), "not of length"),
    (("dry_fit", "L/J1", "dept=3 in"), "did you mean depth=?"),
    (("dry_fit", "L/J1", "depth=3 in", "depth=4 in"), "given twice"),
    (("dry_fit", "L/J1", "loose"), "is not KEY=VALUE"),
    (("dry_fit", "L/J8", "depth=3 in"), "did you mean L/J"),
    (("dry_fit", "L/J1", "depth="), "depth is empty"),
    (("can_opened", "C-9"), "no can is named 'C-9'"),
    (("examined", "L/J1", "list=A", "accepted=maybe"), "neither yes nor no"),
    (("first_on", "L/J1", "what=washer"), "allowed: ring, nut"),
    (("moved", "L/J1", "at=25:99"), "is not a time"),
    (("moved", "L/J1", "at=2099-01-01 10:00"), "still to come"),
    (("joint_made", "L/J1", "steps=prayed@10:00"), "is not a step"),
    (("restraint_checked", "S-9", "good=yes"), "no section is named 'S-9'"),
    (("reading_file", "nowhere.csv"), "cannot be read"),
    (("correction", "abc", "reason=x", "void=yes"), "names no entry"),
]


@pytest.mark.parametrize(("words", "says"), BAD)
def test_bad_input_is_one_sentence_and_nothing_is_written(
    job: Path, words: tuple[str, ...], says: str
) -> None:
    before = verb("record", "head", "--job", job).out
    assert says in refused(verb("record", "add", *words, "--by", "P-1", "--job", job))
    assert verb("record", "head", "--job", job).out == before


def test_what_is_insisted_on_is_kept_and_flagged(job: Path) -> None:
    add(job, "moved", "L/J77", "--insist", "the drawing is late")
    told = newest(job)
    assert told["flags"] == ["insisted"]
    assert told["body"]["insisted"] == "the drawing is late; joint L/J77 is not known"
    assert recorded(job) == frozenset()


def test_nobody_writes_without_a_name_and_the_last_one_is_remembered(job: Path) -> None:
    assert "--by" in refused(verb("record", "add", "pullers_off", "L/J1", "--job", job))
    add(job, "pullers_off", "L/J1", by="P-2")
    assert verb("record", "add", "moved", "L/J1", "--job", job).code == 0
    assert newest(job)["by"] == "P-2"


def test_a_joint_that_is_not_on_the_drawing_gets_a_name_beside_its_neighbour(job: Path) -> None:
    add(job, "field_joint", "L/J1", "what=repair coupling")
    name = str(newest(job)["body"]["joint"])
    assert re.fullmatch(r"L/F1-[0-9a-f]{4}", name)
    add(job, "joint_made", name)
    assert recorded(job) == frozenset()  # it is not on the drawing, so the plan does not look for it
    assert verb("plan", "--no-paper", "--job", job).err == ""


def test_times_are_the_sites_and_one_that_comes_twice_is_asked_for(job: Path) -> None:
    """2025-11-02 01:30 comes twice and 2025-03-09 02:30 never in America/Denver (tz database)."""
    said = refused(verb("record", "add", "moved", "L/J1", "at=2025-11-02 01:30", "--by", "P-1", "--job", job))
    assert "twice" in said
    never = refused(
        verb("record", "add", "moved", "L/J1", "at=2025-03-09 02:30", "--by", "P-1", "--job", job)
    )
    assert "never" in never
    add(job, "moved", "L/J1", "at=2025-11-02 01:30-06:00")
    moved = verb("record", "list", "moved", "--json", "--job", job).data["entries"]
    assert moved[0]["at"] == "2025-11-02T07:30:00+00:00"
    assert "late" in moved[0]["flags"]


def test_a_correction_shows_old_and_new_and_a_struck_entry_stays_in_the_list(job: Path) -> None:
    first = add(job, "dry_fit", "L/J1", "depth=3 in")
    add(job, "correction", first, "reason=misread", "set.depth=2 in", "second=P-2", by="P-2")
    listed = verb("record", "list", "L/J1", "--job", job).out
    assert "corrected: depth 3 in -> 2 in by P-2 (misread)" in listed
    second = add(job, "moved", "L/J1")
    add(job, "correction", second, "reason=other joint", "void=yes", "second=P-2")
    assert re.search(
        rf"^{second} .* moved .*STRUCK OUT$", verb("record", "list", "--job", job).out, re.MULTILINE
    )


def test_what_is_printed_is_as_the_schema_says(job: Path, tmp_path: Path) -> None:
    words = ("add", "dry_fit", "L/J1", "depth=3 in", "--by", "P-1")
    check_said(verb("record", *words, "--json", "--job", job), "record-added")
    check_said(verb("record", "list", "--json", "--job", job), "record-list")
    check_said(verb("record", "head", "--json", "--job", job), "record-head")
    check_said(verb("record", "verify", "--json", "--job", job), "record-checked")
    check_said(verb("record", "backup", tmp_path / "b.db", "--json", "--job", job), "record-checked")
    check_said(verb("record", "export", tmp_path / "e.zip", "--json", "--job", job), "record-carried")
    check_said(verb("record", "import", tmp_path / "e.zip", "--json", "--job", job), "record-carried")
    check_said(verb("record", "settle", "--json", "--job", job), "record-open")


@pytest.mark.parametrize("words", [("list",), ("head",), ("verify",), ("settle",), ("export", "x.zip")])
def test_without_a_logbook_or_a_job_it_is_said(tmp_path: Path, words: tuple[str, ...]) -> None:
    said = refused(verb("record", *words, "--job", tmp_path))
    assert "logbook" in said or "job.toml" in said


# ---------------------------------------------------------------- files that were damaged, copied, carried


def test_a_file_cut_short_is_named(job: Path) -> None:
    add(job, "moved", "L/J1")
    content = (job / "logbook.db").read_bytes()
    (job / "logbook.db").write_bytes(content[: len(content) // 2])
    said = verb("record", "verify", "--job", job)
    assert said.code in (13, 64)
    assert "logbook.db" in said.out + said.err
    assert "Traceback" not in said.err


def test_entries_taken_out_are_named_even_when_the_guards_were_taken_off_first(job: Path) -> None:
    add(job, "moved", "L/J1")
    add(job, "moved", "L/J2")
    with sqlite3.connect(job / "logbook.db") as db:
        db.execute("DROP TRIGGER entry_no_delete")
        db.execute("DELETE FROM entry WHERE arrival = 3")
    said = verb("record", "verify", "--job", job)
    assert said.code == 13
    assert "fault:" in said.out


def test_nothing_is_written_over(job: Path, tmp_path: Path) -> None:
    (tmp_path / "there.db").write_bytes(b"keep me")
    assert "there already" in refused(verb("record", "backup", tmp_path / "there.db", "--job", job))
    assert "there already" in refused(verb("record", "export", tmp_path / "there.db", "--job", job))
    assert "is not there" in refused(verb("record", "export", tmp_path / "no" / "x.zip", "--job", job))
    assert (tmp_path / "there.db").read_bytes() == b"keep me"


def test_a_fork_made_by_copying_the_folder_is_found_and_settled(job: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    add(job, "pullers_off", "L/J1")
    shutil.copytree(job, other)
    add(job, "disturbed", "L/J1", "how=bucket")
    add(other, "moved", "L/J2", "how=lowered")
    assert verb("record", "export", tmp_path / "o.zip", "--job", other).code == 0
    said = verb("record", "import", tmp_path / "o.zip", "--job", job)
    assert "contradicts" in said.out
    assert verb("record", "verify", "--job", job).code == 12
    open_ = verb("record", "settle", "--json", "--job", job).data["stories"]
    assert len(open_) == 1
    stand = [e["entry"] for e in open_[0]["entries"]]
    assert "no reason" in refused(verb("record", "settle", *stand, "--job", job))
    said = verb("record", "settle", *stand, "--reason", "both happened", "--second", "P-2", "--job", job)
    assert (said.code, said.err) == (0, "")
    assert verb("record", "settle", "--job", job).out == "nothing is to be settled\n"
    assert verb("record", "verify", "--job", job).code == 0
    assert "contradicts nothing" in refused(
        verb("record", "settle", stand[0], "--reason", "again", "--job", job)
    )


def test_of_two_stories_of_one_joint_one_stands(job: Path) -> None:
    first = add(job, "joint_made", "L/J1", "joint-temp=52F")
    second = add(job, "joint_made", "L/J1", "joint-temp=62F", by="P-2")
    both = refused(verb("record", "settle", first, second, "--reason", "x", "--job", job))
    assert "only one of them can stand" in both
    said = verb("record", "settle", first, "--reason", "the second was J2", "--second", "P-1", "--job", job)
    assert said.code == 0
    assert verb("record", "settle", "--job", job).out == "nothing is to be settled\n"


def test_the_writer_stays_on_its_machine(job: Path) -> None:
    add(job, "moved", "L/J1")
    file = job / ".local" / "writer.json"
    file.write_text(re.sub(r'"machine": "\w+"', '"machine": "another"', file.read_text("utf-8")), "utf-8")
    add(job, "moved", "L/J2")
    entries = verb("record", "list", "moved", "--json", "--job", job).data["entries"]
    assert len({e["writer"] for e in entries}) == 2
    file.write_text("{", "utf-8")
    said = refused(verb("record", "add", "moved", "L/J1", "--by", "P-1", "--job", job))
    assert ".local/writer.json" in said


# ---------------------------------------------------------------- the plan and the papers


def test_an_issue_is_an_entry_once(job: Path) -> None:
    verb("plan", "--issue", "--no-paper", "--job", job)
    entries = verb("record", "list", "issue", "--json", "--job", job).data["entries"]
    assert [e["body"]["number"] for e in entries] == [1]
    assert set(entries[0]["body"]["inputs"]) >= {"job.toml", "parts.csv"}
    (job / "logbook.db").unlink()  # as if the power had gone before it was written
    verb("plan", "--issue", "--no-paper", "--job", job)
    assert [e["kind"] for e in verb("record", "list", "--json", "--job", job).data["entries"]] == ["issue"]


def test_the_head_on_the_foot_of_a_paper_is_the_logbooks(job: Path) -> None:
    add(job, "moved", "L/J1")
    verb("plan", "--job", job)
    printed = set()
    for page in pypdf.PdfReader(job / "out" / "pack.pdf").pages:
        printed.add(re.search(r"logbook ([0-9a-f]{16})", page.extract_text().replace("\n", " "))[1])  # type: ignore[index]
    assert printed == {verb("record", "head", "--job", job).out[:16]}
    add(job, "moved", "L/J2")
    assert verb("record", "verify", "--head", printed.pop(), "--job", job).code == 0
    assert verb("record", "verify", "--head", "0123456789abcdef", "--job", job).code == 13


def test_a_made_joint_may_not_be_walked_away(job: Path) -> None:
    walk = job / "lines" / next(p.name for p in (job / "lines").iterdir())
    add(job, "joint_made", "L/J3")
    before = files(job)
    walk.write_text(WALK.replace("go east 4'\n", ""), "utf-8")
    said = refused(verb("plan", "--no-paper", "--job", job))
    assert "L/J3 has a record" in said
    assert "cut it out in the logbook first" in said
    assert {n for n, b in files(job).items() if before.get(n) != b} == {f"lines/{walk.name}"}
    add(job, "cut_out", "L/J3", "reason=rerouted")
    assert verb("plan", "--no-paper", "--job", job).err == ""


def test_the_plan_keeps_a_made_piece_when_other_sticks_come(tmp_path: Path) -> None:
    """The joint stays where it was made: by the walk's own numbers, not by what an earlier plan printed."""
    folder = tmp_path / "job"
    job_at(folder, LONG, PARTS[1:], toml=stock("6in") + PEOPLE)
    said = verb("plan", "--issue", "--no-paper", "--json", "--job", folder).data
    firsts = [p for p in said["pieces"] if p["line"] == "L"][:1]
    inner = [j["place"]["id"] for j in said["joints"] if firsts[0]["id"] in str(j["place"]["spigot"])]
    assert inner
    for name in inner:
        add(folder, "joint_made", name)
    with SqliteStore(folder / "logbook.db") as store:
        assert made_of(folder, fold(store.read_since())) == frozenset(inner)
    toml = (folder / "job.toml").read_text("utf-8")
    assert "length = '20 ft'" in toml
    (folder / "job.toml").write_text(toml.replace("length = '20 ft'", "length = '18 ft'"), "utf-8")
    after = verb("plan", "--no-paper", "--json", "--job", folder).data
    same = [p for p in after["pieces"] if p["cut"] == firsts[0]["cut"]]
    assert firsts[0]["cut"] > 18 * 0.3048
    assert len(same) >= 1


@pytest.mark.parametrize(
    ("body", "owed"),
    [
        ({"joint": "L/J1"}, ("pipe-end", "socket", "can", "primer", "joint-temp")),
        ({"roles": {"pipe_end": "x", "socket": "y"}, "cans": ["a", "b"], "joint_temperature": {}}, ()),
        ({"roles": {"pipe_end": "x"}, "lots": {"cement": "7"}}, ("socket", "primer", "joint-temp")),
    ],
)
def test_what_a_joint_does_not_say_is_named_at_once(body: dict[str, Any], owed: tuple[str, ...]) -> None:
    assert owed_by("joint_made", body) == owed
    assert owed_by("hold_end", body) == ()
