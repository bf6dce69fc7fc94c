"""Joiners against a joint: the lapsed one is named, with the rule. All people are invented."""

from __future__ import annotations

from datetime import date

import pytest

from crew_rig import SIX, START, TWO, settings
from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.job.joiners import JoinerFit, joiners_for, months_later
from lineproof.job.people import Crew, Person, Qualification

TWELVE = Size.parse("12in")


def joiner(id: str, last: date | None = date(2027, 3, 1), **more: object) -> Person:
    told = {"material": "pvc", "steps": "two-step", "size_lo": TWO, "size_hi": TWELVE, "last_used_on": last}
    return Person(id=id, name=f"{id} (invented)", qualifications=(Qualification(**{**told, **more}),))


def asked(
    *people: Person, day: date | None = START, size: Size = SIX, **more: object
) -> dict[str, JoinerFit]:
    job = settings(people=people, **more)
    return {f.person.id: f for f in joiners_for(job, book(), day, line="B-201", material="pvc", size=size)}


def test_more_than_six_months_without_the_process_and_it_has_lapsed() -> None:
    """ASME B31.1a-2008, bonding performance: longer than 6 months without the process (read)."""
    found = asked(joiner("A"), joiner("B", date(2026, 10, 4)), joiner("C", date(2026, 10, 5)))
    assert found["A"].fits
    assert (found["B"].reasons, found["B"].lapses_on) == (("lapsed",), date(2027, 4, 4))
    assert found["C"].fits  # six months to the day is not longer than six months
    assert [c.value for c in found["B"].cells] == [6.0]
    assert {c.table for c in found["B"].cells} == {"bonder_lapse"}


@pytest.mark.parametrize(
    ("more", "reasons"),
    [
        ({"material": "cpvc"}, ("material",)),
        ({"steps": "one-step"}, ("steps",)),
        ({"size_hi": TWO}, ("size",)),
        ({"procedure": "OTHER"}, ("procedure",)),
        ({"procedure": "P"}, ()),
        (
            {"material": "cpvc", "size_hi": TWO, "last_used_on": date(2026, 1, 1)},
            ("material", "size", "lapsed"),
        ),
    ],
)
def test_why_not(more: dict[str, object], reasons: tuple[str, ...]) -> None:
    assert asked(joiner("A", **more))["A"].reasons == reasons


def test_the_best_of_several_qualifications_speaks() -> None:
    old = joiner("A", material="cpvc").qualifications
    both = Person(id="A", name="A", qualifications=(*old, *joiner("A").qualifications))
    assert asked(both)["A"].fits


def test_nobody_said_when_it_was_last_used() -> None:
    found = asked(joiner("A", None), joiner("B"), day=None)
    assert found["A"].unknown == ("last-used-unknown",)
    assert found["B"].unknown == ("day-unknown",)
    assert not found["A"].fits


def test_crews_of_the_line_are_asked_and_helpers_are_told_apart() -> None:
    crews = (Crew(id="CR", people=("H", "A"), lines=("B-2*",)), Crew(id="X", people=("Z",), lines=("C-*",)))
    found = asked(joiner("A"), Person(id="H", name="H"), joiner("Z"), crews=crews)
    assert list(found) == ["H", "A"]
    assert found["H"].reasons == ("none",)
    # without crews only those with a qualification are asked
    assert list(asked(joiner("A"), Person(id="H", name="H"))) == ["A"]


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2027, 8, 31), 6, date(2028, 2, 29)),
        (date(2026, 12, 15), 1, date(2027, 1, 15)),
        (date(2026, 6, 30), 6, date(2026, 12, 30)),
        (date(2026, 6, 30), 24, date(2028, 6, 30)),
    ],
)
def test_calendar_months(day: date, months: int, later: date) -> None:
    assert months_later(day, months) == later
