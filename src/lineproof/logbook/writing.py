"""Writing an entry: the clocks of the device, the writer's own chain, and one durable append."""

from __future__ import annotations

import ctypes
import sys
import time
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any, Protocol

from lineproof.logbook.entry import NOTHING_BEFORE, VERSION, Entry, make, moment_text, new_id
from lineproof.logbook.kinds import check_new, latest
from lineproof.logbook.store import Head, JobStore, Receipt

STEP = timedelta(minutes=2)
"""A wall clock that moved this much against the monotonic one has been stepped."""


@dataclass(frozen=True, slots=True)
class Reading:
    """All clocks of a device at one moment.

    Parameters
    ----------
    wall : datetime
        UTC.
    monotonic : Decimal
        Seconds since the device started. [s]
    boot : str
        Which start of the device.
    synchronised : str
        yes, no or unknown.
    zone : str
        Zone the device shows.
    """

    wall: datetime
    monotonic: Decimal
    boot: str
    synchronised: str
    zone: str


class Clock(Protocol):
    """Whatever can be read for the time."""

    def read(self) -> Reading:
        """All clocks at this moment."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Who writes, on what.

    Parameters
    ----------
    id : str
        UUID of the chain: one for each installation on each device.
    who : str
        UUID of the person.
    device, software : str
        In words.
    tables : mapping
        Table name to edition.
    """

    id: str
    who: str
    device: str
    software: str
    tables: Mapping[str, str] = field(default_factory=dict)


class Pen:
    """Writes entries of one writer into one store.

    Parameters
    ----------
    store : JobStore
        Where to.
    writer : Writer
        Who.
    clock : Clock
        The device's.
    """

    def __init__(self, store: JobStore, writer: Writer, clock: Clock) -> None:
        self.store = store
        self.writer = writer
        self.clock = clock
        self._last: Entry | None = None

    def write(self, kind: str, body: Mapping[str, Any], *, id: str = "") -> tuple[Entry, Receipt]:
        """Write one entry and wait until it is on the disk.

        A wall clock that was stepped by more than :data:`STEP` since this writer's entry before, in the same
        start of the device, is written down first.

        Parameters
        ----------
        kind : str
            Kind of the entry, in the version of today.
        body : mapping
            Its fields.
        id : str
            UUID of the entry, dealt before it is written so that a form that is sent twice is written once; a
            new one unless said.

        Returns
        -------
        Entry, Receipt
            The entry as written, and from when on it is known.

        Raises
        ------
        BadInput
            The body is not as it should be, or the store cannot be written; then nothing was.
        """
        chosen = latest(kind)
        with self.store.lock():
            now = self.clock.read()
            check_new(chosen, body, now.wall)
            end = max((h for h in self.store.heads() if h.writer == self.writer.id), default=None)
            last = self._newest(end)
            entries = []
            step = stepped(last, now) if last is not None else None
            if step is not None:
                entries.append(self._make("step_in_clock", step, now, end))
                end = Head(self.writer.id, entries[0].sequence, entries[0].seal)
            entries.append(self._make(kind, body, now, end, id))
            taken = self.store.append(entries)
        self._last = entries[-1]
        return entries[-1], taken.receipt

    def _newest(self, end: Head | None) -> Entry | None:
        """The entry at the end of this writer's chain; looked for from the newest receipt backwards."""
        if end is None or (self._last is not None and self._last.seal == end.seal):
            return self._last
        newest = self.store.receipt().number
        back = 1
        while True:
            for stored in self.store.read_since(max(newest - back, 0)):
                if stored.entry.seal == end.seal:
                    return stored.entry
            if back >= newest:
                return None
            back *= 8

    def _make(
        self, kind: str, body: Mapping[str, Any], now: Reading, end: Head | None, id: str = ""
    ) -> Entry:
        writer = self.writer
        return make(
            {
                "version": VERSION,
                "kind": kind,
                "kind_version": latest(kind).version,
                "id": id or new_id(),
                "job": self.store.job,
                "writer": writer.id,
                "sequence": end.sequence + 1 if end else 1,
                "previous": end.seal if end else NOTHING_BEFORE,
                "wall": moment_text(now.wall),
                "zone": now.zone,
                "monotonic": f"{now.monotonic:f}",
                "boot": now.boot,
                "synchronised": now.synchronised,
                "who": writer.who,
                "device": writer.device,
                "software": writer.software,
                "tables": dict(writer.tables),
                "body": body,
            }
        )


def stepped(last: Entry, now: Reading) -> dict[str, str] | None:
    """The body of an entry on a step of the wall clock, if there was one.

    Parameters
    ----------
    last : Entry
        The writer's entry before.
    now : Reading
        The clocks now.

    Returns
    -------
    dict or None
        None if the clocks went on together, or the device was started again since.
    """
    if last.boot != now.boot:
        return None
    went = now.monotonic - last.monotonic
    should = last.wall + timedelta(microseconds=int(went * 1_000_000))
    jump = now.wall - should
    if abs(jump) <= STEP:
        return None
    seconds = Decimal(jump // timedelta(microseconds=1)) / 1_000_000
    return {"before": moment_text(should), "after": moment_text(now.wall), "by_s": f"{seconds:.6f}"}


class DeviceClock:
    """The clocks of this device.

    Parameters
    ----------
    zone : str
        IANA name of the zone of the site, kept with each entry.
    """

    def __init__(self, zone: str) -> None:
        self.zone = zone
        self._boot = _boot_id()

    def read(self) -> Reading:
        """All clocks at this moment.

        Returns
        -------
        Reading
        """
        # A clock that stands still while the device sleeps counts less, never more.
        counts_sleep = getattr(time, "CLOCK_BOOTTIME", None)
        ns = time.monotonic_ns() if counts_sleep is None else time.clock_gettime_ns(counts_sleep)
        return Reading(
            wall=datetime.now(UTC),
            monotonic=Decimal(ns // 1000) / 1_000_000,
            boot=self._boot,
            synchronised=synchronised(),
            zone=self.zone,
        )


def _boot_id() -> str:
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except OSError:
        # Unknown here: each run counts as a start of its own, so time between runs needs a clock that is set.
        return f"run-{uuid.uuid4()}"


_UNSYNC = 0x0040  # STA_UNSYNC of the kernel's clock
_STATUS_AT = 40  # offset of the status word in struct timex, 64-bit Linux


def synchronised() -> str:
    """Whether a time server sets the wall clock of this device, as its kernel says.

    Returns
    -------
    str
        yes, no or unknown.
    """
    if sys.platform != "linux" or sys.maxsize <= 2**32:
        return "unknown"
    about = ctypes.create_string_buffer(512)
    try:
        failed = _kernel().adjtimex(about) < 0
    except (OSError, AttributeError):
        failed = True
    if failed:
        return "unknown"
    status = int.from_bytes(about.raw[_STATUS_AT : _STATUS_AT + 4], sys.byteorder)
    return "no" if status & _UNSYNC else "yes"


@cache
def _kernel() -> ctypes.CDLL:
    return ctypes.CDLL(None)
