"""Steps on the text of a walk: the touched row alone changes, and the text means what the steps say.

The meaning is held against a second account of the steps written here: a plain list of statements, read by
the reader of walks. That the reader itself is right is tested with its own grammar and oracle.
"""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.statements import Go, NoJoint, Remark, Statement
from lineproof.job.walk_cells import FORMS
from lineproof.job.walk_read import read_walk
from lineproof.job.walk_steps import (
    Add,
    Change,
    Delete,
    Split,
    Step,
    rows_of,
    said_with,
    same_rows,
    stepped,
    with_ends_of,
)
from lineproof.job.walk_write import print_walk

HEAD = """drawing M-1 rev 0
line A   size 4in  pipe pvc sch80   # four inch
starts at open at 0,0,0 facing north
"""
LEG = "  go   north 10' from face field lot E-1  # to the wall\nno joint 3' to 6'  # sleeve\nends at cap"
TEXT = HEAD + LEG


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    "step",
    [
        Add(4, "go up 3'"), Add(0, "# on top"), Add(6, "# below"), Change(4, "go east 5'"), Delete(3),
        Split(4, "4'", "union"),
    ],
)  # fmt: skip
def test_rows_that_are_not_touched_keep_every_byte(step: Step, end: str) -> None:
    old = TEXT.replace("\n", end)
    new = stepped(old, step).text
    kept = same_rows(old, new)
    before, after = rows_of(old), rows_of(new)
    touched = {
        row for row in range(1, len(before) + 1)
        if row not in kept or before[row - 1].rstrip("\r\n") != after[kept[row] - 1].rstrip("\r\n")
    }  # fmt: skip
    allowed = {
        "Add": set(), "Change": {4}, "Delete": {3}, "Split": {4, 5},
    }[type(step).__name__]  # fmt: skip
    assert touched <= allowed
    for row in set(range(1, len(before))) - touched:
        assert before[row - 1] == after[kept[row] - 1]
    assert all(r.endswith(end) for r in after[:-1])


def test_a_statement_said_anew_keeps_its_comment_and_indent_unless_it_has_its_own() -> None:
    assert rows_of(stepped(TEXT, Change(4, "go east 5'")).text)[3] == "  go east 5'  # to the wall\n"
    assert rows_of(stepped(TEXT, Change(4, "go east 5' # new")).text)[3] == "  go east 5' # new\n"


def test_a_leg_takes_its_stretches_with_it_and_no_other() -> None:
    two = TEXT.replace("ends at cap", "go east 8'\nno joint 1' to 2'\nends at cap")
    done = stepped(two, Delete(4))
    assert "wall" not in done.text
    assert "sleeve" not in done.text
    assert "no joint 1' to 2'" in done.text
    assert done.told == '1 "no joint" of that leg went with it'


def test_a_split_leg_shares_its_words_and_its_stretch() -> None:
    # by hand: 10 ft at 4 ft leaves 6 ft; a sleeve from 3 to 6 ft is 3 to 4 on the first, 0 to 2 on the second
    walk = read_walk(stepped(TEXT, Split(4, "4'", "tee west as A1")).text, "a.walk")
    ft = 0.3048
    first, one, _tee, second, two = walk.statements[3:8]
    assert isinstance(first, Go)
    assert isinstance(second, Go)
    assert isinstance(one, NoJoint)
    assert isinstance(two, NoJoint)
    assert (first.steps[0].length, second.steps[0].length) == (4 * ft, pytest.approx(6 * ft))
    assert (first.start_measure, second.start_measure) == ("face", "centre")
    assert (first.lot, second.lot, first.field, second.field) == ("E-1", "", True, True)
    assert (one.start, one.end) == (pytest.approx(3 * ft), pytest.approx(4 * ft))
    assert (two.start, two.end) == (0, pytest.approx(2 * ft))


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Add(4, "go nort 3'"), "did you mean north"), (Add(4, ""), "nothing was said"),
        (Add(99, "union"), "no row 99"), (Delete(0), "no row 0"), (Split(4, "12'"), "not inside the leg"),
        (Split(5, "1'"), "no leg that can be split"), (Split(4, "4"), "unit"),
        (Add(4, "go up 3'\ngo up 3'"), "cannot be seen"), (Change(4, 'put "V'), "not closed"),
    ],
)  # fmt: skip
def test_a_step_that_cannot_be_taken_is_answered_in_words(step: Step, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        stepped(TEXT, step)


def test_cells_say_the_same_as_words() -> None:
    assert (
        said_with("go", {"way": "north", "length": " 6' ", "field": "yes", "lot": ""}) == "go north 6' field"
    )
    with pytest.raises(BadInput, match="did you mean tee"):
        said_with("te", {})
    with pytest.raises(BadInput, match="no use for"):
        said_with("tee", {"length": "3'"})
    with pytest.raises(BadInput, match="the point has no north"):
        said_with("ends at", {"end": "cap", "east": "1'"})


# ---------------------------------------------------------------- any steps in a row

WAYS = ["north", "east", "south", "west", "up", "down"]
FEET = st.integers(2, 60).map(lambda n: f"{n}'")
SAID = st.one_of(
    st.tuples(st.sampled_from(WAYS), FEET).map(lambda t: f"go {t[0]} {t[1]}"),
    st.tuples(FEET, FEET).map(lambda t: f"go north {t[0]} west {t[1]}"),
    st.sampled_from(
        ["union", "flanges", "coupling", 'put "V-1"  # tag', "reduce to 3in", "# only a remark", ""]
    ),
)
DO = st.tuples(st.sampled_from(["add", "change", "delete", "split"]), st.integers(0, 40), SAID, FEET)


@settings(max_examples=150, deadline=None)
@given(st.lists(DO, max_size=14))
def test_steps_in_a_row_give_a_text_that_reads_as_the_steps_say(
    steps: list[tuple[str, int, str, str]],
) -> None:
    text = HEAD + "ends at open\n"
    plain = [r.strip() for r in text.splitlines()]  # the second account: statements as a list
    for do, at, said, cut in steps:
        row = min(at, len(plain))
        if do in ("change", "delete") and not 4 <= row < len(plain):
            continue  # head, start and end stay, so that the text is a walk
        if do == "add" and not 3 <= row < len(plain):
            continue
        if do == "split" and not 4 <= row < len(plain):
            continue
        step: Step = {
            "add": Add(row, said), "change": Change(row, said), "delete": Delete(row),
            "split": Split(row, cut),
        }[do]  # fmt: skip
        words = plain[row - 1].partition("#")[0].split()
        plain_leg = len(words) == 3 and words[0] == "go"
        may = do == "delete" or (do == "split" and plain_leg and int(cut[:-1]) < int(words[2].split("'")[0]))
        if do in ("add", "change"):
            may = bool(said)
        if not may:
            with pytest.raises(LineproofError):
                stepped(text, step)
            continue
        text = stepped(text, step).text
        match do:
            case "add":
                plain.insert(row, said)
            case "change":
                old = plain[row - 1].partition("#")
                kept = f"  # {old[2].strip()}" if old[1] and "#" not in said else ""
                plain[row - 1] = said + kept
            case "delete":
                del plain[row - 1]
            case "split":
                whole = int(words[2].split("'")[0])
                plain[row - 1 : row] = [f"go {words[1]} {cut}", f"go {words[1]} {whole - int(cut[:-1])}'"]
    walk = read_walk(text, "a.walk")
    told = read_walk("\n".join(plain) + "\n", "a.walk")
    assert [_bare(s) for s in walk.statements] == [_bare(s) for s in told.statements]
    again = read_walk(print_walk(walk), "a.walk")
    assert [_bare(s) for s in again.statements] == [_bare(s) for s in walk.statements]


def _bare(statement: Statement) -> object:
    """A statement with its comment stripped of blanks; lengths to a hair."""
    told = repr(dataclasses.replace(statement, comment=statement.comment.strip()))
    return type(statement).__name__ if isinstance(statement, Remark) else told


def test_a_text_from_a_form_has_the_line_ends_of_its_file() -> None:
    mixed = "\ufeff# a\r\nline A size 4in pipe pvc sch80\nstarts at open\r\nends at open"
    sent = mixed.removeprefix("\ufeff").replace("\r\n", "\n").replace("\n", "\r\n")
    assert with_ends_of(mixed, sent) == mixed
    changed = with_ends_of(mixed, sent.replace("starts at open", "starts at cap"))
    assert changed == mixed.replace("starts at open", "starts at cap")


def test_every_statement_of_the_walk_can_be_said() -> None:
    told = {
        "drawing": "drawing M-2", "line": "line B size 4in pipe pvc sch80", "starts at": "starts at open",
        "ends at": "ends at cap", "go": "go up 2'", "offset": "offset west 4' with 45", "put": 'put "V-1"',
        "tee": "tee west as T", "saddle": "saddle west 1in as S", "reduce to": "reduce to 3in",
        "expansion joint": 'expansion joint travel 4"', "no joint": "no joint 1' to 2'",
        "bells": "bells facing back", "spool": 'spool "TD"', "spool ends": "spool ends",
    }  # fmt: skip
    for word in FORMS:
        said = told.get(word, word)
        assert said in stepped(TEXT, Add(4, said)).text
