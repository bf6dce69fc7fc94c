"""What a scanned tag stands for now: whether its issue still counts, and what changed for its joint since."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from lineproof.job.files import as_text, read_bytes
from lineproof.job.joints_csv import FILE, JointRow, JointsFile, read_joints
from lineproof.plan.issued import FOLDER, Issue

TAG = re.compile(r"LP:([^:]+):(.+):([0-9]{1,9})", re.ASCII)
LONGEST = 400
"""Characters a tag may have. [-]"""


class Standing(StrEnum):
    """How a tag stands to the job."""

    NO_TAG = "no tag"
    OTHER_JOB = "other job"
    UNKNOWN = "unknown"
    AHEAD = "ahead"
    RETIRED = "retired"
    SUPERSEDED = "superseded"
    CURRENT = "current"


class What(StrEnum):
    """What can change of a joint or a line between two issues."""

    DRAWING = "drawing"
    TIES = "ties"
    PLACE = "place"
    PIECE = "piece"
    BORN = "born"
    GONE = "gone"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that changed: words or a length [m], before and now."""

    what: What
    before: str | float
    now: str | float


@dataclass(frozen=True, slots=True)
class TagTold:
    """What a tag says, read against the job.

    Parameters
    ----------
    text : str
        The tag as scanned.
    standing : Standing
    job, name : str
        The job, and the joint or line it names; empty if it is no tag.
    line : str
        The line of it.
    issue, newest : int
        Issue of the tag and the newest of the job; 0 for a draft or none. [-]
    retired : int
        Issue the joint was retired with; 0 while it lives. [-]
    changes : tuple of Change
        Since the issue of the tag.
    """

    text: str
    standing: Standing
    job: str = ""
    name: str = ""
    line: str = ""
    issue: int = 0
    newest: int = 0
    retired: int = 0
    changes: tuple[Change, ...] = ()

    @property
    def joint(self) -> bool:
        """It names a joint, not a line."""
        return self.name != self.line


def tag_told(
    text: str,
    *,
    job: str,
    lines: Sequence[str],
    joints: Sequence[str],
    now: JointsFile,
    issues: Sequence[Issue],
) -> TagTold:
    """Read a tag against the job.

    Parameters
    ----------
    text : str
        As scanned or typed.
    job : str
        Id of the job.
    lines, joints : sequence of str
        Lines and joints of the plan as it stands.
    now : JointsFile
        joints.csv as it stands.
    issues : sequence of Issue
        In order.

    Returns
    -------
    TagTold

    Raises
    ------
    EntrySealed
        The joints.csv of an issue was changed by hand.
    """
    text = text.strip()[:LONGEST]
    found = TAG.fullmatch(text)
    if found is None:
        return TagTold(text, Standing.NO_TAG)
    newest = issues[-1].number if issues else 0
    name, issue = found[2], int(found[3])
    ever = {line for made in issues for line in made.lines} | set(lines)
    row = now.newest.get(name)
    line = name if name in ever else name.rpartition("/")[0]
    told = TagTold(text, Standing.CURRENT, found[1], name, line, issue, newest, row.retired if row else 0)

    def stands(standing: Standing, changes: tuple[Change, ...] = ()) -> TagTold:
        return TagTold(text, standing, told.job, name, line, issue, newest, told.retired, changes)

    if told.job != job:
        return stands(Standing.OTHER_JOB)
    if name not in ever and row is None and name not in joints:
        return stands(Standing.UNKNOWN)
    if issue > newest:
        return stands(Standing.AHEAD)
    changes = _changes(told, issues, now)
    if told.retired or (name in ever and name not in lines):
        return stands(Standing.RETIRED, changes)
    return stands(Standing.SUPERSEDED, changes) if issue < newest else told


def _changes(told: TagTold, issues: Sequence[Issue], now: JointsFile) -> tuple[Change, ...]:
    """What changed from the issue of a tag to the newest."""
    old = next((made for made in issues if made.number == told.issue), None)
    if old is None or told.issue == told.newest:
        return ()
    new = issues[-1]
    found: list[Change] = []
    drawings = [" rev ".join(made.lines.get(told.line, ("", ""))).strip() for made in (old, new)]
    if drawings[0] != drawings[1]:
        found.append(Change(What.DRAWING, *drawings))
    then = _joints_of(old)
    if told.joint:
        a, b = then.newest.get(told.name), now.newest.get(told.name)
        return (*found, *(_of_joint(a, b) if a and b else ()))
    old_ids, new_ids = ({n for n in made.joints if n.rpartition("/")[0] == told.line} for made in (old, new))
    if new_ids - old_ids:
        found.append(Change(What.BORN, "", ", ".join(sorted(new_ids - old_ids, key=_order))))
    if old_ids - new_ids:
        found.append(Change(What.GONE, ", ".join(sorted(old_ids - new_ids, key=_order)), ""))
    moved: list[str] = []
    for name in sorted(old_ids & new_ids, key=_order):
        a, b = then.newest.get(name), now.newest.get(name)
        if a and b and _of_joint(a, b):
            moved.append(name)
    if moved:
        found.append(Change(What.CHANGED, "", ", ".join(moved)))
    return tuple(found)


def _order(name: str) -> tuple[int, str]:
    return len(name), name


def _of_joint(a: JointRow, b: JointRow) -> list[Change]:
    """What changed of one joint."""
    found: list[Change] = []
    ties = [f"{row.what_a} - {row.what_b}" for row in (a, b)]
    if ties[0] != ties[1]:
        found.append(Change(What.TIES, *ties))
    if a.at != b.at and a.at and b.at:
        found.append(Change(What.PLACE, float(a.at), float(b.at)))
    lengths = [_length(row.piece) for row in (a, b)]
    if lengths[0] is not None and lengths[1] is not None and abs(lengths[0] - lengths[1]) > 1e-6:
        found.append(Change(What.PIECE, lengths[0], lengths[1]))
    return found


def _length(piece: str) -> float | None:
    """Length of the piece that enters, from its start and end along the pipe. [m]"""
    ends = piece.replace(",", " ").split()
    return abs(float(ends[1]) - float(ends[0])) if len(ends) == 2 else None


def _joints_of(made: Issue) -> JointsFile:
    """joints.csv as an issue left it."""
    name = f"{FOLDER}/{made.number}/{FILE}"
    return read_joints(as_text(read_bytes(made.folder / FILE, name) or b"", name), name)


def joints_file(folder: Path) -> JointsFile:
    """joints.csv of a job as it stands.

    Parameters
    ----------
    folder : Path
        The job.

    Returns
    -------
    JointsFile
        Without a row before the first issue.
    """
    return read_joints(as_text(read_bytes(folder / FILE, FILE, needed=False) or b"", FILE))
