"""ASTM D2855-96(2002), handling paragraph and appendix cure guide, through a card typed from them.

The rows stand in ``cure_rig``: typed from memory, not read in the document.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import product

import pytest

from clock_rig import HOUR, fahr
from cure_rig import CARD, CURE_H, GROUPS, WET, inch, psi
from lineproof.job.card_rows import CardRow
from lineproof.job.cards import CementCard
from lineproof.job.clock_card import card_waits
from lineproof.job.progress import JointProgress, Progress, Series
from lineproof.plan.cure_clocks import CureAsked, CureClocks
from lineproof.sums.cure_clock import CureClock, History, cure_clock
from lineproof.sums.readings import Readings
from lineproof.sums.waits import Waits


def hours_of(
    kind: str, size: str, degrees: float, *, pressure: float | None = None, humidity: float = 0.5
) -> float | None:
    """Hours by the table, and the same by a clock that ran at that one temperature."""
    waits = card_waits(CARD, kind, inch(size), pressure_Pa=None if pressure is None else psi(pressure)).waits
    told = waits(fahr(degrees), humidity)
    clock = at_constant(waits, fahr(degrees), humidity)
    if told is None:
        assert clock.reached_at is None
        assert clock.why_not == ("no_card_row",)
        return None
    assert clock.reached_at == pytest.approx(told)
    return told / HOUR


def at_constant(waits: Waits, kelvin: float, humidity: float) -> CureClock:
    times = [HOUR * h for h in range(400)]
    history = History(Readings(times, [kelvin] * 400), humidity=Readings(times, [humidity] * 400))
    return cure_clock(
        history, waits, now=399 * HOUR, assembled=0.0, temperature=kelvin, started=0.0, humidity=humidity
    )


@pytest.mark.parametrize(
    ("degrees", "hours"),
    [
        (100.01, None),
        (100, 0.5), (99.99, 0.5), (60.01, 0.5),
        (60, 1), (59.99, 1), (40.01, 1),
        (40, 2), (39.99, 2), (20.01, 2),
        (20, 4), (19.99, 4), (0.01, 4), (0, 4),
        (-0.01, None),
    ],
)  # fmt: skip
def test_handling_rows_at_each_edge(degrees: float, hours: float | None) -> None:
    """Within 0.01 F of each edge of a band; an edge belongs to the colder band."""
    assert hours_of("handling", "6", degrees) == (None if hours is None else pytest.approx(hours))


@pytest.mark.parametrize(
    ("size", "group"), [("1/2", 0), ("1-1/4", 0), ("1-1/2", 1), ("3", 1), ("3-1/2", 2), ("8", 2)]
)
@pytest.mark.parametrize("column", [0, 1])
def test_cure_rows_at_each_edge(size: str, group: int, column: int) -> None:
    """Within 0.01 F of each edge of a band, for the smallest and largest size of each group."""
    pressure = (180, 180.01)[column]
    for (lo, hi), groups in CURE_H.items():
        hours = groups[group][column]
        colder = {20: (10, 20), 40: (20, 40), 60: (40, 60)}.get(lo)
        below = None if colder is None else CURE_H[colder][group][column]
        for degrees, expected in (
            (hi, hours),
            (hi - 0.01, hours),
            (lo + 0.01, hours),
            (lo, hours if lo == 10 else below),
            (lo - 0.01, below),
        ):
            told = hours_of("cure", size, degrees, pressure=pressure)
            assert told == (None if expected is None else pytest.approx(expected)), (degrees, expected)
    assert hours_of("cure", size, 100.01, pressure=pressure) is None
    assert hours_of("cure", size, 9.99, pressure=pressure) is None


@pytest.mark.parametrize(
    ("size", "pressure", "hours"),
    [
        ("6", 0, 12), ("6", 180, 12), ("6", 180.01, 48), ("6", 315, 48), ("6", 315.01, None),
        ("2", 180, 4), ("2", 180.01, 24), ("2", 315.01, None),
        ("1", 180, 2), ("1", 180.01, 12), ("1", 370, 12), ("1", 370.01, None),
    ],
)  # fmt: skip
def test_columns_of_pressure(size: str, pressure: float, hours: float | None) -> None:
    """At 50 F; the column up to 180 psi holds 180 psi itself."""
    assert hours_of("cure", size, 50, pressure=pressure) == (None if hours is None else pytest.approx(hours))


@pytest.mark.parametrize("degrees", [80, 50, 30, 15])
def test_wet_air_above_60_percent(degrees: float) -> None:
    for kind, pressure in (("handling", None), ("cure", 100.0), ("cure", 200.0)):
        dry = hours_of(kind, "6", degrees, pressure=pressure, humidity=0.6)
        wet = hours_of(kind, "6", degrees, pressure=pressure, humidity=0.601)
        assert dry is not None
        assert wet == pytest.approx(WET * dry)
    waits = card_waits(CARD, "cure", inch("6"), pressure_Pa=psi(100)).waits
    assert waits(fahr(degrees), None) is None, "humidity is not known"


def test_nothing_is_carried_past_the_rows() -> None:
    assert hours_of("cure", "10", 70, pressure=100) is None
    assert hours_of("handling", "10", 70) is None
    assert hours_of("cure", "6", 70) is None, "a cure wait needs the pressure at the joint"


def test_one_hour_in_a_colder_band_brings_its_row() -> None:
    """NPS 6, up to 180 psi: 6 h at 70 F, but with one reading of 59.99 F the 12 h of the band below."""
    waits = card_waits(CARD, "cure", inch("6"), pressure_Pa=psi(150)).waits
    times = [HOUR * h for h in range(40)]
    for reading, hours in ((60.01, 6), (60.0, 12), (59.99, 12), (39.99, 36)):
        warm = [fahr(70.0)] * 40
        warm[3] = fahr(reading)
        history = History(Readings(times, warm), humidity=Readings(times, [0.5] * 40))
        clock = cure_clock(
            history, waits, now=39 * HOUR, assembled=0.0, temperature=fahr(70.0), started=0.0, humidity=0.5
        )
        assert clock.reached_at == pytest.approx(hours * HOUR)


def test_the_row_a_wait_rests_on_is_named() -> None:
    asked = card_waits(CARD, "cure", inch("6"), pressure_Pa=psi(200))
    told = asked.rests_on(fahr(50), 0.7)
    assert told is not None
    assert told.row.time == 48 * HOUR
    assert told.multiplier == WET
    assert [f.when for f in told.factors] == ["damp"]
    assert asked.rests_on(fahr(5), 0.7) is None


def test_other_kinds_of_row_and_a_card_that_prints_less_for_colder() -> None:
    """Invented rows: what the table does with them, not what any document prints."""
    six = {"size_lo": inch("6"), "size_hi": inch("6")}
    odd = CementCard(
        id="O", product="invented", material="pvc",
        rows=(
            CardRow(kind="hold", time=60.0, **six),
            CardRow(kind="pullers", time=900.0, temp_lo=fahr(40), temp_hi=fahr(100), **six),
            CardRow(kind="handling", time=7200.0, temp_lo=fahr(60), temp_hi=fahr(100), mark="warm", **six),
            CardRow(kind="handling", time=3600.0, temp_lo=fahr(40), temp_hi=fahr(60), mark="cold", **six),
        ),
    )  # fmt: skip
    assert card_waits(odd, "hold", inch("6")).waits(fahr(-40), None) == 60.0
    assert card_waits(odd, "pullers", inch("6")).waits(fahr(50), None) == 900.0
    asked = card_waits(odd, "handling", inch("6"))
    assert asked.waits(fahr(50), None) == 7200.0
    rests = asked.rests_on(fahr(50), None)
    assert rests is not None
    assert rests.row.mark == "warm"
    assert card_waits(odd, "no such kind", inch("6")).waits(fahr(50), None) is None


def test_the_pressure_clock_of_many_joints_at_each_edge() -> None:
    """The same hours from joints' records: every band edge, size group, column of pressure and humidity.

    One joint a case, all asked at once; each stood at one temperature from its making on.
    """
    begin = datetime(2026, 1, 5, 8, 0, tzinfo=UTC)
    hours = [begin + timedelta(hours=h) for h in range(400)]
    times = [t.timestamp() for t in hours]
    air = {rh: Series(Readings(times, [rh] * 400)) for rh in (0.6, 0.601)}
    series = {
        f: Series(Readings(times, [fahr(f)] * 400))
        for lo, hi in CURE_H
        for f in (lo - 0.01, lo, lo + 0.01, hi - 0.01, hi, hi + 0.01)
    }
    cases = []
    for (small, large, high), group in zip(GROUPS, range(3), strict=True):
        for size, degrees, pressure, rh in product(
            (small, large), series, (180, 180.01, high, high + 0.01), air
        ):
            bands = [band for band in CURE_H if band[0] <= degrees <= band[1]]
            wait = None
            if bands and pressure <= high:
                wait = CURE_H[min(bands)][group][pressure > 180] * (WET if rh > 0.6 else 1)
            joint = JointProgress(
                id="J", made=True, assembled=begin, temperature=fahr(degrees), humidity=rh, hold_ended=begin,
                now=hours[-1], readings=series[degrees], damp=air[rh],
            )  # fmt: skip
            asked = CureAsked(
                joint=joint, size=inch(size), card=CARD, pressure=psi(pressure), pullers=False
            )
            cases.append((asked, wait, (size, degrees, pressure, rh)))
    clocks = CureClocks(Progress(now=hours[-1]), UTC)
    for facts, (_, wait, name) in zip(clocks.facts_of([c[0] for c in cases]), cases, strict=True):
        if wait is None:
            assert (facts.reached, facts.codes) == (None, ("no_card_row",)), name
        else:
            assert facts.reached is not None, name
            assert (facts.reached - begin).total_seconds() == pytest.approx(wait * HOUR), name
    count = len(cases)
    assert count == 3 * 2 * 15 * 4 * 2
