"""The five invented jobs on paper: at least 95 % of the labels of each stand on its drawing, and can be read.

The five are those of ``examples/`` and the built-in one; 95 % and lettering of 2.5 mm are our own targets
(the height is the nominal size 2,5 of ISO 3098, from memory).
"""

from __future__ import annotations

import ctypes
from importlib import resources
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from desk.sheet_read import faults, leaders_touch, read_sheet, side_rows
from lineproof.desk.drawing.sheets import line_sheets
from lineproof.desk.papers.lines import BOX_MM, line_papers
from lineproof.desk.papers.make import document
from lineproof.desk.papers.typeset import typeset
from lineproof.job.folder import read_job
from lineproof.plan.make_pack import make_pack
from lineproof.plan.work import Work, work

ROOT = Path(__file__).resolve().parents[2]
JOBS = {
    "A": ROOT / "examples" / "tolbrake",
    "B": Path(str(resources.files("lineproof") / "demo" / "brackstow")),
    "C": ROOT / "examples" / "sarnquell",
    "D": ROOT / "examples" / "yarrowdun",
    "E": ROOT / "examples" / "ostrelby",
}
JOINTS = {"A": 77 + 9, "B": 341, "C": 525, "D": 626, "E": 337}
"""Cemented joints of each, by its own list; A has 9 more at standing sockets."""
SLOW = [pytest.param(k, marks=[] if k == "A" else pytest.mark.slow) for k in JOBS]


def made(job: str) -> Work:
    return work(read_job(JOBS[job]), nest=False)


@pytest.mark.parametrize("job", SLOW)
@pytest.mark.parametrize("paper", BOX_MM)
def test_nearly_all_labels_stand_on_the_drawing_and_nothing_is_in_the_way(job: str, paper: str) -> None:
    plan = made(job)
    width, height = BOX_MM[paper]
    told = on_it = joints = 0
    for line in plan.graph.lines:
        for sheet in line_sheets(plan, line, width_mm=width, height_mm=height):
            read, rows = read_sheet(sheet.svg), side_rows(sheet.on_screen())
            assert faults(read) == []
            assert leaders_touch(read) == []
            keys = [t.text for t in read.said("key")]
            assert sorted(keys) == sorted(row[0] for row in rows)
            all_ = len(rows) + sum(t.role not in ("foot", "north", "key") for t in read.texts)
            joints += len(read.said("joint")) + sum(row[1] == "joint" for row in rows)
            told, on_it = told + all_, on_it + all_ - len(rows)
            assert sheet.legs <= 50
    assert joints == JOINTS[job]
    assert on_it / told >= 0.95


def heights(pdf: bytes) -> list[float]:
    """Heights of the figures on each line sheet of a document, as the reader of the paper gets them. [mm]"""
    found: list[float] = []
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        for n in range(text.count_chars()):
            sign = text.get_text_range(n, 1)
            if sign not in "124567":  # their height is that of a capital, with nothing over or under
                continue
            size = pdfium.FPDFText_GetFontSize(text.raw, ctypes.c_int(n))
            left, low, right, high = text.get_charbox(n)
            if size > 0 and right > left:
                found.append((high - low) / 72 * 25.4)
    return found


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_letters_on_the_printed_sketch_are_at_least_two_and_a_half_millimetres(paper: str) -> None:
    pack = make_pack(read_job(JOBS["A"])).pack
    sheets = [s for s in line_papers(pack, paper) if s["kind"] == "line" and not s["table"]]
    assert sheets
    for s in sheets:  # the head and foot of the page are no part of the sketch
        s["name"] = s["where"] = "x"
        for picture in s["pictures"]:
            picture["where"] = ""
    told = document(pack, paper, "x", sheets)
    told["job"] = {k: v if k == "invented" else "x" for k, v in told["job"].items()}
    told["words"] = {"foot": "x", "page": "x", "page_of": "1", "invented": "x"}
    drawn = [h for h in heights(typeset(told, pack.stamp)) if h > 2.2]  # page numbers are smaller type
    assert len(drawn) > 200
    assert min(drawn) >= 2.5 - 0.04  # figures such as 4 and 7 end at the height of a capital
