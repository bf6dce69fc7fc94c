"""One invented line, its cement card typed by hand, and a logbook written on a clock set by hand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from joint_rig import PAPERS, row
from lineproof.logbook.entry import Entry, moment_text
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen
from logbook.rig import ANNA, BELA, JOB, Hands, writer
from rigs import elbow, flange, job_at, stock

DAY = datetime(2026, 11, 22, tzinfo=ZoneInfo("America/Denver"))
J1, J2, J3 = "L/J1", "L/J2", "L/J3"
WALK = """line L size 2in pipe pvc sch80
starts at flange fixed "P" at 0, 0, 0 facing north
go north 6'
go east 4'
ends at open
"""
PARTS = [elbow("2in", "2 1/2 in", "1 1/2 in"), flange("2in", "2 1/4 in", "1 1/2 in")]


def handling(hours: str, low: str, high: str, damp: str = "") -> str:
    """A handling row of the invented card, as it would be typed from a container."""
    told = row("handling", hours, f"{low} to {high}", size="2in to 2in").replace(
        'humidity_max = "60 %"\n', ""
    )
    return told + (f'humidity_max = "{damp}"\n' if damp else "") + f'mark = "{low} to {high}"\n'


CARD = handling("1 h", "60 F", "100 F") + handling("2 h", "40 F", "60 F") + handling("4 h", "0 F", "40 F")
READ_BACK = '\ntyped_by = "A"\nread_back_by = "B"\nphoto = "c2.jpg"\n'


def job_with(folder: Path, *, rows: str = CARD, walk: str = WALK, read_back: bool = True) -> Path:
    """Write the job folder."""
    papers = PAPERS.replace("[[crews]]", '[[people]]\nid = "B"\nname = "Reader B (invented)"\n[[crews]]', 1)
    if read_back:
        papers = papers.replace(
            'source = "container (invented)"\n', f'source = "container (invented)"{READ_BACK}'
        )
    job_at(folder, walk, PARTS, toml=papers + rows + stock("2in"))
    return folder


def fahr(degrees: float) -> dict[str, str]:
    """A temperature as typed, and in kelvin: (F - 32) / 1.8 + 273.15."""
    return {"typed": f"{degrees:g} F", "si": f"{(degrees - 32.0) / 1.8 + 273.15:.6f}", "unit": "K"}


def at(clock: str, *, day: int = 0) -> datetime:
    """A moment of the story in the zone of the site, as UTC."""
    hour, minute = clock.split(":")
    return (DAY + timedelta(days=day, hours=int(hour), minutes=int(minute))).astimezone(UTC)


class Story:
    """Writes entries at told moments into the logbook of a job."""

    def __init__(self, folder: Path, *, synchronised: str = "yes", boot: str = "boot-1") -> None:
        self.store = SqliteStore(folder / "logbook.db", job=JOB)
        self.clock = Hands(at("7:00"), synchronised=synchronised, boot=boot)
        self.pens = {who: Pen(self.store, writer(who[:8], who), self.clock) for who in (ANNA, BELA)}

    def write(
        self, clock: str, kind: str, body: Mapping[str, Any], *, who: str = ANNA, day: int = 0
    ) -> Entry:
        self.clock.wait(seconds=(at(clock, day=day) - self.clock.wall).total_seconds())
        return self.pens[who].write(kind, body)[0]

    def made(
        self, clock: str, end: str, joint: str = J1, *, cold: float | None = 52.0, damp: str = ""
    ) -> None:
        """A joint made and held."""
        body: dict[str, Any] = {"joint": joint}
        if cold is not None:
            body["joint_temperature"] = fahr(cold)
        if damp:
            body["humidity"] = {"typed": f"{damp} %", "si": str(float(damp) / 100), "unit": "1"}
        self.write(clock, "joint_made", body)
        self.write(end, "hold_end", {"joint": joint})

    def read(self, clock: str, cold: float, joint: str = J1, *, said: str = "") -> None:
        """A temperature of a joint, told now or, if said, for an earlier moment."""
        body: dict[str, Any] = {"temperature": fahr(cold), "of": "joint", "joint": joint}
        if said:
            body["at"] = moment_text(at(said))
        self.write(clock, "reading", body)

    @property
    def receipt(self) -> int:
        """Number of the newest receipt."""
        return self.store.receipt().number
