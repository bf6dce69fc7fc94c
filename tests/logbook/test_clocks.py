"""Clocks lie: no joint is credited with time that may not have passed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.logbook.clocks import (
    Stamp,
    earliest_plausible_now,
    elapsed,
    elapsed_along,
    latest_plausible_start,
)
from lineproof.logbook.fold import fold
from lineproof.logbook.state import Event
from lineproof.logbook.writing import DeviceClock, synchronised
from logbook.rig import BELA, START, Hands, J, moment_text, pen_for, store_at

HOUR = timedelta(hours=1)


def stamp(clock: Hands) -> Stamp:
    return Stamp(wall=clock.wall, monotonic=clock.monotonic, boot=clock.boot, synchronised=clock.synchronised)


def hold_end_on(folder: Path, clock: Hands) -> Event:
    """A hold end written with a clock, as the fold reads it."""
    with store_at(folder) as store:
        pen_for(store, "one", clock).write("hold_end", {"joint": J})
        return fold(store.read_since()).joints[J].events[0]


# Each row: what is done to the wall clock between hold end and now, one true hour later.
SAME_BOOT = [
    ("nothing", {}, HOUR),
    ("forward two hours", {"hours": 2}, HOUR),
    ("forward a day", {"days": 1}, HOUR),
    ("back one hour", {"hours": -1}, timedelta(0)),
    ("back half an hour", {"minutes": -30}, HOUR / 2),
    ("back a day", {"days": -1}, timedelta(0)),
]


@pytest.mark.parametrize(("what", "set_by", "credited"), SAME_BOOT, ids=[row[0] for row in SAME_BOOT])
def test_inside_one_start_the_smaller_of_both_clocks_counts(
    tmp_path: Path, what: str, set_by: dict[str, float], credited: timedelta
) -> None:
    clock = Hands()
    event = hold_end_on(tmp_path, clock)
    clock.wait(hours=1)
    clock.set(**set_by)
    passed = elapsed(event.stamp, stamp(clock))
    assert passed == credited
    assert passed <= HOUR, what


@pytest.mark.parametrize(("what", "set_by", "credited"), SAME_BOOT[1:], ids=[row[0] for row in SAME_BOOT[1:]])
def test_a_step_of_more_than_two_minutes_is_itself_an_entry(
    tmp_path: Path, what: str, set_by: dict[str, float], credited: timedelta
) -> None:
    clock = Hands()
    with store_at(tmp_path) as store:
        pen = pen_for(store, "one", clock)
        pen.write("hold_end", {"joint": J})
        clock.wait(hours=1)
        clock.set(**set_by)
        pen_for(store, "one", clock).write("moved", {"joint": J, "how": "lowered"})
        pen.write("note", {"text": "no further step"})
        told = [s.entry for s in store.read_since()]
    assert [each.kind for each in told] == ["hold_end", "step_in_clock", "moved", "note"]
    by = timedelta(**set_by).total_seconds()
    assert float(told[1].body["by_s"]) == by
    assert told[1].body["before"] == moment_text(START + HOUR)


@pytest.mark.parametrize(("seconds", "kinds"), [(119, 2), (121, 3), (-119, 2), (-121, 3)])
def test_two_minutes_are_the_limit_of_a_step(tmp_path: Path, seconds: int, kinds: int) -> None:
    clock = Hands()
    with store_at(tmp_path) as store:
        pen = pen_for(store, "one", clock)
        pen.write("note", {"text": "a"})
        clock.set(seconds=seconds)
        pen.write("note", {"text": "b"})
        assert len(list(store.read_since())) == kinds


@pytest.mark.parametrize(("day", "shift"), [((2026, 10, 25), 25), ((2026, 3, 29), 23)])
def test_a_daylight_saving_change_credits_true_hours(day: tuple[int, int, int], shift: int) -> None:
    """Midnight to midnight in London on the days the clocks change: 25 and 23 hours (IANA time zones)."""
    zone = ZoneInfo("Europe/London")
    first = datetime(*day, tzinfo=zone).astimezone(UTC)
    last = (datetime(*day, tzinfo=zone) + timedelta(days=1)).astimezone(UTC)
    clock = Hands(first)
    start = stamp(clock)
    clock.wait(hours=shift)
    assert clock.wall == last
    assert elapsed(start, stamp(clock)) == timedelta(hours=shift)


def test_a_device_started_again_counts_only_with_clocks_that_were_set(tmp_path: Path) -> None:
    for first, second, credited in [
        ("yes", "yes", HOUR),
        ("yes", "no", None),
        ("no", "yes", None),
        ("unknown", "yes", None),
        ("no", "no", None),
    ]:
        clock = Hands(synchronised=first)
        event = hold_end_on(tmp_path / f"{first}-{second}", clock)
        clock.wait(hours=1)
        clock.restart("boot-2")
        clock.synchronised = second
        assert elapsed(event.stamp, stamp(clock)) == credited


def test_a_dead_clock_battery_corrected_next_day(tmp_path: Path) -> None:
    """The phone starts in 2020, writes, is set right a day later: the six years are not credited."""
    clock = Hands(datetime(2020, 1, 1, tzinfo=UTC), synchronised="no")
    event = hold_end_on(tmp_path, clock)
    clock.wait(hours=24)
    clock.wall = START + timedelta(days=1)
    clock.synchronised = "yes"
    assert elapsed(event.stamp, stamp(clock)) == timedelta(days=1)
    clock.wait(hours=1)
    clock.restart("boot-2")
    assert elapsed(event.stamp, stamp(clock)) is None
    with store_at(tmp_path) as store:
        body = {"of": event.entry.id, "true_time": moment_text(START), "how": "site clock"}
        pen_for(store, "two", Hands(START + timedelta(days=1)), who=BELA).write("time_confirmed", body)
        confirmed = fold(store.read_since()).joints[J].events[0]
    assert (confirmed.at, confirmed.confirmed_by) == (START, (BELA,))
    assert elapsed(confirmed.stamp, stamp(clock)) == timedelta(hours=25)


def test_a_phone_a_day_early_is_not_believed_on_another_device(tmp_path: Path) -> None:
    """Its clock is a day behind, so its hold end looks a day old on the laptop."""
    phone = Hands(START - timedelta(days=1), boot="phone", synchronised="no")
    event = hold_end_on(tmp_path, phone)
    laptop = Hands(START + HOUR, boot="laptop")
    assert laptop.wall - event.at == timedelta(hours=25)
    assert elapsed(event.stamp, stamp(laptop)) is None
    assert earliest_plausible_now(stamp(laptop), event.stamp) is None
    phone.wait(hours=1)
    assert elapsed(event.stamp, stamp(phone)) == HOUR


def test_a_phone_a_day_ahead_credits_nothing_before_its_time() -> None:
    ahead = Stamp(wall=START + timedelta(days=1), boot="phone", synchronised="yes")
    now = Stamp(wall=START + HOUR, boot="laptop", synchronised="yes")
    assert elapsed(ahead, now) == timedelta(0)


def test_the_start_is_the_latest_plausible_one_and_now_the_earliest() -> None:
    clock = Hands()
    hold_end = stamp(clock)
    clock.wait(minutes=30)
    pullers = stamp(clock)
    clock.set(hours=-5)  # what comes now looks older than it is
    disturbed = stamp(clock)
    clock.wait(minutes=10)
    now = stamp(clock)
    # By the wall clock the hold ended after all this: nothing has surely passed since.
    assert latest_plausible_start([disturbed, hold_end, pullers], now) == pullers
    assert earliest_plausible_now(now, pullers) == pullers.wall
    assert latest_plausible_start([disturbed], now) == disturbed
    assert earliest_plausible_now(now, disturbed) == disturbed.wall + timedelta(minutes=10)
    assert latest_plausible_start([], now) is None
    elsewhere = Stamp(wall=START, boot="other", synchronised="no")
    assert latest_plausible_start([hold_end, elsewhere], now) is None


def test_along_a_chain_what_can_be_told_adds_up() -> None:
    clock = Hands(synchronised="no")
    stamps = [stamp(clock)]
    clock.wait(hours=2)
    stamps.append(stamp(clock))
    clock.restart("boot-2", off=timedelta(days=3))
    stamps.append(stamp(clock))
    clock.wait(hours=1)
    stamps.append(stamp(clock))
    assert elapsed_along(stamps) == timedelta(hours=3)
    assert elapsed_along(stamps[:2]) == timedelta(hours=2)
    assert elapsed_along(stamps[:1]) == timedelta(0)


@given(
    st.lists(st.tuples(st.integers(0, 10**6), st.integers(-(10**6), 10**6)), min_size=1, max_size=8),
)
def test_inside_one_start_never_more_than_has_passed(moves: list[tuple[int, int]]) -> None:
    """True seconds pass, the wall is set at will: the credit is never above the truth."""
    clock = Hands(synchronised="no")
    start = stamp(clock)
    for passes, set_by in moves:
        clock.wait(seconds=passes)
        clock.set(seconds=set_by)
    passed = elapsed(start, stamp(clock))
    assert passed is not None
    assert timedelta(0) <= passed <= timedelta(seconds=sum(p for p, _ in moves))


def test_the_clocks_of_this_device_go_on() -> None:
    clock = DeviceClock("Europe/London")
    first, second = clock.read(), clock.read()
    assert first.boot == second.boot != ""
    assert second.monotonic >= first.monotonic > Decimal(0)
    assert synchronised() in ("yes", "no", "unknown")
    assert (
        elapsed(
            Stamp(wall=first.wall, monotonic=first.monotonic, boot=first.boot),
            Stamp(wall=second.wall, monotonic=second.monotonic, boot=second.boot),
        )
        is not None
    )
