"""What a lead walks now and then: dimensions from faces, aims, spigots, open ends, tagged parts; by hand."""

import math

import pytest

from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.graph import Tie
from lineproof.job.parts import PartKind
from rigs import INCH, coupling, elbow, flange, laid, part, tee

LINE = "line L size 6in pipe pvc sch80\n"
HEAD = LINE + 'starts at flange fixed "P" at 0, 0, 0 facing north\n'
E90 = elbow("6in", "6 in", "3 in")
E45 = elbow("6in", "5 in", "3 in", angle="45")
COUPLING = coupling("6in", "3 1/4 in", "3 in")
TEE = tee("6in", "6 in", "3 in")
FLANGE = flange("6in", "3 1/2 in", "3 in")
PARTS = [E90, E45, COUPLING, TEE, FLANGE]


def tagged(kind, tag, **cells):
    measured = {f"{k}_{n}": v for n in (1, 2) for k, v in (("reach", "5 in"), ("depth", "3 in"))}
    return part(kind, "6in", tag=tag, count="1", measured="1", **measured | cells)


def end_of(graph):
    """Where the open end stands. [in]"""
    end = [p for p in graph.parts.values() if p.name == "open end"][-1]
    return tuple(round(c / INCH, 6) for c in end.centre)


# ------------------------------------------------------------------ where a dimension begins
def test_saddle_and_free_stretch_are_measured_from_where_the_leg_begins():
    # the elbow at 60 in; its face 6 in further; the saddle 30 in beyond that
    legs = "go north 5'\ngo east 30 in from face\nsaddle up 2in as S\ngo east 10 in\nno joint 2 in to 8 in\n"
    legs += "ends at open\n"
    graph = laid(HEAD + legs, PARTS)
    saddle = next(p for p in graph.parts.values() if p.kind is PartKind.SADDLE)
    assert saddle.centre == pytest.approx((36 * INCH, 60 * INCH, 0))
    run = graph.runs["L/R2"]
    assert run.saddles[0][1] == pytest.approx(36 * INCH)
    assert run.no_joint[-1] == pytest.approx((38 * INCH, 44 * INCH))
    assert end_of(graph) == (46, 60, 0)
    free = laid(HEAD + "go north 5'\ngo east 30 in from face\nno joint 4 in to 9 in\nends at open\n", PARTS)
    assert free.runs["L/R2"].no_joint[0] == pytest.approx((10 * INCH, 15 * INCH))


def test_an_aim_after_a_dimension_from_a_face_reaches_its_elevation():
    # elbow at 60 in; up 12 in from its face: 18 in; then a slope to 3 ft at the centre
    legs = "go north 5'\ngo up 12 in from face\ngo north 10' up to centre 3ft\nends at open\n"
    assert end_of(laid(HEAD + legs, PARTS)) == (0, 180, 36)


def test_an_aim_after_a_leg_to_a_face_is_refused_where_the_elbow_would_move_it():
    with pytest.raises(BadInput, match=r"hangs on the elbow"):
        laid(HEAD + "go north 5'\ngo up 5' to face\ngo north 35' to invert 6ft\nends at open\n", PARTS)
    level = "go north 5' to face\ngo up to centre 5ft\nends at open\n"
    assert end_of(laid(HEAD + level, PARTS)) == (0, 66, 60)


def test_a_tee_reached_by_its_face_may_be_followed_by_an_aim():
    legs = "go north 5'\ngo up 2' to face\ntee east as B\ngo up to centre 5ft\nends at open\n"
    assert end_of(laid(HEAD + legs, PARTS)) == (0, 60, 60)


@pytest.mark.parametrize(
    "legs", ["go north 5' to face\ngo north 5'\n", "go north 5'\ngo north 5' from stop\n"], ids=["to", "from"]
)
def test_a_face_in_the_middle_of_a_straight_leg_is_refused(legs):
    with pytest.raises(BadInput, match=r"goes straight on there"):
        laid(HEAD + legs + "ends at open\n", PARTS)


def test_stations_count_what_faces_and_close_parts_add():
    start = LINE + "starts at open at 0, 0, 0 facing north station 10+00\n"
    # elbow at 6 ft (face 5'-6"), east 2 ft from its face is 30 in; station 10+20 is 20 ft of centre-line
    legs = (
        "go north 5'-6\" to face\ngo east 2' from face\ntee up as T\ngo east to station 10+20\nends at open\n"
    )
    assert end_of(laid(start + legs, PARTS)) == (240 - 72, 72, 0)
    close = "go north 5'\nflanges\nflanges\ngo north to station 10+20\nends at open\n"
    # the second pair stands two flanges and bare pipe beyond the first: the end is 20 ft off all the same
    assert end_of(laid(start + close, PARTS, exposed=2 * INCH)) == (0, 240, 0)


def test_a_station_on_a_slope_is_counted_in_plan():
    start = LINE + "starts at open at 0, 0, 0 station 0+00\n"
    graph = laid(start + "go north down 1:10 along to station 0+50\nends at open\n", PARTS)
    assert end_of(graph) == (0, 600, -60)


def test_a_slope_and_an_elevation_give_the_length():
    start = LINE + "starts at open at 0, 0, 0\n"
    legs = "go north down 1:100 along to centre -6 in\nends at open\n"
    assert end_of(laid(start + legs, PARTS)) == (0, 600, -6)
    with pytest.raises(DrawingMismatch, match=r"does not lead to that elevation"):
        laid(start + "go north down 1:100 along to centre 6 in\nends at open\n", PARTS)


def test_going_up_to_an_invert_below_is_refused():
    with pytest.raises(DrawingMismatch, match=r"does not lead to that invert"):
        laid(HEAD + "go north 5'\ngo up to invert -5ft\nends at open\n", PARTS)


def test_a_riser_after_a_slope_reaches_its_elevation_and_shows_its_leftover():
    start = LINE + "starts at open at 0, 0, 0\n"
    graph = laid(start + "go north 10' down 1:50 in plan\ngo up to centre 4ft\nends at open\n", PARTS)
    assert end_of(graph) == (0, 120, 48)
    # a 90 turned up from a slope of 1:50 lacks atan(1/50)
    assert graph.turns[0].leftover_deg == pytest.approx(math.degrees(math.atan(0.02)))


# ------------------------------------------------------------------ offsets
@pytest.mark.parametrize("word", ["tee up as B\n", "coupling\n", ""])
def test_nothing_stands_on_the_slant_of_an_offset(word):
    with pytest.raises(BadInput, match=r"second elbow"):
        laid(HEAD + f"go north 5'\noffset west 4' with 45\n{word}ends at open\n", PARTS)


# ------------------------------------------------------------------ spigots and open ends
def test_a_pipe_meets_a_standing_spigot_by_a_coupling():
    # spigot end at 0, the stop 3 in inside the face: the other face is 1/4 + 3 1/4 = 3 1/2 in off
    graph = laid(
        LINE + 'starts at spigot fixed "stub" at 0, 0, 0 facing north\ngo north 5\'\nends at open\n', PARTS
    )
    run = graph.runs["L/R1"]
    assert graph.parts[run.a[0]].kind is PartKind.COUPLING
    assert run.off_a == pytest.approx(3.5 * INCH)
    assert graph.parts[run.a[0]].centre == pytest.approx((0, 0.25 * INCH, 0))
    assert [c.tie for c in graph.connections] == [Tie.CEMENTED]
    said = laid(
        LINE
        + 'starts at spigot fixed "stub" at 0, 0, 0 facing north\ncoupling\ngo north 5\'\nends at open\n',
        PARTS,
    )
    assert said.parts["L/C1"].centre == pytest.approx((0, 0.25 * INCH, 0))
    assert len(said.connections) == 1
    assert len(said.runs) == 1


def test_a_part_with_spigot_ends_gets_couplings_where_pipe_leads_to_it():
    meter = tagged(
        "other", "FM-1", ends="spigot spigot", depth_1="", depth_2="", reach_1="9 in", reach_2="9 in"
    )
    graph = laid(HEAD + "go north 5'\nput \"FM-1\"\ngo north 5'\nends at open\n", [*PARTS, meter])
    first, second = graph.runs.values()
    assert first.off_b == second.off_a == pytest.approx((9 + 0.25 + 3.25) * INCH)
    assert sum(c.tie is Tie.CEMENTED for c in graph.connections) == 2
    with pytest.raises(BadInput, match=r"two spigots"):
        laid(
            LINE + 'starts at spigot fixed "s" at 0, 0, 0 facing north\nput "FM-1"\nends at open\n',
            [*PARTS, meter],
        )


def test_a_part_left_open_has_no_joint_there():
    graph = laid(HEAD + 'go north 5\'\nput "V-1"\nends at open\n', [*PARTS, tagged("valve", "V-1")])
    assert end_of(graph) == (0, 65, 0)
    assert not [c for c in graph.connections if c.tie is Tie.CEMENTED]
    assert len(graph.runs) == 1


# ------------------------------------------------------------------ tagged parts
def test_a_tagged_elbow_wants_to_know_which_way_it_turns():
    e9 = elbow("6in", "6 in", "3 in", tag="E-9", count="1", measured="1")
    with pytest.raises(BadInput, match=r"which way E-9 turns"):
        laid(HEAD + 'go north 5\'\nput "E-9"\nends at open\n', [*PARTS, e9])
    # a skew next leg: its rigid outlet is shown with what is left over
    graph = laid(HEAD + "go north 5'\nput \"E-9\"\ngo east 10' up 2% in plan\nends at open\n", [*PARTS, e9])
    assert graph.parts["L/P1"].port("b").out == pytest.approx(
        (1 / math.hypot(1, 0.02), 0, 0.02 / math.hypot(1, 0.02))
    )
    skew = laid(HEAD + "go north 5'\nput \"E-9\"\ngo east 10' north 3 in\nends at open\n", [*PARTS, e9])
    assert [t.leftover_deg for t in skew.turns] == pytest.approx([math.degrees(math.atan(3 / 120))])
    # an aim: the way of the next leg hangs on where the elbow stands
    aim = laid(
        HEAD + "go north 5'\nput \"E-45\"\ngo north 10' up to centre 10ft\nends at open\n",
        [*PARTS, elbow("6in", "5 in", "3 in", angle="45", tag="E-45", count="1", measured="1")],
    )
    assert end_of(aim) == (0, 180, 120)


def test_a_tagged_part_stands_in_one_place_only():
    with pytest.raises(BadInput, match=r"V-1 stands in the line already: line L, line.walk line 4"):
        laid(
            HEAD + 'go north 5\'\nput "V-1"\ngo north 5\'\nput "V-1"\ngo north 5\'\nends at open\n',
            [*PARTS, tagged("valve", "V-1")],
        )


def test_a_tagged_tee_is_not_walked_through_as_if_it_had_two_ends():
    t9 = tee("6in", "6 in", "3 in", tag="T-9", count="1", measured="1")
    with pytest.raises(BadInput, match=r"three ends"):
        laid(HEAD + "go north 5'\nput \"T-9\"\ngo north 5'\nends at open\n", [*PARTS, t9])


def test_a_tagged_reducer_may_be_walked_from_its_small_end():
    r1 = part(
        "reducer",
        "8in",
        size2="6in",
        tag="R-1",
        count="1",
        measured="1",
        reach_1="6 in",
        depth_1="4 in",
        reach_2="5 in",
        depth_2="3 in",
    )
    graph = laid(HEAD + "go north 5'\nput \"R-1\"\ngo north 5'\nends at open\n", [*PARTS, r1])
    first, second = graph.runs.values()
    assert (first.off_b, first.depth_b) == pytest.approx((5 * INCH, 3 * INCH))
    assert (second.off_a, second.depth_a) == pytest.approx((6 * INCH, 4 * INCH))
    assert second.size.text == "8 in"


# ------------------------------------------------------------------ slopes
def test_a_tee_straight_on_may_stand_on_a_slope():
    start = LINE + "starts at open at 0, 0, 0\n"
    graph = laid(start + "go north 10' down 1:15 in plan\ntee north as B\ngo west 5'\nends at open\n", PARTS)
    assert graph.parts["L/T1"].port("c").out == pytest.approx((-1, 0, 0))


def test_a_branch_named_up_on_a_slope_leans_and_its_line_shows_the_leftover():
    start = LINE + "starts at open at 0, 0, 0\n"
    branch = "line B size 6in pipe pvc sch80\nstarts at branch B facing up\ngo up 5'\nends at open\n"
    graph = laid(
        start
        + "go north 10' down 1:50 in plan\ntee up as B\ngo north 10' down 1:50 in plan\nends at open\n"
        + branch,
        PARTS,
    )
    angle = math.atan(0.02)
    assert graph.parts["L/T1"].port("c").out == pytest.approx((0, math.sin(angle), math.cos(angle)))
    assert [(t.line, t.part, t.fitting_deg) for t in graph.turns] == [("B", "L/T1", 0.0)]
    assert graph.turns[0].leftover_deg == pytest.approx(math.degrees(angle))


def test_an_eccentric_reducer_on_a_slope_shifts_square_to_its_axis():
    start = LINE + "starts at open at 0, 0, 0\n"
    r = part("reducer", "6in", size2="4in", reach_1="6 in", depth_1="3 in", reach_2="5 in", depth_2="2 in")
    graph = laid(
        start + "go north 100 in down 1:50 in plan\nreduce to 4in eccentric flat top\n"
        "go north 10' down 1:50 in plan\nends at open\n",
        [*PARTS, r],
    )
    shift = next(p for p in graph.parts.values() if p.kind is PartKind.REDUCER).port("b").shift
    angle = math.atan(0.02)
    # half the difference of the bores, 3 in and 2 in here
    assert shift == pytest.approx((0, 0.5 * INCH * math.sin(angle), 0.5 * INCH * math.cos(angle)))
    assert end_of(graph)[2] == pytest.approx(-220 * 0.02 + 0.5 * math.cos(angle), abs=1e-6)


def test_flanges_out_of_line_show_their_kink():
    graph = laid(HEAD + "go north 5'\nflanges\ngo north 10' up 3 in\nends at open\n", PARTS)
    assert graph.turns[0].part == "L/F2"
    assert graph.turns[0].leftover_deg == pytest.approx(math.degrees(math.atan(3 / 120)))


# ------------------------------------------------------------------ loops and short lines
def test_a_line_that_ends_at_its_own_branch_closes_with_a_tie_at_the_tee():
    square = "go north 5'\ntee west as R-1\ngo north 10'\ngo west 10'\ngo south 10'\ngo east 10'\n"
    square += "ends at branch R-1\n"
    graph = laid(HEAD + square, PARTS)
    assert graph.lines["L"].closed
    assert list(graph.runs.values())[-1].b == ("L/T1", "c")
    with pytest.raises(DrawingMismatch, match=r"still wants .* north"):
        laid(HEAD + square.replace("go south 10'", "go south 10'-6\""), PARTS)


def test_a_line_of_parts_without_a_leg():
    graph = laid(
        LINE + 'starts at socket fixed "wall" at 0, 0, 0 facing north\nends at cap\n',
        [part("cap", "6in", ends="socket closed", depth_1="3 in", reach_1="3 in")],
        exposed=2 * INCH,
    )
    run = graph.runs["L/R1"]
    assert run.close
    assert run.face_to_face == pytest.approx(2 * INCH)
