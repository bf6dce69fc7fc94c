"""Runs a verb in this process as the terminal would: its exit code and both of its streams."""

from __future__ import annotations

import contextlib
import io
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from lineproof.desk import cli
from rigs import elbow, flange, job_at, stock


@dataclass(frozen=True)
class Said:
    """What a verb said."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """Its JSON; NaN and infinities are no JSON and are refused."""
        return json.loads(self.out, parse_constant=_refuse)


def _refuse(word: str) -> None:
    raise AssertionError(f"{word} is no JSON")


def verb(*words: str | Path) -> Said:
    """Run ``lineproof`` with these words."""
    out, err, code = io.StringIO(), io.StringIO(), 0
    with (
        patch.object(sys, "argv", ["lineproof", *map(str, words)]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            cli.main()
        except SystemExit as stop:
            code = int(stop.code or 0)
    return Said(code, out.getvalue(), err.getvalue())


def refused(said: Said) -> str:
    """The one sentence of a refusal: exit 64, nothing on standard output."""
    assert said.code == 64, said
    assert said.out == ""
    assert said.err.endswith(".\n")
    assert said.err.count("\n") == 1
    assert "Traceback" not in said.err
    return said.err


def one_gap(folder: Path, *, units: str = "us") -> Path:
    """A job of one line whose first leg is cut after taping: flange F1, 10 ft, elbow E1, 4 ft, open end."""
    walk = (
        'drawing D-1 rev 2\nline L size 6in pipe pvc sch80 for "wash water"\n'
        'starts at flange fixed "P-1" at 0, 0, 0 facing north\n'
        "go north 10' field\ngo east 4'\nends at open\n"
    )
    parts = [flange("6in", "3 1/2 in", "3 in"), elbow("6in", "6 1/2 in", "3 in")]
    job_at(folder, walk, parts, toml=stock("6in"), units=units)
    return folder


def files(folder: Path) -> dict[str, bytes]:
    """Every file of a folder with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}
