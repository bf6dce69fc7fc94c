"""An issue appears whole or not at all, says what it was made from, and is never written over."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from id_rig import PARTS, cut, head
from lineproof.floor.errors import BadInput, EntrySealed
from lineproof.job.joints_csv import read_joints
from lineproof.plan.ids import MatchUnclear, Named, name_joints
from lineproof.plan.issue import finish, issue
from lineproof.plan.issued import Issue, check_copies, joints_now, latest, read_issues
from rigs import job_at, stock

WALK = "drawing M-1 rev 3\n" + head() + "go north 10'\ncoupling\ngo north 10'\nends at cap\n"
MORE = WALK.replace("ends at cap", "go east 4'\nends at cap")
WHEN = "2027-03-01T08:00:00-07:00"


def job(folder: Path, walk: str = WALK) -> Path:
    job_at(folder, walk, PARTS, toml=stock("6in"))
    return folder


def inputs(folder: Path) -> list[tuple[str, str]]:
    names = ["job.toml", "lines/line.walk", "parts.csv", "joints.csv"]
    there = [n for n in names if (folder / n).exists()]
    return [(n, hashlib.sha256((folder / n).read_bytes()).hexdigest()) for n in there]


def named(folder: Path, revision: int) -> tuple[Named, dict]:
    graph, cutting, statements = cut({"line.walk": (folder / "lines/line.walk").read_text("utf-8")})
    here = folder / "joints.csv"
    old = read_joints(joints_now(folder, here.read_text("utf-8") if here.exists() else ""))
    made = name_joints(graph, cutting, statements, old, revision=revision, issuing=True)
    return made, {"graph": graph, "cutting": cutting}


def issued(folder: Path, revision: int, **more) -> Issue:
    made, rest = named(folder, revision)
    given = {"inputs": inputs(folder), "tables": ["b 2", "a 1", "b 2"], "software": "0.1.0", "when": WHEN}
    return issue(folder, named=made, **rest, **{**given, **more})


def snapshot(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_an_issue_says_what_it_was_made_from(tmp_path):
    folder = job(tmp_path / "job")
    made = issued(folder, 1)
    assert made.new
    told = json.loads((folder / "issued/1/manifest.json").read_text("utf-8"))
    assert told["issue"] == 1
    assert told["when"] == WHEN
    assert told["lines"] == {"L": {"drawing": "M-1", "rev": "3"}}
    assert told["tables"] == ["a 1", "b 2"]
    assert told["software"] == "0.1.0"
    assert list(told["joints"]) == ["L/J1", "L/J2", "L/J3", "L/J4"]
    assert [p["id"] for p in told["pieces"]] == ["L/A", "L/B"]
    # the hash is that of the file, by the standard library
    walk = (folder / "lines/line.walk").read_bytes()
    assert told["inputs"]["lines/line.walk"] == hashlib.sha256(walk).hexdigest()
    assert (folder / "issued/1/inputs/lines/line.walk").read_bytes() == walk
    assert (folder / "joints.csv").read_bytes() == (folder / "issued/1/joints.csv").read_bytes()
    assert latest(folder).told() == made.told()
    check_copies(latest(folder))


def test_an_issue_of_the_same_inputs_makes_nothing_new(tmp_path):
    folder = job(tmp_path / "job")
    first = issued(folder, 1)
    before = snapshot(folder)
    again = issued(folder, 2, when="2027-03-02T08:00:00-07:00")
    assert not again.new
    assert (again.number, again.when, again.seal) == (1, WHEN, first.seal)
    assert snapshot(folder) == before


def test_an_edit_gives_the_next_issue_and_leaves_the_first_alone(tmp_path):
    folder = job(tmp_path / "job")
    issued(folder, 1)
    first = snapshot(folder / "issued/1")
    job(folder, MORE)
    second = issued(folder, 2)
    assert (second.number, second.born, second.retired) == (2, ("L/J5", "L/J6"), ())
    assert snapshot(folder / "issued/1") == first
    assert [i.number for i in read_issues(folder)] == [1, 2]


def test_another_table_edition_is_a_new_issue(tmp_path):
    folder = job(tmp_path / "job")
    issued(folder, 1)
    assert issued(folder, 2, tables=["a 2"]).new


def test_an_open_question_stops_the_issue(tmp_path):
    twins = head() + "go north 5'\ncoupling\ngo north 5'\ncoupling\ngo north 5'\nends at cap\n"
    folder = job(tmp_path / "job", twins)
    issued(folder, 1)
    job(folder, head() + "go north 5'\ncoupling\ngo north 5'\nends at cap\n")
    before = snapshot(folder)
    with pytest.raises(MatchUnclear, match="nothing was changed"):
        issued(folder, 2)
    assert snapshot(folder) == before


def test_a_draft_cannot_be_issued(tmp_path):
    folder = job(tmp_path / "job")
    graph, cutting, statements = cut({"line.walk": WALK})
    draft = name_joints(graph, cutting, statements, read_joints(""), revision=1)
    with pytest.raises(BadInput, match="named for a draft"):
        issue(
            folder, named=draft, graph=graph, cutting=cutting, inputs=[], tables=[], software="0", when=WHEN
        )


def test_a_plan_for_another_number_is_refused(tmp_path):
    folder = job(tmp_path / "job")
    made, rest = named(folder, 1)
    issued(folder, 1)
    with pytest.raises(BadInput, match="the next one is 2"):
        issue(folder, named=made, **rest, inputs=inputs(folder), tables=[], software="0.1.0", when=WHEN)


def test_a_file_changed_in_the_meantime_is_named(tmp_path):
    folder = job(tmp_path / "job")
    known = inputs(folder)
    (folder / "parts.csv").write_text("changed", "utf-8")
    with pytest.raises(BadInput) as error:
        issued(folder, 1, inputs=known)
    assert str(error.value).startswith("parts.csv: the file was changed while the plan was made")
    assert read_issues(folder) == ()
    assert not list((folder / "issued").iterdir())


def test_a_folder_that_takes_the_number_is_not_written_over(tmp_path):
    folder = job(tmp_path / "job")

    def squat(word: str) -> None:
        if word == "rename":
            (folder / "issued/1").mkdir()

    with pytest.raises(BadInput, match="never written over"):
        issued(folder, 1, step=squat)
    assert not list((folder / "issued/1").iterdir())


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("issued/1/manifest.json", "manifest does not bear its own seal"),
        ("joints.csv", "joints.csv does not end with the row that issue 1 left"),
    ],
)
def test_what_was_changed_by_hand_is_named(tmp_path, file, says):
    folder = job(tmp_path / "job")
    issued(folder, 1)
    path = folder / file
    text = path.read_text("utf-8")
    rows = text.splitlines(keepends=True)
    changed = text.replace("M-1", "M-2") if "manifest" in file else "".join(rows[:-1])
    path.write_text(changed, "utf-8")
    with pytest.raises(EntrySealed, match=says):
        issued(folder, 2)


def test_a_changed_copy_is_found(tmp_path):
    folder = job(tmp_path / "job")
    issued(folder, 1)
    (folder / "issued/1/inputs/parts.csv").write_text("x", "utf-8")
    with pytest.raises(EntrySealed) as error:
        check_copies(latest(folder))
    assert error.value.place.file == "issued/1/inputs/parts.csv"


# ------------------------------------------------------------------ a kill in the middle


class Killed(BaseException):
    """Stands for the power going."""


def steps_of(folder: Path, revision: int) -> list[str]:
    words: list[str] = []
    issued(folder, revision, step=words.append)
    return words


def killed_at(nth: int) -> Callable[[str], None]:
    left = [nth]

    def step(_word: str) -> None:
        if left[0] == 0:
            raise Killed
        left[0] -= 1

    return step


def dies_at(folder: Path, revision: int, nth: int) -> None:
    """Issue in a process of its own that is gone at the nth step, without any tidying up."""
    left = [nth]

    def step(_word: str) -> None:
        if left[0] == 0:
            os._exit(9)
        left[0] -= 1

    child = os.fork()
    if child == 0:
        try:
            issued(folder, revision, step=step)
        finally:
            os._exit(0)
    os.waitpid(child, 0)


def state(folder: Path) -> tuple[int, str]:
    """Number of issues and the joints.csv that counts: what every reader sees."""
    here = folder / "joints.csv"
    return len(read_issues(folder)), joints_now(folder, here.read_text("utf-8") if here.exists() else "")


@pytest.mark.parametrize("revision", [1, 2])
@pytest.mark.parametrize("how", ["raises", "dies"])
def test_a_kill_at_any_step_leaves_the_old_state_or_the_new(tmp_path, how, revision):
    def fresh(name: str) -> Path:
        folder = job(tmp_path / name)
        if revision == 2:
            issued(folder, 1)
            job(folder, MORE)
        return folder

    model = fresh("model")
    old = state(model)
    steps = steps_of(model, revision)
    new = state(model)
    assert new[0] == old[0] + 1
    assert new[1].startswith(old[1])
    assert {"rename", "replace joints.csv", "write the manifest", "copy parts.csv"} <= set(steps)
    seen = []
    for n, word in enumerate(steps):
        folder = fresh(f"job{n}")
        if how == "raises":
            with pytest.raises(Killed):
                issued(folder, revision, step=killed_at(n))
        else:
            dies_at(folder, revision, n)
        now = state(folder)
        assert now in (old, new), f"killed before: {word}"
        seen.append(now == new)
        again = issued(folder, revision + seen[-1])  # the next try ends in the new state
        assert again.new is not seen[-1]
        assert state(folder) == new
        assert (folder / "joints.csv").read_text("utf-8") == new[1]
        assert sorted(p.name for p in (folder / "issued").iterdir()) == [str(k) for k in range(1, new[0] + 1)]
    assert seen == sorted(seen)  # once it is issued it stays issued
    assert seen[steps.index("rename")] is False
    assert seen[steps.index("replace joints.csv")] is True


def test_what_a_kill_left_half_done_is_finished(tmp_path):
    folder = job(tmp_path / "job")
    issued(folder, 1)
    text = (folder / "joints.csv").read_text("utf-8")
    (folder / "joints.csv").unlink()
    assert joints_now(folder, "") == text
    assert finish(folder) == text
    assert (folder / "joints.csv").read_text("utf-8") == text
