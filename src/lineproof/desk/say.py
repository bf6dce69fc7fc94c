"""Says a Finding in one clear sentence, in the units of the job, with its next step.

In English, or in Spanish where the Spanish catalogue has the sentence; else that sentence is English.
"""

from __future__ import annotations

import string
from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from lineproof.checks.registry import UNVERIFIED
from lineproof.desk.next_steps_en import NEXT
from lineproof.desk.sentences_en import UNVERIFIED_SENTENCE, WHY
from lineproof.desk.words import ENGLISH, SPANISH, term, words_of
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import OurFault
from lineproof.floor.shown import Shown, show
from lineproof.floor.sources import Cell
from lineproof.floor.unit_table import UNITS
from lineproof.floor.verdicts import Finding

NOT_KNOWN = words_of(ENGLISH)["not_known"]
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


class Words(string.Formatter):
    """Fills placeholders: a quantity after the colon shows a number in the job's units.

    Parameters
    ----------
    shown : Shown
    language : str
        ``"en"`` or ``"es"``.
    """

    def __init__(self, shown: Shown, language: str = ENGLISH) -> None:
        self.shown = shown
        self.language = language
        self.words = words_of(language)

    def fill(self, template: str, values: Mapping[str, object]) -> str:
        """A sentence with its values; what has no value is not known."""
        return self.vformat(template, (), defaultdict(lambda: None, values))

    def format_field(self, value: Any, format_spec: str) -> str:
        """One value as its placeholder asks."""
        if value is None:
            return self.words["not_known"]
        if format_spec in UNITS:
            return show(float(value), format_spec, self.shown)
        if format_spec.startswith(COUNTED):
            one, _, many = format_spec[1:].partition("/")
            count = len(value) if isinstance(value, tuple | list) else value
            return f"{count} {one if count == 1 else many or one + 's'}"
        if format_spec == NAMED:
            return str(value) or self.words["not_named"]
        if format_spec == TO_GAUGE:
            side = self.words["above_gauge" if value < 0 else "below_gauge"]
            return f"{show(abs(value), 'length', self.shown)} {side}"
        if format_spec:
            raise OurFault(f"{format_spec} in a sentence is not a quantity", allowed=", ".join(UNITS))
        if isinstance(value, tuple | list):
            return listed([term(v, self.language) for v in value], language=self.language)
        if isinstance(value, float):
            return f"{value:.4g}"
        if isinstance(value, datetime):
            return day_and_hour(value, self.language)
        if isinstance(value, date):
            return value.isoformat()
        return str(term(value, self.language))


def listed(names: Iterable[object], most: int = MOST, language: str = ENGLISH) -> str:
    """A list in words: all if there are few, else the first and how many more.

    Parameters
    ----------
    names : iterable
        What is listed.
    most : int
        How many are said. [-]
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        Such as ``"E1, E2, E3 and 12 more"``.
    """
    told = [f"{n:g}" if isinstance(n, float) else str(n) for n in names]
    between = "; " if any("," in t for t in told) else ", "
    if len(told) <= most:
        return between.join(told)
    rest = words_of(language)["and_more"].format(n=len(told) - most + 1)
    return f"{between.join(told[: most - 1])} {rest}"


def cell_words(cell: Cell) -> str:
    """The row a value was read from: its document (the table, where the rows have several), and the row."""
    source = cell.source
    named = source.table if source.designation == "several" else source.designation
    return f"{named} row {cell.row}"


def _values(f: Finding, shown: Shown, language: str) -> dict[str, Any]:
    facts = dict(f.facts)
    for new, old in _RENAMED.get(f.id, {}).items():
        facts[new] = f.facts.get(old)
    subjects = facts.get("subjects")
    facts["who"] = (
        listed(subjects, language=language) if isinstance(subjects, tuple) and subjects else f.subject
    )
    facts["measured"], facts["limit"], facts["missing"] = f.measured, f.limit, f.missing
    facts["tables"] = listed(dict.fromkeys(cell_words(c) for c in f.unverified), language=language)
    nipple = f.facts.get("nipple")
    facts["nipple_hint"] = (
        f" (the shortest nipple is {show(nipple, 'length', shown)})" if isinstance(nipple, float) else ""
    )
    return facts


def spoken(f: Finding, language: str) -> str:
    """The language a reason is told in: the one asked for, or English where that has no sentence for it.

    Parameters
    ----------
    f : Finding
    language : str

    Returns
    -------
    str
    """
    return language if language == SPANISH and _template(f, SPANISH) is not None else ENGLISH


def _why(f: Finding) -> str:
    return str(f.facts.get("why", f.verdict.name.lower()))


def _template(f: Finding, language: str) -> str | None:
    if language == SPANISH:
        from lineproof.desk.sentences_es import UNVERIFIED_ES, WHY_ES

        return UNVERIFIED_ES if _why(f) == UNVERIFIED else WHY_ES.get(f.id, {}).get(_why(f))
    return UNVERIFIED_SENTENCE if _why(f) == UNVERIFIED else WHY.get(f.id, {}).get(_why(f))


def reason(f: Finding, shown: Shown, language: str = ENGLISH) -> str:
    """Why the verdict was given, in one sentence.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        The sentence, without the verdict's word.

    Raises
    ------
    OurFault
        If the catalogue has no sentence for it.
    """
    language = spoken(f, language)
    why, template = _why(f), _template(f, language)
    if template is None:
        raise OurFault(f"there is no sentence for {f.id} {why}", next="add one to the catalogue")
    text = Words(shown, language).fill(template, _values(f, shown, language))
    alike = f.facts.get("told_together")
    told = why == UNVERIFIED or "person" in f.facts or "summed" in f.facts
    if isinstance(alike, int) and alike > 1 and not told:
        text += f" ({words_of(language)['of_this_kind'].format(n=alike - 1)})"
    return text


def next_step(f: Finding, shown: Shown, language: str = ENGLISH) -> str:
    """What to do now, in one sentence; empty where there is nothing to do.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.
    language : str
        ``"en"`` or ``"es"``; told in English where its reason is.

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
    language = spoken(f, language)
    template = NEXT.get(f.next_step)
    if language == SPANISH:
        from lineproof.desk.next_steps_es import NEXT_ES

        template = NEXT_ES.get(f.next_step, template)
    if template is None:
        raise OurFault(
            f"there is no sentence for the next step {f.next_step}", next="add one to the catalogue"
        )
    return Words(shown, language).fill(template, _values(f, shown, language))


def say(f: Finding, shown: Shown, language: str = ENGLISH) -> str:
    """A Finding as one line: the reason, and the next step after it.

    Parameters
    ----------
    f : Finding
    shown : Shown
        How the job shows its numbers.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        Without the verdict's word, which stands in its own column.
    """
    why, now = reason(f, shown, language), next_step(f, shown, language)
    return f"{why} {words_of(spoken(f, language))['next']} {now}" if now else why
