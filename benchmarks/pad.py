"""One tap on the walk pad of a 300-joint job: from the question to the answer, and the layout alone.

Invented data: the generated job of ``generated.py``. Every tap gives another leg another length, so that
nothing is answered from memory. Run with
``PYTHONPATH=src .venv/bin/python benchmarks/pad.py``.

The bound, measured in the same run: the same line laid out once with no positions to start from, which is
what every tap would cost otherwise. The target is 50 ms of layout (our own, no source) on two cores to
themselves; a ratio to the bound holds on a busy machine too.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.testclient import TestClient

sys.path.insert(0, str(Path(__file__).resolve().parent))
from generated import write_job

from lineproof.desk.drawing.held import Hold, Holder, steady_names
from lineproof.desk.drawing.sheets import line_sheets
from lineproof.desk.web.app import create_app
from lineproof.job.folder import read_job
from lineproof.job.walk_steps import rows_of
from lineproof.plan.work import Work, work

JOINTS, TAPS, LINE, FILE = 300, 30, "G-1", "lines/generated.walk"
TARGET = 0.050
"""Layout of one tap. [s]"""


def layout(made: Work, last: Hold | None) -> tuple[float, Hold | None]:
    """Time of laying out a line as SVG. [s]"""
    start = time.perf_counter()
    holder = Holder(steady_names(made.graph, made.cutting, LINE), last)
    sheets = line_sheets(made, LINE, width_mm=250.0, height_mm=160.0, holder=holder)
    for sheet in sheets:
        len(sheet.svg)
    return time.perf_counter() - start, holder.hold(len(sheets))


def main() -> None:
    """Print the table."""
    rng = random.Random(3)
    with TemporaryDirectory() as name:
        folder = write_job(Path(name), JOINTS)
        text = (folder / FILE).read_text("utf-8")
        ask = TestClient(create_app(folder), base_url="http://localhost")
        body = {"file": FILE, "line": LINE, "text": text}
        first = ask.post("/api/pad/step", json=body).json()
        fresh = [layout(work(read_job(folder), nest=False), None)[0] for _ in range(3)]
        rows = rows_of(text)
        end = next(n for n, row in enumerate(rows, 1) if row.startswith("ends"))
        legs = [n for n, row in enumerate(rows[: end - 1], 1) if row.startswith("go ")]
        whole, alone = [], []
        last = {"text": text, "hold": first["hold"]}
        _, hold = layout(work(read_job(folder), nest=False), None)
        for tap in range(TAPS):
            row = rng.choice(legs)
            said = f"go {rows[row - 1].split()[1]} {rng.randint(6, 30)}'-{tap % 12}\""
            start = time.perf_counter()
            told = ask.post(
                "/api/pad/step",
                json={**body, "step": {"do": "change", "row": row, "said": said}, "last": last},
            ).json()
            whole.append(time.perf_counter() - start)
            if told["troubles"]:
                continue
            new = work(read_job(folder, instead={FILE: told["text"]}), nest=False)
            alone.append(layout(new, hold)[0])
    bound = min(fresh)
    mid, top = statistics.median(alone), sorted(alone)[int(0.95 * len(alone)) - 1]
    print(f"{JOINTS} joints, {TAPS} taps, line of {len(legs)} legs on {len(first['sheets'])} sheets")
    print(f"{'laid out from nothing (bound)':34}{1000 * bound:8.0f} ms   1.00")
    print(f"{'layout of a tap, median':34}{1000 * mid:8.0f} ms{mid / bound:7.2f}")
    print(f"{'layout of a tap, p95':34}{1000 * top:8.0f} ms{top / bound:7.2f}")
    answer = statistics.median(whole)
    print(f"{'question to answer, median':34}{1000 * answer:8.0f} ms{answer / bound:7.2f}")
    print(f"target {1000 * TARGET:.0f} ms of layout: {'met' if mid <= TARGET else 'not met'} by the median")


if __name__ == "__main__":
    main()
