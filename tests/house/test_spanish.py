"""Spanish: every sentence of the stages move, fill and raise has one, with the values of the English one."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.cases import CASES, Case
from house.test_sentences import WAYS, words_of
from lineproof.book.load import book
from lineproof.checks.registry import all_checks, ask
from lineproof.desk.next_steps_en import NEXT
from lineproof.desk.next_steps_es import NEXT_ES
from lineproof.desk.say import say
from lineproof.desk.sentences_en import UNVERIFIED_SENTENCE, WHY
from lineproof.desk.sentences_es import STILL_ENGLISH, UNVERIFIED_ES, WHY_ES
from lineproof.desk.words import ENGLISH, SPANISH, TERMS_ES
from lineproof.desk.words import words_of as small_words

ROOT = Path(__file__).resolve().parents[2]
DESK = ROOT / "src" / "lineproof" / "desk"
STAGES = ("move", "fill", "raise")
ALSO = ("CEM-06",)
"""Checks of other stages that may move, fill and raise ask as well."""
WANTED = sorted({i for i, c in all_checks().items() if c.stage in STAGES} | set(ALSO))


def placeholders(template: str) -> set[tuple[str, str]]:
    """Names with what they are shown as; the word that is counted is another in every language."""
    return {
        (name, "#" if (spec or "").startswith("#") else spec or "")
        for _, name, spec, _ in string.Formatter().parse(template)
        if name
    }


def test_no_sentence_is_missing() -> None:
    """A new check of these stages brings its Spanish, or stands in STILL_ENGLISH until it does."""
    missing = {i for i in WANTED if set(WHY[i]) - set(WHY_ES.get(i, {}))}
    assert sorted(missing) == sorted(STILL_ENGLISH), "write sentences_es.WHY_ES, or name it in STILL_ENGLISH"


def test_there_is_none_too_many() -> None:
    assert {i: sorted(set(told) - set(WHY[i])) for i, told in WHY_ES.items() if set(told) - set(WHY[i])} == {}
    assert sorted(set(NEXT_ES) - set(NEXT)) == []


def test_spanish_names_no_value_that_english_has_not() -> None:
    other: list[tuple[str, ...]] = []
    for check, told in WHY_ES.items():
        for why, spanish in told.items():
            english = {name for name, _ in placeholders(WHY[check][why])}
            if not {name for name, _ in placeholders(spanish)} <= english:
                other.append((check, why))
            numbers = {(n, s) for n, s in placeholders(WHY[check][why]) if s and not s.startswith(("#", "@"))}
            if not numbers <= placeholders(spanish):
                other.append((check, why, "a number is left out"))
    assert other == []
    assert placeholders(UNVERIFIED_ES) == placeholders(UNVERIFIED_SENTENCE)
    assert {k for k, v in NEXT_ES.items() if placeholders(v) - placeholders(NEXT[k])} == set()


def answers_of(checks: set[str]) -> Iterator[ast.Call]:
    """Every ``answer`` in the code of these checks."""
    for file in sorted((ROOT / "src" / "lineproof" / "checks").glob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "answer" and node.args:
                if set(words_of(node.args[0])) & checks:
                    yield node


def used_steps() -> set[str]:
    """Next steps that the wanted checks give, read from their code."""
    found = {"confirm"}
    for node in answers_of(set(WANTED) - STILL_ENGLISH):
        for k in node.keywords:
            found |= set(words_of(k.value)) if k.arg == "next_step" else set()
    return found


def test_their_next_steps_are_spanish_too() -> None:
    steps = used_steps()
    assert len(steps) > 20
    assert sorted(steps - set(NEXT_ES)) == []


def test_what_is_missing_is_named_in_spanish() -> None:
    """Names of missing inputs that stand in the code as one word or phrase."""
    named = set()
    for node in answers_of(set(WANTED) - STILL_ENGLISH):
        for k in node.keywords:
            if k.arg == "missing" and isinstance(k.value, ast.Tuple):
                named |= {word for e in k.value.elts for word in words_of(e)}
    assert len(named) > 20
    assert sorted(named - set(TERMS_ES)) == []


@pytest.mark.parametrize("case", [c for c in CASES if c.id in WHY_ES], ids=lambda c: f"{c.id} {c.name}")
def test_nothing_is_left_unfilled(case: Case) -> None:
    for tables in (book(), book().with_confirmations(book().every_confirmation())):
        found = ask(case.id, case.facts, tables)
        for shown in WAYS:
            text = say(found, shown, SPANISH)
            assert not re.search(r"[{}]|None|\bnan\b|\bNext\b|\bnot known\b", text), text
            assert text.endswith(".")
            assert "  " not in text
            if found.next_step:
                assert "Siguiente paso: " in text


def test_a_sentence_that_has_no_spanish_is_told_in_english_whole() -> None:
    case = next(c for c in CASES if c.id == "FLG-01")
    found = ask(case.id, case.facts, book())
    for shown in WAYS:
        assert say(found, shown, SPANISH) == say(found, shown, ENGLISH)


def test_small_words_are_in_both_languages() -> None:
    english, spanish = small_words(ENGLISH), small_words(SPANISH)
    assert set(english) == set(spanish)
    assert {k for k in english if placeholders(english[k]) != placeholders(spanish[k])} == set()


def test_spanish_is_marked_as_not_yet_read_over() -> None:
    files = [*sorted(DESK.rglob("*_es.py")), DESK / "words.py"]
    assert len(files) >= 3
    for file in files:
        assert "to be read over by a native-speaking fitter" in file.read_text("utf-8"), file.name
