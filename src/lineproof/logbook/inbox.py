"""Entries of one writer that another device sends: read from their lines, held against the chain they go on.

Nothing is believed of what is sent: every line must be the exact bytes of an entry of this job, every body
must be as its kind says, and every entry must follow one that is here or that comes with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from lineproof.floor.errors import BadInput
from lineproof.logbook.entry import NOTHING_BEFORE, Entry, parse
from lineproof.logbook.kinds import faults
from lineproof.logbook.store import Bare

MOST = 500
"""Entries in one sending. [-]"""

LARGEST_SENT = 800_000
"""Size of one sending. [bytes]"""

LARGEST_LINE = 100_000
"""Size of one entry of a sending; what is larger is a file. [bytes]"""


class Placed(Bare, Protocol):
    """A store that can say which entries stand at a place of a chain."""

    def seals_at(self, writer: str, sequence: int) -> tuple[str, ...]:
        """Seals of the entries at one place of one chain, in the order of arrival."""
        ...

    def receipt_of(self, seal: str, writer: str, sequence: int) -> int:
        """The receipt an entry was taken with; 0 if it is not here."""
        ...


def read_sent(sent: bytes, job: str) -> tuple[Entry, ...]:
    """Entries as a device sends them: one on each line, of one writer, in the order of its chain.

    Parameters
    ----------
    sent : bytes
        The exact bytes of each entry, and a line feed.
    job : str
        UUID of the job they must be of.

    Returns
    -------
    tuple of Entry

    Raises
    ------
    BadInput
        With the line that cannot be taken; then none of them is.
    """
    if len(sent) > LARGEST_SENT:
        raise BadInput(
            f"{len(sent)} bytes were sent at once", allowed=f"up to {LARGEST_SENT}", next="send fewer at once"
        )
    lines = [line for line in sent.split(b"\n") if line]
    if not lines or len(lines) > MOST:
        raise BadInput(
            f"{len(lines)} entries were sent at once", allowed=f"1 to {MOST}", next="send fewer at once"
        )
    entries: list[Entry] = []
    for n, line in enumerate(lines, 1):
        if len(line) > LARGEST_LINE:
            raise _line(n, f"it holds {len(line)} bytes", f"up to {LARGEST_LINE}")
        try:
            entry = parse(line)
        except BadInput as error:
            raise _line(n, error.given, error.allowed) from error
        wrong = faults(entry)
        if wrong:
            raise _line(n, f"{entry.kind} is not as it should be: {wrong[0]}", "")
        if entry.job != job:
            raise _line(n, f"it is of another job ({entry.job})", f"entries of job {job}")
        if entry.writer != (entries[0] if entries else entry).writer:
            raise _line(n, "it is of another writer than the line before", "one writer's chain")
        entries.append(entry)
    return tuple(entries)


def _line(n: int, given: str, allowed: str) -> BadInput:
    return BadInput(
        f"line {n} cannot be taken: {given}",
        allowed=allowed or "what the kind allows",
        next="nothing was taken; keep the entries on the device and ask for help",
    )


def check_follows(store: Placed, entries: Sequence[Entry]) -> None:
    """Refuse entries that follow nothing that is here: a hole is asked for, not stored.

    Parameters
    ----------
    store : Placed
    entries : sequence of Entry
        Of one sending.

    Raises
    ------
    BadInput
        Entries before them are missing, or they follow an entry that nobody has seen.
    """
    here = {entry.seal for entry in entries}
    for entry in entries:
        if entry.previous == NOTHING_BEFORE or entry.previous in here:
            continue
        before = store.seals_at(entry.writer, entry.sequence - 1)
        if entry.previous not in before:
            raise BadInput(
                f"entry {entry.sequence} follows an entry {entry.sequence - 1} that is not here",
                allowed="the chain without a hole",
                next="ask for the heads and send from there on; nothing was taken",
            )
