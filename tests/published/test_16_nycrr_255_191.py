"""16 NYCRR 255.191 (State of New York gas-safety rules), design pressures of PVC pipe, as printed.

The rule's formula (255.121) is P = 2 S t/(D - t) x class factor, so its table checks the walls and
diameters of Sch 40 and 80 from a document that knows nothing of our tables. Capped at 100 psi. Used as
arithmetic only: Lineproof refuses gas service. Typed by hand from the figures read in a copy of the rule.
Tolerance: 0.75 psi (the table is rounded to 1 psi, walls to 0.001 in). Left out: three cells that do not
follow the formula (2-1/2 in 99, 5 in 82, 1-1/2 in 86), which look mistyped in the copy read.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

# NPS, schedule, S psi, class factor, printed psi
PRINTED = [
    ("2", 40, 2000, 0.32, 89), ("2", 40, 2000, 0.25, 69), ("2", 40, 2000, 0.2, 55), ("2", 80, 2000, 0.2, 81),
    ("2.5", 40, 2000, 0.25, 76), ("2.5", 40, 2000, 0.2, 61), ("2.5", 80, 2000, 0.2, 85),
    ("3", 40, 2000, 0.32, 84), ("3", 40, 2000, 0.25, 66), ("3", 80, 2000, 0.25, 94), ("3", 80, 2000, 0.2, 75),
    ("3.5", 40, 2000, 0.32, 77), ("3.5", 80, 2000, 0.25, 86), ("3.5", 40, 4000, 0.2, 96),
    ("4", 40, 2000, 0.32, 71), ("4", 40, 2000, 0.25, 56), ("4", 80, 2000, 0.25, 81), ("4", 40, 4000, 0.2, 89),
    ("5", 40, 2000, 0.25, 49), ("5", 80, 2000, 0.32, 93), ("5", 40, 4000, 0.25, 97), ("5", 40, 4000, 0.2, 78),
    ("6", 40, 2000, 0.32, 56), ("6", 40, 2000, 0.25, 44), ("6", 40, 4000, 0.25, 88), ("6", 40, 4000, 0.2, 71),
    ("0.75", 40, 2000, 0.2, 96), ("1", 40, 2000, 0.2, 90), ("1.25", 40, 2000, 0.25, 92),
    ("1.25", 40, 2000, 0.2, 74), ("1.5", 40, 2000, 0.25, 83), ("1.5", 80, 2000, 0.2, 94),
]  # fmt: skip


@pytest.mark.parametrize(("nps", "schedule", "stress", "factor", "psi"), PRINTED)
def test_printed_pressure(nps: str, schedule: int, stress: float, factor: float, psi: float) -> None:
    d = book().peek("astm_d1785_2015_od", nps, "od_in").value
    t = book().peek("astm_d1785_2015_wall", f"{nps}/{schedule}", "wall_min_in").value
    assert isinstance(d, float)
    assert isinstance(t, float)
    assert factor * 2 * stress * t / (d - t) == pytest.approx(psi, abs=0.75)
