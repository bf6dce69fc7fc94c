"""The content of job.toml as values: what holds for the whole job, for its lines and for its test sections.

Every value is SI. What nobody stated is None or empty; a reader of these values answers CANNOT TELL then.
People, stock and cement cards have their own modules and are handed on from here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Any, ClassVar

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.floor.unit_table import INCH
from lineproof.job.card_rows import CardFactor, CardRow, CardTime, PerCan, WorkingRow
from lineproof.job.cards import CementCard
from lineproof.job.closing import Closing, Handling
from lineproof.job.duty import (
    Chemical,
    Chemicals,
    Gauge,
    HotWork,
    LineDuty,
    PressureCap,
    Section,
    matches,
)
from lineproof.job.people import (
    SIGN_ROLES,
    Crew,
    HandsRow,
    HoldRow,
    Person,
    Procedure,
    Qualification,
    Scheme,
    Signs,
    hands_for,
    within,
)
from lineproof.job.shifts import Shift, Testing
from lineproof.job.stock import (
    Applicator,
    BoltTorque,
    Can,
    Filler,
    FlangeDrilling,
    Gasket,
    Offcut,
    Puller,
    StockItem,
    Store,
    StrapSet,
    TestMaterial,
    Tools,
)
from lineproof.job.toml_words import (
    Angle,
    Day,
    Flag,
    Humidity,
    Latitude,
    Length,
    LengthOver0,
    Longitude,
    Name,
    Read,
    Temperature,
    TemperatureStep,
    Text,
    Wind,
    one_of,
    shorten,
)

__all__ = [
    "SIGN_ROLES", "Applicator", "BoltTorque", "Can", "CardFactor", "CardRow", "CardTime", "CementCard",
    "Chemical", "Chemicals", "CodeBasis", "Conditions", "Confirmation", "Crew", "Cutting", "Filler",
    "FlangeDrilling", "Gasket",
    "Gauge", "HandsRow", "HoldRow", "HotWork", "JobHead", "LineDuty", "Offcut", "PerCan", "Person",
    "PressureCap", "Procedure", "Puller", "Qualification", "Section", "Settings", "Shift", "ShownAs", "Signs",
    "Site", "StockItem", "Store", "StrapSet", "TestMaterial", "Testing", "Tools", "WorkingRow",
    "confirmed_set", "hands_for",
    "matches", "within",
]  # fmt: skip

ConfirmedKey = tuple[str, str, str]
"""Table, edition, hash of the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobHead:
    """The job's name and short id; ``invented`` marks data that describe no real site."""

    id: Name
    name: Name
    invented: Flag = False
    note: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where the job is, with its time zone by the IANA name, such as ``"America/Denver"``.

    Parameters
    ----------
    latitude, longitude : float or None
        North and east positive; None: the sun on the pipe cannot be told. [rad]
    """

    name: Name
    timezone: Name
    latitude: Latitude | None = None
    longitude: Longitude | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownAs:
    """How numbers are shown: ``"us"`` or ``"metric"``, inches to 1/inch_step, millimetres to mm_step [m]."""

    units: Annotated[str, Read(one_of("us", "metric"))] = "us"
    inch_step: Annotated[int, Read(lambda raw: _inch_step(raw))] = 16
    mm_step: LengthOver0 = 1e-3

    @property
    def shown(self) -> Shown:
        """The same for the printing of numbers."""
        base = Shown.us() if self.units == "us" else Shown.metric()
        return replace(base, inch_step=self.inch_step, mm_step=self.mm_step * 1e3)

    @property
    def step(self) -> float:
        """The step lengths are rounded to. [m]"""
        return INCH / self.inch_step if self.units == "us" else self.mm_step


def _inch_step(raw: Any) -> int:
    if isinstance(raw, bool) or raw not in (16, 32):
        raise BadInput(f"inches to 1/{shorten(raw)}", allowed="16 or 32, without quotes")
    return int(raw)


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeBasis:
    """The documents that bind the job, which of them wins where they differ, and how joiners are qualified.

    ``joiners`` names a profile such as ``"asme-b31.3"``; empty for the first that the documents name.
    """

    documents: tuple[Text, ...] = ()
    wins: Text = ""
    joiners: Scheme = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How the crew cuts and measures. What the procedure has not said is None.

    Parameters
    ----------
    kerf, trim : float
        What the saw takes; what is cut off the end of a stick. [m]
    stop_gap : float
        Room left between pipe end and stop. [m]
    bevel : float
        Length of the bevel on the pipe end. [m]
    field_extra : float
        Extra length of a piece that is cut after taping. [m]
    useful_offcut : float
        Shorter offcuts are waste. [m]
    tape_error, cut_error : float
        How far a taped length and a cut may be off. [m]
    second_mark : float or None
        From the depth mark to the second mark. [m]
    exposed : float or None
        Bare pipe that straps, nuts and rings need between two hubs. [m]
    closing_length, closing_sideways : float or None
        What gasket and flange of a closing face take up, lengthwise and sideways; None: not said. [m]
    closing_angle : float or None
        How far out of parallel they may be. [rad]
    joint_angle_limit : float or None
        How far out of line a joint may be made; None where the procedure has not said. [rad]
    """

    kerf: Length
    trim: Length
    stop_gap: Length
    bevel: Length
    field_extra: Length
    useful_offcut: Length
    tape_error: Length
    cut_error: Length
    second_mark: Length | None = None
    exposed: Length | None = None
    closing_length: Length | None = None
    closing_sideways: Length | None = None
    closing_angle: Angle | None = None
    joint_angle_limit: Angle | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Conditions stated for joining; what nobody stated is None.

    Parameters
    ----------
    pipe_temperature : float or None
        Pipe temperature at joining and while the joint cures: the coldest expected. [K]
    humidity : float or None
        Highest expected. [1]
    wind : float or None
        At the joint. [m/s]
    cut_temperature, joined_temperature : float or None
        Pipe temperature when it is cut and when it is joined between fixed points. [K]
    start : date or None
        Planned first day of joining.
    air_margin : float or None
        How much colder than the air in weather.csv a joint may have been, such as under a clear night sky;
        None: weather stands in for no reading. [K]
    """

    pipe_temperature: Temperature | None = None
    humidity: Humidity | None = None
    wind: Wind | None = None
    cut_temperature: Temperature | None = None
    joined_temperature: Temperature | None = None
    start: Day | None = None
    air_margin: TemperatureStep | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmation:
    """A table row that somebody confirmed against the open document.

    ``value`` is the value as retyped, ``page`` where it stands, ``by`` the id of the person.
    """

    table: Name
    edition: Name
    row_hash: Name
    value: Name
    page: Name
    by: Name
    role: Annotated[str, Read(one_of("engineer", "quality"))]
    date: Day

    @property
    def key(self) -> ConfirmedKey:
        """Table, edition and hash of the row."""
        return (self.table, self.edition, self.row_hash)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Everything in job.toml."""

    # Read by pydantic, for this class and those inside it: a key that is not known is refused.
    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    job: JobHead
    site: Site
    cutting: Cutting
    shown: ShownAs = ShownAs()
    code_basis: CodeBasis = CodeBasis()
    conditions: Conditions = Conditions()
    closing: Closing = Closing()
    handling: Handling = Handling()
    signs: Signs = Signs()
    tools: Tools = Tools()
    shift: Shift | None = None
    testing: Testing | None = None
    lines: tuple[LineDuty, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    sections: tuple[Section, ...] = ()
    pressure_caps: tuple[PressureCap, ...] = ()
    stock: tuple[StockItem, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    people: tuple[Person, ...] = ()
    crews: tuple[Crew, ...] = ()
    procedures: tuple[Procedure, ...] = ()
    cards: tuple[CementCard, ...] = ()
    cans: tuple[Can, ...] = ()
    stores: tuple[Store, ...] = ()
    hot_work: tuple[HotWork, ...] = ()
    test_materials: tuple[TestMaterial, ...] = ()
    torques: tuple[BoltTorque, ...] = ()
    drillings: tuple[FlangeDrilling, ...] = ()
    fillers: tuple[Filler, ...] = ()
    gaskets: tuple[Gasket, ...] = ()
    confirmations: tuple[Confirmation, ...] = ()

    def duty(self, line: str) -> LineDuty | None:
        """What a line is for: its own row before patterns, patterns in file order; None if none fits."""
        return next(
            (d for d in self.lines if d.line == line),
            next((d for d in self.lines if matches(d.line, line)), None),
        )

    def sections_of(self, line: str) -> tuple[Section, ...]:
        """The sections a line is tested in."""
        return tuple(s for s in self.sections if any(matches(p, line) for p in s.lines))

    def cap_of(self, section: str) -> PressureCap | None:
        """The signed pressure cap of a section, the newest if there are more; None if none is signed."""
        caps = [c for c in self.pressure_caps if c.section == section]
        return max(caps, key=lambda c: c.date, default=None)

    def caps_of(self, section: str, today: date) -> tuple[PressureCap, ...]:
        """Pressure caps that hold for a section: of each place all of the newest day; those to come as well.

        Parameters
        ----------
        section : str
        today : date

        Returns
        -------
        tuple of PressureCap
            None at all while none is signed by today.
        """
        caps = [c for c in self.pressure_caps if c.section == section]
        newest: dict[str, date] = {}
        for c in caps:
            if c.date <= today:
                newest[c.place] = max(newest.get(c.place, c.date), c.date)
        return tuple(c for c in caps if c.date >= newest.get(c.place, today)) if newest else ()

    def drilling(self, size: Size) -> FlangeDrilling | None:
        """How flanges of this size are drilled on this job; None if nobody said."""
        return next((d for d in self.drillings if d.size == size), None)

    def gauge(self, id: str) -> Gauge | None:
        """The gauge place with this id."""
        return next((g for g in self.gauges if g.id == id), None)

    def person(self, id: str) -> Person | None:
        """The person with this id."""
        return next((p for p in self.people if p.id == id), None)

    def procedure(self, id: str) -> Procedure | None:
        """The procedure with this id."""
        return next((p for p in self.procedures if p.id == id), None)

    def card(self, id: str) -> CementCard | None:
        """The cement card with this id."""
        return next((c for c in self.cards if c.id == id), None)

    def stock_item(self, id: str) -> StockItem | None:
        """The stock item with this id."""
        return next((s for s in self.stock if s.id == id), None)

    def stock_for(self, size: Size, material: str, series: str, od_family: str = "") -> tuple[StockItem, ...]:
        """Stock items of a size, material and series, in file order; of one OD family if said."""
        return tuple(
            s
            for s in self.stock
            if s.size == size
            and s.material == material
            and s.series == series
            and od_family in ("", s.od_family)
        )

    def crews_for(self, line: str) -> tuple[Crew, ...]:
        """Crews that work on a line."""
        return tuple(c for c in self.crews if not c.lines or any(matches(p, line) for p in c.lines))

    def cans_for(self, line: str, kind: str) -> tuple[Can, ...]:
        """Cans of a kind (cement, primer, cleaner) meant for a line, those for any line included."""
        return tuple(
            c for c in self.cans if c.kind == kind and (not c.lines or any(matches(p, line) for p in c.lines))
        )

    def hot_work_near(self, line: str, day: date | None) -> tuple[HotWork, ...]:
        """Hot work near a line on a day (any day if None); work without dates counts always."""
        return tuple(
            h
            for h in self.hot_work
            if (not h.lines or any(matches(p, line) for p in h.lines))
            and (day is None or ((h.since is None or h.since <= day) and (h.until is None or day <= h.until)))
        )


def confirmed_set(settings: Settings, *, asker: str | None = None) -> frozenset[ConfirmedKey]:
    """The confirmations that count.

    A confirmation counts if its signer is the engineer or quality person named under ``[signs]``, and is not
    the one who asks for the answer unless ``one_person_both`` says that one person may be both.

    Parameters
    ----------
    settings : Settings
        The job's settings.
    asker : str or None
        Id of the person who asks; None for the lead.

    Returns
    -------
    frozenset
        Table, edition and row hash of each.
    """
    who = settings.signs.lead if asker is None else asker
    return frozenset(
        c.key
        for c in settings.confirmations
        if c.role in settings.signs.role_of(c.by) and (settings.signs.one_person_both or c.by != who)
    )


def ids(items: Iterable[Any]) -> Collection[str]:
    """The ids of a list of items, in order."""
    return [item.id for item in items]
