"""29 CFR 1926.152(b), flammable liquids on construction sites: indoor storage. Read. Typed by hand."""

from __future__ import annotations

from lineproof.book.load import book


def test_limits() -> None:
    """(b)(1) 25 gal outside a cabinet; (b)(3) 60 gal of categories 1 to 3 or 120 gal of 4, three cabinets."""
    table = "cfr_29_1926_152_store"
    assert [book().peek(table, rule, "limit_gal").value for rule in ("room", "cabinet-1-3", "cabinet-4")] == [
        25, 60, 120,
    ]  # fmt: skip
    assert book().peek(table, "cabinets", "count").value == 3
    assert all(cell.confirmed for cell in book().all_cells(table))
