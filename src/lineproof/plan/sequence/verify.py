"""Checks an order again, by plain rules and without the search: no order is shown that did not pass."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from lineproof.plan.sequence.rig import ALONG, GROUND, STRAIGHT, How, Rig, along
from lineproof.plan.sequence.steps import Step


def faults(
    rig: Rig,
    steps: Sequence[Step],
    side_by_side: Collection[frozenset[int]] = (),
) -> list[str]:
    """What is wrong with an order, in words for us; empty if nothing is.

    Parameters
    ----------
    rig : Rig
    steps : sequence of Step
    side_by_side : collection of frozenset of int
        Pairs of ties that may be cemented at once.

    Returns
    -------
    list of str
        Each step brings one whole group to another, not the ground; makes every tie between the two and no
        other, by a move that each admits; at most one of them cemented; and all ties are made once.
    """
    group = {b: n for n, b in enumerate(rig.blocks)}
    members: dict[int, list[str]] = {n: [b] for b, n in group.items()}
    made: set[int] = set()
    wrong: list[str] = []
    for k, step in enumerate(steps, 1):
        groups = {group[b] for b in step.moved}
        if len(groups) != 1:
            wrong.append(f"step {k} moves {len(groups)} groups at once")
            continue
        mine = groups.pop()
        if len(members[mine]) != len(step.moved):
            wrong.append(f"step {k} leaves behind what hangs on {min(step.moved)}")
        if GROUND in step.moved:
            wrong.append(f"step {k} moves what stands")
        others = {group[b] for b in step.to}
        if len(others) != 1 or mine in others:
            wrong.append(f"step {k} meets {len(others)} groups")
            continue
        other = others.pop()
        small = step.moved if len(members[mine]) <= len(members[other]) else frozenset(members[other])
        between = {
            n
            for b in small
            for n in rig.at[b]
            if {group[rig.ties[n].a], group[rig.ties[n].b]} == {mine, other}
        }
        if between != set(step.ties):
            wrong.append(f"step {k} makes {sorted(step.ties)}, between the two lie {sorted(between)}")
        if made & between:
            wrong.append(f"step {k} makes a tie a second time")
        made |= between
        wet = frozenset(n for n in between if rig.ties[n].how is How.CEMENTED)
        if len(wet) > 1 and wet not in set(side_by_side):
            wrong.append(f"step {k} cements {len(wet)} joints at once")
        for n in between:
            tie = rig.ties[n]
            if tie.how is How.THREADED:
                if step.move is not None or len(between) > 1:
                    wrong.append(f"step {k} moves a thread home instead of turning it")
                continue
            if step.move is None:
                wrong.append(f"step {k} has no move")
                continue
            sign = 1.0 if tie.a in step.moved else -1.0
            agree = sign * along(tie.way, step.move)
            if tie.how in STRAIGHT and agree <= 1.0 - ALONG:
                wrong.append(f"step {k} does not go straight into {tie.id}")
            if tie.how is How.FLAT and agree < -ALONG:
                wrong.append(f"step {k} draws the faces of {tie.id} apart")
            if tie.how is How.RIGID and len(between) > 1:
                wrong.append(f"step {k} makes {tie.id}, which may not be made last")
            if tie.how in STRAIGHT and step.travel < tie.travel - 1e-9:
                wrong.append(f"step {k} has less travel than {tie.id} takes")
        keep, gone = (mine, other) if len(members[mine]) >= len(members[other]) else (other, mine)
        for b in members.pop(gone):
            group[b] = keep
            members[keep].append(b)
    if len(made) != len(rig.ties):
        wrong.append(f"{len(rig.ties) - len(made)} ties are never made")
    return wrong
