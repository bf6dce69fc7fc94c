"""The record verbs through a little story: issued, recorded, read back, verified, put back, carried over."""

import hashlib
import json
import shutil
from importlib import resources
from pathlib import Path

import pytest

from rigs import elbow, flange, job_at, stock
from verb_rig import refused, verb

WALK = (
    'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
    "go north 10'\ngo east 4'\nends at open\n"
)
PARTS = [elbow("6in", "6 1/2 in", "3 in"), flange("6in", "3 1/2 in", "3 in")]
PERSON = '\n[[people]]\nid = "{0}"\nname = "Joiner {0} (invented)"\n'
PEOPLE = PERSON.format("A") + PERSON.format("B")


@pytest.fixture
def job(tmp_path):
    folder = tmp_path / "job"
    job_at(folder, WALK, PARTS, toml=stock("6in") + PEOPLE)
    assert "issue" in verb("plan", "--issue", "--no-paper", "--job", folder).out
    return folder


def made(folder, joint="L/J1", *more):
    words = ["pipe-end=A", "socket=B", "joint-temp=52 F", "humidity=55 %"]
    return verb("record", "joint", joint, *words, *more, "--by", "A", "--job", folder)


def test_a_joint_is_written_and_read_back_as_typed_and_in_si(job):
    said = made(job)
    assert said.code == 0
    assert "written; head" in said.out
    listed = verb("record", "list", "L/J1", "--job", job)
    assert "joint_temperature 52 F" in listed.out
    data = verb("record", "list", "L/J1", "--json", "--job", job).out
    assert "284.26" in data  # 52 F in kelvin
    assert "52 F" in data


def test_an_unknown_joint_or_person_is_refused_with_the_nearest(job):
    assert "did you mean" in refused(made(job, "L/J9"))
    assert "A, B" in refused(verb("record", "joint", "L/J1", "--by", "Z", "--job", job))
    assert "joint_made" not in verb("record", "list", "--job", job).out


def test_a_printed_head_finds_a_logbook_that_was_put_back(job):
    made(job)
    old = job.parent / "yesterday.db"
    assert verb("record", "backup", old, "--job", job).code == 0
    made(job, "L/J2")
    head = verb("record", "head", "--job", job).out.split()[0]
    assert verb("record", "verify", "--head", head, "--job", job).code == 0
    for file in job.glob("logbook.db*"):
        file.unlink()
    shutil.copy(old, job / "logbook.db")
    found = verb("record", "verify", "--head", head, "--job", job)
    assert found.code != 0
    assert verb("record", "verify", "--job", job).code == 0  # in itself yesterday's file is sound


def test_entries_are_carried_to_another_copy_of_the_job_once(job, tmp_path):
    other = tmp_path / "other"
    shutil.copytree(job, other)
    made(job)
    box = tmp_path / "box.zip"
    assert verb("record", "export", box, "--job", job).code == 0
    assert verb("record", "import", box, "--job", other).code == 0
    assert verb("record", "import", box, "--job", other).code == 0
    assert verb("record", "list", "--job", other).out.count("joint_made") == 1
    assert (
        verb("record", "head", "--job", other).out.split()[0]
        == verb("record", "head", "--job", job).out.split()[0]
    )


def test_what_was_made_cannot_be_told_until_its_hold_and_readings_stand(job):
    made(job)
    assert verb("may", "move", "L/J1", "--job", job).code == 12


def test_a_cement_card_is_sealed_when_it_is_used_and_again_when_it_was_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The seal is SHA-256 over canonical JSON, done again here over what the entry holds."""
    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        shutil.copytree(there, tmp_path / "works")
    monkeypatch.chdir(tmp_path / "works")
    verb("plan", "--issue", "--no-paper")
    made = ("pipe-end=P-2", "socket=P-1", "joint-temp=52F", "--by", "P-1", "--json")

    def kinds(joint: str, *more: str) -> list[str]:
        return [e["kind"] for e in verb("record", "joint", joint, *more, *made).data["entries"]]

    assert kinds("B-201/J1") == ["card", "joint_made"], "the line names its card"
    assert kinds("B-201/J2", "card=C-2") == ["joint_made"]
    assert kinds("B-301/J1", "card=C-3") == ["card", "joint_made"]
    text = Path("job.toml").read_text("utf-8")
    assert text.count('time = "96 h"') == 1
    Path("job.toml").write_text(text.replace('time = "96 h"', 'time = "95 h"'), "utf-8")
    assert kinds("B-201/J3") == ["card", "joint_made"]
    entries = verb("record", "list", "card", "--json").data["entries"]
    assert [e["body"]["card"] for e in entries] == ["C-2", "C-3", "C-2"]
    for e in entries:
        plain = json.dumps(e["body"]["told"], sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        assert hashlib.sha256(plain.encode()).hexdigest() == e["body"]["seal"]
