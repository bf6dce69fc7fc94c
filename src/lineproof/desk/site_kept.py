"""A job that is asked again and again: its plan, its fold and its answers are held, and take in what is new.

Each answer is the one that ``site_known`` and ``may_raise`` make from scratch. Every file of the job folder
that the plan may be made from is hashed at each question; one that changed, or a joint that was made or cut
out, has the job planned anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from lineproof.desk.record_book import FILE, LOCAL, made_of
from lineproof.desk.site_known import Before, Known, SiteKnown, known_by, known_with, progress_known, stamp_of
from lineproof.job.folder import Job, read_job
from lineproof.job.section_record import Release
from lineproof.job.weather import FILE as WEATHER
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import Fold
from lineproof.logbook.section_of import sections_of
from lineproof.logbook.sqlite_store import SHELF, SqliteStore
from lineproof.logbook.state import JointState, State
from lineproof.logbook.store import NO_RECEIPT
from lineproof.plan.make_pack import named_work
from lineproof.plan.may_raise import MayRaise, may_raise
from lineproof.plan.raise_kept import RaiseKept
from lineproof.plan.section_at import Asked
from lineproof.plan.work import Work, work

OUT = "out"


class KeptSite:
    """A job folder, asked again and again by one process.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._content = ""
        self._job: Job | None = None
        self._work: Work | None = None
        self._stand: frozenset[str] = frozenset()
        self._joints: Mapping[str, JointState] = {}
        self._before = Before()
        self._kept: dict[tuple[str, str], RaiseKept] = {}
        self._store: SqliteStore | None = None
        self._newest = NO_RECEIPT
        self._fold = Fold()
        self._entries: list[Entry] = []
        self._taken_at: dict[int, datetime] = {}
        self._pressed: tuple[str, Mapping[str, str], tuple[tuple[str, Release, bool], ...]] | None = None

    @property
    def folded(self) -> int:
        """Entries folded so far. [-]"""
        return self._fold.folded

    @property
    def read(self) -> int:
        """Joints whose record was read so far. [-]"""
        return self._before.progress.read

    @property
    def told(self) -> int:
        """Joints whose record was asked so far, in all sections. [-]"""
        return sum(kept.told for kept in self._kept.values())

    def close(self) -> None:
        """Let go of the logbook."""
        if self._store is not None:
            self._store.close()
            self._store = None

    def site(self, when: str = "") -> SiteKnown:
        """The job at a moment, by all that is known.

        Parameters
        ----------
        when : str
            As for ``site_known``.

        Returns
        -------
        SiteKnown

        Raises
        ------
        BadInput
            Something in the folder or the logbook cannot be read.
        """
        content = content_of(self.folder)
        job = self._job
        if job is None or content != self._content:
            self._content, self._job, self._work = content, None, None
            self._kept.clear()
            self._before = Before()
            job = self._job = read_job(self.folder)
        now = stamp_of(when, job.zone)
        log = self._log(now.wall)
        made = self._planned(job, log.state)
        progress = progress_known(self.folder, job, log, now, before=self._before)
        if progress.air.why:
            log = replace(log, warnings=(*log.warnings, f"{WEATHER} does not count: {progress.air.why}."))
        return SiteKnown(self.folder, job, now, log, made, progress)

    def log(self) -> Known:
        """What the logbook holds by now, without a plan.

        Returns
        -------
        Known
        """
        return self._log(datetime.now(UTC))

    def state(self) -> State:
        """What the logbook says, without a plan: a slip in a walk hides nothing of it.

        Returns
        -------
        State
        """
        return self._log(datetime.now(UTC)).state

    def pressed(self, people: Mapping[str, str]) -> tuple[tuple[str, Release, bool], ...]:
        """Sections that count as UNDER PRESSURE, by the record alone.

        Parameters
        ----------
        people : mapping
            UUID of every person of job.toml to the id there: zero is proved by somebody who is named.

        Returns
        -------
        tuple
            Section, the release that put pressure on, and whether its record is clear.
        """
        log = self._log(datetime.now(UTC))
        if not log.state.releases:
            return ()
        if self._pressed is None or self._pressed[:2] != (log.head, people):
            told = sections_of(log.state, stamp_of("", ZoneInfo("UTC")), people, log.received)
            self._pressed = (
                log.head,
                people,
                tuple(
                    (name, record.under_pressure, not record.unclear)
                    for name, record in sorted(told.items())
                    if record.under_pressure is not None
                ),
            )
        return self._pressed[2]

    def _planned(self, job: Job, state: State) -> Work:
        """The plan; made anew where a joint was made or cut out, as those that stand may not be moved."""
        if self._work is not None and state.joints is self._joints:
            return self._work
        stand = frozenset(name for name, joint in state.joints.items() if joint.is_made)
        self._joints = state.joints
        if self._work is None or stand != self._stand:
            stays = made_of(self.folder, state)
            self._work, _ = named_work(work(job, nest=False, recorded=stays), recorded=stays)
            self._stand = stand
            self._kept.clear()
        return self._work

    def _log(self, now: datetime) -> Known:
        """What the logbook holds; read from the first entry where it is another one than before."""
        path = self.folder / FILE
        if not path.is_file():
            self.close()
            return known_by(self.folder, None, now)
        if self._store is None:
            self._store = SqliteStore(path)
            self._fold, self._entries, self._newest, self._taken_at = Fold(), [], NO_RECEIPT, {}
        store = self._store
        taken = store.receipt()
        last = self._newest
        if (taken.number, taken.seal) != (last.number, last.seal):
            if taken.number < last.number or store.receipt(last.number).seal != last.seal:
                self._fold, self._entries, last, self._taken_at = Fold(), [], NO_RECEIPT, {}
            for stored in store.read_since(last.number):
                if stored.receipt > taken.number:
                    break
                self._fold.add(stored)
                self._entries.append(stored.entry)
        self._newest = taken
        return known_with(store, taken, self._fold.state(), tuple(self._entries), now, self._taken_at)

    def may_raise(self, asked: Asked, when: str = "") -> tuple[SiteKnown, MayRaise]:
        """Whether a section may be filled or raised.

        Parameters
        ----------
        asked : Asked
        when : str
            As for ``site_known``.

        Returns
        -------
        SiteKnown, MayRaise

        Raises
        ------
        BadInput
            Something cannot be read, or there is no such section or gauge place.
        """
        site = self.site(when)
        key = (asked.verb, asked.section)
        kept = self._kept.get(key)
        if kept is None:
            kept = self._kept[key] = RaiseKept(site.work)
        return site, may_raise(asked, site.work, site.progress, kept)


def content_of(folder: Path) -> str:
    """SHA-256 of every file that a job may be planned from.

    Parameters
    ----------
    folder : Path

    Returns
    -------
    str
        64 hex figures; what was written into out/ and the logbook are not in it.
    """
    found = hashlib.sha256()
    left_out = (OUT, LOCAL, SHELF)
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder)
        if name.parts[0] in left_out or name.name.startswith(FILE) or not path.is_file():
            continue
        content = path.read_bytes()
        found.update(f"{name}\0{len(content)}\0".encode() + content)
    return found.hexdigest()
