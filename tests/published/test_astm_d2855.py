"""ASTM D2855-96(2002), Making Solvent-Cemented Joints with PVC Pipe and Fittings: handling and cure.

Only page 1 was read. Every hour below is typed from memory and shows as unverified; later editions may
print longer waits. They stand beside a cement card and never release anything.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.checks.card_guards import CardRows, falls, shorter_than_standard
from lineproof.job.card_rows import CardRow

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


def as_a_card() -> tuple[CardRow, ...]:
    """The same tables as rows of a card, typed from above: F to K, psi to Pa by hand."""

    def kelvin(f: str) -> float:
        return (float(f) - 32.0) / 1.8 + 273.15

    def row(kind: str, band: str, size: str, hours: float, psi: float | None = None) -> CardRow:
        lo, hi = band.split("-")
        nps = [Size("nps", float(n)) for n in size.split("-")]
        return CardRow(
            kind=kind, size_lo=nps[0], size_hi=nps[1], time=hours * 3600.0, temp_lo=kelvin(lo),
            temp_hi=kelvin(hi), pressure_max=None if psi is None else psi * 6894.757293168, humidity_max=0.6,
        )  # fmt: skip

    handling = [row("handling", band, "0.5-8", minutes / 60.0) for band, minutes in HANDLING_MIN.items()]
    cure = [
        row("cure", band, size, hours, float(psi))
        for band, told in CURE_H.items()
        for (size, high), both in zip(SIZES, told, strict=True)
        for hours, psi in zip(both, ("180", high.split("-")[1]), strict=True)
    ]
    return (*handling, *cure)


def card(rows: tuple[CardRow, ...]) -> CardRows:
    return CardRows(subject="C", card="C", rows=rows, both_names=True, material="pvc", steps="two-step")


def test_a_card_that_prints_the_standard_is_not_shorter_and_rises() -> None:
    rows = as_a_card()
    assert len(rows) == 4 + 24
    assert shorter_than_standard(card(rows), book()) == []
    assert falls(rows) == []


@pytest.mark.parametrize("n", range(28))
def test_each_row_a_hundredth_shorter_is_seen_in_its_own_cell(n: int) -> None:
    rows = as_a_card()
    cut = replace(rows[n], time=rows[n].time * 0.99)
    found = shorter_than_standard(card((*rows[:n], cut, *rows[n + 1 :])), book())
    assert [s.row for s in found] == [cut]
    assert found[0].wait == pytest.approx(rows[n].time)
