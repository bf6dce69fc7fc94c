"""Errors read as one sentence: where, what was given, what is allowed, by whom, what next."""

from __future__ import annotations

import copy
import pickle

import pytest

from lineproof.floor import errors
from lineproof.floor.errors import BadInput, LineproofError, OurFault, OutsideTable, Place, UnitMissing

KINDS = sorted(
    (k for k in vars(errors).values() if isinstance(k, type) and issubclass(k, LineproofError)),
    key=lambda k: k.__name__,
)


def test_an_error_reads_as_one_sentence_in_the_order_of_the_house() -> None:
    error = BadInput(
        "12 has no unit", allowed="in, mm", by="job.toml", next="write 12 in", place=Place("a.walk", 3, 9)
    )
    assert str(error) == "a.walk:3:9: 12 has no unit; allowed: in, mm (by job.toml); next: write 12 in."


def test_parts_that_are_not_known_leave_no_trace() -> None:
    assert str(BadInput("12 has no unit")) == "12 has no unit."
    assert str(BadInput("12 has no unit", next="write 12 in.")) == "12 has no unit; next: write 12 in."
    assert str(BadInput("12 has no unit", by="the house")) == "12 has no unit (by the house)."


@pytest.mark.parametrize(
    ("place", "text"),
    [
        (Place(), ""),
        (Place("a.walk"), "a.walk"),
        (Place("a.walk", 3), "a.walk:3"),
        (Place("a.walk", 3, 9), "a.walk:3:9"),
        (Place("a.walk", 0, 9), "a.walk"),
        (Place("", 3, 9), "line 3, column 9"),
    ],
)
def test_a_place_says_what_it_knows(place: Place, text: str) -> None:
    assert str(place) == text


def test_a_reader_fills_in_only_what_is_not_known_yet() -> None:
    error = UnitMissing("12 has no unit")
    assert error.at(line=3, column=9) is error
    error.at(file="a.walk", line=5, column=1)
    assert error.place == Place("a.walk", 3, 9)


@pytest.mark.parametrize("kind", KINDS)
def test_every_error_is_ours_and_survives_a_process_border(kind: type[LineproofError]) -> None:
    error = kind("given", allowed="a", by="b", next="c", place=Place("f", 1, 2))
    for twin in (pickle.loads(pickle.dumps(error)), copy.copy(error)):
        assert type(twin) is kind
        assert str(twin) == str(error)
        assert twin.place == error.place


def test_exit_codes_tell_bad_input_from_our_fault() -> None:
    assert {k.__name__: k.exit_code for k in KINDS if k.exit_code != 64} == {"OurFault": 70}
    assert issubclass(UnitMissing, BadInput)
    assert not issubclass(OutsideTable, BadInput)
    assert OurFault("x").exit_code == 70


def test_control_marks_of_a_damaged_file_are_said_and_not_sent_to_the_terminal() -> None:
    said = str(BadInput("the row of \x1b[2JJ3\x19", next="look\x07"))
    assert said.isprintable()
    assert "\\x1b[2JJ3\\x19" in said
    assert said.endswith("look\\x07.")
