"""What devices send to the job: committed in groups, then held against releases and cement cards at once."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from pathlib import Path

from lineproof.desk import record_book as book
from lineproof.desk.card_sealing import seal_card
from lineproof.desk.release_watch import HARMLESS, told, watch
from lineproof.floor.errors import LineproofError
from lineproof.job.card_seal import seal_of, told_of
from lineproof.job.files import Folder
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.group_commit import Answer, GroupCommit
from lineproof.logbook.inbox import Placed, read_sent
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import Head


class Inbox:
    """The way into the logbook for devices.

    Parameters
    ----------
    folder : Path
        The job.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._settings: tuple[tuple[int, int], Settings] | None = None
        self._seen = 0
        self._open: dict[str, int] = {}  # releases that nobody took back, and the receipt each came with
        self._cards: dict[str, str] = {}  # cement card to its newest seal in the logbook
        self.group = GroupCommit(self._store, self._after)

    def settings(self) -> Settings:
        """job.toml, read again when it changed."""
        try:
            told = (self.folder / "job.toml").stat()
        except OSError:
            return book.settings_of(self.folder)  # which says what is wrong
        stamp = (told.st_mtime_ns, told.st_size)
        if self._settings is None or self._settings[0] != stamp:
            self._settings = (stamp, book.settings_of(self.folder))
        return self._settings[1]

    def job(self) -> str:
        """UUID of the job."""
        return book.job_uuid(self.settings())

    def take(self, sent: bytes) -> Future[Answer]:
        """Take what a device sent.

        Parameters
        ----------
        sent : bytes
            Entries as JSON lines.

        Returns
        -------
        Future of Answer

        Raises
        ------
        BadInput
            It cannot be read; then nothing was taken.
        """
        return self.group.give(read_sent(sent, self.job()))

    def heads(self) -> tuple[Head, ...]:
        """Ends of all chains; none without a logbook."""
        if not (self.folder / book.FILE).exists():
            return ()
        with book.opened(self.folder) as store:
            return store.heads()

    def _store(self) -> SqliteStore:
        return SqliteStore(self.folder / book.FILE, job=self.job())

    def _after(self, store: Placed, entries: Sequence[Entry]) -> list[str]:
        """Before anybody is answered: cards are sealed, and releases that this spoils are withdrawn.

        A device that was not answered sends again; what a kill kept from being looked at then is looked at.
        """
        self._read_on(store, entries)
        try:
            settings = self.settings()
            self._seal_cards(settings, entries)
            since = min(self._open.values(), default=None)
            if since is None:
                return []
            fresh = [
                e
                for e in entries
                if e.kind not in HARMLESS and store.receipt_of(e.seal, e.writer, e.sequence) > since
            ]
            return told(watch(self.folder, settings, fresh))
        except LineproofError as error:
            return [f"kept, but the releases that stand could not be judged again: {error}"]

    def _read_on(self, store: Placed, entries: Sequence[Entry]) -> None:
        """What came since, from whoever: every entry is looked at once."""
        newest = store.receipt().number
        last = entries[-1]
        if newest == self._seen + 1 and store.receipt_of(last.seal, last.writer, last.sequence) == newest:
            came = [(newest, entry) for entry in entries]  # nobody else wrote: these are in hand
        else:
            came = [(stored.receipt, stored.entry) for stored in store.read_since(self._seen)]
        for receipt, entry in came:
            name = str(entry.body.get("release", ""))
            if entry.kind == "release_given":
                self._open.setdefault(name, receipt)
            elif entry.kind == "release_withdrawn":
                self._open.pop(name, None)
            elif entry.kind == "card":
                self._cards[str(entry.body.get("card", ""))] = str(entry.body.get("seal", ""))
        self._seen = newest

    def _seal_cards(self, settings: Settings, entries: Sequence[Entry]) -> None:
        text = ""
        for entry in entries:
            if entry.kind != "joint_made":
                continue
            duty = settings.duty(str(entry.body.get("joint", "")).partition("/")[0])
            name = str(entry.body.get("card", "")) or (duty.cement if duty is not None else "")
            if settings.card(name) is None:
                continue
            text = text or Folder(self.folder).text("job.toml", needed=True) or ""
            seal = seal_of(told_of(text, name))
            if self._cards.get(name) == seal:
                continue
            with book.opened(self.folder) as own:
                pen = book.pen(self.folder, own, settings, who=book.person_uuid(own.job, ""))
                seal_card(self.folder, settings, fold(own.read_since()), entry.kind, entry.body, pen)
            self._cards[name] = seal
