"""Lines of cubes as the plan sees them: bodies with boxes, ties with way and travel; a cube is 0.1 m."""

from __future__ import annotations

from lineproof.plan.sequence.rig import Block, Box, How, Rig, Tied, rig_of
from motion import DEPTH, GROUND, PITCH, Cube, Line

CUBE = 0.1
HOWS = {"cement": How.CEMENTED, "flat": How.FLAT, "ring": How.RINGED, "thread": How.THREADED}


def _at(p: tuple[float, ...], d: Cube = (0, 0, 0), t: float = 0.0) -> tuple[float, float, float]:
    x, y, z = (CUBE * (a + b * t) for a, b in zip(p, d, strict=True))
    return (x, y, z)


def rig_from(line: Line, *, repair: bool = False) -> Rig:
    """The same line as bodies and ties."""
    body = {n: (GROUND if n in line.standing else n) for n in line.nodes}
    at = {n: (p[0] * PITCH, p[1] * PITCH, p[2] * PITCH) for n, p in line.nodes.items()}
    boxes: dict[str, list[Box]] = {b: [] for b in body.values()}
    boxes.setdefault(GROUND, [])
    ties: list[Tied] = []
    thin, wide = 0.5 * CUBE, 1.5 * CUBE

    def bar(name: str, p: Cube, d: Cube, first: float, last: float, half: float) -> None:
        boxes.setdefault(name, []).append(Box(_at(p, d, first), _at(p, d, last), half))

    for n, p in at.items():
        bar(body[n], p, (1, 0, 0), -0.5, 0.5, thin)
    for c in line.walls:
        bar(GROUND, c, (1, 0, 0), -0.5, 0.5, thin)
    for k, e in enumerate(line.edges):
        p, q = at[e.a], at[e.b]
        d = (
            (q[0] - p[0]) // PITCH, (q[1] - p[1]) // PITCH, (q[2] - p[2]) // PITCH,
        )  # fmt: skip
        back = (-d[0], -d[1], -d[2])
        way = (float(d[0]), float(d[1]), float(d[2]))
        a, b = body[e.a], body[e.b]
        if e.how in ("cement", "thread"):
            bar(a, p, d, 0.5, PITCH - 2.5, thin)
            bar(b, q, back, 0.5, 1.5, thin)
            bar(b, q, back, 1.5, 4.5, wide)
            ties.append(
                Tied(
                    f"E{k}",
                    HOWS[e.how],
                    a,
                    b,
                    way,
                    DEPTH * CUBE,
                    f"J{k}" if e.how == "cement" else "",
                    _at(p),
                )
            )
        elif e.how in ("flat", "ring"):
            bar(a, p, d, 0.5, 5.5, thin)
            bar(a, p, d, 4.5, 5.5, wide)
            bar(b, q, back, 0.5, 4.5, wide if e.how == "ring" else thin)
            bar(b, q, back, 3.5, 4.5, wide)
            ties.append(Tied(f"E{k}", HOWS[e.how], a, b, way, 3 * CUBE if e.how == "flat" else CUBE))
        elif e.how == "drop":
            bar(a, p, d, 0.5, 3.5, thin)
            bar(b, q, back, 0.5, 3.5, thin)
            bar(f"drop{k}", p, d, 3.5, 6.5, wide)
            ties.append(Tied(f"E{k}.1", How.FLAT, a, f"drop{k}", way, 3 * CUBE))
            ties.append(Tied(f"E{k}.2", How.FLAT, f"drop{k}", b, way, 3 * CUBE))
        elif e.how == "sleeve":
            bar(a, p, d, 0.5, 5.5, thin)
            bar(b, q, back, 0.5, 4.5, thin)
            if repair:
                ties.append(Tied(f"E{k}", How.FLAT, a, b, way, 3 * CUBE))
            else:
                bar(f"sleeve{k}", p, d, 4.5, 6.5, wide)
                ties.append(Tied(f"E{k}.1", How.CEMENTED, a, f"sleeve{k}", way, DEPTH * CUBE, f"J{k}.1"))
                bway = (-way[0], -way[1], -way[2])
                ties.append(Tied(f"E{k}.2", How.CEMENTED, b, f"sleeve{k}", bway, DEPTH * CUBE, f"J{k}.2"))
    for n, d, length in line.dead:
        bar(body[n], at[n], d, 0.5, length + 0.5, thin)
    return rig_of((Block(n, tuple(x), 1.0) for n, x in boxes.items()), ties)
