"""Joints, fittings and footage of the five demo jobs against their printed line lists.

[Lists] The line lists of the five demo jobs (invented data), typed by hand from the printed page: joints,
        fittings by kind, length. They were written before any walk was.
[Rules] What a fitting counts, as printed beside the lists: elbow 2, tee 3, coupling 2, flange 1, union 2,
        reducing coupling 2, valve with cemented ends 2, flanged valve 0, cap 1, blind 0, uncut belled
        length 1.
        A plain pipe end counts 0. A plain socket that stands is one joint more and is not on the lists.
        (Common practice, no source.)
[MH]    Industrial Process Plant Construction Estimating and Man-Hour Analysis, sec. 2.7.4: man-hours a joint,
        read to 12 in; above that and for metric sizes 0.15 h an inch, extrapolated.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

import lineproof
from lineproof.job.folder import read_job
from lineproof.job.graph import Part
from lineproof.job.parts import Form, PartKind
from lineproof.plan.model import JointKind
from lineproof.plan.work import Work, work
from lineproof.sums.labour import joint_work

HERE = Path(__file__).resolve().parents[2]
FOOT, INCH = 0.3048, 0.0254
FOLDERS = {
    "A": HERE / "examples" / "tolbrake",
    "B": Path(lineproof.__file__).parent / "demo" / "brackstow",
    "C": HERE / "examples" / "sarnquell",
    "D": HERE / "examples" / "yarrowdun",
    "E": HERE / "examples" / "ostrelby",
}
RULE = {
    "90": 2, "45": 2, "tee": 3, "coupling": 2, "flange": 1, "union": 2, "reducer": 2, "valve": 2, "cap": 1,
    "belled": 1,
}  # fmt: skip


class Listed(NamedTuple):
    """One printed row: nominal size, length as printed, fittings, joints, man-hours."""

    size: float
    length: float
    fittings: Mapping[str, int]
    joints: int
    hours: str


# size: NPS in inches (A, B, D, E) or outside diameter in mm (C); length in feet, or metres (C)
LISTS: dict[str, Listed] = {
    "A-101": Listed(8, 44, {"90": 5, "45": 2, "tee": 1, "flange": 4, "coupling": 1}, 23, "27.6"),
    "A-102": Listed(6, 62, {"90": 7, "tee": 2, "flange": 5, "coupling": 2, "reducer": 1}, 31, "27.9"),
    "A-103": Listed(4, 38, {"90": 6, "tee": 1, "flange": 2, "union": 1, "valve": 2}, 23, "13.8"),
    "B-201": Listed(
        12, 236, {"90": 8, "45": 4, "tee": 5, "flange": 11, "coupling": 9, "reducer": 2}, 72, "129.6"
    ),
    "B-202": Listed(10, 118, {"90": 6, "tee": 2, "flange": 6, "coupling": 4}, 32, "48.0"),
    "B-203": Listed(6, 140, {"90": 12, "tee": 4, "flange": 8, "coupling": 5, "valve": 2}, 58, "52.2"),
    "B-301": Listed(
        3, 96, {"90": 14, "tee": 3, "union": 4, "flange": 4, "valve": 5, "coupling": 3}, 65, "29.3"
    ),
    "B-302": Listed(
        2, 180, {"90": 26, "tee": 6, "union": 6, "valve": 8, "coupling": 6, "flange": 4}, 114, "39.9"
    ),
    "C-01": Listed(
        315, 186, {"90": 6, "45": 4, "tee": 12, "flange": 9, "coupling": 24, "reducer": 12}, 137, "254.9"
    ),
    "C-02": Listed(250, 140, {"90": 8, "tee": 8, "flange": 6, "coupling": 18, "reducer": 8}, 98, "144.7"),
    "C-03": Listed(160, 420, {"90": 44, "tee": 20, "union": 20, "coupling": 46, "cap": 10}, 290, "274.0"),
    "D-7": Listed(
        12,
        6240,
        {"belled": 312, "45": 14, "90": 4, "tee": 9, "flange": 6, "reducer": 3, "cap": 1},
        388,
        "698.4",
    ),
    "D-7.1": Listed(8, 1980, {"belled": 99, "90": 5, "45": 6, "tee": 6, "flange": 4, "cap": 2}, 145, "174.0"),
    "D-7.2": Listed(6, 1320, {"belled": 66, "90": 6, "tee": 4, "cap": 3}, 93, "83.7"),
    "E-401": Listed(24, 410, {"90": 8, "45": 4, "tee": 7, "flange": 12, "coupling": 14}, 85, "306.0"),
    "E-402": Listed(20, 260, {"90": 6, "tee": 4, "flange": 8, "coupling": 9}, 50, "150.0"),
    "E-403": Listed(
        16, 330, {"90": 12, "45": 6, "tee": 6, "flange": 14, "coupling": 11, "reducer": 3}, 96, "230.4"
    ),
    "E-404": Listed(8, 290, {"90": 22, "tee": 8, "flange": 10, "coupling": 10, "valve": 4}, 106, "127.2"),
}
TOTALS = {
    "A": (77, "69.3"),
    "B": (341, "299.0"),
    "C": (525, "673.6"),
    "D": (626, "956.1"),
    "E": (337, "813.6"),
}
STANDING = {"A-101": 3, "A-102": 3, "A-103": 3}  # pump and filter ports, wall stubs: on top of the list
PLAIN_ENDS = {"B-301": 1, "C-01": 11, "C-02": 8, "C-03": 30, "D-7": 4, "D-7.1": 2, "D-7.2": 3, "E-401": 1}


@cache
def planned(job: str) -> Work:
    return work(read_job(FOLDERS[job]), seconds=1.0)


def list_of(line: str) -> str:
    """The list a line belongs to: B-201a, C-03r4 and D-7.1c are branches of B-201, C-03 and D-7.1."""
    return re.sub(r"[a-z]\d*$", "", line)


def parts_of(made: Work) -> Iterator[Part]:
    yield from made.graph.parts.values()
    yield from made.cutting.couplings.values()


def kind_of(part: Part) -> str:
    if part.kind is PartKind.ELBOW:
        return f"{part.angle_deg:g}"
    if part.kind is PartKind.VALVE:
        cemented = all(p.form is Form.SOCKET for p in part.ports)
        return "valve" if cemented else "flanged valve"
    return str(part.kind)


@pytest.mark.parametrize("name", LISTS)
def test_the_printed_joints_are_the_sum_of_the_printed_fittings(name: str) -> None:
    """[Lists, Rules] guards the typing of this file: no program of ours is asked."""
    row = LISTS[name]
    assert sum(RULE[kind] * n for kind, n in row.fittings.items()) == row.joints


@pytest.mark.parametrize("job", TOTALS)
def test_the_printed_totals_are_the_sums_of_their_rows(job: str) -> None:
    """[Lists] joints and man-hours of the five totals as printed."""
    rows = [row for name, row in LISTS.items() if name.startswith(job)]
    joints, hours = TOTALS[job]
    assert sum(r.joints for r in rows) == joints
    assert sum(Decimal(r.hours) for r in rows) == Decimal(hours)


@pytest.mark.parametrize("name", LISTS)
def test_the_printed_hours_are_joints_times_the_handbook_rate(name: str) -> None:
    """[MH] 0.35 h a joint at 2 in, by our own sum above; metric by OD / 25.4; rounded half up to 0.1."""
    row = LISTS[name]
    inches = row.size / 25.4 if name.startswith("C") else row.size
    rate = 0.35 if inches <= 2 else joint_work(inches) / 3600
    hours = Decimal(f"{rate * row.joints:.6f}")
    assert hours.quantize(Decimal("0.1"), ROUND_HALF_UP) == Decimal(row.hours)


@pytest.mark.parametrize("name", LISTS)
def test_joints_of_each_list(name: str) -> None:
    """[Lists] exactly, standing plain sockets on top."""
    made = planned(name[0])
    joints = [j for j in made.cutting.joints if list_of(j.line) == name]
    standing = [j for j in joints if j.socket[0] in made.graph.parts and made.graph.parts[j.socket[0]].fixed]
    assert len(standing) == STANDING.get(name, 0)
    assert len(joints) - len(standing) == LISTS[name].joints


@pytest.mark.parametrize("job", TOTALS)
def test_joints_of_each_job(job: str) -> None:
    """[Lists] 77 (and 9 standing), 341, 525, 626, 337; every line belongs to a list."""
    made = planned(job)
    assert {list_of(line) for line in made.graph.lines} == {n for n in LISTS if n.startswith(job)}
    on_top = sum(n for name, n in STANDING.items() if name.startswith(job))
    assert len(made.cutting.joints) == TOTALS[job][0] + on_top
    ties = [j.key for j in made.cutting.joints]
    assert len(set(ties)) == len(ties)  # each ties its own socket to its own spigot


@pytest.mark.parametrize("name", LISTS)
def test_fittings_of_each_list(name: str) -> None:
    """[Lists] by kind, those that split sticks included; valves by their ends; blinds count nothing."""
    made = planned(name[0])
    found = Counter(kind_of(p) for p in parts_of(made) if list_of(p.line) == name)
    free = {
        "ground": found.pop("ground", 0),
        "blind": found.pop("blind", 0),
        "": found.pop("flanged valve", 0),
    }
    bells = sum(1 for j in made.cutting.joints if list_of(j.line) == name and j.kind is JointKind.BELL)
    if bells:
        found["belled"] = bells
    assert found == dict(LISTS[name].fittings)
    assert free["ground"]


@pytest.mark.parametrize("name", LISTS)
def test_plain_ends_close_an_odd_list(name: str) -> None:
    """[Rules] a pipe has two ends: sockets, standing sockets and plain ends of a list fill them all."""
    made = planned(name[0])
    plain = sum(
        1
        for p in made.graph.parts.values()
        if list_of(p.line) == name and p.kind == "ground" and p.ports[0].form is Form.PLAIN
    )
    assert plain == PLAIN_ENDS.get(name, 0)
    spigots = 2 * sum(1 for p in made.cutting.pieces if list_of(p.line) == name)
    belled = sum(1 for p in made.cutting.pieces if list_of(p.line) == name and (p.a.bell or p.b.bell))
    assert spigots - belled == LISTS[name].joints + STANDING.get(name, 0) + plain


@pytest.mark.parametrize("name", LISTS)
def test_length_of_each_list(name: str) -> None:
    """[Lists] centre-line, within 2 %: the lists give no geometry, the walks do."""
    made = planned(name[0])
    unit = 1.0 if name.startswith("C") else FOOT
    walked = sum(r.cc for r in made.graph.runs.values() if list_of(r.line) == name) / unit
    assert walked == pytest.approx(LISTS[name].length, rel=0.02)


@pytest.mark.parametrize("job", TOTALS)
def test_every_size_and_pipe_is_that_of_the_list(job: str) -> None:
    """[Lists] each line begins in the size printed for its list."""
    for line in planned(job).graph.lines.values():
        assert line.size.nominal == LISTS[list_of(line.name)].size
        assert line.size.metric == (job == "C")


@pytest.mark.parametrize("job", TOTALS)
def test_no_sockets_meet_and_every_given_end_is_met(job: str) -> None:
    """Geometry is buildable: no two fittings closer than straps need, no angle without a fitting."""
    made = planned(job)
    assert not made.cutting.shortages
    assert all(t.fitting_deg is not None for t in made.graph.turns)
    assert any(line.closed for line in made.graph.lines.values())


def test_the_low_valve_of_the_backwash_line() -> None:
    """[Lists, trap] 150 psi valve 22 ft below the gauge: 135 + 9.5 = 144.5 psi (water, 0.433 psi a foot)."""
    made = planned("B")
    valve = next(p for p in made.graph.parts.values() if p.name == "V-7")
    gauge = made.job.settings.gauge("PG-2")
    assert gauge is not None
    assert gauge.elevation is not None
    assert (gauge.elevation - valve.centre[2]) / FOOT == pytest.approx(22)
    assert valve.row is not None
    assert valve.row.rating == pytest.approx(150 * 6894.757293168)
    lowest = min(p.centre[2] for p in made.graph.parts.values() if list_of(p.line) == "B-201")
    assert valve.centre[2] == pytest.approx(lowest)
    assert gauge.pressure is not None
    at_valve = gauge.pressure / 6894.757293168 + 22 * 0.433
    assert at_valve == pytest.approx(144.5, abs=0.05)


def test_planted_cans_joiner_cap_and_hot_work() -> None:
    """[Lists, traps] silica for hypochlorite, a lot that ends in week 3, a lapse of six months, welding."""
    settings = planned("B").job.settings
    start = settings.conditions.start
    assert start is not None
    week3 = [c for c in settings.cans if c.expires and 14 <= (c.expires - start).days < 21]
    assert [c.lot for c in week3] == ["HG-2504"]
    wrong = [c for c in settings.cans if c.kind == "cement" and "B-3*" in c.lines]
    assert [card.thickener for c in wrong if (card := settings.card(c.card))] == ["silica"]
    lapsed = [
        p.name
        for p in settings.people
        for q in p.qualifications
        if q.last_used_on and (start - q.last_used_on).days > 184
    ]
    assert lapsed == ["Joiner 2"]
    assert settings.cap_of("B-2")
    assert settings.cap_of("B-3") is None
    assert settings.hot_work_near("B-201", None)


def test_every_end_of_the_pool_stands_and_is_ringed() -> None:
    """[Lists, trap] nine plain sockets that stand; the faces along the lines are ringed."""
    made = planned("A")
    ends = [p for p in made.graph.parts.values() if p.kind == "ground"]
    assert len(ends) == 9
    assert all(p.fixed and not p.may_unbolt and p.ports[0].form is Form.SOCKET for p in ends)
    pairs = [c for c in made.graph.connections if c.tie.value != "cemented"]
    assert {c.tie.value for c in pairs} <= {"ringed flange", "flange"}
    faces = {
        port.face
        for p in made.graph.parts.values()
        if p.kind is PartKind.FLANGE
        for port in p.ports
        if port.form is Form.FLANGE
    }
    assert faces == {"ringed"}


def test_two_of_twenty_tank_drops_are_turned_the_wrong_way() -> None:
    """[Lists, trap] twenty spools TD; the last elbow of two of them faces against the other eighteen."""
    made = planned("C")
    ways = {
        run.line: run.way
        for run in made.graph.runs.values()
        if run.line.startswith("C-03t") and made.graph.parts[run.b[0]].kind == "ground"
    }
    assert len(ways) == 20
    turned = Counter(tuple(round(v) for v in way) for way in ways.values())
    assert sorted(turned.values()) == [2, 18]
    wrong = min(turned, key=lambda way: turned[way])
    planted = {line for line, way in ways.items() if tuple(round(v) for v in way) == wrong}
    assert planted == {"C-03t7", "C-03t18"}


def test_belled_lengths_are_not_cut() -> None:
    """[Lists] 312, 99 and 66 uncut belled lengths: each bell joint has a whole stick behind it."""
    made = planned("D")
    whole = Counter(list_of(p.line) for p in made.cutting.pieces if p.whole)
    assert whole == {"D-7": 312, "D-7.1": 99, "D-7.2": 66}


def test_fall_of_the_mainline() -> None:
    """[Lists] fall 118 ft over D-7."""
    heights = [p.centre[2] for p in planned("D").graph.parts.values() if p.line == "D-7"]
    assert (max(heights) - min(heights)) / FOOT == pytest.approx(118, abs=1.0)


def test_one_socket_of_a_fabricated_fitting_is_short() -> None:
    """[Lists, trap] 12 mm, as a tape in sixteenths reads it, against the other sockets of its size."""
    made = planned("E")
    depths = {
        (p.row.tag, port.name): port.depth
        for p in made.graph.parts.values()
        if p.row and p.row.fabricated and p.size.nominal == 24
        for port in p.ports
        if port.depth is not None
    }
    middle = sorted(depths.values())[len(depths) // 2]
    short = [name for name, depth in depths.items() if middle - depth > 5e-3]
    assert short == [("F24-T4", "b")]
    assert middle - depths["F24-T4", "b"] == pytest.approx(0.012, abs=INCH / 8)
