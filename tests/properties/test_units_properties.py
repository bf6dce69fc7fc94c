"""What must hold for any number: nothing is lost between reading and showing, no run drifts, no crash."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from hypothesis import example, given
from hypothesis import strategies as st

from lineproof.floor.errors import LineproofError
from lineproof.floor.rounding import round_run, steps
from lineproof.floor.units import (
    UNITS,
    Shown,
    parse,
    parse_length,
    parse_slope,
    show,
    show_inches,
    show_length,
)

metres = st.floats(-2000.0, 2000.0)
ways = st.builds(
    Shown,
    length=st.sampled_from(["in", "mm"]),
    inch_step=st.sampled_from([1, 2, 4, 8, 16, 32, 64]),
    mm_step=st.sampled_from([0.1, 0.5, 1.0, 5.0]),
    pressure=st.sampled_from(sorted(UNITS["pressure"])),
    temperature=st.sampled_from(["F", "C", "K"]),
    volume=st.sampled_from(sorted(UNITS["volume"])),
    mass=st.sampled_from(sorted(UNITS["mass"])),
    time=st.sampled_from(["auto", *sorted(UNITS["time"])]),
    flow=st.sampled_from(sorted(UNITS["flow"])),
    expansion=st.sampled_from(sorted(UNITS["expansion"])),
)


@given(metres, ways, st.booleans())
def test_a_length_comes_back_within_half_a_step(value: float, shown: Shown, feet: bool) -> None:
    text = show_length(value, shown, feet=feet)
    assert abs(parse_length(text) - value) <= shown.step / 2 * (1 + 1e-6)
    if not feet:
        assert text == show_inches(value, shown)


@given(st.integers(-(10**6), 10**6), ways)
def test_what_stands_on_a_step_comes_back_as_it_was(count: int, shown: Shown) -> None:
    value = count * shown.step
    text = show_length(value, shown)
    assert math.isclose(parse_length(text), value, rel_tol=1e-12, abs_tol=1e-12)
    assert show_length(parse_length(text), shown) == text


@given(metres, ways)
def test_a_length_and_its_opposite_look_alike(value: float, shown: Shown) -> None:
    there, back = show_length(value, shown), show_length(-value, shown)
    assert there.lstrip("-") == back.lstrip("-")
    assert (there == back) == (parse_length(there) == 0.0)


@given(
    st.sampled_from(sorted(set(UNITS) - {"length", "count", "plain"})),
    st.floats(-1e6, 1e6),
    ways,
    st.integers(0, 6),
)
def test_any_value_comes_back_within_half_its_last_digit(
    quantity: str, number: float, shown: Shown, digits: int
) -> None:
    name = shown.unit_name(quantity)
    unit = UNITS[quantity]["min" if name == "auto" else name]
    value = unit.to_si(number)
    if quantity == "temperature":
        value = abs(value)
    shown_value = show(value, quantity, shown, digits=digits)
    used = UNITS[quantity][shown_value.split(" ", 1)[1]]
    half = used.factor / used.over * 10.0**-digits / 2
    assert abs(parse(shown_value, quantity) - value) <= half * (1 + 1e-6) + 1e-12 * abs(value)


@given(st.sampled_from(sorted(set(UNITS) - {"length", "count", "plain"})), st.floats(-1e6, 1e6), ways)
def test_the_usual_text_loses_no_more_than_its_last_digit(quantity: str, number: float, shown: Shown) -> None:
    name = shown.unit_name(quantity)
    unit = UNITS[quantity]["min" if name == "auto" else name]
    value = abs(unit.to_si(number))
    text = show(value, quantity, shown)
    used = UNITS[quantity][text.split(" ", 1)[1]]
    size = abs(used.from_si(value))
    step = 10.0**-used.decimals if used.decimals >= 0 else 10.0 ** (math.floor(math.log10(size or 1.0)) - 5)
    allowed = used.factor / used.over * step / 2
    assert abs(parse(text, quantity) - value) <= allowed * (1 + 1e-6) + 1e-12 * value


@given(st.floats(-1e12, 1e12))
def test_a_plain_number_keeps_six_figures(value: float) -> None:
    assert math.isclose(parse(show(value, "plain", Shown.us()), "plain"), value, rel_tol=5.1e-6, abs_tol=0.0)


@given(st.integers(0, 10**9))
def test_a_count_comes_back_whole(count: int) -> None:
    assert parse(show(float(count), "count", Shown.us()), "count") == count


@given(
    st.integers(0, 500), st.integers(0, 11), st.integers(0, 63), st.sampled_from([2, 3, 8, 10, 16, 64]),
    st.sampled_from(["'", "\u2019", "\u2032", " ft", "ft "]), st.sampled_from(["-", " ", " - ", ""]),
    st.sampled_from(['"', "''", "\u2033", "\u201d", " in", "in"]), st.sampled_from([" ", "-"]),
)  # fmt: skip
def test_feet_and_inches_agree_with_exact_fractions(
    feet: int, inches: int, top: int, bottom: int, foot: str, joint: str, inch: str, gap: str
) -> None:
    """Outside: exact rational arithmetic (fractions), an inch being 254/10000 m by definition."""
    top %= bottom
    part = f"{gap}{top}/{bottom}" if top else ""
    exact = (feet * 12 + inches + Fraction(top, bottom)) * Fraction(254, 10000)
    assert math.isclose(parse_length(f"{feet}{foot}{joint}{inches}{part}{inch}"), float(exact), rel_tol=1e-14)


run = st.lists(st.tuples(st.floats(-30.0, 30.0), st.booleans()), max_size=60)


@given(run, st.sampled_from([0.0254 / 16, 0.0254 / 64, 0.001, 0.0005, 0.1, 1.0, 1 / 3]))
@example([(0.5, False)] * 9, 1.0)
def test_no_run_drifts_by_more_than_half_a_step(lengths: list[tuple[float, bool]], step: float) -> None:
    """Outside: the sums are taken in exact fractions of the very floats."""
    exact = [Fraction(length) for length, _ in lengths]
    restart = [mark for _, mark in lengths]
    rounded = round_run([length for length, _ in lengths], step, restart=restart)
    assert len(rounded) == len(lengths)
    drift = Fraction(0)
    for i, length in enumerate(rounded):
        count = round(Fraction(length) / Fraction(step))
        assert abs(length - count * step) <= 1e-12
        if restart[i]:
            drift = Fraction(0)
        drift += count * Fraction(step) - exact[i]
        # 1e-9 of a step, and the last digit of a quotient of up to 60 x 30 m
        assert abs(drift) <= Fraction(step) / 2 * (1 + Fraction(1, 10**9)) + Fraction(1, 10**12)
        assert abs(count * Fraction(step) - exact[i]) <= Fraction(step) * (1 + Fraction(2, 10**9))


@given(st.lists(st.floats(0.0, 30.0), max_size=60))
def test_a_length_that_is_not_negative_never_becomes_negative(lengths: list[float]) -> None:
    assert all(length >= 0.0 for length in round_run(lengths, 0.001))


@given(st.integers(-(10**9), 10**9), st.floats(-0.499, 0.4999))
def test_steps_find_the_nearest(count: int, off: float) -> None:
    assert steps((count + off) * 0.5, 0.5) == count


alphabet = st.sampled_from(
    list("0123456789 '\"-+./,:%()einftmpsagkNFCKPhdL")
    + list("\u00bd\u00bc\u2032\u2033\u00b0\u00b2\u00a0\u2044\u0661\u0000")
)
site_text = st.one_of(
    st.text(max_size=100),
    st.text(alphabet, max_size=24),
    st.lists(
        st.sampled_from(
            ["12", "6", "1/2", "'", '"', "-", " ", "ft", "in", "mm", "1e999", ".", "psi", "F", ":", "per"]
        ),
        max_size=8,
    ).map("".join),
)


def read_or_refused(read: Callable[[], float]) -> float | LineproofError:
    try:
        return read()
    except LineproofError as refusal:
        return refusal


@given(site_text, st.sampled_from(sorted(UNITS)), st.sampled_from(["", "in", "psi", "F", "\u0000"]))
@example("9" * 5000, "length", "")
@example("1" + "\u00bd" * 40, "length", "")
def test_any_text_is_read_or_refused_in_words(text: str, quantity: str, default_unit: str) -> None:
    got = read_or_refused(lambda: parse(text, quantity, default_unit=default_unit))
    if isinstance(got, LineproofError):
        assert str(got).isprintable()
        assert got.given
    else:
        assert math.isfinite(got)
        assert any(c.isdigit() or not c.isascii() for c in text)


@given(site_text)
def test_any_slope_is_read_or_refused_in_words(text: str) -> None:
    got = read_or_refused(lambda: parse_slope(text))
    if isinstance(got, LineproofError):
        assert str(got).isprintable()
    else:
        assert 0.0 < got < math.inf
