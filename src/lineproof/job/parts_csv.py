"""parts.csv: the fittings in hand, as measured, read into rows and written back.

The order of the columns is that of the blank boxes on the tape list, so that a filled list is typed from left
to right. A cell is left empty where nothing is known; it is never 0 for that.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.job.cells import (
    day_text,
    end_forms,
    fitting_angle,
    not_negative,
    positive,
    read_cell,
    whole,
    word_cell,
)
from lineproof.job.exact_text import exact_text
from lineproof.job.files import Row, read_table
from lineproof.job.parts import Form, Outlet, PartKind, PartRow, TypeKey
from lineproof.job.resolve import usual_outlets
from lineproof.job.toml_words import material_word, refuse_word, series_word, size_word

COLUMNS = (
    "tag", "kind", "angle", "material", "series", "size", "size2", "lot", "count", "measured", "ends",
    "reach_1", "depth_1", "reach_2", "depth_2", "reach_3", "depth_3", "hub", "spread", "thickness", "faces",
    "first_on", "fabricated", "rating", "rating_at", "mass", "by", "date", "note",
)  # fmt: skip

MEANING = {
    "tag": "name of one single item (a valve, a meter); empty for a type of fitting",
    "kind": ", ".join(k.value for k in PartKind),
    "angle": "angle of an elbow in degrees",
    "material": "as in the walk: pvc, cpvc",
    "series": "as in the walk: sch80, pn10",
    "size": "run size: 12in, d315",
    "size2": "branch or reduced size, where there is one",
    "lot": "lot as marked, or any word the crew marks it with",
    "count": "how many of this type and lot are in hand",
    "measured": "how many of them were measured; three let one row stand for the lot",
    # In this order; what a kind usually has need not be said.
    "ends": "in, out, branch: " + ", ".join(f.value for f in Form),
    "reach_1": "first end: centre to face ('same' copies the end before)",
    "depth_1": "first end: face to the stop, from the same fitting; a thread: engaged length",
    "reach_2": "second end: centre to face",
    "depth_2": "second end: depth to the stop",
    "reach_3": "branch: centre to face",
    "depth_3": "branch: depth to the stop",
    "hub": "outside diameter of the hub",
    "spread": "largest less smallest centre to face among those measured",
    "thickness": "thickness of a flange, ring or blind, for the length of bolts",
    "faces": "flat, raised or ringed: one word for all flange ends, or one for each",
    "first_on": "what goes on the pipe before the joint is made: ring, nut",
    "fabricated": "yes if made from pipe: then each has its own row",
    "rating": "pressure marked on it",
    "rating_at": "temperature that marking is for",
    "mass": "mass of one",
    "by": "who measured",
    "date": "when, as year-month-day",
    "note": "anything else",
}
MUST = ("kind", "material", "series", "size")

NO_SIZE = Size("", 0.0)
"""Stands for an empty size cell while a row is read."""

_FACES = ("flat", "raised", "ringed")
_FLANGED = (Form.FLANGE, Form.STUB)
_CENTRE_IS_FACE = (PartKind.FLANGE, PartKind.STUB, PartKind.BLIND)
_STOP_BEFORE_CENTRE = (PartKind.ELBOW, PartKind.TEE)
_STOP_NOT_PAST_CENTRE = (
    PartKind.COUPLING, PartKind.REDUCER, PartKind.UNION, PartKind.FLANGE, PartKind.STUB, PartKind.VALVE,
)  # fmt: skip


def read_parts(text: str, file: str = "parts.csv") -> tuple[PartRow, ...]:
    """Read the text of a parts.csv.

    Parameters
    ----------
    text : str
        The file, with a heading row; columns in any order, unknown ones refused.
    file : str
        Its name, for errors.

    Returns
    -------
    tuple of PartRow
        In file order.

    Raises
    ------
    BadInput
        With file, row and column: a cell cannot be read, a depth reaches past the centre, a tag or a type and
        lot stands twice, or several were measured and no spread is given.
    """
    rows: list[PartRow] = []
    tags: dict[str, PartRow] = {}
    types: dict[tuple[TypeKey, str], PartRow] = {}
    for cells in read_table(text, file, COLUMNS, must=MUST):
        row = _part(cells)
        _sense(row, cells)
        if row.tag:
            if row.tag in tags:
                raise _twice(cells, "tag", f"the tag {row.tag!r}", tags[row.tag])
            tags[row.tag] = row
        elif not row.fabricated:
            key = (row.type_key, row.lot)
            if key in types:
                raise _twice(cells, "lot", f"this type, lot {row.lot or 'not said'},", types[key])
            types[key] = row
        rows.append(row)
    return tuple(rows)


def write_parts(rows: Iterable[PartRow], *, metric: bool = False) -> str:
    """The text of a parts.csv; reading it back gives the same rows.

    Parameters
    ----------
    rows : iterable of PartRow
        In the order wanted.
    metric : bool
        Lengths in mm, pressures in bar, temperatures in C; else inches, psi, F.

    Returns
    -------
    str
        All columns in their fixed order.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        cells = _cells(row, metric)
        writer.writerow([cells.get(column, "") for column in COLUMNS])
    return out.getvalue()


def _twice(cells: Row, column: str, what: str, other: PartRow) -> BadInput:
    return cells.refuse(
        column,
        f"{what} stands in row {other.place.line} already",
        allowed="one row for each tag, and one for each type and lot",
        next="give it another lot, or put both in one row",
    )


def _part(cells: Row) -> PartRow:
    for column in MUST:
        if not cells[column]:
            raise cells.refuse(column, "the cell is empty", allowed=MEANING[column], next="fill it in")
    kind = PartKind(read_cell(cells, "kind", word_cell(*(k.value for k in PartKind)), ""))
    size = read_cell(cells, "size", size_word, NO_SIZE)
    size2 = read_cell(cells, "size2", size_word, NO_SIZE)
    second = None if size2 is NO_SIZE else size2
    if kind is PartKind.ELBOW and not cells["angle"]:
        raise cells.refuse("angle", "an elbow without its angle", allowed="90, 45, 22.5 and so on")
    tag = cells["tag"]
    outlets = _outlets(cells, kind, size, second)
    known = any(o.reach for o in outlets)  # somebody put a tape to at least one
    return PartRow(
        kind=kind,
        material=read_cell(cells, "material", material_word, ""),
        series=read_cell(cells, "series", series_word, ""),
        size=size,
        outlets=outlets,
        size2=second,
        tag=tag,
        angle_deg=read_cell(cells, "angle", fitting_angle, 0.0),
        lot=cells["lot"],
        count=read_cell(cells, "count", whole, None),
        measured=read_cell(cells, "measured", whole, 1 if known else 0),
        spread=read_cell(cells, "spread", not_negative, None),
        hub=read_cell(cells, "hub", positive("length"), None),
        fabricated=read_cell(cells, "fabricated", word_cell("yes", "no"), "no") == "yes",
        rating=read_cell(cells, "rating", positive("pressure"), None),
        rating_temperature=read_cell(cells, "rating_at", positive("temperature"), None),
        mass=read_cell(cells, "mass", positive("mass"), None),
        thickness=read_cell(cells, "thickness", positive("length"), None),
        first_on=cells["first_on"],
        by=cells["by"],
        date=read_cell(cells, "date", day_text, ""),
        note=cells["note"],
        place=cells.place,
    )


def _outlets(cells: Row, kind: PartKind, size: Size, size2: Size | None) -> tuple[Outlet, ...]:
    usual = usual_outlets(kind, size, size2)
    forms = read_cell(cells, "ends", end_forms, tuple(o.form for o in usual))
    faces = _faces(cells, forms)
    outlets: list[Outlet] = []
    for i, form in enumerate(forms):
        reach = _measure(cells, "reach", i, outlets)
        if reach is None and i == 0 and kind in _CENTRE_IS_FACE and form in _FLANGED:
            reach = 0.0  # by definition: the centre of a flange is its sealing face
        at = outlet_size(kind, i, size, size2)
        outlets.append(Outlet(form, at, reach, _measure(cells, "depth", i, outlets), faces[i]))
    for i in range(len(forms), 3):
        for what in ("reach", "depth"):
            if cells[f"{what}_{i + 1}"]:
                raise cells.refuse(
                    f"{what}_{i + 1}",
                    f"filled in, but the part has {len(forms)} end{'s' if len(forms) > 1 else ''}",
                    allowed="one reach and depth for each end",
                    next="say all ends under ends",
                )
    return tuple(outlets)


def outlet_size(kind: PartKind, index: int, size: Size, size2: Size | None) -> Size:
    """Size of one end: the second size is that of a tee's branch, of any other part's last end."""
    if size2 is None or index == 0 or (kind is PartKind.TEE and index < 2):
        return size
    return size2


def _measure(cells: Row, what: str, index: int, before: list[Outlet]) -> float | None:
    column = f"{what}_{index + 1}"
    if cells[column].lower() == "same":
        if not before:
            raise cells.refuse(column, "'same' stands at the first end", allowed="a length")
        return before[-1].reach if what == "reach" else before[-1].depth
    return read_cell(cells, column, not_negative if what == "reach" else positive("length"), None)


def _faces(cells: Row, forms: tuple[Form, ...]) -> tuple[str, ...]:
    words = cells["faces"].lower().replace(",", " ").split()
    flanged = [i for i, form in enumerate(forms) if form in _FLANGED]
    for word in words:
        if word not in _FACES:
            raise refuse_word("column faces: the face", word, _FACES).at(
                file=cells.place.file, line=cells.place.line
            )
    if len(words) == 1 and flanged:
        words = words * len(flanged)
    if words and len(words) != len(flanged):
        raise cells.refuse(
            "faces",
            f"{len(words)} faces for {len(flanged)} flange ends",
            allowed="one word for all flange ends, or one for each",
        )
    found = dict(zip(flanged, words, strict=False))
    return tuple(found.get(i, "") for i in range(len(forms)))


def _sense(row: PartRow, cells: Row) -> None:
    """Refuse what cannot be so; whether a value is likely is asked elsewhere."""
    for i, o in enumerate(row.outlets, start=1):
        if o.depth is None or o.reach is None or o.form is not Form.SOCKET:
            continue
        strict = row.kind in _STOP_BEFORE_CENTRE
        past = row.kind in _STOP_NOT_PAST_CENTRE and o.depth > o.reach + 1e-9
        if past or (strict and not o.depth < o.reach):
            raise cells.refuse(
                f"depth_{i}",
                f"the stop lies {'at or ' if strict else ''}past the centre of the {row.kind.value}",
                allowed=f"a depth below reach_{i}",
                next="tape both again from the face: to the centre, and to the stop",
            )
    if row.measured > 1 and row.spread is None:
        raise cells.refuse(
            "spread",
            f"{row.measured} were measured and no spread is given",
            allowed="largest less smallest centre to face",
            next="fill it in; 0 if they were all alike",
        )
    if row.count is not None and row.measured > row.count:
        raise cells.refuse(
            "measured", f"{row.measured} measured of {row.count}", allowed="not more than count"
        )
    if (row.tag or row.fabricated) and row.count not in (None, 0, 1):
        what = f"the tag {row.tag!r}" if row.tag else "a fabricated fitting"
        raise cells.refuse("count", f"{row.count} of {what}", allowed="1", next="give each its own row")
    if row.size2 is not None and row.size2.system != row.size.system:
        raise cells.refuse("size2", f"{row.size2} beside {row.size}", allowed="both inch or both metric")


def _cells(row: PartRow, metric: bool) -> dict[str, str]:
    def exact(value: float | None, quantity: str) -> str:
        return "" if value is None else exact_text(value, quantity, metric=metric)

    faces = [o.face for o in row.outlets if o.form in _FLANGED]
    cells = {
        "tag": row.tag,
        "kind": row.kind.value,
        "angle": f"{row.angle_deg:.10g}" if row.angle_deg else "",
        "material": row.material,
        "series": row.series,
        "size": row.size.text,
        "size2": "" if row.size2 is None else row.size2.text,
        "lot": row.lot,
        "count": "" if row.count is None else str(row.count),
        "measured": str(row.measured),
        "ends": " ".join(o.form.value for o in row.outlets),
        "hub": exact(row.hub, "length"),
        "spread": exact(row.spread, "length"),
        "thickness": exact(row.thickness, "length"),
        "faces": " ".join(faces) if all(faces) else "",
        "first_on": row.first_on,
        "fabricated": "yes" if row.fabricated else "",
        "rating": exact(row.rating, "pressure"),
        "rating_at": exact(row.rating_temperature, "temperature"),
        "mass": exact(row.mass, "mass"),
        "by": row.by,
        "date": row.date,
        "note": row.note,
    }
    for i, o in enumerate(row.outlets, start=1):
        cells[f"reach_{i}"] = exact(o.reach, "length")
        cells[f"depth_{i}"] = exact(o.depth, "length")
    return cells
