"""How every ``may`` answer reads on the screen: the verdict first, what governs, the rest in one column."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from lineproof.desk.say import say
from lineproof.desk.words_when import not_before
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.judge import told_together

WIDTH = 13
"""Columns of the verdict word on the screen. [-]"""

ONE_GOVERNS = (Verdict.GO, Verdict.WAIT)
"""Verdicts that hang on the one clock that runs longest."""


def verdict_lines(
    verdict: Verdict, until: datetime | None, now: datetime, governs: Finding | None, asked: str, shown: Shown
) -> list[str]:
    """The verdict, until when it waits, and what governs.

    Parameters
    ----------
    verdict : Verdict
    until : datetime or None
        Not before this moment.
    now : datetime
        The moment judged.
    governs : Finding or None
    asked : str
        What was asked, in words.
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    list of str
    """
    rows = []
    if verdict is Verdict.WAIT and until is not None:
        rows.append(not_before(until, now))
    else:
        rows.append(row(verdict.word, asked))
        if until is not None:
            rows.append(row("", not_before(until, now) + ", as far as is known"))
    if governs is not None and verdict in ONE_GOVERNS:
        rows.append(f"governed by {say(governs, shown)}")
    return rows


def others(verdict: Verdict, governs: Finding | None, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings that are worse than GO and not told yet, alike ones in one.

    Parameters
    ----------
    verdict : Verdict
    governs : Finding or None
    findings : iterable of Finding

    Returns
    -------
    tuple of Finding
    """
    told = governs if verdict in ONE_GOVERNS else None
    return told_together(f for f in findings if f is not told and f.verdict is not Verdict.GO)


def row(word: str, text: str) -> str:
    """One line: a word in its column, and text."""
    return f"{word:<{WIDTH}} {text}"
