"""The walk pad as its server answers: steps, what is wrong and where, saving, conflicts, recorded joints."""

from __future__ import annotations

import hashlib
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lineproof.desk.pad_files import open_line, save_walk
from lineproof.floor.errors import EntrySealed
from web_rig import broken, client, small, works

NEW = "line Z-1 size 6in pipe pvc sch80\n"


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, TestClient]:
    folder = works(tmp_path_factory.mktemp("pad") / "job")
    return folder, client(folder)


def ask(at: TestClient, file: str, line: str, text: str, **step: Any) -> dict[str, Any]:
    told = at.post(
        "/api/pad/step", json={"file": file, "line": line, "text": text, "step": step or None}
    )  # fmt: skip
    assert told.status_code == 200, told.text
    found: dict[str, Any] = told.json()
    return found


def key_of(at: TestClient, path: str) -> str:
    found = re.search(r'name="key" value="([^"]+)"', at.get(path).text)
    assert found
    return found[1]


def test_a_line_walked_step_by_step_is_drawn_as_far_as_it_goes(full: tuple[Path, TestClient]) -> None:
    _, at = full
    told = ask(at, "lines/Z-1.walk", "Z-1", NEW)
    assert told["sheets"] == []
    assert "has no start" in told["troubles"][0]["sentence"]
    seen = []
    for said in ("starts at open at 0, 0, 0 facing north", "go north 10'", "go up 3'", "ends at cap"):
        told = ask(at, "lines/Z-1.walk", "Z-1", told["text"], do="add", row=told["row"], said=said)
        seen.append((told["joints"], told["pieces"], told["whole"], len(told["troubles"])))
    # by hand: one pipe, then two about an elbow (2 joints), then a cap (1 more)
    assert seen == [(0, 0, False, 1), (0, 1, False, 1), (2, 2, False, 1), (3, 2, True, 0)]
    assert told["sheets"][0].count("<svg") == 1
    assert [r["word"] for r in told["rows"]] == ["line", "starts at", "go", "go", "ends at"]
    assert told["rows"][2]["cells"] == {"way": "north", "length": "10'-0\""}
    drawn = "".join(told["sheets"])
    assert all(f'data-ref="{ref}"' in drawn for ref in told["marks"]["3"] if "/" in ref and "#" not in ref)


def test_half_a_statement_is_answered_with_what_may_stand_there(full: tuple[Path, TestClient]) -> None:
    _, at = full
    told = ask(at, "lines/Z-1.walk", "Z-1", NEW, do="add", row=1, said="starts at flang fixed")
    assert set(told) == {"refused", "column"}
    assert "did you mean flange" in told["refused"]
    assert told["column"] == 11
    cells = {"end": "open", "facing": "north"}
    told = ask(at, "lines/Z-1.walk", "Z-1", NEW, do="add", row=1, word="starts at", cells=cells)
    assert told["text"].endswith("starts at open facing north\n")


def test_what_cannot_be_laid_is_told_at_its_row_and_the_rest_is_drawn(
    full: tuple[Path, TestClient],
) -> None:
    folder, at = full
    opened = open_line(folder, "B-201")
    assert opened is not None
    row = opened.text.splitlines().index("go west 4'-0\"") + 1
    told = ask(at, opened.file, "B-201", opened.text, do="add", row=row, said='put "V-99"')
    (wrong,) = told["troubles"]
    assert wrong["row"] == row + 1
    assert f"lines/B-201.walk:{row + 1}" in wrong["sentence"]
    assert "parts.csv has no part with the tag V-99" in wrong["sentence"]
    assert not told["whole"]
    assert told["sheets"]
    assert told["joints"] > 5


def test_a_line_of_a_job_that_cannot_be_read_can_still_be_mended(tmp_path: Path) -> None:
    folder = broken(tmp_path / "job")
    at = client(folder)
    opened = open_line(folder, next(iter(re.findall(r'href="/pad/([^"]+)"', at.get("/pad").text))))
    assert opened is not None
    line = re.findall(r'href="/pad/([^"]+)"', at.get("/pad").text)[0]
    page = at.get(f"/pad/{line}")
    assert page.status_code == 200
    assert page.text.count('<p class="trouble" lang="en">') >= 1
    text, key = opened.text, key_of(at, f"/pad/{line}")
    for n, row in enumerate(opened.text.splitlines(), 1):
        if row.startswith("gallop "):
            said = row.split("#")[0].replace("gallop ", "go ")
            text = ask(at, opened.file, line, text, do="change", row=n, said=said)["text"]
    body = {"key": key, "file": opened.file, "text": text, "seen": opened.seen}
    assert at.post("/api/pad/save", json=body).status_code == 200
    assert at.get("/lines").status_code == 200


def test_a_save_is_whole_and_never_over_the_change_of_somebody_else(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    at = client(folder)
    line = re.findall(r'href="/pad/([^"]+)"', at.get("/pad").text)[0]
    opened = open_line(folder, line)
    assert opened is not None
    path = folder / opened.file
    body = {"key": key_of(at, f"/pad/{line}"), "file": opened.file, "seen": opened.seen}
    mine = opened.text + "# mine\n"
    told = at.post("/api/pad/save", json={**body, "text": mine})
    assert told.status_code == 200
    assert path.read_bytes() == mine.encode()
    assert told.json()["seen"] == hashlib.sha256(mine.encode()).hexdigest()
    late = at.post("/api/pad/save", json={**body, "text": opened.text + "# late\n"})
    assert late.status_code == 409
    assert "was changed by somebody else" in late.json()["refused"]
    assert "nothing was written" in late.json()["refused"]
    assert path.read_bytes() == mine.encode()
    seen = told.json()["seen"]
    wrong = at.post("/api/pad/save", json={**body, "seen": seen, "text": mine + "go sideways\n"})
    assert wrong.status_code == 409
    assert path.read_bytes() == mine.encode()
    no_key = at.post("/api/pad/save", json={**body, "seen": seen, "key": "x", "text": mine})
    assert no_key.status_code == 400
    path.unlink()
    gone = at.post("/api/pad/save", json={**body, "seen": seen, "text": mine})
    assert "was taken away" in gone.json()["refused"]
    assert list(path.parent.glob(".*")) == []


@pytest.mark.parametrize(
    "file", ["../x.walk", "lines/../x.walk", "lines/.x.walk", "/etc/x.walk", "lines/a/b.walk", "job.toml"]
)
def test_the_pad_writes_walks_of_this_job_only(full: tuple[Path, TestClient], file: str) -> None:
    folder, at = full
    key = key_of(at, "/pad/B-201")
    told = at.post("/api/pad/save", json={"key": key, "file": file, "text": NEW, "seen": ""})
    assert told.status_code == 400
    assert "walks only" in told.json()["refused"]
    assert not (folder.parent / "x.walk").exists()


def test_a_byte_order_mark_and_line_ends_stay(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    at = client(folder)
    line = re.findall(r'href="/pad/([^"]+)"', at.get("/pad").text)[0]
    opened = open_line(folder, line)
    assert opened is not None
    path = folder / opened.file
    path.write_bytes(b"\xef\xbb\xbf" + opened.text.replace("\n", "\r\n").encode())
    before = path.read_bytes()
    opened = open_line(folder, line)
    assert opened is not None
    form = {"key": key_of(at, f"/pad/{line}"), "file": opened.file, "seen": opened.seen, "act": "save"}
    told = at.post(f"/pad/{line}", data={**form, "text": opened.text.replace("\r\n", "\n")})
    assert f"Saved as {opened.file}" in told.text
    assert path.read_bytes() == before
    told = ask(at, opened.file, line, opened.text, do="add", row=1, said="# on the pad")
    assert told["text"].count("\r\n") == opened.text.count("\r\n") + 1


def test_without_a_script_the_page_lists_the_walk_and_takes_it_as_text(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    at = client(folder)
    line = re.findall(r'href="/pad/([^"]+)"', at.get("/pad").text)[0]
    page = at.get(f"/pad/{line}").text
    assert page.count("<li data-row=") >= 4
    assert "<svg" in page
    opened = open_line(folder, line)
    assert opened is not None
    form = {"key": key_of(at, f"/pad/{line}"), "file": opened.file, "seen": opened.seen}
    looked = at.post(
        f"/pad/{line}", data={**form, "text": opened.text.replace("go ", "gallop "), "act": "look"}
    )
    assert "gallop" in looked.text
    assert '<p class="trouble" lang="en">' in looked.text
    assert (folder / opened.file).read_text("utf-8") == opened.text


def test_a_new_line_is_begun_and_a_name_is_used_once(full: tuple[Path, TestClient]) -> None:
    _, at = full
    begun = at.get("/pad/new", params={"name": 'N/7 "x"', "size": "6in", "material": "pvc", "wall": "sch80"})
    assert begun.status_code == 200
    assert 'data-file="lines/N-7-x.walk"' in begun.text
    assert "has no start and no end" in begun.text
    twice = at.get("/pad/new", params={"name": "B-201", "size": "6in", "wall": "sch80"})
    assert twice.status_code == 400
    assert "walked already" in twice.text
    assert at.get("/pad/nothing").status_code == 400


def test_a_walk_that_loses_a_joint_with_a_record_is_refused(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    subprocess.run(
        [sys.executable, "-m", "lineproof", "plan", "--issue", "--job", str(folder)],
        capture_output=True, check=False,
    )  # fmt: skip
    opened = open_line(folder, "EX-1")
    assert opened is not None
    assert (folder / "joints.csv").exists()
    rows = opened.text.splitlines(keepends=True)
    first = next(n for n, r in enumerate(rows) if r.startswith("go up"))
    less = "".join([*rows[:first], "ends at cap\n"])
    made = frozenset({"EX-1/J2", "EX-1/J3"})
    with pytest.raises(EntrySealed, match="EX-1/J"):
        save_walk(folder, opened.file, less, opened.seen, made)
    assert (folder / opened.file).read_text("utf-8") == opened.text
    longer = opened.text + "# a remark loses nothing\n"
    save_walk(folder, opened.file, longer, opened.seen, made)
    assert (folder / opened.file).read_text("utf-8") == longer


def test_the_keys_are_those_of_the_job(tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    page = client(folder).get("/pad/EX-1").text
    assert 'aria-label="feet"' in page
    assert 'data-type=" mm"' not in page
    toml = folder / "job.toml"
    toml.write_text(toml.read_text("utf-8").replace('units = "us"', 'units = "metric"', 1), "utf-8")
    page = client(folder).get("/pad/EX-1").text
    assert 'data-type=" mm"' in page
    assert 'aria-label="feet"' not in page


def test_the_answers_are_described_as_they_are(full: tuple[Path, TestClient]) -> None:
    _, at = full
    told = at.get("/openapi.json").json()["paths"]
    assert {"200", "400", "409", "422"} <= set(told["/api/pad/step"]["post"]["responses"])
    assert {"200", "400", "409", "422"} <= set(told["/api/pad/save"]["post"]["responses"])
