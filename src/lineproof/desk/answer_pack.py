"""What ``plan --json`` prints and out/pack.json holds; docs/schemas/pack.json is written from this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.graph import LaidLine
from lineproof.plan.bodies import Body, bodies
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.model import Piece
from lineproof.plan.order_model import OrderList
from lineproof.plan.pack import Confirm, Counts, Pack
from lineproof.plan.sticks import StickPlan
from lineproof.plan.tape import TapeList


@dataclass(frozen=True, slots=True)
class JobName:
    """The job as job.toml calls it."""

    id: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PackAnswer:
    """A work pack.

    Parameters
    ----------
    job : JobName
    invented : bool
        Its data are invented.
    issue : str
        Number of the issue; empty while it is not issued.
    stamp : datetime
        The newest moment among the inputs.
    verdict : Verdict
        Of the whole pack.
    counts : Counts
    findings : tuple of Finding
        Of every check.
    confirmations : tuple of Confirm
        Those that would clear the most.
    lines : tuple of LaidLine
    pieces : tuple of Piece
    joints : tuple of JointPlan
        In walking order.
    bodies : mapping
        By part or piece id.
    sticks : tuple of StickPlan
        One a stock item.
    tape : TapeList
    order : OrderList or None
    days : mapping
        Joint ids in order for each day planned, by its name.
    inputs : mapping
        Input files with the hash of what was read.
    """

    job: JobName
    invented: bool
    issue: str
    stamp: datetime
    verdict: Verdict
    counts: Counts
    findings: tuple[Finding, ...]
    confirmations: tuple[Confirm, ...]
    lines: tuple[LaidLine, ...]
    pieces: tuple[Piece, ...]
    joints: tuple[JointPlan, ...]
    bodies: Mapping[str, Body]
    sticks: tuple[StickPlan, ...]
    tape: TapeList
    order: OrderList | None
    days: Mapping[str, tuple[str, ...]]
    inputs: Mapping[str, str]


def pack_answer(pack: Pack) -> PackAnswer:
    """The pack as it is printed for machines.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    PackAnswer
    """
    work = pack.work
    job = work.job.settings.job
    return PackAnswer(
        job=JobName(job.id, job.name),
        invented=job.invented,
        issue=pack.issue,
        stamp=pack.stamp,
        verdict=pack.verdict,
        counts=pack.counts,
        findings=pack.findings,
        confirmations=pack.confirmations,
        lines=tuple(work.graph.lines.values()),
        pieces=work.cutting.pieces,
        joints=pack.joints,
        bodies=bodies(work),
        sticks=work.sticks,
        tape=work.tape,
        order=pack.order,
        days=pack.days,
        inputs=dict(work.job.inputs),
    )
