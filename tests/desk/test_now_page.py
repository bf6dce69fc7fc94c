"""Every line of docs/now.md runs on the built works, and what the page shows is what they print."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from verb_rig import verb

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "now.md").read_text("utf-8")
LINES = [
    line
    for block in re.findall(r"^```now\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
    for line in block.splitlines()
]
SHOWN = [row.strip() for row in re.findall(r"^    (\S.*)$", PAGE, re.MULTILINE)]


@pytest.mark.slow
def test_every_line_of_the_page_runs_and_shows_what_it_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert verb("demo", "--built", tmp_path / "works").code == 0
    monkeypatch.chdir(tmp_path / "works")
    assert len(LINES) > 8
    said = ""
    for line in LINES:
        words = shlex.split(line)
        assert words[0] == "lineproof"
        told = verb(*words[1:])
        assert (told.code, told.err) == (0, ""), line
        said += told.out
    assert len(SHOWN) > 7
    printed = {row.strip() for row in said.splitlines()}
    assert [row for row in SHOWN if row not in printed] == []
    papers = ("joint-record", "joint-stickers", "joint-stickers-es", "cure-ledger", "can-stickers")
    assert [name for name in papers if not Path("out", f"{name}.pdf").is_file()] == []
