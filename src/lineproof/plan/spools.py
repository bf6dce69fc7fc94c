"""Compares the repeats of a spool: each as it lies, turned about the vertical so that all face one way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lineproof.job.graph import LineGraph, Part, Vec
from lineproof.job.parts import PartKind
from lineproof.sums.vectors import angle_between, norm, sub

SAME_PLACE = 0.002
"""Places closer than this are one (own rule). [m]"""
SAME_WAY = math.radians(0.5)
"""Directions closer than this are one (own rule). [rad]"""
STEEP = 0.05
"""A direction whose level part is smaller than this does not say which way a spool faces. [1]"""


@dataclass(frozen=True, slots=True)
class Odd:
    """A repeat that lies otherwise than most: where it first differs, and how."""

    part: str
    how: str
    line: str
    turned: float | None
    longer: float | None
    alike: int
    where: str = ""


@dataclass(frozen=True, slots=True)
class _Lay:
    """One part of a repeat: what it is, where it lies, which way its ends face, in the spool's own frame."""

    id: str
    what: tuple[str, float, str]
    place: Vec
    ways: tuple[Vec, ...]


def _repeats_of(graph: LineGraph) -> dict[str, list[list[Part]]]:
    """Parts of each repeat, by the spool's name, in walking order."""
    found: dict[str, list[list[Part]]] = {}
    for line in graph.lines.values():
        before = ""
        for part_id in line.parts:
            part = graph.parts[part_id]
            if part.spool:
                if part.spool != before:
                    found.setdefault(part.spool, []).append([])
                found[part.spool][-1].append(part)
            before = part.spool
    return found


def _facing(parts: list[Part]) -> float:
    """Compass angle of the first level direction met; 0 if all is upright. [rad]"""
    for part in parts:
        for port in part.ports:
            if math.hypot(port.out[0], port.out[1]) > STEEP:
                return math.atan2(port.out[0], port.out[1])
    return 0.0


def _laid(parts: list[Part]) -> list[_Lay]:
    turn = _facing(parts)
    c, s = math.cos(turn), math.sin(turn)

    def own(v: Vec) -> Vec:
        return (v[0] * c - v[1] * s, v[0] * s + v[1] * c, v[2])

    start = parts[0].centre
    return [
        _Lay(
            p.id,
            (p.kind.value if isinstance(p.kind, PartKind) else p.kind, p.angle_deg, p.size.text),
            own(sub(p.centre, start)),
            tuple(own(port.out) for port in p.ports),
        )
        for p in parts
    ]


def _difference(one: list[_Lay], other: list[_Lay]) -> tuple[int, str, float | None, float | None] | None:
    """The first part that lies otherwise: index, how, angle turned [rad], extra length [m]; None if alike."""
    for n, (a, b) in enumerate(zip(one, other, strict=False)):
        if a.what != b.what:
            return n, "parts", None, None
        apart = norm(sub(a.place, b.place))
        if apart > SAME_PLACE:
            return n, "length", None, norm(a.place) - norm(b.place)
        turned = max((angle_between(x, y) for x, y in zip(a.ways, b.ways, strict=False)), default=0.0)
        if turned > SAME_WAY:
            return n, "turned", turned, None
    if len(one) != len(other):
        return min(len(one), len(other)) - 1, "parts", None, None
    return None


def repeats(graph: LineGraph) -> Iterator[tuple[str, int, tuple[Odd, ...]]]:
    """Compare the repeats of every spool that stands more than once.

    Parameters
    ----------
    graph : LineGraph

    Yields
    ------
    tuple
        Name, number of repeats, and those that differ from most; if no shape has a majority, all but the
        first shape.
    """
    for name, found in _repeats_of(graph).items():
        if len(found) < 2:
            continue
        laid = [_laid(parts) for parts in found]
        shapes: list[tuple[list[_Lay], list[int]]] = []
        for n, lay in enumerate(laid):
            for shape, members in shapes:
                if _difference(lay, shape) is None:
                    members.append(n)
                    break
            else:
                shapes.append((lay, [n]))
        usual, members = max(shapes, key=lambda item: len(item[1]))
        odd = []
        for shape, others in shapes:
            if shape is usual:
                continue
            for n in others:
                found_at = _difference(laid[n], usual)
                if found_at is None:
                    continue
                index, how, turned, longer = found_at
                part = found[n][index]
                odd.append(
                    Odd(
                        part.id, how, part.line, turned, longer, len(members), f"{part.file}:{part.spot.line}"
                    )
                )
        yield name, len(found), tuple(odd)
