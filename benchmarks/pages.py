"""The first page of a large job: cold after start, warm, after an entry; 500, 1,000 and 2,000 joints.

Invented data: the generated job of ``generated.py``, issued, with the record of ``release.py`` (six entries
a joint and a year of a logger's readings). Run with
``PYTHONPATH=src .venv/bin/python benchmarks/pages.py``; joints can be given.

The bound, measured in the same run, is a page that needs no job at all: its head, and the record read for
it. What is over it is the price of the job. The target of 300 ms of server time for the first page (our own,
no source) is for a machine to itself; the ratio holds on a busy one too.

Told apart: *first answer* is what the browser gets at once, the page that says that the job is still being
read until it is planned; *until it is there* is how long that goes on; *held* is a page while files and
record stand as they are; *judged* is the work for the page Now after an entry or a minute, behind it.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.testclient import TestClient

sys.path.insert(0, str(Path(__file__).resolve().parent))
import release

from lineproof.desk.web.app import create_app
from lineproof.desk.web.patience import PATIENCE_S

SIZES = (500, 1_000, 2_000)
PAGES = ("/", "/joints", "/pieces", "/tape", "/lines", "/may", "/people")
TARGET = 0.300
"""Server time of the first page. [s]"""


def asked(ask: TestClient, path: str) -> tuple[float, int, int]:
    """Seconds, status and bytes of a page."""
    start = time.perf_counter()
    told = ask.get(path)
    return time.perf_counter() - start, told.status_code, len(told.content)


def main() -> None:
    """Print the table."""
    sizes = tuple(int(n) for n in sys.argv[1:]) or SIZES
    held: dict[int, float] = {}
    for size in sizes:
        with TemporaryDirectory() as name:
            folder = release.job_folder(Path(name), size)
            issue = [sys.executable, "-m", "lineproof", "plan", "--issue", "--job", name]
            subprocess.run(issue, check=False, capture_output=True)
            entries = release.logbook(folder)
            with TestClient(create_app(folder, patience=PATIENCE_S), base_url="http://localhost") as ask:
                first, code, _ = asked(ask, "/")
                worst, start = first, time.perf_counter()
                while code == 202:
                    time.sleep(0.5)
                    took, code, _ = asked(ask, "/")
                    worst = max(worst, took)
                there = time.perf_counter() - start
                bound = min(asked(ask, "/figures/head")[0] for _ in range(9))
                print(f"{size} joints asked, {entries} entries; bound {1000 * bound:.0f} ms")
                print(
                    f"  first answer (aim {1000 * TARGET:.0f}) {1000 * first:10.0f} ms   {first / bound:6.1f}"
                )
                print(f"  slowest answer till then{1000 * worst:10.0f} ms   {worst / bound:6.1f}")
                print(f"  until it is there       {1000 * there:10.0f} ms   {there / bound:6.1f}")
                for path in PAGES:
                    while asked(ask, path)[1] == 202:
                        time.sleep(0.5)
                    times = [asked(ask, path) for _ in range(7)]
                    took = statistics.median(t for t, _, _ in times)
                    held.setdefault(size, took)
                    size_kb = times[0][2] / 1000
                    print(f"  held {path:18} {1000 * took:10.0f} ms   {took / bound:6.1f}   {size_kb:.0f} kB")
                site = ask.app.state.site  # type: ignore[attr-defined]
                start = time.perf_counter()
                site._asks.submit(site._judge).result()
                print(f"  judged (behind the page){1000 * (time.perf_counter() - start):10.0f} ms")
    growth = [held[b] / held[a] for a, b in pairwise(sizes)]
    print("growth of the held first page:", ", ".join(f"{g:.2f}" for g in growth) or "one size only")


if __name__ == "__main__":
    main()
