"""The record verbs that keep the logbook safe: head, verify, backup, export, import."""

from __future__ import annotations

from pathlib import Path

import typer

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import (
    RecordCarried,
    RecordChecked,
    RecordHead,
)
from lineproof.desk.as_json import dumps
from lineproof.desk.papers.words import plural
from lineproof.desk.verbs_record import mind_releases
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.fold import fold
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import SHORT
from lineproof.logbook.verify import Checked, verify


def show_head(folder: Path, *, as_json: bool) -> None:
    """The head seal."""
    with book.opened(folder) as store:
        newest = store.receipt()
    if as_json:
        told = RecordHead(head=newest.head, printed=newest.head[:SHORT], entries=newest.entries)
        typer.echo(dumps("record-head", told))
        return
    typer.echo(newest.head)
    typer.echo(
        f"on papers: {newest.head[:SHORT]}; it stands for {plural(newest.entries, 'entry', 'entries')}"
    )


def run_verify(folder: Path, *, head: str, as_json: bool) -> int:
    """Check the logbook; exit code 0 if all is as it was written, 12 with holes or forks, 13 with faults."""
    with book.opened(folder) as store:
        told = _checked(str(folder / book.FILE), store, verify(store, printed=head))
    if as_json:
        typer.echo(dumps("record-checked", told))
    else:
        for text in checked_lines(told):
            typer.echo(text)
        if head and told.good:
            typer.echo(f"the head {head} is one that this logbook had")
    if not told.good:
        return Verdict.STOP.exit_code
    return Verdict.CANNOT_TELL.exit_code if told.holes or told.forks or told.files_missing else 0


def _checked(file: str, store: SqliteStore, found: Checked) -> RecordChecked:
    forks = tuple(str(f) for f in fold(store.read_since()).forks) if found.good else found.forks
    return RecordChecked(
        file=file, head=found.head, entries=found.entries, receipts=found.receipts, good=found.good,
        faults=found.faults, holes=tuple(map(str, found.holes)), forks=tuple(map(str, forks)),
        files_missing=found.files_missing,
    )  # fmt: skip


def checked_lines(told: RecordChecked) -> list[str]:
    """What a verification found, in lines."""
    said = "as it was written" if told.good else "CHANGED"
    rows = [f"{told.file}: {plural(told.entries, 'entry', 'entries')}, {said}; head {told.head[:SHORT]}"]
    rows += [f"  fault: {text}" for text in told.faults]
    rows += [f"  hole: {text}" for text in told.holes]
    rows += [f"  fork: {text}; settle it with `lineproof record settle`" for text in told.forks]
    rows += [f"  file missing: {text}" for text in told.files_missing]
    return rows


def _new_file(folder: Path, file: Path) -> None:
    there = file.exists() or file.is_symlink() or file.resolve() == (folder / book.FILE).resolve()
    if there or not file.parent.is_dir():
        raise BadInput(
            f"{file} is there already" if there else f"the folder {file.parent} is not there",
            allowed="a new file in a folder that is there",
            next="choose another name; nothing is written over",
        )


def run_backup(folder: Path, file: Path, *, as_json: bool) -> int:
    """Copy the logbook, verified."""
    from lineproof.logbook.backup import backup

    _new_file(folder, file)
    with book.opened(folder) as store:
        copied = backup(store, file)
    with SqliteStore(file) as copy:
        told = _checked(str(file), copy, copied)
    if as_json:
        typer.echo(dumps("record-checked", told))
    else:
        for text in checked_lines(told):
            typer.echo(text)
    return 0 if told.good else Verdict.STOP.exit_code


def run_export(folder: Path, file: Path, *, as_json: bool) -> None:
    """Write the logbook into one file to carry."""
    from lineproof.logbook.carry import export_to

    _new_file(folder, file)
    with book.opened(folder) as store:
        head = export_to(store, file)
        entries = store.receipt().entries
    if as_json:
        told = RecordCarried(file=str(file), head=head, entries=entries, new=0, forked=())
        typer.echo(dumps("record-carried", told))
        return
    typer.echo(f"{plural(entries, 'entry', 'entries')} written into {file}; head {head[:SHORT]}")


def run_import(folder: Path, file: Path, *, as_json: bool) -> None:
    """Take in what another copy of the job has recorded."""
    from lineproof.logbook.carry import import_from

    settings = book.settings_of(folder)
    if not file.is_file():
        raise BadInput(
            f"there is no file {file}", allowed="a file that the export wrote", next="check its name"
        )
    with book.opened(folder, job=book.job_uuid(settings)) as store:
        before = store.receipt().number
        taken = import_from(store, file)
        newest = store.receipt()
        came = [s.entry for s in store.read_since(before)]
    mind_releases(folder, settings, came, as_json=as_json)
    if as_json:
        told = RecordCarried(
            file=str(file), head=newest.head, entries=newest.entries, new=len(taken.new), forked=taken.forked
        )
        typer.echo(dumps("record-carried", told))
        return
    typer.echo(
        f"{plural(len(taken.new), 'new entry', 'new entries')} from {file}; head {newest.head[:SHORT]}"
    )
    if taken.forked:
        typer.echo(
            f"{plural(len(taken.forked), 'of them contradicts', 'of them contradict')} what was here: "
            "next: lineproof record settle"
        )
