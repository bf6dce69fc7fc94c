"""What ``may fill --json`` and ``may raise --json`` print; docs/schemas/may-raise.json comes from this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseWords:
    """A release as it was given.

    Parameters
    ----------
    id : str
    by : str
        Id of the person in charge of the test.
    claimed : bool
        The name was only typed.
    pressure : float or None
        At the gauge place. [Pa]
    gauge, medium : str
    at, expires : datetime
        When it was given, and until when it may be begun on.
    voids : tuple of str
        What ends it at once.
    entry : str
        Id of the entry.
    """

    id: str
    by: str
    claimed: bool
    pressure: float | None
    gauge: str
    medium: str
    at: datetime
    expires: datetime
    voids: tuple[str, ...]
    entry: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RaiseAnswer:
    """Whether a section may be filled or taken to a pressure, by the clocks and the record.

    Parameters
    ----------
    may : str
        ``"fill"`` or ``"raise"``.
    section : str
    pressure : float or None
        At the gauge place, as asked. [Pa]
    gauge, medium, asker : str
    when : datetime
        The moment judged.
    known : int
        Receipt of the logbook up to which entries were known; 0 without a logbook. [-]
    head : str
        Head seal of the logbook at that receipt.
    verdict : Verdict
    until : datetime or None
        Not before this moment, then ask again; beside CANNOT TELL as far as it is known.
    governs : Finding or None
        The finding that decides.
    governing_pressure : float or None
        At the joint that governs. [Pa]
    findings : tuple of Finding
        All that count, the worst first.
    to_answer_then : tuple of Finding
        What is to be answered on the spot once nothing else waits.
    since : datetime
        "Was any joint made, cut, moved or repaired since this moment?"
    joints, left_out : tuple of str
        Joints that were asked, and those cut out and replaced.
    beyond : tuple of str
        Lines of other sections that count, as nothing holds between them and this one.
    signs : str
        Id of the person in charge of the test, who alone releases; empty if nobody is named.
    release : ReleaseWords or None
        The release that was given on this answer.
    kept : str
        Id of the entry that keeps this answer; empty if it was not kept.
    inputs : mapping
        Input files with the hash of what was read.
    """

    may: str
    section: str
    pressure: float | None
    gauge: str
    medium: str
    asker: str
    when: datetime
    known: int
    head: str
    verdict: Verdict
    until: datetime | None
    governs: Finding | None
    governing_pressure: float | None
    findings: tuple[Finding, ...]
    to_answer_then: tuple[Finding, ...]
    since: datetime
    joints: tuple[str, ...]
    left_out: tuple[str, ...]
    beyond: tuple[str, ...]
    signs: str
    release: ReleaseWords | None
    kept: str
    inputs: Mapping[str, str]
