"""Loggers' files: times and units as their heading says; a bad row in one sentence, and nothing counts.

Temperatures are turned into kelvin by hand: C + 273.15, (F - 32)/1.8 + 273.15. Changes of the clocks are
those of America/Denver in 2026 (IANA time zones): forward on 8 March at 02:00, back on 1 November at 02:00.
"""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from lineproof.floor.errors import BadInput
from lineproof.job.logger_csv import LoggerRows, read_logger

DENVER = ZoneInfo("America/Denver")


def read(text: str) -> LoggerRows:
    return read_logger(text.encode(), "log-7.csv", DENVER)


@pytest.mark.parametrize(
    ("text", "at", "kelvin"),
    [
        ("time UTC,temperature C\n2026-11-22T16:40,10.5\n", "2026-11-22T16:40:00+00:00", 283.65),
        ("Time (UTC),Temperature (\u00b0C)\n2026-11-22 16:40:30,-3\n", "2026-11-22T16:40:30+00:00", 270.15),
        ("time site,temperature [F]\n2026-11-22 09:40,50\n", "2026-11-22T16:40:00+00:00", 283.15),
        ("time,temperature_K\n2026-11-22T09:40-07:00,283.15\n", "2026-11-22T16:40:00+00:00", 283.15),
        ("time site,temperature C\n2026-07-22 09:40,1\n", "2026-07-22T15:40:00+00:00", 274.15),
        ("no,time UTC,volts,temperature C\n\n# a remark\n1,2026-11-22T16:40Z,3.1,10\n",
         "2026-11-22T16:40:00+00:00", 283.15),
    ],
)  # fmt: skip
def test_rows_as_the_heading_says(text: str, at: str, kelvin: float) -> None:
    rows = read(text)
    assert rows.times.tolist() == [datetime.fromisoformat(at).timestamp()]
    assert rows.values.tolist() == pytest.approx([kelvin])


HEAD = "time UTC,temperature C\n2026-11-22T16:00,5\n"


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("", 1, "holds no row"),
        ("time UTC,temperature C\n", 1, "holds no row"),
        ("time UTC,temperature\n2026-11-22T16:00,5\n", 1, "temperature has no unit.*C or F"),
        ("time UTC,temperature bar\n2026-11-22T16:00,5\n", 1, "bar is a unit of pressure"),
        ("time UTC,value\n2026-11-22T16:00,5\n", 1, "temperature is missing"),
        ("temperature C\n5\n", 1, "time is missing"),
        ("time mars,temperature C\n2026-11-22T16:00,5\n", 1, "time UTC or time site"),
        ("time UTC,temperature C,temperature F\n2026-11-22T16:00,5,6\n", 1, "stands twice"),
        ("time,temperature C\n2026-11-22T16:00,5\n", 2, "no offset"),
        (HEAD + "16:30,5\n", 3, "is not a moment"),
        (HEAD + "2026-11-22,5\n", 3, "is not a moment"),
        (HEAD + "2026-11-22T16:30,\n", 3, "temperature is empty"),
        (HEAD + "2026-11-22T16:30,5 C\n", 3, "a plain number in C"),
        (HEAD + "2026-11-22T16:30,nan\n", 3, "a plain number in C"),
        (HEAD + "2026-11-22T16:30,5,3\n", 3, "3 cells for 2 columns.*point"),
        (HEAD + "2026-11-22T16:30,-127\n", 3, "-60 to 120 C.*sensor"),
        (HEAD + "2026-11-22T16:30,120.1\n", 3, "-60 to 120 C"),
        (HEAD + "2026-11-22T15:59,5\n", 3, "earlier than that of the row before"),
        (HEAD + '"2026-11-22T16:30,5\n', 3, "cannot be taken apart"),
        ("time site,temperature C\n2026-11-01 01:30,5\n", 2, "comes twice"),
        ("time site,temperature C\n2026-03-08 02:30,5\n", 2, "is left out"),
    ],
)
def test_a_row_that_cannot_be_read_is_named(text: str, line: int, words: str) -> None:
    with pytest.raises(BadInput, match=words) as told:
        read(text)
    assert (told.value.place.file, told.value.place.line) == ("log-7.csv", line)
    assert "\n" not in str(told.value)
    assert told.value.allowed
    assert told.value.next


def test_what_is_no_text_is_refused() -> None:
    for content in (b"\xff\xfe\x00", b"time UTC,temperature C\n\x00"):
        with pytest.raises(BadInput):
            read_logger(content, "log-7.csv", DENVER)


def test_across_a_change_of_the_clocks_in_utc_no_hour_is_lost() -> None:
    hours = [datetime(2026, 10, 31, 22, tzinfo=UTC).timestamp() + 3600.0 * h for h in range(24)]
    text = "time UTC,temperature C\n" + "".join(
        f"{datetime.fromtimestamp(t, tz=UTC).replace(tzinfo=None).isoformat()},5\n" for t in hours
    )
    assert read(text).times.tolist() == hours
    local = "time,temperature C\n" + "".join(
        f"{datetime.fromtimestamp(t, tz=DENVER).isoformat()},5\n" for t in hours
    )
    assert read(local).times.tolist() == hours
