"""One entry as it is typed, on the command line or on a page: looked at first, then written, and told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import EntryWords
from lineproof.desk.card_sealing import seal_card
from lineproof.desk.record_fields import kind_typed, owed_by
from lineproof.desk.record_logger import logger_note
from lineproof.desk.record_read import Reader
from lineproof.desk.verbs_record import FIGURES, Open, entry_lines, read_open, shown, who_writes
from lineproof.floor.errors import BadInput
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry, is_uuid
from lineproof.logbook.kinds import check_new, latest
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import SHORT
from lineproof.logbook.writing import DeviceClock


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """An entry as it was understood; nothing is written.

    Parameters
    ----------
    kind : str
    body : mapping
        Its fields as they would be written.
    by : str
        Who writes it, by the id in job.toml.
    fields : tuple
        Field and what it says, in words.
    owed : tuple of str
        What a release will ask for and this does not say.
    """

    kind: str
    body: Mapping[str, Any]
    by: str
    fields: tuple[tuple[str, str], ...]
    owed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written.

    Parameters
    ----------
    entries : tuple of EntryWords
    head : str
        Head seal after them.
    lines : tuple of str
        The same in words.
    warnings : tuple of str
    withdrawn : tuple of str
        Releases that this takes back, said loudly.
    again : bool
        The form was sent before: this is what it wrote then, and nothing was written now.
    open : str
        What is left open by it, and what to do next.
    """

    entries: tuple[EntryWords, ...]
    head: str
    lines: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    withdrawn: tuple[str, ...] = ()
    again: bool = False
    open: str = ""


def look_at(
    folder: Path, kind: str, words: Sequence[str], *, by: str, insist: str = "", files: bool = True
) -> Looked:
    """Read an entry as it would be written, and write nothing.

    Parameters
    ----------
    folder : Path
        The job.
    kind : str
    words : sequence of str
        Subject and ``key=value`` as typed after ``lineproof record add KIND``.
    by : str
        Who writes it, by id; whoever wrote last on this machine unless said.
    insist : str
        Why an odd entry is kept all the same.
    files : bool
        Files may be named by where they lie on this machine; else only by the hash they are kept under.

    Returns
    -------
    Looked

    Raises
    ------
    BadInput
        With the word that cannot be taken, or why it may not be written.
    """
    kind_typed(kind)
    settings = book.settings_of(folder)
    with book.opened(folder, job=book.job_uuid(settings)) as store:
        now = read_open(store, settings)
        person, _, body = _read(folder, settings, store, now, kind, words, by, insist, files)
        check_new(latest(kind), body, DeviceClock(settings.site.timezone).read().wall)
    fields = tuple((k.replace("_", " "), shown(v, now.people)) for k, v in body.items())
    return Looked(kind=kind, body=body, by=person, fields=fields, owed=owed_by(kind, body))


def write_entry(
    folder: Path,
    kind: str,
    words: Sequence[str],
    *,
    by: str,
    insist: str = "",
    files: bool = True,
    id: str = "",
) -> Written:
    """Write one entry.

    Parameters
    ----------
    folder, kind, words, by, insist, files
        As for ``look_at``.
    id : str
        UUID of the entry, dealt with the form: an entry that is there already is told, not written again.

    Returns
    -------
    Written

    Raises
    ------
    BadInput
        It cannot be written; then nothing was.
    """
    kind_typed(kind)
    settings = book.settings_of(folder)
    with book.opened(folder, job=book.job_uuid(settings)) as store:
        now = read_open(store, settings)
        before = by_id(now, id, kind)
        if before is not None:
            return told(store, settings, [before], again=True)
        person, who, body = _read(folder, settings, store, now, kind, words, by, insist, files)
        pen = book.pen(folder, store, settings, person=person, who=who)
        with store.lock():
            # Two presses at once: the second one waits here for the first.
            before = by_id(read_open(store, settings), id, kind) if id else None
            if before is not None:
                return told(store, settings, [before], again=True)
            sealed = seal_card(folder, settings, now.state, kind, body, pen)
            entry, _ = pen.write(kind, body, id=id)
        note = logger_note(kind, body, entry, store.files(), ZoneInfo(settings.site.timezone))
        found = told(store, settings, [*sealed, entry], note=note)
    return with_releases(folder, settings, [entry], found, bool(now.state.releases))


def by_id(now: Open, id: str, kind: str) -> Entry | None:
    """The entry that a form wrote before; None if it was not sent yet.

    Parameters
    ----------
    now : Open
    id : str
        As dealt with the form; empty for none.
    kind : str
        What the form writes.

    Returns
    -------
    Entry or None

    Raises
    ------
    BadInput
        It is no id of a form, or an entry of another kind has it.
    """
    if not id:
        return None
    if not is_uuid(id):
        raise BadInput("this form was not made here", next="open the page again; nothing was written")
    found = next((e for e in now.entries if e.id == id), None)
    if found is not None and found.kind != kind:
        raise BadInput("this form was used for another entry", next="open the page again")
    return found


def with_releases(
    folder: Path, settings: Settings, new: Sequence[Entry], written: Written, any_given: bool
) -> Written:
    """Take back the releases that new entries spoil, and say so.

    Parameters
    ----------
    folder : Path
    settings : Settings
    new : sequence of Entry
    written : Written
    any_given : bool
        A release was ever given in this job.

    Returns
    -------
    Written
    """
    if not any_given:
        return written
    from dataclasses import replace

    from lineproof.desk import release_watch

    return replace(written, withdrawn=tuple(release_watch.told(release_watch.watch(folder, settings, new))))


def _read(
    folder: Path, settings: Settings, store: SqliteStore, now: Open, kind: str, words: Sequence[str],
    by: str, insist: str, files: bool,
) -> tuple[str, str, dict[str, Any]]:  # fmt: skip
    joints = book.joints_of(folder)
    reader = Reader(
        settings, joints, now.state, now.entries, store.job, store.files(), insist.strip(), files=files
    )
    person, who = who_writes(folder, settings, reader, by)
    body = reader.entry(kind, words, book.me(folder).writer)
    if now.state.releases:
        from lineproof.desk.release_watch import refuse_under_pressure

        refuse_under_pressure(settings, now.state, kind, body)
    return person, who, body


def told(
    store: SqliteStore, settings: Settings, entries: Sequence[Entry], *, note: str = "", again: bool = False
) -> Written:
    """Entries that were just written, and the head seal after them.

    Parameters
    ----------
    store : SqliteStore
    settings : Settings
    entries : sequence of Entry
    note : str
        What else is said of them.
    again : bool
        They were written before.

    Returns
    -------
    Written
    """
    now = read_open(store, settings)
    events = now.events()
    words = tuple(now.words(entry, events) for entry in entries)
    head = store.receipt().head
    lines = [*entry_lines(words, now), f"written; head {head[:SHORT]}"]
    for entry in entries:
        owed = owed_by(entry.kind, entry.body)
        if owed:
            lines.append(
                f"not said: {', '.join(owed)}. Nothing goes to pressure without. Next: strike it out with a "
                f"correction (void=yes, second=...) and write it whole; {entry.seal[:FIGURES]} names it."
            )
    if note:
        lines.append(note)
    return Written(entries=words, head=head, lines=tuple(lines), warnings=tuple(store.warnings), again=again)
