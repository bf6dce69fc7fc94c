"""The invented treatment works on its second day of joining, told into its logbook on a clock set by hand."""

from __future__ import annotations

import atexit
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any
from zoneinfo import ZoneInfo

from lineproof.desk.record_book import job_uuid, person_uuid, settings_of
from lineproof.logbook.entry import Entry, moment_text
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen
from logbook.rig import Hands, writer
from move_rig import fahr
from verb_rig import verb

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "src" / "lineproof" / "demo" / "brackstow"
DENVER = ZoneInfo("America/Denver")
DAY = datetime(2027, 4, 20, tzinfo=DENVER)


@cache
def _issued() -> Path:
    folder = Path(mkdtemp(prefix="lineproof-now-")) / "works"
    atexit.register(shutil.rmtree, folder.parent, ignore_errors=True)
    shutil.copytree(DEMO, folder)
    verb("plan", "--job", folder, "--issue", "--no-paper")
    (folder / "logbook.db").unlink()
    return folder


def works(folder: Path) -> Path:
    """The works with its pack issued and an empty logbook."""
    shutil.copytree(_issued(), folder)
    return folder


def on(clock: str, day: int = 0) -> datetime:
    """A moment of the story, in the zone of the site."""
    hour, minute = clock.split(":")
    return DAY + timedelta(days=day, hours=int(hour), minutes=int(minute))


class Told:
    """Writes entries at told moments into the logbook of the works."""

    def __init__(self, folder: Path, *, start: str = "6:00") -> None:
        settings = settings_of(folder)
        self.job = job_uuid(settings)
        self.store = SqliteStore(folder / "logbook.db", job=self.job)
        boot = f"boot {self.store.receipt().number}"  # the device was started again since
        self.clock = Hands(on(start).astimezone(UTC), boot=boot)
        self.clock.zone = "America/Denver"
        self._pens: dict[str, Pen] = {}

    def person(self, id: str) -> str:
        return person_uuid(self.job, id)

    def write(
        self, clock: str, kind: str, body: Mapping[str, Any], *, by: str = "P-2", day: int = 0
    ) -> Entry:
        self.clock.wait(seconds=(on(clock, day) - self.clock.wall).total_seconds())
        if by not in self._pens:
            self._pens[by] = Pen(self.store, writer(by, self.person(by)), self.clock)
        return self._pens[by].write(kind, body)[0]

    def made(
        self,
        joint: str,
        clock: str,
        end: str = "",
        *,
        cold: float = 52.0,
        by: str = "P-2",
        pulled: bool = True,
        looked: str = "",
        **also: Any,
    ) -> Entry:
        """A joint made, held to ``end`` with its pullers off then, and looked at by the lead."""
        body: dict[str, Any] = {
            "joint": joint,
            "joint_temperature": fahr(cold),
            "humidity": {"typed": "55 %", "si": "0.55", "unit": "1"},
            "issue": 1,
            "roles": {"pipe_end": self.person(by), "socket": self.person("P-3")},
            "cans": ["C2-04"],
            "lots": {"cement": "HG-2611"},
            **also,
        }
        entry = self.write(clock, "joint_made", body, by=by)
        if end:
            self.write(end, "hold_end", {"joint": joint}, by=by)
            if pulled:
                self.write(end, "pullers_off", {"joint": joint}, by=by)
        if looked:
            told = {"joint": joint, "list": "A-1", "accepted": True, "points": {"bead all round": True}}
            self.write(looked, "examined", told, by="P-1")
        return entry

    def read(self, clock: str, joints: list[str], cold: float, *, said: str = "") -> Entry:
        body: dict[str, Any] = {"temperature": fahr(cold), "of": "joint", "joints": joints}
        if said:
            body["at"] = moment_text(on(said).astimezone(UTC))
        return self.write(clock, "reading", body)

    def hourly(self, first: int, last: int, joints: list[str], cold: float) -> None:
        """Readings at every full hour."""
        for hour in range(first, last + 1):
            self.read(f"{hour}:00", joints, cold)


@contextmanager
def telling(folder: Path) -> Iterator[Told]:
    """A logbook to write into, at rest again afterwards; its clock begins at six of the first day."""
    told = Told(folder)
    try:
        yield told
    finally:
        told.store.close()


def j(*numbers: int, line: str = "B-201") -> list[str]:
    return [f"{line}/J{n}" for n in numbers]


def busy_day(folder: Path) -> Path:
    """Second day: some joints may be moved, some are hands off, one is rejected, one hold runs, tags hang."""
    works(folder)
    with telling(folder) as told:
        for n in range(4):
            body = {"can": f"C2-0{n + 4}", "lot": "HG-2611", "holds": "cement", "card": "C-2"}
            told.write("6:10", "can_received", body, by="P-6")
        told.write("6:20", "can_opened", {"can": "C2-04"}, by="P-6")
        small = [*j(1, 2, 3, 4, 7, line="B-203")]
        for n, name in enumerate(small):
            told.made(name, f"6:3{n}", f"6:4{n}", looked=f"6:5{n}")
        told.made("B-201/J4", "7:30", "7:40")
        told.write("7:50", "rejected", {"joint": "B-201/J4", "reason": "no bead at the invert"}, by="P-1")
        told.hourly(8, 9, small, 52)
        told.write("9:30", "hold_tag_set", {"tag": "H-3", "on": "B-202", "reason": "waits for the engineer"})
        told.hourly(10, 12, small, 52)
        for n in range(7, 15):
            told.made(f"B-201/J{n}", f"12:{n:02}", f"12:{n + 5:02}")
        wrong = told.write("12:40", "insertion", {
            "joint": "B-201/J14", "shortfall": {"typed": "3/16 in", "si": "0.0047625", "unit": "m"},
            "allowed": {"typed": "1/4 in", "si": "0.00635", "unit": "m"},
        })  # fmt: skip
        told.write("12:45", "correction", {
            "corrects": wrong.id, "reason": "misread the tape",
            "fields": {"shortfall": {"typed": "1/16 in", "si": "0.0015875", "unit": "m"}},
        })  # fmt: skip
        told.write("12:50", "field_joint", {
            "joint": "B-201/F1", "beside": "B-201/J14", "section": "B-2", "size": "12in",
            "what": "repair coupling",
        })  # fmt: skip
        told.write("12:52", "release_asked", {"release": "R-1", "section": "B-2", "may": "fill"}, by="P-1")
        told.hourly(13, 13, [*small, *j(*range(7, 15))], 52)
        told.made("B-201/J24", "13:20")
    return folder


def told_oddly(folder: Path) -> Path:
    """Joints whose record is hard to read: corrected, struck out, late, insisted on, told twice."""
    works(folder)
    first, second = j(1, 2, line="B-203")
    with telling(folder) as told:
        told.made(first, "7:00", "7:10", steps=[
            {"step": s, "at": moment_text(on(f"6:5{n}").astimezone(UTC))}
            for n, s in enumerate(("socket_primed", "pipe_primed", "pipe_cemented", "home"))
        ])  # fmt: skip
        told.write("7:20", "dry_fit", {
            "joint": first, "depth": {"typed": "38 mm", "si": "0.038", "unit": "m"},
        })  # fmt: skip
        wrong = told.write("7:30", "insertion", {
            "joint": first, "shortfall": {"typed": "3/16 in", "si": "0.0047625", "unit": "m"},
            "allowed": {"typed": "6 mm", "si": "0.006", "unit": "m"}, "procedure": "BP-2",
        })  # fmt: skip
        told.write("7:40", "correction", {
            "corrects": wrong.id, "reason": "misread the tape", "second": told.person("P-1"),
            "fields": {"shortfall": {"typed": "1/16 in", "si": "0.0015875", "unit": "m"}},
        })  # fmt: skip
        bump = told.write("7:45", "disturbed", {"joint": first, "how": "knocked by a ladder"})
        told.write("7:50", "correction", {"corrects": bump.id, "reason": "that was B-203/J3", "void": True})
        told.hourly(8, 12, [first], 51)
        told.read("12:30", [first], 44, said="9:30")
        told.write("12:40", "moved", {"joint": first, "how": "lifted", "insisted": "the lead asked for it"})
        told.write("12:50", "hold_tag_set", {"tag": "H-7", "on": first, "reason": "wet trench"}, by="P-1")
        told.made(second, "13:00", "13:10")
        told.made(second, "13:05", "13:12", by="P-4")
        told.write("13:20", "cut_out", {"joint": "B-203/J3", "reason": "rejected"})
    return folder
