"""``lineproof now`` as typed on the invented treatment works: what it tells, how long, in both languages."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from house.test_spanish import placeholders
from lineproof.book.load import book
from lineproof.checks.cement import ReadBack
from lineproof.checks.registry import ask
from lineproof.desk.answer_now import NowJoints
from lineproof.desk.now_lines import SCREEN, lines_of
from lineproof.desk.now_short import SPANISH_LETTERS, short_lines
from lineproof.desk.verbs_now import answer_of, see
from lineproof.desk.words import ENGLISH, LANGUAGES, SPANISH
from lineproof.desk.words_now import EN, ES
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Verdict
from now_rig import DENVER, Told, busy_day, j, telling, works
from verb_rig import refused, verb

SCHEMA = Path(__file__).resolve().parents[2] / "docs" / "schemas" / "now.json"
NOW = ("--when", "2027-04-20T13:32", "--dampest", "55%")
MOVABLE = set(j(1, 2, 3, 4, 7, line="B-203"))


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return busy_day(tmp_path_factory.mktemp("now") / "works")


HEADS = {v for told in (EN, ES) for v in told.values() if v.isupper() and "{" not in v}


def parts(out: str) -> dict[str, str]:
    """The screen by its headings, wrapped rows joined; the foot is left out."""
    found: dict[str, str] = {}
    word = ""
    for row in out.splitlines():
        head, text = row[:15].strip(), row[15:].strip()
        if head in HEADS:
            word = head
        elif head:
            word = ""
        if word:
            found[word] = f"{found.get(word, '')} {text}".strip()
    return found


def test_the_answer_comes_first_and_alike_joints_together(day: Path) -> None:
    said = verb("now", "--job", day, *NOW)
    assert (said.code, said.err) == (0, "")
    rows = said.out.splitlines()
    assert rows[0] == "Brackstow: backwash and hypochlorite · Tue 20 Apr 13:32"
    assert " ".join(rows[1:3]) == (
        "1 joint STOP · 1 joint CANNOT TELL · 8 joints HANDS OFF · 1 joint holding · 5 joints may be moved · "
        "1 hold tag"
    )
    told = parts(said.out)
    # 12 h by the invented card for 10 to 12 in at 40 to 60 F: hold and pullers of J7 off at 12:12
    assert told["HANDS OFF"].startswith("B-201 J7 to J10: NOT BEFORE Wed 21 Apr 00:15, then ask again")
    assert told["HOLDING"] == "B-201 J24: hold it; record when the hold ends"
    assert told["DO NOT TOUCH"].startswith("STOP B-201 J4: it was rejected. Next: Cut it out")
    assert told["MAY BE MOVED"].startswith("B-203 J1 to J4, J7. Ask may move before lifting")
    assert told["HOLD TAGS"] == "H-3 on B-202: waits for the engineer (set 09:30 by P-2)"
    assert "looked at by another person: B-201 J7 to J14, J24" in told["SIGNATURES"]
    assert "pressure cap: section B-3 (P-7)" in told["SIGNATURES"]
    assert "release asked and not given: R-1 (P-9)" in told["SIGNATURES"]
    assert "a second person behind 1 correction" in told["SIGNATURES"]
    assert told["IN DOUBT"].startswith("not on the drawing: B-201 F1.")
    assert told["JOINTS"].startswith("to make 327 · holding 1 · hands off 9 · curing 5 ·")


def test_it_says_no_more_than_may_move_does(day: Path) -> None:
    """Every joint it lets go is GO by the verb that answers; every other made joint is not."""
    moment = ("--when", "2027-04-20T13:32", "--dampest", "55%")
    for name in sorted(MOVABLE)[:2]:
        assert verb("may", "move", name, "--job", day, *moment).code == 0, name
    for name, code in (("B-201/J4", 13), ("B-201/J24", 12), ("B-201/J7", 11), ("B-201/F1", 12)):
        assert verb("may", "move", name, "--job", day, *moment).code == code, name


def test_without_the_humidity_nothing_is_free_to_move(day: Path) -> None:
    answer = verb("now", "--job", day, "--when", "2027-04-20T13:32", "--json").data
    assert [g for g in answer["joints"] if g["verdict"] == "GO"] == []
    short = verb("now", "--short", "--job", day, "--when", "2027-04-20T13:32").out
    assert "May be moved" not in short
    assert short.splitlines()[2] == "May not be moved: no joint is clear by the record. Ask first."


def test_json_is_what_its_schema_says(day: Path) -> None:
    said = verb("now", "--job", day, *NOW, "--json")
    Draft202012Validator(json.loads(SCHEMA.read_text("utf-8"))).validate(said.data)
    go = {n for g in said.data["joints"] if g["verdict"] == "GO" for n in g["joints"]}
    assert go == MOVABLE


def test_what_was_known_then_replays(day: Path) -> None:
    whole = verb("now", "--job", day, *NOW).out
    last = verb("now", "--job", day, *NOW, "--json").data["known"]
    with telling(day) as told:
        told.write("13:40", "hold_tag_set", {"tag": "H-9", "on": "B-203/J1", "reason": "wet"})
    assert verb("now", "--job", day, *NOW, "--known", str(last)).out == whole
    later = parts(verb("now", "--job", day, *NOW).out)
    assert not re.search(r"J[1-4]", later["MAY BE MOVED"]), "they hang together with it"
    assert "STOP B-203 J1: a hold tag hangs: H-9." in later["DO NOT TOUCH"]


def test_the_five_lines(day: Path) -> None:
    for language in LANGUAGES:
        out = verb("now", "--short", "--in", language, "--job", day, *NOW).out
        assert len(out.splitlines()) == 5
        for line in out.splitlines():
            assert 0 < len(line) < 160, line
            extra = set(line) - {chr(n) for n in range(32, 127)}
            assert extra <= (set(SPANISH_LETTERS) if language == SPANISH else set()), extra
            if re.search(r"\d\d:\d\d", line) and not re.match(r"BRK", line):
                assert re.search(r"then ask again|pregunte otra vez", line), line
    english = verb("now", "--short", "--job", day, *NOW).out.splitlines()
    assert english[1].endswith("Not before Wed 21 Apr 00:20, some not known; then ask again.")
    spanish = verb("now", "--short", "--in", "es", "--job", day, *NOW).out.splitlines()
    assert spanish[1].startswith("No tocar: B-201 F1, J4, J7 a J14, J24")
    assert spanish[1].endswith("No antes del mié 21 abr 00:20, de otras no se sabe; pregunte otra vez.")


def test_spanish_tells_the_same_joints_and_moments(day: Path) -> None:
    english, spanish = (verb("now", "--job", day, *NOW, "--in", language).out for language in LANGUAGES)
    pattern = r"J\d+|\d\d:\d\d|[A-Z]+-\d+|\b\d+\b"
    assert sorted(re.findall(pattern, english)) == sorted(re.findall(pattern, spanish))
    typed = spanish.replace("waits for the engineer", "")
    assert not re.search(r"\b(?:the|before|record|joint|then)\b", typed)
    assert "NO ANTES del mié 21 abr 00:15; pregunte otra vez" in spanish


def test_catalogues_have_the_same_sentences_and_values() -> None:
    assert set(EN) == set(ES)
    assert {k for k in EN if placeholders(ES[k]) != placeholders(EN[k])} == set()


def test_an_empty_job_says_what_to_do_next(tmp_path: Path) -> None:
    folder = works(tmp_path / "works")
    (folder / "logbook.db").unlink(missing_ok=True)
    said = verb("now", "--job", folder)
    assert said.code == 0
    assert "nothing is recorded yet. Next: issue the pack" in " ".join(said.out.split())
    assert len(verb("now", "--short", "--job", folder).out.splitlines()) == 5
    assert "todavía no hay nada registrado" in " ".join(
        verb("now", "--in", "es", "--job", folder).out.split()
    )


def test_bad_words_are_refused(day: Path) -> None:
    assert "'fr' is not a language" in refused(verb("now", "--in", "fr", "--job", day))
    assert "--when 'noon' is not a moment" in refused(verb("now", "--when", "noon", "--job", day))
    assert "no receipt 3" in refused(verb("now", "--known", "3", "--job", works(day.parent / "empty")))


def given(told: Told, clock: str, may: str = "raise") -> None:
    told.write(clock, "release_given", {
        "release": "R-1", "section": "B-2", "may": may, "claimed": True, "gauge": "PG-2", "medium": "water",
        "pressure": {"typed": "135 psi", "si": "930792.4", "unit": "Pa"},
    }, by="P-9")  # fmt: skip


def test_a_section_stays_under_pressure_until_zero_is_proved(tmp_path: Path) -> None:
    """A release that was withdrawn or ran out takes no water out of the pipe; an open vent does."""
    folder = works(tmp_path / "works")
    now = ("--job", folder, "--when", "2027-04-20T15:00")

    def first() -> str:
        return verb("now", *now).out.splitlines()[1]

    with telling(folder) as told:
        told.write("8:00", "zero_proved", {"section": "B-2", "vent": "V-4"}, by="P-9")
        given(told, "9:00")
    assert first().startswith("B-2 UNDER PRESSURE"), "a zero before the release proves nothing"
    with telling(folder) as told:
        told.write("10:00", "release_withdrawn", {"release": "R-1", "reason": "a colder reading"})
        told.write("10:05", "release_expired", {"release": "R-1"})
    assert first().startswith("B-2 UNDER PRESSURE")
    assert "B-2 UNDER PRESSURE: do not cut, loosen or cap." in verb("now", "--short", *now).out
    assert (
        "B-2 CON PRESIÓN: no cortar, no aflojar, no tapar." in verb("now", "--short", "--in", "es", *now).out
    )
    whole = parts(verb("now", *now).out)
    assert whole["PRESSURE"] == (
        "B-2 UNDER PRESSURE since 09:00 (raise 135 psi · PG-2 · water): do not cut, loosen or cap; zero is "
        "not proved"
    )
    assert "zero proved by an open vent: B-2 (P-9)" in whole["SIGNATURES"]
    with telling(folder) as told:
        told.write("14:00", "zero_proved", {"section": "B-2", "vent": "V-4, the high point"}, by="P-9")
    assert "UNDER PRESSURE" not in verb("now", *now).out


def test_cans_that_die_today(tmp_path: Path) -> None:
    """The card of the works says: open life one day. The lot HG-2504 of job.toml expires on 28 April."""
    folder = works(tmp_path / "works")
    with telling(folder) as told:
        for can in ("C2-04", "C2-05", "C2-06", "P-1", "X-1"):
            kind = {"P-1": "primer"}.get(can, "cement")
            card = {"card": "C-2"} if can.startswith("C2") else {}
            body = {"can": can, "lot": "n", "holds": kind, **card}
            told.write("7:00", "can_received", body)
        told.write("7:30", "can_opened", {"can": "C2-04"}, day=0)
        told.write("8:00", "can_opened", {"can": "C2-05"}, day=1)
        told.write("8:05", "can_opened", {"can": "P-1"}, day=1)
        told.write("8:10", "can_opened", {"can": "X-1"}, day=1)

    def cans(when: str) -> str:
        return parts(verb("now", "--job", folder, "--when", when).out)["CANS"]

    early, late = cans("2027-04-21T07:00"), cans("2027-04-21T09:00")
    assert "C2-04 (lot n, cement) dies 07:30: open life of card C-2" in early
    assert "dead: C2-04: throw away and record it" in late
    assert "C2-05" not in late, "it dies tomorrow at eight"
    assert "P-1" not in late, "no open life is known of primer"
    assert "open, and no card says how long it lasts: X-1" in late
    assert "lot HG-2504 (cement) dies Thu 29 Apr 00:00: expiry date" in cans("2027-04-28T12:00")
    with telling(folder) as told:
        told.write("9:00", "can_thrown", {"can": "C2-04"}, day=1)
    assert "C2-04" not in cans("2027-04-21T09:30")


def test_two_stories_are_in_doubt_and_never_free_to_move(tmp_path: Path) -> None:
    folder = works(tmp_path / "works")
    name = "B-203/J1"
    with telling(folder) as told:
        told.made(name, "6:00", "6:05")
        told.hourly(7, 13, [name], 52)
    moment = ("--job", folder, "--when", "2027-04-20T13:30", "--dampest", "55%")
    assert parts(verb("now", *moment).out)["MAY BE MOVED"].startswith("B-203 J1.")
    with telling(folder) as told:
        told.made(name, "13:20", by="P-4")
    whole = parts(verb("now", *moment).out)
    assert whole["MAY BE MOVED"].startswith("no joint")
    assert whole["IN DOUBT"].startswith("told to be made twice: B-203 J1. Next: lineproof record settle")
    short = verb("now", "--short", *moment).out
    assert "May be moved" not in short


def test_a_hole_in_the_record_lets_nothing_go(day: Path) -> None:
    answer = answer_of(see(day, when="2027-04-20T13:32", known=None, dampest=0.55))
    assert any(g.verdict is Verdict.GO for g in answer.joints)
    doubts = (*answer.doubts, replace(answer.doubts[0], what="hole", names=("ab12 3-4",)))
    lines = short_lines(replace(answer, doubts=doubts), Shown.us(), ENGLISH)
    assert lines[1] == "Hands off all made joints: the record is in doubt. Ask the lead."
    assert lines[2].startswith("May not be moved")


def test_ten_thousand_joints_stay_readable(day: Path) -> None:
    """Ten thousand joints on two hundred lines, made five minutes apart: every part keeps its share."""
    answer = answer_of(see(day, when="2027-04-20T13:32", known=None, dampest=0.55))
    names = [f"W-{line}/J{n}" for line in range(200) for n in range(1, 51)]
    start = datetime(2027, 4, 20, 14, tzinfo=DENVER)
    doubt = next(g for g in answer.joints if g.verdict is Verdict.CANNOT_TELL)
    groups = tuple(
        NowJoints(
            state="hands off", verdict=Verdict.WAIT, joints=(name,), until=start + timedelta(minutes=5 * n)
        )
        for n, name in enumerate(names[:4000])
    )
    free = NowJoints(state="curing", verdict=Verdict.GO, joints=tuple(names[4000:8000:3]))
    odd = tuple(replace(doubt, joints=(name,)) for name in names[8000:])
    owed = tuple(replace(o, names=tuple(names)) for o in answer.owed)
    big = replace(
        answer, joints=(*groups, free, *odd), owed=owed, tags=answer.tags * 400,
        doubts=tuple(replace(d, names=tuple(names)) for d in answer.doubts) * 3,
    )  # fmt: skip
    for language in LANGUAGES:
        rows = lines_of(big, Shown.us(), language)
        assert len(rows) <= 45
        assert max(map(len, rows)) <= SCREEN
        short = short_lines(big, Shown.us(), language)
        assert len(short) == 5
        assert max(map(len, short)) < 160
    said = "\n".join(lines_of(big, Shown.us(), ENGLISH))
    assert "4000 joints HANDS OFF" in said
    assert "NOT BEFORE 14:00, then ask again" in said


def test_a_reason_about_a_card_is_told_with_its_joints(day: Path) -> None:
    answer = answer_of(see(day, when="2027-04-20T13:32", known=None, dampest=0.55))
    facts = ReadBack(subject="C-2", card="C-2", typed_by="P-1", read_back_by="")
    names = tuple(f"C-{n}/J{k}" for n in range(40) for k in range(1, 60))
    card = NowJoints(
        state="hands off", verdict=Verdict.CANNOT_TELL, joints=names, why=ask("CEM-06", facts, book())
    )
    told = parts("\n".join(lines_of(replace(answer, joints=(card,)), Shown.us(), ENGLISH)))
    assert told["DO NOT TOUCH"].startswith("CANNOT TELL C-0 J1 to J59; C-1 J1 to J59; ")
    assert told["DO NOT TOUCH"].endswith(
        "more: Card C-2: nobody has read it back against its photo. Next: Have a second person read the card "
        "back against its photo."
    )


def test_names_in_other_letters_go_over_the_radio(day: Path) -> None:
    answer = answer_of(see(day, when="2027-04-20T13:32", known=None, dampest=0.55))
    tag = replace(answer.tags[0], tag="Größe–7", on=("Línea·3",))
    lines = short_lines(replace(answer, tags=(tag,)), Shown.us(), ENGLISH)
    assert "Hold tags: Grosse-7 on Linea-3." in lines[3]
    assert all(" " <= letter <= "~" for line in lines for letter in line)


def test_what_hangs_together_with_a_fresh_joint_is_not_free_either(tmp_path: Path) -> None:
    """Two joints of one piece: whoever lifts the far end moves the fresh one (common practice, no source)."""
    folder = works(tmp_path / "works")
    first, second = j(1, 2, line="B-203")
    with telling(folder) as told:
        told.made(first, "6:00", "6:05")
        told.hourly(7, 13, [first], 52)
    moment = ("--job", folder, "--when", "2027-04-20T13:30", "--dampest", "55%")
    assert parts(verb("now", *moment).out)["MAY BE MOVED"].startswith("B-203 J1.")
    with telling(folder) as told:
        told.made(second, "13:10", "13:15")
    whole = parts(verb("now", *moment).out)
    assert whole["MAY BE MOVED"].startswith("no joint")
    assert "B-203 J1 hang together with B-203 J2: NOT BEFORE 19:15, then ask again" in whole["HANDS OFF"]
    short = verb("now", "--short", *moment).out.splitlines()
    assert short[1] == (
        "Hands off: B-203 J2 and all that hangs together with it. Not before 19:15, then ask again."
    )
    assert short[2].startswith("May not be moved")
    free = verb("now", *moment, "--json").data["joints"]
    assert [(g["joints"], g["held_by"]) for g in free if g["verdict"] == "GO"] == [([first], second)]
