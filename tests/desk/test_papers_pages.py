"""The papers read back: everything is on them once, nothing lies over something else or off the page."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pypdf
import pytest

from lineproof.desk.papers import papers
from lineproof.desk.papers.reasons import reasons
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import show_length
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.joints import joint_plans
from lineproof.plan.model import State
from lineproof.plan.pack import Confirm, Counts, Pack
from paper_rigs import (
    MM,
    boxes,
    demo_pack,
    demo_papers,
    metric_pack,
    metric_papers,
    of_paper,
    pages,
    pictures,
)
from rigs import elbow, stock, work_at

# ISO 216 and ANSI/ASME Y14.1 (from memory): A4 is 210 x 297 mm, Letter 8 1/2 x 11 in.
SIZES = {"a4": (210 * MM, 297 * MM), "letter": (8.5 * 72, 11 * 72)}


def joined(text: str) -> str:
    return "".join(text.split())


@pytest.mark.slow
def test_every_piece_stands_once_in_the_cut_list() -> None:
    for pack, made in ((demo_pack(), demo_papers()), (metric_pack(), metric_papers())):
        seen = Counter(t for p in of_paper(made["pack.pdf"], "Cut list") for t in p.tokens)
        ids = [p.id for p in pack.work.cutting.pieces]
        assert ids
        assert {i: seen[i] for i in ids if seen[i] != 1} == {}


def test_every_joint_stands_once_in_the_joint_list() -> None:
    for pack, made in ((demo_pack(), demo_papers()), (metric_pack(), metric_papers())):
        listed = of_paper(made["pack.pdf"], "Joint list")
        seen = Counter(t for p in listed for t in p.tokens)
        whole = joined("".join(p.text for p in listed))
        for joint in pack.joints:
            name = joint.place.id
            count = whole.count(joined(name)) if "(" in name else seen[name]
            assert count == 1, name


def test_cut_list_prints_the_three_lengths_beside_the_piece() -> None:
    """Lengths as the job shows them, in the order cut, face to face, centre to centre."""
    pack = demo_pack()
    shown = pack.work.job.settings.shown.shown
    text = " ".join(" ".join(p.tokens) for p in of_paper(demo_papers()["pack.pdf"], "Cut list"))
    tried = 0
    for p in pack.work.cutting.pieces:
        if p.state is State.CUT and p.cut is not None and p.face_to_face is not None:
            lengths = (p.cut, p.face_to_face, p.centre_to_centre)
            pipe = f"{p.size.text} {p.material.upper()} Sch 80"
            assert f"{p.id} {pipe} {' '.join(show_length(x, shown) for x in lengths)}" in text
            tried += 1
    assert tried > 50


def test_answer_page_says_verdict_counts_and_what_to_do() -> None:
    pack = demo_pack()
    text = " ".join(of_paper(demo_papers()["pack.pdf"], "Answer")[0].tokens)
    assert pack.verdict.word in text
    go = pack.counts.joints.get(Verdict.GO, 0)
    assert f"{go} of {len(pack.joints)} joints" in text
    assert f"from {pack.counts.sticks} sticks (bound {pack.counts.bound}" in text
    assert "Fewest confirmations" in text
    assert "What to do first" in text
    assert len(of_paper(demo_papers()["pack.pdf"], "Answer")) == 1, "the answer is one page"


@pytest.mark.slow
def test_every_page_says_what_it_is() -> None:
    for made in (demo_papers(), demo_papers("letter"), metric_papers()):
        for name, pdf in made.items():
            all_pages = pages(pdf)
            for p in all_pages:
                told = " ".join(p.tokens)
                assert f"page {p.number} of {len(all_pages)}" in told, name
                assert "NOT ISSUED: a draft" in told
                assert "table editions: paper Sources" in told
                assert "INVENTED DATA" in told
                assert "drawing " in told
                assert "local codes stand above this paper" in told


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_have_the_size_asked_for(paper: str) -> None:
    short, long = SIZES[paper]
    for pdf in demo_papers(paper).values():
        for p in pages(pdf):
            assert sorted((p.width, p.height)) == pytest.approx([short, long], abs=0.6)


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_lies_off_the_page_or_over_other_words(paper: str) -> None:
    """Text stays 5 mm inside the page, which most printers reach, and no two boxes share 0.8 x 0.8 pt."""
    for made in (demo_papers(paper), metric_papers(paper)):
        for name, pdf in made.items():
            for p in pages(pdf):
                found = boxes(pdf, p.number)
                for left, bottom, right, top, text in found:
                    inside = left > 5 * MM and bottom > 5 * MM
                    inside = inside and right < p.width - 5 * MM and top < p.height - 5 * MM
                    assert inside, f"{name} page {p.number}: {text!r} runs off"
                if not p.text.startswith("Line sheet"):  # sketches have tests of their own
                    assert overlapping(found) == [], f"{name} page {p.number}"


def overlapping(found: list[tuple[float, float, float, float, str]]) -> list[tuple[str, str]]:
    a = np.array([b[:4] for b in found])
    wide = np.minimum.outer(a[:, 2], a[:, 2]) - np.maximum.outer(a[:, 0], a[:, 0])
    tall = np.minimum.outer(a[:, 3], a[:, 3]) - np.maximum.outer(a[:, 1], a[:, 1])
    both = np.triu((wide > 0.8) & (tall > 0.8), 1)
    return [(found[i][4], found[j][4]) for i, j in np.argwhere(both)]


def test_the_search_for_overlaps_finds_them() -> None:
    apart = [(0.0, 0.0, 10.0, 5.0, "a"), (11.0, 0.0, 20.0, 5.0, "b")]
    assert overlapping(apart) == []
    assert overlapping([*apart, (8.0, 3.0, 13.0, 9.0, "c")]) == [("a", "c"), ("b", "c")]


def test_no_page_is_blank_and_black_stays_black() -> None:
    for n, picture in pictures(demo_papers()["pack.pdf"], 36):
        ink = float((picture < 128).mean())
        assert 0.002 < ink < 0.5, n


def test_only_our_fonts_are_in_it() -> None:
    fonts = set()
    for page in pypdf.PdfReader(io.BytesIO(demo_papers()["pack.pdf"])).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            fonts.add(str(font.get_object()["/BaseFont"]).split("+")[-1])
    assert fonts
    assert all(f.startswith("DejaVuSansCondensed") for f in fonts)


def test_tape_list_has_a_row_for_every_type_and_lot_and_every_gap() -> None:
    pack = demo_pack()
    text = " ".join(" ".join(p.tokens) for p in of_paper(demo_papers()["pack.pdf"], "Tape list"))
    assert pack.work.tape.rows
    for row in pack.work.tape.rows:
        assert (f"lot {row.lot}" if row.lot else row.tag) in text
    for gap in pack.work.tape.gaps:
        assert gap.piece.replace("/", " ") in text
    # columns as in parts.csv, left to right
    assert re.search(r"reach_1 depth_1 reach_2 depth_2 hub spread thickness by date", text)


def test_order_list_names_every_group_and_line() -> None:
    pack = demo_pack()
    assert pack.order is not None
    text = joined("".join(p.text for p in of_paper(demo_papers()["pack.pdf"], "Order list"))).lower()
    for row in pack.order.rows:
        assert joined(row.group.value).lower() in text
    for line in {f for r in pack.order.rows for f in r.by_line}:
        assert line.lower() in text


def test_sources_name_every_table_read_and_every_value_nobody_confirmed() -> None:
    pack = demo_pack()
    text = joined("".join(p.text for p in of_paper(demo_papers()["pack.pdf"], "Sources")))
    for cell in pack.cells():
        assert joined(cell.source.designation) in text
    assert pack.unverified()
    for cell in pack.unverified():
        assert joined(str(cell.source)) in text
    for person in (c.typed_by for c in pack.work.job.settings.cards):
        named = pack.work.job.settings.person(person)
        assert named is not None
        assert joined(named.name) in text


WALK = """line L size 6in pipe pvc sch80
starts at open at 0, 0, 0 facing north
go north 10'
go east 8'
ends at open
"""


def small_pack(folder: Path, **more: object) -> Pack:
    parts = [elbow("6in", "5 in", "3 in")]
    work = work_at(folder, WALK, parts, toml=stock("6in"))
    plans = joint_plans(work.graph, work.cutting, work.job.settings, work.book, catalogue=work.job.parts)
    named = tuple(replace(j, place=replace(j.place, id=f"L/J{n}")) for n, j in enumerate(plans, 1))
    stamp = datetime(2027, 4, 19, 14, 5, tzinfo=UTC)
    return replace(Pack(work=work, joints=named, stamp=stamp), **more)


def test_signs_of_markup_in_names_are_printed_as_they_are(tmp_path: Path) -> None:
    pack = small_pack(tmp_path)
    name = "#panic() *bold* $x^2$ <b> @ref \\ `raw` [c] // end"
    settings = pack.work.job.settings
    job = replace(pack.work.job, settings=replace(settings, job=replace(settings.job, name=name)))
    made = papers(replace(pack, work=replace(pack.work, job=job)))
    assert name in " ".join(pages(made["pack.pdf"])[0].tokens)


def test_a_pack_that_was_issued_says_its_number_and_real_data_are_not_called_invented(tmp_path: Path) -> None:
    pack = small_pack(tmp_path, issue="7")
    settings = pack.work.job.settings
    job = replace(pack.work.job, settings=replace(settings, job=replace(settings.job, invented=False)))
    made = papers(replace(pack, work=replace(pack.work, job=job)))
    for pdf in made.values():
        for p in pages(pdf):
            assert "issue 7" in " ".join(p.tokens)
            assert "INVENTED" not in p.text
            assert "NOT ISSUED" not in p.text


def test_empty_packs_still_print(tmp_path: Path) -> None:
    """No joints, no findings, no order list: the pages say so instead of failing."""
    pack = replace(small_pack(tmp_path), joints=())
    made = papers(pack)
    text = " ".join(pages(made["pack.pdf"])[0].tokens)
    assert "No check has anything to say against it." in text
    assert "joint-cards.pdf" not in made


@pytest.mark.parametrize("verdict", list(Verdict))
def test_the_answer_says_every_verdict_in_words(tmp_path: Path, verdict: Verdict) -> None:
    until = datetime(2027, 4, 20, 15, 40, tzinfo=UTC)
    waits = Finding("CURE-01", Verdict.GO, "L", until=until)
    pack = small_pack(
        tmp_path, verdict=verdict, findings=(waits,), counts=Counts({verdict: 2}, {verdict: 2}, 1, 1),
        confirmations=(Confirm("table X", "table", ("6",), 2, 1),),
    )  # fmt: skip
    text = " ".join(pages(papers(pack)["pack.pdf"])[0].tokens)
    assert verdict.word in text
    assert "2 of 2 joints" in text
    assert "table X, row 6: clears 2 joints and 1 piece" in text
    # 15:40 UTC is 09:40 in the site's zone (America/Denver, summer time: UTC-6)
    assert ("NOT BEFORE Tue 20 Apr 2027 09:40, then ask again" in text) is (verdict is Verdict.WAIT)


def test_alike_findings_are_said_once_with_their_names(tmp_path: Path) -> None:
    """Two findings with one cause give one reason; a line's own reasons stand under the line."""
    pack = small_pack(tmp_path)
    finding = next(f for f in demo_pack().findings if f.verdict is not Verdict.GO)
    twice = (replace(finding, subject="L/J1"), replace(finding, subject="L/J2"))
    found = reasons(replace(pack, findings=twice), pack.work.job.settings.shown.shown)
    assert len(found) == 1
    assert found[0].also == ("J2",)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"paper": "a3"}, "paper 'a3' is not carried"),
        ({"line": "NO-1"}, "no line is named 'NO-1'"),
        ({"day": "yesterday"}, "no joints are planned for 'yesterday'"),
    ],
)
def test_what_is_not_there_is_refused_in_words(tmp_path: Path, asked: dict[str, str], said: str) -> None:
    with pytest.raises(BadInput, match=re.escape(said)):
        papers(small_pack(tmp_path), **asked)


def test_a_day_sheet_holds_the_joints_of_its_day_in_order(tmp_path: Path) -> None:
    pack = small_pack(tmp_path)
    day = ("L/J2", "L/J1")
    made = papers(replace(pack, days={"2027-04-20": day}), day="2027-04-20")
    sheet = of_paper(made["pack.pdf"], "Day sheet")
    assert len(sheet) == 1
    order = [t for t in sheet[0].tokens if t in ("J1", "J2")]
    assert order == ["J2", "J1"]
    cards = "".join(p.text for p in pages(made["joint-cards.pdf"]))
    assert cards.index("J2") < cards.index("J1")
