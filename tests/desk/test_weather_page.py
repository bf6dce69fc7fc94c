"""Every example of docs/weather.md does what the page says, through the command line."""

from __future__ import annotations

import re
import shlex
import shutil
from datetime import UTC, datetime, timedelta
from importlib import resources
from pathlib import Path

import pytest

from move_rig import J1, Story, handling, job_with
from verb_rig import Said, refused, verb

PAGE = Path(__file__).resolve().parents[2] / "docs" / "weather.md"
LINES = [
    line
    for block in re.findall(r"^```weather\n(.*?)^```", PAGE.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    for line in block.splitlines()
]
SEEN = "time site,stamp,standing,air temperature F,humidity %\n"


def weather(first: int, last: int, degrees: float, *, standing: str = "seen") -> str:
    rows = (f"2026-11-22 {h:02d}:00,start,{standing},{degrees},60\n" for h in range(first, last + 1))
    return SEEN + "".join(rows)


@pytest.fixture
def works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The invented treatment works, its pack issued; one stands in its folder."""
    with resources.as_file(resources.files("lineproof") / "demo" / "brackstow") as there:
        shutil.copytree(there, tmp_path / "works")
    monkeypatch.chdir(tmp_path / "works")
    verb("plan", "--issue", "--no-paper")
    return tmp_path / "works"


def added(*words: str) -> Said:
    return verb("record", "add", *words, "--by", "P-1")


def test_every_line_of_the_page_runs(works: Path) -> None:
    Path("logger-7.csv").write_text("time UTC,temperature F\n2026-11-22T16:00,52\n", "utf-8")
    Path("weather.csv").write_text(weather(8, 12, 50), "utf-8")
    assert len(LINES) == 5
    for line in LINES:
        said = verb(*shlex.split(line)[1:], "--by", "P-1")
        assert (said.code, said.err) == (0, ""), line
    entries = verb("record", "list", "--json").data["entries"]
    assert sorted(e["kind"] for e in entries if e["kind"] != "issue") == [
        "humidity", "humidity", "imported", "reading_file", "reading_file",
    ]  # fmt: skip
    every = verb("record", "list", "B-201/J3").out
    assert every.count("reading_file") + every.count("logger") >= 1, "B-201/* names J3 as well"


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A joint made at 52 F, hold end 9:03, read at 12:00 and on: a hole of three hours. The card says 2 h."""
    folder = job_with(tmp_path / "job")
    story = Story(folder)
    story.made("9:00", "9:03")
    for clock in ("12:00", "13:00", "14:00"):
        story.read(clock, 52)
    story.store.close()
    monkeypatch.chdir(folder)
    return folder


def asked(folder: Path, clock: str = "14:01", *more: str) -> tuple[int, str, str]:
    said = verb("may", "move", J1, "--job", folder, "--when", f"2026-11-22T{clock}", *more)
    return said.code, said.out, said.err


def imported(folder: Path, clock: str) -> int:
    """Import weather.csv with the clock of the story."""
    from lineproof.logbook.shelf import Shelf
    from lineproof.logbook.sqlite_store import SHELF

    digest = Shelf(folder / SHELF).put((folder / "weather.csv").read_bytes())
    story = Story(folder)
    story.write(clock, "imported", {"file": digest, "name": "weather.csv", "rows": 7})
    receipt = story.receipt
    story.store.close()
    return receipt


def margin(folder: Path, text: str) -> None:
    toml = folder / "job.toml"
    toml.write_text(toml.read_text("utf-8").replace("[conditions]\n", f"[conditions]\n{text}\n"), "utf-8")


def test_weather_stands_in_for_a_hole_once_it_is_imported_and_a_margin_is_said(site: Path) -> None:
    assert asked(site)[0] == 12
    assert "the coldest it met is not known" in asked(site)[1]
    (site / "weather.csv").write_text(weather(8, 14, 50), "utf-8")
    code, out, err = asked(site)
    assert (code, "it is not imported" in out) == (12, True)
    assert err == "weather.csv does not count: it is not imported.\n"
    known = imported(site, "14:00")
    code, out, err = asked(site)
    assert (code, "no air_margin is said under [conditions]" in out) == (12, True)
    margin(site, 'air_margin = "5 F"')
    # 50 F less 5 F is in the band from 40 to 60 F: 2 h, from 12:00 on as the hole earns nothing.
    assert asked(site)[::2] == (0, "")
    assert asked(site, "13:30")[1].startswith("NOT BEFORE 14:00")
    (site / "weather.csv").write_text(weather(8, 14, 51), "utf-8")
    code, out, err = asked(site)
    assert (code, "it was changed since it was imported" in out) == (12, True)
    assert err == "weather.csv does not count: it was changed since it was imported.\n"
    assert asked(site, "14:01", "--known", str(known))[0] == 0, "yesterday's answer replays"


def test_a_larger_margin_reaches_a_colder_band(site: Path) -> None:
    margin(site, 'air_margin = "10.1 F"')
    (site / "weather.csv").write_text(weather(8, 14, 50), "utf-8")
    imported(site, "14:00")
    # 50 F less 10.1 F is below 40 F: 4 h from 12:00 on.
    assert asked(site)[1].startswith("NOT BEFORE 16:00")


@pytest.mark.parametrize(("first", "last"), [(10, 14), (8, 10)])
def test_weather_that_does_not_cover_the_hole(site: Path, first: int, last: int) -> None:
    margin(site, 'air_margin = "5 F"')
    (site / "weather.csv").write_text(weather(first, last, 50), "utf-8")
    imported(site, "14:00")
    assert asked(site)[0] == 12


def test_what_was_imported_before_an_hour_has_not_seen_it(site: Path) -> None:
    """Written at 10:30 as if seen until 14:00: rows after 10:30 stand in for nothing."""
    margin(site, 'air_margin = "5 F"')
    (site / "weather.csv").write_text(weather(8, 14, 50), "utf-8")
    story = Story(site)
    story.store.close()
    imported(site, "10:30")
    assert asked(site)[0] == 12


def test_a_forecast_in_the_file_moves_not_before_only(site: Path) -> None:
    margin(site, 'air_margin = "5 F"')
    rows = weather(8, 14, 50) + weather(13, 20, 30, standing="forecast").removeprefix(SEEN)
    ordered = SEEN + "".join(sorted(rows.removeprefix(SEEN).splitlines(keepends=True)))
    (site / "weather.csv").write_text(ordered, "utf-8")
    imported(site, "12:00")
    # As asked at 12:30: seen until 12:00, the hole is covered; 30 F is coming, so 4 h from 12:00.
    code, out, _ = asked(site, "12:30")
    assert code == 11
    assert out.startswith("NOT BEFORE 16:00")
    assert "longer by the cold that is forecast" in out


def test_humidity_that_was_seen_is_of_the_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A card whose row holds up to 60 % asks for the humidity since the joint was made."""
    folder = job_with(tmp_path / "job", rows=handling("2 h", "40 F", "60 F", "60 %"))
    monkeypatch.chdir(folder)
    story = Story(folder)
    story.made("9:00", "9:03", damp="55")
    for clock in ("10:00", "11:10"):
        story.read(clock, 52)
    story.store.close()
    assert "asks for the humidity" in asked(folder, "11:20")[1]
    (folder / "weather.csv").write_text(weather(8, 11, 50), "utf-8")
    imported(folder, "11:15")
    assert asked(folder, "11:20")[0] == 0
    (folder / "weather.csv").write_text(weather(8, 11, 50).replace(",60\n", ",61\n"), "utf-8")
    imported(folder, "11:16")
    assert asked(folder, "11:20")[0] == 12, "61 % is past the row"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("time site,stamp,standing,air temperature\n2026-11-22 09:00,start,seen,5\n", "weather.csv:1:.*unit"),
        (SEEN + "2026-11-22 09:00,start,guessed,50,60\n", "weather.csv:2:.*seen, forecast"),
        (SEEN + "2026-11-22 09:00,middle,seen,50,60\n", "weather.csv:2:.*start, end, instant"),
        (SEEN + "2026-11-22 09:00,start,seen,50,160\n", "weather.csv:2:.*0 to 100 %"),
        (SEEN + "2026-11-22 09:00,start,seen,150,60\n", "weather.csv:2:.*air temperature is 150 F"),
        ("time site,stamp,standing,air temperature F,snow\n", "weather.csv:1:.*no column 'snow'"),
    ],
)
def test_a_weather_file_that_cannot_be_read_is_refused_at_its_import(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, words: str
) -> None:
    monkeypatch.chdir(job_with(tmp_path / "job"))
    Path("weather.csv").write_text(text, "utf-8")
    assert re.search(words, refused(verb("record", "add", "imported", "weather.csv", "--by", "A")))


def test_rows_are_counted_and_a_wrong_count_is_refused(works: Path) -> None:
    Path("weather.csv").write_text(weather(8, 14, 50), "utf-8")
    assert "holds 7 rows, not 9" in refused(added("imported", "weather.csv", "rows=9"))
    Path("other.csv").write_text("a\n1\n", "utf-8")
    assert "how many rows" in refused(added("imported", "other.csv"))
    assert added("imported", "weather.csv").code == 0


def test_a_loggers_file_that_cannot_be_read_is_refused_as_it_is_entered(works: Path) -> None:
    head = "time UTC,temperature F\n2026-11-22T16:00,52\n"
    Path("log.csv").write_text(f"{head}2026-11-22T16:30,warm\n", "utf-8")
    words = ("reading_file", "log.csv", "joints=B-201/J1")
    assert "log.csv:3: temperature is 'warm'" in refused(added(*words, "of=joint"))
    assert "which joints" in refused(added("reading_file", "log.csv", "of=joint"))
    assert "no joint begins with B-999/" in refused(added("reading_file", "log.csv", "joints=B-999/*"))
    good = datetime.now(UTC).replace(second=0, microsecond=0)
    Path("log.csv").write_text(f"time,temperature F\n{(good - timedelta(hours=1)).isoformat()},52\n", "utf-8")
    assert "no row of log.csv lies between" in refused(added(*words, "of=joint", "to=2020-01-01 09:00"))
    assert "only make it colder: nobody says" in added(*words, "of=joint").out
    assert "colder" not in added(*words, "of=joint", "clock-checked=yes").out
    Path("log.csv").write_text(f"time,temperature F\n{(good - timedelta(days=2)).isoformat()},52\n", "utf-8")
    old = added(*words, "of=joint", "clock-checked=yes").out
    assert "more than a day after its last row" in old
    kept = added(*words, "of=joint", "--insist", "the office has it on paper")
    assert kept.code == 0, "what a person insists on is kept, and leaves its joint open"
    assert works.joinpath("logbook.db").is_file()
