"""Test sections: vents and drains against profiles read by eye and against a scan of the height profile."""

from hypothesis import given
from hypothesis import strategies as st

from lineproof.plan.order_rows import Code, Group
from lineproof.plan.order_test import turning_points
from order_rig import ordered, the
from rigs import laid

HEAD = "line A size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"
WAYS = {"u": "up", "d": "down", "n": "north"}


def profile(steps):
    """A walk through steps: level legs go north and east by turns, so that each is a bend."""
    legs = ["go north 10'\n"]
    for step in steps:
        legs.append(f"go {WAYS[step]} 10'\n" if step != "n" else "go north 10'\n")
    return HEAD + "".join(legs) + "ends at open\n"


def counts(walk):
    points = turning_points(laid(walk), ["A"])
    return sum(p.high for p in points), sum(not p.high for p in points)


def test_profiles_read_by_eye():
    assert counts(profile("")) == (1, 1)  # a level line takes both
    assert counts(profile("u")) == (1, 1)
    assert counts(profile("und")) == (1, 2)  # an arch: one vent, a drain on each side
    assert counts(profile("dnu")) == (2, 1)  # a trap under a road: two vents, one drain
    assert counts(profile("undnund")) == (2, 3)
    assert counts(profile("unu")) == (1, 1)  # a landing on the way up is neither


def by_scan(steps):
    """Peaks and valleys of the heights, level stretches taken as one, ends included."""
    heights = [0]
    for s in steps:
        rise = {"u": 1, "d": -1, "n": 0}[s]
        if rise:
            heights.append(heights[-1] + rise)
    around = [None, *heights, None]
    high = low = 0
    for before, here, after in zip(around, around[1:], around[2:], strict=False):
        near = [h for h in (before, after) if h is not None]
        high += all(h < here for h in near)
        low += all(h > here for h in near)
    return high, low


@given(st.lists(st.sampled_from(["u", "d"]), max_size=8))
def test_vents_and_drains_of_any_profile(turns):
    steps = "n".join(turns) + "n"
    assert counts(profile(steps)) == by_scan(steps)


def test_slopes_are_not_level():
    walk = HEAD + "go north 30' up 1:100 along\ngo east 30' down 1:100 along\nends at open\n"
    high, *lows = turning_points(laid(walk), ["A"])
    assert (high.high, high.part, high.parts) == (True, "A/E1", ("A/E1",))
    assert [p.high for p in lows] == [False, False]


BRANCHED = """line A size 6in pipe pvc sch80
starts at flange fixed flat "P-1" at 0, 0, 0 facing north
go north 10'
tee up as A-b
go north 10'
ends at test cap
line B size 6in pipe pvc sch80
starts at branch A-b
go up 6'
ends at open
"""
TOGETHER = '[[sections]]\nid = "S-1"\nlines = ["A", "B"]\n'
APART = '[[sections]]\nid = "S-1"\nlines = ["A"]\n'


def test_a_section_is_taken_over_all_its_lines(tmp_path):
    o = ordered(tmp_path / "a", BRANCHED, toml=TOGETHER)
    (s,) = o.tests
    assert (s.section, s.lines, s.standing) == ("S-1", ("A", "B"), ("A/X1",))
    assert [p.line for p in s.points] == ["B", "A"]  # one vent on the riser, one drain on the run
    vent, drain = the(o, Group.TEST, "vent"), the(o, Group.TEST, "drain")
    assert (vent.needed, dict(vent.by_line), drain.needed, dict(drain.by_line)) == (1, {"B": 1}, 1, {"A": 1})
    apart = ordered(tmp_path / "b", BRANCHED, toml=APART)
    assert [t.section for t in apart.tests] == ["S-1", ""]
    # alone, the run is level and takes both; so does each line that is in no section
    assert [p.high for p in apart.tests[0].points] == [True, False]
    loose = the(apart, Group.TEST, "vent", id="")
    assert any(n.code is Code.NO_SECTION and n.names == ("B",) for n in loose.notes)


def test_caps_for_open_ends_and_an_answer_for_equipment(tmp_path):
    o = ordered(tmp_path, BRANCHED, toml=TOGETHER)
    caps = [r for r in o.group(Group.TEST) if r.what.kind == "cap"]
    assert [(r.needed, dict(r.by_line), r.notes[0].names) for r in caps] == [
        (1, {"A": 1}, ("A/K1",)),
        (1, {"B": 1}, ("B/X1",)),
    ]
    ends = the(o, Group.TEST, "closure at equipment")
    assert (ends.needed, ends.missing[0].code) == (None, "closure-for-the-test")


def test_test_materials_are_dealt_out_to_the_sections(tmp_path):
    hand = (
        '[[test_materials]]\nkind = "gauge"\ncount = 1\n'
        '[[test_materials]]\nkind = "vent"\ncount = 3\nsection = "S-1"\n'
        '[[test_materials]]\nkind = "drain"\ncount = 1\n'
    )
    two = APART + '[[sections]]\nid = "S-2"\nlines = ["B"]\n'
    o = ordered(tmp_path, BRANCHED, toml=two + hand)
    gauges = [r for r in o.group(Group.TEST) if r.what.kind == "gauge"]
    assert [(r.what.id, r.in_yard, r.short) for r in gauges] == [("S-1", 1, 0), ("S-2", 0, 1)]
    vents = [r for r in o.group(Group.TEST) if r.what.kind == "vent"]
    assert [(r.what.id, r.in_yard, r.to_order) for r in vents] == [("S-1", 1, 0), ("S-2", None, None)]
    relief = the(o, Group.TEST, "relief valve", id="S-1")
    assert (relief.needed, relief.in_yard, relief.to_order) == (1, None, None)
    assert relief.missing[0].code == "test-material"
