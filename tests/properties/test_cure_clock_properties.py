"""The cure clock against its rule told in plain Python, and what must hold for any history."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from clock_rig import HOUR, plain_clock
from lineproof.book.sizes import Size
from lineproof.job.card_rows import CardFactor, CardRow
from lineproof.job.cards import CementCard
from lineproof.job.clock_card import card_waits
from lineproof.sums.cure_clock import CureClock, History, cure_clock
from lineproof.sums.readings import Readings, Weather
from lineproof.sums.waits import Waits

SIZES = [Size.parse(f"{n}in") for n in (2, 4, 6, 8, 12)]
BANDS = [(255.0, 272.0), (272.0, 278.0), (278.0, 289.0), (289.0, 311.0)]  # coldest first [K]
TOPS = [0.5e6, 1.5e6]
COLD_K = 254.0
"""A little below the coldest band, so that some histories leave the card."""

Reading = tuple[float, float, float]


def without_holes(points: Sequence[Reading]) -> Readings:
    """Humidity at each reading, and each hour between two of them at the damper one."""
    given = [(t, rh) for t, _, rh in points[1:]]
    for (t0, _, rh0), (t1, _, rh1) in pairwise(points):
        given += [(t0 + HOUR * k, max(rh0, rh1)) for k in range(1, int((t1 - t0) // HOUR) + 1)]
    return Readings([t for t, _ in given], [rh for _, rh in given])


@dataclass(frozen=True)
class Story:
    """One joint's history: readings of time, temperature and humidity, the assembly first; whole seconds."""

    points: tuple[Reading, ...]
    started: float
    late: tuple[tuple[float, float], ...] = ()
    disturbed: tuple[float, ...] = ()
    air: float | None = None

    @property
    def now(self) -> float:
        return self.points[-1][0]

    def clock(self, waits: Waits) -> CureClock:
        made, *rest = self.points
        times = [t for t, _, _ in rest]
        weather = None
        if self.air is not None:
            every = [600.0 * i for i in range(int(self.now // 600) + 3)]
            weather = Weather(every, [self.air] * len(every), margin=2.0)
        history = History(
            Readings(times, [temp for _, temp, _ in rest]),
            late=Readings([t for t, _ in self.late], [temp for _, temp in self.late]),
            weather=weather,
            humidity=without_holes(self.points),
        )
        return cure_clock(
            history, waits, now=self.now, assembled=made[0], temperature=made[1], humidity=made[2],
            started=self.started, disturbed=self.disturbed,
        )  # fmt: skip

    def plainly(self, waits: Waits) -> float | None:
        return plain_clock(
            self.points,
            lambda temp, rh: waits(temp, rh),
            started=max([self.started, *self.disturbed]),
            late=self.late,
            air=lambda a, b: None if self.air is None else self.air - 2.0,
        )


@st.composite
def cards(draw: st.DrawFn) -> CementCard:
    """Times as sums of steps that are never negative: longer for larger, colder, higher pressure, damp."""
    step = st.one_of(st.integers(0, 2000), st.integers(0, 9000))
    cut = draw(st.integers(1, len(SIZES) - 1))
    groups = [(SIZES[0], SIZES[cut - 1]), (SIZES[cut], SIZES[-1])]
    by_size = [draw(step) for _ in groups]
    by_band = [draw(step) for _ in BANDS]
    by_top = [draw(step) for _ in TOPS]
    rows = tuple(
        CardRow(
            kind="cure", size_lo=lo, size_hi=hi, temp_lo=cold, temp_hi=warm, pressure_max=top,
            time=float(600 + sum(by_size[: g + 1]) + sum(by_band[b:]) + sum(by_top[: c + 1])),
        )
        for g, (lo, hi) in enumerate(groups)
        for b, (cold, warm) in enumerate(BANDS)
        for c, top in enumerate(TOPS)
    )  # fmt: skip
    damp = CardFactor(when="damp", times=draw(st.sampled_from([1.0, 1.5, 2.0])), humidity_over=0.6)
    return CementCard(id="C", product="made up", material="pvc", rows=rows, factors=(damp,))


temperatures = st.one_of(
    st.floats(256.0, 310.0),
    st.integers(270, 300).map(float),
    st.sampled_from([edge for _, edge in BANDS]),
    st.floats(COLD_K, 310.0),
)
humidities = st.sampled_from([0.3, 0.6, 0.61, 1.0])


@st.composite
def stories(draw: st.DrawFn) -> Story:
    """Steps of up to two hours, now and then a hole."""
    at = float(draw(st.integers(0, 3600)))
    points = [(at, draw(temperatures), draw(humidities))]
    steps = st.one_of(
        st.integers(1, 7200),
        st.integers(1200, 7200),
        st.just(7200),
        st.just(3600),
        st.sampled_from([7201, 20_000]),
    )
    for _ in range(draw(st.integers(1, 25))):
        at += draw(steps)
        points.append((at, draw(temperatures), draw(humidities)))
    first, last = points[0][0], points[-1][0]
    inside = st.integers(int(first), int(last)).map(float)
    return Story(
        points=tuple(points),
        started=first + draw(st.integers(0, 3000)),
        late=tuple((draw(inside), draw(temperatures)) for _ in range(draw(st.integers(0, 2)))),
        disturbed=tuple(draw(inside) for _ in range(draw(st.integers(0, 1)))),
        air=draw(st.one_of(st.none(), st.floats(265.0, 300.0))),
    )


def table(card: CementCard, size: Size = SIZES[0], pressure: float = 0.4e6) -> Waits:
    return card_waits(card, "cure", size, pressure_Pa=pressure).waits


def never(value: float | None) -> float:
    return float("inf") if value is None else value


@given(card=cards(), story=stories())
def test_same_as_the_rule_told_plainly(card: CementCard, story: Story) -> None:
    assert story.clock(table(card)).reached_at == story.plainly(table(card))


@given(card=cards(), story=stories(), size=st.sampled_from(SIZES), pressure=st.sampled_from([0.2e6, 1e6]))
def test_never_earlier_than_the_printed_row_of_the_coldest_band_met(
    card: CementCard, story: Story, size: Size, pressure: float
) -> None:
    clock = story.clock(table(card, size, pressure))
    if clock.reached_at is None:
        assert clock.earliest_if is None or clock.earliest_if >= story.now
        assert clock.why_not
        assert clock.fraction is None or clock.fraction < 1.0
        return
    begun = max([story.started, *story.disturbed])
    met = [p for p in story.points if p[0] <= clock.reached_at]
    coldest = min(temp for _, temp, _ in met)
    dampest = max(rh for _, _, rh in met)
    printed = card.cure(size, coldest, pressure, dampest)
    assert printed is not None, "reached outside of the card"
    assert clock.reached_at - begun >= printed.time * (1 - 1e-12)
    assert clock.why_not == ()


@given(card=cards(), story=stories(), data=st.data())
def test_colder_is_never_earlier(card: CementCard, story: Story, data: st.DataObject) -> None:
    drop = st.floats(0.0, 20.0)
    colder = replace(
        story,
        points=tuple((t, max(200.0, temp - data.draw(drop)), rh) for t, temp, rh in story.points),
        late=tuple((t, temp - data.draw(drop)) for t, temp in story.late),
        air=None if story.air is None else story.air - data.draw(drop),
    )
    assert never(colder.clock(table(card)).reached_at) >= never(story.clock(table(card)).reached_at)


@given(card=cards(), story=stories(), data=st.data())
def test_damper_is_never_earlier(card: CementCard, story: Story, data: st.DataObject) -> None:
    damper = replace(
        story, points=tuple((t, temp, max(rh, data.draw(humidities))) for t, temp, rh in story.points)
    )
    assert never(damper.clock(table(card)).reached_at) >= never(story.clock(table(card)).reached_at)


@given(card=cards(), story=stories(), sizes=st.tuples(st.sampled_from(SIZES), st.sampled_from(SIZES)))
def test_larger_is_never_earlier_and_higher_pressure_neither(
    card: CementCard, story: Story, sizes: tuple[Size, Size]
) -> None:
    small, large = sorted(sizes, key=lambda s: s.nominal)
    base = never(story.clock(table(card, small)).reached_at)
    assert never(story.clock(table(card, large)).reached_at) >= base
    assert never(story.clock(table(card, small, 1e6)).reached_at) >= base
    assert story.clock(table(card, small, 2e6)).why_not[0] in ("temperature_hole", "no_card_row")


@given(card=cards(), story=stories(), data=st.data())
def test_a_late_reading_is_never_earlier(card: CementCard, story: Story, data: st.DataObject) -> None:
    when = data.draw(st.integers(int(story.points[0][0]), int(story.now)).map(float))
    late = replace(story, late=(*story.late, (when, data.draw(temperatures))))
    assert never(late.clock(table(card)).reached_at) >= never(story.clock(table(card)).reached_at)


@given(card=cards(), story=stories(), data=st.data())
def test_a_disturbance_is_never_earlier(card: CementCard, story: Story, data: st.DataObject) -> None:
    when = data.draw(st.integers(int(story.points[0][0]), int(story.now)).map(float))
    moved = replace(story, disturbed=(*story.disturbed, when))
    assert never(moved.clock(table(card)).reached_at) >= never(story.clock(table(card)).reached_at)


@given(card=cards(), story=stories(), data=st.data())
def test_splitting_an_interval_changes_nothing(card: CementCard, story: Story, data: st.DataObject) -> None:
    """A reading put in between, at the value that already holds there."""
    k = data.draw(st.integers(0, len(story.points) - 2))
    (t0, temp0, rh0), (t1, temp1, rh1) = story.points[k : k + 2]
    assume(2 <= t1 - t0 <= 2 * HOUR)
    held = [temp for t, temp in story.late if t0 <= t <= t1]
    at = t0 + data.draw(st.integers(1, int(t1 - t0) - 1))
    middle = (at, min([temp0, temp1, *held]), max(rh0, rh1))
    whole = story.clock(table(card))
    split = replace(story, points=(*story.points[: k + 1], middle, *story.points[k + 1 :])).clock(table(card))
    assert split.reached_at == whole.reached_at
    assert (split.fraction, split.wait, split.why_not) == (whole.fraction, whole.wait, whole.why_not)


@given(card=cards(), story=stories(), data=st.data())
def test_order_of_readings_changes_nothing(card: CementCard, story: Story, data: st.DataObject) -> None:
    """Readings in any order, some of them twice at one moment with other values."""
    made, *rest = story.points
    doubled = [*rest, *((t, data.draw(temperatures), data.draw(humidities)) for t, _, _ in rest[:3])]
    shuffled = data.draw(st.permutations(doubled))

    def ask(order: Sequence[Reading]) -> CureClock:
        times = [t for t, _, _ in order]
        history = History(
            Readings(times, [temp for _, temp, _ in order]),
            humidity=Readings(times, [rh for _, _, rh in order]),
        )
        return cure_clock(
            history, table(card), now=story.now, assembled=made[0], temperature=made[1], humidity=made[2],
            started=story.started,
        )  # fmt: skip

    assert ask(shuffled) == ask(doubled)


@given(card=cards(), temp=temperatures, rh=st.one_of(st.none(), humidities, st.floats(0.0, 1.0)),
       size=st.sampled_from(SIZES), pressure=st.floats(0.0, 2e6))  # fmt: skip
def test_the_table_says_what_the_card_says(
    card: CementCard, temp: float, rh: float | None, size: Size, pressure: float
) -> None:
    asked = card_waits(card, "cure", size, pressure_Pa=pressure)
    told = card.cure(size, temp, pressure, rh)
    assert asked.waits(temp, rh) == (None if told is None else told.time)
    assert asked.rests_on(temp, rh) == told


@given(data=st.data())
def test_a_table_is_never_shorter_than_its_look_up(data: st.DataObject) -> None:
    """Also for a look-up that is shorter for colder, and one with nothing printed between two bands."""
    edges = sorted(data.draw(st.sets(st.integers(250, 320).map(float), min_size=1, max_size=5)))
    cells = [data.draw(st.one_of(st.none(), st.floats(1.0, 1e6))) for _ in range(2 * (len(edges) + 1))]

    def lookup(temp: float, rh: float | None) -> float | None:
        return cells[2 * sum(temp > e for e in edges) + (rh is not None and rh > 0.6)]

    made = Waits.of(lookup, edges=edges, damp=[0.6])
    temp = data.draw(st.one_of(st.floats(240.0, 330.0), st.sampled_from(edges)))
    colder = temp - data.draw(st.floats(0.0, 60.0))
    rh = data.draw(humidities)
    told, printed, worse = made(temp, rh), lookup(temp, rh), made(colder, rh)
    assert (told is None) == (printed is None)
    if told is not None and printed is not None:
        assert told >= printed
        assert worse is None or worse >= told
