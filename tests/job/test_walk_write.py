"""A printed walk is the plain text a lead would have typed, and loses nothing."""

from __future__ import annotations

import pytest

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.floor.units import Shown, parse_length, parse_slope
from lineproof.job import statements as s
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_read import read_walk
from lineproof.job.walk_values import station
from lineproof.job.walk_write import print_walk

TYPED = """\
# invented
drawing M-204 rev 3
line   B-201 size 12in  pipe PVC Sch80 for "backwash"
STARTS at flange fixed "pump P-3" at 0,0,2'-6" facing north # up
go north 6'
go up to center 12.50ft
GO north 35' down 1:100 along

go north 98.20 ft west 3200 mm
ends at branch B-201a at 1', 2', 1/3 m
"""
PRINTED = """\
# invented
drawing M-204 rev 3
line B-201 size 12in pipe pvc sch80 for "backwash"
starts at flange fixed "pump P-3" at 0, 0, 2'-6" facing north  # up
go north 6'-0"
go up to centre 12'-6"
go north 35'-0" down 1:100 along

go north 98.2ft west 3200 mm
ends at branch B-201a at 1'-0", 2'-0", 0.3333333333333333 m
"""


def test_a_typed_walk_is_printed_in_one_plain_form() -> None:
    walk = read_walk(TYPED, "a.walk")
    assert print_walk(walk) == PRINTED
    assert read_walk(PRINTED, "a.walk") == walk


def test_a_metric_line_is_printed_in_millimetres_and_either_can_be_asked_for() -> None:
    walk = read_walk(
        "line C-1 size d315 pipe pvc pn10\nstarts at open\ngo up 3.048 m\nends at cap\n", "c.walk"
    )
    assert "go up 3048 mm\n" in print_walk(walk)
    assert "go up 10'-0\"\n" in print_walk(walk, shown=Shown.us())
    assert "go north 1828.8 mm\n" in print_walk(read_walk(TYPED, "a.walk"), shown=Shown.metric())


def test_numbers_take_as_many_decimals_as_they_need() -> None:
    us, metric = Numbers(), Numbers(metric=True, stations_metric=True)
    assert us.length(0.0) == "0"
    assert us.length(-0.762) == "-2'-6\""
    assert us.length(1 / 3) == "0.3333333333333333 m"
    assert parse_length(us.length(1e-7)) == 1e-7
    assert us.slope(0.01) == "1:100"
    assert parse_slope(us.slope(0.0123456789)) == 0.0123456789
    assert us.station(377.952) == "12+40"
    assert metric.station(1240.0) == "1+240"
    assert metric.station(1240.25) == "1+240.25"
    assert station(us.station(-15.24), metric=False) == -15.24
    assert us.angle(0.7853981633974483) == "45"
    assert us.angle(0.1234567890123) == "0.1234567890123 rad"
    assert us.size(Size("nps", 1.5)) == "1-1/2in"
    assert us.size(Size("d", 315)) == "d315"


def test_names_stand_in_quotes_where_they_would_be_read_as_something_else() -> None:
    walk = s.Walk(
        "a.walk",
        (
            s.Head(name="north", size=Size("nps", 2), material="pvc", series="sch80"),
            s.Starts(end=s.End(s.EndKind.OPEN)),
            s.Tee(way=s.Way.UP, label='say "6" # now', lot="7"),
            s.Ends(end=s.End(s.EndKind.CAP)),
        ),
    )
    text = print_walk(walk)
    assert text.splitlines()[0] == 'line "north" size 2in pipe pvc sch80'
    assert text.splitlines()[2] == 'tee up as "say ""6"" # now" lot 7'
    assert read_walk(text, "a.walk") == walk


@pytest.mark.parametrize(
    "text", ["two\nrows", "nul \x00", "\u2029", "x" * 3000], ids=["break", "nul", "u", "long"]
)
def test_what_cannot_be_written_on_one_line_is_refused(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        print_walk(s.Walk("a.walk", (s.Remark(), s.Remark(comment=text))))
    assert caught.value.place.line == 2
