"""Ctrl-C while the program is still loading is as quiet as later on."""

import os
import subprocess
import sys
from pathlib import Path

SRC = Path(__file__).parents[2] / "src"
STOPPED_WHILE_LOADING = """
import runpy, sys
class Stop:
    def find_spec(self, name, path=None, target=None):
        if name == "lineproof.desk.cli":
            raise KeyboardInterrupt
sys.meta_path.insert(0, Stop())
runpy.run_module("lineproof", run_name="__main__")
"""


def test_an_interrupt_while_loading_is_quiet():
    run = subprocess.run(
        [sys.executable, "-c", STOPPED_WHILE_LOADING],
        env={**os.environ, "PYTHONPATH": str(SRC)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert run.returncode == 130
    assert run.stderr == ""
