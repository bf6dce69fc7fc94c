"""ASTM D2241, Standard Specification for PVC Pressure-Rated Pipe (SDR Series).

Read: walls through a piping library; out-of-roundness from memory. Rows typed here by hand.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

WALLS = [
    ("3", "41", 0.085), ("24", "41", 0.585), ("1.25", "32.5", 0.060), ("14", "32.5", 0.430),
    ("1", "26", 0.060), ("6", "26", 0.255), ("12", "21", 0.606), ("0.75", "17", 0.062), ("24", "17", 1.412),
    ("0.5", "13.5", 0.062), ("6", "13.5", 0.491),
]  # fmt: skip


@pytest.mark.parametrize(("nps", "sdr", "wall"), WALLS)
def test_walls(nps: str, sdr: str, wall: float) -> None:
    assert book().peek("astm_d2241_wall", f"{nps}/{sdr}", "wall_min_in").value == wall


@pytest.mark.parametrize(
    ("nps", "thin"),
    [("1.25", 0.030), ("1.5", 0.060), ("3", 0.060), ("3.5", 0.100), ("8", 0.150), ("24", 0.480)],
)
def test_out_of_roundness_from_memory(nps: str, thin: float) -> None:
    cell = book().peek("astm_d2241_od", nps, "oor_thin_in")
    assert cell.value == thin
    assert not cell.confirmed
