"""Splits a leg that is longer than a stick: couplings on plain pipe, or the sticks' own bells.

A coupling is never added to save pipe: a leg gets as few as its sticks allow.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lineproof.floor.errors import PlanImpossible

TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Bit:
    """One pipe of a split leg.

    Parameters
    ----------
    start : float
        Its a end, from the a end of the whole leg's pipe. [m]
    length : float
        Overall length: to the mouth of its bell where it has one. [m]
    bell : bool
        It keeps the stick's bell, which the next pipe enters.
    whole : bool
        The stick is not cut.
    """

    start: float
    length: float
    bell: bool = False
    whole: bool = False


Spans = list[tuple[float, float]]
"""Stretches from low to high. [m]"""


def _joined(spans: Spans) -> Spans:
    """Spans that touch made one, in order."""
    done: Spans = []
    for low, high in sorted(spans):
        if done and low <= done[-1][1] + TINY:
            done[-1] = (done[-1][0], max(high, done[-1][1]))
        elif high >= low - TINY:
            done.append((low, max(low, high)))
    return done


def _off(spans: Spans, kept_free: Sequence[tuple[float, float]], half: float) -> Spans:
    """What of some spans is left for the centre of a joint that reaches half to either side."""
    left = spans
    for start, end in kept_free:
        low, high = start - half, end + half
        if high - low > 2 * TINY:
            left = [
                (s, e) for a, b in left for s, e in ((a, min(b, low)), (max(a, high), b)) if e >= s - TINY
            ]
    return left


def split(
    total: float,
    *,
    stick: float,
    step_gain: float,
    half: float,
    least: float,
    kept_free: Sequence[tuple[float, float]] = (),
    belled: bool = False,
    last: float | None = None,
) -> tuple[Bit, ...]:
    """Cut one leg's pipe into sticks.

    Parameters
    ----------
    total : float
        From the pipe's a end to its b end, couplings included. [m]
    stick : float
        Longest pipe a stick gives (overall, trim taken off). [m]
    step_gain : float
        Plain pipe: length a coupling adds between two pipe ends (stop width and stop gaps). Belled pipe:
        negative, the depth that the next pipe goes into the bell, less the stop gap. [m]
    half : float
        Half the length of a coupling, or of a bell with the wet zone: kept off ``kept_free``. [m]
    least : float
        Shortest pipe that may be left at the end. [m]
    kept_free : sequence of (float, float)
        Stretches without couplings or bells, from the pipe's a end. [m]
    belled : bool
        Joints are the sticks' bells.
    last : float or None
        Longest pipe for the end of the leg, where a belled stick gives up its bell; ``stick`` unless
        said. [m]

    Returns
    -------
    tuple of Bit
        In order; one if the leg fits a stick.

    Raises
    ------
    PlanImpossible
        If the stretches kept free leave no place for a joint within a stick.
    """
    longest_last = stick if last is None else last
    if total <= longest_last + TINY:
        return (Bit(0.0, total),)
    jump = 0.0 if belled else step_gain  # from the end of a pipe to where the next one begins
    reach = stick + step_gain if belled else stick
    # backwards: from where the rest can be made with no joint, with one, with two ...
    begins: list[Spans] = [[(total - longest_last, total - least)]]
    spots: list[Spans] = []
    while not any(low - TINY <= 0.0 <= high + TINY for low, high in begins[-1]):
        free = _off([(low - jump, high - jump) for low, high in begins[-1]], kept_free, half)
        back = _joined([(low - reach, high - least) for low, high in free])
        back = [(max(low, 0.0), high) for low, high in back if high >= -TINY]
        if not back:
            raise PlanImpossible(
                "the stretch kept free of joints leaves no place for one within a stick",
                allowed=f"a free place within {stick:.3f} m of pipe",
                next="shorten the stretch, or order longer sticks",
            )
        spots.append(free)
        begins.append(back)
    bits: list[Bit] = []
    at = 0.0
    for free in reversed(spots):
        low, high = at + least, at + reach
        spot = max(min(e, high) for s, e in free if s <= high + TINY and e >= low - TINY)
        bits.append(Bit(at, spot + jump - step_gain - at, bell=belled))
        at = spot + jump
    bits.append(Bit(at, total - at))
    return tuple(bits)


def refit(bits: Sequence[Bit], gain: float, gains: Sequence[float]) -> tuple[Bit, ...]:
    """Couplings of another lot add another length: the last pipe makes up for it.

    Parameters
    ----------
    bits : sequence of Bit
    gain : float
        What each coupling was taken to add. [m]
    gains : sequence of float
        What each adds. [m]

    Returns
    -------
    tuple of Bit
    """
    shift, moved = 0.0, []
    for n, bit in enumerate(bits):
        moved.append(replace(bit, start=bit.start + shift))
        shift += gains[n] - gain if n < len(gains) else 0.0
    moved[-1] = replace(moved[-1], length=moved[-1].length - shift)
    return tuple(moved)
