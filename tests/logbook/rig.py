"""Invented entries for the tests of the logbook: people, devices, clocks that lie, bodies of every kind."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from lineproof.logbook.entry import NOTHING_BEFORE, Entry, make, moment_text
from lineproof.logbook.kinds import KINDS, latest
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.store import Stored
from lineproof.logbook.writing import Pen, Reading, Writer

_SHARED = Path("/dev/shm")
MEMORY = _SHARED if _SHARED.is_dir() and os.access(_SHARED, os.W_OK) else None
START = datetime(2026, 11, 22, 8, 0, tzinfo=UTC)


def named(word: str) -> str:
    """The same UUID for the same word."""
    return str(uuid.uuid5(uuid.NAMESPACE_OID, word))


JOB = named("job Sarnquell")
ANNA, BELA, CORA = (named(f"person {name}") for name in ("Anna", "Bela", "Cora"))
SHA = "ab" * 32


class Hands:
    """A clock that is set by hand: wall and monotonic go on together until somebody sets the wall."""

    def __init__(self, wall: datetime = START, *, boot: str = "boot-1", synchronised: str = "yes") -> None:
        self.wall = wall
        self.monotonic = Decimal(1000)
        self.boot = boot
        self.synchronised = synchronised
        self.zone = "Europe/London"

    def read(self) -> Reading:
        return Reading(self.wall, self.monotonic, self.boot, self.synchronised, self.zone)

    def wait(self, **span: float) -> None:
        step = timedelta(**span)
        self.wall += step
        self.monotonic += Decimal(step // timedelta(microseconds=1)) / 1_000_000

    def set(self, **by: float) -> None:
        self.wall += timedelta(**by)

    def restart(self, boot: str, *, off: timedelta = timedelta(0)) -> None:
        self.boot = boot
        self.monotonic = Decimal(5)
        self.wall += off


def writer(word: str, who: str = ANNA) -> Writer:
    return Writer(id=named(f"writer {word}"), who=who, device=f"phone {word}", software="0.1.0")


def chain(
    word: str,
    told: Iterable[tuple[str, Mapping[str, Any]]],
    *,
    who: str = ANNA,
    start: datetime = START,
    apart: timedelta = timedelta(minutes=5),
    job: str = JOB,
    after: Entry | None = None,
) -> list[Entry]:
    """A chain of one writer, made without a store; ids follow from the writer's word and the place."""
    entries: list[Entry] = []
    place, previous = (after.sequence + 1, after.seal) if after else (1, NOTHING_BEFORE)
    for i, (kind, body) in enumerate(told):
        entries.append(entry(word, place + i, previous, kind, body, who=who, wall=start + i * apart, job=job))
        previous = entries[-1].seal
    return entries


def fields(
    word: str, sequence: int, previous: str, kind: str, body: Mapping[str, Any], **other: Any
) -> dict[str, Any]:
    wall = other.pop("wall", START)
    return {
        "version": 1,
        "kind": kind,
        "kind_version": max((version for word, version in KINDS if word == kind), default=1),
        "id": named(f"{word} {sequence}"),
        "job": JOB,
        "writer": named(f"writer {word}"),
        "sequence": sequence,
        "previous": previous,
        "wall": moment_text(wall),
        "zone": "Europe/London",
        "monotonic": f"{(wall - START).total_seconds() + 1000:.6f}",
        "boot": f"boot of {word}",
        "synchronised": "yes",
        "who": ANNA,
        "device": f"phone {word}",
        "software": "0.1.0",
        "tables": {"astm_d2855": "2020"},
        "body": body,
        **other,
    }


def entry(word: str, sequence: int, previous: str, kind: str, body: Mapping[str, Any], **other: Any) -> Entry:
    return make(fields(word, sequence, previous, kind, body, **other))


def stored(entries: Sequence[Entry]) -> list[Stored]:
    return [Stored(each, 1, i) for i, each in enumerate(entries, 1)]


def store_at(folder: Path, name: str = "logbook.db", **options: Any) -> SqliteStore:
    folder.mkdir(parents=True, exist_ok=True)
    return SqliteStore(folder / name, job=JOB, **options)


def pen_for(store: SqliteStore, word: str = "one", clock: Hands | None = None, who: str = ANNA) -> Pen:
    return Pen(store, writer(word, who), clock or Hands())


def kelvin(typed: str, si: str) -> dict[str, str]:
    return {"typed": typed, "si": si, "unit": "K"}


def metres(typed: str, si: str) -> dict[str, str]:
    return {"typed": typed, "si": si, "unit": "m"}


def pascals(typed: str, si: str) -> dict[str, str]:
    return {"typed": typed, "si": si, "unit": "Pa"}


def at(minutes: float) -> str:
    return moment_text(START + timedelta(minutes=minutes))


J = "B-201/J31"
MADE: dict[str, Any] = {
    "joint": J,
    "steps": [
        {"step": "socket_primed", "at": at(-4)},
        {"step": "pipe_primed", "at": at(-3.5)},
        {"step": "pipe_cemented", "at": at(-3)},
        {"step": "socket_cemented", "at": at(-2.5)},
        {"step": "home", "at": at(-2)},
    ],
    "roles": {"pipe_end": ANNA, "socket": BELA, "pulled": [CORA], "called_time": CORA},
    "lots": {"cement": "C-2 lot 7731", "primer": "P-1 lot 118"},
    "joint_temperature": kelvin("52 F", "284.261111"),
    "air_temperature": kelvin("11 C", "284.15"),
    "humidity": {"typed": "60.1 %", "si": "0.601", "unit": "1"},
    "wind": {"typed": "5 mph", "si": "2.2352", "unit": "m/s"},
}
BODIES: dict[str, dict[str, Any]] = {
    "joint_made": MADE,
    "first_on": {"joint": J, "what": "ring"},
    "dry_fit": {"joint": J, "depth": metres('1 1/2"', "0.0381")},
    "insertion": {"joint": J, "shortfall": metres("2 mm", "0.002"), "allowed": metres("3 mm", "0.003")},
    "hold_end": {"joint": J},
    "pullers_off": {"joint": J},
    "moved": {"joint": J, "how": "lowered on two slings"},
    "disturbed": {"joint": J, "how": "bucket touched the pipe"},
    "examined": {"joint": J, "list": "A-1", "accepted": True, "points": {"bead all round": True}},
    "rejected": {"joint": J, "reason": "no bead at the invert"},
    "cut_out": {"joint": J, "reason": "rejected"},
    "replaced": {"joint": J, "by": ["B-201/F1", "B-201/F2"]},
    "field_joint": {"joint": "B-201/F1", "beside": J, "section": "B-2", "size": "NPS 12"},
    "can_received": {"can": "C2-04", "lot": "7731", "holds": "cement", "expires": "2027-06-30"},
    "can_opened": {"can": "C2-04"},
    "can_thrown": {"can": "C2-04", "reason": "jelly"},
    "reading": {"temperature": kelvin("9 C", "282.15"), "of": "joint", "joint": J},
    "reading_file": {
        "file": SHA,
        "name": "logger-7.csv",
        "joints": [J],
        "from": at(0),
        "to": at(600),
        "clock_checked": True,
    },
    "gauge": {"gauge": "PG-2", "calibrated": "2026-03-01", "elevation": metres("2'-6\"", "0.762")},
    "humidity": {"humidity": {"typed": "62 %", "si": "0.62", "unit": "1"}, "place": "gallery, bay 2"},
    "restraint_checked": {"section": "B-2", "good": True},
    "hold_tag_set": {"tag": "H-3", "on": J, "reason": "waits for the engineer"},
    "hold_tag_lifted": {"tag": "H-3"},
    "grout": {"section": "B-2", "what": "grout", "ready": at(60 * 72)},
    "release_asked": {
        "release": "R-1",
        "section": "B-2",
        "may": "raise",
        "pressure": pascals("95 psi", "655001.94"),
    },
    "release_given": {
        "release": "R-1",
        "section": "B-2",
        "may": "raise",
        "claimed": True,
        "pressure": pascals("95 psi", "655001.94"),
        "gauge": "PG-2",
        "medium": "water",
        "expires": at(75),
        "voids": ["any joint made, cut, moved or repaired"],
        "lines": ["B-201", "B-202"],
    },
    "release_expired": {"release": "R-1"},
    "release_withdrawn": {"release": "R-1", "reason": "a colder reading came in"},
    "isolation": {"section": "B-2", "boundary": "tee T-4", "how": "blind"},
    "source": {
        "section": "B-2",
        "source": "hand pump",
        "most": pascals("95 psi", "655001.94"),
        "how": "relief valve",
    },
    "bolts_torqued": {"section": "B-2", "good": True, "flanges": ["B-201/FL3"], "torque": "110 ft-lb"},
    "condition": {
        "section": "B-2",
        "condition": "people-out",
        "answer": True,
        "place": "gallery gate",
        "since": at(5),
    },
    "zero_proved": {"section": "B-2", "vent": "V-4 high point"},
    "correction": {"corrects": named("golden 1"), "reason": "wrong joint tapped", "fields": {"joint": J}},
    "step_in_clock": {"before": at(0), "after": at(120), "by_s": "7200.000000"},
    "time_confirmed": {"of": named("golden 1"), "true_time": at(3), "how": "wall clock of the site office"},
    "fork_settled": {"seals": [SHA], "stand": [SHA], "reason": "both were asked"},
    "issue": {"number": 2, "made_of": SHA, "seal": SHA, "inputs": {"job.toml": SHA}},
    "card": {"card": "C-2", "seal": SHA, "told": {"product": "Grey cement (invented)"}},
    "imported": {"file": SHA, "name": "weather.csv", "rows": 8760},
    "answer": {"asked": "may raise B-2 --gauge 95psi", "verdict": "WAIT", "inputs": {"record": SHA}},
    "phone_paired": {
        "phone": "ph-3f7a2c",
        "person": named("joiner"),
        "roles": ["joiner"],
        "again": False,
        "name": "crew phone 2",
    },
    "phone_dropped": {"phone": "ph-3f7a2c", "person": named("joiner"), "reason": "lost in the trench"},
    "chain_bound": {"phone": "ph-3f7a2c", "chain": named("writer"), "person": named("joiner")},
    "refusals": {
        "since": at(0),
        "until": at(60),
        "counts": {"wrong code": 12, "not paired": 40},
        "addresses": 2,
        "codes_closed": 1,
    },
    "note": {"text": "rain from two o'clock", "section": "B-2"},
}


def every_kind() -> list[tuple[str, dict[str, Any]]]:
    return [(kind, BODIES[kind]) for kind in BODIES if latest(kind)]
