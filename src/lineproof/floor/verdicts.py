"""Verdicts and findings: the one scale on which every answer stands.

Worst first: STOP > CANNOT TELL > WAIT > CARE > GO. A set takes its worst.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import IntEnum

from lineproof.floor.sources import Cell, Reading


class Verdict(IntEnum):
    """An answer. The greater the worse, so ``max`` of a set is the answer of the set."""

    GO = 0
    CARE = 1
    WAIT = 2
    CANNOT_TELL = 3
    STOP = 4

    @property
    def word(self) -> str:
        """The word as shown (English)."""
        return self.name.replace("_", " ")

    @property
    def exit_code(self) -> int:
        """Exit code of a verb that answers: 0, 10, 11, 12 or 13."""
        return 0 if self is Verdict.GO else 9 + int(self)


@dataclass(frozen=True, slots=True)
class Finding:
    """One answer as data: no finished sentence, so that screens may speak any language.

    Parameters
    ----------
    id : str
        The check that answered, such as ``"SYS-01"``; ids are never reused.
    verdict : Verdict
        The answer.
    subject : str
        What it is about: a line, joint, part, lot or person id.
    facts : mapping
        Values for the sentence, SI floats or plain strings; keys end in their unit where SI is odd.
    measured, limit : float or None
        The value met and the limit it was held against. [unit]
    unit : str
        SI unit of ``measured`` and ``limit``.
    until : datetime or None
        For WAIT: not before this moment, then ask again.
    governs : str
        The id that decides, such as the joint.
    missing : tuple of str
        Names of the inputs that are missing or unconfirmed.
    sources : tuple of Cell
        The table cells that were read.
    next_step : str
        Code of the next step; its parameters are in ``facts``.
    hurts : bool
        True where a wrong answer can hurt someone: then CARE is never given.
    rule : str
        Version of the rule.
    """

    id: str
    verdict: Verdict
    subject: str
    facts: Mapping[str, object] = field(default_factory=dict)
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    until: datetime | None = None
    governs: str = ""
    missing: tuple[str, ...] = ()
    sources: tuple[Cell, ...] = ()
    next_step: str = ""
    hurts: bool = False
    rule: str = "1"

    @property
    def unverified(self) -> tuple[Cell, ...]:
        """The cells read that nobody has confirmed yet."""
        return tuple(c for c in self.sources if not c.confirmed)


def settle(verdict: Verdict, reading: Reading, *, hurts: bool) -> Verdict:
    """The verdict that may be given on what was read.

    A value from memory that nobody confirmed never gives GO: CARE at best, and CANNOT TELL
    where a wrong answer can hurt someone. A STOP stands whatever the standing of its inputs.

    Parameters
    ----------
    verdict : Verdict
        What the sum says.
    reading : Reading
        The log of cells read for it.
    hurts : bool
        Whether a wrong answer can hurt someone.

    Returns
    -------
    Verdict
        The verdict to give.
    """
    if verdict is Verdict.STOP or verdict is Verdict.CANNOT_TELL:
        return verdict
    if hurts and verdict is Verdict.CARE:
        verdict = Verdict.CANNOT_TELL
    if reading.unconfirmed():
        return max(verdict, Verdict.CANNOT_TELL if hurts else Verdict.CARE)
    return verdict


def worst(findings: Iterable[Finding | Verdict]) -> Verdict:
    """The worst verdict of a set; GO for an empty one (nothing we check stands against it)."""
    return max(
        (f if isinstance(f, Verdict) else f.verdict for f in findings),
        default=Verdict.GO,
    )
