"""The bound and the search against a search through every plan, written on its own in ``days_rig``."""

import pytest

from days_rig import best_of_all, tiny
from lineproof.plan.days.bound import Bound
from lineproof.plan.days.lay_out import NoDays, lay_out
from lineproof.plan.days.model import Days
from lineproof.plan.days.search import Limits
from lineproof.plan.days.slots import Board
from lineproof.plan.days.verify import faults_of

SMALL = range(60)
ALL = range(500)


def _bound_holds(seeds: range) -> tuple[int, int]:
    """Seeds with a plan at all, and those where the bound meets the best."""
    possible = met = 0
    for seed in seeds:
        ahead = tiny(seed)
        best = best_of_all(ahead)
        for step in (1, 12):
            bound = Bound(ahead, Board(ahead), step=step).slot()
            if best is not None:
                assert bound is not None, seed
                assert bound <= best, (seed, step)
        if best is not None:
            possible += 1
            met += Bound(ahead, Board(ahead), step=1).slot() == best
    return possible, met


def test_the_bound_is_never_above_the_best_of_all_plans():
    possible, met = _bound_holds(SMALL)
    assert possible > len(SMALL) // 2
    assert met > possible // 2  # and it is not a bound that says nothing


@pytest.mark.slow
def test_the_bound_is_never_above_the_best_of_all_plans_on_five_hundred():
    possible, met = _bound_holds(ALL)
    assert possible > 250
    assert met > possible // 2


@pytest.mark.parametrize("seed", range(40))
def test_a_small_plan_that_is_called_proved_is_the_best_of_all(seed):
    ahead = tiny(seed)
    best = best_of_all(ahead)
    found = lay_out(ahead, limits=Limits(seconds=30.0, share=30.0), tries=5)
    if best is None:
        assert isinstance(found, NoDays)
    else:
        assert isinstance(found, Days)
        assert found.how == "proved"
        assert found.finish == best
        assert faults_of(ahead, found) == ()
