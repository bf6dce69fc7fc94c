"""From walk to JSON pack for generated jobs of 1,000, 3,000 and 10,000 joints, beside reading and writing the
same bytes; start-up of ``--help``; a PDF of 1,000 joint cards beside a bare template with as many pages.

    .venv/bin/python benchmarks/pack.py [--quick]

Each figure is the best of three in a process of its own. Growth is the exponent of a power law fitted to the
three sizes. Targets (two cores): 10,000 joints in 5 s, exponent 1.10, 500 MiB; ``--help`` 0.3 s; 1,000 cards
in 4 s.
"""

from __future__ import annotations

import io
import json
import math
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "benchmarks")]

SIZES = (1_000, 3_000, 10_000)
CARDS = 1_000


def one_pack(folder: str) -> None:
    """In a process of its own: read, plan, write pack.json; print what it took."""
    start = time.perf_counter()
    from lineproof.desk.verbs_plan import pack_data
    from lineproof.job.folder import read_job
    from lineproof.plan.make_pack import make_pack

    loaded = time.perf_counter()
    made = make_pack(read_job(Path(folder)))
    planned = time.perf_counter()
    text = json.dumps(pack_data(made.pack), ensure_ascii=False, separators=(",", ":")).encode()
    Path(folder, "pack.json").write_bytes(text)
    done = time.perf_counter()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    took = {"load": loaded - start, "plan": planned - loaded, "json": done - planned, "total": done - start}
    print(json.dumps({"joints": len(made.pack.joints), **took, "bytes": len(text), "peak_mib": peak}))


def read_and_write(folder: str) -> None:
    """The bound: read the job's bytes and the pack's bytes, parse and write the JSON again."""
    start = time.perf_counter()
    for file in sorted(Path(folder).rglob("*.walk")):
        file.read_bytes()
    value = json.loads(Path(folder, "pack.json").read_bytes())
    Path(folder, "again.json").write_bytes(json.dumps(value, separators=(",", ":")).encode())
    print(json.dumps({"total": time.perf_counter() - start}))


def cards(folder: str, count: str) -> None:
    """Joint cards of so many joints, and a bare template with as many pages."""
    from dataclasses import replace

    from lineproof.job.folder import read_job
    from lineproof.plan.make_pack import make_pack

    pack = make_pack(read_job(Path(folder))).pack
    pack = replace(pack, joints=pack.joints[: int(count)])
    import pypdf
    import typst

    from lineproof.desk.papers.cards import card_sheet
    from lineproof.desk.papers.make import document
    from lineproof.desk.papers.typeset import typeset

    start = time.perf_counter()
    made = typeset(document(pack, "a4", "Joint cards", [card_sheet(pack, pack.joints)]), pack.stamp)
    took = time.perf_counter() - start
    pages = len(pypdf.PdfReader(io.BytesIO(made)).pages)
    bare = b'#set page(paper: "a4")\n' + b"\n#pagebreak()\n".join([b"= card"] * pages)
    start = time.perf_counter()
    typst.compile({"main.typ": bare}, format="pdf")
    print(json.dumps({"total": took, "pages": pages, "bare": time.perf_counter() - start}))


def run(*words: str) -> dict[str, float]:
    """Best of three of a child of this file."""
    best: dict[str, float] = {}
    for _ in range(3):
        out = subprocess.run(
            [sys.executable, __file__, *words], capture_output=True, text=True, check=True
        ).stdout
        got = json.loads(out.splitlines()[-1])
        if not best or got["total"] < best["total"]:
            best = got
    return best


def start_up() -> float:
    """Best of five of ``lineproof --help``."""
    times = []
    for _ in range(5):
        start = time.perf_counter()
        subprocess.run([str(ROOT / "lineproof"), "--help"], capture_output=True, check=True)
        times.append(time.perf_counter() - start)
    return min(times)


def exponent(points: list[tuple[float, float]]) -> float:
    """Slope of the least-squares line through the logarithms."""
    xs, ys = [math.log(x) for x, _ in points], [math.log(y) for _, y in points]
    mx, my = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((x - mx) * (y - my) for x, y in zip(xs, ys, strict=True)) / sum((x - mx) ** 2 for x in xs)


def main() -> None:
    """Print the table."""
    import generated

    sizes = SIZES[:2] if "--quick" in sys.argv else SIZES
    with tempfile.TemporaryDirectory() as top:
        points = []
        print("  joints  load s  plan s  json s  total s    MiB  bound s  ratio")
        for n in sizes:
            folder = str(generated.write_job(Path(top, str(n)), n))
            got = run("pack", folder)
            bound = run("bound", folder)
            points.append((got["joints"], got["total"] - got["load"]))
            print(
                f"{got['joints']:>8.0f} {got['load']:>7.2f} {got['plan']:>7.2f} {got['json']:>7.2f} "
                f"{got['total']:>8.2f} {got['peak_mib']:>6.0f} {bound['total']:>8.2f} "
                f"{got['total'] / bound['total']:>6.1f}"
            )
        print(f"growth exponent {exponent(points):.2f} (target 1.10)")
        bare = min(_bare_python() for _ in range(5))
        helped = start_up()
        print(f"--help {helped:.3f} s (target 0.3), bare interpreter {bare:.3f} s, ratio {helped / bare:.1f}")
        folder = str(generated.write_job(Path(top, "cards"), CARDS + 200))
        got = run("cards", folder, str(CARDS))
        print(
            f"{CARDS} joint cards with QR tags: {got['total']:.2f} s (target 4), {got['pages']:.0f} pages; "
            f"bare template with as many pages {got['bare']:.2f} s, ratio {got['total'] / got['bare']:.1f}"
        )


def _bare_python() -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", "pass"], check=True)
    return time.perf_counter() - start


if __name__ == "__main__":
    match sys.argv[1:2]:
        case ["pack"]:
            one_pack(sys.argv[2])
        case ["bound"]:
            read_and_write(sys.argv[2])
        case ["cards"]:
            cards(sys.argv[2], sys.argv[3])
        case _:
            main()
