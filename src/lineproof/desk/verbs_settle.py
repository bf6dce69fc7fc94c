"""The verb ``record settle``: which of several stories stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import typer

from lineproof.desk import record_book as book
from lineproof.desk.answers_record import OpenStory, RecordOpen
from lineproof.desk.as_json import dumps
from lineproof.desk.record_add import Written, by_id, told, with_releases
from lineproof.desk.record_read import Reader
from lineproof.desk.verbs_record import (
    FIGURES,
    Open,
    entry_lines,
    read_open,
    say_written,
    who_writes,
)
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.state import State


def settle(
    folder: Path, stand: Sequence[str], *, reason: str, second: str, by: str, insist: str, as_json: bool
) -> None:
    """Say which of contradicting entries stand; with none named, list what is to be settled."""
    if not stand:
        stories, now = open_stories(folder)
        _show_groups(stories, now, as_json=as_json)
        return
    written = settle_stories(folder, stand, reason=reason, second=second, by=by, insist=insist)
    say_written(written, as_json=as_json)


def open_stories(folder: Path) -> tuple[tuple[OpenStory, ...], Open]:
    """Forks, and joints told to be made more than once, that nobody has settled.

    Parameters
    ----------
    folder : Path
        A job with a logbook.

    Returns
    -------
    tuple of OpenStory, Open
        The stories, and the logbook as read.
    """
    settings = book.settings_of(folder)
    with book.opened(folder) as store:
        now = read_open(store, settings)
    events = now.events()
    by_seal = {e.seal: e for e in now.entries}
    stories = tuple(
        OpenStory(why=why, entries=tuple(now.words(by_seal[s], events) for s in seals))
        for why, seals, _ in _open_groups(now.state)
    )
    return stories, now


def settle_stories(
    folder: Path,
    stand: Sequence[str],
    *,
    reason: str,
    second: str,
    by: str,
    insist: str = "",
    id: str = "",
) -> Written:
    """Write which of contradicting entries stand.

    Parameters
    ----------
    folder : Path
    stand : sequence of str
        First figures of the entries that stand.
    reason : str
    second : str
        Id of another person who stands by it; without one no story is struck out.
    by : str
        Id of the person who writes.
    insist : str
    id : str
        UUID dealt with the form: of the entry, or of the first of them.

    Returns
    -------
    Written

    Raises
    ------
    BadInput
        No reason, the same person twice, or an entry that contradicts nothing.
    """
    settings = book.settings_of(folder)
    with book.opened(folder) as store:
        now = read_open(store, settings)
        before = by_id(now, id, "fork_settled")
        if before is not None:
            return told(store, settings, [before], again=True)
        groups = _open_groups(now.state)
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
        written = [pen.write("fork_settled", body, id="" if n else id)[0] for n, body in enumerate(bodies)]
        found = told(store, settings, written)
        left = len(_open_groups(read_open(store, settings).state))
        if left and not other and left == len(groups):
            said = "still open: one person alone strikes no story out; next: again with --second"
            found = replace(found, open=said)
    return with_releases(folder, settings, written, found, any_given=True)


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


def _show_groups(stories: Sequence[OpenStory], now: Open, *, as_json: bool) -> None:
    if as_json:
        typer.echo(dumps("record-open", RecordOpen(stories=tuple(stories))))
        return
    if not stories:
        typer.echo("nothing is to be settled")
    for story in stories:
        typer.echo(f"{Verdict.CANNOT_TELL.word}: {story.why}")
        for text in entry_lines(story.entries, now):
            typer.echo(f"  {text}")
    if stories:
        typer.echo("next: lineproof record settle ENTRY [ENTRY ...] --reason TEXT, with those that stand")
