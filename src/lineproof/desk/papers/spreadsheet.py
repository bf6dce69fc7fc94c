"""Cut list and order list as XLSX, with numbers as numbers; the same bytes for the same pack."""

from __future__ import annotations

import io
from collections.abc import Sequence

# The library carries no types.
import xlsxwriter  # type: ignore[import-untyped]
from xlsxwriter.workbook import Workbook  # type: ignore[import-untyped]

from lineproof.desk.papers import words
from lineproof.desk.papers.orders import note_words, what_words
from lineproof.floor.shown import Shown
from lineproof.floor.unit_table import UNITS
from lineproof.logbook.store import SHORT
from lineproof.plan.model import Piece, PieceEnd
from lineproof.plan.order_rows import OrderRow, Unit
from lineproof.plan.pack import Pack

Value = str | float | int | None
CUTS = (
    "piece", "line", "state", "pipe", "cut", "cut ({u})", "face to face ({u})", "centre to centre ({u})",
    "end a into", "depth mark a ({u})", "second mark a ({u})", "rotation a", "end b into",
    "depth mark b ({u})", "second mark b ({u})", "rotation b", "tolerance ({u})", "mass ({m})", "stock item",
    "note",
)  # fmt: skip
ORDERS = (
    "group", "what", "needed", "in yard", "received", "on order", "short", "to order", "unit", "by line",
    "note",
)  # fmt: skip


def xlsx(pack: Pack, *, head: str = "") -> bytes:
    """The cut list and the order list as one workbook.

    Parameters
    ----------
    pack : Pack
    head : str
        Head seal of the logbook, for the foot; empty if there is none yet.

    Returns
    -------
    bytes
        The workbook; lengths as shown and as plain numbers in the job's unit, which its heading names.
    """
    shown = pack.work.job.settings.shown.shown
    out = io.BytesIO()
    book = xlsxwriter.Workbook(
        out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    )
    stamp = pack.stamp.astimezone(pack.work.job.zone).replace(tzinfo=None, microsecond=0)
    settings = pack.work.job.settings
    book.set_properties(
        {
            "title": f"{settings.job.name}: cut list and order list",
            "author": "Lineproof",
            "comments": "INVENTED DATA" if settings.job.invented else "",
            "created": stamp,
        }
    )
    issue = f"issue {pack.issue}" if pack.issue else "NOT ISSUED: a draft"
    mark = " · INVENTED DATA" if settings.job.invented else ""
    first = f"{settings.job.id} {settings.job.name} · {issue}{mark}"
    first += f" · logbook {head[:SHORT]}" if head else ""
    heads = [h.format(u=shown.length, m=shown.mass) for h in CUTS]
    _sheet(book, "Cut list", first, heads, [cut_row(p, shown) for p in pack.work.cutting.pieces])
    if pack.order is not None:
        _sheet(book, "Order list", first, ORDERS, [order_cells(r, shown) for r in pack.order.rows])
    book.close()
    return out.getvalue()


def _sheet(
    book: Workbook, name: str, first: str, heads: Sequence[str], rows: Sequence[Sequence[Value]]
) -> None:
    sheet = book.add_worksheet(name)
    bold = book.add_format({"bold": True, "text_wrap": True, "bottom": 1, "valign": "bottom"})
    sheet.write_string(0, 0, first)
    for column, head in enumerate(heads):
        sheet.write_string(1, column, head, bold)
    for y, row in enumerate(rows, 2):
        for x, value in enumerate(row):
            if isinstance(value, str):
                sheet.write_string(y, x, value)
            elif value is not None:
                sheet.write_number(y, x, value)
    widest = [max([len(str(r[x] or "")) for r in rows] + [8]) for x in range(len(heads))]
    for column, width in enumerate(widest):
        sheet.set_column(column, column, min(width + 1, 48))
    sheet.freeze_panes(2, 1)
    sheet.set_landscape()
    sheet.repeat_rows(0, 1)
    sheet.fit_to_pages(1, 0)
    sheet.set_footer("&L" + first.replace("&", "&&") + "&R&A, page &P of &N")


def _number(value: float | None, quantity: str, unit: str) -> float | None:
    if value is None:
        return None
    return round(UNITS[quantity][unit].from_si(value), 6)


def cut_row(p: Piece, shown: Shown) -> list[Value]:
    """One piece as cells."""

    def length(value: float | None) -> float | None:
        return _number(value, "length", shown.length)

    note = [
        *(["whole stick, not cut"] if p.whole else []),
        *([f"waits for {', '.join(p.waits)}"] if p.waits else []),
    ]
    note += [p.short.value] if p.short.value else []
    return [
        p.id, p.line, p.state.value, words.pipe_words(p.size, p.material, p.series),
        words.length(p.cut, shown), length(p.cut), length(p.face_to_face), length(p.centre_to_centre),
        *_end(p.a, p.line, shown), *_end(p.b, p.line, shown), length(p.tolerance),
        _number(p.mass, "mass", shown.mass), p.stock, "; ".join(note),
    ]  # fmt: skip


def _end(end: PieceEnd, line: str, shown: Shown) -> list[Value]:
    bell = end.bell
    return [
        words.goes_into(end, line),
        None if bell else _number(end.depth, "length", shown.length),
        None if bell else _number(end.second_mark, "length", shown.length),
        "; ".join(words.turned(t, shown) for t in end.turned),
    ]


def order_cells(r: OrderRow, shown: Shown) -> list[Value]:
    """One row of the order list as cells."""
    unit = shown.volume if r.unit is Unit.VOLUME else "each"

    def amount(value: float | None) -> float | None:
        return _number(value, "volume", shown.volume) if r.unit is Unit.VOLUME else value

    by_line = " · ".join(f"{line} {amount(n):g}" for line, n in r.by_line.items())
    missing = [f"missing: {m.name}" for m in r.missing]
    return [
        r.group.value, what_words(r.what, shown), amount(r.needed), amount(r.in_yard), amount(r.received),
        amount(r.ordered), amount(r.short), amount(r.to_order), unit, by_line,
        "; ".join([*(note_words(n) for n in r.notes), *missing]),
    ]  # fmt: skip
