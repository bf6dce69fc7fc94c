"""ISO 727-1:2002, Fittings made from PVC-U, PVC-C or ABS with plain sockets: metric series.

Not read (scope only, in an abstract): mid bores and depths are from memory. Rows typed by hand.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book


@pytest.mark.parametrize(
    ("d", "low", "high", "depth"),
    [
        ("16", 16.1, 16.3, 14.0),
        ("63", 63.1, 63.3, 37.5),
        ("110", 110.1, 110.4, 61.0),
        ("315", 315.4, 316.0, 163.5),
    ],
)
def test_rows_from_memory(d: str, low: float, high: float, depth: float) -> None:
    row = book().table("iso727_1_2002_sockets").rows[d].values
    assert (row["mid_bore_min_mm"], row["mid_bore_max_mm"], row["depth_min_mm"]) == (low, high, depth)
    assert row["standing"] == "MEMORY"


@pytest.mark.parametrize("d", ["355", "400"])
def test_large_bores_are_not_carried(d: str) -> None:
    row = book().table("iso727_1_2002_sockets").rows[d].values
    assert row["mid_bore_min_mm"] is row["mid_bore_max_mm"] is None
