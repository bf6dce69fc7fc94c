"""The pressure clock when clocks lie: it is never whole before the true time has passed.

The rows are those of ``cure_rig`` (from memory): NPS 2 up to 180 psi, 4 h from 40 to 60 F. True hours are
counted by the test; the devices' clocks are set at will. Asked in three ways: on the device itself, for the
true time as typed elsewhere, and for what the wrong clock shows, typed as if it were true.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cure_rig import CARD, inch, psi
from lineproof.book.load import book
from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import moment_text
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen
from lineproof.plan.cure_clocks import CureClocks
from logbook.rig import ANNA, BELA, JOB, Hands, writer
from move_rig import fahr

GO, CANNOT_TELL = Verdict.GO, Verdict.CANNOT_TELL
J = "L/J1"
ZONE = ZoneInfo("Europe/London")
START = datetime(2026, 11, 22, 8, 0, tzinfo=UTC)
WAIT_H = 4.0


@dataclass
class Site:
    """Two devices that write into one logbook, and the true time."""

    folder: Path
    true: datetime = START
    phone: Hands = field(default_factory=lambda: Hands(START, boot="phone"))
    laptop: Hands = field(default_factory=lambda: Hands(START, boot="laptop"))

    def __post_init__(self) -> None:
        self.store = SqliteStore(self.folder / "logbook.db", job=JOB)
        clocks = (self.phone, self.laptop)
        self.pens = {clock.boot: Pen(self.store, writer(clock.boot, ANNA), clock) for clock in clocks}

    def wait(self, hours: float) -> None:
        self.true += timedelta(hours=hours)
        for clock in (self.phone, self.laptop):
            clock.wait(hours=hours)

    def made(self, on: str = "phone") -> None:
        self.pens[on].write("joint_made", {"joint": J, "joint_temperature": fahr(50)})
        self.pens[on].write("hold_end", {"joint": J})

    def read(self, on: str = "phone", cold: float = 50) -> None:
        self.pens[on].write("reading", {"temperature": fahr(cold), "of": "joint", "joint": J})

    def asked(self, now: Stamp) -> Verdict:
        progress = progress_of(fold(self.store.read_since()), now)
        facts = CureClocks(progress, ZONE, 0.5).facts(
            progress.of(J), inch("2"), CARD, pressure=psi(150), pullers=False
        )
        return ask("CUR-01", facts, book()).verdict

    def answers(self) -> dict[str, Verdict]:
        """Asked on each device, for the true time as typed, and for what the phone shows."""
        told = {}
        for clock in (self.phone, self.laptop):
            stamp = Stamp(
                wall=clock.wall, monotonic=clock.monotonic, boot=clock.boot, synchronised=clock.synchronised
            )
            told[clock.boot] = self.asked(stamp)
        told["true time typed"] = self.asked(Stamp(wall=self.true, confirmed=True))
        told["what the phone shows"] = self.asked(Stamp(wall=self.phone.wall, confirmed=True))
        return told


def site_at(folder: Path) -> Site:
    folder.mkdir(parents=True, exist_ok=True)
    return Site(folder)


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return site_at(tmp_path / "job")


def test_with_clocks_that_are_right_every_way_of_asking_is_go_after_four_hours(site: Site) -> None:
    site.made()
    for _ in range(4):
        site.wait(0.99)
        site.read()
    assert GO not in site.answers().values()
    site.wait(0.05)
    site.read()
    assert set(site.answers().values()) == {GO}


FAULTS = {
    "forward two hours": {"hours": 2},
    "forward a day": {"days": 1},
    "back one hour": {"hours": -1},
    "back a day": {"days": -1},
    "forward three minutes": {"minutes": 3},
}


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("then", ["stays so", "put right"])
@pytest.mark.parametrize("when", [0.0, 0.5, 2.5])
def test_a_clock_that_jumps_after_the_hold_earns_nothing(
    site: Site, fault: str, then: str, when: float
) -> None:
    """Readings each half hour; the phone jumps ``when`` hours after the hold, and back an hour later."""
    site.made()
    for half in range(1, 9):
        if when == (half - 1) / 2:
            site.phone.set(**FAULTS[fault])
        if then == "put right" and (half - 1) / 2 == when + 1.0:
            site.phone.set(**{unit: -by for unit, by in FAULTS[fault].items()})
        if half < 8:
            site.wait(0.5)
        else:
            site.wait(0.49)
        site.read()
        assert GO not in site.answers().values(), (fault, half)


@pytest.mark.parametrize("fault", FAULTS)
def test_a_clock_that_is_put_right_after_the_hold_earns_nothing(site: Site, fault: str) -> None:
    """It was wrong when the joint was made, and right ever after; its jump is in the record."""
    site.pens["phone"].write("note", {"text": "begin"})
    site.phone.set(**FAULTS[fault])
    site.made()
    site.wait(0.1)
    site.phone.set(**{unit: -by for unit, by in FAULTS[fault].items()})
    for _ in range(7):
        site.wait(0.5)
        site.read()
        site.read("laptop")
        assert GO not in site.answers().values(), fault


def test_a_jump_that_is_recorded_costs_credit_but_not_for_ever(site: Site) -> None:
    """The laptop reads on with a right clock; the phone may have been two hours behind at the hold."""
    site.made()
    site.wait(0.25)
    site.phone.set(hours=2)
    site.pens["phone"].write("note", {"text": "the jump is found now"})
    reached = None
    for half in range(1, 20):
        site.wait(0.5)
        site.read("laptop")
        if site.asked(Stamp(wall=site.true, confirmed=True)) is GO:
            reached = 0.25 + half / 2
            break
    assert reached == 6.25, "four hours, and the two that may not have passed"


@pytest.mark.parametrize(("month", "day"), [(10, 25), (3, 29)])
def test_a_change_to_or_from_daylight_saving_is_no_hour(tmp_path: Path, month: int, day: int) -> None:
    """London 2026 (IANA time zones): the joint is made an hour before the clocks change."""
    begin = datetime(2026, month, day, 0, 0, tzinfo=ZONE).astimezone(UTC)
    folder = tmp_path / "job"
    folder.mkdir()
    phone, laptop = Hands(begin, boot="phone"), Hands(begin, boot="laptop")
    site = Site(folder, begin, phone, laptop)
    site.made()
    for _ in range(7):
        site.wait(0.5)
        site.read()
    site.wait(0.49)
    site.read()
    local = site.true.astimezone(ZONE)
    assert site.asked(Stamp(wall=local, confirmed=True)) is not GO
    site.wait(0.02)
    site.read()
    assert site.asked(Stamp(wall=site.true.astimezone(ZONE), confirmed=True)) is GO


def test_a_dead_clock_battery_corrected_next_day(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    site = Site(folder, START, Hands(datetime(2020, 1, 1, tzinfo=UTC), boot="phone", synchronised="no"))
    site.made()
    site.wait(1)
    site.read()
    site.phone.wall, site.phone.synchronised = site.true, "yes"
    site.wait(0.5)
    site.read()
    for _ in range(30):
        site.wait(1)
        site.read()
        site.read("laptop")
    told = site.answers()
    assert told.pop("phone") is not GO, "one hour in 2020, then a hole of six years"
    assert set(told.values()) == {CANNOT_TELL}, "hold end was written by a clock that was not set"
    held = next(s.entry for s in site.store.read_since() if s.entry.kind == "hold_end")
    made = next(s.entry for s in site.store.read_since() if s.entry.kind == "joint_made")
    other = Pen(site.store, writer("bela", BELA), site.laptop)
    for entry in (made, held):
        true = {"of": entry.id, "true_time": moment_text(START), "how": "the site's own clock"}
        other.write("time_confirmed", true)
    # Confirmed by another person; the reading of the first hour cannot be placed, so a hole stays.
    assert site.asked(Stamp(wall=site.true, confirmed=True)) is not GO


def test_a_phone_a_day_early(tmp_path: Path) -> None:
    """Its clock is a day behind; whether it says so or not, four hours are four hours."""
    for synchronised in ("no", "yes"):
        folder = tmp_path / synchronised
        folder.mkdir()
        early = Hands(START - timedelta(days=1), boot="phone", synchronised=synchronised)
        site = Site(folder, START, early)
        site.made()
        site.wait(0.5)
        site.read()
        site.read("laptop")
        site.wait(0.5)
        site.read()
        site.read("laptop")
        assert GO not in site.answers().values(), synchronised


STEP = st.tuples(
    st.sampled_from(["phone", "laptop"]),
    st.floats(0.05, 1.5),
    st.one_of(st.just(0.0), st.sampled_from([-24.0, -1.0, -0.5, 0.5, 1.0, 2.0, 24.0])),
)


@settings(max_examples=60)
@given(steps=st.lists(STEP, min_size=1, max_size=9), makes=st.sampled_from(["phone", "laptop"]))
def test_never_go_before_the_true_hours_on_the_device_itself_or_at_the_true_time(
    steps: list[tuple[str, float, float]], makes: str
) -> None:
    """Clocks jump at will between readings, both devices write before and after: never GO too early."""
    with TemporaryDirectory() as there:
        site = site_at(Path(there))
        for pen in site.pens.values():
            pen.write("note", {"text": "begin"})
        site.made(makes)
        passed = 0.0
        for on, hours, jump in steps:
            site.wait(hours)
            passed += hours
            (site.phone if on == "phone" else site.laptop).set(hours=jump)
            site.read("phone")
            site.read("laptop")
            if passed < WAIT_H:
                told = site.answers()
                assert told["true time typed"] is not GO, (passed, told)
                assert told[makes] is not GO, (passed, told)
        site.store.close()
