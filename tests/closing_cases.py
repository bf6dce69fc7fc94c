"""The table of cases and planted ones, told as lines of cubes: what can be made, and what only if allowed.

The answers are those of the design's table, worked out by hand before any program of ours was asked.
"""

from __future__ import annotations

from dataclasses import dataclass

from motion import Allowed, Edge, Line

X = {f"N{i}": (i, 0, 0) for i in range(5)}


@dataclass(frozen=True)
class Case:
    """A line, whether it can be made, and what would have to be allowed."""

    name: str
    line: Line
    works: bool
    only_with: Allowed | None = None


def row(*hows: str, standing: str = "ends") -> Line:
    """Nodes in a straight row, the first and last standing, each neighbour tied as said."""
    nodes = {f"N{i}": (i, 0, 0) for i in range(len(hows) + 1)}
    edges = []
    for i, how in enumerate(hows):
        # a spigot always comes from the movable side
        a, b = (f"N{i + 1}", f"N{i}") if i == 0 and how == "cement" else (f"N{i}", f"N{i + 1}")
        edges.append(Edge(a, b, how))
    ends = frozenset(("N0", f"N{len(hows)}")) if standing == "ends" else frozenset(("N0",))
    return Line(nodes, tuple(edges), ends)


L_RUN = Line(
    {"G1": (0, 0, 0), "C": (1, 0, 0), "B": (1, 1, 0), "G2": (1, 2, 0)},
    (Edge("C", "G1", "cement"), Edge("C", "B", "flat"), Edge("B", "G2", "cement")),
    frozenset(("G1", "G2")),
)
HEADER = Line(
    {"G1": (0, 0, 0), "G2": (1, 0, 0), "H1": (0, 1, 0), "H2": (1, 1, 0)},
    (Edge("H1", "G1", "cement"), Edge("H2", "G2", "cement"), Edge("H1", "H2", "cement")),
    frozenset(("G1", "G2")),
)
FACING = Line(
    {"G1": (0, 0, 0), "A": (1, 0, 0), "B": (2, 0, 0), "G2": (3, 0, 0)},
    (Edge("A", "G1", "cement"), Edge("B", "G2", "cement")),
    frozenset(("G1", "G2")),
    dead=(("A", (1, 0, 0), 4), ("B", (-1, 0, 0), 4)),
)
APART = Line(FACING.nodes, FACING.edges, FACING.standing, dead=(("A", (1, 0, 0), 3), ("B", (-1, 0, 0), 3)))
CORNER = Line(
    {"G1": (0, 0, 0), "E": (1, 0, 0)},
    (Edge("E", "G1", "thread"),),
    frozenset(("G1",)),
    dead=(("E", (0, 1, 0), 6),),
    walls=frozenset((10, 0, z) for z in (-4, -5, -6)),
)
OPEN_CORNER = Line(CORNER.nodes, CORNER.edges, CORNER.standing, CORNER.dead)
THREAD_LOOP = Line(
    L_RUN.nodes,
    (Edge("C", "G1", "thread"), Edge("C", "B", "cement"), Edge("B", "G2", "cement")),
    L_RUN.standing,
)
L_SLEEVE = Line(
    L_RUN.nodes,
    (Edge("C", "G1", "cement"), Edge("C", "B", "sleeve"), Edge("B", "G2", "cement")),
    L_RUN.standing,
)

CASES = (
    Case("straight run between two fixed sockets", row("cement", "cement"), False),
    Case("the same with one flat union", row("cement", "flat", "cement"), False),
    Case("the same with two flat unions", row("cement", "drop", "cement"), True),
    Case("two flat flanged fixed ends", row("flat", "flat"), True),
    Case("ringed faces at both fixed ends", row("ring", "ring"), False),
    Case("L run between fixed sockets, flat union in the other leg", L_RUN, True),
    Case("header on two side-by-side stubs", HEADER, False, Allowed(two_at_once=True)),
    Case("two dead-end legs facing each other closer than a depth", FACING, False),
    Case("threaded elbow in a corner that cannot swing", CORNER, False),
    # planted
    Case("the dead ends a depth and more apart", APART, True),
    Case("the threaded elbow with room to swing", OPEN_CORNER, True),
    Case("a thread at one end of a loop", THREAD_LOOP, False),
    Case("repair coupling in a straight run: nothing backs off", row("cement", "sleeve", "cement"), False),
    Case("repair coupling in the other leg of an L", L_SLEEVE, False, Allowed(repair=True)),
    Case("one flat face and one ringed", row("flat", "ring"), False),
    Case("straight run with one free end", row("cement", "cement", standing="start"), True),
)
