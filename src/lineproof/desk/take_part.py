"""A fitting measured beside the line: what was typed becomes a row of parts.csv; what it frees is told."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown, show_length
from lineproof.floor.units import parse_length
from lineproof.job.exact_text import exact_text
from lineproof.job.files import as_text, read_bytes
from lineproof.job.folder import Job, read_job
from lineproof.job.parts import MEASURED_TO_STAND_FOR_LOT, Catalogue, Form, Outlet, PartKind, PartRow
from lineproof.job.parts_csv import read_parts
from lineproof.job.parts_put import FILE, put_row
from lineproof.job.write import write_whole
from lineproof.plan.model import Piece
from lineproof.plan.tape import TapeRow
from lineproof.plan.work import Work, work

_KEY = ("kind", "angle", "material", "series", "size", "size2", "lot")
_BARE = re.compile(r"[\d\s./-]*\d", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A type and lot, or a tagged item, that is measured.

    Parameters
    ----------
    key : str
        What the form names it by.
    cells : mapping
        Columns of parts.csv that say what it is.
    outlets : tuple of Outlet
        Its ends, with what is measured already.
    wants, measured : int
        How many to measure, and how many were. [-]
    spread : float or None
        Largest less smallest centre to face among those measured. [m]
    count : int or None
        How many are in hand.
    hub : float or None
        [m]
    at : int
        Line of its row in parts.csv; 0 while there is none. [-]
    by, date : str
        Who measured last, and when.
    why : str
        Why it waits for a tape; empty for one that does not.
    places, pieces : tuple of str
        Part ids and piece ids that wait for it.
    """

    key: str
    cells: Mapping[str, str]
    outlets: tuple[Outlet, ...]
    wants: int
    measured: int = 0
    spread: float | None = None
    count: int | None = None
    hub: float | None = None
    at: int = 0
    by: str = ""
    date: str = ""
    why: str = ""
    places: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was typed.

    Parameters
    ----------
    ends : tuple
        For each end the centre to face and the depth of every fitting measured now, as typed.
    again : bool
        Those measured before do not count any more: these values stand alone.
    count, hub, lot, note : str
        As typed; empty to leave as it is.
    by : str
        Id of the person who held the tape.
    """

    ends: tuple[tuple[tuple[str, str], ...], ...]
    again: bool
    by: str
    count: str = ""
    hub: str = ""
    lot: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTaken:
    """A row as it will stand, or stands, and what it changes.

    Parameters
    ----------
    text : str
        The whole parts.csv.
    row : PartRow
    changed : tuple of str
        Pieces in words: what they were, and what they are.
    freed : int
        Pieces that waited and can be cut. [-]
    more : int
        How many of the lot are still to be measured. [-]
    """

    text: str
    row: PartRow
    changed: tuple[str, ...]
    freed: int
    more: int


def asked_of(plan: Work) -> list[Asked]:
    """What waits for a tape, then every row of parts.csv: any of them may be measured again.

    Parameters
    ----------
    plan : Work

    Returns
    -------
    list of Asked
    """
    found = {a.key: a for a in (_of_tape(r, plan) for r in plan.tape.rows)}
    for row in plan.job.parts.rows:
        mine = _of_row(row)
        found.setdefault(mine.key, mine)
    return list(found.values())


def key_of(cells: Mapping[str, str]) -> str:
    """What a form names a type and lot by, or a tagged item."""
    if cells.get("tag"):
        return f"tag {cells['tag']}"
    return " | ".join(cells.get(c, "") for c in _KEY)


def _cells(kind: PartKind | str, angle: float, material: str, series: str, size: str, size2: str,
           lot: str, tag: str, outlets: Iterable[Outlet]) -> dict[str, str]:  # fmt: skip
    return {
        "tag": tag, "kind": kind.value if isinstance(kind, PartKind) else PartKind.OTHER.value,
        "angle": f"{angle:.10g}" if angle else "", "material": material, "series": series, "size": size,
        "size2": size2, "lot": lot, "ends": " ".join(o.form.value for o in outlets),
    }  # fmt: skip


def _of_tape(r: TapeRow, plan: Work) -> Asked:
    cells = _cells(
        r.kind, r.angle_deg, r.material, r.series, r.size.text, "" if r.size2 is None else r.size2.text,
        r.lot, r.tag, r.outlets,
    )  # fmt: skip
    key = key_of(cells)
    row = next((p for p in plan.job.parts.rows if _of_row(p).key == key), None)
    mine = _of_row(row) if row is not None else Asked(key=key, cells=cells, outlets=r.outlets, wants=r.wants)
    return replace(
        mine, outlets=r.outlets, wants=r.wants, measured=r.measured, why=r.why.value, places=r.places,
        pieces=r.pieces,
    )  # fmt: skip


def _of_row(p: PartRow) -> Asked:
    cells = _cells(
        p.kind, p.angle_deg, p.material, p.series, p.size.text, "" if p.size2 is None else p.size2.text,
        p.lot, p.tag, p.outlets,
    )  # fmt: skip
    alone = bool(p.tag) or p.fabricated
    most = MEASURED_TO_STAND_FOR_LOT
    return Asked(
        key=key_of(cells), cells=cells, outlets=p.outlets, wants=1 if alone else min(p.count or most, most),
        measured=p.measured, spread=p.spread, count=p.count, hub=p.hub, at=p.place.line, by=p.by, date=p.date,
    )  # fmt: skip


def with_unit(text: str, units: str) -> str:
    """A bare number gets the unit the page said: inches, or millimetres.

    Parameters
    ----------
    text : str
        As typed, such as ``6 9/16``.
    units : str
        ``"us"`` or ``"metric"``.

    Returns
    -------
    str
    """
    text = text.strip()
    if not text or not _BARE.fullmatch(text):
        return text
    return f'{text}"' if units == "us" else f"{text} mm"


def take_part(
    folder: Path, asked: Asked, said: Measured, *, today: date, recorded: frozenset[str], keep: bool
) -> PartTaken:
    """What a measured fitting changes; written into parts.csv if it is to be kept.

    Parameters
    ----------
    folder : Path
    asked : Asked
    said : Measured
    today : date
        The day at the site.
    recorded : frozenset of str
        Ids of joints that have a record.
    keep : bool
        Write the file; else it is only looked at.

    Returns
    -------
    PartTaken

    Raises
    ------
    BadInput
        With what cannot be taken; then nothing was written.
    """
    job = read_job(folder)
    metric = job.settings.shown.units == "metric"
    cells = dict(_row_cells(asked, said, metric))
    cells |= {"by": said.by, "date": today.isoformat()}
    content = read_bytes(folder / FILE, FILE, needed=False) or b""
    at = asked.at if cells.get("lot", "") == asked.cells.get("lot", "") else 0
    text = put_row(as_text(content, FILE), cells, at=at, said=f"{today.isoformat()} {said.by}")
    rows = read_parts(text, FILE)
    row = next(r for r in rows if _of_row(r).key == key_of({**asked.cells, "lot": cells.get("lot", "")}))
    before, after = plans(job, replace(job, parts=Catalogue(rows)), recorded)
    freed, changed = pieces_changed(before, after)
    if keep:
        bom = content[:3] if content.startswith(b"\xef\xbb\xbf") else b""
        write_whole(folder / FILE, bom + text.encode())
    return PartTaken(
        text=text, row=row, changed=tuple(changed), freed=freed,
        more=0 if row.stands_for_lot else max(asked.wants - row.measured, 0),
    )  # fmt: skip


def _row_cells(asked: Asked, said: Measured, metric: bool) -> Iterable[tuple[str, str]]:
    cells = dict(asked.cells)
    if said.lot:
        cells["lot"] = said.lot.strip()
    if asked.at:
        yield "lot", cells["lot"]
    else:
        yield from cells.items()
    before = 0 if said.again or (said.lot and said.lot != asked.cells.get("lot", "")) else asked.measured
    took = max((len(e) for e in said.ends), default=0)
    if not took:
        raise BadInput(
            "nothing was measured", allowed="centre to face and depth of at least one",
            next="type what the tape read",
        )  # fmt: skip
    spread: float | None = None
    for n, (outlet, typed) in enumerate(zip(asked.outlets, said.ends, strict=True), 1):
        if outlet.form in (Form.CLOSED, Form.SADDLE):
            continue
        old = asked.spread or 0.0
        for what, column, was in (("reach", 0, outlet.reach), ("depth", 1, outlet.depth)):
            words = [t[column] for t in typed if t[column].strip()]
            value, width = _middle(words, was if before else None, old if what == "reach" else 0.0)
            if value is None:
                if said.again:
                    yield f"{what}_{n}", ""
                continue
            yield f"{what}_{n}", _one(words, value, was if before else None, metric)
            if what == "reach":
                spread = width if spread is None else max(spread, width)
    total = before + took
    yield "measured", str(total)
    if total > 1:
        yield "spread", exact_text(spread or 0.0, "length", metric=metric)
    elif said.again:
        yield "spread", ""
    count = said.count.strip() or ("" if asked.count is None else str(asked.count))
    if said.count.strip():
        yield "count", said.count.strip()
    elif count and int(count) < total:
        yield "count", str(total)
    for name, text in (("hub", said.hub), ("note", said.note)):
        if text.strip():
            yield name, text.strip()


def _middle(typed: Sequence[str], was: float | None, old: float) -> tuple[float | None, float]:
    """The middle between the largest and the smallest, and how far apart they are.

    A row's value stands in the middle of its spread, as the tolerance of a cut is counted.
    """
    values = [parse_length(t) for t in typed]
    if was is not None:
        values += [was - old / 2, was + old / 2]
    if not values:
        return None, 0.0
    return (max(values) + min(values)) / 2, max(values) - min(values)


def _one(typed: Sequence[str], value: float, was: float | None, metric: bool) -> str:
    """As it was typed where all are alike, else the middle in the units of the job."""
    if was is None and typed and all(parse_length(t) == value for t in typed):
        return typed[0]
    return exact_text(value, "length", metric=metric)


def plans(job: Job, changed: Job, recorded: frozenset[str]) -> tuple[Work, Work]:
    """The job cut up before and after a measure.

    Parameters
    ----------
    job, changed : Job
    recorded : frozenset of str

    Returns
    -------
    Work, Work
        Without their sticks.
    """
    return work(job, nest=False, recorded=recorded), work(changed, nest=False, recorded=recorded)


def pieces_changed(before: Work, after: Work) -> tuple[int, list[str]]:
    """How many pieces need no longer wait, and every piece that is not as it was, in words.

    Parameters
    ----------
    before, after : Work

    Returns
    -------
    int, list of str
    """
    shown = after.job.settings.shown.shown
    old = {p.id: p for p in before.cutting.pieces}
    rows, freed = [], 0
    for p in after.cutting.pieces:
        was = old.get(p.id)
        if was is not None and (was.cut, was.state) == (p.cut, p.state):
            continue
        if p.cut is not None and (was is None or was.cut is None):
            freed += 1
        rows.append(_piece_words(p, was, shown))
    return freed, rows


def _piece_words(p: Piece, was: Piece | None, shown: Shown) -> str:
    now = p.state.value + ("" if p.cut is None else f", {show_length(p.cut, shown)}")
    if was is None:
        return f"{p.id}: {now}"
    then = was.state.value + ("" if was.cut is None else f", {show_length(was.cut, shown)}")
    return f"{p.id}: {now} (was {then})"
