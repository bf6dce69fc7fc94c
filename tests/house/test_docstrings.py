"""Public docstrings of floor, book, sums and checks: every float has its unit in brackets; examples run."""

from __future__ import annotations

import ast
import doctest
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "lineproof"
TOLD_IN_FULL = ("floor", "book", "sums", "checks")
NUMERIC = re.compile(r"\b(float|complex|NDArray|ndarray|ArrayLike|FloatArray|Floats?)\b")
UNIT = re.compile(r"(?<!\w)\[[^\[\]\n]+\]")  # [m], and not the brackets of a type

Function = ast.FunctionDef | ast.AsyncFunctionDef


def sections(doc: str) -> dict[str, str]:
    """Numpy-style sections of a docstring: title -> text below its rule."""
    lines = doc.splitlines()
    found: dict[str, list[str]] = {}
    title = ""
    for i, line in enumerate(lines):
        below = lines[i + 1] if i + 1 < len(lines) else ""
        if line.strip() and re.fullmatch(r"\s*-{3,}\s*", below):
            title = line.strip()
            found[title] = []
        elif title and not re.fullmatch(r"\s*-{3,}\s*", line):
            found[title].append(line)
    return {name: "\n".join(text) for name, text in found.items()}


def entries(section: str) -> dict[str, str]:
    """Entries of a Parameters section: name -> its line and the indented text below it."""
    found: dict[str, list[str]] = {}
    names: list[str] = []
    for line in section.splitlines():
        if line and not line[0].isspace():
            names = [name.strip().lstrip("*") for name in line.split(":")[0].split(",")]
            for name in names:
                found[name] = [line]
        else:
            for name in names:
                found[name].append(line)
    return {name: "\n".join(text) for name, text in found.items()}


def is_plain_numeric(annotation: ast.expr | None) -> bool:
    """A float, an array of them, or either with None; a callable or a mapping of floats is told in words."""
    if annotation is None:
        return False
    text = ast.unparse(annotation).strip("'\"")
    outer = {part.strip().split("[")[0].split(".")[-1] for part in text.split("|")}
    return bool(NUMERIC.search(text)) and outer <= {
        "float", "complex", "NDArray", "ndarray", "ArrayLike", "FloatArray", "Float", "Floats", "None", "int",
    }  # fmt: skip


def public_functions(file: Path) -> Iterator[tuple[str, Function]]:
    for node in ast.parse(file.read_text("utf-8")).body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not node.name.startswith("_"):
            yield node.name, node
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                    yield f"{node.name}.{inner.name}", inner


def faults(file: Path) -> list[str]:
    bad = []
    for name, function in public_functions(file):
        decorators = {ast.unparse(d).split("(")[0].split(".")[-1] for d in function.decorator_list}
        if decorators & {"overload", "setter", "override"}:
            continue
        at = f"{file.name}:{function.lineno} {name}"
        doc = ast.get_docstring(function)
        if not doc:
            bad.append(f"{at}: no docstring")
            continue
        told = sections(doc)
        given = entries(told.get("Parameters", ""))
        spec = function.args
        for arg in [*spec.posonlyargs, *spec.args, *spec.kwonlyargs]:
            if not is_plain_numeric(arg.annotation):
                continue
            if arg.arg not in given:
                bad.append(f"{at}: '{arg.arg}' is a number but not under Parameters")
            elif not UNIT.search(given[arg.arg]):
                bad.append(f"{at}: '{arg.arg}' has no unit in brackets, such as [m] or [-]")
        returns = told.get("Returns", doc.splitlines()[0])
        if is_plain_numeric(function.returns) and not UNIT.search(returns):
            bad.append(f"{at}: what it returns has no unit in brackets")
    return bad


def modules(*rooms: str) -> list[Path]:
    return sorted(file for room in rooms for file in (SRC / room).rglob("*.py"))


def test_every_public_number_says_its_unit() -> None:
    files = modules(*TOLD_IN_FULL)
    assert files
    assert [fault for file in files for fault in faults(file)] == []


def test_the_reader_of_docstrings_sees_a_missing_unit(tmp_path: Path) -> None:
    file = tmp_path / "stretch.py"
    file.write_text(
        "def stretch(length: float, by: NDArray[np.float64], name: str) -> float:\n"
        '    """Longer.\n\n    Parameters\n    ----------\n    length : float\n        Long side. [m]\n'
        "    by : NDArray[np.float64]\n        How much.\n\n    Returns\n    -------\n"
        '    float\n        Long. [m]\n    """\n'
        "    return length\n"
        "def bare(x: float) -> str:\n    return str(x)\n",
        "utf-8",
    )
    assert faults(file) == [
        "stretch.py:1 stretch: 'by' has no unit in brackets, such as [m] or [-]",
        "stretch.py:17 bare: no docstring",
    ]


EXAMPLES = [
    file
    for file in modules("floor", "book", "sums", "job", "checks", "plan")
    if ">>> " in file.read_text("utf-8")
]


def module_name(file: Path) -> str:
    return ".".join(file.relative_to(SRC.parent).with_suffix("").parts).removesuffix(".__init__")


def test_examples_in_docstrings_run() -> None:
    failed = []
    tried = 0
    for file in EXAMPLES:
        result = doctest.testmod(importlib.import_module(module_name(file)))
        tried += result.attempted
        if result.failed:
            failed.append(f"{module_name(file)}: {result.failed} of {result.attempted} examples wrong")
    assert failed == []
    assert tried >= len(EXAMPLES), "an example that doctest does not find is not run"


def decorated_checks() -> list[tuple[str, Path]]:
    found = []
    for file in modules("checks"):
        for _, function in public_functions(file):
            for decorator in function.decorator_list:
                if isinstance(decorator, ast.Call) and ast.unparse(decorator.func).split(".")[-1] == "check":
                    given = [k.value for k in decorator.keywords if k.arg == "id"] or decorator.args[:1]
                    found += [(str(v.value), file) for v in given if isinstance(v, ast.Constant)]
    return found


def test_every_check_has_a_doc_line_and_a_test() -> None:
    checks = decorated_checks()
    ids = [name for name, _ in checks]
    assert len(ids) == len(set(ids)), "an id is never used twice"
    page = ROOT / "docs" / "checks.md"
    told = page.read_text("utf-8") if page.exists() else ""
    tests = "\n".join(file.read_text("utf-8") for file in (ROOT / "tests").rglob("*.py"))
    untold = [name for name in ids if not re.search(rf"\b{re.escape(name)}\b", told)]
    assert untold == [], "no line in docs/checks.md"
    assert [name for name in ids if name not in tests] == [], "no test names this check"


@pytest.mark.parametrize("room", ["floor", "book", "sums", "job", "checks", "plan", "logbook", "desk"])
def test_room_says_what_it_holds(room: str) -> None:
    doc = ast.get_docstring(ast.parse((SRC / room / "__init__.py").read_text("utf-8")))
    assert doc, f"src/lineproof/{room}/__init__.py has no docstring"
