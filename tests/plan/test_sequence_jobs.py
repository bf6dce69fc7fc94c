"""Closure and order of whole jobs: the pool whose every end stands, the works, small ones made for a trap."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

import lineproof
from lineproof.floor.verdicts import Verdict
from lineproof.job.folder import read_job
from lineproof.plan.facts_sequence import sequence_findings
from lineproof.plan.joints import joint_plans
from lineproof.plan.make_pack import named_work
from lineproof.plan.sequence.build import build
from lineproof.plan.sequence.closure import Closure
from lineproof.plan.sequence.rig import GROUND, How
from lineproof.plan.sequence.spools import Carry, fits
from lineproof.plan.sequence.verify import faults
from lineproof.plan.sequence.whole import Ordered, sequence_of
from lineproof.plan.work import Work, work
from rigs import coupling, elbow, flange, job_at, part, stock

ROOT = Path(__file__).resolve().parents[2]
POOL = ROOT / "examples" / "tolbrake"
WORKS = Path(lineproof.__file__).parent / "demo" / "brackstow"


@cache
def of(folder: Path) -> tuple[Work, Ordered]:
    job = read_job(folder)
    done, _ = named_work(work(job, nest=False))
    plans = joint_plans(done.graph, done.cutting, job.settings, done.book, catalogue=job.parts)
    return done, sequence_of(done, plans)


def findings(folder: Path) -> dict[str, list[Verdict]]:
    done, ordered = of(folder)
    found: dict[str, list[Verdict]] = {}
    for f in sequence_findings(done, ordered, ()):
        found.setdefault(f.id, []).append(f.verdict)
    return found


# ---------------------------------------------------------------- every end stands
def test_the_pool_has_no_order_as_drawn() -> None:
    """Line lists of the five demo jobs, trap 1 of the pool: every end fixed, none can be unbolted, faces
    ringed: as drawn no order of assembly works."""
    done, ordered = of(POOL)
    assert not build(ordered.closure.line.rig).works
    assert [loop.state for loop in ordered.closure.loops] == ["shut"] * 3
    assert {line for loop in ordered.closure.loops for line in loop.lines} >= {"A-101", "A-102", "A-103"}
    assert findings(POOL)["SEQ-01"] == [Verdict.STOP] * 3
    assert all(p.fixed for p in done.graph.parts.values() if p.name.startswith(("pump", "filter", "wall")))


def test_what_opens_the_pool_is_enough_and_each_of_it_needed() -> None:
    from lineproof.plan.sequence.where import opened_rig

    _, ordered = of(POOL)
    c = ordered.closure
    assert c.complete
    assert c.cost == c.least
    assert ordered.built.works
    assert faults(ordered.rig, ordered.built.steps) == []
    for left_out in c.openings:
        fewer = [o for o in c.openings if o is not left_out]
        assert not build(opened_rig(c.line.rig, fewer)).works


def test_every_joint_of_the_pool_is_in_the_order_once() -> None:
    done, ordered = of(POOL)
    assert sorted(ordered.joints) == sorted(j.id for j in done.cutting.joints)
    assert len(ordered.joints) == 86  # 77 on the lists and 9 at sockets that stand, as printed there
    assert ordered.bench + ordered.in_place == 86


def test_the_works_close_if_their_flanges_are_bolted_up_last() -> None:
    _, ordered = of(WORKS)
    states = [loop.state for loop in ordered.closure.loops]
    assert set(states) == {"ends", "opens"}
    assert ordered.closure.openings == ()
    ends = {e for loop in ordered.closure.loops for e in loop.ends}
    assert {"pump P-3", "filter F-5"} <= ends
    assert findings(WORKS)["SEQ-01"].count(Verdict.CARE) == states.count("ends")


def test_spools_of_the_works_can_be_carried_and_save_joints_in_place() -> None:
    done, ordered = of(WORKS)
    h = done.job.settings.handling
    carry = Carry(h.length, h.width, h.height, h.mass)
    for spool in ordered.built.spools:
        assert len(spool) == 1 or fits(ordered.rig, spool, carry)
    assert ordered.bench > ordered.in_place
    # one more pair that could have been carried together would have been
    of_body = {b: s for s in ordered.built.spools for b in s}
    closing = {t for s in ordered.built.steps if s.kind == "close" for t in s.ties}
    for n, tie in enumerate(ordered.rig.ties):
        if tie.how is How.CEMENTED and GROUND not in (tie.a, tie.b) and n not in closing:
            a, b = of_body[tie.a], of_body[tie.b]
            if len(a) == len(b) == 1:
                assert not fits(ordered.rig, (*a, *b), carry)


def test_the_clock_of_the_order_keeps_the_waits() -> None:
    """What is moved has all its joints past their hands-off time; one crew is at one joint at a time."""
    _, ordered = of(POOL)
    off: dict[str, float] = {}
    last = 0.0
    inside: dict[str, set[str]] = {}
    for step in ordered.steps:
        assert step.join_at is not None
        assert step.move_at is not None or not step.joints
        assert step.join_at >= last
        last = step.join_at
        for body in step.brought:
            for joint in inside.get(body, ()):
                assert off[joint] <= step.join_at + 1e-6, (step.n, joint)
        both = set().union(*(inside.get(b, set()) for b in (*step.brought, *step.into))) | set(step.joints)
        for b in (*step.brought, *(x for x in step.into if x != GROUND)):
            inside[b] = both
        for joint in step.joints:
            assert step.move_at is not None
            off[joint] = step.move_at


def test_the_same_job_gives_the_same_order() -> None:
    job = read_job(POOL)
    done, _ = named_work(work(job, nest=False))
    plans = joint_plans(done.graph, done.cutting, job.settings, done.book, catalogue=job.parts)
    assert sequence_of(done, plans).steps == of(POOL)[1].steps


# ---------------------------------------------------------------- small jobs
PARTS = [
    flange("6in", "3 1/2 in", "3 in"), elbow("6in", "6 1/2 in", "3 in"), coupling("6in", "3 1/4 in", "3 in"),
    part("other", "6in", tag="W-1", ends="socket", reach_1="0 in", depth_1="3 in", measured="1", count=""),
    part("other", "6in", tag="W-2", ends="socket", reach_1="0 in", depth_1="3 in", measured="1", count=""),
]  # fmt: skip
STRAIGHT = (
    'line L size 6in pipe pvc sch80\nstarts at socket fixed "W-1" at 0, 0, 0 facing east\n'
    'go east {length}\nends at socket fixed "W-2"\n'
)


def closure_at(folder: Path, walk: str, toml: str = "") -> Closure:
    job = job_at(folder, walk, PARTS, toml=stock("6in") + toml)
    done, _ = named_work(work(job, nest=False))
    plans = joint_plans(done.graph, done.cutting, job.settings, done.book, catalogue=job.parts)
    return sequence_of(done, plans).closure


def test_a_straight_run_between_two_sockets_needs_two_openings(tmp_path: Path) -> None:
    c = closure_at(tmp_path, STRAIGHT.format(length="12'"))
    assert c.bound == 1  # by count one would do; the second half could not back off
    assert [o.order for o in c.openings] == [1, 2]
    assert c.complete
    assert [(x.into, x.cut is not None) for x in c.loops[0].changes] == [(3, True)]


def test_without_the_room_for_two_it_is_proven_closed(tmp_path: Path) -> None:
    c = closure_at(tmp_path, STRAIGHT.format(length="1'-4\""))
    assert [loop.state for loop in c.loops] == ["closed"]
    assert c.openings == ()
    assert c.complete


@pytest.mark.parametrize(
    "toml",
    [
        '\n[closing]\nkeep_closed = ["L*"]\n',
        "\n[closing]\nopenings = []\n",
        '\n[closing]\nreach_low = "5 ft"\n',
    ],
    ids=["line kept closed", "nothing may be put in", "out of reach"],
)
def test_a_loop_of_forbidden_legs_is_reported(tmp_path: Path, toml: str) -> None:
    c = closure_at(tmp_path, STRAIGHT.format(length="12'"), toml)
    assert [loop.state for loop in c.loops] == ["closed"]
    assert c.loops[0].stands == ("W-1", "W-2")


def test_a_stretch_kept_free_of_joints_holds_no_opening(tmp_path: Path) -> None:
    walk = STRAIGHT.format(length="12'\nno joint 1' to 11'")
    assert [loop.state for loop in closure_at(tmp_path, walk).loops] == ["closed"]


def test_flanged_ends_that_may_be_unbolted_let_it_in_sideways(tmp_path: Path) -> None:
    walk = (
        'line L size 6in pipe pvc sch80\nstarts at flange fixed may unbolt flat "P" at 0, 0, 0 facing east\n'
        'go east 12\'\nends at flange fixed may unbolt flat "Q"\n'
    )
    assert [loop.state for loop in closure_at(tmp_path, walk).loops] == ["opens"]
    said_nothing = closure_at(tmp_path / "b", walk.replace(" may unbolt", ""))
    assert [(loop.state, sorted(loop.ends)) for loop in said_nothing.loops] == [("ends", ["P", "Q"])]


def test_a_face_nobody_described_is_not_taken_for_flat(tmp_path: Path) -> None:
    walk = (
        'line L size 6in pipe pvc sch80\nstarts at flange fixed may unbolt "P" at 0, 0, 0 facing east\n'
        'go east 12\'\nends at flange fixed may unbolt "Q"\n'
    )
    c = closure_at(tmp_path, walk)
    assert [loop.state for loop in c.loops] == ["faces"]
    assert c.loops[0].faces
