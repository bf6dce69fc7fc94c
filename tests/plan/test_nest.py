"""Nesting against hand-worked sticks, two published cutting-stock examples and an exact solver."""

import random
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import pytest

from lineproof.floor.errors import BadInput, PlanImpossible
from lineproof.plan.nest import CutStick, Nesting, Offcut, Stick, Want, check_nesting, first_fit, nest
from lineproof.plan.nest_fill import quick_bound, search
from lineproof.plan.nest_grid import to_grid

STICK = Stick("12in", 6.1)
BELLED = Stick("12in belled", 6.0, belled=True, bell_length=0.2)


def pieces(*lengths: float, order: int = 0) -> list[Want]:
    return [Want(f"P{i}", length, order=order) for i, length in enumerate(lengths, start=1)]


def only(plan: Nesting) -> CutStick:
    assert len(plan.sticks) == 1
    return plan.sticks[0]


# ------------------------------------------------------------------ one stick, worked by hand


def test_last_piece_that_ends_with_the_stick_needs_no_cut_behind_it() -> None:
    # by hand: 3.000 + 0.003 + 3.097 = 6.100 exactly
    stick = only(nest(pieces(3.0, 3.097), STICK, kerf=0.003))
    assert stick.pieces == ("P2", "P1")
    assert stick.cuts == pytest.approx((3.097,))
    assert stick.offcut_length == pytest.approx(0.0, abs=1e-9)
    assert nest(pieces(3.0, 3.0971), STICK, kerf=0.003).new_sticks == 2


def test_both_plain_ends_are_trimmed() -> None:
    # by hand: 6.1 - 2 x 0.02 = 6.06 = 3.0 + 0.003 + 3.057
    trimmed = replace(STICK, trim=0.02)
    stick = only(nest(pieces(3.0, 3.057), trimmed, kerf=0.003))
    assert stick.starts == pytest.approx((0.02, 3.08))
    assert stick.cuts == pytest.approx((0.017, 3.077, 6.08))
    assert nest(pieces(3.0, 3.058), trimmed, kerf=0.003).new_sticks == 2


def test_belled_piece_is_the_bell_end_and_is_cut_first() -> None:
    # by hand: 2.0 + 0.003 + 3.997 = 6.0: with the bell kept the whole stick is used
    wants = [Want("A", 3.997), Want("B", 2.0, bell=True)]
    stick = only(nest(wants, BELLED, kerf=0.003))
    assert stick.pieces == ("B", "A")
    assert stick.bell_used_by == "B"
    assert not stick.offcut_bell


def test_a_bell_nobody_keeps_is_lost_or_stays_on_a_useful_offcut() -> None:
    # by hand: plain pipe is 5.8; 5.797 + 0.003 leaves the bell alone, 5.798 no longer leaves a saw cut
    stick = only(nest([Want("A", 5.797)], BELLED, kerf=0.003))
    assert stick.offcut_length == pytest.approx(0.2)
    assert not stick.kept
    with pytest.raises(PlanImpossible, match=r"piece A is 5\.7980 m long; allowed: at most 5\.7970 m"):
        nest([Want("A", 5.798)], BELLED, kerf=0.003)
    plan = nest([Want("A", 5.0)], BELLED, kerf=0.003)
    assert only(plan).kept
    assert plan.kept_offcuts == (Offcut("12in belled/1", pytest.approx(0.997), True, 0.2),)
    assert plan.waste == pytest.approx(0.003)


def test_one_bell_a_stick() -> None:
    plan = nest([Want(f"B{i}", 1.0, bell=True) for i in range(4)], BELLED, kerf=0.003)
    assert plan.new_sticks == plan.bound == 4


def test_the_smallest_offcut_that_serves_is_cut_first() -> None:
    rack = [Offcut("long", 4.0), Offcut("short", 1.2), Offcut("tiny", 0.9)]
    plan = nest(pieces(1.0), STICK, kerf=0.003, offcuts=rack)
    assert plan.new_sticks == 0
    assert only(plan).stick_id == "short"
    assert plan.unused_offcuts == ("long", "tiny")


def test_an_offcut_that_saves_nothing_stays_whole() -> None:
    # 5.0 and 0.9 share one new stick with 0.194 left, which is scrap either way
    plan = nest(pieces(5.0, 0.9), STICK, kerf=0.003, offcuts=[Offcut("o", 2.0)], useful_offcut=1.2)
    assert plan.new_sticks == 1
    assert plan.unused_offcuts == ("o",)


def test_belled_offcut_serves_a_belled_piece() -> None:
    rack = [Offcut("o", 2.5, bell=True, bell_length=0.2)]
    plan = nest([Want("B", 2.4, bell=True)], STICK, kerf=0.003, offcuts=rack)
    assert plan.new_sticks == 0
    assert only(plan).bell_used_by == "B"


def test_useful_offcut_is_kept_and_a_shorter_one_is_waste() -> None:
    kept = nest(pieces(5.797), STICK, kerf=0.003, useful_offcut=0.3)
    assert only(kept).kept
    assert kept.waste == pytest.approx(0.003)
    scrap = nest(pieces(5.798), STICK, kerf=0.003, useful_offcut=0.3)
    assert not only(scrap).kept
    assert scrap.waste == pytest.approx(0.302)


def test_sticks_follow_the_crew_and_pieces_go_longest_first() -> None:
    wants = [Want("late", 5.5, order=9), Want("first", 5.0, order=1), Want("small", 0.9, order=1)]
    plan = nest(wants, STICK, kerf=0.003)
    assert [s.pieces for s in plan.sticks] == [("first", "small"), ("late",)]


def test_leftovers_are_gathered_in_one_long_offcut() -> None:
    # first fit leaves 4.1 and 0.1; the 2.0 m piece cannot move, so one long offcut is kept
    plan = nest(pieces(3.0, 3.0, 2.0), STICK, kerf=0.003)
    assert [o.length for o in plan.kept_offcuts] == [pytest.approx(4.097)]


def test_nothing_wanted_needs_nothing() -> None:
    plan = nest([], STICK, kerf=0.003, offcuts=[Offcut("o", 1.0)])
    assert (plan.sticks, plan.new_sticks, plan.bound, plan.complete) == ((), 0, 0, True)
    assert plan.unused_offcuts == ("o",)


# ------------------------------------------------------------------ grid


def test_sixteenths_of_an_inch_are_added_up_exactly() -> None:
    # by hand: 4 x 59 7/8 in + 3 cuts of 1/8 in + 1/8 in = 240 in; two sticks of 20 ft hold eight of them
    inch = 0.0254
    plan = nest(pieces(*[59.90625 * inch] * 8), Stick("20 ft", 240 * inch), kerf=0.125 * inch)
    assert plan.exact_grid
    assert plan.grid == pytest.approx(inch / 32)
    assert plan.new_sticks == 2


def test_odd_lengths_are_rounded_up_so_the_plan_can_be_cut() -> None:
    rng = random.Random(5)
    wants = pieces(*[rng.uniform(0.2, 3.0) for _ in range(60)])
    plan = nest(wants, STICK, kerf=0.0031234)
    assert not plan.exact_grid
    assert plan.grid == pytest.approx(1e-4)
    assert check_nesting(plan, wants, STICK, 0.0031234, ()) == []


# ------------------------------------------------------------------ published examples


def test_paper_mill_example_takes_73_rolls() -> None:
    """Encyclopaedia example of the cutting-stock problem: 5600 mm rolls, 13 widths, optimum 73.

    From memory: widths, demands and the optimum.
    """
    orders = {
        1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
        2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
    }  # fmt: skip
    wants = pieces(*[mm / 1000 for mm, n in orders.items() for _ in range(n)])
    plan = nest(wants, Stick("roll", 5.6), kerf=0.0)
    assert (plan.new_sticks, plan.bound, plan.complete) == (73, 73, True)


def test_textbook_example_takes_453_rolls() -> None:
    """V. Chvatal, Linear Programming (1983), chapter 13: rolls of 100 in, linear optimum 452.25, best 453.

    From memory: widths, demands and both results.
    """
    orders = {45: 97, 36: 610, 31: 395, 14: 211}
    wants = pieces(*[inch * 0.0254 for inch, n in orders.items() for _ in range(n)])
    plan = nest(wants, Stick("roll", 100 * 0.0254), kerf=0.0)
    assert (plan.new_sticks, plan.bound) == (453, 453)


@pytest.mark.parametrize("seed", range(6))
def test_sticks_cut_without_any_loss_are_put_together_again(seed: int) -> None:
    """Optimum known by construction: whole sticks are cut up, so their number is also the length bound."""
    rng = random.Random(seed)
    lengths: list[float] = []
    for _ in range(24):
        first = rng.randrange(150, 280) * 10
        second = rng.randrange(100, 200) * 10
        lengths += [first / 1000, second / 1000, (6100 - first - second - 2 * 3) / 1000]
    plan = nest(pieces(*lengths), STICK, kerf=0.003)
    assert plan.bound == 24
    assert plan.new_sticks == 24
    assert plan.waste == pytest.approx(24 * 2 * 0.003)


# ------------------------------------------------------------------ the harder roads


def mixed(seed: int, number: int, kinds: int) -> list[Want]:
    rng = random.Random(seed)
    lengths = rng.sample(range(80, 4201), kinds)
    return pieces(*[rng.choice(lengths) / 1000 for _ in range(number)])


def test_column_generation_beats_first_fit_and_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    wants = mixed(4, 400, 40)
    plan, plain = nest(wants, STICK, kerf=0.003), first_fit(wants, STICK, kerf=0.003)
    assert "column generation" in plan.method
    assert plan.new_sticks < plain.new_sticks
    assert plan.complete
    assert capfd.readouterr() == ("", "")


def test_many_lengths_are_repacked_and_the_bound_stays_sound() -> None:
    wants = mixed(3, 900, 700)
    plan = nest(wants, STICK, kerf=0.003)
    assert plan.bound <= plan.new_sticks <= first_fit(wants, STICK, kerf=0.003).new_sticks
    assert plan.gap <= 2


def test_no_time_still_gives_a_plan_that_says_so() -> None:
    plan = nest(mixed(4, 400, 40), STICK, kerf=0.003, seconds=0.0)
    assert plan.gap > 0
    assert not plan.complete
    assert plan.method.endswith("stopped by the clock")


def test_belled_line_with_offcuts_by_columns() -> None:
    wants = [replace(w, bell=i % 3 == 0) for i, w in enumerate(mixed(2, 300, 30))]
    wants = [w if not w.bell or w.length > 0.3 else replace(w, length=0.5) for w in wants]
    rack = [Offcut(f"o{i}", 0.5 + 0.1 * i, bell=i % 2 == 0, bell_length=0.2) for i in range(20)]
    plan = nest(wants, BELLED, kerf=0.003, offcuts=rack)
    assert plan.gap <= 1
    assert plan.new_sticks <= first_fit(wants, BELLED, kerf=0.003, offcuts=rack).new_sticks


def test_exact_search_proves_what_bounds_cannot() -> None:
    # by hand: seven pieces of 2.1 m, three at most in 6.4 m less cuts, so three sticks
    problem = to_grid(pieces(*[2.1] * 7), Stick("s", 6.4), 0.003, [])
    assert search(problem, 2, 1000) is False
    assert isinstance(search(problem, 3, 1000), list)
    assert search(problem, 3, 1) is True
    assert quick_bound(problem) <= 3


def test_pieces_longer_than_a_new_stick_come_from_offcuts_or_not_at_all() -> None:
    short = Stick("short", 3.0)
    rack = [Offcut("a", 5.0), Offcut("b", 5.0)]
    plan = nest(pieces(4.0, 4.5, 1.0), short, kerf=0.003, offcuts=rack)
    assert plan.new_sticks == 1
    with pytest.raises(PlanImpossible, match="find no place on the kept offcuts"):
        nest(pieces(4.0, 4.5, 4.2), short, kerf=0.003, offcuts=rack)


# ------------------------------------------------------------------ refusals


def test_a_piece_longer_than_any_stick_is_named() -> None:
    with pytest.raises(PlanImpossible, match=r"piece P2 is 6\.2000 m long; allowed: at most 6\.1000 m"):
        nest(pieces(1.0, 6.2), STICK, kerf=0.003)


def test_a_belled_piece_without_belled_stock_is_named() -> None:
    with pytest.raises(PlanImpossible, match="piece B keeps a factory bell"):
        nest([Want("B", 1.0, bell=True)], STICK, kerf=0.003)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: nest(pieces(0.0), STICK, kerf=0.003), "piece P1 is 0.0 m long"),
        (lambda: nest(pieces(float("nan")), STICK, kerf=0.003), "piece P1 is nan m long"),
        (lambda: nest(pieces(1.0) * 2, STICK, kerf=0.003), "piece P1 is listed twice"),
        (lambda: nest(pieces(1.0), STICK, kerf=-0.1), "saw cut"),
        (lambda: nest(pieces(1.0), Stick("s", -1.0), kerf=0.0), "stick s is -1.0 m long"),
        (lambda: nest(pieces(1.0), Stick("s", 1.0, trim=0.6), kerf=0.0), "loses 1.2 m at its ends"),
        (
            lambda: nest(pieces(1.0), STICK, kerf=0.0, offcuts=[Offcut("o", 1.0)] * 2),
            "offcut o is listed twice",
        ),
        (lambda: nest(pieces(1.0), STICK, kerf=0.0, useful_offcut=-1.0), "least useful offcut"),
    ],
)
def test_lengths_that_mean_nothing_are_refused(make: Callable[[], Nesting], says: str) -> None:
    with pytest.raises(BadInput, match=says):
        make()


# ------------------------------------------------------------------ the checker sees what is wrong


def _spoil(plan: Nesting, **change: object) -> Nesting:
    first = replace(plan.sticks[0], **change)  # type: ignore[arg-type]
    return replace(plan, sticks=(first, *plan.sticks[1:]))


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda p: replace(p, sticks=p.sticks[1:]), "is not cut"),
        (lambda p: replace(p, sticks=(*p.sticks, p.sticks[0])), "is cut 2 times"),
        (lambda p: replace(p, new_sticks=p.new_sticks + 1), "new sticks are stated"),
        (lambda p: replace(p, bound=p.bound + 1), "gap"),
        (lambda p: replace(p, complete=not p.complete), "does not agree"),
        (lambda p: replace(p, not_placed=("P1",)), "pieces left over"),
        (lambda p: replace(p, waste=p.waste + 0.01), "waste is"),
        (lambda p: replace(p, kept_offcuts=p.kept_offcuts[1:]), "kept offcuts are not those"),
        (lambda p: replace(p, unused_offcuts=("o",)), "unused offcuts"),
        (lambda p: _spoil(p, starts=(0.0, 1.0)), "starts at 1.0000 m"),
        (lambda p: _spoil(p, starts=(2.0, 5.5)), "the stick allows 6.1000 m"),
        (lambda p: _spoil(p, starts=(0.0,)), "do not pair"),
        (lambda p: _spoil(p, offcut_length=0.5), "is stated"),
        (lambda p: _spoil(p, offcut_bell=True), "bell of what is left"),
        (lambda p: _spoil(p, bell_used_by="P1"), "which piece keeps the bell"),
        (lambda p: _spoil(p, cuts=()), "cuts end a piece"),
        (lambda p: _spoil(p, cuts=(0.01, *p.sticks[0].cuts)), "trimming cuts"),
        (lambda p: _spoil(p, stick_id="other"), "not the stock"),
        (lambda p: _spoil(p, overall=7.0), "not the stock"),
    ],
)
def test_checker_finds_a_spoiled_plan(spoil: Callable[[Nesting], Nesting], says: str) -> None:
    wants = pieces(4.0, 2.0, 3.0)
    plan = nest(wants, STICK, kerf=0.003)
    assert check_nesting(plan, wants, STICK, 0.003, ()) == []
    assert any(says in fault for fault in check_nesting(spoil(plan), wants, STICK, 0.003, ()))


def test_checker_finds_a_bell_where_there_is_none() -> None:
    plan = nest(pieces(4.0, 2.0), STICK, kerf=0.003)
    wants = [Want("P1", 4.0), Want("P2", 2.0, bell=True)]
    assert any("cannot keep the bell" in f for f in check_nesting(plan, wants, STICK, 0.003, ()))


# ------------------------------------------------------------------ light to load


def test_a_handful_of_pieces_loads_no_solver() -> None:
    code = (
        "import sys\n"
        "from lineproof.plan.nest import Stick, Want, nest\n"
        "nest([Want('a', 4.0), Want('b', 2.0), Want('c', 3.0)], Stick('s', 6.1), kerf=0.003)\n"
        "print([m for m in ('numpy', 'scipy', 'highspy') if m in sys.modules])\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=_paths()
    )
    assert run.stdout.strip() == "[]"


def _paths() -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)}
