"""Issues a plan: a folder ``issued/<n>/`` that says what it was made from, whole or not at all.

Order of writing, so that a kill at any moment leaves the old state or the new one: a draft folder beside the
issues is filled and put on the disk; it gets its number in one rename, and that rename is the issue; then
joints.csv is replaced. Should the kill fall between the last two, the issue's own copy of joints.csv is ahead
of the job's, ``joints_now`` reads the copy, and the next issue puts it in place first.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import shutil
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.job.files import as_text, read_bytes
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import FILE, JointsFile, appended, read_joints
from lineproof.job.write import why, write_whole
from lineproof.plan.ids import Named
from lineproof.plan.issued import COPIES, FOLDER, MANIFEST, Issue, digest_of, joints_now, latest
from lineproof.plan.model import Cutting

Step = Callable[[str], None]
"""Called with a word before each write, sync and rename; tests raise from it."""


def issue(
    job_folder: Path,
    *,
    named: Named,
    graph: LineGraph,
    cutting: Cutting,
    inputs: Iterable[tuple[str, str]],
    tables: Iterable[str],
    software: str,
    when: str,
    step: Step = lambda _word: None,
) -> Issue:
    """Issue a plan.

    Parameters
    ----------
    job_folder : Path
        The job.
    named : Named
        All joints with their ids, named for an issue.
    graph : LineGraph
        For the drawing and revision of each line.
    cutting : Cutting
        The pieces.
    inputs : iterable of (str, str)
        Relative path and SHA-256 of every file the plan was made from.
    tables : iterable of str
        Tables read, with their editions.
    software : str
        Version.
    when : str
        Time stamp.
    step : callable
        Called before each write, sync and rename.

    Returns
    -------
    Issue
        With ``new`` False if it was made from the same as the last one; nothing is written then.

    Raises
    ------
    MatchUnclear
        A joint of the last issue could be one of several; nothing is written.
    BadInput
        A file changed since it was read, the number is taken, or the folder cannot be written.
    EntrySealed
        joints.csv is not the one the last issue left.
    """
    named.must_be_clear()
    if not named.issuing:
        raise BadInput("the joints were named for a draft", next="name them for an issue")
    step("finish the issue before")
    joints_text = finish(job_folder)
    before = latest(job_folder)
    old = read_joints(joints_text)
    _same_history(old, before)
    number = before.number + 1 if before else 1
    if named.revision != number:
        raise BadInput(
            f"the plan was made for issue {named.revision}, but the next one is {number}",
            next="plan again; somebody issued in the meantime",
        )
    now = appended(old, named.rows)
    kept = {path: digest for path, digest in inputs if path != FILE}
    made = _issue(number, when, named, graph, cutting, kept, tuple(sorted(set(tables))), software, now)
    made = replace(made, folder=job_folder / FOLDER / str(number))
    if before is not None and before.made_of == made.made_of and not named.rows:
        return replace(before, new=False)
    _write(job_folder, made, now, step)
    step("replace joints.csv")
    if now.text != joints_text:
        write_whole(job_folder / FILE, now.text.encode())
    step("done")
    return made


def _issue(
    number: int,
    when: str,
    named: Named,
    graph: LineGraph,
    cutting: Cutting,
    inputs: dict[str, str],
    tables: tuple[str, ...],
    software: str,
    now: JointsFile,
) -> Issue:
    keys = {name: (row.a, row.b) for name, row in now.joints.items()}
    blank = Issue(
        number=number,
        when=when,
        lines={name: (line.drawing, line.rev) for name, line in graph.lines.items()},
        inputs=dict(sorted(inputs.items())),
        tables=tables,
        software=software,
        joints={j.id: keys[j.id] for j in named.joints},
        pieces=tuple(
            {"id": p.id, "leg": p.run, "n": p.n, "state": p.state.value, "cut": p.cut, "stock": p.stock}
            for p in cutting.pieces
        ),
        born=named.born,
        retired=named.retired,
        joints_seal=now.seal,
        made_of="",
        seal="",
        folder=Path(),
    )
    told = blank.told()
    same = {
        k: v
        for k, v in told.items()
        if k not in ("issue", "when", "born", "retired", "made_of", "joints_seal")
    }
    blank = replace(blank, made_of=digest_of(same))
    return replace(blank, seal=digest_of(blank.told()))


def _write(job_folder: Path, made: Issue, now: JointsFile, step: Step) -> None:
    """The draft folder, then its number in one rename."""
    root = job_folder / FOLDER
    target = root / str(made.number)
    draft = root / f".draft-{secrets.token_hex(6)}"
    try:
        step("make the folder")
        root.mkdir(exist_ok=True)
        for left in root.glob(".draft-*"):
            shutil.rmtree(left, ignore_errors=True)
        draft.mkdir()
        for path, digest in made.inputs.items():
            step(f"copy {path}")
            _copy(job_folder, path, digest, draft / COPIES / path)
        step(f"copy {FILE}")
        write_whole(draft / FILE, now.text.encode())
        step("write the manifest")
        write_whole(draft / MANIFEST, made.text().encode())
        step("sync")
        for folder in sorted((draft, *(p for p in draft.rglob("*") if p.is_dir())), reverse=True):
            _sync(folder)
        step("rename")
        if target.exists() or target.is_symlink():
            raise BadInput(
                f"{target} is there already", allowed="an issue is never written over", next="plan again"
            )
        draft.rename(target)
        step("sync the issues")
        _sync(root)
    except OSError as error:
        raise BadInput(
            f"the issue cannot be written in {root}: {why(error)}",
            allowed="a folder that may be written, with room on the disk",
            next="nothing was issued; make room and issue again",
        ) from error
    finally:
        if draft.exists():
            shutil.rmtree(draft, ignore_errors=True)


def _copy(job_folder: Path, path: str, digest: str, target: Path) -> None:
    content = read_bytes(job_folder / path, path) or b""
    if hashlib.sha256(content).hexdigest() != digest:
        raise BadInput(
            "the file was changed while the plan was made",
            allowed="the files the plan was made from",
            next="plan again",
            place=Place(path),
        )
    target.parent.mkdir(parents=True, exist_ok=True)
    write_whole(target, content)


def _sync(folder: Path) -> None:
    with contextlib.suppress(OSError):  # some file systems cannot sync a folder
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def finish(job_folder: Path) -> str:
    """Put the newest issue's joints.csv in place if a kill kept it from there.

    Parameters
    ----------
    job_folder : Path
        The job.

    Returns
    -------
    str
        joints.csv as it stands now.
    """
    content = read_bytes(job_folder / FILE, FILE, needed=False) or b""
    text = as_text(content, FILE)
    counts = joints_now(job_folder, text)
    if counts != text:
        write_whole(job_folder / FILE, counts.encode())
    return counts


def _same_history(old: JointsFile, before: Issue | None) -> None:
    """joints.csv ends with the row that the last issue left."""
    if old.seal != (before.joints_seal if before else ""):
        what = f"issue {before.number}" if before else "any issue"
        raise EntrySealed(
            f"{FILE} does not end with the row that {what} left",
            allowed="the file as the newest issue left it",
            next=f"put it back from {FOLDER}/{before.number}/{FILE}" if before else "take it away",
            place=Place(FILE, old.rows[-1].place.line if old.rows else 0),
        )
