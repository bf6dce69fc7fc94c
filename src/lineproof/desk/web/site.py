"""The job behind the pages: planned once for its files and record as they stand, judged again as time goes.

What is held is held by the SHA-256 of the files and the head of the logbook: another byte, another plan.
Where the server was told so, a page that is asked for meanwhile says that the job is still being read.
"""

from __future__ import annotations

import hashlib
import threading
import time
from collections.abc import Callable, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as TooLate
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from lineproof.desk.answer_now import NowAnswer
from lineproof.desk.record_book import (
    FILE,
    job_uuid,
    people_of,
    record_of,
    recorded,
    settings_of,
)
from lineproof.desk.site_kept import KeptSite, content_of
from lineproof.desk.site_known import Known, SiteKnown, site_known
from lineproof.desk.web.once import Once
from lineproof.desk.web.patience import StillReading, patience
from lineproof.floor.errors import LineproofError
from lineproof.floor.shown import Shown
from lineproof.job.files import read_bytes
from lineproof.job.folder import read_job
from lineproof.job.section_record import Release
from lineproof.job.settings import Settings
from lineproof.logbook.state import State
from lineproof.logbook.writing import DeviceClock
from lineproof.plan.make_pack import make_pack
from lineproof.plan.may_raise import MayRaise, may_raise
from lineproof.plan.pack import Pack
from lineproof.plan.section_at import Asked

Stamp = tuple[tuple[str, int, int], ...]
T = TypeVar("T")

FRESH_S = 60.0
"""How long an answer of the page Now stands while neither file nor record changes. [s]"""
SOON_S = 20.0
"""From when on it is judged again behind the page that shows it. [s]"""


@dataclass(frozen=True, slots=True)
class Judged:
    """What happens now, as judged at a moment.

    Parameters
    ----------
    answer : NowAnswer
    shown : Shown
        How the job shows its numbers.
    ticks : float
        When, by the clock that only goes on. [s]
    """

    answer: NowAnswer
    shown: Shown
    ticks: float


class JobSite:
    """One job folder.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock = threading.RLock()
        # Threads of its own: one plans; what is held between questions is touched by one other alone.
        self._plans = ThreadPoolExecutor(1, thread_name_prefix="plans")
        self._asks = ThreadPoolExecutor(1, thread_name_prefix="answers")
        self._kept = KeptSite(folder)
        # The record alone is asked for by the head of every page: it waits for no plan.
        self._reads = ThreadPoolExecutor(1, thread_name_prefix="record")
        self._log = KeptSite(folder)
        self._pack: tuple[str, Future[Pack]] | None = None
        self._now: tuple[str, Future[Judged]] | None = None
        self._next: Future[Judged] | None = None
        self._coming: dict[object, Future[Any]] = {}
        self._made: tuple[Stamp, frozenset[str]] | None = None
        self.planned = 0
        """How often the job was planned. [-]"""
        self.judged = 0
        """How often the page Now was judged. [-]"""
        self._settings: tuple[str, Settings] | None = None
        self.once = Once()
        """Outcomes of forms that were sent."""
        self.writing = threading.Lock()
        """Held while a file of the job is compared and written."""

    def begin(self) -> None:
        """Start to read the job, so that the first page need not wait for all of it."""
        threading.Thread(target=self._read_ahead, name="ahead", daemon=True).start()

    def _read_ahead(self) -> None:
        for ask in (self.state, self.pack, self.now):
            try:
                ask()
            except LineproofError:
                pass  # a page says which
            except RuntimeError:
                return  # the server stops

    def _as_it_stands(self) -> str:
        """Files and record, by their content."""
        head = self._waited(self._reads.submit(self._log.log)).head
        return f"{content_of(self.folder)} {head}"

    def pack(self) -> Pack:
        """The plan of the job as its files and its record stand.

        Returns
        -------
        Pack

        Raises
        ------
        LineproofError
            With file, line and column of what cannot be read.
        StillReading
            The page that asks may not wait, and it is not planned yet.
        """
        stands = self._as_it_stands()
        with self._lock:
            if self._pack is None or self._pack[0] != stands:
                self._pack = (stands, self._plans.submit(self._plan, stands))
            coming = self._pack[1]
        return self._waited(coming)

    def _plan(self, stands: str) -> Pack:
        self.planned += 1
        try:
            job = read_job(self.folder)
            stays, progress = record_of(self.folder, job.settings)
            return make_pack(job, recorded=stays, progress=progress).pack
        finally:
            if self._as_it_stands() != stands:
                with self._lock:  # it changed meanwhile: what was made is not kept
                    if self._pack is not None and self._pack[0] == stands:
                        self._pack = None

    def now(self) -> Judged:
        """What happens now; judged at most a minute ago, by files and record as they stand.

        Returns
        -------
        Judged

        Raises
        ------
        LineproofError
            Something cannot be read.
        StillReading
            The page that asks may not wait, and it is not judged yet.
        """
        stands = self._as_it_stands()
        with self._lock:
            held = self._now
            if held is None or held[0] != stands or _age(held[1]) > FRESH_S:
                held = self._now = (stands, self._ahead(stands))
            elif _age(held[1]) > SOON_S and self._next is None:
                self._next = self._asks.submit(self._judge)
                self._next.add_done_callback(lambda done: self._take_over(stands, done))
        return self._waited(held[1])

    def _ahead(self, stands: str) -> Future[Judged]:
        coming = self._asks.submit(self._judge)
        coming.add_done_callback(lambda _: self._let_go(stands))
        return coming

    def _judge(self) -> Judged:
        from lineproof.desk.verbs_now import answer_of, seen_of

        self.judged += 1
        ticks = time.monotonic()
        seen = seen_of(self._kept.site())
        return Judged(answer_of(seen), seen.site.job.settings.shown.shown, ticks)

    def _take_over(self, stands: str, done: Future[Judged]) -> None:
        with self._lock:
            self._next = None
            if self._now is not None and self._now[0] == stands and done.exception() is None:
                self._now = (stands, done)
        self._let_go(stands)

    def _let_go(self, stands: str) -> None:
        """Forget an answer if files or record changed while it was worked out."""
        if self._as_it_stands() != stands:
            with self._lock:
                if self._now is not None and self._now[0] == stands:
                    self._now = None

    def known(self, when: str = "", known: int | None = None) -> SiteKnown:
        """Plan and record held together at a moment.

        Parameters
        ----------
        when : str
            The moment judged, in the site's zone unless it has an offset; empty for now.
        known : int or None
            Only entries taken by this receipt count; None for all. [-]

        Returns
        -------
        SiteKnown
        """
        if known is not None:
            return site_known(self.folder, when=when, known=known)
        return self._once(("known", when), lambda: self._kept.site(when))

    def log(self) -> Known:
        """What the logbook holds by now; no plan is needed for it."""
        return self._waited(self._reads.submit(self._log.log))

    def state(self) -> State:
        """What the logbook says by now; no plan is needed for it.

        Returns
        -------
        State
        """
        return self._waited(self._reads.submit(self._log.state))

    def pressed(self) -> tuple[tuple[str, Release, bool], ...]:
        """Sections that count as UNDER PRESSURE, as ``KeptSite.pressed`` tells them; none if nobody can say.

        Returns
        -------
        tuple
        """
        try:
            settings = self.settings()
            people = people_of(job_uuid(settings), settings)
        except LineproofError:
            people = {}  # nobody is named, so nobody can have proved zero
        return self._waited(self._reads.submit(self._log.pressed, people))

    def settings(self) -> Settings:
        """job.toml alone: a slip in a walk keeps nobody from recording.

        Returns
        -------
        Settings
        """
        content = read_bytes(self.folder / "job.toml", "job.toml", needed=False)
        if content is None:
            return settings_of(self.folder)  # which says what is wrong
        stands = hashlib.sha256(content).hexdigest()
        if self._settings is None or self._settings[0] != stands:
            self._settings = (stands, settings_of(self.folder))
        return self._settings[1]

    def today(self) -> date:
        """The day at the site.

        Returns
        -------
        date
        """
        return DeviceClock(self.settings().site.timezone).read().wall.astimezone(self.zone()).date()

    def zone(self) -> ZoneInfo:
        """The site's time zone; UTC if job.toml cannot be read.

        Returns
        -------
        ZoneInfo
        """
        try:
            return ZoneInfo(self.settings().site.timezone)
        except LineproofError:
            return ZoneInfo("UTC")

    def may_raise(self, asked: Asked, when: str = "", known: int | None = None) -> tuple[SiteKnown, MayRaise]:
        """Whether a section may be filled or raised at a moment.

        Parameters
        ----------
        asked : Asked
        when, known
            As for ``known``.

        Returns
        -------
        SiteKnown, MayRaise
        """
        if known is not None:
            site = site_known(self.folder, when=when, known=known)
            return site, may_raise(asked, site.work, site.progress)
        return self._once((asked, when), lambda: self._kept.may_raise(asked, when))

    def _once(self, question: object, work: Callable[[], T]) -> T:
        """A question is worked on once, however often it is asked meanwhile; its answer is given once."""
        key = (question, self._as_it_stands())
        with self._lock:
            coming = self._coming.get(key)
            if coming is None or _age(coming) > FRESH_S:
                coming = self._coming[key] = self._asks.submit(_timed, work)
        found: _Timed = self._waited(coming)
        with self._lock:
            if self._coming.get(key) is coming:
                del self._coming[key]
        told: T = found.told
        return told

    @staticmethod
    def _waited(coming: Future[T]) -> T:
        try:
            return coming.result(patience.get())
        except TooLate:
            if coming.done():
                raise
            raise StillReading from None

    def close(self) -> None:
        """Let go of the logbook."""
        self._reads.submit(self._log.close).result()
        self._reads.shutdown()
        self._asks.submit(self._kept.close).result()
        self._asks.shutdown()
        self._plans.shutdown(cancel_futures=True)

    def recorded(self) -> frozenset[str]:
        """Joints that were made and not cut out: a walk may not lose them."""
        with self._lock:
            files = [self.folder / FILE, self.folder / f"{FILE}-wal", self.folder / "joints.csv"]
            stamp = self._stamp_of(files)
            if self._made is None or self._made[0] != stamp:
                self._made = (stamp, recorded(self.folder))
            return self._made[1]

    def units(self) -> str:
        """How the job shows lengths, ``"us"`` or ``"metric"``; feet and inches if job.toml cannot be read."""
        try:
            return self.settings().shown.units
        except LineproofError:
            return "us"

    def name(self) -> str:
        """What the job is called; its folder's name if job.toml cannot be read."""
        try:
            return self.settings().job.name
        except LineproofError:
            return self.folder.name

    @staticmethod
    def _stamp_of(files: Iterable[Path]) -> Stamp:
        found = []
        for file in files:
            try:
                told = file.stat()
            except OSError:
                continue
            found.append((file.name, told.st_mtime_ns, told.st_size))
        return tuple(found)


@dataclass(frozen=True, slots=True)
class _Timed:
    told: Any
    ticks: float


def _timed(work: Callable[[], object]) -> _Timed:
    ticks = time.monotonic()
    return _Timed(work(), ticks)


def _age(coming: Future[Any]) -> float:
    """How long ago an answer was judged; 0 while it is worked out, for ever if that failed. [s]"""
    if not coming.done():
        return 0.0
    if coming.cancelled() or coming.exception() is not None:
        return float("inf")
    return time.monotonic() - float(coming.result().ticks)
