"""ASTM D1785, Standard Specification for PVC Plastic Pipe, Schedules 40, 80, and 120, edition 2015e1.

Read: diameters and walls through a piping library that transcribes D1785-15e1 and a second typed
table; tolerances to NPS 2 in a third-party reprint of Table 1, above that from memory.
Rows typed here by hand, not taken from the book: first, last and odd ones. Tolerance: as printed.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

# NPS, OD, tolerance, A, B
TABLE_1 = [
    ("0.5", 0.840, 0.004, None, 0.016),
    ("3.5", 4.000, 0.008, 0.100, 0.030),
    ("5", 5.563, 0.010, 0.100, 0.060),
    ("14", 14.000, 0.015, 0.200, None),
    ("24", 24.000, 0.031, 0.480, None),
]
# NPS, schedule, minimum wall
TABLE_2 = [
    ("0.5", "40", 0.109), ("24", "40", 0.687), ("0.5", "80", 0.147), ("12", "80", 0.687), ("24", "80", 1.218),
    ("0.5", "120", 0.170), ("0.75", "120", 0.170), ("4", "120", 0.437), ("12", "120", 1.000),
]  # fmt: skip


@pytest.mark.parametrize(("nps", "od", "tol", "a", "b"), TABLE_1)
def test_table_1(nps: str, od: float, tol: float, a: float | None, b: float | None) -> None:
    row = book().table("astm_d1785_2015_od").rows[nps].values
    assert [row[c] for c in ("od_in", "od_tol_in", "oor_a_in", "oor_b_in")] == [od, tol, a, b]


@pytest.mark.parametrize(("nps", "schedule", "wall"), TABLE_2)
def test_table_2(nps: str, schedule: str, wall: float) -> None:
    assert book().peek("astm_d1785_2015_wall", f"{nps}/{schedule}", "wall_min_in").value == wall


def test_sizes_listed() -> None:
    """Sch 40 and 80 to NPS 24 (20 sizes), Sch 120 to NPS 12 (15 sizes)."""
    keys = book().keys("astm_d1785_2015_wall")
    assert [sum(k.endswith("/" + s) for k in keys) for s in ("40", "80", "120")] == [20, 20, 15]


# Appendix X1 as printed in a secondary table whose publisher was not established: psi at 73 F.
RATINGS = [
    ("0.5", "40", 600), ("2", "40", 280), ("2.5", "40", 300), ("12", "40", 130), ("24", "40", 120),
    ("0.5", "80", 850), ("6", "80", 280), ("12", "80", 230), ("24", "80", 210), ("6", "120", 370),
]  # fmt: skip


@pytest.mark.parametrize(("nps", "schedule", "psi"), RATINGS)
def test_ratings(nps: str, schedule: str, psi: float) -> None:
    assert book().peek("ratings_73f", f"{nps}/{schedule}", "rating_psi").value == psi
