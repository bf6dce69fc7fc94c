"""Splitting, rotation marks, the carry of rounding and fixity, each against a second way of finding it."""

from __future__ import annotations

import itertools
import math
from functools import cache

import networkx as nx
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from id_rig import cut
from lineproof.book.sizes import Size
from lineproof.floor.errors import PlanImpossible
from lineproof.job.graph import Connection, LineGraph, Part, Run, Tie, Wait
from lineproof.job.statements import Spot
from lineproof.plan.fixity import between_fixed, untaped_groups
from lineproof.plan.marks import angle_round
from lineproof.plan.split import Bit, split
from rigs import INCH

MM = 0.001
SIZE = Size("nps", 6.0)


# ------------------------------------------------------------------ splitting, against trying everything
def fewest(total, *, stick, gain, half, least, free, belled, last):
    """Fewest pipes of a leg in whole millimetres, by trying every place; None if there is none."""
    jump = 0 if belled else gain
    seen = {0}
    for count in itertools.count(1):
        if any(total - at <= last and (count == 1 or total - at >= least) for at in seen):
            return count
        following = set()
        for at in seen:
            for spot in range(at + least, at + stick + (gain if belled else 0) + 1):
                if any(spot + half > a and spot - half < b for a, b in free):
                    continue
                if spot + jump < total:
                    following.add(spot + jump)
        if not following or count > 40:
            return None
        seen = following
    return None


@st.composite
def legs(draw):
    belled = draw(st.booleans())
    stick = draw(st.integers(30, 60))
    half = draw(st.integers(1, 6))
    least = draw(st.integers(2, 14))
    gain = -draw(st.integers(1, 6)) if belled else draw(st.integers(0, 4))
    last = stick - draw(st.integers(0, 8))
    total = draw(st.integers(10, 220))
    free = draw(st.lists(st.tuples(st.integers(0, 220), st.integers(1, 60)), max_size=3))
    return {
        "total": total, "stick": stick, "gain": gain, "half": half, "least": least, "belled": belled,
        "last": last if belled else stick, "free": tuple((a, a + n) for a, n in free),
    }  # fmt: skip


def split_mm(leg) -> tuple[Bit, ...]:
    return split(
        leg["total"] * MM, stick=leg["stick"] * MM, step_gain=leg["gain"] * MM, half=leg["half"] * MM,
        least=leg["least"] * MM, kept_free=[(a * MM, b * MM) for a, b in leg["free"]], belled=leg["belled"],
        last=leg["last"] * MM,
    )  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(legs())
def test_a_leg_gets_as_few_pipes_as_any_way_of_cutting_it(leg):
    best = fewest(**leg)
    if best is None:
        with pytest.raises(PlanImpossible):
            split_mm(leg)
        return
    bits = split_mm(leg)
    assert len(bits) == best
    # the pieces and what lies between them make up the leg
    assert sum(b.length for b in bits) + leg["gain"] * MM * (len(bits) - 1) == pytest.approx(
        leg["total"] * MM
    )
    for bit, after in itertools.pairwise(bits):
        assert after.start == pytest.approx(bit.start + bit.length + leg["gain"] * MM)
        assert bit.length <= leg["stick"] * MM + 1e-9
        assert bit.bell is leg["belled"]
        spot = after.start if leg["belled"] else bit.start + bit.length
        for a, b in leg["free"]:
            assert spot + leg["half"] * MM <= a * MM + 1e-6 or spot - leg["half"] * MM >= b * MM - 1e-6
    assert bits[-1].length <= leg["last"] * MM + 1e-9
    assert not bits[-1].bell


@settings(max_examples=60, deadline=None)
@given(
    st.floats(15.0, 130.0), st.sampled_from(["20 ft", "13 ft", "6.1 m"]),
    st.sampled_from(["plain", "cement bell"]),
    st.sampled_from(["", "bells facing back\n", "bells facing ahead\n"]),
    st.sampled_from(["north", "up", "down"]),
    st.lists(st.tuples(st.floats(0.0, 0.8), st.floats(0.5, 9.0)), max_size=2), st.booleans(),
)  # fmt: skip
def test_joints_of_a_cut_leg_keep_off_the_stretches_without_joints(
    feet, stick, ends, bells, way, free, field
):
    stretches = [(a * feet, min(a * feet + n, feet)) for a, n in free]
    walk = "line L size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing " + way
    walk += f"\n{bells}go {way} {feet:.6f}ft{' field' if field else ''}\n"
    walk += "".join(f"no joint {a:.6f}ft to {b:.6f}ft\n" for a, b in stretches if b > a + 0.01)
    _, cutting, _ = cut(walk + "ends at open\n", stick, ends)
    assume(not cutting.shortages)
    foot = 12 * INCH
    pieces = cutting.pieces
    along = [abs(p.start[0]) + abs(p.start[1]) + abs(p.start[2]) for p in pieces]
    lasting = [(a, b) for a, b in stretches if b > a + 0.01]
    for coupling in cutting.couplings.values():
        at, reach = sum(map(abs, coupling.centre)), coupling.ports[0].reach
        assert all(at + reach <= a * foot + 1e-5 or at - reach >= b * foot - 1e-5 for a, b in lasting)
    for p, at in zip(pieces, along, strict=True):
        if p.a.bell:
            mouth, stop = at, at + 4 * INCH
        elif p.b.bell:
            mouth, stop = at + p.exact, at + p.exact - 4 * INCH
        else:
            continue
        low, high = min(mouth, stop), max(mouth, stop)
        assert all(high <= a * foot + 1e-5 or low >= b * foot - 1e-5 for a, b in lasting)
    assert along[-1] + pieces[-1].exact == pytest.approx(feet * foot, abs=1e-5)
    length = {"20 ft": 240 * INCH, "13 ft": 156 * INCH, "6.1 m": 6.1}[stick]
    bell = 4 * INCH if ends != "plain" else 0.0
    for p in pieces:
        assert p.exact <= length - (0.0 if p.a.bell or p.b.bell else bell) + 1e-9
        assert p.whole == (abs(p.exact - length) < 1e-6)
    assert sum(p.state.value == "cut after taping" for p in pieces) == field


# ------------------------------------------------------------------ rotation marks, against turning the pipe
def turned_to_north(way: np.ndarray, top: np.ndarray) -> np.ndarray:
    """Rotation that lays a pipe northward with its top line up: rows of its own frame."""
    return np.array([np.cross(way, top), way, top])


@settings(max_examples=300, deadline=None)
@given(st.floats(-180, 180), st.floats(-89, 89), st.floats(0, 359.9), st.floats(5, 175))
def test_a_mark_lies_where_a_clock_on_the_pipe_shows_it(bearing, climb, clock, lean):
    # a unit quaternion turns a level pipe facing north to its bearing, then up its climb
    b, c = math.radians(bearing), math.radians(climb)
    way = np.array([math.sin(b) * math.cos(c), math.cos(b) * math.cos(c), math.sin(c)])
    riser = abs(way[2]) > math.sin(math.radians(80.08))
    level = abs(way[2]) < math.sin(math.radians(79.9))
    assume(riser or level)
    base = np.array([0.0, 1.0, 0.0]) if riser else np.array([0.0, 0.0, 1.0])
    top = base - way * (base @ way)
    top /= np.linalg.norm(top)
    # the feature, told in the pipe's own frame: clock from the top, clockwise looking along the pipe
    t, a = math.radians(clock), math.radians(lean)
    own = np.array([math.sin(t) * math.sin(a), math.cos(a), math.cos(t) * math.sin(a)])
    feature = turned_to_north(way, top).T @ own
    found = angle_round(tuple(way), tuple(feature))
    assert found is not None
    assert math.cos(found - t) == pytest.approx(1.0, abs=1e-9)
    # the same by a quaternion: turn the top line about the way; seen along the way, clockwise is positive
    q = np.array([math.cos(found / 2), *(math.sin(found / 2) * way)])
    u = q[1:]
    rolled = top + 2 * np.cross(u, np.cross(u, top) + q[0] * top)
    across = feature - way * (feature @ way)
    assert rolled @ across == pytest.approx(np.linalg.norm(across), abs=1e-9)


# ------------------------------------------------------------------ the carry of rounding
@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(20.0, 120.0), st.sampled_from(["", "turn", "spool"])), min_size=2, max_size=9
    )
)
def test_the_carry_keeps_each_straight_stretch_within_half_a_step(legs):
    walk = "line L size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"
    way, stretch, groups = "north", 0, []
    for n, (inches, then) in enumerate(legs, 1):
        walk += f"go {way} {inches:.4f}in\n"
        groups.append(stretch)
        stretch += bool(then)
        if n == len(legs):
            break
        if then == "turn":
            way = "east" if way == "north" else "north"
        else:
            walk += "coupling\n"
            walk += ("spool ends\n" if "spool" in walk else "") + 'spool "S"\n' if then else ""
    walk += "spool ends\n" if "spool" in walk else ""
    _, cutting, _ = cut(walk + "ends at open\n")
    assert len(cutting.pieces) == len(legs)
    step = INCH / 16
    for group in set(groups):
        mine = [p for p, g in zip(cutting.pieces, groups, strict=True) if g == group]
        total = 0.0
        for p in mine:
            total += p.cut - p.exact
            assert abs(total) <= step / 2 + 1e-9
        # the first of a stretch is rounded by itself
        assert abs(mine[0].cut / step - round(mine[0].cut / step)) < 1e-6
        assert abs(mine[0].cut - mine[0].exact) <= step / 2 + 1e-9


# ------------------------------------------------------------------ fixity, against taking edges away
@cache
def spot() -> Spot:
    return Spot(1, 1)


def body(name: str, fixed: bool) -> Part:
    return Part(
        name, name, "L", "ground" if fixed else "body", None, name, (0, 0, 0), (), SIZE, None, 0.0, None,
        Wait.NONE, "", spot(), fixed=fixed,
    )  # fmt: skip


def run(n: int, a: str, b: str, line: str, saddles=()) -> Run:
    return Run(
        f"{line}/R{n}", line, (a, "a"), (b, "b"), 1.0, 0.0, 0.0, 0.0, 0.0, (0, 0, 0), (1, 0, 0), SIZE, "pvc",
        "sch80", "", spot(), saddles=saddles,
    )  # fmt: skip


@st.composite
def nets(draw):
    names = [f"P{n}" for n in range(draw(st.integers(2, 9)))]
    fixed = set(draw(st.lists(st.sampled_from(names), max_size=3)))
    pair = st.tuples(st.sampled_from(names), st.sampled_from(names)).filter(lambda p: p[0] != p[1])
    pipes = draw(st.lists(st.tuples(pair, st.sampled_from("LM")), min_size=1, max_size=12))
    ties = draw(st.lists(pair, max_size=4))
    saddles = {f"S{n}": draw(st.integers(0, len(pipes) - 1)) for n in range(draw(st.integers(0, 2)))}
    branches = [(s, draw(st.sampled_from(names))) for s in saddles]
    return names, fixed, pipes, ties, saddles, branches


@settings(max_examples=400, deadline=None)
@given(nets(), st.sets(st.integers(0, 12), max_size=4))
def test_what_lies_on_a_loop_is_what_can_be_taken_out_without_parting_it(net, field):
    names, fixed, pipes, ties, saddles, branches = net
    parts = {n: body(n, n in fixed) for n in [*names, *saddles]}
    runs = []
    for n, ((a, b), line) in enumerate(pipes):
        held = tuple((s, 0.1 + i / 10) for i, (s, at) in enumerate(saddles.items()) if at == n)
        runs.append(run(n, a, b, line, held))
    runs += [run(100 + n, s, to, "B") for n, (s, to) in enumerate(branches)]
    graph = LineGraph(
        parts=parts, runs={r.id: r for r in runs},
        connections=tuple(Connection(Tie.FLANGED, (a, "a"), (b, "b"), "L") for a, b in ties),
    )  # fmt: skip

    def ground(name: str) -> str:
        return "ground" if name in fixed else name

    def loops(gone: set[str]) -> set[str]:
        edges: list[tuple[str, str, str]] = []
        for r in runs:
            if r.id not in gone:
                stops = [r.a[0], *(s for s, _ in r.saddles), r.b[0]]
                edges += [(ground(a), ground(b), r.id) for a, b in itertools.pairwise(stops)]
        edges += [(ground(a), ground(b), "") for a, b in ties]
        found = set()
        for n, (a, b, name) in enumerate(edges):
            rest = nx.MultiGraph()
            rest.add_nodes_from([a, b])
            rest.add_edges_from((u, v) for i, (u, v, _) in enumerate(edges) if i != n)
            if name and nx.has_path(rest, a, b):
                found.add(name)
        return found

    assert between_fixed(graph) == loops(set())
    taped = {r.id for n, r in enumerate(runs) if n in field}
    told = untaped_groups(graph, taped)
    assert {i for group in told for i in group} == loops(taped)
    assert all(len({i.split("/")[0] for i in group}) == 1 for group in told)
