"""Odd pieces by hand: spools, belled legs with a stretch kept free, saddles, threads, tapes, marks, loops."""

import math

import pytest

from lineproof.floor.errors import PlanImpossible
from lineproof.plan.marks import angle_round
from lineproof.plan.model import JointKind, Short, State
from lineproof.plan.pieces import letters
from lineproof.plan.split import split
from rigs import FOOT, INCH, coupling, elbow, flange, part, stock, tee, work_at

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    tee("6in", "6 1/2 in", "3 in"),
    part("repair coupling", "6in", reach_1="4 in", depth_1="3 in", reach_2="4 in", depth_2="3 in"),
    part("male adapter", "6in", reach_1="6 in", depth_1="3 in", reach_2="0 in", depth_2="1 in"),
    part("female adapter", "6in", reach_1="5 in", depth_1="3 in", reach_2="0 in", depth_2="1 in"),
]
GASKET = '\n[[gaskets]]\nsize = "6in"\nface = "full"\nthickness = "1/8 in"\n'
STOCK = stock("6in") + GASKET
BELLED = stock("6in", ends="cement bell", bell_depth="4 in", bell_reach="5 in") + GASKET


def made(tmp_path, legs, parts=PARTS, **more):
    more.setdefault("toml", STOCK)
    return work_at(tmp_path / "job", HEAD + legs, parts, **more).cutting


def kinds(cutting):
    return [j.kind for j in cutting.joints]


def test_pieces_beside_a_threaded_pair_make_up_its_engaged_inch(tmp_path):
    # 120 = 1/8 + 1/2 + A + (6 - 1 - 3) + (5 - 3) + B: gasket, flange, pipe, male, female, pipe
    cutting = made(tmp_path, "go north 5'\nthread\ngo north 5'\nends at open\n")
    a, b = (p.cut / INCH for p in cutting.pieces)
    assert a == pytest.approx(60 - 0.625 - 2)
    assert b == pytest.approx(60 - 2)
    assert kinds(cutting) == [JointKind.SOCKET] * 3  # a thread is a connection, no joint


def test_a_repair_coupling_has_two_joints_and_no_stop_to_count_on(tmp_path):
    cutting = made(tmp_path, "go north 5'\nrepair coupling\ngo north 5'\nends at open\n")
    assert len(cutting.joints) == 3  # flange 1, repair coupling 2 (the rules of the printed joint lists)
    assert [p.cut / INCH for p in cutting.pieces] == pytest.approx([60 - 0.625 - 1, 60 - 1])


def test_two_spools_alike_are_cut_alike(tmp_path):
    # 48.03 + 7 in between sockets: alone each rounds to 48.00 (by hand); the carry would make one 48 1/16
    leg = "go north 55.03 in\ntee up as {0}1\ngo north 55.03 in\ntee up as {0}2\n"
    spools = "".join(f'spool "{n}"\n{leg.format(n)}spool ends\n' for n in "ABC")
    cutting = made(tmp_path, "go north 2'\ntee up as S\n" + spools + "go north 3'\nends at open\n")
    by_spool = {}
    for p in cutting.pieces:
        by_spool.setdefault(p.spool, []).append(round(p.cut / INCH * 16))
    assert set(by_spool) == {"", "A", "B", "C"}
    assert by_spool["A"] == by_spool["B"] == by_spool["C"]


def test_a_field_leg_of_several_sticks_is_long_only_at_its_last_piece(tmp_path):
    cutting = made(tmp_path, "go north 50' field\ngo east 4'\nends at open\n")
    leg = [p for p in cutting.pieces if p.run == "L/R1"]
    assert [p.state for p in leg] == [State.CUT, State.CUT, State.FIELD]
    # 600 less 5/8 and 3 1/2 = 595 7/8; two couplings add 1/2 each; 4 in for the field
    assert leg[-1].cut == pytest.approx((595.875 - 480 - 1 + 4) * INCH)


def test_a_belled_field_leg_that_faces_back_is_long_at_its_first_piece(tmp_path):
    cutting = made(tmp_path, "bells facing back\ngo north 50' field\ngo east 4'\nends at open\n", toml=BELLED)
    leg = [p for p in cutting.pieces if p.run == "L/R1"]
    assert [p.state for p in leg] == [State.FIELD, State.CUT, State.CUT]


@pytest.mark.parametrize("way", ["ahead", "back"])
@pytest.mark.parametrize("stretch", [(18.0, 21.0), (19.2, 20.2), (35.0, 42.0)])
def test_bells_keep_off_the_stretch_without_joints_whichever_way_they_face(tmp_path, way, stretch):
    low, high = stretch
    legs = f"bells facing {way}\ngo north 58'\nno joint {low:g}' to {high:g}'\nends at open\n"
    cutting = made(tmp_path, legs, toml=BELLED)
    bells = [j for j in cutting.joints if j.kind is JointKind.BELL]
    assert bells
    for joint in bells:
        mouth = joint.place[1] / FOOT
        stop = (
            mouth - 4 / 12 if way == "ahead" else mouth + 4 / 12
        )  # the bell runs from its mouth to its stop
        assert max(mouth, stop) <= low + 1e-6 or min(mouth, stop) >= high - 1e-6
    laid = sum(p.cut for p in cutting.pieces) - len(bells) * 4 * INCH
    assert laid == pytest.approx((58 * 12 - 0.625) * INCH, abs=INCH / 32)
    assert all(p.cut <= 20 * FOOT + 1e-9 for p in cutting.pieces)


def test_bells_face_uphill_unless_said(tmp_path):
    up = made(tmp_path / "a", "go north 2'\ngo up 30'\nends at open\n", toml=BELLED)
    assert [p.b.bell for p in up.pieces if p.run == "L/R2"] == [True, False]
    down = made(tmp_path / "b", "go north 2'\ngo down 30'\nends at open\n", toml=BELLED)
    assert [p.a.bell for p in down.pieces if p.run == "L/R2"] == [False, True]


def test_a_saddle_is_named_on_the_stick_it_sits_on(tmp_path):
    legs = "go north 6'\nsaddle up 2in as A\ngo north 24'\nsaddle up 2in as B\ngo north 20'\nends at open\n"
    cutting = made(tmp_path, legs)
    under = {j.socket[0]: j.spigot[0] for j in cutting.joints if j.kind is JointKind.SADDLE}
    assert [p.id for p in cutting.pieces] == ["L/A", "L/B", "L/C"]
    assert under == {"L/S1": "L/A", "L/S2": "L/B"}  # 6 ft lies on the first 20 ft stick, 30 ft on the second


def test_a_waiting_leg_has_its_joints_named_before_it_can_be_cut(tmp_path):
    rows = [r for r in PARTS if "flange" not in r]
    cutting = made(tmp_path, "go north 50'\nends at open\n", rows)
    assert {p.state for p in cutting.pieces} == {State.WAIT}
    assert all(p.cut is None and p.waits == ("L/F1",) for p in cutting.pieces)
    assert len(cutting.joints) == 5  # flange 1, two couplings 2 each


def test_an_unmeasured_coupling_holds_up_only_the_leg_it_splits(tmp_path):
    rows = [r for r in PARTS if not r.startswith('"","coupling"')]
    cutting = made(tmp_path, "go north 50'\ngo east 4'\nends at open\n", rows)
    by_run = {r: [p for p in cutting.pieces if p.run == r] for r in cutting.runs}
    assert {p.state for p in by_run["L/R1"]} == {State.WAIT}
    assert [p.state for p in by_run["L/R2"]] == [State.CUT]


def test_a_tape_counts_whichever_end_is_named_first(tmp_path):
    legs = "go north 10' field\ngo east 4'\nends at open\n"
    row = 'L,{},{},"9\'-1 5/8""",lead,2027-05-01 09:00,\n'
    there = made(tmp_path / "a", legs, taped=row.format("F1", "E1")).pieces[0]
    back = made(tmp_path / "b", legs, taped=row.format("E1", "F1")).pieces[0]
    assert there.cut == back.cut == pytest.approx((109.625 + 6) * INCH)
    assert there.state is back.state is State.CUT


def test_a_tape_across_sockets_of_unknown_depth_cuts_nothing(tmp_path):
    rows = [elbow("6in", "6 1/2 in", ""), *PARTS[1:]]
    taped = 'L,F1,E1,"9\'-1 5/8""",lead,2027-05-01 09:00,\n'
    piece = made(tmp_path, "go north 10' field\ngo east 4'\nends at open\n", rows, taped=taped).pieces[0]
    assert piece.state is State.WAIT
    assert piece.cut is None
    assert piece.waits == ("L/E1",)


def test_a_tape_that_finds_less_than_two_sockets_need_is_a_shortage(tmp_path):
    taped = 'L,F1,E1,"1 in",lead,2027-05-01 09:00,\n'
    cutting = made(tmp_path, "go north 10' field\ngo east 4'\nends at open\n", taped=taped)
    assert cutting.shortages[0].why is Short.CLOSE
    assert cutting.shortages[0].face_to_face == pytest.approx(INCH)
    assert cutting.pieces[0].cut is None


def test_a_job_without_the_stick_says_so_and_still_gives_the_length(tmp_path):
    piece = made(tmp_path, "go north 30'\ngo east 4'\nends at open\n", toml=GASKET).pieces[0]
    assert piece.short is Short.NO_STOCK
    assert piece.exact == pytest.approx((360 - 0.625 - 3.5) * INCH)


def test_a_ring_of_pipe_between_two_flanges_of_one_pump_needs_one_field_piece(tmp_path):
    legs = "go north 5'\ngo east 5'\ngo south 5'\ngo west 5'{}\nends at flange fixed \"P2\" at 0, 0, 0\n"
    none = made(tmp_path / "a", legs.format(""))
    assert none.untaped == (("L/R1", "L/R2", "L/R3", "L/R4"),)
    assert made(tmp_path / "b", legs.format(" field")).untaped == ()


def test_a_bushing_or_spigot_in_a_tee_is_one_joint_of_the_larger_size(tmp_path):
    bush = part(
        "bushing", "6in", size2="4in", ends="spigot socket", reach_1="3 in", reach_2="1 in", depth_2="2 in"
    )
    walk = HEAD + "go north 5'\ntee west as B\ngo north 5'\nends at open\n"
    walk += "line B size 6in pipe pvc sch80\nstarts at branch B\n"
    walk += "reduce to 4in bushing\ngo west 5'\nends at open\n"
    cutting = work_at(tmp_path, walk, [*PARTS, bush], toml=STOCK + stock("4in")).cutting
    direct = [j for j in cutting.joints if j.kind is JointKind.SPIGOT]
    assert [(j.socket, j.size.text) for j in direct] == [(("L/T1", "c"), "6 in")]
    assert len(cutting.joints) == 5  # flange 1, tee 2, bushing's spigot 1, pipe in the bushing 1
    pipe = next(p for p in cutting.pieces if p.line == "B")
    # the leg runs from the tee: 6 1/2 in to its face, 3 in of spigot inside, 3 in to the bushing's centre,
    # its socket face 1 in on and 2 in deep
    assert pipe.cut == pytest.approx((60 - (6.5 - 3 + 3 + 1) + 2) * INCH)


# ------------------------------------------------------------------ marks
@pytest.mark.parametrize(("handle", "degrees"), [("up", 0), ("east", 90), ("down", 180), ("west", 270)])
def test_a_valve_handle_is_marked_on_both_pipes_alike_along_the_walk(tmp_path, handle, degrees):
    valve = part(
        "valve", "6in", tag="V-1", count="1", measured="1", ends="socket socket",
        reach_1="6 in", depth_1="3 in", reach_2="6 in", depth_2="3 in",
    )  # fmt: skip
    cutting = made(
        tmp_path, f"go north 5'\nput \"V-1\" handle {handle}\ngo north 5'\nends at open\n", [*PARTS, valve]
    )
    marks = [cutting.pieces[0].b.turned, cutting.pieces[1].a.turned]
    assert [[m.feature for m in ms] for ms in marks] == [["handle"], ["handle"]]
    assert [math.degrees(ms[0].angle) for ms in marks] == pytest.approx([degrees, degrees])


def test_a_tee_marks_its_branch_and_not_its_run(tmp_path):
    piece = made(tmp_path, "go north 5'\ntee east as X\ngo north 5'\nends at open\n").pieces[0]
    assert [(m.feature, round(math.degrees(m.angle), 6)) for m in piece.b.turned] == [("branch", 90.0)]


def test_a_feature_along_the_pipe_has_no_mark():
    assert angle_round((0, 1, 0), (0, 1, 0)) is None
    assert angle_round((0, 1, 0), (0, -1, 0)) is None
    assert angle_round((0, 1, 0), (0, 0.7, 0.7)) == 0


# ------------------------------------------------------------------ splitting and names
def test_splitting_by_hand():
    # 10 m of 4 m sticks: couplings with a 10 mm stop between pipes: 4, 4 and 10 - 8.02 = 1.98
    bits = split(10.0, stick=4.0, step_gain=0.01, half=0.1, least=0.3)
    assert [b.length for b in bits] == pytest.approx([4, 4, 1.98])
    assert [b.start for b in bits] == pytest.approx([0, 4.01, 8.02])
    # bells 0.1 deep: each stick lays 3.9
    bits = split(10.0, stick=4.0, step_gain=-0.1, half=0.1, least=0.3, belled=True)
    assert [b.start for b in bits] == pytest.approx([0, 3.9, 7.8])
    assert [b.length for b in bits] == pytest.approx([4, 4, 2.2])
    assert [b.bell for b in bits] == [True, True, False]


def test_the_last_bit_is_never_shorter_than_its_sockets_need():
    for total in (4.05, 4.2, 8.1, 8.31, 12.05):
        bits = split(total, stick=4.0, step_gain=0.01, half=0.1, least=0.3)
        assert all(b.length >= 0.3 - 1e-9 for b in bits), total
        assert sum(b.length for b in bits) + 0.01 * (len(bits) - 1) == pytest.approx(total)


def test_a_stretch_as_long_as_a_stick_leaves_no_place():
    with pytest.raises(PlanImpossible, match="no place for one within a stick"):
        split(10.0, stick=4.0, step_gain=0.01, half=0.1, least=0.3, kept_free=[(0.5, 5.0)])
    bits = split(10.0, stick=4.0, step_gain=0.01, half=0.1, least=0.3, kept_free=[(3.0, 5.0), (6.5, 7.5)])
    assert [b.start + b.length for b in bits[:-1]] == pytest.approx([2.9, 6.4])


def test_piece_letters_leave_out_what_reads_as_a_figure():
    names = [letters(n) for n in range(24 * 25)]
    assert names[:3] == ["A", "B", "C"]
    assert names[23:26] == ["Z", "AA", "AB"]
    assert len(set(names)) == len(names)
    assert not any(c in name for name in names for c in "IO")
