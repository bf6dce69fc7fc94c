"""German plastic-pipe association instruction A 117, bonding of PVC pipe: brushes and pull-in read;
working times attributed to it from memory. Typed by hand."""

from __future__ import annotations

from lineproof.book.load import book


def test_brushes() -> None:
    """Round 8 mm to d32; flat 1 in d40-63; 2 in d75-160; 2-1/2 in d225-280; 3 in and wider from d300."""
    rows = [r.values for r in book().table("brush_by_size_a117").rows.values()]
    assert [(r["d_lo_mm"], r["d_hi_mm"], r["width_in"] or r["width_mm"]) for r in rows] == [
        (0, 32, 8), (40, 63, 1), (75, 160, 2), (225, 280, 2.5), (300, 630, 3),
    ]  # fmt: skip


def test_pull_in_from_d160() -> None:
    cell = book().peek("pull_in_by_size", "d", "size_from")
    assert (cell.value, cell.confirmed) == (160, True)


def test_working_time_from_memory() -> None:
    """1 mm film: 20 C 4 min, 25 C 3, 30 C 2, 40 C 1, above 40 C under one: left empty."""
    rows = book().table("working_time_1mm_film").rows.values()
    assert [(r.key, r.values["time_minutes"]) for r in rows] == [
        ("20", 4), ("25", 3), ("30", 2), ("40", 1), ("45", None),
    ]  # fmt: skip
