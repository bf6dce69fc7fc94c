"""Properties of nesting; the exact optimum comes from OR-tools CP-SAT, its model written from the rules."""

import itertools
import random
from dataclasses import dataclass

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from lineproof.floor.errors import PlanImpossible
from lineproof.plan.nest import Nesting, Offcut, Stick, Want, check_nesting, first_fit, nest

settings.register_profile("nest", deadline=None, suppress_health_check=[HealthCheck.too_slow])
calm = settings(settings.get_profile("nest"), max_examples=80)


@dataclass(frozen=True)
class Case:
    """Lengths in millimetres."""

    pieces: tuple[tuple[int, bool], ...]
    stick: int
    bell: int
    trim: int
    kerf: int
    rack: tuple[tuple[int, int], ...]

    def wants(self) -> list[Want]:
        return [Want(f"P{i}", mm / 1000, bell, order=i % 3) for i, (mm, bell) in enumerate(self.pieces)]

    def stock(self) -> Stick:
        return Stick("S", self.stick / 1000, self.bell > 0, self.bell / 1000, self.trim / 1000)

    def offcuts(self) -> list[Offcut]:
        return [Offcut(f"O{i}", mm / 1000, bell > 0, bell / 1000) for i, (mm, bell) in enumerate(self.rack)]

    def nest(self) -> Nesting:
        return nest(self.wants(), self.stock(), kerf=self.kerf / 1000, offcuts=self.offcuts())


@st.composite
def cases(draw: st.DrawFn, most: int = 9, step: int = 10, racks: int = 3) -> Case:
    stick = draw(st.integers(60, 100)) * step
    belled = draw(st.booleans())
    lengths = st.integers(8, 55).map(lambda n: n * step)
    keep = st.sampled_from([False, False, True]) if belled else st.just(False)
    pieces = draw(st.lists(st.tuples(lengths, keep), min_size=1, max_size=most))
    rack = draw(
        st.lists(
            st.tuples(st.integers(15, 70).map(lambda n: n * step), st.sampled_from([0, 0, 5 * step])),
            max_size=racks,
        )
    )
    return Case(
        pieces=tuple((mm + 5 * step if bell else mm, bell) for mm, bell in pieces),
        stick=stick,
        bell=5 * step if belled else 0,
        trim=draw(st.sampled_from([0, step, 3 * step])),
        kerf=draw(st.sampled_from([0, 3, step])),
        rack=tuple(rack),
    )


def exact(case: Case) -> int | None:
    """Return the fewest new sticks by CP-SAT, each rule written out as said in words; None if impossible."""
    model = cp_model.CpModel()
    n = len(case.pieces)
    stock = [(mm, bell, 0, False) for mm, bell in case.rack] + [(case.stick, case.bell, case.trim, True)] * n
    put = [[model.new_bool_var("") for _ in stock] for _ in range(n)]
    for row in put:
        model.add_exactly_one(row)
    used = []
    for s, (length, bell, trim, new) in enumerate(stock):
        keeps = sum(put[i][s] for i in range(n) if case.pieces[i][1])
        count = sum(put[i][s] for i in range(n))
        total = sum(put[i][s] * case.pieces[i][0] for i in range(n))
        inside = model.new_bool_var("")
        kept = model.new_bool_var("")
        model.add(count >= 1).only_enforce_if(inside)
        model.add(count == 0).only_enforce_if(~inside)
        model.add(keeps == kept)
        if bell == 0:
            model.add(kept == 0)
            # n pieces are parted by n - 1 cuts between the two trimmed ends
            model.add(total + case.kerf * (count - 1) <= length - 2 * trim).only_enforce_if(inside)
        else:
            # the bell end is not trimmed; without a keeper one more cut parts the last piece from the bell
            model.add(total + case.kerf * (count - 1) <= length - trim).only_enforce_if(inside, kept)
            model.add(total + case.kerf * count <= length - trim - bell).only_enforce_if(inside, ~kept)
        if new:
            used.append(inside)
    for a, b in itertools.pairwise(used):
        model.add_implication(b, a)
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@calm
@given(cases())
def test_small_cases_reach_the_exact_optimum(case: Case) -> None:
    best = exact(case)
    if best is None:
        with pytest.raises(PlanImpossible):
            case.nest()
        return
    plan = case.nest()
    assert plan.new_sticks == best
    assert plan.complete
    assert plan.bound == best


@calm
@given(cases(most=40, step=25, racks=6))
def test_every_piece_once_never_worse_than_first_fit_and_bound_below(case: Case) -> None:
    try:
        plan = case.nest()
    except PlanImpossible:
        assume(False)
    args = (case.wants(), case.stock())
    plain = first_fit(*args, kerf=case.kerf / 1000, offcuts=case.offcuts())
    assert sorted(i for s in plan.sticks for i in s.pieces) == sorted(w.id for w in case.wants())
    assert plan.bound <= plan.new_sticks <= plain.new_sticks
    assert plain.bound <= plan.bound
    assert check_nesting(plan, *args, case.kerf / 1000, case.offcuts()) == []
    assert check_nesting(plain, *args, case.kerf / 1000, case.offcuts()) == []


@calm
@given(cases(most=30, racks=4), st.randoms(use_true_random=False))
def test_the_order_of_the_list_changes_nothing(case: Case, rng: random.Random) -> None:
    try:
        plan = case.nest()
    except PlanImpossible:
        assume(False)
    wants, rack = case.wants(), case.offcuts()
    rng.shuffle(wants)
    rng.shuffle(rack)
    assert nest(wants, case.stock(), kerf=case.kerf / 1000, offcuts=rack) == plan


@calm
@given(cases(most=10), st.integers(1, 12))
def test_a_wider_saw_cut_never_saves_a_stick(case: Case, wider: int) -> None:
    kerf = (case.kerf + wider) / 1000
    try:
        wide = nest(case.wants(), case.stock(), kerf=kerf, offcuts=case.offcuts())
    except PlanImpossible:
        assume(False)
    narrow = case.nest()
    assert narrow.complete
    assert wide.complete
    assert narrow.new_sticks <= wide.new_sticks


@calm
@given(cases(most=12))
def test_kept_offcuts_can_be_cut_again(case: Case) -> None:
    """What a plan keeps is long enough for one piece of its own plain length, without a new stick."""
    try:
        plan = case.nest()
    except PlanImpossible:
        assume(False)
    for offcut in plan.kept_offcuts:
        again = nest([Want("again", offcut.length, offcut.bell)], case.stock(), kerf=0.003, offcuts=[offcut])
        assert again.new_sticks == 0
