"""How far a test section reaches: its lines, those beyond ends that do not hold, and every end it has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lineproof.checks.section_state import (
    ISOLATED,
)
from lineproof.floor.errors import BadInput
from lineproof.job.duty import Section, matches
from lineproof.job.graph import LineGraph, Part
from lineproof.job.section_record import Said

GROUND = "ground"
EQUIPMENT, OPEN, LINE = "equipment", "open end", "line"
"""What lies beyond an end: what stands, nothing yet, another line of the job."""


@dataclass(frozen=True, slots=True)
class SectionEndPlace:
    """One end of a section.

    Parameters
    ----------
    boundary : str
        As it is named in an entry: what stands there, the open part, or the line beyond.
    what : str
        ``"equipment"``, ``"open end"`` or ``"line"``.
    line : str
        The line of the section that ends there.
    """

    boundary: str
    what: str
    line: str


@dataclass(frozen=True, slots=True)
class Reach:
    """A section as far as water and pressure reach.

    Parameters
    ----------
    section : str
    own : tuple of str
        Its lines.
    beyond : tuple of str
        Lines of other sections that count, because nothing holds between them and it.
    ends : tuple of SectionEndPlace
    """

    section: str
    own: tuple[str, ...]
    beyond: tuple[str, ...]
    ends: tuple[SectionEndPlace, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """Its lines and those beyond."""
        return (*self.own, *self.beyond)


def reach_of(section: Section, graph: LineGraph, ends: Mapping[str, Said]) -> Reach:
    """Follow the drawing from a section to every end that holds.

    Parameters
    ----------
    section : Section
    graph : LineGraph
    ends : mapping
        Boundary to how the section ends there, as recorded.

    Returns
    -------
    Reach

    Raises
    ------
    BadInput
        No line of the job belongs to the section.
    """
    own = tuple(n for n in graph.lines if any(matches(p, n) for p in section.lines))
    if not own:
        raise BadInput(
            f"no line belongs to section {section.id}",
            allowed=f"lines of the job: {', '.join(list(graph.lines)[:8])}",
            next="put the right names or patterns into its lines in job.toml",
        )
    beside = _neighbours(graph)
    found: dict[str, SectionEndPlace] = {}
    lines = list(own)
    for line in lines:  # grows while it is walked
        for other in beside.get(line, ()):
            if other in lines:
                continue
            found.setdefault(other, SectionEndPlace(other, LINE, line))
            said = ends.get(other)
            if said is None or said.what not in ISOLATED:
                lines.append(other)
    inside = set(lines)
    for part in _ends(graph):
        if part.line in inside:
            what = EQUIPMENT if part.kind == GROUND else OPEN
            name = part.name or part.id
            found.setdefault(name, SectionEndPlace(name, what, part.line))
    return Reach(section.id, own, tuple(lines[len(own) :]), tuple(found.values()))


def _neighbours(graph: LineGraph) -> dict[str, list[str]]:
    """Lines that share a connection, a run or a saddle, in the order of the drawing."""
    found: dict[str, dict[str, None]] = {}
    for names in _ties(graph):
        lines = {graph.parts[n].line for n in names if n in graph.parts}
        lines |= {n for n in names if n in graph.lines}
        for a in sorted(lines):
            for b in sorted(lines - {a}):
                found.setdefault(a, {})[b] = None
    return {line: list(others) for line, others in found.items()}


def _ties(graph: LineGraph) -> Iterable[tuple[str, ...]]:
    for c in graph.connections:
        yield c.a[0], c.b[0], c.line
    for r in graph.runs.values():
        yield r.a[0], r.b[0], r.line, *(s for s, _ in r.saddles)


def _ends(graph: LineGraph) -> Iterable[Part]:
    """What stands, and parts with a port that nothing is tied to."""
    tied = {end for c in graph.connections for end in (c.a, c.b)}
    tied |= {end for r in graph.runs.values() for end in (r.a, r.b)}
    on_pipe = {s for r in graph.runs.values() for s, _ in r.saddles}
    for part in graph.parts.values():
        ports = part.ports[-1:] if part.id in on_pipe else part.ports  # a saddle's other side is the pipe
        if part.kind == GROUND or any((part.id, p.name) not in tied for p in ports):
            yield part
