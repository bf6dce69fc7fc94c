"""Closure and order of generated lines, beside networkx on the same graph in the same run.

    PYTHONPATH=src .venv/bin/python benchmarks/closure.py [JOINTS [LOOPS]]

Lines are ladders of pipe: two rails with rungs between them, all cemented, one rail fixed at both ends;
each stretch is split into pieces with couplings until there are JOINTS of them. Closure is measured on lines
that open as drawn (a flange pair on every rung and rail), on lines with nothing to open them, and with the
search for the cheapest openings; order on the lines that open. Wanted: closure <= 1 s at 10,000 joints, order
<= 10 s up to 50 loops.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from typing import Any

import networkx

from lineproof.plan.sequence.apart import take_apart
from lineproof.plan.sequence.build import build
from lineproof.plan.sequence.legs import as_links, cyclomatic, legs_of
from lineproof.plan.sequence.openings import FLANGES, Opening
from lineproof.plan.sequence.rig import GROUND, Block, Box, How, Rig, Tied, rig_of
from lineproof.plan.sequence.search import search
from lineproof.plan.sequence.spools import Carry
from lineproof.plan.sequence.verify import faults

Place = tuple[float, float, float]
STEP, DEPTH = 6.0, 0.1


def ladder(joints: int, loops: int, *, opens: bool) -> Rig:
    """A ladder with about so many joints and exactly so many loops."""
    rungs = max(loops - 1, 1)
    edges = 3 * rungs + 2
    each = max(1, joints // (2 * edges))  # pieces a stretch; each brings two joints
    length = STEP * each
    blocks: list[Block] = []
    ties: list[Tied] = []

    def at(col: int, row: int) -> Place:
        return (col * length, row * length, 0.0)

    def stretch(name: str, a: str, b: str, start: Place, end: Place, flanged: bool) -> None:
        way = tuple((y - x) / length for x, y in zip(start, end, strict=True))
        before = a
        for k in range(each):
            s = tuple(x + w * (k * STEP + 0.3) for x, w in zip(start, way, strict=True))
            e = tuple(x + w * ((k + 1) * STEP - 0.3) for x, w in zip(start, way, strict=True))
            pipe = f"{name}/p{k}"
            blocks.append(Block(pipe, (Box(s, e, 0.1),), 100.0, "piece"))
            back = tuple(-w for w in way)
            ties.append(Tied(f"{name}/j{k}a", How.CEMENTED, pipe, before, back, DEPTH, f"{name}/j{k}a", s))
            if k == each - 1:
                after = b
            else:
                after = f"{name}/c{k}"
                far = tuple(x + w * 0.6 for x, w in zip(e, way, strict=True))
                blocks.append(Block(after, (Box(e, far, 0.13),), 10.0, "coupling"))
            if flanged and k == 0:
                half = f"{name}/f"
                far = tuple(x + w * 0.3 for x, w in zip(e, way, strict=True))
                blocks.append(Block(half, (Box(e, far, 0.18),), 20.0, "flange"))
                ties.append(Tied(f"{name}/j{k}b", How.CEMENTED, pipe, half, way, DEPTH, f"{name}/j{k}b", e))
                ties.append(Tied(f"{name}/ff", How.FLAT, half, after, way, 0.4, place=far))
            else:
                ties.append(Tied(f"{name}/j{k}b", How.CEMENTED, pipe, after, way, DEPTH, f"{name}/j{k}b", e))
            before = after

    for col in range(1, rungs + 1):
        for row in (0, 1):
            p = at(col, row)
            blocks.append(
                Block(
                    f"T{col}.{row}",
                    (Box((p[0] - 0.3, p[1], 0.0), (p[0] + 0.3, p[1], 0.0), 0.13),),
                    30.0,
                    "tee",
                )
            )
        stretch(f"G{col}", f"T{col}.0", f"T{col}.1", at(col, 0), at(col, 1), opens)
    for row in (0, 1):
        for col in range(rungs + 1):
            a = GROUND if col == 0 else f"T{col}.{row}"
            b = GROUND if col == rungs else f"T{col + 1}.{row}"
            if row == 1 and col in (0, rungs):
                continue  # the second rail hangs on its rungs
            stretch(f"R{row}.{col}", a, b, at(col, row), at(col + 1, row), opens)
    return rig_of(blocks, ties)


def options(rig: Rig, seed: int) -> list[Opening]:
    """One or two openings a stretch, at costs of their own."""
    rng = random.Random(seed)
    found = []
    for n, leg in enumerate(legs_of(rig)):
        for m, bit in enumerate(leg.bits):
            if bit.how is How.CEMENTED and bit.bodies:
                cost = 3600.0 * rng.randint(2, 9)
                found += [Opening(f"{n}.{m}.{k}", n, m, FLANGES, bit.bodies[0], k, cost) for k in (1, 2)]
    return found


def timed(label: str, function: Callable[..., Any], *args: Any, **more: Any) -> tuple[float, Any]:
    start = time.perf_counter()
    answer = function(*args, **more)
    took = time.perf_counter() - start
    print(f"  {label:<58} {took:8.3f} s", flush=True)
    return took, answer


def closure(rig: Rig) -> object:
    """What the answer on closure takes: count, legs, cone test on all loops."""
    legs = legs_of(rig)
    links, _ = as_links(legs)
    return cyclomatic(rig), take_apart(links)


def peer(rig: Rig) -> int:
    """networkx on the same graph: the 2-core and a cycle basis of it."""
    net = networkx.Graph()
    for n, t in enumerate(rig.ties):
        net.add_edges_from(((t.a, n), (n, t.b)))
    return len(networkx.cycle_basis(networkx.k_core(net, 2)))


def main() -> None:
    joints = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    loops = int(sys.argv[2]) if len(sys.argv) > 2 else 50
    opens, shut = ladder(joints, loops, opens=True), ladder(joints, loops, opens=False)
    wet = sum(t.how is How.CEMENTED for t in opens.ties)
    print(f"{wet} joints, {len(opens.blocks)} bodies, {cyclomatic(opens, tuple(How))} loops", flush=True)
    base, count = timed("networkx: 2-core and cycle basis", peer, opens)
    assert count == cyclomatic(opens, tuple(How))
    one, _ = timed("closure, opens as drawn", closure, opens)
    two, _ = timed("closure, nothing opens it", closure, shut)
    print(f"  closure beside networkx: {one / base:.2f} and {two / base:.2f}", flush=True)
    legs = legs_of(shut)
    _, found = timed("search for the cheapest openings", search, legs, options(shut, 1), seconds=60.0)
    print(
        f"  works {found.works}, proven {found.proven}, {len(found.chosen)} openings, {found.tried} sets, "
        f"{sum(o.cost for o in found.chosen) / 3600:.0f} h, least {found.least / 3600:.0f} h {found.out_of}",
        flush=True,
    )
    took, built = timed("order with spools", build, opens, Carry(20.0, 3.0, 2.0, 1500.0))
    assert built.works, (built.stuck[:1], built.blocked[:3])
    timed("its checker", faults, opens, built.steps)
    assert faults(opens, built.steps) == []
    print(
        f"  {len(built.steps)} steps; closure {max(one, two):.2f} s (1 s wanted), order {took:.2f} s (10 s)"
    )


if __name__ == "__main__":
    main()
