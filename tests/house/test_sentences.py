"""Every check has its sentences, every reason and next step is in the catalogue, nothing is left unfilled."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.cases import CASES, Case
from lineproof.book.load import book
from lineproof.checks.registry import UNVERIFIED, all_checks, ask
from lineproof.desk.next_steps_en import NEXT
from lineproof.desk.say import NOT_KNOWN, reason, say
from lineproof.desk.sentences_en import WHY
from lineproof.floor.shown import Shown

ROOT = Path(__file__).resolve().parents[2]
CHECKS = sorted((ROOT / "src" / "lineproof" / "checks").glob("*.py"))
WAYS = (Shown.us(), Shown.metric())


def words_of(node: ast.expr) -> Iterator[str]:
    """Every word that an expression can be: constants, and both sides of a choice."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value:
        yield node.value
    if isinstance(node, ast.IfExp):
        yield from words_of(node.body)
        yield from words_of(node.orelse)


CLOCKS = ("MOV-02", "CUR-01")
"""Checks that share the ladder of ``checks/clocked.py``: each of its words is a word of both."""


def told(keyword: str) -> set[tuple[str, str]]:
    """(check, word) of every ``answer`` in the code that gives this keyword as a word."""
    found = set()
    for file in CHECKS:
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            called, first = getattr(node.func, "id", ""), node.args[0]
            names: tuple[str, ...] = CLOCKS if called == "Stands" else ()
            if called == "answer" and isinstance(first, ast.Constant):
                names = (str(first.value),)
            for k in node.keywords:
                if k.arg == keyword or (called == "stands" and (keyword, k.arg) == ("next_step", "humidity")):
                    found |= {(name, word) for name in names or ("",) for word in words_of(k.value)}
    return found


def test_every_check_has_sentences() -> None:
    assert set(WHY) == set(all_checks())
    assert [name for name, sentences in WHY.items() if "go" not in sentences] == []


def test_every_reason_in_the_code_has_a_sentence() -> None:
    reasons = told("why")
    assert len(reasons) > 60
    assert sorted(r for r in reasons if r[1] not in WHY[r[0]]) == []


def test_every_next_step_in_the_code_has_a_sentence_and_no_other() -> None:
    used = {word for _, word in told("next_step")} | {"confirm"}
    assert used == set(NEXT)


def test_every_sentence_is_used_by_a_case() -> None:
    said = {
        (c.id, str(ask(c.id, c.facts, book().with_confirmations(book().every_confirmation())).facts["why"]))
        for c in CASES
    }
    never = sorted((name, why) for name, told in WHY.items() for why in told if (name, why) not in said)
    assert never == []


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c.id} {c.name}")
def test_nothing_is_left_unfilled(case: Case) -> None:
    for tables in (book(), book().with_confirmations(book().every_confirmation())):
        found = ask(case.id, case.facts, tables)
        for shown in WAYS:
            text = say(found, shown)
            assert not re.search(r"[{}]|None|\bnan\b", text), text
            if found.facts["why"] != UNVERIFIED:
                assert NOT_KNOWN not in text.replace("is " + NOT_KNOWN, "").replace("are " + NOT_KNOWN, ""), (
                    text
                )
            assert text.endswith(".")
            assert "  " not in text


def test_units_are_those_of_the_job() -> None:
    case = next(c for c in CASES if c.id == "SYS-01" and "d315" in c.name)
    found = ask(case.id, case.facts, book())
    # ISO 1452 d315 is 315 mm outside, NPS 12 is 12.750 in (323.85 mm): both are told in either way
    assert "315 mm" in reason(found, Shown.metric())
    assert "324 mm" in reason(found, Shown.metric())
    assert "1'-0 3/4\"" in reason(found, Shown.us())
