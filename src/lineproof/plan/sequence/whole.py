"""Closure and order of a whole job: one value that verb, papers and pack are made from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from lineproof.floor.errors import OurFault
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.sequence.build import build
from lineproof.plan.sequence.closure import Closure, closure_of
from lineproof.plan.sequence.rig import GROUND, How, Rig
from lineproof.plan.sequence.shape import Room
from lineproof.plan.sequence.sheet import SpoolLine, StepLine, Teller
from lineproof.plan.sequence.spools import Carry
from lineproof.plan.sequence.steps import Built, Step
from lineproof.plan.sequence.verify import faults
from lineproof.plan.sequence.where import opened_rig
from lineproof.plan.work import Work


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """Closure and order of a job.

    Parameters
    ----------
    closure : Closure
    rig : Rig
        What the order was built on: openings put in where they are needed.
    built : Built
    steps : tuple of StepLine
        Empty where there is no order.
    spools : tuple of SpoolLine
    bench, in_place : int
        Joints made on the bench, and in place. [-]
    not_weighed : tuple of str
        Bodies nobody weighed.
    """

    closure: Closure
    rig: Rig
    built: Built
    steps: tuple[StepLine, ...] = ()
    spools: tuple[SpoolLine, ...] = ()
    bench: int = 0
    in_place: int = 0
    not_weighed: tuple[str, ...] = ()
    days: Mapping[int, tuple[StepLine, ...]] = field(default_factory=dict)

    @property
    def joints(self) -> tuple[str, ...]:
        """Joints in the order they are made."""
        return tuple(j for s in self.steps for j in s.joints)


def sequence_of(work: Work, joints: Sequence[JointPlan], *, seconds: float = 60.0) -> Ordered:
    """Find how every loop closes, and an order of all joints.

    Parameters
    ----------
    work : Work
        With named joints.
    joints : sequence of JointPlan
    seconds : float
        Guard on the search for openings. [s]

    Returns
    -------
    Ordered
        Where openings are needed, the order is that of the line with them put in: their proof.

    Raises
    ------
    OurFault
        If an order does not pass its checker.
    """
    closure = closure_of(work, seconds=seconds)
    rig = closure.line.rig
    put = closure.openings
    if put:
        rig = opened_rig(rig, put)
    handling = work.job.settings.handling
    carry = Carry(handling.length, handling.width, handling.height, handling.mass)
    pairs = frozenset() if put else closure.side_by_side
    built = build(rig, carry, side_by_side=pairs, legs=None if put else closure.legs)
    if not built.works:
        return Ordered(closure=closure, rig=rig, built=built)
    wrong = faults(rig, built.steps, pairs)
    if wrong:
        raise OurFault(f"an order did not pass its checker: {wrong[0]}", next="send us the job folder")
    plans = {j.place.id: j for j in joints}
    teller = Teller(work, rig, built, plans)
    steps = teller.lines()
    if faults(rig, teller.order, pairs) or crowded(rig, teller.order):
        # going on elsewhere while one part waits left no room somewhere: keep to the order as found
        teller = Teller(work, rig, built, plans)
        steps = teller.in_turn()
    days: dict[int, list[StepLine]] = {}
    for s in steps:
        days.setdefault(s.day, []).append(s)
    wet = sum(t.how is How.CEMENTED for t in rig.ties)
    bench = sum(len(s.joints) for s in steps if s.kind == "bench")
    return Ordered(
        closure=closure, rig=rig, built=built, steps=steps, spools=teller.spools(), bench=bench,
        in_place=wet - bench,
        not_weighed=tuple(sorted(b.id for b in rig.blocks.values() if b.mass is None and b.id != "ground")),
        days={d: tuple(s) for d, s in sorted(days.items())},
    )  # fmt: skip


def crowded(rig: Rig, steps: Sequence[Step]) -> bool:
    """Whether some step of an order finds something in its way.

    Parameters
    ----------
    rig : Rig
    steps : sequence of Step

    Returns
    -------
    bool
        Steps on the bench are made in the open and are not asked.
    """
    room = Room(rig.blocks, (GROUND,))
    for step in steps:
        if step.kind == "bench":
            continue
        for b in step.to:
            if b not in room.there:
                room.put(b)
        if step.move is not None:
            out = (-step.move[0] * step.travel, -step.move[1] * step.travel, -step.move[2] * step.travel)
            if room.in_the_way(step.moved, out) is not None:
                return True
        for b in step.moved:
            if b not in room.there:
                room.put(b)
    return False
