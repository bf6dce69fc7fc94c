"""Profiles by which a joiner is qualified, typed by hand from what was read, and held on their edges.

- ASME B31.1a-2008, bonding performance (read): more than 6 months without the process; largest joint to
  NPS 4 the same size, above it NPS 4 or 25 % of the largest, whichever is larger.
- ASME B31.3 A328.2.5 and A328.2.6 (from memory): the same.
- IMO A.753(18) para 4.4.5 (first half read, second from memory): to 200 mm outside the same size, above it
  200 mm or 25 % of the largest.
- 49 CFR 192.285(c) (read): once each calendar year, at intervals of at most 15 months, or after any
  production joint that failed its test; text to 2018 (read): 12 months without a joint, or three joints or
  3 % of the joints, whichever is greater, found unacceptable.
- EN 13067 certificate clause (from memory): 2 years, confirmed by the employer every 6 months.
"""

from __future__ import annotations

from datetime import date

import pytest

from lineproof.book.bonders import SCHEMES, piece_covers, profile
from lineproof.book.load import Book, book
from lineproof.book.sizes import Size
from lineproof.checks.qualified import Need, Worked, standing
from lineproof.floor.sources import Reading
from lineproof.job.people import Qualification

NPS = {n: Size("nps", float(n)) for n in (2, 3, 4, 6, 8, 10, 12, 16, 20, 24)}
BOOK: Book = book()


def test_every_row_is_a_profile() -> None:
    assert set(BOOK.keys("bonder_qualification")) == set(SCHEMES)


@pytest.mark.parametrize(
    ("scheme", "column", "value", "read"),
    [
        ("asme-b31.1", "idle_months", 6, True),
        ("asme-b31.1", "size_floor_nps", 4, True),
        ("asme-b31.1", "size_share_pct", 25, True),
        ("asme-b31.3", "idle_months", 6, False),
        ("asme-b31.3", "size_floor_nps", 4, False),
        ("imo-a.753", "size_floor_mm", 200, False),
        ("imo-a.753", "idle_months", None, True),
        ("49-cfr-192.285", "apart_months", 15, True),
        ("49-cfr-192.285", "calendar_year", "yes", True),
        ("49-cfr-192.285", "failed", "any", True),
        ("49-cfr-192.285-2018", "idle_months", 12, True),
        ("49-cfr-192.285-2018", "failed_count", 3, True),
        ("49-cfr-192.285-2018", "failed_share_pct", 3, True),
        ("en-13067", "validity_months", 24, False),
        ("en-13067", "confirm_months", 6, False),
    ],
)
def test_what_was_read(scheme: str, column: str, value: object, read: bool) -> None:
    cell = BOOK.peek("bonder_qualification", scheme, column)
    assert cell.value == value
    if value is not None:
        assert cell.confirmed is read


@pytest.mark.parametrize(
    ("test", "largest", "covers"),
    [
        (3, 3, True), (3, 4, False), (4, 4, True),  # to NPS 4 the same size
        (4, 16, True), (4, 20, False),  # 25 % of 16 is 4, of 20 it is 5
        (6, 24, True),  # 25 % of 24 is 6: a 24 in job qualifies on NPS 6
        (3, 6, False),  # above NPS 4 at least NPS 4
    ],
)  # fmt: skip
def test_the_size_rule_of_b31(test: int, largest: int, covers: bool) -> None:
    assert piece_covers(BOOK, "asme-b31.1", NPS[test], NPS[largest], Reading()) is covers


def test_the_size_rule_of_the_imo_is_of_outside_diameters() -> None:
    """NPS 8 is 8.625 in = 219 mm outside, NPS 6 is 6.625 in = 168 mm (ASTM D1785)."""
    log = Reading()
    d160, d200, d400 = (Size("d", d) for d in (160.0, 200.0, 400.0))
    assert piece_covers(BOOK, "imo-a.753", d200, d400, log) is True
    assert piece_covers(BOOK, "imo-a.753", d160, d400, log) is False
    assert piece_covers(BOOK, "imo-a.753", NPS[6], NPS[8], log) is False
    assert piece_covers(BOOK, "imo-a.753", NPS[8], NPS[24], log) is True
    assert piece_covers(BOOK, "imo-a.753", NPS[8], d400, log) is True


def test_inches_and_millimetres_are_not_held_against_each_other() -> None:
    d110, d160 = Size("d", 110.0), Size("d", 160.0)
    assert piece_covers(BOOK, "asme-b31.1", NPS[6], d160, Reading()) is None
    assert piece_covers(BOOK, "asme-b31.1", d110, d160, Reading()) is None
    assert piece_covers(BOOK, "en-13067", d110, d160, Reading()) is True, "no such rule was read"


def q(**change: object) -> Qualification:
    base = {"material": "pvc", "steps": "two-step", "size_lo": NPS[2], "size_hi": NPS[24]}
    return Qualification(**{**base, **change})  # type: ignore[arg-type]  # a mixed set of test values


def state(held: Qualification, day: date, scheme: str, worked: Worked | None = None) -> str:
    need = Need(material="pvc", steps="two-step", smallest=NPS[6], largest=NPS[12])
    return standing((held,), need, day, scheme, BOOK, Reading(), worked=worked or Worked())


@pytest.mark.parametrize(
    ("tested", "last"),
    [
        (date(2026, 1, 10), date(2027, 4, 10)),  # 15 months
        (date(2026, 9, 30), date(2027, 12, 30)),  # 15 months, a day before the year ends
        (
            date(2026, 12, 1),
            date(2027, 12, 31),
        ),  # the next calendar year has its test, though 15 months allow more
    ],
)
def test_each_calendar_year_and_fifteen_months(tested: date, last: date) -> None:
    held = q(tested_on=tested)
    assert state(held, last, "49-cfr-192.285") == ""
    after = date.fromordinal(last.toordinal() + 1)
    assert state(held, after, "49-cfr-192.285") == "expired"
    assert state(held, after, "49-cfr-192.285", Worked(days=(last,), joints=(last,))) == "expired", (
        "use is no test"
    )


def test_six_months_without_the_process() -> None:
    held = q(tested_on=date(2026, 2, 10), last_used_on=date(2026, 8, 31))
    assert state(held, date(2027, 2, 28), "asme-b31.1") == "", "six months after 31 August"
    assert state(held, date(2027, 3, 1), "asme-b31.1") == "lapsed"
    kept = Worked(days=(date(2027, 2, 28),))
    assert state(held, date(2027, 8, 28), "asme-b31.1", kept) == ""
    late = Worked(days=(date(2027, 3, 1),))
    assert state(held, date(2027, 3, 2), "asme-b31.1", late) == "lapsed", (
        "a joint after the lapse keeps nothing"
    )


def test_a_day_of_use_on_the_list_says_nothing_of_the_time_before() -> None:
    held = q(tested_on=date(2026, 1, 1), last_used_on=date(2027, 6, 1))
    assert state(held, date(2027, 5, 1), "asme-b31.1") == "no_day"
    assert state(held, date(2026, 6, 1), "asme-b31.1") == ""


def test_two_years_and_a_word_of_the_employer() -> None:
    held = q(tested_on=date(2026, 1, 31), confirmed_on=date(2027, 7, 31))
    assert state(held, date(2026, 7, 31), "en-13067") == ""
    assert state(held, date(2026, 8, 1), "en-13067") == "not_confirmed"
    assert state(held, date(2028, 1, 31), "en-13067") == ""
    assert state(held, date(2028, 2, 1), "en-13067") == "expired"


def test_rows_from_memory_are_not_confirmed() -> None:
    for scheme, read in (
        ("asme-b31.1", True),
        ("49-cfr-192.285", True),
        ("asme-b31.3", False),
        ("en-13067", False),
    ):
        log = Reading()
        profile(BOOK, scheme, log)
        assert (log.unconfirmed() == ()) is read, scheme
