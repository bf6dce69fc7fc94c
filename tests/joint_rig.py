"""One invented job for the tests of joints: 6 in and 12 in PVC in the cold; all data are made up."""

from __future__ import annotations

from pathlib import Path

from lineproof.book.load import Book, book
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.joints import joint_plans
from lineproof.plan.work import Work
from rigs import coupling, elbow, flange, part, stock, work_at

PARTS = [
    elbow("6in", "6 1/2 in", "3 in", lot="E6", hub="7 3/4 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    elbow("12in", "12 in", "6 1/2 in", lot="E12-3", hub="14 3/4 in"),
    coupling("12in", "6 3/4 in", "6 1/2 in"),
    part("stub", "12in", ends="stub socket", reach_2="7 in", depth_2="6 1/2 in"),
]

PAPERS = """
[conditions]
pipe_temperature = "45 F"
humidity = "55 %"
wind = "3 mph"
start = 2027-05-03
[[lines]]
line = "L*"
chemical = "water"
test_pressure = "135 psi"
procedure = "BP"
cement = "C-2"
[[gauges]]
id = "PG"
elevation = "22 ft"
error = "0 psi"
[[sections]]
id = "S"
lines = ["L*"]
gauge = "PG"
pressure = "135 psi"
medium = "water"
[[procedures]]
id = "BP"
steps = "two-step"
material = "pvc"
size_lo = "1/2in"
size_hi = "24in"
primer_coats = 3
pipe_coats = 2
socket_coats = 1
hands = [{ size_lo = "4in", size_hi = "24in", people = 3 }]
hold = [{ size_lo = "1/2in", size_hi = "24in", time = "1 min" }]
allowed_shortfall = "1/4 in"
[[people]]
id = "A"
name = "Joiner A (invented)"
[[crews]]
id = "CR"
people = ["A"]
coating_rate = "0.12 m2/min"
[[tools.applicators]]
id = "A4"
width = "4 in"
count = 6
[[tools.pullers]]
id = "P"
count = 2
capacity = "3000 lbf"
[[cards]]
id = "C-2"
product = "Heavy (invented)"
material = "pvc"
body = "heavy"
steps = "two-step"
sizes_to = "12in"
source = "container (invented)"
"""


def row(
    kind: str, hours: str, temp: str = "40 F to 60 F", psi: int | None = None, size: str = "6in to 8in"
) -> str:
    """One row of the card."""
    (t_lo, t_hi), (s_lo, s_hi) = temp.split(" to "), size.split(" to ")
    told = (
        f'[[cards.rows]]\nkind = "{kind}"\nsize_lo = "{s_lo}"\nsize_hi = "{s_hi}"\ntemp_lo = "{t_lo}"\n'
        f'temp_hi = "{t_hi}"\ntime = "{hours}"\n'
    )
    if kind in ("handling", "cure"):
        told += 'humidity_max = "60 %"\n'
    return told + (f'pressure_max = "{psi} psi"\n' if psi else "")


CARD_ROWS = (
    row("hold", "3 min", size="6in to 12in")
    + row("pullers", "10 min", size="6in to 12in")
    + row("handling", "4 h", size="6in to 12in")
    + row("cure", "72 h", psi=180)
    + row("cure", "90 h", psi=100, size="10in to 12in")
    + '[[cards.working]]\ntemp_lo = "40 F"\ntemp_hi = "60 F"\ntime = "2 min"\n'
)
STOCK = stock("6in") + stock("12in")
WALK = """line L size 6in pipe pvc sch80
starts at flange fixed "P" at 0, 0, 0 facing north
go north 10'
go up 8'
go east 4'
ends at open
"""
WALK12 = """line L size 12in pipe pvc sch80
starts at open at 0, 0, 0 facing north
go north 10'
go up 8'
ends at open
"""


def planned(
    folder: Path,
    walk: str = WALK,
    *,
    papers: str = PAPERS,
    rows: str = CARD_ROWS,
    parts: list[str] | None = None,
    tables: Book | None = None,
) -> tuple[Work, tuple[JointPlan, ...]]:
    """The job's work and the plan of its joints."""
    made = work_at(folder / "job", walk, PARTS if parts is None else parts, toml=papers + rows + STOCK)
    plans = joint_plans(
        made.graph, made.cutting, made.job.settings, tables or book(), catalogue=made.job.parts
    )
    return made, plans
