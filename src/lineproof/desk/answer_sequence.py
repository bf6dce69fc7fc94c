"""What ``sequence --json`` prints; docs/schemas/sequence.json is written from this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from lineproof.desk.answer_pack import JobName
from lineproof.floor.verdicts import Finding, Verdict, worst
from lineproof.plan.sequence.closure import Loop
from lineproof.plan.sequence.sheet import SpoolLine, StepLine
from lineproof.plan.sequence.whole import Ordered
from lineproof.plan.work import Work


@dataclass(frozen=True, slots=True, kw_only=True)
class SequenceAnswer:
    """How every loop closes, and an order of all joints.

    Parameters
    ----------
    job : JobName
    invented : bool
        Its data are invented.
    stamp : datetime
        The newest moment among the inputs.
    verdict : Verdict
    findings : tuple of Finding
        The worst first.
    loops : tuple of Loop
    count, bound : int
        Independent loops; loops with no opening in them at all. [-]
    cost, least : float
        Work that the openings add, and the least that any openings add. [s]
    complete : bool
        The search went to its end.
    tried : int
        Sets of openings tried. [-]
    out_of : str
        ``"time"`` or ``"rounds"`` where the search was ended early.
    rough : bool
        Some dimension stood in provisionally.
    with_openings : bool
        The steps are those of the line with the openings put in.
    steps : tuple of StepLine
    spools : tuple of SpoolLine
    bench, in_place : int
        Joints on the bench and in place. [-]
    not_weighed : tuple of str
    inputs : mapping
        Input files with the hash of what was read.
    """

    job: JobName
    invented: bool
    stamp: datetime
    verdict: Verdict
    findings: tuple[Finding, ...]
    loops: tuple[Loop, ...]
    count: int
    bound: int
    cost: float
    least: float
    complete: bool
    tried: int
    out_of: str
    rough: bool
    with_openings: bool
    steps: tuple[StepLine, ...]
    spools: tuple[SpoolLine, ...]
    bench: int
    in_place: int
    not_weighed: tuple[str, ...]
    inputs: Mapping[str, str]


def sequence_answer(
    work: Work, ordered: Ordered, findings: tuple[Finding, ...], stamp: datetime
) -> SequenceAnswer:
    """The answer as it is printed for machines.

    Parameters
    ----------
    work : Work
    ordered : Ordered
    findings : tuple of Finding
    stamp : datetime

    Returns
    -------
    SequenceAnswer
    """
    job, c = work.job.settings.job, ordered.closure
    return SequenceAnswer(
        job=JobName(job.id, job.name), invented=job.invented, stamp=stamp, verdict=worst(findings),
        findings=findings, loops=c.loops, count=c.count, bound=c.bound, cost=c.cost, least=c.least,
        complete=c.complete, tried=c.tried, out_of=c.out_of, rough=c.rough,
        with_openings=bool(c.openings), steps=ordered.steps, spools=ordered.spools, bench=ordered.bench,
        in_place=ordered.in_place, not_weighed=ordered.not_weighed, inputs=dict(work.job.inputs),
    )  # fmt: skip
