"""A job folder read into values, and a new one written.

Reading computes nothing and never says whether work may go on.
"""

from __future__ import annotations

import contextlib
import secrets
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from zoneinfo import ZoneInfo

from lineproof.floor.errors import BadInput, Place
from lineproof.job.files import Folder
from lineproof.job.parts import Catalogue
from lineproof.job.settings import ConfirmedKey, Settings, confirmed_set
from lineproof.job.statements import Head, Walk
from lineproof.job.taped import Taped, read_taped
from lineproof.job.write import why, write_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything a job folder says.

    Parameters
    ----------
    folder : Path
        Where it lies.
    settings : Settings
        job.toml.
    walks : tuple of Walk
        lines/*.walk and lines/*.csv, in order of file name.
    parts : Catalogue
        parts.csv.
    taped : tuple of Taped
        taped.csv, in file order.
    joints_text : str
        joints.csv as it stands; empty if there is none.
    confirmed : frozenset
        Table, edition and row hash of the confirmations that count when the lead asks.
    inputs : tuple
        Relative path and SHA-256 of every file read, in order of path.
    """

    folder: Path
    settings: Settings
    walks: tuple[Walk, ...]
    parts: Catalogue
    taped: tuple[Taped, ...]
    joints_text: str
    confirmed: frozenset[ConfirmedKey]
    inputs: tuple[tuple[str, str], ...]

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.settings.site.timezone)

    @property
    def line_names(self) -> tuple[str, ...]:
        """Names of the lines, in walking order."""
        return tuple(h.name for w in self.walks for h in w.statements if isinstance(h, Head))


def read_job(folder: Path, *, instead: Mapping[str, str | None] | None = None) -> Job:
    """Read a job folder.

    Parameters
    ----------
    folder : Path
        It must hold a job.toml; everything else may be missing.
    instead : mapping, optional
        Texts to read in place of walks in the folder, by their paths there; None leaves that file out. So a
        walk is tried before it is written.

    Returns
    -------
    Job
        Values in SI, with the hash of every file read.

    Raises
    ------
    BadInput
        With file, line and column: the first thing that cannot be read.
    """
    # Read late: the reader of job.toml takes longer to load than a short answer takes to give.
    from lineproof.job.folder_toml import read_settings
    from lineproof.job.parts_csv import read_parts

    files = Folder(_a_folder(folder))
    start = "name the job folder with --job, or make a new one with `lineproof new FOLDER`"
    settings = read_settings(files.text("job.toml", needed=True, next=start) or "", "job.toml")
    walks = tuple(_walks(files, instead or {}))
    _refuse_twice(walks)
    parts = files.text("parts.csv")
    taped = files.text("taped.csv")
    joints = files.text("joints.csv")
    zone = ZoneInfo(settings.site.timezone)
    return Job(
        folder=folder,
        settings=settings,
        walks=walks,
        parts=Catalogue(read_parts(parts) if parts else ()),
        taped=read_taped(taped, zone) if taped else (),
        joints_text=joints or "",
        confirmed=confirmed_set(settings),
        inputs=files.inputs,
    )


def _a_folder(folder: Path) -> Path:
    try:
        if folder.is_dir():
            return folder
        what = "is not a folder" if folder.exists() else "is not there"
    except (OSError, RuntimeError, ValueError) as error:
        what = f"cannot be read: {why(error)}"
    raise BadInput(
        f"the job folder {folder} {what}",
        allowed="a folder with a job.toml",
        next="check the name after --job, or make a new one with `lineproof new FOLDER`",
    )


def _walks(files: Folder, instead: Mapping[str, str | None]) -> Iterator[Walk]:
    from lineproof.job.walk_csv import read_walk_csv
    from lineproof.job.walk_read import read_walk

    for name in sorted({*files.names("lines", (".walk", ".csv")), *instead}):
        given = instead[name] if name in instead else files.text(name) or ""
        if given is None:
            continue
        text = given
        yield read_walk_csv(text, name) if name.lower().endswith(".csv") else read_walk(text, name)


def _refuse_twice(walks: tuple[Walk, ...]) -> None:
    """Two lines of one name would give two sets of joints one name."""
    first: dict[str, Place] = {}
    for walk in walks:
        for head in walk.statements:
            if not isinstance(head, Head):
                continue
            here = Place(walk.file, head.spot.line, head.spot.column)
            if head.name in first:
                raise BadInput(
                    f"the line {head.name} is walked a second time; the first stands at {first[head.name]}",
                    allowed="each line once",
                    next="give one of them another name, or take one out",
                    place=here,
                )
            first[head.name] = here


def new_job(folder: Path, *, like: Traversable | None = None) -> tuple[str, ...]:
    """Write a job folder whose comments teach; as it stands it plans one short invented line.

    The folder appears whole or not at all.

    Parameters
    ----------
    folder : Path
        A folder that is not there yet, or an empty one.
    like : Traversable, optional
        The folder to copy; the one that teaches unless said.

    Returns
    -------
    tuple of str
        Relative paths of the files written.

    Raises
    ------
    BadInput
        The folder holds something, or cannot be written.
    """
    try:
        folder = folder.absolute()
        if folder.is_symlink() or folder.exists():
            if not folder.is_dir():
                raise BadInput(f"{folder} is a file", allowed="a new folder", next="choose another name")
            if any(folder.iterdir()):
                raise BadInput(
                    f"the folder {folder} is not empty",
                    allowed="a new folder, or an empty one",
                    next="choose another name; nothing was written",
                )
        folder.parent.mkdir(parents=True, exist_ok=True)
        folder = folder.resolve()
        draft = folder.with_name(f".{folder.name[:40]}.{secrets.token_hex(6)}")
        try:
            draft.mkdir()
            written = tuple(_copy(like or resources.files("lineproof.job") / "template", draft, ""))
            draft.replace(folder)
        finally:
            with contextlib.suppress(OSError):
                shutil.rmtree(draft)
    except (OSError, RuntimeError, ValueError) as error:
        raise BadInput(
            f"the folder {folder} cannot be written: {why(error)}",
            allowed="a new folder in a place you may write",
            next="choose another place",
        ) from error
    return written


def _copy(source: Traversable, target: Path, under: str) -> Iterator[str]:
    for entry in sorted(source.iterdir(), key=lambda e: e.name):
        path = target / entry.name
        if entry.is_dir():
            if entry.name == "__pycache__":
                continue
            path.mkdir()
            yield from _copy(entry, path, f"{under}{entry.name}/")
        else:
            write_whole(path, entry.read_bytes())
            yield f"{under}{entry.name}"
