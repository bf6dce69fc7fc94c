"""The statement a run of pipe was walked by, as text that tells whether it is still the same leg."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from lineproof.floor.errors import BadInput
from lineproof.job.graph import LineGraph, Run
from lineproof.job.statements import Go, Offset, Statement, Walk
from lineproof.job.taped import Taped
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_write import print_statement

Named = Callable[[str], str]
"""Part id to what its face is called."""


def leg_text(walks: tuple[Walk, ...], run: Run) -> str:
    """The statement of a run in its plain form, without its comment.

    Parameters
    ----------
    walks : tuple of Walk
        All walks of the job.
    run : Run

    Returns
    -------
    str
        Empty if no statement stands there.
    """
    for walk in walks:
        if walk.file == run.file:
            found: Statement | None = next((s for s in walk.statements if s.spot == run.spot), None)
            if found is not None:
                metric = run.size.metric
                bare = replace(found, comment="")
                if isinstance(bare, (Go, Offset)):
                    bare = replace(bare, field=False)  # once taped, a leg may lose its field
                return print_statement(bare, Numbers(metric, metric))
    return ""


def run_between(graph: LineGraph, a: str, b: str) -> Run | None:
    """The run of pipe between two parts; None if there is none."""
    return next((r for r in graph.runs.values() if {r.a[0], r.b[0]} == {a, b}), None)


def must_be_its_leg(
    row: Taped, run: Run | None, walks: tuple[Walk, ...], runs: Iterable[Run] = (), names: Named = str
) -> None:
    """Refuse a taped row whose faces lie on another leg than when it was taped.

    Parameters
    ----------
    row : Taped
    run : Run or None
        The run that its faces name now.
    walks : tuple of Walk
    runs : iterable of Run
        All runs of the line, to say between which faces that leg lies now.
    names : callable
        Part id to what its face is called.

    Raises
    ------
    BadInput
        With the row, the leg it was taped on, the one its faces name now, and where that leg lies now.
    """
    if not row.leg:
        return
    now = leg_text(walks, run) if run is not None else ""
    if now != row.leg:
        same = [r for r in runs if leg_text(walks, r) == row.leg]
        lies = ""
        if len(same) == 1:
            lies = f"; that leg lies from {names(same[0].a[0])} to {names(same[0].b[0])} now"
        raise BadInput(
            f"{row.face_a} to {row.face_b} of {row.line} was taped on the leg `{row.leg}`, and those faces "
            + (f"now lie on `{now}`" if now else "lie on no leg together now")
            + lies,
            allowed="a gap on the leg it was taped on",
            next="look at the gap: if the tape still holds, write the names of the new pack into face_a and "
            "face_b and empty leg; if not, put # before the row and tape again",
            place=row.place,
        )
