"""Lays every line of a job: walks to one graph, branches after the lines that open them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.job.graph import Connection, LaidLine, LineGraph, OffsetFact, Part, Run, Turn
from lineproof.job.parts import PartKind
from lineproof.job.places import Bench
from lineproof.job.resolve import Resolver
from lineproof.job.statements import (
    Drawing,
    EndKind,
    Ends,
    Head,
    Remark,
    Saddle,
    Starts,
    Statement,
    Tee,
    Walk,
)
from lineproof.job.walker import InvertBore, LineWalker, Openings


@dataclass(slots=True)
class LineText:
    """The statements of one line, with the drawing they were read from."""

    head: Head
    drawing: Drawing | None
    file: str
    statements: list[Statement]

    @property
    def needs(self) -> set[str]:
        """Branch labels this line starts from or ends at."""
        labels: set[str] = set()
        for s in self.statements:
            if isinstance(s, (Starts, Ends)) and s.end.kind is EndKind.BRANCH:
                labels.add(s.end.name or self.head.name)
        return labels

    @property
    def opens(self) -> set[str]:
        """Branch labels this line opens."""
        return {s.label for s in self.statements if isinstance(s, (Tee, Saddle))}


def split_lines(walks: Iterable[Walk]) -> list[LineText]:
    """Cut walks into lines, remarks left out.

    Parameters
    ----------
    walks : iterable of Walk
        In file order.

    Returns
    -------
    list of LineText
        In the order written.
    """
    lines: list[LineText] = []
    for walk in walks:
        drawing: Drawing | None = None
        for s in walk.statements:
            if isinstance(s, Drawing):
                drawing = s
            elif isinstance(s, Head):
                lines.append(LineText(s, drawing, walk.file, []))
            elif not isinstance(s, Remark) and lines and lines[-1].file == walk.file:
                lines[-1].statements.append(s)
    return lines


def in_order(lines: Sequence[LineText]) -> list[LineText]:
    """Lines so that each comes after those that open its branches.

    Parameters
    ----------
    lines : sequence of LineText
        As written.

    Returns
    -------
    list of LineText
        Written order where nothing speaks against it.

    Raises
    ------
    BadInput
        If lines wait for each other in a ring, or a label is not opened by any line.
    """
    opener = {label: line.head.name for line in lines for label in line.opens}
    done: set[str] = set()
    left, ordered = list(lines), []
    while left:
        waiting = []
        for line in left:
            blocked = {opener[n] for n in line.needs if n in opener} - done - {line.head.name}
            if blocked:
                waiting.append(line)
            else:
                ordered.append(line)
                done.add(line.head.name)
        if len(waiting) == len(left):
            first = waiting[0]
            raise BadInput(
                f"lines {', '.join(w.head.name for w in waiting[:6])} wait for each other's branches",
                allowed="one of them to start from something else",
                next="check the branch labels",
            ).at(file=first.file, line=first.head.spot.line)
        left = waiting
    return ordered


def lay(
    walks: Iterable[Walk],
    resolver: Resolver,
    *,
    bore: InvertBore,
    gasket: Callable[[Size], float],
    exposed: float,
    shown: Shown,
    step: float,
) -> LineGraph:
    """Lay all walks as one graph.

    Parameters
    ----------
    walks : iterable of Walk
    resolver : Resolver
        Deals out the rows of parts.csv.
    bore : callable
        (size, material, series) to inside diameter, for inverts and eccentric reducers. [m]
    gasket : callable
        Size to gasket thickness between flange faces. [m]
    exposed : float
        Pipe left bare between two hubs where no dimension is given. [m]
    shown : Shown
        How lengths are said in errors.
    step : float
        Rounding step of the drawings, for the closing tolerance. [m]

    Returns
    -------
    LineGraph
        Parts, runs, connections, turns and offsets.

    Raises
    ------
    BadInput, DrawingMismatch
        With file, line and column.
    """
    angles: dict[Size, set[float]] = {}
    for row in resolver.catalogue.rows:
        if row.kind is PartKind.ELBOW and not (row.tag and not row.fabricated):
            angles.setdefault(row.size, set()).add(row.angle_deg)
    openings = Openings()
    parts: dict[str, Part] = {}
    runs: dict[str, Run] = {}
    connections: list[Connection] = []
    turns: list[Turn] = []
    offsets: list[OffsetFact] = []
    laid: dict[str, LaidLine] = {}
    texts = split_lines(walks)
    for text in in_order(texts):
        head = text.head
        bench = Bench(head.name, head.material, head.series, text.file, resolver, gasket, exposed)
        walker = LineWalker(head, text.file, text.statements, bench, openings, bore, angles, step, shown)
        walker.walk()
        parts.update(bench.parts)
        for run in walker.runs:
            runs[run.id] = run
        connections += bench.connections
        turns += walker.turns
        offsets += walker.offsets
        laid[head.name] = LaidLine(
            name=head.name,
            drawing=text.drawing.name if text.drawing else "",
            rev=text.drawing.rev if text.drawing else "",
            service=head.service,
            size=head.size,
            material=head.material,
            series=head.series,
            od_family=head.od_family,
            file=text.file,
            spot=head.spot,
            parts=tuple(bench.parts),
            runs=tuple(r.id for r in walker.runs),
            closed=walker.closed,
            misclosure=walker.misclosure,
            datum=walker.datum,
        )
    ordered = {t.head.name: laid[t.head.name] for t in texts}
    return LineGraph(ordered, parts, runs, tuple(connections), tuple(turns), tuple(offsets))
