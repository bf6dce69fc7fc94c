"""Print the coverage of floor to checks, and fail when it is under the figure set in pyproject.toml.

Two figures are held to the same threshold: branches alone, and statements with branches.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent


def main() -> int:
    subprocess.run(
        [sys.executable, "-m", "coverage", "json", "--quiet", "--fail-under=0", "-o", "coverage.json"],
        cwd=HERE,
        check=True,
    )
    report = json.loads((HERE / "coverage.json").read_text("utf-8"))
    settings = tomllib.loads((HERE / "pyproject.toml").read_text("utf-8"))
    floor = float(settings["tool"]["coverage"]["report"]["fail_under"])
    totals = report["totals"]
    branches, taken = totals["num_branches"], totals["covered_branches"]
    alone = 100.0 * taken / branches if branches else 100.0
    both = float(totals["percent_covered"])
    print(f"branches {alone:.1f} % ({taken} of {branches}), with statements {both:.1f} %")
    print(f"held to at least {floor:g} %")
    if min(alone, both) >= floor:
        return 0
    worst = sorted(report["files"].items(), key=lambda item: item[1]["summary"]["percent_covered"])
    for name, entry in worst[:15]:
        summary = entry["summary"]
        lines = ", ".join(str(line) for line in entry["missing_lines"][:12])
        print(f"  {summary['percent_covered']:5.1f} %  {name}  lines not run: {lines or '-'}")
    return 1


if __name__ == "__main__":
    sys.exit(main())
