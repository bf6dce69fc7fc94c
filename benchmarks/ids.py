"""Naming joints: the time for jobs of growing size, beside reading and writing joints.csv's own bytes as CSV.

Generated lines (invented). Run with ``PYTHONPATH=src:benchmarks .venv/bin/python benchmarks/ids.py``.
"""

import csv
import io
import math
import re
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from generated import job_toml, parts_csv, walk_text

from lineproof.book.load import book
from lineproof.job.folder import read_job
from lineproof.job.joints_csv import JointsFile, appended, read_joints
from lineproof.job.lay import split_lines
from lineproof.job.resolve import Resolver
from lineproof.plan.ids import name_joints
from lineproof.plan.pieces import Cutter
from lineproof.plan.work import Pipes, graph_of


def best(what: Callable[[], object], of: int = 3) -> float:
    times = []
    for _ in range(of):
        start = time.perf_counter()
        what()
        times.append(time.perf_counter() - start)
    return min(times)


def peer(text: str) -> None:
    rows = list(csv.reader(io.StringIO(text, newline="")))
    csv.writer(io.StringIO(), lineterminator="\n").writerows(rows)


def planned(text: str):
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "lines").mkdir()
        (folder / "job.toml").write_text(job_toml(), "utf-8")
        (folder / "parts.csv").write_text(parts_csv(), "utf-8")
        (folder / "lines/g.walk").write_text(text, "utf-8")
        job = read_job(folder)
    pipes, resolver = Pipes(job, book()), Resolver(job.parts)
    graph = graph_of(job, pipes, resolver)
    cutting = Cutter(graph, job.settings, resolver, pipes.facts).cut()
    return graph, cutting, {t.head.name: t.statements for t in split_lines(job.walks)}


def one(joints: int) -> tuple[int, float]:
    text, _ = walk_text(joints)
    now = planned(text)
    edited = planned(re.sub(r"(go \w+) 6'\nends", r"\1 3'\ncoupling\n\1 3'\nends", text))
    empty = JointsFile()
    first = best(lambda: name_joints(*now, empty, revision=1, issuing=True))
    file = appended(empty, name_joints(*now, empty, revision=1, issuing=True).rows)
    again = best(lambda: name_joints(*now, file, revision=2, issuing=True))
    edit = best(lambda: name_joints(*edited, file, revision=2, issuing=True))
    reading = best(lambda: read_joints(file.text))
    bytes_only = best(lambda: peer(file.text))
    made = len(now[1].joints)
    ratio = (again + reading) / bytes_only
    print(f"{made:8} {first:8.3f} {again:8.3f} {edit:8.3f} {reading:8.3f} {bytes_only:8.3f} {ratio:8.1f}")
    return made, again + reading


def main() -> None:
    print("  joints  first s  again s edited s   file s   peer s    ratio")
    sizes, times = zip(*(one(joints) for joints in (1_000, 3_000, 10_000)), strict=True)
    exponent = math.log(times[-1] / times[0]) / math.log(sizes[-1] / sizes[0])
    print(f"growth exponent of naming again with the reading: {exponent:.2f} (aim: at most 1.10)")


if __name__ == "__main__":
    main()
