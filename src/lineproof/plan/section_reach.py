"""How far a test section reaches: its lines, those beyond ends that do not hold, and every end it has."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from lineproof.checks.section_state import (
    ISOLATED,
)
from lineproof.floor.errors import BadInput
from lineproof.job.duty import Section, matches
from lineproof.job.graph import LineGraph, Part
from lineproof.job.section_record import Said

_NOT_SAID = Said(at=datetime(1, 1, 1, tzinfo=UTC))
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


class Ways:
    """Ways from line to line and open ends of a drawing, read once and followed many times.

    Parameters
    ----------
    graph : LineGraph
    """

    def __init__(self, graph: LineGraph) -> None:
        self.beside = _neighbours(graph)
        self.ends = tuple(_ends(graph))


def reach_of(section: Section, graph: LineGraph, ends: Mapping[str, Said], ways: Ways | None = None) -> Reach:
    """Follow the drawing from a section to every end that holds.

    Parameters
    ----------
    section : Section
    graph : LineGraph
    ends : mapping
        Boundary to how the section ends there, as recorded.
    ways : Ways, optional
        Of the same graph, read before.

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
    ways = Ways(graph) if ways is None else ways
    beside = ways.beside
    found: dict[str, SectionEndPlace] = {}
    lines = list(own)
    grown = True
    while grown:
        # A line that is reached by one way is inside, however many other ways to it are closed.
        ties = [end for line in lines for end in _ties_of(graph, beside, line, own) if end[0] not in lines]
        open_ = [other for other, end in ties if (ends.get(end.boundary) or _NOT_SAID).what not in ISOLATED]
        found |= {end.boundary: end for _, end in ties}
        lines += dict.fromkeys(open_)
        grown = bool(open_)
    inside = set(lines)
    for part in ways.ends:
        if part.line in inside:
            what = EQUIPMENT if part.kind == GROUND else OPEN
            name = part.name or part.id
            # Two ends of one name are two ends: a word on the one is none on the other.
            name = part.id if name in found else name
            found[name] = SectionEndPlace(name, what, part.line)
    return Reach(section.id, own, tuple(lines[len(own) :]), tuple(found.values()))


def _ties_of(
    graph: LineGraph, beside: Mapping[str, Mapping[str, Sequence[str]]], line: str, own: Collection[str]
) -> Iterable[tuple[str, SectionEndPlace]]:
    """Each way from a line into another, named by that line, and by its place where it has more ways."""
    for other, places in beside.get(line, {}).items():
        ways = sum(len(beside.get(mine, {}).get(other, ())) for mine in own)
        for place in places:
            alone = line in own and ways == 1
            name = other if alone else f"{other} at {graph.parts[place].name or place}"
            yield other, SectionEndPlace(name, LINE, line)


def _neighbours(graph: LineGraph) -> dict[str, dict[str, list[str]]]:
    """Lines that share a connection, a run or a saddle, as drawn, and the parts where they do."""
    found: dict[str, dict[str, dict[tuple[str, str], None]]] = {}
    for names in _ties(graph):
        parts = [n for n in names if n in graph.parts]
        lines = {graph.parts[n].line for n in parts}
        lines |= {n for n in names if n in graph.lines}
        for a in sorted(lines):
            for b in sorted(lines - {a}):
                mine = next((n for n in parts if graph.parts[n].line == a), "")
                theirs = next((n for n in parts if graph.parts[n].line == b), "")
                found.setdefault(a, {}).setdefault(b, {})[mine or theirs or parts[0], theirs] = None
    return {
        line: {other: [place for place, _ in ways] for other, ways in others.items()}
        for line, others in found.items()
    }


def _ties(graph: LineGraph) -> Iterable[tuple[str, ...]]:
    for c in graph.connections:
        yield c.a[0], c.b[0], c.line
    for r in graph.runs.values():
        yield r.a[0], r.b[0], r.line
        for saddle, _ in r.saddles:
            yield r.a[0], r.line, saddle


def _ends(graph: LineGraph) -> Iterable[Part]:
    """What stands, and parts with a port that nothing is tied to."""
    tied = {end for c in graph.connections for end in (c.a, c.b)}
    tied |= {end for r in graph.runs.values() for end in (r.a, r.b)}
    on_pipe = {s for r in graph.runs.values() for s, _ in r.saddles}
    for part in graph.parts.values():
        ports = part.ports[-1:] if part.id in on_pipe else part.ports  # a saddle's other side is the pipe
        if part.kind == GROUND or any((part.id, p.name) not in tied for p in ports):
            yield part
