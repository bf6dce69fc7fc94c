"""Hours: how each hour of the weather stands for making a joint, and what binds; a year at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Cells = NDArray[np.int8]

HOUR = 3600.0
FINE, MIND, NOT_KNOWN, REFUSED = range(4)
"""How an hour stands, best first."""
LIMITS = (
    "", "rain", "rain_soon", "cold", "wet", "hole", "no_row", "rain_end", "sun", "hot", "dew", "film",
    "hands",
)  # fmt: skip
"""What can bind an hour, by number; the first of one rank is the one that is told."""
_RANKS = (
    (REFUSED, ("rain", "rain_soon", "cold", "wet")),
    (NOT_KNOWN, ("hole", "no_row", "rain_end")),
    (MIND, ("sun", "hot", "dew", "film", "hands")),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Air:
    """The air hour by hour, without holes in time; what is not known is not a number.

    Parameters
    ----------
    at : array
        Beginning of each hour. [s]
    temperature : array
        [K]
    humidity : array
        [-]
    wind : array
        At the joint. [m/s]
    rain : array
        In the hour. [m]
    """

    at: Floats
    temperature: Floats
    humidity: Floats
    wind: Floats
    rain: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PipeAt:
    """The pipe in these hours.

    Parameters
    ----------
    mean, coldest : array
        Wall temperature. [K]
    film : array
        Of the wall once solvent dried on it. [K]
    dew : array
        Dew point of the air. [K]
    sunny : array of bool
        The sun shines on it.
    """

    mean: Floats
    coldest: Floats
    film: Floats
    dew: Floats
    sunny: Flags


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wants:
    """What the joint wants in these hours.

    Parameters
    ----------
    air_low, sun_high, pipe_high : float
        Coldest air, hottest air in the sun, hottest pipe. [K]
    margin : float
        Over the dew point. [K]
    dry : array
        How long it must stay dry: joint and set; not a number where the card has no row. [s]
    row_below : array of bool
        The card itself has a row so cold.
    working : array
        Working time; not a number where nothing says it. [s]
    coating : float
        For one pair of hands; not a number where nobody timed it. [s]
    people : float
        At the joint. [-]
    sheltered : bool
        Rain does not reach it.
    """

    air_low: float
    sun_high: float
    pipe_high: float
    margin: float
    dry: Floats
    row_below: Flags
    working: Floats
    coating: float
    people: float
    sheltered: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """How each hour stands.

    Parameters
    ----------
    stands : array of int
        ``FINE``, ``MIND``, ``NOT_KNOWN`` or ``REFUSED``.
    binds : array of int
        Row of ``LIMITS``.
    measured, limit : array
        What was met and what it is held against, in the unit of the limit. [SI]
    dry : array
        How long it stays dry from the beginning of the hour, as far as the weather reaches. [s]
    hands : array
        That brush; not a number where it cannot be told. [-]
    """

    stands: Cells
    binds: Cells
    measured: Floats
    limit: Floats
    dry: Floats
    hands: Floats


def dry_for(rain: Floats) -> tuple[Floats, Flags]:
    """How long it stays dry from the beginning of each hour, and whether that is all the weather tells.

    Parameters
    ----------
    rain : array
        In each hour, without holes in time; not a number where it is not known. [m]

    Returns
    -------
    tuple of array
        Time [s]; True where the time ends at a hole or at the end of the weather, and not with rain.
    """
    count = len(rain)
    place = np.arange(count)
    unknown = ~np.isfinite(rain)
    stops = (rain > 0.0) | unknown
    first = np.minimum.accumulate(np.where(stops, place, count)[::-1])[::-1]
    at_hole = np.append(unknown, True)[first]
    return np.asarray((first - place) * HOUR, np.float64), np.asarray(at_hole, np.bool_)


def hands_each_hour(coating: float, working: Floats) -> Floats:
    """Hands that must brush at once in each hour.

    Parameters
    ----------
    coating : float
        For one pair of hands. [s]
    working : array
        Working time of the cement. [s]

    Returns
    -------
    array
        Not a number where either is not known. [-]
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.ceil(coating / working - 1e-9), np.float64)


def judge(air: Air, pipe: PipeAt, wants: Wants) -> Judged:
    """How each hour stands for making the joint.

    Parameters
    ----------
    air : Air
    pipe : PipeAt
    wants : Wants

    Returns
    -------
    Judged
        The worst limit binds; of two alike the first in the order of ``LIMITS``.

    Notes
    -----
    An hour with anything not known never stands better than ``NOT_KNOWN``. Rain within joint and set refuses
    it; where the weather ends before that, it is not known.
    """
    tiny = 1e-6
    dry, at_hole = dry_for(air.rain)
    if wants.sheltered:
        dry, at_hole = np.full_like(dry, np.inf), np.zeros_like(at_hole)
    hands = hands_each_hour(wants.coating, wants.working)
    over_dew, film = pipe.coldest - pipe.dew, pipe.film - pipe.dew
    lacks = np.zeros(len(air.at), bool)
    for a in (air.temperature, air.humidity, air.wind, pipe.coldest, pipe.dew, pipe.film):
        lacks |= ~np.isfinite(a)
    if not wants.sheltered:
        lacks |= ~np.isfinite(air.rain)
    short = dry < wants.dry - tiny
    none = np.zeros(len(air.at))
    tests: dict[str, tuple[Flags, Floats, Floats | float]] = {
        "rain": ((air.rain > 0.0) & (not wants.sheltered), air.rain, 0.0),
        "rain_soon": (short & ~at_hole, dry, wants.dry),
        "cold": ((air.temperature < wants.air_low - tiny) & ~wants.row_below, air.temperature, wants.air_low),
        "wet": (over_dew <= 0.0, over_dew, 0.0),
        "hole": (lacks, none, 0.0),
        "no_row": (~np.isfinite(wants.dry), pipe.mean, 0.0),
        "rain_end": (short & at_hole, dry, wants.dry),
        "sun": (pipe.sunny & (air.temperature > wants.sun_high + tiny), air.temperature, wants.sun_high),
        "hot": (pipe.mean > wants.pipe_high + tiny, pipe.mean, wants.pipe_high),
        "dew": (over_dew < wants.margin - tiny, over_dew, wants.margin),
        "film": (film <= 0.0, film, 0.0),
        "hands": (~(hands <= wants.people), hands, wants.people),
    }
    stands, binds = np.zeros(len(air.at), np.int8), np.zeros(len(air.at), np.int8)
    measured, limit = none.copy(), none.copy()
    free = np.ones(len(air.at), bool)
    for rank, names in _RANKS:
        for name in names:
            hit, met, held = tests[name]
            hit = hit & free
            stands[hit], binds[hit] = rank, LIMITS.index(name)
            measured[hit] = met[hit]
            limit[hit] = np.broadcast_to(held, met.shape)[hit]
            free &= ~hit
    return Judged(stands, binds, measured, limit, dry, hands)
