"""A card as it is sealed: its content as typed, its seal by an independent hand, the same card again."""

from __future__ import annotations

import hashlib
import tomllib
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.job.card_rows import CURE, HANDLING, CardRow
from lineproof.job.card_seal import card_from, seal_of, told_of
from lineproof.job.cards import CementCard
from lineproof.job.clock_card import card_waits, longest_waits
from lineproof.job.folder_toml import read_settings
from lineproof.logbook.entry import canonical

DEMO = (resources.files("lineproof") / "demo" / "brackstow" / "job.toml").read_text("utf-8")
TEMPLATE = (resources.files("lineproof.job") / "template" / "job.toml").read_text("utf-8")
SMALL = """[[cards]]
id = "C-9"
product = "Grey (invented)"
material = "pvc"
typed_on = 2027-04-05
rows = [{ kind = "handling", size_lo = "2in", size_hi = "4in", time = "2 h" }]
factors = [{ when = "damp", times = 1.5, humidity_over = "60 %" }]
"""


@pytest.mark.parametrize("text", [DEMO, TEMPLATE], ids=["demo", "template"])
def test_the_same_card_comes_out_again(text: str) -> None:
    cards = read_settings(text).cards
    assert cards
    for card in cards:
        told = told_of(text, card.id)
        canonical(told)  # a logbook can hold it
        assert card_from(told) == card


def test_the_seal_by_hand() -> None:
    """SHA-256 of JSON with sorted keys and no blanks, written out here (FIPS 180-4, RFC 8259)."""
    plain = (
        '{"factors":[{"humidity_over":"60 %","times":{"number":"1.5"},"when":"damp"}],"id":"C-9",'
        '"material":"pvc","product":"Grey (invented)","rows":[{"kind":"handling","size_hi":"4in",'
        '"size_lo":"2in","time":"2 h"}],"typed_on":"2027-04-05"}'
    )
    assert seal_of(told_of(SMALL, "C-9")) == hashlib.sha256(plain.encode()).hexdigest()


def test_any_change_of_what_is_typed_is_another_seal() -> None:
    first = seal_of(told_of(SMALL, "C-9"))
    for old, new in (("2 h", "1 h"), ("60 %", "65 %"), ("1.5", "1.25"), ("2027-04-05", "2027-04-06")):
        assert seal_of(told_of(SMALL.replace(old, new), "C-9")) != first
    turned = SMALL.replace('material = "pvc"\n', "").replace('id = "C-9"\n', 'id = "C-9"\nmaterial = "pvc"\n')
    assert tomllib.loads(turned) == tomllib.loads(SMALL)
    assert seal_of(told_of(turned, "C-9")) == first, "the order of the lines is no content"


def test_a_card_that_is_not_there_or_cannot_be_read() -> None:
    with pytest.raises(BadInput, match="C-8"):
        told_of(SMALL, "C-8")
    assert card_from({**told_of(SMALL, "C-9"), "colour": "grey"}) is None
    assert card_from({"id": "C-9"}) is None


SIX = Size("nps", 6.0)


def card(id: str, *hours: float | None, damp: bool = False) -> CementCard:
    """Handling at 280 to 290 K and at 290 to 300 K; None for a band that is not printed."""
    bands = ((280.0, 290.0), (290.0, 300.0))
    rows = tuple(
        CardRow(
            kind=kind, size_lo=SIX, size_hi=SIX, time=h * 3600.0, temp_lo=lo, temp_hi=hi, pressure_max=top
        )
        for (lo, hi), h in zip(bands, hours, strict=True)
        if h is not None
        for kind, top in ((HANDLING, None), (CURE, 5e5))
    )
    return CementCard(id=id, product="invented", material="pvc", rows=rows)


@pytest.mark.parametrize(
    ("versions", "cold", "warm"),
    [
        ([card("C", 4, 2), card("C", 2, 3)], 4, 3),  # the longest, cell by cell
        ([card("C", None, 2), card("C", 3, 1)], 3, 2),  # an older version that prints nothing is passed over
        ([card("C", 4, 2), card("C", None, 1)], None, 2),  # the newest prints nothing
        ([card("D", 6, 1), card("C", 2, 1)], 6, 1),  # two cards, both the newest of their id
        ([card("D", None, None), card("C", 2, 1)], None, None),
        ([card("D", None, 1), card("D", 5, 1), card("C", 2, 1)], 5, 1),
    ],
)
def test_the_longest_of_all_versions_cell_by_cell(
    versions: list[CementCard], cold: float | None, warm: float | None
) -> None:
    for kind, pressure in ((HANDLING, None), (CURE, 4e5)):
        table = longest_waits(versions, kind, SIX, pressure_Pa=pressure)
        for temp, hours in ((285.0, cold), (295.0, warm)):
            wait = table.waits(temp)
            assert (wait and wait / 3600.0) == hours, temp
            row = table.rests_on(temp, None)
            assert (row and row.time) == wait
        assert table.card is versions[-1]


def test_an_edge_belongs_to_the_longer() -> None:
    table = longest_waits([card("C", 4, 2), card("C", 2, 3)], HANDLING, SIX)
    assert [table.waits(t) for t in (289.99, 290.0, 290.01)] == [4 * 3600.0, 4 * 3600.0, 3 * 3600.0]


def test_one_version_is_that_card() -> None:
    one = card("C", 4, 2)
    alone, long = card_waits(one, HANDLING, SIX), longest_waits([one], HANDLING, SIX)
    assert (
        [alone.waits(t) for t in (281.0, 299.0)] == [long.waits(t) for t in (281.0, 299.0)] == [14400, 7200]
    )


HOURS = st.one_of(st.none(), st.integers(1, 200))


@given(st.lists(st.tuples(HOURS, HOURS), min_size=1, max_size=4), st.floats(279.0, 301.0))
def test_the_longest_is_never_shorter_than_any_version_and_silent_with_the_newest(
    told: list[tuple[int | None, int | None]], temp: float
) -> None:
    versions = [card("C", *hours) for hours in told]
    table = longest_waits(versions, CURE, SIX, pressure_Pa=4e5)
    alone = [card_waits(v, CURE, SIX, pressure_Pa=4e5).waits(temp) for v in versions]
    found = table.waits(temp)
    assert (found is None) is (alone[-1] is None)
    assert found is None or all(found >= wait for wait in alone if wait is not None)
