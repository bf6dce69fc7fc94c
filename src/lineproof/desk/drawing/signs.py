"""The signs of parts on the pipe, in our own plain style after ISO 6412-2 (from memory). [mm]

Every sign is drawn about a place ``at`` with the pipe's way ``d`` and the direction ``n`` across it, as unit
vectors on paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from lineproof.desk.drawing.ink import Stroke
from lineproof.desk.drawing.project import XY
from lineproof.desk.drawing.scene import Mate, Sign

HALF: dict[Sign, float] = {
    Sign.VALVE: 3.4,
    Sign.COUPLING: 1.6,
    Sign.REDUCER: 2.6,
    Sign.AXIS: 2.6,
    Sign.UNION: 1.7,
    Sign.FLANGES: 0.7,
    Sign.FLANGE: 0.0,
    Sign.THREAD: 1.2,
    Sign.EXPANSION: 3.2,
    Sign.BOX: 3.2,
}
"""How far a sign reaches along the pipe from its place. [mm]"""

JOINT_HALF = 1.7
"""Half the length of a joint's bar. [mm]"""
FLANGE_HALF = 2.6
BODY_JOINT = 0.9
"""From a body in the line to the bar of its joint. [mm]"""
BEND_JOINT = 3.2
"""From the corner of a bend or the middle of a tee to the bar of its joint. [mm]"""
MATE_JOINT = 2.6
"""From the outer bar of a flange to the bar of its joint. [mm]"""
MATE_LONG = 1.5
STUB_MM = 6.5
GROUND_MM = 3.2
MATCH_HALF = 5.0
HANDLE_MM = 4.2


def half(sign: Sign) -> float:
    """How far a sign reaches along the pipe. [mm]"""
    return HALF.get(sign, 0.0)


def joint_off(sign: Sign, mate: Mate) -> float:
    """From a place to the bar of the joint at the end of a leg. [mm]"""
    if mate is not Mate.NONE:
        return half(sign) + MATE_LONG + MATE_JOINT
    if sign in (Sign.BEND, Sign.TEE, Sign.BRANCH):
        return BEND_JOINT
    if sign in (Sign.FLANGES, Sign.FLANGE, Sign.THREAD, Sign.BLIND):
        return half(sign) + MATE_JOINT
    if sign is Sign.COUPLING:
        return half(sign)
    if half(sign):
        return half(sign) + BODY_JOINT
    return 2.4


def pt(at: XY, d: XY, n: XY, along: float, over: float) -> XY:
    """A point by its distance along and across. [mm]"""
    return (at[0] + d[0] * along + n[0] * over, at[1] + d[1] * along + n[1] * over)


def bar(
    at: XY, d: XY, n: XY, along: float, reach: float, role: str, ref: str, *, thick: bool = False
) -> Stroke:
    """A bar across the pipe."""
    return Stroke((pt(at, d, n, along, -reach), pt(at, d, n, along, reach)), role, ref, thick=thick)


def mate_strokes(mate: Mate, at: XY, d: XY, n: XY, off: float, ref: str, *, lone: bool) -> list[Stroke]:
    """A flange pair, ring or thread between a part and the pipe; ``lone``: from the place."""
    first = off if lone else off + 0.3
    if mate is Mate.THREAD:
        return [
            Stroke(
                (
                    pt(at, d, n, first, -1.2),
                    pt(at, d, n, first + 1.2, 1.2),
                    pt(at, d, n, first + 1.2, -1.2),
                    pt(at, d, n, first, 1.2),
                ),
                "part",
                ref,
                closed=True,
            )
        ]
    out = [
        bar(at, d, n, first, FLANGE_HALF, "part", ref),
        bar(at, d, n, first + 1.2, FLANGE_HALF, "part", ref),
    ]
    if mate is Mate.RING:
        out.append(
            Stroke(
                (pt(at, d, n, first + 1.2, FLANGE_HALF), pt(at, d, n, first + 2.0, FLANGE_HALF)), "part", ref
            )
        )
        out.append(
            Stroke(
                (pt(at, d, n, first + 1.2, -FLANGE_HALF), pt(at, d, n, first + 2.0, -FLANGE_HALF)),
                "part",
                ref,
            )
        )
    return out


def sign_strokes(sign: Sign, at: XY, d: XY, n: XY, ref: str, *, narrow: bool = True) -> list[Stroke]:
    """The sign of a place.

    Parameters
    ----------
    sign : Sign
    at, d, n : tuple of float
        Place [mm], way along and across [1].
    ref : str
    narrow : bool
        Of a reducer: narrow ahead.

    Returns
    -------
    list of Stroke
        Empty for a bend or tee, which its legs draw.
    """

    def p(along: float, over: float) -> XY:
        return pt(at, d, n, along, over)

    h = half(sign)
    match sign:
        case Sign.VALVE:
            return [
                Stroke((p(-h, -1.9), p(-h, 1.9), p(h, -1.9), p(h, 1.9)), "part", ref, closed=True),
            ]
        case Sign.COUPLING:
            return [Stroke((p(-h, -1.2), p(h, -1.2), p(h, 1.2), p(-h, 1.2)), "part", ref, closed=True)]
        case Sign.REDUCER:
            wide, thin = (1.9, 0.9) if narrow else (0.9, 1.9)
            return [Stroke((p(-h, -wide), p(h, -thin), p(h, thin), p(-h, wide)), "part", ref, closed=True)]
        case Sign.UNION:
            return [
                Stroke((p(-h, -1.5), p(h, -1.5), p(h, 1.5), p(-h, 1.5)), "part", ref, closed=True),
                bar(at, d, n, 0.0, 2.4, "part", ref, thick=True),
            ]
        case Sign.FLANGES:
            return [bar(at, d, n, s * 0.6, FLANGE_HALF, "part", ref) for s in (-1.0, 1.0)]
        case Sign.FLANGE:
            return [bar(at, d, n, 0.0, FLANGE_HALF, "part", ref)]
        case Sign.THREAD:
            return [Stroke((p(-h, -1.2), p(h, 1.2), p(h, -1.2), p(-h, 1.2)), "part", ref, closed=True)]
        case Sign.EXPANSION:
            return [
                Stroke((p(-h, -2.0), p(h, -2.0), p(h, 2.0), p(-h, 2.0)), "part", ref, closed=True),
                Stroke(tuple(p(-h + 2 * h * i / 6, 1.3 if i % 2 else -1.3) for i in range(7)), "part", ref),
            ]
        case Sign.BOX:
            return [Stroke((p(-h, -1.9), p(h, -1.9), p(h, 1.9), p(-h, 1.9)), "part", ref, closed=True)]
        case Sign.MATCH:
            return [Stroke((p(0, -MATCH_HALF), p(0, MATCH_HALF)), "match", ref, dashed=True)]
        case _:
            return end_strokes(sign, p, ref)


def end_strokes(sign: Sign, at: Callable[[float, float], XY], ref: str) -> list[Stroke]:
    """The sign of an end; the way along points out of the line."""
    match sign:
        case Sign.CAP:
            return [
                Stroke((at(-1.6, -1.5), at(0.0, -1.5), at(0.0, 1.5), at(-1.6, 1.5)), "part", ref, thick=True)
            ]
        case Sign.BLIND:
            return [Stroke((at(0.0, -FLANGE_HALF), at(0.0, FLANGE_HALF)), "part", ref, thick=True)]
        case Sign.STANDS:
            line = [Stroke((at(0.0, -FLANGE_HALF), at(0.0, FLANGE_HALF)), "ground", ref)]
            hatch = [
                Stroke((at(0.0, o), at(GROUND_MM - 1.4, o - 1.6)), "ground", ref)
                for o in (-1.0, 0.2, 1.4, 2.6)
            ]
            return line + hatch
        case Sign.OPEN:
            return [Stroke((at(-0.8, -1.6), at(0.5, -0.4), at(-0.5, 0.4), at(0.8, 1.6)), "part", ref)]
        case _:
            return []


def bell_strokes(at: XY, d: XY, n: XY, side: int, ref: str) -> list[Stroke]:
    """The flare of a bell beside its joint's bar: the bell lies on the side ``side`` of the bar."""
    return [
        Stroke((pt(at, d, n, 0.0, s * JOINT_HALF), pt(at, d, n, side * 2.2, s * 0.35)), "joint", ref)
        for s in (-1, 1)
    ]


def across(d: XY, over: XY) -> XY:
    """The direction of bars across a leg: an axis, or square to a leg too near it."""
    lean = abs(d[0] * over[0] + d[1] * over[1])
    return over if lean < 0.8 else (-d[1], d[0])


def unit_to(a: XY, b: XY) -> tuple[XY, float]:
    """Direction and distance from a to b. [mm]"""
    long = math.hypot(b[0] - a[0], b[1] - a[1])
    return (((b[0] - a[0]) / long, (b[1] - a[1]) / long) if long > 1e-9 else (0.0, -1.0)), long
