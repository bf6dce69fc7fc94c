"""Files of readings as they are entered: read at once, so that a slip shows while it can be put right."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, MutableMapping
from datetime import tzinfo
from typing import Any

from lineproof.floor.errors import BadInput
from lineproof.job.joints_csv import JointsFile
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
    if of in (None, "joint", "pipe"):
        digest, name = str(body["file"]), str(body["name"])
        if shelf.has(digest):
            read_logger(shelf.get(digest), name, zone)


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
