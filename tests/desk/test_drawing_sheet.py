"""A line on its sheets: what is said on it, its SVG, and what is refused. All data are invented."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from desk.walked_lines import random_walk, work_of
from lineproof.desk.drawing.project import BrokenScale, distinct, drawn_gap
from lineproof.desk.drawing.scene import Kind
from lineproof.desk.drawing.sheets import Sheet, line_sheets
from lineproof.desk.drawing.widths import shorten, text_width
from lineproof.floor.errors import BadInput

WALK = """drawing M-204 rev 3
line B-201 size 6in pipe pvc sch80 for "backwash <rinse>"
starts at flange fixed "pump P-3" at 0, 0, 2'-6" facing north
go north 6'-0"
union
go north 22'-4 1/2" field
go up to centre 12.50ft
go north 10' west 6' up 8'
go north 3'
tee west 4in as B-201a
go north 5'
reduce to 4in eccentric flat top
go north 35' down 1:100 along
ends at flange fixed "filter F-1"
line B-202 size 4in pipe pvc sch80
starts at branch B-201a
go west 8'
saddle up 1in as V-1
go west 4'
go down 5'
ends at cap
"""


@pytest.fixture(scope="module")
def sheet() -> Sheet:
    (one,) = line_sheets(work_of(WALK), "B-201", width_mm=277, height_mm=190)
    return one


def said(sheet: Sheet, kind: Kind) -> list[str]:
    return [w.text for w in sheet.words if w.role == kind.value]


def test_lengths_elevations_slope_and_ends_are_said(sheet: Sheet) -> None:
    # typed from the walk above; 35'-0" at 1:100 falls 4 3/16", 12.50 ft is 12'-6"
    assert set(said(sheet, Kind.LENGTH)) >= {
        "6'-0\"",
        "22'-4 1/2\"",
        "10'-0\"",
        "3'-0\"",
        "5'-0\"",
        "35'-0\"",
    }
    assert said(sheet, Kind.SLOPE) == ["1:100"]
    assert set(said(sheet, Kind.LEVEL)) >= {"EL 2'-6\"", "EL 12'-6\"", "EL 20'-6\""}
    assert set(said(sheet, Kind.END)) == {"pump P-3 with F1", "filter F-1 with F2"}
    assert said(sheet, Kind.BRANCH) == ["to B-202, 4 in"]
    assert said(sheet, Kind.ROLL) == ["W 6'-0\", N 10'-0\", up 8'-0\""]
    assert sheet.placed_share == 1.0


def test_a_branch_line_says_where_it_comes_from_and_shows_its_saddle() -> None:
    (sheet,) = line_sheets(work_of(WALK), "B-202", width_mm=190, height_mm=277)
    assert "from B-201 T1" in said(sheet, Kind.BRANCH)
    assert any(text.startswith("S1 branch V-1") for text in said(sheet, Kind.BRANCH))
    # elbow 2, cap 1, tee branch 1, saddle 1 (joint counts by kind of part: common practice, no source)
    assert len(said(sheet, Kind.JOINT)) == 5


def test_a_field_piece_is_dashed_and_says_tape(sheet: Sheet) -> None:
    assert any(s.dashed for s in sheet.strokes if s.role == "pipe")
    assert said(sheet, Kind.TAPE) == ["tape"] or any("tape" in t for t in said(sheet, Kind.LENGTH))


def test_no_balloons_and_no_circles(sheet: Sheet) -> None:
    assert "<circle" not in sheet.svg
    assert "<ellipse" not in sheet.svg


def test_the_svg_is_xml_with_a_title_and_single_ids(sheet: Sheet) -> None:
    root = ElementTree.fromstring(sheet.svg)
    space = "{http://www.w3.org/2000/svg}"
    assert root.get("viewBox") == "0 0 277 190"
    title, about = root.find(f"{space}title"), root.find(f"{space}desc")
    assert title is not None
    assert title.text == "Line B-201, isometric sketch, sheet 1 of 1"
    assert about is not None
    assert "backwash <rinse>" in (about.text or "")
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    weights = {e.get("stroke-width") for e in root.iter() if e.get("stroke-width")}
    assert weights == {"0.35", "0.7"}


def test_the_same_walk_gives_the_same_bytes_in_another_process(sheet: Sheet) -> None:
    script = (
        "import sys; from desk.test_drawing_sheet import WALK; from desk.walked_lines import work_of\n"
        "from lineproof.desk.drawing.sheets import line_sheets\n"
        "sys.stdout.write(line_sheets(work_of(WALK), 'B-201', width_mm=277, height_mm=190)[0].svg)"
    )
    env = {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LANG": "C", "PYTHONPATH": ":".join(sys.path)}
    out = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, env=env, check=True)
    assert out.stdout == sheet.svg


def test_a_long_straight_run_is_cut_with_match_lines() -> None:
    walk = (
        "line D-7 size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"
        "go north 1900'\nends at cap\n"
    )
    sheets = line_sheets(work_of(walk), "D-7", width_mm=277, height_mm=190)
    assert len(sheets) > 1
    for before, after in pairwise(sheets):
        assert any(f"match {before.number}, to sheet {after.number}" in w.text for w in before.words)
        assert any(f"match {before.number}, from sheet {before.number}" in w.text for w in after.words)
    lengths = [t for s in sheets for t in said(s, Kind.LENGTH)]
    lengths += [r.text for s in sheets for r in s.table if r.kind == "length"]
    assert lengths == ["1900'-0\" in all"]
    assert all(s.placed_share >= 0.9 for s in sheets)


def test_a_line_that_is_not_there_is_refused() -> None:
    with pytest.raises(BadInput, match="the job has no line Q-1"):
        line_sheets(work_of(WALK), "Q-1", width_mm=277, height_mm=190)


@pytest.mark.parametrize(
    ("width", "height"), [(10.0, 190.0), (277.0, float("nan")), (-1.0, 100.0), (1e9, 190.0)]
)
def test_a_sheet_that_is_no_paper_is_refused(width: float, height: float) -> None:
    with pytest.raises(BadInput, match="a sheet of"):
        line_sheets(work_of(WALK), "B-201", width_mm=width, height_mm=height)


def test_issued_joint_numbers_are_shown_and_the_foot_says_when_there_are_none(sheet: Sheet) -> None:
    work = work_of(WALK)
    joints = tuple(replace(j, id=f"{j.line}/J{n}") for n, j in enumerate(work.cutting.joints, 1))
    issued = replace(work, cutting=replace(work.cutting, joints=joints))
    (now,) = line_sheets(issued, "B-201", width_mm=277, height_mm=190)
    assert {"J1", "J2"} <= set(said(now, Kind.JOINT))
    assert any("not issued yet" in w.text for w in sheet.words)
    assert not any("not issued yet" in w.text for w in now.words)


def test_joints_are_as_many_as_the_walk_has() -> None:
    # Fitting by fitting from the walk: 2 mate flanges 1 each, union 2, elbows 2 each, tee 2 on this line,
    # reducing coupling 2 (joint counts: common practice, no source), and 2 for each coupling of a split leg.
    work = work_of(WALK)
    couplings = sum(p.line == "B-201" for p in work.cutting.couplings.values())
    sheets = line_sheets(work, "B-201", width_mm=277, height_mm=190)
    drawn = sum(len(said(s, Kind.JOINT)) + sum(r.kind == "joint" for r in s.table) for s in sheets)
    assert drawn == 2 + 2 + 6 + 2 + 2 + 2 * couplings


@pytest.mark.parametrize("legs", [1, 2])
def test_the_shortest_lines_are_drawn(legs: int) -> None:
    walk = "line Z size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing up\n"
    walk += "".join(f"go {way} 4'\n" for way in ("up", "north")[:legs]) + "ends at cap\n"
    (sheet,) = line_sheets(work_of(walk), "Z", width_mm=100, height_mm=80)
    assert len(said(sheet, Kind.LENGTH)) == legs


def test_crowded_paper_sends_labels_to_the_side_table_and_loses_none() -> None:
    sheets = line_sheets(work_of(random_walk(3, 40)), "R-3", width_mm=100, height_mm=80)
    rows = [r for s in sheets for r in s.table]
    assert rows
    for row in rows:
        assert row.text
        assert row.where


def test_broken_scale_draws_far_things_nearer_but_in_order() -> None:
    gaps = [0.0, 0.1, 1.0, 10.0, 100.0, 1000.0]
    drawn = [drawn_gap(g) for g in gaps]
    assert drawn[0] == 0.0
    assert drawn == sorted(drawn)
    assert drawn[-1] / drawn[2] < 10  # a thousand times as far, less than ten times as long
    scale = BrokenScale(distinct([5.0, 0.0, 5.0 + 1e-7, 9.0]), (0.0, 10.0, 12.0))
    assert scale.real == (0.0, 5.0, 9.0)
    assert [scale.at(v) for v in (-1.0, 0.0, 2.5, 5.0, 5.0 + 1e-7, 9.0, 99.0)] == [
        0.0,
        0.0,
        5.0,
        10.0,
        10.0,
        12.0,
        12.0,
    ]


def test_text_is_never_measured_too_narrow() -> None:
    # advances of DejaVu Sans 2.37 out of 2048 units a type size: J 604, 3 1303, 1 1303 (read from the font)
    assert text_width("J31", size=2048.0) == pytest.approx(604 + 1303 + 1303, abs=2)
    assert text_width("W", size=1.0) <= text_width("\u6f22", size=1.0)
    assert shorten("a long service name", 12.0).endswith("...")
    assert text_width(shorten("a long service name", 12.0)) <= 12.0
