"""A store in one SQLite file: WAL, every commit synced to the disk, triggers that let nothing be changed."""

from __future__ import annotations

import contextlib
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from lineproof.floor.errors import BadInput, Place
from lineproof.logbook.entry import Entry, is_uuid, parse
from lineproof.logbook.packed import packed, sealed, unpacked
from lineproof.logbook.schema import bring_up, level, refuse_foreign
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.sqlite_care import damaged, refuse_foreign_wal, told, warnings
from lineproof.logbook.store import NO_RECEIPT, Head, Receipt, Stored, Taken, next_receipt, read_receipt

WAIT_S = 60.0
"""How long a writer waits for the others. [s]"""

SHELF = "files"
_PAGES = 1000  # of the WAL before it is worked into the file

_RECEIPTS = "SELECT number, raw, heads, seal FROM receipt "
_Row = tuple[int, bytes, bytes, bytes]


def _now() -> datetime:
    return datetime.now(UTC)


class SqliteStore:
    """The logbook of a job in a file, with its shelf of files in the folder ``files`` beside it.

    One object serves one thread; any number of processes may have the file open.

    Parameters
    ----------
    path : Path
        The file.
    job : str
        UUID of the job; needed for a new file. An old one must be of this job.
    clock : callable
        Gives the time of receipts, UTC.

    Raises
    ------
    BadInput
        It is not there and no job is given, is not a logbook, is damaged, is of another job or of newer
        software, or cannot be written.
    """

    def __init__(self, path: Path, *, job: str = "", clock: Callable[[], datetime] = _now) -> None:
        self.path = path
        self.warnings = warnings(path)
        self._clock = clock
        self._depth = 0
        self._marked = False
        self._newest = NO_RECEIPT  # as last seen; looked at again by its seal
        if job and not is_uuid(job):
            raise BadInput(f"{job[:40]!r} is not a job", allowed="a UUID")
        if not job and not path.is_file():
            raise BadInput("there is no logbook yet", next="write the first entry", place=Place(path.name))
        refuse_foreign_wal(self.warnings, path.name)
        with told(path.name):
            self._db = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
        try:
            with told(path.name):
                self._open(job)
        except BaseException:
            self._db.close()
            raise

    def _open(self, job: str) -> None:
        db = self._db
        refuse_foreign(db, self.path.name)
        db.execute("PRAGMA synchronous = FULL")
        db.execute("PRAGMA recursive_triggers = ON")
        db.execute("PRAGMA trusted_schema = OFF")
        db.execute(f"PRAGMA wal_autocheckpoint = {_PAGES}")
        if level(db) == 0 and not job:
            raise BadInput(
                "the file holds no logbook", next="write the first entry", place=Place(self.path.name)
            )
        with self.lock():
            refuse_foreign(db, self.path.name)  # another process may have come first
            bring_up(db, job=job)
        # Only now: the header with its mark is then in the file itself before there is a WAL.
        self._patiently("PRAGMA journal_mode = WAL")
        row = db.execute("SELECT value FROM about WHERE what = 'job'").fetchone()
        self.job = str(row[0]) if row else ""
        if job and self.job != job:
            raise BadInput(
                f"this logbook is of another job ({self.job})",
                allowed=f"that of job {job}",
                place=Place(self.path.name),
            )

    def _patiently(self, sql: str) -> None:
        """Run what SQLite does not wait for by itself when several open a new file at once."""
        deadline = time.monotonic() + WAIT_S
        while True:
            try:
                self._db.execute(sql)
                return
            except sqlite3.OperationalError as error:
                if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > deadline:
                    raise
                time.sleep(0.01)

    def close(self) -> None:
        """Put the file at rest."""
        with contextlib.suppress(sqlite3.Error):
            if self._marked:
                self._set_mark(in_use=False)
        self._db.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @contextlib.contextmanager
    def lock(self) -> Iterator[None]:
        """Nobody else appends while this is held; appends inside it stand or fall together."""
        if self._depth:
            yield
            return
        with told(self.path.name):
            self._db.execute("BEGIN IMMEDIATE")
            self._depth = 1
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                with contextlib.suppress(sqlite3.Error):
                    if self._db.in_transaction:
                        self._db.execute("ROLLBACK")
                raise
            finally:
                self._depth = 0

    def append(self, entries: Sequence[Entry], *, merged: Sequence[str] = ()) -> Taken:
        """Take entries, all or none; once this returns they are on the disk.

        Parameters
        ----------
        entries : sequence of Entry
            Those already known are passed over.
        merged : sequence of str
            Head seals of the two sides of a merge; a receipt is then written even if nothing is new.

        Returns
        -------
        Taken

        Raises
        ------
        BadInput
            An entry is of another job, or the file cannot be written; then nothing was.
        """
        for entry in entries:
            if entry.job != self.job:
                raise BadInput(
                    f"the entry {entry.id} is of another job ({entry.job})", allowed=f"job {self.job}"
                )
        if not self._marked and not self._depth:
            self._mark()
        with self.lock():
            return self._append(entries, merged)

    def _mark(self) -> None:
        """Say in the file itself that it is in use, so that a copy without its WAL is known for one."""
        with told(self.path.name):
            self._set_mark(in_use=True)
            self._db.execute("PRAGMA wal_checkpoint(PASSIVE)")
            self._set_mark(in_use=True)  # once more, so that the mark stands in the WAL too
        self._marked = True

    def _set_mark(self, *, in_use: bool) -> None:
        mark = int(self._db.execute("PRAGMA user_version").fetchone()[0])
        self._db.execute(f"PRAGMA user_version = {mark & ~1 | in_use}")

    def _append(self, entries: Sequence[Entry], merged: Sequence[str]) -> Taken:
        before = self._latest()
        arrival = before.entries
        ends = {head.seal: head for head in before.heads}
        known = 0
        new: list[str] = []
        forked: list[str] = []
        for entry in entries:
            there, taken, followed = self._around(entry)
            if there is not None:
                known = max(known, there)
                continue
            arrival += 1
            new.append(entry.id)
            if taken:
                forked.append(entry.id)
            ends.pop(entry.previous, None)
            if not followed:
                ends[entry.seal] = Head(entry.writer, entry.sequence, entry.seal)
            self._db.execute(
                "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    arrival, before.number + 1, int(taken), entry.id, entry.writer, entry.sequence,
                    bytes.fromhex(entry.seal), entry.raw,
                ),
            )  # fmt: skip
        if not new and not merged:
            return Taken(self._numbered(known))
        after = next_receipt(before, ends.values(), received_at=self._clock(), new=len(new), merged=merged)
        self._db.execute(
            "INSERT INTO receipt VALUES (?, ?, ?, ?)",
            (after.number, after.raw, packed(after.heads), bytes.fromhex(after.seal)),
        )
        self._newest = after
        return Taken(after, tuple(new), tuple(forked))

    def _around(self, entry: Entry) -> tuple[int | None, bool, bool]:
        """The receipt of an entry already here; whether its id or place is taken; whether one follows it."""
        seal = bytes.fromhex(entry.seal)
        there: int | None = None
        taken = followed = False
        near = self._db.execute(
            "SELECT sequence, seal, receipt, raw FROM entry WHERE writer = ? AND sequence IN (?, ?)",
            (entry.writer, entry.sequence, entry.sequence + 1),
        ).fetchall()
        for sequence, other, receipt, raw in near:
            if sequence != entry.sequence:
                followed = followed or parse(raw).previous == entry.seal
            elif other == seal:
                there = receipt
            else:
                taken = True
        if there is None and not taken:
            same = self._db.execute("SELECT 1 FROM entry WHERE forked = 0 AND id = ?", (entry.id,))
            taken = same.fetchone() is not None
        return there, taken, followed

    def read_since(self, receipt: int = 0) -> Iterator[Stored]:
        """Entries taken after a receipt, in the order of arrival.

        Parameters
        ----------
        receipt : int
            Number of a receipt; 0 reads all. [-]

        Returns
        -------
        iterator of Stored

        Raises
        ------
        EntrySealed
            An entry does not bear its seal.
        BadInput
            There is no such receipt, or the file is damaged.
        """
        with told(self.path.name):
            after = 0
            if receipt:
                after = self._numbered(receipt).entries
            rows = self._db.execute(
                "SELECT arrival, receipt, seal, raw FROM entry WHERE arrival > ? ORDER BY arrival", (after,)
            )
            for arrival, number, seal, raw in rows:
                yield Stored(sealed(raw, seal, arrival), number, arrival)

    def heads(self) -> tuple[Head, ...]:
        """Ends of all chains, in order."""
        return self.receipt().heads

    def receipt(self, number: int | None = None) -> Receipt:
        """The newest receipt, or that of a number; number 0 for an empty store.

        Parameters
        ----------
        number : int, optional
            [-]

        Returns
        -------
        Receipt

        Raises
        ------
        BadInput
            There is no receipt of that number.
        EntrySealed
            It does not bear its seal.
        """
        with told(self.path.name):
            if number is not None:
                return self._numbered(number)
            return self._latest()

    def files(self) -> Shelf:
        """The shelf of photos and documents beside the file."""
        return Shelf(self.path.parent / SHELF)

    def rows(self) -> Iterator[tuple[int, int, str, str, int, bytes, bytes]]:
        """Entries as the columns have them, in the order of arrival; for verification.

        Returns
        -------
        iterator of tuple
            Arrival, receipt, id, writer, sequence, seal, bytes.
        """
        with told(self.path.name):
            yield from self._db.execute(
                "SELECT arrival, receipt, id, writer, sequence, seal, raw FROM entry ORDER BY arrival"
            )

    def receipt_rows(self) -> Iterator[tuple[int, bytes, bytes, bytes]]:
        """Number, bytes, heads and seal of the receipts, in order; for verification."""
        with told(self.path.name):
            yield from self._db.execute(_RECEIPTS + "ORDER BY number")

    def read_heads(self, heads: bytes) -> tuple[Head, ...]:
        """Heads as the file keeps them."""
        return unpacked(heads)

    def sound(self) -> str:
        """What SQLite finds wrong with its own file; empty if nothing is."""
        try:
            with told(self.path.name):
                said = self._db.execute("PRAGMA quick_check(1)").fetchone()[0]
        except BadInput as error:
            return str(error)
        return "" if said == "ok" else str(damaged(self.path.name))

    def seals_at(self, writer: str, sequence: int) -> tuple[str, ...]:
        """Seals of the entries at one place of one chain, in the order of arrival.

        Parameters
        ----------
        writer : str
            UUID.
        sequence : int
            [-]

        Returns
        -------
        tuple of str
        """
        with told(self.path.name):
            rows = self._db.execute(
                "SELECT seal FROM entry WHERE writer = ? AND sequence = ? ORDER BY arrival",
                (writer, sequence),
            )
            return tuple(row[0].hex() for row in rows)

    def receipt_of(self, seal: str, writer: str, sequence: int) -> int:
        """The receipt an entry was taken with; 0 if it is not here. [-]

        Parameters
        ----------
        seal, writer : str
        sequence : int
            [-]

        Returns
        -------
        int
        """
        with told(self.path.name):
            row = self._db.execute(
                "SELECT receipt FROM entry WHERE writer = ? AND sequence = ? AND seal = ?",
                (writer, sequence, bytes.fromhex(seal)),
            ).fetchone()
        return int(row[0]) if row else 0

    @property
    def connection(self) -> sqlite3.Connection:
        """The open file, for backup and verification; nothing else reads or writes it."""
        return self._db

    def _latest(self) -> Receipt:
        row = self._db.execute("SELECT number, seal FROM receipt ORDER BY number DESC LIMIT 1").fetchone()
        if row is None:
            return NO_RECEIPT
        if (self._newest.number, self._newest.seal) != (row[0], row[1].hex()):
            self._newest = self._numbered(row[0])
        return self._newest

    def _numbered(self, number: int) -> Receipt:
        if number == 0:
            return NO_RECEIPT
        row = self._db.execute(_RECEIPTS + "WHERE number = ?", (number,)).fetchone()
        if row is None:
            raise self._no_receipt(number)
        return self._receipt(row)

    def _no_receipt(self, number: int) -> BadInput:
        return BadInput(f"there is no receipt {number}", next="ask for one that the logbook has given")

    def _receipt(self, row: _Row | None) -> Receipt:
        if row is None:
            return NO_RECEIPT
        number, raw, heads, seal = row
        previous = NO_RECEIPT.seal
        if number > 1:
            before = self._db.execute("SELECT seal FROM receipt WHERE number = ?", (number - 1,)).fetchone()
            previous = bytes(before[0]).hex() if before else ""
        return read_receipt(raw, unpacked(heads), previous=previous, seal=seal.hex())
