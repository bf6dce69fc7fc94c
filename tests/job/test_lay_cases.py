"""Odd places of a walk, laid by hand: threads, stubs, kinks, tees entered by the branch, what is refused."""

import math

import pytest

from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.graph import Tie, Wait
from lineproof.job.parts import Form, PartKind
from rigs import FOOT, INCH, elbow, flange, laid, part, tee

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
MALE = part("male adapter", "6in", reach_1="6 in", depth_1="3 in", reach_2="0 in", depth_2="1 in")
FEMALE = part("female adapter", "6in", reach_1="5 in", depth_1="3 in", reach_2="0 in", depth_2="1 in")
UNION = part("union", "6in", reach_1="4 in", depth_1="3 in", reach_2="4 in", depth_2="3 in")
COUPLING = part("coupling", "6in", reach_1="3 1/4 in", depth_1="3 in", reach_2="3 1/4 in", depth_2="3 in")
E90, E45 = elbow("6in", "6 in", "3 in"), elbow("6in", "5 in", "3 in", angle="45")


def near(got, wanted):
    return all(math.isclose(a, b, abs_tol=1e-9) for a, b in zip(got, wanted, strict=True))


def inches(value):
    return pytest.approx(value * INCH)


def opened(graph):
    """Where the open end stands. [ft]"""
    end = next(p for p in graph.parts.values() if p.name == "open end")
    return tuple(c / FOOT for c in end.centre)


# ------------------------------------------------------------------ pairs and straight parts
def test_a_threaded_pair_is_shorter_by_the_engaged_length():
    # by hand: 6 in of male and 5 in of female body, 1 in screwed in: 10 in between the socket faces
    graph = laid(HEAD + "go north 5'\nthread\ngo north 5'\nends at open\n", [MALE, FEMALE])
    first, second = graph.runs.values()
    assert first.off_b == inches(6 - 1)
    assert second.off_a == inches(5)
    male, female = graph.parts["L/M1"], graph.parts["L/M2"]
    assert near(female.centre, (0, 60 * INCH, 0))
    assert near(male.centre, (0, 61 * INCH, 0))  # the end of its thread, an inch inside the other
    assert sorted(c.tie for c in graph.connections) == [Tie.FLANGED, Tie.THREADED]


def test_a_threaded_end_that_stands_gets_an_adapter_screwed_in():
    graph = laid(HEAD + 'go north 5\'\nends at thread "N-2"\n', [MALE])
    run = graph.runs["L/R1"]
    assert run.off_b == inches(6 - 1)
    assert run.depth_b == inches(3)
    assert [c.tie for c in graph.connections if c.a[0] == run.b[0] or c.b[0] == run.b[0]] == [Tie.THREADED]


def test_an_adapter_whose_engaged_length_is_not_measured_waits():
    bare = part("male adapter", "6in", reach_1="6 in", depth_1="3 in", reach_2="0 in")
    graph = laid(HEAD + 'go north 5\'\nends at thread "N-2"\n', [bare])
    assert graph.parts["L/M1"].wait is Wait.NOT_MEASURED
    assert graph.runs["L/R1"].off_b is None


def test_stubs_stand_off_the_middle_of_their_gasket_by_half_of_it():
    stub = part("stub", "6in", ends="stub socket", reach_2="4 in", depth_2="3 in")
    graph = laid(HEAD + "go north 5'\nstub and ring\ngo north 5'\nends at open\n", [stub], gasket=INCH / 4)
    first, second = graph.runs.values()
    assert first.off_b == second.off_a == inches(4 + 1 / 8)
    assert graph.connections[0].gap == inches(1 / 4)
    assert [p.kind for p in graph.parts.values()].count(PartKind.STUB) == 2
    forms = {graph.parts[i].port(n).form for c in graph.connections[:1] for i, n in (c.a, c.b)}
    assert forms == {Form.STUB}


def test_ringed_flanges_are_tied_by_rings_and_plain_ones_are_not():
    walk = HEAD + "go north 5'\nringed flanges\ngo north 5'\nflanges\ngo north 5'\nends at open\n"
    graph = laid(walk, [flange("6in", "3 1/2 in", "3 in")])
    assert [c.tie for c in graph.connections if c.a[0] != "L/X1"] == [Tie.RINGED, Tie.FLANGED]


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("repair coupling", PartKind.REPAIR),
        ("coupling", PartKind.COUPLING),
        ("union", PartKind.UNION),
        ("ringed union", PartKind.UNION),
        ("drop-out union", PartKind.UNION),
        ("expansion joint travel 4 in set 2 in", PartKind.EXPANSION),
    ],
)
def test_a_straight_part_stands_where_the_drawing_has_its_centre(words, kind):
    row = part(str(kind), "6in", reach_1="4 in", depth_1="3 in", reach_2="5 in", depth_2="2 in")
    graph = laid(HEAD + f"go north 5'\n{words}\ngo north 7'\nends at open\n", [row])
    first, second = graph.runs.values()
    assert (first.off_b, first.depth_b) == (inches(4), inches(3))
    assert (second.off_a, second.depth_a) == (inches(5), inches(2))
    middle = next(p for p in graph.parts.values() if p.kind is kind)
    assert near(middle.centre, (0, 5 * FOOT, 0))
    assert opened(graph) == pytest.approx((0, 12, 0))


def test_parts_without_a_dimension_between_stand_as_close_as_bare_pipe_allows():
    # union, 2 in of bare pipe, union: 4 + 2 + 4 in from centre to centre
    graph = laid(HEAD + "go north 5'\nunion\nunion\ngo north 5'\nends at open\n", [UNION], exposed=2 * INCH)
    a, b = (p.centre[1] for p in graph.parts.values() if p.kind is PartKind.UNION)
    assert b - a == inches(10)
    assert [r.close for r in graph.runs.values()] == [False, True, False]


def test_parts_close_together_are_not_exact_while_one_is_unmeasured():
    graph = laid(HEAD + "go north 5'\nunion\ncoupling\ngo north 5'\nends at open\n", [UNION])
    assert [r.exact for r in graph.runs.values()] == [True, False, True]


# ------------------------------------------------------------------ ends
def test_a_cap_is_reached_at_its_stop():
    cap = part("cap", "6in", reach_1="4 in", depth_1="3 in")
    graph = laid(HEAD + "go north 5'\nends at test cap\n", [cap])
    run = graph.runs["L/R1"]
    assert run.off_b - run.depth_b == pytest.approx(0)
    assert graph.parts["L/K1"].name == "test cap"


def test_a_test_blind_hangs_on_our_flange_behind_a_gasket():
    rows = [flange("6in", "3 1/2 in", "3 in"), part("blind", "6in", faces="flat")]
    graph = laid(HEAD + "go north 5'\nends at test blind\n", rows, gasket=INCH / 8)
    blind = graph.parts["L/B1"]
    assert blind.name == "test blind"
    assert near(blind.centre, (0, 60 * INCH + INCH / 8, 0))
    assert graph.runs["L/R1"].off_b == inches(3.5)
    assert any({c.a[0], c.b[0]} == {"L/B1", "L/F1"} or "L/B1" in c.a for c in graph.connections)


def test_a_start_takes_its_way_from_the_first_leg():
    walk = HEAD.replace(" facing north", "")
    assert near(laid(walk + "go up 3'\nends at open\n").runs["L/R1"].way, (0, 0, 1))
    with pytest.raises(BadInput, match="the start has no direction"):
        laid(walk + "tee up as X\ngo north 3'\nends at open\n")


@pytest.mark.parametrize(
    ("branch", "says"),
    [
        (
            "line B size 4in pipe pvc sch80\nstarts at branch X\ngo west 2'\nends at open\n",
            "is 4 in but the branch X",
        ),
        (
            "line B size 6in pipe pvc sch80\nstarts at branch X facing up\ngo up 2'\nends at open\n",
            "does not face up",
        ),
    ],
)
def test_a_branch_that_does_not_fit_its_line_is_named(branch, says):
    with pytest.raises(DrawingMismatch, match=says):
        laid(HEAD + "go north 5'\ntee west as X\ngo north 1'\nends at open\n" + branch)


def test_a_line_may_end_at_a_branch_and_is_held_to_its_place_and_size():
    base = HEAD + "go north 5'\ntee west as X\ngo north 1'\nends at open\n"
    line = 'line B size {size} pipe pvc sch80\nstarts at flange fixed "Q" at {at}, 5\', 0 facing east\n'
    line += "go east 3'\nends at branch X\n"
    graph = laid(base + line.format(size="6in", at="-3'"))
    assert graph.lines["B"].closed is True
    assert graph.runs["B/R1"].b == ("L/T1", "c")
    with pytest.raises(DrawingMismatch, match="still wants 1'-0\" west"):
        laid(base + line.format(size="6in", at="-2'"))
    with pytest.raises(DrawingMismatch, match="is 4 in but the branch X of L is 6 in"):
        laid(base + line.format(size="4in", at="-3'"))
    turned = line.replace("facing east", "facing north").replace("go east 3'", "go north 3'")
    with pytest.raises(DrawingMismatch, match="does not come straight into the branch X of L"):
        laid(base + turned.format(size="6in", at="0"))


def test_lines_without_a_common_point_are_not_held_to_each_other():
    base = HEAD.replace(" at 0, 0, 0", "") + "go north 5'\ntee west as X\ngo north 1'\nends at open\n"
    line = 'line B size 6in pipe pvc sch80\nstarts at flange fixed "Q" facing east\n'
    line += "go east 3'\nends at branch X\n"
    assert laid(base + line).lines["B"].closed is None
    bridge = "line M size 6in pipe pvc sch80\nstarts at branch A\n"
    bridge += "go up 4'\ngo north {}\ngo down 4'\nends at branch B\n"
    main = HEAD.replace(" at 0, 0, 0", "") + "go north 5'\ntee up as A\ngo north 9'\ntee up as B\n"
    main += "go north 1'\nends at open\n"
    assert laid(main + bridge.format("9'")).lines["M"].closed is True, "both tees are measured from one start"
    with pytest.raises(DrawingMismatch, match="still wants 2'-0\" north"):
        laid(main + bridge.format("7'"))


# ------------------------------------------------------------------ turns and tees
def test_a_turn_of_three_degrees_or_less_is_a_kinked_coupling_with_its_angle_kept():
    rise = 10 * math.tan(math.radians(2))
    graph = laid(HEAD + f"go north 10'\ngo north 10' up {rise:.9f}ft\nends at open\n", [COUPLING])
    kinked = graph.parts["L/C1"]
    assert kinked.kind is PartKind.COUPLING
    assert near(kinked.port("b").out, (0, 1, 0))  # the coupling is straight; the pipe leaves it at an angle
    assert graph.turns[0].leftover_deg == pytest.approx(2)
    assert graph.turns[0].fitting_deg == 0
    sharper = laid(HEAD + f"go north 10'\ngo north 10' up {2 * rise:.9f}ft\nends at open\n", [COUPLING])
    assert sharper.turns[0].fitting_deg is None


def test_a_tee_entered_by_its_branch_takes_no_other_size():
    with pytest.raises(BadInput, match="on the run and has the run's size"):
        laid(HEAD + "go north 10'\ntee west 4in as X\ngo east 4'\nends at open\n")
    with pytest.raises(BadInput, match="on the run and has the run's size"):
        laid(HEAD + "go north 10'\ntee north 4in as X\ngo east 4'\nends at open\n")


def test_a_reducing_tee_may_be_entered_by_its_small_branch():
    row = tee("6in", "7 in", "3 in", size2="4in", reach_3="5 in", depth_3="2 in")
    walk = (
        HEAD.replace("size 6in", "size 4in") + "go north 10'\ntee west 6in as X\ngo east 4'\nends at open\n"
    )
    graph = laid(walk, [row])
    first, second = graph.runs.values()
    assert (first.off_b, first.depth_b, first.size.text) == (inches(5), inches(2), "4 in")
    assert (second.off_a, second.depth_a, second.size.text) == (inches(7), inches(3), "6 in")


def test_a_blind_goes_straight_on_a_flanged_valve():
    valve = part("valve", "6in", tag="V-1", count="1", measured="1", ends="flange flange", reach_1="5 in",
                 reach_2="5 in", faces="flat")  # fmt: skip
    graph = laid(HEAD + 'go north 5\'\nput "V-1"\nends at blind\n', [valve], gasket=0.125 * INCH)
    assert len(graph.runs) == 1
    assert graph.parts["L/B1"].centre == pytest.approx((0, 65.125 * INCH, 0))
    assert [c.tie for c in graph.connections].count(Tie.FLANGED) == 3


def test_a_bullhead_tee_opens_its_run_behind_the_walk():
    walk = HEAD + "go north 10'\ntee west as X\ngo east 4'\nends at open\n"
    walk += "line B size 6in pipe pvc sch80\nstarts at branch X\ngo west 2'\nends at open\n"
    graph = laid(walk, [tee("6in", "7 in", "3 in", reach_3="5 in")])
    run = graph.runs
    assert run["L/R1"].off_b == inches(5)  # entered by the branch
    assert run["L/R2"].off_a == run["B/R1"].off_a == inches(7)
    assert near(run["B/R1"].start, (0, 10 * FOOT, 0))


@pytest.mark.parametrize(
    ("legs", "says"),
    [
        ("go north 10'\ntee north as X\ngo north 2'\nends at open\n", "the walk must turn here"),
        ("go north 10'\ntee west as X\ngo up 2'\nends at open\n", "leaves at 90.0 degrees"),
        ("go north 3' west 3'\ntee west as X\ngo north 2'\nends at open\n", "square to its run"),
        ("go north 10' to wall\ngo east 4'\nends at open\n", "cannot turn there"),
        ("go north 10'\nsaddle north 2in as S\ngo north 2'\nends at open\n", "square to the pipe"),
        ("saddle up 2in as S\ngo north 2'\nends at open\n", "sits on a pipe"),
        (
            "go north 9'\nreduce to 4in eccentric flat north\ngo north 1'\nends at open\n",
            "square to the line",
        ),
        ("offset west 2' with 45\ngo north 1'\nends at open\n", "needs a leg before it"),
        ("no joint 1' to 2'\ngo north 9'\nends at open\n", "no leg above"),
        ("go north 4'\ngo north 3'\nno joint 1' to 5'\nends at open\n", "2'-0\" beyond the leg above"),
        ("go up 1:100 along\nends at open\n", "no direction of its own"),
        ("go north 0\nends at open\n", "length"),
    ],
)
def test_what_cannot_stand_there_is_said(legs, says):
    head = HEAD.replace(" facing north", "") if legs.startswith("go north 3' west") else HEAD
    with pytest.raises(BadInput) as error:
        laid(head + legs)
    assert says in str(error.value)
    assert error.value.place.line >= 3


def test_a_branch_label_stands_once_in_all_lines():
    two = HEAD + "go north 5'\ntee west as X\ngo north 5'\nsaddle up 2in as X\ngo north 2'\nends at open\n"
    with pytest.raises(BadInput, match=r"X"):
        laid(two)


def test_a_saddle_line_starts_on_the_axis_of_the_pipe_it_sits_on():
    row = part("saddle", "6in", size2="2in", ends="saddle socket", reach_2="5 in", depth_2="1 1/2 in")
    walk = HEAD + "go north 10'\nsaddle up 2in as S\ngo north 5'\nends at open\n"
    walk += "line S size 2in pipe pvc sch80\nstarts at branch S\ngo up 3'\nends at open\n"
    graph = laid(walk, [row])
    run = graph.runs["S/R1"]
    assert near(run.start, (0, 10 * FOOT, 0))
    assert (run.off_a, run.depth_a) == (inches(5), inches(1.5))
    assert graph.runs["L/R1"].saddles == (("L/S1", pytest.approx(10 * FOOT)),)
    assert len([r for r in graph.runs.values() if r.line == "L"]) == 1, "the pipe goes on through it"
    assert opened(graph) == pytest.approx((0, 15, 0))


# ------------------------------------------------------------------ tagged parts
def tagged(kind, **columns):
    return part(kind, columns.pop("size", "6in"), tag="Z-1", count="1", measured="1", **columns)


def test_a_tagged_elbow_turns_by_its_own_angle():
    row = tagged("elbow", angle="60", reach_1="7 in", depth_1="3 in", reach_2="8 in", depth_2="3 in")
    walk = HEAD + "go north 10'\nput \"Z-1\"\ngo north 1' east 1.7320508ft\nends at open\n"
    graph = laid(walk, [row])
    first, second = graph.runs.values()
    assert first.off_b == inches(7)
    assert second.off_a == inches(8)
    assert graph.turns == ()
    with pytest.raises(BadInput, match=r"turns 60 degrees but the walk turns 90\.00"):
        laid(HEAD + "go north 10'\nput \"Z-1\"\ngo east 4'\nends at open\n", [row])


def test_a_tagged_reducer_changes_the_size_of_the_line():
    row = tagged("reducer", size2="4in", reach_1="4 in", depth_1="3 in", reach_2="3 in", depth_2="2 in")
    graph = laid(HEAD + "go north 5'\nput \"Z-1\"\ngo north 5'\nends at open\n", [row])
    assert [r.size.text for r in graph.runs.values()] == ["6 in", "4 in"]


def test_an_unmeasured_tagged_part_waits_and_keeps_its_handle():
    row = part("valve", "6in", tag="V-1", count="1", measured="0", ends="socket socket")
    graph = laid(HEAD + "go north 5'\nput \"V-1\" handle west\ngo north 5'\nends at open\n", [row])
    valve = graph.parts["L/V1"]
    assert valve.wait is Wait.NOT_MEASURED
    assert near(valve.handle, (-1, 0, 0))
    assert next(r.off_b for r in graph.runs.values()) is None


# ------------------------------------------------------------------ legs
def test_going_down_to_a_centre_below_and_up_to_one_above():
    graph = laid(
        HEAD + "go north 5'\ngo down to centre -4ft\ngo north 5'\ngo up to centre 2ft\nends at open\n"
    )
    assert [round(r.cc / FOOT, 9) for r in graph.runs.values()] == [5, 4, 5, 6]
    assert opened(graph) == pytest.approx((0, 10, 2))
    with pytest.raises(DrawingMismatch, match="lies 1'-0\" behind"):
        laid(HEAD + "go north 5'\ngo down to centre 1ft\nends at open\n")


def test_a_field_offset_is_a_field_run_and_its_neighbours_are_not():
    walk = HEAD + "go north 5'\noffset west 2' with 45 field\ngo north 5'\nends at open\n"
    graph = laid(walk, [E45])
    assert [r.field for r in graph.runs.values()] == [False, True, False]
    assert [r.cc / FOOT for r in graph.runs.values()] == pytest.approx([5, 2 * math.sqrt(2), 5])
    assert opened(graph) == pytest.approx((-2, 12, 0))


def test_to_a_wall_and_to_an_end_run_to_the_point_itself():
    wall = laid(HEAD + "go north 5' to wall\nends at open\n")
    end = laid(HEAD + "go north 5' to end\nends at open\n")
    assert opened(wall) == opened(end) == pytest.approx((0, 5, 0))


def test_a_leg_on_the_same_way_goes_on_without_a_fitting():
    graph = laid(HEAD + "go north 5'\ngo north 4'\nends at open\n")
    assert [r.cc / FOOT for r in graph.runs.values()] == pytest.approx([9])


def test_an_eccentric_reducer_that_grows_lifts_the_line_off_its_flat_bottom():
    # bores of the rig are half the nominal size: (4 in - 3 in)/2 up, the bottoms in one line
    graph = laid(HEAD + "go north 10'\nreduce to 8in eccentric flat bottom\ngo north 5'\nends at open\n")
    assert opened(graph) == pytest.approx((0, 15, 0.5 / 12))
    sideways = laid(HEAD + "go north 10'\nreduce to 4in eccentric flat east\ngo north 5'\nends at open\n")
    assert opened(sideways) == pytest.approx((0.5 / 12, 15, 0))


def test_inch_and_metric_sizes_are_compared_by_what_they_measure():
    walk = 'line L size 12in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
    graph = laid(walk + "go north 10'\nreduce to d250\ngo north 5'\nends at open\n")
    made = graph.parts["L/D1"]
    assert (made.size.text, made.size2.text) == ("12 in", "d250")
    assert [made.port(n).size.text for n in "ab"] == ["12 in", "d250"]


def test_a_loop_closes_on_the_point_it_left():
    legs = "go north 5'\ngo east 5'\ngo south 5'\ngo west 5'\n"
    graph = laid(HEAD + legs + 'ends at flange fixed "P2" at 0, 0, 0\n', [E90])
    assert graph.lines["L"].closed is True
    assert near(graph.lines["L"].misclosure, (0, 0, 0))


def test_an_unmeasured_stop_leaves_heights_off_the_datum():
    graph = laid(HEAD + "go north 5'\ngo up 4' to stop\ngo north 2'\nends at open\n")
    assert [r.exact for r in graph.runs.values()] == [True, False, True]
    elbows = [p.datum for p in graph.parts.values() if p.kind is PartKind.ELBOW]
    assert elbows == [True, False]


def test_lines_of_two_drawings_keep_their_drawing():
    walk = "drawing A-1 rev 2\n" + HEAD + "go north 2'\nends at open\ndrawing A-2\n"
    walk += "line M size 6in pipe pvc sch80\nstarts at open at 0, 9', 0 facing up\ngo up 2'\nends at open\n"
    graph = laid(walk)
    assert [(x.drawing, x.rev) for x in graph.lines.values()] == [("A-1", "2"), ("A-2", "")]
