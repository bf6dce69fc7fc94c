"""Pieces against arithmetic done by hand from the drawing and the tape."""

import math

import pytest

from lineproof.floor.errors import BadInput
from lineproof.plan.model import JointKind, Short, State
from rigs import FOOT, INCH, coupling, elbow, flange, part, stock, tee, work_at

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    tee("6in", "6 1/2 in", "3 in"),
]
GASKET = '\n[[gaskets]]\nsize = "6in"\nface = "full"\nthickness = "1/8 in"\n'
STOCK = stock("6in") + GASKET


def made(tmp_path, legs, parts=PARTS, **more):
    more.setdefault("toml", STOCK)
    return work_at(tmp_path / "job", HEAD + legs, parts, **more).cutting


def test_cut_is_centre_to_centre_less_take_outs_less_gasket(tmp_path):
    # by hand: 10'-0" less gasket 1/8", flange 3 1/2" - 3" = 1/2", elbow 6 1/2" - 3" = 3 1/2" -> 115 7/8"
    piece = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n").pieces[0]
    assert piece.state is State.CUT
    assert piece.cut == pytest.approx(115.875 * INCH)
    # mouth to mouth: 120 - 1/8 - 3 1/2 - 6 1/2
    assert piece.face_to_face == pytest.approx(109.875 * INCH)
    assert piece.centre_to_centre == pytest.approx(10 * FOOT)
    assert piece.a.depth == piece.b.depth == pytest.approx(3 * INCH)
    assert piece.b.second_mark == pytest.approx(5 * INCH)


def test_the_stop_gap_is_left_at_each_socket(tmp_path):
    piece = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n", stop_gap="1/8 in").pieces[0]
    assert piece.cut == pytest.approx((115.875 - 0.25) * INCH)


def test_an_open_end_has_no_joint_and_no_depth(tmp_path):
    cutting = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n")
    last = cutting.pieces[-1]
    assert last.b.depth == 0
    assert not last.b.bevel
    assert last.cut == pytest.approx((48 - 3.5) * INCH)
    assert len(cutting.joints) == 3


def test_a_field_piece_is_listed_long(tmp_path):
    piece = made(tmp_path, "go north 10' field\ngo east 4'\nends at open\n").pieces[0]
    assert piece.state is State.FIELD
    assert piece.cut == pytest.approx(119.875 * INCH)


def test_taping_recuts_from_the_gap_and_the_two_depths(tmp_path):
    taped = 'L,P,E1,"9\'-1 5/8""",lead,2027-05-01 09:00,\n'
    with pytest.raises(BadInput, match=r"has no face named .E7"):
        made(tmp_path, "go north 10' field\ngo east 4'\nends at open\n", taped=taped.replace("E1", "E7"))
    taped = 'L,F1,E1,"9\'-1 5/8""",lead,2027-05-01 09:00,\n'
    piece = made(tmp_path, "go north 10' field\ngo east 4'\nends at open\n", taped=taped).pieces[0]
    assert piece.state is State.CUT
    assert piece.cut == pytest.approx((109.625 + 6) * INCH)
    assert piece.taped


def test_pieces_wait_for_unmeasured_fittings_and_say_which(tmp_path):
    cutting = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n", PARTS[1:])
    assert {p.state for p in cutting.pieces} == {State.WAIT}
    assert all(p.waits == ("L/E1",) and p.cut is None for p in cutting.pieces)
    assert len(cutting.joints) == 3  # joints are known before they can be cut


def test_long_leg_gets_as_few_couplings_as_its_sticks_allow(tmp_path):
    # 60' leg, 20' sticks: stop to stop 60' - 5/8" - open end; couplings add 1/2" each
    cutting = made(tmp_path, "go north 60'\nends at open\n")
    lengths = [p.cut / INCH for p in cutting.pieces]
    total = 720 - 0.125 - 0.5
    assert len(lengths) == 3
    assert lengths[:2] == pytest.approx([240, 240])
    assert sum(lengths) + 2 * 0.5 == pytest.approx(total)
    assert [p.whole for p in cutting.pieces] == [True, True, False]
    kinds = [j.kind for j in cutting.joints]
    assert len(kinds) == 5  # flange 1, two couplings 2 each, open end 0


def test_a_stick_that_is_trimmed_is_not_whole(tmp_path):
    cutting = made(tmp_path, "go north 60'\nends at open\n", trim="1/2 in")
    assert [p.whole for p in cutting.pieces] == [False, False, False, False]
    assert cutting.pieces[0].cut == pytest.approx(239 * INCH)


def test_a_short_rest_borrows_from_the_stick_before(tmp_path):
    # 40'-2": two sticks would leave about 1 in of pipe, less than two sockets and the bare pipe straps need
    cutting = made(tmp_path, "go north 40'-3\"\nends at open\n")
    last = cutting.pieces[-1]
    assert last.cut >= (3 + 3 + 2) * INCH - 1e-9
    assert len(cutting.pieces) == 3


@pytest.mark.parametrize("stretch", [(18, 22), (14, 20.5), (0, 19.5)])
def test_couplings_keep_off_the_stretch_without_joints(tmp_path, stretch):
    low, high = stretch
    cutting = made(tmp_path, f"go north 38'\nno joint {low}' to {high}'\nends at open\n")
    for part_id, c in cutting.couplings.items():
        at = c.centre[1] / FOOT
        reach = 3.25 / 12
        assert at + reach <= low + 1e-6 or at - reach >= high - 1e-6, part_id


def test_no_place_for_a_coupling_is_said(tmp_path):
    cutting = made(tmp_path, "go north 50'\nno joint 1' to 49'\nends at open\n")
    assert cutting.shortages[0].why is Short.NO_ROOM


def test_sockets_that_meet_are_named_with_the_shortest_nipple(tmp_path):
    cutting = made(tmp_path, "go north 10'\ngo east 12 in\ngo up 4'\nends at open\n")
    short = cutting.shortages[0]
    assert short.why is Short.MEET
    assert short.face_to_face == pytest.approx(-1 * INCH)  # 12 - 6 1/2 - 6 1/2
    assert short.shortest_nipple == pytest.approx((3 + 3 + 2) * INCH)
    close = made(tmp_path / "b", "go north 10'\ngo east 14 in\ngo up 4'\nends at open\n").shortages[0]
    assert close.why is Short.CLOSE


def test_belled_pipe_uses_one_bell_a_stick_and_lays_by_its_laying_length(tmp_path):
    belled = stock("6in", ends="cement bell", bell_depth="4 in", bell_reach="5 in") + GASKET
    cutting = made(tmp_path, "bells facing ahead\ngo north 58'-11\"\nends at open\n", toml=belled)
    # laying length 20' - 4" = 236"; 707 - 5/8 = 706 3/8: two whole sticks and 706 3/8 - 472 = 234 3/8
    lengths = [p.cut / INCH for p in cutting.pieces]
    assert lengths == pytest.approx([240, 240, 234.375])
    assert [p.b.bell for p in cutting.pieces] == [True, True, False]
    assert [j.kind for j in cutting.joints].count(JointKind.BELL) == 2
    assert cutting.couplings == {}


def test_the_last_belled_stick_gives_up_its_bell_and_may_be_too_short(tmp_path):
    # 235 3/8" are wanted for the end, a stick without its bell gives 240 - 5 = 235": one bell more
    belled = stock("6in", ends="cement bell", bell_depth="4 in", bell_reach="5 in") + GASKET
    cutting = made(tmp_path, "bells facing ahead\ngo north 59'\nends at open\n", toml=belled)
    assert [p.b.bell for p in cutting.pieces] == [True, True, True, False]
    laid = sum(p.cut for p in cutting.pieces) - 3 * 4 * INCH
    assert laid == pytest.approx((708 - 0.625) * INCH, abs=INCH / 16)


def test_a_gasket_bell_is_no_cemented_joint(tmp_path):
    belled = stock("6in", ends="gasket bell", bell_depth="4 in", bell_reach="5 in") + GASKET
    cutting = made(tmp_path, "bells facing ahead\ngo north 58'-11\"\nends at open\n", toml=belled)
    assert len(cutting.pieces) == 3
    assert [j.kind for j in cutting.joints] == [JointKind.SOCKET]  # the flange alone


def test_bells_facing_back_turn_the_sticks_round(tmp_path):
    belled = stock("6in", ends="cement bell", bell_depth="4 in", bell_reach="5 in") + GASKET
    cutting = made(tmp_path, "bells facing back\ngo north 58'-11\"\nends at open\n", toml=belled)
    assert [p.a.bell for p in cutting.pieces] == [False, True, True]
    assert [round(p.cut / INCH, 4) for p in cutting.pieces] == [234.375, 240, 240]


def test_overall_and_laying_length_are_two_ways_to_say_one_stick(tmp_path):
    overall = stock("6in", ends="cement bell", bell_depth="4 in", bell_reach="5 in") + GASKET
    laying = overall.replace("basis = 'overall'", "basis = 'laying'").replace("20 ft", "19.6666666667 ft")
    a = made(tmp_path / "a", "go north 58'-11\"\nends at open\n", toml=overall)
    b = made(tmp_path / "b", "go north 58'-11\"\nends at open\n", toml=laying)
    assert [p.cut for p in a.pieces] == pytest.approx([p.cut for p in b.pieces])


def test_the_carry_keeps_the_sum_within_half_a_step_and_restarts_at_a_turn(tmp_path):
    # three collinear pieces of x.04": each rounds down alone and drifts; the carry repairs it
    legs = (
        "go north 48.04 in\ntee west as A\ngo north 48.04 in\ntee west as B\ngo north 48.04 in\ntee up as C\n"
    )
    legs += "go north 48.04 in\ngo east 48.04 in\nends at open\n"
    cutting = made(tmp_path, legs)
    drift = 0.0
    for p in cutting.pieces[:4]:
        drift += p.cut - p.exact
        assert abs(drift) <= INCH / 32 + 1e-9
    assert abs(cutting.pieces[4].cut - cutting.pieces[4].exact) <= INCH / 32 + 1e-9


def test_rounding_restarts_at_fixed_faces(tmp_path):
    walk = 'line L size 6in pipe pvc sch80\nstarts at socket fixed "W" at 0,0,0 facing north\n'
    walk += 'go north 48.02 in\nends at socket fixed "X"\n'
    sockets = [
        part("other", "6in", tag=n, count="1", measured="1", ends="socket", reach_1="0 in", depth_1="3 in")
        for n in ("W", "X")
    ]
    cutting = work_at(tmp_path, walk, sockets, toml=STOCK).cutting
    assert abs(cutting.pieces[0].cut - cutting.pieces[0].exact) <= INCH / 32


def test_joining_temperature_only_changes_pieces_between_fixed_points(tmp_path):
    warm = STOCK + '\n[conditions]\ncut_temperature = "100 F"\njoined_temperature = "50 F"\n'
    free = made(tmp_path / "a", "go north 10'\ngo east 4'\nends at open\n", toml=warm).pieces[0]
    assert free.grown == 0
    tied = made(
        tmp_path / "b", "go north 10'\ngo east 4'\nends at flange fixed \"Q\" at 4', 10', 0\n", toml=warm
    ).pieces[0]
    # alpha x dT x L by hand with alpha 2.8e-5 to 3.4e-5 per F over 50 F on 115 7/8"
    assert 2.8e-5 * 50 * 115.875 <= tied.grown / INCH <= 3.4e-5 * 50 * 115.875


def test_runs_between_fixed_points_without_a_field_piece_are_named(tmp_path):
    end = "ends at flange fixed \"Q\" at 4', 10', 0\n"
    none = made(tmp_path / "a", "go north 10'\ngo east 4'\n" + end)
    assert none.untaped == (("L/R1", "L/R2"),)
    one = made(tmp_path / "b", "go north 10'\ngo east 4' field\n" + end)
    assert one.untaped == ()
    free = made(tmp_path / "c", "go north 10'\ngo east 4'\nends at open\n")
    assert free.untaped == ()


def test_a_closed_loop_through_two_tees_needs_one_field_piece(tmp_path):
    # fixed pump; tee A up to a bridge over to tee B: the loop A-B is closed by the bridge line
    walk = HEAD + "go north 5'\ntee up as A\ngo north 10'\ntee up as B\ngo north 3'\nends at open\n"
    walk += "line M size 6in pipe pvc sch80\nstarts at branch A\n"
    walk += "go up 4'\ngo north 10'\ngo down 4'\nends at branch B\n"
    cutting = work_at(tmp_path / "a", walk, PARTS, toml=STOCK).cutting
    assert {r for g in cutting.untaped for r in g} == {"L/R2", "M/R1", "M/R2", "M/R3"}
    relieved = work_at(
        tmp_path / "b", walk.replace("go up 4'\n", "go up 4' field\n"), PARTS, toml=STOCK
    ).cutting
    assert relieved.untaped == ()


@pytest.mark.parametrize(("turn", "degrees"), [("east", 90.0), ("west", 270.0), ("up", 0.0), ("down", 180.0)])
def test_rotation_marks_turn_clockwise_from_the_top_seen_along_the_walk(tmp_path, turn, degrees):
    piece = made(tmp_path, f"go north 10'\ngo {turn} 4'\nends at open\n").pieces[0]
    mark = piece.b.turned[0]
    assert math.degrees(mark.angle) == pytest.approx(degrees)
    assert mark.arc == pytest.approx(6.625 * INCH * math.pi * degrees / 360)


def test_rotation_on_a_riser_is_measured_from_plant_north(tmp_path):
    # a riser's top line is plant north; looking up along it, east lies left of north as on a star chart
    cutting = made(tmp_path, "go north 10'\ngo up 10'\ngo east 4'\nends at open\n")
    assert math.degrees(cutting.pieces[1].b.turned[0].angle) == pytest.approx(270)


def test_bolt_holes_straddle_the_centre_line(tmp_path):
    # class 150, 6 in: 8 holes, so the first stands 180/8 degrees off the top line
    piece = made(tmp_path, "go north 10'\nends at open\n").pieces[0]
    assert math.degrees(piece.a.turned[0].angle) == pytest.approx(22.5)


def test_mass_is_that_of_the_pipe_wall(tmp_path):
    piece = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n").pieces[0]
    ring = math.pi / 4 * ((6.625 * INCH) ** 2 - ((6.625 - 2 * 0.432) * INCH) ** 2)
    assert piece.mass == pytest.approx(ring * piece.cut * 1400, rel=0.03)  # rigid PVC 1.35 to 1.45 g/cm3


def test_two_stock_items_that_fit_must_be_told_apart(tmp_path):
    two = STOCK + stock("6in", id="other")
    assert {p.short for p in made(tmp_path / "a", "go north 30'\nends at open\n", toml=two).pieces} == {
        Short.NO_STOCK
    }
    named = two + '\n[[lines]]\nline = "L"\nstock = "other"\n'
    assert len(made(tmp_path / "b", "go north 30'\nends at open\n", toml=named).pieces) == 2


def test_unmeasured_bells_wait(tmp_path):
    belled = stock("6in", ends="cement bell") + GASKET
    cutting = made(tmp_path, "go north 58'-11\"\nends at open\n", toml=belled)
    assert cutting.pieces[0].short is Short.BELL
    assert cutting.pieces[0].cut is None


def test_spread_of_the_lot_goes_into_the_tolerance(tmp_path):
    loose = [elbow("6in", "6 1/2 in", "3 in", spread="1/4 in"), *PARTS[1:]]
    cutting = made(tmp_path, "go north 10'\ngo east 4'\nends at open\n", loose)
    assert cutting.pieces[0].tolerance == pytest.approx((1 / 16 + 1 / 8) * INCH)


def test_a_saddle_is_one_joint_and_keeps_couplings_away(tmp_path):
    legs = "go north 20'\nsaddle up 2in threaded as S1\ngo north 18'\nends at open\n"
    cutting = made(tmp_path, legs)
    assert [j.kind for j in cutting.joints].count(JointKind.SADDLE) == 1
    for c in cutting.couplings.values():
        assert abs(c.centre[1] - 20 * FOOT) > 3.25 * INCH
