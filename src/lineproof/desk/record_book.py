"""The logbook of a job folder: where it lies, who writes, and what the plan and the papers take from it.

``logbook.db`` lies in the job folder. Who writes on this machine stands in ``.local/writer.json``: made
when it is first needed, never carried to another machine (one that finds it there makes its own).
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import platform
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import lineproof
from lineproof.floor.errors import BadInput, Place
from lineproof.job.files import Folder, as_text, read_bytes
from lineproof.job.settings import Settings
from lineproof.job.write import why, write_whole
from lineproof.logbook.entry import is_uuid, new_id
from lineproof.logbook.fold import fold
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.state import State
from lineproof.logbook.writing import DeviceClock, Pen, Writer

if TYPE_CHECKING:
    from lineproof.job.joints_csv import JointsFile
    from lineproof.job.progress import Progress
    from lineproof.plan.issued import Issue

FILE = "logbook.db"
LOCAL = ".local"
WRITER = "writer.json"
_ROOM = uuid.uuid5(uuid.NAMESPACE_URL, "urn:lineproof:job")


def job_uuid(settings: Settings) -> str:
    """UUID of a job, by the id in job.toml: the same in every copy of its folder."""
    return str(uuid.uuid5(_ROOM, settings.job.id))


def person_uuid(job: str, id: str) -> str:
    """UUID of a person, by the id in job.toml; of nobody in particular for an empty one."""
    return str(uuid.uuid5(uuid.UUID(job), f"person/{id}"))


def people_of(job: str, settings: Settings) -> dict[str, str]:
    """UUID of every person of job.toml to the id there."""
    return {person_uuid(job, p.id): p.id for p in settings.people}


def settings_of(folder: Path) -> Settings:
    """job.toml alone: a slip in a walk keeps nobody from recording."""
    from lineproof.job.folder_toml import read_settings

    text = Folder(folder).text(
        "job.toml", needed=True, next="check the name after --job, or write a new job with `lineproof new`"
    )
    return read_settings(text or "", "job.toml")


def joints_of(folder: Path) -> JointsFile:
    """joints.csv as the newest issue left it."""
    from lineproof.job.joints_csv import FILE as JOINTS
    from lineproof.job.joints_csv import read_joints
    from lineproof.plan.issued import joints_now

    text = as_text(read_bytes(folder / JOINTS, JOINTS, needed=False) or b"", JOINTS)
    return read_joints(joints_now(folder, text))


@dataclass(frozen=True, slots=True)
class Me:
    """Who writes on this machine.

    Parameters
    ----------
    writer : str
        UUID of the chain.
    person : str
        Id of the person who wrote last; empty if none was named.
    """

    writer: str
    person: str


def machine() -> str:
    """A mark of this machine that says nothing about it."""
    try:
        told = Path("/etc/machine-id").read_text("ascii").strip()
    except (OSError, ValueError):
        told = f"{uuid.getnode():x}"
    return hashlib.sha256(f"lineproof {told}".encode()).hexdigest()[:16]


def me(folder: Path, *, person: str = "") -> Me:
    """The writer of this machine and job; made when first needed.

    Parameters
    ----------
    folder : Path
        The job.
    person : str
        Id of the person who writes now; the one who wrote last unless said.

    Returns
    -------
    Me

    Raises
    ------
    BadInput
        The file that says so cannot be read or written.
    """
    path = folder / LOCAL / WRITER
    name = f"{LOCAL}/{WRITER}"
    found = read_bytes(path, name, needed=False)
    old = Me("", "")
    if found is not None:
        try:
            told = json.loads(found)
            if told["machine"] == machine():
                old = Me(told["writer"], str(told.get("person", "")))
            good = is_uuid(told["writer"])
        except (ValueError, KeyError, TypeError):
            good = False
        if not good:
            raise BadInput(
                "this does not say who writes here",
                allowed="the file as Lineproof wrote it",
                next="take it away; a new writer is made with the next entry",
                place=Place(name),
            )
    now = Me(old.writer or new_id(), person or old.person)
    if now != old:
        try:
            path.parent.mkdir(exist_ok=True)
        except OSError as error:
            raise BadInput(f"{path.parent} cannot be made: {why(error)}", next="make room there") from error
        told = {"machine": machine(), "person": now.person, "writer": now.writer}
        write_whole(path, json.dumps(told, indent=1).encode() + b"\n")
    return now


def me_person(folder: Path) -> str:
    """Id of the person who wrote last on this machine; empty if nobody did. Nothing is made or written."""
    found = read_bytes(folder / LOCAL / WRITER, f"{LOCAL}/{WRITER}", needed=False)
    try:
        told = json.loads(found) if found is not None else {}
        return str(told.get("person", "")) if told.get("machine") == machine() else ""
    except (ValueError, AttributeError):
        return ""


@contextlib.contextmanager
def opened(folder: Path, *, job: str = "") -> Iterator[SqliteStore]:
    """The logbook of a folder, at rest again afterwards.

    Parameters
    ----------
    folder : Path
    job : str
        UUID of the job; needed where the logbook may not be there yet.

    Raises
    ------
    BadInput
        It is not there, damaged, or of another job.
    """
    with SqliteStore(folder / FILE, job=job) as store:
        yield store


def pen(folder: Path, store: SqliteStore, settings: Settings, *, person: str = "", who: str = "") -> Pen:
    """What writes into a logbook here.

    Parameters
    ----------
    folder : Path
    store : SqliteStore
    settings : Settings
    person : str
        Id of the person who writes.
    who : str
        UUID of the person; by the id unless said.

    Returns
    -------
    Pen
    """
    mine = me(folder, person=person)
    writer = Writer(
        id=mine.writer,
        who=who or person_uuid(store.job, mine.person),
        device=platform.node()[:120] or "not named",
        software=f"lineproof {lineproof.__version__}",
    )
    return Pen(store, writer, DeviceClock(settings.site.timezone))


def recorded(folder: Path) -> frozenset[str]:
    """Joints of joints.csv that were made and not cut out: the plan may not lose or move them.

    Parameters
    ----------
    folder : Path
        A job folder, with or without a logbook.

    Returns
    -------
    frozenset of str
    """
    if not (folder / FILE).exists():
        return frozenset()
    with opened(folder) as store:
        return made_of(folder, fold(store.read_since()))


def record_of(folder: Path, settings: Settings) -> tuple[frozenset[str], Progress | None]:
    """Joints the plan may not lose or move, and how they were made, for whom that keeps qualified.

    Parameters
    ----------
    folder : Path
        A job folder, with or without a logbook.
    settings : Settings

    Returns
    -------
    frozenset of str, Progress or None
        No clock is in it: the same record gives the same plan on any day.
    """
    from lineproof.job.progress import JointProgress, Progress
    from lineproof.logbook.making_of import makings_of

    if not (folder / FILE).exists():
        return frozenset(), None
    with opened(folder) as store:
        state = fold(store.read_since())
        people = people_of(store.job, settings)
    newest = max((e.entry.wall for j in state.joints.values() for e in j.events), default=None)
    if newest is None:
        return frozenset(), None
    joints = {name: JointProgress(id=name, unclear=joint.unclear) for name, joint in state.joints.items()}
    return made_of(folder, state), Progress(now=newest, joints=joints, makings=makings_of(state, people))


def made_of(folder: Path, state: State) -> frozenset[str]:
    """Joints of joints.csv that were made and not cut out, by what a logbook comes to.

    Parameters
    ----------
    folder : Path
    state : State

    Returns
    -------
    frozenset of str
    """
    made = {name for name, joint in state.joints.items() if joint.is_made}
    return frozenset(made & joints_of(folder).newest.keys()) if made else frozenset()


def head_of(folder: Path) -> str:
    """The head seal of a folder's logbook; empty if there is none."""
    if not (folder / FILE).exists():
        return ""
    with opened(folder) as store:
        return store.receipt().head


def write_issue(folder: Path, settings: Settings, issue: Issue, *, person: str = "") -> None:
    """Put an issue into the logbook, once.

    Parameters
    ----------
    folder : Path
    settings : Settings
    issue : Issue
        As it was kept; an issue that a kill kept out of the logbook is put in by the next call.
    person : str
        Id of the person who gives it; whoever wrote last on this machine unless said.
    """
    with opened(folder, job=job_uuid(settings)) as store:
        for stored in store.read_since():
            if stored.entry.kind == "issue" and stored.entry.body.get("seal") == issue.seal:
                return
        pen(folder, store, settings, person=person).write(
            "issue",
            {
                "number": issue.number,
                "made_of": issue.made_of,
                "seal": issue.seal,
                "inputs": dict(issue.inputs),
                "joints_seal": issue.joints_seal,
            },
        )
