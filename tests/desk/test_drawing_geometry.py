"""The drawing as geometry: ten walked lines on paper, judged by shapely (GEOS), not by our own code.

Shapely is the outside opinion on what overlaps. The isometric axes are those of ISO 5456-3 (from memory:
three axes at 120 degrees, equal scales); lettering of 2.5 mm is the nominal size 2,5 of ISO 3098 (from
memory).
"""

from __future__ import annotations

import math
from collections import Counter
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import lsq_linear
from shapely import LineString, Point, STRtree, box
from shapely.geometry.base import BaseGeometry

from desk.walked_lines import random_walk, work_of
from lineproof.desk.drawing.ink import Words
from lineproof.desk.drawing.project import BrokenScale, North, View, axes, distinct, project
from lineproof.desk.drawing.scene import Bit, Leg, LineScene, Spot
from lineproof.desk.drawing.scene_read import joint_names, read_scene
from lineproof.desk.drawing.sheets import Sheet, line_sheets
from lineproof.desk.drawing.trace import trace
from lineproof.job.graph import Run
from lineproof.plan.work import Work

PAPERS = [(277.0, 190.0), (190.0, 277.0), (259.0, 196.0), (196.0, 259.0)]  # A4 and Letter less 10 mm edges
QUICK = range(0, 60, 6)
SEEDS = [pytest.param(n) for n in QUICK]


def legs_of(seed: int) -> int:
    """Sizes from 5 to 120 legs, the same on every run."""
    return 5 + (seed * 37) % 116


@cache
def walked(seed: int) -> tuple[Work, tuple[Sheet, ...]]:
    work = work_of(random_walk(seed, legs_of(seed)))
    width, height = PAPERS[seed % 4]
    return work, line_sheets(work, f"R-{seed}", width_mm=width, height_mm=height)


def boxes(words: tuple[Words, ...]) -> list[BaseGeometry]:
    return [box(w.box.x0, w.box.y0, w.box.x1, w.box.y1) for w in words]


def strokes(sheet: Sheet, *roles: str) -> list[BaseGeometry]:
    lines: list[BaseGeometry] = []
    for s in sheet.strokes:
        if s.role in roles:
            points = [*s.points, s.points[0]] if s.closed else list(s.points)
            lines.append(LineString(points).buffer(0.35 if s.thick else 0.175, cap_style="flat"))
    return lines


@pytest.mark.parametrize("seed", SEEDS)
def test_no_label_lies_on_another_or_on_a_stroke(seed: int) -> None:
    for sheet in walked(seed)[1]:
        labels = boxes(sheet.words)
        tree = STRtree(labels)
        pairs = tree.query(labels, predicate="intersects")
        assert [(a, b) for a, b in pairs.T.tolist() if a < b] == []
        inked = strokes(sheet, "pipe", "part", "joint", "leader", "ground", "stub", "match", "aid", "slope")
        hit = STRtree(inked).query(labels, predicate="intersects")
        assert [(sheet.words[i].text, j) for i, j in hit.T.tolist()] == []


@pytest.mark.parametrize("seed", SEEDS)
def test_everything_lies_on_the_sheet_and_can_be_read(seed: int) -> None:
    for sheet in walked(seed)[1]:
        paper = box(0, 0, sheet.width, sheet.height)
        assert all(paper.contains(b) for b in boxes(sheet.words))
        assert all(paper.contains(LineString(s.points)) for s in sheet.strokes)
        for w in sheet.words:
            assert w.size * 0.729 >= 2.5 - 1e-9  # height of a capital, 1493 of 2048 units in DejaVu Sans


@pytest.mark.parametrize("seed", SEEDS)
def test_leaders_touch_only_what_they_point_to(seed: int) -> None:
    for sheet in walked(seed)[1]:
        leaders = [LineString(s.points) for s in sheet.strokes if s.role == "leader"]
        others = strokes(sheet, "pipe", "part", "ground", "joint")
        tree = STRtree(others)
        for leader in leaders:
            tip = Point(leader.coords[-1])
            for k in tree.query(leader, predicate="intersects"):
                touched = others[int(k)].intersection(leader)
                assert touched.hausdorff_distance(tip) < 1.6
        apart = STRtree(leaders).query(leaders, predicate="crosses") if leaders else np.empty((2, 0))
        assert apart.shape[1] == 0


@pytest.mark.parametrize("seed", SEEDS)
def test_every_joint_length_and_piece_is_told_exactly_once(seed: int) -> None:
    work, sheets = walked(seed)
    line = f"R-{seed}"
    told: Counter[tuple[str, str]] = Counter()
    for sheet in sheets:
        told.update((w.role, w.ref) for w in sheet.words if w.role in ("joint", "length", "piece"))
        told.update((r.kind, r.ref) for r in sheet.table if r.kind in ("joint", "length", "piece"))
        keys = [w.text for w in sheet.words if w.role == "key"]
        assert sorted(keys) == sorted(r.key for r in sheet.table if r.key)
    wanted: Counter[tuple[str, str]] = Counter()
    names = joint_names(work.cutting.joints, line)
    wanted.update(("joint", "|".join(key)) for key in names)
    wanted.update(("length", run) for run in work.graph.lines[line].runs)
    wanted.update(("piece", p.id) for p in work.cutting.pieces if p.line == line)
    assert told == wanted
    assert len(names) == sum(j.line == line for j in work.cutting.joints)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_joint_has_its_bar(seed: int) -> None:
    work, sheets = walked(seed)
    bars = Counter(
        s.ref for sheet in sheets for s in sheet.strokes if s.role == "joint" and len(s.points) == 2
    )
    wanted = {"|".join(j.key) for j in work.cutting.joints if j.line == f"R-{seed}"}
    assert set(bars) == wanted


@pytest.mark.parametrize("seed", SEEDS)
def test_equal_coordinates_stay_equal_and_order_is_kept(seed: int) -> None:
    work, sheets = walked(seed)
    parts = [work.graph.parts[p] for p in work.graph.lines[f"R-{seed}"].parts]
    for sheet in sheets:
        view = sheet.view
        for k, scale in enumerate((view.east_scale, view.north_scale, view.up_scale)):
            assert all(a < b for a, b in pairwise(scale.real))
            assert all(a <= b for a, b in pairwise(scale.drawn))
            real = {round(v, 6) for v in scale.real}
            for p in parts:
                if round(p.centre[k], 6) in real:
                    nudged = p.centre[k] + 1e-7
                    assert scale.at(nudged) == pytest.approx(scale.at(p.centre[k]), abs=1e-9)


@pytest.mark.parametrize("seed", QUICK)
def test_a_loop_of_the_plant_closes_on_paper(seed: int) -> None:
    # Any closed path over coordinates of the sheet comes back to its start: the map is one function an axis.
    view = walked(seed)[1][0].view
    rng = np.random.default_rng(seed)
    real = [np.array(s.real) for s in (view.east_scale, view.north_scale, view.up_scale)]
    corners = [tuple(float(rng.choice(r)) for r in real) for _ in range(8)]
    steps = [np.subtract(view.paper(b), view.paper(a)) for a, b in pairwise([*corners, corners[0]])]
    assert np.abs(np.sum(steps, axis=0)).max() < 1e-9


@pytest.mark.parametrize("north", list(North))
def test_axes_lie_at_120_degrees_with_equal_scales(north: North) -> None:
    east, north_way, up = axes(north)
    for a, b in ((east, north_way), (north_way, up), (up, east)):
        assert math.hypot(*a) == pytest.approx(1.0, abs=1e-12)
        # two axes lie at 120 degrees, or at 60 where one of them is drawn towards its far end
        assert abs(a[0] * b[0] + a[1] * b[1]) == pytest.approx(0.5, abs=1e-12)
    assert up == (0.0, -1.0)
    # seen from above, east lies clockwise of north; y runs downwards, so the cross product is positive
    assert north_way[0] * east[1] - north_way[1] * east[0] > 0


@pytest.mark.parametrize("north", list(North))
def test_the_projection_is_that_of_a_cube_seen_along_its_diagonal(north: North) -> None:
    # ISO 5456-3 (from memory): orthogonal projection along a space diagonal, here scaled by sqrt(3/2).
    look = {North.RIGHT: (1.0, -1.0, 1.0), North.LEFT: (-1.0, -1.0, 1.0)}[north]
    n = np.array(look) / math.sqrt(3)
    up = np.array((0.0, 0.0, 1.0)) - n * n[2]
    up /= np.linalg.norm(up)
    right = np.cross(up, n)
    for v in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (3.0, -2.0, 5.0)):
        x, y = project(v, north)
        assert x == pytest.approx(math.sqrt(1.5) * float(right @ np.array(v)), abs=1e-12)
        assert -y == pytest.approx(math.sqrt(1.5) * float(up @ np.array(v)), abs=1e-12)


def in_space(a: Run, b: Run) -> float:
    """Least distance of two runs [m], by bounded least squares (scipy)."""
    ways = np.array([a.way, np.negative(b.way)]).T
    gap = np.subtract(b.start, a.start)
    found = lsq_linear(ways, gap, bounds=([0.0, 0.0], [a.cc, b.cc]))
    return float(np.linalg.norm(ways @ found.x - gap))


@pytest.mark.parametrize("seed", SEEDS)
def test_pipes_that_cross_on_paper_leave_a_gap_unless_they_meet_in_space(seed: int) -> None:
    work, sheets = walked(seed)
    runs = {p.id: work.graph.runs[p.run] for p in work.cutting.pieces}
    for sheet in sheets:
        pipes = [(LineString(s.points), s.ref) for s in sheet.strokes if s.role == "pipe" and s.ref in runs]
        lines = [line for line, _ in pipes]
        for a, b in STRtree(lines).query(lines, predicate="crosses").T.tolist():
            assert in_space(runs[pipes[a][1]], runs[pipes[b][1]]) < 1e-3


@pytest.mark.parametrize(("east", "north", "whole"), [(5.0, 5.0, "riser"), (-5.0, 15.0, "level")])
def test_of_two_crossing_pipes_the_one_behind_has_the_gap(east: float, north: float, whole: str) -> None:
    # By hand, north up to the right: the eye looks from the south-east and from above. A level leg runs 20 mm
    # north; a riser that stands south-east of where they meet on paper is in front, one north-west is behind.
    # Level: x = n cos 30, y = -n/2. Riser: x = (e + n) cos 30, y = (e - n)/2 - u; e + n = 10.
    spots = ((0.0, 0.0, 0.0), (0.0, 20.0, 0.0), (east, north, -12.0), (east, north, 12.0))
    bits = (Bit("A", "level"),), (Bit("B", "riser"),)
    scene = LineScene(
        line="X", title="", drawing="",
        spots=tuple(Spot(at) for at in spots),
        legs=(Leg(0, 1, (0.0, 1.0, 0.0), "r1", bits=bits[0]), Leg(2, 3, (0.0, 0.0, 1.0), "r2", bits=bits[1])),
    )  # fmt: skip
    plain = [BrokenScale(v, v) for v in (distinct(p[k] for p in spots) for k in range(3))]
    view = View(North.RIGHT, plain[0], plain[1], plain[2])
    met = Point(10 * math.cos(math.radians(30)), -5.0)
    there = [
        s.ref for s in trace(scene, view).strokes
        if s.role == "pipe" and LineString(s.points).distance(met) < 1.0
    ]  # fmt: skip
    assert there == [whole]


def test_most_labels_stand_on_the_drawing_itself() -> None:
    direct = sum(s.direct for seed in QUICK for s in walked(seed)[1])
    asked = sum(s.asked for seed in QUICK for s in walked(seed)[1])
    assert direct / asked >= 0.95


def test_a_sheet_holds_about_fifty_legs_at_most() -> None:
    assert max(s.legs for seed in QUICK for s in walked(seed)[1]) <= 55


def test_every_place_of_the_walk_is_drawn_where_the_map_says() -> None:
    work = work_of(random_walk(7, 30))
    scene = read_scene(work.graph, work.cutting, "R-7", work.job.settings.shown.shown)
    for leg in scene.legs:
        a, b = scene.spots[leg.a].at, scene.spots[leg.b].at
        gap = np.subtract(b, a)
        if leg.run:
            run = work.graph.runs[leg.run]
            assert np.allclose(gap, np.multiply(run.way, run.cc), atol=2e-3)
