"""Random lines of cubes: the plan beside a motion search that knows nothing of it; loops beside networkx.

[networkx] a general-purpose graph library: number of independent loops as edges - nodes + components of its
           own count, and the length of its cycle basis.
"""

from __future__ import annotations

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from closing_rig import rig_from
from lineproof.plan.sequence.build import build
from lineproof.plan.sequence.legs import cyclomatic, legs_of
from lineproof.plan.sequence.rig import How
from lineproof.plan.sequence.verify import faults
from motion import Allowed, Edge, Line, can_be_made, replays
from plan.test_closing_cases import told

PLACES = [(x, y, z) for x in range(3) for y in range(2) for z in range(2)]
HOWS = ["cement"] * 5 + ["flat"] * 3 + ["ring", "drop"]


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """Up to seven nodes of a small lattice, hanging together, some of them standing."""
    here = [draw(st.sampled_from(PLACES))]
    for _ in range(draw(st.integers(1, 6))):
        around = sorted({
            p for p in PLACES for q in here
            if p not in here and sum(abs(a - b) for a, b in zip(p, q, strict=True)) == 1
        })  # fmt: skip
        if around:
            here.append(draw(st.sampled_from(around)))
    nodes = {f"N{n}": p for n, p in enumerate(here)}
    standing = frozenset(n for n in nodes if draw(st.integers(0, 3)) == 0) or frozenset(("N0",))
    edges, drops = [], 0
    for a in nodes:
        for b in nodes:
            near = sum(abs(x - y) for x, y in zip(nodes[a], nodes[b], strict=True)) == 1
            if a < b and near and not {a, b} <= standing and draw(st.integers(0, 4)):
                how = draw(st.sampled_from(HOWS))
                if how == "drop":
                    drops += 1
                    how = "drop" if drops < 2 else "flat"
                edges.append(Edge(*((a, b) if draw(st.booleans()) else (b, a)), how))
    return Line(nodes, tuple(edges), standing)


def whole(line: Line) -> bool:
    """Everything hangs together, so that there is one line to make."""
    net = networkx.Graph()
    net.add_node("ground")
    for n in line.nodes:
        net.add_node("ground" if n in line.standing else n)
    for e in line.edges:
        net.add_edge(*("ground" if n in line.standing else n for n in (e.a, e.b)))
    return networkx.is_connected(net)


@pytest.mark.slow
@settings(max_examples=120, deadline=None)
@given(lines().filter(whole))
def test_the_plan_and_the_cubes_agree(line: Line) -> None:
    rig = rig_from(line)
    built = build(rig)
    possible = can_be_made(line)
    if built.stuck:
        assert not possible  # what is called impossible is
    if built.works:
        assert faults(rig, built.steps) == []
        assert replays(line, told(built), Allowed())
        assert possible
    if not built.works and not built.stuck:
        assert built.blocked  # no room was found: never called impossible


@settings(max_examples=200, deadline=None)
@given(lines())
def test_loops_are_counted_as_networkx_counts_them(line: Line) -> None:
    """[networkx] cyclomatic number of the cemented graph, and the loops of all ties."""
    rig = rig_from(line)
    for hows in ((How.CEMENTED,), tuple(How)):
        net = networkx.MultiGraph()
        net.add_edges_from((t.a, t.b) for t in rig.ties if t.how in hows)
        loops = net.number_of_edges() - net.number_of_nodes() + networkx.number_connected_components(net)
        assert cyclomatic(rig, hows) == loops
        simple = networkx.Graph()
        for n, t in enumerate(rig.ties):
            if t.how in hows:
                simple.add_edges_from(
                    ((t.a, ("tie", n, 0)), (("tie", n, 0), ("tie", n, 1)), (("tie", n, 1), t.b))
                )
        assert len(networkx.cycle_basis(simple)) == loops


@settings(max_examples=200, deadline=None)
@given(lines())
def test_legs_hold_every_loop_and_nothing_else(line: Line) -> None:
    """[networkx] the ties of the legs are those left by networkx's 2-core, with the bridges between loops."""
    rig = rig_from(line)
    net = networkx.Graph()
    for n, t in enumerate(rig.ties):
        net.add_edges_from(((t.a, ("tie", n, 0)), (("tie", n, 0), ("tie", n, 1)), (("tie", n, 1), t.b)))
    net.add_edge("ground", "ground again")  # a second and third node at the ground keep it in the core
    net.add_edge("ground again", "ground and again")
    net.add_edge("ground and again", "ground")
    core = networkx.k_core(net, 2)
    mine = {t for leg in legs_of(rig) for bit in leg.bits for t in bit.ties}
    assert mine == {n for n in range(len(rig.ties)) if ("tie", n, 0) in core and ("tie", n, 1) in core}
