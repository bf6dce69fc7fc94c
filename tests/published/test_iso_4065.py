"""ISO 4065 walls, as tabulated in MS 1058-2:2005 (with ISO 11922-1 grade V) and, for PVC-U to d90, in
TCVN 6151-2:2002 = ISO 4422-2:1996 Table 1. Both read in reprints. Rows typed here by hand.

ISO 1452-2 nominal pressures (PN to series) are from memory.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

MS_1058 = [
    ("110/8", 6.6, 7.4), ("125/8", 7.4, 8.3), ("250/8", 14.8, 16.4), ("315/6.3", 23.2, 25.7),
    ("355/5", 32.2, 35.6), ("400/5", 36.3, 40.1), ("90/5", 8.2, 9.2),
]  # fmt: skip
TCVN_6151 = [
    ("63/20", 1.6),
    ("90/20", 2.2),
    ("40/16", 1.5),
    ("63/10", 3.0),
    ("25/8", 1.5),
    ("16/6.3", 1.5),
    ("90/6.3", 6.7),
]


@pytest.mark.parametrize(("key", "wall", "grade_v"), MS_1058)
def test_ms_1058(key: str, wall: float, grade_v: float) -> None:
    cell = book().peek("iso4065_wall", key, "wall_min_mm")
    assert (cell.value, cell.standing.value) == (wall, "FOUND")
    assert book().peek("iso4065_wall", key, "wall_max_grade_v_mm").value == grade_v


@pytest.mark.parametrize(("key", "wall"), TCVN_6151)
def test_tcvn_6151(key: str, wall: float) -> None:
    cell = book().peek("iso4065_wall", key, "wall_min_mm")
    assert (cell.value, cell.standing.value) == (wall, "FOUND")


def test_seventy_two_rows_were_read() -> None:
    rows = book().table("iso4065_wall").rows.values()
    assert sum(row.values["standing"] == "FOUND" for row in rows) == 72


@pytest.mark.parametrize(
    ("key", "series"), [("16/10", 10), ("110/10", 12.5), ("110/16", 8), ("16/16", 6.3), ("110/6", 20)]
)
def test_pn_from_memory(key: str, series: float) -> None:
    cell = book().peek("iso1452_2_pn_series", key, "series_s")
    assert (cell.value, cell.confirmed) == (series, False)
