"""Makes the pack of a job: everything planned, named, judged and counted, once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.folder import Job
from lineproof.job.joints_csv import read_joints
from lineproof.job.lay import split_lines
from lineproof.job.progress import Progress
from lineproof.job.stock import Can
from lineproof.plan.ask import SameAs
from lineproof.plan.confirmations import Confirm as CoverConfirm
from lineproof.plan.facts_joints import lot_words
from lineproof.plan.ids import Named, name_joints
from lineproof.plan.issued import joints_now, latest
from lineproof.plan.joints import joint_plans
from lineproof.plan.judge import Judgement, judge
from lineproof.plan.order import Drilling, order_list
from lineproof.plan.pack import Confirm, Counts, Pack
from lineproof.plan.rough_days import rough_days
from lineproof.plan.work import Work, work


@dataclass(frozen=True, slots=True)
class Made:
    """A pack with what an issue of it needs."""

    pack: Pack
    named: Named
    judgement: Judgement


def newest_input(job: Job) -> datetime:
    """When the newest input file was written, to the second; the stamp of everything made from the job."""
    times = [(job.folder / name).stat().st_mtime for name, _ in job.inputs]
    return datetime.fromtimestamp(int(max(times, default=0.0)), tz=UTC)


def named_work(
    made: Work,
    *,
    issuing: bool = False,
    recorded: frozenset[str] = frozenset(),
    answers: Iterable[SameAs] = (),
) -> tuple[Work, Named]:
    """The work with its joints named by joints.csv.

    Parameters
    ----------
    made : Work
    issuing : bool
        Whether joints within split legs get their ids too.
    recorded : frozenset of str
        Ids of joints that have a record and were not cut out.
    answers : iterable of SameAs
        Answers to questions asked before.

    Returns
    -------
    tuple of Work and Named

    Raises
    ------
    BadInput
        If joints.csv cannot be read.
    EntrySealed
        If the walk takes out or changes a joint that has a record.
    """
    job = made.job
    old = read_joints(joints_now(job.folder, job.joints_text))
    before = latest(job.folder)
    statements = {t.head.name: t.statements for t in split_lines(job.walks)}
    named = name_joints(
        made.graph,
        made.cutting,
        statements,
        old,
        revision=(before.number if before else 0) + 1,
        recorded=recorded,
        issuing=issuing,
        answers=answers,
    )
    return replace(made, cutting=replace(made.cutting, joints=named.joints)), named


def make_pack(
    job: Job,
    *,
    seconds: float = 10.0,
    issuing: bool = False,
    recorded: frozenset[str] = frozenset(),
    answers: Iterable[SameAs] = (),
    progress: Progress | None = None,
) -> Made:
    """Plan a whole job.

    Parameters
    ----------
    job : Job
    seconds : float
        Guard on the nesting of each stock item. [s]
    issuing : bool
        Name the joints for an issue.
    recorded : frozenset of str
        Ids of joints that have a record and were not cut out: they stay as they are.
    answers : iterable of SameAs
        Which joint is which, where a changed walk does not say.
    progress : Progress, optional
        How joints were made so far: it keeps qualifications alive, or ends them.

    Returns
    -------
    Made

    Raises
    ------
    LineproofError
        With file, line and column of what could not be planned.
    """
    answers = tuple(answers)
    cut = work(job, seconds=seconds, recorded=recorded, answers=answers)
    done, named = named_work(cut, issuing=issuing, recorded=recorded, answers=answers)
    joints = joint_plans(done.graph, done.cutting, job.settings, done.book, catalogue=job.parts)
    days = rough_days(done, joints)
    judged = judge(done, joints, progress=progress)
    order = order_list(
        done,
        joints,
        days=len(days) or None,
        refused_lots=refused_lots(judged.each, job.settings.cans),
        drillings={d.size: Drilling(d.drilling, d.nominal) for d in job.settings.drillings},
    )
    before = latest(job.folder)
    pack = Pack(
        work=done,
        joints=joints,
        stamp=newest_input(job),
        order=order,
        findings=judged.findings,
        verdict=judged.verdict,
        confirmations=confirmations(judged.confirmations),
        issue=str(before.number) if before and not named.rows and issuing else "",
        counts=Counts(
            joints=_counted(judged.joints),
            pieces=_counted(judged.pieces),
            sticks=sum(s.needed for s in done.sticks),
            bound=sum(s.bound for s in done.sticks),
        ),
        days=days,
    )
    return Made(pack, named, judged)


def confirmations(found: Iterable[CoverConfirm]) -> tuple[Confirm, ...]:
    """The confirmations as the papers print them: one a document, those that clear most joints first.

    Parameters
    ----------
    found : iterable
        As the cover found them, in its order.

    Returns
    -------
    tuple of Confirm
        Without those that clear nothing.
    """
    by_document: dict[str, Confirm] = {}
    for c in found:
        what = f"{c.designation} {c.edition}".strip()
        before = by_document.get(what, Confirm(what))
        by_document[what] = replace(
            before,
            rows=(*before.rows, *c.rows),
            joints=before.joints + len(c.joints),
            clears=(*before.clears, *c.clears),
        )
    useful = (c for c in by_document.values() if c.joints or c.clears)
    return tuple(sorted(useful, key=lambda c: (-c.joints, -len(c.clears))))


def _counted(verdicts: Mapping[str, Verdict]) -> dict[Verdict, int]:
    counts = Counter(verdicts.values())
    return {v: counts[v] for v in Verdict if counts[v]}


def refused_lots(findings: Iterable[Finding], cans: Iterable[Can]) -> frozenset[str]:
    """Lots that a check of the cement refused.

    Parameters
    ----------
    findings : iterable of Finding
        One a cause.
    cans : iterable of Can

    Returns
    -------
    frozenset of str
    """
    refused = {f.subject for f in findings if f.id.startswith("CEM-") and f.verdict is Verdict.STOP}
    return frozenset(can.lot for can in cans if can.lot and lot_words(can) in refused)
