"""The fewest sticks: how to cut the pieces of a line from new sticks and kept offcuts.

Rules, common practice, no source: a saw cut is lost after each piece unless the piece ends where the stick
ends; plain ends of new sticks are trimmed; a stick has one bell, which at most one piece keeps; kept offcuts
are used before new sticks, the smallest that serves; what is left is kept when it is long enough. A piece is
never split: no joint is added to save pipe.

Saw order: a stick is cut longest piece first (the belled one before all others, from the bell), so that a
piece cut short can still become a shorter one. Sticks follow the crew: the one with the lowest crew order
first. Among plans with equally few new sticks the one with fewer cutting patterns is taken, then the one
whose leftovers are longer.

Lengths are added up on a grid: the largest step all lengths share (1 mm, 1/16 in ...), or 0.1 mm with pieces,
saw cuts and trims rounded up and stock rounded down, so that a plan can always be cut.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence

from lineproof.floor.errors import BadInput, LineproofError, OurFault, PlanImpossible
from lineproof.plan.nest_check import check_nesting
from lineproof.plan.nest_fill import fill, fill_pairs, quick_bound, search
from lineproof.plan.nest_grid import Bin, Problem, to_grid
from lineproof.plan.nest_model import CutStick, Nesting, Offcut, Stick, Want
from lineproof.plan.nest_tidy import patterns, tidy, value

__all__ = ["CutStick", "Nesting", "Offcut", "Stick", "Want", "check_nesting", "first_fit", "nest"]

FEW_PIECES = 24
"""Up to this many pieces an exact search is tried."""
FEW_TRIES = 3_000
MANY_TRIES = 60_000
MANY_CLASSES = 100
"""With more different lengths, repacking is tried before column generation over all of them."""


def nest(
    wants: Sequence[Want],
    stick: Stick,
    *,
    kerf: float,
    offcuts: Sequence[Offcut] = (),
    useful_offcut: float = 0.3,
    seconds: float = 10.0,
    seed: int = 0,
) -> Nesting:
    """Cut the pieces from as few new sticks as can be found, and say how few it could be.

    Parameters
    ----------
    wants : sequence of Want
        The pieces; each is cut once.
    stick : Stick
        New sticks, as many as needed.
    kerf : float
        Width of a saw cut. [m]
    offcuts : sequence of Offcut
        Kept pieces of pipe, used first.
    useful_offcut : float
        Least plain length worth keeping; shorter leftovers are waste. [m]
    seconds : float
        Guard on the time. On ordinary sizes counted limits end the search well before, so the plan does not
        depend on the machine; where the guard did end it, ``method`` says so. [s]
    seed : int
        Seed of the solver and of choices by lot; the same input and seed give the same plan.

    Returns
    -------
    Nesting
        Never more new sticks than ``first_fit``; checked by ``check_nesting`` before it is returned.

    Raises
    ------
    PlanImpossible
        A piece is longer than any stick or offcut, or no stock has the bell it keeps.
    BadInput
        A length is not positive and finite, or an id comes twice.

    Valid range
    -----------
    Lengths above 0, kerf and trim 0 or more; up to some ten thousand pieces.

    Examples
    --------
    >>> plan = nest([Want("P1", 4.0), Want("P2", 2.0), Want("P3", 3.0)], Stick("S", 6.1), kerf=0.003)
    >>> plan.new_sticks, plan.bound, [s.pieces for s in plan.sticks]
    (2, 2, [('P1', 'P2'), ('P3',)])

    References
    ----------
    .. [1] P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem,
       Operations Research 9 (1961): column generation (from memory).
    .. [2] A. A. Farley, A note on bounding a class of linear programming problems, including cutting stock
       problems, Operations Research 38 (1990): the bound from any prices (from memory).
    .. [3] S. Martello, P. Toth, Lower bounds and reduction procedures for the bin packing problem, Discrete
       Applied Mathematics 28 (1990): bound L2 (from memory).
    """
    deadline = time.perf_counter() + seconds
    problem = _problem(wants, stick, kerf, offcuts, useful_offcut)
    useful = round(useful_offcut / problem.grid)
    plans = [("first fit", _start(problem))]
    best_fit = fill(problem, "best")
    if best_fit is not None:
        plans.append(("best fit", best_fit))
    bound = quick_bound(problem)
    plans = [(how, tidy(problem, plan, useful)) for how, plan in plans]
    best = min(_new(plan) for _, plan in plans)

    if best > bound and problem.pieces <= FEW_PIECES:
        best, bound = _searched(problem, plans, best, bound, FEW_TRIES)
    limit = ""
    if best > bound and (pairs := fill_pairs(problem)) is not None:
        plans.append(("best pair", tidy(problem, pairs, useful)))
        best = min(best, _new(plans[-1][1]))
    if best > bound:
        best, bound, limit = _columns(problem, plans, bound, deadline, seed)
    if best > bound and problem.pieces <= FEW_PIECES:
        best, bound = _searched(problem, plans, best, bound, MANY_TRIES)

    tidied = [(how, tidy(problem, plan, useful)) for how, plan in plans if _new(plan) == best]
    how, plan = min(tidied, key=lambda p: (_new(p[1]), patterns(p[1]), -value(problem, p[1], useful)))
    return _made(problem, plan, bound, how + limit, wants, stick, kerf, offcuts, useful_offcut)


def first_fit(
    wants: Sequence[Want],
    stick: Stick,
    *,
    kerf: float,
    offcuts: Sequence[Offcut] = (),
    useful_offcut: float = 0.3,
) -> Nesting:
    """Cut the pieces longest first, each from the first offcut or stick with room: the plan to beat.

    Parameters, result and errors are those of ``nest``; the bound is the quick one (bells, total length, long
    pieces). Lengths in [m].
    """
    problem = _problem(wants, stick, kerf, offcuts, useful_offcut)
    bound = quick_bound(problem)
    return _made(problem, _start(problem), bound, "first fit", wants, stick, kerf, offcuts, useful_offcut)


def _problem(
    wants: Sequence[Want], stick: Stick, kerf: float, offcuts: Sequence[Offcut], useful_offcut: float
) -> Problem:
    """Put the problem on its grid and refuse a piece that no stock can give."""
    if not useful_offcut >= 0:
        raise BadInput(f"least useful offcut is {useful_offcut!r} m", allowed="0 or more", next="correct it")
    problem = to_grid(wants, stick, kerf, offcuts)
    by_id = {w.id: w for w in wants}
    first = len(problem.plain)
    for c, weight in enumerate(problem.weights):
        most = max(k.bell if c >= first else k.plain for k in problem.kinds)
        if weight <= most:
            continue
        want = by_id[problem.members[c][0]]
        if most < 0:
            raise PlanImpossible(
                f"piece {want.id} keeps a factory bell, and no stick or offcut has one",
                allowed="belled pieces from belled stock",
                by=f"stock {stick.id}",
                next="make it a plain piece with a coupling, or order belled sticks",
            )
        raise PlanImpossible(
            f"piece {want.id} is {want.length:.4f} m long",
            allowed=f"at most {max(0.0, (most - problem.kerf) * problem.grid):.4f} m",
            by=f"the longest that stock {stick.id} and the kept offcuts give",
            next="split it with a coupling or a bell, or order longer sticks",
        )
    return problem


def _new(plan: Sequence[Bin]) -> int:
    return sum(1 for b in plan if b.kind == 0)


def _start(problem: Problem) -> list[Bin]:
    """First fit; where that finds no place for a piece only an offcut can give, a search."""
    plan = fill(problem)
    if plan is not None:
        return plan
    found = search(problem, problem.pieces, MANY_TRIES) if problem.pieces <= 500 else True
    if isinstance(found, list):
        return found
    longest = problem.members[0][0] if problem.plain else problem.members[-1][0]
    given = f"pieces longer than a new stick, {longest} among them, find no place on the kept offcuts"
    if found:
        raise LineproofError(f"no cutting plan was found: {given}", next="split them or order longer sticks")
    raise PlanImpossible(
        given,
        allowed="one place for each",
        by="the list of offcuts",
        next="split them or order longer sticks",
    )


def _searched(
    problem: Problem, plans: list[tuple[str, list[Bin]]], best: int, bound: int, tries: int
) -> tuple[int, int]:
    """Lower the best plan, or raise the bound, by exact search; return both."""
    while best > bound:
        found = search(problem, best - 1, tries)
        if found is False:
            return best, best
        if found is True:
            break
        plans.append(("exact search", found))
        best = _new(found)
    return best, bound


def _columns(
    problem: Problem, plans: list[tuple[str, list[Bin]]], bound: int, deadline: float, seed: int
) -> tuple[int, int, str]:
    """Repack, then generate columns; return the best count, the bound, and what stopped the search."""
    from lineproof.plan.nest_whole import affordable, improve, repack

    limit = ""
    if len(problem.demand) > MANY_CLASSES:
        how, plan = min(reversed(plans), key=lambda p: _new(p[1]))
        better = repack(problem, plan, bound, deadline, seed)
        if _new(better) < _new(plan):
            plans.append((f"{how} and repacking", better))
        if not affordable(problem):
            limit = "; too many lengths for column generation over all of them"
    best = min(_new(plan) for _, plan in plans)
    if best > bound and not limit:
        found = improve(problem, [plan for _, plan in plans], bound, deadline, seed)
        bound, limit = found.bound, found.limit
        if found.plan is not None:
            plans.append((found.how, found.plan))
            best = min(best, _new(found.plan))
    return best, bound, limit if best > bound else ""


def _made(
    problem: Problem,
    plan: Sequence[Bin],
    bound: int,
    method: str,
    wants: Sequence[Want],
    stick: Stick,
    kerf: float,
    offcuts: Sequence[Offcut],
    useful_offcut: float,
) -> Nesting:
    """Give the plan its real pieces, in crew order, and check it."""
    by_id = {w.id: w for w in wants}
    racks = {o.id: o for o in offcuts}
    queues = [iter(ids) for ids in problem.members]
    offcut_ids = [iter(kind.ids) for kind in problem.kinds]
    made: list[tuple[int, bool, int, CutStick]] = []
    for number, b in enumerate(
        sorted(plan, key=lambda b: (b.kind == 0, b.kind, b.bell < 0, sorted(b.pieces)))
    ):
        pieces = [by_id[next(queues[c])] for c in b.classes()]
        source = racks[next(offcut_ids[b.kind])] if b.kind else stick
        first_order = min(w.order for w in pieces)
        made.append((first_order, not b.kind, number, _cut(pieces, source, kerf, useful_offcut)))
    sticks = tuple(m[3] for m in sorted(made, key=lambda m: m[:3]))
    lost = stick.bell_length
    kept = tuple(
        Offcut(
            f"{s.stick_id}/{n}",
            s.offcut_length,
            s.offcut_bell,
            (racks[s.stick_id].bell_length if s.source == "offcut" else lost) if s.offcut_bell else 0.0,
        )
        for n, s in enumerate(sticks, start=1)
        if s.kept
    )
    used = {s.stick_id for s in sticks if s.source == "offcut"}
    lengths = [s.overall for s in sticks] + [-w.length for w in wants] + [-o.length for o in kept]
    new = _new(plan)
    nesting = Nesting(
        sticks=sticks,
        new_sticks=new,
        bound=bound,
        gap=new - bound,
        method=method,
        complete=new == bound,
        not_placed=(),
        waste=max(0.0, math.fsum(lengths)),
        kept_offcuts=kept,
        unused_offcuts=tuple(sorted(o.id for o in offcuts if o.id not in used)),
        patterns=patterns(plan),
        grid=problem.grid,
        exact_grid=problem.exact,
    )
    faults = check_nesting(nesting, wants, stick, kerf, offcuts)
    if faults:
        raise OurFault(
            f"the cutting plan failed its own check: {faults[0]}", next="report it with the cut list"
        )
    return nesting


def _cut(pieces: list[Want], source: Stick | Offcut, kerf: float, useful_offcut: float) -> CutStick:
    """Lay the pieces along one stick."""
    new = isinstance(source, Stick)
    belled = source.belled if isinstance(source, Stick) else source.bell
    trim = source.trim if isinstance(source, Stick) else 0.0
    pieces = sorted(pieces, key=lambda w: (not w.bell, -w.length, w.order, w.id))
    keeper = pieces[0].id if pieces[0].bell else None
    spare_bell = belled and keeper is None
    at = 0.0 if keeper else trim
    cuts = [max(0.0, trim - kerf)] if trim > 0 and keeper is None else []
    starts: list[float] = []
    for want in pieces:
        starts.append(at)
        end = at + want.length
        if end < source.length - 1e-7:
            cuts.append(end)
        at = end + kerf
    left = max(0.0, (source.length if spare_bell else source.length - trim) - at)
    plain = left - source.bell_length if spare_bell else left
    return CutStick(
        stick_id=source.id,
        source="new" if new else "offcut",
        overall=source.length,
        pieces=tuple(w.id for w in pieces),
        starts=tuple(starts),
        cuts=tuple(cuts),
        offcut_length=left,
        kept=plain > 0 and plain >= useful_offcut - 1e-9,
        offcut_bell=spare_bell,
        bell_used_by=keeper,
    )
