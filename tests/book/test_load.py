"""The loader: cells, standing, hashes, confirmations, one read a table."""

from __future__ import annotations

import csv
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from lineproof.book.load import TABLES, Book, Shelf, book, neighbours
from lineproof.book.table import to_si, unit_of
from lineproof.floor.errors import OurFault, SizeNotListed
from lineproof.floor.sources import Reading, Standing

OD, WALL, SOCKET = "astm_d1785_2015_od", "astm_d1785_2015_wall", "astm_d2467_sockets"


def test_a_cell_is_as_printed_and_logged() -> None:
    log = Reading()
    cell = book().cell(OD, "12", "od_in", log)
    assert (cell.value, cell.standing, cell.confirmed) == (12.75, Standing.FOUND, True)
    assert cell.source.designation == "ASTM D1785"
    assert cell.source.kind == "library"
    assert "fluids" in cell.source.read_in
    assert log.as_tuple() == (cell,)


def test_standing_is_that_of_the_column() -> None:
    """A diameter that was read is not shown as memory because its tolerance is from memory."""
    row = book().table(OD).rows["12"]
    assert row.values["standing"] == "MEMORY"
    assert book().peek(OD, "12", "od_in").standing is Standing.FOUND
    assert book().peek(OD, "12", "od_tol_in").standing is Standing.MEMORY
    assert not book().peek(OD, "12", "od_tol_in").confirmed
    assert book().peek(OD, "2", "od_tol_in").standing is Standing.FOUND


def test_derived_counts_only_on_what_was_read() -> None:
    assert book().peek("iso4065_wall", "315/12.5", "wall_min_mm").standing is Standing.DERIVED
    assert book().peek("iso4065_wall", "315/12.5", "wall_min_mm").confirmed
    assert book().peek(WALL, "12/80", "wall_max_in").standing is Standing.DERIVED
    assert not book().peek(WALL, "12/80", "wall_max_in").confirmed
    assert not book().peek("iso1452_2_od", "315", "od_mean_max_mm").confirmed
    assert not book().peek("socket_band_nps14_24", "24", "depth_about_in").confirmed


def test_numbers_come_in_si() -> None:
    log = Reading()
    assert book().number(OD, "12", "od_in", log) == pytest.approx(0.32385)
    assert to_si("temp_lo_degF", 212) == pytest.approx(373.15)
    assert to_si("temp_degC", 0) == 273.15
    assert to_si("limit_gal", 25) == pytest.approx(0.0946353, abs=1e-7)
    assert to_si("value_mm_per_m_K", 0.08) == pytest.approx(8e-5)
    assert to_si("value_per_F", 2.8e-5) == pytest.approx(5.04e-5)
    assert to_si("bolt_count", 12) == 12
    assert unit_of("nps") is None


def test_an_empty_cell_is_none_and_not_logged() -> None:
    log = Reading()
    assert book().maybe_number("astm_d2672_bells", "12", "depth_min_in", log) is None
    assert book().maybe_number(OD, "22", "od_in", log) is None
    assert not log.cells
    assert book().text("astm_d2672_bells", "12", "depth_min_in", log) == ""
    with pytest.raises(SizeNotListed, match=r"not listed for 12.*ASTM D2672.*measure"):
        book().number("astm_d2672_bells", "12", "depth_min_in", log)


def test_a_size_between_names_its_neighbours() -> None:
    with pytest.raises(SizeNotListed, match=r"22/80 is not listed.*20/80, 24/80.*ASTM D1785"):
        book().number(WALL, "22/80", "wall_min_in", Reading())
    assert neighbours(["1/40", "2/40", "2/80"], "2/120") == "2/40, 2/80"
    assert neighbours(["1/40", "2/40"], "9/77") == "2 other rows"
    assert neighbours(["room", "cabinets"], "shed") == "room, cabinets"
    assert neighbours(["1", "2", "3"], "9") == "3"


def test_a_wrong_name_is_our_fault() -> None:
    with pytest.raises(OurFault, match="no table astm_d9999"):
        book().table("astm_d9999")
    with pytest.raises(OurFault, match="no column od_mm"):
        book().peek(OD, "12", "od_mm")
    with pytest.raises(OurFault, match="not a number"):
        book().number("stock_lengths", "ips-astm-20ft", "basis", Reading())
    with pytest.raises(OurFault, match="not a number"):
        book().plain("astm_d2672_bells", "12", "depth_min_in")


def test_a_confirmation_holds_for_its_row_alone() -> None:
    cell = book().peek(SOCKET, "12", "depth_min_in")
    assert not cell.confirmed
    held = book().with_confirmations({(SOCKET, cell.source.edition, cell.row_hash)})
    assert held.peek(SOCKET, "12", "depth_min_in").confirmed
    assert held.peek(SOCKET, "12", "depth_min_in").standing is Standing.MEMORY
    assert not held.peek(SOCKET, "10", "depth_min_in").confirmed
    assert not book().peek(SOCKET, "12", "depth_min_in").confirmed
    assert Book.load(held.confirmed).peek(SOCKET, "12", "depth_min_in").confirmed
    wrong_edition = book().with_confirmations({(SOCKET, "1999", cell.row_hash)})
    assert not wrong_edition.peek(SOCKET, "12", "depth_min_in").confirmed


@pytest.mark.parametrize(("column", "then"), [("depth_min_in", "6.001"), ("source", "another page")])
def test_a_changed_row_loses_its_confirmation(column: str, then: str, tmp_path: Path) -> None:
    old = book().peek(SOCKET, "12", "depth_min_in")
    shutil.copytree(TABLES / SOCKET, tmp_path / SOCKET)
    file = tmp_path / SOCKET / "table.csv"
    lines = list(csv.reader(file.read_text("utf-8").splitlines()))
    next(line for line in lines if line[0] == "12")[lines[0].index(column)] = then
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(lines)
    new = Book(Shelf(tmp_path), frozenset({(SOCKET, old.source.edition, old.row_hash)}))
    assert new.peek(SOCKET, "12", "depth_min_in").row_hash != old.row_hash
    assert not new.peek(SOCKET, "12", "depth_min_in").confirmed
    assert (
        new.peek(SOCKET, "10", "depth_min_in").row_hash == book().peek(SOCKET, "10", "depth_min_in").row_hash
    )


def test_a_tainted_cell_is_unconfirmed_whatever_is_held() -> None:
    full = book().with_confirmations(book().every_confirmation())
    assert all(c.confirmed for name in full.tables() for c in full.all_cells(name))
    spoiled = full.with_standing({(OD, "12", "od_in"): Standing.MEMORY})
    assert not spoiled.peek(OD, "12", "od_in").confirmed
    assert spoiled.peek(OD, "12", "od_in").value == 12.75
    assert spoiled.peek(OD, "12", "od_tol_in").confirmed
    healed = spoiled.with_standing({(OD, "12", "od_in"): Standing.FOUND})
    assert healed.peek(OD, "12", "od_in").confirmed
    assert full.peek(OD, "12", "od_in").confirmed


def test_all_cells_leaves_out_keys_and_empty_ones() -> None:
    cells = list(book().all_cells(OD))
    assert {c.column for c in cells} == {"od_in", "od_tol_in", "oor_a_in", "oor_b_in"}
    assert all(c.value is not None for c in cells)
    assert len([c for c in cells if c.column == "od_in"]) == 20


def test_a_row_may_name_its_own_document() -> None:
    cell = book().peek("bonder_qualification", "asme-b31.1", "idle_months")
    assert (cell.source.designation, cell.source.edition) == ("ASME B31.1a", "2008")


def test_each_table_is_read_once_a_run() -> None:
    shelf = Shelf(TABLES)
    one = Book(shelf)
    for _ in range(3):
        for held in (one, one.with_confirmations(set()), one.with_standing({})):
            held.number(OD, "12", "od_in", Reading())
            held.number(WALL, "12/80", "wall_min_in", Reading())
    assert dict(one.reads) == {OD: 1, WALL: 1}


def test_an_answer_found_before_logs_the_same_cells() -> None:
    held = Book(Shelf(TABLES))
    asked = []

    def find(log: Reading) -> float:
        asked.append(1)
        return held.number(OD, "12", "od_in", log)

    first, second = Reading(), Reading()
    assert held.once(("x", 1), first, find) == held.once(("x", 1), second, find)
    assert len(asked) == 1
    assert first.as_tuple() == second.as_tuple() != ()


def test_row_hash_is_the_same_in_another_process() -> None:
    say = (
        "from lineproof.book.load import book; "
        "print(book().peek('astm_d2467_sockets', '12', 'depth_min_in').row_hash)"
    )
    other = subprocess.run(
        [sys.executable, "-c", say],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": str(TABLES.parents[2]), "PYTHONHASHSEED": "7", "LANG": "C"},
    )
    assert other.stdout.strip() == book().peek(SOCKET, "12", "depth_min_in").row_hash
    assert len(other.stdout.strip()) == 16


def test_the_side_file_must_name_columns_that_exist(tmp_path: Path) -> None:
    shutil.copytree(TABLES / OD, tmp_path / OD)
    side = tmp_path / OD / "source.toml"
    side.write_text(side.read_text("utf-8").replace('od_in = "standing_od"', 'od_in = "standing_x"'), "utf-8")
    with pytest.raises(OurFault, match="standing_x is named"):
        Shelf(tmp_path).table(OD)
