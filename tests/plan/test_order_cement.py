"""Cement, cans, storage, applicators and tools of the order list, worked by hand.

Storage limits: 29 CFR 1926.152(b), 25 gal in a room, 60 gal in a cabinet, three cabinets in one area.
"""

import dataclasses
from datetime import date

import pytest

from lineproof.book.sizes import Size
from lineproof.job.stock import Can
from lineproof.plan.order_cement import can_size, choose, served
from lineproof.plan.order_model import CanSize, CanState
from lineproof.plan.order_rows import Code, Group, Unit
from order_rig import PARTS, can, card, ordered, the
from rigs import INCH

QUART = 0.946352946e-3
GALLON = 4 * QUART
DAY = 86_400.0
START = "[conditions]\nstart = 2027-05-03\n"
# A: flange, two elbow ends, open end: 3 joints. B: coupling and cap on 30': 3 joints.
WALK = """line A size 6in pipe pvc sch80
starts at flange fixed flat "P-1" at 0, 0, 0 facing north
go north 10'
go up 8'
ends at open
line B size 6in pipe pvc sch80
starts at open at 0, 50', 0 facing north
go north 30'
ends at cap
"""


def cement(o):
    return next(n for n in o.cement if n.kind == "cement")


def test_volume_by_line_from_joints_per_can(tmp_path):
    # four joints a quart: 3 joints each line, 0.75 qt each
    o = ordered(tmp_path, WALK, toml=START + can("K1", count="0"), days=3)
    need = cement(o)
    assert (need.card, need.body, need.joints, need.joints_known) == ("C-2", "heavy", 6, 6)
    assert dict(need.by_line) == {"A": pytest.approx(0.75 * QUART), "B": pytest.approx(0.75 * QUART)}
    assert need.last_use == date(2027, 5, 5)
    assert need.day_volume == pytest.approx(0.5 * QUART)
    row = the(o, Group.CEMENT, "cement")
    assert row.unit is Unit.VOLUME
    assert row.needed == pytest.approx(1.5 * QUART)
    assert (row.in_yard, row.short) == (0, pytest.approx(1.5 * QUART))
    # 6 in: two people coat at once by the crew table, one crew: two cans are open
    assert need.open_at_once == 2


@pytest.mark.parametrize(
    ("volume", "content", "days", "life", "at_once", "cans", "used_up"),
    [
        (10.0, 1.0, 5, DAY, 1, 10, True),  # 2 a day: a can of 1 is gone the same day
        (10.0, 4.0, 5, DAY, 1, 5, False),  # 2 a day: a can of 4 is thrown away half full, one a day
        (10.0, 4.0, 5, 2 * DAY, 1, 3, True),  # 4 in two days
        (10.0, 2.0, 5, DAY, 2, 10, False),  # two open at once share the use: two a day
        (10.0, 1.0, 5, 4 * 3600.0, 1, 10, True),  # half a shift: 1 in that time
        (10.0, 2.0, 5, 4 * 3600.0, 1, 10, False),  # two openings a day
        (10.0, 4.0, None, DAY, 1, 3, None),
        (10.0, 4.0, 5, None, 1, 3, None),
        (10.0, 4.0, 5, DAY, None, 3, None),
    ],
)
def test_cans_used_up_in_their_life(volume, content, days, life, at_once, cans, used_up):
    size = can_size(volume, content, days=days, life=life, open_at_once=at_once)
    assert size == CanSize(content, cans, used_up)


def test_the_largest_can_that_is_used_up_is_chosen():
    small, mid, big = CanSize(1.0, 10, True), CanSize(2.0, 5, True), CanSize(4.0, 5, False)
    assert choose((small, mid, big)) is mid
    assert choose((big,)) is big
    assert choose((CanSize(1.0, 9, False), CanSize(2.0, 9, False))) == CanSize(1.0, 9, False)
    assert choose((small, CanSize(2.0, 5, None))) is None
    assert choose(()) is None


def test_without_the_days_no_can_size_is_chosen_among_several(tmp_path):
    need = cement(ordered(tmp_path / "a", WALK, toml=START))
    assert (need.chosen, need.cans_to_order, need.last_use) == (None, None, None)
    assert "day-of-last-joint" in {m.code for m in need.missing}
    assert [s.cans for s in need.sizes] == [2, 1]  # 1.5 qt in quarts, in gallons
    one = cement(
        ordered(tmp_path / "b", WALK, cards=card(containers='["1 qt"]'), toml=START + can("K1", count="0"))
    )
    assert (one.chosen, one.cans_to_order) == (pytest.approx(QUART), 2)


def test_cans_count_only_if_good_until_the_last_use(tmp_path):
    cans = (
        can("K1")
        + can("K2", expires="2027-05-04")
        + can("K3", lot='"BAD"')
        + can("K4", lines='["Z"]')
        + can("K5", expires="2027-05-05", ordered="2")
    )
    o = ordered(tmp_path, WALK, toml=START + cans, days=3, refused_lots={"BAD"})
    need = cement(o)
    assert {c.can: c.state for c in need.cans} == {
        "K1": CanState.MAY, "K2": CanState.EXPIRED, "K3": CanState.LOT_REFUSED, "K4": CanState.NO_LINE,
        "K5": CanState.MAY,
    }  # fmt: skip
    row = the(o, Group.CEMENT, "cement")
    assert row.in_yard == pytest.approx(2 * QUART)
    assert (row.short, row.to_order) == (0, 0)
    assert need.cans_to_order == 0
    refused = next(n for n in row.notes if n.code is Code.CANS_REFUSED)
    assert refused.names == ("K2", "K3")


def test_a_can_whose_date_nobody_read_leaves_the_order_open(tmp_path):
    o = ordered(tmp_path / "a", WALK, toml=START + can("K1", expires=""), days=3)
    row = the(o, Group.CEMENT, "cement")
    assert (row.in_yard, row.short, row.to_order) == (None, None, None)
    assert "can-expiry" in {m.code for m in row.missing}
    enough = START + can("K1", expires="") + can("K2", count="4")
    row = the(ordered(tmp_path / "b", WALK, toml=enough, days=3), Group.CEMENT, "cement")
    assert (row.in_yard, row.to_order) == (pytest.approx(4 * QUART), 0)


def test_a_store_nobody_listed_is_not_an_empty_store(tmp_path):
    o = ordered(tmp_path, WALK, toml=START, days=3)
    row = the(o, Group.CEMENT, "cement")
    assert (row.in_yard, row.to_order, cement(o).cans_to_order) == (None, None, None)
    assert "cans-in-the-store" in {m.code for m in row.missing}


def test_cans_meant_for_one_line_do_not_serve_another(tmp_path):
    # A needs 0.75 qt: two quarts for A only leave B's 0.75 qt short
    o = ordered(tmp_path, WALK, toml=START + can("K1", lines='["A"]', count="2"), days=3)
    row = the(o, Group.CEMENT, "cement")
    assert row.in_yard == pytest.approx(2 * QUART)
    assert row.short == pytest.approx(0.75 * QUART)


def test_cans_for_few_lines_are_used_first():
    cans = [
        Can(id="any", kind="cement", volume=1.0, count=1),
        Can(id="a", kind="cement", volume=1.0, count=1, lines=("A",)),
    ]
    assert served({"A": 1.0, "B": 1.0}, cans, {"any", "a"}) == 2.0
    assert served({"A": 1.0, "B": 1.0}, cans, {"a"}) == 1.0


def test_primer_is_counted_and_cleaner_is_left_to_the_procedure(tmp_path):
    o = ordered(tmp_path, WALK, toml=START + can("U", kind='"primer"', card=""), days=3)
    primer = the(o, Group.CEMENT, "primer")
    assert 0 < primer.needed < 1.5 * QUART
    assert primer.in_yard == pytest.approx(QUART)
    cleaner = the(o, Group.CEMENT, "cleaner")
    assert (cleaner.needed, cleaner.to_order, cleaner.notes[-1].code) == (None, None, Code.CLEANER)


def test_joints_that_cannot_be_told_are_said(tmp_path):
    film_only = card().split("[[cards.per_can]]")[0]
    whole = cement(ordered(tmp_path / "a", WALK, cards=film_only, toml=START, days=3))
    assert whole.joints_known == whole.joints == 6
    # nobody measured the flange: its socket's depth is not known, so its cement is not
    o = ordered(tmp_path / "b", WALK, [PARTS[0], *PARTS[2:]], cards=film_only, toml=START, days=3)
    need = cement(o)
    assert (need.joints, need.joints_known) == (6, 5)
    assert need.volume < whole.volume
    row = the(o, Group.CEMENT, "cement")
    assert Code.AT_LEAST in {n.code for n in row.notes}
    assert "cement-volume" in {m.code for m in row.missing}
    nothing = ordered(tmp_path / "c", WALK, [], cards=film_only, toml=START, days=3)
    assert (cement(nothing).volume, the(nothing, Group.CEMENT, "cement").to_order) == (None, None)


def test_storage_beside_the_limits_of_the_rule(tmp_path):
    stores = (
        '[[stores]]\nid = "C1"\nkind = "cabinet"\nwhere = "yard"\nlimit = "60 gal"\n'
        '[[stores]]\nid = "C2"\nkind = "cabinet"\nwhere = "yard"\n'
        '[[stores]]\nid = "R"\nkind = "room"\n'
    )
    cans = (
        can("K1", volume='"1 gal"', count="61", where='"C1"')
        + can("K2", volume='"1 gal"', count="20", ordered="10", where='"R"')
        + can("K3", volume='"1 gal"', count="6")
        + can("U1", kind='"primer"', card="", volume='"1 gal"', count="2", where='"C2"')
    )
    s = ordered(tmp_path, WALK, toml=START + stores + cans, days=3).storage
    by_store = {x.store: x for x in s.stores}
    assert by_store["C1"].here == pytest.approx(61 * GALLON)
    assert by_store["C1"].own_limit == pytest.approx(60 * GALLON)
    assert by_store["C1"].rule_limit == pytest.approx(60 * GALLON)
    assert (by_store["C2"].own_limit, by_store["C2"].here) == (None, pytest.approx(2 * GALLON))
    assert by_store["R"].rule_limit == pytest.approx(25 * GALLON)
    assert by_store["R"].with_ordered == pytest.approx(30 * GALLON)
    assert by_store[""].here == pytest.approx(6 * GALLON)
    assert s.here == pytest.approx(89 * GALLON)
    assert s.ordered == pytest.approx(10 * GALLON)
    assert s.outside_cabinets == pytest.approx(26 * GALLON)
    assert (s.room_limit, s.cabinet_limit) == (pytest.approx(25 * GALLON), pytest.approx(60 * GALLON))
    assert (s.cabinets_limit, dict(s.cabinets)) == (3, {"yard": 2})
    assert (s.to_order, s.at_most) == (None, None)  # nobody knows how much cleaner
    assert s.at_least == pytest.approx(99 * GALLON)
    assert {m.code for m in s.missing} == {"store-limit", "store-of-can", "volume-to-order"}


def test_applicators_by_width_and_joints(tmp_path):
    # 6.625 in pipe: half is 3.3 in. 6 joints, pipe end and socket: 12 uses, one lasts ten
    tool = '[[tools.applicators]]\nid = "S4"\nwidth = "4 in"\ncount = 1\n'
    row = the(ordered(tmp_path / "a", WALK, toml=tool), Group.APPLICATORS, "applicator")
    assert (row.what.width, row.needed, row.in_yard, row.short) == (pytest.approx(4 * INCH), 2, 1, 1)
    assert Code.OWN_ASSUMPTION in {n.code for n in row.notes}
    narrow = tool.replace("4 in", "2 in")
    row = the(ordered(tmp_path / "b", WALK, toml=narrow), Group.APPLICATORS, "applicator")
    # 3.3 in with 2 in: two a face, four at once, 24 uses
    assert (row.what.width, row.needed) == (pytest.approx(2 * INCH), 4)
    assert Code.NARROW in {n.code for n in row.notes}


def test_tools_by_size_against_the_tool_list(tmp_path):
    walk = WALK.replace("6in", "8in")
    tools = (
        '[[tools.pullers]]\nid = "P"\ncount = 1\nsize_lo = "6in"\nsize_hi = "12in"\n'
        '[[tools.straps]]\nid = "T"\ncount = 1\nsize_lo = "10in"\nsize_hi = "12in"\n'
    )
    o = ordered(tmp_path / "a", walk, toml=tools)
    puller, strap = the(o, Group.TOOLS, "puller"), the(o, Group.TOOLS, "strap set")
    assert (puller.what.size, puller.needed, puller.in_yard, puller.short) == (Size("nps", 8.0), 2, 1, 1)
    assert (strap.needed, strap.in_yard, strap.short) == (1, 0, 1)
    saw = the(o, Group.TOOLS, "saw")
    assert (saw.needed, saw.in_yard, saw.to_order) == (1, None, None)
    # no pull-in tool is called for up to 6 in
    small = ordered(tmp_path / "b", WALK, toml=tools)
    assert {r.what.kind for r in small.group(Group.TOOLS)} == {"saw", "bevel tool"}


def test_nothing_is_zero_where_nobody_said(tmp_path):
    o = ordered(tmp_path, WALK)
    for row in o.rows:
        assert dataclasses.is_dataclass(row)
        if row.needed is None:
            assert (row.short, row.to_order, row.by_line) == (None, None, {})
            assert row.missing
        elif row.in_yard is None and row.needed:
            assert row.to_order is None
            assert row.missing
