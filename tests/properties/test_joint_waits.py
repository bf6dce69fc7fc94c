"""With a card whose times never fall with size, cold or pressure a harder joint never waits less."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from lineproof.book.load import Book, book
from lineproof.book.sizes import Size
from lineproof.job.card_rows import CardFactor, CardRow
from lineproof.job.cards import CementCard
from lineproof.job.settings import Conditions
from lineproof.plan.joint_times import Clocks

SIZES = [Size.parse(f"{n}in") for n in (0.5, 1, 2, 3, 4, 6, 8, 10, 12)]
BANDS = [(255.0, 272.0), (272.0, 278.0), (278.0, 289.0), (289.0, 311.0)]  # coldest first [K]
COLUMNS = [0.5e6, 1.0e6, 1.5e6]


@st.composite
def monotone_cards(draw: st.DrawFn) -> CementCard:
    """Times as sums of steps that are never negative: a longer wait for larger, colder, higher pressure."""
    step = st.floats(0.0, 4e4)
    cuts = sorted(draw(st.sets(st.integers(1, len(SIZES) - 1), min_size=1, max_size=3)))
    groups = list(zip([0, *cuts], [*cuts, len(SIZES)], strict=True))
    by_size = [draw(step) for _ in groups]
    by_band = [draw(step) for _ in BANDS]
    by_column = [draw(step) for _ in COLUMNS]
    rows = []
    for g, (lo, hi) in enumerate(groups):
        for b, (cold, warm) in enumerate(BANDS):
            sized = {"size_lo": SIZES[lo], "size_hi": SIZES[hi - 1], "temp_lo": cold, "temp_hi": warm}
            base = 60.0 + sum(by_size[: g + 1]) + sum(by_band[b:])
            rows.append(CardRow(kind="handling", time=base, **sized))
            for c, top in enumerate(COLUMNS):
                time = base + sum(by_column[: c + 1])
                rows.append(CardRow(kind="cure", time=time, pressure_max=top, **sized))
    damp = CardFactor(when="damp", times=draw(st.floats(1.0, 3.0)), humidity_over=0.6)
    return CementCard(id="C", product="made up", material="pvc", rows=tuple(rows), factors=(damp,))


joints = st.tuples(
    st.sampled_from(SIZES), st.floats(256.0, 310.0), st.floats(-1e5, 1.6e6), st.floats(0.0, 1.0)
)
TABLES: Book = book()


def waits(card: CementCard, joint: tuple[Size, float, float, float]) -> tuple[float | None, float | None]:
    size, temperature, pressure, humidity = joint
    clocks = Clocks(TABLES, Conditions(pipe_temperature=temperature, humidity=humidity))
    return (
        clocks.handling("L", card, size, "pvc").time,
        clocks.cure("L", card, size, "pvc", pressure).time,
    )


@given(card=monotone_cards(), one=joints, other=joints)
def test_harder_never_waits_less(
    card: CementCard, one: tuple[Size, float, float, float], other: tuple[Size, float, float, float]
) -> None:
    easy = (min(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3]))
    hard = (max(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3]))
    (moved, cured), (moved_hard, cured_hard) = waits(card, easy), waits(card, hard)
    assert moved is not None
    assert moved_hard is not None
    assert moved_hard >= moved * (1 - 1e-12)
    if hard[2] <= COLUMNS[-1]:
        assert cured is not None
        assert cured_hard is not None
        assert cured_hard >= cured * (1 - 1e-12)
    elif hard[2] > COLUMNS[-1] + 1.0:
        assert cured_hard is None  # nothing is carried past the last column


@given(card=monotone_cards(), joint=joints, pressures=st.lists(st.floats(-1e5, 3e6), min_size=1, max_size=6))
def test_sharing_rows_between_joints_changes_no_time(
    card: CementCard, joint: tuple[Size, float, float, float], pressures: list[float]
) -> None:
    size, temperature, _, humidity = joint
    at = Conditions(pipe_temperature=temperature, humidity=humidity)
    shared = Clocks(TABLES, at)
    for pressure in pressures:
        alone = Clocks(TABLES, at).cure("L", card, size, "pvc", pressure)
        assert shared.cure("L", card, size, "pvc", pressure) == alone
