"""The verb ``sequence``: the answer, its exit code, JSON, Spanish, paper, and what is refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from rigs import coupling, elbow, flange, job_at, part, stock
from verb_rig import refused, verb

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def pool(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pool") / "job"
    shutil.copytree(ROOT / "examples" / "tolbrake", folder, ignore=shutil.ignore_patterns("out"))
    return folder


def test_the_pool_is_stopped_and_what_opens_it_is_named(pool: Path) -> None:
    said = verb("sequence", "--job", pool, "--no-paper")
    assert said.code == 13
    first = said.out.splitlines()[1]
    assert first.startswith("STOP")
    assert "nowhere to go" in first
    assert "flat faces: A-101/F1-F2" in first
    assert not (pool / "out").exists()


def test_json_has_every_joint_in_order_and_the_proof(pool: Path) -> None:
    said = verb("sequence", "--job", pool, "--no-paper", "--json")
    data = said.data
    assert said.code == 13
    answer = data.get("sequence", data)
    joints = [j for s in answer["steps"] for j in s["joints"]]
    assert len(joints) == len(set(joints)) == 86  # 77 on the printed lists and 9 at sockets that stand
    assert answer["with_openings"]
    assert answer["complete"]
    assert answer["cost"] == answer["least"]


def test_spanish_says_the_same(pool: Path) -> None:
    said = verb("sequence", "--job", pool, "--no-paper", "--in", "es")
    assert said.code == 13
    assert "no tiene por dónde entrar" in said.out
    assert "caras planas: A-101/F1-F2" in said.out
    assert "día 1" in said.out


def test_the_paper_has_one_page_a_day_or_more_and_is_the_same_again(pool: Path) -> None:
    verb("sequence", "--job", pool)
    paper = pool / "out" / "sequence.pdf"
    before = paper.read_bytes()
    pages = [p.extract_text() for p in PdfReader(paper).pages]
    assert any("Order of joints" in p and "day 1" in p for p in pages)
    days = verb("sequence", "--job", pool, "--no-paper", "--json").data
    last = max(s["day"] for s in days.get("sequence", days)["steps"])
    for day in range(1, last + 1):
        assert any(f"day {day}" in p for p in pages)
    verb("sequence", "--job", pool)
    assert paper.read_bytes() == before


def test_a_day_that_is_not_there_and_a_tongue_nobody_speaks_are_refused(pool: Path) -> None:
    assert "has no day 99" in refused(verb("sequence", "--job", pool, "--day", "99", "--no-paper"))
    assert "en or es" in refused(verb("sequence", "--job", pool, "--in", "fr", "--no-paper"))
    assert "a4 or letter" in refused(verb("sequence", "--job", pool, "--paper", "a0"))


def test_a_repair_coupling_is_named_only_with_its_restraint_and_its_load(tmp_path: Path) -> None:
    """End load p pi D2/4 on the outside diameter: at 150 psi NPS 6 carries 5,170 lbf, as the printed table
    of end loads has it (derived there from OD 6.625 in)."""
    walk = (
        'line L size 6in pipe pvc sch80\nstarts at socket fixed "W-1" at 0, 0, 0 facing east\n'
        'go east 12\'\nends at socket fixed "W-2"\n'
    )
    stands = [
        part("other", "6in", tag=t, ends="socket", reach_1="0 in", depth_1="3 in", measured="1", count="")
        for t in ("W-1", "W-2")
    ]
    parts = [
        flange("6in", "3 1/2 in", "3 in"),
        elbow("6in", "6 1/2 in", "3 in"),
        coupling("6in", "3 1/4 in", "3 in"),
    ]
    toml = stock("6in") + '\n[[lines]]\nline = "L"\ntest_pressure = "150 psi"\n'
    job_at(tmp_path / "a", walk, [*parts, *stands], toml=toml)
    assert "repair coupling" not in verb("sequence", "--job", tmp_path / "a", "--no-paper").out
    toml += '\n[closing]\nrestraint = "harness RH-1 (engineer)"\n'
    job_at(tmp_path / "b", walk, [*parts, *stands], toml=toml)
    said = verb("sequence", "--job", tmp_path / "b", "--no-paper").out
    assert "harness RH-1 (engineer)" in said
    assert "5171 lbf" in said or "5,171 lbf" in said or "5170 lbf" in said
