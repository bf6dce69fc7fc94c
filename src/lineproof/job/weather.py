"""weather.csv: the air on the site hour by hour, each row ``seen`` or ``forecast``.

A row holds for one hour: from its time on (``start``), up to it (``end``), or at it (``instant``).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from lineproof.job.files import as_text
from lineproof.job.progress import FORECAST, SiteAir, Temperature
from lineproof.job.timed_csv import Columns, TimedRow, read_timed
from lineproof.sums.readings import Readings

FILE = "weather.csv"
SEEN, FORETOLD = STANDINGS = ("seen", "forecast")
START, END, INSTANT = STAMPS = ("start", "end", "instant")
HOUR = timedelta(hours=1)

COLUMNS = Columns(
    numbers={
        "air temperature": "temperature",
        "humidity": "fraction",
        "wind": "wind",
        "rain": "length",
        "cloud": "fraction",
    },
    limits={
        "air temperature": (203.15, 333.15),
        "humidity": (0.0, 1.0),
        "wind": (0.0, 110.0),
        "rain": (0.0, 0.5),
        "cloud": (0.0, 1.0),
    },
    words={"stamp": STAMPS, "standing": STANDINGS},
    must=("stamp", "standing", "air temperature"),
)
"""Limits are a little wider than what was ever measured in the open (own rule): outside is a slip."""


@dataclass(frozen=True, slots=True)
class WeatherRow:
    """One hour.

    Parameters
    ----------
    at : datetime
        As written, UTC.
    first, last : datetime
        When the hour begins and ends; both ``at`` for an instant.
    standing : str
        ``"seen"`` or ``"forecast"``.
    temperature : float
        Of the air. [K]
    humidity, cloud : float or None
        [-]
    wind : float or None
        [m/s]
    rain : float or None
        In the hour. [m]
    line : int
        Row of the file. [-]
    """

    at: datetime
    first: datetime
    last: datetime
    standing: str
    temperature: float
    humidity: float | None
    wind: float | None
    rain: float | None
    cloud: float | None
    line: int


def read_weather(content: bytes, zone: tzinfo, name: str = FILE) -> tuple[WeatherRow, ...]:
    """Read a weather.csv.

    Parameters
    ----------
    content : bytes
        The CSV: columns time, stamp, standing, air temperature; humidity, wind, rain and cloud where known.
        Each number column has its unit in the heading.
    zone : tzinfo
        Of the site.
    name : str
        Its name, for errors.

    Returns
    -------
    tuple of WeatherRow
        In order of time.

    Raises
    ------
    BadInput
        With file and line: the first row that cannot be read.
    """
    return tuple(_row(r) for r in read_timed(as_text(content, name), name, COLUMNS, zone))


def _row(row: TimedRow) -> WeatherRow:
    stamp, numbers = row.words["stamp"], row.numbers
    return WeatherRow(
        at=row.at,
        first=row.at - HOUR if stamp == END else row.at,
        last=row.at + HOUR if stamp == START else row.at,
        standing=row.words["standing"],
        temperature=numbers["air temperature"],
        humidity=numbers.get("humidity"),
        wind=numbers.get("wind"),
        rain=numbers.get("rain"),
        cloud=numbers.get("cloud"),
        line=row.place.line,
    )


def site_air(
    rows: tuple[WeatherRow, ...], *, air_margin: float | None, now: datetime, written: datetime
) -> SiteAir:
    """What the clocks of the joints may ask of a weather.csv.

    Parameters
    ----------
    rows : tuple of WeatherRow
    air_margin : float or None
        How much colder than the air a joint may have been. [K]
    now : datetime
        The moment judged.
    written : datetime
        When the file was imported: what is later was not seen.

    Returns
    -------
    SiteAir
    """
    seen = [r for r in rows if r.standing == SEEN and r.at <= min(now, written)]
    ahead = [r for r in rows if r.standing == FORETOLD and r.last > now]
    air = [(at.timestamp(), r.temperature) for r in seen for at in (r.first, r.last)]
    damp = [(at.timestamp(), h) for r in seen if (h := r.humidity) is not None for at in (r.first, r.last)]
    return SiteAir(
        seen=Readings([at for at, _ in air], [value for _, value in air]),
        damp=Readings([at for at, _ in damp], [value for _, value in damp]),
        margin=air_margin,
        forecast=tuple(
            Temperature(at, r.temperature, FORECAST) for r in ahead for at in dict.fromkeys((r.first, r.last))
        ),
    )
