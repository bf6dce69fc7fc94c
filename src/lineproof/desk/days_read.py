"""From a job folder to the answer of ``lineproof days``: values of the plan in the site's own time."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from lineproof.desk.answer_days import (
    DayHeld,
    DayJoint,
    DayLeftOut,
    DayLimit,
    DayNone,
    DaysAnswer,
    DayTest,
    DayTried,
    DayUndated,
)
from lineproof.desk.site_known import SiteKnown
from lineproof.job.files import read_bytes
from lineproof.job.weather import FILE as WEATHER
from lineproof.job.weather import WeatherRow, read_weather
from lineproof.plan.days.blocks import binds, chain
from lineproof.plan.days.differences import Stands, differences
from lineproof.plan.days.from_job import DAY_SLOTS, LONGEST, Change, Outlook, outlook_of
from lineproof.plan.days.lay_out import NoDays, lay_out
from lineproof.plan.days.model import Days
from lineproof.plan.days.search import Limits
from lineproof.plan.days.tighten import idle_people

KEPT = "days.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked of the days.

    Parameters
    ----------
    first_day : date or None
    seconds : float
        Limit of the search by the clock, for each plan. [s]
    seed : int
    workers : int
    tried : Change or None
    tried_as : str
        As it was typed.
    """

    first_day: date | None = None
    seconds: float = 20.0
    seed: int = 0
    workers: int = 1
    tried: Change | None = None
    tried_as: str = ""


@dataclass(frozen=True, slots=True)
class Laid:
    """An outlook with its plan, for strips and drawings."""

    outlook: Outlook
    days: Days | NoDays
    weather: tuple[WeatherRow, ...] = ()


def days_of(site: SiteKnown, asked: Asked) -> tuple[DaysAnswer, Laid]:
    """Lay a job out over the days.

    Parameters
    ----------
    site : SiteKnown
    asked : Asked

    Returns
    -------
    DaysAnswer and Laid
    """
    zone = site.job.zone
    held = read_bytes(site.folder / WEATHER, WEATHER, needed=False)
    weather = read_weather(held, zone) if held is not None else ()
    limits = Limits(seconds=asked.seconds, share=asked.seconds, workers=asked.workers)

    def laid(change: Change | None) -> Laid:
        span: int | None = None
        while True:
            outlook = outlook_of(
                site.work, progress=site.progress, weather=weather, first_day=asked.first_day,
                change=change, days=span,
            )  # fmt: skip
            found = lay_out(outlook.ahead, seed=asked.seed, limits=limits)
            looked = outlook.ahead.horizon // DAY_SLOTS
            if not isinstance(found, NoDays) or found.why == "no hours" or looked >= LONGEST:
                return Laid(outlook, found, weather)
            span = min(LONGEST, 2 * looked)  # it may only have looked too short a way ahead

    plan = laid(None)
    answer = _answer(site, plan, zone)
    stands = _stands(answer)
    tests = frozenset(t.section for t in answer.tests)
    before = _kept(site.folder)
    done = frozenset(plan.outlook.ahead.past)
    since = differences(before, stands, tests=tests, done=done) if before and answer.none is None else ()
    tried = None
    if asked.tried is not None:
        other = laid(asked.tried)
        told = _answer(site, other, zone)
        tried = DayTried(
            what=asked.tried_as, finish=told.finish, bound=told.bound, none=told.none,
            differences=()
            if answer.none or told.none
            else differences(stands, _stands(told), tests=tests, done=done),
        )  # fmt: skip
    return replace(answer, since_last=since, tried=tried), plan


def _answer(site: SiteKnown, laid: Laid, zone: ZoneInfo) -> DaysAnswer:
    outlook, days = laid.outlook, laid.days
    ahead = outlook.ahead

    def at(slot: int) -> datetime:
        return ahead.at(slot).astimezone(zone)

    job = site.job.settings.job
    tasks = {t.id: t for t in ahead.tasks}
    joints: list[DayJoint] = []
    tests: tuple[DayTest, ...] = ()
    none = None
    if isinstance(days, NoDays):
        first = tasks.get(days.ids[0]) if days.ids else None
        limits = binds(ahead, first, outlook.layers) if first is not None else ()
        none = DayNone(
            why=days.why, ids=days.ids,
            limits=tuple(DayLimit(limit=b.limit, first=at(b.first)) for b in limits),
            until=at(ahead.horizon),
        )  # fmt: skip
    else:
        for p in days.joints:
            t = tasks[p.id]
            off = ahead.waits[t.hands_off].after(p.end) or 0
            cured = ahead.waits[t.cured].after(p.end)
            joints.append(
                DayJoint(
                    id=p.id, line=t.place, size=t.group, first=at(p.first), end=at(p.end), who=p.holds,
                    hands_off_until=at(p.end + off), bench=t.bench,
                    cured=None if t.cured == "untold" or cured is None else at(p.end + cured),
                )
            )  # fmt: skip
        tests = tuple(
            DayTest(section=p.id, first=at(p.first), end=at(p.end), pump=", ".join(p.holds))
            for p in days.tests
        )
    planned = isinstance(days, Days) and bool(days.joints or days.tests)
    return DaysAnswer(
        job=job.name,
        invented=job.invented,
        finish=at(days.finish) if isinstance(days, Days) and planned else None,
        bound=at(days.bound) if isinstance(days, Days) and planned else None,
        gap=days.gap if isinstance(days, Days) and planned else None,
        how=days.how if isinstance(days, Days) else "",
        idle_person_s=idle_people(ahead, days) if isinstance(days, Days) else 0.0,
        order_by=outlook.order.by,
        joints=tuple(joints),
        tests=tests,
        left_out=tuple(DayLeftOut(id=x.id, why=x.why, about=x.about) for x in outlook.left_out),
        undated=tuple(DayUndated(section=s, joints=j) for s, j in outlook.no_cure.items()),
        no_testing=outlook.no_testing,
        told_until=at(outlook.told_until) if outlook.told_until else None,
        holds=tuple(
            DayHeld(id=h.id, first=at(h.first), by=h.by, other=h.other)
            for h in (chain(ahead, days) if isinstance(days, Days) else ())
        ),
        none=none,
    )


def _stands(answer: DaysAnswer) -> dict[str, Stands]:
    return {j.id: Stands(j.first, j.end, ", ".join(j.who)) for j in answer.joints} | {
        t.section: Stands(t.first, t.end) for t in answer.tests
    }


def kept_text(answer: DaysAnswer) -> str:
    """The plan as it is kept in out/, to say next time what moved."""
    rows = {
        name: [s.first.isoformat(), s.end.isoformat(), s.who] for name, s in sorted(_stands(answer).items())
    }
    return json.dumps({"days": rows}, indent=1, sort_keys=True) + "\n"


def _kept(folder: Path) -> dict[str, Stands]:
    """The plan that was written last; nothing where it is not there: out/ may be deleted."""
    found = read_bytes(folder / "out" / KEPT, KEPT, needed=False)
    if found is None:
        return {}
    try:
        rows = json.loads(found)["days"]
        return {
            str(name): Stands(datetime.fromisoformat(a), datetime.fromisoformat(b), str(who))
            for name, (a, b, who) in rows.items()
        }
    except (ValueError, KeyError, TypeError, AttributeError):
        return {}
