"""Taped gaps: read with row and column, added to the end and never changed."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from lineproof.floor.errors import BadInput, EntrySealed, LineproofError
from lineproof.job.taped import COLUMNS, Taped, append_taped, newest, read_taped, write_taped

ZONE = ZoneInfo("America/Denver")
HEAD = ",".join(COLUMNS)
ROW = Taped(
    line="B-201", face_a="J3", face_b="pump P-3", length=3.7497, typed="12'-3 5/8\"", by="P-1",
    when=datetime(2027, 5, 3, 14, 20, tzinfo=ZONE),
)  # fmt: skip


def test_a_row_reads_as_typed() -> None:
    text = f'{HEAD}\nB-201,J3,pump P-3,"12\'-3 5/8""",P-1,2027-05-03 14:20,windy\n'
    (row,) = read_taped(text, ZONE)
    # 12 ft 3 5/8 in = 147.625 in of 25.4 mm (international inch, 1959)
    assert row.length == pytest.approx(147.625 * 25.4 / 1000, abs=1e-12)
    assert row.typed == "12'-3 5/8\""
    assert row.when.astimezone(UTC) == datetime(2027, 5, 3, 20, 20, tzinfo=UTC)  # summer time: 6 h behind
    assert (row.place.file, row.place.line) == ("taped.csv", 2)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ("B-201,a,b,12,P-1,2027-05-03 14:20,", "length"),
        ("B-201,a,b,-3 ft,P-1,2027-05-03 14:20,", "length"),
        ("B-201,a,b,3 ft,P-1,2027-05-03,", "when"),
        ("B-201,a,b,3 ft,P-1,0001-01-01 00:00,", "when"),
        ("B-201,a,b,3 ft,,2027-05-03 14:20,", "by"),
        ("B-201,a,a,3 ft,P-1,2027-05-03 14:20,", "face_b"),
        (",a,b,3 ft,P-1,2027-05-03 14:20,", "line"),
    ],
)
def test_a_wrong_cell_is_named_by_row_and_column(cells: str, column: str) -> None:
    with pytest.raises(LineproofError, match=rf"^taped.csv:3: column {column}: "):
        read_taped(f"{HEAD}\n\n{cells}\n", ZONE)


def test_of_two_tapings_of_one_gap_the_later_counts() -> None:
    later = Taped(
        line="B-201", face_a="pump P-3", face_b="J3", length=3.75, typed="3.75 m", by="P-2",
        when=datetime(2027, 5, 3, 21, 0, tzinfo=UTC),
    )  # fmt: skip
    assert newest([later, ROW]) == {("B-201", "J3", "pump P-3"): later}
    assert newest([ROW, later]) == {("B-201", "J3", "pump P-3"): later}


def test_adding_keeps_every_byte_that_was_there(tmp_path: Path) -> None:
    file = tmp_path / "taped.csv"
    append_taped(file, [ROW], ZONE)
    first = file.read_bytes()
    file.write_bytes(first.rstrip(b"\n"))  # saved by hand, without the last line end
    append_taped(file, [ROW], ZONE)
    assert file.read_bytes() == first + first.splitlines(keepends=True)[1]
    assert [r.typed for r in read_taped(file.read_text("utf-8"), ZONE)] == [ROW.typed] * 2
    assert [p.name for p in tmp_path.iterdir()] == ["taped.csv"]


def test_nothing_is_added_to_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    file = tmp_path / "taped.csv"
    file.write_text(f"{HEAD}\nB-201,a,b,twelve,P-1,2027-05-03 14:20,\n", "utf-8")
    before = file.read_bytes()
    with pytest.raises(BadInput, match=r"taped.csv:2: column length"):
        append_taped(file, [ROW], ZONE)
    assert file.read_bytes() == before


def test_a_remark_before_the_heading_is_no_heading(tmp_path: Path) -> None:
    file = tmp_path / "taped.csv"
    file.write_text(f"# invented\n\n{HEAD}\n", "utf-8")
    append_taped(file, [ROW], ZONE)
    assert len(read_taped(file.read_text("utf-8"), ZONE)) == 1
    assert write_taped([ROW], heading=False).count("\n") == 1


def test_columns_in_another_order_are_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "taped.csv"
    file.write_text("by,line,face_a,face_b,length,when\n", "utf-8")
    with pytest.raises(EntrySealed, match="another order"):
        append_taped(file, [ROW], ZONE)


def test_written_rows_read_back() -> None:
    (back,) = read_taped(write_taped([ROW]), ZONE)
    assert (back.line, back.face_a, back.face_b, back.typed, back.when) == (
        ROW.line, ROW.face_a, ROW.face_b, ROW.typed, ROW.when,
    )  # fmt: skip
    assert back.length == pytest.approx(ROW.length, abs=1e-4)
