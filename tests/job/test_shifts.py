"""Shifts: clock, weekdays, days off, over midnight, and days on which the clocks change."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from lineproof.floor.errors import BadInput
from lineproof.job.shifts import Shift, _clock, _weekdays

DENVER = ZoneInfo("America/Denver")
DAY = Shift(begins=7 * 3600.0, ends=17 * 3600.0, weekdays=(0, 1, 2, 3, 4), off=(date(2027, 4, 14),))


@pytest.mark.parametrize(
    ("told", "days"),
    [("mon-fri", (0, 1, 2, 3, 4)), ("all", tuple(range(7))), ("sat-mon", (0, 5, 6)), ("tue, Thu", (1, 3))],
)
def test_days_of_the_week_as_they_are_told(told, days):
    assert _weekdays(told) == days


@pytest.mark.parametrize("told", ["", "mon-fry", "workdays"])
def test_other_words_are_refused_and_the_days_are_named(told):
    with pytest.raises(BadInput, match="mon"):
        _weekdays(told)


@pytest.mark.parametrize(("told", "seconds"), [("07:30", 27000.0), ("0:00", 0.0), ("24:00", 86400.0)])
def test_a_time_of_day(told, seconds):
    assert _clock(told) == seconds


@pytest.mark.parametrize("told", ["7", "25:00", "07:60", "24:01", "noon"])
def test_no_time_of_day(told):
    with pytest.raises(BadInput, match="07:30"):
        _clock(told)


def test_a_day_off_and_a_weekend_have_no_hours():
    assert DAY.on(date(2027, 4, 14), DENVER) is None
    assert DAY.on(date(2027, 4, 17), DENVER) is None
    assert DAY.on(date(2027, 4, 15), DENVER) is not None


def test_a_shift_over_midnight_ends_on_the_next_day():
    night = Shift(begins=20 * 3600.0, ends=4 * 3600.0, weekdays=(0,))
    first, last = night.on(date(2027, 4, 12), DENVER) or (None, None)
    assert first == datetime(2027, 4, 12, 20, tzinfo=DENVER)
    assert last == datetime(2027, 4, 13, 4, tzinfo=DENVER)


def test_a_night_shift_on_the_day_the_clocks_go_forward_is_an_hour_short():
    # United States 2027: 14 March, 02:00 becomes 03:00 (IANA time zone database)
    night = Shift(begins=20 * 3600.0, ends=6 * 3600.0, weekdays=tuple(range(7)))
    first, last = night.on(date(2027, 3, 13), DENVER) or (None, None)
    assert first is not None
    assert last is not None
    assert last.timestamp() - first.timestamp() == timedelta(hours=9).total_seconds()


def test_before_its_first_and_after_its_last_day_there_is_no_shift():
    short = Shift(
        begins=0.0, ends=86400.0, weekdays=tuple(range(7)), since=date(2027, 4, 12), until=date(2027, 4, 13)
    )
    assert [short.on(date(2027, 4, d), DENVER) is not None for d in (11, 12, 13, 14)] == [
        False, True, True, False,
    ]  # fmt: skip
    first, last = short.on(date(2027, 4, 12), DENVER) or (None, None)
    assert (first, last) == (datetime(2027, 4, 12, tzinfo=DENVER), datetime(2027, 4, 13, tzinfo=DENVER))
