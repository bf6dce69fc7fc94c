"""What ``lineproof record`` prints with ``--json``; docs/schemas is written from these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class KindWords:
    """One kind of entry, and how it is typed.

    Parameters
    ----------
    kind, says : str
        Its name; what it says, in one line.
    typed : bool
        Whether a person types it; else it is written by itself.
    subject : str
        The field that is typed right after the kind.
    needed, may : mapping
        Field to what it holds.
    example : str
    """

    kind: str
    says: str
    typed: bool
    subject: str
    needed: Mapping[str, str]
    may: Mapping[str, str]
    example: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordKinds:
    """The kinds of entries."""

    kinds: tuple[KindWords, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WasWords:
    """A field before it was corrected.

    Parameters
    ----------
    field, reason, by : str
    old, new : object
        What it said, and what it says.
    """

    field: str
    old: object
    new: object
    reason: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryWords:
    """One entry of the logbook as it counts today.

    Parameters
    ----------
    entry : str
        First figures of its seal: how other entries name it.
    id, seal, writer : str
    sequence : int
        Its place in the chain of its writer. [-]
    kind : str
    about : tuple of str
        Joints, cans, tags and the like that it names.
    at, written : datetime
        When it happened and when it was written.
    by : str
        Id of the person in job.toml, or the UUID of one who is not there.
    body : mapping
        As written: typed text and SI value both.
    was : tuple of WasWords
    flags : tuple of str
        insisted, faulty, newer, forked; and late: written well after it happened.
    stands : bool
        False if it was struck out or another stands instead.
    """

    entry: str
    id: str
    seal: str
    writer: str
    sequence: int
    kind: str
    about: tuple[str, ...]
    at: datetime
    written: datetime
    by: str
    body: Mapping[str, object]
    was: tuple[WasWords, ...] = ()
    flags: tuple[str, ...] = ()
    stands: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordAdded:
    """Entries that were written, and the head seal after them."""

    entries: tuple[EntryWords, ...]
    head: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordList:
    """Entries, newest last."""

    entries: tuple[EntryWords, ...]
    head: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordHead:
    """The head seal, its first figures as papers print them, and how many entries it stands for.

    Parameters
    ----------
    head, printed : str
    entries : int
        [-]
    """

    head: str
    printed: str
    entries: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordChecked:
    """What a verification found, of the logbook or of its copy.

    Parameters
    ----------
    file, head : str
    entries, receipts : int
        [-]
    good : bool
        Whether everything is as it was written.
    faults, holes, forks, files_missing : tuple of str
        In words; forks are those not settled.
    """

    file: str
    head: str
    entries: int
    receipts: int
    good: bool
    faults: tuple[str, ...]
    holes: tuple[str, ...]
    forks: tuple[str, ...]
    files_missing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordCarried:
    """A logbook went into a file, or came out of one.

    Parameters
    ----------
    file, head : str
    entries, new : int
        How many there are, and how many of them came in. [-]
    forked : tuple of str
        Ids of new entries that contradict one that was here.
    """

    file: str
    head: str
    entries: int
    new: int
    forked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenStory:
    """Entries that contradict each other, still to be settled.

    Parameters
    ----------
    why : str
    entries : tuple of EntryWords
    """

    why: str
    entries: tuple[EntryWords, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordOpen:
    """What is still to be settled."""

    stories: tuple[OpenStory, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPrinted:
    """A paper of the record was printed.

    Parameters
    ----------
    paper, file : str
        Which paper, and the file in the job folder.
    subjects : tuple of str
        Joints, cans, sections or the release it is about.
    when : datetime
        The moment judged.
    known : int
        Receipt of the logbook up to which entries were known. [-]
    head : str
        Head seal of the logbook at that receipt.
    """

    paper: str
    file: str
    subjects: tuple[str, ...]
    when: datetime
    known: int
    head: str
