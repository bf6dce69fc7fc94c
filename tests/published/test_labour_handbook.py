"""Industrial Process Plant Construction Estimating and Man-Hour Analysis, sec. 2.7.4, PVC piping. Read.

Typed by hand: joint, bolt-up (Class 150/300), manual valve, control valve, man-hours each.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book


@pytest.mark.parametrize(
    ("nps", "hours"),
    [("0.5", (0.35, 1.0, 0.4, 0.8)), ("2.5", (0.38, 1.0, 0.63, 1.25)), ("12", (1.8, 4.8, 3.0, 6.0))],
)
def test_man_hours(nps: str, hours: tuple[float, ...]) -> None:
    values = book().table("labour_joint_hours").rows[nps].values
    assert tuple(values[c] for c in ("joint_mh", "bolt_up_mh", "valve_mh", "control_valve_mh")) == hours
    assert values["standing"] == "FOUND"
