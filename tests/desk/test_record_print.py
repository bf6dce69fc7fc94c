"""``lineproof record print`` on the invented works, read back with pypdf: record, stickers, ledger, form."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from house.test_spanish import placeholders
from lineproof.checks.conditions import CONDITIONS
from lineproof.desk.papers.cautions import ABOVE, CAUTIONS, HEADS
from lineproof.desk.papers.cautions import ROLES as SIGNED_BY
from lineproof.desk.papers.cautions_es import ABOVE_ES, CAUTIONS_ES, HEADS_ES, ROLES_ES
from lineproof.desk.papers.make import PAPERS
from lineproof.desk.papers.record_data import RecordPaper
from lineproof.desk.papers.typeset import typeset
from lineproof.desk.raise_keep import VOIDS
from lineproof.desk.record_fields import ANYWHERE, BY_ITSELF, ROLES, TYPED
from lineproof.desk.verbs_now import Seen, see
from lineproof.desk.verbs_record_print import PRINTS, Wish
from lineproof.desk.words import LANGUAGES
from lineproof.desk.words_papers import EN, ES
from lineproof.desk.words_record import (
    CODES_SAID,
    CONDITIONS_SAID,
    FIELDS_SAID,
    KINDS_SAID,
    STEPS_SAID,
    VOIDS_ES,
)
from lineproof.logbook.kinds import KINDS, STEPS
from logbook.rig import Hands
from now_rig import busy_day, telling, told_oddly, works
from paper_rigs import MM, boxes, pages, pictures
from raise_rig import Site, job_folder
from verb_rig import refused, verb

AT = ("--when", "2027-04-20T13:32", "--dampest", "55%")
SIZES = {"a4": (210 * MM, 297 * MM), "letter": (8.5 * 72, 11 * 72)}


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return busy_day(tmp_path_factory.mktemp("print") / "works")


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return told_oddly(tmp_path_factory.mktemp("odd") / "works")


def printed(folder: Path, *words: str) -> bytes:
    """The PDF of one paper, as typed."""
    said = verb("record", "print", *words, *AT, "--job", folder, "--json")
    assert (said.code, said.err) == (0, ""), said
    return (folder / said.data["file"]).read_bytes()


@cache
def seen(folder: Path) -> Seen:
    return see(folder, when=AT[1], known=None, dampest=0.55)


@cache
def set_in(folder: Path, what: str, language: str, paper: str = "a4") -> bytes:
    """The same without reading the job again."""
    made = RecordPaper(seen(folder).site, language)
    _, title, sheets, _ = PRINTS[what](seen(folder), made, Wish(subjects=(), day="", dampest=0.55))
    return typeset({**made.document(title, sheets), "paper": PAPERS[paper]}, made.stamp)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(p.text.split()) for p in pages(pdf))


def test_the_joint_record_tells_all_in_order_and_strikes_nothing_out_of_sight(odd: Path) -> None:
    text = text_of(printed(odd, "joints", "B-203/J1"))
    assert "CANNOT TELL: its record does not tell one story: one person alone took something away" in text
    told = (
        "socket primed 06:50:00", "hold ended", "dry fit", "insertion", "knocked, bent or pulled",
        "temperature read", "moved or lowered", "hold tag set",
    )  # fmt: skip
    places = [text.index(word) for word in told]
    assert places == sorted(places)
    # 38 mm is 1 1/2 in to a sixteenth; 6 mm is 1/4 in
    assert 'depth 38 mm (1 1/2")' in text
    assert 'allowed 6 mm (1/4")' in text
    assert 'short by 3/16 in (3/16") 1/16 in (1/16") (P-2: misread the tape (second person P-1))' in text
    assert "STRUCK OUT by P-2: that was B-203/J3 (no second person)" in text
    assert "LATE, written Tue 20 Apr 12:30" in text
    assert "INSISTED: the lead asked for it" in text
    assert "made from issue 1" in text
    assert "P-1 Lead 1" in text
    assert "temperature 44 F" in text


def test_two_stories_and_what_was_cut_out_stand_on_top(odd: Path) -> None:
    text = text_of(printed(odd, "joints", "B-203"))
    assert "told to be made twice" in text
    assert "CUT OUT" in text
    assert text.count("hands pipe end") == 3


def test_plain_readings_that_follow_each_other_are_told_in_one_row(day: Path) -> None:
    text = text_of(printed(day, "joints", "B-203/J1"))
    assert "6 readings, Tue 20 Apr 08:00 to Tue 20 Apr 13:00: 52 F to 52 F, the coldest" in text
    assert "examined accepted yes · list A-1 · points bead all round yes" in text


def test_stickers_say_not_before_and_then_ask_again(day: Path) -> None:
    pdf = printed(day, "stickers")
    text = text_of(pdf)
    assert len(pages(pdf)) == 1
    # the card of the works: 12 h for 12 in at 40 to 60 F; J7 was let go at 12:12
    assert text.count("HANDS OFF") == 10
    assert "NOT BEFORE Wed 21 Apr 00:15, then ask again B-201/J7" in text
    assert "STOP: ask the lead B-201/J4" in text
    assert "HOLD IT: HANDS OFF until when cannot be told: ask B-201/J24" in text
    for place in re.finditer(r"NOT BEFORE [^,]*", text):
        assert text[place.end() :].startswith(", then ask again")
    assert "B-203/J1" not in text, "its hands-off time is over: it is printed only if it is named"
    named = text_of(printed(day, "stickers", "B-203/J1"))
    assert "ASK BEFORE MOVING" in named
    assert "nothing is let go by this sticker" in named
    assert "MAY" not in named


def test_can_stickers_say_when_the_can_dies(day: Path) -> None:
    text = text_of(printed(day, "cans"))
    # open life of the invented card C-2: one day
    assert (
        "C2-04 cement lot HG-2611 · C-2 expires 2028-11-30 opened Tue 20 Apr 06:20 DIES Wed 21 Apr 06:20"
        in text
    )
    assert text.count("DIES") == 4
    only = text_of(printed(day, "cans", "--day", "2027-04-20"))
    assert only.count("DIES") == 1


def test_the_ledger_says_on_top_who_governs(day: Path) -> None:
    pdf = printed(day, "ledger")
    first = " ".join(pages(pdf)[0].text.split())
    assert "Cure ledger section B-2" in first
    assert "CANNOT TELL NOT BEFORE Mon 26 Apr 12:20, then ask again as far as is known" in first
    assert "governs B-201/J24: its cure time has not begun by the record." in first
    assert "15 joints: 0 over, 14 waiting, 1 cannot tell" in first
    # B-201/J7: 12 h to move and the invented 144 h of row 5 to raise, both from 12:12
    assert re.search(
        r"B-201/J7 12 in Tue 20 Apr 12:07 Tue 20 Apr 12:12 52 F row 3: 12 h Wed 21 Apr 00:15 137 psi row 5, "
        r"invented for the demo: 144 h Mon 26 Apr 12:15",
        first,
    )
    assert "over since Tue 20 Apr 12:40" in first, "6 h for 6 in, from 06:40"
    assert "REJECTED" in first
    assert "Every moment is: then ask again" in first


@pytest.mark.parametrize("what", ["joints", "stickers", "cans", "ledger"])
def test_papers_keep_their_size_name_the_head_and_nothing_lies_over_another(day: Path, what: str) -> None:
    head = verb("record", "head", "--job", day).out[:16]
    for paper, language in (("a4", "en"), ("letter", "es"), ("a4", "es"), ("letter", "en")):
        pdf = set_in(day, what, language, paper)
        for page in pages(pdf):
            want = SIZES[paper] if what != "ledger" else SIZES[paper][::-1]
            assert max(abs(page.width - want[0]), abs(page.height - want[1])) < 1.0
            assert head in page.text
            assert re.search(r"INVENTED DATA|DATOS INVENTADOS", page.text)
            inside = boxes(pdf, page.number)
            assert min(min(box[:2]) for box in inside) >= 0
            assert max(box[2] for box in inside) <= page.width
            assert max(box[3] for box in inside) <= page.height
            assert overlaps(inside) == []


def overlaps(found: list[tuple[float, float, float, float, str]]) -> list[tuple[str, str]]:
    """Runs of text that lie over one another by more than a hair, in both directions. [pt]"""
    bad = []
    told = [b for b in found if b[4]]
    for i, (l1, b1, r1, t1, one) in enumerate(told):
        for l2, b2, r2, t2, two in told[i + 1 :]:
            wide, high = min(r1, r2) - max(l1, l2), min(t1, t2) - max(b1, b2)
            if wide > 1.5 and high > 0.35 * min(t1 - b1, t2 - b2):
                bad.append((one, two))
    return bad


def test_the_same_record_prints_the_same_bytes_and_a_later_entry_another_head(
    odd: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(odd, copy)
    for what in ("joints", "stickers", "ledger"):
        assert printed(odd, what, "--paper", "a4") == set_in(copy, what, "en")
    assert next(pictures(printed(odd, "joints"), 20))[1].min() < 60, "there is ink on it"


def test_spanish_papers_carry_the_same_joints_and_moments(day: Path) -> None:
    for what in ("joints", "stickers", "ledger"):
        english, spanish = (text_of(set_in(day, what, language)) for language in LANGUAGES)
        for pattern in (r"J\d+\b", r"\d\d:\d\d"):
            assert set(re.findall(pattern, english)) == set(re.findall(pattern, spanish)), what
        assert not re.search(r"\b(?:hands off|before|then ask|hold ended|examined)\b", spanish)
    assert "NO ANTES del mié 21 abr 00:15; pregunte otra vez" in text_of(
        printed(day, "stickers", "--in", "es")
    )


def test_what_cannot_be_printed_is_refused(day: Path, tmp_path: Path) -> None:
    for words, told in (
        (("drawing",), "'drawing' is not a paper of the record"),
        (("joints", "B-999"), "nothing is called 'B-999'"),
        (("cans", "C9"), "no can is called 'C9'"),
        (("ledger", "B-9"), "no section is called 'B-9'"),
        (("release",), "there is no release to print"),
        (("release", "R-1"), "no release to fill or raise is called 'R-1'"),
        (("joints", "--day", "today"), "--day 'today' is no day"),
        (("joints", "--day", "2027-02-30"), "--day 2027-02-30 is no day"),
        (("joints", "--paper", "a0"), "paper 'a0' is not carried"),
        (("joints", "--in", "fr"), "'fr' is not a language"),
    ):
        assert told in refused(verb("record", "print", *words, "--job", day)), words


def test_kinds_fields_and_steps_have_words_in_both_languages() -> None:
    assert {k for k, _ in KINDS} == set(KINDS_SAID)
    assert {*TYPED, *BY_ITSELF} <= set(KINDS_SAID)
    fields = {*ANYWHERE, *ROLES, *(f for t in TYPED.values() for f in (*t.needed, *t.may))}
    assert sorted(fields - set(FIELDS_SAID)) == []
    assert set(STEPS_SAID) == set(STEPS)
    assert len(VOIDS_ES) == len(VOIDS)
    assert {*CONDITIONS, "heard-for", "fill", "raise"} == set(CONDITIONS_SAID)
    for table in (KINDS_SAID, FIELDS_SAID, STEPS_SAID, CONDITIONS_SAID, CODES_SAID):
        assert all(len(told) == 2 and all(told) for told in table.values())
    assert set(EN) == set(ES)
    assert {k for k in EN if placeholders(EN[k]) != placeholders(ES[k])} == set()


# ---------------------------------------------------------------- the release form


@pytest.fixture(scope="module")
def released(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The small section of raise_rig, released to 100 psi for half an hour."""
    folder = job_folder(tmp_path_factory.mktemp("release") / "job")
    with pytest.MonkeyPatch.context() as patch:
        site = Site(folder, patch, Hands(Hands().wall))
        site.made_and_cured()
        site.around()
        assert site.asks("--release", "--for", "30min").code == 0
        yield site
        site.store.close()


def form(site: Site, *words: str) -> str:
    said = verb("record", "print", "release", *words, "--job", site.folder, "--json")
    assert (said.code, said.err) == (0, ""), said
    return text_of((site.folder / said.data["file"]).read_bytes())


def test_the_release_form_says_what_was_let_go_and_what_ends_it(released: Site) -> None:
    text = form(released)
    assert "RAISE TO 100 psi" in text
    assert "CLAIMED: the name was typed, nothing proves it" in text
    assert "to be begun by Mon 23 Nov 2026 11:30" in text
    assert "given by T Test lead (invented)" in text
    assert "medium water" in text
    assert "S UNDER PRESSURE from Mon 23 Nov 2026 11:00 until an open vent proves zero" in text
    assert re.search(r"governs L/J\d.*?: hold ended or last disturbed Sun 22 Nov", text)
    assert "people are out yes C" in text
    assert "gate" in text
    assert "the air is out yes B" in text
    for void in VOIDS:
        assert void in text
    assert "person in charge of the test T" in text
    assert "NOT GOOD" not in text
    assert "Zero proved by an open vent, afterwards" in text
    spanish = form(released, "--in", "es")
    assert "SUBIR A 100 psi" in spanish
    assert "CON PRESIÓN desde lun 23 nov 2026 11:00" in spanish
    assert VOIDS_ES[3] in spanish


def test_a_release_that_is_over_says_so_in_white_on_black(released: Site) -> None:
    assert "RAN OUT Mon 23 Nov 2026 11:30" in form(released, "--when", "2026-11-23T11:45")
    released.clock.wait(minutes=5)
    said = verb(
        "record",
        "add",
        "hold_tag_set",
        "H-1",
        "on=L/J1",
        "reason=weeps",
        "--by",
        "A",
        "--job",
        released.folder,
    )
    assert said.code == 0
    assert "WITHDRAWN: " in form(released)


def test_a_release_whose_answer_does_not_come_again_is_not_good(released: Site) -> None:
    toml = released.folder / "job.toml"
    before = toml.read_text("utf-8")
    toml.write_text(before.replace('pressure = "150 psi"', 'pressure = "90 psi"'), "utf-8")
    try:
        text = form(released)
    finally:
        toml.write_text(before, "utf-8")
    assert (
        "NOT GOOD: asked again by the same record, the answer is STOP (files changed since: job.toml)" in text
    )


def test_the_caution_page_says_the_same_in_both_languages(day: Path) -> None:
    assert [len(texts) for _, texts in CAUTIONS] == [len(texts) for _, texts in CAUTIONS_ES]
    assert [role for role, _, _ in SIGNED_BY] == list(ROLES_ES)
    assert set(HEADS) == set(HEADS_ES)
    for language, told, above in (("en", CAUTIONS, ABOVE), ("es", CAUTIONS_ES, ABOVE_ES)):
        text = text_of(set_in(day, "cautions", language, "letter"))
        for title, texts in told:
            assert title in text
            assert all(" ".join(each.split()) in text for each in texts)
        assert above in text
        assert len(pages(set_in(day, "cautions", language, "letter"))) == 1


def test_a_joint_that_hangs_with_a_fresh_one_gets_no_leave_from_a_sticker(tmp_path: Path) -> None:
    folder = works(tmp_path / "works")
    with telling(folder) as told:
        told.made("B-203/J1", "6:00", "6:05")
        told.hourly(7, 13, ["B-203/J1"], 52)
        told.made("B-203/J2", "13:10", "13:15")
    text = text_of(printed(folder, "stickers", "B-203/J1"))
    # J2: the card of the works says 6 h for 6 in at 40 to 60 F, from 13:15
    assert "HANDS OFF hangs together with B-203/J2: NOT BEFORE Tue 20 Apr 19:15, then ask again" in text
    assert "ASK BEFORE MOVING" not in text


def test_a_moment_of_another_year_is_printed_with_its_year(day: Path) -> None:
    made = RecordPaper(seen(day).site, "en")
    assert made.brief(made.now).count(str(made.now.year)) == 0
    later = made.now.replace(year=made.now.year + 1, month=9, day=1)
    assert f" 1 Sep {later.year} " in made.brief(later)
