"""taped.csv: gaps as taped on the line, with who and when. Rows are added, never changed."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from pathlib import Path

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.floor.units import parse_length
from lineproof.job.cells import read_cell
from lineproof.job.files import as_text, is_remark, read_bytes, read_table
from lineproof.job.toml_words import shorten
from lineproof.job.write import write_whole

COLUMNS = ("line", "face_a", "face_b", "length", "by", "when", "note", "leg")
MUST = ("line", "face_a", "face_b", "length", "by", "when")
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
YEARS = (1970, 2200)
"""Years outside these are slips of the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taped:
    """One gap as taped.

    Parameters
    ----------
    line : str
        Name of the line.
    face_a, face_b : str
        The two faces between which the tape was held, named as on the pack.
    length : float
        Face to face. [m]
    typed : str
        The length as it was typed.
    by : str
        Who held the tape.
    when : datetime
        With its zone.
    note : str
        Remarks.
    leg : str
        The statement of the walk that the gap lay on when it was taped; empty in a row written by hand.
        Short names run with the walk, so a row whose leg is another one now is refused, not misread.
    place : Place
        Row in the file.
    """

    line: str
    face_a: str
    face_b: str
    length: float
    typed: str
    by: str
    when: datetime
    note: str = ""
    leg: str = ""
    place: Place = Place()

    @property
    def gap(self) -> tuple[str, str, str]:
        """Line and faces, the same whichever face was named first."""
        first, second = sorted((self.face_a, self.face_b))
        return (self.line, first, second)


def read_taped(text: str, zone: tzinfo, file: str = "taped.csv") -> tuple[Taped, ...]:
    """Read the text of a taped.csv.

    Parameters
    ----------
    text : str
        The file, with a heading row.
    zone : tzinfo
        The site's time zone, for moments written without an offset.
    file : str
        Its name, for errors.

    Returns
    -------
    tuple of Taped
        In file order.

    Raises
    ------
    BadInput
        With file, row and column.
    """
    rows: list[Taped] = []
    for cells in read_table(text, file, COLUMNS, must=MUST):
        for column in MUST:
            if not cells[column]:
                raise cells.refuse(column, "the cell is empty", allowed="a value", next="fill it in")
        if cells["face_a"] == cells["face_b"]:
            raise cells.refuse("face_b", "both faces are the same", next="name the other face")
        rows.append(
            Taped(
                line=cells["line"],
                face_a=cells["face_a"],
                face_b=cells["face_b"],
                length=read_cell(cells, "length", gap_length, 0.0),
                typed=cells["length"],
                by=cells["by"],
                when=read_cell(cells, "when", lambda text: moment(text, zone), EPOCH),
                note=cells["note"],
                leg=cells["leg"],
                place=cells.place,
            )
        )
    return tuple(rows)


def gap_length(text: str) -> float:
    """A taped length.

    Parameters
    ----------
    text : str
        With its unit, such as ``12'-3 5/8"``.

    Returns
    -------
    float
        Above 0. [m]

    Raises
    ------
    BadInput
        If it is no length or not above 0.
    """
    value = parse_length(text)
    if not value > 0.0:
        raise BadInput(f"{shorten(text)!r} is not above 0", allowed="the gap face to face, with its unit")
    return value


def moment(text: str, zone: tzinfo) -> datetime:
    """A moment, in the site's zone unless it carries its own offset.

    Parameters
    ----------
    text : str
        Such as ``2026-04-13 14:20`` or ``2026-04-13T14:20:00-06:00``.
    zone : tzinfo
        The site's time zone.

    Returns
    -------
    datetime
        With a zone.

    Raises
    ------
    BadInput
        If it is no moment, or only a day.
    """
    try:
        if len(text) < 14:
            raise ValueError(text)
        when = datetime.fromisoformat(text)
        if not YEARS[0] < when.year < YEARS[1]:
            raise ValueError(text)
    except ValueError:
        raise BadInput(
            f"{shorten(text)!r} is not a moment",
            allowed="day and time, such as 2026-04-13 14:20 or 2026-04-13T14:20-06:00",
        ) from None
    return when if when.tzinfo is not None else when.replace(tzinfo=zone)


def newest(rows: Iterable[Taped]) -> dict[tuple[str, str, str], Taped]:
    """The row that counts for each gap: the last one taped; of two at one moment, the later in the file."""
    found: dict[tuple[str, str, str], Taped] = {}
    for row in rows:
        before = found.get(row.gap)
        if before is None or row.when >= before.when:
            found[row.gap] = row
    return found


def write_taped(rows: Iterable[Taped], *, heading: bool = True) -> str:
    """The text of taped rows, with lengths as they were typed."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    if heading:
        writer.writerow(COLUMNS)
    for r in rows:
        writer.writerow([r.line, r.face_a, r.face_b, r.typed, r.by, r.when.isoformat(), r.note, r.leg])
    return out.getvalue()


def append_taped(path: Path, rows: Iterable[Taped], zone: tzinfo) -> None:
    """Add rows at the end of a taped.csv; what stands there is not touched.

    Parameters
    ----------
    path : Path
        The file; it is made if it is not there.
    rows : iterable of Taped
        What was taped.
    zone : tzinfo
        The site's time zone.

    Raises
    ------
    BadInput
        The file there cannot be read, so nothing is added to it; or it cannot be written.
    EntrySealed
        The columns of the file there are not in our order.
    """
    before = read_bytes(path, path.name, needed=False) or b""
    if before:
        text = as_text(before, path.name)
        read_table_order(text, path.name)
        read_taped(text, zone, path.name)
        if not before.endswith((b"\n", b"\r")):
            before += b"\n"
    write_whole(path, before + write_taped(rows, heading=not before).encode())


def read_table_order(text: str, file: str) -> None:
    """Refuse a file whose columns stand in another order than rows would be added in."""
    for i, cells in enumerate(csv.reader(io.StringIO(text, newline="")), start=1):
        names = [cell.strip().lower() for cell in cells]
        if not any(names) or is_remark(names):
            continue
        if tuple(names) != COLUMNS:
            raise EntrySealed(
                "the columns stand in another order, so a row cannot be added without changing others",
                allowed=", ".join(COLUMNS),
                next="put the columns in this order once, by hand",
                place=Place(file, i),
            )
        return
