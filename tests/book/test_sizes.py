"""Sizes as people write them."""

from __future__ import annotations

import pytest

from lineproof.book.listing import size_of_od, sizes_listed
from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput


@pytest.mark.parametrize(
    ("written", "system", "nominal", "shown"),
    [
        ("12in", "nps", 12, "12 in"),
        ('12"', "nps", 12, "12 in"),
        ("NPS 12", "nps", 12, "12 in"),
        ("nps 1-1/2", "nps", 1.5, "1-1/2 in"),
        ("1-1/2in", "nps", 1.5, "1-1/2 in"),
        ("1 1/4 in", "nps", 1.25, "1-1/4 in"),
        ("3/4 in", "nps", 0.75, "3/4 in"),
        ("2.5in", "nps", 2.5, "2-1/2 in"),
        ("d315", "d", 315, "d315"),
        ("D 63", "d", 63, "d63"),
        ("d110mm", "d", 110, "d110"),
    ],
)
def test_read_and_shown(written: str, system: str, nominal: float, shown: str) -> None:
    size = Size.parse(written)
    assert size == Size(system, nominal)
    assert size.text == str(size) == shown
    assert Size.parse(size.text) == size
    assert size.metric is (system == "d")


@pytest.mark.parametrize(
    "written", ["12", "", "twelve in", "DN 200", "d", "1/0 in", "0in", "d99999", "1-1/0in", "12 in in"]
)
def test_what_is_no_size_is_refused(written: str) -> None:
    with pytest.raises(BadInput, match="size"):
        Size.parse(written)


def test_a_bare_number_says_what_it_wants() -> None:
    with pytest.raises(BadInput, match="in, NPS or d"):
        Size.parse("12")


def test_key_is_that_of_the_tables() -> None:
    assert [s.key for s in sizes_listed(book())[:4]] == ["0.5", "0.75", "1", "1.25"]
    assert sizes_listed(book(), "d")[-1] == Size("d", 400)
    assert Size("nps", 1.3).text == "1.3 in"


def test_a_measured_diameter_finds_its_size() -> None:
    """219.1 mm is NPS 8, and a tenth of a millimetre more still is; d315 is not NPS 12."""
    assert size_of_od(book(), 0.2191) == (Size("nps", 8),)
    assert size_of_od(book(), 0.2192) == (Size("nps", 8),)
    assert size_of_od(book(), 0.2300) == ()
    assert size_of_od(book(), 0.3155) == (Size("d", 315),)
    assert size_of_od(book(), 0.32385) == (Size("nps", 12),)
    assert size_of_od(book(), 0.32385, lambda s: s.metric) == ()
