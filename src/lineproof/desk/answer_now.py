"""What ``lineproof now --json`` prints; docs/schemas/now.json is written from this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class NowJoints:
    """Joints that stand alike.

    Parameters
    ----------
    state : str
        How far they are: ``"holding"``, ``"hands off"``, ``"curing"``, ...
    verdict : Verdict
        Whether they may be moved, each by itself.
    joints : tuple of str
    until : datetime or None
        None of them before this moment, then ask again; beside CANNOT TELL as far as is known.
    why : Finding or None
        The finding that decides, of the first of them; None where nothing stands against them.
    held_by : str
        Nothing stands against them, but they hang together with this joint, and against it something does.
    """

    state: str
    verdict: Verdict
    joints: tuple[str, ...]
    until: datetime | None = None
    why: Finding | None = None
    held_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NowTag:
    """A hold tag that hangs, or may hang.

    Parameters
    ----------
    tag : str
    on : tuple of str
        What it hangs on.
    reason : str
    by : str
        Who set it, by the id in job.toml.
    since : datetime or None
    sure : bool
        False where its record is unclear.
    """

    tag: str
    on: tuple[str, ...]
    reason: str = ""
    by: str = ""
    since: datetime | None = None
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class NowSection:
    """A test section that is under pressure by the record.

    Parameters
    ----------
    section, release, may : str
        The release that let it go ahead, and what it allowed.
    since : datetime
    expires : datetime or None
    told : str
        Pressure, gauge place and medium, as recorded.
    claimed : bool
        Whether the name of who gave it was only typed.
    sure : bool
        False where the record is unclear: it may be under pressure.
    """

    section: str
    release: str
    may: str
    since: datetime
    expires: datetime | None = None
    told: str = ""
    claimed: bool = True
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class NowCan:
    """A can, or a lot of job.toml, that dies today or is dead.

    Parameters
    ----------
    can, lot, holds, card : str
        ``can`` is empty for a lot.
    opened, dies : datetime or None
        None where that is not known.
    expires : date or None
        As printed on it, or as job.toml says of its lot.
    why : str
        ``"open life"``, ``"expiry date"`` or ``"not known"``: opened, and no card says how long it lasts.
    dead : bool
    """

    can: str
    lot: str
    holds: str
    card: str = ""
    opened: datetime | None = None
    dies: datetime | None = None
    expires: date | None = None
    why: str = ""
    dead: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NowOwed:
    """Signatures that are owed, and photographs.

    Parameters
    ----------
    what : str
        ``"looked at"``, ``"read back"``, ``"cap"``, ``"release"``, ``"zero"``, ``"second"`` or
        ``"photo"``.
    names : tuple of str
        Joints, cards, sections, releases or entries.
    who : str
        Id of the person who signs for it by job.toml; empty if nobody is named, or anybody else may.
    """

    what: str
    names: tuple[str, ...]
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NowDoubt:
    """What was recorded in doubt.

    Parameters
    ----------
    what : str
        ``"two stories"``, ``"fork"``, ``"hole"``, ``"unread"``, ``"newer"``, ``"pending"``, ``"faulty"``,
        ``"alone"``, ``"off drawing"`` or ``"clock"``.
    names : tuple of str
    """

    what: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NowAnswer:
    """What happens now: clocks, what may be moved, what must not be touched, who owes a signature.

    Parameters
    ----------
    job, name : str
        Id and name of the job.
    when : datetime
        The moment judged.
    known : int
        Receipt of the logbook up to which entries were known; 0 without a logbook. [-]
    head : str
        Head seal of the logbook at that receipt.
    entries : int
        How many entries it rests on. [-]
    newest : datetime or None
        When the newest of them was written.
    dampest : float or None
        Highest humidity since the joints were made, as the one who asked said. [-]
    counts : mapping
        State to the number of joints in it, in the order of the clocks.
    joints : tuple of NowJoints
        All joints that have a record, alike ones together.
    tags : tuple of NowTag
    sections : tuple of NowSection
    cans : tuple of NowCan
    cans_recorded : int
        How many cans the logbook knows. [-]
    owed : tuple of NowOwed
    doubts : tuple of NowDoubt
    inputs : mapping
        Input files with the hash of what was read.
    """

    job: str
    name: str
    when: datetime
    known: int
    head: str
    entries: int
    newest: datetime | None
    dampest: float | None
    counts: Mapping[str, int]
    joints: tuple[NowJoints, ...]
    tags: tuple[NowTag, ...]
    sections: tuple[NowSection, ...]
    cans: tuple[NowCan, ...]
    cans_recorded: int
    owed: tuple[NowOwed, ...]
    doubts: tuple[NowDoubt, ...]
    inputs: Mapping[str, str]
