"""Entries and heads as a file keeps them, and back again."""

from __future__ import annotations

import struct
import uuid
from collections.abc import Iterable
from functools import lru_cache

from lineproof.floor.errors import BadInput, EntrySealed
from lineproof.logbook.entry import Entry, parse
from lineproof.logbook.store import Head

_HEAD = struct.Struct(">16sQ32s")


def packed(heads: Iterable[Head]) -> bytes:
    """Heads as the file keeps them: writer 16, sequence 8, seal 32 bytes each."""
    return b"".join(_HEAD.pack(_bytes(h.writer), h.sequence, bytes.fromhex(h.seal)) for h in heads)


@lru_cache(maxsize=4096)
def _bytes(writer: str) -> bytes:
    return uuid.UUID(writer).bytes


def unpacked(heads: bytes) -> tuple[Head, ...]:
    """Heads as the file keeps them.

    Parameters
    ----------
    heads : bytes
        56 for each head.

    Returns
    -------
    tuple of Head

    Raises
    ------
    EntrySealed
        The bytes are not heads.
    """
    if len(heads) % _HEAD.size:
        raise EntrySealed("the heads of a receipt were changed", next="put the logbook back from a backup")
    return tuple(
        Head(str(uuid.UUID(bytes=writer)), sequence, seal.hex())
        for writer, sequence, seal in _HEAD.iter_unpack(heads)
    )


def sealed(raw: bytes, seal: bytes, arrival: int) -> Entry:
    """Read an entry and hold it against the seal kept beside it.

    Parameters
    ----------
    raw, seal : bytes
        As kept.
    arrival : int
        Its place in the order of arrival. [-]

    Returns
    -------
    Entry

    Raises
    ------
    EntrySealed
        It does not bear that seal.
    """
    try:
        entry = parse(raw)
    except BadInput as error:
        raise _changed(arrival) from error
    if entry.seal != seal.hex():
        raise _changed(arrival)
    return entry


def _changed(arrival: int) -> EntrySealed:
    return EntrySealed(
        f"the entry that came as number {arrival} does not bear its seal, so it was changed",
        allowed="entries as they were written",
        next="run the verification, then put the logbook back from a backup",
    )
