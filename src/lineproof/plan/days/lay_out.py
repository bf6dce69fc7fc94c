"""Lays the work out over the days: first plan, bound, search, and the checker that reads the result."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from lineproof.floor.errors import OurFault
from lineproof.plan.days.bound import Bound
from lineproof.plan.days.model import Ahead, Days
from lineproof.plan.days.search import CLOCK, PROVED, SHARE, Limits, Model
from lineproof.plan.days.slots import Board
from lineproof.plan.days.start import Layer, first_plan
from lineproof.plan.days.tighten import close_up
from lineproof.plan.days.verify import faults_of

GRAINS = 1000
"""The bound is found to this share of the horizon. [-]"""
TRIES = 400
"""Plans that are laid by the rule before the search begins. [-]"""


@dataclass(frozen=True, slots=True)
class NoDays:
    """Why no plan was found.

    Parameters
    ----------
    why : str
        ``"no hours"``: these joints, taken alone, have none; ``"no test hours"``: these sections have none;
        ``"too late"``: it is proved that not all of it fits before the calendars end; ``"not found"``: no
        plan was found, and it is not proved that there is none.
    ids : tuple of str
        The joints or sections.
    """

    why: str
    ids: tuple[str, ...] = ()


def lay_out(
    ahead: Ahead,
    *,
    seed: int = 0,
    limits: Limits | None = None,
    tries: int = TRIES,
    told: Callable[[str, int, int], None] = lambda _what, _finish, _bound: None,
) -> Days | NoDays:
    """The best plan that was found, with the bound beside it.

    Parameters
    ----------
    ahead : Ahead
    seed : int
    limits : Limits, optional
        Of the search.
    tries : int
        Plans laid by the rule before the search. [-]
    told : callable
        What is being done, the best finish and the bound so far.

    Returns
    -------
    Days or NoDays
        The same for the same work, seed, tries and share of work with one worker, unless ``how`` says that
        the clock ended it.

    Raises
    ------
    OurFault
        If the checker finds a fault in the plan: it is then not shown.

    Notes
    -----
    Least finish first; then people standing about between two joints of a day, by closing gaps up without
    changing the finish, which is not proved to be the least.
    """
    limits = limits or Limits()
    began = time.monotonic()
    board = Board(ahead)
    bound = Bound(ahead, board)
    nothing = _hopeless(ahead, board, bound)
    if nothing is not None:
        return nothing
    layer = Layer(ahead, board)
    late = time.monotonic() + limits.seconds * 0.3

    def over() -> bool:
        return time.monotonic() > late

    best = layer.lay(layer.order_by({name: float(tail) for name, tail in layer.tails.items()}))
    last = bound.latest(ahead.far if best is None else best.finish)
    weight = {name: -float(slot) for name, slot in last.items()} if last else None
    enough = (bound.alone(best.finish) if best is not None else None) or 0
    found = first_plan(layer, weight=weight, seed=seed, tries=tries, enough=enough, stop=over)
    best = _better(best, found)
    clock = over()
    if best is not None:
        told("first plan", best.finish, 0)
    least = bound.slot(None if best is None else best.finish, grain=max(1, ahead.horizon // GRAINS))
    if least is None:
        return NoDays("too late") if best is None else _fault("the bound refuses the first plan")
    if best is not None and best.finish <= least:
        return _checked(ahead, replace(close_up(ahead, board, best), bound=least, how=PROVED))
    if best is not None:
        told("search", best.finish, least)
    upper = ahead.far if best is None else best.finish
    model = Model(ahead, board, earliest=bound.earliest or {}, bound=least, upper=upper)
    if best is not None:
        model.hint(best)
    left = limits.seconds - (time.monotonic() - began)
    found, proved, how = model.solve(replace(limits, seconds=max(left, 1.0)), seed=seed)
    best = _better(best, found)
    if best is None:
        return NoDays("not found")
    least = max(least, min(proved, best.finish))
    if best.finish <= least:
        how = PROVED
    elif how == SHARE and clock:
        how = CLOCK
    return _checked(ahead, replace(close_up(ahead, board, best), bound=least, how=how))


def _better(one: Days | None, other: Days | None) -> Days | None:
    if one is None or other is None:
        return one or other
    return other if other.finish <= one.finish else one


def _hopeless(ahead: Ahead, board: Board, bound: Bound) -> NoDays | None:
    """Joints or sections that have no hours at all."""
    never = bound.never()
    if never:
        return NoDays("no hours", never)
    dry = tuple(t.id for t in ahead.trials if not board.trial_starts(t.calendar, t.busy))
    return NoDays("no test hours", dry) if dry else None


def _fault(what: str) -> NoDays:
    raise OurFault(f"the plan of the days was held back: {what}", next="send us the job folder")


def _checked(ahead: Ahead, days: Days) -> Days:
    """The plan, read by the checker before anybody sees it."""
    faults = faults_of(ahead, days)
    if faults:
        first = faults[0]
        _fault(f"{first.rule}, {first.id} at slot {first.at} {first.other}".strip())
    return days
