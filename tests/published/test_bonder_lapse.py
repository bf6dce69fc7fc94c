"""ASME B31.1a-2008, bonding performance: lapse after more than 6 months, read. B31.3 A328.2.6: from memory.
49 CFR 192.285(c): each calendar year, at most 15 months, read. Typed by hand."""

from __future__ import annotations

import pytest

from lineproof.book.load import book


@pytest.mark.parametrize(
    ("scheme", "months", "read"),
    [
        ("asme-b31.1", 6, True),
        ("asme-b31.3", 6, False),
        ("49-cfr-192.285", 15, True),
        ("en-13067", 24, False),
    ],
)
def test_lapse(scheme: str, months: float, read: bool) -> None:
    cell = book().peek("bonder_lapse", scheme, "months")
    assert (cell.value, cell.confirmed) == (months, read)
