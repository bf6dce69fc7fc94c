"""Which file the walk pad works on, and saving it: whole or not at all, and never over another's change."""

from __future__ import annotations

import codecs
import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from lineproof.desk.pad_answer import plan_with
from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.files import Folder, as_text, read_bytes
from lineproof.job.walk_cells import text_of
from lineproof.job.walk_read import read_walk_all
from lineproof.job.write import write_whole

FOLDER = "lines"
BOM = codecs.BOM_UTF8
_NAME = re.compile(r"lines/[^/\\\x00-\x1f.][^/\\\x00-\x1f]*\.walk", re.IGNORECASE)
_HEAD = re.compile(r"\s*line\s+(?:\"((?:[^\"]|\"\")*)\"|(\S+))", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PadFile:
    """A walk as the pad opens it.

    Parameters
    ----------
    file : str
        Its path in the job folder.
    text : str
    seen : str
        SHA-256 of its bytes; empty if it is not there yet.
    """

    file: str
    text: str
    seen: str


def lines_of(folder: Path) -> Iterator[tuple[str, str]]:
    """Names of all lines with their files, read by their first words: a slip further down hides none.

    Parameters
    ----------
    folder : Path
        The job.

    Yields
    ------
    tuple of str
    """
    files = Folder(folder)
    for file in files.names(FOLDER, (".walk",)):
        for row in (as_text(read_bytes(folder / file, file) or b"", file)).splitlines():
            found = _HEAD.match(row.removeprefix("\ufeff"))
            if found:
                yield (found[1].replace('""', '"') if found[1] is not None else found[2]), file


def open_line(folder: Path, line: str) -> PadFile | None:
    """The file that a line stands in.

    Parameters
    ----------
    folder : Path
    line : str

    Returns
    -------
    PadFile or None
        None if no walk names it.
    """
    for name, file in lines_of(folder):
        if name == line:
            return open_file(folder, file)
    return None


def open_file(folder: Path, file: str) -> PadFile:
    """A walk by its path, there or not.

    Parameters
    ----------
    folder : Path
    file : str

    Returns
    -------
    PadFile

    Raises
    ------
    BadInput
        It is no walk of this job.
    """
    if not _NAME.fullmatch(file):
        raise BadInput(
            "the pad writes walks only", allowed="lines/NAME.walk", next="open the line from the list"
        )
    content = read_bytes(folder / file, file, needed=False)
    if content is None:
        return PadFile(file, "", "")
    return PadFile(file, as_text(content, file), hashlib.sha256(content).hexdigest())


def new_line(folder: Path, line: str, cells: dict[str, str]) -> PadFile:
    """A line that is begun: a file with its first statement, not written yet.

    Parameters
    ----------
    folder : Path
    line : str
        Its name.
    cells : dict
        Size, material, wall and so on as typed.

    Returns
    -------
    PadFile

    Raises
    ------
    BadInput
        The file is there already, or the line cannot be read.
    """
    plain = re.sub(r"[^A-Za-z0-9_+-]+", "-", line).strip("-") or "line"
    file = f"{FOLDER}/{plain[:60]}.walk"
    found = open_file(folder, file)
    if found.seen:
        raise BadInput(
            f"{file} is there already and holds another line", allowed="a name of its own",
            next="give the line another name",
        )  # fmt: skip
    said, _ = text_of("line", {"name": line, **{k: v.strip() for k, v in cells.items() if v.strip()}})
    return PadFile(file, said + "\n", "")


def save_walk(folder: Path, file: str, text: str, seen: str, recorded: frozenset[str]) -> str:
    """Write a walk if the file is still the one that was opened and the job can be planned with it.

    Parameters
    ----------
    folder : Path
        The job.
    file : str
        Its path there.
    text : str
        The whole file.
    seen : str
        SHA-256 of the file as opened; empty if it was not there.
    recorded : frozenset of str
        Ids of joints that have a record.

    Returns
    -------
    str
        SHA-256 of what is on the disk now.

    Raises
    ------
    DrawingMismatch
        Somebody changed the file meanwhile.
    EntrySealed
        The walk would lose a joint that has a record.
    LineproofError
        It cannot be read or laid, with file, line and column.
    """
    _unchanged(folder, file, seen)
    _, wrong = read_walk_all(text, file)
    if wrong:
        raise wrong[0]
    plan_with(folder, file, text, recorded)
    _unchanged(folder, file, seen)  # the plan takes a moment
    was = read_bytes(folder / file, file, needed=False) or b""
    content = (BOM if was.startswith(BOM) else b"") + text.removeprefix("\ufeff").encode("utf-8")
    (folder / FOLDER).mkdir(exist_ok=True)
    write_whole(folder / file, content)
    return hashlib.sha256(content).hexdigest()


def _unchanged(folder: Path, file: str, seen: str) -> None:
    now = open_file(folder, file).seen
    if now != seen:
        what = "was written" if not seen else "was taken away" if not now else "was changed"
        raise DrawingMismatch(
            f"{file} {what} by somebody else since this pad opened it",
            allowed="a file as it was opened",
            next="keep a copy of your text, open the line again and walk your change into it; "
            "nothing was written",
        )
