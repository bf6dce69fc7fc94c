"""What holds for every shelf: hypothesis profiles, the count per shelf, no test that is quietly not run."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

TESTS = Path(__file__).resolve().parent
SHELVES = (
    "floor", "book", "sums", "job", "checks", "plan", "logbook", "desk",
    "published", "sweeps", "properties", "house", "browser", "fuzz",
)  # fmt: skip

# Examples are the same on every run, so a red gate is red for everyone. Nothing is timed in a test.
_common = settings(
    deadline=None,
    derandomize=True,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("quick", _common, max_examples=50)
settings.register_profile("full", _common, max_examples=300)
settings.load_profile(os.environ.get("LINEPROOF_PROFILE", "quick"))


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--whole-shelves",
        action="store_true",
        help="fail when a shelf that was asked for holds test files' folder but ran no test",
    )


def shelf_of(nodeid: str) -> str:
    parts = nodeid.split("/")
    return parts[1] if len(parts) > 2 and parts[0] == "tests" else "(no shelf)"


def asked_shelves(args: list[str]) -> list[str]:
    """Shelves under the paths pytest was given that exist as folders."""
    asked = set()
    for arg in args:
        path = Path(arg.split("::")[0]).resolve()
        for shelf in SHELVES:
            folder = TESTS / shelf
            if folder.is_dir() and (path == folder or path in folder.parents):
                asked.add(shelf)
    return [shelf for shelf in SHELVES if shelf in asked]


class ShelfCount:
    """Counts tests per shelf as their reports come in, from one process or from several workers."""

    def __init__(self, config: pytest.Config) -> None:
        self.config = config
        self.ran: Counter[str] = Counter()
        self.not_run: list[str] = []
        self.empty: list[str] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.skipped or hasattr(report, "wasxfail"):
            if report.nodeid not in self.not_run:
                self.not_run.append(report.nodeid)
        elif report.when == "call" or (report.when == "setup" and report.failed):
            self.ran[shelf_of(report.nodeid)] += 1

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.skipped:
            self.not_run.append(report.nodeid)

    @pytest.hookimpl(wrapper=True)
    def pytest_sessionfinish(self, session: pytest.Session) -> Iterator[None]:
        if self.config.getoption("--whole-shelves"):
            self.empty = [shelf for shelf in asked_shelves(self.config.args) if not self.ran[shelf]]
        if (self.not_run or self.empty) and session.exitstatus in (
            pytest.ExitCode.OK,
            pytest.ExitCode.NO_TESTS_COLLECTED,
        ):
            session.exitstatus = pytest.ExitCode.TESTS_FAILED
        yield

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        out = terminalreporter
        out.section("tests per shelf")
        for shelf in (*SHELVES, "(no shelf)"):
            if self.ran[shelf] or shelf in self.empty:
                out.write_line(f"{shelf:12}{self.ran[shelf]:6}")
        out.write_line(f"{'all':12}{self.ran.total():6}")
        for shelf in self.empty:
            out.write_line(f"FAILED shelf tests/{shelf} ran no test", red=True)
        for nodeid in self.not_run:
            out.write_line(f"FAILED {nodeid}: skipped or expected to fail; here every test runs", red=True)


def pytest_configure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        config.pluginmanager.register(ShelfCount(config), "shelf-count")
