"""What goes wrong around a SQLite file: errors put into words, a missing or foreign WAL, a network drive."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import struct
from collections.abc import Iterator
from pathlib import Path

from lineproof.floor.errors import BadInput, LineproofError, Place

NETWORK = frozenset(
    ("nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "ceph", "fuse.sshfs", "fuse.rclone", "davfs")
)
"""File systems whose locks and syncs cannot be trusted for a logbook (common practice, no source)."""

MOUNTS = Path("/proc/self/mounts")

_WAL_MAGIC = (0x377F0682, 0x377F0683)
_WAL_HEADER = 32
_FRAME_HEADER = 24
_HEADER = 100
_MARK_AT = 60  # user_version in the header of the file, see schema.new_mark
_FIRST_PAGE = b"SQLite format 3\0"
_FOREIGN = "it comes from another file"


@contextlib.contextmanager
def told(name: str) -> Iterator[None]:
    """Put errors of SQLite into one clear sentence.

    Parameters
    ----------
    name : str
        How the sentence calls the file.

    Raises
    ------
    BadInput
        Instead of an error of SQLite.
    """
    try:
        yield
    except LineproofError:
        raise
    except sqlite3.Error as error:
        raise _in_words(error, name) from error
    except UnicodeDecodeError as error:
        raise damaged(name) from error


def _in_words(error: sqlite3.Error, name: str) -> BadInput:
    code = (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF
    place = Place(name)
    if code in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR):
        return BadInput(
            "the disk is full or does not take what is written; nothing of this was kept",
            allowed="room on the disk",
            next="make room, then write it again",
            place=place,
        )
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BadInput(
            "somebody else has held the logbook for too long", next="try again in a minute", place=place
        )
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return BadInput(
            "the logbook cannot be opened for writing",
            next="make the folder and the file writable",
            place=place,
        )
    if code == sqlite3.SQLITE_CONSTRAINT and "only added to" in str(error):
        return BadInput(str(error), place=place)
    return damaged(name)


def damaged(name: str) -> BadInput:
    """The sentence for a file that is broken."""
    return BadInput(
        "the logbook is damaged: it cannot be read as it was written",
        next="keep this file, put the last backup in its place, and bring in the copies on the other devices",
        place=Place(name),
    )


def warnings(path: Path) -> tuple[str, ...]:
    """What speaks against trusting a logbook file, before it is opened.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    tuple of str
        Sentences; none if nothing is odd.
    """
    found = []
    kind = file_system(path)
    if kind in NETWORK:
        found.append(
            f"{path.name} lies on a network drive ({kind}), where locks and syncs cannot be trusted;"
            " keep the logbook on this device and carry copies"
        )
    wal = path.with_name(path.name + "-wal")
    try:
        with path.open("rb") as file:
            head = file.read(_HEADER)
        log = wal.read_bytes() if wal.is_file() else b""
    except OSError:
        return tuple(found)
    # A first page torn by a power cut is in the WAL too, and SQLite puts it back: nothing to hold against.
    if len(head) == _HEADER and head.startswith(_FIRST_PAGE):
        if not log and struct.unpack_from(">I", head, _MARK_AT)[0] & 1:
            found.append(
                f"{wal.name} is missing though {path.name} was in use when it was last touched: what was"
                " written last may be missing; compare the head seal with a printed one and other devices"
            )
        if log and _foreign(head, log):
            found.append(f"{wal.name} is not the one of {path.name}: {_FOREIGN}")
    return tuple(found)


def refuse_foreign_wal(found: tuple[str, ...], name: str) -> None:
    """Refuse to open a file whose WAL is from another: SQLite would write its pages over ours.

    Parameters
    ----------
    found : tuple of str
        As :func:`warnings` gave them.
    name : str
        How the error calls the file.

    Raises
    ------
    BadInput
        The WAL is foreign.
    """
    for text in found:
        if _FOREIGN in text:
            raise BadInput(
                text, next="move the WAL to another folder, open again, and verify", place=Place(name)
            )


def _foreign(head: bytes, log: bytes) -> bool:
    if len(log) < _WAL_HEADER:
        return False
    magic, _, page = struct.unpack_from(">III", log)
    if magic not in _WAL_MAGIC:
        return False  # SQLite takes such a file for empty
    ours = struct.unpack_from(">H", head, 16)[0]
    if page != (65536 if ours == 1 else ours):
        return True
    salt = log[16:24]
    for at in range(_WAL_HEADER, len(log) - _FRAME_HEADER - page + 1, _FRAME_HEADER + page):
        number = struct.unpack_from(">I", log, at)[0]
        if log[at + 8 : at + 16] != salt:
            break  # frames of an earlier round
        first = log[at + _FRAME_HEADER : at + _FRAME_HEADER + _HEADER]
        # A frame torn by a power cut is no sign: only the first page of another file is.
        if number == 1 and first.startswith(_FIRST_PAGE) and _mark(first) != _mark(head):
            return True
    return False


def _mark(page: bytes) -> int:
    return int(struct.unpack_from(">I", page, _MARK_AT)[0]) >> 1


def file_system(path: Path) -> str:
    """Kind of the file system a path lies on, such as ``ext4``; empty where the system does not say.

    Parameters
    ----------
    path : Path

    Returns
    -------
    str
    """
    try:
        lines = MOUNTS.read_text("utf-8", errors="replace").splitlines()
        place = os.path.realpath(path)
    except OSError:
        return ""
    best, kind = "", ""
    for line in lines:
        parts = line.split(" ")
        if len(parts) < 3:
            continue
        at = parts[1].replace("\\040", " ").rstrip("/") + "/"
        if (place + "/").startswith(at) and len(at) >= len(best):
            best, kind = at, parts[2]
    return kind
