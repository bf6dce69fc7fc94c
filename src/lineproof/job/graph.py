"""The line as one graph of values: parts with ports, the runs of pipe between them, connections.

A place is (east, north, up) in metres on the plant grid. A reference direction is the top line of
the pipe: plant up on level and sloped pipe, plant north on a riser.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.book.sizes import Size
from lineproof.job.parts import Form, PartKind, PartRow, TypeKey
from lineproof.job.statements import Spot

Vec = tuple[float, float, float]


class Tie(StrEnum):
    """How two ports are connected (see the table of connections in docs/walk.md)."""

    CEMENTED = "cemented"
    FLANGED = "flange"
    RINGED = "ringed flange"
    THREADED = "threaded"
    STANDING = "standing"


@dataclass(frozen=True, slots=True)
class Port:
    """One end of a part, in place.

    Parameters
    ----------
    name : str
        ``"a"`` (in), ``"b"`` (out) or ``"c"`` (branch).
    out, ref : tuple of float
        Outward unit vector of the port's axis, and the reference direction across it.
    form : Form
    size : Size
    material, series : str
        System of the port; it must match what goes into it.
    reach : float or None
        Centre to face along ``out``; None if unmeasured. [m]
    depth : float or None
        Depth to the stop. [m]
    face : str
        Of a flange: flat, raised, ringed or not said.
    shift : tuple of float
        How far the port's axis lies off the centre (eccentric reducers). [m]
    """

    name: str
    out: Vec
    ref: Vec
    form: Form
    size: Size
    material: str
    series: str
    reach: float | None = None
    depth: float | None = None
    face: str = ""
    shift: Vec = (0.0, 0.0, 0.0)


class Wait(StrEnum):
    """Why a part's dimensions cannot be used yet."""

    NONE = ""
    NO_ROW = "not in parts.csv"
    NOT_MEASURED = "not measured"
    MEASURE_MORE = "fewer than three of the lot measured"
    WHICH_LOT = "several lots and no count or lot said"
    ONE_BY_ONE = "fabricated: this one is not measured"
    LOT_USED_UP = "the lots counted in parts.csv are used up"


@dataclass(frozen=True, slots=True)
class Part:
    """A place in the line: a rigid body with ports.

    Parameters
    ----------
    id : str
        Line and a running name, such as ``"B-201/E3"``; runs with the walk, not kept over changes.
    key : str
        What it is matched by when the walk is read again (see ``job.ids``).
    line : str
    kind : PartKind or str
        ``"ground"`` for what stands (equipment, walls, existing pipe).
    name : str
        Tag or what it is called on the drawing.
    centre : tuple of float
        Its reference point. [m]
    row : PartRow or None
        The row of parts.csv that it takes its dimensions from.
    wait : Wait
        Why its dimensions cannot be used yet; empty when they can.
    fixed : bool
        It may not move.
    may_unbolt : bool
        A fixed flange that may be unbolted.
    handle : tuple of float or None
        Direction of a valve handle.
    mixed : bool
        Said to be of another material than the line.
    label : str
        Of a tee or saddle: the label of its branch.
    style : str
        Of a union: ``"union"`` (flat), ``"ringed union"`` or ``"drop-out union"``, as the walk says.
    datum : bool
        Its height stands on the drawing's datum: the walk began at a given point and no unmeasured
        length went up or down on the way here.
    """

    id: str
    key: str
    line: str
    kind: PartKind | str
    type: TypeKey | None
    name: str
    centre: Vec
    ports: tuple[Port, ...]
    size: Size
    size2: Size | None
    angle_deg: float
    row: PartRow | None
    wait: Wait
    file: str
    spot: Spot
    spool: str = ""
    fixed: bool = False
    may_unbolt: bool = False
    handle: Vec | None = None
    mixed: bool = False
    lot: str = ""
    label: str = ""
    style: str = ""
    datum: bool = False

    def port(self, name: str) -> Port:
        """The port of that name."""
        for p in self.ports:
            if p.name == name:
                return p
        raise KeyError(f"{self.id} has no port {name}")


End = tuple[str, str]
"""Part id and port name."""


@dataclass(frozen=True, slots=True)
class Connection:
    """Two ports tied together without a pipe between them."""

    tie: Tie
    a: End
    b: End
    line: str
    gap: float = 0.0
    """Gasket thickness between flange faces. [m]"""


@dataclass(frozen=True, slots=True)
class Run:
    """A straight stretch of pipe between two ports.

    Parameters
    ----------
    cc : float
        Centre to centre of the two places it was dimensioned between. [m]
    off_a, off_b : float or None
        From those centres to the two mouths (or pipe ends); None if unmeasured. [m]
    depth_a, depth_b : float or None
        How far the pipe enters there; 0 at an open end. [m]
    start : tuple of float
        The centre at a. [m]
    way : tuple of float
        Unit vector from a to b.
    field : bool
        Cut after taping.
    close : bool
        No dimension was given: as close as the straps, nuts and rings allow.
    exact : bool
        ``cc`` rests on measured parts only (False: a provisional length stood in).
    no_joint : tuple of (float, float)
        Stretches without couplings or bells, from ``start``. [m]
    saddles : tuple of (str, float)
        Saddles on the pipe and their distance from ``start``. [m]
    bells_ahead : bool or None
        Which way bells face along this run, if said.
    spool, spool_no
        Spool the run was begun in, and the how-manieth of its line that is.
    fixed_a, fixed_b : bool
        Whether the run ends at something that stands.
    """

    id: str
    line: str
    a: End
    b: End
    cc: float
    off_a: float | None
    off_b: float | None
    depth_a: float | None
    depth_b: float | None
    start: Vec
    way: Vec
    size: Size
    material: str
    series: str
    file: str
    spot: Spot
    field: bool = False
    close: bool = False
    exact: bool = True
    no_joint: tuple[tuple[float, float], ...] = ()
    saddles: tuple[tuple[str, float], ...] = ()
    bells_ahead: bool | None = None
    spool: str = ""
    spool_no: int = 0
    fixed_a: bool = False
    fixed_b: bool = False

    @property
    def face_to_face(self) -> float | None:
        """What a tape reads between the two mouths; None if a reach is unmeasured. [m]"""
        if self.off_a is None or self.off_b is None:
            return None
        return self.cc - self.off_a - self.off_b


@dataclass(frozen=True, slots=True)
class Turn:
    """A change of direction and the fitting that serves it.

    Parameters
    ----------
    angle_deg : float
        The angle the drawing asks for. [deg]
    fitting_deg : float or None
        Angle of the fitting chosen; None if no listed fitting serves; 0 for a kink at a coupling.
    leftover_deg : float
        What remains at the joint after the fitting. [deg]
    choices : tuple of float
        Angles that are listed for this size. [deg]
    """

    part: str
    line: str
    angle_deg: float
    fitting_deg: float | None
    leftover_deg: float
    choices: tuple[float, ...]
    file: str
    spot: Spot


@dataclass(frozen=True, slots=True)
class OffsetFact:
    """An offset or a rolling leg with its numbers, printed for the fitter. [m, rad]"""

    line: str
    spot: Spot
    set: float
    roll: float
    true_offset: float
    advance: float
    travel: float
    roll_angle: float


@dataclass(frozen=True, slots=True)
class LaidLine:
    """One line as laid: its parts and runs in walking order."""

    name: str
    drawing: str
    rev: str
    service: str
    size: Size
    material: str
    series: str
    od_family: str
    file: str
    spot: Spot
    parts: tuple[str, ...]
    runs: tuple[str, ...]
    closed: bool | None
    """True: the given end was met; False is never stored (it is an error); None: nothing to check yet."""
    misclosure: Vec | None = None
    datum: bool = False
    """The line started at a point on the drawing's datum, or from a branch whose height stands on it."""


@dataclass(frozen=True, slots=True)
class LineGraph:
    """All lines of a job as laid."""

    lines: dict[str, LaidLine] = field(default_factory=dict)
    parts: dict[str, Part] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    connections: tuple[Connection, ...] = ()
    turns: tuple[Turn, ...] = ()
    offsets: tuple[OffsetFact, ...] = ()
