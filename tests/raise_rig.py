"""A small section that may go to pressure, all of it invented: three joints of 2 in, a pump and a cap.

Everything that a release asks for is recorded; each test takes one thing away or adds one that spoils it.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from joint_rig import row
from lineproof.book.load import book
from lineproof.desk import record_book, site_known
from lineproof.desk.record_book import job_uuid, person_uuid, settings_of
from lineproof.logbook import sqlite_store
from lineproof.logbook.entry import Entry
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen, Reading, Writer
from logbook.rig import Hands, metres, named, pascals
from made_rig import CANS, made_job
from move_rig import CARD, at, fahr
from rigs import elbow, flange, part, tee
from verb_rig import Said, verb

PSI = 6894.757293168
WALK = """line L size 2in pipe pvc sch80
starts at flange fixed "pump P" at 0, 0, 0 facing north
go north 6'
go east 4'
ends at cap
"""
BRANCHED = """line L size 2in pipe pvc sch80
starts at flange fixed "pump P" at 0, 0, 0 facing north
go north 6'
tee west 2in as M
go north 4'
ends at cap
"""
BESIDE = """line M size 2in pipe pvc sch80
starts at branch M
go west 5'
ends at cap
"""
CURED = row("cure", "24 h", size="2in to 2in", psi=180).replace('humidity_max = "60 %"\n', "")
OTHERS = """
[[people]]
id = "T"
name = "Test lead (invented)"
[[people]]
id = "E"
name = "Engineer (invented)"
[[people]]
id = "Q"
name = "Quality (invented)"
[signs]
lead = "A"
engineer = "E"
quality = "Q"
second_reader = "B"
test_in_charge = "T"
"""
CAP = """
[[pressure_caps]]
section = "S"
pressure = "150 psi"
wall_temperature = "73 F"
signed_by = "E"
date = 2026-11-20
"""
CAP_PART = part("cap", "2in", ends="socket closed", reach_1="1 1/2 in", depth_1="1 1/2 in", rating="400 psi")
RATED = [
    elbow("2in", "2 1/2 in", "1 1/2 in", rating="400 psi"),
    tee("2in", "2 1/2 in", "1 1/2 in", rating="400 psi"),
    flange("2in", "2 1/4 in", "1 1/2 in", rating="150 psi"),
    CAP_PART,
]


def confirmations() -> str:
    """Every row of the tables as the quality person would have confirmed it, for the tests only."""
    return "".join(
        f'\n[[confirmations]]\ntable = "{table}"\nedition = "{edition}"\nrow_hash = "{row_hash}"\n'
        'value = "as printed"\npage = "1"\nby = "Q"\nrole = "quality"\ndate = 2026-11-20\n'
        for table, edition, row_hash in sorted(book().every_confirmation())
    )


def job_folder(folder: Path, *, walks: Mapping[str, str] | None = None, cap: str = CAP) -> Path:
    """Write the job: people, signs, cans, a card with a cure row, every table row confirmed."""
    made_job(
        folder, walk=WALK, parts=RATED, rows=CARD + CURED, cans=CANS + OTHERS + cap + confirmations()
    )  # fmt: skip
    for name, text in (walks or {}).items():
        (folder / "lines" / name).write_text(text, "utf-8")
    return folder


class Site:
    """The job, its logbook, and the clock of its machine, set by hand."""

    def __init__(self, folder: Path, patch: pytest.MonkeyPatch, clock: Hands | None = None) -> None:
        self.folder = folder
        self.job = job_uuid(settings_of(folder))
        self.clock = clock or Hands(at("7:00"))
        patch.setattr(site_known, "DeviceClock", self._clock)
        patch.setattr(record_book, "DeviceClock", self._clock)
        patch.setattr(sqlite_store, "_now", lambda: self.clock.wall)
        here = {"machine": record_book.machine(), "writer": named("writer site"), "person": "A"}
        (folder / ".local").mkdir(exist_ok=True)
        (folder / ".local" / "writer.json").write_text(json.dumps(here), "utf-8")
        self.store = SqliteStore(folder / "logbook.db", job=self.job, clock=lambda: self.clock.wall)

    @classmethod
    def copied(cls, folder: Path, to: Path, patch: pytest.MonkeyPatch, clock: Hands) -> Site:
        """The same job in another folder, its clock where the first one stood."""
        shutil.copytree(folder, to)
        mine = Hands(clock.wall)
        mine.monotonic = clock.monotonic
        return cls(to, patch, mine)

    def _clock(self, zone: str) -> _Site:
        return _Site(self.clock)

    def who(self, id: str) -> str:
        return person_uuid(self.job, id)

    def write(
        self, kind: str, by: str = "A", *, phone: str = "", when: str = "", day: int = 0, **body: Any
    ) -> Entry:
        """One entry by a person, on this machine unless a phone is named."""
        if when:
            self.to(when, day=day)
        writer = named(f"writer {phone or 'site'}")
        device = phone or "site laptop"
        pen = Pen(
            self.store, Writer(id=writer, who=self.who(by), device=device, software="0.1.0"), self.clock
        )
        return pen.write(kind, body)[0]

    def to(self, clock: str, *, day: int = 0) -> None:
        """The clock goes on to a moment of the story."""
        self.clock.wait(seconds=(at(clock, day=day) - self.clock.wall).total_seconds())

    def joint(self, joint: str, clock: str, *, cold: float = 52.0, day: int = 0, **change: Any) -> Entry:
        """A joint made, held, measured and accepted as it should be."""
        body = {
            "roles": {"pipe_end": self.who("A"), "socket": self.who("B")},
            "lots": {"cement": "7731", "primer": "118"},
            "joint_temperature": fahr(cold),
            **change,
        }
        entry = self.write("joint_made", joint=joint, when=clock, day=day, **body)
        for minutes, kind, by, more in (
            (3, "hold_end", "A", {}),
            (1, "insertion", "A", {"shortfall": metres("2 mm", "0.002")}),
            (1, "examined", "C", {"list": "A-1", "accepted": True}),
        ):
            self.clock.wait(minutes=minutes)
            self.write(kind, by, joint=joint, **more)
        return entry

    def joints(self) -> tuple[str, ...]:
        return tuple(sorted(record_book.joints_of(self.folder).newest))

    def readings(self, joints: tuple[str, ...], start: datetime, hours: int, cold: float = 52.0) -> None:
        """Hourly temperatures of joints, told as they are read."""
        for hour in range(1, hours + 1):
            self.clock.wait(seconds=(start + timedelta(hours=hour) - self.clock.wall).total_seconds())
            self.write("reading", temperature=fahr(cold), of="joint", joints=list(joints))

    def around(self, *, without: str = "", psi: float = 100.0) -> None:
        """What stands around the section, recorded in the hour before it is asked."""
        told: dict[str, tuple[str, str, dict[str, Any]]] = {
            "gauge": ("gauge", "T", {
                "gauge": "G-1", "place": "PG", "due": "2027-03-01", "error": pascals("1 psi", f"{PSI:.4f}"),
                "range": pascals("200 psi", f"{200 * PSI:.4f}"),
            }),
            "end": ("isolation", "B", {"section": "S", "boundary": "pump P", "how": "blind"}),
            "restraint": ("restraint_checked", "B", {"section": "S", "good": True}),
            "bolts": ("bolts_torqued", "B", {"section": "S", "good": True}),
            "source": ("source", "T", {
                "section": "S", "source": "hand pump", "most": pascals(f"{psi:g} psi", f"{psi * PSI:.4f}"),
            }),
            "joints-ready": ("condition", "A", {"condition": "joints-ready"}),
            "air-out": ("condition", "B", {"condition": "air-out", "place": "vent at E1"}),
            "people-out": ("condition", "C", {"condition": "people-out", "place": "gate"}),
            "nothing-since": ("condition", "T", {"condition": "nothing-since"}),
        }  # fmt: skip
        for name, (kind, by, body) in told.items():
            if name == without:
                continue
            if kind == "condition":
                body = {"section": "S", "answer": True, **body}
            self.write(kind, by, **body)

    def made_and_cured(self, joints: tuple[str, ...] = ()) -> None:
        """All joints, or those named, made on the first day and read every hour to 11:00 of the next."""
        self.to("7:10")
        assert verb("plan", "--issue", "--no-paper", "--job", self.folder).code in (0, 10, 12, 13)
        made = joints or self.joints()
        for n, joint in enumerate(made):
            self.joint(joint, f"9:{10 * n:02d}")
        self.readings(made, at("9:00"), 26)

    def asks(self, *more: str, psi: float = 100.0, by: str = "T", verb_: str = "raise") -> Said:
        """``may raise`` as the person in charge types it."""
        words = ["may", verb_, "S", "--gauge", f"{psi:g}psi", "--at", "PG", "--medium", "water"]
        return verb(*words, *(["--by", by] if by else []), *more, "--job", self.folder)


class _Site:
    """The machine's clock."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands

    def read(self) -> Reading:
        return self.hands.read()
