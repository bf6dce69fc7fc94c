"""Walks laid in space: where places stand, which fitting serves a turn, what contradicts the drawing."""

import math

import pytest

from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.graph import Tie, Wait
from lineproof.job.parts import PartKind
from rigs import FOOT, INCH, elbow, flange, laid, part, tee

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
E90 = elbow("6in", "6 in", "3 in")
E45 = elbow("6in", "5 in", "3 in", angle="45")


def centres(graph, kind):
    return [p.centre for p in graph.parts.values() if p.kind is kind]


def near(got, wanted):
    return all(math.isclose(a, b, abs_tol=1e-9) for a, b in zip(got, wanted, strict=True))


def test_centre_to_centre_puts_elbows_where_the_drawing_has_them():
    graph = laid(HEAD + "go north 10'\ngo east 4'\ngo up 6'\nends at open\n", [E90])
    assert near(centres(graph, PartKind.ELBOW)[0], (0, 10 * FOOT, 0))
    assert near(centres(graph, PartKind.ELBOW)[1], (4 * FOOT, 10 * FOOT, 0))
    runs = list(graph.runs.values())
    assert [round(r.cc / FOOT, 9) for r in runs] == [10, 4, 6]
    assert near(runs[2].way, (0, 0, 1))


def test_to_face_and_to_stop_measure_to_the_fitting():
    face = laid(HEAD + "go north 10' to face\ngo east 4'\nends at open\n", [E90])
    assert near(centres(face, PartKind.ELBOW)[0], (0, 10 * FOOT + 6 * INCH, 0))
    stop = laid(HEAD + "go north 10' to stop\ngo east 4'\nends at open\n", [E90])
    assert near(centres(stop, PartKind.ELBOW)[0], (0, 10 * FOOT + 3 * INCH, 0))


def test_from_face_measures_from_the_fitting_behind():
    graph = laid(HEAD + "go north 10'\ngo east 4' from face\ngo north 2'\nends at open\n", [E90])
    assert near(centres(graph, PartKind.ELBOW)[1], (4 * FOOT + 6 * INCH, 10 * FOOT, 0))


def test_a_dimension_to_an_unmeasured_face_is_not_exact():
    graph = laid(HEAD + "go north 10' to face\ngo east 4'\nends at open\n")
    assert [r.exact for r in graph.runs.values()] == [False, True]
    assert graph.lines["L"].closed is None


@pytest.mark.parametrize(
    ("leg", "vector"),
    [
        ("go north 35' down 1:100 along", (0, 35 / math.hypot(1, 0.01), -0.35 / math.hypot(1, 0.01))),
        ("go north 35' down 1:100 in plan", (0, 35, -0.35)),
        ("go north 10' west 6' up 8'", (-6, 10, 8)),
    ],
)
def test_sloped_and_rolling_legs_by_hand_trigonometry(leg, vector):
    # trigonometry by hand; a slope is rise over level run
    graph = laid(HEAD + f"go north 2'\n{leg}\nends at open\n")
    end = next(p for p in graph.parts.values() if p.name == "open end")
    assert near([c / FOOT for c in end.centre], (vector[0], 2 + vector[1], vector[2]))


def test_offset_finds_its_advance_and_comes_back_to_its_heading():
    # 45 degree offset: travel = 1.41421 x true offset, advance = true offset (trade rule, exact trigonometry)
    graph = laid(HEAD + "go north 5'\noffset west 4' up 3' with 45\ngo north 5'\nends at open\n", [E45])
    fact = graph.offsets[0]
    assert math.isclose(fact.true_offset, 5 * FOOT)
    assert math.isclose(fact.advance, 5 * FOOT)
    assert math.isclose(fact.travel, 5 * FOOT * 1.41421, rel_tol=1e-5)
    assert math.isclose(math.degrees(fact.roll_angle), 53.13, abs_tol=0.01)  # 3-4-5 triangle
    end = next(p for p in graph.parts.values() if p.name == "open end")
    assert near([c / FOOT for c in end.centre], (-4, 15, 3))
    assert [p.angle_deg for p in graph.parts.values() if p.kind is PartKind.ELBOW] == [45, 45]
    assert graph.turns == ()


def test_an_angle_without_a_fitting_keeps_its_choices():
    graph = laid(HEAD + "go north 10'\ngo north 3' east 10'\nends at open\n", [E90])
    turn = graph.turns[0]
    assert turn.fitting_deg is None
    assert math.isclose(turn.angle_deg, math.degrees(math.atan2(10, 3)))
    assert 90 in turn.choices
    assert 45 in turn.choices


def test_an_angle_made_by_a_fitting_in_hand_is_served():
    sixty = elbow("6in", "6 in", "3 in", angle="60")
    graph = laid(HEAD + "go north 10'\ngo north 1' east 1.7320508ft\nends at open\n", [E90, sixty])
    assert [p.angle_deg for p in graph.parts.values() if p.kind is PartKind.ELBOW] == [60]


def test_a_ninety_on_a_sloped_leg_leaves_its_angle_at_the_outlet():
    graph = laid(HEAD + "go north 10'\ngo up 4'\ngo north 20' down 1:50 along\nends at open\n", [E90])
    turn = graph.turns[0]
    assert turn.fitting_deg == 90
    assert math.isclose(turn.leftover_deg, math.degrees(math.atan(0.02)), rel_tol=1e-6)
    elbow_part = graph.parts[turn.part]
    assert near(elbow_part.port("b").out, (0, 1, 0))  # the fitting is rigid; the leg deviates


def test_the_given_end_is_checked_with_its_vector():
    with pytest.raises(DrawingMismatch) as error:
        laid(HEAD + "go north 10'\ngo east 4'\nends at flange fixed \"Q\" at 4'-2\", 10', 0\n", [E90])
    assert '2" east' in str(error.value)
    assert error.value.place.line == 5


@pytest.mark.parametrize(("off", "closes"), [('1/16"', True), ('1/4"', False)])
def test_the_closing_tolerance_is_half_a_step_a_dimension(off, closes):
    walk = HEAD + f"go north 10'\ngo east 4'\nends at flange fixed \"Q\" at 4', 10', {off}\n"
    if closes:
        assert laid(walk, [E90]).lines["L"].closed is True
    else:
        with pytest.raises(DrawingMismatch):
            laid(walk, [E90])


def test_tee_branch_starts_another_line_at_its_centre():
    walk = (
        HEAD + "go north 10'\ntee west 4in as L2\ngo north 5'\nends at cap\n"
        "line L2 size 4in pipe pvc sch80\nstarts at branch L2\ngo west 6'\nends at open\n"
    )
    graph = laid(walk, [tee("6in", "6 in", "3 in", size2="4in")])
    run = graph.runs["L2/R1"]
    assert near(run.start, (0, 10 * FOOT, 0))
    assert run.a[0] == "L/T1"
    assert run.a[1] == "c"
    assert math.isclose(run.off_a, 6 * INCH)
    assert graph.parts["L/T1"].port("c").size.text == "4 in"


def test_a_branch_line_may_stand_before_the_line_that_opens_it():
    walk = (
        "line L2 size 4in pipe pvc sch80\nstarts at branch L2\ngo west 6'\nends at open\n"
        + HEAD + "go north 10'\ntee west 4in as L2\ngo north 5'\nends at cap\n"
    )  # fmt: skip
    assert list(laid(walk).lines) == ["L2", "L"]


def test_a_tee_may_be_left_by_its_branch_or_entered_by_it():
    through = laid(HEAD + "go north 10'\ntee north as L2\ngo west 4'\nends at open\n")
    t = through.parts["L/T1"]
    assert near(t.port("c").out, (-1, 0, 0))
    assert near(t.port("b").out, (0, 1, 0))
    bull = laid(HEAD + "go north 10'\ntee west as L2\ngo east 4'\nends at open\n")
    t = bull.parts["L/T1"]
    assert near(t.port("c").out, (0, -1, 0))
    assert {tuple(round(x) for x in t.port(n).out) for n in "ab"} == {(1, 0, 0), (-1, 0, 0)}


def test_two_lines_may_not_use_one_branch_and_an_unknown_branch_is_named():
    base = HEAD + "go north 10'\ntee west as L2\ngo north 5'\nends at cap\n"
    twice = base + "line A size 6in pipe pvc sch80\nstarts at branch L2\ngo west 6'\nends at open\n"
    twice += "line B size 6in pipe pvc sch80\nstarts at branch L2\ngo west 6'\nends at open\n"
    with pytest.raises(DrawingMismatch, match="used by two lines"):
        laid(twice)
    with pytest.raises(BadInput, match="no tee or saddle carries the label L9"):
        laid(base + "line A size 6in pipe pvc sch80\nstarts at branch L9\ngo west 6'\nends at open\n")


def test_lines_that_wait_for_each_other_are_named():
    walk = (
        "line A size 6in pipe pvc sch80\nstarts at branch X\n"
        "go west 6'\ntee up as Y\ngo west 1'\nends at open\n"
        "line B size 6in pipe pvc sch80\nstarts at branch Y\n"
        "go up 6'\ntee west as X\ngo up 1'\nends at open\n"
    )
    with pytest.raises(BadInput, match="wait for each other"):
        laid(walk)


def test_a_flange_that_stands_gets_our_companion_flange_behind_its_gasket():
    graph = laid(HEAD + "go north 10'\nends at open\n", [flange("6in", "3 1/2 in", "3 in")], gasket=INCH / 8)
    tie = graph.connections[0]
    assert tie.tie is Tie.FLANGED
    run = graph.runs["L/R1"]
    assert math.isclose(run.off_a, 3.5 * INCH + INCH / 8)
    assert run.depth_a == pytest.approx(3 * INCH)


def test_a_flanged_valve_gets_two_companions_and_bolts_straight_to_a_flange_beside_it():
    valve = part(
        "valve",
        "6in",
        tag="V-1",
        count="1",
        measured="1",
        ends="flange flange",
        reach_1="8 in",
        reach_2="8 in",
        faces="flat flat",
    )
    spaced = laid(HEAD + "go north 10'\nput \"V-1\"\ngo north 10'\nends at open\n", [valve])
    assert sum(p.kind is PartKind.FLANGE for p in spaced.parts.values()) == 3
    close = laid(HEAD + 'put "V-1"\ngo north 10\'\nends at open\n', [valve], gasket=INCH / 8)
    assert sum(p.kind is PartKind.FLANGE for p in close.parts.values()) == 1
    assert near(close.parts["L/V1"].centre, (0, 8 * INCH + INCH / 8, 0))


def test_a_bushing_sits_in_the_socket_before_it():
    bush = part(
        "bushing", "6in", size2="4in", ends="spigot socket", reach_1="3 in", reach_2="1 in", depth_2="2 in"
    )
    walk = (
        HEAD + "go north 10'\ntee west as L2\ngo north 5'\nends at cap\n"
        "line L2 size 6in pipe pvc sch80\nstarts at branch L2\n"
        "reduce to 4in bushing\ngo west 6'\nends at open\n"
    )
    graph = laid(walk, [tee("6in", "6 in", "3 in"), bush])
    tie = next(c for c in graph.connections if c.tie is Tie.CEMENTED)
    assert tie.a == ("L/T1", "c")
    bushing = graph.parts[tie.b[0]]
    assert near(bushing.centre, (-6 * INCH, 10 * FOOT, 0))  # 6 in face, 3 in of spigot gone in, 3 in of body
    assert graph.runs["L2/R1"].size.text == "4 in"


def test_eccentric_reducer_moves_the_centre_line_to_its_flat_side():
    walk = HEAD + "go north 10'\nreduce to 4in eccentric flat top\ngo north 5'\nends at open\n"
    graph = laid(walk)
    end = next(p for p in graph.parts.values() if p.name == "open end")
    # bores of the rig are half the nominal size: (3 in - 2 in)/2 up
    assert near(end.centre, (0, 15 * FOOT, 0.5 * INCH))


def test_stations_and_inverts_place_a_main():
    walk = (
        "line M size 6in pipe pvc sch80\n"
        'starts at socket fixed "wall" at 0, 0, 100ft facing north station 10+00\n'
        "go north to station 11+20 down 1:100 in plan\n"
        "go north 50' to invert 97.875ft\nends at open\n"
    )
    graph = laid(walk)
    end = next(p for p in graph.parts.values() if p.name == "open end")
    # 120 ft at 1:100 falls 1.2 ft; the invert lies half the rig's bore (1.5 in = 0.125 ft) below the centre
    assert near([c / FOOT for c in end.centre], (0, 170, 98.0))


def test_no_row_means_wait_and_three_measured_stand_for_a_lot():
    none = laid(HEAD + "go north 10'\ngo east 4'\nends at open\n")
    assert {p.wait for p in none.parts.values() if p.kind is PartKind.ELBOW} == {Wait.NO_ROW}
    two = laid(
        HEAD + "go north 10'\ngo east 4'\nends at open\n", [elbow("6in", "6 in", "3 in", measured="2")]
    )
    assert {p.wait for p in two.parts.values() if p.kind is PartKind.ELBOW} == {Wait.MEASURE_MORE}
    blank = laid(HEAD + "go north 10'\ngo east 4'\nends at open\n", [elbow("6in", "6 in", "", measured="3")])
    assert {p.wait for p in blank.parts.values() if p.kind is PartKind.ELBOW} == {Wait.NOT_MEASURED}


def test_lots_are_dealt_out_by_their_count_and_run_out():
    rows = [
        elbow("6in", "6 in", "3 in", lot="A", count="1", measured="1"),
        elbow("6in", "7 in", "3 in", lot="B", count="1", measured="1"),
    ]
    graph = laid(HEAD + "go north 10'\ngo east 4'\ngo north 4'\ngo east 4'\nends at open\n", rows)
    elbows = [p for p in graph.parts.values() if p.kind is PartKind.ELBOW]
    assert [p.lot for p in elbows] == ["A", "B", "B"]
    assert elbows[2].wait is Wait.LOT_USED_UP


def test_fabricated_fittings_are_measured_one_by_one():
    rows = [elbow("6in", "6 in", "3 in", tag="FB-1", fabricated="yes", measured="1", count="1")]
    graph = laid(HEAD + "go north 10'\ngo east 4'\ngo north 4'\nends at open\n", rows)
    elbows = [p for p in graph.parts.values() if p.kind is PartKind.ELBOW]
    assert [p.wait for p in elbows] == [Wait.NONE, Wait.ONE_BY_ONE]


@pytest.mark.parametrize(
    ("legs", "says"),
    [
        ("go north 10'\ngo south 4'\nends at open\n", "straight back"),
        ("go east 10'\nends at open\n", "leaves at 90.0 degrees"),
        ("go north 10'\nput \"V-9\"\ngo north 1'\nends at open\n", "no part with the tag V-9"),
        ("go north 10'\nreduce to 6in\ngo north 1'\nends at open\n", "is 6 in already"),
        ("go north 10'\nreduce to 4in bushing\ngo north 1'\nends at open\n", "follows a pipe"),
        ("go north 10'\ntee south as X\ngo north 1'\nends at open\n", "points back"),
        ("go north 10'\noffset north 2' with 45\ngo north 1'\nends at open\n", "across the heading"),
        ("go north 10'\noffset west 2' with 45\ngo up 1'\nends at open\n", "the way it was heading"),
        ("go up to centre 2ft\nends at open\n", "leaves at 90.0"),
        ("go north 10'\ngo up to centre -2ft\nends at open\n", "lies 2'-0\" behind"),
        ("go north to station 12+40\nends at open\n", "the start has none"),
    ],
)
def test_what_cannot_be_laid_is_said_with_its_line(legs, says):
    with pytest.raises((BadInput, DrawingMismatch)) as error:
        laid(HEAD + legs)
    assert says in str(error.value)
    assert error.value.place.file == "line.walk"
    assert error.value.place.line >= 3


def test_a_spool_keeps_the_leg_that_began_in_it():
    walk = HEAD + "go north 10'\nspool \"TD\"\ngo east 4'\ngo down 2'\nspool ends\nends at open\n"
    graph = laid(walk, [E90])
    assert [r.spool for r in graph.runs.values()] == ["", "TD", "TD"]


def test_unions_keep_their_kind_and_fabricated_tees_their_tag():
    walk = HEAD + "go north 5'\nunion\ngo north 5'\nringed union\ngo north 5'\n"
    walk += "tee up as X\ngo north 5'\nends at open\n"
    made = tee("6in", "6 in", "3 in", tag="FT-1", fabricated="yes", measured="1", count="1")
    graph = laid(walk, [made])
    assert [p.style for p in graph.parts.values() if p.kind is PartKind.UNION] == ["union", "ringed union"]
    t = graph.parts["L/T1"]
    assert (t.name, t.label) == ("FT-1", "X")


def test_a_blind_on_a_ringed_face_closes_by_its_ring():
    ring = flange("6in", "3 1/2 in", "3 in").replace('"flat"', '"ringed"')
    graph = laid(HEAD + "go north 5'\nends at test blind\n", [ring])
    assert [c.tie for c in graph.connections][-1] is Tie.RINGED


def test_an_end_point_needs_a_start_point():
    walk = "line L size 6in pipe pvc sch80\nstarts at flange fixed \"P\" facing north\ngo north 10'\n"
    with pytest.raises(BadInput, match="no start point"):
        laid(walk + "ends at flange fixed \"Q\" at 0, 10', 0\n")


def test_what_follows_a_bushing_is_measured_from_the_fitting_it_sits_in():
    bush = part(
        "bushing", "6in", size2="4in", ends="spigot socket", reach_1="3 in", reach_2="1 in", depth_2="2 in"
    )
    walk = (
        HEAD + "go north 10'\ntee west as L2\ngo north 5'\nends at cap\n"
        "line L2 size 6in pipe pvc sch80\nstarts at branch L2\nreduce to 4in bushing\n"
        "go west 6'\ngo north 2'\nends at open\n"
    )
    graph = laid(walk, [tee("6in", "6 in", "3 in"), bush, elbow("4in", "4 in", "2 in")])
    assert near(centres(graph, PartKind.ELBOW)[0], (-6 * FOOT, 10 * FOOT, 0))
    run = graph.runs["L2/R1"]
    # by hand: 6 in to the tee's face, 3 in of spigot inside and 3 in out, 1 in to the bushing's mouth
    assert math.isclose(run.off_a, (6 + 1) * INCH)
    assert math.isclose(run.face_to_face, (72 - 7 - 4) * INCH)
