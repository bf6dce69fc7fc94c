"""The record, settling, people and cans, papers and the issue from pages; invented jobs."""

from __future__ import annotations

import html
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lineproof.desk.record_fields import TYPED
from lineproof.logbook.entry import new_id
from lineproof.plan.issued import read_issues
from verb_rig import verb
from web_rig import client, small


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = small(tmp_path / "job")
    assert verb("plan", "--issue", "--no-paper", "--job", folder).code in (0, 10, 12, 13)
    return folder


def words(told: Any) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", told.text)).split())


def hidden(told: Any, action: str) -> dict[str, str]:
    found = re.search(rf'<form method="post" action="{re.escape(action)}".*?</form>', told.text, re.DOTALL)
    assert found, words(told)
    return {
        name: html.unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', found[0])
    }


def person(folder: Path) -> str:
    found = re.search(r'\[\[people\]\]\s+id = "([^"]+)"', (folder / "job.toml").read_text("utf-8"))
    assert found
    return found[1]


def kept(ask: TestClient, kind: str, **fields: str) -> Any:
    """Fill in the form of a kind, look at it, keep it."""
    page = f"/record/{kind}"
    form = hidden(ask.get(page), page)
    typed = {f"f.{k}": v for k, v in fields.items() if k != "by"} | {"by": fields["by"]}
    look = ask.post(page, data={**form, **typed, "act": "look"})
    assert look.status_code == 200, words(look)
    return ask.post(page, data=hidden(look, page) | {"act": "keep"})


def test_every_kind_that_is_typed_has_its_form_in_both_languages(job: Path) -> None:
    ask = client(job)
    for language in ("en", "es"):
        for kind, typed in TYPED.items():
            told = ask.get(f"/record/{kind}?in={language}")
            assert told.status_code == 200
            for field, what in typed.needed.items():
                if what != "new" and not (field in ("name", "rows") and "file" in typed.needed):
                    assert f'name="f.{field}"' in told.text, (kind, field)


def test_the_page_writes_what_the_command_line_writes(job: Path, tmp_path: Path) -> None:
    by = person(job)
    other = tmp_path / "other"
    shutil.copytree(job, other)
    fields = {"can": "C-77", "lot": "7731", "holds": "cement", "expires": "2027-06-30"}
    told = kept(client(job), "can_received", by=by, **fields)
    assert "Kept." in told.text
    typed = [f"{k}={v}" for k, v in fields.items() if k != "can"]
    assert verb("record", "add", "can_received", "C-77", *typed, "--by", by, "--job", other).code == 0
    bodies = []
    for folder in (job, other):
        listed = verb("record", "list", "C-77", "--job", folder).out.splitlines()
        bodies.append([row.strip() for row in listed if row.startswith("    ")])
    assert bodies[0] == bodies[1] != []


def test_what_cannot_be_written_is_said_and_nothing_is(job: Path) -> None:
    ask, by = client(job), person(job)
    form = hidden(ask.get("/record/can_received"), "/record/can_received")
    before = verb("record", "list", "--job", job).out
    base = {**form, "f.can": "C-1", "f.lot": "1", "f.holds": "cement", "by": by, "once": new_id()}
    for wrong, says in (
        ({"by": ""}, "nobody is named"),
        ({"f.holds": "glue"}, "glue"),
        ({"f.expires": "soon"}, "soon"),
        ({"f.lot": ""}, "can_received needs lot"),
        ({"key": "old"}, "made before"),
        ({"f.note": "x" * 5000}, "longer than a form has room for"),
    ):
        for act in ("look", "keep"):
            told = ask.post("/record/can_received", data={**base, **wrong, "act": act})
            assert told.status_code == 400, wrong
            assert says in words(told)
    assert ask.post("/record/can_received", data={**base, "once": "x", "act": "keep"}).status_code == 400
    assert ask.get("/record/nothing").status_code == 400
    assert verb("record", "list", "--job", job).out == before


def test_a_file_of_the_machine_is_not_read_by_its_path(job: Path) -> None:
    """A page takes what is sent with it; a path typed into it would be one of the server's."""
    ask, by = client(job), person(job)
    form = hidden(ask.get("/record/note"), "/record/note")
    told = ask.post("/record/note", data={**form, "f.text": "x", "f.photos": "/etc/passwd", "by": by})
    assert told.status_code == 400
    assert "not a file that is kept here" in words(told)
    sent = ask.post(
        "/record/note", data={**form, "f.text": "a photo", "by": by, "act": "look"},
        files={"f.photos": ("bead.jpg", b"\xff\xd8 invented", "image/jpeg")},
    )  # fmt: skip
    done = ask.post("/record/note", data=hidden(sent, "/record/note") | {"act": "keep"})
    assert "Kept." in done.text


def test_a_page_to_go_back_to_is_one_of_ours(job: Path) -> None:
    ask, by = client(job), person(job)
    for back in ("//evil.example", "https://evil.example", "/\\evil.example"):
        form = hidden(ask.get("/record/note", params={"back": back}), "/record/note")
        assert form["back"] == "/record"
        told = ask.post("/record/note", data={**form, "back": back, "f.text": "x", "by": by, "act": "look"})
        assert "evil" not in told.text


def test_two_stories_stand_side_by_side_until_two_people_settle_them(job: Path) -> None:
    ask, by = client(job), person(job)
    others = re.findall(r'\[\[people\]\]\s+id = "([^"]+)"', (job / "job.toml").read_text("utf-8"))
    joint = next(iter(re.findall(r"^([^,\n]+/J\d+),", (job / "joints.csv").read_text("utf-8"), re.MULTILINE)))
    copy = job.parent / "copy"
    shutil.copytree(job, copy)
    shutil.rmtree(copy / ".local")
    assert "Nothing is to be settled" in ask.get("/settle").text
    assert kept(ask, "joint_made", by=by, joint=joint, wind="4mph").status_code == 200
    assert verb("record", "joint", joint, "wind=9mph", "--by", by, "--job", copy).code == 0
    assert verb("record", "export", job.parent / "carry.zip", "--job", copy).code == 0
    assert verb("record", "import", job.parent / "carry.zip", "--job", job).code == 0
    page = ask.get("/settle")
    shown = words(page)
    assert "4mph" in shown
    assert "9mph" in shown
    form = hidden(page, "/settle")
    stories = re.findall(r'name="stand" value="([^"]+)"', page.text)
    assert len(stories) == 2
    for wrong, says in (({}, "no story is marked"), ({"stand": stories[0]}, "no reason is given")):
        assert says in words(ask.post("/settle", data={**form, **wrong, "by": by, "act": "look"}))
    chosen = {**form, "stand": stories[0], "by": by, "reason": "the joiner was asked", "act": "look"}
    alone = ask.post("/settle", data=chosen)
    assert "One person alone strikes no story out" in alone.text
    look = ask.post("/settle", data={**chosen, "second": others[1]})
    keep = hidden(look, "/settle") | {"stand": stories[0], "act": "keep"}
    done = ask.post("/settle", data=keep)
    assert "Kept." in done.text
    assert "counted once" in ask.post("/settle", data=keep).text
    assert "Nothing is to be settled" in ask.get("/settle").text
    assert "nothing is to be settled" in verb("record", "settle", "--job", job).out


def test_cans_are_in_date_or_not_and_opened_and_thrown_away_from_the_page(job: Path) -> None:
    ask, by = client(job), person(job)
    kept(ask, "can_received", by=by, can="C-1", lot="7", holds="cement", expires="2001-01-31")
    shown = words(ask.get("/people"))
    assert re.search(r"C-1 STOP cement, lot 7 · belongs to no card", shown)
    assert 'href="/record/can_opened?can=C-1' in ask.get("/people").text
    kept(ask, "can_thrown", by=by, can="C-1", reason="out of date")
    assert "Thrown away: C-1" in words(ask.get("/people"))


def test_an_issue_is_shown_first_given_once_and_its_papers_open(job: Path) -> None:
    ask, by = client(job), person(job)
    assert "Nothing is new since issue 1" in words(ask.get("/issue"))
    text = (job / "job.toml").read_text("utf-8")
    (job / "job.toml").write_text(text + "\n# a remark of the lead\n", "utf-8")
    look = ask.get("/issue")
    assert "job.toml" in words(look)
    assert len(read_issues(job)) == 1
    form = hidden(look, "/issue") | {"by": by, "act": "keep"}
    assert "Issue 2 is given" in words(ask.post("/issue", data=form))
    assert "Issue 2 is given" in words(ask.post("/issue", data=form))
    assert [i.number for i in read_issues(job)] == [1, 2]
    late = ask.post("/issue", data={**form, "once": new_id()})
    assert late.status_code == 400
    papers = ask.get("/papers")
    assert "Issue 2 is with the crew" in words(papers)
    made = ask.post("/papers/make", data=hidden(papers, "/papers/make") | {"what": "cautions"})
    assert "Made out/cautions.pdf" in words(made)
    pdf = ask.get("/papers/cautions.pdf")
    assert pdf.content.startswith(b"%PDF")
    assert "inline" in pdf.headers["content-disposition"]
    wrong = ask.post("/papers/make", data=hidden(ask.get("/papers"), "/papers/make") | {"what": "poems"})
    assert wrong.status_code == 400
