"""The printed cure clock: check rows, holes, latch, late readings, restarts, columns, damp, missing input."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from clock_rig import HOUR, ROW, ZERO_C, clock_of, fahr, hourly
from lineproof.floor.errors import OutsideTable
from lineproof.sums.cure_clock import History, JointTimes, clocks, cure_clock
from lineproof.sums.cure_share import cure_share
from lineproof.sums.readings import Readings, Weather
from lineproof.sums.waits import Waits

DAY = [22, 22, 21, 20, 18, 16, 14, 12, 11, 10, 9, 8.5, 8, 8, 9, 11, 13, 15, 17, 19, 20, 21, 22, 22]
LONG = 300


# The rule that elapsed time must reach the table time of the lowest band met, worked by hand on an abstract
# row of 24/48/192 h; derived, no published example is known.
@pytest.mark.parametrize(
    ("celsius", "hours"),
    [
        ([25] * LONG, 24),
        ([20] * LONG, 24),
        ([16] * LONG, 24),
        ([10] * LONG, 48),
        ([5] * LONG, 48),
        ([0] * LONG, 192),
        ([-10] * LONG, 192),
        ([22] * 20 + [5] * LONG, 48),
        (DAY * 20, 48),
        ([t - 12 for t in DAY] * 20, 192),
    ],
    ids=["25", "20", "16", "10", "5", "0", "-10", "22 then 5", "day", "day less 12"],
)
def test_check_rows_of_the_printed_clock(celsius: list[float], hours: float) -> None:
    clock = clock_of(celsius)
    assert clock.reached_at == hours * HOUR
    assert clock.fraction == 1.0
    assert clock.why_not == ()
    assert clock.wait == hours * HOUR


def test_share_and_not_before_while_it_runs() -> None:
    clock = clock_of([25] * 10)
    assert clock.fraction == 9 / 24
    assert clock.reached_at is None
    assert clock.earliest_if == 24 * HOUR
    assert clock.why_not == ("not_yet",)
    assert not clock.cannot_tell


def test_it_stays_reached_when_it_turns_cold_afterwards() -> None:
    warm, cold = [22.0] * 26, [-5.0] * 40
    clock = clock_of(warm + cold)
    assert clock.reached_at == 24 * HOUR
    assert clock.coldest == pytest.approx(22 + ZERO_C)
    # an hour earlier the cold reopens all of it
    assert clock_of(warm[:24] + cold).reached_at is None


def test_cold_that_arrives_with_the_reading_at_the_very_end_counts() -> None:
    assert clock_of([22.0] * 25 + [5.0] * 60).reached_at == 24 * HOUR
    assert clock_of([22.0] * 24 + [5.0] * 60).reached_at == 48 * HOUR  # 5 C at 24 h holds from 23 h on


def test_cold_assembly_counts_although_it_warms_up() -> None:
    assert clock_of([22.0] * 60, temperature=5 + ZERO_C).reached_at == 48 * HOUR
    # and so does cold between assembly and the end of hold, which earns nothing
    clock = clock_of([22.0, 5.0] + [22.0] * 70, started=10 * HOUR)
    assert clock.reached_at == 58 * HOUR


def test_readings_from_before_the_joint_do_not_count() -> None:
    celsius = [-5.0] * 5 + [22.0] * 60
    clock = clock_of(celsius, assembled=4.5 * HOUR, temperature=22 + ZERO_C)
    assert clock.reached_at == 28.5 * HOUR


def test_disturbed_starts_again_and_cold_before_it_still_counts() -> None:
    assert clock_of([22.0] * 60, disturbed=[10 * HOUR, 6 * HOUR]).reached_at == 34 * HOUR
    assert clock_of([5.0] + [22.0] * 90, disturbed=[10 * HOUR]).reached_at == 58 * HOUR
    after = clock_of([22.0] * 60, disturbed=[50 * HOUR])
    assert after.reached_at is None
    assert after.earliest_if == 74 * HOUR


def test_start_in_the_future_is_waited_for() -> None:
    clock = clock_of([22.0] * 10, started=12 * HOUR)
    assert clock.fraction == 0.0
    assert clock.why_not == ("start_ahead", "not_yet")
    assert clock.earliest_if == 36 * HOUR


# ------------------------------------------------------------------------------------------------ holes
def with_hole(hole_h: float, *, weather: Weather | None = None) -> History:
    times = [h * HOUR for h in range(11)] + [(10 + hole_h + h) * HOUR for h in range(300)]
    return History(Readings(times, [295.15] * len(times)), weather=weather)


def air(celsius: Sequence[float], *, margin: float = 4.0) -> Weather:
    given = hourly(celsius)
    return Weather(given.times, given.values, margin=margin)


def test_a_hole_begins_after_two_hours() -> None:
    assert clock_of([22], history=with_hole(2.0), now=99 * HOUR).reached_at == 24 * HOUR
    clock = clock_of([22], history=with_hole(2.01), now=99 * HOUR)
    assert clock.why_not == ("temperature_hole",)
    assert clock.cannot_tell
    assert clock.coldest is None
    assert clock.fraction is None
    assert clock.earliest_if == 99 * HOUR


def test_a_hole_earns_nothing_and_the_weather_tells_its_cold() -> None:
    warm = clock_of([22], history=with_hole(5, weather=air([25] * 400)), now=200 * HOUR)
    assert warm.reached_at == 29 * HOUR
    # 19 C less a margin of 4 K is 15 C, below 60 F
    cold = clock_of([22], history=with_hole(5, weather=air([25] * 12 + [19] + [25] * 400)), now=200 * HOUR)
    assert cold.reached_at == 53 * HOUR
    assert cold.coldest == pytest.approx(15 + ZERO_C)
    assert warm.coldest == pytest.approx(21 + ZERO_C)  # 25 C less the margin, colder than the neighbours


@pytest.mark.parametrize(
    "weather",
    [
        None,
        air([25] * 12),  # ends inside the hole
        Weather([11 * HOUR, 400 * HOUR], [298.15] * 2, margin=4.0),  # begins inside it
        Weather([0.0, 12 * HOUR, 400 * HOUR], [298.15] * 3, margin=4.0),  # has holes of its own
    ],
)
def test_weather_that_does_not_cover_a_hole_does_not_help(weather: Weather | None) -> None:
    clock = clock_of([22], history=with_hole(5, weather=weather), now=200 * HOUR)
    assert clock.reached_at is None
    assert clock.why_not == ("temperature_hole",)


def test_what_was_reached_before_a_hole_stays() -> None:
    times = [h * HOUR for h in range(26)] + [90 * HOUR]
    history = History(Readings(times, [295.15] * 27))
    assert clock_of([22], history=history, now=99 * HOUR).reached_at == 24 * HOUR


def test_in_a_hole_the_clock_stands_still() -> None:
    history = with_hole(5, weather=air([25] * 400))
    inside = clock_of([22], history=history, now=12 * HOUR)
    assert inside.credited == 10 * HOUR
    assert inside.earliest_if == 26 * HOUR
    assert clock_of([22], history=history, now=200 * HOUR, disturbed=[12 * HOUR]).reached_at == 39 * HOUR


def test_a_wait_that_ends_before_the_first_reading() -> None:
    short = Waits.of(lambda t, _: 1800.0, edges=[])
    assert clock_of([22] * 5, waits=short, assembled=600.0, started=900.0).reached_at == 2700.0
    assert clock_of([22] * 5, waits=short, assembled=600.0, started=-9000.0).reached_at == 2400.0


def test_a_joint_made_before_the_logger_was_on() -> None:
    late_logger = hourly([22] * 100, first=5 * HOUR)
    blind = clock_of([22], history=History(late_logger), now=90 * HOUR)
    assert blind.why_not == ("temperature_hole",)
    seen = clock_of([22], history=History(late_logger, weather=air([25] * 200)), now=90 * HOUR)
    assert seen.reached_at == 29 * HOUR
    cold = clock_of([22], history=History(late_logger, weather=air([19] * 200)), now=90 * HOUR)
    assert cold.reached_at == 53 * HOUR
    near = clock_of([22], history=History(late_logger), now=90 * HOUR, assembled=3.5 * HOUR)
    assert near.reached_at == 27.5 * HOUR  # the assembly is a reading, an hour and a half before the next


def test_made_in_a_hole_of_the_logger() -> None:
    history = with_hole(5)
    clock = clock_of([22], history=history, now=90 * HOUR, assembled=13.5 * HOUR)
    assert clock.reached_at == 37.5 * HOUR
    early = clock_of([22], history=history, now=90 * HOUR, assembled=12.5 * HOUR)
    assert early.why_not == ("temperature_hole",)


def test_no_credit_past_the_last_reading() -> None:
    clock = clock_of([22] * 20, now=40 * HOUR)
    assert clock.reached_at is None
    assert clock.credited == 19 * HOUR
    assert clock.why_not == ("no_reading_since",)
    assert clock.cannot_tell
    assert clock.earliest_if == 40 * HOUR
    soon = clock_of([22] * 20, now=21 * HOUR)
    assert soon.why_not == ("not_yet",)
    assert soon.earliest_if == 24 * HOUR


def test_no_readings_at_all() -> None:
    empty = History(Readings([], []))
    soon = clock_of([22], history=empty, now=HOUR)
    assert soon.why_not == ("not_yet",)
    assert soon.earliest_if == 24 * HOUR
    assert clock_of([22], history=empty, now=30 * HOUR).why_not == ("no_reading_since",)


def test_moment_judged_before_the_joint_was_made() -> None:
    clock = clock_of([22] * 20, now=2 * HOUR, assembled=5 * HOUR)
    assert clock.reached_at is None
    assert clock.credited == 0.0
    assert clock.earliest_if == 29 * HOUR


# ------------------------------------------------------------------------------------- late, permuted, split
def test_late_cold_reading_from_before_the_latch_reopens_it() -> None:
    late = Readings([5.5 * HOUR], [278.15])
    readings = hourly([22] * 60)
    clock = clock_of([22], history=History(readings, late=late), now=59 * HOUR)
    assert clock.reached_at == 48 * HOUR
    after = Readings([24.5 * HOUR], [250.0])
    assert clock_of([22], history=History(readings, late=after), now=59 * HOUR).reached_at == 24 * HOUR
    at_reading = Readings([24 * HOUR], [278.15])
    assert clock_of([22], history=History(readings, late=at_reading), now=59 * HOUR).reached_at == 48 * HOUR


def test_late_reading_closes_no_hole_and_warms_nothing() -> None:
    times = [h * HOUR for h in range(11)] + [(13 + h) * HOUR for h in range(300)]
    readings = Readings(times, [295.15] * len(times))
    late = Readings([11.5 * HOUR], [295.15])
    assert clock_of([22], history=History(readings, late=late), now=99 * HOUR).why_not == (
        "temperature_hole",
    )
    vouched = Readings([*times, 11.5 * HOUR], [295.15] * (len(times) + 1))
    assert clock_of([22], history=History(vouched), now=99 * HOUR).reached_at == 24 * HOUR
    cold_hour = hourly([22] * 5 + [5] * 60)
    warm = Readings([4.5 * HOUR], [300.0])
    assert clock_of([22], history=History(cold_hour, late=warm), now=60 * HOUR).reached_at == 48 * HOUR


def test_late_reading_after_the_last_one_is_seen() -> None:
    late = Readings([30 * HOUR], [278.15])
    clock = clock_of([22], history=History(hourly([22] * 20), late=late), now=30 * HOUR)
    assert clock.coldest == 278.15
    assert clock.earliest_if == 48 * HOUR


def test_two_readings_at_one_moment_count_as_the_colder() -> None:
    readings = Readings(
        [0.0, HOUR, HOUR, *[h * HOUR for h in range(2, 60)]], [295.15, 295.15, 278.15] + [295.15] * 58
    )
    assert clock_of([22], history=History(readings), now=59 * HOUR).reached_at == 48 * HOUR


# ---------------------------------------------------------------------------------- outside of the card, damp
def test_colder_than_the_card_is_not_told_for_good() -> None:
    clock = clock_of([22] * 10 + [-20] + [22] * 400)
    assert clock.reached_at is None
    assert clock.why_not == ("no_card_row",)
    assert clock.cannot_tell
    assert clock.fraction is None
    assert clock.earliest_if is None
    assert clock.wait is None


def test_hotter_than_the_card_earns_nothing_until_it_is_inside() -> None:
    assert clock_of([45] * 100).why_not == ("no_card_row",)
    clock = clock_of([45] * 10 + [30] * 60)
    assert clock.reached_at == (9 + 24) * HOUR  # the reading of 30 C at 10 h holds from 9 h on
    # once inside, a hot hour later counts as any other: the coldest met decides
    assert clock_of([30] * 3 + [45] * 60).reached_at == 24 * HOUR


def test_another_pressure_column_applies_to_the_whole_history() -> None:
    low = Waits.of(lambda t, _: 6 * HOUR, edges=[])
    high = Waits.of(lambda t, _: 24 * HOUR, edges=[])
    assert clock_of([22] * 20, waits=low).reached_at == 6 * HOUR
    again = clock_of([22] * 20, waits=high)
    assert again.reached_at is None
    assert again.fraction == 19 / 24


DAMP = Waits.of(lambda t, rh: None if rh is None else HOUR * (36 if rh > 0.6 else 24), edges=[], damp=[0.6])


def damp_history(humidity: Sequence[float]) -> History:
    return History(hourly([22] * 60), humidity=Readings([h * HOUR for h in range(len(humidity))], humidity))


def test_one_damp_hour_lengthens_the_whole_wait() -> None:
    assert (
        clock_of([22], waits=DAMP, history=damp_history([0.6] * 60), now=59 * HOUR, humidity=0.5).reached_at
        == 24 * HOUR
    )
    one = [0.5] * 9 + [0.61] + [0.5] * 50
    clock = clock_of([22], waits=DAMP, history=damp_history(one), now=59 * HOUR, humidity=0.5)
    assert clock.reached_at == 36 * HOUR
    assert clock.dampest == 0.61
    assert (
        clock_of([22], waits=DAMP, history=damp_history([0.5] * 60), now=59 * HOUR, humidity=0.9).reached_at
        == 36 * HOUR
    )
    late = History(
        hourly([22] * 60),
        humidity=Readings([h * HOUR for h in range(60)], [0.5] * 60),
        late_humidity=Readings([3.3 * HOUR], [0.7]),
    )
    assert clock_of([22], waits=DAMP, history=late, now=59 * HOUR, humidity=0.5).reached_at == 36 * HOUR


def test_humidity_not_known_where_the_card_asks() -> None:
    for history, at_assembly in [
        (History(hourly([22] * 60)), 0.5),
        (damp_history([0.5] * 60), None),
        (damp_history([0.5] * 10), 0.5),  # stops while the thermometer goes on
        (History(hourly([22] * 60), humidity=Readings([0.0, 20 * HOUR, 21 * HOUR], [0.5] * 3)), 0.5),
    ]:
        clock = clock_of([22], waits=DAMP, history=history, now=59 * HOUR, humidity=at_assembly)
        assert clock.why_not == ("humidity_not_known",)
        assert clock.reached_at is None
        assert clock.fraction is None
        assert clock.dampest is None
    # a card that does not ask is not held up
    assert clock_of([22] * 60).reached_at == 24 * HOUR
    # and while it runs, humidity that ends with the thermometer is no hole
    running = History(hourly([22] * 10), humidity=Readings([h * HOUR for h in range(10)], [0.5] * 10))
    assert clock_of([22], waits=DAMP, history=running, now=10 * HOUR, humidity=0.5).why_not == ("not_yet",)


def test_missing_inputs_are_named() -> None:
    assert clock_of([22] * 60, temperature=None).why_not == ("no_assembly_temperature",)
    nothing = clock_of([22] * 60, started=None)
    assert nothing.why_not == ("no_start",)
    assert nothing.earliest_if is None
    assert nothing.cannot_tell


def test_what_is_not_a_number_is_refused() -> None:
    for bad in (
        lambda: clock_of([22] * 5, now=math.nan),
        lambda: clock_of([22] * 5, temperature=math.inf),
        lambda: clock_of([22] * 5, disturbed=[math.nan]),
        lambda: History(Readings([0.0, 1.0], [290.0])),
        lambda: History(Readings([0.0, 1.0], [290.0, math.nan])),
        lambda: History(hourly([22]), max_gap=0.0),
        lambda: History(hourly([22]), weather=air([22], margin=-1.0)),
    ):
        with pytest.raises(OutsideTable) as told:
            bad()
        assert told.value.next


# -------------------------------------------------------------------------------------------------- the table
def test_table_keeps_edges_and_the_longer_wait() -> None:
    for f, hours in [(60, 48), (60.001, 24), (59.999, 48), (40, 192), (0, 192), (100, 24)]:
        assert ROW(fahr(f)) == hours * HOUR, f
    assert ROW(fahr(100) + 1e-6) is None
    assert ROW(fahr(0) - 1e-6) is None
    odd = Waits.of(lambda t, rh: 10.0 if t < 280.0 else 50.0, edges=[280.0], damp=[0.5])
    assert odd(270.0, 0.4) == 50.0  # a card that prints less for colder: the longer stands
    near = Waits.of(lambda t, _: 10.0 if t > 280.0 else 20.0, edges=[280.0, 280.0 + 1e-9], dT_K=1e-6)
    assert len(near.lows) == 1
    assert near(280.0 + 5e-7) == 20.0


def test_many_joints_at_once_are_each_as_alone() -> None:
    rng = np.random.default_rng(7)
    celsius = 14 + 10 * np.sin(np.arange(400) / 4.0) + rng.normal(0, 3, 400)
    history = History(hourly([float(c) for c in celsius]))
    n = 60
    assembled = np.floor(rng.uniform(0, 390 * HOUR, n))
    made = JointTimes(
        assembled=assembled,
        temperature=rng.uniform(275, 300, n),
        started=assembled + 600.0,
        humidity=np.full(n, np.nan),
    )
    all_at_once = clocks(history, ROW, made, now=399 * HOUR)
    for i in range(n):
        alone = cure_clock(
            history, ROW, now=399 * HOUR, assembled=float(assembled[i]),
            temperature=float(made.temperature[i]), started=float(made.started[i]),
        )  # fmt: skip
        assert all_at_once.joint(i) == alone
    assert np.isnan(all_at_once.reached_at).any()
    assert (~np.isnan(all_at_once.reached_at)).any()


class Counted(np.ndarray):
    """An array that counts the values read or made through it; a bisection counts its steps."""

    work = 0

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **more: Any) -> Any:
        made = getattr(ufunc, method)(*(bare(x) for x in inputs), **more)
        Counted.work += int(np.size(made))
        return np.asarray(made).view(Counted)

    def __array_function__(self, func: Any, types: Any, args: Any, kwargs: Any) -> Any:
        made = func(*(bare(x) for x in args), **{k: bare(v) for k, v in kwargs.items()})
        steps = len(args[0]).bit_length() if func is np.searchsorted else 1
        Counted.work += steps * int(np.size(made))
        return made

    def __getitem__(self, key: Any) -> Any:
        made = np.asarray(self)[bare(key) if not isinstance(key, tuple) else tuple(bare(k) for k in key)]
        Counted.work += int(np.size(made))
        return made


def bare(x: Any) -> Any:
    return np.asarray(x) if isinstance(x, Counted) else x


def work_of_one_joint(readings: int) -> int:
    day = [20 + 8 * math.sin(h * math.pi / 12) for h in range(24)]
    history = History(hourly((day * (readings // 24 + 1))[:readings]))
    made = history.ladders(ROW)
    history._ladders[ROW.key] = tuple(a.view(Counted) for a in made)
    for track in (history.cold, history.damp):
        for name in ("times", "right", "bridge", "known", "worst", "credited", "credit", "next_unknown"):
            setattr(track, name, getattr(track, name).view(Counted))
        track.range._rows = track.range._rows.view(Counted)
    Counted.work = 0
    half = float(24 * (readings // 48)) * HOUR
    clock = clock_of([22], history=history, now=(readings - 1) * HOUR, assembled=half)
    assert clock.reached_at == half + 48 * HOUR
    return Counted.work


def test_a_joint_costs_a_few_look_ups_however_long_the_history() -> None:
    short, long = work_of_one_joint(480), work_of_one_joint(480 * 64)
    assert short > 50, "the count sees the work"
    assert long < 1000
    # six more steps in each bisection, nothing else
    assert long - short <= 6 * 40


def test_share_of_one_row() -> None:
    assert cure_share(elapsed=12 * HOUR, wait=48 * HOUR) == 0.25
    with pytest.raises(OutsideTable):
        cure_share(elapsed=-1.0, wait=1.0)
    with pytest.raises(OutsideTable):
        cure_share(elapsed=1.0, wait=0.0)
