"""Files of the project: locks, scripts, README, words that do not belong here."""

from __future__ import annotations

import os
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

import lineproof

ROOT = Path(__file__).resolve().parents[2]
LOCKS = ["requirements.lock", "requirements-test.lock"]
SCRIPTS = ["lineproof", "test", ".ci/run", "scripts/refresh-locks"]
# Written in halves, so that this file does not hold what it looks for.
FOREIGN = {
    "a path of one machine": r"(?<![\w.])/wo" + r"rk/|(?<![\w.])/tm" + r"p/lp\b",
    "a folder of one machine": r"\.lib" + r"rary\b",
    "a recording": r"\btrans" + r"cripts?\b",
    "a starting paper": r"\bseed" + r" document",
    "a registry": r"pypi" + r"\.org|python" + r"hosted\.org|npm" + r"js\.(org|com)|deb\.deb" + r"ian",
}
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def files_of_the_project() -> list[Path]:
    """Files in git or about to be; without git (an unpacked copy) all but what .gitignore names."""
    listing = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=False,
    )
    if listing.returncode == 0:
        names = [name for name in listing.stdout.decode().split("\0") if name]
    else:
        left_out = {".git", ".venv", "__pycache__", "out"}
        left_out |= {".pytest_cache", ".mypy_cache", ".ruff_cache", ".hypothesis"}
        names = [
            str(path.relative_to(ROOT))
            for path in ROOT.rglob("*")
            if not left_out & set(path.relative_to(ROOT).parts)
        ]
    return [ROOT / name for name in sorted(names) if (ROOT / name).is_file()]


def text_of(file: Path) -> str:
    raw = file.read_bytes()
    return "" if b"\0" in raw[:8192] else raw.decode("utf-8")


def test_no_foreign_words() -> None:
    bad = []
    for file in files_of_the_project():
        name = file.relative_to(ROOT)
        text = f"{name}\n{text_of(file)}"
        for what, pattern in FOREIGN.items():
            for hit in re.finditer(pattern, text, re.IGNORECASE):
                bad.append(f"{name}:{text.count(chr(10), 0, hit.start())} {what}")
    assert bad == []


def test_the_search_for_foreign_words_finds_them() -> None:
    for sample in ["see /wo" + "rk/main", "pypi" + ".org/simple", "the trans" + "cript", ".lib" + "rary/x"]:
        assert any(re.search(pattern, sample) for pattern in FOREIGN.values()), sample
    for sample in ["floor/worked.py", "a week's work / two crews", "transcribed_by", "framework/"]:
        assert not any(re.search(pattern, sample) for pattern in FOREIGN.values()), sample


def test_text_files_are_utf8_and_end_with_a_line() -> None:
    bad = []
    for file in files_of_the_project():
        text = text_of(file)
        typed = file.suffix in {".py", ".md", ".toml", ".csv", ".walk", ".lock"}
        if typed and text and not text.endswith("\n"):
            bad.append(str(file.relative_to(ROOT)))
    assert bad == []


def pinned(name: str) -> dict[str, list[str]]:
    """Packages of a lock file: name -> its pins, one each for a range of Pythons."""
    found: dict[str, list[str]] = {}
    for line in (ROOT / name).read_text("utf-8").splitlines():
        if match := re.match(r"([a-z0-9._-]+)==(\S+)", line, re.IGNORECASE):
            found.setdefault(match[1].lower(), []).append(match[2])
    return found


@pytest.mark.parametrize("name", LOCKS)
def test_lock_pins_with_hashes_and_no_address(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    assert not re.search(r"://|^\s*(-i|--index|--extra|--find)|\s@\s", text, re.MULTILINE)
    blocks = re.split(r"\n(?=[a-zA-Z0-9])", text.strip())
    assert len(blocks) >= 10
    for block in blocks:
        assert "==" in block.splitlines()[0], block.splitlines()[0]
        assert "--hash=sha256:" in block, block.splitlines()[0]


def test_locks_agree_with_each_other_and_with_pyproject() -> None:
    run, test = (pinned(name) for name in LOCKS)
    assert {name: test.get(name) for name in run} == run
    wanted = {re.split(r"[<>=~! \[;]", line)[0].lower() for line in PROJECT["project"]["dependencies"]}
    assert wanted <= set(run), "a dependency without a pin: run scripts/refresh-locks"
    wanted = {re.split(r"[<>=~! \[;]", line)[0].lower() for line in PROJECT["dependency-groups"]["test"]}
    assert wanted <= set(test), "a test dependency without a pin: run scripts/refresh-locks"


def test_version_is_one() -> None:
    assert PROJECT["project"]["version"] == lineproof.__version__
    assert PROJECT["project"]["requires-python"] == ">=3.11"


@pytest.mark.parametrize("name", SCRIPTS)
def test_script_can_be_run_and_parses(name: str) -> None:
    assert os.access(ROOT / name, os.X_OK), f"chmod +x {name}"
    run = subprocess.run(["bash", "-n", str(ROOT / name)], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert "set -euo pipefail" in (ROOT / name).read_text("utf-8")


def test_readme_shows_the_two_commands() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    for command in ["./lineproof demo", "./test"]:
        assert re.search(rf"^\s*(\$ )?{re.escape(command)}\b", text, re.MULTILINE), command


@pytest.mark.parametrize("name", ["LICENSE", "CONTRIBUTING.md", "CHANGES/README.md", "docs/how-to-add.md"])
def test_paper_of_the_house_is_there(name: str) -> None:
    assert len((ROOT / name).read_text("utf-8").splitlines()) > 10


def test_links_in_the_papers_lead_somewhere() -> None:
    bad = []
    for file in files_of_the_project():
        if file.suffix != ".md":
            continue
        for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", text_of(file)):
            elsewhere = "://" in target or target.startswith("mailto:")
            if not elsewhere and not (file.parent / target).exists():
                bad.append(f"{file.relative_to(ROOT)} -> {target}")
    assert bad == []
