"""``may raise`` on a whole job: warm, and cold as a command, beside reading and hashing the same rows.

Invented data: a generated job of 9,920 joints in one section, issued; six entries a joint (made, nut on
first, insertion, hold end, pullers off, examined) by four phones over a year, one logger's file of hourly
temperatures of that year that names every joint, and what stands around the section.

    PYTHONPATH=src .venv/bin/python benchmarks/release.py [--quick] [--profile] [FOLDER]

Warm: one object holds plan, fold and progress; an entry comes in, and it answers again. An entry that makes
or cuts out a joint has the job planned anew, and is not among them. Cold: ``python -m lineproof may raise``
as a process of its own, twice; nothing derived is kept between the two. Aims (two cores): warm 0.1 s, cold
1.0 s, both equal, one entry folded for one that came in. FOLDER must lie on a real disk.
"""

from __future__ import annotations

import cProfile
import gc
import hashlib
import json
import os
import pstats
import random
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import generated

from lineproof.book.load import book
from lineproof.desk.record_book import job_uuid, joints_of, person_uuid, settings_of
from lineproof.logbook.entry import NOTHING_BEFORE, Entry, make, moment_text, new_id
from lineproof.logbook.sqlite_store import SqliteStore

ROOT = Path(__file__).resolve().parents[1]
QUICK = "--quick" in sys.argv
PLACES = [word for word in sys.argv[1:] if not word.startswith("-")]
JOINTS = 1_000 if QUICK else 10_900
"""What the generator aims at; it makes about a tenth less."""
NOW = datetime(2028, 5, 20, 16, 0, tzinfo=UTC)
BEGUN = NOW - timedelta(days=366)
ASK = ("may", "raise", "S", "--gauge", "60psi", "--at", "PG", "--medium", "water")
WHEN = ("--when", NOW.isoformat())
PHONES = ("phone 1", "phone 2", "phone 3", "phone 4")

PEOPLE = """
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
[[pressure_caps]]
section = "S"
pressure = "90 psi"
wall_temperature = "73 F"
signed_by = "E"
date = 2028-05-01
[[cans]]
id = "K-1"
kind = "cement"
card = "C"
volume = "1 qt"
lot = "7731"
expires = 2029-06-30
[[cans]]
id = "K-2"
kind = "primer"
volume = "1 qt"
lot = "118"
expires = 2029-06-30
"""
JOINER = """
[[people]]
id = "{id}"
name = "Joiner {id} (invented)"
[[people.qualifications]]
material = "pvc"
steps = "two-step"
size_lo = "2in"
size_hi = "12in"
document = "card {id} (invented)"
tested_on = 2027-03-02
last_used_on = 2027-05-02
"""
ROW = """
[[cards.rows]]
kind = "{kind}"
size_lo = "2in"
size_hi = "12in"
temp_lo = "{low} F"
temp_hi = "{high} F"
time = "{hours} h"
mark = "{low} to {high} F"
"""


def job_folder(folder: Path, joints: int) -> Path:
    """A generated job with people, caps, a card with rows, and every row of the tables confirmed."""
    generated.write_job(folder, joints)
    path = folder / "job.toml"
    rows = "".join(
        ROW.format(kind=kind, low=low, high=high, hours=hours)
        + (f'pressure_max = "{psi} psi"\n' if psi else "")
        for low, high, factor in ((0, 40, 8), (40, 60, 2), (60, 110, 1))
        for kind, hours, psi in (
            ("handling", 1 * factor, 0), ("cure", 24 * factor, 100), ("cure", 48 * factor, 180)
        )
    )  # fmt: skip
    told = path.read_text("utf-8")
    told = told.replace(
        '[[procedures]]\nid = "BP"\n',
        '[[procedures]]\nid = "BP"\nallowed_shortfall = "1/4 in"\n'
        'hold = [{ size_lo = "2in", size_hi = "12in", time = "1 min" }]\n',
    )
    told = told.replace("[[stock]]", "\n[[stock]]", 1)
    card = 'sizes_to = "12in"\ntyped_by = "A"\nread_back_by = "B"\nphoto = "c.jpg"\n'
    card += 'source = "container (invented)"\n'
    head, _, stock = told.replace('sizes_to = "12in"\n', card + rows, 1).partition("\n[[stock]]")
    joiners = "".join(JOINER.format(id=p) for p in "ABCD")
    confirmed = "".join(
        f'\n[[confirmations]]\ntable = "{table}"\nedition = "{edition}"\nrow_hash = "{row}"\n'
        'value = "as printed"\npage = "1"\nby = "Q"\nrole = "quality"\ndate = 2027-05-01\n'
        for table, edition, row in sorted(book().every_confirmation())
    )
    path.write_text(head + joiners + PEOPLE + "\n[[stock]]" + stock + confirmed, "utf-8")
    lines = (folder / "parts.csv").read_text("utf-8").splitlines()
    cells = [line.split(",") for line in lines]
    rating, at = cells[0].index("rating"), cells[0].index("tag")
    for row in cells[1:]:
        row[rating] = "150 psi"
        row[at] = ""
    (folder / "parts.csv").write_text("\n".join(",".join(row) for row in cells) + "\n", "utf-8")
    return folder


class Hand:
    """Makes entries of several writers, on clocks that agree."""

    def __init__(self, job: str) -> None:
        self.job = job
        self.ends: dict[str, tuple[str, int, str]] = {}
        self.made: list[Entry] = []

    def write(
        self, at: datetime, kind: str, by: str, body: dict[str, Any], phone: str = PHONES[0], v: int = 1
    ) -> None:
        writer, sequence, previous = self.ends.get(phone, (new_id(), 0, NOTHING_BEFORE))
        entry = make(
            {
                "version": 1, "kind": kind, "kind_version": v, "id": new_id(), "job": self.job,
                "writer": writer, "sequence": sequence + 1, "previous": previous, "wall": moment_text(at),
                "zone": "America/Denver", "monotonic": f"{(at - BEGUN).total_seconds() + 1e4:.6f}",
                "boot": f"boot of {phone}", "synchronised": "yes", "who": person_uuid(self.job, by),
                "device": phone, "software": "0.1.0", "tables": {}, "body": body,
            }
        )  # fmt: skip
        self.ends[phone] = (writer, sequence + 1, entry.seal)
        self.made.append(entry)


def measure(typed: str, si: str, unit: str) -> dict[str, str]:
    return {"typed": typed, "si": si, "unit": unit}


def logbook(folder: Path) -> int:
    """Six entries a joint over a year, readings, and what stands around the section; how many entries."""
    rng = random.Random(5)
    job = job_uuid(settings_of(folder))
    names = sorted(joints_of(folder).newest)
    hand = Hand(job)
    told: list[tuple[datetime, str, str, dict[str, Any], str]] = []
    step = (NOW - BEGUN - timedelta(days=4)) / len(names)
    for n, joint in enumerate(names):
        at = BEGUN + timedelta(days=1) + n * step
        phone, pair = PHONES[n % 4], ("AB", "CD", "BA", "DC")[n % 4]
        body = {
            "joint": joint, "lots": {"cement": "7731", "primer": "118"},
            "roles": {"pipe_end": person_uuid(job, pair[0]), "socket": person_uuid(job, pair[1])},
            "joint_temperature": measure("52 F", "284.261111", "K"),
            "humidity": measure("50 %", "0.5", "1"),
        }  # fmt: skip
        told.append((at, "joint_made", pair[0], body, phone))
        for after, kind, by, more in (
            (-4, "first_on", pair[0], {"what": "nut"}),
            (3, "hold_end", pair[0], {}),
            (4, "insertion", pair[0], {"shortfall": measure("2 mm", "0.002", "m")}),
            (5, "pullers_off", pair[0], {}),
            (6, "examined", "CDAB"["ABCD".index(pair[0])], {"list": "A-1", "accepted": True}),
        ):
            told.append((at + timedelta(minutes=after), kind, by, {"joint": joint, **more}, phone))
    hours = [BEGUN + timedelta(hours=h) for h in range(int((NOW - BEGUN) / timedelta(hours=1)) - 1)]
    rows = "".join(f"{at:%Y-%m-%dT%H:%M:%SZ},{rng.uniform(8, 20):.2f}\n" for at in hours)
    content = f"time UTC,temperature C\n{rows}".encode()
    with SqliteStore(folder / "logbook.db", job=job) as store:
        kept = store.files().put(content)
        file = {
            "file": kept, "name": "logger.csv", "joints": names, "of": "joint", "clock_checked": True,
        }  # fmt: skip
        told.append((NOW - timedelta(minutes=50), "reading_file", "A", file, "office"))
        told += around(ends_of(folder))
        for at, kind, by, body, phone in sorted(told, key=lambda t: t[0]):
            hand.write(at, kind, by, body, phone, 2 if kind == "reading_file" else 1)
        for start in range(0, len(hand.made), 200):
            store.append(hand.made[start : start + 200])
    return len(hand.made)


def ends_of(folder: Path) -> list[str]:
    """Every end of the section."""
    from lineproof.job.folder import read_job
    from lineproof.plan.section_reach import reach_of
    from lineproof.plan.work import graph_of

    job = read_job(folder)
    return [end.boundary for end in reach_of(job.settings.sections[0], graph_of(job), {}).ends]


def around(ends: list[str]) -> list[tuple[datetime, str, str, dict[str, Any], str]]:
    """Gauge, ends, restraint, bolts, source and conditions, within the last ten minutes."""
    psi = "413685.4"
    told: list[tuple[str, str, dict[str, Any]]] = [
        ("gauge", "T", {
            "gauge": "G-1", "place": "PG", "due": "2028-09-01", "error": measure("1 psi", "6894.76", "Pa"),
            "range": measure("120 psi", "827370.9", "Pa"),
        }),
        ("restraint_checked", "B", {"section": "S", "good": True}),
        ("bolts_torqued", "B", {"section": "S", "good": True}),
        ("source", "T", {"section": "S", "source": "hand pump", "most": measure("60 psi", psi, "Pa")}),
    ]  # fmt: skip
    told += [("isolation", "B", {"section": "S", "boundary": end, "how": "blind"}) for end in ends]
    for name, by in (("joints-ready", "A"), ("air-out", "B"), ("people-out", "C"), ("nothing-since", "T")):
        told.append(("condition", by, {"section": "S", "condition": name, "answer": True, "place": "gate"}))
    return [(NOW - timedelta(minutes=9), kind, by, body, "office") for kind, by, body in told]


def one(folder: Path, after: datetime, kind: str, by: str, body: dict[str, Any]) -> None:
    """One more entry, by the office."""
    job = job_uuid(settings_of(folder))
    with SqliteStore(folder / "logbook.db", job=job) as store:
        hand = Hand(job)
        hand.write(after, kind, by, body, f"office {new_id()[:4]}")
        store.append(hand.made)


def cold(folder: Path) -> tuple[float, str]:
    """``may raise`` as a command of its own: seconds, and the answer."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "lineproof", *ASK, *WHEN, "--json", "--job", str(folder)],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
    )  # fmt: skip
    took = time.perf_counter() - start
    if done.returncode not in (0, 10, 11, 12, 13):
        raise SystemExit(done.stderr)
    return took, done.stdout


def bound(folder: Path) -> float:
    """Reading the same rows and hashing their bytes, in this process; the best of three."""
    times = []
    for _ in range(3):
        with SqliteStore(folder / "logbook.db") as store:
            start = time.perf_counter()
            for row in store.rows():
                hashlib.sha256(row[6]).digest()
            times.append(time.perf_counter() - start)
    return min(times)


def warm(folder: Path) -> str:
    """The held answer, before and after one more entry; the last answer as the command would print it."""
    from lineproof.desk.as_json import dumps
    from lineproof.desk.site_kept import KeptSite
    from lineproof.desk.verbs_raise import answer_of
    from lineproof.floor.units import parse
    from lineproof.plan.section_at import Asked

    asked = Asked(verb="raise", section="S", pressure=parse("60psi", "pressure"), gauge="PG", medium="water")
    site = KeptSite(folder)
    names = sorted(joints_of(folder).newest)

    def ask(what: str) -> str:
        folded, read = site.folded, site.read
        start, worked = time.perf_counter(), time.process_time()
        known, found = site.may_raise(asked, NOW.isoformat())
        took, work = time.perf_counter() - start, time.process_time() - worked
        print(
            f"  {what:34} {took:6.3f} s ({work:.3f} s of processor), {site.folded - folded} folded,"
            f" {site.read - read} joints read, {found.verdict.name}"
        )
        return dumps("may-raise", answer_of(known, found))

    print("warm, one object (aim: 0.1 s and 1 entry folded)")
    ask("first, nothing held")
    gc.collect()
    gc.freeze()  # what is held stays: the collector need not walk through it at every question
    gc.set_threshold(200_000, 50, 50)  # as the commands do
    ask("again")
    at = NOW - timedelta(minutes=5)
    one(folder, at, "condition", "T", {"section": "S", "condition": "nothing-since", "answer": True})
    ask("after a condition")
    one(folder, at, "examined", "C", {"joint": names[7], "list": "A-1", "accepted": True})
    ask("after a joint was examined")
    one(
        folder,
        at,
        "reading",
        "A",
        {"temperature": measure("52 F", "284.3", "K"), "of": "joint", "joint": names[9]},
    )
    ask("after a joint was read by hand")
    one(folder, at, "moved", "A", {"joint": names[8], "how": "lowered"})
    told = ask("after a joint was moved")
    if "--profile" in sys.argv:
        watch = cProfile.Profile()
        watch.enable()
        site.may_raise(asked, NOW.isoformat())
        watch.disable()
        pstats.Stats(watch).sort_stats("tottime").print_stats(25)
    site.close()
    return told


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory(dir=PLACES[0] if PLACES else None) as top:
        folder = job_folder(Path(top, "job"), JOINTS)
        subprocess.run(
            [sys.executable, "-m", "lineproof", "plan", "--issue", "--no-paper", "--job", str(folder)],
            capture_output=True, check=False, env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        )  # fmt: skip
        count = logbook(folder)
        print(f"{len(joints_of(folder).newest)} joints, {count} entries, a year of hourly readings")
        least = bound(folder)
        print(f"reading the same rows and hashing them {least:6.3f} s")
        told = warm(folder)
        print("cold, a process of its own (aim: 1.0 s)")
        for what in ("first", "again"):
            took, said = cold(folder)
            print(f"  {what:34} {took:6.3f} s, {took / least:.1f} times reading and hashing")
            same = json.loads(said) == json.loads(told)
            print(f"  warm and cold answers equal: {'yes' if same else 'NO'}")


if __name__ == "__main__":
    main()
