"""The walk is read as it is told, and a slip is answered at its line and column in the trade's words."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError, UnitMissing
from lineproof.job import statements as s
from lineproof.job.walk_read import read_walk, read_walk_all, read_walk_bytes


def ft(feet: float | Fraction) -> float:
    """Nearest float to so many feet; the foot is 0.3048 m by the yard and pound agreement of 1959."""
    return float(Fraction(feet) * Fraction(3048, 10000))


def inch(inches: float | Fraction) -> float:
    return ft(Fraction(inches) / 12)


DESIGN = """\
drawing M-204 rev 3
line B-201   size 12in   pipe pvc sch80   for "backwash"
starts at flange fixed "pump P-3"   at 0, 0, 2'-6"   facing north   # east, north, up
go north 6'-0"                      # centre to centre unless said: to face, to stop, to end, to wall
put "V-7"                           # a part from parts.csv, its face-to-face known
go north 22'-4 1/2" field           # cut after taping; listed long
go up to centre 12.50ft
go north 10' west 6' up 8'          # rolling offset: true offset 10', with 45s the travel is 14'-1 11/16"
tee west 6in as B-201a              # a branch that another line starts from
reduce to 8in eccentric flat top
go north 35'  down 1:100 along      # sloped legs say along or in plan
no joint 4' to 6'-6"                # on the leg above: keep couplings and bells out of the wall sleeve
ends at flange fixed "filter F-1" at 52'-0", 80', 19'-6 1/4"   # a given end is checked
"""


def test_the_walk_of_the_design_reads_statement_by_statement() -> None:
    walk = read_walk(DESIGN, "B-201.walk")
    assert walk.statements == (
        s.Drawing(name="M-204", rev="3"),
        s.Head(name="B-201", size=Size("nps", 12), material="pvc", series="sch80", service="backwash"),
        s.Starts(
            end=s.End(s.EndKind.FLANGE, fixed=True, name="pump P-3"),
            point=s.Point(0, 0, inch(30)),
            facing=s.Way.NORTH,
            comment="east, north, up",
        ),
        s.Go(
            steps=(s.Step(s.Way.NORTH, ft(6)),),
            comment="centre to centre unless said: to face, to stop, to end, to wall",
        ),
        s.Put(tag="V-7", comment="a part from parts.csv, its face-to-face known"),
        s.Go(steps=(s.Step(s.Way.NORTH, inch(268.5)),), field=True, comment="cut after taping; listed long"),
        s.Go(steps=(s.Step(s.Way.UP),), to_centre=ft(12.5)),
        s.Go(
            steps=(s.Step(s.Way.NORTH, ft(10)), s.Step(s.Way.WEST, ft(6)), s.Step(s.Way.UP, ft(8))),
            comment="rolling offset: true offset 10', with 45s the travel is 14'-1 11/16\"",
        ),
        s.Tee(
            way=s.Way.WEST,
            size=Size("nps", 6),
            label="B-201a",
            comment="a branch that another line starts from",
        ),
        s.Reduce(size=Size("nps", 8), flat=s.Way.UP),
        s.Go(
            steps=(s.Step(s.Way.NORTH, ft(35)),),
            slope=0.01,
            slope_way=s.Way.DOWN,
            basis=s.Basis.ALONG,
            comment="sloped legs say along or in plan",
        ),
        s.NoJoint(
            start=ft(4),
            end=ft(6.5),
            comment="on the leg above: keep couplings and bells out of the wall sleeve",
        ),
        s.Ends(
            end=s.End(s.EndKind.FLANGE, fixed=True, name="filter F-1"),
            point=s.Point(ft(52), ft(80), inch(234.25)),
            comment="a given end is checked",
        ),
    )
    assert [x.spot.line for x in walk.statements] == list(range(1, 14))
    assert walk.file == "B-201.walk"


OPEN = "line L-1 size 12in pipe pvc sch80\nstarts at open\n"


def one(row: str, head: str = OPEN) -> s.Statement:
    return read_walk(f"{head}{row}\nends at open\n", "a.walk").statements[-2]


@pytest.mark.parametrize(
    ("row", "meant"),
    [
        ("go north to station 12+40", s.Go(steps=(s.Step(s.Way.NORTH),), to_station=ft(1240))),
        ("go north to station 1+240m", s.Go(steps=(s.Step(s.Way.NORTH),), to_station=1240.0)),
        ("go north to station 12+40.5 ft", s.Go(steps=(s.Step(s.Way.NORTH),), to_station=ft(1240.5))),
        ("go north 35' to invert 98.25ft", s.Go(
            steps=(s.Step(s.Way.NORTH, ft(35)),), to_invert=ft(98.25))),
        ("go up 3' from face to stop", s.Go(
            steps=(s.Step(s.Way.UP, ft(3)),), start_measure=s.Measure.FACE, end_measure=s.Measure.STOP)),
        ("go east 2 m to wall lot E12-3", s.Go(
            steps=(s.Step(s.Way.EAST, 2.0),), end_measure=s.Measure.WALL, lot="E12-3")),
        ("go east 2 m to end", s.Go(steps=(s.Step(s.Way.EAST, 2.0),), end_measure=s.Measure.END)),
        ("go south 10 m up 1 in 50 in plan", s.Go(
            steps=(s.Step(s.Way.SOUTH, 10.0),), slope=0.02, slope_way=s.Way.UP, basis=s.Basis.PLAN)),
        ("go south 10 m down 2% along", s.Go(
            steps=(s.Step(s.Way.SOUTH, 10.0),), slope=0.02, slope_way=s.Way.DOWN, basis=s.Basis.ALONG)),
        ("go up to center -3'", s.Go(steps=(s.Step(s.Way.UP),), to_centre=ft(-3))),
        ("offset west 4' up 3' with 45", s.Offset(
            steps=(s.Step(s.Way.WEST, ft(4)), s.Step(s.Way.UP, ft(3))), angle=math.pi / 4)),
        ("offset west 0.5 m with 22 1/2 deg field", s.Offset(
            steps=(s.Step(s.Way.WEST, 0.5),), angle=math.pi / 8, field=True)),
        ("union", s.Mid(kind=s.Inline.UNION)),
        ("ringed union", s.Mid(kind=s.Inline.RINGED_UNION)),
        ("drop-out union", s.Mid(kind=s.Inline.TRUE_UNION)),
        ("true union", s.Mid(kind=s.Inline.TRUE_UNION)),
        ("flanges", s.Mid(kind=s.Inline.FLANGES)),
        ("ringed flanges lot F-9", s.Mid(kind=s.Inline.RINGED_FLANGES, lot="F-9")),
        ("stub and ring", s.Mid(kind=s.Inline.STUBS)),
        ("coupling", s.Mid(kind=s.Inline.COUPLING)),
        ("repair coupling", s.Mid(kind=s.Inline.REPAIR)),
        ("thread", s.Mid(kind=s.Inline.THREAD)),
        ("expansion joint travel 4\" set 2\"", s.Expansion(travel=inch(4), set=inch(2))),
        ("expansion joint travel 100 mm", s.Expansion(travel=0.1)),
        ("bells facing back", s.Bells(ahead=False)),
        ("bells facing ahead", s.Bells(ahead=True)),
        ("saddle west 2in threaded as S-1", s.Saddle(
            way=s.Way.WEST, size=Size("nps", 2), threaded=True, label="S-1")),
        ("put V-7 handle up mixed", s.Put(tag="V-7", handle=s.Way.UP, mixed=True)),
        ("reduce to 8in bushing", s.Reduce(size=Size("nps", 8), bushing=True)),
        ("reduce to 1-1/2in concentric", s.Reduce(size=Size("nps", 1.5))),
        ("GO North 6 FT Field", s.Go(steps=(s.Step(s.Way.NORTH, ft(6)),), field=True)),
        ("go north 6′-6½″", s.Go(steps=(s.Step(s.Way.NORTH, inch(78.5)),))),
        ('put "a # is text" # this is not', s.Put(tag="a # is text", comment="this is not")),
        ('put "12"" valve"', s.Put(tag='12" valve')),
        ('go north 6" # 6"', s.Go(steps=(s.Step(s.Way.NORTH, inch(6)),), comment='6"')),
        ("\t go north 6' \u00a0", s.Go(steps=(s.Step(s.Way.NORTH, ft(6)),))),
    ],
)  # fmt: skip
def test_a_row_is_understood(row: str, meant: s.Statement) -> None:
    assert one(row) == meant


@pytest.mark.parametrize(
    ("row", "meant"),
    [
        ("ends at test cap", s.End(s.EndKind.TEST_CAP)),
        ("ends at test blind", s.End(s.EndKind.TEST_BLIND)),
        ("ends at cap", s.End(s.EndKind.CAP)),
        ("ends at branch B-201a", s.End(s.EndKind.BRANCH, name="B-201a")),
        ('ends at socket fixed 12in "wall stub"', s.End(
            s.EndKind.SOCKET, fixed=True, size=Size("nps", 12), name="wall stub")),
        ('ends at flange raised face fixed may unbolt "F"', s.End(
            s.EndKind.FLANGE, fixed=True, may_unbolt=True, face="raised", name="F")),
        ("ends at ringed flange", None),
        ("ends at flange ringed", s.End(s.EndKind.FLANGE, face="ringed")),
    ],
)  # fmt: skip
def test_an_end_is_understood(row: str, meant: s.End | None) -> None:
    text = f"line L-1 size 12in pipe pvc sch80\nstarts at open\n{row}\n"
    if meant is None:
        with pytest.raises(BadInput, match=r'"ringed" has no place here.*flange'):
            read_walk(text, "a.walk")
    else:
        assert read_walk(text, "a.walk").statements[-1] == s.Ends(end=meant)


def test_stations_count_thousands_on_a_metric_line() -> None:
    head = "line C-01 size d315 pipe pvc-u pn10\nstarts at open station 1+000\n"
    assert one("go north to station 1+240", head) == s.Go(steps=(s.Step(s.Way.NORTH),), to_station=1240.0)
    assert one("go north to station 12+40ft", head) == s.Go(steps=(s.Step(s.Way.NORTH),), to_station=ft(1240))
    with pytest.raises(BadInput, match=r"a\.walk:3:21: station 12\+40 has 2 figures.*three in metres"):
        one("go north to station 12+40", head)


def test_blank_rows_and_comments_are_kept() -> None:
    walk = read_walk("# one\n\n   #two  \n", "a.walk")
    assert walk.statements == (s.Remark(comment="one"), s.Remark(), s.Remark(comment="two"))
    assert read_walk("", "a.walk").statements == ()


SLIPS = [
    ("go nroth 6'", 4, '"nroth"', "did you mean north?", "a direction (north, south, east, west, up, down)"),
    ("go 6' north", 4, "6' has no place here", "write the direction first"),
    ("go northwest 5'", 4, '"northwest"', "north 5' west 5'"),
    ("go N 6'", 4, '"N"', "direction in full: north"),
    ("go left 6'", 4, '"left"', "direction of the plant grid"),
    ("go north", 4, "north has no length", "12'-6 1/2\" or 3.2 m", "to station"),
    ("go north 6", 10, "6 has no unit", "mm", "ft"),
    ("go north 6'-0", 10, "6'-0 has no inch mark"),
    ("go north 13 mi", 13, '"mi"', "one of the units mm"),
    ("go north 3,2 m", 11, "comma", "decimals with a point (3.2)"),
    ("go north 0'", 10, "the length 0' is zero"),
    ("go north -3'", 10, "negative", "turn the direction round"),
    ("go north 25 km", 10, "longer than 20 km", "check the unit"),
    ("go north 6' south 2'", 13, "north and south stand in one leg", "one go for each leg"),
    ("go north 35' down 1:100", 14, "how the length was taken", "along", "in plan"),
    ("go north 35' along", 14, "no slope"),
    ("go north 35' in plan", 14, "no slope"),
    ("go north 1:100 along", 4, "a slope cannot go north", "up or down"),
    ("go north 6' up 2' down 1:50 along", 19, "goes up by a length and by a slope"),
    ("go north 5' to station 12+40", 24, "given and also the station"),
    ("go north to station 12+4", 21, "1 figure after the plus", "12+40 = 1240 ft"),
    ("go up to station 12+40", 18, "cannot be reached going up or down"),
    ("go up 5' to centre 12ft", 20, "by a length and also to a centre"),
    ("go up to centre 5' to invert 4'", 30, "both a centre and an invert"),
    ("go north 6' to wal", 16, "did you mean wall?"),
    ("go north 6' form face", 13, "did you mean from?"),
    ("go north 6' field field", 19, "the field is said twice"),
    ("go north 6' lot", 16, "stops too early", "a lot, such as E12-3"),
    ("elbow", 1, '"elbow"', 'next "go" in another direction makes the elbow'),
    ('valve "V-7"', 1, '"valve"', 'put "TAG"'),
    ("put", 4, "stops too early", "parts.csv"),
    ('put "V-7', 5, "the quote that opens here is not closed"),
    ('put ""', 5, "between the quotes is empty"),
    ('put "V-7" handel up', 11, "did you mean handle?"),
    ("slip coupling", 1, '"slip"', "repair coupling"),
    ("reducer to 8in", 1, '"reducer"', "reduce to"),
    ("reduce 8in", 8, "8in has no place here", "allowed: to"),
    ("reduce to 8", 11, "the size 8 does not say its system", "12in (NPS) or d315 (metric)"),
    ("reduce to 8in eccentric", 24, "stops too early", "flat"),
    ("tee west 6in", 1, "the branch of the tee has no name", "as B-201a"),
    ("tee as B-2", 1, "where its branch points"),
    ("saddle west as S-1", 1, "the saddle does not say its size"),
    ("no joint 6' to 4'", 16, "before it begins"),
    ("offset west 4'", 8, "does not say its angle", "with 45"),
    ("offset west 4' with 100", 21, "up to 90 degrees"),
    ("offset north 1' west 1' up 1' with 45", 8, "one or two directions, not 3"),
    ("offset west with 45", 8, "west has no length"),
    ("expansion joint", 1, "does not say its travel"),
    ('expansion joint travel 2" set 4"', 31, "further out than its travel"),
    ("bells facing up", 14, '"up" has no place here', "ahead, back"),
    ("ends at flnage fixed", 9, "did you mean flange?"),
    ("ends at flange pump P-3", 16, '"pump"', 'quotes if it is a name: "pump"'),
    ("ends at socket raised", 16, "no flange face"),
    ("ends at cap may unbolt", 13, "no bolts"),
    ("ends at branch", 9, "the branch is not named"),
    ("ends at open at 0, 0", 21, "stops too early", "EAST, NORTH, UP"),
    ("ends at open at 1, 2, 3", 17, "1 has no unit"),
    ("ends at cap; go north 5'", 12, '";"', "one statement a line"),
    ("line B size 12in pipe steel sch80", 23, '"steel" is no material', "pvc, cpvc"),
    ("line B size 12in pipe pvc thick", 27, '"thick" is no wall', "sch80"),
    ("line B pipe pvc sch80", 1, "does not say its size", "size 12in or size d315"),
    ("line B size 12in", 1, "does not say its pipe"),
    ("line size 12in pipe pvc sch80", 6, "the name of the line"),
    ("line B size 12in pipe pvc sch80 od pip", 36, '"pip"', "irrigation"),
    ("go north 6' \u2603", 13, '"\u2603"'),
    ("go north \u200b6'", 10, "U+200B"),
]


@pytest.mark.parametrize("slip", SLIPS, ids=[slip[0] for slip in SLIPS])
def test_a_slip_is_answered_at_its_column_in_the_trades_words(slip: tuple[str, int, str]) -> None:
    row, column, *parts = slip
    with pytest.raises(LineproofError) as caught:
        read_walk(f"{OPEN}   {row}\n", "a.walk")
    error = caught.value
    assert (error.place.file, error.place.line, error.place.column) == ("a.walk", 3, column + 3)
    for part in parts:
        assert part in str(error)


ORDER = [
    ("go north 5'\n", 1, "before the first line"),
    ("line A size 12in pipe pvc sch80\ngo north 5'\nends at cap\n", 2, "has not started yet"),
    (f"{OPEN}starts at open\n", 3, "has started already"),
    (f"{OPEN}no joint 4' to 5'\n", 3, "no leg above"),
    (f"{OPEN}go north 5'\nno joint 4' to 6'\n", 4, "1'-0\" beyond the leg above"),
    (f"{OPEN}spool ends\n", 3, "no spool is open"),
    (f'{OPEN}spool "A"\nspool "B"\n', 4, "spool A is still open, from line 3"),
    (f'{OPEN}spool "A"\nends at cap\n', 4, "spool A is still open"),
    (f"{OPEN}ends at cap\ngo up 1'\n", 4, "line L-1 has ended already"),
    (f"{OPEN}go up 1'\n", 3, "line L-1 has no end"),
    ("line L-1 size 12in pipe pvc sch80\n", 1, "no start and no end"),
    (f"{OPEN}line B size 12in pipe pvc sch80\n", 2, "line L-1 has no end"),
    (f"{OPEN}ends at cap\n{OPEN}ends at cap\n", 4, "stands in this file already, at line 1"),
    (f"{OPEN}tee up as A\ntee up as a\n", 4, "named already, at line 3"),
]


@pytest.mark.parametrize(("text", "line", "part"), ORDER, ids=[part for _, _, part in ORDER])
def test_a_statement_out_of_place_is_named(text: str, line: int, part: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_walk(text, "a.walk")
    assert caught.value.place.line == line
    assert caught.value.place.column >= 1
    assert part in str(caught.value)


def test_all_errors_are_told_and_one_slip_makes_one_error() -> None:
    text = (
        'line A size 12in pipe pvc sch80\nstarts at flnage\ngo nroth 6\'\nspol "X"\nspool ends\nends at cap\n'
        "lien B size 12in pipe pvc sch80\nstarts at open\ngo up 3\nends at cap\n"
    )
    walk, errors = read_walk_all(text, "a.walk")
    assert walk is None
    assert [e.place.line for e in errors] == [2, 3, 4, 7, 9]
    assert isinstance(errors[-1], UnitMissing)
    good, none = read_walk_all(DESIGN, "a.walk")
    assert good == read_walk(DESIGN, "a.walk")
    assert none == []


def test_a_file_full_of_errors_stops_after_a_hundred() -> None:
    _, errors = read_walk_all("glue\n" * 5000, "a.walk")
    assert len(errors) <= 101
    assert "more than 99 errors" in str(errors[-1])


@pytest.mark.parametrize(
    ("data", "line", "column", "part"),
    [
        (b"# caf\xe9\n", 1, 6, "0xE9 is not UTF-8"),
        (b"# a\r\n\xff\xfe", 2, 1, "0xFF is not UTF-8"),
        (b"\xff\xfeg\x00o\x00", 1, 1, "UTF-16"),
        (b"go north\x00 6'\n", 1, 9, "U+0000"),
        (b"# bell \x07\n", 1, 8, "U+0007"),
        ("# \u202e turned\n".encode(), 1, 3, "U+202E"),
        (b"\n" + b"x" * 10_000_000, 2, 2001, "10,000,000 characters"),
        (b"(" * 1_500 + b")" * 400, 1, 1, "not understood here"),
        (b'"' * 1_999, 1, 1, "no place here"),
        (b"\n" * 200_002, 200_001, 1, "200,002 lines"),
        (b"1/" * 900, 1, 1, "no place here"),
        (b"go north " + b"9" * 1_900 + b"'", 1, 10, "too long for a number"),
    ],
    ids=lambda v: str(v)[:20],
)
def test_damaged_bytes_are_told_in_one_sentence(data: bytes, line: int, column: int, part: str) -> None:
    with pytest.raises(LineproofError) as caught:
        read_walk_bytes(data, "a.walk")
    assert (caught.value.place.line, caught.value.place.column) == (line, column)
    assert part in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_mark_of_order_and_windows_line_ends_change_nothing() -> None:
    data = b"\xef\xbb\xbf" + DESIGN.replace("\n", "\r\n").encode()
    assert read_walk_bytes(data, "a.walk") == read_walk(DESIGN, "a.walk")
    assert read_walk(DESIGN.replace("\n", "\r"), "a.walk") == read_walk(DESIGN, "a.walk")
