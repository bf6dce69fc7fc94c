"""Files of readings as they are entered: read at once, so that a slip shows while it can be put right."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, MutableMapping
from datetime import tzinfo
from typing import Any

from lineproof.floor.errors import BadInput
from lineproof.job.joints_csv import JointsFile
from lineproof.logbook.entry import Entry, moment
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.state import State

ALL_OF_LINE = "/*"


def check_logger(body: Mapping[str, Any], shelf: Shelf, zone: tzinfo) -> None:
    """Refuse a logger's file that would only hold up its joints.

    Parameters
    ----------
    body : mapping
        Of the entry, its file on the shelf.
    shelf : Shelf
    zone : tzinfo
        Of the site.

    Raises
    ------
    BadInput
        It hung on a joint and none is named; or the first row that cannot be read.
    """
    from lineproof.job.logger_csv import read_logger

    of = body.get("of")
    if of == "joint" and not body.get("joints"):
        raise BadInput(
            "it is not said which joints the logger hung on",
            allowed="joints=B-201/J1,B-201/J2, or joints=B-201/* for all of a line",
            next="name them, and from= and to= where it hung there only for a time",
        )
    digest, name = str(body["file"]), str(body["name"])
    if of in (None, "joint", "pipe") and shelf.has(digest):
        if not _of_joints(body, read_logger(shelf.get(digest), name, zone).times):
            raise BadInput(
                f"no row of {name} lies between from and to",
                allowed="a time in which the logger hung there",
                next="look at the times, and at the heading of the file: time UTC or time site",
            )


def logger_note(kind: str, body: Mapping[str, Any], entry: Entry, shelf: Shelf, zone: tzinfo) -> str:
    """What to tell the one who entered a logger's file that earns no credit; empty if it does.

    Parameters
    ----------
    kind : str
    body : mapping
    entry : Entry
        As written.
    shelf : Shelf
    zone : tzinfo
        Of the site.

    Returns
    -------
    str
    """
    if kind != "reading_file" or not shelf.has(str(body["file"])):
        return ""
    from lineproof.job.logger_csv import read_logger
    from lineproof.logbook.readings_of import unvouched

    try:
        times = read_logger(shelf.get(str(body["file"])), str(body["name"]), zone).times
    except BadInput:
        return ""
    kept = _of_joints(body, times)
    if not kept or body.get("of") in ("air", "can", "water"):
        return ""
    why = unvouched(
        body, entry.who, written=entry.wall.timestamp(), last=max(kept), newest=float(times.max())
    )
    return f"Its rows only make it colder: {_WHY[why]}." if why else ""


_WHY = {
    "ahead": "a row lies ahead of the clock of this device, so one of the two is wrong",
    "of": "it did not hang on the joints (of=joint)",
    "clock": "nobody says that its clock was right when it was read out (clock-checked=yes)",
    "late": "it is entered more than a day after its last row; a second person may stand by it (second=)",
}


def _of_joints(body: Mapping[str, Any], times: Iterable[float]) -> list[float]:
    """Times of the rows from which it hung there until it was taken off."""
    first = moment(body["from"]).timestamp() if "from" in body else -math.inf
    last = moment(body["to"]).timestamp() if "to" in body else math.inf
    return [float(t) for t in times if first <= t <= last]


def check_imported(body: MutableMapping[str, Any], shelf: Shelf, zone: tzinfo) -> None:
    """Refuse a weather.csv that cannot be read, and count its rows.

    Parameters
    ----------
    body : mapping
        Of the entry, its file on the shelf; ``rows`` is filled in.
    shelf : Shelf
    zone : tzinfo
        Of the site.

    Raises
    ------
    BadInput
        The first row that cannot be read; or the rows are not as many as typed; or nobody counted those of
        another file.
    """
    from lineproof.job.weather import FILE, read_weather

    digest = str(body["file"])
    if body.get("name") == FILE and shelf.has(digest):
        count = len(read_weather(shelf.get(digest), zone))
        if body.setdefault("rows", count) != count:
            raise BadInput(
                f"{FILE} holds {count} rows, not {body['rows']}", allowed=f"rows={count}",
                next="leave rows out: they are counted",
            )  # fmt: skip
    if "rows" not in body:
        raise BadInput(
            "nobody said how many rows the file has", allowed="rows=NUMBER", next="count them, and add it"
        )


def joints_named(parts: Iterable[str], joints: JointsFile, state: State) -> list[str]:
    """Names as typed, with ``B-201/*`` for every living joint of a line.

    Parameters
    ----------
    parts : iterable of str
    joints : JointsFile
    state : State
        For joints that are not on the drawing.

    Returns
    -------
    list of str
        Each once.

    Raises
    ------
    BadInput
        No joint of that line has an id.
    """
    found: dict[str, None] = {}
    for part in parts:
        if not part.endswith(ALL_OF_LINE):
            found[part] = None
            continue
        line = part.removesuffix("*")
        of_line = [
            n for n in (*joints.joints, *state.field_joints) if n.casefold().startswith(line.casefold())
        ]
        if not of_line:
            raise BadInput(
                f"no joint begins with {line}", allowed="a line whose pack was issued", next="name the joints"
            )
        found.update(dict.fromkeys(of_line))
    return list(found)
