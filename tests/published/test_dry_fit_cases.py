"""Where a dry pipe stops in an IPS taper socket, case by case.

Diameters, tolerances and depths typed in inches from the table of ASTM D2466 Schedule 40 sockets (sizes to
NPS 6 read in the sister standard D2468; NPS 8 to 12 and all of D2467 from memory) and pipe from ASTM D1785.
The stop is found here by walking down the socket in small steps: no formula of ours is used for it.
Bands: ASTM F3328-18, abstract: interference in one third to two thirds of the socket depth.
"""

from __future__ import annotations

import pytest

from lineproof.sums.taper import (
    Band,
    contact_depth,
    contact_fraction,
    dry_fit_band,
    fraction_from_tolerance,
)

# NPS: entrance, bottom, tolerance, depth, pipe outside diameter (inches)
SOCKETS = {
    0.5: (0.848, 0.836, 0.004, 0.688, 0.840),
    2: (2.387, 2.369, 0.006, 1.156, 2.375),
    4: (4.518, 4.491, 0.009, 2.000, 4.500),
    6: (6.647, 6.614, 0.011, 3.000, 6.625),
    8: (8.655, 8.610, 0.015, 4.000, 8.625),
    12: (12.780, 12.735, 0.015, 6.000, 12.750),
}
CASES = [  # name, socket deviation v, pipe deviation u, contact fraction, band
    ("nominal", 0, 0, 2 / 3, Band.GOOD),
    ("tightest", -1, 1, 0.0, Band.TIGHT),
    ("loosest", 1, -1, 4 / 3, Band.LOOSE),
    ("socket large", 1, 0, 1.0, Band.NET),
    ("socket small", -1, 0, 1 / 3, Band.GOOD),
    ("pipe large", 0, 1, 1 / 3, Band.GOOD),
    ("pipe small", 0, -1, 1.0, Band.NET),
]


def stops_at(entrance: float, bottom: float, od: float, depth: float) -> float:
    """Walk in until the socket is no wider than the pipe."""
    steps = 20_000
    for i in range(steps + 1):
        wide = entrance + (bottom - entrance) * i / steps
        if wide <= od + 1e-12:
            return depth * i / steps
    return depth


@pytest.mark.parametrize("nps", SOCKETS)
@pytest.mark.parametrize(("case", "v", "u", "fraction", "band"), CASES, ids=[c[0] for c in CASES])
def test_case(nps: float, case: str, v: int, u: int, fraction: float, band: Band) -> None:
    entrance, bottom, t, depth, od = SOCKETS[nps]
    A, B, D = entrance + v * t, bottom + v * t, od + u * t
    assert contact_fraction(entrance=A, bottom=B, od=D) == pytest.approx(fraction, abs=1e-9)
    assert fraction_from_tolerance(u, v) == pytest.approx(fraction, abs=1e-12)
    dry = contact_depth(od=D, entrance=A, bottom=B, depth=depth)
    assert dry == pytest.approx(stops_at(A, B, D, depth), abs=depth / 10_000), case
    assert dry_fit_band(contact_fraction(entrance=A, bottom=B, od=D)) is band


def test_nps_6_moves_23_mm_for_a_quarter_millimetre() -> None:
    """0.010 in of outside diameter moves contact by 0.30 of the depth, 23 mm of 76 (derived)."""
    entrance, bottom, _, depth, od = SOCKETS[6]
    at = [contact_depth(od=d, entrance=entrance, bottom=bottom, depth=depth) for d in (od, od + 0.010)]
    assert (at[0] - at[1]) / depth == pytest.approx(0.303, abs=5e-4)
    assert (at[0] - at[1]) * 25.4 == pytest.approx(23, abs=0.5)
