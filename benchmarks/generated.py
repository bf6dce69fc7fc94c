"""Generated jobs of any size, for benchmarks: invented lines of elbows, tees, couplings, valves."""

from __future__ import annotations

import random
from pathlib import Path

PARTS_HEAD = (
    "tag,kind,angle,material,series,size,size2,lot,count,measured,ends,reach_1,depth_1,reach_2,depth_2,"
    "reach_3,depth_3,hub,spread,thickness,faces,first_on,fabricated,rating,rating_at,mass,by,date,note"
)
SIZES = {"4in": (4.5, 2.25), "6in": (6.5, 3.0), "8in": (8.75, 4.0), "12in": (13.0, 6.0)}
WAYS = ("north", "east", "south", "west")


def walk_text(joints: int, seed: int = 0) -> tuple[str, int]:
    """Walk text with about so many joints, in lines of about 100.

    Parameters
    ----------
    joints : int
    seed : int

    Returns
    -------
    tuple of str and int
        The walk, and the number of lines.
    """
    rng = random.Random(seed)
    out: list[str] = ["# INVENTED DATA, generated for a benchmark", "drawing G-1 rev 0"]
    made = number = 0
    while made < joints:
        number += 1
        size = rng.choice(list(SIZES))
        name = f"G-{number}"
        at = f"{rng.randrange(0, 900)}', {rng.randrange(0, 900)}', {rng.randrange(0, 30)}'"
        out.append(f'line {name} size {size} pipe pvc sch80 for "service {number}"')
        heading = rng.randrange(4)
        out.append(f'starts at flange fixed "pump {number}" flat at {at} facing {WAYS[heading]}')
        made += 1
        target = made + 100
        branch = 0
        while made < min(target, joints):
            feet, inches = rng.randrange(4, 38), rng.randrange(0, 96) / 8
            whole, eighths = divmod(int(inches * 8), 8)
            length = f"{feet}'-{whole}{f' {eighths}/8' if eighths else ''}\""
            out.append(f"go {WAYS[heading]} {length}{' field' if rng.random() < 0.05 else ''}")
            made += 2 * (feet // 20)
            kind = rng.random()
            if kind < 0.5:
                heading = (heading + rng.choice((1, 3))) % 4
                made += 2
            elif kind < 0.75:
                branch += 1
                out.append(f"tee up as {name}.{branch}")
                made += 3
            elif kind < 0.9:
                out.append("union")
                made += 2
            else:
                out.append("flanges")
                made += 2
        out.append(f"go {WAYS[heading]} 6'")
        out.append("ends at cap")
        made += 1
    return "\n".join(out) + "\n", number


def job_toml() -> str:
    """A job.toml with stock, a card and a procedure for the generated lines."""
    stock = "".join(
        f'\n[[stock]]\nid = "P{s}"\nsize = "{s}"\nmaterial = "pvc"\nseries = "sch80"\nod_family = "ips"\n'
        f'length = "20 ft"\nbasis = "overall"\nin_yard = 10\n'
        for s in SIZES
    )
    return f"""[job]
id = "GEN"
name = "Generated job (invented)"
invented = true
[site]
name = "Bench"
timezone = "America/Denver"
[cutting]
kerf = "1/8 in"
trim = "1/2 in"
stop_gap = "1/16 in"
bevel = "3/32 in"
second_mark = "2 in"
exposed = "4 in"
field_extra = "4 in"
useful_offcut = "18 in"
tape_error = "1/16 in"
cut_error = "1/16 in"
[conditions]
pipe_temperature = "65 F"
humidity = "50 %"
start = 2027-05-03
[[gauges]]
id = "PG"
elevation = "0 ft"
error = "2 psi"
[[sections]]
id = "S"
lines = ["G-*"]
gauge = "PG"
pressure = "100 psi"
medium = "water"
[[lines]]
line = "G-*"
chemical = "water"
design_pressure = "60 psi"
design_temperature = "73 F"
procedure = "BP"
cement = "C"
[[procedures]]
id = "BP"
steps = "two-step"
material = "pvc"
size_lo = "2in"
size_hi = "12in"
primer_coats = 3
pipe_coats = 2
socket_coats = 1
hands = [{{ size_lo = "2in", size_hi = "12in", people = 3 }}]
[[cards]]
id = "C"
product = "Heavy grey (invented)"
material = "pvc"
body = "heavy"
steps = "two-step"
thickener = "none"
sizes_to = "12in"
{stock}"""


def parts_csv() -> str:
    """Measured fittings for every size."""
    rows = [PARTS_HEAD]
    for size, (reach, depth) in SIZES.items():
        r, d = f'"{reach:g} in"', f'"{depth:g} in"'

        def row(kind: str, angle: str, ends: str, n: int, size: str = size, r: str = r, d: str = d) -> None:
            cells = [f"{r},{d}" if i < n else "," for i in range(3)]
            rows.append(f",{kind},{angle},pvc,sch80,{size},,L,,3,{ends},{','.join(cells)},,0 in,,,,no,,,,,,")

        row("elbow", "90", "socket socket", 2)
        row("tee", "", "socket socket socket", 3)
        row("coupling", "", "socket socket", 2)
        row("union", "", "socket socket", 2)
        rows.append(f",flange,,pvc,sch80,{size},,L,,3,flange socket,,,{r},{d},,,,0 in,1 in,flat,,no,,,,,,")
        rows.append(f",cap,,pvc,sch80,{size},,L,,3,socket closed,{d},{d},,,,,,0 in,,,,no,,,,,,")
    return "\n".join(rows) + "\n"


def write_job(folder: Path, joints: int, seed: int = 0) -> Path:
    """Write a generated job folder.

    Parameters
    ----------
    folder : Path
    joints : int
    seed : int

    Returns
    -------
    Path
        The folder.
    """
    (folder / "lines").mkdir(parents=True, exist_ok=True)
    text, _ = walk_text(joints, seed)
    (folder / "lines" / "generated.walk").write_text(text, "utf-8")
    (folder / "job.toml").write_text(job_toml(), "utf-8")
    (folder / "parts.csv").write_text(parts_csv(), "utf-8")
    return folder
