"""What a store of entries must do: six calls, and what they hand back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from lineproof.floor.errors import EntrySealed
from lineproof.logbook.entry import Entry, canonical, is_moment, is_seal, moment, moment_text
from lineproof.logbook.shelf import Shelf

SHORT = 16
"""Figures of a head seal that are enough to find it again: a sheet may print these only."""


@dataclass(frozen=True, slots=True, order=True)
class Head:
    """The end of a chain: an entry that no other entry of its writer follows. A forked chain has several.

    Parameters
    ----------
    writer : str
        UUID.
    sequence : int
        Its place in the chain. [-]
    seal : str
        Of that entry.
    """

    writer: str
    sequence: int
    seal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """What a store gives for entries it has taken: from then on they are known.

    Parameters
    ----------
    number : int
        From 1; 0 stands for an empty store. [-]
    received_at : datetime or None
        The store's clock, UTC; None for an empty store.
    heads : tuple of Head
        Ends of all chains once the entries are in, in order.
    head : str
        Head seal, see :func:`head_seal`.
    entries : int
        How many entries the store held then. [-]
    merged : tuple of str
        After a merge: the head seals of the two sides, in order.
    previous : str
        Seal of the receipt before.
    seal : str
        SHA-256 of the 32 bytes of ``previous`` followed by ``raw``.
    raw : bytes
        The receipt as written.
    """

    number: int
    received_at: datetime | None
    heads: tuple[Head, ...]
    head: str
    entries: int
    merged: tuple[str, ...] = ()
    previous: str
    seal: str
    raw: bytes


@dataclass(frozen=True, slots=True)
class Stored:
    """An entry in a store.

    Parameters
    ----------
    entry : Entry
    receipt : int
        Number of the receipt it was taken with. [-]
    arrival : int
        Its place in the order of arrival, from 1. [-]
    """

    entry: Entry
    receipt: int
    arrival: int


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of entries that were handed to a store.

    Parameters
    ----------
    receipt : Receipt
        That from which on all of them are known; an earlier one if they all were known before.
    new : tuple of str
        Ids of those that were not known before, in the order given.
    forked : tuple of str
        Ids of those, among the new, that contradict one that was there: same id and another body, or another
        entry at the same place of the same chain. They are kept, and their joints wait to be settled.
    """

    receipt: Receipt
    new: tuple[str, ...] = ()
    forked: tuple[str, ...] = ()


class Store(Protocol):
    """A store of entries. Nothing in it is changed or taken out."""

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
            An entry is of another job, or the store cannot be written; then nothing was.
        """
        ...

    def read_since(self, receipt: int = 0) -> Iterator[Stored]:
        """Entries taken after a receipt, in the order of arrival.

        Raises
        ------
        EntrySealed
            An entry does not bear its seal.
        """
        ...

    def heads(self) -> tuple[Head, ...]:
        """Ends of all chains, in order."""
        ...

    def receipt(self, number: int | None = None) -> Receipt:
        """The newest receipt, or that of a number; number 0 for an empty store.

        Raises
        ------
        BadInput
            There is no receipt of that number.
        """
        ...

    def files(self) -> Shelf:
        """The shelf of photos and documents beside the entries."""
        ...

    def lock(self) -> AbstractContextManager[None]:
        """Nobody else appends while this is held; appends inside it stand or fall together."""
        ...


class JobStore(Store, Protocol):
    """A store that knows whose it is, as every one does."""

    @property
    def job(self) -> str:
        """UUID of the job."""
        ...


Row = tuple[int, int, str, str, int, bytes, bytes]
"""Arrival, receipt, id, writer, sequence, seal and bytes of an entry, as the store's columns have them."""


class Bare(JobStore, Protocol):
    """A store that also shows its columns as they are, believed or not."""

    def rows(self) -> Iterator[Row]:
        """Entries in the order of arrival."""
        ...

    def receipt_rows(self) -> Iterator[tuple[int, bytes, bytes, bytes]]:
        """Number, bytes, heads and seal of the receipts, in order."""
        ...

    def read_heads(self, heads: bytes) -> tuple[Head, ...]:
        """Heads as the store keeps them."""
        ...

    def sound(self) -> str:
        """What is wrong with the file below the entries; empty if nothing is."""
        ...


def head_seal(heads: Iterable[Head]) -> str:
    """One seal for everything a store holds.

    Parameters
    ----------
    heads : iterable of Head
        In any order.

    Returns
    -------
    str
        SHA-256 of the heads' seals, 32 bytes each, sorted and joined; 64 hex figures.
    """
    return hashlib.sha256(b"".join(sorted(bytes.fromhex(h.seal) for h in heads))).hexdigest()


NO_RECEIPT = Receipt(
    number=0, received_at=None, heads=(), head=head_seal(()), entries=0, previous="0" * 64, seal="0" * 64,
    raw=b"",
)  # fmt: skip
"""What stands before the first receipt."""


def next_receipt(
    before: Receipt, heads: Iterable[Head], *, received_at: datetime, new: int, merged: Sequence[str] = ()
) -> Receipt:
    """The receipt that follows another.

    Parameters
    ----------
    before : Receipt
        The newest one.
    heads : iterable of Head
        Ends of all chains now.
    received_at : datetime
        The store's clock.
    new : int
        How many entries came in. [-]
    merged : sequence of str
        Head seals of the two sides of a merge.

    Returns
    -------
    Receipt
    """
    ends = tuple(sorted(heads))
    head = head_seal(ends)
    told = {
        "entries": before.entries + new,
        "head": head,
        "merged": sorted(merged),
        "number": before.number + 1,
        "received_at": moment_text(received_at),
    }
    raw = canonical(told)
    return Receipt(
        number=before.number + 1,
        received_at=received_at,
        heads=ends,
        head=head,
        entries=before.entries + new,
        merged=tuple(sorted(merged)),
        previous=before.seal,
        seal=hashlib.sha256(bytes.fromhex(before.seal) + raw).hexdigest(),
        raw=raw,
    )


def read_receipt(raw: bytes, heads: Iterable[Head], *, previous: str, seal: str) -> Receipt:
    """Read a receipt back and hold it against its own seal.

    Parameters
    ----------
    raw : bytes
        As written.
    heads : iterable of Head
        Kept beside it.
    previous, seal : str
        Of the receipt before, and its own.

    Returns
    -------
    Receipt

    Raises
    ------
    EntrySealed
        It does not bear its seal.
    """
    ends = tuple(sorted(heads))
    good = is_seal(previous) and hashlib.sha256(bytes.fromhex(previous) + raw).hexdigest() == seal
    try:
        told = json.loads(raw) if good else {}
        good = good and is_moment(told["received_at"]) and head_seal(ends) == told["head"]
    except (ValueError, KeyError, TypeError):
        good = False
    if not good:
        raise EntrySealed(
            "a receipt of the logbook does not bear its own seal, so it was changed after it was given",
            allowed="receipts as they were written",
            next="run the verification, then put the logbook back from a backup",
        )
    return Receipt(
        number=told["number"],
        received_at=moment(told["received_at"]),
        heads=ends,
        head=told["head"],
        entries=told["entries"],
        merged=tuple(told["merged"]),
        previous=previous,
        seal=seal,
        raw=raw,
    )
