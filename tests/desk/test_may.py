"""``lineproof may move`` and ``may lower`` as typed: what they print, their exit code, their JSON, replay."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from logbook.rig import BELA
from move_rig import J1, J2, Story, job_with
from verb_rig import refused, verb

SCHEMA = Path(__file__).resolve().parents[2] / "docs" / "schemas" / "may.json"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A joint made at 52 F, its hold ended 9:03; the card says 2 h (an invented card)."""
    folder = job_with(tmp_path / "job")
    story = Story(folder)
    story.made("9:00", "9:03")
    story.read("10:00", 52)
    story.store.close()
    return folder


def test_not_before_and_what_governs(site: Path) -> None:
    said = verb("may", "move", J1, "--job", site, "--when", "2026-11-22T10:30")
    rows = said.out.splitlines()
    assert said.code == 11
    assert rows[0] == "NOT BEFORE 11:05, then ask again"
    assert rows[1].startswith(
        "governed by L/J1: hold ended or last disturbed Sun 22 Nov 09:03, 2 in, coldest 52 F; "
        "card C-2 40 F to 60 F: 2 h."
    )
    assert "below" not in said.out


def test_the_day_is_shown_if_it_is_not_today(site: Path) -> None:
    said = verb("may", "move", J1, "--job", site, "--when", "2026-11-21T23:00")
    assert said.out.startswith("NOT BEFORE Sun 22 Nov 11:05, then ask again")


def test_lower_names_what_the_competent_person_answers(site: Path) -> None:
    said = verb("may", "lower", J1, "--job", site, "--when", "2026-11-22T10:30")
    assert said.code == 11
    assert "nobody stands below it" in said.out
    assert "slings, rigging and the trench: the competent person" in said.out


def test_the_verdict_is_the_exit_code_and_yesterday_replays(site: Path) -> None:
    words = ("may", "move", J1, "--job", site, "--when", "2026-11-22T11:10")
    assert verb(*words).code == 12, "no reading since"
    story = Story(site)
    story.read("11:05", 52)
    go = story.receipt
    assert verb(*words).code == 0
    story.read("11:20", 38, said="10:30")
    story.write("11:30", "rejected", {"joint": J1, "reason": "no bead"}, who=BELA)
    stop = verb(*words)
    assert (stop.code, stop.out.split()[0]) == (13, "STOP")
    assert "NOT BEFORE 13:05, then ask again, as far as is known" in stop.out
    then = verb(*words, "--known", str(go))
    assert then.code == 0
    assert then.out.startswith("GO            may move L/J1 (joint, 1 joint)\n")
    assert verb(*words, "--known", str(go)).out == then.out


def test_json_is_what_its_schema_says(site: Path) -> None:
    said = verb(
        "may", "lower", "L/A", "--job", site, "--when", "2026-11-22T10:30", "--not-made", J2, "--json"
    )
    Draft202012Validator(json.loads(SCHEMA.read_text("utf-8"))).validate(said.data)
    assert said.code == 11
    assert [said.data[k] for k in ("kind", "may", "what", "verdict")] == ["may", "lower", "piece", "WAIT"]
    assert said.data["until"] == "2026-11-22T11:05:00-07:00"
    assert said.data["governs"]["subject"] == J1
    assert (said.data["joints"], said.data["left_out"], said.data["known"]) == ([J1], [J2], 3)
    assert len(said.data["head"]) == 64
    assert said.data["inputs"]["job.toml"]


def test_without_a_logbook_nothing_is_known(tmp_path: Path) -> None:
    folder = job_with(tmp_path / "job")
    said = verb("may", "move", "L", "--job", folder)
    assert said.code == 12
    assert "nobody recorded that it was made" in said.out
    assert not (folder / "logbook.db").exists()
    assert verb("may", "move", "L", "--job", folder, "--not-made", "all").code == 12
    assert "no logbook yet" in refused(verb("may", "move", "L", "--job", folder, "--known", "3"))


def test_alike_reasons_are_told_in_one_line(site: Path) -> None:
    rows = verb("may", "move", "L", "--job", site, "--when", "2026-11-22T10:30").out.splitlines()
    assert rows[0] == "CANNOT TELL   may move L (line, 3 joints)"
    assert rows[1].endswith("NOT BEFORE 11:05, then ask again, as far as is known")
    assert sum("nobody recorded that it was made" in row for row in rows) == 2, "J2 and J3, J1 waits"
    assert sum(row.startswith("WAIT") for row in rows) == 1


def test_bad_words_get_one_sentence(site: Path) -> None:
    def no(*words: str) -> str:
        return refused(verb("may", "move", *words, "--job", site))

    assert "2026-11-26T09:40" in no(J1, "--when", "tomorrow")
    assert "2026-11-26T09:40" in no(J1, "--when", "2026-11-26")
    assert "nothing is called 'B-9'" in no("B-9")
    assert "0 % to 100 %" in no(J1, "--dampest", "140%")
    assert "receipt" in no(J1, "--known", "99")
    assert verb("may", "raise", J1, "--job", site).code == 64, "words that do not exist yet"
