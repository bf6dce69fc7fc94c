"""Test sections by line pattern: which section a line is tested in, and how its pipe is drawn.

The patterns are dashes with one, two or three dots between them, in the manner of ISO 128-2 (from memory);
plain dashes are left to the piece that is cut after taping.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from lineproof.job.duty import Section, matches
from lineproof.job.graph import LineGraph

DASH_MM, SPACE_MM, DOT_MM = 2.4, 0.7, 0.6
PATTERNS = 4
WORDS = ("Full line", "Line with one dot", "Line with two dots", "Line with three dots")
"""What each pattern is called at the foot of a sheet."""


@dataclass(frozen=True, slots=True)
class SectionMark:
    """The section of a line as drawn.

    Parameters
    ----------
    name : str
        Its id; more than one where a line is tested twice; empty for a line in no section.
    pattern : int
        Dots between two dashes, 0 for a full line. [-]
    """

    name: str = ""
    pattern: int = 0

    @property
    def told(self) -> str:
        """What the foot of a sheet says."""
        return f"{WORDS[self.pattern]} = {f'section {self.name}' if self.name else 'in no section'}."


def dashes(pattern: int) -> str:
    """A pattern as SVG says it; empty for a full line. [mm]"""
    if not pattern:
        return ""
    return " ".join(f"{v:g}" for v in (DASH_MM, SPACE_MM, *(DOT_MM, SPACE_MM) * pattern))


def section_marks(sections: Sequence[Section], graph: LineGraph) -> dict[str, SectionMark]:
    """The mark of every line; none if the job has no sections.

    Sections take the patterns in the order of job.toml; past the fourth, one that none of the sections it is
    tied to has.

    Parameters
    ----------
    sections : sequence of Section
    graph : LineGraph

    Returns
    -------
    dict
        Line to mark.
    """
    if not sections:
        return {}
    names = {
        line: ", ".join(s.id for s in sections if any(matches(p, line) for p in s.lines))
        for line in graph.lines
    }
    beside = _beside(graph, names)
    order = [s.id for s in sections]
    order += [n for n in dict.fromkeys(names.values()) if n not in order]
    pattern: dict[str, int] = {}
    for n, name in enumerate(order):
        near = {pattern[o] for o in beside.get(name, ()) if o in pattern}
        tries = [(n + k) % PATTERNS for k in range(PATTERNS)]
        pattern[name] = next((p for p in tries if p not in near), tries[0])
    return {line: SectionMark(name, pattern[name]) for line, name in names.items()}


def _beside(graph: LineGraph, names: Mapping[str, str]) -> dict[str, set[str]]:
    """Sections that a line of each section is tied to."""
    found: dict[str, set[str]] = {}
    for one, other in _tied(graph):
        a, b = names.get(one, ""), names.get(other, "")
        if a != b:
            found.setdefault(a, set()).add(b)
            found.setdefault(b, set()).add(a)
    return found


def _tied(graph: LineGraph) -> Iterable[tuple[str, str]]:
    for c in graph.connections:
        yield graph.parts[c.a[0]].line, graph.parts[c.b[0]].line
    for run in graph.runs.values():
        for end in (run.a, run.b):
            yield run.line, graph.parts[end[0]].line
