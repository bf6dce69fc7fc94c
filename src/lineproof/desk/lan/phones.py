"""Paired phones: codes that pair them, their sessions, and which chain of entries is whose.

They lie in ``.local/phones.db`` of the job folder, readable by its owner alone. Codes and sessions are kept
as SHA-256 only: who reads the file cannot come in with it. What was paired and dropped is told in the
logbook as well; this file only opens doors.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import secrets
import sqlite3
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from lineproof.desk.web.access import Role
from lineproof.floor.errors import BadInput
from lineproof.job.write import why

FILE = Path(".local") / "phones.db"
LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of a code: none that is read for another."""
LENGTH = 8
"""Letters of a code: 40 bits. [-]"""
CODE_LIVES = 600.0
"""How long a code can be used. [s]"""
UNSEEN = 180 * 86400.0
"""A phone that did not come for this long has to be paired again. [s]"""
MOST_OPEN = 30
"""Codes that can be open at once. [-]"""
SEEN_EVERY = 600.0
"""How often it is noted that a phone came. [s]"""

_TABLES = """
CREATE TABLE IF NOT EXISTS codes (
    hash TEXT PRIMARY KEY, person TEXT NOT NULL, roles TEXT NOT NULL, phone TEXT NOT NULL, by TEXT NOT NULL,
    made REAL NOT NULL, ends REAL NOT NULL, used REAL
) STRICT;
CREATE TABLE IF NOT EXISTS phones (
    id TEXT PRIMARY KEY, name TEXT NOT NULL, person TEXT NOT NULL, roles TEXT NOT NULL, session TEXT UNIQUE,
    paired REAL NOT NULL, seen REAL NOT NULL, dropped REAL
) STRICT;
CREATE TABLE IF NOT EXISTS about (word TEXT PRIMARY KEY, told TEXT NOT NULL) STRICT;
CREATE TABLE IF NOT EXISTS chains (
    writer TEXT PRIMARY KEY, phone TEXT NOT NULL, bound REAL NOT NULL
) STRICT;
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Phone:
    """A paired phone or tablet.

    Parameters
    ----------
    id : str
        Such as ``"ph-3f7a2c"``.
    name : str
        What its people call it.
    person : str
        Id in job.toml.
    roles : frozenset of Role
    paired, seen : float
        Seconds since 1970, UTC. [s]
    dropped : float or None
        When its session was ended. [s]
    """

    id: str
    name: str
    person: str
    roles: frozenset[Role]
    paired: float
    seen: float
    dropped: float | None = None


@dataclass(frozen=True, slots=True)
class Offer:
    """A code that pairs one phone once.

    Parameters
    ----------
    code : str
        As it is typed: ``ABCD-2345``.
    ends : float
        Until when. [s]
    """

    code: str
    ends: float


@dataclass(frozen=True, slots=True)
class Paired:
    """A phone that was just paired.

    Parameters
    ----------
    phone : Phone
    session : str
        What its cookie carries; kept nowhere here.
    by : str
        Who made the code.
    again : bool
        It was known before, and keeps its chains.
    """

    phone: Phone
    session: str
    by: str
    again: bool


class Phones:
    """The phones of one job.

    Parameters
    ----------
    folder : Path
        The job folder.
    now : callable
        Seconds since 1970. [s]
    """

    def __init__(self, folder: Path, now: Callable[[], float] = time.time) -> None:
        self.path = folder / FILE
        self.now = now
        self._lock = threading.RLock()
        self._held: sqlite3.Connection | None = None

    def offer(self, person: str, roles: Iterable[Role], *, by: str, phone: str = "") -> Offer:
        """A new code.

        Parameters
        ----------
        person : str
            Id of the person whose phone it will be.
        roles : iterable of Role
        by : str
            Id of who makes it; empty for whoever sits at this machine.
        phone : str
            Id of a phone that is paired again and keeps its chains; empty for a new one.

        Returns
        -------
        Offer

        Raises
        ------
        BadInput
            Too many codes are open.
        """
        code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
        now = self.now()
        with self._changing() as db:
            db.execute("DELETE FROM codes WHERE ends < ? OR used IS NOT NULL", (now,))
            if db.execute("SELECT count(*) FROM codes").fetchone()[0] >= MOST_OPEN:
                raise BadInput(
                    f"{MOST_OPEN} codes are open",
                    allowed="fewer",
                    next="wait ten minutes until they have run out",
                )
            told = json.dumps(sorted(r.value for r in roles))
            row = (_hash(code), person, told, phone, by, now, now + CODE_LIVES)
            db.execute("INSERT INTO codes VALUES (?, ?, ?, ?, ?, ?, ?, NULL)", row)
        return Offer(f"{code[:4]}-{code[4:]}", now + CODE_LIVES)

    def take(self, code: str, name: str, *, session: str = "") -> Paired | None:
        """Use a code up and pair the phone that told it.

        Parameters
        ----------
        code : str
            As typed; spaces, hyphens and small letters do not matter.
        name : str
            What the phone is called.
        session : str
            The session that the same browser had until now: it is ended.

        Returns
        -------
        Paired or None
            None for a code that is not open.
        """
        now = self.now()
        with self._changing() as db:
            used = db.execute(
                "UPDATE codes SET used = ? WHERE hash = ? AND used IS NULL AND ends >= ?"
                " RETURNING person, roles, phone, by",
                (now, _hash(_plain(code)), now),
            ).fetchone()
            if used is None:
                return None
            person, roles, known, by = used
            fresh = secrets.token_urlsafe(32)
            mark = known or f"ph-{secrets.token_hex(3)}"
            if session:
                db.execute(
                    "UPDATE phones SET session = NULL, dropped = ? WHERE session = ?", (now, _hash(session))
                )
            db.execute(
                "INSERT INTO phones VALUES (?, ?, ?, ?, ?, ?, ?, NULL) ON CONFLICT (id) DO UPDATE SET"
                " name = excluded.name, person = excluded.person, roles = excluded.roles,"
                " session = excluded.session, paired = excluded.paired, seen = excluded.seen, dropped = NULL",
                (mark, name, person, roles, _hash(fresh), now, now),
            )
            phone = _phone(db.execute(f"{_SELECT} WHERE id = ?", (mark,)).fetchone())
        return Paired(phone, fresh, by, bool(known))

    def close_codes(self) -> int:
        """Let no open code be used any more: somebody guesses.

        Returns
        -------
        int
            How many were open. [-]
        """
        with self._changing() as db:
            return db.execute("DELETE FROM codes WHERE used IS NULL AND ends >= ?", (self.now(),)).rowcount

    def by_session(self, session: str) -> Phone | None:
        """The phone whose cookie this is; None if it was dropped, not seen for long, or never paired."""
        if not session or len(session) > 200:
            return None
        now = self.now()
        with self._lock:
            row = self._db().execute(f"{_SELECT} WHERE session = ?", (_hash(session),)).fetchone()
            if row is None:
                return None
            phone = _phone(row)
            if phone.dropped is not None or now - phone.seen > UNSEEN:
                return None
            if now - phone.seen > SEEN_EVERY:
                with self._changing() as db:
                    db.execute("UPDATE phones SET seen = ? WHERE id = ?", (now, phone.id))
        return phone

    def all(self) -> tuple[Phone, ...]:
        """Every phone that was ever paired, the newest first."""
        if not self.path.exists():
            return ()
        with self._lock:
            return tuple(_phone(r) for r in self._db().execute(f"{_SELECT} ORDER BY paired DESC, id"))

    def drop(self, id: str) -> Phone | None:
        """End the session of a phone; what it sent stays, what waits is sent once it is paired again.

        Returns
        -------
        Phone or None
            None if there is no such phone with a session.
        """
        with self._changing() as db:
            row = db.execute(
                "UPDATE phones SET session = NULL, dropped = ? WHERE id = ? AND dropped IS NULL RETURNING *",
                (self.now(), id),
            ).fetchone()
            return None if row is None else self._of(row)

    def bind(self, writer: str, phone: str) -> str:
        """Bind a chain to a phone, unless it is bound.

        Returns
        -------
        str
            Id of the phone it is bound to.
        """
        with self._changing() as db:
            db.execute("INSERT OR IGNORE INTO chains VALUES (?, ?, ?)", (writer, phone, self.now()))
            return str(db.execute("SELECT phone FROM chains WHERE writer = ?", (writer,)).fetchone()[0])

    def unbind(self, writer: str, phone: str) -> None:
        """Take a binding back that could not be told to the logbook."""
        with self._changing() as db:
            db.execute("DELETE FROM chains WHERE writer = ? AND phone = ?", (writer, phone))

    def owner(self, writer: str) -> str:
        """Id of the phone a chain is bound to; empty if it is bound to none."""
        with self._lock:
            row = self._db().execute("SELECT phone FROM chains WHERE writer = ?", (writer,)).fetchone()
        return "" if row is None else str(row[0])

    def about(self, word: str, told: str = "") -> str:
        """Keep something about the server, or read it: ``address`` is where phones reach it."""
        with self._changing() as db:
            if told:
                db.execute(
                    "INSERT INTO about VALUES (?, ?) ON CONFLICT (word) DO UPDATE SET told = excluded.told",
                    (word, told),
                )
            row = db.execute("SELECT told FROM about WHERE word = ?", (word,)).fetchone()
        return "" if row is None else str(row[0])

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            if self._held is not None:
                self._held.close()
                self._held = None

    @staticmethod
    def _of(row: tuple[object, ...]) -> Phone:
        return _phone((*row[:4], *row[5:]))

    def _db(self) -> sqlite3.Connection:
        if self._held is None:
            try:
                self.path.parent.mkdir(exist_ok=True)
                os.close(os.open(self.path, os.O_CREAT | os.O_RDWR, 0o600))
                self._held = sqlite3.connect(
                    self.path, isolation_level=None, check_same_thread=False, timeout=20
                )
                self._held.executescript(_TABLES)
            except (OSError, sqlite3.Error) as error:
                said = why(error) if isinstance(error, OSError) else str(error)
                raise BadInput(
                    f"{FILE} cannot be used: {said}", next="take it away: every phone is then paired again"
                ) from error
        return self._held

    @contextlib.contextmanager
    def _changing(self) -> Iterator[sqlite3.Connection]:
        """One change, whole or not at all."""
        with self._lock:
            db = self._db()
            nested = db.in_transaction
            if not nested:
                db.execute("BEGIN IMMEDIATE")
            try:
                yield db
            except BaseException:
                if not nested:
                    db.execute("ROLLBACK")
                raise
            if not nested:
                db.execute("COMMIT")


_SELECT = "SELECT id, name, person, roles, paired, seen, dropped FROM phones"


def _phone(row: tuple[object, ...]) -> Phone:
    mark, name, person, roles, paired, seen, dropped = row
    known = {r.value for r in Role}
    return Phone(
        id=str(mark), name=str(name), person=str(person),
        roles=frozenset(Role(r) for r in json.loads(str(roles)) if r in known),
        paired=float(str(paired)), seen=float(str(seen)),
        dropped=None if dropped is None else float(str(dropped)),
    )  # fmt: skip


def _plain(code: str) -> str:
    return "".join(c for c in code.upper() if c in LETTERS)[: LENGTH + 1]


def _hash(word: str) -> str:
    return hashlib.sha256(f"lineproof {word}".encode()).hexdigest()
