"""Splits a leg that is longer than a stick: couplings on plain pipe, or the sticks' own bells.

A coupling is never added to save pipe: a leg gets as few as its sticks allow.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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


def _furthest(low: float, high: float, half: float, kept_free: Sequence[tuple[float, float]]) -> float | None:
    """The furthest centre in [low, high] whose stretch of +/- half stays off the stretches kept free."""
    at = high
    for start, end in sorted(kept_free, reverse=True):
        if at + half > start + TINY and at - half < end - TINY:
            at = start - half
    return at if at >= low - TINY else None


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
    bits: list[Bit] = []
    at = 0.0
    while total - at > longest_last + TINY:
        if belled:
            # the mouth of the bell at at + length; the next pipe starts at its stop
            high = at + stick + step_gain
            room = total - least
        else:
            high = at + stick
            room = total - least - step_gain
        spot = _furthest(at + least, min(high, room), half, kept_free)
        if spot is None:
            raise PlanImpossible(
                "the stretch kept free of joints leaves no place for one within a stick",
                allowed=f"a free place within {stick:.3f} m of pipe",
                next="shorten the stretch, or order longer sticks",
            )
        length = spot - at - (step_gain if belled else 0.0)
        bits.append(Bit(at, length, bell=belled))
        at = spot if belled else spot + step_gain
    bits.append(Bit(at, total - at))
    return tuple(bits)
