"""The plan of a joint: its two ends, what it needs, its pressure, its clocks, and what goes on first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell
from lineproof.job.graph import Vec
from lineproof.plan.joint_needs import Missing, Needs
from lineproof.plan.model import JointPlace

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class JointEnd:
    """One side of a joint as a fitter names it: elbow 90, E3, lot E12-3; piece C, end a.

    Parameters
    ----------
    id : str
        Part or piece id.
    what : str
        ``"elbow"``, ``"piece"``, ``"ground"``.
    name : str
        Its own name without the line: ``"E3"``, ``"C"``.
    port : str
        Port or end: ``"a"``, ``"b"``, ``"c"``, ``"bell"``.
    angle_deg : float
        Of an elbow, else 0. [deg]
    tag, lot : str
        As on the drawing and as marked by the crew.
    size, size2 : Size or None
        Run size, and branch or reduced size.
    """

    id: str
    what: str
    name: str
    port: str
    angle_deg: float = 0.0
    tag: str = ""
    lot: str = ""
    size: Size | None = None
    size2: Size | None = None


@dataclass(frozen=True, slots=True)
class JointPressure:
    """Pressure at the joint while its section stands at its planned pressure, gauge error added.

    Parameters
    ----------
    elevation : float or None
        Centre of the socket's mouth on the drawing's datum. [m]
    pressure : float or None
        The highest over all sections that hold the joint. [Pa]
    section, gauge : str
        Those of that highest pressure.
    """

    elevation: float | None
    pressure: float | None
    section: str = ""
    gauge: str = ""
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Clock:
    """One wait of a joint.

    Parameters
    ----------
    kind : str
        ``"hold"``, ``"pullers"``, ``"handling"`` or ``"cure"``.
    time : float or None
        By the cement card, all factors in; a longer hold of the procedure beats the card's. [s]
    by : str
        ``"card"`` or ``"procedure"``; empty if it cannot be told.
    mark : str
        Where on the card or in which paper it stands.
    factors : tuple of str
        Names of the factors that lengthen it.
    multiplier : float
        All factors multiplied. [1]
    pressure_max : float or None
        Cure: the pressure the row is printed for. [Pa]
    printed : float or None
        What a standard prints for the same size, temperature and pressure: information only, never a
        release; None where none is carried. [s]
    printed_cells : tuple of Cell
        Where that stands; unverified until confirmed.
    shorter_than_standard : bool
        The card's time is shorter than the standard's row of the same cell.
    """

    kind: str
    time: float | None
    by: str = ""
    mark: str = ""
    factors: tuple[str, ...] = ()
    multiplier: float = 1.0
    pressure_max: float | None = None
    printed: float | None = None
    printed_cells: tuple[Cell, ...] = ()
    shorter_than_standard: bool = False
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class LineZero:
    """Line zero of the card: what must be on the pipe before the joint is made.

    Parameters
    ----------
    what : str
        ``"backing ring"``, ``"union nut"``, ``"flange ring"``, ``"repair coupling"`` or the word of
        parts.csv.
    part : str
        The part it belongs to.
    on : str
        Piece (or part) it goes on.
    side : str
        Which end of it goes into the joint: ``"a"`` or ``"b"``.
    faces : tuple of float
        Unit vector the working side looks along: from the pipe into the socket. [1]
    capital : bool
        It could not be put on later: both ends of the piece carry fittings or bells, and it only goes
        on over an open pipe end.
    sure : bool
        False where only one half of the part carries it and the drawing does not say which.
    """

    what: str
    part: str
    on: str
    side: str
    faces: Vec
    capital: bool
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class JointPlan:
    """One joint, planned.

    Parameters
    ----------
    place : JointPlace
        Where it is; its ``size`` is the socket's.
    socket, spigot : JointEnd
    procedure, card : str
        Ids; empty if none is named for the line.
    method : str
        ``"two-step"``, ``"one-step"`` or empty if no procedure says.
    temperature, humidity : float or None
        As stated for joining. [K, 1]
    second_mark : float or None
        From the pipe end. [m]
    allowed_shortfall : float or None
        By the procedure. [m]
    """

    place: JointPlace
    socket: JointEnd
    spigot: JointEnd
    procedure: str
    card: str
    method: str
    needs: Needs
    pressure: JointPressure
    hold: Clock
    pullers_off: Clock
    hands_off: Clock
    cure: Clock
    line_zero: tuple[LineZero, ...]
    temperature: float | None
    humidity: float | None
    second_mark: float | None = None
    allowed_shortfall: float | None = None
    other_missing: tuple[Missing, ...] = ()

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Every missing input, once, in the order of the card."""
        n = self.needs
        groups = (
            self.other_missing, n.bond.missing, n.fit.missing, n.brushes.missing, n.wet.missing,
            n.hands.missing, n.pull_in.missing, self.pressure.missing, self.hold.missing,
            self.pullers_off.missing, self.hands_off.missing, self.cure.missing,
        )  # fmt: skip
        return _once(groups)

    @property
    def cells(self) -> tuple[Cell, ...]:
        """Every table cell its numbers stand on; the standard's rows shown beside are not among them."""
        n = self.needs
        return _once(
            (n.bond.cells, n.fit.cells, n.brushes.cells, n.wet.cells, n.hands.cells, n.pull_in.cells)
        )

    @property
    def clocks(self) -> tuple[Clock, ...]:
        """Hold, pullers off, hands off, cure."""
        return (self.hold, self.pullers_off, self.hands_off, self.cure)


def _once(groups: Iterable[Iterable[T]]) -> tuple[T, ...]:
    return tuple(dict.fromkeys(item for group in groups for item in group))
