"""Says a Finding in one clear English sentence, in the units of the job, with its next step."""

from __future__ import annotations

import string
from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from lineproof.checks.registry import UNVERIFIED
from lineproof.desk.next_steps_en import NEXT
from lineproof.desk.sentences_en import UNVERIFIED_SENTENCE, WHY
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import OurFault
from lineproof.floor.shown import Shown, show
from lineproof.floor.sources import Cell
from lineproof.floor.unit_table import UNITS
from lineproof.floor.verdicts import Finding

NOT_KNOWN = "not known"
NAMED = "@"
"""A name that may be empty."""
COUNTED = "#"
"""Before a word in a sentence: how many of it."""
TO_GAUGE = "~gauge"
"""A height below the gauge; negative is above it. [m]"""
MOST = 4
"""Names of a list that are said before the rest is counted."""
_RENAMED = {"PRT-01": {"measured_count": "measured"}}
"""Facts whose name is also that of a field of every Finding."""


class _Words(string.Formatter):
    """Fills placeholders: a quantity after the colon shows a number in the job's units."""

    def __init__(self, shown: Shown) -> None:
        self.shown = shown

    def format_field(self, value: Any, format_spec: str) -> str:
        if value is None:
            return NOT_KNOWN
        if format_spec in UNITS:
            return show(float(value), format_spec, self.shown)
        if format_spec.startswith(COUNTED):
            one, _, many = format_spec[1:].partition("/")
            return f"{value} {one if value == 1 else many or one + 's'}"
        if format_spec == NAMED:
            return str(value) or "(not named)"
        if format_spec == TO_GAUGE:
            return f"{show(abs(value), 'length', self.shown)} {'above' if value < 0 else 'below'} the gauge"
        if format_spec:
            raise OurFault(f"{format_spec} in a sentence is not a quantity", allowed=", ".join(UNITS))
        if isinstance(value, tuple | list):
            return listed(value)
        if isinstance(value, float):
            return f"{value:.4g}"
        if isinstance(value, datetime):
            return day_and_hour(value)
        if isinstance(value, date):
            return value.isoformat()
        return str(value)


def listed(names: Iterable[object], most: int = MOST) -> str:
    """A list in words: all if there are few, else the first and how many more.

    Parameters
    ----------
    names : iterable
        What is listed.
    most : int
        How many are said. [-]

    Returns
    -------
    str
        Such as ``"E1, E2, E3 and 12 more"``.
    """
    told = [f"{n:g}" if isinstance(n, float) else str(n) for n in names]
    between = "; " if any("," in t for t in told) else ", "
    if len(told) <= most:
        return between.join(told)
    return f"{between.join(told[: most - 1])} and {len(told) - most + 1} more"


def cell_words(cell: Cell) -> str:
    """The row a value was read from: its document (the table, where the rows have several), and the row."""
    source = cell.source
    named = source.table if source.designation == "several" else source.designation
    return f"{named} row {cell.row}"


def _values(f: Finding, shown: Shown) -> dict[str, Any]:
    facts = dict(f.facts)
    for new, old in _RENAMED.get(f.id, {}).items():
        facts[new] = f.facts.get(old)
    subjects = facts.get("subjects")
    facts["who"] = listed(subjects) if isinstance(subjects, tuple) and subjects else f.subject
    facts["measured"], facts["limit"], facts["missing"] = f.measured, f.limit, f.missing
    facts["tables"] = listed(dict.fromkeys(cell_words(c) for c in f.unverified))
    nipple = f.facts.get("nipple")
    facts["nipple_hint"] = (
        f" (the shortest nipple is {show(nipple, 'length', shown)})" if isinstance(nipple, float) else ""
    )
    return facts


def reason(f: Finding, shown: Shown) -> str:
    """Why the verdict was given, in one sentence.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    str
        The sentence, without the verdict's word.

    Raises
    ------
    OurFault
        If the catalogue has no sentence for it.
    """
    why = str(f.facts.get("why", f.verdict.name.lower()))
    template = UNVERIFIED_SENTENCE if why == UNVERIFIED else WHY.get(f.id, {}).get(why)
    if template is None:
        raise OurFault(f"there is no sentence for {f.id} {why}", next="add one to the catalogue")
    text = _Words(shown).vformat(template, (), defaultdict(lambda: None, _values(f, shown)))
    alike = f.facts.get("told_together")
    told = why == UNVERIFIED or "person" in f.facts or "summed" in f.facts
    if isinstance(alike, int) and alike > 1 and not told:
        text += f" ({alike - 1} more of this kind.)"
    return text


def next_step(f: Finding, shown: Shown) -> str:
    """What to do now, in one sentence; empty where there is nothing to do.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    OurFault
        If the catalogue has no sentence for it.
    """
    if not f.next_step:
        return ""
    template = NEXT.get(f.next_step)
    if template is None:
        raise OurFault(
            f"there is no sentence for the next step {f.next_step}", next="add one to the catalogue"
        )
    return _Words(shown).vformat(template, (), defaultdict(lambda: None, _values(f, shown)))


def say(f: Finding, shown: Shown) -> str:
    """A Finding as one line: the reason, and the next step after it.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    str
        Without the verdict's word, which stands in its own column.
    """
    why, now = reason(f, shown), next_step(f, shown)
    return f"{why} Next: {now}" if now else why
