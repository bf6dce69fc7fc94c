"""The command line: every verb and every word after it says what it is for."""

from __future__ import annotations

import importlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import typer

ROOT = Path(__file__).resolve().parents[2]
CLI = ROOT / "src" / "lineproof" / "desk" / "cli.py"
CLI_FOLDER = CLI.with_suffix("")


def the_app() -> Any:
    """The command tree, or None as long as the house has no command line."""
    if not CLI.exists() and not CLI_FOLDER.exists():
        return None
    cli = importlib.import_module("lineproof.desk.cli")
    assert callable(getattr(cli, "main", None)), "lineproof.desk.cli has no main()"
    assert isinstance(getattr(cli, "app", None), typer.Typer), "desk.cli has no typer app named 'app'"
    return typer.main.get_command(cli.app)


def commands(command: Any, path: str) -> Iterator[tuple[str, Any]]:
    yield path, command
    for name, inner in getattr(command, "commands", {}).items():
        yield from commands(inner, f"{path} {name}")


def test_every_verb_and_option_has_help() -> None:
    app = the_app()
    told = list(commands(app, "lineproof")) if app is not None else []
    bad = [path for path, command in told if not (command.help or "").strip()]
    for path, command in told:
        for parameter in command.params:
            if not getattr(parameter, "help", "").strip() and parameter.name not in {
                "help", "install_completion", "show_completion",
            }:  # fmt: skip
                bad.append(f"{path} {parameter.name}")
    assert bad == []


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "lineproof", *words],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "NO_COLOR": "1"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_help_answers_and_an_unknown_verb_is_bad_usage() -> None:
    assert run("--help").returncode == 0
    wrong = run("no-such-verb")
    assert wrong.returncode == 64, wrong.stderr
    assert "Traceback" not in wrong.stderr


def test_help_loads_nothing_heavy() -> None:
    """Start-up is kept short by what is not imported; its seconds are measured in benchmarks/."""
    code = "import sys, lineproof.desk.cli; print(*sorted({n.split('.')[0] for n in sys.modules}))"
    loaded = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    heavy = {"scipy", "highspy", "networkx", "typst", "xlsxwriter", "python_calamine", "jinja2", "segno"}
    assert "lineproof" in loaded
    assert heavy & set(loaded) == set()
