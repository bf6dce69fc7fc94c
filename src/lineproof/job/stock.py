"""What lies in the yard and the store: sticks, offcuts, cans, tools, stores, test materials, gaskets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from lineproof.job.toml_words import (
    Count,
    Day,
    Flag,
    Force,
    Length,
    LengthOver0,
    Material,
    Name,
    Nominal,
    Pressure,
    Read,
    Series,
    Temperature,
    Text,
    Torque,
    Volume,
    one_of,
)

OdFamily = Annotated[str, Read(one_of("ips", "irrigation", "cast-iron", "metric"))]
Basis = Annotated[str, Read(one_of("overall", "laying"))]
StickEnds = Annotated[str, Read(one_of("plain", "cement bell", "gasket bell"))]
CanKind = Annotated[str, Read(one_of("cement", "primer", "cleaner"))]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockItem:
    """A kind of pipe as bought.

    Parameters
    ----------
    size, material, series
        Nominal size, such as 12in; ``"pvc"``; ``"sch80"``.
    od_family : str
        ``"ips"``, ``"irrigation"``, ``"cast-iron"`` or ``"metric"``: asked, never guessed from the size.
    length : float
        Length of one stick, counted as ``basis`` says. [m]
    basis : str
        ``"overall"`` or ``"laying"`` (overall less the bell's depth). For plain ends both are the same.
    ends : str
        ``"plain"``, ``"cement bell"`` or ``"gasket bell"``: one bell a stick.
    bell_depth : float or None
        Face of the bell to its stop, measured; None until taped. [m]
    bell_reach : float or None
        Face of the bell to where the plain pipe begins: what a cut gives up to be rid of the bell. [m]
    in_yard, received, ordered : int
        Sticks that were there, that came in, that are on order and not here yet.
    trim, useful_offcut : float or None
        Where this stock differs from the saw's own settings. [m]
    lot : str
        Production lot.
    """

    id: Name
    size: Nominal
    material: Material
    series: Series
    od_family: OdFamily
    length: LengthOver0
    basis: Basis
    ends: StickEnds = "plain"
    bell_depth: LengthOver0 | None = None
    bell_reach: LengthOver0 | None = None
    in_yard: Count = 0
    received: Count = 0
    ordered: Count = 0
    trim: Length | None = None
    useful_offcut: Length | None = None
    lot: Text = ""

    @property
    def belled(self) -> bool:
        """Whether a stick has a bell."""
        return self.ends != "plain"

    @property
    def overall(self) -> float | None:
        """Length from end to end; None if it is given as laying length and the bell is not measured. [m]"""
        if self.basis == "overall" or not self.belled:
            return self.length
        return None if self.bell_depth is None else self.length + self.bell_depth

    @property
    def laying(self) -> float | None:
        """Length one stick adds to the run; None if the bell's depth is needed and not measured. [m]"""
        if self.basis == "laying" or not self.belled:
            return self.length
        return None if self.bell_depth is None else self.length - self.bell_depth


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A kept piece of a stock item: its length end to end [m], and whether its bell is still on."""

    id: Name
    stock: Name
    length: LengthOver0
    bell: Flag = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Can:
    """Cans of one lot: cement, primer or cleaner.

    Parameters
    ----------
    kind : str
        ``"cement"``, ``"primer"`` or ``"cleaner"``.
    card : str
        Id of the cement card its container carries; empty for primer and cleaner.
    product : str
        Words on the container.
    volume : float
        Content of one can. [m3]
    count, ordered : int
        Cans here, cans on order.
    lot : str
    expires, received : date or None
        As printed; None if nobody read it.
    where : str
        Id of the store.
    lines : tuple of str
        Lines or patterns it is meant for; empty for any.
    """

    id: Name
    kind: CanKind
    volume: Volume
    card: Text = ""
    product: Text = ""
    standard: Text = ""
    count: Count = 0
    ordered: Count = 0
    lot: Text = ""
    expires: Day | None = None
    received: Day | None = None
    where: Text = ""
    lines: tuple[Name, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Puller:
    """Come-alongs and other pull-in tools of one kind: what one may pull [N], for which sizes."""

    id: Name
    count: Count
    capacity: Force | None = None
    size_lo: Nominal | None = None
    size_hi: Nominal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Applicator:
    """Brushes, swabs or rollers of one width [m]."""

    id: Name
    width: LengthOver0
    count: Count
    kind: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapSet:
    """A set of pull-in straps: sizes it fits, and the bare pipe it needs between two hubs [m]."""

    id: Name
    size_lo: Nominal
    size_hi: Nominal
    count: Count
    exposed: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """The tool list."""

    pullers: tuple[Puller, ...] = ()
    applicators: tuple[Applicator, ...] = ()
    straps: tuple[StrapSet, ...] = ()

    @property
    def widest_applicator(self) -> float | None:
        """Width of the widest applicator on the list; None if there is none. [m]"""
        return max((a.width for a in self.applicators if a.count), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """A place where cans are kept.

    Parameters
    ----------
    kind : str
        ``"cabinet"`` (made for flammables), ``"room"`` or ``"vehicle"``.
    limit : float or None
        The most it may hold by the rules that bind the site, as typed. [m3]
    source : str
        The rule that sets the limit.
    coldest, hottest : float or None
        Temperatures it keeps. [K]
    """

    id: Name
    kind: Annotated[str, Read(one_of("cabinet", "room", "vehicle"))]
    where: Text = ""
    limit: Volume | None = None
    source: Text = ""
    coldest: Temperature | None = None
    hottest: Temperature | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TestMaterial:
    """What the pressure test needs: a blind, cap, vent, drain, gauge, relief valve and so on."""

    __test__ = False  # a value of the job, not a test case

    kind: Annotated[
        str,
        Read(
            one_of("blind", "cap", "vent", "drain", "gauge", "relief valve", "pump", "hose", "valve", "other")
        ),
    ]
    size: Nominal | None = None
    count: Count = 0
    rating: Pressure | None = None
    set_at: Pressure | None = None
    section: Text = ""
    note: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlangeDrilling:
    """How the flanges of a size are drilled on this job, unless a part's own note says otherwise.

    ``nominal`` is the DN marked on a metric flange where more than one DN goes with the pipe size.
    """

    size: Nominal
    drilling: Annotated[str, Read(one_of("class150", "pn10", "pn16"))]
    nominal: Count | None = None
    source: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltTorque:
    """Bolt torque of a flange pair [N m], with the paper it comes from; without a paper it is not used."""

    size: Nominal
    value: Torque
    source: Name
    gasket: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filler:
    """Full-face fillers that let a flat plastic flange meet a raised face."""

    size: Nominal
    full_face: Flag
    count: Count = 0
    thickness: LengthOver0 | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gasket:
    """Gaskets in hand, with thickness [m] for the length of bolts."""

    size: Nominal
    face: Annotated[str, Read(one_of("full", "ring"))]
    material: Text = ""
    thickness: LengthOver0 | None = None
    count: Count = 0
