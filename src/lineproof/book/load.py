"""The book of tables: one CSV a table, read once, handed out cell by cell with its source.

A table is a folder under ``book/tables`` with ``table.csv`` (values as printed, in the document's own
unit) and ``source.toml`` (the document, what was read, the meaning of each column). An empty cell means
*not listed*; it is never 0 and never guessed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast

from lineproof.book.table import Table, read_table, to_si
from lineproof.floor.errors import OurFault, SizeNotListed
from lineproof.floor.sources import Cell, Reading, Standing

T = TypeVar("T")

TABLES = Path(__file__).parent / "tables"

# A confirmation: table folder, edition, row hash. The value was retyped from the open document.
Confirmation = tuple[str, str, str]
CellKey = tuple[str, str, str]


class Shelf:
    """The folders of tables on disk; each is read at most once.

    Parameters
    ----------
    root : Path
        Folder that holds the table folders.
    """

    def __init__(self, root: Path) -> None:
        self.root = root
        self.reads: Counter[str] = Counter()
        self._tables: dict[str, Table] = {}

    def names(self) -> tuple[str, ...]:
        """Names of all tables, sorted."""
        return tuple(sorted(p.parent.name for p in self.root.glob("*/table.csv")))

    def table(self, name: str) -> Table:
        """The table of that name, read from disk the first time."""
        found = self._tables.get(name)
        if found is None:
            folder = self.root / name
            if not (folder / "table.csv").is_file():
                raise OurFault(f"there is no table {name}", allowed=", ".join(self.names()))
            self.reads[name] += 1
            found = self._tables[name] = read_table(folder)
        return found


@cache
def _shelf(root: Path) -> Shelf:
    return Shelf(root)


@dataclass(frozen=True, eq=False)
class Book:
    """All tables with the confirmations held for a job. Never changes: ``with_...`` gives a copy.

    Parameters
    ----------
    shelf : Shelf
        Where the tables are.
    confirmed : frozenset
        Confirmations held: (table, edition, row hash).
    standings : mapping
        Standing forced on single cells; such a cell is confirmed only if FOUND (for tests).
    """

    shelf: Shelf
    confirmed: frozenset[Confirmation] = frozenset()
    standings: Mapping[CellKey, Standing] = field(default_factory=dict)
    _cells: dict[CellKey, Cell] = field(default_factory=dict, init=False, repr=False)
    _known: dict[object, tuple[Any, tuple[Cell, ...]]] = field(default_factory=dict, init=False, repr=False)

    @classmethod
    def load(cls, confirmed: Collection[Confirmation] = frozenset(), *, root: Path = TABLES) -> Book:
        """The book with these confirmations; tables are read when first asked for.

        Parameters
        ----------
        confirmed : collection of (str, str, str)
            Table, edition and row hash of each confirmed row.
        root : Path
            Folder of the tables.

        Returns
        -------
        Book
            The book.
        """
        return cls(_shelf(root), frozenset(confirmed))

    def with_standing(self, changed: Mapping[CellKey, Standing]) -> Book:
        """A copy in which these cells have another standing and no confirmation.

        Parameters
        ----------
        changed : mapping
            (table, row, column) to standing.

        Returns
        -------
        Book
            The copy.
        """
        return Book(self.shelf, self.confirmed, {**self.standings, **changed})

    def with_confirmations(self, held: Collection[Confirmation]) -> Book:
        """A copy that holds these confirmations as well.

        Parameters
        ----------
        held : collection of (str, str, str)
            Table, edition and row hash of each confirmed row.

        Returns
        -------
        Book
            The copy.
        """
        return Book(self.shelf, self.confirmed | frozenset(held), self.standings)

    @property
    def reads(self) -> Mapping[str, int]:
        """How often each table was read from disk."""
        return self.shelf.reads

    def tables(self) -> tuple[str, ...]:
        """Names of all tables."""
        return self.shelf.names()

    def table(self, name: str) -> Table:
        """One table with all its rows."""
        return self.shelf.table(name)

    def keys(self, table: str) -> tuple[str, ...]:
        """Row keys of a table, in the order of the file."""
        return tuple(self.table(table).rows)

    def has(self, table: str, row: str) -> bool:
        """Whether the table lists that row."""
        return row in self.table(table).rows

    def peek(self, table: str, row: str, column: str) -> Cell:
        """A cell without logging it: for lists and choices only, never for an answer.

        Parameters
        ----------
        table, row, column : str
            Where it stands.

        Returns
        -------
        Cell
            The cell; its value is None where the table has none.

        Raises
        ------
        SizeNotListed
            If the table has no such row; the listed neighbours are named.
        OurFault
            If there is no such table or column.
        """
        known = self._cells.get((table, row, column))
        if known is not None:
            return known
        where = self.table(table)
        line = where.rows.get(row)
        if line is None:
            raise self._not_listed(where, row)
        if column not in where.columns:
            raise OurFault(f"table {table} has no column {column}", allowed=", ".join(where.columns))
        forced = self.standings.get((table, row, column))
        standing = forced or where.standing_of(line, column)
        if forced is not None:
            confirmed = forced is Standing.FOUND
        else:
            confirmed = (
                where.stands_on_found(column, standing)
                or (table, line.source.edition, line.hash) in self.confirmed
            )
        cell = Cell(
            table=table,
            row=row,
            column=column,
            value=line.values[column],
            standing=standing,
            source=line.source,
            row_hash=line.hash,
            confirmed=confirmed,
        )
        self._cells[cell.key] = cell
        return cell

    def cell(self, table: str, row: str, column: str, reading: Reading) -> Cell:
        """A cell, logged as read; an empty one is not logged, for nothing was read.

        Parameters
        ----------
        table, row, column : str
            Where it stands.
        reading : Reading
            The log of the answer it is read for.

        Returns
        -------
        Cell
            The cell; its value is None where the table has none.

        Raises
        ------
        SizeNotListed
            If the table has no such row; the listed neighbours are named.
        """
        cell = self.peek(table, row, column)
        if cell.value is not None:
            reading.log(cell)
        return cell

    def number(self, table: str, row: str, column: str, reading: Reading) -> float:
        """A value in SI, logged as read.

        Parameters
        ----------
        table, row, column : str
            Where it stands.
        reading : Reading
            The log of the answer it is read for.

        Returns
        -------
        float
            The value, by the unit at the end of the column name. [SI]

        Raises
        ------
        SizeNotListed
            If the row is not there or the cell is empty.
        """
        value = self.maybe_number(table, row, column, reading)
        if value is None:
            where = self.table(table)
            if row not in where.rows:
                raise self._not_listed(where, row)
            raise SizeNotListed(
                f"{where.columns[column]} is not listed for {row}",
                by=str(where.source),
                next="measure it and enter what you measured",
            )
        return value

    def maybe_number(self, table: str, row: str, column: str, reading: Reading) -> float | None:
        """A value in SI, or None where the row is not there or the cell is empty.

        Parameters
        ----------
        table, row, column : str
            Where it stands.
        reading : Reading
            The log of the answer it is read for.

        Returns
        -------
        float or None
            The value. [SI]
        """
        if row not in self.table(table).rows:
            return None
        value = self.cell(table, row, column, reading).value
        if value is None:
            return None
        if not isinstance(value, float):
            raise OurFault(f"table {table}, row {row}: {column} is {value!r}, not a number")
        return to_si(column, value)

    def text(self, table: str, row: str, column: str, reading: Reading) -> str:
        """A value as text, logged as read; empty where the table has none."""
        value = self.cell(table, row, column, reading).value
        return "" if value is None else f"{value:g}" if isinstance(value, float) else value

    def plain(self, table: str, row: str, column: str) -> float:
        """A number as printed, for finding the right row; not logged.

        Parameters
        ----------
        table, row, column : str
            Where it stands.

        Returns
        -------
        float
            The number. [unit of the column]
        """
        value = self.peek(table, row, column).value
        if not isinstance(value, float):
            raise OurFault(f"table {table}, row {row}: {column} is {value!r}, not a number")
        return value

    def once(self, ask: object, reading: Reading, find: Callable[[Reading], T]) -> T:
        """Answer a look-up from memory if it was asked before, and log the same cells again.

        Parameters
        ----------
        ask : hashable
            The question: function name and arguments.
        reading : Reading
            The log of the answer it is read for.
        find : callable
            Finds the answer, logging into the reading it is given.

        Returns
        -------
        object
            What ``find`` gave.
        """
        known = self._known.get(ask)
        if known is None:
            log = Reading()
            value = find(log)
            known = self._known[ask] = (value, tuple(log))
        reading.add(known[1])
        return cast("T", known[0])

    def all_cells(self, table: str) -> Iterator[Cell]:
        """Every cell of a table that holds a value, keys and standing apart; not logged."""
        where = self.table(table)
        for row, line in where.rows.items():
            for column in where.value_columns:
                if line.values[column] is not None:
                    yield self.peek(table, row, column)

    def every_confirmation(self) -> frozenset[Confirmation]:
        """A confirmation for every row of every table: what a fully checked book would hold."""
        return frozenset(
            (name, row.source.edition, row.hash)
            for name in self.tables()
            for row in self.table(name).rows.values()
        )

    def _not_listed(self, table: Table, row: str) -> SizeNotListed:
        return SizeNotListed(
            f"{row} is not listed ({', '.join(table.key)})",
            allowed=neighbours(tuple(table.rows), row),
            by=str(table.source),
            next="check the size and the standard, or measure and enter what you measured",
        )


def neighbours(keys: Collection[str], row: str) -> str:
    """The listed keys next to one that is not: below and above in size, the rest of the key equal.

    Parameters
    ----------
    keys : collection of str
        The keys listed.
    row : str
        The key asked for.

    Returns
    -------
    str
        In words, such as ``"8/80, 10/80"``; every key where the first part is no number.
    """
    head, _, rest = row.partition("/")
    same = [k for k in keys if k.partition("/")[2] == rest]
    try:
        asked = float(head)
        sized = sorted((float(k.partition("/")[0]), k) for k in same)
    except ValueError:
        return ", ".join(keys)
    below = [k for size, k in sized if size < asked][-1:]
    above = [k for size, k in sized if size > asked][:1]
    if below or above:
        return ", ".join(below + above)
    # nothing with the same rest: name what is listed for this size
    return ", ".join(k for k in keys if k.partition("/")[0] == head) or f"{len(keys)} other rows"


@cache
def book() -> Book:
    """The book without any confirmation, shared by the whole run."""
    return Book.load()
