"""A job folder: what is read and hashed, what is refused in one sentence, and a new one."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

import lineproof
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.folder import new_job, read_job
from lineproof.job.write import write_whole

HEAD = (
    "line {name} size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\ngo north 8'\nends at open\n"
)
FILES = ["job.toml", "parts.csv", "taped.csv", "joints.csv", "lines/x.walk", "lines/x.csv"]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    new_job(folder)
    return folder


def refused(folder: Path) -> LineproofError:
    with pytest.raises(LineproofError) as caught:
        read_job(folder)
    assert "\n" not in str(caught.value)
    return caught.value


def test_a_new_job_reads_and_every_file_leaves_its_hash(job: Path) -> None:
    read = read_job(job)
    assert read.line_names == ("EX-1",)
    assert len(read.parts.rows) == 3
    assert all(r.stands_for_lot for r in read.parts.rows)
    assert read.taped == ()
    assert read.joints_text == ""
    assert read.confirmed == frozenset()
    assert str(read.zone) == "America/Denver"
    assert [name for name, _ in read.inputs] == ["job.toml", "lines/example.walk", "parts.csv", "taped.csv"]
    for name, seal in read.inputs:
        assert seal == hashlib.sha256((job / name).read_bytes()).hexdigest()


def test_a_job_of_one_file_reads(job: Path, tmp_path: Path) -> None:
    bare = tmp_path / "bare"
    bare.mkdir()
    (bare / "job.toml").write_bytes((job / "job.toml").read_bytes())
    read = read_job(bare)
    assert (read.walks, read.parts.rows, read.taped) == ((), (), ())


def test_walks_come_in_order_of_file_name_and_others_are_left_alone(job: Path) -> None:
    for name, line in [("b.walk", "B"), ("a.walk", "A"), ("c.WALK", "C")]:
        (job / "lines" / name).write_text(HEAD.format(name=line), "utf-8")
    (job / "lines" / "note.txt").write_text("not a walk", "utf-8")
    (job / "lines" / ".hidden.walk").write_text("not a walk", "utf-8")
    (job / "joints.csv").write_text("id\n", "utf-8")
    read = read_job(job)
    assert read.line_names == ("A", "B", "C", "EX-1")
    assert read.joints_text == "id\n"


def test_a_line_walked_twice_is_refused_with_both_places(job: Path) -> None:
    (job / "lines" / "more.walk").write_text("\n" + HEAD.format(name="EX-1"), "utf-8")
    error = refused(job)
    assert str(error.place) == "lines/more.walk:2:1"
    assert "lines/example.walk:6:1" in str(error)


def test_marks_of_other_systems_do_not_matter(job: Path) -> None:
    plain = read_job(job)
    for path in [job / "job.toml", job / "parts.csv", job / "lines" / "example.walk"]:
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    other = read_job(job)
    assert other.settings == plain.settings
    assert [r.type_key for r in other.parts.rows] == [r.type_key for r in plain.parts.rows]
    assert other.line_names == plain.line_names
    assert other.inputs != plain.inputs


def test_errors_name_the_file_inside_the_folder(job: Path) -> None:
    text = (job / "job.toml").read_text("utf-8")
    at = text[: text.index('kerf = "1/8 in"')].count("\n") + 1
    (job / "job.toml").write_text(text.replace('kerf = "1/8 in"', "kerf = 3"), "utf-8")
    assert str(refused(job)).startswith(f"job.toml:{at}:1: cutting, kerf: the number 3 has no unit")


def test_latin_1_is_named_by_line_and_column(job: Path) -> None:
    content = (job / "parts.csv").read_bytes()
    (job / "parts.csv").write_bytes(content.replace(b"invented\n", b"inven\xe9\n", 1))
    line = content[: content.index(b"invented\n")].count(b"\n") + 1
    error = refused(job)
    assert (error.place.file, error.place.line) == ("parts.csv", line)
    assert "UTF-8" in str(error)


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("what", ["folder", "loop", "dangling", "pipe", "null", "huge"])
def test_what_is_not_a_text_file_is_one_sentence(job: Path, name: str, what: str) -> None:
    path = job / name
    path.unlink(missing_ok=True)
    if what == "folder":
        path.mkdir()
    elif what == "loop":
        path.symlink_to(path.name)
    elif what == "dangling":
        path.symlink_to("nowhere")
    elif what == "pipe":
        os.mkfifo(path)
    elif what == "null":
        path.write_bytes(b"a\0b\n")
    else:
        with path.open("wb") as file:
            file.truncate(33 * 1024 * 1024)  # a hole: takes no room
    error = refused(job)
    assert error.place.file == name


def test_no_folder_no_job(tmp_path: Path, job: Path) -> None:
    assert "is not there" in str(refused(tmp_path / "nowhere"))
    assert "is not a folder" in str(refused(job / "job.toml"))
    assert "lineproof new" in str(refused(tmp_path))
    loop = tmp_path / "loop"
    loop.symlink_to("loop")
    assert "loop" in str(refused(loop))
    assert "name" in str(refused(Path("a\0b")))
    assert str(refused(Path("x" * 5000)))
    (job / "lines" / "example.walk").unlink()
    (job / "lines").rmdir()
    (job / "lines").write_text("", "utf-8")
    assert refused(job).place.file == "lines"


def test_a_file_that_may_not_be_read_is_one_sentence(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no(self: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", no)  # the tests may run as a user who may read everything
    assert "permission denied" in str(refused(job))


def test_reading_a_job_leaves_numpy_alone(job: Path) -> None:
    source = str(Path(lineproof.__file__).parents[1])
    done = subprocess.run(
        [
            sys.executable, "-P", "-c",
            f"import sys; sys.path.insert(0, {source!r}); from pathlib import Path;"
            "from lineproof.job.folder import read_job;"
            "early = 'pydantic' in sys.modules or 'lark' in sys.modules;"
            f"read_job(Path({str(job)!r})); print(early, 'numpy' in sys.modules, 'scipy' in sys.modules)",
        ],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.split() == ["False", "False", "False"]


# ---------------------------------------------------------------- a new folder
def test_a_new_job_takes_an_empty_folder_and_no_other(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    written = new_job(empty)
    assert set(written) == {str(p.relative_to(empty)) for p in empty.rglob("*") if p.is_file()}
    before = {p: p.read_bytes() for p in empty.rglob("*") if p.is_file()}
    with pytest.raises(BadInput, match="not empty"):
        new_job(empty)
    assert {p: p.read_bytes() for p in empty.rglob("*") if p.is_file()} == before
    with pytest.raises(BadInput, match="is a file"):
        new_job(empty / "job.toml")
    with pytest.raises(BadInput, match="cannot be written"):
        new_job(empty / "job.toml" / "below")
    new_job(tmp_path / "deep" / "down" / "job")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["deep", "empty"]


@pytest.mark.parametrize("name", ["a\0b", "x" * 300])
def test_a_new_job_with_a_name_that_cannot_be(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadInput, match="cannot be"):
        new_job(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_new_job_appears_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, content: bytes) -> None:
        raise BadInput("no room on the disk")

    monkeypatch.setattr("lineproof.job.folder.write_whole", full)
    with pytest.raises(BadInput, match="no room"):
        new_job(tmp_path / "job")
    assert list(tmp_path.iterdir()) == []


# ---------------------------------------------------------------- files whole or not at all
def test_a_file_is_written_whole_and_keeps_its_permissions(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    write_whole(file, b"one")
    file.chmod(0o640)
    write_whole(file, b"two")
    assert file.read_bytes() == b"two"
    assert file.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["a.csv"]


def test_a_link_is_followed(tmp_path: Path) -> None:
    (tmp_path / "real").write_bytes(b"one")
    (tmp_path / "link").symlink_to("real")
    write_whole(tmp_path / "link", b"two")
    assert (tmp_path / "real").read_bytes() == b"two"
    assert (tmp_path / "link").is_symlink()


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "a.csv"
    file.write_bytes(b"old")

    def no(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", no)
    with pytest.raises(BadInput, match="no space left"):
        write_whole(file, b"new")
    assert file.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.csv"]


@pytest.mark.parametrize("name", ["no/such/folder.csv", "a\0b", "loop"])
def test_where_nothing_can_be_written(tmp_path: Path, name: str) -> None:
    (tmp_path / "loop").symlink_to("loop")
    with pytest.raises(BadInput, match="cannot be written"):
        write_whole(tmp_path / name, b"x")
