"""A real disk that is full: a tmpfs of one megabyte, made for the test in a name space of its own."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
SCRIPT = HERE / "small_disk.py"
ENVIRONMENT = {**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"}


def on_a_small_disk(folder: Path, size: str) -> str:
    """Output of the script on a tmpfs; where the system lets nobody make one, under a limit of bytes."""
    folder.mkdir()
    words = f"mount -t tmpfs -o size={size} tmpfs {shlex.quote(str(folder))}"
    run = f"{shlex.quote(sys.executable)} {shlex.quote(str(SCRIPT))} {shlex.quote(str(folder))}"
    made = subprocess.run(
        ["unshare", "--map-root-user", "--mount", "sh", "-c", f"{words} && {run}"],
        capture_output=True, text=True, check=False, env=ENVIRONMENT,
    )  # fmt: skip
    if made.returncode == 0:
        return made.stdout
    refused = "Operation not permitted" in made.stderr or "permission denied" in made.stderr.lower()
    assert refused, made.stderr
    told = subprocess.run(
        [sys.executable, str(SCRIPT), str(folder), "700000"],
        capture_output=True, text=True, check=True, env=ENVIRONMENT,
    )  # fmt: skip
    return told.stdout


@pytest.mark.parametrize("size", ["1000k", "1333k"])
def test_every_acknowledged_entry_is_there_and_it_goes_on_once_there_is_room(
    tmp_path: Path, size: str
) -> None:
    told = json.loads(on_a_small_disk(tmp_path / "disk", size))
    assert "the disk is full or does not take what is written; nothing of this was kept" in told["said"]
    assert told["done"] > 20
    assert told["there"] == told["done"]
    assert told["good"]
    assert told["same"], "what was acknowledged before, and one more"
    assert told["sound"]
