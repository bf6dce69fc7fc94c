"""The values of the order list beside its rows: flange pairs, cement by card, storage, test sections.

What cannot be told is None and its input is named under ``missing``; verdicts are given elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell
from lineproof.plan.joint_needs import Missing
from lineproof.plan.order_rows import Group, Note, OrderRow


class SideKind(StrEnum):
    """What one side of a flange pair is."""

    ONE_PIECE = "one-piece flange"
    STUB = "stub and ring"
    BLIND = "blind"
    PART = "flanged part"
    EQUIPMENT = "equipment"


@dataclass(frozen=True, slots=True)
class FlangeSide:
    """One side of a flange pair.

    Parameters
    ----------
    face : str
        ``"flat"``, ``"raised"``, ``"ringed"`` or empty when not said.
    material : str
        Empty where nobody said (equipment).
    thickness : float or None
        What the bolt goes through, as measured: a stub's shoulder and ring together. [m]
    """

    part: str
    port: str
    name: str
    kind: SideKind
    face: str
    material: str
    thickness: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FlangePair:
    """One bolted pair.

    Parameters
    ----------
    ringed : bool
        Closed by straight travel of the ring's depth.
    gasket : str
        ``"full"``, ``"ring"``, ``"seal ring"`` (of a ringed face), or empty if the faces are not said.
    gasket_thickness : float or None
        Of the one gasket that job.toml names for this size and face. [m]
    drilling : str
        ``"class150"``, ``"pn10"``, ``"pn16"``; empty if not said.
    bolts : int or None
        How many.
    bolt_dia : float or None
        [m]
    bolt_length : float or None
        As bought; None until both thicknesses are measured. [m]
    washers, nuts : int or None
        Two washers a bolt where a side is plastic or unknown; one nut a bolt.
    torque : float or None
        Only with its paper. [N m]
    torque_source : str
    filler : bool or None
        A full-face filler is needed; None if the faces are not said.
    filler_thickness : float or None
        [m]
    """

    line: str
    size: Size
    a: FlangeSide
    b: FlangeSide
    ringed: bool
    gasket: str
    gasket_thickness: float | None
    drilling: str
    bolts: int | None
    bolt_dia: float | None
    bolt_length: float | None
    washers: int | None
    nuts: int | None
    torque: float | None
    torque_source: str
    filler: bool | None
    filler_thickness: float | None
    test: bool = False
    missing: tuple[Missing, ...] = ()
    notes: tuple[Note, ...] = ()
    cells: tuple[Cell, ...] = ()


class CanState(StrEnum):
    """Whether the cans of a lot may be counted."""

    MAY = "may be used"
    AT_START = "good on the first day; the day of the last use is not known"
    EXPIRED = "expires before the last planned use"
    LOT_REFUSED = "the lot was refused"
    NO_DATE = "nobody read the date of expiry"
    NO_LAST_USE = "no day of use is known"
    NO_LINE = "meant for lines that do not need it"


@dataclass(frozen=True, slots=True)
class CanUse:
    """Cans of one lot in the store, and whether they may be counted."""

    can: str
    lot: str
    volume: float
    count: int
    ordered: int
    expires: date | None
    state: CanState


@dataclass(frozen=True, slots=True)
class CanSize:
    """How many cans of one size the whole need takes.

    Parameters
    ----------
    volume : float
        Content of one can. [m3]
    cans : int
        For the whole need, so many cans as must be opened.
    used_up : bool or None
        Whether an opened can is used up within its life; None if that cannot be told.
    """

    volume: float
    cans: int
    used_up: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CementNeed:
    """Cement of one card, or primer, or cleaner.

    Parameters
    ----------
    kind : str
        ``"cement"``, ``"primer"`` or ``"cleaner"``.
    card, body : str
        Of cement.
    joints : int
        Joints that take it.
    joints_known : int
        Joints whose volume is known.
    volume : float or None
        For the known joints, allowance included; None if none is known. [m3]
    by_line : mapping
        The same by line. [m3]
    sizes : tuple of CanSize
        Every size it is sold in, smallest first.
    chosen : float or None
        The largest that is used up in time; the smallest if none is. None if it cannot be told. [m3]
    cans_to_order : int or None
        Of the chosen size; None also while cans in the store are in doubt that would matter.
    open_at_once : int or None
        Cans open at the same time.
    day_volume : float or None
        Used in one working day, on average. [m3]
    last_use : date or None
        Day of the last planned joint.
    cans : tuple of CanUse
    """

    kind: str
    card: str
    body: str
    joints: int
    joints_known: int
    volume: float | None
    by_line: Mapping[str, float]
    sizes: tuple[CanSize, ...]
    chosen: float | None
    cans_to_order: int | None
    open_at_once: int | None
    day_volume: float | None
    last_use: date | None
    cans: tuple[CanUse, ...]
    missing: tuple[Missing, ...] = ()
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class StoreLoad:
    """What one place holds, beside its limits: numbers only, the verdict is not given here.

    Parameters
    ----------
    store : str
        Id of the store; empty for cans whose place nobody said.
    kind : str
        ``"cabinet"``, ``"room"``, ``"vehicle"`` or empty.
    here : float
        Cement, primer and cleaner in it. [m3]
    with_ordered : float
        The same once what is on order is in it. [m3]
    own_limit : float or None
        As typed with its source. [m3]
    rule_limit : float or None
        What the rule prints for this kind of place. [m3]
    """

    store: str
    kind: str
    where: str
    here: float
    with_ordered: float
    own_limit: float | None
    own_source: str
    rule_limit: float | None


@dataclass(frozen=True, slots=True)
class Storage:
    """Flammable liquid on the site.

    Parameters
    ----------
    stores : tuple of StoreLoad
    here, ordered : float
        On site, and on order. [m3]
    to_order : float or None
        Still to be ordered; None if a part of it cannot be told. [m3]
    at_most : float or None
        If everything comes before anything is used; None if a part of it cannot be told. [m3]
    at_least : float
        The same without what cannot be told. [m3]
    outside_cabinets : float
        On site and not in a cabinet, cans without a place included. [m3]
    room_limit, cabinet_limit : float
        By the rule: outside a cabinet, and in one cabinet. [m3]
    cabinets_limit : int
        Most cabinets in one storage area.
    cabinets : mapping
        Cabinets by the place they stand in.
    """

    stores: tuple[StoreLoad, ...]
    here: float
    ordered: float
    to_order: float | None
    at_most: float | None
    at_least: float
    outside_cabinets: float
    room_limit: float
    cabinet_limit: float
    cabinets_limit: int
    cabinets: Mapping[str, int]
    missing: tuple[Missing, ...] = ()
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class TurningPoint:
    """A high or low point of a section.

    Parameters
    ----------
    high : bool
        A vent; else a drain.
    line : str
    part : str
        A part on it.
    parts : tuple of str
        All parts at its level, where it is a level stretch.
    z : float
        Height of the centre-line. [m]
    datum : bool
        The height stands on the drawing's datum.
    """

    high: bool
    line: str
    part: str
    parts: tuple[str, ...]
    z: float
    datum: bool


@dataclass(frozen=True, slots=True)
class TestSection:
    """What one section needs for its test, beside the rows of the list.

    Parameters
    ----------
    section : str
        Empty for lines that are in none.
    points : tuple of TurningPoint
        High points, then low points, in walking order.
    standing, open_ends : tuple of str
        Ends at equipment, which must be closed off; ends that are left open.
    """

    __test__ = False  # a value of the plan, not a test case

    section: str
    lines: tuple[str, ...]
    points: tuple[TurningPoint, ...]
    standing: tuple[str, ...]
    open_ends: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderList:
    """Everything to have before the work starts."""

    rows: tuple[OrderRow, ...]
    flange_pairs: tuple[FlangePair, ...]
    cement: tuple[CementNeed, ...]
    storage: Storage
    tests: tuple[TestSection, ...]

    def group(self, group: Group) -> tuple[OrderRow, ...]:
        """The rows of one group, in order."""
        return tuple(r for r in self.rows if r.group is group)

    @property
    def _parts(self) -> tuple[OrderRow | FlangePair | CementNeed | Storage, ...]:
        return (*self.rows, *self.flange_pairs, *self.cement, self.storage)

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Every missing input, once."""
        return tuple(dict.fromkeys(m for part in self._parts for m in part.missing))

    @property
    def cells(self) -> tuple[Cell, ...]:
        """Every table cell the list stands on, once, in order of table, row and column."""
        seen: dict[tuple[str, str, str], Cell] = {}
        for part in self._parts:
            for cell in part.cells:
                seen[cell.key] = cell
        return tuple(seen[k] for k in sorted(seen))
