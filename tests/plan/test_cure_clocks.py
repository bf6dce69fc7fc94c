"""May pressure come: little stories of joints on a logbook, against the rows typed in ``cure_rig``.

Those rows are ASTM D2855-96(2002) from memory: NPS 1-1/2 to 3 up to 180 psi 2 h above 60 F, 4 h from 40 to
60 F, 12 h from 20 to 40 F; up to 315 psi 12, 24 and 72 h. Waits are counted by hand. That the coldest band
met counts for the whole time is the design's rule.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from cure_rig import CARD, inch, psi
from lineproof.book.load import book
from lineproof.checks.curing import Cured
from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.progress import FORECAST, Progress, Temperature
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.plan.cure_clocks import CureAsked, CureClocks
from move_rig import J1, J2, J3, Story, at

GO, WAIT, CANNOT_TELL = Verdict.GO, Verdict.WAIT, Verdict.CANNOT_TELL
DRY = 0.5
ZONE = ZoneInfo("America/Denver")


def progress_at(
    story: Story, clock: str, *, day: int = 0, now: Stamp | None = None,
    forecast: tuple[Temperature, ...] = (),
) -> Progress:  # fmt: skip
    told = now or Stamp(wall=at(clock, day=day), confirmed=True)
    return progress_of(fold(story.store.read_since()), told, forecast=forecast)


def cure(
    story: Story, clock: str, *, pressure: float | None = 150.0, joint: str = J1, dampest: float | None = DRY,
    day: int = 0, size: str = "2", now: Stamp | None = None, forecast: tuple[Temperature, ...] = (),
) -> tuple[Finding, Cured]:  # fmt: skip
    """Finding and facts of one joint, pressure in psi."""
    progress = progress_at(story, clock, day=day, now=now, forecast=forecast)
    facts = CureClocks(progress, ZONE, dampest).facts(
        progress.of(joint), inch(size), CARD, pressure=None if pressure is None else psi(pressure),
        pullers=False,
    )  # fmt: skip
    return ask("CUR-01", facts, book()), facts


def answer(found: tuple[Finding, Cured]) -> tuple[Verdict, str, object]:
    return found[0].verdict, str(found[0].facts["why"]), found[0].until


@pytest.fixture
def story(tmp_path: Path) -> Story:
    tmp_path.joinpath("job").mkdir()
    return Story(tmp_path / "job")


def hours(story: Story, first: int, last: int, cold: float = 50, joint: str = J1) -> None:
    for hour in range(first, last + 1):
        story.read(f"{hour}:00", cold, joint)


def test_four_hours_at_50_f_up_to_180_psi_and_a_day_above(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 12)
    assert answer(cure(story, "12:30")) == (WAIT, "wait", at("13:05"))
    assert answer(cure(story, "12:30", pressure=180)) == (WAIT, "wait", at("13:05"))
    assert answer(cure(story, "12:30", pressure=180.01)) == (WAIT, "wait", at("9:05", day=1))
    assert answer(cure(story, "12:30", pressure=315.01)) == (CANNOT_TELL, "no_row", None)
    assert answer(cure(story, "12:30", pressure=None)) == (CANNOT_TELL, "no_pressure", None)
    assert answer(cure(story, "13:04")) == (CANNOT_TELL, "no_reading", None)
    story.read("13:03", 50)
    found, facts = cure(story, "13:04")
    assert (found.verdict, found.limit) == (GO, 4 * 3600.0)
    assert facts.reached == at("13:03")
    assert facts.column == pytest.approx(psi(180))
    higher = cure(story, "13:04", pressure=200)
    assert (answer(higher), higher[1].reached) == ((WAIT, "wait", at("9:05", day=1)), None)


def test_the_coldest_band_and_the_damp_lengthen_the_whole_of_it(story: Story) -> None:
    story.made("9:00", "9:03", cold=70)
    story.read("10:00", 70)
    assert answer(cure(story, "10:01")) == (WAIT, "wait", at("11:05"))
    assert answer(cure(story, "10:01", dampest=0.601)) == (WAIT, "wait", at("12:05")), "2 h and half as much"
    assert answer(cure(story, "10:01", dampest=None)) == (CANNOT_TELL, "no_humidity", at("11:05"))
    story.read("10:30", 60)
    assert answer(cure(story, "10:31")) == (WAIT, "wait", at("13:05")), "an edge belongs to the colder band"
    story.read("10:45", 39.99)
    assert answer(cure(story, "10:46")) == (WAIT, "wait", at("21:05"))
    story.read("10:50", 9.99)
    assert answer(cure(story, "10:51"))[:2] == (CANNOT_TELL, "no_row")


def test_late_cold_from_before_opens_it_again_and_cold_afterwards_does_not(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 14)
    assert cure(story, "14:01")[0].verdict is GO
    story.read("14:30", 30)
    assert cure(story, "14:31")[0].verdict is GO
    story.read("15:00", 38, said="12:10")
    assert answer(cure(story, "15:01")) == (WAIT, "wait", at("21:05"))


def test_any_disturbance_starts_it_again_but_a_move_after_the_hands_off_time_does_not(story: Story) -> None:
    """Hands off is 1 h from 40 to 60 F: from 9:03 to 10:03."""
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 11)
    story.write("11:10", "moved", {"joint": J1, "how": "lowered"})
    found, facts = cure(story, "11:30")
    assert (found.until, facts.disturbed, facts.last_disturbed) == (at("13:05"), (), None)
    story.write("11:40", "disturbed", {"joint": J1, "how": "bucket"})
    found, facts = cure(story, "11:50")
    assert (found.until, facts.disturbed, facts.last_disturbed) == (
        at("15:40"), ("disturbed: bucket",), at("11:40"),
    )  # fmt: skip
    story.write("12:00", "moved", {"joint": J1, "how": "lowered again"})
    assert cure(story, "12:10")[0].until == at("16:00"), "its hands-off time began again at 11:40"


def test_moved_before_its_hands_off_time(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    story.read("10:00", 50)
    story.write("10:02", "moved", {"joint": J1})
    assert cure(story, "10:05")[0].until == at("14:05")


def test_moved_after_a_day_opens_a_whole_clock_only_by_a_disturbance(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 14)
    story.write("14:10", "moved", {"joint": J1, "how": "lowered"})
    assert cure(story, "14:20")[0].verdict is GO
    story.write("14:30", "disturbed", {"joint": J1, "how": "fell from the sling"})
    assert answer(cure(story, "14:40")) == (WAIT, "wait", at("18:30"))


def test_what_is_missing_is_named(story: Story) -> None:
    assert answer(cure(story, "8:50")) == (CANNOT_TELL, "no_start", None)
    story.write("9:00", "joint_made", {"joint": J1})
    assert answer(cure(story, "9:10"))[:2] == (CANNOT_TELL, "no_start")
    story.write("9:11", "hold_end", {"joint": J1})
    assert answer(cure(story, "9:20"))[:2] == (CANNOT_TELL, "no_first")
    story.made("9:30", "9:31", J2, cold=50)
    story.read("11:40", 50, J2)
    assert answer(cure(story, "11:41", joint=J2))[:2] == (CANNOT_TELL, "hole")
    story.made("11:50", "11:51", J3, cold=50)
    story.write("11:55", "reading_file", {"file": "ab" * 32, "name": "log-7.csv", "joints": [J3]})
    assert answer(cure(story, "12:00", joint=J3))[:2] == (CANNOT_TELL, "unread")
    progress = progress_at(story, "12:00")
    none = CureClocks(progress, ZONE).facts(
        progress.of(J3), inch("2"), None, pressure=psi(100), pullers=False
    )
    assert ask("CUR-01", none, book()).facts["why"] == "no_card"
    unknown = CureClocks(progress, ZONE, DRY).facts(
        progress.of(J2), inch("2"), CARD, pressure=psi(100), pullers=None
    )
    assert ask("CUR-01", unknown, book()).facts["why"] == "no_start", "nobody knows whether pullers were on"


def test_a_forecast_gives_not_before_only(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 12)
    cold = tuple(Temperature(at(f"{h}:30"), 273.15, FORECAST) for h in range(12, 24))
    assert answer(cure(story, "12:10", forecast=cold)) == (WAIT, "foretold", at("21:05"))
    warm = tuple(Temperature(at(f"{h}:30"), 300.0, FORECAST) for h in range(12, 24))
    assert answer(cure(story, "12:10", forecast=warm)) == (WAIT, "wait", at("13:05"))
    assert cure(story, "13:10", forecast=warm)[0].verdict is CANNOT_TELL


def test_many_joints_at_once_are_the_same_as_one_by_one(story: Story) -> None:
    for n, joint in enumerate((J1, J2, J3)):
        story.made(f"9:{10 * n:02d}", f"9:{10 * n + 5:02d}", joint, cold=(50, 70, 30)[n])
    story.write("9:40", "moved", {"joint": J2})
    story.write("9:50", "disturbed", {"joint": J3})
    for hour in range(10, 14):
        story.read(f"{hour}:00", 50, J1)
        story.read(f"{hour}:10", 65, J2)
    progress = progress_at(story, "14:00")
    asked = [
        CureAsked(joint=progress.of(j), size=inch(size), card=card, pressure=psi(p), pullers=False)
        for j in (J1, J2, J3, "L/J9")
        for size in ("1", "2", "6", "10")
        for p in (0, 180, 181, 320)
        for card in (CARD, None)
    ]
    together = CureClocks(progress, ZONE, DRY).facts_of(asked)
    for each, told in zip(asked, together, strict=True):
        alone = CureClocks(progress, ZONE, DRY).facts(
            each.joint, each.size, each.card, pressure=each.pressure, pullers=each.pullers
        )
        assert told == alone
    assert len({told.reached for told in together}) > 3


def test_humidity_said_for_the_whole_time_holds_for_a_joint_asked_later(story: Story) -> None:
    """One set of clocks asked again for a joint that was made before the first one asked."""
    story.made("9:00", "9:03", J1, cold=50)
    story.made("12:00", "12:03", J2, cold=50)
    for hour in range(10, 18):
        story.read(f"{hour}:00", 50, J1)
        story.read(f"{hour}:00", 50, J2)
    progress = progress_at(story, "17:10")
    clocks = CureClocks(progress, ZONE, DRY)
    for joint, reached in ((J2, "16:03"), (J1, "13:03")):
        facts = clocks.facts(progress.of(joint), inch("2"), CARD, pressure=psi(100), pullers=False)
        assert facts.reached == at(reached)


def test_the_clock_is_never_earlier_for_a_higher_pressure(story: Story) -> None:
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 23)
    progress = progress_at(story, "23:30")
    clocks = CureClocks(progress, ZONE, DRY)
    told = [
        clocks.facts(progress.of(J1), inch("2"), CARD, pressure=psi(p), pullers=False)
        for p in (0, 100, 180, 180.01, 250, 315)
    ]
    waits = [f.reached or f.not_before for f in told]
    assert waits == [at("13:03")] * 3 + [at("9:03", day=1)] * 3


def test_started_by_a_clock_that_was_put_forward(tmp_path: Path) -> None:
    tmp_path.joinpath("job").mkdir()
    story = Story(tmp_path / "job", synchronised="no")
    story.made("9:00", "9:03", cold=50)
    hours(story, 10, 12)
    assert answer(cure(story, "12:30")) == (CANNOT_TELL, "clock_unsure", None)
    story.clock.wait(minutes=10)
    story.clock.set(hours=2)
    told = story.clock.read()
    now = Stamp(wall=told.wall, monotonic=told.monotonic, boot=told.boot, synchronised="no")
    # 12:10 by its own start, 14:10 by its wall: 53 minutes remain.
    assert cure(story, "", now=now)[0].until == at("15:05")
    assert cure(story, "", now=now)[1].reached is None
    assert at("14:10") + timedelta(minutes=53) == at("15:03")
