"""Issues as they stand in the job folder: reading them, and checking that nobody changed them."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.job.files import as_text, read_bytes
from lineproof.job.joints_csv import FILE, read_joints

FOLDER = "issued"
MANIFEST = "manifest.json"
COPIES = "inputs"
VERSION = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """One issued revision.

    Parameters
    ----------
    number : int
        From 1. [-]
    when : str
        Time stamp, as given.
    lines : dict
        Line name to its drawing and revision.
    inputs : dict
        Relative path to SHA-256 of every file it was made from, joints.csv left out.
    tables : tuple of str
        Tables read, with their editions.
    software : str
        Version that made it.
    joints : dict
        Joint id to the keys of its two part-ports.
    pieces : tuple of dict
        Pieces with id, leg, state, length to cut [m] and stock item.
    born, retired : tuple of str
        Ids given and taken back with it.
    joints_seal : str
        Seal of the last row of joints.csv.
    made_of : str
        SHA-256 over everything above but number, time and births.
    seal : str
        SHA-256 over the whole manifest but itself.
    new : bool
        False if nothing had changed since this issue, so that none was made.
    folder : Path
    """

    number: int
    when: str
    lines: dict[str, tuple[str, str]]
    inputs: dict[str, str]
    tables: tuple[str, ...]
    software: str
    joints: dict[str, tuple[str, str]]
    pieces: tuple[dict[str, Any], ...]
    born: tuple[str, ...]
    retired: tuple[str, ...]
    joints_seal: str
    made_of: str
    seal: str
    folder: Path
    new: bool = True

    def told(self) -> dict[str, Any]:
        """The manifest but for its seal."""
        return {
            "version": VERSION,
            "issue": self.number,
            "when": self.when,
            "lines": {name: {"drawing": d, "rev": r} for name, (d, r) in self.lines.items()},
            "inputs": self.inputs,
            "tables": list(self.tables),
            "software": self.software,
            "joints": {name: list(keys) for name, keys in self.joints.items()},
            "pieces": list(self.pieces),
            "born": list(self.born),
            "retired": list(self.retired),
            "joints_seal": self.joints_seal,
            "made_of": self.made_of,
        }

    def text(self) -> str:
        """The manifest as written."""
        return json.dumps({**self.told(), "seal": self.seal}, indent=1, ensure_ascii=False) + "\n"


def digest_of(value: object) -> str:
    """SHA-256 of a value as JSON, the same for the same value."""
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def read_issues(job_folder: Path) -> tuple[Issue, ...]:
    """All issues of a job.

    Parameters
    ----------
    job_folder : Path
        The job.

    Returns
    -------
    tuple of Issue
        In order.

    Raises
    ------
    EntrySealed
        A manifest was changed.
    BadInput
        A manifest cannot be read.
    """
    root = job_folder / FOLDER
    if not root.is_dir():
        return ()
    numbers = sorted(int(p.name) for p in root.iterdir() if p.name.isascii() and p.name.isdigit())
    return tuple(_read(root / str(n), n) for n in numbers)


def latest(job_folder: Path) -> Issue | None:
    """The newest issue of a job; None before the first.

    Parameters
    ----------
    job_folder : Path
        The job.

    Returns
    -------
    Issue or None

    Raises
    ------
    EntrySealed, BadInput
        As :func:`read_issues`.
    """
    root = job_folder / FOLDER
    if not root.is_dir():
        return None
    numbers = [int(p.name) for p in root.iterdir() if p.name.isascii() and p.name.isdigit()]
    return _read(root / str(max(numbers)), max(numbers)) if numbers else None


def _read(folder: Path, number: int) -> Issue:
    name = f"{FOLDER}/{folder.name}/{MANIFEST}"
    text = as_text(read_bytes(folder / MANIFEST, name) or b"", name)
    try:
        told = json.loads(text)
        if told["version"] != VERSION:
            raise BadInput(
                f"the issue was written by another version ({told['version']})", next="use newer software"
            ).at(file=name)
        found = Issue(
            number=told["issue"],
            when=told["when"],
            lines={k: (v["drawing"], v["rev"]) for k, v in told["lines"].items()},
            inputs=dict(told["inputs"]),
            tables=tuple(told["tables"]),
            software=told["software"],
            joints={k: (v[0], v[1]) for k, v in told["joints"].items()},
            pieces=tuple(told["pieces"]),
            born=tuple(told["born"]),
            retired=tuple(told["retired"]),
            joints_seal=told["joints_seal"],
            made_of=told["made_of"],
            seal=told["seal"],
            folder=folder,
            new=False,
        )
        good = digest_of(found.told()) == found.seal and found.number == number
    except (ValueError, KeyError, TypeError, AttributeError, IndexError, RecursionError):
        good = False
    if not good:
        raise EntrySealed(
            "the manifest does not bear its own seal, so it was changed after it was issued",
            allowed="an issue as it was written",
            next="put it back from a copy of the job folder",
            place=Place(name),
        )
    return found


def check_copies(found: Issue) -> None:
    """Compare the copies in an issue with their hashes.

    Parameters
    ----------
    found : Issue
        As read.

    Raises
    ------
    EntrySealed
        A copy was changed or taken out.
    """
    for path, digest in found.inputs.items():
        name = f"{FOLDER}/{found.number}/{COPIES}/{path}"
        content = read_bytes(found.folder / COPIES / path, name) or b""
        if hashlib.sha256(content).hexdigest() != digest:
            raise EntrySealed(
                "the copy was changed after it was issued",
                allowed="the file the issue was made from",
                next="put it back from a copy of the job folder",
                place=Place(name),
            )


def joints_now(job_folder: Path, joints_text: str) -> str:
    """The joints.csv that counts: the job's, or the newest issue's copy if a kill kept it from its place.

    Parameters
    ----------
    job_folder : Path
        The job.
    joints_text : str
        joints.csv as it stands; empty if there is none.

    Returns
    -------
    str
        Its text.
    """
    before = latest(job_folder)
    if before is None:
        return joints_text
    name = f"{FOLDER}/{before.number}/{FILE}"
    copy = as_text(read_bytes(before.folder / FILE, name) or b"", name)
    plain = joints_text.replace("\r\n", "\n")
    return (
        copy if len(copy) > len(plain) and copy.startswith(plain) and _older(plain, before) else joints_text
    )


def _older(text: str, before: Issue) -> bool:
    """Whether a joints.csv is the one the issue before this one left."""
    if before.number == 1:
        return text == ""
    return (
        read_joints(text).seal
        == _read(before.folder.parent / str(before.number - 1), before.number - 1).joints_seal
    )
