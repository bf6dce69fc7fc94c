"""How the code reads: length of modules, no printing, no blind except, no empty or unrun tests."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "lineproof"
SOURCES = sorted(SRC.rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))

TALKING = {"print", "input", "breakpoint", "exit", "quit"}
LONGEST = 420  # about 400 lines
# A module that is long for a reason: path under src/lineproof -> the reason, in one sentence.
LONG_FOR_A_REASON: dict[str, str] = {}


def tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text("utf-8"), str(file))


def where(file: Path, node: ast.AST) -> str:
    return f"{file.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}"


def dotted(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return f"{dotted(node.value)}.{node.attr}"
    return node.id if isinstance(node, ast.Name) else ""


def test_no_module_is_long_without_a_reason() -> None:
    lengths = {str(f.relative_to(SRC)): len(f.read_text("utf-8").splitlines()) for f in SOURCES}
    long = {name: count for name, count in lengths.items() if count > LONGEST}
    unexplained = {name: count for name, count in long.items() if name not in LONG_FOR_A_REASON}
    assert unexplained == {}, "split along what they do, or give the reason in LONG_FOR_A_REASON"
    assert set(LONG_FOR_A_REASON) <= set(long), "a reason whose module is short again: take it out"
    assert all(len(reason.split()) > 3 for reason in LONG_FOR_A_REASON.values())


def test_library_code_does_not_print() -> None:
    bad = []
    for file in SOURCES:
        # the door ends the process with its code
        if file.relative_to(SRC).parts[0] in {"desk", "__main__.py"}:
            continue
        for node in ast.walk(tree(file)):
            if isinstance(node, ast.Call) and dotted(node.func) in TALKING:
                bad.append(f"{where(file, node)} calls {dotted(node.func)}")
            if isinstance(node, ast.Attribute) and dotted(node) in {"sys.stdout", "sys.stderr", "sys.exit"}:
                bad.append(f"{where(file, node)} uses {dotted(node)}")
    assert bad == []


def test_only_the_floor_and_the_readers_parse_units() -> None:
    """Numbers are SI between the rooms: sums, checks and plan neither parse nor write units of the site."""
    bad = []
    for file in SOURCES:
        if file.relative_to(SRC).parts[0] not in {"sums", "checks", "plan"}:
            continue
        for node in ast.walk(tree(file)):
            if isinstance(node, ast.ImportFrom) and node.module == "lineproof.floor.units":
                names = [a.name for a in node.names if a.name.startswith(("parse", "show", "format"))]
                bad += [f"{where(file, node)} imports {name}" for name in names]
    assert bad == []


def test_no_assert_in_the_package_and_no_blind_except() -> None:
    bad = []
    for file in [*SOURCES, *TESTS]:
        for node in ast.walk(tree(file)):
            if isinstance(node, ast.ExceptHandler) and node.type is None:
                bad.append(f"{where(file, node)} bare except")
            if isinstance(node, ast.Assert) and file in SOURCES:
                bad.append(f"{where(file, node)} assert in the package")
            if isinstance(node, ast.Raise) and file in SOURCES:
                raised = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
                if raised is not None and dotted(raised) in {"Exception", "BaseException"}:
                    bad.append(f"{where(file, node)} raises a bare {dotted(raised)}")
    assert bad == []


def test_checks_and_sums_know_no_clock() -> None:
    bad = []
    clocks = {"now", "today", "utcnow", "time", "monotonic", "perf_counter"}
    for file in SOURCES:
        if file.relative_to(SRC).parts[0] not in {"book", "sums", "job", "checks", "plan"}:
            continue
        for node in ast.walk(tree(file)):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
                continue
            owner = dotted(node.func.value).split(".")[-1]
            if node.func.attr in clocks and owner in {"datetime", "date", "time", "Timestamp"}:
                if not (owner in {"datetime", "date"} and node.func.attr == "time"):
                    bad.append(f"{where(file, node)} reads the clock: {owner}.{node.func.attr}")
    # A planner may stop a search on elapsed time; that is a limit, not a "now" that goes into an answer.
    bad = [line for line in bad if not ("/plan/" in line and line.endswith(("monotonic", "perf_counter")))]
    assert bad == []


def is_empty_assert(node: ast.Assert) -> bool:
    test = node.test
    if isinstance(test, ast.Constant):
        return bool(test.value)
    return isinstance(test, ast.Tuple) and bool(test.elts)


def test_no_test_asserts_nothing_by_being_true() -> None:
    bad = [
        where(file, node)
        for file in TESTS
        for node in ast.walk(tree(file))
        if isinstance(node, ast.Assert) and is_empty_assert(node)
    ]
    assert bad == []


def has_a_check(function: ast.FunctionDef) -> bool:
    """An assert, a ``raises`` or ``warns``, or a call of a helper whose name says that it checks."""
    for node in ast.walk(function):
        if isinstance(node, ast.Assert):
            return True
        if isinstance(node, ast.Call):
            name = dotted(node.func).split(".")[-1]
            if name in {"raises", "warns", "fail"} or name.startswith(("assert_", "check_", "expect")):
                return True
    return False


def test_every_test_checks_something() -> None:
    bad = [
        f"{where(file, node)} {node.name}"
        for file in TESTS
        for node in ast.walk(tree(file))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and not has_a_check(node)
    ]
    assert bad == [], "name a helper that asserts check_..., assert_... or expect..."


def test_no_test_is_skipped_or_expected_to_fail() -> None:
    forbidden = {"skip", "skipif", "xfail", "importorskip", "skipTest", "SkipTest"}
    bad = []
    for file in TESTS:
        for node in ast.walk(tree(file)):
            if isinstance(node, ast.Attribute) and node.attr in forbidden:
                if dotted(node.value).split(".")[0] in {"pytest", "mark", "unittest", "self"}:
                    bad.append(f"{where(file, node)} {node.attr}")
    assert bad == []


def test_nothing_is_timed_in_a_test() -> None:
    clocks = {"time.perf_counter", "time.monotonic", "time.process_time", "timeit.timeit", "perf_counter"}
    bad = [
        where(file, node)
        for file in TESTS
        for node in ast.walk(tree(file))
        if isinstance(node, ast.Call) and dotted(node.func) in clocks
    ]
    assert bad == [], "speed lives in benchmarks/, as a ratio"


@pytest.mark.parametrize("file", SOURCES, ids=lambda f: str(f.relative_to(SRC)))
def test_module_says_what_it_is(file: Path) -> None:
    assert ast.get_docstring(tree(file)), f"{file.relative_to(ROOT)} has no docstring"
