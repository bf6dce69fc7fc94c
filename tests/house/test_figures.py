"""Every figure calls its own function, prints the formula that it computes, and hides no input."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import math
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from lineproof.floor.errors import OutsideTable
from lineproof.floor.unit_table import UNITS
from lineproof.floor.worked import Figure
from lineproof.sums.figures import MODULES, load_all

ROOT = Path(__file__).resolve().parents[2]
FIGURES = load_all()
NAMES = sorted(FIGURES)


def example(figure: Figure) -> dict[str, Any]:
    """Inputs of the first call in the docstring's example, with the defaults filled in."""
    doc = inspect.getdoc(figure.call) or ""
    space = vars(importlib.import_module(figure.call.__module__))
    for item in doctest.DocTestParser().get_examples(doc):
        for node in ast.walk(ast.parse(item.source)):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id == figure.call.__name__
            ):
                args = [eval(ast.unparse(a), dict(space)) for a in node.args]
                named = {str(k.arg): eval(ast.unparse(k.value), dict(space)) for k in node.keywords}
                bound = inspect.signature(figure.call).bind(*args, **named)
                bound.apply_defaults()
                return {name: float(value) for name, value in bound.arguments.items()}
    raise AssertionError(f"{figure.name} has no example that calls it")


FUNCTIONS: Mapping[str, object] = {
    "sqrt": math.sqrt, "sin": math.sin, "cos": math.cos, "tan": math.tan, "atan2": math.atan2,
    "exp": math.exp, "ln": math.log, "min": min, "max": max, "ceil": math.ceil, "floor": math.floor,
}  # fmt: skip
TOKEN = re.compile(r"\s*(\d+(?:\.\d+)?|[^\W\d]\w*|[-+/^(),°])")


def python(formula: str) -> str:
    """A printed formula as Python: a blank multiplies, ^ is a power, the degree sign is pi/180."""
    out: list[str] = []
    last = ""
    at = 0
    while at < len(formula.rstrip()):
        match = TOKEN.match(formula, at)
        assert match, f"cannot read {formula[at:]!r} in {formula!r}"
        token, at = match[1], match.end()
        ends = last == ")" or last == "°" or (re.match(r"\w", last) is not None and last not in FUNCTIONS)
        if ends and re.match(r"[\w(]", token):
            out.append("*")
        if token == "°":
            out[-1] = f"({out[-1]} * pi / 180)"
        else:
            out.append({"^": "**", "π": "pi"}.get(token, token))
        last = token
    return " ".join(out)


def clauses(text: str) -> list[str]:
    """Parts of a formula between commas that stand outside of brackets."""
    parts, depth = [""], 0
    for sign in text:
        depth += (sign == "(") - (sign == ")")
        if sign == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += sign
    return [part.strip() for part in parts]


def by_formula(figure: Figure, inputs: Mapping[str, float]) -> float:
    """The value that the printed formula gives, computed without the function."""
    main, *others = clauses(figure.formula)
    zero = 273.15 if "temperatures in C" in others else 0.0
    letters: dict[str, float] = {"pi": math.pi, "h": 3600.0}
    for name, symbol in figure.symbols.items():
        letters[symbol.letter] = inputs[name] - (zero if symbol.quantity == "temperature" else 0.0)
    for other in reversed([part for part in others if "=" in part]):
        letter, right = other.split("=", 1)
        letters[letter.strip()] = eval(python(right), {**FUNCTIONS, **letters})
    value = float(eval(python(main.split("=", 1)[1]), {**FUNCTIONS, **letters}))
    return value + (zero if figure.result.quantity == "temperature" else 0.0)


def test_every_module_that_registers_figures_is_loaded() -> None:
    folder = ROOT / "src" / "lineproof" / "sums"
    registering = {f.stem for f in folder.glob("*.py") if "@figure(" in f.read_text("utf-8")}
    assert registering == set(MODULES)
    assert list(MODULES) == sorted(MODULES)


def test_the_room_is_entered_without_loading_it() -> None:
    text = (ROOT / "src" / "lineproof" / "sums" / "__init__.py").read_text("utf-8")
    assert not [n for n in ast.walk(ast.parse(text)) if isinstance(n, ast.Import | ast.ImportFrom)]
    for name in MODULES:
        heavy = {"numpy", "scipy"} & set(vars(sys.modules[f"lineproof.sums.{name}"]))
        assert not heavy, f"{name} loads {heavy}"


@pytest.mark.parametrize("name", NAMES)
def test_working_is_the_value_of_the_function_itself(name: str) -> None:
    figure = FIGURES[name]
    inputs = example(figure)
    worked = figure.work(**inputs)
    assert worked.value == figure.call(**inputs)
    assert dict(worked.inputs) == inputs


@pytest.mark.parametrize("name", NAMES)
def test_printed_formula_gives_the_same_value(name: str) -> None:
    figure = FIGURES[name]
    inputs = example(figure)
    assert by_formula(figure, inputs) == pytest.approx(figure.work(**inputs).value, rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("name", NAMES)
def test_substitution_shows_every_input(name: str) -> None:
    figure = FIGURES[name]
    inputs = example(figure)
    letters = [s.letter for s in figure.symbols.values()]
    assert len(set(letters)) == len(letters), "two inputs share a letter"
    assert figure.result.letter not in letters
    assert figure.formula.startswith(f"{figure.result.letter} = ")
    for letter in letters:
        right = figure.formula.split("=", 1)[1]
        assert re.search(rf"(?<!\w){re.escape(letter)}(?!\w)", right), f"{letter} is not in the formula"
    shown = figure.work(**inputs).substitution(lambda value, quantity: f"<{quantity}:{value}>")
    for key, symbol in figure.symbols.items():
        assert f"<{symbol.quantity}:{inputs[key]}>" in shown


@pytest.mark.parametrize("name", NAMES)
def test_figure_can_be_asked_and_answers_for_itself(name: str) -> None:
    figure = FIGURES[name]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)
    assert figure.source
    for symbol in (*figure.symbols.values(), figure.result):
        assert symbol.quantity in UNITS, f"{symbol.name}: {symbol.quantity} has no units"
        assert symbol.words
        assert symbol.words[0].islower() or symbol.words.split()[0].isupper()
    doc = inspect.getdoc(figure.call) or ""
    for section in ("Parameters", "Returns", "Valid range", "Notes", "Examples", "References"):
        assert re.search(rf"^{section}\n-+$", doc, re.M), f"{name} has no section {section}"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_no_figure_takes_what_is_not_a_number(name: str, bad: float) -> None:
    """Each input of a good example in turn is made bad; only our own error comes out."""
    figure = FIGURES[name]
    good = example(figure)
    for spoiled in figure.symbols:
        with pytest.raises(OutsideTable) as caught:
            figure.call(**{**good, spoiled: bad})
        assert caught.value.next


def test_the_reader_of_formulas_finds_a_wrong_formula() -> None:
    figure = FIGURES["end-load"]
    wrong = Figure(
        name=figure.name,
        call=figure.call,
        formula="F = p π D^2/2",
        symbols=figure.symbols,
        result=figure.result,
        note="",
        source="",
    )
    inputs = example(figure)
    assert by_formula(wrong, inputs) == pytest.approx(2 * figure.work(**inputs).value)
