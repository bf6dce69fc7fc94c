"""Every walk that can be said prints, and reads back as the same values: as text and as CSV."""

from __future__ import annotations

import math

from hypothesis import example, given, settings
from hypothesis import strategies as st

from lineproof.book.sizes import Size
from lineproof.floor.units import Shown
from lineproof.job import statements as s
from lineproof.job.walk_csv import read_walk_csv, write_walk_csv
from lineproof.job.walk_read import read_walk
from lineproof.job.walk_write import print_walk

LEVEL = (s.Way.NORTH, s.Way.SOUTH, s.Way.EAST, s.Way.WEST)
UPRIGHT = (s.Way.UP, s.Way.DOWN)

# A reader may not be shown another text than is read: marks that turn the writing direction are refused.
TURNING = "".join(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
letters = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters=TURNING)
names = st.text(letters, min_size=1, max_size=12).filter(lambda text: text.strip())
plain_names = st.from_regex(r"[A-Z]{1,2}-[0-9]{1,3}[a-z]?", fullmatch=True)
any_name = (
    plain_names
    | names
    | st.sampled_from(["north", "Ends", '12" valve', "a #2", "7", "1:100", "12+40", "pump’s"])
)
comments = st.just("") | names.map(str.rstrip)
lots = st.just("") | any_name
ways = st.sampled_from(tuple(s.Way))
us_lengths = st.integers(1, 40_000).map(lambda n: n / 16 * 0.0254)
metric_lengths = st.integers(1, 200_000).map(lambda n: n / 1000)
rough = st.floats(1e-6, 20_000.0)
lengths = us_lengths | metric_lengths | rough
levels = lengths | lengths.map(lambda x: -x) | st.just(0.0)
stations = st.integers(0, 900_000).map(lambda n: n * 0.3048) | st.integers(0, 900_000).map(float) | levels
sizes = st.sampled_from([0.5, 1.5, 2.0, 6.0, 12.0, 24.0]).map(lambda n: Size("nps", n)) | st.sampled_from(
    [20.0, 63.0, 315.0]
).map(lambda n: Size("d", n))
points = st.none() | st.builds(s.Point, levels, levels, levels)


@st.composite
def ends(draw: st.DrawFn) -> s.End:
    kind = draw(st.sampled_from(tuple(s.EndKind)))
    flanged = kind in (s.EndKind.FLANGE, s.EndKind.BLIND, s.EndKind.TEST_BLIND)
    return s.End(
        kind,
        fixed=draw(st.booleans()),
        may_unbolt=flanged and draw(st.booleans()),
        face=draw(st.sampled_from(["", "flat", "raised", "ringed"])) if flanged else "",
        name=draw(any_name) if kind is s.EndKind.BRANCH else draw(st.just("") | any_name),
        size=draw(st.none() | sizes),
    )


def steps(draw: st.DrawFn, most: int = 3) -> list[s.Step]:
    axes = draw(st.permutations([(s.Way.NORTH, s.Way.SOUTH), (s.Way.EAST, s.Way.WEST), UPRIGHT]))
    count = draw(st.integers(1, most))
    return [s.Step(draw(st.sampled_from(axis)), draw(lengths)) for axis in axes[:count]]


@st.composite
def legs(draw: st.DrawFn) -> s.Go:
    parts = steps(draw)
    along = [p for p in parts if p.way in LEVEL]
    upright = [p for p in parts if p.way in UPRIGHT]
    more: dict[str, object] = {}
    aim = draw(st.sampled_from(["to_centre", "to_invert"]))
    if along and draw(st.booleans()):
        more["to_station"] = draw(stations)
        along[0] = s.Step(along[0].way)
        if draw(st.booleans()):
            more[aim] = draw(levels)
            upright = [s.Step(p.way) for p in upright]
    elif along and not upright and draw(st.booleans()):
        more |= {"slope": draw(st.integers(2, 900).map(lambda n: 1 / n) | st.floats(1e-6, 99.0))}
        more |= {"slope_way": draw(st.sampled_from(UPRIGHT)), "basis": draw(st.sampled_from(tuple(s.Basis)))}
        if draw(st.booleans()):
            more[aim] = draw(levels)
            along[0] = s.Step(along[0].way)
    elif draw(st.booleans()):
        more[aim] = draw(levels)
        upright = [s.Step(p.way) for p in upright]
    return s.Go(
        steps=(*along, *upright),
        start_measure=draw(st.sampled_from(tuple(s.Measure))),
        end_measure=draw(st.sampled_from(tuple(s.Measure))),
        field=draw(st.booleans()),
        lot=draw(lots),
        comment=draw(comments),
        **more,
    )


@st.composite
def offsets(draw: st.DrawFn) -> s.Offset:
    angle = draw(
        st.sampled_from([11.25, 22.5, 30.0, 45.0, 60.0, 90.0]).map(math.radians) | st.floats(1e-3, 1.57)
    )
    return s.Offset(
        steps=tuple(steps(draw, 2)),
        angle=angle,
        field=draw(st.booleans()),
        lot=draw(lots),
        comment=draw(comments),
    )


@st.composite
def expansions(draw: st.DrawFn) -> s.Expansion:
    travel = draw(lengths)
    return s.Expansion(travel=travel, set=draw(st.none() | st.just(0.0) | st.just(travel)), lot=draw(lots))


inner = st.one_of(
    legs(),
    offsets(),
    expansions(),
    st.builds(s.Put, tag=any_name, handle=st.none() | ways, mixed=st.booleans(), comment=comments),
    st.builds(s.Reduce, size=sizes, flat=st.none() | ways, bushing=st.booleans(), lot=lots, comment=comments),
    st.builds(s.Mid, kind=st.sampled_from(tuple(s.Inline)), lot=lots, comment=comments),
    st.builds(s.Bells, ahead=st.booleans(), comment=comments),
    st.builds(s.Drawing, name=any_name, rev=lots, comment=comments),
    st.builds(s.Remark, comment=comments),
)


@st.composite
def walks(draw: st.DrawFn) -> s.Walk:
    said: list[s.Statement] = draw(st.lists(st.builds(s.Remark, comment=comments), max_size=2))
    for number in range(draw(st.integers(0, 3))):
        said.append(
            s.Head(
                name=f"L{number}{draw(st.just('') | names)}",
                size=draw(sizes),
                material=draw(st.sampled_from(["pvc", "cpvc"])),
                series=draw(st.sampled_from(["sch40", "sch80", "sdr26", "s10", "pn10"])),
                od_family=draw(st.sampled_from(["", "ips", "irrigation", "cast-iron", "metric"])),
                service=draw(lots),
                comment=draw(comments),
            )
        )
        said.append(
            s.Starts(
                end=draw(ends()),
                point=draw(points),
                facing=draw(st.none() | ways),
                station=draw(st.none() | stations),
                comment=draw(comments),
            )
        )
        said += draw(st.lists(inner, max_size=5))
        label, way = f"T{number}{draw(st.just('') | names)}", draw(ways)
        if draw(st.booleans()):
            said.append(s.Tee(way=way, label=label, size=draw(st.none() | sizes), lot=draw(lots)))
        else:
            said.append(s.Saddle(way=way, size=draw(sizes), label=label, threaded=draw(st.booleans())))
        if draw(st.booleans()):
            spool = s.Spool(name=draw(any_name))
            said += [spool, *draw(st.lists(inner, max_size=2)), s.Spool()]
        if draw(st.booleans()):
            start, beyond = draw(lengths | st.just(0.0)), draw(lengths)
            if start + beyond <= 20_000 and start + beyond > start:
                leg = s.Go(steps=(s.Step(s.Way.NORTH, start + beyond),))
                said += [leg, s.NoJoint(start=start, end=start + beyond, comment=draw(comments))]
        said.append(s.Ends(end=draw(ends()), point=draw(points), comment=draw(comments)))
    return s.Walk("made.walk", tuple(said))


shown = st.sampled_from([None, Shown.us(), Shown.metric()])


@settings(max_examples=250, deadline=None)
@given(walks(), shown)
@example(s.Walk("made.walk", ()), None)
@example(s.Walk("made.walk", (s.Remark(), s.Remark(comment="# two"))), None)
def test_a_printed_walk_reads_back_as_the_same_walk(walk: s.Walk, how: Shown | None) -> None:
    text = print_walk(walk, shown=how)
    again = read_walk(text, "made.walk")
    assert again == walk
    assert print_walk(again, shown=how) == text


@settings(max_examples=150, deadline=None)
@given(walks(), shown)
def test_a_walk_written_as_csv_reads_back_as_the_same_walk(walk: s.Walk, how: Shown | None) -> None:
    assert read_walk_csv(write_walk_csv(walk, shown=how), "made.walk") == walk


@settings(max_examples=100, deadline=None)
@given(walks())
def test_capitals_blanks_and_line_ends_change_nothing(walk: s.Walk) -> None:
    text = print_walk(walk)
    spaced = "\ufeff" + "".join(f" \t{row} \r\n" for row in text.splitlines()) if text.isascii() else text
    assert read_walk(spaced, "made.walk") == walk
