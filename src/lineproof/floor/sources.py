"""Where numbers come from: sources, cells, and the log of what was read.

Standing says how a value came to us. FOUND: read in a copy, reprint or library that is named.
DERIVED: computed by a stated formula. MEMORY: general knowledge, not read in the document.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from enum import StrEnum


class Standing(StrEnum):
    """How a value came to us."""

    FOUND = "FOUND"
    DERIVED = "DERIVED"
    MEMORY = "MEMORY"


class Kind(StrEnum):
    """What was actually read."""

    STANDARD = "standard"
    REPRINT = "reprint"
    LIBRARY = "library"
    SECONDARY = "secondary"
    FORMULA = "formula"
    NONE = "not read"
    USER = "user entry"


@dataclass(frozen=True, slots=True)
class Source:
    """The document behind a table.

    Parameters
    ----------
    designation, edition, table : str
        Standard number, its edition, and the table in our words.
    standing : Standing
        The weakest standing in the table; a row may say its own.
    kind : Kind
        What was actually read.
    read_in : str
        In words: the copy, reprint or library that was on the desk.
    transcribed_by, checked_by : str
        First and second reader; an empty second reader means unchecked.
    """

    designation: str
    edition: str
    table: str
    standing: Standing
    kind: Kind = Kind.NONE
    read_in: str = ""
    transcribed_by: str = ""
    checked_by: str = ""

    def __str__(self) -> str:
        return " ".join(p for p in (self.designation, self.edition, self.table) if p)


@dataclass(frozen=True, slots=True)
class Cell:
    """One value read from a table, as it was read.

    Parameters
    ----------
    table : str
        Folder name of the table, such as ``"astm_d2467"``.
    row : str
        Key of the row, such as ``"12"``.
    column : str
        Name of the column, with its unit.
    value : float or str or None
        The value as printed, in the unit of the column name; None where the table has none.
    standing : Standing
        Standing of this value.
    source : Source
        The table's source.
    row_hash : str
        Hash of the row as stored; a confirmation is keyed by table, edition and this hash.
    confirmed : bool
        True if FOUND or DERIVED from found values, or confirmed by a named person.
    """

    table: str
    row: str
    column: str
    value: float | str | None
    standing: Standing
    source: Source
    row_hash: str
    confirmed: bool

    @property
    def key(self) -> tuple[str, str, str]:
        """Table, row and column."""
        return (self.table, self.row, self.column)


@dataclass(slots=True)
class Reading:
    """The log of cells read on the way to one answer; passed down into look-ups."""

    cells: dict[tuple[str, str, str], Cell] = field(default_factory=dict)

    def log(self, cell: Cell) -> Cell:
        """Note that a cell was read and hand it back."""
        self.cells[cell.key] = cell
        return cell

    def add(self, other: Reading | Collection[Cell]) -> None:
        """Take over everything another reading logged."""
        for cell in other.cells.values() if isinstance(other, Reading) else other:
            self.cells[cell.key] = cell

    def unconfirmed(self) -> tuple[Cell, ...]:
        """The cells that rest on memory and that nobody has confirmed."""
        return tuple(c for c in self.cells.values() if not c.confirmed)

    def weakest(self) -> Standing:
        """The weakest standing among what was read; FOUND if nothing was."""
        order = (Standing.MEMORY, Standing.DERIVED, Standing.FOUND)
        seen = {c.standing for c in self.cells.values()}
        return next((s for s in order if s in seen), Standing.FOUND)

    def as_tuple(self) -> tuple[Cell, ...]:
        """The cells in order of table, row and column."""
        return tuple(self.cells[k] for k in sorted(self.cells))

    def __iter__(self) -> Iterator[Cell]:
        return iter(self.cells.values())
