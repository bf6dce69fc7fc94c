"""The line as rigid bodies and what ties them: what each tie needs to be made, and whether it can open.

A *step* brings one body to another by a straight move that every tie between them admits. Everything that
stands is one body, the ground.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.job.graph import Vec

GROUND = "ground"
"""The one body of everything that stands: equipment, walls, existing pipe."""
ALONG = 1e-3
"""Two unit directions whose dot product is within this of 1 are one (2.6 degrees; own rule). [1]"""


class How(StrEnum):
    """How a tie is made."""

    CEMENTED = "cemented"
    FLAT = "flat faces"
    RINGED = "ringed faces"
    PUSHED = "push-on bell"
    THREADED = "threaded"
    RIGID = "stands"
    """What may not be opened nor made last: both bodies count as one."""


STRAIGHT = (How.CEMENTED, How.RINGED, How.PUSHED)
"""Made by straight travel along one axis and no other."""


@dataclass(frozen=True, slots=True)
class Tied:
    """A tie between two bodies.

    Parameters
    ----------
    id : str
        Joint id, or the two faces.
    how : How
    a, b : str
        Bodies.
    way : tuple of float
        Unit vector of the move that brings ``a`` to ``b``: into the socket, or out of its own face.
    travel : float
        Straight travel it takes, working gap included; of flat faces the way to slide clear. [m]
    joint : str
        Id of the cemented joint; empty for other ties.
    place : tuple of float
        Where it is made. [m]
    """

    id: str
    how: How
    a: str
    b: str
    way: Vec
    travel: float = 0.0
    joint: str = ""
    place: Vec = (0.0, 0.0, 0.0)

    def other(self, body: str) -> str:
        """The body at the other side."""
        return self.b if body == self.a else self.a


@dataclass(frozen=True, slots=True)
class Box:
    """A straight square bar: what a stretch of pipe or hub takes up, ends cut flat.

    Parameters
    ----------
    start, end : tuple of float
        Ends of its axis. [m]
    half : float
        Half its width across the axis. [m]
    """

    start: Vec
    end: Vec
    half: float


@dataclass(frozen=True, slots=True)
class Block:
    """A rigid body.

    Parameters
    ----------
    id : str
        Part or piece id; a half of a union carries its port, such as ``"B-302/U1.a"``.
    boxes : tuple of Box
    mass : float or None
        [kg]
    what : str
        Kind of part, or ``"piece"``.
    """

    id: str
    boxes: tuple[Box, ...] = ()
    mass: float | None = None
    what: str = ""


@dataclass(frozen=True, slots=True)
class Rig:
    """Bodies and ties.

    Parameters
    ----------
    blocks : mapping
        By id; the ground is one of them.
    ties : tuple of Tied
        In the order of their ids.
    """

    blocks: Mapping[str, Block]
    ties: tuple[Tied, ...]
    at: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    """Indices of the ties at each body."""


def rig_of(blocks: Iterable[Block], ties: Iterable[Tied]) -> Rig:
    """A rig with its index.

    Parameters
    ----------
    blocks : iterable of Block
    ties : iterable of Tied

    Returns
    -------
    Rig
        The ground added if nobody brought it.
    """
    found = {b.id: b for b in blocks}
    found.setdefault(GROUND, Block(GROUND))
    kept = tuple(ties)
    at: dict[str, list[int]] = {name: [] for name in found}
    for n, tie in enumerate(kept):
        at[tie.a].append(n)
        if tie.b != tie.a:
            at[tie.b].append(n)
    return Rig(found, kept, {name: tuple(v) for name, v in at.items()})


def along(u: Vec, v: Vec) -> float:
    """How far two unit vectors agree: 1 the same way, -1 against each other. [1]"""
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def admits(how: How, way: Vec, move: Vec) -> bool:
    """Whether a tie is made by a move of its body ``a`` against ``b``.

    Parameters
    ----------
    how : How
    way : tuple of float
        Of the tie.
    move : tuple of float
        Unit vector of the last straight move of ``a``, ``b`` held still.

    Returns
    -------
    bool
        A thread is turned home, never moved: False.
    """
    if how in STRAIGHT:
        return along(way, move) > 1.0 - ALONG
    return how is How.FLAT and along(way, move) > -ALONG


def back(v: Vec) -> Vec:
    """The opposite direction."""
    return (-v[0], -v[1], -v[2])
