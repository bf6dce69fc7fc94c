"""The verb hours: what it prints, as JSON and as a picture, and what it refuses."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path
from xml.etree import ElementTree

import pytest
from jsonschema import Draft202012Validator

from joint_rig import CARD_ROWS, PAPERS, PARTS, STOCK, WALK
from rigs import job_at
from verb_rig import refused, verb

ROOT = Path(__file__).resolve().parents[2]
HEAD = "time site,stamp,standing,air temperature F,humidity %,wind mph,rain mm,cloud %"
WHEN = "2027-05-04T09:20"


def written(folder: Path, *, rain_at: int = 40, hours: int = 96) -> None:
    begin = datetime(2027, 5, 4)  # noqa: DTZ001 - the file says whose time it is
    rows = [HEAD]
    for k in range(hours):
        standing = "seen" if k < 10 else "forecast"
        rain = 1.5 if k == rain_at else 0
        rows.append(f"{begin + timedelta(hours=k):%Y-%m-%d %H:%M},start,{standing},44,40,1,{rain},100")
    (folder / "weather.csv").write_text("\n".join(rows) + "\n", "utf-8")


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hours") / "job"
    job_at(folder, WALK, PARTS, toml=PAPERS + CARD_ROWS + STOCK)
    text = (folder / "job.toml").read_text("utf-8")
    place = '[site]\nlatitude = "39.7 deg"\nlongitude = "-105 deg"\n'
    (folder / "job.toml").write_text(text.replace("[site]\n", place, 1), "utf-8")
    written(folder)
    return folder


def test_the_answer_comes_first_then_a_strip_a_day(job: Path) -> None:
    said = verb("hours", "--job", job, "--when", WHEN)
    assert (said.code, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[1].startswith("CARE")
    strips = [k for k, text in enumerate(lines) if text.startswith("  00 01 02")]
    assert len(strips) == 3
    for k in strips:
        assert len(lines[k + 1].split()) == 24
    # rain at 16:00 of the second day
    assert lines[strips[1] + 1].split()[16] == "#"
    assert any("16:00-17:00  # STOP: rain" in text for text in lines)


def test_json_is_as_its_schema_and_the_same_as_screen_and_picture(job: Path, tmp_path: Path) -> None:
    picture = tmp_path / "strip.svg"
    said = verb("hours", "--job", job, "--when", WHEN, "--days", "2", "--svg", picture, "--json")
    schema = json.loads((ROOT / "docs" / "schemas" / "hours.json").read_text("utf-8"))
    assert [e.message for e in Draft202012Validator(schema).iter_errors(said.data)] == []
    assert [len(day) for day in said.data["days"]] == [24, 24]
    verdicts = [row["verdict"] for day in said.data["days"] for row in day]
    root = ElementTree.fromstring(picture.read_text("utf-8"))
    space = "{http://www.w3.org/2000/svg}"
    drawn = [g.findtext(f"{space}title") or "" for g in root.iter(f"{space}g")]
    assert [text.split(" ", 1)[1].split(":")[0] for text in drawn] == verdicts
    again = tmp_path / "again.svg"
    verb("hours", "--job", job, "--when", WHEN, "--days", "2", "--svg", again)
    assert again.read_bytes() == picture.read_bytes()


def test_a_tent_is_asked_for_its_heater(job: Path) -> None:
    words = ("hours", "--job", job, "--when", WHEN, "--tent", "55F")
    assert verb(*words, "--json").data["verdict"] == "CANNOT TELL"
    assert verb(*words, "--heater-in", "--heat-off", "--json").data["verdict"] == "STOP"
    assert verb(*words, "--heater-out", "--heat-off", "--json").data["tent"]["verdict"] == "GO"


def test_spanish(job: Path) -> None:
    said = verb("hours", "--job", job, "--when", WHEN, "--in", "es").out
    assert "CUIDADO" in said
    assert "ALTO: lluvia" in said
    assert "Siguiente paso" in said


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--colour", "pink"), "colour"),
        (("--days", "40"), "40 days"),
        (("--shade", "--tent", "60F"), "both a shade and a tent"),
        (("--line", "NO"), "no joint on a line NO"),
        (("--pipe", "warm"), "warm"),
        (("--pipe", "60F", "--read-at", "2027-05-04T11:00"), "lies ahead"),
    ],
)
def test_bad_input_gets_one_sentence(job: Path, words: tuple[str, ...], told: str) -> None:
    assert told in refused(verb("hours", "--job", job, "--when", WHEN, *words))


def test_no_weather_is_said(tmp_path: Path) -> None:
    job_at(tmp_path / "job", WALK, PARTS, toml=PAPERS + CARD_ROWS + STOCK)
    assert "there is no weather.csv" in refused(verb("hours", "--job", tmp_path / "job"))


PAGE = (ROOT / "docs" / "hours.md").read_text("utf-8")


def test_every_line_of_the_page_runs(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(job)
    lines = [t.strip() for t in PAGE.split("```hours\n")[1:] for t in t.split("```")[0].splitlines()]
    assert len(lines) > 3
    for text in lines:
        said = verb(*text.split()[1:])
        assert (said.code, said.err) == (0, ""), text
