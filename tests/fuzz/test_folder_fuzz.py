"""Damaged job folders: only our own errors come out, near the damage, and a fair part still reads."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from importlib import resources
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.floor.errors import LineproofError
from lineproof.job.files import as_text
from lineproof.job.folder_toml import read_settings
from lineproof.job.logger_csv import read_logger
from lineproof.job.parts_csv import read_parts, write_parts
from lineproof.job.taped import COLUMNS, read_taped
from lineproof.job.weather import read_weather

TEMPLATE = resources.files("lineproof.job") / "template"
JOB = (TEMPLATE / "job.toml").read_bytes()
PARTS = (TEMPLATE / "parts.csv").read_bytes()
METRIC = write_parts(read_parts(PARTS.decode()), metric=True).encode()
TAPED = (
    ",".join(COLUMNS)
    + '\nEX-1,J3,pump P-1,"12\'-3 5/8""",P-1,2027-05-03 14:20,windy\n'
    + "EX-1,J4,J5,3.2 m,P-2,2027-05-03T15:00-06:00,\n"
).encode()
ZONE = ZoneInfo("America/Denver")
LOGGER = b"time,temperature F,volts\n" + b"".join(
    f"2026-11-22T{h:02d}:40-07:00,{50 + h % 3}.5,3.1\n".encode() for h in range(8, 16)
)
WEATHER = b"time site,stamp,standing,air temperature F,humidity %,wind mph,rain mm\n" + b"".join(
    f"2026-11-22 {h:02d}:00,start,{'seen' if h < 12 else 'forecast'},{44 + h},58,{h}.4,0.{h}\n".encode()
    for h in range(8, 16)
)
TOKEN = re.compile(rb"[^\s,]+")

READERS: dict[str, tuple[bytes, Callable[[bytes], object]]] = {
    "job.toml": (JOB, lambda data: read_settings(as_text(data, "job.toml"))),
    "parts.csv": (PARTS, lambda data: read_parts(as_text(data, "parts.csv"))),
    "metric parts.csv": (METRIC, lambda data: read_parts(as_text(data, "parts.csv"))),
    "taped.csv": (TAPED, lambda data: read_taped(as_text(data, "taped.csv"), ZONE)),
    "log-7.csv": (LOGGER, lambda data: read_logger(data, "log-7.csv", ZONE)),
    "weather.csv": (WEATHER, lambda data: read_weather(data, ZONE)),
}
COUNT = {
    "job.toml": 3000, "parts.csv": 4000, "metric parts.csv": 2000, "taped.csv": 3000, "log-7.csv": 1500,
    "weather.csv": 1500,
}  # fmt: skip


def mutant(whole: bytes, rng: random.Random) -> tuple[bytes, set[int]]:
    """A damaged copy, and the lines that were touched (from 1)."""
    spans = [m.span() for m in TOKEN.finditer(whole)]
    at = rng.randrange(len(whole))
    a, b = rng.choice(spans)
    c, d = rng.choice(spans)
    kind = rng.randrange(8)
    touched = [at]
    if kind == 0:
        new = whole[:at] + whole[at + 1 :]
    elif kind == 1:
        new = whole[:at] + bytes([rng.randrange(256)]) + whole[at:]
    elif kind == 2:
        new = whole[:at] + rng.choice(b"\"'#,.-+=[]{}:%/ 09azN\x00\xff\n\\").to_bytes() + whole[at + 1 :]
    elif kind == 3:
        new = whole[:at] + whole[at : at + 2][::-1] + whole[at + 2 :]
    elif kind == 4:
        touched, new = [a], whole[:a] + whole[b:]
    elif kind == 5:
        touched, new = [a], whole[:a] + whole[c:d] + whole[b:]
    elif kind == 6:
        touched, new = [a], whole[:b] + whole[a:b] + whole[b:]
    else:
        (a, b), (c, d) = sorted([(a, b), (c, d)])
        touched = [a, c]
        new = whole[:a] + whole[c:d] + whole[b:c] + whole[a:b] + whole[d:] if b <= c else whole
    return new, {whole.count(b"\n", 0, t) + 1 for t in touched}


def answer(read: Callable[[Any], object], given: object) -> LineproofError | None:
    """The refusal, looked at as a sentence; None if it reads. Any other error comes through."""
    try:
        read(given)
    except LineproofError as error:
        refusal = error
    else:
        return None
    assert "\n" not in str(refusal), given
    assert len(str(refusal)) < 900, given
    assert refusal.place.file, given
    return refusal


@pytest.mark.parametrize("name", READERS)
def test_damaged_files_read_or_are_answered_near_the_damage(name: str) -> None:
    whole, read = READERS[name]
    rng = random.Random(f"folder {name}")
    reads = near = refused = 0
    while reads + refused < COUNT[name]:
        data, lines = mutant(whole, rng)
        error = answer(read, data)
        if error is None:
            reads += 1
            continue
        refused += 1
        near += any(abs(error.place.line - line) <= 1 for line in lines)
    assert reads >= 0.1 * COUNT[name]
    assert near >= 0.9 * refused


@given(st.binary(max_size=200))
@pytest.mark.parametrize("name", READERS)
def test_any_bytes_read_or_are_answered(name: str, data: bytes) -> None:
    _, read = READERS[name]
    error = answer(read, data)
    assert error is not None or name != "job.toml", "no job.toml is as short as that"


cells = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["", "same", "1e400 in", "nan in", "-0", "12'-13\"", "0x1p3 m", "٣ in", "1/0 in"]),
)


@given(st.data())
def test_any_cell_of_a_part_reads_or_is_answered(data: st.DataObject) -> None:
    lines = PARTS.decode().splitlines()
    heading = lines[0].split(",")
    row = dict.fromkeys(heading, "") | {"kind": "tee", "material": "pvc", "series": "sch80", "size": "6in"}
    for column in data.draw(st.sets(st.sampled_from(heading), max_size=4)):
        row[column] = data.draw(cells)
    quoted = ",".join('"' + row[c].replace('"', '""') + '"' for c in heading)
    error = answer(read_parts, f"{lines[0]}\n{quoted}\n")
    assert error is None or error.place.line >= 1


values = st.recursive(
    st.integers() | st.floats() | st.booleans() | st.text(max_size=8) | st.dates() | st.datetimes(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


@given(st.data())
def test_any_value_of_any_kind_in_job_toml_reads_or_is_answered(data: st.DataObject) -> None:
    import tomllib

    import tomlkit

    table = tomllib.loads(JOB.decode())
    place: Any = table
    for _ in range(data.draw(st.integers(0, 4))):
        if isinstance(place, dict) and place:
            key = data.draw(st.sampled_from(sorted(place)))
        elif isinstance(place, list) and place:
            key = data.draw(st.integers(0, len(place) - 1))
        else:
            break
        below = place[key]
        if not isinstance(below, dict | list) or data.draw(st.booleans()):
            place[key] = data.draw(values)
            break
        place = below
    try:
        text = tomlkit.dumps(table)
        tomllib.loads(text)
    except (ValueError, TypeError):
        text = JOB.decode()  # the writer could not say it in TOML
    error = answer(read_settings, text)
    assert error is None or error.place.file == "job.toml"
