"""Fittings measured and gaps taped on a page: into the same files, shown back first, and counted once.

Lengths are worked out by hand beside the check; the job is the built-in invented treatment works.
"""

from __future__ import annotations

import html
import re
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lineproof.job.folder import read_job
from lineproof.logbook.entry import new_id
from lineproof.plan.work import Work, work
from web_rig import client, works

INCH = 0.0254


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return works(tmp_path / "job")


def hidden(told: Any, action: str) -> dict[str, str]:
    found = re.search(rf'<form method="post" action="{re.escape(action)}".*?</form>', told.text, re.DOTALL)
    assert found, action
    return {
        name: html.unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', found[0])
    }


def fitting(ask: TestClient, words: str) -> tuple[str, dict[str, str]]:
    """The page of a fitting of the list, by words of its row."""
    page = ask.get("/tape").text
    links = re.findall(r'<a href="(/tape/fitting[^"]+)"><strong>([^<]+)</strong>', page)
    link = next(html.unescape(href) for href, what in links if words in what)
    return link, hidden(ask.get(link), "/tape/fitting") | {"by": "P-2"}


def cut(job: Path) -> Work:
    return work(read_job(job), nest=False)


def test_a_fitting_is_measured_looked_at_kept_and_frees_its_pieces(job: Path) -> None:
    ask = client(job)
    before = (job / "parts.csv").read_bytes()
    _, form = fitting(ask, "E12-3")
    typed = {**form, "d1.1": "6 1/16", "d2.1": '6 1/16"', "act": "look"}  # a bare number is inches
    look = ask.post("/tape/fitting", data=typed)
    assert "4 pieces can be cut now" in look.text
    assert "12 13/16" in look.text, "what the row holds so far is told"
    assert (job / "parts.csv").read_bytes() == before, "looking writes nothing"
    waiting = sum(p.cut is None for p in cut(job).cutting.pieces)
    keep = hidden(look, "/tape/fitting") | {"act": "keep"}
    first = ask.post("/tape/fitting", data=keep)
    assert "Kept." in first.text
    again = ask.post("/tape/fitting", data=keep)
    assert "it counted once" in again.text
    after = cut(job)
    assert sum(p.cut is None for p in after.cutting.pieces) == waiting - 4
    row = next(r for r in after.job.parts.rows if r.lot == "E12-3")
    assert row.outlets[0].depth == pytest.approx(6.0625 * INCH)  # 6 1/16 in
    assert row.outlets[0].reach == pytest.approx(12.8125 * INCH), "what was measured before stays"
    assert row.by == "P-2"
    now = (job / "parts.csv").read_text("utf-8").splitlines()
    was = before.decode().splitlines()
    assert len(now) == len(was) + 1
    gone = [r for r in was if r not in now]
    assert len(gone) == 1, "every other row stays as it was written"
    assert "E12-3" in gone[0]
    assert any(r.startswith("# ") and "E12-3" in r and "before:" in r for r in now), "the old row is a remark"


def test_one_more_of_a_lot_moves_the_middle_and_the_spread(job: Path) -> None:
    """2 15/16 in with no spread said, then 3 in: the middle is 2 31/32 in, 1/16 in apart."""
    ask = client(job)
    was = next(r for r in cut(job).job.parts.rows if r.lot == "K2-4" and r.kind.value == "elbow")
    reach, spread = was.outlets[0].reach, was.spread or 0.0
    assert reach == pytest.approx(2.9375 * INCH)
    _, form = fitting(ask, "K2-4")
    typed = {**form, "r1.1": "3", "d1.1": '1 17/32"', "r2.1": "3", "d2.1": '1 17/32"', "act": "look"}
    look = ask.post("/tape/fitting", data=typed)
    ask.post("/tape/fitting", data=hidden(look, "/tape/fitting") | {"act": "keep"})
    row = next(r for r in cut(job).job.parts.rows if r.lot == "K2-4" and r.kind.value == "elbow")
    low, high = (2.9375 * INCH - spread / 2), 3 * INCH
    assert row.outlets[0].reach == pytest.approx((low + high) / 2)
    assert row.spread == pytest.approx(high - low)
    assert row.measured == 3
    assert row.stands_for_lot


def test_a_wrong_measure_is_put_right_by_measuring_again(job: Path) -> None:
    ask = client(job)
    _, form = fitting(ask, "E12-1")
    typed = {**form, "r1.1": "13", "d1.1": "6", "r2.1": "13", "d2.1": "6", "again": "yes", "act": "look"}
    look = ask.post("/tape/fitting", data=typed)
    ask.post("/tape/fitting", data=hidden(look, "/tape/fitting") | {"act": "keep"})
    rows = [r for r in cut(job).job.parts.rows if r.lot == "E12-1" and r.angle_deg == 90]
    assert [(r.outlets[0].reach, r.measured) for r in rows] == [(pytest.approx(13 * INCH), 1)]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"r1.1": "lots"}, "lots"),
        ({}, "nothing was measured"),
        ({"r1.1": "3", "d1.1": "7"}, "past the centre"),
        ({"r1.1": "13", "by": ""}, "nobody is named"),
        ({"of": "elbow | 17"}, "no fitting is called"),
    ],
)
def test_what_cannot_be_taken_is_said_and_nothing_is_written(
    job: Path, typed: dict[str, str], says: str
) -> None:
    ask = client(job)
    before = (job / "parts.csv").read_bytes()
    _, form = fitting(ask, "E12-1")
    form["once"] = new_id()
    for act in ("look", "keep"):
        told = ask.post("/tape/fitting", data={**form, "act": act, "again": "yes", **typed})
        assert told.status_code in (400, 409)
        assert says in html.unescape(told.text)
    assert (job / "parts.csv").read_bytes() == before


def test_a_gap_is_shown_back_kept_once_and_put_right_by_a_newer_row(job: Path) -> None:
    ask = client(job)
    form = hidden(ask.get("/tape"), "/tape") | {"by": "P-1", "length": "1'-2 1/2\""}
    before = (job / "taped.csv").read_bytes() if (job / "taped.csv").exists() else b""
    look = ask.post("/tape", data={**form, "act": "look"})
    assert "Nothing is kept yet" in look.text
    assert ((job / "taped.csv").read_bytes() if (job / "taped.csv").exists() else b"") == before
    keep = hidden(look, "/tape") | {"act": "keep"}
    for _ in range(2):
        assert ask.post("/tape", data=keep).status_code == 200
    rows = read_job(job).taped
    assert [r.by for r in rows[-1:]] == ["P-1"]
    count = len(rows)
    look = ask.post("/tape", data={**form, "length": "1'-3\"", "note": "misread", "act": "look"})
    ask.post("/tape", data=hidden(look, "/tape") | {"act": "keep"})
    rows = read_job(job).taped
    assert len(rows) == count + 1
    piece = next(p for p in cut(job).cutting.pieces if p.taped)
    assert piece.taped
    assert rows[-1].length == pytest.approx(15 * INCH)  # 1 ft 3 in


def test_a_form_of_another_run_is_refused(job: Path) -> None:
    ask = client(job)
    form = hidden(ask.get("/tape"), "/tape") | {"by": "P-1", "length": "4'", "act": "keep", "key": "old"}
    assert ask.post("/tape", data=form).status_code == 400
