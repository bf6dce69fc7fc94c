"""Two legs that cross on paper: where, the gap in the rear one, and sleeves that keep off the crossing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from lineproof.desk.drawing.project import XY

GAP_MM = 1.5
"""Half the gap in the rear line where two legs cross, measured square to the front line. [mm]"""


class OnPaper(Protocol):
    """A leg on paper: where it begins, its way and its length. [mm]"""

    @property
    def a(self) -> XY:
        """Its beginning. [mm]"""

    @property
    def d(self) -> XY:
        """Its way. [1]"""

    @property
    def long(self) -> float:
        """Its length. [mm]"""


def half_gap(sine: float) -> float:
    """Half the gap along the rear line, from the sine of the angle of the two. [mm]"""
    return min(GAP_MM / max(sine, 0.3), 4.0)


def sleeves_aside(sleeves: Sequence[float], over: Sequence[tuple[float, float]], each: float) -> float:
    """How far the sleeves of a leg move along it so that none lies where another leg crosses.

    A sleeve on a crossing hides which of the two lines goes through: its sign breaks the front line as a gap
    breaks the rear one.

    Parameters
    ----------
    sleeves : sequence of float
        Their middles along the leg. [mm]
    over : sequence of (float, float)
        Crossings along the leg, and the room each needs to a middle. [mm]
    each : float
        Length of a piece as drawn; the sleeves move by two fifths of it at most. [mm]

    Returns
    -------
    float
        The least way that frees all of them, or that which comes nearest to it. [mm]
    """
    if not sleeves or not over:
        return 0.0
    tries = sorted((0.04 * k * each for k in range(-10, 11)), key=abs)
    return max(
        tries, key=lambda by: min(min(abs(p + by - c) - room, 0.0) for p in sleeves for c, room in over)
    )


def meet(s: OnPaper, t: OnPaper) -> tuple[float, float, float] | None:
    """Where two legs cross on paper: along the one, along the other, sine of the angle."""
    sine = s.d[0] * t.d[1] - s.d[1] * t.d[0]
    if abs(sine) < 1e-6 or s.long < 1e-6 or t.long < 1e-6:
        return None
    dx, dy = t.a[0] - s.a[0], t.a[1] - s.a[1]
    along_s = (dx * t.d[1] - dy * t.d[0]) / sine
    along_t = (dx * s.d[1] - dy * s.d[0]) / sine
    if 0 < along_s < s.long and 0 < along_t < t.long:
        return along_s, along_t, abs(sine)
    return None


def without(
    solid: list[tuple[float, float, bool, str]], gaps: list[tuple[float, float]]
) -> list[tuple[float, float, bool, str]]:
    """Stretches less gaps."""
    for lo, hi in gaps:
        left: list[tuple[float, float, bool, str]] = []
        for s, e, dashed, ref in solid:
            if e <= lo or s >= hi:
                left.append((s, e, dashed, ref))
                continue
            if s < lo:
                left.append((s, lo, dashed, ref))
            if e > hi:
                left.append((hi, e, dashed, ref))
        solid = left
    return solid
