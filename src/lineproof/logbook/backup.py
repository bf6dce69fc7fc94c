"""A copy of the logbook file while others write, read back and verified before it counts."""

from __future__ import annotations

import contextlib
import secrets
import sqlite3
from pathlib import Path

from lineproof.floor.errors import OurFault
from lineproof.job.write import write_whole
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.sqlite_care import told
from lineproof.logbook.sqlite_store import SHELF, SqliteStore
from lineproof.logbook.verify import Checked, verify


def backup(store: SqliteStore, path: Path) -> Checked:
    """Copy a store, files included, and verify the copy.

    Parameters
    ----------
    store : SqliteStore
        Others may go on writing to it.
    path : Path
        The file of the copy; its files go to ``files`` beside it. It appears whole or not at all.

    Returns
    -------
    Checked
        What the verification of the copy says.

    Raises
    ------
    BadInput
        The copy cannot be written.
    OurFault
        The copy does not verify although the original does; it was thrown away.
    """
    shelf, copies = store.files(), Shelf(path.parent / SHELF)
    beside = path.with_name(f".{path.name[:40]}.{secrets.token_hex(6)}")
    try:
        with told(path.name), contextlib.closing(sqlite3.connect(beside, isolation_level=None)) as copy:
            store.connection.backup(copy)
            # The copy is one file at rest: no WAL belongs to it.
            copy.execute("PRAGMA journal_mode = DELETE")
            mark = int(copy.execute("PRAGMA user_version").fetchone()[0])
            copy.execute(f"PRAGMA user_version = {mark & ~1}")
        for digest in shelf.names():
            if not copies.has(digest):
                copies.put(shelf.get(digest))
        with told(path.name), contextlib.closing(_at_rest(beside)) as written:
            if not verify(written).good and verify(store).good:
                raise OurFault("the backup does not verify", next="try again on another disk")
        write_whole(path, beside.read_bytes())
    finally:
        for ending in ("", "-wal", "-shm", "-journal"):
            with contextlib.suppress(OSError):
                beside.with_name(beside.name + ending).unlink()
    with contextlib.closing(SqliteStore(path)) as final:
        return verify(final)


def _at_rest(path: Path) -> SqliteStore:
    return SqliteStore(path)
