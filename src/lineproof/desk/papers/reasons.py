"""Findings as sentences, gathered by line: alike answers are said once, with the names they hold for."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.desk.papers import words
from lineproof.desk.say import say
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.names import short
from lineproof.plan.pack import Pack, names_in

WHOLE_JOB = "whole job"
SEVERAL = "several lines"


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason: verdict, sentence, and the subjects of further findings that say the same."""

    line: str
    verdict: Verdict
    text: str
    unverified: bool
    also: tuple[str, ...] = ()


def line_of(finding: Finding, lines: frozenset[str]) -> str:
    """The line a finding belongs to; the whole job for what belongs to none."""
    said = finding.facts.get("line")
    if isinstance(said, str) and said in lines:
        return said
    heads = {name.split("/", 1)[0] for name in names_in(finding)} & lines
    return heads.pop() if len(heads) == 1 else SEVERAL if heads else WHOLE_JOB


def reasons(pack: Pack, shown: Shown) -> tuple[Reason, ...]:
    """Every finding that is not GO, worst first and by line, alike ones gathered.

    Parameters
    ----------
    pack : Pack
    shown : Shown

    Returns
    -------
    tuple of Reason
        Lines in the order they are walked, the whole job first.
    """
    lines = frozenset(pack.work.graph.lines)
    order = {WHOLE_JOB: -2, SEVERAL: -1, **{name: n for n, name in enumerate(pack.work.graph.lines)}}
    gathered: dict[tuple[object, ...], list[Finding]] = {}
    for f in pack.findings:
        if f.verdict is Verdict.GO:
            continue
        key = (line_of(f, lines), f.id, f.verdict, f.missing, f.governs, f.until)
        gathered.setdefault(key, []).append(f)
    found = []
    for (line, *_), members in gathered.items():
        first = members[0]
        also = tuple(dict.fromkeys(short(m.subject) for m in members[1:] if m.subject != first.subject))
        found.append(
            Reason(str(line), first.verdict, say(first, shown), any(m.unverified for m in members), also)
        )
    return tuple(sorted(found, key=lambda r: (-int(r.verdict), order[r.line])))


def as_row(reason: Reason) -> dict[str, object]:
    """A reason for a template."""
    also = "" if not reason.also else f"The same for {words.listed(reason.also, 10)}."
    return {
        "line": reason.line, "verdict": reason.verdict.word, "text": reason.text, "also": also,
        "unverified": reason.unverified,
    }  # fmt: skip
