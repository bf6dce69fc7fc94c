"""Sticks and fittings of the order list, counted by hand from the walk."""

import pytest

from lineproof.plan.order_rows import Code, Group
from order_rig import PARTS, held, ordered, the
from rigs import FOOT, elbow, part

CAPS = part("cap", "6in", ends="socket closed", reach_1="3 in", depth_1="3 in", **held(2))
TWO_LINES = """line A size 6in pipe pvc sch80
starts at flange fixed flat "P-1" at 0, 0, 0 facing north
go north 10'
go up 8'
tee east 6in as A-b
go up 4'
ends at cap
line B size 6in pipe pvc sch80
starts at branch A-b
go east 6'
go north 30'
ends at test cap
"""


def codes(row):
    return {n.code for n in row.notes}


def test_fittings_of_two_lines_counted_by_hand(tmp_path):
    # A: flange to meet the pump, elbow, tee, cap. B: elbow, one coupling in 30', test cap (not a fitting).
    o = ordered(tmp_path, TWO_LINES)
    counted = {
        (r.what.kind, tuple(r.by_line.items())): (r.needed, r.in_yard) for r in o.group(Group.FITTINGS)
    }
    assert counted == {
        ("flange", (("A", 1),)): (1, 4),
        ("elbow", (("A", 1), ("B", 1))): (2, 8),
        ("tee", (("A", 1),)): (1, 2),
        ("cap", (("A", 1),)): (1, 1),
        ("coupling", (("B", 1),)): (1, 2),
    }
    assert the(o, Group.FITTINGS, "flange").notes[0].code is Code.COMPANIONS
    assert the(o, Group.FITTINGS, "coupling").notes[0].code is Code.FROM_SPLITTING


def test_the_test_cap_is_kept_apart_and_the_lines_own_cap_comes_first(tmp_path):
    # one cap in the yard: the line's own takes it, so the test cap has none
    o = ordered(tmp_path, TWO_LINES)
    row = the(o, Group.TEST, "cap")
    assert (row.needed, row.in_yard, dict(row.by_line)) == (1, None, {"B": 1})
    spare = ordered(tmp_path / "b", TWO_LINES, [*PARTS[:4], CAPS])
    assert the(spare, Group.TEST, "cap").short == 0


def test_sticks_count_by_line_and_what_is_on_order_is_not_ordered_again(tmp_path):
    # A: 10' + 8' + 4' less take-outs: a stick and a bit; B: 6' + 30': two sticks with A's rest
    o = ordered(tmp_path, TWO_LINES, [*PARTS[:-1], CAPS])
    row = the(o, Group.STICKS, "stick")
    assert row.needed == sum(row.by_line.values()) == 3
    assert (row.in_yard, row.ordered, row.short, row.to_order) == (1, 1, 2, 1)
    assert row.what.length == pytest.approx(20 * FOOT)


def test_pieces_that_wait_are_named_and_not_counted(tmp_path):
    o = ordered(tmp_path, TWO_LINES, PARTS[1:])
    row = the(o, Group.STICKS, "stick")
    note = next(n for n in row.notes if n.code is Code.NOT_COUNTED)
    assert set(note.names) >= {"A/A", "A/B"}
    assert row.missing
    elbows = the(o, Group.FITTINGS, "elbow")
    assert (elbows.needed, elbows.in_yard, elbows.short, elbows.to_order) == (2, None, None, None)
    assert Code.NO_ROW in codes(elbows)


def test_pipe_without_a_stock_item_has_no_count(tmp_path):
    walk = "line A size 4in pipe pvc sch80\nstarts at open at 0,0,0 facing north\ngo north 9'\nends at open\n"
    row = the(ordered(tmp_path, walk), Group.STICKS, "stick")
    assert (row.needed, row.to_order) == (None, None)
    assert row.missing[0].code == "stock-item"
    assert row.notes[0].names == ("A/A",)


def test_field_pieces_are_counted(tmp_path):
    walk = "line A size 6in pipe pvc sch80\nstarts at open at 0,0,0 facing north\n"
    walk += "go north 9' field\nends at open\n"
    row = the(ordered(tmp_path, walk), Group.STICKS, "stick")
    assert row.needed == 1
    assert row.notes[0].code is Code.FIELD_COUNTED
    assert row.notes[0].names == ("A/A",)


ELBOWS = """line A size 6in pipe pvc sch80
starts at open at 0, 0, 0 facing north
go north 5'
go east 5'
go north 5'
go east 5'
ends at open
"""


def test_a_lot_that_is_used_up_is_short(tmp_path):
    lots = [
        elbow("6in", "6 in", "3 in", lot="X", **held(1)),
        elbow("6in", "6 in", "3 in", lot="Y", **held(1)),
    ]
    o = ordered(tmp_path, ELBOWS, lots)
    x, y = the(o, Group.FITTINGS, "elbow", lot="X"), the(o, Group.FITTINGS, "elbow", lot="Y")
    assert (x.needed, x.in_yard, x.short) == (1, 1, 0)
    assert (y.needed, y.in_yard, y.short, y.to_order) == (2, 1, 1, 1)
    assert Code.LOT_USED_UP in codes(y)


def test_several_lots_without_a_count_are_one_row_that_asks(tmp_path):
    lots = [elbow("6in", "6 in", "3 in", lot="X", count=""), elbow("6in", "6 in", "3 in", lot="Y", **held(1))]
    row = the(ordered(tmp_path, ELBOWS, lots), Group.FITTINGS, "elbow")
    assert (row.needed, row.in_yard, row.to_order) == (3, None, None)
    assert Code.WHICH_LOT in codes(row)


def test_fabricated_fittings_count_row_by_row(tmp_path):
    made = [
        elbow("6in", "6 in", "3 in", tag=f"FB-{n}", fabricated="yes", measured="1", count="1") for n in (1, 2)
    ]
    row = the(ordered(tmp_path, ELBOWS, made), Group.FITTINGS, "elbow")
    assert (row.needed, row.in_yard, row.short) == (3, 2, 1)
    assert Code.ONE_BY_ONE in codes(row)


def test_a_tagged_item_is_a_row_and_unknown_while_nobody_saw_it(tmp_path):
    walk = 'line A size 6in pipe pvc sch80\nstarts at open at 0,0,0 facing north\ngo north 5\'\nput "V-1"\n'
    walk += "go north 5'\nends at open\n"
    valve = {"tag": "V-1", "reach_1": "6 in", "depth_1": "3 in", "reach_2": "6 in", "depth_2": "3 in"}
    here = the(
        ordered(tmp_path / "a", walk, [part("valve", "6in", **valve, **held(1))]), Group.TAGGED, "valve"
    )
    assert (here.what.id, here.needed, here.in_yard, here.to_order) == ("V-1", 1, 1, 0)
    unseen = part("valve", "6in", **valve, count="", measured="0")
    row = the(ordered(tmp_path / "b", walk, [unseen]), Group.TAGGED, "valve")
    assert (row.needed, row.in_yard, row.to_order) == (1, None, None)


def test_every_stub_needs_a_ring(tmp_path):
    walk = (
        "line A size 6in pipe pvc sch80\nstarts at open at 0,0,0 facing north\ngo north 5'\nstub and ring\n"
    )
    o = ordered(tmp_path, walk + "go north 5'\nends at open\n", [])
    assert the(o, Group.FITTINGS, "stub").needed == 2
    ring = the(o, Group.FITTINGS, "backing ring")
    assert (ring.needed, ring.in_yard, ring.notes[0].code) == (2, None, Code.RING_ASK)


def test_kept_offcuts_are_named(tmp_path):
    walk = "line A size 6in pipe pvc sch80\nstarts at open at 0,0,0 facing north\ngo north 5'\nends at open\n"
    kept = '[[offcuts]]\nid = "O-1"\nstock = "S6in"\nlength = "6 ft"\n'
    o = ordered(tmp_path, walk, toml=kept)
    row = the(o, Group.OFFCUTS, "offcut")
    assert (row.needed, row.in_yard, row.short, row.notes[0].names) == (1, 1, 0, ("O-1",))
    assert the(o, Group.STICKS, "stick").needed == 0
