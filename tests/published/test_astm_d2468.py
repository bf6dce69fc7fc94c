"""ASTM D2468-96a, Standard Specification for ABS Plastic Pipe Fittings, Schedule 40, Table 1.

Read in a reprint: tapered sockets to NPS 6. D2466, D2467, F438 and F439 have the same diameters only
by memory, so the book shows them as MEMORY. NPS 8 to 12 and all Sch 80 depths: from memory.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

# NPS, entrance, bottom, tolerance, out-of-roundness, depth
READ = [
    ("0.5", 0.848, 0.836, 0.004, 0.016, 0.688),
    ("2", 2.387, 2.369, 0.006, 0.024, 1.156),
    ("2.5", 2.889, 2.868, 0.007, 0.030, 1.750),
    ("3.5", 4.016, 3.992, 0.008, 0.030, 2.000),
    ("4", 4.518, 4.491, 0.009, 0.030, 2.000),
    ("6", 6.647, 6.614, 0.011, 0.060, 3.000),
]
REMEMBERED_SCH80_DEPTHS = [("0.5", 0.875), ("2", 1.5), ("5", 2.625), ("6", 3.0), ("8", 4.0), ("12", 6.0)]
COLUMNS = ("entrance_in", "bottom_in", "dia_tol_in", "oor_in")


@pytest.mark.parametrize("row", READ)
def test_sockets(row: tuple[str, float, float, float, float, float]) -> None:
    for table in ("astm_d2466_sockets", "astm_d2467_sockets", "astm_f438_sockets", "astm_f439_sockets"):
        values = book().table(table).rows[row[0]].values
        assert tuple(values[c] for c in COLUMNS) == row[1:5]
        assert (values["standing"], values["read_in_sister"]) == ("MEMORY", "yes")
    for table in ("astm_d2466_sockets", "astm_f438_sockets"):
        assert book().peek(table, row[0], "depth_min_in").value == row[5]


@pytest.mark.parametrize(("nps", "depth"), REMEMBERED_SCH80_DEPTHS)
def test_sch80_depths_from_memory(nps: str, depth: float) -> None:
    cell = book().peek("astm_d2467_sockets", nps, "depth_min_in")
    assert (cell.value, cell.confirmed) == (depth, False)


def test_ten_and_twelve_inch_bottoms() -> None:
    """10.735 and 12.735; the other pair in circulation, 10.737 and 12.736, breaks bottom = OD - t."""
    assert book().peek("astm_d2467_sockets", "10", "bottom_in").value == 10.735
    assert book().peek("astm_d2467_sockets", "12", "bottom_in").value == 12.735
