"""Tables of the SQLite logbook: numbered steps, each recorded in the transaction it ran in, only adding."""

from __future__ import annotations

import secrets
import sqlite3
from datetime import UTC, datetime

from lineproof.floor.errors import BadInput, Place
from lineproof.logbook.entry import moment_text

APPLICATION = 0x4C50_4C42  # LPLB in the header of the file: this is a logbook


def _guard(table: str, taken: str) -> str:
    """Triggers that stop a change, a removal, and an insert over a row that is there."""
    return f"""
CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table}
BEGIN SELECT RAISE(ABORT, 'the logbook is only added to: nothing in {table} is changed'); END;
CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table}
BEGIN SELECT RAISE(ABORT, 'the logbook is only added to: nothing in {table} is taken out'); END;
CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} WHEN {taken}
BEGIN SELECT RAISE(ABORT, 'the logbook is only added to: nothing in {table} is written over'); END;
"""


_FIRST = (
    """
CREATE TABLE about (
    what TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- raw: the receipt as written; seal: SHA-256 of the seal before and raw.
-- heads: 56 bytes for each end of a chain: writer 16, sequence 8 (big end first), seal 32.
CREATE TABLE receipt (
    number INTEGER PRIMARY KEY,
    raw BLOB NOT NULL,
    heads BLOB NOT NULL,
    seal BLOB NOT NULL CHECK (length(seal) = 32)
) STRICT;

-- raw: the entry as written; seal: SHA-256 of its writer's seal before and raw.
-- forked: 1 if at arrival its id, or its place in its chain, was already taken.
CREATE TABLE entry (
    arrival INTEGER PRIMARY KEY,
    receipt INTEGER NOT NULL,
    forked INTEGER NOT NULL CHECK (forked IN (0, 1)),
    id TEXT NOT NULL,
    writer TEXT NOT NULL,
    sequence INTEGER NOT NULL,
    seal BLOB NOT NULL CHECK (length(seal) = 32),
    raw BLOB NOT NULL
) STRICT;
CREATE UNIQUE INDEX entry_by_id ON entry (id) WHERE forked = 0;
CREATE INDEX entry_by_id_forked ON entry (id) WHERE forked = 1;
CREATE INDEX entry_by_place ON entry (writer, sequence);
"""
    + _guard("about", "EXISTS (SELECT 1 FROM about WHERE what = NEW.what)")
    + _guard("receipt", "EXISTS (SELECT 1 FROM receipt WHERE number = NEW.number)")
    + _guard(
        "entry",
        "EXISTS (SELECT 1 FROM entry WHERE arrival = NEW.arrival)"
        " OR (NEW.forked = 0 AND EXISTS (SELECT 1 FROM entry WHERE forked = 0 AND id = NEW.id))",
    )
)

STEPS: tuple[tuple[int, str, str], ...] = ((1, "entries, receipts, guards", _FIRST),)
"""Number, name and SQL of each step."""


def new_mark() -> int:
    """A number for the header of a new file, so that a WAL of another file is known for foreign.

    Its lowest bit says whether somebody is writing: a copy taken then, without its WAL, is known for one.

    Returns
    -------
    int
        Even. [-]
    """
    return 2 * (1 + secrets.randbelow(2**30 - 1))


def level(db: sqlite3.Connection) -> int:
    """The last step taken; 0 for an empty file.

    Parameters
    ----------
    db : Connection

    Returns
    -------
    int
        [-]
    """
    if not db.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'schema_step'").fetchone():
        return 0
    return int(db.execute("SELECT max(number) FROM schema_step").fetchone()[0] or 0)


def refuse_foreign(db: sqlite3.Connection, name: str) -> None:
    """Refuse a file that is no logbook, or one that newer software has gone on with.

    Parameters
    ----------
    db : Connection
    name : str
        How errors call the file.

    Raises
    ------
    BadInput
        With the reason.
    """
    # In this order: another process may be making the file, and the mark comes with the tables.
    filled = db.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone() is not None
    mark = int(db.execute("PRAGMA application_id").fetchone()[0])
    if filled and mark != APPLICATION:
        raise BadInput(
            "this is a database, but not a logbook", next="name the logbook of the job", place=Place(name)
        )
    found = level(db)
    if found > STEPS[-1][0]:
        raise BadInput(
            f"the logbook was gone on with by newer software (tables of step {found})",
            allowed=f"tables up to step {STEPS[-1][0]}",
            next="install the newer Lineproof; nothing was changed",
            place=Place(name),
        )


def bring_up(db: sqlite3.Connection, *, job: str) -> None:
    """Take the steps that are missing. The caller holds the file locked, so that they stand or fall together.

    Parameters
    ----------
    db : Connection
        Inside a transaction.
    job : str
        UUID of the job, for a new file.
    """
    found = level(db)
    if found == 0:
        db.execute(f"PRAGMA application_id = {APPLICATION}")
        db.execute(f"PRAGMA user_version = {new_mark()}")
        db.execute(
            "CREATE TABLE schema_step"
            " (number INTEGER PRIMARY KEY, name TEXT NOT NULL, taken_at TEXT NOT NULL) STRICT"
        )
    for number, name, sql in STEPS:
        if number <= found:
            continue
        for statement in statements(sql):
            db.execute(statement)
        now = moment_text(datetime.now(UTC))
        db.execute("INSERT INTO schema_step VALUES (?, ?, ?)", (number, name, now))
    if found == 0:
        db.execute("INSERT INTO about VALUES ('job', ?)", (job,))


def statements(sql: str) -> list[str]:
    """The statements of a step, one by one: a script would end the transaction it runs in."""
    found: list[str] = []
    part = ""
    for line in sql.splitlines(keepends=True):
        part += line
        if sqlite3.complete_statement(part):
            if part.strip():
                found.append(part)
            part = ""
    return found
