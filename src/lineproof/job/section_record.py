"""What is recorded of a test section, as values: how it ends, what was looked at, who answered, releases.

Times are on the safe side, as in ``job.progress``: what lets a section go ahead happened as early as it can
have been, what holds it up as late.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

FILL, RAISE = "fill", "raise"
PRESSURE = (FILL, RAISE)
"""What a release may be for that puts water or pressure behind joints."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What somebody recorded of a section.

    Parameters
    ----------
    at : datetime
        The earliest it can have been: from then on it grows old.
    good : bool
        Whether it was found good, or answered yes.
    who : str
        Id of the person in job.toml; the start of a UUID for anybody else.
    place : str
        Where it was said; empty if not told.
    what : str
        What it is, in a word: how a boundary is closed, what was grouted.
    about : str
        What it is about: a boundary, a writer.
    since : datetime or None
        For an answer that speaks of the time since a moment.
    until : datetime or None
        When something is ready.
    value : float or None
        A pressure. [Pa]
    entry : str
        Id of the entry.
    """

    at: datetime
    good: bool = True
    who: str = ""
    place: str = ""
    what: str = ""
    about: str = ""
    since: datetime | None = None
    until: datetime | None = None
    value: float | None = None
    entry: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """A release of a section.

    Parameters
    ----------
    id : str
    may : str
        ``"fill"``, ``"raise"``, ``"move"``, ``"lower"`` or ``"load"``.
    at : datetime
        When it was given; as early as can be.
    who : str
        Who gave it.
    claimed : bool
        The name was only typed.
    pressure : float or None
        [Pa]
    gauge, medium : str
    expires : datetime or None
    ended : str
        ``""`` while it stands, else ``"withdrawn"``, ``"expired"`` or ``"unclear"``.
    reason : str
        Why it was taken back.
    receipt : int
        Receipt from which on it is known. [-]
    entry : str
        Id of the entry.
    lines : tuple of str
        Lines that the water could reach when it was given; empty if that was not written down.
    """

    id: str
    may: str
    at: datetime
    who: str = ""
    claimed: bool = True
    pressure: float | None = None
    gauge: str = ""
    medium: str = ""
    expires: datetime | None = None
    ended: str = ""
    reason: str = ""
    receipt: int = 0
    entry: str = ""
    lines: tuple[str, ...] = ()

    def open_at(self, now: datetime) -> bool:
        """Whether it may still be begun on: not taken back, not run out."""
        return not self.ended and (self.expires is None or now <= self.expires)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionRecord:
    """All that is recorded of one section.

    Parameters
    ----------
    id : str
    releases : tuple of Release
        In order.
    asked : tuple of str
        Releases that were asked for and not given.
    zero : Said or None
        When an open vent last showed that there is no pressure.
    under_pressure : Release or None
        The release that put water or pressure into it, while no later open vent proved zero.
    pressed : tuple of Release
        All such releases.
    opened : frozenset of str
        Boundaries that may have been open since the first of them.
    restraint, bolts : Said or None
        The newest look at the restraints, and tightening of the flange bolts.
    grout : tuple of Said
        Fresh grout, anchors and thrust blocks.
    ends : mapping
        Boundary to the newest word on how the section ends there.
    sources : mapping
        Source of pressure to the newest word on the most it can bring.
    conditions : mapping
        Condition and what it is about to the newest answer.
    unclear : tuple of str
        Why its record does not hold, as codes of the logbook.
    """

    id: str
    releases: tuple[Release, ...] = ()
    asked: tuple[str, ...] = ()
    zero: Said | None = None
    under_pressure: Release | None = None
    pressed: tuple[Release, ...] = ()
    opened: frozenset[str] = frozenset()
    restraint: Said | None = None
    bolts: Said | None = None
    grout: tuple[Said, ...] = ()
    ends: Mapping[str, Said] = field(default_factory=dict)
    sources: Mapping[str, Said] = field(default_factory=dict)
    conditions: Mapping[tuple[str, str], Said] = field(default_factory=dict)
    unclear: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeRecord:
    """A gauge as recorded last.

    Parameters
    ----------
    id : str
    place : str
        Gauge place it hangs at.
    calibrated, due : date or None
    elevation : float or None
        [m]
    error, full : float or None
        Error it may have, and the end of its scale. [Pa]
    unclear : tuple of str
    """

    id: str
    place: str = ""
    calibrated: date | None = None
    due: date | None = None
    elevation: float | None = None
    error: float | None = None
    full: float | None = None
    unclear: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WriterSeen:
    """A phone or machine that wrote into the logbook.

    Parameters
    ----------
    id : str
        UUID of the writer.
    device : str
        What it calls itself.
    heard : datetime or None
        When something of it last came in here.
    here : bool
        It is this machine.
    joints : mapping
        Joint to when it last wrote of it, within the last day.
    sections : mapping
        The same for sections.
    """

    id: str
    device: str
    heard: datetime | None
    here: bool
    joints: Mapping[str, datetime] = field(default_factory=dict)
    sections: Mapping[str, datetime] = field(default_factory=dict)
