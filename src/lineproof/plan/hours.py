"""Hours: how each hour of the coming days stands for a joint of a line, what binds it, and how many hands."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.hour import HourAt, Tent
from lineproof.checks.registry import ask
from lineproof.floor.errors import BadInput
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.card_rows import HANDLING
from lineproof.job.cards import CementCard
from lineproof.job.people import within
from lineproof.job.settings import Settings
from lineproof.job.weather import WeatherRow
from lineproof.plan.hours_air import OPEN, TENT, Cover, Hourly, calm_wind, hourly, pipe_in, under_cover
from lineproof.plan.hours_wants import wants_of, working_each_hour
from lineproof.plan.joint_model import JointPlan
from lineproof.sums.hours import HOUR, LIMITS, Floats, Judged, PipeAt, judge


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What was read at the pipe.

    Parameters
    ----------
    pipe : float or None
        Pipe temperature. [K]
    at : datetime
        When.
    hand_dry : bool
        A dry hand was run over it and stayed dry.
    """

    pipe: float | None
    at: datetime
    hand_dry: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class HourRow:
    """One hour.

    Parameters
    ----------
    begins : datetime
        In the site's zone.
    verdict : Verdict
    binds : str
        Limit that binds, a row of ``sums.hours.LIMITS``; empty if none.
    measured, limit : float or None
        [SI]
    seen : bool
        False for a forecast and for an hour without a row.
    air, pipe, pipe_coldest, dew_point, film : float or None
        [K]
    dry_for : float or None
        Until rain or the end of the weather. [s]
    hands : int or None
        That brush.
    finding : Finding
    """

    begins: datetime
    verdict: Verdict
    binds: str
    measured: float | None
    limit: float | None
    seen: bool
    air: float | None
    pipe: float | None
    pipe_coldest: float | None
    dew_point: float | None
    film: float | None
    dry_for: float | None
    hands: int | None
    finding: Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeHands:
    """Hands for joints of one size in the hours that are not refused.

    Parameters
    ----------
    size : Size
    joints : int
    least, most : int or None
        Fewest and most hands that brush, crew rule included; None where it cannot be told.
    """

    size: Size
    joints: int
    least: int | None
    most: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """The hours of some days for one joint of a line.

    Parameters
    ----------
    line : str
    size : Size
        The largest of the line, unless asked for another.
    card : str
        Id of the cement card; empty if none is named.
    cover : Cover
    now : datetime
    days : tuple of tuple of HourRow
        One a day, 23 or 25 hours where the clocks change.
    asked : HourRow or None
        The hour of the moment judged.
    tent : Finding or None
    hands : tuple of SizeHands
    dry_wanted : float or None
        Joint and set at the hour judged. [s]
    """

    line: str
    size: Size
    card: str
    cover: Cover
    now: datetime
    days: tuple[tuple[HourRow, ...], ...]
    asked: HourRow | None
    tent: Finding | None
    hands: tuple[SizeHands, ...]
    dry_wanted: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TentKept:
    """How a tent is kept, as the one who asks says; None where nobody said."""

    heater_out: bool | None = None
    heat_on_joint: bool | None = None


def hours_of(
    settings: Settings,
    joints: tuple[JointPlan, ...],
    rows: tuple[WeatherRow, ...],
    book: Book,
    *,
    now: datetime,
    zone: ZoneInfo,
    days: int = 3,
    line: str = "",
    cover: Cover = Cover(),  # noqa: B008 - frozen
    read: Read | None = None,
    kept: TentKept = TentKept(),
) -> Hours:
    """How the hours of the coming days stand.

    Parameters
    ----------
    settings : Settings
    joints : tuple of JointPlan
    rows : tuple of WeatherRow
    book : Book
    now : datetime
        The moment judged.
    zone : ZoneInfo
        Of the site.
    days : int
        How many, the day judged first. [-]
    line : str
        Empty for the line with the largest joint.
    cover : Cover
    read : Read or None
        What was read at the pipe.
    kept : TentKept

    Returns
    -------
    Hours

    Raises
    ------
    BadInput
        There is no joint on such a line.
    """
    these = tuple(j for j in joints if line in ("", j.place.line))
    if not these:
        named = ", ".join(sorted({j.place.line for j in joints})[:8])
        raise BadInput(f"there is no joint on a line {line}", allowed=named or "a line with joints")
    largest = max(these, key=lambda j: (_width(j.place.size), j.place.line))
    these = tuple(j for j in these if j.place.line == largest.place.line)
    card = settings.card(largest.card) if largest.card else None
    log = Reading()
    outside = hourly(rows)
    hours = under_cover(outside, cover, calm=calm_wind(book, log))
    pipe = pipe_in(hours, cover, settings.site, book, log)
    now_at = _place(outside, now)
    if read is not None and read.pipe is not None and now_at is not None:
        pipe.mean[now_at] = pipe.coldest[now_at] = read.pipe
    people = min((len(c.people) for c in settings.crews_for(largest.place.line)), default=0)
    wants = wants_of(largest, card, hours, pipe, book, log, people=people, sheltered=cover.kind == TENT)
    judged = judge(hours.air, pipe, wants)
    tell = _Teller(settings.job.id, largest, hours, pipe, judged, book, now, zone, read, cover, settings)
    shown = tuple(tell.day(now.astimezone(zone).date() + timedelta(days=k)) for k in range(days))
    asked = None if now_at is None else tell.row(now_at)
    ahead = tent = None
    if cover.kind == TENT:
        if now_at is not None and math.isfinite(wants.dry[now_at]):
            ahead = outside.air.temperature[now_at : now_at + 1 + math.ceil(wants.dry[now_at] / HOUR)]
        tent = ask("TNT-01", _tent(largest, card, cover, kept, ahead), book)
    return Hours(
        line=largest.place.line, size=largest.place.size, card=card.id if card else "", cover=cover, now=now,
        days=shown, asked=asked, tent=tent, hands=_hands(these, card, hours, pipe, judged, book, log),
        dry_wanted=None if now_at is None else _number(wants.dry[now_at]),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class _Teller:
    """Hours as they are told, each by its check."""

    job: str
    joint: JointPlan
    hours: Hourly
    pipe: PipeAt
    judged: Judged
    book: Book
    now: datetime
    zone: ZoneInfo
    read: Read | None
    cover: Cover
    settings: Settings

    def day(self, day: date) -> tuple[HourRow, ...]:
        """Every hour of a day; an hour without weather is told as one."""
        start = datetime(day.year, day.month, day.day, tzinfo=self.zone).timestamp()
        after = day + timedelta(days=1)
        end = datetime(after.year, after.month, after.day, tzinfo=self.zone).timestamp()
        return tuple(self._at(start + HOUR * k) for k in range(round((end - start) / HOUR)))

    def _at(self, instant: float) -> HourRow:
        moment = datetime.fromtimestamp(instant, self.zone)
        place = _place(self.hours, moment)
        return self._without(moment) if place is None else self.row(place)

    def _without(self, begins: datetime) -> HourRow:
        found = ask("HRS-01", self._facts(begins, False, 2, "hole", None, None, ("weather",)), self.book)
        return HourRow(
            begins=begins, verdict=found.verdict, binds="hole", measured=None, limit=None, seen=False,
            air=None, pipe=None, pipe_coldest=None, dew_point=None, film=None, dry_for=None, hands=None,
            finding=found,
        )  # fmt: skip

    def row(self, k: int) -> HourRow:
        """One hour of the grid."""
        j, air, pipe = self.judged, self.hours.air, self.pipe
        begins = datetime.fromtimestamp(float(air.at[k]), self.zone)
        binds = LIMITS[int(j.binds[k])]
        met, held = _number(j.measured[k]), _number(j.limit[k])
        if binds == "hands" and met is not None:
            met, held = int(met), int(held or 0)
        seen = bool(self.hours.seen[k])
        facts = self._facts(begins, seen, int(j.stands[k]), binds, met, held, self._lacking(k, binds))
        found = ask("HRS-01", facts, self.book)
        hands = _number(j.hands[k])
        return HourRow(
            begins=begins, verdict=found.verdict, binds=binds, measured=met if binds else None,
            limit=held if binds else None, seen=seen, air=_number(air.temperature[k]),
            pipe=_number(pipe.mean[k]), pipe_coldest=_number(pipe.coldest[k]),
            dew_point=_number(pipe.dew[k]), film=_number(pipe.film[k]), dry_for=_number(j.dry[k]), hands=None
            if hands is None else int(hands), finding=found,
        )  # fmt: skip

    def _facts(
        self, begins: datetime, seen: bool, stands: int, binds: str, met: float | None, held: float | None,
        lacking: tuple[str, ...],
    ) -> HourAt:  # fmt: skip
        read = self.read
        here = read if read and begins <= self.now < begins + timedelta(seconds=HOUR) else None
        return HourAt(
            subject=self.joint.place.line, line=self.joint.place.line, begins=begins, seen=seen,
            stands=stands, binds=binds, met=met, held=held, lacking=lacking, now=self.now,
            pipe_read=here.at if here and here.pipe is not None else None,
            hand_dry=here.at if here and here.hand_dry else None,
        )  # fmt: skip

    def _lacking(self, k: int, binds: str) -> tuple[str, ...]:
        if binds != "hole":
            return ()
        if not self.hours.told[k]:
            return ("weather",)
        air, site = self.hours.air, self.settings.site
        told = (
            ("humidity", air.humidity), ("wind", air.wind), ("rain", air.rain),
            ("air temperature", air.temperature),
        )  # fmt: skip
        gone = [name for name, values in told if not math.isfinite(values[k])]
        if self.cover.kind == OPEN and (site.latitude is None or site.longitude is None):
            gone.append("latitude and longitude of the site")
        return tuple(gone)


def _hands(
    joints: tuple[JointPlan, ...],
    card: CementCard | None,
    hours: Hourly,
    pipe: PipeAt,
    judged: Judged,
    book: Book,
    log: Reading,
) -> tuple[SizeHands, ...]:
    found = []
    open_hours = np.flatnonzero(judged.stands < 2)
    for size in sorted({j.place.size for j in joints}, key=_width):
        alike = [j for j in joints if j.place.size == size]
        worst = max(alike, key=lambda j: j.needs.hands.coating_time or 0.0)
        needs = worst.needs.hands
        working = working_each_hour(card, worst.needs.wet.film, hours, pipe, calm_wind(book, log))[open_hours]
        working = working[np.isfinite(working)]
        least = most = None
        if working.size and needs.coating_time is not None and needs.floor is not None:
            floor = max(needs.floor, needs.by_brushes or 1)
            least, most = (
                max(floor, math.ceil(needs.coating_time / float(w) - 1e-9))
                for w in (working.max(), working.min())
            )
        found.append(SizeHands(size=size, joints=len(alike), least=least, most=most))
    return tuple(found)


def _tent(
    joint: JointPlan, card: CementCard | None, cover: Cover, kept: TentKept, ahead: Floats | None
) -> Tent:
    printed = card.rows if card else ()
    rows = [r for r in printed if r.kind == HANDLING and within(joint.place.size, r.size_lo, r.size_hi)]
    lows, highs = [r.temp_lo for r in rows], [r.temp_hi for r in rows]
    known = ahead is not None and len(ahead) and bool(np.isfinite(ahead).all())
    return Tent(
        subject=joint.place.line, line=joint.place.line, air=cover.air,
        card_low=None if None in lows else min((t for t in lows if t is not None), default=None),
        card_high=None if None in highs else max((t for t in highs if t is not None), default=None),
        heat_on_joint=kept.heat_on_joint, heater_out=kept.heater_out,
        after=float(ahead.min()) if known and ahead is not None else None,
    )  # fmt: skip


def _width(size: Size) -> float:
    return size.nominal if size.metric else size.nominal * 25.4


def _place(hours: Hourly, moment: datetime) -> int | None:
    if not len(hours.air.at):
        return None
    place = math.floor((moment.timestamp() - float(hours.air.at[0])) / HOUR)
    return place if 0 <= place < len(hours.air.at) else None


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
