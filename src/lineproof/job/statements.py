"""The words of a walk as values: one statement a line, nothing computed.

A walk is a line told the way a fitter walks it. Lengths are in metres, angles in radians,
slopes are rise over run. ``at`` says where the statement stands in its file.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.book.sizes import Size


class Way(StrEnum):
    """A direction on the plant grid (east, north, up are the axes)."""

    NORTH = "north"
    SOUTH = "south"
    EAST = "east"
    WEST = "west"
    UP = "up"
    DOWN = "down"

    @property
    def vector(self) -> tuple[float, float, float]:
        """Unit vector (east, north, up)."""
        return _VECTORS[self]


_VECTORS: dict[Way, tuple[float, float, float]] = {
    Way.EAST: (1.0, 0.0, 0.0),
    Way.WEST: (-1.0, 0.0, 0.0),
    Way.NORTH: (0.0, 1.0, 0.0),
    Way.SOUTH: (0.0, -1.0, 0.0),
    Way.UP: (0.0, 0.0, 1.0),
    Way.DOWN: (0.0, 0.0, -1.0),
}


@dataclass(frozen=True, slots=True)
class Spot:
    """Line and column of a statement, from 1."""

    line: int = 0
    column: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One statement of a walk.

    Parameters
    ----------
    spot : Spot
        Where it stands; not part of equality.
    comment : str
        The comment after ``#`` on the same line, kept as typed.
    """

    spot: Spot = field(default=Spot(), compare=False, repr=False)
    comment: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark(Statement):
    """A line that holds only a comment, or nothing (an empty line, when ``comment`` is empty)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing(Statement):
    """``drawing M-204 rev 3``: the drawing and revision that the lines below were read from."""

    name: str
    rev: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Head(Statement):
    """``line B-201  size 12in  pipe pvc sch80  for "backwash"``: a new line begins.

    ``od_family`` is empty unless said (``ips``, ``irrigation``, ``cast-iron``, ``metric``).
    """

    name: str
    size: Size
    material: str
    series: str
    od_family: str = ""
    service: str = ""


class EndKind(StrEnum):
    """What stands at an end of a line."""

    FLANGE = "flange"  # a standing or free flange face; our companion flange meets it
    SOCKET = "socket"  # a plain socket that stands (equipment, wall stub): one more joint
    SPIGOT = "spigot"  # a plain pipe end that stands
    THREAD = "thread"  # a female thread that stands; our male adapter meets it
    BRANCH = "branch"  # the open branch of a tee, wye or saddle named by its label
    OPEN = "open"  # the pipe simply ends
    CAP = "cap"  # a cemented cap, 1 joint
    TEST_CAP = "test cap"  # the same, to be cut off after the test
    TEST_BLIND = "test blind"  # our flange with a blind on it, for the test
    BLIND = "blind"  # our flange with a blind on it, to stay


@dataclass(frozen=True, slots=True)
class End:
    """An end of a line.

    Parameters
    ----------
    kind : EndKind
    fixed : bool
        It may not move (equipment, wall, existing pipe).
    may_unbolt : bool
        A fixed flange that may be unbolted (an opening).
    face : str
        ``""`` (not said), ``"flat"``, ``"raised"`` or ``"ringed"``; flanges only.
    name : str
        What it is, such as ``pump P-3``; for a branch the label of the branch.
    size : Size or None
        Its own size if said.
    """

    kind: EndKind
    fixed: bool = False
    may_unbolt: bool = False
    face: str = ""
    name: str = ""
    size: Size | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """East, north, up of a point on the plant grid. [m]"""

    east: float
    north: float
    up: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Starts(Statement):
    """``starts at flange fixed "pump P-3"  at 0, 0, 2'-6"  facing north  station 10+00``."""

    end: End
    point: Point | None = None
    facing: Way | None = None
    station: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends(Statement):
    """``ends at flange fixed "filter F-1" at E, N, U``: a given point is checked."""

    end: End
    point: Point | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One component of a leg: a direction, and a length unless an aim gives it. [m]"""

    way: Way
    length: float | None = None


class Basis(StrEnum):
    """Whether the length of a sloped leg runs along the pipe or in plan."""

    ALONG = "along"
    PLAN = "in plan"


class Measure(StrEnum):
    """What a dimension runs to (or from)."""

    CENTRE = "centre"
    FACE = "face"
    STOP = "stop"
    END = "end"
    WALL = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Go(Statement):
    """A leg: ``go north 6'-0"``, ``go north 10' west 6' up 8'``, ``go north 35' down 1:100 along``.

    Parameters
    ----------
    steps : tuple of Step
        Components of the centre-line; one for a plain leg, more for a rolling one.
    slope : float or None
        Rise over run (positive), in the direction ``slope_way``.
    slope_way : Way or None
        UP or DOWN.
    basis : Basis or None
        Given exactly when ``slope`` is.
    start_measure, end_measure : Measure
        What the dimension runs from and to; centre unless said.
    to_centre : float or None
        ``go up to centre 12.50ft``: elevation of the centre to reach. [m]
    to_station : float or None
        ``go north to station 12+40``. [m]
    to_invert : float or None
        ``go north 35' to invert 98.20ft``: elevation of the inside bottom to reach. [m]
    field : bool
        The piece on this leg is cut after taping; listed long.
    lot : str
        Lot of the elbow at the start of this leg, if it turns.
    """

    steps: tuple[Step, ...]
    slope: float | None = None
    slope_way: Way | None = None
    basis: Basis | None = None
    start_measure: Measure = Measure.CENTRE
    end_measure: Measure = Measure.CENTRE
    to_centre: float | None = None
    to_station: float | None = None
    to_invert: float | None = None
    field: bool = False
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset(Statement):
    """``offset west 4' up 3' with 45``: the tool finds the advance; the heading stays as before."""

    steps: tuple[Step, ...]
    angle: float
    field: bool = False
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Put(Statement):
    """``put "V-7" [handle up] [mixed]``: a part from parts.csv, by its tag.

    ``mixed`` says that a part of another material than the line is meant.
    """

    tag: str
    handle: Way | None = None
    mixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Tee(Statement):
    """``tee west 6in as B-201a``: a tee whose ``way`` outlet carries the label.

    If ``way`` is the way the walk was heading, the walk itself goes on through the branch.
    """

    way: Way
    label: str
    size: Size | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saddle(Statement):
    """``saddle west 2in [threaded] as S-1``: a cemented saddle on the pipe."""

    way: Way
    size: Size
    label: str
    threaded: bool = False
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduce(Statement):
    """``reduce to 8in [eccentric flat top] [bushing]``: the size changes here.

    ``flat`` names the flat side of an eccentric one; empty means concentric.
    """

    size: Size
    flat: Way | None = None
    bushing: bool = False
    lot: str = ""


class Inline(StrEnum):
    """Parts in the line that need no more words."""

    UNION = "union"
    RINGED_UNION = "ringed union"
    TRUE_UNION = "drop-out union"
    FLANGES = "flanges"
    RINGED_FLANGES = "ringed flanges"
    STUBS = "stub and ring"
    COUPLING = "coupling"
    REPAIR = "repair coupling"
    THREAD = "thread"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mid(Statement):
    """A coupling, union, flange pair, stub-and-ring pair or threaded pair in the line."""

    kind: Inline
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Expansion(Statement):
    """``expansion joint travel 4" set 2"``: set = pulled-out length when installed."""

    travel: float
    set: float | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoJoint(Statement):
    """``no joint 4' to 6'-6"``: keep couplings and bells off this stretch of the leg above. [m]"""

    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bells(Statement):
    """``bells facing ahead`` or ``bells facing back``: how the crew lays belled pipe from here."""

    ahead: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Spool(Statement):
    """``spool "TD"`` opens, ``spool ends`` (empty name) closes a spool that may be repeated."""

    name: str = ""


@dataclass(frozen=True, slots=True)
class Walk:
    """One file of statements in order."""

    file: str
    statements: tuple[Statement, ...]
