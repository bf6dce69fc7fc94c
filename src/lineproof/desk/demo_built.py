"""The invented treatment works partly built: a record of ten days, and a joint made this morning.

Everything told here is invented, times and temperatures too. It is written into a logbook of its own, entry
by entry, on a clock that is set by hand to the days of the story.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import lineproof
from lineproof.desk import record_book as book
from lineproof.desk.record_typed import measured
from lineproof.job.card_seal import seal_of, told_of
from lineproof.logbook.entry import moment_text
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen, Reading, Writer

SECTION, LINE, GAUGE, PRESSURE = "B-203", "B-203", "PG-2", "135 psi"
ASKED_AT = "2027-04-26T13:00"
"""The moment of the demo: the pump is there, the witness is there, and one joint is five hours old."""

MORE_TOML = f"""
# ------------------------------------------------------------------ partly built (INVENTED)
# The wash-water line is tested by itself, before the rest.
[[sections]]
id = "{SECTION}"
lines = ["{LINE}*"]
gauge = "{GAUGE}"
pressure = "{PRESSURE}"
medium = "water"

[[pressure_caps]]
section = "{SECTION}"
pressure = "150 psi"
wall_temperature = "73 F"
signed_by = "P-7"
date = 2027-04-23
"""

_TABLET = "site tablet (invented)"
_WRITER = "6a0f7f0e-3d52-4c59-9f0c-6f1f7d1c2203"
_BOOT = "boot of the invented site tablet"
_FIRST = datetime.fromisoformat("2027-04-12T00:00")
_A_DAY = 6
_STEPS = (
    ("dry_fitted", -16), ("marked", -14), ("cleaned", -9), ("socket_primed", -6), ("pipe_primed", -5),
    ("socket_primed_again", -4), ("pipe_cemented", -2.5), ("socket_cemented", -1.5),
    ("pipe_cemented_again", -1), ("pushed", -0.5), ("home", 0),
)  # fmt: skip
"""Minutes before the joint is home (invented)."""


class _Clock:
    """The tablet's clock, set by hand to the days of the story."""

    def __init__(self, zone: ZoneInfo) -> None:
        self.zone = zone
        self.start = _FIRST.replace(tzinfo=zone).astimezone(UTC)
        self.wall = self.start

    def to(self, when: datetime) -> None:
        """On to a moment of the site, never back."""
        self.wall = max(self.wall, when.replace(tzinfo=self.zone).astimezone(UTC))

    def read(self) -> Reading:
        """All clocks at this moment."""
        ticks = Decimal((self.wall - self.start) // timedelta(microseconds=1)) / 1_000_000
        return Reading(self.wall, ticks + 60, _BOOT, "yes", self.zone.key)


def air(when: datetime) -> float:
    """Gallery air of the story, 10 to 14 C over the day (invented). [C]"""
    return 12.0 + 2.0 * math.sin((when.hour + when.minute / 60.0 - 9.0) / 24.0 * 2.0 * math.pi)


class _Story:
    def __init__(self, folder: Path, store: SqliteStore, clock: _Clock) -> None:
        self.folder = folder
        self.store = store
        self.clock = clock
        self.pens: dict[str, Pen] = {}

    def write(self, when: datetime, by: str, kind: str, **body: Any) -> None:
        """One entry by a person at a moment."""
        self.clock.to(when)
        if by not in self.pens:
            who = book.person_uuid(self.store.job, by)
            writer = Writer(
                id=_WRITER, who=who, device=_TABLET, software=f"lineproof {lineproof.__version__}"
            )
            self.pens[by] = Pen(self.store, writer, self.clock)
        self.pens[by].write(kind, body)

    def person(self, id: str) -> str:
        return book.person_uuid(self.store.job, id)

    def joint(self, joint: str, home: datetime, cans: Sequence[str]) -> None:
        """A joint made, held, let go, measured and looked at."""
        cold = f"{air(home) - 0.5:.1f} C"
        steps = [
            {"step": step, "at": self.moment(home + timedelta(minutes=minutes))} for step, minutes in _STEPS
        ]
        self.write(
            home, "P-6", "joint_made", joint=joint, steps=steps, card="C-2", cans=list(cans),
            issue=1,
            roles={
                "pipe_end": self.person("P-2"), "socket": self.person("P-1"),
                "pulled": [self.person("P-5")], "called_time": self.person("P-6"),
            },
            joint_temperature=measured(cold, "temperature"),
            air_temperature=measured(f"{air(home):.1f} C", "temperature"),
            humidity=measured("55 %", "fraction"), wind=measured("1 mph", "speed"),
        )  # fmt: skip
        shortfall = measured("1/16 in", "length")
        looked = {"bead all round": True, "mark at the face": True}
        after: tuple[tuple[int, str, str, dict[str, Any]], ...] = (
            (3, "P-6", "hold_end", {}),
            (26, "P-6", "pullers_off", {}),
            (30, "P-6", "insertion", {"shortfall": shortfall}),
            (45, "P-8", "examined", {"list": "A-1", "accepted": True, "points": looked}),
        )
        for minutes, by, kind, body in after:
            self.write(home + timedelta(minutes=minutes), by, kind, joint=joint, **body)

    def moment(self, when: datetime) -> str:
        return moment_text(when.replace(tzinfo=self.clock.zone))

    def hour(self, when: datetime, joints: Sequence[str]) -> None:
        """The round of every hour: the coldest of the joints made so far, and the humidity."""
        if joints:
            cold = measured(f"{air(when) - 0.5:.1f} C", "temperature")
            self.write(when, "P-6", "reading", temperature=cold, of="joint", joints=list(joints))
        self.write(when, "P-6", "humidity", humidity=measured("55 %", "fraction"), place="gallery")


def write_story(folder: Path, joints: Sequence[str], ends: Sequence[str], zone: ZoneInfo) -> None:
    """Write the record of the works: one line built over ten days, its last joint this morning.

    Parameters
    ----------
    folder : Path
        A job folder whose joints are issued.
    joints : sequence of str
        Joints of the section, in the order they are made.
    ends : sequence of str
        Everything that stands at an end of it.
    zone : ZoneInfo
        Of the site.
    """
    clock = _Clock(zone)
    job = book.job_uuid(book.settings_of(folder))
    with SqliteStore(folder / book.FILE, job=job, clock=lambda: clock.wall) as store, store.lock():
        story = _Story(folder, store, clock)
        told = told_of((folder / "job.toml").read_text("utf-8"), "C-2")
        story.write(_FIRST.replace(hour=7), "P-6", "card", card="C-2", seal=seal_of(told), told=told)
        made: list[str] = []
        last = datetime.fromisoformat(ASKED_AT)
        due = dict(_making(joints))
        hour = _FIRST.replace(hour=7)
        while hour + timedelta(hours=1) < last:
            for home in sorted(t for t in due if hour <= t < hour + timedelta(hours=1)):
                joint, cans, opened = due[home]
                for can in opened:
                    kind, lot = ("cement", "HG-2611") if can.startswith("C2") else ("primer", "PP-2607")
                    before = home - timedelta(minutes=25)
                    story.write(before, "P-6", "can_received", can=can, lot=lot, holds=kind)
                    story.write(before + timedelta(minutes=5), "P-6", "can_opened", can=can)
                story.joint(joint, home, cans)
                made.append(joint)
            hour += timedelta(hours=1)
            story.hour(hour, made)
            if hour.hour == 17:
                for can in [c for _, _, cans in due.values() for c in cans if c.endswith(f"{hour:%d}")]:
                    story.write(hour, "P-6", "can_thrown", can=can, reason="open since the morning")
        _around(story, last, ends)
        story.hour(last - timedelta(minutes=20), made)


def _making(joints: Sequence[str]) -> Iterator[tuple[datetime, tuple[str, tuple[str, str], tuple[str, ...]]]]:
    """When each joint is home, with its cans and those opened for it; the last one this morning."""
    day = _FIRST
    for n, joint in enumerate(joints):
        place = n % _A_DAY
        if n == len(joints) - 1:
            day, place = datetime.fromisoformat(ASKED_AT).replace(hour=0, minute=0), 0
        cans = (f"C2-{day:%d}", f"PR-{day:%d}")
        home = day + timedelta(hours=8, minutes=8 + 70 * place)
        yield home, (joint, cans, cans if place == 0 else ())
        if place == _A_DAY - 1:
            day += timedelta(days=3 if day.weekday() == 4 else 1)


def _around(story: _Story, asked: datetime, ends: Sequence[str]) -> None:
    """What stands around the section, recorded in the last hour; the spot is answered when it is time."""
    when = asked - timedelta(minutes=55)
    for end in ends:
        story.write(when, "P-6", "isolation", section=SECTION, boundary=end, how="blind")
    told: tuple[tuple[str, str, Mapping[str, Any]], ...] = (
        ("P-6", "restraint_checked", {"section": SECTION, "good": True}),
        ("P-6", "bolts_torqued", {"section": SECTION, "good": True, "torque": "50 ft-lb (invented)"}),
        ("P-9", "gauge", {
            "gauge": "G-21", "place": GAUGE, "calibrated": "2027-01-15", "due": "2028-01-15",
            "error": measured("2 psi", "pressure"), "range": measured("200 psi", "pressure"),
        }),
        ("P-9", "source", {
            "section": SECTION, "source": "hand pump", "most": measured(PRESSURE, "pressure"),
            "how": "relief valve",
        }),
        ("P-9", "release_asked", {
            "release": "B-203/first", "section": SECTION, "may": "raise", "gauge": GAUGE, "medium": "water",
            "pressure": measured(PRESSURE, "pressure"),
        }),
    )  # fmt: skip
    for n, (by, kind, body) in enumerate(told):
        story.write(when + timedelta(minutes=10 + n), by, kind, **body)
