"""Pieces in odd places: free ends, loops through saddles, other lots, tapes at branches, by hand."""

import math

import pytest

from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.job.graph import Wait
from lineproof.plan.fixity import between_fixed, untaped_groups
from lineproof.plan.judge import judge
from lineproof.plan.model import Short, State
from lineproof.plan.names import face_name, faces_of
from rigs import INCH, coupling, elbow, flange, part, stock, tee, work_at

LINE = "line L size 6in pipe pvc sch80\n"
HEAD = LINE + 'starts at flange fixed "P" at 0, 0, 0 facing north\n'
PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    tee("6in", "6 1/2 in", "3 in"),
]
STOCK = stock("6in")


def made(tmp_path, walk, parts=PARTS, **more):
    more.setdefault("toml", STOCK)
    return work_at(tmp_path / "job", walk, parts, **more)


def total_of(cutting, run):
    """Pipe and stops of a run from end to end. [m]"""
    gains = sum(
        sum(p.reach - p.depth for p in c.ports)
        for i, c in cutting.couplings.items()
        if i.startswith(f"{run}.")
    )
    return sum(p.exact for p in cutting.pieces if p.run == run) + gains


# ------------------------------------------------------------------ free ends
@pytest.mark.parametrize(("inches", "why"), [(3, Short.MEET), (6, Short.MEET), (7, Short.NONE)])
def test_a_free_end_has_to_come_out_of_its_socket(tmp_path, inches, why):
    # the elbow's face stands 6 1/2 in from its centre
    cutting = made(tmp_path, HEAD + f"go north 5'\ngo east {inches} in\nends at open\n").cutting
    assert cutting.pieces[-1].short is why
    assert (cutting.pieces[-1].cut is None) == (why is not Short.NONE)


# ------------------------------------------------------------------ sticks
def test_a_long_stretch_is_gone_round_with_one_coupling_more(tmp_path):
    # 20 ft sticks, nothing from 21 ft 6 in to 40 ft 6 in: the furthest first joint, at 20 ft, cannot reach
    # over it, one after it can; two more joints then serve 60 ft
    w = made(
        tmp_path,
        LINE + "starts at open at 0, 0, 0\ngo north 60'\nno joint 21'-6\" to 40'-6\"\nends at open\n",
    )
    assert not w.cutting.shortages
    assert len(w.cutting.pieces) == 4
    assert max(p.cut for p in w.cutting.pieces) <= 240 * INCH + 1e-9
    assert total_of(w.cutting, "L/R1") == pytest.approx(720 * INCH)


def test_sticks_grow_and_shrink_with_the_rest_of_the_leg(tmp_path):
    # 200 ft between two flanges, cut at 100 F and joined at 60 F: the pipe is cut longer by the whole sum
    heat = '\n[conditions]\ncut_temperature = "100 F"\njoined_temperature = "60 F"\n'
    walk = HEAD + 'go north 200\'\nends at flange fixed "Q"\n'
    hot = made(tmp_path / "hot", walk, toml=heat + STOCK).cutting
    cold = made(tmp_path / "cold", walk).cutting
    alpha = 5.4e-5  # about, PVC; only the proportion is tested
    wide = sum(p.exact for p in hot.pieces) / sum(p.exact for p in cold.pieces) - 1
    assert wide == pytest.approx(alpha * 40 / 1.8, rel=0.1)
    assert all(p.exact == pytest.approx(240 * INCH) for p in hot.pieces if p.whole)
    # the last piece makes up for the sticks before it
    assert hot.pieces[-1].exact - cold.pieces[-1].exact == pytest.approx(
        wide * sum(p.exact for p in cold.pieces), rel=1e-6
    )


def test_couplings_of_another_lot_are_counted_as_they_are(tmp_path):
    lots = [
        *PARTS[:2],
        coupling("6in", "3 1/4 in", "3 in", lot="A", count="1", measured="1"),
        coupling("6in", "3 1/2 in", "3 in", lot="B", count="9"),
    ]
    cutting = made(tmp_path, LINE + "starts at open at 0, 0, 0\ngo north 55'\nends at open\n", lots).cutting
    # stops of 1/2 in and 1 in between three pipes
    assert [p.exact / INCH for p in cutting.pieces] == pytest.approx([240, 240, 660 - 480 - 1.5])
    assert cutting.pieces[2].start[1] / INCH == pytest.approx(481.5)
    unmeasured = [*lots[:3], coupling("6in", "", "", lot="B", count="9", measured="0")]
    waits = made(
        tmp_path / "b", LINE + "starts at open at 0, 0, 0\ngo north 55'\nends at open\n", unmeasured
    ).cutting
    assert {p.state for p in waits.pieces} == {State.WAIT}
    assert all("L/R1.2" in p.waits for p in waits.pieces)


def test_no_coupling_is_left_over_from_a_leg_that_waits(tmp_path):
    w = made(tmp_path, LINE + "starts at open at 0, 0, 0\ngo north 55'\nends at open\n", PARTS[:2])
    assert len(w.cutting.couplings) == 2
    assert {c.wait for c in w.cutting.couplings.values()} == {Wait.NO_ROW}
    none = made(
        tmp_path / "b", LINE + "starts at open at 0, 0, 0\ngo north 50'\nno joint 1' to 49'\nends at open\n"
    )
    assert not none.cutting.couplings


@pytest.mark.parametrize("trim", ["0 in", "3/8 in", "1 in"])
@pytest.mark.parametrize("ends", ["plain", "cement bell"])
def test_every_piece_of_a_long_leg_comes_out_of_a_stick(tmp_path, trim, ends):
    toml = stock("6in", ends=ends, bell_depth="5 in") if ends != "plain" else STOCK
    walk = LINE + "starts at open at 0, 0, 0\n"
    for n, feet in enumerate(("19'-7\"", "19'-6 7/8\"", "20'", "39'-3\"", "61'")):
        w = made(tmp_path / str(n), walk + f"go north {feet}\nends at open\n", toml=toml, trim=trim)
        assert not [s.trouble for s in w.sticks if s.trouble], feet


def test_a_metric_stick_sawn_to_the_millimetre_loses_nothing_on_the_way(tmp_path):
    walk = LINE + "starts at open at 0, 0, 0\ngo north 120 m\nends at open\n"
    cutting = made(tmp_path, walk, toml=stock("6in", "6.0964 m"), units="metric", trim="12 mm").cutting
    gains = sum(sum(p.reach - p.depth for p in c.ports) for c in cutting.couplings.values())
    assert sum(p.cut for p in cutting.pieces) + gains == pytest.approx(120.0, abs=0.0005 + 1e-9)


def test_an_unmeasured_bell_holds_up_what_may_need_it(tmp_path):
    toml = stock("6in", ends="cement bell")
    walk = LINE + "starts at open at 0, 0, 0\n"
    near = made(tmp_path, walk + "go north 19'-6\"\nends at open\n", toml=toml).cutting.pieces[0]
    assert near.short is Short.BELL
    assert made(tmp_path / "b", walk + "go north 15'\nends at open\n", toml=toml).cutting.pieces[0].cut


# ------------------------------------------------------------------ rounding
def test_the_carry_goes_on_from_stick_to_stick_between_fixed_faces(tmp_path):
    # three pieces of a leg between two fixed faces end within half a step of the leg
    toml = stock("6in", "20 ft") + '\n[[gaskets]]\nsize = "6in"\nface = "full"\nthickness = "0.13 in"\n'
    walk = (
        HEAD
        + "go north 40'-3.31\"\nno joint 9'-1.03\" to 12'\nno joint 16'-2.03\" to 25'\n"
        + 'ends at flange fixed "Q"\n'
    )
    cutting = made(tmp_path, walk, toml=toml).cutting
    cut = [p.cut for p in cutting.pieces]
    assert len(cut) >= 3
    assert sum(cut) == pytest.approx(sum(p.exact for p in cutting.pieces), abs=INCH / 32 + 1e-9)


def test_a_spool_walked_again_right_after_itself_is_cut_alike(tmp_path):
    once = 'spool "TD"\ngo north 30.03 in\ncoupling\ngo north 20.02 in\nspool ends\ncoupling\n'
    walk = LINE + "starts at open at 0, 0, 0 facing north\n" + 3 * once + "go north 5'\nends at open\n"
    pieces = made(tmp_path, walk).cutting.pieces
    second, third = [p.cut for p in pieces[2:4]], [p.cut for p in pieces[4:6]]
    assert second == pytest.approx(third)


# ------------------------------------------------------------------ marks
@pytest.mark.parametrize("grows", [False, True])
def test_the_flat_side_of_a_reducer_is_marked_where_it_lies(tmp_path, grows):
    row = part("reducer", "6in", size2="4in", reach_1="6 in", depth_1="3 in", reach_2="5 in", depth_2="2 in")
    first, second = ("4in", "6in") if grows else ("6in", "4in")
    walk = f"line L size {first} pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\ngo north 5'\n"
    walk += f"reduce to {second} eccentric flat east\ngo north 5'\nends at open\n"
    w = made(tmp_path, walk, [row], toml=STOCK + stock("4in"))
    for end in (w.cutting.pieces[0].b, w.cutting.pieces[1].a):
        (mark,) = end.turned
        assert mark.feature == "flat side"
        assert mark.angle == pytest.approx(math.pi / 2)


# ------------------------------------------------------------------ fixity and tapes
def test_a_loop_through_a_saddle_lies_between_fixed_points(tmp_path):
    saddle = part("saddle", "6in", size2="2in", ends="saddle socket", reach_2="4 in", depth_2="1 in")
    main = HEAD + "go north 5'\nsaddle east 2in as S\ngo north 5'\nends at open\n"
    branch = 'line B size 2in pipe pvc sch80\nstarts at branch S\ngo east 5\'\nends at flange fixed "Q"\n'
    graph = made(tmp_path, main + branch, [*PARTS, saddle]).graph
    # P - header - saddle - branch - Q: only the header's rest is free, and it is the same run
    assert between_fixed(graph) == {"L/R1", "B/R1"}
    assert untaped_groups(graph, {"B/R1"}) == ()
    free = main + branch.replace('flange fixed "Q"', "open")
    assert between_fixed(made(tmp_path / "b", free, [*PARTS, saddle]).graph) == frozenset()


def test_a_gap_at_the_branch_of_another_line_can_be_taped(tmp_path):
    main = HEAD + "go north 5'\ntee east as B-1\ngo north 5'\nends at open\n"
    branch = "line B size 6in pipe pvc sch80\nstarts at branch B-1\ngo east 5' field\ntee up as C-1\n"
    branch += 'go east 5\'\nends at flange fixed "Q"\n'
    w = made(tmp_path, main + branch)
    assert sorted(face_name(p, "B") for p in faces_of(w.graph, "B").values()) == ["B-1", "F1", "Q", "T1"]
    assert w.tape.gaps[0].face_a == "T1 of L"  # as the cut list says it
    for n, name in enumerate(("T1 of L", "B-1", "L/T1")):
        taped = f'B,{name},T1,"4 ft 1 in",lead,2027-05-01 09:00,\n'
        piece = next(
            p for p in made(tmp_path / f"t{n}", main + branch, taped=taped).cutting.pieces if p.line == "B"
        )
        assert piece.cut == pytest.approx((49 + 6) * INCH)
    with pytest.raises(BadInput, match="no face named 'Z'"):
        made(tmp_path / "z", main + branch, taped='B,Z,T1,"4 ft 1 in",lead,2027-05-01 09:00,\n')


def room_found(work):
    return [f for f in judge(work).findings if f.id == "GEO-01" and f.verdict is Verdict.STOP]


def test_a_free_end_inside_its_socket_and_a_gap_taped_too_small_stop_the_line(tmp_path):
    free = made(tmp_path, HEAD + "go north 5'\ngo east 4 in\nends at open\n")
    (found,) = room_found(free)
    assert found.measured == pytest.approx(-2.5 * INCH)  # 4 in less 6 1/2 in
    walk = HEAD + "go north 5' field\ngo east 5'\nends at open\n"
    assert not room_found(made(tmp_path / "b", walk))
    taped = made(tmp_path / "c", walk, taped='L,F1,E1,"1 in",lead,2027-05-01 09:00,\n')
    (found,) = room_found(taped)
    assert found.measured == pytest.approx(1 * INCH)
