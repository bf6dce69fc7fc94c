"""ASME B16.5, Pipe Flanges and Flanged Fittings, Class 150 drilling.

Read: outside diameters and bolt circles in a secondary table in mm; counts, bolts and holes from
memory. Rows typed here by hand.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

ROWS = [
    ("0.5", 3.50, 2.38, 4, 0.62, 1 / 2), ("2", 6.00, 4.75, 4, 0.75, 5 / 8),
    ("3.5", 8.50, 7.00, 8, 0.75, 5 / 8),
    ("6", 11.00, 9.50, 8, 0.88, 3 / 4), ("12", 19.00, 17.00, 12, 1.00, 7 / 8),
    ("24", 32.00, 29.50, 20, 1.38, 5 / 4),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS)
def test_class_150(row: tuple[str, float, float, int, float, float]) -> None:
    values = book().table("asme_b16_5_class150").rows[row[0]].values
    columns = ("flange_od_in", "bolt_circle_in", "bolt_count", "bolt_hole_in", "bolt_dia_in")
    assert tuple(values[c] for c in columns) == row[1:]


def test_three_quarter_inch_is_not_class_300() -> None:
    """The secondary table prints 117 / 82.5 mm at NPS 3/4, which is Class 300: 3.88 / 2.75 in stands here."""
    cell = book().peek("asme_b16_5_class150", "0.75", "bolt_circle_in")
    assert (cell.value, cell.confirmed) == (2.75, False)
    assert book().peek("asme_b16_5_class150", "1", "bolt_circle_in").confirmed
    assert not book().peek("asme_b16_5_class150", "1", "bolt_count").confirmed
