"""ASTM F441/F441M, Standard Specification for CPVC Plastic Pipe, Schedules 40 and 80, edition 2015.

Read: through a piping library that transcribes F441/F441M-15, to NPS 16. Rows typed here by hand.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book


@pytest.mark.parametrize(
    ("nps", "schedule", "wall"),
    [("0.5", "40", 0.109), ("16", "40", 0.500), ("2", "80", 0.218), ("3", "80", 0.300), ("16", "80", 0.843)],
)
def test_walls(nps: str, schedule: str, wall: float) -> None:
    cell = book().peek("astm_f441_2015_wall", f"{nps}/{schedule}", "wall_min_in")
    assert (cell.value, cell.confirmed) == (wall, True)


def test_it_ends_at_nps_16() -> None:
    assert book().keys("astm_f441_2015_od")[-1] == "16"
    assert not book().has("astm_f441_2015_wall", "18/80")
