"""What a stick gives and what a joint takes, where a leg is split."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.job.graph import Port
from lineproof.job.settings import Cutting
from lineproof.job.stock import StockItem

BESIDE_COUPLING = 0.05
"""Kept between a coupling and a stretch without joints, for the wet zone (own rule). [m]"""


@dataclass(frozen=True, slots=True)
class AtJoint:
    """A joint between two pipes of a leg.

    Parameters
    ----------
    gain : float
        Plain pipe: length a coupling adds between two pipe ends (stop width and stop gaps). Belled pipe:
        negative, the depth that the next pipe goes into the bell, less the stop gap. [m]
    half : float
        Half the length of the coupling, or of the bell with its wet zone. [m]
    depth : float
        How deep a pipe goes in. [m]
    """

    gain: float
    half: float
    depth: float


def at_bell(stock: StockItem, cutting: Cutting, od: float) -> AtJoint:
    """The joint of a spigot in the bell of a stick.

    Parameters
    ----------
    stock : StockItem
    cutting : Cutting
    od : float
        Outside diameter of the pipe. [m]

    Returns
    -------
    AtJoint
    """
    depth = stock.bell_depth or 0.0
    return AtJoint(cutting.stop_gap - depth, max(depth, od / 2), depth)


def at_coupling(ports: tuple[Port, ...], cutting: Cutting) -> AtJoint:
    """The two joints of a coupling.

    Parameters
    ----------
    ports : tuple of Port
        Both ends of the coupling, measured.
    cutting : Cutting

    Returns
    -------
    AtJoint
    """
    stops = sum((p.reach or 0.0) - (p.depth or 0.0) for p in ports)
    longest = max(p.reach or 0.0 for p in ports)
    deepest = max(p.depth or 0.0 for p in ports)
    return AtJoint(stops + 2 * cutting.stop_gap, longest + BESIDE_COUPLING, deepest)


def longest(stock: StockItem, cutting: Cutting, *, bell: bool) -> float | None:
    """The longest pipe that a stick gives.

    Parameters
    ----------
    stock : StockItem
    cutting : Cutting
    bell : bool
        The pipe keeps the stick's bell.

    Returns
    -------
    float or None
        None while the stick's bell is unmeasured and matters. [m]
    """
    if stock.overall is None:
        return None
    trim = cutting.trim if stock.trim is None else stock.trim
    if not stock.belled:
        return stock.overall - 2 * trim
    if bell:
        return stock.overall - trim
    gone = stock.bell_reach or stock.bell_depth
    # the cut that takes the bell off is a saw cut too
    return None if gone is None else stock.overall - trim - gone - cutting.kerf


def in_steps(length: float, whole: float, step: float) -> float:
    """The longest length that can be sawn: a whole stick as it is, else in full steps of the tape.

    Parameters
    ----------
    length : float
        What the stick gives. [m]
    whole : float
        The stick, end to end. [m]
    step : float
        [m]

    Returns
    -------
    float
        [m]
    """
    return length if abs(length - whole) < 1e-6 else math.floor(length / step + 1e-9) * step
