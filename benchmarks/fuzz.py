"""Damaged job folders: 20,000 seeded slips in real files, each read whole and laid, with time and memory.

The files are those of the demo and of the examples (invented data). A case writes one damaged file into a
copy of its job folder, reads the folder and lays its lines. Asked of every case: nothing but our own errors,
each one sentence; at most 1 s and 200 MiB (the peak of the whole process, with interpreter and libraries).
Asked of each kind of file: a tenth still reads; nine in ten errors stand within a line of the slip. A
joints.csv is sealed, so that none of its mutants may read.

Run with ``PYTHONPATH=src:tests .venv/bin/python benchmarks/fuzz.py``; ``--count 2000`` is a tenth of it;
``--plan`` also cuts and nests what lays (that is not timed). Exit 1 on a breach.
"""

from __future__ import annotations

import argparse
import collections
import contextlib
import resource
import shutil
import signal
import tempfile
import time
import traceback
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path

from damage import CELL, WORD, mutants
from lineproof.book.load import book
from lineproof.floor.errors import LineproofError
from lineproof.job.folder import Job, read_job
from lineproof.job.joints_csv import JointRow, JointsFile, appended, read_joints
from lineproof.job.walk_csv import write_walk_csv
from lineproof.plan.work import Pipes, graph_of, work

ROOT = Path(__file__).resolve().parent.parent
SECONDS, MEBIBYTES, READS, NEAR = 1.0, 200.0, 0.10, 0.90
AGAIN = 0.25
"""A case slower than this is timed twice more and its best counts: the machine is shared. [s]"""
KINDS = {
    "walk": 7000,
    "walk as csv": 5000,
    "job.toml": 3500,
    "parts.csv": 3000,
    "taped.csv": 1000,
    "joints.csv": 500,
}
"""Cases of each kind out of 20,000."""


@dataclass
class Tally:
    """What the cases of one kind came to."""

    cases: int = 0
    reads: int = 0
    lays: int = 0
    refused: int = 0
    near: int = 0
    slowest: float = 0.0
    peak: float = 0.0
    breaches: list[str] = field(default_factory=list)
    far: collections.Counter[str] = field(default_factory=collections.Counter)

    def add(self, other: Tally) -> None:
        for name in ("cases", "reads", "lays", "refused", "near"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.slowest, self.peak = max(self.slowest, other.slowest), max(self.peak, other.peak)
        self.breaches += other.breaches
        self.far += other.far


def folders() -> list[Path]:
    """Every job folder of the demo and the examples."""
    places = [ROOT / "src/lineproof/demo", ROOT / "examples"]
    return sorted(p.parent for place in places for p in place.glob("*/job.toml"))


def texts(folder: Path) -> dict[tuple[str, str], str]:
    """Kind and name to text of the files of a job; those it has not are made from its plan."""
    job = read_job(folder)
    found: dict[tuple[str, str], str] = {}
    for path in sorted((folder / "lines").glob("*.walk")):
        found["walk", f"lines/{path.name}"] = path.read_text("utf-8")
    for walk in job.walks:
        found["walk as csv", Path(walk.file).with_suffix(".csv").as_posix()] = write_walk_csv(walk)
    for name in ("job.toml", "parts.csv"):
        found[name, name] = (folder / name).read_text("utf-8")
    found["taped.csv", "taped.csv"] = taped_text(job)
    found["joints.csv", "joints.csv"] = joints_text(job)
    return found


def taped_text(job: Job) -> str:
    """A taped.csv of twenty gaps between parts of the job."""
    rows = ["line,face_a,face_b,length,by,when,note"]
    for n, run in enumerate(list(graph_of(job).runs.values())[:20]):
        a, b = (part.split("/")[1] for part in (run.a[0], run.b[0]))
        length = f'"{n + 3}\'-{n % 12} 5/8"""' if n % 2 else f"{900 + n * 37} mm"
        rows.append(f"{run.line},{a},{b},{length},lead,2027-05-03 {8 + n % 10:02}:20,")
    return "\n".join(rows) + "\n"


def joints_text(job: Job) -> str:
    """A sealed joints.csv with a row for each end of each run."""
    rows = [
        JointRow(
            id=f"{run.line}/J{n}", kind="socket", line=run.line, a=run.a[0], b=run.b[0], what_a="elbow",
            what_b="pipe", born=1, at="0 0 0",
        )
        for n, run in enumerate(list(graph_of(job).runs.values())[:40], 1)
    ]  # fmt: skip
    return appended(JointsFile(), rows).text


# ------------------------------------------------------------------ one case
def peak_reset() -> bool:
    """Start the process's peak memory anew, where the system allows it."""
    try:
        Path("/proc/self/clear_refs").write_text("5")
    except OSError:
        return False
    return True


def peak() -> float:
    """Peak memory of this process since the reset, or ever. [MiB]"""
    with contextlib.suppress(OSError):
        for row in Path("/proc/self/status").read_text().splitlines():
            if row.startswith("VmHWM"):
                return int(row.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def too_long(*_: object) -> None:
    raise TimeoutError("given up after 30 s")


def once(folder: Path) -> tuple[str, LineproofError | None, float]:
    """Read and lay a folder: the step that refused it ("" if none), its error, the seconds."""
    start, step = time.perf_counter(), "read"
    try:
        job = read_job(folder)
        read_joints(job.joints_text)
        step = "lay"
        graph_of(job, Pipes(job, book()))
    except LineproofError as error:
        return step, error, time.perf_counter() - start
    return "", None, time.perf_counter() - start


def case(folder: Path, name: str, lines: tuple[int, int], tally: Tally, plan: bool) -> None:
    peak_reset()
    signal.alarm(30)
    try:
        step, error, seconds = once(folder)
        for _ in range(2 if seconds > AGAIN else 0):
            seconds = min(seconds, once(folder)[2])
        most = peak()
        if plan and not step:
            with contextlib.suppress(LineproofError):
                work(read_job(folder), seconds=0.5)
    except Exception as trouble:  # noqa: BLE001 (what is not ours is the finding)
        tally.breaches.append("".join(traceback.format_exception(trouble)[-3:]).strip())
        return
    finally:
        signal.alarm(0)
    tally.cases += 1
    tally.slowest, tally.peak = max(tally.slowest, seconds), max(tally.peak, most)
    if seconds > SECONDS or most > MEBIBYTES:
        tally.breaches.append(f"{seconds:.2f} s, {most:.0f} MiB")
    if step != "read":
        tally.reads += 1
        tally.lays += not step
    if error is None:
        return
    said = str(error)
    if not said.isprintable() or len(said) > 900 or not error.place.file:
        tally.breaches.append(f"no plain sentence with a file: {said!r}")
    if step == "read":
        tally.refused += 1
        close = error.place.file == name and any(abs(error.place.line - line) <= 1 for line in lines)
        tally.near += close
        if not close:
            tally.far[error.given[:60]] += 1


def batch(source: Path, kind: str, name: str, text: str, count: int, plan: bool) -> tuple[str, Tally]:
    """All cases of one file, in a child process."""
    from lineproof.job.folder_toml import read_settings  # noqa: F401 (loaded before the first is timed)

    tally = Tally()
    signal.signal(signal.SIGALRM, too_long)
    with workshop(source) as folder:
        path = folder / name
        if kind == "walk as csv":
            path.with_suffix(".walk").unlink()
        path.write_text(text, "utf-8")
        step, error, _ = once(folder)
        if step == "read":
            tally.breaches.append(f"undamaged, it does not read: {error}")
        for n, (data, first, last) in enumerate(
            mutants(text, count, f"{source.name} {name}", WORD if kind == "walk" else CELL)
        ):
            before = len(tally.breaches)
            path.write_bytes(data)
            case(folder, name, (first, last), tally, plan)
            if len(tally.breaches) > before:
                row = data.decode("latin-1").split("\n")[first - 1] if data else ""
                where = f"{source.name}/{name}, mutant {n}, line {first}: {row!r}"
                tally.breaches[before:] = [f"{where}\n{b}" for b in tally.breaches[before:]]
    return kind, tally


@contextlib.contextmanager
def workshop(source: Path) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / source.name
        shutil.copytree(source, folder)
        yield folder


# ------------------------------------------------------------------ all cases
def main() -> int:
    parser = argparse.ArgumentParser(description="20,000 damaged files of job folders")
    parser.add_argument("--count", type=int, default=20_000)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--plan", action="store_true", help="cut and nest what lays, too")
    parser.add_argument("--far", action="store_true", help="list the errors that stand far from the slip")
    asked = parser.parse_args()
    files = [(folder, *key, text) for folder in folders() for key, text in texts(folder).items()]
    share = collections.Counter(kind for _, kind, _, _ in files)
    total = {kind: Tally() for kind in KINDS}
    began = time.perf_counter()
    with ProcessPoolExecutor(asked.workers, mp_context=get_context("spawn")) as pool:
        handed = []
        for folder, kind, name, text in files:
            count = -(-KINDS[kind] * asked.count // (20_000 * share[kind]))
            handed.append(pool.submit(batch, folder, kind, name, text, count, asked.plan))
        for done in handed:
            kind, tally = done.result()
            total[kind].add(tally)
    print("file          cases   read    lay   near  slowest s  peak MiB  breaches")
    for kind, t in total.items():
        if kind != "joints.csv" and t.reads < READS * t.cases:
            t.breaches.append(f"only {t.reads} of {t.cases} read")
        if kind == "joints.csv" and t.reads > 0.05 * t.cases:
            t.breaches.append(f"{t.reads} of {t.cases} damaged joints.csv read: the seal should have told")
        if t.near < NEAR * t.refused:
            t.breaches.append(f"only {t.near} of {t.refused} errors stand near the slip")
        reads, lays = t.reads / max(t.cases, 1), t.lays / max(t.cases, 1)
        print(
            f"{kind:12} {t.cases:6} {reads:6.1%} {lays:6.1%} {t.near / max(t.refused, 1):6.1%}"
            f" {t.slowest:10.3f} {t.peak:9.0f} {len(t.breaches):9}"
        )
    print(f"limits: {READS:.0%} read, {NEAR:.0%} near, {SECONDS:g} s, {MEBIBYTES:g} MiB;", end=" ")
    print(f"{sum(t.cases for t in total.values())} cases in {time.perf_counter() - began:.0f} s")
    for kind, t in total.items():
        for breach in t.breaches[:12]:
            print(f"\nBREACH {kind}: {breach}")
        if asked.far:
            for said, times in t.far.most_common(12):
                print(f"far from the slip, {kind}: {times} x {said}")
    return 1 if any(t.breaches for t in total.values()) else 0


if __name__ == "__main__":
    raise SystemExit(main())
