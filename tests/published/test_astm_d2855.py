"""ASTM D2855-96(2002), Making Solvent-Cemented Joints with PVC Pipe and Fittings: handling and cure.

Only page 1 was read. Every hour below is typed from memory and shows as unverified; later editions may
print longer waits. They stand beside a cement card and never release anything.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

HANDLING_MIN = {"60-100": 30, "40-60": 60, "20-40": 120, "0-20": 240}
# temperature band F: hours to 180 psi / above, for NPS 1/2-1 1/4, 1 1/2-3, 3 1/2-8
CURE_H = {
    "60-100": ((1, 6), (2, 12), (6, 24)),
    "40-60": ((2, 12), (4, 24), (12, 48)),
    "20-40": ((6, 36), (12, 72), (36, 144)),
    "10-20": ((8, 48), (16, 96), (48, 192)),
}
SIZES = (("0.5-1.25", "180-370"), ("1.5-3", "180-315"), ("3.5-8", "180-315"))


@pytest.mark.parametrize("band", HANDLING_MIN)
def test_handling_from_memory(band: str) -> None:
    cell = book().peek("astm_d2855_1996_handling", band, "wait_h")
    assert isinstance(cell.value, float)
    assert cell.value * 60 == HANDLING_MIN[band]
    assert not cell.confirmed


@pytest.mark.parametrize("band", CURE_H)
def test_cure_from_memory(band: str) -> None:
    for (size, high), (low_h, high_h) in zip(SIZES, CURE_H[band], strict=True):
        low = book().peek("astm_d2855_1996_cure", f"{size}/{band}/0-180", "wait_h")
        above = book().peek("astm_d2855_1996_cure", f"{size}/{band}/{high}", "wait_h")
        assert (low.value, above.value) == (low_h, high_h)
        assert not low.confirmed
        assert not above.confirmed


def test_nothing_more_is_carried() -> None:
    assert set(book().keys("astm_d2855_1996_handling")) == set(HANDLING_MIN)
    assert len(book().keys("astm_d2855_1996_cure")) == 4 * 3 * 2
