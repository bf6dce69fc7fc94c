"""Is the logbook what was written? Chains, receipts, holes, forks, files, and a head printed on a paper."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from lineproof.floor.errors import BadInput, EntrySealed, LineproofError
from lineproof.logbook.chains import Fork, Hole, forks_in, holes_in
from lineproof.logbook.entry import NOTHING_BEFORE, Entry, parse
from lineproof.logbook.merge import find_head
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.store import SHORT, Bare, Head, Row, head_seal


@dataclass(frozen=True, slots=True)
class Checked:
    """What a verification found.

    Parameters
    ----------
    entries, receipts : int
        How many there are. [-]
    head : str
        The head seal, recomputed.
    faults : tuple of str
        Sentences: what was changed or taken out.
    holes : tuple of Hole
        Entries that never came, or were taken out.
    forks : tuple of Fork
        Entries that contradict each other.
    files_missing : tuple of str
        Hashes that entries name but the shelf lacks.
    """

    entries: int
    receipts: int
    head: str
    faults: tuple[str, ...] = ()
    holes: tuple[Hole, ...] = ()
    forks: tuple[Fork, ...] = ()
    files_missing: tuple[str, ...] = ()

    @property
    def good(self) -> bool:
        """Whether all that is there is as it was written; holes, forks and missing files are told apart."""
        return not self.faults


@dataclass(slots=True)
class _Found:
    """What piles up while the entries are walked."""

    faults: list[str] = field(default_factory=list)
    named: list[tuple[str, str, int, str]] = field(default_factory=list)
    ends: dict[str, Head] = field(default_factory=dict)
    followed: set[str] = field(default_factory=set)
    files: set[str] = field(default_factory=set)


def check_chains(rows: Iterable[Row], odd: Callable[[Row], None] | None = None) -> int:
    """Walk all chains: each entry must bear the seal over the one before and its own bytes.

    Parameters
    ----------
    rows : iterable of Row
        In the order of arrival.
    odd : callable, optional
        Is given each row that does not follow the row before it of its writer: late, forked or changed.

    Returns
    -------
    int
        How many rows were walked. [-]
    """
    sha256 = hashlib.sha256
    last: dict[str, bytes] = {}
    start = bytes.fromhex(NOTHING_BEFORE)
    count = 0
    for row in rows:
        _, _, _, writer, _, seal, raw = row
        count += 1
        if sha256(last.get(writer, start) + raw).digest() != seal and odd is not None:
            odd(row)
        last[writer] = seal
    return count


def verify(store: Bare, *, printed: str = "") -> Checked:
    """Check everything: the file, every entry against its columns and chain, every receipt, every file.

    Parameters
    ----------
    store : Bare
        Is only read.
    printed : str
        A head seal from a paper, all 64 figures or the first 16; the store must have had it once.

    Returns
    -------
    Checked

    Raises
    ------
    BadInput
        The printed head is not one.
    """
    asked = head_typed(printed) if printed else ""
    found = _Found()
    broken = store.sound()
    if broken:
        return Checked(0, 0, head_seal(()), faults=(broken,))
    try:
        return _verify(store, asked, found)
    except LineproofError as error:
        return Checked(len(found.named), 0, head_seal(()), faults=(*found.faults, str(error)))


def _verify(store: Bare, asked: str, found: _Found) -> Checked:
    receipts = _receipts(store, found)
    due = iter(receipts)
    now = next(due, None)
    expected = 0
    for row in store.rows():
        expected += 1
        if row[0] != expected:
            found.faults.append(f"entries {expected} to {row[0] - 1} in the order of arrival were taken out")
            expected = row[0]
        while now is not None and row[0] > now[1]:
            _compare(now, found)
            now = next(due, None)
        _one(row, store.job, found)
        if now is None or row[1] != now[0]:
            found.faults.append(f"entry {row[0]} was not taken with the receipt it names ({row[1]})")
    while now is not None:
        _compare(now, found)
        now = next(due, None)
    total = receipts[-1][1] if receipts else 0
    if total != len(found.named):
        found.faults.append(f"the receipts tell of {total} entries, but {len(found.named)} are here")
    head = head_seal(found.ends.values())
    if asked and not found.faults and find_head(store, asked) is None:
        found.faults.append(
            f"the head {asked[:SHORT]} was never that of this logbook: it was cut short, put back from an"
            " older copy, or the paper is of another one"
        )
    missing = _files(store.files(), found)
    places: dict[str, list[int]] = {}
    for _, writer, sequence, _ in found.named:
        places.setdefault(writer, []).append(sequence)
    return Checked(
        entries=len(found.named),
        receipts=len(receipts),
        head=head,
        faults=tuple(found.faults),
        holes=holes_in(places),
        forks=forks_in(found.named),
        files_missing=missing,
    )


def _one(row: Row, job: str, found: _Found) -> None:
    arrival, _, name, writer, sequence, seal, raw = row
    try:
        entry = parse(raw)
    except BadInput:
        found.faults.append(f"entry {arrival} was changed: it is no longer an entry")
        found.named.append((name, writer, sequence, seal.hex()))
        return
    if entry.seal != seal.hex():
        found.faults.append(
            f"entry {arrival} ({entry.kind}, place {entry.sequence} of writer {entry.writer}) was changed:"
            " it does not bear its seal"
        )
    elif (entry.id, entry.writer, entry.sequence, entry.job) != (name, writer, sequence, job):
        found.faults.append(f"entry {arrival} stands under another name than its own bytes say")
    found.named.append((entry.id, entry.writer, entry.sequence, seal.hex()))
    found.files |= files_named(entry)
    found.ends.pop(entry.previous, None)
    found.followed.add(entry.previous)
    if entry.seal not in found.followed:
        found.ends[entry.seal] = Head(entry.writer, entry.sequence, entry.seal)


def _receipts(store: Bare, found: _Found) -> list[tuple[int, int, frozenset[Head]]]:
    """Number, entries so far and heads of each receipt; the chain of receipts is checked on the way."""
    told: list[tuple[int, int, frozenset[Head]]] = []
    before = bytes(32)
    for expected, (number, raw, heads, seal) in enumerate(store.receipt_rows(), 1):
        if number != expected:
            found.faults.append(f"receipt {expected} was taken out")
            return told
        if hashlib.sha256(before + raw).digest() != seal:
            found.faults.append(f"receipt {number} was changed: it does not bear its seal")
        before = seal
        try:
            said = json.loads(raw)
            ends = store.read_heads(heads)
            good = said["number"] == number and head_seal(ends) == said["head"]
            entries = int(said["entries"])
        except (ValueError, KeyError, TypeError, EntrySealed):
            good, entries, ends = False, 0, ()
        if not good:
            found.faults.append(f"receipt {number} was changed: its heads are not those it names")
        told.append((number, entries, frozenset(ends)))
    return told


def _compare(receipt: tuple[int, int, frozenset[Head]], found: _Found) -> None:
    if receipt[2] != set(found.ends.values()):
        found.faults.append(
            f"receipt {receipt[0]} names ends of chains that are not here: entries were changed or taken out"
        )


def _files(shelf: Shelf, found: _Found) -> tuple[str, ...]:
    for digest in shelf.names():
        try:
            shelf.get(digest)
        except LineproofError as error:
            found.faults.append(str(error))
    return tuple(sorted(digest for digest in found.files if not shelf.has(digest)))


def files_named(entry: Entry) -> set[str]:
    """Hashes of the files that a body names.

    Parameters
    ----------
    entry : Entry

    Returns
    -------
    set of str
    """
    photos = entry.body.get("photos", ())
    named = list(photos) if isinstance(photos, list) else []
    named += [entry.body[name] for name in ("file", "certificate") if name in entry.body]
    return {digest for digest in named if isinstance(digest, str) and re.fullmatch(r"[0-9a-f]{64}", digest)}


def head_typed(text: str) -> str:
    """A head seal as somebody typed it from a paper.

    Parameters
    ----------
    text : str
        64 hex figures or the first 16, with or without blanks and hyphens.

    Returns
    -------
    str
        In small letters, without blanks.

    Raises
    ------
    BadInput
        It is something else.
    """
    plain = re.sub(r"[\s-]", "", text).lower()
    if not re.fullmatch(r"[0-9a-f]{16}(?:[0-9a-f]{48})?", plain):
        raise BadInput(
            f"{text[:70]!r} is not the head of a logbook",
            allowed=f"{SHORT} or 64 hex figures",
            next="type it from the paper again",
        )
    return plain
