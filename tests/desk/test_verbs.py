"""Every verb as typed: what it says, writes and ends with. Bad input is one sentence and changes nothing."""

from __future__ import annotations

import csv
import io
import re
import shutil
from importlib import resources
from pathlib import Path

import pytest

from lineproof.floor.shown import Shown, show_length
from lineproof.job.graph import LaidLine
from lineproof.job.joints_csv import read_joints
from lineproof.job.walk_csv import read_walk_csv
from lineproof.job.walk_read import read_walk
from lineproof.plan.issued import latest
from rigs import INCH
from verb_rig import files, one_gap, refused, verb

VERBS = ("new", "walk", "taped", "plan", "figure", "demo")
TAPED = ("taped", "L", "F1", "to", "E1")


def feet(inches: float) -> str:
    return show_length(inches * INCH, Shown.us())


@pytest.fixture
def gap(tmp_path: Path) -> Path:
    return one_gap(tmp_path / "job")


@pytest.fixture
def brackstow(tmp_path: Path) -> Path:
    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        shutil.copytree(there, tmp_path / "brackstow")
    return tmp_path / "brackstow"


# ---------------------------------------------------------------- all verbs


@pytest.mark.parametrize("name", VERBS)
def test_help_says_what_the_verb_is_for_and_how_it_is_typed(name: str) -> None:
    said = verb(name, "--help")
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(f"Usage: lineproof {name}")
    assert "--json" in said.out


def test_the_help_lists_every_verb_and_no_other() -> None:
    listed = verb("--help").out.split("Commands:")[1]
    assert tuple(re.findall(r"^  (\w+) ", listed, re.MULTILINE)) == (
        "new",
        "walk",
        "taped",
        "plan",
        "sequence",
        "figure",
        "demo",
        "serve",
        "now",
        "days",
        "hours",
        "record",
        "phones",
        "may",
    )


@pytest.mark.parametrize("words", [("plan", "--no-such"), ("taped", "L"), ("weld",), ("walk", "--job")])
def test_bad_usage_is_64(words: tuple[str, ...]) -> None:
    said = verb(*words)
    assert (said.code, said.out) == (64, "")
    assert re.search(r"^(Usage: lineproof|Error: )", said.err)
    assert "Traceback" not in said.err


@pytest.mark.parametrize("words", [("walk",), ("plan",), (*TAPED, "9 ft")])
def test_a_folder_that_is_no_job_is_refused(tmp_path: Path, words: tuple[str, ...]) -> None:
    (tmp_path / "notes.txt").write_text("not a job", "utf-8")
    before = files(tmp_path)
    assert "job.toml" in refused(verb(*words, "--job", tmp_path))
    assert "is not there" in refused(verb(*words, "--job", tmp_path / "nowhere"))
    assert files(tmp_path) == before


# ---------------------------------------------------------------- new


def test_new_makes_a_job_that_plans_and_says_what_to_do_next(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "job"
    said = verb("new", folder)
    assert (said.code, said.err) == (0, "")
    assert f"lineproof plan --job {folder}" in said.out
    assert "invented" in said.out
    assert {"job.toml", "parts.csv", "taped.csv"} < set(files(folder))
    assert verb("plan", "--job", folder, "--no-paper").err == ""


def test_new_leaves_a_folder_that_holds_something_alone(gap: Path) -> None:
    before = files(gap)
    assert "not empty" in refused(verb("new", gap))
    assert files(gap) == before


# ---------------------------------------------------------------- walk


def test_walk_reads_legs_turns_and_ends_back(gap: Path) -> None:
    said = verb("walk", "--job", gap)
    head, legs, first, second, *rest = said.out.splitlines()
    assert head == "L wash water · 6 in PVC Sch 80 · drawing D-1 rev 2"
    assert legs == f"  2 legs, {feet(14 * 12)} along the centre-line"
    assert re.fullmatch(r"  F1 \(flange, 6 in\) +north +10'-0\" +E1 \(elbow 90, 6 in\)   field", first)
    assert re.fullmatch(r"  E1 \(elbow 90, 6 in\) +east +4'-0\" +\S.*", second)
    assert rest == ["  no end point was given, so nothing was checked"]


def test_a_rolling_leg_is_told_with_its_offsets(tmp_path: Path) -> None:
    """Set 6 ft, roll 8 ft: true offset 10 ft (a 3-4-5 triangle); with an advance of 10 ft the travel is
    10 ft times the square root of 2, 14 ft 1 11/16 in, and the elbows are 45s."""
    folder = one_gap(tmp_path / "job")
    walk = (folder / "lines" / "line.walk").read_text("utf-8")
    (folder / "lines" / "line.walk").write_text(
        walk.replace("go east 4'\n", "go north 10' west 6' up 8'\ngo north 4'\n"), "utf-8"
    )
    out = verb("walk", "--job", folder).out
    for told in ("true offset 10'-0\"", "advance 10'-0\"", "travel 14'-1 11/16\"", "(elbow 45, 6 in)"):
        assert told in out


def test_walk_prints_one_line_and_refuses_an_unknown_one(brackstow: Path) -> None:
    out = verb("walk", "B-203b", "--job", brackstow).out
    assert out.startswith("B-203b ")
    assert "B-203c" not in out
    for form in ((), ("--csv",), ("--text",), ("--json",)):
        sentence = refused(verb("walk", "B-999", "--job", brackstow, *form))
        assert "B-999" in sentence
        assert "B-203b" in sentence


@pytest.mark.parametrize("form", ["--csv", "--text"])
def test_a_walk_printed_back_reads_to_the_same_line(brackstow: Path, form: str) -> None:
    read = read_walk_csv if form == "--csv" else read_walk
    written = [read_walk(p.read_text("utf-8"), p.name) for p in sorted((brackstow / "lines").glob("*.walk"))]
    every = read(verb("walk", "--job", brackstow, form).out, "back")
    assert every.statements == tuple(s for one in written for s in one.statements)
    one = read(verb("walk", "B-203b", "--job", brackstow, form).out, "back")
    kept = [s for s in written[2].statements if s in one.statements]
    assert len(one.statements) > 5
    assert [s for s in one.statements if s not in kept] == []
    assert one.statements[0] == next(s for s in written[2].statements if type(s).__name__ == "Drawing")
    assert [s.name for s in one.statements if type(s).__name__ == "Head"] == ["B-203b"]


def test_a_csv_of_all_lines_has_one_heading(brackstow: Path) -> None:
    rows = list(csv.reader(io.StringIO(verb("walk", "--job", brackstow, "--csv").out)))
    assert rows[0][0] == "word"
    assert [r for r in rows[1:] if r[0] == "word"] == []


def test_a_file_without_a_drawing_does_not_take_over_another_ones(gap: Path) -> None:
    second = (
        "line M size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\ngo north 3'\nends at open\n"
    )
    (gap / "lines" / "second.walk").write_text(second, "utf-8")
    assert "second.walk" in refused(verb("walk", "--job", gap, "--csv"))
    assert verb("walk", "M", "--job", gap, "--csv").code == 0
    assert verb("walk", "--job", gap).code == 0


def test_two_forms_at_once_are_refused(gap: Path) -> None:
    assert "--csv and --text" in refused(verb("walk", "--job", gap, "--csv", "--text"))


# ---------------------------------------------------------------- taped


def test_a_taped_gap_is_one_row_and_recuts_its_piece(gap: Path) -> None:
    before = files(gap)
    said = verb(*TAPED, '109 1/2"', "--by", "Taper (invented)", "--note", "cold morning", "--job", gap)
    assert (said.code, said.err) == (0, "")
    # by hand: the gap and 3 in into the socket at either end; listed 4 in longer while it was not taped
    cut, listed, drawn = 109.5 + 6, 120 - 0.125 - 3.5 - 6.5 + 6 + 4, 120 - 0.125 - 3.5 - 6.5
    assert f"the drawing says {feet(drawn)}: off by {feet(109.5 - drawn)}" in said.out
    assert f"piece A: cut now, {feet(cut)} (was {feet(listed)}, cut after taping)" in said.out
    assert "CARE" not in said.out
    after = files(gap)
    assert {n for n in after if after[n] != before.get(n)} == {"taped.csv"}
    (row,) = csv.DictReader(io.StringIO(after["taped.csv"].decode()))
    assert (row["line"], row["face_a"], row["face_b"], row["length"]) == ("L", "F1", "E1", '109 1/2"')
    assert (row["by"], row["note"]) == ("Taper (invented)", "cold morning")
    assert re.search(r"[+-]\d\d:\d\d$", row["when"])


def test_a_second_tape_leaves_the_first_row_and_counts(gap: Path) -> None:
    verb(*TAPED, '109 1/2"', "--job", gap)
    first = (gap / "taped.csv").read_bytes()
    said = verb(*TAPED, '110"', "--job", gap)
    assert f"piece A: cut now, {feet(116)} (was {feet(115.5)}, cut now)" in said.out
    assert (gap / "taped.csv").read_bytes().startswith(first)
    assert (gap / "taped.csv").read_text("utf-8").count("\n") == 3


def test_a_tape_far_from_the_drawing_is_care(gap: Path) -> None:
    """The rig lists field pieces 4 in long: what is further off cannot be cut from such a piece."""
    drawn = 120 - 0.125 - 3.5 - 6.5
    assert "CARE" not in verb(*TAPED, f"{drawn + 3.9} in", "--job", gap).out
    assert 'CARE: more than the 4"' in verb(*TAPED, f"{drawn + 4.1} in", "--job", gap).out
    assert "CARE" in verb(*TAPED, "6 ft", "--job", gap).out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("taped", "L", "F1", "til", "E1", "9 ft"), "'til' stands where the word to belongs"),
        (("taped", "Q", "F1", "to", "E1", "9 ft"), "no line is named 'Q'; allowed: L"),
        (("taped", "L", "F9", "to", "E1", "9 ft"), "no face named 'F9'"),
        (("taped", "L", "F1", "to", "F1", "9 ft"), "no pipe runs from F1 to F1"),
        ((*TAPED, "9"), "9 has no unit"),
        ((*TAPED, "0 ft"), "is not above 0"),
        ((*TAPED, "nine feet"), "nine feet"),
        ((*TAPED, "9 psi"), "psi"),
    ],
)
def test_a_tape_that_cannot_be_entered_changes_nothing(gap: Path, words: tuple[str, ...], told: str) -> None:
    verb(*TAPED, '109 1/2"', "--job", gap)
    before = files(gap)
    assert told in refused(verb(*words, "--job", gap))
    assert files(gap) == before


# ---------------------------------------------------------------- figure


def test_the_figures_are_listed_with_what_they_give() -> None:
    out = verb("figure").out
    assert re.search(r"^dry-fit +\S", out, re.MULTILINE)
    assert re.search(r"^growth +\S", out, re.MULTILINE)


def test_a_figure_without_inputs_says_how_it_is_asked() -> None:
    said = verb("figure", "dry-fit")
    assert said.code == 0
    for told in ("od=...", "entrance=...", "bottom=...", "depth=...", "source:"):
        assert told in said.out


def test_a_figure_is_worked_out_in_the_units_that_were_typed() -> None:
    """By hand: 22 thousandths of 33 are two thirds, so a 3 in socket jams at 2 in, a 75 mm one at 50 mm."""
    inch = verb("figure", "dry-fit", "od=6.625in", "entrance=6.647in", "bottom=6.614in", "depth=3in").out
    assert re.search(r'bottoms: 2"$', inch.splitlines()[0])
    assert '3" min(1, max(0, (6.647" - 6.625")/(6.647" - 6.614"))) = 2"' in inch
    metric = verb("figure", "dry-fit", "od=100.00mm", "entrance=100.22mm", "bottom=99.89mm", "depth=75mm").out
    assert re.search(r"bottoms: 50(\.0+)? mm$", metric.splitlines()[0])


def test_the_travel_of_a_45_offset_is_that_of_the_trade() -> None:
    """10 in of offset at 45 degrees: travel 14.14 in, the fitter's factor 1.414 (the square root of 2)."""
    out = verb("figure", "travel", "true=10in", "angle=45deg").out
    assert re.search(r': 14\.14"$', out.splitlines()[0])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("dryfit",), "allowed: dry-fit"),
        (("travel", "true=10", "angle=45deg"), "true: 10 has no unit"),
        (("travel", "true=10in"), "travel needs angle"),
        (("travel", "true=10in", "angel=45deg"), "did you mean angle"),
        (("travel", "10in"), "is not name=value"),
    ],
)
def test_a_figure_that_cannot_be_worked_says_why(words: tuple[str, ...], told: str) -> None:
    assert told in refused(verb("figure", *words))


# ---------------------------------------------------------------- plan


CODES = {"GO": 0, "CARE": 10, "WAIT": 11, "CANNOT TELL": 12, "STOP": 13}
"""As told in the design and in the README, not read from the code."""


def whole(out: str) -> str:
    return re.findall(r"^([A-Z ]+?) +for the whole pack$", out, re.MULTILINE)[0]


def test_plan_ends_with_its_verdict_and_writes_nothing_without_paper(gap: Path, brackstow: Path) -> None:
    for job in (gap, brackstow):
        before = files(job)
        said = verb("plan", "--job", job, "--no-paper")
        assert said.err == ""
        assert said.code == CODES[whole(said.out)]
        assert files(job) == before


def test_plan_writes_its_papers_into_out_only(gap: Path) -> None:
    before = files(gap)
    said = verb("plan", "--job", gap)
    after = files(gap)
    new = {n for n in after if after[n] != before.get(n)}
    assert {"out/pack.pdf", "out/lists.xlsx", "out/pack.json"} <= new
    assert all(n.startswith("out/") for n in new)
    assert str(gap / "out" / "pack.pdf") in said.out
    assert after["out/pack.pdf"].startswith(b"%PDF")
    verb("plan", "--job", gap)
    assert files(gap) == after  # the same again, byte for byte


def test_papers_are_a4_or_letter_as_asked_or_as_the_job_measures(gap: Path, tmp_path: Path) -> None:
    """US Letter is 612 pt by 792 pt (ANSI/ASME Y14.1); A4 is 210 mm by 297 mm (ISO 216)."""
    from pypdf import PdfReader

    metric = one_gap(tmp_path / "metric", units="metric")
    for job, words, wanted in (
        (gap, (), (612, 792)),
        (metric, (), (595.28, 841.89)),
        (gap, ("--paper", "A4"), (595.28, 841.89)),
        (metric, ("--paper", "letter"), (612, 792)),
    ):
        verb("plan", "--job", job, *words)
        sizes = [p.mediabox for p in PdfReader(job / "out" / "pack.pdf").pages]
        assert sizes
        for box in sizes:
            assert sorted((float(box.width), float(box.height))) == pytest.approx(wanted, abs=0.05)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--paper", "a3"), "a3 is not a paper we print on; allowed: a4 or letter"),
        (("--day", "2020-01-01"), "no joint is planned for '2020-01-01'"),
        (("--line", "Q"), "no line is named 'Q'; allowed: L"),
        (("--line", "Q", "--issue"), "no line is named 'Q'; allowed: L"),
        (("--day", "2020-01-01", "--issue"), "no joint is planned for '2020-01-01'"),
    ],
)
def test_a_plan_asked_wrongly_writes_nothing(gap: Path, words: tuple[str, ...], told: str) -> None:
    before = files(gap)
    assert told in refused(verb("plan", "--job", gap, *words))
    assert files(gap) == before


def test_a_day_that_is_not_planned_names_those_that_are(brackstow: Path) -> None:
    sentence = refused(verb("plan", "--job", brackstow, "--no-paper", "--day", "2020-01-01"))
    assert "2027-04-12" in sentence  # the first day of work in the demo's job.toml
    assert verb("plan", "--job", brackstow, "--no-paper", "--day", "2027-04-12").err == ""


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("job.toml", 'kerf = "1/8 in"', 'kerf = "1/8"'),
        ("job.toml", 'timezone = "America/Denver"', 'timezone = "Atlantis/Deep"'),
        ("job.toml", 'units = "us"', "units = us"),
        ("lines/line.walk", "go east 4'", "go eats 4'"),
        ("parts.csv", '"elbow"', '"elbwo"'),
    ],
)
def test_an_error_in_a_file_is_one_sentence_with_file_and_line(
    gap: Path, file: str, old: str, new: str
) -> None:
    path = gap / file
    text = path.read_text("utf-8")
    at = text[: text.index(old)].count("\n") + 1
    path.write_text(text.replace(old, new, 1), "utf-8")
    before = files(gap)
    for words in ((), ("--issue",)):
        sentence = refused(verb("plan", "--job", gap, *words))
        assert re.search(rf"\b{re.escape(file)}:{at}\b", sentence), sentence
    assert files(gap) == before


def test_out_that_is_a_file_is_refused(gap: Path) -> None:
    (gap / "out").write_text("mine", "utf-8")
    assert "out" in refused(verb("plan", "--job", gap))
    assert (gap / "out").read_text("utf-8") == "mine"


def test_issuing_twice_says_that_nothing_is_new(gap: Path) -> None:
    first = verb("plan", "--job", gap, "--no-paper", "--issue")
    assert first.code == CODES[whole(first.out)]
    assert "· issue 1" in first.out
    assert re.search(
        rf"^issue +1 for the crew, kept in {re.escape(str(gap / 'issued' / '1'))}$", first.out, re.M
    )
    kept = files(gap)
    second = verb("plan", "--job", gap, "--no-paper", "--issue")
    assert re.search(r"^issue +1 stands: nothing new since, kept in ", second.out, re.MULTILINE)
    assert second.code == first.code
    assert files(gap) == kept
    ids = set(read_joints(kept["joints.csv"].decode()).joints)
    assert len(ids) == 3  # flange to A, A to the elbow, the elbow to B


def test_an_issue_after_a_tape_has_the_next_number_and_the_same_joints(gap: Path) -> None:
    verb("plan", "--job", gap, "--no-paper", "--issue")
    ids = set(read_joints((gap / "joints.csv").read_text("utf-8")).joints)
    verb(*TAPED, '109 1/2"', "--job", gap)
    said = verb("plan", "--job", gap, "--no-paper", "--issue")
    assert re.search(r"^issue +2 for the crew", said.out, re.MULTILINE)
    now = latest(gap)
    assert now is not None
    assert (now.number, set(now.joints)) == (2, ids)


# ---------------------------------------------------------------- the head of the answer


def _line(name: str, **more: object) -> LaidLine:
    from dataclasses import replace

    from lineproof.book.sizes import Size
    from lineproof.job.statements import Spot

    plain = LaidLine(
        name=name, drawing="M-204", rev="3", service="backwash", size=Size("nps", 12), material="pvc",
        series="sch80", od_family="ips", file="x.walk", spot=Spot(), parts=(), runs=(), closed=None,
    )  # fmt: skip
    return replace(plain, **more)


def test_branches_are_told_with_their_line() -> None:
    from lineproof.book.sizes import Size
    from lineproof.desk.words_pipe import lines_in_groups

    tail = " backwash · 12 in PVC Sch 80 · drawing M-204 rev 3"
    names = ["B-201", *(f"B-201{x}" for x in "abcde")]
    assert lines_in_groups([_line(n) for n in names]) == [f"B-201 with branches a to e{tail}"]
    assert lines_in_groups([_line(n) for n in ("B-201b", "B-201", "B-201a")]) == [
        f"B-201 with branches a and b{tail}"
    ]
    numbered = ["C-03", *(f"C-03t{n}" for n in range(1, 12))]
    assert lines_in_groups([_line(n) for n in numbered]) == [f"C-03 with branches t1 to t11{tail}"]
    assert lines_in_groups([_line("B-201"), _line("B-201c")]) == [f"B-201 with branch c{tail}"]
    # other lines, though their names begin alike
    apart = [_line("B-20"), _line("B-201"), _line("B-2")]
    assert [t.split(" ")[0] for t in lines_in_groups(apart)] == ["B-20", "B-201", "B-2"]
    for other in (
        {"size": Size("nps", 10)},
        {"drawing": "M-205"},
        {"service": "drain"},
        {"material": "cpvc"},
    ):
        assert len(lines_in_groups([_line("B-201"), _line("B-201a", **other)])) == 2
    said_more = _line("B-201a", service="backwash, drain")
    assert lines_in_groups([_line("B-201"), said_more]) == [f"B-201 with branch a{tail}"]


def test_the_answer_of_the_demo_begins_with_its_five_lines(brackstow: Path) -> None:
    rows = verb("plan", "--job", brackstow, "--no-paper").out.splitlines()
    heads = rows[1 : next(n for n, row in enumerate(rows) if row.endswith("for the whole pack"))]
    assert [h.split()[0] for h in heads] == ["B-201", "B-202", "B-203", "B-301", "B-302"]
    assert heads[0] == "  B-201 with branches a to e backwash · 12 in PVC Sch 80 · drawing M-204 rev 3"


# ---------------------------------------------------------------- demo


def test_demo_makes_a_new_folder_and_its_work_pack(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "demo"
    said = verb("demo", folder)
    assert (said.code, said.err) == (0, "")
    assert "invented" in said.out
    printed = re.findall(r"^  (\S+\.\w+) +\S", said.out, re.MULTILINE)
    assert sorted(f"out/{name}" for name in printed) == sorted(
        n for n in files(folder) if n.startswith("out/")
    )
    assert [p.name for p in (tmp_path / "deep").iterdir()] == ["demo"]  # no half-made folder left
    again = verb("demo", folder)
    assert again.code == 0
    assert "as it stands" in again.out


def test_demo_takes_an_empty_folder(tmp_path: Path) -> None:
    (tmp_path / "demo").mkdir()
    assert verb("demo", tmp_path / "demo").code == 0


@pytest.mark.parametrize("words", [(), ("--json",)])
def test_demo_leaves_a_folder_of_others_alone(tmp_path: Path, words: tuple[str, ...]) -> None:
    (tmp_path / "letter.txt").write_text("mine", "utf-8")
    before = files(tmp_path)
    assert "not empty" in refused(verb("demo", tmp_path, *words))
    assert "is a file" in refused(verb("demo", tmp_path / "letter.txt", *words))
    assert "a3" in refused(verb("demo", tmp_path / "new", "--paper", "a3", *words))
    assert files(tmp_path) == before
