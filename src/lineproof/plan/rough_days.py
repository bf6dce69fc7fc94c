"""A first spread of the joints over days by labour hours, until days are planned with crews and weather."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from lineproof.book.load import Book
from lineproof.book.rules import joint_hours
from lineproof.book.sizes import Size
from lineproof.floor.errors import OutsideTable
from lineproof.floor.sources import Reading
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.work import Work
from lineproof.sums.labour import joint_work

INCH_MM = 25.4
DAY = 8 * 3600.0
"""Working time of a day (own assumption). [s]"""
PRODUCTIVE = 0.7
"""Share of a day that goes into joints (JOB figures, 70 % productive: judgement, no source). [1]"""


def rough_days(work: Work, joints: Sequence[JointPlan]) -> dict[str, tuple[str, ...]]:
    """Joints in walking order, filled into working days by labour hours and the people there are.

    Parameters
    ----------
    work : Work
    joints : sequence of JointPlan

    Returns
    -------
    dict
        ISO day to joint names in order; empty without a first day, without a crew, or where a size has no
        labour figure. Weekends are left out. Waits, weather and order are not looked at here.
    """
    settings = work.job.settings
    start = settings.conditions.start
    people = len({p for c in settings.crews for p in c.people})
    if start is None or not people:
        return {}
    days: dict[str, tuple[str, ...]] = {}
    day, left = _workday(start), DAY * PRODUCTIVE * people
    todays: list[str] = []
    for j in joints:
        takes = labour_of(work.book, j.place.size)
        if takes is None:
            return {}
        if takes > left and todays:
            days[day.isoformat()] = tuple(todays)
            day, left, todays = _workday(day + timedelta(days=1)), DAY * PRODUCTIVE * people, []
        todays.append(j.place.id)
        left -= takes
    if todays:
        days[day.isoformat()] = tuple(todays)
    return days


def labour_of(book: Book, size: Size) -> float | None:
    """Labour of one joint, all hands together; None where neither table nor rule reaches the size. [s]"""
    listed = joint_hours(book, size, Reading())
    if listed is not None:
        return listed.joint
    try:
        return joint_work(size.nominal / INCH_MM if size.metric else size.nominal)
    except OutsideTable:
        return None


def _workday(day: date) -> date:
    while day.weekday() >= 5:
        day += timedelta(days=1)
    return day
