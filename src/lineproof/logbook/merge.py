"""Bringing stores together: the union of their chains, and one receipt that names both heads."""

from __future__ import annotations

from collections.abc import Iterable

from lineproof.logbook.entry import Entry
from lineproof.logbook.store import Bare, Receipt, Store, Taken


def merge(into: Bare, other: Store) -> Taken:
    """Take everything another store holds; in whatever order stores are merged, they come to hold the same.

    Files go first, so that no entry names a file that did not come along.

    Parameters
    ----------
    into : Bare
        Gains what the other holds.
    other : Store
        Is only read.

    Returns
    -------
    Taken
        With the receipt naming both heads; if the other side was merged before, with the newest receipt.

    Raises
    ------
    BadInput
        They are of different jobs, or this side cannot be written; then nothing was but files.
    EntrySealed
        Something of the other side was changed.
    """
    shelf, theirs = into.files(), other.files()
    for digest in theirs.names():
        if not shelf.has(digest):
            shelf.put(theirs.get(digest))
    # The receipt is read first: an entry that comes in between is taken as well, and named by the next merge.
    head = other.receipt().head
    return take_in(into, [stored.entry for stored in other.read_since()], head)


def take_in(into: Bare, entries: Iterable[Entry], head: str) -> Taken:
    """Take the entries of another side under one receipt that names both heads.

    Parameters
    ----------
    into : Bare
        Gains them.
    entries : iterable of Entry
        All the other side holds.
    head : str
        The other side's head seal.

    Returns
    -------
    Taken

    Raises
    ------
    BadInput
        As :meth:`Store.append`.
    """
    with into.lock():
        ours = into.receipt()
        given = list(entries)
        if head == ours.head or find_head(into, head) is not None:
            return into.append(given) if given else Taken(ours)
        return into.append(given, merged=(ours.head, head))


def find_head(store: Bare, printed: str) -> Receipt | None:
    """The receipt at which a store had this head, or was merged with a store that had.

    Parameters
    ----------
    store : Bare
        Looked through.
    printed : str
        A head seal, or its first figures.

    Returns
    -------
    Receipt or None
    """
    asked = printed.encode("ascii")
    last = 0
    # Bytes first: of a long logbook only the receipts that hold these figures are read.
    for number, raw, _, _ in store.receipt_rows():
        if asked in raw:
            receipt = store.receipt(number)
            if any(head.startswith(printed) for head in (receipt.head, *receipt.merged)):
                last = number
    if last or store.receipt(0).head.startswith(printed):
        return store.receipt(last)
    return None
