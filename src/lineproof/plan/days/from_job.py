"""The work ahead of a job folder: its joints in order, who may make them in which hours, waits, tests.

What cannot be told leaves a joint out, and with it whatever waits for it; each is named with what is missing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta

from lineproof.checks.qualified import Need
from lineproof.floor.errors import BadInput
from lineproof.job.card_rows import CURE, HANDLING
from lineproof.job.clock_card import card_waits
from lineproof.job.duty import matches
from lineproof.job.people import Crew
from lineproof.job.progress import Progress
from lineproof.job.shifts import Shift
from lineproof.job.weather import WeatherRow
from lineproof.plan.days.hours import PER_HOUR, Colder, Hour, hours_of, wait_by
from lineproof.plan.days.model import SLOT, Ahead, Calendar, Past, Task, Trial, Wait, Way
from lineproof.plan.days.order_of import Order, order_of
from lineproof.plan.days.slots import mask_of, stretches_of
from lineproof.plan.days.team import LIKE, Papers, Team, shared_people, teams_for
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.joints import joint_plans
from lineproof.plan.rough_days import labour_of
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

DAY_SLOTS = 288
LONGEST = 200
"""No plan looks further ahead than so many days (own rule). [-]"""
SHIFT, PAPERS, CEMENT, LOST = LIMITS = ("shift", "qualification", "cement", "lost day")
"""What a calendar is made of; weather and card rows stand in the waits."""
NO_CREW, NO_HANDS, NO_LABOUR, NO_CARD_WAIT, BEHIND = (
    "no crew", "hands not told", "no labour figure", "no hands-off time", "waits for one that is left out",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What is tried: more crews, a tent, colder days, lost days.

    Parameters
    ----------
    crews : int
        So many more crews, each like the first. [-]
    tent : tuple of str
        Lines or patterns under a tent: no rain; no heat is counted.
    dT_K : float
        So much colder. [K]
    since, until : date or None
        From which day to which it is colder, both included; all along unless said.
    lost : tuple of date
        Days on which nothing is joined.
    """

    crews: int = 0
    tent: tuple[str, ...] = ()
    dT_K: float = 0.0
    since: date | None = None
    until: date | None = None
    lost: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A joint that is not planned, why, and what it waits for or what is missing."""

    id: str
    why: str
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """The work ahead, and what could not be told of it.

    Parameters
    ----------
    ahead : Ahead
    joints : mapping
        Name to plan of every joint.
    order : Order
    left_out : tuple of LeftOut
    no_cure : mapping
        Section that has no date because these joints have no cure time.
    no_testing : bool
        job.toml does not say what tests need.
    layers : mapping
        Calendar to what it is made of, each as a set of slots.
    told_until : int
        weather.csv speaks of the hours before this slot; 0 where it says nothing. [-]
    """

    ahead: Ahead
    joints: Mapping[str, JointPlan]
    order: Order
    left_out: tuple[LeftOut, ...] = ()
    no_cure: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    no_testing: bool = False
    layers: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    told_until: int = 0


def outlook_of(
    work: Work,
    *,
    progress: Progress | None = None,
    weather: Sequence[WeatherRow] = (),
    first_day: date | None = None,
    change: Change | None = None,
    days: int | None = None,
) -> Outlook:
    """The work ahead of a job.

    Parameters
    ----------
    work : Work
    progress : Progress, optional
        What is done; nothing is planned before its moment if that is later than the first day.
    weather : sequence of WeatherRow
        Of weather.csv.
    first_day : date, optional
        Planned first day; that of job.toml unless said.
    change : Change, optional
        What is tried.
    days : int, optional
        How far to look ahead; by the labour unless said. [-]

    Returns
    -------
    Outlook

    Raises
    ------
    BadInput
        Without shift hours, crews or a first day.
    """
    return _Reader(work, progress, weather, first_day, change or Change(), days).read()


class _Reader:
    def __init__(
        self, work: Work, progress: Progress | None, weather: Sequence[WeatherRow], first_day: date | None,
        change: Change, days: int | None,
    ) -> None:  # fmt: skip
        self.work, self.progress, self.change = work, progress, change
        self.settings = settings = work.job.settings
        self.zone = work.job.zone
        self.weather = weather
        start = first_day or settings.conditions.start
        if start is None:
            raise BadInput(
                "job.toml does not say on which day joining begins",
                allowed="a date", next="write start = 2027-05-03 under [conditions], or give --from",
            )  # fmt: skip
        if not settings.crews:
            raise BadInput("job.toml names no crew", next="write one under [[crews]]")
        self.crews = (*settings.crews, *(_more(settings.crews[0], n) for n in range(change.crews)))
        for c in self.crews:
            if (c.shift or settings.shift) is None:
                raise BadInput(
                    f"job.toml does not say in which hours {c.id} works",
                    allowed="a shift for the job, or one for the crew",
                    next='write [shift] with begins = "07:00", ends = "17:00", weekdays = "mon-fri"',
                )
        today = None if progress is None else progress.now.astimezone(self.zone).date()
        if today is not None and first_day is not None and first_day < today:
            raise BadInput(
                f"the first day, {first_day.isoformat()}, is over on {today.isoformat()}",
                allowed="that day or a later one", next="give a later day with --from, or ask with --when",
            )  # fmt: skip
        start = max(start, today or start)
        self.first = start
        self.begin = datetime.combine(start, time(), tzinfo=self.zone)
        self.joints: dict[str, JointPlan] = {}
        plans = joint_plans(work.graph, work.cutting, settings, work.book, catalogue=work.job.parts)
        for n, (place, plan) in enumerate(zip(work.cutting.joints, plans, strict=True)):
            self.joints[joint_name(place, n)] = plan
        self.papers = Papers(work, progress)
        self.shared = shared_people(self.crews)
        self.days = days or self._span()
        self.horizon = self._slot(datetime.combine(start + timedelta(days=self.days), time(), self.zone))
        self.hours = {roof: self._hours(roof) for roof in (False, True)}
        self.calendars: dict[str, int] = {}
        self.layers: dict[str, dict[str, int]] = {}
        self.waits: dict[str, Wait] = {}
        self.left: dict[str, LeftOut] = {}

    # ------------------------------------------------------------ time
    def _slot(self, moment: datetime, *, up: bool = False) -> int:
        seconds = (moment - self.begin).total_seconds()
        return int(-(-seconds // SLOT)) if up else int(seconds // SLOT)

    def _span(self) -> int:
        """Days to look ahead: three times the labour, and a month for waits."""
        labour = sum(labour_of(self.work.book, j.place.size) or 0.0 for j in self.joints.values())
        people = len({p for c in self.settings.crews for p in c.people}) or 1
        return min(LONGEST, 30 + int(3 * labour / people / (8 * 3600)))

    def _hours(self, roof: bool) -> tuple[Hour, ...]:
        rows = () if roof else self.weather
        last = max((self._slot(r.last, up=True) for r in rows), default=0)
        count = max(min(last, self.horizon) // PER_HOUR, 0) + 1
        colder = self._colder()
        if colder and colder[0].until > self.begin:
            until = min(self._slot(colder[0].until, up=True), self.horizon)
            count = max(count, until // PER_HOUR + 1)
        return hours_of(self.settings.conditions, rows, self.begin, count, colder=colder)

    def _colder(self) -> tuple[Colder, ...]:
        c = self.change
        if not c.dT_K:
            return ()
        since = datetime.combine(c.since or self.first, time(), self.zone)
        last = c.until or self.first + timedelta(days=self.days)
        return (Colder(c.dT_K, since, datetime.combine(last + timedelta(days=1), time(), self.zone)),)

    def _roof(self, line: str) -> bool:
        duty = self.settings.duty(line)
        return bool(duty and duty.roof)

    def _shift(self, shift: Shift) -> int:
        spans = [shift.on(self.first + timedelta(days=n), self.zone) for n in range(-1, self.days)]
        return mask_of(
            (self._slot(a, up=True), min(self._slot(b), self.horizon)) for a, b in (s for s in spans if s)
        )

    def _whole_days(self, on: Sequence[bool]) -> int:
        midnights = [
            self._slot(datetime.combine(self.first + timedelta(days=n), time(), self.zone))
            for n in range(len(on) + 1)
        ]
        return mask_of((midnights[n], midnights[n + 1]) for n, yes in enumerate(on) if yes)

    # ------------------------------------------------------------ one joint
    def _calendar(self, team: Team, plan: JointPlan) -> str:
        """The hours in which a team may make joints of this kind."""
        j = plan.place
        name = f"{team.name}, {j.line}, {j.size.text}"
        if name in self.calendars:
            return name
        shift = (1 << self.horizon) - 1
        for c in team.crews:
            own = c.shift or self.settings.shift
            if own is not None:
                shift &= self._shift(own)
        need = Need(
            material=j.material, steps=plan.method, smallest=j.size, largest=j.size, procedure=plan.procedure
        )
        papers = self._whole_days(self.papers.days(team.people, need, self.first, self.days))
        ends = [
            c.expires
            for c in self.settings.cans_for(j.line, "cement")
            if not plan.card or c.card == plan.card
        ]
        last = max((e for e in ends if e is not None), default=None) if None not in ends else None
        days = [self.first + timedelta(days=n) for n in range(self.days)]
        layers = {
            SHIFT: shift,
            PAPERS: papers,
            CEMENT: self._whole_days([last is None or d <= last for d in days]),
            LOST: self._whole_days([d not in self.change.lost for d in days]),
        }
        mask = shift & layers[PAPERS] & layers[CEMENT] & layers[LOST]
        self.calendars[name] = mask
        self.layers[name] = layers
        return name

    def _wait(self, plan: JointPlan, kind: str) -> str | None:
        """Id of a printed wait; None where it cannot be told."""
        card = self.settings.card(plan.card)
        pressure = plan.pressure.pressure if kind == CURE else None
        if card is None or (kind == CURE and pressure is None):
            return None
        roof = self._roof(plan.place.line)
        told = plan.cure if kind == CURE else plan.hands_off
        dry = kind == HANDLING and not roof and not self._tent(plan.place.line)
        name = f"{kind} {card.id} {plan.place.size.text} {told.pressure_max or 0:.0f} {roof:d}{dry:d}"
        if name not in self.waits:
            table = card_waits(card, kind, plan.place.size, pressure_Pa=pressure).waits
            self.waits[name] = wait_by(name, table, self.hours[roof], dry=dry)
        if all(slots < 0 for _, slots in self.waits[name].steps):
            return None
        return name

    def _tent(self, line: str) -> bool:
        return any(matches(p, line) for p in self.change.tent)

    def _task(self, name: str, plan: JointPlan, order: Order) -> Task | LeftOut:
        j = plan.place
        people = plan.needs.hands.hands
        if people is None:
            return LeftOut(name, NO_HANDS, tuple(m.name for m in plan.needs.hands.missing))
        labour = labour_of(self.work.book, j.size)
        if labour is None:
            return LeftOut(name, NO_LABOUR, (j.size.text,))
        crews = [c for c in self.crews if not c.lines or any(matches(p, j.line) for p in c.lines)]
        teams = teams_for(crews, people)
        if not teams:
            return LeftOut(name, NO_CREW, (str(people), ", ".join(c.id for c in crews)))
        hands_off = self._wait(plan, HANDLING)
        if hands_off is None:
            return LeftOut(name, NO_CARD_WAIT, tuple(m.name for m in plan.hands_off.missing) or (plan.card,))
        busy = max(1, int(-(-(labour / people + (plan.hold.time or 0.0)) // SLOT)))
        ways = tuple(
            Way(
                (*(c.id for c in team.crews), *sorted(self.shared & set(team.people))), busy,
                self._calendar(team, plan),
            )
            for team in teams
        )  # fmt: skip
        return Task(
            id=name, ways=ways, hands_off=hands_off, cured=self._wait(plan, CURE) or "untold",
            links=order.links[name], group=j.size.text, place=j.line, bench=name in order.bench,
        )  # fmt: skip

    # ------------------------------------------------------------ all of it
    def _past(self) -> dict[str, Past]:
        found: dict[str, Past] = {}
        for name, plan in self.joints.items():
            p = self.progress.of(name) if self.progress is not None else None
            if p is None or not p.made or p.cut_out or p.rejected or p.assembled is None:
                continue
            moments = [p.assembled, *(d.at for d in p.disturbances)]
            if p.hold_ended is not None:
                moments.append(p.hold_ended)
            end = self._slot(max(moments), up=True)
            off, cured = plan.hands_off.time or 0.0, plan.cure.time or 0.0
            found[name] = Past(
                name, self._slot(p.assembled), end, end + int(-(-off // SLOT)), end + int(-(-cured // SLOT))
            )
        return found

    def read(self) -> Outlook:
        """All of it."""
        order = order_of(self.work, list(self.joints.values()), list(self.joints))
        past = self._past()
        self.waits["untold"] = Wait("untold", ((0, 0),))
        tasks: list[Task] = []
        for name in order.names:
            if name in past:
                continue
            behind = [k.before for k in order.links[name] if k.before in self.left]
            if behind:
                self.left[name] = LeftOut(name, BEHIND, (behind[0],))
                continue
            made = self._task(name, self.joints[name], order)
            if isinstance(made, LeftOut):
                self.left[name] = made
            else:
                tasks.append(made)
        trials, no_cure = self._trials(tasks, past)
        now = 0
        if self.progress is not None:
            now = max(0, self._slot(self.progress.now, up=True))
        ahead = Ahead(
            begin=self.begin,
            horizon=self.horizon,
            calendars={n: Calendar(n, stretches_of(m)) for n, m in self.calendars.items()},
            waits=self.waits,
            tasks=tuple(tasks),
            trials=trials,
            past=past,
            people={c.id: len([p for p in c.people if p not in self.shared]) for c in self.crews}
            | dict.fromkeys(self.shared, 1),
            now=now,
        )
        told = [r.last for r in self.weather]
        return Outlook(
            ahead=ahead, joints=self.joints, order=order, left_out=tuple(self.left.values()), no_cure=no_cure,
            no_testing=self.settings.testing is None, layers=self.layers,
            told_until=max(0, self._slot(max(told))) if told else 0,
        )  # fmt: skip

    def _trials(
        self, tasks: Sequence[Task], past: Mapping[str, Past]
    ) -> tuple[tuple[Trial, ...], dict[str, tuple[str, ...]]]:
        testing, found = self.settings.testing, []
        no_cure: dict[str, tuple[str, ...]] = {}
        planned = {t.id: t for t in tasks}
        shift = self.settings.shift or next(c.shift for c in self.crews if c.shift is not None)
        hours = self._shift(shift)
        if testing is not None and testing.witness is not None:
            hours &= self._shift(testing.witness)
        self.calendars["tests"] = hours
        self.layers["tests"] = {SHIFT: hours}
        for section in self.settings.sections:
            names = tuple(
                n for n, j in self.joints.items() if any(matches(p, j.place.line) for p in section.lines)
            )
            untold = tuple(
                n
                for n in names
                if (n in planned and planned[n].cured == "untold")
                or (n not in planned and n not in past)
                or (n in past and self.joints[n].cure.time is None)
            )
            if untold:
                no_cure[section.id] = untold
            elif names and testing is not None and testing.pumps:
                pumps = tuple(f"pump {n + 1}" for n in range(testing.pumps))
                busy = max(1, int(-(-testing.takes // SLOT)))
                found.append(Trial(id=section.id, joints=names, busy=busy, calendar="tests", holds=pumps))
        return tuple(found), no_cure


def _more(crew: Crew, n: int) -> Crew:
    """One more crew like another, of people like its own who are in no other crew."""
    return replace(crew, id=f"{crew.id}{LIKE}{n + 1}", people=tuple(f"{p}{LIKE}{n + 1}" for p in crew.people))


__all__ = ["DAY_SLOTS", "LONGEST", "Change", "LeftOut", "Outlook", "outlook_of"]
