"""Every line of docs/release.md is typed on the built works: it runs, or answers with a verdict."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from lineproof.checks.conditions import CONDITIONS, HEARD_FOR
from lineproof.floor.verdicts import Verdict
from verb_rig import verb

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "release.md").read_text("utf-8")
LINES = [row for block in re.findall(r"```asked\n(.*?)```", PAGE, re.DOTALL) for row in block.splitlines()]
VERDICTS = {verdict.exit_code for verdict in Verdict}


@pytest.mark.slow
def test_every_line_of_the_page_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    verb("demo", "--built", tmp_path / "works")
    monkeypatch.chdir(tmp_path / "works")
    assert len(LINES) > 12
    codes = {}
    for line in LINES:
        words = shlex.split(line)
        said = verb(*words[1:])
        assert words[0] == "lineproof"
        assert said.err == "", line
        assert said.code in (VERDICTS if words[1] == "may" else {0}), (line, said)
        codes[line] = said.code
    assert codes[LINES[1]] == Verdict.WAIT.exit_code


def test_the_page_names_every_condition_and_how_long_it_is_good_for() -> None:
    for condition in (*CONDITIONS, HEARD_FOR):
        assert f"`{condition}`" in PAGE
    for condition in CONDITIONS.values():
        row = next(row for row in PAGE.splitlines() if row.startswith(f"| `{condition.id}`"))
        minutes = condition.good_for.total_seconds() / 60.0
        assert row.endswith(f"| {minutes:.0f} min |" if minutes < 60 else f"| {minutes / 60:.0f} h |")
        assert condition.who in row
        assert ("at the place" in row) == condition.at_place
