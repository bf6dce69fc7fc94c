"""What is known of a job at a moment: its folder, its logbook up to a receipt, its plan, its progress."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from lineproof.desk.record_book import FILE, LOCAL, WRITER, job_uuid, machine, made_of, people_of
from lineproof.floor.errors import BadInput
from lineproof.job.files import read_bytes
from lineproof.job.folder import Job, read_job
from lineproof.job.progress import Progress
from lineproof.job.weather import FILE as WEATHER
from lineproof.logbook.air_of import air_of
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.gauges_of import gauges_of
from lineproof.logbook.logger_files import LoggerFiles
from lineproof.logbook.progress_kept import KeptProgress
from lineproof.logbook.section_of import SEEN, Wrotes, sections_of, writers_of
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.state import State
from lineproof.logbook.store import NO_RECEIPT, Receipt
from lineproof.logbook.writing import DeviceClock
from lineproof.plan.make_pack import named_work
from lineproof.plan.work import Work, work


@dataclass(frozen=True, slots=True)
class Known:
    """What the logbook held at one receipt.

    Parameters
    ----------
    state : State
    receipt : int
        0 without a logbook. [-]
    head : str
        Head seal at that receipt.
    received : mapping
        Receipts of the day before the moment judged, and when each was given.
    warnings : tuple of str
    shelf : Shelf or None
        Photos, documents and loggers' files beside it.
    entries : sequence of Entry
        Those that were known, in the order of arrival.
    """

    state: State
    receipt: int
    head: str
    received: Mapping[int, datetime] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()
    shelf: Shelf | None = None
    entries: Sequence[Entry] = ()


@dataclass(frozen=True, slots=True)
class SiteKnown:
    """A job at a moment.

    Parameters
    ----------
    folder : Path
    job : Job
    now : Stamp
        The moment judged.
    log : Known
    work : Work
        With named joints.
    progress : Progress
    """

    folder: Path
    job: Job
    now: Stamp
    log: Known
    work: Work
    progress: Progress


def site_known(folder: Path, *, when: str = "", known: int | None = None) -> SiteKnown:
    """Read a job folder and its logbook, plan it, and hold the two together.

    Parameters
    ----------
    folder : Path
    when : str
        The moment judged, in the site's zone unless it has an offset; empty for now.
    known : int or None
        Only entries taken by this receipt count; None for all. [-]

    Returns
    -------
    SiteKnown

    Raises
    ------
    BadInput
        Something in the folder or the logbook cannot be read.
    """
    job = read_job(folder)
    now = stamp_of(when, job.zone)
    log = known_by(folder, known, now.wall)
    stays = made_of(folder, log.state)
    made, _ = named_work(work(job, nest=False, recorded=stays), recorded=stays)
    progress = progress_known(folder, job, log, now, replay=known is not None)
    if progress.air.why:
        log = replace(log, warnings=(*log.warnings, f"{WEATHER} does not count: {progress.air.why}."))
    return SiteKnown(folder, job, now, log, made, progress)


@dataclass(slots=True)
class Before:
    """What was read of a job before, by one that asks again and again.

    Parameters
    ----------
    progress : KeptProgress
    files : LoggerFiles or None
    wrote : dict
    """

    progress: KeptProgress = field(default_factory=KeptProgress)
    files: LoggerFiles | None = None
    wrote: Wrotes = field(default_factory=dict)


def progress_known(
    folder: Path,
    job: Job,
    log: Known,
    now: Stamp,
    *,
    replay: bool = False,
    before: Before | None = None,
) -> Progress:
    """Progress of a job by what its logbook held: joints, sections, gauges, writers.

    Parameters
    ----------
    folder : Path
    job : Job
    log : Known
    now : Stamp
    replay : bool
        An earlier answer is given again: weather.csv counts as it was imported by then.
    before : Before or None
        What was read before of the same job; it is added to.

    Returns
    -------
    Progress
    """
    before = Before() if before is None else before
    people = people_of(job_uuid(job.settings), job.settings)
    files = LoggerFiles(log.shelf, job.zone, before.files) if log.shelf is not None else None
    before.files = files
    air = air_of(
        log.state, now, read_bytes(folder / WEATHER, WEATHER, needed=False),
        margin=job.settings.conditions.air_margin, zone=job.zone, shelf=log.shelf, replay=replay,
    )  # fmt: skip
    return replace(
        before.progress.of(log.state, now, people=people, files=files, air=air),
        sections=sections_of(log.state, now, people, log.received),
        gauges=gauges_of(log.state),
        writers=writers_of(
            log.state, now, here=writer_here(folder), received=log.received, before=before.wrote
        ),
    )


def writer_here(folder: Path) -> str:
    """UUID of the writer of this machine in a job; empty if it has never written."""
    found = read_bytes(folder / LOCAL / WRITER, f"{LOCAL}/{WRITER}", needed=False)
    try:
        told = json.loads(found) if found is not None else {}
        return str(told["writer"]) if told.get("machine") == machine() else ""
    except (ValueError, KeyError, AttributeError):
        return ""


def stamp_of(when: str, zone: ZoneInfo) -> Stamp:
    """The moment judged, as a stamp.

    Parameters
    ----------
    when : str
        As typed; empty for what the clocks of this device say now.
    zone : ZoneInfo
        Of the site.

    Returns
    -------
    Stamp
        A moment that a person typed counts as confirmed.

    Raises
    ------
    BadInput
        It is no moment.
    """
    if not when:
        now = DeviceClock(zone.key).read()
        return Stamp(wall=now.wall, monotonic=now.monotonic, boot=now.boot, synchronised=now.synchronised)
    try:
        told = datetime.fromisoformat(when.strip())
    except ValueError:
        told = None
    if told is None or len(when.strip()) < len("2026-11-26T09:40"):
        raise BadInput(
            f"--when {when[:40]!r} is not a moment",
            allowed="a day and an hour of the site such as 2026-11-26T09:40",
            next="type it like that, or leave it out for now",
        )
    # In the hour that comes twice the earlier is meant: it never credits more time.
    return Stamp(wall=told if told.tzinfo else told.replace(tzinfo=zone), confirmed=True)


def known_by(folder: Path, receipt: int | None, now: datetime) -> Known:
    """What the logbook of a job held at a receipt.

    Parameters
    ----------
    folder : Path
        The job folder; it may have no logbook yet.
    receipt : int or None
        None for the newest. [-]
    now : datetime
        The moment judged.

    Returns
    -------
    Known

    Raises
    ------
    BadInput
        There is no such receipt, or the logbook cannot be read.
    """
    path = folder / FILE
    if not path.is_file():
        if receipt:
            raise BadInput(
                f"there is no receipt {receipt}, as there is no logbook yet", next="leave --known out"
            )
        return Known(fold(()), 0, NO_RECEIPT.head)
    with SqliteStore(path) as store:
        taken = store.receipt(receipt)
        stored = [each for each in store.read_since() if each.receipt <= taken.number]
        return known_with(store, taken, fold(stored), [each.entry for each in stored], now)


def known_with(
    store: SqliteStore,
    taken: Receipt,
    state: State,
    entries: Sequence[Entry],
    now: datetime,
    held: dict[int, datetime] | None = None,
) -> Known:
    """What an open logbook held at a receipt, folded already.

    Parameters
    ----------
    store : SqliteStore
    taken : Receipt
    state : State
    entries : sequence of Entry
        Those that it was folded from.
    now : datetime
        The moment judged.
    held : dict, optional
        When receipts before this one were taken, as read earlier; those read now are put in.

    Returns
    -------
    Known
    """
    held = {} if held is None else held
    received: dict[int, datetime] = {}
    for number in range(taken.number, 0, -1):
        at = held.get(number) or store.receipt(number).received_at
        if at is None:
            break
        held[number] = at
        if now - at > SEEN:
            break
        received[number] = at
    return Known(state, taken.number, taken.head, received, tuple(store.warnings), store.files(), entries)
