"""How each joint was made, as it is recorded: who, when, with what, how far home, who looked at it.

Where one person alone changed a field afterwards, all that it has said stands here side by side, so that a
check can take the worse: ``""`` or None among them says that it was not said at all before.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Inserted:
    """Where the spigot stands against its mark, by one entry.

    Parameters
    ----------
    shortfall : float
        How far it stops short, as it counts today. [m]
    worst : float
        The most it has been told as, where one person alone put it down. [m]
    allowed : float or None
        What was typed as allowed; it never beats the procedure. [m]
    procedure : str
        As typed; empty if not said.
    """

    shortfall: float
    worst: float
    allowed: float | None = None
    procedure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One examination.

    Parameters
    ----------
    by : str
        Id of the person; empty if nobody knows who.
    who : str
        The same as the logbook writes it.
    at, latest : datetime
        The earliest and the latest it can have been.
    list : str
        The acceptance list.
    accepted : bool
        As it counts today.
    alone : bool
        One person alone turned it from not accepted to accepted.
    refused_points : tuple of str
        Points of the list that were answered with no.
    """

    by: str
    who: str
    at: datetime
    latest: datetime
    list: str
    accepted: bool
    alone: bool = False
    refused_points: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LotTold:
    """A lot or a can, as named at a joint.

    Parameters
    ----------
    kind : str
        ``"cement"``, ``"primer"`` or ``"cleaner"``; empty for a can, which says itself what it holds.
    lot : str
        Empty where a can is named.
    can : str
        Empty where only a lot is named.
    """

    kind: str = ""
    lot: str = ""
    can: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanRecord:
    """A can, as its entries tell it.

    Parameters
    ----------
    can : str
    lots, holds, cards : tuple of str
        All that was told, one each where all is clear; empty if it was never received.
    expires : tuple of date or None
        As printed; None among them if nobody said.
    opened : datetime or None
        The earliest it can have been opened.
    thrown : tuple of datetime
        The earliest and the latest it can have been thrown away; empty if it was not.
    unclear : tuple of str
        Why its record does not hold, as codes of the logbook.
    """

    can: str
    lots: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    cards: tuple[str, ...] = ()
    expires: tuple[date | None, ...] = ()
    opened: datetime | None = None
    thrown: tuple[datetime, ...] = ()
    unclear: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """One joint as it was made, by its record.

    Parameters
    ----------
    joint : str
    earliest, latest : datetime
        Between which it was made; one moment where it was told in time or two people stand by it.
    pipe_end, socket : tuple of str
        Ids of those who did the pipe end and the socket; ``""`` for somebody not named.
    hands : frozenset of str
        Everybody who had a hand in it, as the logbook writes them.
    pulled, called_time, helped : tuple of str
        Ids.
    cards : tuple of str
        Cement card; ``""`` if not said.
    seal : str
        Seal of that card when the joint was made; empty if none was sealed.
    lots : tuple of LotTold
        Every lot and can that was named.
    lots_alone : bool
        One person alone added or changed them afterwards.
    issue : int or None
        Of the drawing it was made to. [-]
    insertions : tuple of Inserted
    dry_fits : tuple of float
        How deep the dry pipe went. [m]
    first_on : tuple of str
        ``"ring"``, ``"nut"``: what was on the pipe before it was made.
    joint_temperature, air_temperature : float or None
        The colder one, where it was changed by one person alone. [K]
    temperatures : tuple of float
        Of the joint, all that one person alone said. [K]
    humidity, wind : float or None
        The higher one. [-], [m/s]
    held : float or None
        The least it can have been held; None if the end of the hold is not recorded. [s]
    held_from_home : bool
        Whether the moment it went home was told, so that ``held`` is no more and no less.
    looks : tuple of Look
        In order.
    last_touched : datetime
        The latest of all that happened to it.
    failed : datetime or None
        The earliest it was rejected or not accepted; None if it never was.
    late : bool
        It was told after it was done.
    insisted : tuple of str
        What looked wrong and was kept, in words.
    corrected : tuple of str
        Fields that were corrected, such as ``"joint_made: humidity"``.
    alone : tuple of str
        Those that one person alone corrected.
    out_of_order : tuple of str
        Steps whose order or times run backwards, in words.
    wet_out_of_order : tuple of str
        Those of them that lie between the primer and home.
    """

    joint: str
    earliest: datetime
    latest: datetime
    last_touched: datetime
    pipe_end: tuple[str, ...] = ("",)
    socket: tuple[str, ...] = ("",)
    hands: frozenset[str] = frozenset()
    pulled: tuple[str, ...] = ()
    called_time: tuple[str, ...] = ()
    helped: tuple[str, ...] = ()
    cards: tuple[str, ...] = ("",)
    seal: str = ""
    lots: tuple[LotTold, ...] = ()
    lots_alone: bool = False
    issue: int | None = None
    insertions: tuple[Inserted, ...] = ()
    dry_fits: tuple[float, ...] = ()
    first_on: tuple[str, ...] = ()
    joint_temperature: float | None = None
    air_temperature: float | None = None
    temperatures: tuple[float, ...] = ()
    humidity: float | None = None
    wind: float | None = None
    held: float | None = None
    held_from_home: bool = False
    looks: tuple[Look, ...] = ()
    failed: datetime | None = None
    late: bool = False
    insisted: tuple[str, ...] = ()
    corrected: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    out_of_order: tuple[str, ...] = ()
    wet_out_of_order: tuple[str, ...] = ()
