"""Small invented jobs for tests: a folder with job.toml, a walk and parts.csv, read as a user's would be."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from lineproof.floor.shown import Shown
from lineproof.job.folder import Job, read_job
from lineproof.job.graph import LineGraph
from lineproof.job.lay import lay
from lineproof.job.parts import Catalogue
from lineproof.job.parts_csv import read_parts
from lineproof.job.resolve import Resolver
from lineproof.job.walk_read import read_walk
from lineproof.plan.work import Work, work

INCH = 0.0254
FOOT = 12 * INCH

PARTS_HEAD = (
    "tag,kind,angle,material,series,size,size2,lot,count,measured,ends,reach_1,depth_1,reach_2,depth_2,"
    "reach_3,depth_3,hub,spread,thickness,faces,first_on,fabricated,rating,rating_at,mass,by,date,note"
)

TOML = """
[job]
id = "T"
name = "Test rig"
invented = true
[site]
name = "Bench"
timezone = "America/Denver"
[shown]
units = "{units}"
[cutting]
kerf = "{kerf}"
trim = "{trim}"
stop_gap = "{stop_gap}"
bevel = "3/32 in"
second_mark = "2 in"
exposed = "{exposed}"
field_extra = "4 in"
useful_offcut = "18 in"
tape_error = "1/16 in"
cut_error = "1/16 in"
"""


def part(kind: str, size: str, **columns: str) -> str:
    """One row of parts.csv: measured three of a lot unless said otherwise."""
    row = dict.fromkeys(PARTS_HEAD.split(","), "")
    row |= {
        "kind": kind,
        "size": size,
        "material": "pvc",
        "series": "sch80",
        "measured": "3",
        "count": "999",
        "spread": "0 in",
    }
    row |= columns
    return ",".join(f'"{v.replace(chr(34), chr(34) * 2)}"' for v in row.values())


def elbow(size: str, reach: str, depth: str, angle: str = "90", **more: str) -> str:
    return part(
        "elbow", size, angle=angle, reach_1=reach, depth_1=depth, reach_2=reach, depth_2=depth, **more
    )


def tee(size: str, reach: str, depth: str, size2: str = "", **more: str) -> str:
    cells = {f"{k}_{n}": v for n in (1, 2, 3) for k, v in (("reach", reach), ("depth", depth))}
    return part("tee", size, size2=size2, **cells | more)


def coupling(size: str, reach: str, depth: str, **more: str) -> str:
    return part("coupling", size, reach_1=reach, depth_1=depth, reach_2=reach, depth_2=depth, **more)


def flange(size: str, reach: str, depth: str, **more: str) -> str:
    return part("flange", size, ends="flange socket", reach_2=reach, depth_2=depth, faces="flat", **more)


def stock(size: str, length: str = "20 ft", **more: str) -> str:
    lines = {
        "id": f"S{size}", "size": size, "material": "pvc", "series": "sch80", "od_family": "ips",
        "length": length, "basis": "overall",
    }  # fmt: skip
    lines |= more
    return "\n[[stock]]\n" + "\n".join(f"{k} = {v if v.isdigit() else repr(v)}" for k, v in lines.items())


def job_at(
    folder: Path,
    walk: str | Mapping[str, str],
    parts: str | list[str] = "",
    *,
    toml: str = "",
    taped: str = "",
    units: str = "us",
    kerf: str = "1/8 in",
    trim: str = "0 in",
    stop_gap: str = "0 in",
    exposed: str = "2 in",
) -> Job:
    """Write a job folder and read it back."""
    folder.mkdir(parents=True, exist_ok=True)
    head = TOML.format(units=units, kerf=kerf, trim=trim, stop_gap=stop_gap, exposed=exposed)
    (folder / "job.toml").write_text(head + toml, "utf-8")
    (folder / "lines").mkdir(exist_ok=True)
    files = {"line.walk": walk} if isinstance(walk, str) else walk
    for name, text in files.items():
        (folder / "lines" / name).write_text(text, "utf-8")
    rows = parts.splitlines() if isinstance(parts, str) else parts
    (folder / "parts.csv").write_text("\n".join([PARTS_HEAD, *rows]) + "\n", "utf-8")
    if taped:
        (folder / "taped.csv").write_text("line,face_a,face_b,length,by,when,note,leg\n" + taped, "utf-8")
    return read_job(folder)


def work_at(folder: Path, walk: str | Mapping[str, str], parts: str | list[str] = "", **more: str) -> Work:
    """The whole plan of a small job."""
    return work(job_at(folder, walk, parts, **more))


def laid(
    walk: str, parts: list[str] | None = None, *, gasket: float = 0.0, exposed: float = 0.05
) -> LineGraph:
    """A walk laid without a job around it; bores are half the nominal size."""
    rows = read_parts("\n".join([PARTS_HEAD, *(parts or [])]) + "\n")
    return lay(
        [read_walk(walk, "line.walk")],
        Resolver(Catalogue(rows)),
        bore=lambda size, _material, _series: size.nominal * INCH / 2,
        gasket=lambda _size: gasket,
        exposed=exposed,
        shown=Shown.us(),
        step=INCH / 16,
    )
