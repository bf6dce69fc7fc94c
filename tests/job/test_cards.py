"""Cement cards: the printed row or nothing; edges, columns, damp weather."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.book.sizes import Size
from lineproof.floor.units import parse
from lineproof.job.cards import CementCard
from lineproof.job.settings import CardFactor, CardRow, PerCan, WorkingRow

HOUR = 3600.0


def fahr(degrees: float) -> float:
    return parse(f"{degrees!r} F", "temperature")


def psi(value: float) -> float:
    return parse(f"{value!r} psi", "pressure")


def inch(text: str) -> Size:
    return Size.parse(f"{text}in")


# Handling and cure hours of ASTM D2855-96(2002), handling paragraph and appendix guide, typed from memory,
# not read in the document: NPS 3 1/2 to 8, up to 180 psi and above, by band of F; above 60 % humidity half as
# much again.
HANDLING_H = {(60, 100): 0.5, (40, 60): 1, (20, 40): 2, (0, 20): 4}
CURE_H = {(60, 100): (6, 24), (40, 60): (12, 48), (20, 40): (36, 144), (10, 20): (48, 192)}


def d2855() -> CementCard:
    rows = [
        CardRow(kind="handling", size_lo=inch("1/2"), size_hi=inch("8"), temp_lo=fahr(lo), temp_hi=fahr(hi),
                humidity_max=0.6, time=h * HOUR)
        for (lo, hi), h in HANDLING_H.items()
    ]  # fmt: skip
    for (lo, hi), hours in CURE_H.items():
        for top, h in zip((180, 315), hours, strict=True):
            rows.append(
                CardRow(
                    kind="cure", size_lo=inch("3-1/2"), size_hi=inch("8"), temp_lo=fahr(lo), temp_hi=fahr(hi),
                    pressure_max=psi(top), humidity_max=0.6, time=h * HOUR,
                )
            )  # fmt: skip
    return CementCard(
        id="T", product="typed from memory", material="pvc", sizes_to=inch("12"), rows=tuple(rows),
        factors=(CardFactor(when="damp", times=1.5, humidity_over=0.6),),
    )  # fmt: skip


CARD = d2855()


@pytest.mark.parametrize(
    ("temp", "pressure", "rh", "hours"),
    [
        (80, 100, 0.5, 6),
        (50, 100, 0.5, 12),
        (50, 180, 0.6, 12),  # the column is printed up to 180 psi, the row up to 60 %
        (50, 181, 0.5, 48),
        (30, 315, 0.5, 144),
        (15, 60, 0.8, 72),  # 48 h and half as much again
        (60, 100, 0.5, 12),  # the edge belongs to the colder band
        (40, 100, 0.5, 36),
        (10, 100, 0.5, 48),  # an outer edge belongs to its own band
        (100, 100, 0.5, 6),
    ],
)
def test_cure_hours_as_printed_in_d2855_96(temp: float, pressure: float, rh: float, hours: float) -> None:
    answer = CARD.cure(inch("6"), fahr(temp), psi(pressure), rh)
    assert answer is not None
    assert answer.time == pytest.approx(hours * HOUR)


@pytest.mark.parametrize(
    ("size", "temp", "pressure", "rh"),
    [
        ("10", 70, 100, 0.5),  # no row above NPS 8
        ("3", 70, 100, 0.5),  # none below this row's sizes: nothing between rows
        ("6", 101, 100, 0.5),
        ("6", 9, 100, 0.5),
        ("6", 70, 316, 0.5),
        ("6", None, 100, 0.5),
        ("6", 70, None, 0.5),
        ("6", 70, 100, None),
    ],
)
def test_outside_the_card_or_not_known_gives_nothing(
    size: str, temp: float | None, pressure: float | None, rh: float | None
) -> None:
    kelvin = None if temp is None else fahr(temp)
    pascal = None if pressure is None else psi(pressure)
    assert CARD.cure(inch(size), kelvin, pascal, rh) is None


def test_metric_size_never_meets_an_inch_row() -> None:
    assert CARD.cure(Size.parse("d6"), fahr(70), psi(100), 0.5) is None
    assert CARD.suits(Size.parse("d160")) is None
    assert CARD.suits(inch("12")) is True
    assert CARD.suits(inch("14")) is False
    assert replace(CARD, sizes_to=None).suits(inch("2")) is None


@given(
    edge=st.sampled_from([20.0, 40.0, 60.0]),
    off=st.sampled_from([-0.5, -1e-3, -1e-4, 0.0, 1e-4, 1e-3, 0.5]),
    pressure=st.sampled_from([10.0, 179.9, 180.0, 180.1, 315.0]),
)
def test_a_shared_edge_belongs_to_the_colder_band(edge: float, off: float, pressure: float) -> None:
    answer = CARD.cure(inch("6"), fahr(edge + off), psi(pressure), 0.5)
    assert answer is not None
    colder = next(band for band in CURE_H if band[1] == edge)
    warmer = next(band for band in CURE_H if band[0] == edge)
    band = warmer if off > 0 else colder
    assert answer.time == CURE_H[band][0 if pressure <= 180 else 1] * HOUR


@pytest.mark.parametrize("edge_F", [20, 40, 60])
def test_an_edge_typed_in_celsius_is_the_same_edge(edge_F: int) -> None:
    celsius = parse(f"{(edge_F - 32) / 1.8!r} C", "temperature")
    in_f = CARD.handling(inch("6"), fahr(edge_F), 0.5)
    in_c = CARD.handling(inch("6"), celsius, 0.5)
    assert in_f is not None
    assert in_c == in_f


def test_a_card_may_give_its_edges_to_the_warmer_band() -> None:
    warm = replace(CARD, edges="warmer")
    answer = warm.cure(inch("6"), fahr(60), psi(100), 0.5)
    assert answer is not None
    assert answer.time == 6 * HOUR


def test_an_edge_stays_with_the_colder_band_even_where_that_prints_no_time() -> None:
    rows = tuple(r for r in CARD.rows if not (r.temp_hi == fahr(60) and r.pressure_max == psi(315)))
    short = replace(CARD, rows=rows)
    assert short.cure(inch("6"), fahr(60), psi(200), 0.5) is None
    assert short.cure(inch("6"), fahr(60.01), psi(200), 0.5) is not None


@given(
    temps=st.tuples(st.floats(10, 100), st.floats(10, 100)),
    loads=st.tuples(st.floats(0, 315), st.floats(0, 315)),
    damp=st.tuples(st.floats(0, 1), st.floats(0, 1)),
)
def test_colder_higher_damper_is_never_shorter_on_a_card_that_prints_so(
    temps: tuple[float, float], loads: tuple[float, float], damp: tuple[float, float]
) -> None:
    kind = CARD.cure(inch("6"), fahr(max(temps)), psi(min(loads)), min(damp))
    harsh = CARD.cure(inch("6"), fahr(min(temps)), psi(max(loads)), max(damp))
    assert kind is not None
    assert harsh is not None
    assert harsh.time >= kind.time


def test_a_row_is_given_as_printed_even_where_it_is_shorter_in_the_cold() -> None:
    # A card is not corrected: what it prints is what counts.
    odd = replace(CARD, factors=(), rows=(
        CardRow(kind="cure", size_lo=inch("2"), size_hi=inch("4"), temp_lo=fahr(40), temp_hi=fahr(60),
                pressure_max=psi(100), time=1 * HOUR),
        CardRow(kind="cure", size_lo=inch("2"), size_hi=inch("4"), temp_lo=fahr(60), temp_hi=fahr(100),
                pressure_max=psi(100), time=9 * HOUR),
    ))  # fmt: skip
    cold, warm = (odd.cure(inch("3"), fahr(t), psi(50), None) for t in (50, 70))
    assert cold is not None
    assert warm is not None
    assert (cold.time, warm.time) == (1 * HOUR, 9 * HOUR)


def test_humidity_past_the_rows_without_a_factor_gives_nothing() -> None:
    dry = replace(CARD, factors=())
    assert dry.cure(inch("6"), fahr(70), psi(100), 0.6) is not None
    assert dry.cure(inch("6"), fahr(70), psi(100), 0.61) is None
    # A factor that begins above the row's own end leaves a gap, and in the gap nothing is printed.
    gap = replace(CARD, factors=(CardFactor(when="damp", times=2.0, humidity_over=0.8),))
    assert gap.cure(inch("6"), fahr(70), psi(100), 0.7) is None
    assert gap.cure(inch("6"), fahr(70), psi(100), 0.9) is None


def test_factors_named_by_the_caller_multiply() -> None:
    loose = CardFactor(when="loose fit", times=2.0, kinds=("cure",))
    card = replace(CARD, factors=(*CARD.factors, loose))
    cure = card.cure(inch("6"), fahr(70), psi(100), 0.9, also={"loose fit"})
    hands_off = card.handling(inch("6"), fahr(70), 0.9, also={"loose fit"})
    assert cure is not None
    assert hands_off is not None
    assert cure.time == 6 * HOUR * 1.5 * 2.0
    assert hands_off.time == 0.5 * HOUR * 1.5


def test_of_two_rows_that_both_fit_the_longer_holds() -> None:
    rows = tuple(
        CardRow(kind="hold", size_lo=inch(lo), size_hi=inch(hi), time=t)
        for lo, hi, t in [("2", "6", 60.0), ("6", "12", 180.0)]
    )
    card = replace(CARD, rows=rows)
    at_six = card.hold(inch("6"))
    at_four = card.hold(inch("4"))
    assert at_six is not None
    assert at_four is not None
    assert (at_four.time, at_six.time) == (60.0, 180.0)
    assert card.pullers_off(inch("6"), fahr(50)) is None


def test_working_time_takes_the_shorter_side_of_an_edge() -> None:
    card = replace(CARD, working=(
        WorkingRow(temp_lo=fahr(40), temp_hi=fahr(60), time=240.0),
        WorkingRow(temp_lo=fahr(60), temp_hi=fahr(90), time=120.0),
        WorkingRow(temp_lo=fahr(60), temp_hi=fahr(90), time=60.0, wind_max=5.0),
    ))  # fmt: skip
    times = [getattr(card.working_time(t), "time", None) for t in (fahr(50), fahr(60), fahr(91), None)]
    assert times == [240, 120, None, None]
    windy = card.working_time(fahr(70), wind=3.0)
    assert windy is not None
    assert windy.time == 60.0


def test_working_time_printed_for_a_thick_coat_says_nothing_of_a_thin_one() -> None:
    card = replace(CARD, working=(WorkingRow(time=240.0, film=0.6e-3),))
    assert card.working_time(fahr(70), film=0.6e-3) is not None
    assert card.working_time(fahr(70), film=0.5e-3) is None
    assert card.working_time(fahr(70)) is None


def test_joints_per_can_takes_the_row_that_makes_fewest() -> None:
    quart = parse("1 qt", "volume")
    card = replace(CARD, per_can=(
        PerCan(size_lo=inch("6"), size_hi=inch("6"), volume=quart, joints=8),
        PerCan(size_lo=inch("4"), size_hi=inch("8"), volume=4 * quart, joints=20),
    ))  # fmt: skip
    any_can = card.joints_per_can(inch("6"))
    one_quart = card.joints_per_can(inch("6"), quart)
    assert any_can is not None
    assert one_quart is not None
    assert (any_can.joints, one_quart.joints) == (20, 8)
    assert card.joints_per_can(inch("10")) is None


def test_read_back_needs_two_people() -> None:
    assert not CARD.read_back
    assert not replace(CARD, typed_by="P-1", read_back_by="P-1").read_back
    assert replace(CARD, typed_by="P-1", read_back_by="P-2").read_back
