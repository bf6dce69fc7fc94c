"""Words: arguments of sums are in docs/words.md with unit and letters; screens keep off avoided words."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from house.test_docstrings import UNIT, Function, entries, is_plain_numeric, public_functions, sections
from lineproof.sums.figures import load_all

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "lineproof"
PAGE = (ROOT / "docs" / "words.md").read_text("utf-8")
ROW = re.compile(
    r"\| (?P<names>`\w+`(?:, `\w+`)*) \|(?: (?P<letters>[^|]*?) ?\|)?"
    r" (?P<means>[^|]+) \| (?P<unit>[^|]*?) ?\|"
)

# What docs/words.md lists as avoided and that can be told from its spelling alone.
AVOIDED = {
    r"glu(?:e|ed|ing)": "solvent cement, cemented",
    r"couplers?": "coupling",
    r"slip[ -]couplings?": "repair coupling",
    r"open[ -]time|wet[ -]time": "working time",
    r"check[ -]marks?": "second mark",
    r"anchored": "fixed (an anchor is a thing; an end is fixed)",
    r"effective length": "laying length, or insertion depth",
    r"green joints?": "fresh joint",
}


def listed() -> dict[str, tuple[str, frozenset[str], str]]:
    """Argument name -> meaning, letters, unit, as the page has them."""
    found: dict[str, tuple[str, frozenset[str], str]] = {}
    for line in PAGE.splitlines():
        row = ROW.fullmatch(line)
        if row:
            letters = frozenset(x.strip() for x in (row["letters"] or "").split(",") if x.strip())
            for name in re.findall(r"\w+", row["names"]):
                found.setdefault(name, (row["means"], letters, row["unit"]))
    return found


LISTED = listed()


def arguments(*rooms: str) -> Iterator[tuple[str, Function, ast.arg]]:
    for room in rooms:
        for file in sorted((SRC / room).rglob("*.py")):
            for name, function in public_functions(file):
                args = function.args
                for arg in (*args.posonlyargs, *args.args, *args.kwonlyargs):
                    if arg.arg not in ("self", "cls"):
                        yield f"{room}/{file.name}:{function.lineno} {name}", function, arg


def test_the_page_is_read() -> None:
    assert len(LISTED) > 100
    assert LISTED["dT_K"][1:] == (frozenset({"ΔT"}), "K")
    assert LISTED["od"] == ("outside diameter of the pipe", frozenset({"D"}), "m")
    assert LISTED["over"][2] == LISTED["least"][2] == "SI of the quantity"


def test_every_argument_of_a_sum_is_listed() -> None:
    assert [f"{at}: {arg.arg}" for at, _, arg in arguments("sums") if arg.arg not in LISTED] == [], (
        "write the name into docs/words.md with its meaning and unit, or use a listed one"
    )


def test_every_number_that_tables_readers_and_checks_take_is_listed() -> None:
    numbers = (a for a in arguments("floor", "book", "job", "checks") if is_plain_numeric(a[2].annotation))
    assert [f"{at}: {arg.arg}" for at, _, arg in numbers if arg.arg not in LISTED] == []


def test_a_name_has_one_unit_and_it_is_the_listed_one() -> None:
    other = []
    for at, function, arg in arguments("sums"):
        told = entries(sections(ast.get_docstring(function) or "").get("Parameters", "")).get(arg.arg, "")
        unit = UNIT.search(told)
        if unit and arg.arg in LISTED and unit[0].strip("[]") != LISTED[arg.arg][2]:
            if (arg.arg, unit[0]) != ("value", "[-]"):  # the limits look at a count as well
                other.append(f"{at}: {arg.arg} is {unit[0]}, listed [{LISTED[arg.arg][2]}]")
    assert other == []


def test_letters_of_the_figures_are_the_listed_ones() -> None:
    printed: dict[str, set[str]] = {}
    for figure in load_all().values():
        for name, symbol in figure.symbols.items():
            printed.setdefault(name, set()).add(symbol.letter)
    assert {n: s for n, s in printed.items() if s != LISTED[n][1]} == {}


def sentences(file: Path) -> Iterator[tuple[int, str]]:
    """Strings of a module that a person may read: those with a blank in them, docstrings left out."""
    tree = ast.parse(file.read_text("utf-8"))
    told = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            told |= {id(n.value) for n in body if isinstance(n, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            if " " in node.value.strip():
                yield node.lineno, node.value


def avoided(text: str) -> list[str]:
    return [
        f"{found[0]!r}: {use}"
        for pattern, use in AVOIDED.items()
        if (found := re.search(rf"\b(?:{pattern})\b", text, re.IGNORECASE))
    ]


def test_no_sentence_of_ours_uses_an_avoided_word() -> None:
    bad = []
    for file in sorted(SRC.rglob("*.py")):
        for line, text in sentences(file):
            bad += [f"{file.relative_to(SRC)}:{line} {word}" for word in avoided(text)]
    assert bad == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Glued joints cure", 1),
        ("a slip-coupling of the open time", 2),
        ("the anchored end", 1),
        ("an anchor fixes the pipe; a gluten-free lunch", 0),
    ],
)
def test_the_avoided_words_are_found(text: str, said: int) -> None:
    assert len(avoided(text)) == said


def test_docstrings_and_single_words_are_not_taken_for_sentences(tmp_path: Path) -> None:
    file = tmp_path / "said.py"
    file.write_text(
        '"""glue this."""\nA = "glue"\ndef f():\n    """glue it."""\n    return "glue on"\n', "utf-8"
    )
    assert list(sentences(file)) == [(5, "glue on")]


def test_avoided_words_are_those_of_the_page() -> None:
    table = PAGE.split("## Ambiguous words to avoid")[1].split("## Names of arguments")[0]
    for word in (
        "glue",
        "coupler",
        "slip coupling",
        "open time",
        "wet time",
        "check mark",
        "anchored",
        "effective length",
    ):
        assert word in table
        assert avoided(word)


def test_spanish_is_marked_as_not_yet_read_over() -> None:
    heads = [line for line in PAGE.splitlines() if line.startswith("| Use ") and "Spanish" in line]
    assert len(heads) >= 7
    assert all("to be read over by a native-speaking fitter" in line for line in heads)
