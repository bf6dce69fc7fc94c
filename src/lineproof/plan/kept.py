"""Pieces of split legs that are made: a later change of stock cuts only what lies between them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from lineproof.floor.errors import PlanImpossible
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import JointRow, JointsFile
from lineproof.job.statements import Statement
from lineproof.plan.ask import SameAs
from lineproof.plan.keys import Keys, walk_as_said
from lineproof.plan.rematch import rematch
from lineproof.plan.split import Bit

Stretch = tuple[float, float]
"""Start and end of a piece along the pipe of its leg. [m]"""

NEAR = 1e-3
"""Ends closer than this are the same end; joints.csv keeps tenths of a millimetre. [m]"""

ROUNDED = 2e-4
"""What two ends of a stretch may be off for the tenths of a millimetre that joints.csv keeps. [m]"""

PLAY = 0.025
"""How far the end of a leg may have moved under a made last piece (own rule). [m]"""

_OF_RUN = re.compile(r"(?P<run>.*>.*?)(?:\.(?P<end>[ab])|~(?P<n>\d+)\.(?:before|after|pipe))")


def made_stretches(
    graph: LineGraph,
    statements_by_line: Mapping[str, Sequence[Statement]],
    old: JointsFile,
    recorded: frozenset[str],
    answers: Iterable[SameAs] = (),
) -> dict[str, tuple[Stretch, ...]]:
    """Where made pieces lie in legs that were split.

    Parameters
    ----------
    graph : LineGraph
        The lines as laid now.
    statements_by_line : mapping
        Line name to its statements.
    old : JointsFile
        joints.csv.
    recorded : frozenset of str
        Ids of joints that have a record and were not cut out.
    answers : iterable of SameAs

    Returns
    -------
    dict
        Run id now to the stretches of its made pieces, in order.
    """
    return stretches_of(rows_of_runs(graph, statements_by_line, old, recorded, answers), recorded)


def stretches_of(
    told: Mapping[str, Sequence[JointRow]], recorded: frozenset[str]
) -> dict[str, tuple[Stretch, ...]]:
    """Where made pieces lie in legs that were split.

    Parameters
    ----------
    told : mapping
        Run id to its rows, see ``rows_of_runs``.
    recorded : frozenset of str

    Returns
    -------
    dict
        Run id to the stretches of its made pieces, in order.
    """
    kept = {}
    for run, rows in told.items():
        if any(_of_split(row) for row in rows):
            made = _made(rows, recorded)
            if made:
                kept[run] = made
    return kept


def rows_of_runs(
    graph: LineGraph,
    statements_by_line: Mapping[str, Sequence[Statement]],
    old: JointsFile,
    recorded: frozenset[str],
    answers: Iterable[SameAs] = (),
) -> dict[str, list[JointRow]]:
    """Rows of joints.csv whose pipe lies in each run, where one of them is made.

    Parameters
    ----------
    graph, statements_by_line, old, recorded, answers
        As for ``made_stretches``.

    Returns
    -------
    dict
        Run id now to its rows. The rounding of cut lengths starts afresh at such a run: its pieces are cut.
    """
    if not recorded:
        return {}
    said = walk_as_said(graph, statements_by_line)
    found = rematch(said, {name: line.file for name, line in graph.lines.items()}, old, answers)
    keys = Keys(graph, found.line_keys, found.statement_keys)
    by_run: dict[str, list[JointRow]] = {}
    for row in old.joints.values():
        told = _OF_RUN.fullmatch(row.b)
        if told:
            by_run.setdefault(told["run"], []).append(row)
    rows = {run.id: by_run.get(keys.run(run), []) for run in graph.runs.values()}
    return {run: told for run, told in rows.items() if any(row.id in recorded for row in told)}


def _of_split(row: JointRow) -> bool:
    told = _OF_RUN.fullmatch(row.b)
    return bool(told and told["n"])


def _made(rows: Sequence[JointRow], recorded: frozenset[str]) -> tuple[Stretch, ...]:
    stretches = [_stretch(row) for row in rows if row.piece]
    made: list[Stretch] = [_stretch(row) for row in rows if row.piece and row.id in recorded]
    for row in rows:
        if row.id in recorded and row.a.endswith(".bell") and row.at:
            mouth = float(row.at)  # the piece whose bell it is ends, or begins, at the mouth
            made += [s for s in stretches if min(abs(s[0] - mouth), abs(s[1] - mouth)) < NEAR]
    joined: list[Stretch] = []
    for start, end in sorted(set(made)):
        if not joined or abs(start - joined[-1][0]) > NEAR:
            joined.append((start, end))
    return tuple(joined)


def _stretch(row: JointRow) -> Stretch:
    start, end = row.piece.split()
    return float(start), float(end)


def split_round(
    total: float,
    made: Sequence[Stretch],
    *,
    step_gain: float,
    cut: Callable[[float, float, bool], tuple[Bit, ...]],
) -> tuple[Bit, ...]:
    """Cut a leg round the pieces that are made.

    Parameters
    ----------
    total : float
        From the pipe's a end to its b end. [m]
    made : sequence of (float, float)
        Made pieces, in order. [m]
    step_gain : float
        What a joint adds between two pieces, as in ``split``. [m]
    cut : callable
        (length, start, whether it is the end of the leg) to the pieces of a free stretch, from 0. [m]

    Returns
    -------
    tuple of Bit
        In order.

    Raises
    ------
    PlanImpossible
        The made pieces do not fit into the leg as it is now.
    """
    bits: list[Bit] = []
    at = 0.0

    def fill(length: float, *, last: bool) -> None:
        if length <= NEAR:
            raise PlanImpossible(
                "the pieces that are made do not fit into the leg as it is now",
                allowed=f"a leg of {total - length:.4f} m of pipe and more",
                next="put the dimension back, or cut a joint out in the logbook",
            )
        fresh = cut(length, at, last)
        fewer = cut(length - ROUNDED, at, last) if length > ROUNDED else fresh
        if len(fewer) < len(fresh):  # a stretch that filled its sticks must not gain a joint by rounding
            fresh = (*fewer[:-1], replace(fewer[-1], length=fewer[-1].length + ROUNDED))
        bits.extend(Bit(at + b.start, b.length, b.bell, b.whole) for b in fresh)

    for start, end in made:
        if abs(start - at) > NEAR:
            fill(start - step_gain - at, last=False)
        bits.append(Bit(start, end - start))
        at = end + step_gain
    end = at - step_gain
    if made and abs(total - end) <= PLAY:
        bits[-1] = Bit(bits[-1].start, total - bits[-1].start)
    else:
        fill(total - at, last=True)
    return tuple(bits)
