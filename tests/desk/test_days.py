"""The verb ``days``: answers, what is tried, planning again, and bad input in one sentence."""

import shutil
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from xml.etree import ElementTree

import pytest

from lineproof.desk.days_sentences import SAID
from lineproof.desk.words import ENGLISH, SPANISH
from verb_rig import Said, verb

ON = ("--when", "2027-04-01T08:00", "--seconds", "60")


@cache
def _new() -> Path:
    folder = Path(mkdtemp(prefix="lineproof-days-")) / "job"
    verb("new", folder)
    return folder


@pytest.fixture
def job(tmp_path):
    shutil.copytree(_new(), tmp_path / "job")
    return tmp_path / "job"


def days(job: Path, *words: str) -> Said:
    return verb("days", "--job", job, *ON, *words)


def change(job: Path, before: str, after: str) -> None:
    text = (job / "job.toml").read_text("utf-8")
    assert before in text
    (job / "job.toml").write_text(text.replace(before, after, 1), "utf-8")


def test_every_joint_has_its_hours_in_the_shift_and_the_test_comes_after_every_cure(job):
    said = days(job, "--json")
    assert said.code == 0
    told = said.data
    assert len(told["joints"]) == 8
    for j in told["joints"]:
        first, end = datetime.fromisoformat(j["first"]), datetime.fromisoformat(j["end"])
        assert first.weekday() < 5
        assert (first.hour, end.hour * 60 + end.minute) >= (7, 0)
        assert end.hour * 60 + end.minute <= 17 * 60
    (test,) = told["tests"]
    assert all(j["cured"] <= test["first"] for j in told["joints"])
    assert told["how"] == "proved"
    assert told["finish"] == told["bound"] == test["end"]


def test_the_answer_comes_first_and_the_caution_is_there(job):
    lines = days(job, "--strip").out.splitlines()
    assert lines[1].startswith("last test accepted")
    assert any("no permission" in line for line in lines)
    assert any(line.startswith("CR-1") and "#" in line for line in lines)
    assert any(line.startswith("pump 1") and "T" in line for line in lines)


def test_the_same_question_gives_the_same_bytes(job):
    assert days(job, "--json").out == days(job, "--json").out


def test_a_lost_day_moves_what_was_on_it_and_no_date_gets_earlier(job):
    told = days(job, "--try-lost", "2027-05-04", "--json").data
    lost = [j["id"] for j in told["joints"] if j["first"].startswith("2027-05-04")]
    assert lost
    moved = {d["id"]: d for d in told["tried"]["differences"] if d["kind"] == "joint"}
    assert set(lost) <= set(moved)
    assert all(moved[j]["after"] > moved[j]["before"] for j in lost)
    assert told["tried"]["finish"] >= told["finish"]


def test_colder_than_any_row_of_the_card_is_said(job):
    told = days(job, "--try-colder", "60F", "--json").data
    # below the card's last row nothing is printed: no joint has a hands-off time, so nothing is planned
    assert told["tried"]["finish"] is None


def test_planned_again_after_a_day_was_lost_the_differences_are_listed(job):
    days(job, "--keep")
    assert days(job, "--json").data["since_last"] == []
    change(job, "off = []", "off = [2027-05-04]")
    told = days(job, "--json").data
    assert {d["kind"] for d in told["since_last"]} == {"joint"}
    assert "since the plan written last" in days(job).out


def test_the_drawing_shows_every_joint_and_every_test(job):
    days(job, "--keep")
    svg = ElementTree.parse(job / "out" / "days.svg").getroot()
    titles = [t.text or "" for t in svg.iter("{http://www.w3.org/2000/svg}title")]
    assert sum("EX-1/" in t for t in titles) == 8
    assert sum(t.startswith("S-1 ") for t in titles) == 1


def test_what_is_made_stays_and_the_rest_is_planned_after_it(job):
    verb("plan", "--job", job, "--issue", "--no-paper")
    before = days(job, "--json").data
    assert len(before["joints"]) == 8
    assert all("issue" not in j["id"] for j in before["joints"])
    later = verb("days", "--job", job, "--when", "2027-05-06T12:00", "--seconds", "60", "--json").data
    assert min(j["first"] for j in later["joints"]) >= "2027-05-06T12:00"


def test_in_spanish_every_sentence_is_spanish(job):
    said = days(job, "--in", "es")
    assert "última prueba aceptada" in said.out
    assert "espera" in said.out


def test_every_sentence_has_both_languages_and_the_same_places_to_fill():
    from string import Formatter

    for code, both in SAID.items():
        assert set(both) == {ENGLISH, SPANISH}, code
        places = [
            sorted(p for _, p, _, _ in Formatter().parse(text) if p is not None) for text in both.values()
        ]
        assert places[0] == places[1], code


def test_without_a_shift_the_sentence_says_what_to_write(job):
    change(job, "[shift]", '[[stores]]\nid = "S"\nkind = "room"\n[unread]')
    said = days(job)
    assert said.code == 64
    text = (job / "job.toml").read_text("utf-8")
    cut = text.index('[[stores]]\nid = "S"')
    end = text.index("[testing]")
    (job / "job.toml").write_text(text[:cut] + text[end:], "utf-8")
    said = days(job)
    assert said.code == 64
    assert "CR-1" in said.err
    assert "[shift]" in said.err
    assert "Traceback" not in said.err


def test_without_testing_the_tests_are_cannot_tell(job):
    change(job, "pumps = 1", "pumps = 0")
    assert days(job, "--json").data["tests"] == []
    text = (job / "job.toml").read_text("utf-8")
    start = text.index("[testing]")
    (job / "job.toml").write_text(text[:start] + text[text.index("# witness = {") :], "utf-8")
    told = days(job, "--json").data
    assert told["no_testing"] is True
    assert "CANNOT TELL the tests" in days(job).out


def test_a_crew_nobody_is_qualified_in_names_that_limit_and_when_it_could_begin(job):
    change(job, 'size_hi = "12in"\ndocument = "qualification', 'size_hi = "2in"\ndocument = "qualification')
    said = days(job)
    assert said.code == 0
    assert "no plan: EX-1/J" in said.out
    assert "qualification (nobody in the crew is qualified then)" in said.out
    assert "Mon 3 May 07:00" in said.out
    limits = days(job, "--json").data["none"]["limits"]
    assert [b["limit"] for b in limits] == ["qualification"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--from", "2027-02-30"), "not a date"),
        (("--from", "2026-01-01"), "is over"),
        (("--try-colder", "cold"), ""),
        (("--try-lost", "tomorrow"), "not a date"),
        (("--in", "fr"), "en or es"),
        (("--seconds", "0"), ""),
        (("--try-crews", "-1"), ""),
    ],
)
def test_bad_input_gets_one_sentence(job, words, says):
    said = days(job, *words)
    assert said.code == 64
    assert said.err.strip()
    assert says in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize("bad", ['begins = "7"', 'begins = "25:00"', "begins = 7"])
def test_an_hour_that_is_none_is_refused_at_its_place(job, bad):
    change(job, 'begins = "07:00"', bad)
    said = days(job)
    assert said.code == 64
    assert "job.toml" in said.err
    assert "07:30" in said.err or "text" in said.err
