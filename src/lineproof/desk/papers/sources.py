"""Sources and unverified values: tables read with edition and standing, and what nobody has confirmed."""

from __future__ import annotations

from collections import Counter

from lineproof.desk.papers import words
from lineproof.floor.sources import Cell, Source, Standing
from lineproof.plan.pack import Pack

ROWS_PER_TABLE = 14


def source_sheet(pack: Pack) -> dict[str, object]:
    """Tables read and values not confirmed.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    dict
        For ``templates/sources.typ``.
    """
    cells = pack.cells()
    tables: dict[str, list[Cell]] = {}
    for c in cells:
        tables.setdefault(c.table, []).append(c)
    settings = pack.work.job.settings
    return {
        "kind": "sources",
        "name": "Sources",
        "where": "tables read, and values nobody has confirmed",
        "tables": [_table(name, found) for name, found in tables.items()],
        "unverified": [r for name, found in tables.items() if (r := _unverified(name, found))],
        "cards": [
            [
                c.id, f"{c.product}, {c.source or 'source not said'}",
                f"typed by {_who(pack, c.typed_by)}, read back by {_who(pack, c.read_back_by)}"
                + ("" if c.read_back else ": NOT READ BACK by a second person"),
            ]
            for c in settings.cards
        ],
        "code": list(settings.code_basis.documents), "wins": settings.code_basis.wins,
        "inputs": [[name, digest[:16]] for name, digest in pack.work.job.inputs],
        "both": settings.signs.one_person_both,
    }  # fmt: skip


def _who(pack: Pack, person: str) -> str:
    found = pack.work.job.settings.person(person)
    return found.name if found is not None else person or "nobody"


def _table(name: str, cells: list[Cell]) -> dict[str, str]:
    source: Source = cells[0].source
    standing = Counter(c.standing for c in cells)
    weakest = next(s for s in (Standing.MEMORY, Standing.DERIVED, Standing.FOUND) if standing[s])
    return {
        "what": " ".join(x for x in (source.designation, source.edition) if x) or name,
        "table": source.table,
        "standing": weakest.value,
        "read": f"{source.kind.value}{': ' + source.read_in if source.read_in else ''}",
        "rows": words.listed(_rows(cells), 8),
        "checked": source.checked_by or "no second reader",
    }


def _rows(cells: list[Cell]) -> list[str]:
    return sorted({c.row for c in cells}, key=lambda r: (len(r), r))


def _unverified(name: str, cells: list[Cell]) -> dict[str, str]:
    open_cells = [c for c in cells if not c.confirmed]
    if not open_cells:
        return {}
    values = [f"{c.row} {c.column.replace('_', ' ')} {c.value}" for c in open_cells]
    return {
        "what": str(open_cells[0].source) or name,
        "values": words.listed(values, ROWS_PER_TABLE, "; "),
        "count": str(len(open_cells)),
    }
