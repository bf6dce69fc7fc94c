"""The envelope: exact bytes, the seal, and every kind and version that was ever written."""

from __future__ import annotations

import hashlib
import json
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from lineproof.floor.errors import BadInput
from lineproof.logbook.entry import FIELDS, NOTHING_BEFORE, canonical, make, moment, moment_text, parse
from lineproof.logbook.kinds import KINDS, check_new, faults, latest, understood
from logbook.rig import BODIES, MADE, START, at, chain, entry, every_kind, fields

GOLDEN = Path(__file__).parent / "golden"
PINNED = {
    "v1.jsonl": "18b3adff05f62dccba2dea2c423d88693cce72a816e37ffbba5203e1c90d8b10",
    "v2.jsonl": "a086b2fff7e04df7cd575743e1114507b1b5111c71886744543434c4916ccf14",
    "reading_file_2.jsonl": "d207bed6eab5cd43a827c35fff2baaecec74c4b8b58b5b9ce8a44fd5ce820aad",
    "release_given_2.jsonl": "fcc2397aadf215721ce7a8d9940bf5ad57d565ef15eb3a6611bd88ec07820a52",
    "phones_1.jsonl": "c6c8c8fe24971d33061b2bd99f65638da15e51591cdada16db887e6ce5051f2b",
}


def test_canonical_json_is_what_rfc_8259_readers_read_back() -> None:
    # RFC 8259 (JSON) leaves order and blanks free; ours are fixed, and the standard library reads it back.
    value = {"b": [1, "é", None, True], "a": {"z": "0.601", "y": -3}}
    assert canonical(value) == '{"a":{"y":-3,"z":"0.601"},"b":[1,"é",null,true]}'.encode()
    assert json.loads(canonical(value)) == value


@pytest.mark.parametrize("value", [1.5, float("nan"), {1: 2}, {"a": {3}}, 2**53, "\ud800", object()])
def test_what_has_no_one_way_of_writing_is_refused(value: object) -> None:
    with pytest.raises(BadInput):
        canonical({"x": value})


def test_too_deep_is_refused() -> None:
    deep: Any = []
    for _ in range(60):
        deep = [deep]
    with pytest.raises(BadInput, match="nested too deep"):
        canonical(deep)
    with pytest.raises(BadInput):
        parse(b"[" * 100_000)


def test_seal_is_sha256_of_the_seal_before_and_the_bytes() -> None:
    first, second = chain("one", [("note", {"text": "a"}), ("note", {"text": "b"})])
    assert first.previous == NOTHING_BEFORE
    assert second.previous == first.seal
    assert first.seal == hashlib.sha256(bytes(32) + first.raw).hexdigest()
    assert second.seal == hashlib.sha256(bytes.fromhex(first.seal) + second.raw).hexdigest()


def test_bytes_read_back_to_the_same_entry() -> None:
    for made in chain("one", every_kind()):
        again = parse(made.raw)
        assert again == made
        assert json.loads(made.raw).keys() == FIELDS


@pytest.mark.parametrize(
    "spoilt",
    [
        lambda raw: raw + b" ",
        lambda raw: b" " + raw,
        lambda raw: raw.replace(b'"sequence":1', b'"sequence": 1'),
        lambda raw: raw.replace(b'"sequence":1', b'"sequence":1.0'),
        lambda raw: raw.replace(b'"sequence":1', b'"sequence":0'),
        lambda raw: raw.replace(b'"sequence":1', b'"sequence":2'),
        lambda raw: raw.replace(b'"sequence":1', b'"sequence":1,"sequence":1'),
        lambda raw: raw.replace(b'"zone":"Europe/London"', b'"zone":""'),
        lambda raw: raw.replace(b'"synchronised":"yes"', b'"synchronised":"maybe"'),
        lambda raw: raw.replace(b".000000Z", b"Z"),
        lambda raw: raw.replace(b"2026-11-22T08", b"2026-11-31T08"),
        lambda raw: raw.replace(b'"tables"', b'"tabels"'),
        lambda raw: raw[:-1],
        lambda raw: raw[:-1] + b"\xff",
        lambda raw: b"[]",
        lambda raw: b"",
        lambda raw: b"NaN",
        lambda raw: b"1" * 5000,
    ],
)
def test_other_bytes_are_no_entry(spoilt: Any) -> None:
    raw = entry("one", 1, NOTHING_BEFORE, "note", {"text": "a"}).raw
    assert spoilt(raw) != raw
    with pytest.raises(BadInput) as told:
        parse(spoilt(raw))
    assert str(told.value).count("\n") == 0


def test_a_newer_envelope_or_kind_is_kept_as_it_is() -> None:
    newer = make(fields("one", 1, NOTHING_BEFORE, "note", {"text": "a"}, version=7) | {"weight": "3"})
    assert newer.newer
    assert not understood(newer)
    assert parse(newer.raw).raw == newer.raw
    unknown = entry("one", 1, NOTHING_BEFORE, "ultrasound", {"joint": "B-201/J31", "db": "12.5"})
    assert (unknown.newer, understood(unknown), faults(unknown)) == (False, False, ())
    later = make(fields("one", 1, NOTHING_BEFORE, "note", {"words": ["a"]}, kind_version=2))
    assert (understood(later), faults(later)) == (False, ())


def test_moments_are_utc_with_microseconds() -> None:
    there = datetime(2026, 11, 22, 9, 38, tzinfo=timezone(timedelta(hours=1)))
    assert moment_text(there) == "2026-11-22T08:38:00.000000Z"
    assert moment("2026-11-22T08:38:00.000000Z") == there
    assert moment_text(datetime(1, 1, 1, tzinfo=UTC)) == "0001-01-01T00:00:00.000000Z"
    with pytest.raises(BadInput, match="no offset"):
        moment_text(datetime(2026, 11, 22))  # noqa: DTZ001  # a time without a zone is what is tried


def test_every_kind_and_version_has_its_golden_bytes() -> None:
    told = [parse(line) for name in PINNED for line in (GOLDEN / name).read_bytes().splitlines()]
    assert {(e.kind, e.kind_version) for e in told} == set(KINDS)
    assert {e.version for e in told} == {1}
    assert {path.name for path in GOLDEN.iterdir()} == set(PINNED)


@pytest.mark.parametrize("name", PINNED)
def test_golden_bytes_are_read_for_ever(name: str) -> None:
    content = (GOLDEN / name).read_bytes()
    assert hashlib.sha256(content).hexdigest() == PINNED[name], "golden bytes are never changed"
    before = NOTHING_BEFORE
    for line in content.splitlines():
        read = parse(line)
        assert (read.raw, read.previous) == (line, before)
        assert (understood(read), faults(read)) == (True, ())
        before = read.seal


@pytest.mark.parametrize("kind", BODIES)
def test_a_body_with_a_field_missing_wrong_or_too_much_is_refused_in_words(kind: str) -> None:
    shape = latest(kind)
    check_new(shape, BODIES[kind], START)
    for name in BODIES[kind]:
        with pytest.raises(BadInput, match=rf"{kind} cannot be written: .*{name}"):
            check_new(shape, {**BODIES[kind], name: [{"x": 1}]}, START)
    with pytest.raises(BadInput, match="'colour' is not a field of it"):
        check_new(shape, {**BODIES[kind], "colour": "blue"}, START)


def test_an_unknown_kind_is_refused_with_the_list() -> None:
    with pytest.raises(BadInput, match="joint_made, moved"):
        latest("joint_mad")


def test_wrong_order_of_steps_and_times_to_come_are_refused_unless_insisted_on() -> None:
    steps = [{"step": "home", "at": at(0)}, {"step": "pipe_cemented", "at": at(1)}]
    back = [{"step": "pipe_cemented", "at": at(1)}, {"step": "home", "at": at(0)}]
    soon = [{"step": "home", "at": at(3)}]
    for odd, words in [
        (steps, "it is done before it"),
        (back, "its time is earlier"),
        (soon, "still to come by this clock"),
    ]:
        with pytest.raises(BadInput, match=words):
            check_new(latest("joint_made"), {**MADE, "steps": odd}, START)
        check_new(latest("joint_made"), {**MADE, "steps": odd, "insisted": "the phone was off"}, START)
    with pytest.raises(BadInput, match="still to come"):
        check_new(latest("hold_end"), {"joint": "J1", "at": at(2.1)}, START)
    check_new(latest("hold_end"), {"joint": "J1", "at": at(1.9)}, START)
