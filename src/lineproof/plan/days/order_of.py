"""In what order the joints come, and which of them wait for which: by the steps of the line, or as walked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lineproof.plan.days.model import HANDS_OFF, MADE, Link
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.sequence.whole import sequence_of
from lineproof.plan.work import Work

STEPS, WALKED = "steps", "walked"
SECONDS = 20.0
"""Guard on the search for openings. [s]"""


@dataclass(frozen=True, slots=True)
class Order:
    """Joints in order.

    Parameters
    ----------
    names : tuple of str
        Each after all it waits for.
    links : mapping
        Joint to what must be over before it.
    bench : frozenset of str
        Made on the bench.
    by : str
        ``"steps"`` where a replayed order of steps was found, else ``"walked"``: the order of the walk.
    """

    names: tuple[str, ...]
    links: Mapping[str, tuple[Link, ...]]
    bench: frozenset[str] = frozenset()
    by: str = WALKED


def order_of(work: Work, joints: Sequence[JointPlan], names: Sequence[str]) -> Order:
    """Order of a job's joints.

    Parameters
    ----------
    work : Work
    joints : sequence of JointPlan
    names : sequence of str
        Of the joints, in the same order.

    Returns
    -------
    Order
        A joint waits for the hands-off time of every joint made before it on the same piece or fitting. What
        closes a loop waits as well until all before it on its line is made.
    """
    bodies = {n: (j.place.spigot[0], j.place.socket[0]) for n, j in zip(names, joints, strict=True)}
    by_id = {j.place.id or n: n for n, j in zip(names, joints, strict=True)}
    stepped = _steps(work, joints, by_id)
    order, bench, closing = stepped or (list(names), frozenset(), frozenset())
    line = {n: j.place.line for n, j in zip(names, joints, strict=True)}
    on: dict[str, list[str]] = defaultdict(list)
    on_line: dict[str, list[str]] = defaultdict(list)
    links: dict[str, tuple[Link, ...]] = {}
    for n in order:
        before = dict.fromkeys(m for b in bodies[n] if b != "ground" for m in on[b])
        found = [Link(m, HANDS_OFF) for m in before]
        if n in closing:
            found += [Link(m, MADE) for m in on_line[line[n]] if m not in before]
        links[n] = tuple(found)
        for b in bodies[n]:
            on[b].append(n)
        on_line[line[n]].append(n)
    return Order(tuple(order), links, bench, STEPS if stepped else WALKED)


def _steps(
    work: Work, joints: Sequence[JointPlan], by_id: Mapping[str, str]
) -> tuple[list[str], frozenset[str], frozenset[str]] | None:
    """Joints in the order of steps; None where none was found or it does not name every joint."""
    order: list[str] = []
    bench: set[str] = set()
    closing: set[str] = set()
    for step in sequence_of(work, joints, seconds=SECONDS).steps:
        made = [by_id[j] for j in step.joints if j in by_id]
        order += made
        if step.kind == "bench":
            bench |= set(made)
        if step.kind == "close":
            closing |= set(made)
    if sorted(order) != sorted(by_id.values()):
        return None
    return order, frozenset(bench), frozenset(closing)
