"""Damaged small jobs, read, laid, cut and nested: only our own errors come out, each one sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from damage import CELL, WORD, mutants
from lineproof.floor.errors import LineproofError
from lineproof.job.folder import read_job
from lineproof.job.walk_csv import write_walk_csv
from lineproof.job.walk_read import read_walk
from lineproof.plan.work import work
from rigs import coupling, elbow, flange, job_at, part, stock, tee

WALK = """\
# invented: one of most statements
drawing T-1 rev 2
line T size 6in pipe pvc sch80 for "backwash"
starts at flange fixed may unbolt flat "pump" at 0, 0, 3ft facing north station 10+00
go north 10'-6 1/2"
go up 4' field
go north to station 11+00
no joint 5' to 20'
tee west 4in as T-2
put "V-1" handle up
spool "skid"
go north 6' to face
offset west 2' up 1' with 45
go north 44'
spool ends
saddle up 2in threaded as T-3
go north 6'
union
repair coupling
go north 5'
reduce to 4in eccentric flat bottom
go north 3'
ends at test cap
line T-2 size 4in pipe pvc sch80
starts at branch T-2
bells facing ahead
go west 50' down 1:100 in plan
go down to centre 1ft
flanges
go down 3'
expansion joint travel 2 in set 1 in
go down 3'
ends at blind
"""
PARTS = [
    *(elbow(s, "6 1/2 in", "3 in") for s in ("6in", "4in")),
    elbow("6in", "5 in", "3 in", angle="45", measured="2"),
    *(flange(s, "3 1/2 in", "3 in") for s in ("6in", "4in")),
    coupling("6in", "3 1/4 in", "3 in", lot="A", count="2", measured="2"),
    coupling("6in", "3 3/8 in", "3 in", lot="B"),
    tee("6in", "6 1/2 in", "3 in", size2="4in"),
    part("valve", "6in", tag="V-1", count="1", measured="1", ends="flange flange", reach_1="8 in",
         reach_2="8 in", faces="flat flat"),
    part("union", "6in", reach_1="4 in", depth_1="3 in", reach_2="4 in", depth_2="3 in"),
    part("reducer", "6in", size2="4in", reach_1="4 in", depth_1="3 in", reach_2="3 in", depth_2="2 in"),
]  # fmt: skip
TOML = (
    stock("6in")
    + stock("4in", ends="cement bell", bell_depth="4 in", bell_reach="5 in")
    + '\n[[gaskets]]\nsize = "6in"\nface = "full"\nthickness = "1/8 in"\n'
    + '\n[conditions]\ncut_temperature = "90 F"\njoined_temperature = "60 F"\n'
)
TAPED = 'T,pump,E1,"9\'-1 5/8""",lead,2027-05-01 09:00,\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("fuzz") / "job"
    job = job_at(place, WALK, PARTS, toml=TOML, taped=TAPED.replace("pump", "F1"))
    assert work(job).cutting.pieces, "undamaged, it is planned"
    return place


@pytest.mark.parametrize(
    ("name", "count"),
    [
        ("lines/line.walk", 1500),
        ("lines/line.csv", 800),
        ("parts.csv", 800),
        ("job.toml", 600),
        ("taped.csv", 300),
    ],
)
def test_a_damaged_job_is_planned_or_answered(folder: Path, name: str, count: int) -> None:
    path, walk = folder / name, folder / "lines/line.walk"
    sheet = name.endswith("line.csv")
    if sheet:
        path.write_text(write_walk_csv(read_walk(WALK, "line.walk")), "utf-8")
        walk.unlink()
    whole = path.read_text("utf-8")
    planned, errors = 0, []
    try:
        for data, _, _ in mutants(whole, count, f"plan {name}", WORD if name.endswith("walk") else CELL):
            path.write_bytes(data)
            try:
                plan = work(read_job(folder), seconds=0.2)
            except LineproofError as error:
                errors.append(error)
                continue
            planned += 1
            assert all(p.cut is None or p.cut >= 0 for p in plan.cutting.pieces), data
            assert len({p.id for p in plan.cutting.pieces}) == len(plan.cutting.pieces)
    finally:
        path.write_text(whole, "utf-8")
        if sheet:
            path.unlink()
            walk.write_text(WALK, "utf-8")
    assert all(error.place.file and str(error).isprintable() for error in errors)
    assert planned >= 0.04 * count, "too few got as far as the plan for this to say much"
