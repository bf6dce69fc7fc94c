"""The street is one-way: floor -> book -> sums -> job -> checks -> plan -> logbook -> desk."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "lineproof"
ROOMS = ["floor", "book", "sums", "job", "checks", "plan", "logbook", "desk"]


def imported(file: Path) -> list[tuple[int, str]]:
    """Every module a file imports, with its line; a relative import shows as a leading dot."""
    names: list[tuple[int, str]] = []
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = "." * node.level + (node.module or "")
            names.append((node.lineno, base))
            names += [(node.lineno, f"{base}.{alias.name}") for alias in node.names]
    return names


def imports_to_the_right(src: Path, package: str) -> list[str]:
    bad = set()
    for file in sorted(src.rglob("*.py")):
        room = file.relative_to(src).parts[0]
        for line, name in imported(file):
            where = f"{file.relative_to(src)}:{line}"
            if name.startswith("."):
                bad.add(f"{where} relative import")
                continue
            parts = name.split(".")
            if room in ROOMS and parts[0] == package and len(parts) > 1 and parts[1] in ROOMS:
                if ROOMS.index(parts[1]) > ROOMS.index(room):
                    bad.add(f"{where} {room} -> {parts[1]}")
    return sorted(bad)


def test_no_room_imports_from_its_right() -> None:
    assert imports_to_the_right(SRC, "lineproof") == []


def test_the_reader_of_imports_sees_a_wrong_one(tmp_path: Path) -> None:
    room = tmp_path / "book"
    room.mkdir()
    code = "from pipes.sums import hoop\nfrom . import x\nimport pipes.floor\n"
    (room / "load.py").write_text(code, "utf-8")
    assert imports_to_the_right(tmp_path, "pipes") == [
        "book/load.py:1 book -> sums",
        "book/load.py:2 relative import",
    ]


def test_every_folder_of_the_package_is_a_room() -> None:
    folders = {p.name for p in SRC.iterdir() if p.is_dir() and p.name != "__pycache__"}
    assert folders == {*ROOMS, "demo"}
    assert list((SRC / "demo").rglob("*.py")) == [], "the demo is a job folder, and holds no code"
    assert {p.name for p in SRC.glob("*.py")} == {"__init__.py", "__main__.py"}


def test_the_package_imports_only_what_it_asks_for() -> None:
    """A test tool that happens to be installed is no dependency: a run alone would not have it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    asked = [re.split(r"[<>=~! \[;]", line)[0] for line in project["dependencies"]]
    allowed = {name.lower().replace("-", "_") for name in asked}
    allowed |= {"pydantic_core"}  # the half of pydantic that holds its error types; pinned by it
    allowed |= {"lineproof", "__future__"} | set(sys.stdlib_module_names)
    bad = [
        f"{file.relative_to(ROOT)}:{line} {name}"
        for file in sorted(SRC.rglob("*.py"))
        for line, name in imported(file)
        if not name.startswith(".") and name.split(".")[0] not in allowed
    ]
    assert bad == []


def test_import_contracts_hold() -> None:
    run = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()", "--no-cache"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    assert "2 kept, 0 broken" in run.stdout
