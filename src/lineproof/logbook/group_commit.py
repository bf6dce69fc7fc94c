"""Many devices send at once: what waits is written in one durable commit, and answered only after it.

A sending that is refused holds up no other. If the commit fails, none of its sendings is answered as taken,
and each device sends again: entries that are known are passed over.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass

from lineproof.floor.errors import LineproofError
from lineproof.logbook.entry import Entry
from lineproof.logbook.inbox import Placed, check_follows

IDLE_S = 2.0
"""How long the file stays open when nothing comes. [s]"""

MOST_AT_ONCE = 4000
"""Entries in one commit. [-]"""


@dataclass(frozen=True, slots=True)
class Kept:
    """An entry that is on the disk.

    Parameters
    ----------
    id : str
    sequence : int
        [-]
    seal : str
        As it is stored, read back after the commit.
    new : bool
        It was not known before this commit.
    forked : bool
        Another entry stands at its place, or bears its id: both are kept.
    """

    id: str
    sequence: int
    seal: str
    new: bool
    forked: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """What a device is told.

    Parameters
    ----------
    kept : tuple of Kept
        One for each entry sent, in the order sent.
    receipt : int
        From which on all of them are known. [-]
    head : str
        Head seal of the store then.
    notes : tuple of str
        Sentences that its people should read.
    """

    kept: tuple[Kept, ...]
    receipt: int
    head: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Waiting:
    entries: tuple[Entry, ...]
    answer: Future[Answer]


After = Callable[[Placed, Sequence[Entry]], Sequence[str]]
"""Is told after a commit what it brought, before anybody is answered; gives sentences to read."""


class GroupCommit:
    """Takes sendings from any thread and commits them in groups, in a thread of its own.

    Parameters
    ----------
    open_store : callable
        Opens the store; in the thread that uses it.
    after : callable
        See :data:`After`.
    """

    def __init__(self, open_store: Callable[[], Placed], after: After) -> None:
        self._open = open_store
        self._after = after
        self._ready = threading.Condition()
        self._waiting: list[_Waiting] = []
        self._running = False
        self.commits = 0

    def give(self, entries: Sequence[Entry]) -> Future[Answer]:
        """Hand in what a device sent.

        Parameters
        ----------
        entries : sequence of Entry
            As read by ``inbox.read_sent``.

        Returns
        -------
        Future of Answer
            Is done once the entries are on the disk, or holds the error that kept them out.
        """
        answer: Future[Answer] = Future()
        with self._ready:
            self._waiting.append(_Waiting(tuple(entries), answer))
            if not self._running:
                self._running = True
                threading.Thread(target=self._serve, name="group commit", daemon=True).start()
            self._ready.notify()
        return answer

    def _take(self) -> list[_Waiting]:
        """What waits, up to one commit's worth; empty once nothing came for a while."""
        with self._ready:
            if not self._waiting:
                self._ready.wait(IDLE_S)
            group: list[_Waiting] = []
            count = 0
            while self._waiting and count < MOST_AT_ONCE:
                group.append(self._waiting.pop(0))
                count += len(group[-1].entries)
            return group

    def _serve(self) -> None:
        try:
            while True:
                group = self._take()
                if group:
                    with contextlib.suppress(LineproofError):  # whoever waits has been told
                        self._work(group)
                with self._ready:
                    if not self._waiting:
                        self._running = False
                        return
        finally:
            with self._ready:
                if self._running:  # a fault of our own: nobody is left waiting for ever
                    self._running = False
                    _fail(self._waiting, RuntimeError("the thread that commits has ended"))
                    self._waiting.clear()

    def _work(self, group: list[_Waiting]) -> None:
        """Commit groups over one open store until nothing comes for a while."""
        try:
            store = self._open()
        except BaseException as error:
            _fail(group, error)
            raise
        try:
            while group:
                try:
                    self._commit(store, group)
                except BaseException as error:
                    _fail(group, error)
                    raise
                group = self._take()
        finally:
            close = getattr(store, "close", None)
            if close is not None:
                close()

    def _commit(self, store: Placed, group: list[_Waiting]) -> None:
        good: list[_Waiting] = []
        with store.lock():
            for one in group:
                try:
                    check_follows(store, one.entries)
                except LineproofError as error:
                    one.answer.set_exception(error)
                else:
                    good.append(one)
            entries = [entry for one in good for entry in one.entries]
            taken = store.append(entries) if entries else None
        self.commits += 1
        if taken is None:
            return
        notes = tuple(self._after(store, entries))
        new, forked = set(taken.new), set(taken.forked)
        for one in good:
            kept = tuple(_kept(store, entry, new, forked) for entry in one.entries)
            one.answer.set_result(Answer(kept, taken.receipt.number, taken.receipt.head, notes))


def _kept(store: Placed, entry: Entry, new: set[str], forked: set[str]) -> Kept:
    """An entry as it stands: its seal is read from the disk, never repeated from what was sent."""
    there = store.seals_at(entry.writer, entry.sequence)
    seal = next((s for s in there if s == entry.seal), "")
    return Kept(entry.id, entry.sequence, seal, entry.id in new, entry.id in forked or len(there) > 1)


def _fail(group: Sequence[_Waiting], error: BaseException) -> None:
    for one in group:
        if not one.answer.done():
            one.answer.set_exception(error)
