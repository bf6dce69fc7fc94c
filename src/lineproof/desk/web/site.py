"""The job behind the pages: planned once for the files as they stand, read again when one of them changed."""

from __future__ import annotations

import threading
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

from lineproof.desk.record_book import FILE, job_uuid, people_of, record_of, recorded, settings_of
from lineproof.desk.site_kept import KeptSite
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.web.once import Once
from lineproof.floor.errors import LineproofError
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


class JobSite:
    """One job folder.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock = threading.RLock()
        self._pack: tuple[Stamp, Pack] | None = None
        # One thread of its own: what is held between questions is touched by nobody else.
        self._asks = ThreadPoolExecutor(1, thread_name_prefix="answers")
        self._kept = KeptSite(folder)
        self._made: tuple[Stamp, frozenset[str]] | None = None
        self._settings: tuple[tuple[int, int], Settings] | None = None
        self.once = Once()
        """Outcomes of forms that were sent."""
        self.writing = threading.Lock()
        """Held while a file of the job is compared and written."""

    def pack(self) -> Pack:
        """The plan of the job as its files stand.

        Returns
        -------
        Pack

        Raises
        ------
        LineproofError
            With file, line and column of what cannot be read.
        """
        with self._lock:
            stamp = self._stamp()
            if self._pack is None or self._pack[0] != stamp:
                job = read_job(self.folder)
                stays, progress = record_of(self.folder, job.settings)
                self._pack = (stamp, make_pack(job, recorded=stays, progress=progress).pack)
            return self._pack[1]

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
        return self._asks.submit(self._kept.site, when).result()

    def state(self) -> State:
        """What the logbook says by now; no plan is needed for it.

        Returns
        -------
        State
        """
        return self._asks.submit(self._kept.state).result()

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
        return self._asks.submit(self._kept.pressed, people).result()

    def settings(self) -> Settings:
        """job.toml alone: a slip in a walk keeps nobody from recording.

        Returns
        -------
        Settings
        """
        try:
            told = (self.folder / "job.toml").stat()
        except OSError:
            return settings_of(self.folder)  # which says what is wrong
        stamp = (told.st_mtime_ns, told.st_size)
        if self._settings is None or self._settings[0] != stamp:
            self._settings = (stamp, settings_of(self.folder))
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
        return self._asks.submit(self._kept.may_raise, asked, when).result()

    def close(self) -> None:
        """Let go of the logbook."""
        self._asks.submit(self._kept.close).result()
        self._asks.shutdown()

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
            return settings_of(self.folder).shown.units
        except LineproofError:
            return "us"

    def _stamp(self) -> Stamp:
        """Names, sizes and times of everything a plan is made from."""
        files = [self.folder / name for name in ("job.toml", "parts.csv", "taped.csv", "joints.csv", FILE)]
        files += sorted((self.folder / "lines").glob("*")) + sorted((self.folder / "issued").glob("*"))
        return self._stamp_of(files)

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
