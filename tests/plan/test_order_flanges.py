"""Flange pairs of the order list: bolts by the drilling table, lengths by hand, faces by the trade.

Bolt counts and diameters: ASME B16.5 Class 150, typed from memory (the table's own standing); EN 1092-1
PN 10, from memory. Gasket by face, filler under a flat plastic flange, two washers a bolt, two
threads past the nut: common practice, no source.
"""

import pytest

from lineproof.book.sizes import Size
from lineproof.plan.order import Drilling
from lineproof.plan.order_model import SideKind
from lineproof.plan.order_rows import Code, Group
from lineproof.sums.bolts import bolt_bought, bolt_length, longest_fittings
from order_rig import PARTS, held, ordered, the
from rigs import INCH, flange, part

GASKET = '[[gaskets]]\nsize = "6in"\nface = "full"\nmaterial = "rubber"\nthickness = "1/8 in"\ncount = 1\n'
TORQUE = '[[torques]]\nsize = "6in"\nvalue = "30 ft-lb"\nsource = "sheet F-6 (invented)"\n'
PUMP = part("other", "6in", tag="P-1", ends="flange", thickness="7/8 in", faces="flat", **held(1))


def walk(face="flat", size="6in", end="open", mid=""):
    return (
        f'line A size {size} pipe pvc sch80\nstarts at flange fixed {face} "P-1" at 0, 0, 0 facing north\n'
        f"go north 10'\n{mid}ends at {end}\n"
    )


@pytest.mark.parametrize(
    ("size", "count", "inches"),
    [("1/2in", 4, 1 / 2), ("2in", 4, 5 / 8), ("4in", 8, 5 / 8), ("6in", 8, 3 / 4), ("8in", 8, 3 / 4),
     ("10in", 12, 7 / 8), ("12in", 12, 7 / 8), ("16in", 16, 1), ("18in", 16, 9 / 8), ("24in", 20, 5 / 4)],
)  # fmt: skip
def test_bolts_of_one_pair_by_the_class_150_drilling(tmp_path, size, count, inches):
    o = ordered(tmp_path, walk(size=size))
    (pair,) = o.flange_pairs
    assert (pair.drilling, pair.bolts, pair.nuts, pair.washers) == ("class150", count, count, 2 * count)
    assert pair.bolt_dia == pytest.approx(inches * INCH)
    assert Code.CLASS_150 in {n.code for n in pair.notes}
    assert {c.column for c in pair.cells} == {"bolt_count", "bolt_dia_in"}
    bolts = the(o, Group.FLANGES, "bolt and nut")
    assert (bolts.needed, dict(bolts.by_line), bolts.in_yard) == (count, {"A": count}, None)


def test_length_only_from_both_thicknesses_measured(tmp_path):
    # by hand: 1 + 7/8 + 1/8 gasket + 2 x 0.22 x 3/4 washers + 3/4 nut + 2 x 3/4 / 6.5 threads = 3.311
    # -> 3 1/2 in
    o = ordered(tmp_path / "a", walk(), [*PARTS, PUMP], toml=GASKET)
    (pair,) = o.flange_pairs
    assert pair.bolt_length == pytest.approx(3.5 * INCH)
    assert (pair.a.kind, pair.b.kind) == (SideKind.EQUIPMENT, SideKind.ONE_PIECE)
    assert the(o, Group.FLANGES, "bolt and nut").what.length == pytest.approx(3.5 * INCH)
    for n, (parts, toml, code) in enumerate(
        [
            (PARTS, GASKET, "flange-thickness"),
            ([flange("6in", "3 1/2 in", "3 in"), PUMP], GASKET, "flange-thickness"),
            ([*PARTS, PUMP], "", "gasket-thickness"),
        ]
    ):
        (pair,) = ordered(tmp_path / str(n), walk(), parts, toml=toml).flange_pairs
        assert pair.bolt_length is None
        assert code in {m.code for m in pair.missing}


def test_bolts_are_grouped_by_diameter_and_length(tmp_path):
    # two pairs of two plain flanges, 1 + 1 + 1/8 + 1.311 = 3.436 -> 3 1/2, the same as at the pump
    o = ordered(
        tmp_path, walk(mid="flanges\ngo north 5'\nflanges\ngo north 5'\n"), [*PARTS[:1], PUMP,
        flange("6in", "3 1/2 in", "3 in", thickness="1 in", **held(9))], toml=GASKET,
    )  # fmt: skip
    assert len(o.flange_pairs) == 3
    bolts, washers = the(o, Group.FLANGES, "bolt and nut"), the(o, Group.FLANGES, "washer")
    assert (bolts.needed, bolts.what.length, washers.needed) == (24, pytest.approx(3.5 * INCH), 48)
    gaskets = the(o, Group.FLANGES, "gasket")
    assert (gaskets.needed, gaskets.in_yard, gaskets.short, gaskets.what.detail) == (3, 1, 2, "full")


@pytest.mark.parametrize(
    ("inches", "washer", "nut", "pitch"),
    [(1 / 2, 0.109, 31 / 64, 1 / 13), (5 / 8, 0.134, 39 / 64, 1 / 11), (3 / 4, 0.148, 47 / 64, 1 / 10),
     (7 / 8, 0.165, 55 / 64, 1 / 9), (1, 0.165, 63 / 64, 1 / 8), (5 / 4, 0.165, 79 / 64, 1 / 7)],
)  # fmt: skip
def test_the_rule_is_never_shorter_than_common_hardware(inches, washer, nut, pitch):
    """Plain washers type A wide, heavy hex nuts, UNC threads: ASME B18.21.1, B18.2.2, B1.1, from memory."""
    w, m, p = longest_fittings(inches * INCH)
    assert w >= washer * INCH - 1e-9
    assert m >= nut * INCH
    assert p >= pitch * INCH - 1e-9


def test_bolt_length_by_hand_in_millimetres():
    # M20: 30 + 22 + 3 + 2 x 3 + 16 + 2 x 2.5 = 82 -> 85
    least = bolt_length(
        thickness_a=0.030, thickness_b=0.022, gasket=0.003, washer=0.003, nut=0.016, pitch=0.0025
    )
    assert least == pytest.approx(0.082)
    assert bolt_bought(least, 0.005) == pytest.approx(0.085)
    assert bolt_bought(0.085, 0.005) == pytest.approx(0.085)


def test_flat_plastic_against_a_raised_face_asks_for_a_full_face_filler(tmp_path):
    o = ordered(tmp_path / "a", walk("raised"))
    (pair,) = o.flange_pairs
    assert (pair.filler, pair.a.face, pair.b.face, pair.gasket) == (True, "raised", "flat", "full")
    assert pair.bolt_length is None
    row = the(o, Group.FLANGES, "filler")
    assert (row.needed, row.in_yard, row.to_order) == (1, None, None)
    filler = '[[fillers]]\nsize = "6in"\nfull_face = {}\ncount = 1\nthickness = "1/4 in"\n'
    raised = PUMP.replace('"flat"', '"raised"')
    o = ordered(tmp_path / "b", walk("raised"), [*PARTS, raised], toml=GASKET + filler.format("true"))
    assert the(o, Group.FLANGES, "filler").short == 0
    # the filler makes the bolt longer: 3.311 + 1/4 = 3.561 -> 3 3/4 in
    assert o.flange_pairs[0].bolt_length == pytest.approx(3.75 * INCH)
    o = ordered(tmp_path / "c", walk("raised"), toml=filler.format("false"))
    assert the(o, Group.FLANGES, "filler").in_yard is None


def test_a_face_nobody_named_cannot_be_told(tmp_path):
    (pair,) = ordered(tmp_path, walk("")).flange_pairs
    assert (pair.filler, pair.gasket) == (None, "")
    assert {"flange-face", "whether-a-filler-is-needed"} <= {m.code for m in pair.missing}
    assert pair.bolts == 8


def test_stub_and_ring_takes_a_ring_gasket_and_no_filler(tmp_path):
    o = ordered(tmp_path, walk(mid="stub and ring\ngo north 5'\n"), [PARTS[1]])
    pair = o.flange_pairs[1]
    assert (pair.a.kind, pair.b.kind, pair.gasket) == (SideKind.STUB, SideKind.STUB, "ring")


def test_a_ringed_pair_carries_its_own_seal(tmp_path):
    o = ordered(tmp_path, walk(mid="ringed flanges\ngo north 5'\n"), toml=GASKET)
    pair = o.flange_pairs[1]
    assert (pair.ringed, pair.gasket, pair.gasket_thickness) == (True, "seal ring", 0.0)


def test_torque_only_with_its_paper_and_only_if_it_is_the_one(tmp_path):
    (pair,) = ordered(tmp_path / "a", walk(), toml=TORQUE).flange_pairs
    assert pair.torque == pytest.approx(30 * 1.3558179, rel=1e-6)
    assert pair.torque_source == "sheet F-6 (invented)"
    (pair,) = ordered(tmp_path / "b", walk()).flange_pairs
    assert (pair.torque, pair.torque_source) == (None, "")
    assert "torque-and-its-paper" in {m.code for m in pair.missing}
    two = TORQUE.replace('"30', '"20') + 'gasket = "ring cork"\n' + TORQUE + 'gasket = "full face rubber"\n'
    (pair,) = ordered(tmp_path / "c", walk(), toml=two + GASKET).flange_pairs
    assert pair.torque == pytest.approx(30 * 1.3558179, rel=1e-6)
    (pair,) = ordered(tmp_path / "d", walk(), toml=TORQUE + TORQUE.replace('"30', '"20')).flange_pairs
    assert pair.torque is None


def test_a_metric_flange_asks_for_its_drilling(tmp_path):
    metric = walk(size="d315").replace("sch80", "pn10")
    o = ordered(tmp_path / "a", metric)
    (pair,) = o.flange_pairs
    assert (pair.bolts, pair.washers, pair.drilling) == (None, None, "")
    assert "flange-drilling" in {m.code for m in pair.missing}
    assert the(o, Group.FLANGES, "bolt and nut").needed is None
    said = {Size.parse("d315"): Drilling("pn10")}
    (pair,) = ordered(tmp_path / "b", metric, drillings=said).flange_pairs
    # EN 1092-1 PN 10, DN 300: 12 M20
    assert (pair.bolts, pair.bolt_dia) == (12, pytest.approx(0.020))


def test_a_test_blind_makes_a_pair_that_says_so(tmp_path):
    o = ordered(tmp_path, walk(end="test blind"))
    assert [p.test for p in o.flange_pairs] == [False, True]
    assert the(o, Group.TEST, "blind").needed == 1
