"""Facts for the checks of closure and order."""

from __future__ import annotations

from collections.abc import Sequence

from lineproof.checks.sequence import Carried, LoopOpens, OrderFound, TwoAtOnce
from lineproof.floor.verdicts import Finding
from lineproof.plan.causes import Causes
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.sequence.closure import opening_words
from lineproof.plan.sequence.spools import bulk_of
from lineproof.plan.sequence.whole import Ordered
from lineproof.plan.work import Work


def add_sequence(causes: Causes, work: Work, ordered: Ordered, joints: Sequence[JointPlan]) -> None:
    """Whether every loop opens, an order was found, everything can be carried, and hands are enough.

    Parameters
    ----------
    causes : Causes
    work : Work
    ordered : Ordered
    joints : sequence of JointPlan
    """
    closure = ordered.closure
    for loop in closure.loops:
        subject = ", ".join(loop.lines)
        causes.add(
            "SEQ-01", loop.legs,
            LoopOpens(
                subject=subject, line=loop.lines[0] if len(loop.lines) == 1 else "",
                as_drawn=loop.state == "opens" or (loop.state == "at once" and bool(closure.side_by_side)),
                with_ends=loop.state == "ends", with_faces=loop.state == "faces", ends=loop.ends,
                faces=loop.faces, at_once=loop.state == "at once",
                openings=tuple(opening_words(o) for o in loop.openings), closed=loop.state == "closed",
            ),
            subject,
            pieces=tuple(c.piece for c in loop.changes),
        )  # fmt: skip
    first = ordered.built.blocked[0] if ordered.built.blocked else None
    causes.add(
        "SEQ-02", "order",
        OrderFound(
            subject=work.job.settings.job.id, found=ordered.built.works,
            joint=ordered.rig.ties[first.tie].id if first else "", by=first.by if first else "",
        ),
    )  # fmt: skip
    _add_carried(causes, work, ordered)
    _add_pairs(causes, work, ordered, joints)


def _add_carried(causes: Causes, work: Work, ordered: Ordered) -> None:
    """The heaviest thing that is lifted in one piece: a spool, or a part that belongs to none.

    What is joined on its supports and slid home is not lifted; the step says what it weighs.
    """
    handling = work.job.settings.handling
    if not ordered.built.spools:
        return
    unknown = set(ordered.not_weighed)
    numbers = {s.parts: s.n for s in ordered.spools}
    weights = [(bulk_of(ordered.rig, s)[1], s) for s in ordered.built.spools]
    mass, heaviest = max(weights, key=lambda w: (w[0], w[1]))
    number = numbers.get(tuple(sorted(heaviest)))
    causes.add(
        "SEQ-03", "heaviest",
        Carried(
            subject=f"spool {number}" if number else heaviest[0], mass=mass, most=handling.mass,
            tackle=handling.tackle,
        ),
    )  # fmt: skip
    if handling.mass is not None and unknown:
        causes.add(
            "SEQ-03", "not weighed",
            Carried(
                subject=", ".join(sorted(unknown)[:4]) + (" ..." if len(unknown) > 4 else ""), mass=None,
                most=handling.mass, tackle=handling.tackle, not_weighed=tuple(sorted(unknown)),
            ),
        )  # fmt: skip


def _add_pairs(causes: Causes, work: Work, ordered: Ordered, joints: Sequence[JointPlan]) -> None:
    """People for joints that are made two at once."""
    plans = {j.place.id: j for j in joints}
    for step in ordered.steps:
        if len(step.joints) < 2:
            continue
        each = [plans[j].needs.hands.hands for j in step.joints if j in plans]
        known = [n for n in each if n is not None]
        line = step.joints[0].partition("/")[0]
        crews = work.job.settings.crews_for(line)
        causes.add(
            "SEQ-04", step.joints,
            TwoAtOnce(
                subject=" and ".join(step.joints), joints=step.joints,
                needed=sum(known) if len(known) == len(step.joints) else None,
                have=max((len(c.people) for c in crews), default=None),
            ),
        )  # fmt: skip


def sequence_findings(work: Work, ordered: Ordered, joints: Sequence[JointPlan]) -> tuple[Finding, ...]:
    """Findings of closure and order alone, the worst first.

    Parameters
    ----------
    work : Work
    ordered : Ordered
    joints : sequence of JointPlan

    Returns
    -------
    tuple of Finding
        One a cause, GO among them.
    """
    causes = Causes()
    add_sequence(causes, work, ordered, joints)
    return tuple(sorted(causes.ask(work.book), key=lambda f: (-f.verdict, f.id, f.subject)))
