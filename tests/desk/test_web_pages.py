"""Every page for a small, a full and a broken job, and what stands before the pages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lineproof.desk.web.guard import HEADERS, LARGEST
from lineproof.desk.web.page import PLACES
from web_rig import broken, client, small, works

PAGES = [path for path, _ in PLACES]
Jobs = dict[str, tuple[Path, TestClient]]


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Jobs:
    folder = tmp_path_factory.mktemp("web")
    made = {"small": small(folder / "s"), "full": works(folder / "f"), "broken": broken(folder / "b")}
    return {name: (path, client(path)) for name, path in made.items()}


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("job", ["small", "full"])
def test_every_page_of_a_job_that_can_be_read(jobs: Jobs, page: str, job: str) -> None:
    told = jobs[job][1].get(page)
    assert told.status_code == 200
    assert told.headers["content-type"].startswith("text/html")
    assert told.text.count("<h1>") == 1
    assert f'<a href="{page}" aria-current="page">' in told.text
    assert not re.search(r"\bNone\b|\bnan\b|\{\{|Traceback", told.text)


NEED_NO_PLAN = ("/figures", "/pad", "/papers", "/record", "/settle", "/phones")
"""Pages that a slip in a walk does not stop: what happened is recorded all the same."""


@pytest.mark.parametrize("page", [p for p in PAGES if p not in NEED_NO_PLAN])
def test_a_job_that_cannot_be_read_says_where_in_one_sentence(jobs: Jobs, page: str) -> None:
    told = jobs["broken"][1].get(page)
    assert told.status_code == 409
    assert "example.walk:" in told.text
    assert "gallop" in told.text
    assert "Traceback" not in told.text


def test_each_line_is_drawn_and_each_named_joint_has_its_card(
    jobs: Jobs,
) -> None:
    ask = jobs["full"][1]
    lines = re.findall(r'href="(/lines/[^"]+)"', ask.get("/lines").text)
    assert len(lines) == 23
    page = ask.get(lines[0]).text
    assert page.count("<svg") >= 1
    assert "isometric sketch" in page
    cards = re.findall(r'href="(/joint/[^"]+)"', ask.get("/joints").text)
    assert len(cards) > 100
    card = ask.get(cards[0]).text
    assert "pipe end" in card.lower() or "piece" in card
    assert "<ol" in card


def test_the_answer_comes_first_and_says_what_is_missing(jobs: Jobs) -> None:
    asked = {"verb": "raise", "subject": "B-2", "gauge": "135psi", "at": "PG-2", "medium": "water"}
    text = jobs["full"][1].get("/may", params=asked).text
    assert text.index("CANNOT TELL") < text.index("<form")
    assert "nobody recorded that it was made" in text
    assert "P-9" in text
    wrong = jobs["full"][1].get("/may", params={**asked, "gauge": "lots"})
    assert wrong.status_code == 400
    assert 'role="alert"' in wrong.text


def test_a_figure_shows_its_working(jobs: Jobs) -> None:
    # 22 ft of cold water by hand: 6.7056 m x 9806.65 Pa/m = 65.76 kPa
    text = jobs["full"][1].get("/figures/head", params={"height": "22ft", "density": "1000 kg/m3"}).text
    assert "0.658 bar" in text
    assert "hydrostatics" in text


# ---------------------------------------------------------------- what stands before the pages


def test_headers_forbid_what_a_page_never_needs(jobs: Jobs) -> None:
    for page in ("/", "/static/lineproof.css", "/nothing"):
        told = jobs["small"][1].get(page)
        for name, value in HEADERS.items():
            assert told.headers[name] == value
    policy = HEADERS["content-security-policy"]
    assert "unsafe" not in policy
    assert "'none'" in policy.split(";")[0]


def test_pages_carry_no_script_or_style_of_their_own(jobs: Jobs) -> None:
    for page in (*PAGES, "/lines/B-201", "/nothing"):
        text = jobs["full"][1].get(page).text
        assert not re.search(r"<style|\sstyle=|\son\w+=|javascript:", text)
        assert all(" src=" in tag for tag in re.findall(r"<script[^>]*>", text))


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "", "10.0.0.7", "127.0.0.1.nip.example"]
)
def test_another_name_for_this_machine_is_refused(jobs: Jobs, host: str) -> None:
    """A page of another site that lets its name point here (DNS rebinding) comes with its own name."""
    told = jobs["full"][1].get("/", headers={"host": host})
    assert told.status_code == 421
    assert "Brackstow" not in told.text


@pytest.mark.parametrize(
    "headers",
    [{"origin": "http://evil.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"}],
)
def test_a_form_of_another_site_is_refused(tmp_path: Path, headers: dict[str, str]) -> None:
    folder = works(tmp_path / "job")
    ask = client(folder)
    key = re.search(r'name="key" value="([^"]+)"', ask.get("/tape").text)
    assert key
    told = ask.post(
        "/tape", data={"key": key[1], "line": "B-201a", "a": "E1", "b": "F1", "length": "4'"}, headers=headers
    )
    assert told.status_code == 403
    assert not (folder / "taped.csv").exists() or "4'" not in (folder / "taped.csv").read_text("utf-8")


def test_a_form_that_is_too_large_is_refused(jobs: Jobs) -> None:
    told = jobs["full"][1].post("/tape", content=b"x" * (LARGEST + 1))
    assert told.status_code == 413


@pytest.mark.parametrize(
    "name", ["..%2fjob.toml", "%2e%2e/job.toml", "../job.toml", "job.toml", "....//job.toml"]
)
def test_no_path_leads_out_of_the_papers(jobs: Jobs, name: str) -> None:
    told = jobs["full"][1].get(f"/papers/{name}")
    assert told.status_code in (400, 404)
    assert "timezone" not in told.text
    assert jobs["full"][1].get(f"/static/{name}").status_code == 404


def test_what_is_typed_is_shown_as_text(jobs: Jobs) -> None:
    told = jobs["full"][1].get("/may", params={"verb": "move", "subject": "<script>alert(1)</script>"})
    assert "<script>alert" not in told.text
    assert "&lt;script&gt;" in told.text
