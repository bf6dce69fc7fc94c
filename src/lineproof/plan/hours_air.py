"""The weather of a job on a grid of hours, and the pipe in it: in the open, in shade, in a tent."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime

import numpy as np

from lineproof.book.hour import chill_numbers, hour_number, skin_numbers
from lineproof.book.load import Book
from lineproof.floor.errors import BadInput
from lineproof.floor.sources import Reading
from lineproof.job.settings import Site
from lineproof.job.weather import SEEN, WeatherRow
from lineproof.sums.hours import HOUR, Air, Flags, Floats, PipeAt
from lineproof.sums.sunlight import light, sun_place
from lineproof.sums.wall import Skin, Solvent, chilled, dew_points, wall

OPEN, SHADE, TENT = "open", "shade", "tent"
SUNSHINE = 120.0
"""Light straight from the sun above which it shines: WMO-No. 8, from memory. [W/m2]"""
LONGEST = 24 * 400
"""Hours that are looked at together; more is a slip in a date (own rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What stands over the joint.

    Parameters
    ----------
    kind : str
        ``OPEN``, ``SHADE`` (no sun, no sky, wind and rain as they are) or ``TENT``.
    air : float or None
        Air in the tent. [K]
    colour : str
        Of the pipe: one of ``book.hour.COLOURS``.
    """

    kind: str = OPEN
    air: float | None = None
    colour: str = "grey"


@dataclass(frozen=True, slots=True, eq=False)
class Hourly:
    """Weather on a grid of hours; an hour without a row is not a number throughout.

    Parameters
    ----------
    air : Air
    cloud : array
        [-]
    seen, told : array of bool
        Its weather was seen; it has a row at all.
    """

    air: Air
    cloud: Floats
    seen: Flags
    told: Flags


def hourly(rows: Sequence[WeatherRow]) -> Hourly:
    """Rows of a weather.csv on a grid of hours.

    Parameters
    ----------
    rows : sequence of WeatherRow
        In order of time.

    Returns
    -------
    Hourly
        Of two rows for one hour the one that was seen counts, else the later in the file.

    Raises
    ------
    BadInput
        If the rows reach over more than a year or so.
    """
    begin = min((r.first for r in rows), default=datetime(2000, 1, 1, tzinfo=UTC)).timestamp()
    places = np.array([round((r.first.timestamp() - begin) / HOUR) for r in rows], np.intp)
    count = int(places.max()) + 1 if len(places) else 0
    if count > LONGEST:
        raise BadInput(
            f"the weather reaches over {count} hours", allowed=f"up to {LONGEST} hours",
            next="look for a slip in a date, or take old rows out",
        )  # fmt: skip
    order = np.argsort([r.standing == SEEN for r in rows], kind="stable")
    grid = np.full((5, count), np.nan)
    seen, told = np.zeros(count, bool), np.zeros(count, bool)
    values = np.array(
        [
            [math.nan if v is None else v for v in (r.temperature, r.humidity, r.wind, r.rain, r.cloud)]
            for r in rows
        ]
    ).reshape(-1, 5)
    at = places[order]
    grid[:, at] = values[order].T
    told[at] = True
    seen[at] = np.array([r.standing == SEEN for r in rows], bool)[order]
    at_hours = np.asarray(begin + HOUR * np.arange(count), np.float64)
    air = Air(at=at_hours, temperature=grid[0], humidity=grid[1], wind=grid[2], rain=grid[3])
    return Hourly(air, grid[4], seen, told)


def under_cover(hours: Hourly, cover: Cover, *, calm: float) -> Hourly:
    """The air as the joint has it under what stands over it.

    Parameters
    ----------
    hours : Hourly
    cover : Cover
    calm : float
        Wind in a tent. [m/s]

    Returns
    -------
    Hourly
        In a tent the water in the air stays what it is outside: a dry electric heater, no flame, no wet
        ground.
    """
    if cover.kind != TENT or cover.air is None:
        return hours
    outside = hours.air
    warm = np.where(np.isfinite(outside.temperature), cover.air, np.nan)
    inside = dew_points(outside.temperature, outside.humidity)

    def pressure(t: Floats) -> Floats:
        celsius = t - 273.15
        return np.asarray(np.exp(17.62 * celsius / (243.12 + celsius)), np.float64)

    damp = np.minimum(pressure(inside) / pressure(warm), 1.0)
    return replace(
        hours, air=replace(outside, temperature=warm, humidity=damp, wind=np.where(hours.told, calm, np.nan))
    )


def pipe_in(hours: Hourly, cover: Cover, site: Site, book: Book, reading: Reading) -> PipeAt:
    """The pipe's wall in each hour.

    Parameters
    ----------
    hours : Hourly
        As the joint has it.
    cover : Cover
    site : Site
        Its latitude and longitude; without them the sun is not known in the open.
    book : Book
    reading : Reading
        The log of what is read.

    Returns
    -------
    PipeAt
        A cloud that nobody told is none: the hottest day and the coldest night.
    """
    air = hours.air
    clear = np.where(np.isfinite(hours.cloud), hours.cloud, 0.0)
    dark = np.zeros(len(air.at))
    beam = diffuse = level = dark
    sunny = dark > 0.0
    if cover.kind == OPEN and (site.latitude is None or site.longitude is None):
        beam = np.full(len(air.at), np.nan)
    elif cover.kind == OPEN and site.latitude is not None and site.longitude is not None:
        sun = sun_place(air.at + HOUR / 2.0, latitude=site.latitude, longitude=site.longitude)
        shine = light(sun, clear)
        beam, diffuse = shine.beam, shine.diffuse
        level = beam * np.maximum(np.sin(sun.height), 0.0) + diffuse
        sunny = beam > SUNSHINE
    roof = clear if cover.kind == OPEN else np.ones_like(clear)
    numbers = skin_numbers(book, cover.colour, reading)
    still = np.where(np.isfinite(air.wind), air.wind, 0.0)
    found = wall(
        Skin(**asdict(numbers)),
        air=air.temperature,
        wind=still,
        cloud=roof,
        beam=beam,
        diffuse=diffuse,
        level=level,
    )
    mean, coldest = found.mean, found.coldest
    if cover.kind == TENT:
        mean = coldest = air.temperature
    chill = asdict(chill_numbers(book, reading))
    time, stretch = chill.pop("time"), chill.pop("stretch")
    film = chilled(
        Solvent(**chill), surface=coldest, air=air.temperature, wind=air.wind, time=time, stretch=stretch
    )
    return PipeAt(
        mean=mean, coldest=coldest, film=film, dew=dew_points(air.temperature, air.humidity), sunny=sunny
    )


def calm_wind(book: Book, reading: Reading) -> float:
    """Wind that counts as still air, and that of a tent. [m/s]"""
    return hour_number(book, "calm", reading)
