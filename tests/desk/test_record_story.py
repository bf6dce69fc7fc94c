"""The record verbs through a little story: issued, recorded, read back, verified, put back, carried over."""

import shutil

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
