"""A tag of an old issue says SUPERSEDED first, then what changed; printed tags are read back by zxing-cpp.

The decoder (ZXing-C++) knows nothing of how we make the code. The job is the invented one of a new folder.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from starlette.testclient import TestClient
from typer.testing import CliRunner

from lineproof.desk.cli import app
from web_rig import client, small


def issue(folder: Path) -> str:
    """Issue the plan; the tags printed with it."""
    told = CliRunner().invoke(app, ["plan", "--issue", "--job", str(folder)])
    assert "issue" in told.output, told.output
    return told.output


def printed(folder: Path) -> list[str]:
    """Every tag on the sheet of tags, as an outside decoder reads it from a picture of the page."""
    found: list[str] = []
    for page in pypdfium2.PdfDocument(io.BytesIO(next(folder.rglob("tags.pdf")).read_bytes())):
        picture = np.ascontiguousarray(page.render(scale=200 / 72, grayscale=True).to_numpy().squeeze())
        found += [code.text for code in zxingcpp.read_barcodes(picture)]
    return found


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str]]:
    """Issued and its tags read off the paper; then a leg longer, the riser taken out, and issued again."""
    folder = small(tmp_path_factory.mktemp("tag") / "job")
    issue(folder)
    tags = printed(folder)
    walk = next((folder / "lines").glob("*.walk"))
    text = walk.read_text("utf-8")
    text = text.replace("rev 0", "rev 1").replace("go north 8'-0\"", "go north 8'-6\"")
    text = text.replace("24'-6\", 8'-0\", 8'-6\"", "24'-6\", 8'-6\", 2'-6\"").replace("go up 6'-0\"\n", "")
    walk.write_text(text, "utf-8")
    issue(folder)
    return folder, tags


@pytest.fixture(scope="module")
def ask(job: tuple[Path, list[str]]) -> Iterator[TestClient]:
    with client(job[0]) as asked:
        yield asked


def told(ask: TestClient, tag: str, language: str = "en") -> str:
    answer = ask.get("/tag", params={"text": tag, "in": language})
    assert answer.status_code == 200
    return answer.text.partition("<main")[2].replace("&#39;", "'").replace("&#34;", '"')


def test_a_printed_tag_of_an_old_issue_first_says_superseded(
    job: tuple[Path, list[str]], ask: TestClient
) -> None:
    _, tags = job
    assert len(tags) >= 6
    mine = next(tag for tag in tags if "/J1:" in tag)
    assert mine.endswith("EX-1/J1:1")
    page = told(ask, mine)
    first = page.index("<h1")
    assert "SUPERSEDED" in page[first : page.index("</h1>")]
    assert "issue 1" in page
    assert "issue 2" in page
    assert page.index("SUPERSEDED") < page.index("rev 1")
    assert "EX-1 rev 0, now EX-1 rev 1" in page
    # typed from the walk: the first leg is 6 in longer, and so is its piece: 2.332 m and 2.4844 m
    assert "7'-7 13/16\"" in page
    assert "8'-1 13/16\"" in page
    assert 'href="/joint/EX-1/J1"' in page


def test_a_tag_of_a_joint_that_is_gone_says_so(job: tuple[Path, list[str]], ask: TestClient) -> None:
    _, tags = job
    said = {tag: told(ask, tag) for tag in tags}
    gone = [tag for tag, page in said.items() if "not in the line any more by issue 2" in page]
    assert gone
    assert all("SUPERSEDED" in page for page in said.values())
    assert all("/joint/" not in said[tag] for tag in gone)


def test_the_sheet_of_a_line_says_what_changed_on_it(ask: TestClient) -> None:
    page = told(ask, "LP:EX:EX-1:1")
    assert "SUPERSEDED" in page
    assert "Joints no longer in the line" in page
    assert 'href="/lines/EX-1"' in page


def test_a_tag_of_the_newest_issue_counts(job: tuple[Path, list[str]], ask: TestClient) -> None:
    now = next(tag for tag in printed(job[0]) if "/J1:" in tag)
    assert now.endswith(":2")
    page = told(ask, now)
    assert "ISSUE THAT COUNTS" in page
    assert "SUPERSEDED" not in page


@pytest.mark.parametrize(
    ("tag", "word"),
    [("LP:EX:EX-9/J1:1", "NOT OF THIS JOB"), ("LP:OTHER:EX-1/J1:1", "OF ANOTHER JOB"),
     ("https://example.org/EX-1", "NOT A TAG"), ("LP:EX:EX-1/J1:7", "A NEWER ISSUE"),
     ("<script>alert(1)</script>", "NOT A TAG")],
)  # fmt: skip
def test_a_tag_that_is_not_known_says_what_it_is_not(ask: TestClient, tag: str, word: str) -> None:
    page = told(ask, tag)
    assert word in page
    assert "<script>alert" not in page
    assert "SUPERSEDED" not in page


def test_it_is_said_in_spanish_too(job: tuple[Path, list[str]], ask: TestClient) -> None:
    page = told(ask, next(tag for tag in job[1] if "/J1:" in tag), "es")
    assert "YA NO VALE" in page
    assert "la emisión 2" in page
