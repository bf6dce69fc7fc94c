"""Frame: pipe as straight beams in space, held, sprung, warmed, weighed and pulled; what each end then bears.

One description for every question of this kind: flexibility, anchors, spans, a run that is sprung. The values
are here; ``frame_solve`` does the sum. Directions 0 to 5 of a node are east, north, up, and turns about them.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lineproof.floor.errors import OutsideTable
from lineproof.sums.limits import positive

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Flags = NDArray[np.bool_]

DIRECTIONS = ("east", "north", "up", "about east", "about north", "about up")


@dataclass(frozen=True, slots=True)
class Ring:
    """A round wall as a beam: area, second moment of area, and twice that for twist.

    Parameters
    ----------
    area : float
        [m2]
    inertia : float
        About any diameter. [m4]
    torsion : float
        [m4]
    """

    area: float
    inertia: float
    torsion: float


def ring(od: float, wall: float) -> Ring:
    """Section of a pipe wall.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    wall : float
        Wall thickness. [m]

    Returns
    -------
    Ring
        [m2], [m4]

    Valid range
    -----------
    0 < wall <= od/2.

    Notes
    -----
    A = π (D^2 - d^2)/4, I = π (D^4 - d^4)/64, J = 2 I, with d = D - 2 t.

    Examples
    --------
    >>> section = ring(od=2.0, wall=1.0)
    >>> round(section.area / np.pi, 9), round(section.inertia / np.pi, 9)
    (1.0, 0.25)

    References
    ----------
    .. [1] Closed forms of a circular ring: any handbook of strength of materials.
    """
    positive("od", od, unit="m")
    positive("wall", wall, unit="m")
    if wall > od / 2.0:
        raise OutsideTable(
            f"a wall of {wall:g} m in a pipe of {od:g} m", allowed="a wall up to half the outside diameter",
            by="the valid range of this sum", next="check the wall and the outside diameter",
        )  # fmt: skip
    bore = od - 2.0 * wall
    inertia = np.pi * (od**4 - bore**4) / 64.0
    return Ring(float(np.pi * (od**2 - bore**2) / 4.0), float(inertia), float(2.0 * inertia))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Springs:
    """Springs from a node to the ground, or to another node, each along or about one direction.

    Parameters
    ----------
    node : array (s,)
        Row of the node in ``Frame.points``.
    direction : array (s, 3)
        Along which it pushes or about which it turns; any length but 0. [-]
    stiffness : array (s,)
        [N/m], or [N m/rad] for one that turns.
    turns : array (s,), optional
        True for a spring against a turn; all push by default.
    other : array (s,), optional
        The node at its other end; -1 for the ground, which is the default.
    """

    node: Ints
    direction: Floats
    stiffness: Floats
    turns: Flags = field(default_factory=lambda: np.zeros(0, bool))
    other: Ints = field(default_factory=lambda: np.zeros(0, np.intp))

    def __post_init__(self) -> None:
        """Bring everything to the number of springs."""
        node = np.atleast_1d(np.asarray(self.node, np.intp))
        count = len(node)
        direction = np.asarray(self.direction, np.float64).reshape(count, 3)
        length = np.linalg.norm(direction, axis=1)
        stiffness = _each(self.stiffness, count)
        if not (np.all(length > 0) and np.all(np.isfinite(direction)) and np.all(np.isfinite(stiffness))):
            raise OutsideTable("a spring has no direction or no stiffness", allowed="finite numbers", by=_BY)
        if np.any(stiffness < 0):
            raise OutsideTable("a spring pulls the wrong way", allowed="a stiffness of 0 or more", by=_BY)
        turns = np.asarray(self.turns, bool)
        other = np.asarray(self.other, np.intp)
        object.__setattr__(self, "node", node)
        object.__setattr__(self, "direction", direction / length[:, None])
        object.__setattr__(self, "stiffness", stiffness)
        object.__setattr__(self, "turns", turns if turns.size else np.zeros(count, bool))
        object.__setattr__(self, "other", other if other.size else np.full(count, -1, np.intp))


_BY = "the valid range of this sum"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Frame:
    """Straight beams between points. What is given once holds for every member.

    The ends of a member are its first and second point. Its own axes are x along it, y upright to it in the
    vertical plane, z across; of a vertical member y points north. A member's ends have twelve directions:
    three forces and three moments at the first end in its own axes, then the same at the second.

    Parameters
    ----------
    points : array (n, 3)
        East, north, up. [m]
    members : array (m, 2)
        Rows of ``points``.
    modulus, shear_modulus : array (m,)
        Of the wall. [Pa]
    area : array (m,)
        [m2]
    inertia_y, inertia_z : array (m,)
        About the member's own axes y and z. [m4]
    torsion : array (m,)
        [m4]
    shear_area : array (m,), optional
        Area that carries shear; endless by default, which leaves shear out. [m2]
    held : array (n, 6) of bool
        Directions in which a node cannot move by itself; it is moved by what is imposed.
    released : array (m, 12) of bool, optional
        Directions in which an end of a member passes nothing on, in its own axes.
    springs : Springs, optional
    names : tuple of str, optional
        What each node is called in a sentence; ``node 1`` and so on by default.
    """

    points: Floats
    members: Ints
    modulus: Floats
    shear_modulus: Floats
    area: Floats
    inertia_y: Floats
    inertia_z: Floats
    torsion: Floats
    held: Flags
    shear_area: Floats | None = None
    released: Flags | None = None
    springs: Springs | None = None
    names: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Look at everything once, so that the sum need not."""
        points = np.asarray(self.points, np.float64).reshape(-1, 3)
        members = np.asarray(self.members, np.intp).reshape(-1, 2)
        count = len(members)
        put = object.__setattr__
        put(self, "points", points)
        put(self, "members", members)
        put(self, "held", np.asarray(self.held, bool).reshape(len(points), 6))
        for name in ("modulus", "shear_modulus", "area", "inertia_y", "inertia_z", "torsion"):
            values = _each(getattr(self, name), count)
            if not np.all((values > 0) & np.isfinite(values)):
                raise OutsideTable(
                    f"the {name.replace('_', ' ')} of a member is not above 0", allowed="finite, above 0",
                    by=_BY, next="look where it was read",
                )  # fmt: skip
            put(self, name, values)
        if self.shear_area is not None:
            put(self, "shear_area", _each(self.shear_area, count))
        if self.released is not None:
            put(self, "released", np.asarray(self.released, bool).reshape(count, 12))
        if not np.all(np.isfinite(points)):
            raise OutsideTable("a node has no place", allowed="finite coordinates", by=_BY)
        if count and not (members.min() >= 0 and members.max() < len(points)):
            raise OutsideTable("a member ends at a node that is not there", allowed="rows of points", by=_BY)
        short = np.flatnonzero(self.lengths <= 1e-9)
        if short.size:
            at = self.name_of(int(members[short[0], 0]))
            raise OutsideTable(
                f"member {short[0] + 1} at {at} has no length", allowed="a length above 0", by=_BY,
                next="leave it out",
            )  # fmt: skip
        if self.springs is not None and self.springs.node.size:
            rows = np.concatenate([self.springs.node, self.springs.other])
            if self.springs.node.min() < 0 or rows.max() >= len(points):
                raise OutsideTable(
                    "a spring ends at a node that is not there", allowed="rows of points", by=_BY
                )

    @property
    def lengths(self) -> Floats:
        """Length of each member. [m]"""
        ends = self.points[self.members]
        return np.asarray(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1), np.float64)

    @property
    def axes(self) -> Floats:
        """Each member's own axes as rows x, y, z: (m, 3, 3). [-]"""
        ends = self.points[self.members]
        x = (ends[:, 1] - ends[:, 0]) / self.lengths[:, None]
        upright = np.hypot(x[:, 0], x[:, 1]) < 1e-6
        guide = np.where(upright[:, None], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0])
        y = guide - np.sum(guide * x, axis=1)[:, None] * x
        y /= np.linalg.norm(y, axis=1)[:, None]
        return np.stack([x, y, np.cross(x, y)], axis=1)

    def name_of(self, row: int) -> str:
        """What a node is called in a sentence."""
        return self.names[row] if row < len(self.names) else f"node {row + 1}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loads:
    """What is done to a frame. Everything left out is none.

    Parameters
    ----------
    at_nodes : array (n, 6), optional
        Forces and moments. [N], [N m]
    along : array (m, 3), optional
        Even load on each metre of a member, such as weight: east, north, up. [N/m]
    strain : array (m,), optional
        How much longer each member would grow by itself: alpha times the change of temperature. [-]
    moved : array (n, 6), optional
        How far each held direction is moved; other directions must be 0. [m], [rad]
    """

    at_nodes: Floats | None = None
    along: Floats | None = None
    strain: Floats | None = None
    moved: Floats | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bent:
    """A frame under loads.

    Parameters
    ----------
    moves : array (n, 6)
        How far each node moved and turned. [m], [rad]
    ends : array (m, 12)
        What acts on the two ends of each member, in its own axes: forces, moments. Pull is positive at the
        second end and negative at the first. [N], [N m]
    reactions : array (n, 6)
        What ground and springs to the ground do to each node; 0 where nothing holds it. [N], [N m]
    """

    moves: Floats
    ends: Floats
    reactions: Floats

    @property
    def bending(self) -> Floats:
        """Bending moment at the two ends of each member, both axes together: (m, 2). [N m]"""
        ends = self.ends
        return np.stack([np.hypot(ends[:, 4], ends[:, 5]), np.hypot(ends[:, 10], ends[:, 11])], axis=1)

    @property
    def pull(self) -> Floats:
        """Axial force at the second end of each member, pull positive. [N]"""
        return np.asarray(self.ends[:, 6], np.float64)


def _each(value: ArrayLike, count: int) -> Floats:
    """One number a member, where one was given for all."""
    given = np.asarray(value, np.float64)
    if given.ndim and len(given) != count:
        raise OutsideTable(
            f"{len(given)} numbers for {count} members", allowed="one for all or one each", by=_BY
        )
    return np.ascontiguousarray(np.broadcast_to(given, (count,)))
