"""parts.csv: fittings as measured, read with row and column, written back to the same values."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError, Place, UnitMissing
from lineproof.job.parts import Form, Outlet, PartKind, PartRow
from lineproof.job.parts_csv import COLUMNS, MEANING, outlet_size, read_parts, write_parts

INCH = 0.0254


def table(*rows: dict[str, str]) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows({"material": "pvc", "series": "sch80", "size": "12in", **row} for row in rows)
    return out.getvalue()


ELBOW = {"kind": "elbow", "angle": "90", "reach_1": '10 1/2"', "depth_1": '6 1/16"'}


def one(**cells: str) -> PartRow:
    (row,) = read_parts(table(cells))
    return row


def test_an_elbow_as_taped() -> None:
    row = one(**ELBOW, reach_2="same", depth_2="same", lot="E12-3", count="8", measured="3", spread='1/16"')
    assert row.type_key == ("elbow", 90.0, "pvc", "sch80", "12 in", "")
    assert [o.form for o in row.outlets] == [Form.SOCKET, Form.SOCKET]
    # take-out = centre to face less depth to the stop: 10 1/2 - 6 1/16 = 4 7/16 in
    assert [o.take_out for o in row.outlets] == [pytest.approx(4.4375 * INCH, abs=1e-12)] * 2
    assert row.stands_for_lot
    assert row.place == Place("parts.csv", 2)


def test_what_nobody_measured_is_not_known() -> None:
    row = one(kind="tee", size2="6in")
    assert [(o.size.text, o.reach, o.depth) for o in row.outlets] == [
        ("12 in", None, None), ("12 in", None, None), ("6 in", None, None),
    ]  # fmt: skip
    assert (row.measured, row.complete, row.hub, row.count) == (0, False, None, None)


@pytest.mark.parametrize(
    ("kind", "ends"),
    [
        ("elbow", ["socket", "socket"]),
        ("tee", ["socket", "socket", "socket"]),
        ("coupling", ["socket", "socket"]),
        ("repair coupling", ["socket", "socket"]),
        ("bushing", ["spigot", "socket"]),
        ("union", ["socket", "socket"]),
        ("flange", ["flange", "socket"]),
        ("stub", ["stub", "socket"]),
        ("blind", ["flange", "closed"]),
        ("cap", ["socket", "closed"]),
        ("saddle", ["saddle", "socket"]),
        ("male adapter", ["socket", "male thread"]),
        ("female adapter", ["socket", "female thread"]),
    ],
)
def test_usual_ends_of_a_kind(kind: str, ends: list[str]) -> None:
    # common practice, no source
    assert [o.form.value for o in one(kind=kind, angle="45").outlets] == ends


def test_a_flanged_valve_says_its_ends_and_faces() -> None:
    row = one(kind="valve", tag="V-7", material="iron", ends="flange flange", reach_1="6 in", reach_2="6 in",
              faces="flat raised", rating="150 psi", rating_at="73 F")  # fmt: skip
    assert [(o.form, o.face, o.take_out) for o in row.outlets] == [
        (Form.FLANGE, "flat", 0.1524), (Form.FLANGE, "raised", 0.1524),
    ]  # fmt: skip
    assert (row.measured, row.stands_for_lot) == (1, True)
    # 1 psi = 0.45359237 kg x 9.80665 m/s2 / (25.4 mm)2, exact definitions
    assert row.rating == pytest.approx(150 * 6894.757293168, rel=1e-12)


def test_the_sealing_face_of_a_flange_is_its_centre() -> None:
    row = one(kind="flange", reach_2='3 1/2"', depth_2='3"', faces="flat")
    assert [o.take_out for o in row.outlets] == [0.0, pytest.approx(0.5 * INCH, abs=1e-12)]


def test_lengths_of_either_kind_and_a_mark_in_quotes() -> None:
    text = 'kind,angle,material,series,size,reach_1,depth_1\nelbow,45,PVC-U,PN 10,d315,"194 mm",12.5cm\n'
    (row,) = read_parts(text)
    assert (row.material, row.series, row.size.text) == ("pvc", "pn10", "d315")
    assert (row.outlets[0].reach, row.outlets[0].depth) == (0.194, 0.125)


WRONG = [
    ({"kind": "ellbow", "angle": "90"}, "kind", "'elbow'"),
    ({"kind": "elbow"}, "angle", "without its angle"),
    ({"kind": "elbow", "angle": "190"}, "angle", "below 180"),
    ({"kind": "tee", "material": "pvcc2"}, "material", "pvc"),
    ({"kind": "tee", "size": "12"}, "size", "12in"),
    ({"kind": "tee", "size": ""}, "size", "empty"),
    ({"kind": "tee", "size2": "d110"}, "size2", "both inch or both metric"),
    ({"kind": "tee", "reach_1": "10"}, "reach_1", "has no unit"),
    ({"kind": "tee", "reach_1": "-10 in"}, "reach_1", "below 0"),
    ({"kind": "tee", "reach_1": "6 in", "depth_1": "6 in"}, "depth_1", "past the centre"),
    ({"kind": "coupling", "reach_2": "6 in", "depth_2": "6.1 in"}, "depth_2", "past the centre"),
    ({"kind": "tee", "reach_1": "same"}, "reach_1", "first end"),
    ({"kind": "elbow", "angle": "90", "reach_3": "6 in"}, "reach_3", "2 ends"),
    ({"kind": "valve", "ends": "socket sockt"}, "ends", "'socket'"),
    ({"kind": "valve", "ends": "flange flange", "faces": "flat flat flat"}, "faces", "3 faces for 2"),
    ({"kind": "valve", "ends": "flange flange", "faces": "rised"}, "faces", "'raised'"),
    ({"kind": "tee", "measured": "3", "reach_1": "9 in"}, "spread", "no spread"),
    ({"kind": "tee", "measured": "3", "count": "2", "spread": "0"}, "measured", "not more than count"),
    ({"kind": "tee", "count": "two"}, "count", "whole number"),
    ({"kind": "tee", "tag": "T-1", "count": "2"}, "count", "its own row"),
    ({"kind": "tee", "fabricated": "yes", "count": "2"}, "count", "its own row"),
    ({"kind": "tee", "fabricated": "maybe"}, "fabricated", "yes, no"),
    ({"kind": "tee", "date": "2026-02-30"}, "date", "year-month-day"),
    ({"kind": "tee", "rating": "150"}, "rating", "psi"),
]


@pytest.mark.parametrize(("cells", "column", "said"), WRONG)
def test_a_wrong_cell_is_named_by_row_and_column(cells: dict[str, str], column: str, said: str) -> None:
    with pytest.raises(LineproofError) as caught:
        read_parts(table({"kind": "cap"}, cells))
    assert str(caught.value).startswith(f"parts.csv:3: column {column}: ")
    assert said in str(caught.value)


def test_every_column_is_explained() -> None:
    assert set(MEANING) == set(COLUMNS)


@pytest.mark.parametrize(
    ("first", "second", "column"),
    [
        ({"kind": "valve", "tag": "V-1"}, {"kind": "cap", "tag": "V-1"}, "tag"),
        ({"kind": "tee", "lot": "A"}, {"kind": "tee", "lot": "A"}, "lot"),
        ({"kind": "tee", "size2": "12in"}, {"kind": "tee"}, "lot"),  # a full tee, said twice over
    ],
)
def test_one_thing_in_two_rows_is_refused_with_both(
    first: dict[str, str], second: dict[str, str], column: str
) -> None:
    with pytest.raises(LineproofError, match=rf"parts.csv:3: column {column}: .*row 2"):
        read_parts(table(first, second))


def test_lots_and_fabricated_fittings_have_rows_of_their_own() -> None:
    rows = read_parts(
        table(
            {"kind": "tee", "lot": "A"},
            {"kind": "tee", "lot": "B"},
            *[{"kind": "cap", "fabricated": "yes"}] * 2,
        )
    )
    assert len(rows) == 4


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("kind,material,series\ncap,pvc,sch80\n", "column size is missing"),
        ("kind,material,series,size,sizze\n", "write 'size'"),
        ("kind,kind,material,series,size\n", "stands twice"),
        ('kind,material,series,size\ncap,pvc,sch80,"6in\n', "close the quotes"),
        ("kind,material,series,size\ncap,pvc,sch80,6in,7,8\n", "6 cells for 4 columns"),
    ],
)
def test_a_broken_table_is_named(text: str, said: str) -> None:
    with pytest.raises(LineproofError, match=said) as caught:
        read_parts(text)
    assert caught.value.place.file == "parts.csv"
    assert caught.value.place.line in (1, 2)


def test_remarks_and_empty_rows_are_left_out_but_a_tag_with_a_hash_is_not() -> None:
    text = "tag,kind,material,series,size\n# a remark, with a comma\n\n#12,valve,pvc,sch80,6in\n"
    assert [r.tag for r in read_parts(text)] == ["#12"]


def test_a_bare_number_is_a_missing_unit() -> None:
    with pytest.raises(UnitMissing):
        one(kind="cap", hub="7.5")


# ---------------------------------------------------------------- round trip
lengths = st.one_of(
    st.integers(1, 4000).map(lambda n: n / 64 * INCH),  # as a tape is read
    st.integers(1, 9000).map(lambda n: n / 1000),
    st.floats(1e-4, 10, allow_nan=False),
)
words = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=8).filter(
    lambda w: w.lower() != "same" and w != "#"
)


@st.composite
def part_rows(draw: st.DrawFn) -> PartRow:
    kind = draw(st.sampled_from([k for k in PartKind if k is not PartKind.BLIND]))
    size = draw(st.sampled_from([Size.parse(t) for t in ("1/2in", "1-1/2in", "12in", "24in")]))
    size2 = draw(st.none() | st.sampled_from([Size.parse(t) for t in ("1/2in", "6in")]))
    forms = draw(st.lists(st.sampled_from(list(Form)), min_size=1, max_size=3))
    outlets = []
    for i, form in enumerate(forms):
        reach = draw(st.none() | lengths)
        at_face = kind in (PartKind.FLANGE, PartKind.STUB) and form in (Form.FLANGE, Form.STUB)
        if i == 0 and at_face and reach is None:
            reach = 0.0
        depth = draw(st.none() | st.floats(1e-5, 1e-4 if reach is None else reach / 2 or 1e-4))
        outlets.append(Outlet(form, outlet_size(kind, i, size, size2), reach, depth))
    one_only = draw(st.booleans())
    measured = draw(st.integers(0, 1))
    return PartRow(
        kind=kind,
        material=draw(st.sampled_from(["pvc", "cpvc", "iron"])),
        series=draw(st.sampled_from(["sch80", "sdr26"])),
        size=size,
        size2=size2,
        outlets=tuple(outlets),
        tag=draw(words) if one_only else "",
        angle_deg=draw(st.sampled_from([11.25, 22.5, 45.0, 90.0])),
        lot=draw(words),
        count=draw(st.none() | st.just(1)),
        measured=measured,
        spread=draw(st.none() | lengths),
        hub=draw(st.none() | lengths),
        fabricated=one_only,
        rating=draw(st.none() | st.floats(1e3, 1e7)),
        rating_temperature=draw(st.none() | st.floats(200, 400)),
        mass=draw(st.none() | st.floats(1e-3, 1e3)),
        thickness=draw(st.none() | lengths),
        by=draw(words),
        date=draw(st.dates().map(str)),
        note=draw(words),
    )


@given(row=part_rows(), metric=st.booleans())
def test_written_rows_read_back_as_the_same_rows(row: PartRow, metric: bool) -> None:
    (back,) = read_parts(write_parts([row], metric=metric))
    assert replace(back, place=Place()) == row


def test_ends_may_say_male_or_female_with_or_without_thread():
    row = "male adapter,pvc,sch80,6in,socket male,6 in,3 in,0 in,1 in"
    head = "kind,material,series,size,ends,reach_1,depth_1,reach_2,depth_2\n"
    long = row.replace("socket male", "socket male thread")
    short_part, long_part = (read_parts(head + text + "\n")[0] for text in (row, long))
    assert short_part.outlets == long_part.outlets
    assert [o.form.value for o in short_part.outlets] == ["socket", "male thread"]
    # socket: 6 in to the face less 3 in of depth; thread: the engaged inch lies beyond the centre
    assert [round(o.take_out / 0.0254, 9) for o in short_part.outlets] == [3, -1]


def test_a_thickness_of_nothing_is_not_a_measure():
    head = "kind,material,series,size,ends,reach_2,depth_2,thickness\n"
    with pytest.raises(BadInput, match="not above 0"):
        read_parts(head + "flange,pvc,sch80,6in,flange socket,3 in,2 in,0 in\n")
