"""The steps of making a joint as data: code and parameters. The desk says them in English or Spanish."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lineproof.plan.joint_model import JointPlan

TWO_STEP, ONE_STEP = "two-step", "one-step"

CAUTIONS = (
    "label-and-procedure-win",
    "no-flames-no-sparks",
    "gloves-goggles-air",
    "low-places",
    "cans-shut",
    "no-heat",
    "not-gas",
)
"""Cautions of every joint card, in order."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step: a code of the desk's catalogue, and SI floats or plain values for its sentence."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()


def _step(code: str, **facts: object) -> Step:
    return Step(code, tuple(facts.items()))


def joint_steps(plan: JointPlan, *, bevel: float | None = None) -> tuple[Step, ...]:
    """The steps for one joint, by its procedure's method.

    Parameters
    ----------
    plan : JointPlan
    bevel : float or None
        Length of the bevel. [m]

    Returns
    -------
    tuple of Step
        Empty if no procedure says whether it is two-step or one-step: nobody joins without one.
    """
    if plan.method not in (TWO_STEP, ONE_STEP):
        return ()
    return (*_ready(plan, bevel), *_wet(plan), *_home(plan))


def _ready(plan: JointPlan, bevel: float | None) -> Iterator[Step]:
    needs, fit = plan.needs, plan.needs.fit
    for first in plan.line_zero:
        yield _step("first-on", what=first.what, side=first.side, capital=first.capital, sure=first.sure)
    yield _step("cut-bevel-deburr", bevel=bevel)
    yield _step("clean-and-dry")
    if fit.rule == "gap":
        yield _step("gap-fit", mid_depth=fit.mid_depth, least=fit.gap_least, most=fit.gap_most)
    elif fit.rule == "bands":
        bands = fit.bands
        yield _step(
            "dry-fit", depth=needs.bond.depth, tight=bands.tight if bands else None,
            good=bands.good if bands else None,
        )  # fmt: skip
    yield _step("mark-depth", depth=needs.bond.depth, second=plan.second_mark)
    if needs.pull_in.needed:
        yield _step("set-pullers", tools=needs.pull_in.tools)
    yield _step("hands-in-place", hands=needs.hands.hands, doubling=needs.hands.doubling)
    yield _step("stir-and-look", card=plan.card)


def _wet(plan: JointPlan) -> Iterator[Step]:
    wet, brushes = plan.needs.wet, plan.needs.brushes
    if plan.method == TWO_STEP:
        yield _step("prime", passes=wet.primer_passes, width=brushes.width)
        yield _step("cement-while-primer-wet")
    yield _step(
        "cement-coats", pipe=wet.pipe_coats, socket=wet.socket_coats, width=brushes.width,
        per_face=brushes.per_face,
    )  # fmt: skip
    yield _step("no-puddle")
    yield _step("within-working-time", time=plan.needs.hands.working_time)


def _home(plan: JointPlan) -> Iterator[Step]:
    needs = plan.needs
    yield _step("push-home", depth=needs.bond.depth, turn=needs.pull_in.needed is False)
    yield _step("hold", time=plan.hold.time)
    if needs.pull_in.needed:
        yield _step("pullers-off", time=plan.pullers_off.time)
    depth, second = needs.bond.depth, plan.second_mark
    yield _step("check-second-mark", left=None if depth is None or second is None else second - depth)
    yield _step("if-short", allowed=plan.allowed_shortfall)
    yield _step("bead")
    yield _step("hands-off", time=plan.hands_off.time)
    yield _step("no-pressure", time=plan.cure.time, pressure=plan.pressure.pressure)
    yield _step("write-down")
