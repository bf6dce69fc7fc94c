"""Which runs lie between fixed points, and which of those have no piece that is cut after taping."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from lineproof.job.graph import LineGraph

GROUND = ""


def _on_loops(edges: list[tuple[str, str]]) -> set[int]:
    """Indices of edges that lie on a loop; every edge is a node of its own, so twins count as a loop."""
    import networkx

    net: networkx.Graph[Any] = networkx.Graph()
    for n, (a, b) in enumerate(edges):
        if a != b:
            net.add_edge(a, n)
            net.add_edge(n, b)
    dead: set[frozenset[str | int]] = {frozenset((u, v)) for u, v in networkx.bridges(net)}
    return {
        n
        for n, (a, b) in enumerate(edges)
        if a == b or (frozenset((a, n)) not in dead and frozenset((n, b)) not in dead)
    }


def between_fixed(graph: LineGraph, without: Iterable[str] = ()) -> frozenset[str]:
    """Runs that lie between two fixed points, or on a closed loop.

    Parameters
    ----------
    graph : LineGraph
    without : iterable of str
        Runs taken as open, such as those with a field piece.

    Returns
    -------
    frozenset of str
        Run ids.
    """
    fixed = {p.id for p in graph.parts.values() if p.fixed}
    gone = set(without)

    def node(part: str) -> str:
        return GROUND if part in fixed else part

    names: list[str | None] = []
    edges: list[tuple[str, str]] = []
    for run in graph.runs.values():
        if run.id not in gone:
            # a saddle holds its branch to the pipe it sits on
            stops = [run.a[0], *(s for s, _ in sorted(run.saddles, key=lambda s: s[1])), run.b[0]]
            for a, b in pairwise(stops):
                names.append(run.id)
                edges.append((node(a), node(b)))
    for tie in graph.connections:
        names.append(None)
        edges.append((node(tie.a[0]), node(tie.b[0])))
    return frozenset(name for n in _on_loops(edges) if (name := names[n]) is not None)


def untaped_groups(graph: LineGraph, field_runs: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Runs between fixed points that no field piece relieves, grouped by line.

    Parameters
    ----------
    graph : LineGraph
    field_runs : iterable of str
        Runs that have a piece cut after taping.

    Returns
    -------
    tuple of tuple of str
        Run ids, one group a line.
    """
    groups: dict[str, list[str]] = {}
    tied = between_fixed(graph, field_runs)
    for run in graph.runs.values():
        if run.id in tied:
            groups.setdefault(run.line, []).append(run.id)
    return tuple(tuple(g) for g in groups.values())
