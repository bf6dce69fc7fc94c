"""Verbs of the logbook: ``lineproof record ...``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import typer

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import (
    EntryWords,
    KindWords,
    RecordAdded,
    RecordKinds,
    RecordList,
    WasWords,
)
from lineproof.desk.as_json import dumps
from lineproof.desk.papers.words import plural
from lineproof.desk.record_fields import ANYWHERE, BY_ITSELF, TYPED, kind_typed
from lineproof.desk.record_read import Reader
from lineproof.floor.errors import BadInput
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.fold import fold
from lineproof.logbook.kinds import latest
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.state import Event, State
from lineproof.logbook.store import SHORT, Stored
from lineproof.logbook.subjects import body_of, subjects_of

if TYPE_CHECKING:
    from lineproof.desk.record_add import Written

FIGURES = 12
"""Figures of a seal that name an entry on the screen."""


@dataclass(frozen=True, slots=True)
class Open:
    """A logbook as read.

    Parameters
    ----------
    stored : tuple of Stored
        In the order of arrival.
    state : State
    people : mapping
        UUID to the id in job.toml.
    zone : ZoneInfo
    """

    stored: tuple[Stored, ...]
    state: State
    people: Mapping[str, str]
    zone: ZoneInfo

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All entries."""
        return tuple(s.entry for s in self.stored)

    def events(self) -> dict[str, Event]:
        """Entries that count, by their seal."""
        s = self.state
        things = (s.joints, s.cans, s.tags, s.gauges, s.releases, s.sections)
        found = [e for group in things for thing in group.values() for e in thing.events]
        return {e.entry.seal: e for e in (*found, *s.others, *s.unknown, *s.pending)}

    def words(self, entry: Entry, events: Mapping[str, Event]) -> EntryWords:
        """An entry as it counts today."""
        event = events.get(entry.seal)
        amending = entry.kind in ("correction", "time_confirmed", "fork_settled")
        body = body_of(entry)
        flags = set(event.flags) if event else set()
        if event and event.late:
            flags.add("late")
        if "insisted" in body:
            flags.add("insisted")
        return EntryWords(
            entry=entry.seal[:FIGURES],
            id=entry.id,
            seal=entry.seal,
            writer=entry.writer,
            sequence=entry.sequence,
            kind=entry.kind,
            about=tuple(sorted({name for _, name in subjects_of(entry.kind, event.body if event else body)})),
            at=event.at if event else entry.wall,
            written=entry.wall,
            by=self.people.get(entry.who, entry.who),
            body=body,
            was=tuple(
                WasWords(
                    field=w.field, old=w.old, new=w.new, reason=w.reason, by=self.people.get(w.who, w.who)
                )
                for w in (event.was if event else ())
            ),
            flags=tuple(sorted(flags)),
            stands=event is not None or amending,
        )


def read_open(store: SqliteStore, settings: Settings) -> Open:
    """Read a logbook."""
    stored = tuple(store.read_since())
    people = book.people_of(store.job, settings)
    people[book.person_uuid(store.job, "")] = "nobody named"
    return Open(stored, fold(stored), people, ZoneInfo(settings.site.timezone))


def show_kinds(kind: str, *, as_json: bool) -> None:
    """The kinds, or one of them with its fields."""
    names = [kind] if kind else [*TYPED, *BY_ITSELF]
    told = []
    for name in names:
        typed = TYPED.get(name) if name in BY_ITSELF else kind_typed(name)
        if typed is None:
            told.append(
                KindWords(
                    kind=name, says=latest(name).says, typed=False, subject="", needed={}, may={},
                    example=BY_ITSELF[name],
                )
            )  # fmt: skip
            continue
        told.append(
            KindWords(
                kind=name, says=latest(name).says, typed=True, subject=typed.subject,
                needed={k: v for k, v in typed.needed.items() if v != "new"}, may={**typed.may, **ANYWHERE},
                example=f"lineproof record add {name} {typed.example}",
            )
        )  # fmt: skip
    if as_json:
        typer.echo(dumps("record-kinds", RecordKinds(kinds=tuple(told))))
        return
    for k in told:
        typer.echo(f"{k.kind:<18} {k.says}")
        if k.typed:
            typer.echo(f"  needed   {_fields(k.needed, k.subject)}")
            typer.echo(f"  may have {_fields(k.may, '')}")
            typer.echo(f"  example  {k.example}")
        else:
            typer.echo(f"  not typed: {k.example}")


def _fields(fields: Mapping[str, str], subject: str) -> str:
    return ", ".join(
        f"{k.replace('_', '-')} ({what.replace('|', ' | ')}{'; first' if k == subject else ''})"
        for k, what in fields.items()
    )


def add(folder: Path, kind: str, words: Sequence[str], *, by: str, insist: str, as_json: bool) -> None:
    """Write one entry."""
    from lineproof.desk.record_add import write_entry

    written = write_entry(folder, kind, words, by=by, insist=insist)
    say_written(written, as_json=as_json)


def say_written(written: Written, *, as_json: bool) -> None:
    """Entries that were just written, the head seal after them, and what that spoils.

    Parameters
    ----------
    written : Written
    as_json : bool
    """
    if as_json:
        typer.echo(dumps("record-added", RecordAdded(entries=written.entries, head=written.head)))
    else:
        for text in written.lines:
            typer.echo(text)
        for text in written.warnings:
            typer.echo(f"warning: {text}", err=True)
    if written.open:
        typer.echo(written.open, err=True)
    for text in written.withdrawn:
        typer.echo(text, err=as_json)


def mind_releases(
    folder: Path, settings: Settings, new: Sequence[Entry], *, as_json: bool, anyway: bool = False
) -> None:
    """Take back releases that new entries spoil, and say so loudly.

    Parameters
    ----------
    folder : Path
    settings : Settings
    new : sequence of Entry
    as_json : bool
        Standard output is kept for the answer.
    anyway : bool
        Judge them again although nothing was written.
    """
    from lineproof.desk.release_watch import told, watch

    for text in told(watch(folder, settings, new, anyway=anyway)):
        typer.echo(text, err=as_json)


def who_writes(folder: Path, settings: Settings, reader: Reader, by: str) -> tuple[str, str]:
    """Id and UUID of the person who writes; whoever wrote last here unless said.

    Parameters
    ----------
    folder : Path
    settings : Settings
    reader : Reader
    by : str
        As typed; empty if nobody said.

    Returns
    -------
    str, str

    Raises
    ------
    BadInput
        Nobody is named, or nobody is called so.
    """
    known = {p.id for p in settings.people}
    if not by:
        last = book.me(folder).person
        if last in known:
            return last, ""
        raise BadInput(
            "nobody is named who writes this", allowed=", ".join(sorted(known)) or "a person of job.toml",
            next="add --by with the id of the person; it is remembered on this machine",
        )  # fmt: skip
    who = reader.person(by)
    return next((i for i in known if book.person_uuid(reader.job, i) == who), by), who


def show_list(folder: Path, subject: str, *, as_json: bool) -> None:
    """Entries, newest last; all of them or those about one thing."""
    settings = book.settings_of(folder)
    with book.opened(folder) as store:
        now = read_open(store, settings)
        head = store.receipt().head
    events = now.events()
    told = sorted(
        (now.words(e, events) for e in now.entries), key=lambda w: (w.at, w.writer, w.sequence, w.seal)
    )
    if subject:
        about = {name.casefold(): name for w in told for name in w.about}
        if subject.casefold() not in about and not any(w.kind == subject for w in told):
            import difflib

            near = difflib.get_close_matches(subject, about.values(), 3, 0.4)
            raise BadInput(
                f"the logbook holds nothing about {subject!r}",
                allowed=", ".join(near) or "a joint, can, tag, gauge, release or section that it names",
                next="see `lineproof record list`",
            )
        name = about.get(subject.casefold(), subject)
        mine = {w.id for w in told if name in w.about or w.kind == subject}
        told = [
            w for w in told if w.id in mine or mine & {str(w.body.get("corrects")), str(w.body.get("of"))}
        ]
    if as_json:
        typer.echo(dumps("record-list", RecordList(entries=tuple(told), head=head)))
        return
    for text in entry_lines(told, now):
        typer.echo(text)
    typer.echo(f"{plural(len(told), 'entry', 'entries')}; head {head[:SHORT]}")


def entry_lines(told: Iterable[EntryWords], now: Open) -> list[str]:
    """Entries as lines of text; corrections below what they correct, old -> new."""
    rows = []
    for w in told:
        flags = f"  [{', '.join(w.flags)}]" if w.flags else ""
        gone = "" if w.stands else "  STRUCK OUT"
        rest = {k: v for k, v in w.body.items() if v not in w.about}
        if w.kind == "card":
            rest["told"] = "as typed; `lineproof record list --json` shows it"
        rows.append(
            f"{w.entry}  {w.at.astimezone(now.zone):%Y-%m-%d %H:%M}  {w.kind:<15} {', '.join(w.about) or '-'}"
            f"  by {w.by}{flags}{gone}"
        )
        if rest:
            rows.append(f"    {'; '.join(f'{k} {shown(v, now.people)}' for k, v in rest.items())}")
        rows += [
            f"    corrected: {c.field} {shown(c.old, now.people)} -> {shown(c.new, now.people)}"
            f" by {c.by} ({c.reason})"
            for c in w.was
        ]
    return rows


def shown(value: object, people: Mapping[str, str]) -> str:
    """A value of a body in words: what was typed, people by their ids."""
    if isinstance(value, Mapping):
        if "typed" in value:
            return str(value["typed"])
        return ", ".join(f"{k} {shown(v, people)}" for k, v in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(shown(v, people) for v in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = "nothing" if value is None else str(value)
    text = people.get(text, text)
    return text[:SHORT] if len(text) == 64 and set(text) <= set("0123456789abcdef") else text
