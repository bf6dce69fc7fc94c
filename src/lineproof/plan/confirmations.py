"""The fewest table rows that, once confirmed, would clear the most: a greedy cover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lineproof.checks.registry import MAKING, all_checks
from lineproof.floor.sources import Cell
from lineproof.floor.verdicts import Finding, Verdict

RowKey = tuple[str, str, str, str]
"""Table, edition, row hash, row."""


@dataclass(frozen=True, slots=True)
class Confirm:
    """One table and the rows of it that clear something together.

    Parameters
    ----------
    table, designation, edition : str
        Folder name, and the document behind it (the table's own words, where its rows have several).
    rows : tuple of str
        Keys of the rows to compare with the open document.
    hashes : tuple of str
        Their hashes, in the same order: what a confirmation is keyed by.
    clears : tuple of str
        Subjects that are cleared with it, all earlier ones of the list confirmed as well.
    joints : tuple of str
        Joints that have nothing against them any more.
    """

    table: str
    designation: str
    edition: str
    rows: tuple[str, ...]
    hashes: tuple[str, ...]
    clears: tuple[str, ...]
    joints: tuple[str, ...]


TableKey = tuple[str, str]


def _table(cell: Cell) -> TableKey:
    return (cell.table, cell.source.edition)


def fewest_confirmations(findings: Iterable[Finding]) -> tuple[Confirm, ...]:
    """Tables to open, each with its rows, in the order that clears the most soonest.

    Parameters
    ----------
    findings : iterable of Finding
        One a cause, not merged.

    Returns
    -------
    tuple of Confirm
        Empty if nothing waits for a confirmation. Where no single table clears anything alone, the table
        that the most findings wait for comes first.
    """
    every = list(findings)
    checks = all_checks()
    waits: dict[int, set[TableKey]] = {}
    for n, f in enumerate(every):
        open_cells = f.unverified
        if open_cells and f.facts.get("once_confirmed") == Verdict.GO.name:
            waits[n] = {_table(c) for c in open_cells}
    against: dict[str, set[int]] = {}
    for n, f in enumerate(every):
        if f.verdict is Verdict.GO or checks[f.id].stage not in MAKING:
            continue
        for joint in _joints(f):
            against.setdefault(joint, set()).add(n)
    done: set[TableKey] = set()
    cleared: set[int] = set()
    steps: list[Confirm] = []
    while len(cleared) < len(waits):
        left = {n: tables - done for n, tables in waits.items() if n not in cleared}
        choices = {t for tables in left.values() for t in tables}

        def gain(table: TableKey, left: dict[int, set[TableKey]] = left) -> tuple[int, int, int, TableKey]:
            alone = [n for n, tables in left.items() if tables == {table}]
            joints = sum(len(_joints(every[n])) for n in alone if checks[every[n].id].stage in MAKING)
            waiting = sum(table in tables for tables in left.values())
            return (joints, len(alone), waiting, table)

        best = max(choices, key=gain)
        done.add(best)
        now = [n for n, tables in left.items() if tables <= done]
        cleared |= set(now)
        free = tuple(
            joint
            for joint, findings_of in against.items()
            if findings_of & set(now) and findings_of <= cleared
        )
        cells = {c.row: c for n in left for c in every[n].unverified if _table(c) == best}
        source = next(iter(cells.values())).source
        named = source.table if source.designation == "several" else source.designation
        steps.append(
            Confirm(
                best[0], named, best[1], tuple(cells),
                tuple(c.row_hash for c in cells.values()),
                tuple(dict.fromkeys(every[n].subject for n in now)), free,
            )
        )  # fmt: skip
    return tuple(steps)


def _joints(f: Finding) -> tuple[str, ...]:
    joints = f.facts.get("joints", ())
    return joints if isinstance(joints, tuple) else ()
