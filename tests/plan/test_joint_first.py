"""Line zero: ring, nut or coupling on the pipe before the joint, facing right, in capitals if too late."""

from __future__ import annotations

import pytest

from joint_rig import PARTS, planned
from rigs import part

START = "line L size 12in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"


def firsts(folder, legs, parts=PARTS):
    return {
        p.place.spigot: p.line_zero for p in planned(folder, START + legs + "ends at open\n", parts=parts)[1]
    }


def test_a_stub_wants_its_ring_on_the_pipe_that_enters_it(tmp_path):
    found = firsts(tmp_path, "go north 6'\nstub and ring\ngo north 6'\ngo up 5'\n")
    ring = found["L/A", "b"][0]
    assert (ring.what, ring.part, ring.on, ring.side) == ("backing ring", "L/F1", "L/A", "b")
    # the walk goes north: the pipe enters northwards, and the ring's working side looks that way
    assert ring.faces == pytest.approx((0, 1, 0))
    back = found["L/B", "a"][0]
    assert back.faces == pytest.approx((0, -1, 0))
    assert found["L/B", "b"] == ()  # an elbow wants nothing


def test_it_is_in_capitals_once_both_ends_carry_fittings(tmp_path):
    found = firsts(tmp_path, "go north 6'\nstub and ring\ngo north 6'\ngo up 5'\n")
    assert not found["L/A", "b"][0].capital  # its other end is open: it can still go on over that one
    assert found["L/B", "a"][0].capital  # an elbow closes the other end
    both = firsts(tmp_path / "b", "go north 6'\nstub and ring\ngo north 4'\nstub and ring\ngo north 4'\n")
    assert both["L/B", "a"][0].capital
    assert both["L/B", "b"][0].capital


def test_a_union_has_one_nut_and_the_drawing_does_not_say_which_half(tmp_path):
    union = part("union", "12in", reach_1="8 in", depth_1="6 1/2 in", reach_2="8 in", depth_2="6 1/2 in")
    found = firsts(tmp_path, "go north 6'\nunion\ngo north 6'\n", [*PARTS, union])
    nuts = [z for ends in found.values() for z in ends]
    assert [(z.what, z.sure) for z in nuts] == [("union nut", False), ("union nut", False)]


def test_the_word_of_the_parts_list_counts_even_before_the_lot_is_settled(tmp_path):
    cells = {
        "ends": "flange socket",
        "reach_2": "7 in",
        "depth_2": "6 1/2 in",
        "first_on": "ring",
        "count": "",
    }
    van = [part("flange", "12in", lot=lot, **cells) for lot in ("A", "B")]
    plain = [p for p in PARTS if '"12in"' in p and '"stub"' not in p]
    found = firsts(tmp_path, "go north 6'\nflanges\ngo north 6'\n", plain + van)
    assert {z.what for ends in found.values() for z in ends} == {"flange ring"}


def test_a_repair_coupling_slides_on_first(tmp_path):
    slider = part(
        "repair coupling", "12in", reach_1="7 in", depth_1="6 1/2 in", reach_2="7 in", depth_2="6 1/2 in"
    )
    found = firsts(tmp_path, "go north 6'\nrepair coupling\ngo north 6'\n", [*PARTS, slider])
    assert {z.what for ends in found.values() for z in ends} == {"repair coupling"}


def test_plain_fittings_want_nothing(tmp_path):
    assert not any(firsts(tmp_path, "go north 6'\ngo up 4'\ngo east 40'\n").values())
