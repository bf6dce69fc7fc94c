"""The tape list says what waits and why; sticks count field pieces; names are found as printed."""

import pytest

from lineproof.floor.errors import BadInput
from lineproof.job.graph import Wait
from lineproof.plan.names import face_name, faces_of, find_face, kind_words
from lineproof.plan.tape import dimensions_needed
from rigs import INCH, coupling, elbow, flange, part, stock, tee, work_at

HEAD = 'line L size 6in pipe pvc sch80\nstarts at flange fixed "P-1" at 0, 0, 0 facing north\n'
LEGS = "go north 10'\ngo east 4'\ngo north 10'\ngo east 4'\nends at open\n"
FLANGE = flange("6in", "3 1/2 in", "3 in")


def test_one_row_a_type_and_lot_with_the_pieces_that_wait(tmp_path):
    w = work_at(tmp_path, HEAD + LEGS, [FLANGE], toml=stock("6in"))
    (row,) = w.tape.rows
    assert row.why is Wait.NO_ROW
    assert row.places == ("L/E1", "L/E2", "L/E3")
    assert row.pieces == ("L/A", "L/B", "L/C", "L/D")
    assert row.wants == 3
    assert [dimensions_needed(o) for o in row.outlets] == [("reach", "depth"), ("reach", "depth")]


def test_a_half_measured_row_says_what_is_blank(tmp_path):
    w = work_at(tmp_path, HEAD + LEGS, [FLANGE, elbow("6in", "6 in", "", measured="3")], toml=stock("6in"))
    (row,) = w.tape.rows
    assert row.why is Wait.NOT_MEASURED
    assert dimensions_needed(row.outlets[0]) == ("depth",)


def test_fewer_than_three_of_a_lot_ask_for_more_but_two_of_two_will_do(tmp_path):
    two = elbow("6in", "6 in", "3 in", measured="2")
    w = work_at(tmp_path / "a", HEAD + LEGS, [FLANGE, two], toml=stock("6in"))
    assert w.tape.rows[0].why is Wait.MEASURE_MORE
    assert w.tape.rows[0].measured == 2
    all_two = [FLANGE, elbow("6in", "6 in", "3 in", measured="2", count="2")]
    legs = "go north 10'\ngo east 4'\ngo north 10'\nends at open\n"
    assert work_at(tmp_path / "b", HEAD + legs, all_two, toml=stock("6in")).tape.rows == ()


def test_each_fabricated_fitting_is_a_row_of_its_own(tmp_path):
    made = elbow("6in", "6 in", "3 in", tag="FB-1", fabricated="yes", measured="1", count="1")
    w = work_at(tmp_path, HEAD + LEGS, [FLANGE, made], toml=stock("6in"))
    assert [r.tag for r in w.tape.rows] == ["L/E2", "L/E3"]
    assert {r.why for r in w.tape.rows} == {Wait.ONE_BY_ONE}


def test_a_standing_socket_waits_for_its_depth(tmp_path):
    walk = (
        'line L size 6in pipe pvc sch80\nstarts at socket fixed "W-1" at 0,0,0 facing north\ngo north 9\'\n'
    )
    w = work_at(tmp_path, walk + "ends at open\n", [], toml=stock("6in"))
    assert w.tape.rows[0].tag == "W-1"
    row = part(
        "other", "6in", tag="W-1", count="1", measured="1", ends="socket", reach_1="0 in", depth_1="3 in"
    )
    done = work_at(tmp_path / "b", walk + "ends at open\n", [row], toml=stock("6in"))
    assert done.tape.rows == ()
    assert done.cutting.pieces[0].cut == pytest.approx((108 + 3) * INCH)


def test_metric_fittings_show_a_rough_length_that_is_never_cut_from(tmp_path):
    # IS 7834: 90 degree elbow d110, Z = 56 mm (read in a digest); unmeasured, so no piece is cut from it
    walk = 'line M size d110 pipe pvc pn10\nstarts at socket fixed "W" at 0,0,0 facing north\n'
    w = work_at(tmp_path, walk + "go north 3 m\ngo east 2 m\nends at open\n", [], units="metric")
    row = next(r for r in w.tape.rows if r.kind == "elbow")
    assert row.rough == pytest.approx(0.056)
    assert row.rough_cells
    assert all(p.cut is None for p in w.cutting.pieces)


def test_gaps_to_tape_are_named_by_their_faces(tmp_path):
    legs = "go north 10' field\ngo east 4'\nends at open\n"
    w = work_at(tmp_path, HEAD + legs, [FLANGE, elbow("6in", "6 1/2 in", "3 in")], toml=stock("6in"))
    (gap,) = w.tape.gaps
    assert (gap.face_a, gap.face_b) == ("F1", "E1")
    assert gap.about == pytest.approx((120 - 0.125 - 3.5 - 6.5) * INCH)


def test_sticks_count_field_pieces_and_leave_waiting_ones_out(tmp_path):
    legs = "go north 12' field\ngo east 12'\ngo north 5'\ntee up as T\ngo north 5'\nends at open\n"
    rows = [FLANGE, elbow("6in", "6 1/2 in", "3 in"), coupling("6in", "3 1/4 in", "3 in")]
    (plan,) = work_at(tmp_path, HEAD + legs, rows, toml=stock("6in")).sticks
    assert plan.later == {"L/A"}
    assert plan.waiting == ("L/C", "L/D")  # the tee is unmeasured
    assert plan.needed == 2  # 12 ft and 12 ft do not go into one 20 ft stick
    assert plan.bound == 2


def test_kept_offcuts_are_used_before_a_new_stick(tmp_path):
    legs = "go north 5'\ngo east 30 in\nends at open\n"
    rows = [FLANGE, elbow("6in", "6 1/2 in", "3 in")]
    toml = stock("6in") + '\n[[offcuts]]\nid = "O1"\nstock = "S6in"\nlength = "5 ft"\n'
    (plan,) = work_at(tmp_path, HEAD + legs, rows, toml=toml).sticks
    assert plan.needed == 1
    plenty = toml + '\n[[offcuts]]\nid = "O2"\nstock = "S6in"\nlength = "5 ft"\n'
    (plan,) = work_at(tmp_path / "b", HEAD + legs, rows, toml=plenty).sticks
    assert plan.needed == 0


def test_names_are_found_as_printed(tmp_path):
    valve = part(
        "valve", "6in", tag="V-1", count="1", measured="1", ends="socket socket",
        reach_1="8 in", reach_2="8 in", depth_1="3 in", depth_2="3 in",
    )  # fmt: skip
    legs = "go north 10'\nput \"V-1\"\ngo north 4'\ntee up as X-9\ngo north 4'\nends at cap\n"
    w = work_at(tmp_path, HEAD + legs, [valve, tee("6in", "6 1/2 in", "3 in")], toml=stock("6in"))
    parts = faces_of(w.graph, "L")
    for name, wanted in (("V-1", "L/V1"), ("v-1", "L/V1"), ("T1", "L/T1"), ("X-9", "L/T1"), ("p-1", "L/X1")):
        assert find_face(parts, "L", name) == wanted
    assert face_name(parts["L/V1"]) == "V-1"
    assert kind_words(parts["L/T1"]) == "tee, 6 in"
    with pytest.raises(BadInput, match="no face named 'Q'"):
        find_face(parts, "L", "Q")
