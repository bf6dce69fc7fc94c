"""May we and the release from a page: the same verdicts and words as the command line, on the same job.

The section is that of ``raise_rig``, all invented; what the page says is held against what the command line
prints, sentence by sentence.
"""

from __future__ import annotations

import html
import re
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from starlette.testclient import TestClient

from raise_rig import Site
from verb_rig import verb
from web_rig import client

ASK = {"verb": "raise", "subject": "S", "gauge": "100 psi", "at": "PG", "medium": "water", "by": "T"}


def text_of(told: Any) -> str:
    """What a page shows, as words parted by single blanks."""
    plain = re.sub(r"<(script|style).*?</\1>", " ", told.text, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", plain)).split())


def hidden(told: Any, action: str) -> dict[str, str]:
    """Hidden fields of the first form of a page that is sent to an address."""
    found = re.search(rf'<form method="post" action="{re.escape(action)}".*?</form>', told.text, re.DOTALL)
    assert found, action
    pairs = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', found[0])
    return {name: html.unescape(value) for name, value in pairs}


def entries(site: Site, kind: str) -> int:
    with_kind = verb("record", "list", kind, "--job", site.folder)
    return len(re.findall(rf"^[0-9a-f]{{12}}  \S+ \S+  {kind}\b", with_kind.out, re.MULTILINE))


def not_alike(site: Site, ask: TestClient, question: dict[str, str]) -> list[str]:
    """What the command line says and the page does not; the verdict must stand first."""
    words = [question["verb"], question["subject"]]
    words += [x for k, v in question.items() if k not in ("verb", "subject") for x in (f"--{k}", v)]
    cli = verb("may", *words, "--job", site.folder)
    page = ask.get("/may", params=question)
    shown = text_of(page)
    first = cli.out.splitlines()[0]
    head = first if first.startswith("NOT BEFORE") else first[:13].strip()
    left = (
        []
        if re.search(rf'<p class="big">.*?<span>{re.escape(head)}</span>', page.text, re.DOTALL)
        else [first]
    )
    for row in cli.out.splitlines()[1:-1]:
        word, said = row[:13].strip(), row[14:].strip()
        if row.startswith("governed by "):
            said = row.removeprefix("governed by ")
        elif word in ("to answer then", "release", "", "not kept") or row.startswith("to answer then"):
            continue  # who answers and who releases is asked on the page in forms of their own
        if " ".join(said.split()) not in shown:
            left.append(row)
    return left


@pytest.mark.parametrize("without", ["", "people-out", "bolts", "source", "gauge", "joints-ready"])
def test_the_page_says_what_the_command_line_says(site: Site, without: str) -> None:
    site.around(without=without)
    assert not_alike(site, client(site.folder), ASK) == []


@pytest.mark.parametrize("verb_asked", ["move", "lower", "load", "open"])
def test_the_other_questions_are_answered_alike(site: Site, verb_asked: str) -> None:
    assert not_alike(site, client(site.folder), {"verb": verb_asked, "subject": "L"}) == []
    assert not_alike(site, client(site.folder), {"verb": verb_asked, "subject": "L/J1"}) == []


def test_a_condition_is_answered_on_the_page_and_go_only_then(site: Site) -> None:
    site.around(without="people-out")
    ask = client(site.folder)
    told = ask.get("/may", params=ASK)
    assert "CANNOT TELL" in told.text
    assert 'action="/release"' not in told.text, "nothing to release while it is not GO"
    form = hidden(told, "/record/condition")
    assert form["f.condition"] == "people-out"
    answer = {**form, "f.answer": "yes", "f.place": "gate", "by": "C"}
    look = ask.post("/record/condition", data={**answer, "act": "look"})
    assert "Nothing is kept yet" in look.text
    assert entries(site, "condition") == 3
    keep = hidden(look, "/record/condition") | {"act": "keep"}
    done = ask.post("/record/condition", data=keep, follow_redirects=False)
    assert done.status_code == 303
    assert parse_qs(urlsplit(done.headers["location"]).query)["subject"] == ["S"]
    twice = ask.post("/record/condition", data=keep)
    assert "it counted once" in twice.text
    assert entries(site, "condition") == 4
    assert "<span>GO</span>" in ask.get("/may", params=ASK).text
    assert verb("may", "raise", "S", "--gauge", "100 psi", "--at", "PG", "--medium", "water", "--by", "T",
                "--job", site.folder).code == 0  # fmt: skip


def test_the_release_is_shown_back_given_once_and_ends_with_zero_proved(ready: Site) -> None:
    ask = client(ready.folder)
    form = hidden(ask.get("/may", params=ASK), "/release") | {"good": "30 min"}
    wrong = ask.post("/release", data={**form, "by": "A", "act": "look"})
    assert wrong.status_code == 400
    assert "may not release the line" in wrong.text
    look = ask.post("/release", data={**form, "by": "T", "act": "look"})
    assert "Nothing is kept yet" in look.text
    assert entries(ready, "release_given") == 0
    keep = hidden(look, "/release") | {"act": "keep"}
    given = ask.post("/release", data=keep, follow_redirects=False)
    assert given.status_code == 303
    assert entries(ready, "release_given") == 1
    again = ask.post("/release", data=keep)
    assert "it counted once" in again.text
    fresh = client(ready.folder)  # the server was started again: the form is an old one
    assert fresh.post("/release", data=keep).status_code == 400
    assert entries(ready, "release_given") == 1
    page = ask.get(given.headers["location"])
    assert "RELEASED" in page.text
    assert "claimed" in page.text
    for place in ("/", "/joints", "/lines/L", "/tape", "/people", "/may?verb=move&subject=L", "/record"):
        shown = text_of(ask.get(place))
        assert shown.index("S UNDER PRESSURE") < shown.index(shown.split("zero is not proved")[1][:10] or "x")
    opened = ask.get("/may", params={"verb": "open", "subject": "L/J1"})
    assert "STOP" in opened.text
    form = re.search(r'href="(/record/zero_proved\?section=S[^"]*)"', page.text)
    assert form
    key = {"key": keep["key"], "f.section": "S", "f.vent": "vent at E1", "by": "T"}
    look = ask.post("/record/zero_proved", data={**key, "act": "look"})
    done = ask.post("/record/zero_proved", data=hidden(look, "/record/zero_proved") | {"act": "keep"})
    assert done.status_code == 200
    assert "UNDER PRESSURE since" not in ask.get("/").text


def test_what_is_recorded_later_withdraws_it_loudly(ready: Site) -> None:
    ask = client(ready.folder)
    form = hidden(ask.get("/may", params=ASK), "/release")
    look = ask.post("/release", data={**form, "by": "T", "act": "look"})
    keep = hidden(look, "/release") | {"act": "keep"}
    given = ask.post("/release", data=keep, follow_redirects=False).headers["location"]
    tag = {"key": keep["key"], "f.tag": "H-9", "f.on": "S", "f.reason": "a drip", "by": "C"}
    look = ask.post("/record/hold_tag_set", data={**tag, "act": "look"})
    done = ask.post("/record/hold_tag_set", data=hidden(look, "/record/hold_tag_set") | {"act": "keep"})
    assert "WITHDRAWN" in done.text
    page = ask.get(given)
    assert "WITHDRAWN" in page.text
    assert "UNDER PRESSURE since" in page.text, "taking it back takes no pressure out of the pipe"


def test_an_answer_is_kept_with_the_name_of_who_asks(site: Site) -> None:
    site.around(without="people-out")
    ask = client(site.folder)
    form = hidden(ask.get("/may", params=ASK), "/may")
    assert "nobody is named" in ask.post("/may", data={**form, "act": "keep"}).text
    for _ in range(2):
        assert "kept" in ask.post("/may", data={**form, "by": "T", "act": "keep"}).text.lower()
    assert entries(site, "answer") == 1
