"""Handling and cure rows: exact rows only, colder on a border, nothing outside."""

from __future__ import annotations

import pytest

from lineproof.book.cure import cure_row, handling_row
from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading

PSI = 6894.757293168361


def kelvin_f(f: float) -> float:
    return (f + 459.67) / 1.8


def cure(n: float, f: float, psi: float, rh: float | None = 0.5, **more: str) -> float | None:
    row = cure_row(book(), Size("nps", n), kelvin_f(f), psi * PSI, rh, Reading(), **more)
    return None if row is None else row.wait / 3600


@pytest.mark.parametrize(
    ("n", "f", "psi", "hours"),
    [
        (1, 70, 100, 1), (1, 70, 0, 1), (1, 70, 180, 1), (1, 70, 181, 6), (1, 70, 370, 6), (1, 70, 371, None),
        (3, 70, 315, 12), (3, 70, 316, None), (8, 70, 100, 6), (8, 60, 100, 12), (8, 59, 100, 12),
        (8, 40, 100, 36), (8, 20, 100, 48), (8, 10, 100, 48), (8, 9, 100, None), (8, 100, 100, 6),
        (8, 101, 100, None), (10, 70, 100, None),
    ],
)  # fmt: skip
def test_cure_row(n: float, f: float, psi: float, hours: float | None) -> None:
    """Cells of ASTM D2855-96(2002) typed from memory; on a border the longer wait."""
    got = cure(n, f, psi)
    assert got == (None if hours is None else pytest.approx(hours))


def test_wet_air_adds_half() -> None:
    assert cure(8, 70, 100, 0.60) == pytest.approx(6)
    assert cure(8, 70, 100, 0.61) == pytest.approx(9)
    assert cure(8, 70, 100, 1.2) is None


def test_what_is_not_known_gives_no_row() -> None:
    assert cure(8, 70, 100, None) is None
    assert cure(8, 70, 100, material="cpvc") is None
    size = Size("nps", 8)
    assert cure_row(book(), size, None, 1e5, 0.5, Reading()) is None
    assert cure_row(book(), size, 293.15, None, 0.5, Reading()) is None
    assert cure_row(book(), Size("d", 110), 293.15, 1e5, 0.5, Reading()) is None


@pytest.mark.parametrize(
    ("n", "f", "minutes"),
    [
        (2, 70, 30),
        (8, 60, 60),
        (8, 40, 120),
        (8, 20, 240),
        (8, 10, 240),
        (8, 9, None),
        (8, 101, None),
        (10, 70, None),
    ],
)
def test_handling_row(n: float, f: float, minutes: float | None) -> None:
    """T1 of D2855-96(2002), from memory, carried to NPS 8 only."""
    log = Reading()
    row = handling_row(book(), Size("nps", n), kelvin_f(f), log)
    assert (row.wait if row else None) == (None if minutes is None else pytest.approx(minutes * 60))
    assert len(log.unconfirmed()) == (0 if row is None else 1)
    if row is not None:
        assert row.cell.source.designation == "ASTM D2855"
        assert row.wet_air_factor == 1.0
    assert handling_row(book(), Size("nps", n), kelvin_f(f), log, material="cpvc") is None
