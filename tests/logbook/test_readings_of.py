"""Which readings earn credit: loggers' files and who vouches for them, humidity, and what came late.

The rule is the one told in ``logbook.readings_of``. Stories run on clocks set by hand; data are invented.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from lineproof.job.progress import Series
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import moment_text
from lineproof.logbook.fold import fold
from lineproof.logbook.logger_files import LoggerFiles
from lineproof.logbook.progress_of import progress_of
from logbook.rig import ANNA, BELA
from move_rig import J1, J2, J3, Story, at, fahr

ZONE = ZoneInfo("America/Denver")


class Logged:
    """A story with a logger's file: a row each hour from 8:00 to 16:00 of the day, at 8, 9, ... 16 C."""

    def __init__(self, folder: Path, *, synchronised: str = "yes") -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.story = Story(folder, synchronised=synchronised)
        self.files = LoggerFiles(self.story.store.files(), ZONE)

    def put(self, *, last: int = 16, ahead: timedelta = timedelta(0), cold: float = 0.0) -> str:
        rows = [(at(f"{h}:00") + ahead, h - cold) for h in range(8, last + 1)]
        text = "time,temperature C\n" + "".join(f"{t.isoformat()},{c}\n" for t, c in rows)
        return self.story.store.files().put(text.encode())

    def enter(self, clock: str, digest: str, *, day: int = 0, **body: Any) -> str:
        told = {"file": digest, "name": "log-7.csv", "joints": [J1], "of": "joint", "clock_checked": True}
        entry = self.story.write(clock, "reading_file", {**told, **body}, day=day)
        return entry.id

    def series(self, clock: str, *, day: int = 0, joint: str = J1, now: Stamp | None = None) -> Series:
        return self.progress(clock, day=day, now=now).of(joint).readings

    def progress(self, clock: str, *, day: int = 0, now: Stamp | None = None) -> Any:
        told = now or Stamp(wall=at(clock, day=day), confirmed=True)
        return progress_of(fold(self.story.store.read_since()), told, files=self.files)


@pytest.fixture
def logged(tmp_path: Path) -> Logged:
    return Logged(tmp_path / "job")


def counts(series: Series) -> tuple[int, int]:
    return len(series.held.times), len(series.late.times)


def test_a_file_entered_in_the_evening_earns_credit(logged: Logged) -> None:
    logged.story.made("8:30", "8:33")
    logged.enter("19:00", logged.put())
    series = logged.series("19:30")
    assert counts(series) == (9, 0)
    assert series.held.times[0] == at("8:00").timestamp()
    assert np.asarray(series.held.values).tolist() == pytest.approx([273.15 + h for h in range(8, 17)])
    assert logged.progress("19:30").of(J1).unread == ()


@pytest.mark.parametrize(
    ("clock", "day", "body", "held"),
    [
        ("16:00", 1, {}, True),
        ("16:01", 1, {}, False),
        ("16:01", 1, {"second": BELA}, True),
        ("16:01", 1, {"second": ANNA}, False),
        ("19:00", 0, {"clock_checked": False}, False),
        ("19:00", 0, {"clock_checked": False, "second": BELA}, False),
        ("19:00", 0, {"of": "pipe"}, False),
        ("16:01", 1, {"to": moment_text(at("15:30")), "second": BELA}, True),
    ],
)  # fmt: skip
def test_who_vouches_for_a_file_and_until_when(
    logged: Logged, clock: str, day: int, body: dict[str, Any], held: bool
) -> None:
    """Within a day of its last row at 16:00; later a second person, who is not the first."""
    logged.story.made("8:30", "8:33")
    logged.enter(clock, logged.put(), day=day, **body)
    found = counts(logged.series("20:00", day=1))
    rows = 8 if "to" in body else 9
    assert found == ((rows, 0) if held else (0, rows))


def test_a_logger_that_knows_tomorrow_earns_nothing(logged: Logged) -> None:
    """Its clock is put forward; what it has read still makes it colder."""
    logged.enter("16:00", logged.put(ahead=timedelta(minutes=2)))
    assert counts(logged.series("20:00")) == (9, 0)
    for minutes, hours in ((2.1, 0), (0, 2), (0, 24)):
        other = Logged(logged.story.store.files().root.parent.parent / f"{minutes} {hours}")
        other.enter("16:00", other.put(ahead=timedelta(minutes=minutes, hours=hours)))
        held, late = counts(other.series("23:00", day=2))
        assert (held, late) == (0, 9), (minutes, hours)


def test_rows_count_from_when_it_was_hung_until_it_was_taken_off_and_never_ahead_of_now(
    logged: Logged,
) -> None:
    body = {"from": moment_text(at("10:00")), "to": moment_text(at("14:00"))}
    logged.enter("19:00", logged.put(), **body)
    assert counts(logged.series("19:30")) == (5, 0)
    assert counts(logged.series("12:30")) == (3, 0), "asked for an earlier moment"
    other = Logged(logged.story.store.files().root.parent.parent / "air")
    other.enter("19:00", other.put(), of="air")
    assert not other.series("19:30")
    assert other.progress("19:30").of(J1).unread == ()


def test_a_file_that_is_not_here_or_cannot_be_read_is_named(logged: Logged) -> None:
    logged.enter("9:00", "ab" * 32)
    assert logged.progress("9:30").of(J1).unread == ("log-7.csv is not on this machine",)
    bad = logged.story.store.files().put(b"time UTC,temperature C\n2026-11-22T16:00,warm\n")
    logged.enter("9:10", bad)
    assert logged.progress("9:30").of(J1).unread == (
        "log-7.csv is not on this machine",
        "log-7.csv:2: temperature is 'warm'",
    )
    without = progress_of(fold(logged.story.store.read_since()), Stamp(wall=at("9:30"), confirmed=True))
    assert without.of(J1).unread == ("log-7.csv has not been read in",) * 2


def test_what_one_person_alone_corrects_only_makes_it_colder(logged: Logged) -> None:
    cold, warm = logged.put(cold=10), logged.put()
    entry = logged.enter("17:00", cold)
    fix = {"corrects": entry, "reason": "the other logger", "fields": {"file": warm}}
    logged.story.write("17:10", "correction", fix)
    series = logged.series("17:30")
    assert counts(series) == (0, 18)
    assert min(series.late.values) == pytest.approx(271.15)
    narrow = {"corrects": entry, "reason": "taken off", "fields": {"from": moment_text(at("12:00"))}}
    logged.story.write("17:20", "correction", narrow)
    assert counts(logged.series("17:30")) == (0, 18), "the rows it had before stay"
    other = Logged(logged.story.store.files().root.parent.parent / "two")
    entry = other.enter("17:00", other.put(cold=10))
    both = {**fix, "corrects": entry, "fields": {"file": other.put()}, "second": BELA}
    other.story.write("17:10", "correction", both)
    assert counts(other.series("17:30")) == (9, 0)


def test_taking_a_joint_off_the_list_alone_leaves_its_record_open(logged: Logged) -> None:
    logged.story.made("8:30", "8:33")
    entry = logged.enter("17:00", logged.put(cold=10))
    fix = {"corrects": entry, "reason": "it hung on J2", "fields": {"joints": [J2]}}
    logged.story.write("17:10", "correction", fix)
    assert "taken-away-alone" in logged.progress("17:30").of(J1).unclear
    other = Logged(logged.story.store.files().root.parent.parent / "two")
    entry = other.enter("17:00", other.put(cold=10))
    other.story.write("17:10", "correction", {**fix, "corrects": entry, "second": BELA})
    assert other.progress("17:30").of(J1).unclear == ()
    assert counts(other.series("17:30", joint=J2)) == (9, 0)


def test_entered_on_a_device_whose_clock_was_not_set(tmp_path: Path) -> None:
    unset = Logged(tmp_path / "unset", synchronised="no")
    unset.enter("17:00", unset.put())
    assert counts(unset.series("17:30")) == (0, 9)
    told = unset.story.clock.read()
    same = Stamp(wall=told.wall, monotonic=told.monotonic, boot=told.boot, synchronised="no")
    assert counts(unset.series("", now=same)) == (9, 0)


@pytest.mark.parametrize("hours", [-24, -1, 24])
def test_a_device_whose_clock_is_wrong_when_the_file_is_entered(tmp_path: Path, hours: int) -> None:
    """Behind, the rows lie ahead of it; a day ahead, they look old: no credit either way."""
    wrong = Logged(tmp_path / "wrong")
    digest = wrong.put()
    wrong.story.clock.wait(hours=9.5)
    wrong.story.clock.set(hours=hours)
    assert wrong.story.clock.wall == at("16:30") + timedelta(hours=hours)
    wrong.story.pens[ANNA].write(
        "reading_file",
        {"file": digest, "name": "l", "joints": [J1], "of": "joint", "clock_checked": True},
    )
    assert counts(wrong.series("23:00", day=2)) == (0, 9)


def test_joints_with_the_same_entries_refer_to_one_series(logged: Logged) -> None:
    digest = logged.put()
    logged.enter("17:00", digest, joints=[J1, J2, J3])
    progress = logged.progress("17:30")
    assert progress.of(J1).readings is progress.of(J2).readings is progress.of(J3).readings
    logged.story.read("17:10", 50, J3)
    progress = logged.progress("17:30")
    assert progress.of(J1).readings is progress.of(J2).readings is progress.of(J3).readings.base
    assert counts(progress.of(J3).readings) == (1, 0), "its own, beside what it shares"


def test_humidity_of_the_site_and_of_a_joint(logged: Logged) -> None:
    story = logged.story
    story.made("8:30", "8:33", damp="50")

    def damp(clock: str, value: float, **body: Any) -> Any:
        told = {"typed": f"{value:g} %", "si": str(value / 100), "unit": "1"}
        return story.write(clock, "humidity", {"humidity": told, **body})

    damp("9:00", 55)
    damp("10:00", 70, joint=J1)
    damp("10:10", 80, joints=[J1, J2])
    damp("10:20", 65, at=moment_text(at("9:30")))
    progress = logged.progress("11:00")

    def told(series: Series) -> tuple[list[float], list[float]]:
        return sorted(series.held.values), sorted(series.late.values)

    assert told(progress.humidity) == ([0.5, 0.55], [0.65])
    assert told(progress.of(J1).damp) == ([0.5, 0.55, 0.7, 0.8], [0.65])
    assert told(progress.of(J2).damp) == ([0.5, 0.55, 0.8], [0.65])
    assert progress.of(J3).damp is None
    assert progress.of(J3).untouched


def test_a_corrected_humidity_stays_the_damper_and_an_unset_clock_is_damp_at_any_time(tmp_path: Path) -> None:
    logged = Logged(tmp_path / "job")
    body = {"humidity": {"typed": "70 %", "si": "0.7", "unit": "1"}}
    first = logged.story.write("9:00", "humidity", body)
    drier = {"humidity": {"typed": "40 %", "si": "0.4", "unit": "1"}}
    logged.story.write("9:10", "correction", {"corrects": first.id, "reason": "misread", "fields": drier})
    damp = logged.progress("9:30").humidity
    assert (list(damp.held.values), list(damp.late.values)) == ([], [0.7])
    unset = Logged(tmp_path / "unset", synchronised="no")
    unset.story.write("9:00", "humidity", body)
    unset.story.write("9:10", "humidity", drier)
    assert unset.progress("9:30").humidity.ever == 0.7


def test_a_reading_whose_clock_cannot_be_held_against_now_may_have_been_at_any_time(tmp_path: Path) -> None:
    unset = Logged(tmp_path / "job", synchronised="no")
    unset.story.read("9:00", 40)
    unset.story.read("9:10", 30)
    series = unset.series("9:30")
    assert counts(series) == (0, 0)
    assert series.ever == pytest.approx(float(fahr(30)["si"]))
    assert bool(series)


def test_nothing_read_later_than_now_counts(logged: Logged) -> None:
    logged.story.read("9:00", 50)
    logged.story.read("10:00", 50)
    assert counts(logged.series("9:30")) == (1, 0)
    moments: list[datetime] = [at("9:00")]
    assert list(logged.series("9:30").held.times) == [m.timestamp() for m in moments]
