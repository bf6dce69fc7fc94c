"""Waits by the hour of finish against the printed cure clock, and what stands in for silent weather."""

from datetime import datetime, timedelta

import numpy as np
import pytest

from days_rig import BEGIN
from lineproof.job.settings import Conditions
from lineproof.job.weather import WeatherRow
from lineproof.plan.days.hours import Colder, Hour, hours_of, wait_by
from lineproof.sums.cure_clock import History, JointTimes, clocks
from lineproof.sums.readings import Readings
from lineproof.sums.waits import Waits

HOUR = 3600.0
# invented rows: 10 h above 15 C, 20 h down to 5 C, nothing below
TABLE = Waits.of(
    lambda t, _: 10 * HOUR if t > 288.15 else 20 * HOUR if t > 278.15 else None, edges=[278.15, 288.15]
)


def row(at: datetime, temperature: float, *, rain: float = 0.0) -> WeatherRow:
    return WeatherRow(at, at, at + timedelta(hours=1), "forecast", temperature, 0.5, 1.0, rain, None, 2)


@pytest.mark.parametrize("seed", range(6))
def test_a_planned_wait_is_never_shorter_than_the_printed_clock_and_not_a_band_longer(seed):
    """The clock of ``sums`` on hourly readings is the measure here: it shares no code with the plan."""
    rng = np.random.default_rng(seed)
    air = 288.0 + 6.0 * np.sin(np.arange(120) * 2 * np.pi / 24) + rng.normal(0, 1.5, 120)
    hours = [Hour(float(t), 0.5) for t in air]
    wait = wait_by("w", TABLE, hours)
    steps = np.arange(0, 120 * HOUR, 300.0)
    held = np.repeat(air, 12)
    history = History(Readings(list(steps), [float(t) for t in held]))
    for end in range(12, 50 * 12, 5):
        at = end * 300.0
        made = JointTimes(
            assembled=np.array([at]), temperature=np.array([float(held[end])]), started=np.array([at]),
            humidity=np.array([0.5]),
        )  # fmt: skip
        reached = float(clocks(history, TABLE, made, now=115 * HOUR).reached_at[0])
        planned = wait.after(end)
        if np.isnan(reached) or planned is None:
            # the plan may be more careful than the clock, never bolder
            assert planned is None, end
            continue
        assert at + planned * 300.0 >= reached - 1e-6, end
        assert planned * 300.0 in (10 * HOUR, 20 * HOUR)


def test_no_row_of_the_card_means_no_finish_in_that_hour():
    wait = wait_by("w", TABLE, [Hour(290.0, 0.5)] * 3 + [Hour(270.0, 0.5)] * 3 + [Hour(290.0, 0.5)] * 40)
    assert wait.after(0) is None  # ten hours from there meet the frost
    assert wait.after(5 * 12) is None
    assert wait.after(8 * 12) == 120


def test_rain_before_the_hands_off_time_is_over_forbids_the_finish():
    hours = [Hour(290.0, 0.5, rain=n == 12) for n in range(30)]
    wet = wait_by("w", TABLE, hours, dry=True)
    assert wet.after(1 * 12) == 120  # made from hour 1 on, over at the end of hour 11
    assert wet.after(2 * 12) is None
    assert wet.after(14 * 12) == 120
    assert wait_by("w", TABLE, hours).after(5 * 12) == 120


def test_the_stated_margin_is_taken_off_the_air_and_stated_conditions_stand_in_for_silence():
    rows = [row(BEGIN, 290.0), row(BEGIN + timedelta(hours=1), 291.0, rain=0.001)]
    stated = Conditions(pipe_temperature=285.0, humidity=0.7, air_margin=3.0)
    hours = hours_of(stated, rows, BEGIN, 3)
    assert [h.temperature for h in hours] == [287.0, 288.0, 285.0]
    assert [h.rain for h in hours] == [False, True, False]
    assert [h.told for h in hours] == [True, True, False]
    # without a margin the colder of the two: the air alone is not the pipe
    assert hours_of(Conditions(pipe_temperature=285.0), rows, BEGIN, 1)[0].temperature == 285.0
    assert hours_of(Conditions(), [], BEGIN, 1)[0].temperature is None


def test_colder_days_are_colder_only_while_they_last():
    tried = [Colder(5.0, BEGIN + timedelta(hours=1), BEGIN + timedelta(hours=2))]
    hours = hours_of(Conditions(pipe_temperature=285.0), [], BEGIN, 3, colder=tried)
    assert [h.temperature for h in hours] == [285.0, 280.0, 285.0]
