"""The pressure clock of joints' records, against its rule told in plain Python, and what must always hold.

The card is that of ``cure_rig`` (from memory); the rule is the one of ``clock_rig.plain_clock``, once for the
hands-off time that excuses a move, and once for the pressure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from clock_rig import HOUR, fahr, plain_clock
from cure_rig import CARD, inch, psi
from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.checks.curing import Cured
from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Verdict
from lineproof.job.progress import NO_AIR, Disturbance, JointProgress, Progress, Series, SiteAir
from lineproof.plan.alike import Alike
from lineproof.plan.cure_clocks import CureAsked, CureClocks
from lineproof.sums.readings import Readings

BEGIN = datetime(2026, 11, 22, 8, 0, tzinfo=UTC)
SIZES = [inch(text) for text in ("1", "2", "6")]
PRESSURES = [0.0, 100.0, 180.0, 180.01, 315.0]

Pair = tuple[float, float]


def at(seconds: float) -> datetime:
    return BEGIN + timedelta(seconds=seconds)


@dataclass(frozen=True)
class Story:
    """One joint: seconds since it was made; readings within two hours of each other or not."""

    cold: float
    readings: tuple[Pair, ...]
    started: float
    humidity: float
    late: tuple[Pair, ...] = ()
    touched: tuple[tuple[float, str], ...] = ()
    ever: float | None = None

    @property
    def now(self) -> float:
        return self.readings[-1][0]

    def joint(self) -> JointProgress:
        def told(pairs: Sequence[Pair]) -> Readings:
            return Readings([at(t).timestamp() for t, _ in pairs], [value for _, value in pairs])

        grid = [(h * HOUR, self.humidity) for h in range(int(self.now // HOUR) + 3)]
        return JointProgress(
            id="L/J1", made=True, assembled=BEGIN, temperature=self.cold, humidity=self.humidity,
            hold_ended=at(self.started), now=at(self.now),
            readings=Series(told(self.readings), told(self.late), self.ever), damp=Series(told(grid)),
            disturbances=tuple(
                Disturbance(at(t), at(t), kind) for t, kind in sorted(self.touched, key=lambda e: e[0])
            ),
        )  # fmt: skip

    def plainly(self, kind: str, size: Size, pressure: float, started: float) -> float | None:
        """When the wait is whole, in seconds since it was made."""
        first = self.cold if self.ever is None else min(self.cold, self.ever)
        points = [(0.0, first, self.humidity), *((t, c, self.humidity) for t, c in self.readings)]

        def wait(coldest: float, dampest: float) -> float | None:
            if kind == "handling":
                row = CARD.handling(size, coldest, dampest)
            else:
                row = CARD.cure(size, coldest, psi(pressure), dampest)
            return None if row is None else row.time

        return plain_clock(points, wait, started=started, late=self.late)

    def oracle(self, size: Size, pressure: float) -> float | None:
        started = self.started
        for t, kind in sorted(self.touched, key=lambda e: e[0]):
            whole = self.plainly("handling", size, pressure, started)
            if kind == "moved" and whole is not None and whole <= t:
                continue
            started = max(started, t)
        return self.plainly("cure", size, pressure, started)


def asked(story: Story, size: Size, pressure: float) -> CureAsked:
    return CureAsked(joint=story.joint(), size=size, card=CARD, pressure=psi(pressure), pullers=False)


def told(stories: Sequence[Story], size: Size = SIZES[1], pressure: float = 150.0) -> list[Cured]:
    now = max(s.now for s in stories)
    return CureClocks(Progress(now=at(now)), UTC).facts_of([asked(s, size, pressure) for s in stories])


def seconds(facts: Cured) -> float:
    """When it was whole; infinity if it is not."""
    return float("inf") if facts.reached is None else (facts.reached - BEGIN).total_seconds()


temperatures = st.one_of(
    st.sampled_from([fahr(f) for f in (60, 60.01, 40, 40.01, 39.99, 20, 100)]),
    st.floats(fahr(35), fahr(75)),
    st.floats(fahr(5), fahr(105)),
)


@st.composite
def stories(draw: st.DrawFn) -> Story:
    steps = st.one_of(st.integers(600, 7200), st.just(7200), st.just(3600), st.sampled_from([3600, 7201]))
    t, readings = 0.0, []
    for _ in range(draw(st.integers(3, 20))):
        t += draw(steps)
        readings.append((t, draw(temperatures)))
    inside = st.integers(0, int(t)).map(float)
    kinds = st.sampled_from(["moved", "moved", "disturbed"])
    return Story(
        cold=draw(temperatures),
        readings=tuple(readings),
        started=float(draw(st.integers(0, 1800))),
        humidity=draw(st.sampled_from([0.3, 0.6, 0.601])),
        late=tuple(draw(st.lists(st.tuples(inside, temperatures), max_size=2))),
        touched=tuple(draw(st.lists(st.tuples(inside, kinds), max_size=3))),
        ever=draw(st.one_of(st.none(), st.none(), temperatures)),
    )


sizes, pressures = st.sampled_from(SIZES), st.sampled_from(PRESSURES)


@settings(max_examples=150)
@given(story=stories(), size=sizes, pressure=pressures)
def test_same_as_the_rule_told_plainly(story: Story, size: Size, pressure: float) -> None:
    facts = told([story], size, pressure)[0]
    plain = story.oracle(size, pressure)
    assert seconds(facts) == (float("inf") if plain is None else round(plain, 6))
    if facts.reached is None:
        assert facts.codes or facts.wait is None


@settings(max_examples=60)
@given(story=stories(), size=sizes, pressure=pressures)
def test_never_earlier_than_the_printed_row_of_the_coldest_met_times_all_factors(
    story: Story, size: Size, pressure: float
) -> None:
    facts = told([story], size, pressure)[0]
    if facts.reached is None:
        assert facts.not_before is None or facts.not_before > at(story.now)
        return
    whole = seconds(facts)
    met = [story.cold, *(c for t, c in story.readings if t <= whole)]
    met += [c for t, c in story.late if t <= whole]
    met += [] if story.ever is None else [story.ever]
    printed = CARD.cure(size, min(met), psi(pressure), story.humidity)
    assert printed is not None
    disturbed = [t for t, kind in story.touched if kind == "disturbed"]
    assert whole - max([story.started, *disturbed]) >= printed.time - 1e-3


@settings(max_examples=60)
@given(story=stories(), drop=st.floats(0.0, 15.0), pressure=pressures)
def test_colder_is_never_earlier(story: Story, drop: float, pressure: float) -> None:
    """Moves are left out: a colder joint may be disturbed by a move that a warmer one was not, never less."""
    still = replace(story, touched=())
    colder = replace(
        still,
        cold=story.cold - drop,
        readings=tuple((t, c - drop) for t, c in story.readings),
        late=tuple((t, c - drop) for t, c in story.late),
    )
    first, second = told([still, colder], pressure=pressure)
    assert seconds(second) >= seconds(first)


@settings(max_examples=60)
@given(story=stories(), pairs=st.tuples(pressures, pressures), both=st.tuples(sizes, sizes))
def test_damper_larger_and_higher_pressure_are_never_earlier(
    story: Story, pairs: tuple[float, float], both: tuple[Size, Size]
) -> None:
    low, high = sorted(pairs)
    small, large = sorted(both, key=lambda s: s.nominal)
    damper = replace(story, humidity=max(story.humidity, 0.601))
    base = seconds(told([story], small, low)[0])
    assert seconds(told([story], small, high)[0]) >= base
    assert seconds(told([story], large, low)[0]) >= base
    assert seconds(told([damper], small, low)[0]) >= base


@settings(max_examples=80)
@given(story=stories(), data=st.data())
def test_late_cold_a_disturbance_and_a_clock_that_is_unsure_are_never_earlier(
    story: Story, data: st.DataObject
) -> None:
    inside = st.integers(0, int(story.now)).map(float)
    when, cold = data.draw(inside), data.draw(temperatures)
    kind = data.draw(st.sampled_from(["moved", "disturbed"]))
    base, late, knocked, ever = told(
        [
            story,
            replace(story, late=(*story.late, (when, cold))),
            replace(story, touched=(*story.touched, (when, kind))),
            replace(story, ever=cold if story.ever is None else min(cold, story.ever)),
        ]
    )  # fmt: skip
    assert seconds(late) >= seconds(base)
    assert seconds(knocked) >= seconds(base)
    assert seconds(ever) >= seconds(base)


@settings(max_examples=40)
@given(told_of=st.lists(stories(), min_size=2, max_size=6), size=sizes, pressure=pressures)
def test_joints_asked_together_are_each_as_alone(told_of: list[Story], size: Size, pressure: float) -> None:
    now = at(max(s.now for s in told_of))
    clocks = CureClocks(Progress(now=now), UTC)
    together = clocks.facts_of([asked(s, size, pressure) for s in told_of])
    for story, facts in zip(told_of, together, strict=True):
        one = asked(story, size, pressure)
        alone = CureClocks(Progress(now=now), UTC).facts(
            one.joint, one.size, one.card, pressure=one.pressure, pullers=one.pullers
        )
        assert alone == facts


@st.composite
def beside(draw: st.DrawFn) -> tuple[Story, tuple[Pair, ...], tuple[Pair, ...]]:
    """A logger that reads each hour, now and then a hole, and a few readings of the joint alone."""
    warm = draw(st.sampled_from([fahr(70), fahr(50), fahr(41)]))
    hours = [float(h) * HOUR for h in range(1, draw(st.integers(6, 30)))]
    gap = draw(st.one_of(st.none(), st.integers(0, len(hours) - 3)))
    kept = [t for n, t in enumerate(hours) if gap is None or not gap <= n < gap + 2]
    story = Story(
        cold=warm + draw(st.floats(-1.0, 5.0)),
        readings=tuple((t, warm + draw(st.floats(-1.0, 5.0))) for t in kept),
        started=float(draw(st.integers(0, 1800))),
        humidity=0.5,
        late=tuple(draw(st.lists(st.tuples(st.floats(-2.0 * HOUR, hours[-1]), temperatures), max_size=1))),
    )
    # What was read of a joint more than two hours before it was made says nothing of it, and is passed over
    # where readings are shared.
    times = st.floats(-2.0 * HOUR, hours[-1])
    close = st.floats(warm - 3.0, warm + 6.0)
    pairs = st.lists(st.tuples(times, st.one_of(close, close, temperatures)), max_size=2)
    return story, tuple(draw(pairs)), tuple(draw(pairs))


@settings(max_examples=300)
@given(told_of=beside(), pressure=pressures, air=st.one_of(st.none(), st.sampled_from([fahr(45), fahr(70)])))
def test_what_is_held_for_many_and_beside_it_is_as_one_series(
    told_of: tuple[Story, tuple[Pair, ...], tuple[Pair, ...]], pressure: float, air: float | None
) -> None:
    """The coldest may be told a little otherwise where both lie in one band; nothing else may."""
    story, held, late = told_of
    own = Series(
        Readings([at(t).timestamp() for t, _ in held], [c for _, c in held]),
        Readings([at(t).timestamp() for t, _ in late], [c for _, c in late]),
        base=story.joint().readings,
    )
    both = replace(
        story,
        readings=tuple(sorted((*story.readings, *held))),
        late=(*story.late, *late),
    )
    one = asked(both, SIZES[1], pressure)
    one = replace(one, joint=replace(one.joint, now=at(story.now)))
    two = replace(one, joint=replace(one.joint, readings=own))
    hours = [at(h * HOUR).timestamp() for h in range(-4, 40)]
    seen = NO_AIR if air is None else SiteAir(seen=Readings(hours, [air] * len(hours)), margin=0.0)
    whole, split = CureClocks(Progress(now=at(story.now)), UTC, weather=seen).facts_of([one, two])
    assert replace(split, coldest=whole.coldest) == whole


def test_a_reading_of_the_joint_alone_closes_a_hole_of_the_logger() -> None:
    """4 h at 50 F to 180 psi. A hole of 3 h of the logger that the weather covers, read by hand inside."""
    story = Story(
        cold=fahr(50), started=0.0, humidity=0.5,
        readings=tuple((h * HOUR, fahr(50)) for h in (1, 4, 5, 6, 7, 8)),
    )  # fmt: skip
    joint = story.joint()
    hours = [at(h * HOUR).timestamp() for h in range(12)]
    air = SiteAir(seen=Readings(hours, [fahr(50)] * 12), margin=0.0)

    def whole_after(own: Series) -> float:
        one = replace(asked(story, SIZES[1], 150.0), joint=replace(joint, readings=own))
        return seconds(CureClocks(Progress(now=at(story.now)), UTC, weather=air).facts_of([one])[0]) / HOUR

    def read(hour: float, degrees: float = 50.0) -> Series:
        return Series(Readings([at(hour * HOUR).timestamp()], [fahr(degrees)]), base=joint.readings)

    assert whole_after(joint.readings) == 7.0, "the hole earns nothing"
    assert whole_after(read(2.5)) == 4.0
    assert whole_after(read(5.5)) == 7.0
    assert whole_after(read(2.5, 30.0)) == float("inf"), "12 h in that band"


@settings(max_examples=60)
@given(told_of=st.lists(stories(), min_size=2, max_size=8), size=sizes, pressure=pressures)
def test_joints_told_together_are_those_that_are_ready_alone(
    told_of: list[Story], size: Size, pressure: float
) -> None:
    """Own rule: only a GO is told for several, and names each once; everything else stands alone."""
    now = at(max(s.now for s in told_of))
    named = [
        replace(one, joint=replace(one.joint, id=f"J{n}"))
        for n, one in enumerate(asked(s, size, pressure) for s in told_of)
    ]
    alone = {
        facts.subject: ask("CUR-01", facts, book())
        for facts in CureClocks(Progress(now=now), UTC).facts_of(named)
    }
    together = Alike([one.joint.id for one in named], book())
    for place, told in enumerate(CureClocks(Progress(now=now), UTC).told_of(named)):
        together.put(place, (told,))
    seen: list[str] = []
    for found in together.findings():
        names = found.facts["joints"]
        assert isinstance(names, tuple)
        seen += names
        assert {alone[name].verdict for name in names} == {found.verdict}
        if len(names) > 1:
            assert found.verdict is Verdict.GO
            ready = [alone[name].facts["reached"] for name in names]
            assert found.facts["reached"] == max(ready, key=str), "the one that was ready last speaks for all"
        else:
            assert replace(found, facts={**found.facts, "subjects": ()}) == alone[names[0]]
    assert sorted(seen) == sorted(alone)
