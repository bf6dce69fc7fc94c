"""The verb ``record settle``: which of several stories stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import typer

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import OpenStory, RecordOpen
from lineproof.desk.as_json import dumps
from lineproof.desk.record_read import Reader
from lineproof.desk.verbs_record import (
    FIGURES,
    Open,
    entry_lines,
    mind_releases,
    read_open,
    show_added,
    who_writes,
)
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.entry import Entry
from lineproof.logbook.state import Event, State


def settle(
    folder: Path, stand: Sequence[str], *, reason: str, second: str, by: str, insist: str, as_json: bool
) -> None:
    """Say which of contradicting entries stand; with none named, list what is to be settled."""
    settings = book.settings_of(folder)
    with book.opened(folder) as store:
        now = read_open(store, settings)
        events = now.events()
        by_seal = {e.seal: e for e in now.entries}
        groups = _open_groups(now.state)
        if not stand:
            _show_groups(groups, by_seal, now, events, as_json=as_json)
            return
        reader = Reader(
            settings, book.joints_of(folder), now.state, now.entries, store.job, store.files(), insist.strip()
        )
        person, who = who_writes(folder, settings, reader, by)
        if not reason.strip():
            raise BadInput("no reason is given", allowed="why these stand", next="add --reason")
        chosen = {reader.find_entry(text).seal for text in stand}
        other = reader.person(second) if second else ""
        if other and other == (who or book.person_uuid(store.job, person)):
            raise BadInput(
                "the second person is the one who writes", allowed="somebody else",
                next="have another person stand by it",
            )  # fmt: skip
        bodies = _settled(groups, chosen, reason, other)
        if reader.insist:
            bodies = [{**b, "insisted": "; ".join((reader.insist, *reader.insisted))} for b in bodies]
        pen = book.pen(folder, store, settings, person=person, who=who)
        written = [pen.write("fork_settled", body)[0] for body in bodies]
        show_added(store, settings, written, as_json=as_json)
        left = len(_open_groups(read_open(store, settings).state))
        if left and not other and left == len(groups):
            said = "still open: one person alone strikes no story out; next: again with --second"
            typer.echo(said, err=True)
    mind_releases(folder, settings, written, as_json=as_json)


def _open_groups(state: State) -> list[tuple[str, tuple[str, ...], bool]]:
    """Why, the seals, and whether only one of them may stand."""
    found = [(str(fork), fork.seals, False) for fork in state.forks]
    for joint in state.joints.values():
        if joint.two_stories:
            seals = tuple(sorted(e.entry.seal for e in joint.made))
            found.append((f"{joint.id} was told to be made {len(seals)} times", seals, True))
    return found


def _settled(
    groups: Sequence[tuple[str, tuple[str, ...], bool]], chosen: set[str], reason: str, second: str
) -> list[dict[str, Any]]:
    bodies = []
    left = set(chosen)
    for why, seals, only_one in groups:
        mine = sorted(chosen & set(seals))
        left -= set(seals)
        if not mine:
            continue
        if only_one and len(mine) > 1:
            raise BadInput(
                f"{why}: only one of them can stand", allowed="one entry", next="name the true one"
            )
        body: dict[str, Any] = {"seals": list(seals), "stand": mine, "reason": reason.strip()}
        bodies.append({**body, "second": second} if second else body)
    if left:
        raise BadInput(
            f"{min(left)[:FIGURES]} contradicts nothing that is open",
            allowed="entries that `lineproof record settle` lists",
            next="run it without entries to see them",
        )
    return bodies


def _show_groups(
    groups: Sequence[tuple[str, tuple[str, ...], bool]],
    by_seal: Mapping[str, Entry],
    now: Open,
    events: Mapping[str, Event],
    *,
    as_json: bool,
) -> None:
    stories = tuple(
        OpenStory(why=why, entries=tuple(now.words(by_seal[s], events) for s in seals))
        for why, seals, _ in groups
    )
    if as_json:
        typer.echo(dumps("record-open", RecordOpen(stories=stories)))
        return
    if not stories:
        typer.echo("nothing is to be settled")
    for story in stories:
        typer.echo(f"{Verdict.CANNOT_TELL.word}: {story.why}")
        for text in entry_lines(story.entries, now):
            typer.echo(f"  {text}")
    if stories:
        typer.echo("next: lineproof record settle ENTRY [ENTRY ...] --reason TEXT, with those that stand")
