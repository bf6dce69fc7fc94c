"""Joint cards, tags and wrap strips, measured on the drawn page."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import zxingcpp

from lineproof.desk.papers import words
from lineproof.desk.papers.cards import Cards
from lineproof.desk.papers.tags import is_named, tag_svg, tag_text
from lineproof.desk.papers.wrap import clocks, ruler, wrap_sheet
from lineproof.floor.shown import show_inches
from lineproof.plan.joint_needs import ROLES
from lineproof.plan.names import short
from paper_rigs import demo_pack, demo_papers, metric_pack, metric_papers, of_paper, pages, pictures

DPI = 300


def chosen(line: str = "B-301") -> list:
    return [j for j in demo_pack().joints if j.place.line == line]


@pytest.mark.slow
def test_the_tag_of_every_named_joint_is_read_back_from_the_page() -> None:
    """Read by an independent reader of QR codes (zxing-cpp) from the page drawn at 200 dots an inch."""
    expected = {tag_text("BRK", j.place.id, "") for j in chosen() if is_named(j.place.id)}
    for name in ("joint-cards.pdf", "tags.pdf"):
        read = [
            code.text
            for _, picture in pictures(demo_papers()[name], 200)
            for code in zxingcpp.read_barcodes(np.ascontiguousarray(picture))
        ]
        assert len(read) == len(expected), name
        assert set(read) == expected


def test_a_long_name_gets_a_larger_code() -> None:
    text = tag_text("a-job-with-a-long-name", "a-line-with-a-long-name/J1234", "12")
    assert text == "LP:a-job-with-a-long-name:a-line-with-a-long-name/J1234:12"
    # ISO/IEC 18004 (from memory): version 3 has 29 modules a side; with a quiet zone of 4 it is 37.
    assert 'viewBox="-4 -4 37 37"' in tag_svg(tag_text("T", "L/J1", ""))
    assert 'viewBox="-4 -4 37 37"' not in tag_svg(text)


def test_every_chosen_joint_has_one_card_with_everything_on_it() -> None:
    texts = [" ".join(p.tokens) for p in pages(demo_papers()["joint-cards.pdf"])]
    whole = " ".join(texts)
    joints = chosen()
    assert whole.count("If it stops short: no hammer, no pulling back; measure, record, ask.") == len(joints)
    for role in ROLES:
        assert whole.count(role) >= len(joints)
    for j in joints:
        assert whole.count(f" {short(j.place.id)} ") + whole.startswith(f"{short(j.place.id)} ") >= 1
    first = [j for j in joints if j.line_zero]
    assert first
    assert whole.upper().count("ON THE PIPE FIRST") == sum(len(j.line_zero) for j in first)
    assert whole.count("Nothing goes on the pipe before this joint.") == len(joints) - len(first)


def test_line_zero_comes_before_the_steps() -> None:
    for p in pages(demo_papers()["joint-cards.pdf"]):
        text = " ".join(p.tokens)
        zero = min(x for x in (text.find("ON THE PIPE FIRST"), text.find("Nothing goes on")) if x >= 0)
        assert zero < text.index("Cut square")


def test_dry_fit_bands_are_thirds_of_the_depth() -> None:
    """Interference starts one third to two thirds of the way in (abstract of ASTM F3328-18)."""
    pack = demo_pack()
    shown = pack.work.job.settings.shown.shown
    maker = Cards(pack)
    tried = 0
    for j in pack.joints:
        depth = j.place.depth
        if depth is None or j.place.size.metric:
            continue
        tight, good, net, loose = maker.card(j)["bands"]
        third, two = show_inches(depth / 3, shown), show_inches(depth * 2 / 3, shown)
        assert (tight, good) == (f"under {third}", f"{third} to {two}")
        assert net == f"to {show_inches(depth, shown)}"
        assert "stop" in loose
        tried += 1
    assert tried > 100


def test_a_metric_joint_is_judged_by_its_gap_not_by_depth() -> None:
    pack = metric_pack()
    card = Cards(pack).card(next(j for j in pack.joints if j.place.size.metric and j.place.depth))
    assert card["bands"] == []
    assert "gap on the diameter" in card["fit"] or "depth of the socket" in card["fit"]
    assert "gap must be one the cement fills" in " ".join(card["steps"])


def test_times_stand_on_the_card_and_what_is_missing_is_named() -> None:
    pack = demo_pack()
    shown = pack.work.job.settings.shown.shown
    maker = Cards(pack)
    for j in pack.joints:
        card = maker.card(j)
        times = dict(card["times"])
        assert times["hold"] == (words.wait(j.hold.time, shown) or "?")
        assert times["hands off"] == (words.wait(j.hands_off.time, shown) or "?")
        assert bool(card["missing"]) == any(m.blocks for m in j.missing)
        if j.needs.pull_in.needed:
            assert "pullers off" in times


def test_what_the_tape_must_read_from_face_to_second_mark_is_on_the_card() -> None:
    """The second mark less the depth is what stays outside the socket."""
    pack = demo_pack()
    shown = pack.work.job.settings.shown.shown
    maker = Cards(pack)
    tried = 0
    for j in pack.joints:
        depth = j.needs.bond.depth
        if j.second_mark is not None and depth is not None and j.method:
            left = show_inches(j.second_mark - depth, shown)
            assert f"must read {left}." in " ".join(maker.card(j)["steps"])
            tried += 1
    assert tried > 100


def longest_dark(row: np.ndarray) -> int:
    """Longest run of dark dots in a row of a picture."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], (row < 128).astype(np.int8), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_proof_bars_measure_100_mm_and_4_in_on_the_drawn_page(paper: str) -> None:
    """On the page drawn at 300 dots an inch: 100 mm is 1181.1 dots (25.4 mm an inch), 4 in is 1200."""
    pdf = demo_papers(paper)["wrap-strips.pdf"]
    for n, picture in pictures(pdf, DPI, [1]):
        bars = []
        for row in picture[: picture.shape[0] // 4]:
            dark = np.flatnonzero(np.diff(np.concatenate(([0], (row < 128).astype(np.int8), [0]))))
            runs = dark[1::2] - dark[::2]
            if sum(r > 1000 for r in runs) == 2:
                bars.append(tuple(int(r) for r in runs if r > 1000))
        assert len(bars) > 20, n
        left, right = bars[len(bars) // 2]
        assert left == pytest.approx(100 / 25.4 * DPI, abs=1.5)
        assert right == pytest.approx(4 * DPI, abs=1.5)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_strips_of_a_size_are_once_round_the_pipe(paper: str) -> None:
    """12 in: 12.750 in outside (ASTM D1785, Table 1), so 40.055 in round; its strips add up to that."""
    sheet = wrap_sheet(demo_pack(), paper)
    assert sheet is not None
    sizes = {s["name"]: s for s in sheet["sizes"]}
    twelve = sizes["12 in PVC Sch 80"]
    assert sum(s["w"] for s in twelve["strips"]) == pytest.approx(math.pi * 12.75 * 25.4)
    joins = [(s["join_left"], s["join_right"]) for s in twelve["strips"]]
    assert joins[0][0] == joins[-1][1] == ""
    assert all(a[1] == b[0] != "" for a, b in pairwise(joins))


def test_the_frame_of_a_strip_has_its_true_length_on_the_page() -> None:
    """6.625 in outside, so 528.7 mm round; the frame of one strip measures its share, drawn at 300."""
    pdf = demo_papers()["wrap-strips.pdf"]
    page = next(p for p in pages(pdf) if "outside diameter 6.625" in p.text)
    strips = page.text.count("strip 1 of ")
    assert strips == 1
    count = int(page.text.split("strip 1 of ")[1].split()[0])
    for _, picture in pictures(pdf, DPI, [page.number]):
        # the top of the first frame: below the proof bars, and the only one without a tab on its left
        below = picture[int(45 / 25.4 * DPI) :]
        first = next(run for row in below if (run := longest_dark(row)) > 1500)
        assert first == pytest.approx(math.pi * 6.625 / count * DPI, abs=4)


def test_three_o_clock_is_a_quarter_of_the_way_round() -> None:
    around = math.pi * 114.3
    hours = {t.text: t.at for t in clocks(0.0, around, around) if t.text}
    assert hours["3"] == pytest.approx(around / 4)
    assert hours["6"] == pytest.approx(around / 2)
    assert [words.clock(math.radians(d)) for d in (0, 15, 90, 180, 270, 359.9)] == [
        "12:00", "12:30", "3:00", "6:00", "9:00", "12:00",
    ]  # fmt: skip


def test_inches_are_an_inch_apart_and_millimetres_a_millimetre() -> None:
    inch = [t.at for t in ruler(0.0, 300.0, inch=True) if t.text]
    assert np.diff(inch) == pytest.approx(25.4)
    fine = [t.at for t in ruler(10.3, 40.0, inch=False)]
    assert fine[0] == pytest.approx(11.0)
    assert np.diff(fine) == pytest.approx(1.0)


@pytest.mark.slow
def test_metric_jobs_print_in_millimetres() -> None:
    text = " ".join(" ".join(p.tokens) for p in pages(metric_papers()["joint-cards.pdf"]))
    assert " mm" in text
    assert '"' not in text


def test_cards_stand_two_to_a_page() -> None:
    cards = pages(demo_papers()["joint-cards.pdf"])
    assert len(cards) == math.ceil(len(chosen()) / 2)
    assert of_paper(demo_papers()["wrap-strips.pdf"], "Wrap strips")
