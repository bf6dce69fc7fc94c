"""What no single value of job.toml can tell: ids used twice, names that nothing carries, ranges upside down.

Only the sense of the file is looked at here; whether work may go on is never asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.card_rows import CURE
from lineproof.job.cards import CementCard
from lineproof.job.settings import SIGN_ROLES, Settings
from lineproof.job.stock import StockItem
from lineproof.job.toml_places import Path
from lineproof.job.toml_words import nearest, refuse_word

Fault = tuple[Path, LineproofError]

WITH_IDS = (
    "gauges", "sections", "stock", "offcuts", "people", "crews", "procedures", "cards", "cans", "stores",
)  # fmt: skip


def faults(settings: Settings) -> Iterator[Fault]:
    """Everything wrong between the values of a job.toml, each with the path where it stands.

    Parameters
    ----------
    settings : Settings
        As read, value by value.

    Yields
    ------
    tuple
        Path and error (without file and line).
    """
    yield from _timezone(settings)
    yield from _ids(settings)
    yield from _references(settings)
    yield from _ranges(settings)
    for i, item in enumerate(settings.stock):
        yield from _stock(("stock", i), item)
    for i, card in enumerate(settings.cards):
        yield from _card(("cards", i), card)
    yield from _offcuts(settings)
    for i, work in enumerate(settings.hot_work):
        if work.since and work.until and work.until < work.since:
            yield (
                ("hot_work", i, "until"),
                BadInput(f"hot work ends on {work.until}, before it begins on {work.since}"),
            )


def _timezone(settings: Settings) -> Iterator[Fault]:
    zone = settings.site.timezone
    try:
        ZoneInfo(zone)
    except (KeyError, ValueError, OSError):
        near = nearest(zone, sorted(available_timezones()))
        yield (
            ("site", "timezone"),
            BadInput(
                f"the time zone {zone[:60]!r} is not known",
                allowed="a name of the IANA time zone list, such as America/Denver or Europe/Oslo",
                next=f"write {near!r}, if that is meant" if near else "look the name up in the IANA list",
            ),
        )


def _ids(settings: Settings) -> Iterator[Fault]:
    for table in WITH_IDS:
        yield from _twice(table, "id", [item.id for item in getattr(settings, table)])
    yield from _twice("lines", "line", [d.line for d in settings.lines])
    for table in ("pullers", "applicators", "straps"):
        for path, error in _twice(table, "id", [item.id for item in getattr(settings.tools, table)]):
            yield ("tools", *path), error


def _twice(table: str, key: str, names: list[str]) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for i, name in enumerate(names):
        if name in first:
            yield (
                (table, i, key),
                BadInput(
                    f"{table} has {name!r} twice (entry {first[name] + 1} and entry {i + 1})",
                    allowed="each once",
                    next="give this one a name of its own",
                ),
            )
        first.setdefault(name, i)


def _references(settings: Settings) -> Iterator[Fault]:
    known = {table: [item.id for item in getattr(settings, table)] for table in WITH_IDS}
    for path, table, named in _named(settings):
        if named and named not in known[table]:
            yield path, refuse_word(f"no entry of [[{table}]] has the id", named, known[table])


def _named(s: Settings) -> Iterator[tuple[Path, str, str]]:
    """Every place that names an entry of another table: path, table, name."""
    for role in SIGN_ROLES:
        yield ("signs", role), "people", getattr(s.signs, role)
    for i, d in enumerate(s.lines):
        yield ("lines", i, "procedure"), "procedures", d.procedure
        yield ("lines", i, "cement"), "cards", d.cement
        yield ("lines", i, "stock"), "stock", d.stock
    for i, section in enumerate(s.sections):
        yield ("sections", i, "gauge"), "gauges", section.gauge
    for i, cap in enumerate(s.pressure_caps):
        yield ("pressure_caps", i, "section"), "sections", cap.section
        yield ("pressure_caps", i, "signed_by"), "people", cap.signed_by
    for i, offcut in enumerate(s.offcuts):
        yield ("offcuts", i, "stock"), "stock", offcut.stock
    for i, person in enumerate(s.people):
        for j, q in enumerate(person.qualifications):
            yield ("people", i, "qualifications", j, "procedure"), "procedures", q.procedure
    for i, crew in enumerate(s.crews):
        for j, member in enumerate(crew.people):
            yield ("crews", i, "people", j), "people", member
    for i, card in enumerate(s.cards):
        yield ("cards", i, "typed_by"), "people", card.typed_by
        yield ("cards", i, "read_back_by"), "people", card.read_back_by
    for i, can in enumerate(s.cans):
        yield ("cans", i, "card"), "cards", can.card
        yield ("cans", i, "where"), "stores", can.where
    for i, material in enumerate(s.test_materials):
        yield ("test_materials", i, "section"), "sections", material.section
    for i, c in enumerate(s.confirmations):
        yield ("confirmations", i, "by"), "people", c.by


def _ranges(s: Settings) -> Iterator[Fault]:
    """Every range of sizes or temperatures, wherever it stands."""
    for i, person in enumerate(s.people):
        yield from _rows(("people", i, "qualifications"), person.qualifications)
    for i, crew in enumerate(s.crews):
        yield from _rows(("crews", i, "hands"), crew.hands)
    yield from _rows(("procedures",), s.procedures)
    for i, p in enumerate(s.procedures):
        yield from _rows(("procedures", i, "hold"), p.hold)
        yield from _rows(("procedures", i, "hands"), p.hands)
    for i, card in enumerate(s.cards):
        for part in ("rows", "working", "per_can"):
            yield from _rows(("cards", i, part), getattr(card, part))
    yield from _rows(("tools", "pullers"), s.tools.pullers)
    yield from _rows(("tools", "straps"), s.tools.straps)


def _rows(path: Path, rows: Iterable[Any]) -> Iterator[Fault]:
    for i, row in enumerate(rows):
        low, high = getattr(row, "size_lo", None), getattr(row, "size_hi", None)
        if isinstance(low, Size) and isinstance(high, Size):
            if low.system != high.system:
                yield (
                    (*path, i, "size_hi"),
                    BadInput(f"a range from {low} to {high} mixes inch and metric", allowed="one kind"),
                )
            elif low.nominal > high.nominal:
                yield (
                    (*path, i, "size_hi"),
                    BadInput(f"sizes from {low} to {high} run downwards", next="swap size_lo and size_hi"),
                )
        cold, hot = getattr(row, "temp_lo", None), getattr(row, "temp_hi", None)
        if cold is not None and hot is not None and not cold < hot:
            yield (
                (*path, i, "temp_hi"),
                BadInput("temp_hi is not above temp_lo", next="swap the two, or widen the band"),
            )


def _stock(path: Path, item: StockItem) -> Iterator[Fault]:
    if item.size.metric != (item.od_family == "metric"):
        yield (
            (*path, "od_family"),
            BadInput(
                f"stock {item.id}: size {item.size} with outside diameters of the family {item.od_family!r}",
                allowed="metric for sizes d16 and so on; ips, irrigation or cast-iron for inch sizes",
                next="read the print line on the pipe",
            ),
        )
    if not item.belled:
        for key in ("bell_depth", "bell_reach"):
            if getattr(item, key) is not None:
                yield (
                    (*path, key),
                    BadInput(f"stock {item.id} has plain ends, but a {key}", next="say which ends it has"),
                )
        return
    depth, reach = item.bell_depth, item.bell_reach
    if depth is not None and reach is not None and reach < depth:
        yield (
            (*path, "bell_reach"),
            BadInput(
                f"stock {item.id}: bell_reach is less than bell_depth",
                allowed="bell_reach from the face to where the plain pipe begins, past the stop",
                next="tape both again",
            ),
        )
    if depth is not None and depth >= item.length:
        yield (*path, "bell_depth"), BadInput(f"stock {item.id}: the bell is as deep as the stick is long")


def _card(path: Path, card: CementCard) -> Iterator[Fault]:
    if card.typed_by and card.typed_by == card.read_back_by:
        yield (
            (*path, "read_back_by"),
            BadInput(
                f"cement card {card.id} was typed and read back by the same person",
                allowed="two different people",
                next="let somebody else read it back against the photo",
            ),
        )
    for i, row in enumerate(card.rows):
        if row.kind == CURE and row.pressure_max is None:
            yield (
                (*path, "rows", i, "pressure_max"),
                BadInput(
                    f"cement card {card.id}: a cure row without pressure_max",
                    allowed="the highest pressure its column is printed for",
                    next="add pressure_max to this row",
                ),
            )


def _offcuts(settings: Settings) -> Iterator[Fault]:
    for i, offcut in enumerate(settings.offcuts):
        item = settings.stock_item(offcut.stock)
        if item is None:
            continue
        if offcut.bell and not item.belled:
            yield ("offcuts", i, "bell"), BadInput(f"offcut {offcut.id} has a bell, its stock has plain ends")
        longest = item.overall if item.overall is not None else 2 * item.length
        if offcut.length > longest + 1e-6:
            yield (
                ("offcuts", i, "length"),
                BadInput(f"offcut {offcut.id} is longer than a stick of {item.id}", next="tape it again"),
            )
