"""Entries as frames of codes: any order, any of them twice, what is missing is named, nothing wrong taken."""

from __future__ import annotations

import base64
import hashlib
import random
import zlib
from pathlib import Path

import pytest

from lineproof.floor.errors import BadInput
from lineproof.logbook.frames import LARGEST_UNPACKED, entries_from, frames_of
from lineproof.logbook.sqlite_store import SqliteStore
from logbook.rig import JOB, chain
from verb_rig import verb
from web_rig import small

ENTRIES = b"".join(
    e.raw + b"\n" for e in chain("phone", [("note", {"text": f"ü {n}", "joint": "L/J1"}) for n in range(40)])
)
CODE = set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
"""The alphanumeric set: ISO/IEC 18004, table 5."""


def test_frames_come_in_any_order_and_more_than_once() -> None:
    frames = frames_of(ENTRIES)
    assert len(frames) > 5
    assert set("".join(frames)) <= CODE
    shuffled = [*frames, *frames[:3], "", "  " + frames[2] + " "]
    random.Random(4).shuffle(shuffled)
    assert entries_from(shuffled) == ENTRIES
    other = b'{"a":1}\n'
    assert entries_from([*frames_of(other), *shuffled]) == other + ENTRIES


def test_a_frame_says_what_its_form_says() -> None:
    """Read again with nothing but the standard library: RFC 4648 base 32, RFC 1950 data, SHA-256."""
    kind, digest, place, part = frames_of(b'{"a":1}\n')[0].split(":")
    assert (kind, place) == ("LPZ1", "1/1")
    assert base64.b32decode(digest + "====") == hashlib.sha256(b'{"a":1}\n').digest()
    assert zlib.decompress(base64.b32decode(part + "=" * (-len(part) % 8))) == b'{"a":1}\n'
    plain = base64.b32encode(b'{"a":1}\n').decode().rstrip("=")
    assert entries_from([f"LPF1:{digest}:1/1:{plain}"]) == b'{"a":1}\n', "a phone that cannot pack"


def _bomb() -> list[str]:
    content = zlib.compress(b"a" * (LARGEST_UNPACKED + 1), 9)
    part = base64.b32encode(content).decode().rstrip("=")
    return [f"LPZ1:{'A' * 52}:1/1:{part}"]


FRAMES = frames_of(ENTRIES)
WRONG = {
    "missing": ([f for n, f in enumerate(FRAMES, 1) if n not in (2, 3, 5)], "3 of .* are missing: 2-3, 5"),
    "none": (["", " "], "there is no frame"),
    "another text": ([*FRAMES, "LP:BRK:B-201/J1:0"], "is no frame"),
    "two stories": ([*FRAMES, FRAMES[0][:-3] + "AAA"], "is there twice and says two things"),
    "swapped hash": ([f.replace(f.split(":")[1], "A" * 52) for f in FRAMES], "do not bear their hash"),
    "changed part": ([*FRAMES[:-1], FRAMES[-1][:-8] + "AAAAAAAA"], "do not|break off"),
    "past its end": ([FRAMES[0].replace(":1/", ":9999/")], "is frame 9999"),
    "too much": (_bomb(), "unpack to too much"),
    "cut off": ([FRAMES[0][: FRAMES[0].rindex(":") + 2]], "cut off|is no frame"),
}


@pytest.mark.parametrize("fault", list(WRONG))
def test_what_is_not_whole_is_refused_and_says_what_is_missing(fault: str) -> None:
    frames, says = WRONG[fault]
    with pytest.raises(BadInput, match=says):
        entries_from(frames)


def test_a_file_of_frames_is_imported_once(tmp_path: Path) -> None:
    from lineproof.desk.record_book import job_uuid, settings_of

    folder = small(tmp_path / "job")
    sent = chain(
        "phone", [("hold_end", {"joint": f"L/J{n}"}) for n in range(30)], job=job_uuid(settings_of(folder))
    )
    frames = frames_of(b"".join(e.raw + b"\n" for e in sent))
    file = tmp_path / "codes.txt"
    file.write_text("\n".join(reversed(frames[1:])), "ascii")
    told = verb("record", "import", file, "--job", folder)
    assert told.code == 64
    assert "codes.txt" in told.err
    assert "are missing: 1" in told.err
    file.write_text("\n".join(reversed(frames)), "ascii")
    for new in ("30 new entries", "0 new entries"):
        told = verb("record", "import", file, "--job", folder)
        assert told.code == 0, told
        assert new in told.out
    with SqliteStore(folder / "logbook.db") as store:
        assert [s.entry.raw for s in store.read_since()] == [e.raw for e in sent]
    file.write_text("\n".join(frames_of(ENTRIES)), "ascii")
    assert "of another job" in verb("record", "import", file, "--job", folder).err
    assert job_uuid(settings_of(folder)) != JOB
