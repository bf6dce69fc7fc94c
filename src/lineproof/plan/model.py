"""The values of a plan: pieces with their marks, joints in place, and what waits for a tape."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.book.sizes import Size
from lineproof.job.graph import End, Part, Run, Vec


class State(StrEnum):
    """What may be done with a piece now."""

    CUT = "cut now"
    FIELD = "cut after taping"
    WAIT = "waits for a measure"


class Short(StrEnum):
    """Why a run has no pieces that can be cut."""

    NONE = ""
    MEET = "sockets would meet"
    CLOSE = "less bare pipe than straps, nuts and rings need"
    NO_ROOM = "no place for a coupling off the stretch kept free of joints"
    NO_STOCK = "no stock item is named for this pipe"
    BELL = "the bell of the stock item is not measured"


@dataclass(frozen=True, slots=True)
class Turned:
    """A rotation mark: where a feature lies round the pipe, from its top line.

    Parameters
    ----------
    feature : str
        What lies there, such as ``"other leg of E3"`` or ``"first bolt hole"``.
    angle : float
        From the top line, clockwise seen along the walk. [rad]
    arc : float
        The same as arc length on the outside of the pipe. [m]
    """

    feature: str
    angle: float
    arc: float


@dataclass(frozen=True, slots=True)
class PieceEnd:
    """One end of a piece.

    Parameters
    ----------
    part, port : str
        What it enters, or what enters it (a bell); empty at an open end.
    depth : float or None
        How far it enters: the depth mark. [m]
    second_mark : float or None
        Mark outside the wet zone, from the pipe end; None if neither procedure nor job says. [m]
    bell : bool
        This end is the stick's factory bell.
    bevel : bool
        A spigot end to be bevelled.
    turned : tuple of Turned
    """

    part: str
    port: str
    depth: float | None
    second_mark: float | None
    bell: bool = False
    bevel: bool = True
    turned: tuple[Turned, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """One pipe as cut.

    Parameters
    ----------
    id : str
        Line and letter, such as ``"B-201/C"``.
    state : State
    cut : float or None
        Length to saw, rounded to the job's step with the carry; a field piece's is its long listing
        length. None while it waits. [m]
    exact : float or None
        The same before rounding. [m]
    face_to_face : float or None
        What the tape reads between the two mouths afterwards. [m]
    centre_to_centre : float
        Between the places it was dimensioned between; for a split leg between its own ends. [m]
    a, b : PieceEnd
        In walking direction.
    stock : str
        Id of the stock item; empty if none is named.
    waits : tuple of str
        Ids of the parts whose measures it waits for.
    whole : bool
        A whole stick that is not cut.
    tolerance : float or None
        How far the length may be off by spread, tape and saw together. [m]
    grown : float
        What the joining temperature adds to the length when cut. [m]
    mass : float or None
        [kg]
    start, way : tuple of float
        Where its a end lies, and its direction.
    taped : str
        Who taped the gap and when, if it was taped.
    """

    id: str
    line: str
    letter: str
    run: str
    n: int
    state: State
    cut: float | None
    exact: float | None
    face_to_face: float | None
    centre_to_centre: float
    a: PieceEnd
    b: PieceEnd
    size: Size
    material: str
    series: str
    stock: str
    start: Vec
    way: Vec
    waits: tuple[str, ...] = ()
    short: Short = Short.NONE
    whole: bool = False
    tolerance: float | None = None
    grown: float = 0.0
    mass: float | None = None
    spool: str = ""
    taped: str = ""


class JointKind(StrEnum):
    """What makes the joint."""

    SOCKET = "pipe in socket"
    BELL = "pipe in bell"
    SPIGOT = "spigot in socket"
    SADDLE = "saddle on pipe"


@dataclass(frozen=True, slots=True)
class JointPlace:
    """One cemented joint, in place.

    Parameters
    ----------
    key : tuple of str
        The two part-ports it ties, in words that survive a re-reading of the walk (see ``plan.ids``).
    socket : tuple of str
        Part id and port of the socket (a piece id for a bell; the pipe's piece id for a saddle).
    spigot : tuple of str
        Piece or part id and its end.
    size : Size
        Size it is checked, cemented and cured as.
    depth : float or None
        Depth to the stop. [m]
    place : tuple of float
        Mouth of the socket. [m]
    """

    line: str
    key: tuple[str, str]
    kind: JointKind
    socket: End
    spigot: End
    size: Size
    material: str
    series: str
    depth: float | None
    place: Vec
    way: Vec
    bench: bool = False
    id: str = ""


@dataclass(frozen=True, slots=True)
class Shortage:
    """A run whose sockets meet or stand too close, with the ways out. [m]"""

    run: str
    line: str
    why: Short
    face_to_face: float | None
    needed: float | None
    shortest_nipple: float | None


@dataclass(frozen=True, slots=True)
class Cutting:
    """All pieces, joints and added couplings of a job."""

    pieces: tuple[Piece, ...] = ()
    joints: tuple[JointPlace, ...] = ()
    couplings: dict[str, Part] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    shortages: tuple[Shortage, ...] = ()
    untaped: tuple[tuple[str, ...], ...] = ()
    """Groups of run ids between fixed points without a field piece."""
    between_fixed: frozenset[str] = frozenset()
    """Run ids that lie between two fixed points."""
