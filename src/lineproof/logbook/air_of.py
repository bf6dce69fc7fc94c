"""The air on the site by weather.csv, as far as the logbook vouches for the file."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import tzinfo

from lineproof.floor.errors import LineproofError
from lineproof.job.progress import NO_AIR, SiteAir
from lineproof.job.weather import FILE, read_weather, site_air
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.state import Event, State

NOT_IMPORTED = "it is not imported"
CHANGED = "it was changed since it was imported"
GONE = "the file that was imported is not on this machine"
NO_MARGIN = "no air_margin is said under [conditions]"


def air_of(
    state: State,
    now: Stamp,
    content: bytes | None,
    *,
    margin: float | None,
    zone: tzinfo,
    shelf: Shelf | None = None,
    replay: bool = False,
) -> SiteAir:
    """Air of a site.

    Parameters
    ----------
    state : State
        The fold of what was known.
    now : Stamp
        The moment judged.
    content : bytes or None
        weather.csv as it lies in the job folder; None if there is none.
    margin : float or None
        How much colder than the air a joint may have been. [K]
    zone : tzinfo
        Of the site.
    shelf : Shelf or None
        Where imported files are kept.
    replay : bool
        An earlier answer is given again: the file as it was imported by then counts, whatever lies in the
        folder today.

    Returns
    -------
    SiteAir
        Without a row, and with the reason, where the file was not imported with the hash it has.
    """
    told = newest_import(state)
    if told is None:
        return NO_AIR if content is None else SiteAir(margin=margin, why=NOT_IMPORTED)
    digest = str(told.body["file"])
    if not replay and content is not None and hashlib.sha256(content).hexdigest() != digest:
        return SiteAir(margin=margin, why=CHANGED)
    try:
        if replay or content is None:
            if shelf is None or not shelf.has(digest):
                return SiteAir(margin=margin, why=GONE)
            content = shelf.get(digest)
        rows = read_weather(content, zone)
    except LineproofError as error:
        where = f"{error.place}: " if error.place.file else ""
        return SiteAir(margin=margin, why=f"{where}{error.given}")
    air = site_air(rows, air_margin=margin, now=now.wall, written=told.entry.wall)
    return replace(air, why=NO_MARGIN) if margin is None else air


def newest_import(state: State) -> Event | None:
    """The import of weather.csv that counts: the one written last.

    Parameters
    ----------
    state : State

    Returns
    -------
    Event or None
    """
    told = [e for e in state.others if e.kind == "imported" and e.sound and e.body.get("name") == FILE]
    return max(told, key=lambda e: (e.entry.wall, e.entry.writer, e.entry.sequence), default=None)
