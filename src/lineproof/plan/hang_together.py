"""What moves together: joints that are made tie pieces and fittings into one body."""

from __future__ import annotations

from collections.abc import Collection

from lineproof.job.graph import Tie
from lineproof.job.progress import Progress
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

GROUND = "ground"
"""Kind of parts that stand: what is tied to them does not hang together through them."""


def hang_together(work: Work, progress: Progress, made: Collection[str]) -> dict[str, str]:
    """The body each made joint belongs to: whoever moves one joint of it moves them all.

    Parameters
    ----------
    work : Work
        With named joints.
    progress : Progress
        Joints that are not on the drawing hang on their neighbour.
    made : collection of str
        Joints that are made and not cut out; joints still to make tie nothing.

    Returns
    -------
    dict
        Joint id to a name of its body, the same for all of its joints. Whether flanges, unions and threads
        are made up is not recorded: they count as made up where both of their sides have made joints.
    """
    parent: dict[str, str] = {}

    def root(name: str) -> str:
        parent.setdefault(name, name)
        while parent[name] != name:
            parent[name] = parent[parent[name]]
            name = parent[name]
        return name

    def tie(a: str, b: str) -> None:
        parent[root(a)] = root(b)

    standing = {p.id for p in work.graph.parts.values() if p.kind == GROUND}
    here = set(made)
    for n, joint in enumerate(work.cutting.joints):
        name = joint_name(joint, n)
        if name in here:
            for part in (joint.socket[0], joint.spigot[0]):
                if part not in standing:
                    tie(f"joint {name}", part)
    for tied in work.graph.connections:
        ends = (tied.a[0], tied.b[0])
        if tied.tie is not Tie.CEMENTED and not standing & set(ends):
            tie(*ends)
    for name in here:
        beside = progress.of(name).beside
        if beside:
            tie(f"joint {name}", f"joint {beside}")
        for other in progress.of(name).replaced_by:
            tie(f"joint {name}", f"joint {other}")
    return {name: root(f"joint {name}") for name in here}
