"""What devices send to the job: committed in groups, then held against releases and cement cards at once."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from concurrent.futures import Future
from pathlib import Path

from lineproof.desk import record_book as book
from lineproof.desk.card_sealing import seal_card
from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.phones import Phones
from lineproof.desk.lan.sendings import check_sending
from lineproof.desk.release_watch import HARMLESS, told, watch
from lineproof.desk.web.tongue import refused
from lineproof.desk.web.who import Who
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.card_seal import seal_of, told_of
from lineproof.job.files import Folder
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.group_commit import Answer, GroupCommit
from lineproof.logbook.inbox import Placed, read_sent
from lineproof.logbook.photos import Come, Coming, named_in
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.sqlite_store import SHELF, SqliteStore
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
        self.phones: Phones | None = None
        """Paired phones; None where the job is on this machine only."""
        self.coming = Coming(Shelf(folder / SHELF))
        self._photos: tuple[int, set[str]] = (0, set())  # receipt read up to, hashes that entries name
        self._reading = threading.Lock()

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

    def take(self, sent: bytes, who: Who | None = None) -> Future[Answer]:
        """Take what a device sent.

        Parameters
        ----------
        sent : bytes
            Entries as JSON lines.
        who : Who or None
            Whose device it is; whoever sits at this machine if None.

        Returns
        -------
        Future of Answer

        Raises
        ------
        BadInput
            It cannot be read, or this device may not send it; then nothing was taken.
        """
        entries = read_sent(sent, self.job())
        if who is not None and not who.machine:
            self._held_against(who, entries)
        return self.group.give(entries)

    def _held_against(self, who: Who, entries: Sequence[Entry]) -> None:
        """A phone sends its own chain, of what its person may put down; its first sending binds the chain."""
        if self.phones is None:
            raise refused("phones.off")
        job = self.job()
        check_sending(who, book.person_uuid(job, who.person), entries, self.phones, self._is_here)
        chain = entries[0].writer
        if self.phones.owner(chain) == who.device:
            return
        if self.phones.bind(chain, who.device) != who.device:  # two phones at the same moment
            raise refused("door.others_chain", owner=self.phones.owner(chain), phone=who.device)
        try:
            Audit(self.folder).bound(who.device, chain, who.person)
        except LineproofError:
            self.phones.unbind(chain, who.device)
            raise

    def _is_here(self, chain: str) -> bool:
        return any(head.writer == chain for head in self.heads())

    def heads(self) -> tuple[Head, ...]:
        """Ends of all chains; none without a logbook."""
        if not (self.folder / book.FILE).exists():
            return ()
        with book.opened(self.folder) as store:
            return store.heads()

    def names(self, photo: str) -> bool:
        """Whether an entry here names a photograph.

        Parameters
        ----------
        photo : str
            Its SHA-256.

        Returns
        -------
        bool
        """
        with self._reading:
            read, named = self._photos
            if photo not in named and (self.folder / book.FILE).exists():
                with book.opened(self.folder) as store:
                    for stored in store.read_since(read):
                        named.update(named_in(stored.entry))
                        read = max(read, stored.receipt)
                self._photos = (read, named)
            return photo in named

    def photo(self, digest: str, at: int, of: int, content: bytes) -> Come:
        """Take a part of a photograph.

        Parameters
        ----------
        digest : str
            SHA-256 of the whole.
        at, of : int
            Where the part begins, and size of the whole. [bytes]
        content : bytes

        Returns
        -------
        Come

        Raises
        ------
        BadInput
            No entry here names it, or it cannot be taken.
        """
        if not self.names(digest):
            raise BadInput(
                "no entry that is here names this photograph",
                allowed="photographs after their entries", next="send the entries first",
            )  # fmt: skip
        return self.coming.take(digest, at, of, content)

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
