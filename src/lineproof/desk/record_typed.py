"""What a person types for one field: measures kept as typed and in SI, moments in the site's time."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from lineproof.floor.errors import BadInput
from lineproof.floor.units import parse
from lineproof.logbook.entry import moment_text

SI = {
    "temperature": ("temperature", "K"), "pressure": ("pressure", "Pa"), "length": ("length", "m"),
    "speed": ("velocity", "m/s"), "fraction": ("fraction", "1"), "volume": ("volume", "m3"),
}  # fmt: skip
_CLOCK = re.compile(r"(?:(\d{4}-\d\d-\d\d)[T ])?(\d{1,2}:\d\d(?::\d\d)?)(Z|[+-]\d\d:\d\d)?", re.ASCII)
LEAST = 6
"""Figures of a seal or an id that must be typed to name an entry."""


def measured(text: str, kind: str) -> dict[str, str]:
    """A typed value with its SI value beside it.

    Parameters
    ----------
    text : str
        With its unit.
    kind : str
        A key of ``SI``.

    Returns
    -------
    dict
        As the logbook keeps it.
    """
    quantity, unit = SI[kind]
    value = parse(text, quantity)
    plain = f"{value:.9f}".rstrip("0").rstrip(".")
    return {"typed": text, "si": "0" if plain == "-0" else plain, "unit": unit}


def moment_typed(text: str, zone: ZoneInfo) -> str:
    """A time as typed on site, as the logbook keeps it.

    Parameters
    ----------
    text : str
        ``14:02`` (today), ``2027-05-04 14:02``, or with Z or an offset.
    zone : ZoneInfo
        Of the site.

    Returns
    -------
    str
        UTC.

    Raises
    ------
    BadInput
        It is no time, or one that the clocks skip or show twice.
    """
    told = _CLOCK.fullmatch(text.strip())
    wrong = BadInput(
        f"{text[:40]!r} is not a time", allowed="14:02, 2027-05-04 14:02, or with Z or +02:00 behind it",
        next="type it this way",
    )  # fmt: skip
    if told is None:
        raise wrong
    day = told[1] or datetime.now(zone).date().isoformat()
    try:
        naive = datetime.fromisoformat(f"{day}T{told[2]:0>5}{(told[3] or '').replace('Z', '+00:00')}")
    except ValueError as error:
        raise wrong from error
    if naive.tzinfo is not None:
        return moment_text(naive)
    here = naive.replace(tzinfo=zone)
    if here.utcoffset() != here.replace(fold=1).utcoffset():
        back = here.astimezone(UTC).astimezone(zone).replace(tzinfo=None)
        what = "twice" if back == naive else "never"
        raise BadInput(
            f"the clocks of the site show {text} {what} that day", allowed="a time with its offset",
            next="type it with the offset, such as 01:30-06:00",
        )  # fmt: skip
    return moment_text(here)
