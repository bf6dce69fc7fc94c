"""What ``may move --json`` and its sisters print; docs/schemas/may.json is written from this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class MayAnswer:
    """Whether something may be moved, lowered, loaded or opened, by the clocks and the record of its joints.

    Parameters
    ----------
    may : str
        ``"move"``, ``"lower"``, ``"load"`` or ``"open"``.
    subject, what : str
        What was asked, and whether that is a joint, piece, spool, line or section.
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
    findings : tuple of Finding
        All of them, the worst first.
    joints, left_out : tuple of str
        Joints that were asked, and those said not to be made or cut out.
    dampest : float or None
        Highest humidity since the joints were made, as the one who asked said. [-]
    to_answer_then : tuple of str
        What only counts on the spot, and who answers it.
    inputs : mapping
        Input files with the hash of what was read.
    """

    may: str
    subject: str
    what: str
    when: datetime
    known: int
    head: str
    verdict: Verdict
    until: datetime | None
    governs: Finding | None
    findings: tuple[Finding, ...]
    joints: tuple[str, ...]
    left_out: tuple[str, ...]
    dampest: float | None
    to_answer_then: tuple[str, ...]
    inputs: Mapping[str, str]
