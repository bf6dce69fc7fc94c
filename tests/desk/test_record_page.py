"""Every example of docs/record.md, and every example that `record kinds` shows, does what it says."""

from __future__ import annotations

import re
import shlex
import shutil
from importlib import resources
from pathlib import Path

import pytest

from lineproof.desk.record_fields import TYPED
from verb_rig import verb

PAGE = Path(__file__).resolve().parents[2] / "docs" / "record.md"
LINES = [
    line
    for block in re.findall(r"^```record\n(.*?)^```", PAGE.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    for line in block.splitlines()
]


@pytest.fixture
def works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The invented treatment works; one stands in its folder."""
    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        shutil.copytree(there, tmp_path / "works")
    monkeypatch.chdir(tmp_path / "works")
    return tmp_path / "works"


def entry_of(kind: str) -> str:
    entries = verb("record", "list", "--json").data["entries"]
    return next(e["entry"] for e in reversed(entries) if e["kind"] == kind)


def test_every_line_of_the_page_runs(works: Path) -> None:
    assert len(LINES) > 15
    said = {}
    for line in LINES:
        if " at=07:45" in line:  # this morning may still be to come where the test runs
            line = line.replace(" at=07:45", "")
        if "ENTRY" in line:
            line = line.replace("ENTRY", entry_of("insertion" if "shortfall" in line else "moved"))
        if "HEAD" in line:
            line = line.replace("HEAD", verb("record", "head").out[:16])
        words = shlex.split(line)
        assert words[0] == "lineproof"
        said[line] = verb(*words[1:])
        verdict = "plan --issue" in line  # its exit code is the verdict of the invented works
        assert said[line].err == "", line
        assert said[line].code == 0 or verdict, line
    listed = verb("record", "list").out
    assert "corrected: shortfall 2mm -> 1mm" in listed
    assert "STRUCK OUT" in listed
    assert "insisted" in listed


def test_every_example_of_the_kinds_runs_in_order(works: Path) -> None:
    verb("plan", "--issue", "--no-paper")
    Path("logger-7.csv").write_text("time UTC,temperature F\n2026-11-22T16:00,52\n", "utf-8")
    Path("weather.csv").write_text(
        "time UTC,stamp,standing,air temperature F\n2026-11-22T16:00,start,seen,50\n", "utf-8"
    )
    for kind, typed in TYPED.items():
        example = typed.example
        if "ENTRY" in example:
            example = example.replace("ENTRY", entry_of("dry_fit"))
        said = verb("record", "add", kind, *shlex.split(example), "--by", "P-1")
        assert (said.code, said.err) == (0, ""), kind
    checked = verb("record", "verify")
    assert (checked.code, checked.err) == (0, "")
    assert f"{len(TYPED) + 2} entries, as it was written" in checked.out, "the issue and a sealed card too"
