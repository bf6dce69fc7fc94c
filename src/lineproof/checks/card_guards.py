"""Guards on a cement card as a whole: its hours rise, and none is shorter than the standard's unnoticed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from lineproof.book.cure import StandardCell, standard_cells
from lineproof.book.load import Book
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.card_rows import CURE, HANDLING, CardRow

HAIR = 0.5
"""Times and pressures closer than this are one. [s], [Pa]"""
HAIR_K = 1e-6
"""Temperatures closer than this are one. [K]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRows(About):
    """The rows of a card.

    Parameters
    ----------
    card : str
    rows : tuple of CardRow
    both_names : bool
        It was typed by one person and read back by another.
    material, steps : str
        As the card says.
    """

    card: str
    rows: tuple[CardRow, ...]
    both_names: bool
    material: str = ""
    steps: str = ""


def falls(rows: tuple[CardRow, ...]) -> list[tuple[CardRow, CardRow]]:
    """Pairs of rows of which the second is for larger, colder, damper or more pressure and yet shorter.

    Parameters
    ----------
    rows : tuple of CardRow

    Returns
    -------
    list of tuple
        Both of one kind.
    """
    found = []
    for easy in rows:
        for hard in rows:
            if hard.kind == easy.kind and hard.time < easy.time - HAIR and _harder(easy, hard):
                found.append((easy, hard))
    return found


def _harder(easy: CardRow, hard: CardRow) -> bool:
    """Whether a row asks at least as much of the joint in everything, band by band."""
    if not easy.size_lo.system == hard.size_lo.system == hard.size_hi.system or _bands(easy) == _bands(hard):
        return False
    return (
        hard.size_lo.nominal >= easy.size_lo.nominal
        and hard.size_hi.nominal >= easy.size_hi.nominal
        and _from(hard.temp_lo, -math.inf) <= _from(easy.temp_lo, -math.inf) + HAIR_K
        and _from(hard.temp_hi, math.inf) <= _from(easy.temp_hi, math.inf) + HAIR_K
        and _from(hard.pressure_max, math.inf) >= _from(easy.pressure_max, math.inf) - HAIR
        and _from(hard.humidity_max, 1.0) >= _from(easy.humidity_max, 1.0) - 1e-9
    )


def _bands(row: CardRow) -> tuple[object, ...]:
    return row.size_lo, row.size_hi, row.temp_lo, row.temp_hi, row.pressure_max, row.humidity_max


def _from(value: float | None, open_end: float) -> float:
    return open_end if value is None else value


@check(
    id="CEM-10", stage="order", facts=CardRows,
    rule="hours rise with size, cold, damp and pressure: own rule, after every table carried",
)  # fmt: skip
def hours_rise(facts: CardRows, _book: Book) -> Finding:
    """CANNOT TELL where a card is shorter for larger, colder or more pressure and lacks its two names."""
    pairs = falls(facts.rows)
    if not pairs:
        return answer("CEM-10", Verdict.GO, facts)
    easy, hard = max(pairs, key=lambda pair: pair[0].time - pair[1].time)
    told: dict[str, Any] = {
        "clock": hard.kind, "row": _mark(hard), "other_row": _mark(easy), "pairs": len(pairs),
    }  # fmt: skip
    if facts.both_names:
        return answer(
            "CEM-10", Verdict.CARE, facts, why="falls", measured=hard.time, limit=easy.time, unit="s",
            next_step="ask_maker_writing", **told,
        )  # fmt: skip
    return answer(
        "CEM-10", Verdict.CANNOT_TELL, facts, why="falls", measured=hard.time, limit=easy.time, unit="s",
        next_step="read_back", missing=("second reader",), **told,
    )  # fmt: skip


def _mark(row: CardRow) -> str:
    sizes = row.size_lo.text if row.size_lo == row.size_hi else f"{row.size_lo.text} to {row.size_hi.text}"
    return f"{row.mark}, {sizes}" if row.mark else sizes


@dataclass(frozen=True, slots=True)
class Shorter:
    """A row of a card that is shorter than the standard's of the same cell."""

    row: CardRow
    cell: StandardCell
    wait: float


def shorter_than_standard(facts: CardRows, book: Book) -> list[Shorter]:
    """Rows of a card that are shorter than the carried rows of the cells they reach into.

    Parameters
    ----------
    facts : CardRows
    book : Book

    Returns
    -------
    list of Shorter
        Nothing for another material, for one-step cement, and above the sizes carried.
    """
    if facts.material != "pvc" or facts.steps == "one-step":
        return []
    found = []
    for kind in (HANDLING, CURE):
        rows = [r for r in facts.rows if r.kind == kind and not r.size_lo.metric]
        cells = standard_cells(book, cure=kind == CURE) if rows else ()
        for row in rows:
            below = _column_below(row, rows)
            for cell in cells:
                if _same_cell(row, below, cell):
                    damp = row.humidity_max is not None and _dry_twin(row, rows, cell.humidity)
                    wait = cell.wait * (cell.wet_air_factor if damp else 1.0)
                    if row.time < wait - HAIR:
                        found.append(Shorter(row, cell, wait))
    return found


def _column_below(row: CardRow, rows: list[CardRow]) -> float:
    """Top of the next lower column of pressure: the row is asked above it. [Pa]"""
    own = _from(row.pressure_max, math.inf)
    tops = [r.pressure_max for r in rows if r.pressure_max is not None and _alike(r, row)]
    return max((top for top in tops if top < own - HAIR), default=0.0)


def _alike(a: CardRow, b: CardRow) -> bool:
    return (a.size_lo, a.size_hi, a.temp_lo, a.temp_hi) == (b.size_lo, b.size_hi, b.temp_lo, b.temp_hi)


def _dry_twin(row: CardRow, rows: list[CardRow], dry: float) -> bool:
    """Whether a row is only asked above a humidity, because another row holds below it."""
    return _from(row.humidity_max, 1.0) > dry + 1e-9 and any(
        r.humidity_max is not None and r.humidity_max <= dry + 1e-9 and _alike(r, row) for r in rows
    )


def _same_cell(row: CardRow, below: float, cell: StandardCell) -> bool:
    top = _from(row.pressure_max, math.inf)
    return (
        row.size_lo.nominal <= cell.nps_hi
        and row.size_hi.nominal >= cell.nps_lo
        and _from(row.temp_lo, -math.inf) < cell.temp_hi - HAIR_K
        and _from(row.temp_hi, math.inf) > cell.temp_lo + HAIR_K
        and below < cell.pressure_hi - HAIR
        and top > cell.pressure_lo + HAIR
    )


@check(
    id="CEM-11", stage="order", facts=CardRows,
    rule="ASTM D2855-96 handling and cure rows, from memory, to NPS 8; the card governs",
)  # fmt: skip
def rows_beside_standard(facts: CardRows, book: Book) -> Finding:
    """CANNOT TELL where any row is shorter than the standard's and the two names lack; with them CARE."""
    found = shorter_than_standard(facts, book)
    if not found:
        return answer("CEM-11", Verdict.GO, facts)
    worst = min(found, key=lambda s: s.row.time / s.wait)
    log = Reading()
    for each in found:
        book.cell(each.cell.table, each.cell.key, "wait_h", log)
    told: dict[str, Any] = {
        "clock": worst.row.kind, "row": _mark(worst.row), "cell": worst.cell.key,
        "shorter": len({id(s.row) for s in found}),
    }  # fmt: skip
    if facts.both_names:
        return answer(
            "CEM-11", Verdict.CARE, facts, log, why="shorter", measured=worst.row.time, limit=worst.wait,
            unit="s", next_step="ask_maker_writing", **told,
        )  # fmt: skip
    return answer(
        "CEM-11", Verdict.CANNOT_TELL, facts, log, why="shorter", measured=worst.row.time,
        limit=worst.wait, unit="s", next_step="read_back", missing=("second reader",), **told,
    )  # fmt: skip
