"""What the logbook is told of the network: phones paired, dropped and bound; refusals in sums only.

Whoever knocks cannot fill the logbook: refusals are counted, and their sums are written at most once an
hour, however many there were.
"""

from __future__ import annotations

import threading
import time
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from lineproof.desk import record_book as book
from lineproof.desk.web.access import Role
from lineproof.floor.errors import LineproofError
from lineproof.logbook.entry import moment_text

EVERY = 3600.0
"""Sums of refusals are written at most this often. [s]"""
MOST_ADDRESSES = 1000
"""Addresses counted apart. [-]"""


class Audit:
    """Tells the logbook of one job.

    Parameters
    ----------
    folder : Path
    now : callable
        Seconds since 1970. [s]
    """

    def __init__(self, folder: Path, now: Callable[[], float] = time.time) -> None:
        self.folder = folder
        self.now = now
        self._lock = threading.Lock()
        self._counts: Counter[str] = Counter()
        self._addresses: set[str] = set()
        self._closed = 0
        self._since = 0.0
        self._told = 0.0

    def refused(self, why: str, address: str) -> None:
        """Count somebody who was turned away."""
        with self._lock:
            if not self._counts:
                self._since = self.now()
            self._counts[why] += 1
            if len(self._addresses) < MOST_ADDRESSES:
                self._addresses.add(address)

    def codes_closed(self, many: int) -> None:
        """Codes were closed because somebody guessed."""
        with self._lock:
            self._closed += many

    def due(self) -> bool:
        """Whether refusals wait that may be written by now."""
        with self._lock:
            return bool(self._counts) and self.now() - self._told >= EVERY

    def tell_refused(self) -> None:
        """Write the sums of refusals, if there are any."""
        with self._lock:
            counts, addresses, closed, since = self._counts, self._addresses, self._closed, self._since
            self._counts, self._addresses, self._closed = Counter(), set(), 0
            self._told = self.now()
        if not counts:
            return
        body: dict[str, Any] = {
            "since": _moment(since),
            "until": _moment(self.now()),
            "counts": dict(sorted(counts.items())),
            "addresses": len(addresses),
        }
        self.write("refusals", body | ({"codes_closed": closed} if closed else {}), by="")

    def paired(
        self, phone: str, name: str, person: str, roles: Iterable[Role], *, by: str, again: bool
    ) -> None:
        """A phone was paired."""
        told = {"phone": phone, "name": name, "roles": sorted(r.value for r in roles), "again": again}
        self.write("phone_paired", told, by=by, person=person)

    def dropped(self, phone: str, person: str, reason: str, *, by: str) -> None:
        """The session of a phone was ended."""
        self.write("phone_dropped", {"phone": phone, "reason": reason or "not said"}, by=by, person=person)

    def bound(self, phone: str, writer: str, person: str) -> None:
        """A chain was bound to a phone."""
        self.write("chain_bound", {"phone": phone, "chain": writer}, by=person, person=person)

    def write(self, kind: str, body: Mapping[str, Any], *, by: str, person: str = "") -> None:
        """Put an entry into the logbook, in the name of who did it.

        Raises
        ------
        LineproofError
            The logbook cannot be written.
        """
        settings = book.settings_of(self.folder)
        job = book.job_uuid(settings)
        named = {"person": book.person_uuid(job, person)} if person else {}
        with book.opened(self.folder, job=job) as store:
            pen = book.pen(self.folder, store, settings, who=book.person_uuid(job, by))
            pen.write(kind, {**body, **named})

    def tell_quietly(self) -> str:
        """As `tell_refused`; what kept the logbook from being written is given back, not raised."""
        try:
            self.tell_refused()
        except LineproofError as error:
            return str(error)
        return ""


def _moment(at: float) -> str:
    return moment_text(datetime.fromtimestamp(at, UTC))
