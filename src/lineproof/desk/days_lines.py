"""The answer of the days as lines: the answer first, then why, then a strip for each day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from lineproof.desk.answer_days import DayNone, DaysAnswer
from lineproof.desk.days_sentences import said
from lineproof.desk.words_when import day_and_hour
from lineproof.job.weather import WeatherRow
from lineproof.plan.days.differences import Difference
from lineproof.plan.days.model import Calendar

MOST = 12
"""Lines of a list before it is cut. [-]"""
HALF = timedelta(minutes=30)


def answer_lines(answer: DaysAnswer, language: str) -> list[str]:
    """The answer in words.

    Parameters
    ----------
    answer : DaysAnswer
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    list of str
    """

    def when(moment: datetime) -> str:
        return day_and_hour(moment, language, year=True)

    rows: list[str] = [answer.job + (" (invented data)" if answer.invented else "")]
    if answer.none is not None:
        rows += none_lines(answer.none, language)
    elif answer.finish is None or answer.bound is None or answer.gap is None:
        rows.append(said("nothing", language))
    else:
        rows.append(said("finish" if answer.tests else "finish cure", language, finish=when(answer.finish)))
        if answer.gap == 0:
            rows.append("  " + said("proved", language))
        else:
            rows.append("  " + said("gap", language, bound=when(answer.bound), gap=f"{answer.gap:.1%}"))
            rows.append("  " + said(answer.how, language))
        rows.append("  " + said("idle", language, hours=f"{answer.idle_person_s / 3600:.1f}"))
        rows += [f"  {t.section}: {when(t.first)} - {t.end:%H:%M}" for t in answer.tests]
    if answer.no_testing:
        rows.append(said("no testing", language))
    rows += [said("undated", language, section=u.section, joints=_some(u.joints)) for u in answer.undated]
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = defaultdict(list)
    for left in answer.left_out:
        groups[left.why, left.about].append(left.id)
    for (why, about), ids in groups.items():
        told = said(why, language, *(about or ("?",)), "?")
        rows.append(said("left", language, joints=_some(ids), why=told))
    if answer.told_until is not None:
        rows.append(said("told", language, until=when(answer.told_until)))
    else:
        rows.append(said("no weather", language))
    if answer.order_by == "walked":
        rows.append(said("walked", language))
    if answer.holds:
        rows.append(said("blocks", language))
        for h in answer.holds[:MOST]:
            told = said(h.by, language, id=h.id, when=day_and_hour(h.first, language), other=h.other)
            rows.append("  " + told)
        if len(answer.holds) > MOST:
            rows.append("  " + said("more", language, n=len(answer.holds) - MOST))
    if answer.since_last:
        rows.append(said("since", language))
        rows += difference_lines(answer.since_last, language)
    rows += tried_lines(answer, language)
    rows.append(said("caution", language))
    return rows


def _some(ids: Sequence[str]) -> str:
    return ", ".join(ids[:6]) + (f" ... ({len(ids)})" if len(ids) > 6 else "")


def none_lines(none: DayNone, language: str) -> list[str]:
    """Why there is no plan: the limits that bind, and the nearest change that works."""
    until = day_and_hour(none.until, language, year=True)
    rows = [said(none.why, language, ids=_some(none.ids), until=until)]
    if none.why == "no hours":
        rows += [
            "  "
            + said("limit", language, limit=said(b.limit, language), first=day_and_hour(b.first, language))
            for b in none.limits
        ] or ["  " + said("no limit", language)]
    return rows


def difference_lines(found: Sequence[Difference], language: str) -> list[str]:
    """Differences of two plans, the first of them in full."""

    def when(moment: datetime | None) -> str:
        return "" if moment is None else day_and_hour(moment, language)

    rows = [
        "  " + said(f"d {d.kind}", language, id=d.id, before=when(d.before), after=when(d.after), who=d.who)
        for d in found[:MOST]
    ]
    if len(found) > MOST:
        rows.append("  " + said("more", language, n=len(found) - MOST))
    return rows


def tried_lines(answer: DaysAnswer, language: str) -> list[str]:
    """What a change does to the dates."""
    tried = answer.tried
    if tried is None:
        return []
    if tried.none is not None or tried.finish is None or tried.bound is None:
        return [f"{tried.what}:", *(none_lines(tried.none, language) if tried.none else [])]
    if answer.finish is None:
        step = said("same", language)
    else:
        days = (tried.finish - answer.finish).total_seconds() / 86400
        code = "same" if not days else "later" if days > 0 else "earlier"
        step = said(code, language, n=abs(days))
    finish, bound = (day_and_hour(m, language, year=True) for m in (tried.finish, tried.bound))
    rows = [said("tried", language, what=tried.what, finish=finish, days=step, bound=bound)]
    return rows + difference_lines(tried.differences, language)


def strips(
    answer: DaysAnswer,
    calendars: dict[str, Calendar],
    begin: datetime,
    weather: Sequence[WeatherRow],
    zone: ZoneInfo,
    language: str,
) -> list[str]:
    """A strip for each day on which anything is done: half an hour a letter, a row for each crew.

    Parameters
    ----------
    answer : DaysAnswer
    calendars : dict of str to Calendar
        Of the plan.
    begin : datetime
        Instant of slot 0.
    weather : sequence of WeatherRow
    zone : ZoneInfo
        Of the site.
    language : str

    Returns
    -------
    list of str
    """
    by_day: dict[date, list[tuple[str, datetime, datetime, str]]] = defaultdict(list)
    for j in answer.joints:
        by_day[j.first.date()] += [(who, j.first, j.end, "#") for who in j.who]
    for t in answer.tests:
        by_day[t.first.date()].append((t.pump or "test", t.first, t.end, "T"))
    rows: list[str] = []
    for day in sorted(by_day):
        midnight = datetime.combine(day, time(), tzinfo=zone)
        mine = by_day[day]
        ids = [j.id for j in answer.joints if j.first.date() == day]
        ids += [t.section for t in answer.tests if t.first.date() == day]
        count = sum(j.first.date() == day for j in answer.joints)
        head = day_and_hour(midnight, language)[:-6]
        joints = f"{said('joints', language, n=count)}  " if count else ""
        rows.append(f"{head}  {joints}{_some(ids)}".rstrip())
        rows.append(" " * 12 + "".join(f"{h:02d}  " for h in range(24)))
        for who in sorted({w for w, *_ in mine}):
            marks = []
            for n in range(48):
                at = midnight + n * HALF
                hit = next((m for w, a, b, m in mine if w == who and a < at + HALF and at < b), None)
                slot = int((at - begin).total_seconds() // 300)
                open_ = any(
                    c.holds(slot, slot + 1)
                    for name, c in calendars.items()
                    if who in name.split(", ")[0].split(" + ") or (name == "tests" and who.startswith("pump"))
                )
                marks.append(hit or ("." if open_ else " "))
            rows.append(f"{who[:11]:<12}" + "".join(marks).rstrip())
        wet = "".join(
            "r"
            if any(
                r.rain and r.first < midnight + (n + 1) * HALF and midnight + n * HALF < r.last
                for r in weather
            )
            else " "
            for n in range(48)
        ).rstrip()
        if wet:
            rows.append(" " * 12 + wet)
    return [*rows, said("strip", language)] if rows else []
