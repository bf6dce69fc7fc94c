"""What happened to each joint, as values: what the checks and the plan need to know of the record.

Times are already on the safe side: a start is the latest it can have been, now the earliest it can be.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from datetime import datetime
from operator import attrgetter

from lineproof.job.card_seal import SealedCard
from lineproof.job.cards import CementCard
from lineproof.job.making import CanRecord, Making
from lineproof.job.section_record import GaugeRecord, SectionRecord, WriterSeen
from lineproof.sums.readings import Readings, Weather

LOGGED, LATE, FORECAST = STANDINGS = ("logged", "late", "forecast")
"""Of a temperature: read at the joint in time; told late, so that it only makes it colder; foretold."""

NOTHING_READ = Readings((), ())


@dataclass(frozen=True, slots=True)
class Temperature:
    """One temperature.

    Parameters
    ----------
    at : datetime
        With its offset.
    value : float
        [K]
    standing : str
        One of ``STANDINGS``.
    """

    at: datetime
    value: float
    standing: str = LOGGED


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Readings that joints share: held once, and every joint with the same entries refers to the same one.

    Parameters
    ----------
    held : Readings
        Told in time, by clocks that can be held against now: they earn credit. Instants count from the
        beginning of 1970, UTC. [s]
    late : Readings
        Told late, or corrected: they only make it worse.
    ever : float or None
        The worst whose clock cannot be held against now: it may have been so at any time; of the base too.
    base : Series or None
        What many joints share, where this one adds a few readings of its own: a year of a logger is held
        once, however many joints were read by hand beside it. It has no base itself.
    hot : float or None
        The hottest a pipe may be now by typed readings, those corrected or of clocks ahead among them. [K]
    """

    held: Readings = NOTHING_READ
    late: Readings = NOTHING_READ
    ever: float | None = None
    base: Series | None = None
    hot: float | None = None

    @property
    def parts(self) -> tuple[Series, ...]:
        """The base, if there is one, and its own."""
        return (self,) if self.base is None else (self.base, self)

    def __bool__(self) -> bool:
        """Whether anything was read."""
        own = len(self.held.times) or len(self.late.times) or self.ever is not None
        return bool(own) or (self.base is not None and bool(self.base))


NO_SERIES = Series()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SiteAir:
    """The air on the site, as far as the clocks of the joints may ask.

    Parameters
    ----------
    seen : Readings
        Air temperatures that were seen. Instants count from the beginning of 1970, UTC. [s], [K]
    margin : float or None
        How much colder than the air a joint may have been; None if nobody said. [K]
    forecast : tuple of Temperature
        Of the air to come, in order; never a reading.
    damp : Readings
        Relative humidities that were seen. [s], [-]
    why : str
        In words why rows of weather.csv do not count; empty if they do, or there is no such file.
    """

    seen: Readings = NOTHING_READ
    margin: float | None = None
    forecast: tuple[Temperature, ...] = ()
    damp: Readings = NOTHING_READ
    why: str = ""

    @property
    def for_holes(self) -> Weather | None:
        """What stands in where a joint's readings have a hole; None without a margin or a row."""
        if self.margin is None or not len(self.seen.times):
            return None
        return Weather(self.seen.times, self.seen.values, margin=self.margin)


NO_AIR = SiteAir()


@dataclass(frozen=True, slots=True)
class Disturbance:
    """A joint was moved, knocked, bent or pulled, or its spigot came back out.

    Parameters
    ----------
    earliest, at : datetime
        The earliest and the latest it can have been.
    kind : str
        ``"moved"``, ``"disturbed"`` or ``"pushed back"``.
    how : str
        In words, as recorded.
    """

    earliest: datetime
    at: datetime
    kind: str
    how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointProgress:
    """All that is known of one joint.

    Parameters
    ----------
    id : str
    made : bool
        It was made and stands.
    cut_out, rejected : bool
    assembled : datetime or None
        The earliest it can have gone home.
    temperature : float or None
        Of the joint when it was made, the colder one where it was corrected. [K]
    humidity : float or None
        Relative humidity then, the damper one where it was corrected. [-]
    card : str
        Cement card it was made by; empty if not said.
    hold_ended, pullers_off : datetime or None
        The latest each can have been.
    disturbances : tuple of Disturbance
        In order.
    accepted : tuple of datetime
        When another person examined and accepted it.
    now : datetime or None
        The earliest it can be now on the clock of its own record; None if that cannot be told.
    readings : Series
        Temperatures of its surface. [K]
    damp : Series or None
        Relative humidities at it; None for those of the site. [-]
    unread : tuple of str
        Logger's files of it that are not here or cannot be read, each with why.
    unclear : tuple of str
        Why its record does not hold, as codes of the logbook.
    replaced_by : tuple of str
        Joints that stand in its place.
    beside, section : str
        For a joint that is not on the drawing: its neighbour, and the section as far as it was said.
    changed : datetime or None
        When it was last made, moved, disturbed, cut out or replaced.
    begun, ended : datetime or None
        The earliest that anything is told of it, and that it can have been cut out.
    record : object
        What it was made from: where two have the same object, nothing but ``now`` differs. None says nothing.
    """

    id: str
    made: bool = False
    cut_out: bool = False
    rejected: bool = False
    assembled: datetime | None = None
    temperature: float | None = None
    humidity: float | None = None
    card: str = ""
    hold_ended: datetime | None = None
    pullers_off: datetime | None = None
    disturbances: tuple[Disturbance, ...] = ()
    accepted: tuple[datetime, ...] = ()
    now: datetime | None = None
    readings: Series = NO_SERIES
    damp: Series | None = None
    unread: tuple[str, ...] = ()
    unclear: tuple[str, ...] = ()
    replaced_by: tuple[str, ...] = ()
    beside: str = ""
    section: str = ""
    changed: datetime | None = None
    begun: datetime | None = None
    ended: datetime | None = None
    record: object = field(default=None, compare=False, repr=False)

    @property
    def untouched(self) -> bool:
        """Nothing is recorded that only happens to a joint that is made."""
        told = (self.made, self.cut_out, self.rejected, self.hold_ended, self.pullers_off, self.beside)
        return not (any(told) or self.disturbances or self.readings or self.unread or self.unclear)


_NAMES = [f.name for f in fields(JointProgress)]
_ALL = attrgetter(*_NAMES)
_PUT = [getattr(JointProgress, name).__set__ for name in _NAMES]
_NOW, _RECORD = JointProgress.__dict__["now"].__set__, JointProgress.__dict__["record"].__set__


def at_moment(joint: JointProgress, now: datetime | None, record: object = None) -> JointProgress:
    """What is known of a joint at another moment, nothing else being otherwise.

    Parameters
    ----------
    joint : JointProgress
    now : datetime or None
        The earliest it can be then on the clock of its own record.
    record : object
        What it was made from; the same as before unless said.

    Returns
    -------
    JointProgress
    """
    # Ten thousand at a time: ``replace`` takes several times as long.
    made = object.__new__(JointProgress)
    for put, value in zip(_PUT, _ALL(joint), strict=True):
        put(made, value)
    _NOW(made, now)
    if record is not None:
        _RECORD(made, record)
    return made


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldTag:
    """A hold tag that hangs, or may hang.

    Parameters
    ----------
    tag : str
        Its name.
    on : tuple of str
        What it hangs on, as recorded.
    sure : bool
        False where its record is unclear.
    """

    tag: str
    on: tuple[str, ...]
    sure: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What happened on the job, by what was known.

    Parameters
    ----------
    now : datetime
        The moment judged, by the wall clock.
    joints : mapping
        Joint id to what is known of it; joints without a record are not in it.
    tags : tuple of HoldTag
    gaps : tuple of str
        What is missing from the record as a whole, in words: any joint may be in it.
    humidity : Series
        Relative humidities read on the site. [-]
    forecast : tuple of Temperature
        Of the air to come; never a reading.
    makings : mapping
        Joint id to how it was made, for each that is recorded as made.
    cans : mapping
        Name of a can to its record.
    sections : mapping
        Section to what is recorded of it.
    gauges : mapping
        Gauge to what is recorded of it.
    writers : tuple of WriterSeen
        Phones and machines that wrote within a day.
    air : SiteAir
        By weather.csv as it was imported.
    """

    now: datetime
    joints: Mapping[str, JointProgress] = field(default_factory=dict)
    tags: tuple[HoldTag, ...] = ()
    gaps: tuple[str, ...] = ()
    humidity: Series = NO_SERIES
    forecast: tuple[Temperature, ...] = ()
    makings: Mapping[str, Making] = field(default_factory=dict)
    cans: Mapping[str, CanRecord] = field(default_factory=dict)
    cards_used: Mapping[str, tuple[SealedCard, ...]] = field(default_factory=dict)
    sections: Mapping[str, SectionRecord] = field(default_factory=dict)
    gauges: Mapping[str, GaugeRecord] = field(default_factory=dict)
    writers: tuple[WriterSeen, ...] = ()
    air: SiteAir = NO_AIR

    def of(self, joint: str) -> JointProgress:
        """What is known of a joint; nothing at all for one without a record."""
        return self.joints.get(joint) or JointProgress(id=joint)

    def section(self, id: str) -> SectionRecord:
        """What is recorded of a section; nothing at all for one without a record."""
        return self.sections.get(id) or SectionRecord(id=id)

    def cards_for(self, joint: str, card: CementCard) -> tuple[CementCard, ...]:
        """All that the waits of a joint may rest on, for the longest of them to govern.

        Parameters
        ----------
        joint : str
            Id of the joint.
        card : CementCard
            Its card, as it stands in job.toml.

        Returns
        -------
        tuple of CementCard
            The version that was sealed when the joint was made and those since, the oldest first, and last
            the card as it stands.
            Before them any other card that it was said to be made by before one person alone changed that;
            one without rows, where no card was named then or it was never sealed.
        """
        making = self.makings.get(joint)
        found: list[CementCard] = []
        for name in making.cards[1:] if making is not None else ():
            if name != card.id:
                others = self.cards_used.get(name, ()) if name else ()
                found += [other.card for other in others] or [replace(card, id=name, rows=())]
        versions = self.cards_used.get(card.id, ())
        before = [s for s in versions if making is not None and s.at <= making.latest]
        found += [sealed.card for sealed in versions[max(len(before) - 1, 0) :]]
        return tuple(dict.fromkeys((*(c for c in found if c != card), card)))

    def changed_unread(self, card: CementCard) -> bool:
        """Whether a card was changed since it was sealed, and nobody has read it back since.

        Parameters
        ----------
        card : CementCard
            As it stands in job.toml.

        Returns
        -------
        bool
            True where its times differ from any sealed version that says the same of who read it back when.
        """
        return any(
            (v.read_back_by, v.read_back_on) == (card.read_back_by, card.read_back_on)
            and (v.rows, v.factors, v.edges, v.open_life)
            != (card.rows, card.factors, card.edges, card.open_life)
            for v in (sealed.card for sealed in self.cards_used.get(card.id, ()))
        )
