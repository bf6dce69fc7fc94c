"""What --json prints holds to docs/schemas, by the jsonschema library: SI numbers, the same bytes again."""

from __future__ import annotations

import copy
import json
import os
import shutil
import subprocess
import sys
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from lineproof.sums.figures import load_all
from rigs import INCH
from verb_rig import Said, files, one_gap, verb

ROOT = Path(__file__).resolve().parents[2]


@cache
def validator(kind: str) -> Draft202012Validator:
    schema = json.loads((ROOT / "docs" / "schemas" / f"{kind}.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def faults(kind: str, data: Any) -> list[str]:
    return [f"{e.json_path}: {e.message[:200]}" for e in validator(kind).iter_errors(data)][:10]


def checked(said: Said, kind: str) -> Any:
    data = said.data
    assert said.err == ""
    assert data["kind"] == kind
    assert faults(kind, data) == []
    return data


@pytest.fixture(scope="module")
def demo_job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "job"
    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        shutil.copytree(there, folder)
    return folder


def test_the_demo_pack_is_as_the_schema_says_on_the_screen_and_in_its_file(demo_job: Path) -> None:
    said = verb("plan", "--job", demo_job, "--json")
    data = checked(said, "pack")
    written = json.loads((demo_job / "out" / "pack.json").read_text("utf-8"))
    assert written == data
    assert data["invented"] is True
    codes = {"GO": 0, "CARE": 10, "WAIT": 11, "CANNOT TELL": 12, "STOP": 13}  # as told in the design
    assert said.code == codes[data["verdict"]]
    assert set(data["counts"]["joints"]) <= set(codes)
    assert sum(data["counts"]["joints"].values()) == len(data["joints"])
    assert sum(data["counts"]["pieces"].values()) == len(data["pieces"])


def _named_cells(value: Any) -> set[str]:
    if isinstance(value, list):
        return set().union(*map(_named_cells, value))
    if not isinstance(value, dict):
        return set()
    found = set().union(*map(_named_cells, value.values()))
    for name in ("cells", "printed_cells", "rough_cells", "sources"):
        if isinstance(value.get(name), list):
            found |= set(value[name])
    return found


def test_every_cell_that_is_named_stands_in_full_and_none_besides(demo_job: Path) -> None:
    data = verb("plan", "--job", demo_job, "--no-paper", "--json").data
    cells = data.pop("cells")
    assert len(cells) > 10
    assert _named_cells(data) == set(cells)
    assert [k for k, c in cells.items() if k != f"{c['table']}/{c['row']}/{c['column']}"] == []
    assert [k for k, c in cells.items() if not c["confirmed"] and c["standing"] == "FOUND"] == []


def test_cells_of_one_key_are_alike() -> None:
    """A key names one value, else an answer would show another's source."""
    from lineproof.desk.as_json import Plain
    from lineproof.job.folder import read_job
    from lineproof.plan.make_pack import make_pack

    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        pack = make_pack(read_job(there)).pack
    seen: dict[str, set[object]] = {}
    for group in (*(j.cells for j in pack.joints), *(f.sources for f in pack.findings), pack.cells()):
        for cell in group:
            seen.setdefault(Plain().of(cell), set()).add(cell)
    assert len(seen) > 10
    assert [key for key, cells in seen.items() if len(cells) > 1] == []


def test_a_schema_refuses_what_is_not_ours(tmp_path: Path) -> None:
    data = verb("plan", "--job", one_gap(tmp_path / "job"), "--no-paper", "--json").data
    assert faults("pack", data) == []
    spoiled = []
    for path, value in (
        (("pieces", 0, "cut"), "2 ft"),
        (("pieces", 0, "colour"), "grey"),
        (("joints", 0, "place", "place"), [0.0, 1.0]),
        (("verdict",), "MAYBE"),
        (("stamp",), "2027-04-12T08:00:00"),
        (("counts", "joints"), {"4": 1}),
        (("bodies",), []),
    ):
        one = copy.deepcopy(data)
        at = one
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] = value
        spoiled.append((path, faults("pack", one)))
    del data["lines"][0]["closed"]
    spoiled.append(("lines without closed", faults("pack", data)))
    assert [path for path, found in spoiled if not found] == []


def test_same_bytes_whatever_the_order_of_sets_in_memory(demo_job: Path) -> None:
    def printed(seed: str) -> bytes:
        return subprocess.run(
            [sys.executable, "-m", "lineproof", "plan", "--job", str(demo_job), "--no-paper", "--json"],
            env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONHASHSEED": seed},
            capture_output=True,
            check=False,
        ).stdout

    first, second = printed("1"), printed("2")
    assert json.loads(first)["kind"] == "pack"
    assert first == second
    assert verb("plan", "--job", demo_job, "--no-paper", "--json").out.encode() == first


def test_every_line_of_the_demo_walks_as_the_schema_says(demo_job: Path) -> None:
    every = checked(verb("walk", "--job", demo_job, "--json"), "walk")["lines"]
    names = [w["line"]["name"] for w in every]
    assert len(names) == len(set(names)) > 5
    one = checked(verb("walk", names[1], "--job", demo_job, "--json"), "walk")["lines"]
    assert one == [every[1]]


def test_lengths_are_metres_whatever_the_job_shows(tmp_path: Path) -> None:
    """10 ft is 3.048 m: the international foot of 0.3048 m is exact (NIST SP 811, Appendix B)."""
    answers = []
    for units in ("us", "metric"):
        folder = one_gap(tmp_path / units, units=units)
        (line,) = checked(verb("walk", "--job", folder, "--json"), "walk")["lines"]
        answers.append(line)
        assert [r["cc"] for r in line["runs"]] == pytest.approx([3.048, 1.2192], abs=1e-12)
        assert line["runs"][0]["way"] == [0.0, 1.0, 0.0]
        assert line["line"]["size"] == "6 in"
        assert (line["line"]["drawing"], line["line"]["rev"]) == ("D-1", "2")
    assert answers[0] == answers[1]


def test_a_taped_gap_is_told_with_the_pieces_it_recuts(tmp_path: Path) -> None:
    folder = one_gap(tmp_path / "job")
    words = ("taped", "L", "F1", "to", "E1", '109 1/2"', "--by", "Taper (invented)")
    data = checked(verb(*words, "--job", folder, "--json"), "taped")
    assert data["taped"]["length"] == pytest.approx(109.5 * INCH, abs=1e-12)
    assert data["taped"]["typed"] == '109 1/2"'
    # by hand: 10 ft less gasket 1/8, flange 3 1/2 and elbow 6 1/2 in; the pipe enters 3 in at both ends
    assert data["drawn"] == pytest.approx((120 - 0.125 - 3.5 - 6.5) * INCH, abs=1e-9)
    assert data["far_off"] is False
    piece = data["pieces"][0]
    assert (piece["state"], piece["cut"]) == ("cut now", pytest.approx((109.5 + 6) * INCH, abs=1e-9))


def test_a_rig_without_tables_or_settings_is_a_pack_too(tmp_path: Path) -> None:
    # 4 ft less the elbow's 6 1/2 in, 3 in into its socket: 44 1/2 in, 1130.3 mm, sawn to the whole mm
    for units, cut in (("us", 44.5 * INCH), ("metric", 1.130)):
        folder = one_gap(tmp_path / units, units=units)
        data = checked(verb("plan", "--job", folder, "--no-paper", "--json"), "pack")
        assert data["issue"] == ""
        assert [p["state"] for p in data["pieces"]] == ["cut after taping", "cut now"]
        assert data["pieces"][1]["exact"] == pytest.approx(44.5 * INCH, abs=1e-9)
        assert data["pieces"][1]["cut"] == pytest.approx(cut, abs=1e-9)


def test_a_new_job_tells_what_it_wrote_and_plans(tmp_path: Path) -> None:
    data = checked(verb("new", tmp_path / "job", "--json"), "new")
    assert data["folder"] == str(tmp_path / "job")
    assert sorted(data["files"]) == sorted(files(tmp_path / "job"))
    checked(verb("plan", "--job", tmp_path / "job", "--no-paper", "--json"), "pack")


def test_the_demo_prints_its_pack(tmp_path: Path) -> None:
    said = verb("demo", tmp_path / "job", "--json")
    data = checked(said, "pack")
    assert said.code == 0
    assert data["verdict"] == "STOP"
    assert json.loads((tmp_path / "job" / "out" / "pack.json").read_text("utf-8")) == data


def test_every_figure_says_how_it_is_asked() -> None:
    data = checked(verb("figure", "--json"), "figures")
    assert [f["name"] for f in data["figures"]] == sorted(load_all())
    one = checked(verb("figure", "dry-fit", "--json"), "figures")["figures"]
    assert one == [f for f in data["figures"] if f["name"] == "dry-fit"]


def test_a_figure_is_told_in_si_with_its_inputs() -> None:
    """By hand: (6.647 - 6.625)/(6.647 - 6.614) of 3 in is 22/33 of 3 in, 2 in or 0.0508 m."""
    words = ("od=6.625in", "entrance=6.647in", "bottom=6.614in", "depth=3in")
    worked = checked(verb("figure", "dry-fit", *words, "--json"), "figure")["worked"]
    assert worked["value"] == pytest.approx(0.0508, rel=1e-9)
    assert worked["quantity"] == "length"
    assert worked["inputs"] == {
        "od": pytest.approx(0.168275), "entrance": pytest.approx(0.1688338),
        "bottom": pytest.approx(0.1679956), "depth": pytest.approx(0.0762),
    }  # fmt: skip


@pytest.mark.parametrize("words", [("walk", "Q"), ("plan", "--paper", "a3"), ("figure", "no-such-figure")])
def test_a_refusal_prints_no_json(tmp_path: Path, words: tuple[str, ...]) -> None:
    folder = one_gap(tmp_path / "job")
    where = () if words[0] == "figure" else ("--job", folder)
    said = verb(*words, *where, "--json")
    assert (said.code, said.out) == (64, "")
    assert said.err.count("\n") == 1
