"""Pages speak from the catalogue: none holds a bare sentence, and both languages are whole."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2 import Environment

from lineproof.desk.papers.cards import STEPS
from lineproof.desk.web.words import catalogue
from lineproof.desk.words_joint import MISSING
from lineproof.desk.words_joint_es import MISSING_ES, STEPS_ES
from lineproof.desk.words_sheets import SHEETS
from lineproof.job.graph import Wait
from lineproof.plan.model import Short

ROOT = Path(__file__).resolve().parents[2]
WEB = ROOT / "src" / "lineproof" / "desk" / "web"
TEMPLATES = sorted((WEB / "templates").glob("*.html"))
MODULES = [*sorted((WEB / "pages").glob("*.py")), WEB / "forms.py", WEB / "page.py", WEB / "app.py"]
SAME_IN_BOTH = {"lineproof", "kb", "ft", "in", "mm", "sch80", "psi", "pvc", "cpvc"}
"""Words that are the same in every language: names, units, what is typed as it stands."""
STATEMENT = re.compile(
    r"<code lang=\"en\">.*?</code>|placeholder=\"(?:go north|\d+psi|B-201|sch80)[^\"]*\"", re.DOTALL
)
"""Statements of the walk and values as typed."""
SHOWN = ("aria-label", "placeholder", "title", "alt")
FOR_PROGRAMS = {"summary", "description", "response_description", "alias", "media_type"}
"""Arguments whose words go to programs, by way of openapi.json."""
KEY = re.compile(r"""\bt\(\s*(?:"([\w.]+)"|'([\w.]+)')""")
EITHER = re.compile(r"""\bt\(\s*"([\w.]+)" if .*? else "([\w.]+)\"""")
BEGINS = re.compile(r"""\bt\(\s*["']([\w.]+)["']\s*~""")


def bare_of_template(text: str) -> list[str]:
    """Words of a template that are shown and do not come from the catalogue."""
    said = []
    html = ""
    for _, kind, value in Environment().lex(STATEMENT.sub("", text)):
        if kind == "data":
            html += value
        elif kind == "string" and " " in value.strip("\"'") and re.search(r"[a-z]{3} [a-z]", value):
            said.append(value)
        elif kind in ("variable_begin", "block_begin"):
            html += "\N{OBJECT REPLACEMENT CHARACTER}"
    html = re.sub(r"<(script|style|title|desc)\b.*?</\1>", " ", html, flags=re.DOTALL)
    for name in SHOWN:
        said += re.findall(rf'\b{name}="([^"\N{{OBJECT REPLACEMENT CHARACTER}}]*[A-Za-z]{{2}}[^"]*)"', html)
    shown = re.sub(r"&#?\w+;", " ", re.sub(r"<[^>]*>", " ", html))
    words = re.findall(r"[A-Za-zÁÉÍÓÚÑáéíóúñ]{2,}", shown)
    return said + [word for word in words if word.lower() not in SAME_IN_BOTH]


def bare_of_module(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Sentences of a module: strings of two words and more, without docstrings and what goes to programs."""
    left_out = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            left_out |= {id(n.value) for n in body if isinstance(n, ast.Expr)}
        if isinstance(node, ast.keyword) and node.arg in FOR_PROGRAMS:
            left_out |= {id(n) for n in ast.walk(node.value)}
        if isinstance(node, ast.Dict):
            for key, value in zip(node.keys, node.values, strict=True):
                if isinstance(key, ast.Constant) and key.value in FOR_PROGRAMS:
                    left_out |= {id(n) for n in ast.walk(value)}
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "page":
            for k in node.keywords:
                if k.arg == "title" and isinstance(k.value, ast.Constant):
                    yield node.lineno, str(k.value.value)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in left_out:
            if re.search(r"[A-Za-z]{2,}[,;:]? [a-z]{2,}", node.value):
                yield node.lineno, node.value


OF_THE_WALK = {
    "starts at", "ends at", "reduce to", "expansion joint", "expansion joint travel", "no joint",
    "bells facing ahead",
}  # fmt: skip
"""What the keys of the walk pad type."""


@pytest.mark.parametrize("file", TEMPLATES, ids=lambda f: f.name)
def test_no_template_holds_a_bare_word(file: Path) -> None:
    assert bare_of_template(file.read_text("utf-8")) == [], "say it with t(...), see docs/how-to-add.md"


@pytest.mark.parametrize("file", MODULES, ids=lambda f: f.name)
def test_no_page_holds_a_bare_sentence(file: Path) -> None:
    found = [x for x in bare_of_module(ast.parse(file.read_text("utf-8"))) if x[1] not in OF_THE_WALK]
    assert [x for x in found if (file.name, x[1]) not in SAID_TO_PROGRAMS] == []


SAID_TO_PROGRAMS = {
    ("app.py", "From a drawing to a proven line of solvent-cemented plastic pressure pipe."),
    ("card.py", "Lineproof joint card"),  # the name that a phone gives the card on its home screen
    ("card.py", "Joint card"),
    ("photos.py", "private, max-age=86400"),
    ("sync.py", "entries are sent as "),
}


def test_bare_words_are_found() -> None:
    assert bare_of_template("<p>Nothing is here.</p>") == ["Nothing", "is", "here"]
    assert bare_of_template('<p aria-label="Leg one">{{ t("lines.legs") }}</p>') == ["Leg one"]
    assert bare_of_template('<p>{{ x or "not said" }}</p>') == ['"not said"']
    assert bare_of_template('<p class="no word">{{ t("a.b", n=3) }} {{ m }} kB</p>') == []
    found = ast.parse(
        '"""Doc string."""\n@get("/", summary="for programs")\ndef f():\n    x("go back now")\n'
    )
    assert [text for _, text in bare_of_module(found)] == ["go back now"]
    assert [text for _, text in bare_of_module(ast.parse('page(r, "a.html", title="Now")'))] == ["Now"]


def sources() -> Iterator[str]:
    for file in [*TEMPLATES, *MODULES, *sorted(WEB.glob("*.py")), *sorted((WEB.parent / "lan").glob("*.py"))]:
        yield file.read_text("utf-8")


def test_every_key_that_is_asked_for_is_in_the_catalogue_and_no_other() -> None:
    text = "\n".join(sources())
    asked = {a or b for a, b in KEY.findall(text)} | {x for pair in EITHER.findall(text) for x in pair}
    begins = set(BEGINS.findall(text)) | set(re.findall(r'words_for_script\("([\w.]+)"\)', text))
    refusals = set(re.findall(r'refused\(\s*"([\w.]+)"', text))
    known = set(catalogue())
    assert len(asked) > 100
    assert sorted(k for k in asked - known if not any(k == b for b in begins)) == []
    assert sorted(refusals - known) == []
    named = set(re.findall(r'["\']([a-z]+\.[\w]+)["\']', text))
    for each in set(re.findall(r'f"([a-z]+\.)\{', text)):
        begins.add(each)
    never = [
        k
        for k in sorted(known - asked - named)
        if not any(k.startswith(b) for b in begins) and re.sub(r"_(allowed|next)$", "", k) not in refusals
    ]
    assert never == [], "nobody says these"


def placeholders(template: str) -> set[tuple[str, str]]:
    """Names with what they are shown as; the word that is counted is another in every language."""
    return {
        (name, "#" if (spec or "").startswith("#") else spec or "")
        for _, name, spec, _ in string.Formatter().parse(template)
        if name
    }


def test_both_languages_have_the_same_placeholders() -> None:
    other = {key: both for key, both in catalogue().items() if placeholders(both[0]) != placeholders(both[1])}
    assert other == {}


def test_the_lists_of_the_pack_are_told_in_both_languages() -> None:
    assert {k: b for k, b in SHEETS.items() if placeholders(b[0]) != placeholders(b[1])} == {}
    assert {w.value for w in (*Wait, *Short) if w.value} <= set(SHEETS)
    assert set(MISSING_ES) == set(MISSING)
    assert set(STEPS_ES) == set(STEPS)
    assert {k for k in MISSING if placeholders(MISSING[k]) != placeholders(MISSING_ES[k])} == set()
    parts = {k: [s.count("[["), s.count("]]")] for k, s in MISSING.items()}
    assert parts == {k: [s.count("[["), s.count("]]")] for k, s in MISSING_ES.items()}


def test_no_word_is_left_out_or_left_english() -> None:
    empty = [key for key, both in catalogue().items() if not both[1].strip()]
    assert empty == []
    long = {k: b[0] for k, b in catalogue().items() if b[0] == b[1] and len(b[0].split()) > 2}
    assert {
        k: v for k, v in long.items() if re.search(r"[a-z]{3} [a-z]{3}", re.sub(r"\{[^}]*\}", "", v))
    } == {}


def test_spanish_is_marked_as_not_yet_read_over() -> None:
    files = sorted((WEB / "words").glob("*.py"))
    assert len(files) > 8
    for file in files:
        assert "to be read over by a native-speaking fitter" in file.read_text("utf-8"), file.name
