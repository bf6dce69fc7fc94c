"""A sheet with the same words in columns reads to the same walk; its errors name row and column."""

from __future__ import annotations

import csv
import io

import pytest

from job.test_walk_read import DESIGN
from lineproof.floor.errors import LineproofError, UnitMissing
from lineproof.job import statements as s
from lineproof.job.walk_csv import HEADER, read_walk_csv, write_walk_csv
from lineproof.job.walk_read import read_walk

SHEET = """\
word,name,size,material,wall,end,way,length,comment
line,B-201,12in,pvc,sch80,,,,
Starts at,,,,,open,,,
go,,,,,,north,6'-0","to the wall, then"
,,,,,,,,only a remark
,,,,,,,,
ends at,pump P-3,,,,flange,,,
"""
WALK = """\
line B-201 size 12in pipe pvc sch80
starts at open
go north 6'-0"  # to the wall, then
# only a remark

ends at flange "pump P-3"
"""


def test_a_sheet_typed_by_hand_reads_to_the_walk() -> None:
    assert read_walk_csv(SHEET, "x") == read_walk(WALK, "x")
    assert [x.spot.line for x in read_walk_csv(SHEET, "x").statements] == [2, 3, 4, 5, 6, 7]


def test_the_walk_of_the_design_goes_through_a_sheet() -> None:
    walk = read_walk(DESIGN, "b.walk")
    text = write_walk_csv(walk)
    assert read_walk_csv(text, "b.walk") == walk
    rows = list(csv.DictReader(io.StringIO(text)))
    assert rows[7]["length2"] == "6'-0\""
    assert rows[2]["fixed"] == "yes"
    assert rows[10]["slope"] == "down 1:100"


def test_semicolons_tabs_and_a_mark_of_order_are_read_too() -> None:
    rows = list(csv.reader(io.StringIO(SHEET)))
    for delimiter in ";\t":
        out = io.StringIO()
        csv.writer(out, delimiter=delimiter).writerows(rows)
        assert read_walk_csv("\ufeff" + out.getvalue(), "x") == read_walk(WALK, "x")


def test_every_column_is_used_by_some_statement_and_named_once() -> None:
    assert len(set(HEADER)) == len(HEADER)
    assert HEADER[0] == "word"
    assert HEADER[-1] == "comment"


def sheet(**cells: str) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, list(cells))
    writer.writeheader()
    writer.writerow(cells)
    return out.getvalue()


HEAD = (
    "word,name,size,material,wall,end,way,length,field,lot\n"
    "line,L,12in,pvc,sch80,,,,,\nstarts at,,,,,open,,,,\n"
)


@pytest.mark.parametrize(
    ("row", "column", "parts"),
    [
        ("go,,,,,,nroth,6',,", "way", ('"nroth"', "did you mean north?")),
        ("go,,,,,,north,6,,", "length", ("6 has no unit",)),
        ("go,,,,,,north,-6',,", "length", ("negative",)),
        ("go,,,,,,north,6',maybe,", "field", ("neither yes nor no",)),
        ("go,,,pvc,,,north,6',,", "material", ("no use for this cell",)),
        ("gone,,,,,,north,6',,", "word", ('"gone" is no statement',)),
        ("reduce to,,8,,,,,,,", "size", ("does not say its system",)),
        (",,,,,,north,,,", "way", ("cells but no word",)),
        ("starts at,,,,,open,,,,", "word", ("has started already",)),
        ("go,,,,,,north,6',,,more", "number 11", ("no column above it",)),
        ('put,"two\nrows",,,,,,,,', "name", ("a line break (U+000A)",)),
    ],
)
def test_an_error_names_row_and_column(row: str, column: str, parts: tuple[str, ...]) -> None:
    with pytest.raises(LineproofError) as caught:
        read_walk_csv(HEAD + row + "\n", "x.csv")
    said = str(caught.value)
    assert f'row 4, column "{column}"' in said or f'row 5, column "{column}"' in said
    assert caught.value.place.file == "x.csv"
    for part in parts:
        assert part in said


def test_the_kind_of_the_error_is_kept() -> None:
    with pytest.raises(UnitMissing):
        read_walk_csv(HEAD + "go,,,,,,north,6,,\n", "x.csv")


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "empty"),
        ("a,b\n", 'no column "a"'),
        ("word,lenght\n", "did you mean length?"),
        ("word,way,way\n", "stands twice"),
        ("way,length\n", '"word" is missing'),
        ("word," + "x" * 100_000 + "\n", "100,000 characters"),
        ("word," + "x" * 10_000_000 + "\n", "cannot be read as cells"),
        ('word,name\nput,"V-7\n', "cannot be read as cells"),
        ("word,name\nput,V-7\x00\n", "U+0000"),
        ("word,end,east,north,up\nstarts at,open,0,,0\n", "point is not whole"),
        (HEAD, "line L has no end"),
        (sheet(word="drawing", name="x" * 3000), "characters"),
        (sheet(word="drawing", name=" "), "stops too early"),
    ],
)
def test_a_damaged_sheet_is_told_in_one_sentence(text: str, part: str) -> None:
    with pytest.raises(LineproofError) as caught:
        read_walk_csv(text, "x.csv")
    assert part in str(caught.value)
    assert caught.value.place.file == "x.csv"


def test_what_a_cell_cannot_hold_is_refused() -> None:
    with pytest.raises(LineproofError, match='row 2, column "comment"'):
        write_walk_csv(s.Walk("x", (s.Remark(comment="two\nrows"),)))
