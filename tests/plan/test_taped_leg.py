"""A taped gap stays on its leg: a walk that changes under it is refused, never misread."""

import pytest

from lineproof.floor.errors import BadInput
from lineproof.job.folder import read_job
from lineproof.plan.work import work
from rigs import INCH, elbow, flange, job_at, stock, work_at
from verb_rig import verb

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
LEGS = "go north 10'\ngo east 4' field\ngo north 9'\nends at open\n"
PARTS = [elbow("6in", "6 1/2 in", "3 in"), flange("6in", "3 1/2 in", "3 in")]


def test_an_elbow_put_in_before_the_gap_is_noticed(tmp_path):
    job_at(tmp_path, HEAD + LEGS, PARTS, toml=stock("6in"))
    said = verb("taped", "L", "E1", "to", "E2", "2'-11 1/4\"", "--job", tmp_path)
    assert said.code == 0
    piece = work(read_job(tmp_path)).cutting.pieces[1]
    assert piece.cut == pytest.approx((35.25 + 6) * INCH)
    # one elbow more: what was E1 to E2 is now another gap
    (tmp_path / "lines" / "line.walk").write_text(HEAD + "go north 5'\ngo up 3'\n" + LEGS, "utf-8")
    with pytest.raises(BadInput, match="was taped on the leg") as error:
        work(read_job(tmp_path))
    assert error.value.place.line == 2
    assert "go east 4'" in str(error.value)


def test_a_comment_or_another_way_to_write_the_length_changes_nothing(tmp_path):
    job_at(tmp_path, HEAD + LEGS, PARTS, toml=stock("6in"))
    assert verb("taped", "L", "E1", "to", "E2", "2'-11 1/4\"", "--job", tmp_path).code == 0
    same = LEGS.replace("go east 4' field", 'go east 48" field   # by the column')
    (tmp_path / "lines" / "line.walk").write_text(HEAD + same, "utf-8")
    assert work(read_job(tmp_path)).cutting.pieces[1].taped


def test_a_row_written_by_hand_needs_no_leg(tmp_path):
    taped = 'L,E1,E2,"2\'-11 1/4""",lead,2027-05-01 09:00,,\n'
    assert work_at(tmp_path, HEAD + LEGS, PARTS, toml=stock("6in"), taped=taped).cutting.pieces[1].taped
