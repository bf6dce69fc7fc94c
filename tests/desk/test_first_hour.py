"""What a lead meets in the first hour: names left over, the first things, a second name, a closed pipe."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from lineproof.desk import cli
from lineproof.desk.papers.first import first_things, names_nobody_walked
from lineproof.desk.say import reason
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.folder import new_job, read_job
from lineproof.job.parts import PartKind
from lineproof.job.parts_csv import COLUMNS, MEANING, read_parts
from lineproof.plan.judge import told_together
from lineproof.plan.make_pack import make_pack
from lineproof.plan.pack import Pack
from verb_rig import refused, verb

ROOT = Path(__file__).resolve().parents[2]
FOOT = 0.3048  # exact by definition
BRANCHED = """line L size 6in pipe pvc sch80
starts at flange fixed flat "pump P-1"
go north 8'
tee east as L-b
go north 8'
ends at cap
line L-b size 6in pipe pvc sch80
starts at branch L-b
go east 6' field
ends at flange flat
"""
TEE = ',tee,,pvc,sch80,6in,,L-9,1,1,,"6 9/16""","3 1/16""",same,same,same,same' + "," * 12 + "\n"


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    new_job(tmp_path / "a job")
    return tmp_path / "a job"


def pack_of(folder: Path) -> Pack:
    return make_pack(read_job(folder)).pack


def walked(folder: Path, walk: str) -> Path:
    (folder / "lines" / "example.walk").write_text(walk, "utf-8")
    return folder


# ---------------------------------------------------------------- the template and what comes first


def test_a_new_job_has_no_stop_and_says_what_comes_first(fresh: Path) -> None:
    said = verb("plan", "--no-paper", "--job", fresh)
    assert said.code == Verdict.CANNOT_TELL.exit_code  # nobody signed a cap, and nobody can but the engineer
    assert "STOP          " not in said.out
    rows = said.out.splitlines()
    head = next(n for n, row in enumerate(rows) if row.startswith("first "))
    assert rows[head - 1].endswith("for the whole pack")
    assert [int(row[14:16]) for row in rows[head:] if re.match(r"(first)? {9,14}\d ", row)] == [1, 2, 3, 4]


def test_names_left_over_from_another_walk_come_before_all_else(fresh: Path) -> None:
    text = (fresh / "lines" / "example.walk").read_text("utf-8")
    pack = pack_of(walked(fresh, text.replace("line EX-1", "line FW-1")))
    assert names_nobody_walked(pack) == ["[[lines]] EX-*", "[[sections]] EX-1", "[[crews]] EX-*"]
    first, second, *_ = first_things(pack)
    assert "[[sections]] EX-1" in first
    assert "FW-1" in first
    assert "cement card" in second
    assert "stock" not in second  # a stock item is found by its pipe, whatever the line is called


def test_no_name_is_left_over_where_all_are_walked(fresh: Path) -> None:
    pack = pack_of(fresh)
    assert names_nobody_walked(pack) == []
    assert not any("no such line" in text for text in first_things(pack))


def test_the_next_command_can_be_typed_as_it_is_said(tmp_path: Path) -> None:
    said = verb("new", tmp_path / "filter house")
    assert f"--job '{tmp_path / 'filter house'}'" in said.out


# ---------------------------------------------------------------- the tee of another line


@pytest.mark.parametrize("name", ["L-b", "T1", "t1 of l", "L/T1"])
def test_a_gap_at_the_tee_of_another_line_may_be_named_as_on_any_paper(fresh: Path, name: str) -> None:
    walked(fresh, BRANCHED)
    with (fresh / "parts.csv").open("a", encoding="utf-8") as rows:
        rows.write(TEE)
    (gap,) = pack_of(fresh).work.tape.gaps
    assert (gap.face_a, gap.face_b) == ("T1 of L", "F1")
    said = verb("taped", "L-b", name, "to", "F1", "4'-7 1/2\"", "--job", fresh)
    assert (said.code, said.err) == (0, "")
    assert "piece A: cut now" in said.out


# ---------------------------------------------------------------- a tape that has lost its leg


def test_a_tape_whose_faces_were_numbered_anew_says_where_its_leg_lies_now(fresh: Path) -> None:
    assert verb("taped", "EX-1", "E2", "to", "F2", "23'-4\"", "--job", fresh).code == 0
    text = (fresh / "lines" / "example.walk").read_text("utf-8")
    walked(fresh, text.replace("go up 6'-0\"", "go up 3'-0\"\nflanges\ngo up 3'-0\""))
    said = refused(verb("plan", "--no-paper", "--job", fresh))
    assert "taped.csv:2" in said
    assert re.search(r"that leg lies from E2 to F\d now", said)
    assert "face_a and face_b" in said


def test_a_lot_on_a_leg_that_goes_straight_on_is_refused(fresh: Path) -> None:
    text = (fresh / "lines" / "example.walk").read_text("utf-8")
    walked(fresh, text.replace("go north 8'-0\"", "go north 8'-0\" lot ZZ-9"))
    said = refused(verb("walk", "--job", fresh))
    assert "lot ZZ-9 names the elbow" in said
    assert "example.walk:11" in said


# ---------------------------------------------------------------- sentences


def fact(check: str, **facts: object) -> str:
    return reason(Finding(id=check, verdict=Verdict.STOP, subject="S-1", facts=facts), Shown.us())


def test_one_is_said_as_one() -> None:
    told = {"why": "cannot_tell", "reason": "not measured", "measured": 0, "wants": 1}
    assert "waiting for it: 1 piece in 1 place. " in fact("PRT-01", waiting=1, places=1, **told)
    assert "waiting for it: 4 pieces in 2 places. " in fact("PRT-01", waiting=4, places=2, **told)
    assert "asks for 1 person and" in fact("HND-01", why="procedure", needed=1, present=0)
    assert "asks for 3 people and" in fact("HND-01", why="procedure", needed=3, present=2)


@pytest.mark.parametrize(("below", "words"), [(1.5, "1'-6\" below"), (-3.5, "3'-6\" above")])
def test_a_part_above_the_gauge_is_said_to_be_above_it(below: float, words: str) -> None:
    """Hydrostatics: what lies higher than the gauge sees less; a minus sign is no height on a paper."""
    assert f"{words} the gauge counted" in fact("PRS-01", why="stop", below=below * FOOT)


def test_what_waits_is_added_up_where_fittings_are_told_together() -> None:
    def waits(name: str, pieces: tuple[str, ...], wants: int) -> Finding:
        facts = {
            "why": "cannot_tell", "reason": "not measured", "wants": wants, "measured": 0, "places": wants,
            "waiting": len(pieces), "pieces": pieces,
        }  # fmt: skip
        return Finding(id="PRT-01", verdict=Verdict.CANNOT_TELL, subject=name, facts=facts)

    four = [waits("valve", (), 1), *(waits(f"elbow {n}", ("L/A", f"L/{n}"), 2) for n in range(3))]
    (told,) = told_together(four)
    said = reason(told, Shown.us())
    assert "4 pieces in 7 places" in said  # A is shared by three: A, 0, 1, 2; places 1 + 3 x 2
    assert "Measured 0 so far, 7 wanted." in said
    assert "more of this kind" not in said


# ---------------------------------------------------------------- papers for reading, and a reader that goes


def test_every_column_of_parts_is_told_and_the_rows_shown_are_read() -> None:
    text = (ROOT / "docs" / "parts.md").read_text("utf-8")
    assert re.findall(r"^\| `(\w+)` \|", text, re.MULTILINE) == list(COLUMNS)
    assert [c for c in COLUMNS if MEANING[c] not in text] == []
    rows = read_parts(re.findall(r"```csv\n(.*?)```", text, re.DOTALL)[0])
    assert [r.kind for r in rows] == [
        PartKind.ELBOW, PartKind.TEE, PartKind.FLANGE, PartKind.VALVE, PartKind.OTHER,
    ]  # fmt: skip


@pytest.mark.parametrize(("words", "code"), [(("figure",), 0), (("plan", "--no-paper"), 141)])
def test_a_reader_that_has_gone_is_no_fault_and_no_verdict(
    fresh: Path, words: tuple[str, ...], code: int
) -> None:
    """128 + SIGPIPE is what a shell says; common practice, no source. 0 from plan would mean GO."""
    gone = subprocess.Popen(
        [sys.executable, "-m", "lineproof", *words],
        cwd=fresh,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert gone.stdout is not None
    gone.stdout.close()  # before a word is written
    _, err = gone.communicate()
    assert (gone.returncode, err) == (code, b"")
    assert cli.CUT_OFF == 141
