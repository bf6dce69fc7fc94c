"""The works partly built: a joint made this morning forbids the afternoon's test (all data invented)."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from verb_rig import Said, verb

ASKED = ("--gauge", "135psi", "--at", "PG-2", "--medium", "water")
AT = ("--when", "2027-04-26T13:00")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Said]:
    folder = tmp_path_factory.mktemp("built") / "works"
    return folder, verb("demo", "--built", folder)


def test_the_joint_of_this_morning_forbids_the_test(built: tuple[Path, Said]) -> None:
    # The card's invented row 4: NPS 6 at 40 to 60 F, to 180 psi, 72 h. Held until Mon 08:34: Thu 08:34, and
    # rounded up to five minutes.
    said = built[1]
    assert (said.code, said.err) == (0, "")  # the demo is done; may raise itself exits with 11
    assert "NOT BEFORE Thu 29 Apr 08:35, then ask again" in said.out
    governs = next(row for row in said.out.splitlines() if row.startswith("governed by"))
    assert "B-203d/J6: hold ended or last disturbed Mon 26 Apr 08:34" in governs
    assert "72 h" in governs
    assert "people-out · nothing-since" in said.out
    assert "P-9: the person in charge of the test" in said.out


def test_the_radio_says_it_in_five_lines(built: tuple[Path, Said]) -> None:
    rows = built[1].out[built[1].out.index("$ lineproof now") :].splitlines()[1:]
    assert len(rows) == 5
    assert all(len(row) < 160 for row in rows)
    assert rows[1].startswith("Hands off: B-203d J6 and all that hangs together with it. Not before 14:35")


def test_its_record_is_sound_and_the_answer_changes_nothing(built: tuple[Path, Said]) -> None:
    folder, said = built
    before = (folder / "logbook.db").read_bytes()
    assert verb("record", "verify", "--job", folder).code == 0
    again = verb("demo", "--built", folder)
    assert again.out.replace("Using", "Made", 1) == said.out
    assert (folder / "logbook.db").read_bytes() == before


def test_all_but_that_joint_had_been_ready(built: tuple[Path, Said]) -> None:
    told = verb("may", "raise", "B-203", *ASKED, *AT, "--json", "--job", built[0]).data
    waiting = {f["subject"] for f in told["findings"] if f["verdict"] == "WAIT"}
    assert waiting == {"B-203d/J6"}
    assert {f["verdict"] for f in told["findings"]} == {"WAIT", "GO"}
    assert len(told["joints"]) == 58


def test_the_afternoon_before_it_only_the_missing_joint_is_named(built: tuple[Path, Said]) -> None:
    told = verb(
        "may", "raise", "B-203", *ASKED, "--when", "2027-04-26T08:00", "--known", "1", "--job", built[0]
    )
    assert told.code == 12
    assert "nobody recorded that it was made" in told.out


def test_a_shorter_row_typed_into_the_card_afterwards_lets_nothing_go(
    built: tuple[Path, Said], tmp_path: Path
) -> None:
    """72 h of the card's invented row 4 as it was sealed; 24 h typed over it on the day of the test."""
    shutil.copytree(built[0], tmp_path / "works")
    path = tmp_path / "works" / "job.toml"
    text = path.read_text("utf-8")
    assert 'time = "72 h"' in text
    path.write_text(text.replace('time = "72 h"', 'time = "24 h"'), "utf-8")
    told = verb("may", "raise", "B-203", *ASKED, *AT, "--json", "--job", tmp_path / "works").data
    assert told["verdict"] == "CANNOT TELL"
    assert told["until"].startswith("2027-04-29T08:35")
    against = {(f["id"], f["facts"]["why"]) for f in told["findings"] if f["verdict"] != "GO"}
    assert ("CEM-06", "changed") in against
    clock = next(f for f in told["findings"] if f["subject"] == "B-203d/J6" and f["verdict"] == "WAIT")
    assert clock["limit"] == 72 * 3600.0
