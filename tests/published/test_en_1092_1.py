"""EN 1092-1, Flanges and their joints, PN 10 and PN 16 drilling: from memory, not read. Typed by hand."""

from __future__ import annotations

import pytest

from lineproof.book.load import book

ROWS = [
    ("en1092_1_pn10", "15", 95, 65, 4, 14, 12), ("en1092_1_pn10", "80", 200, 160, 8, 18, 16),
    ("en1092_1_pn10", "200", 340, 295, 8, 22, 20), ("en1092_1_pn10", "400", 565, 515, 16, 26, 24),
    ("en1092_1_pn16", "80", 200, 160, 8, 18, 16), ("en1092_1_pn16", "200", 340, 295, 12, 22, 20),
    ("en1092_1_pn16", "300", 460, 410, 12, 26, 24), ("en1092_1_pn16", "400", 580, 525, 16, 30, 27),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS)
def test_drilling_from_memory(row: tuple[str, str, float, float, int, float, float]) -> None:
    values = book().table(row[0]).rows[row[1]].values
    columns = ("flange_od_mm", "bolt_circle_mm", "bolt_count", "bolt_hole_mm", "bolt_dia_mm")
    assert tuple(values[c] for c in columns) == row[2:]
    assert values["standing"] == "MEMORY"
