"""Cans against a line: the wrong cement, the lot that expires in week 3. All data are invented."""

from __future__ import annotations

from datetime import date

import pytest

from crew_rig import SIX, START, TWO, settings
from lineproof.book.sizes import Size
from lineproof.job.cans import CanFit, cans_for, day_of_use
from lineproof.job.cards import CementCard
from lineproof.job.duty import Chemical, Chemicals, LineDuty
from lineproof.job.settings import Conditions
from lineproof.job.stock import Can

THREE = Size.parse("3in")
PINT = 473.176473e-6


def card(id: str, material: str, thickener: str = "none", **more: object) -> CementCard:
    told = {"product": f"{id} (invented)", "steps": "two-step", "sizes_to": SIX}
    read = {"typed_by": "A", "read_back_by": "B"}
    return CementCard(id=id, material=material, thickener=thickener, **{**told, **read, **more})


def can(id: str, of: str, expires: date | None = date(2028, 1, 1), *lines: str) -> Can:
    told = {"volume": PINT, "count": 4, "lot": f"LOT-{id}", "lines": lines}
    return Can(id=id, kind="cement", card=of, expires=expires, **told)


GREY, WHITE = card("GREY", "pvc", "silica"), card("WHITE", "cpvc")
ORANGE = card("ORANGE", "cpvc", "silica")


def only(found: tuple[CanFit, ...]) -> CanFit:
    assert len(found) == 1
    return found[0]


def test_silica_is_refused_for_hypochlorite_and_the_right_can_is_not() -> None:
    job = settings(cans=(can("K-9", "ORANGE"), can("K-8", "WHITE")), cards=(GREY, WHITE, ORANGE))
    wrong, right = cans_for(job, "B-302", START, material="cpvc", sizes=(TWO, THREE))
    assert (wrong.can.id, wrong.refused) == ("K-9", ("silica", "other-card"))
    assert right.fits


@pytest.mark.parametrize(
    ("chemical", "refused"),
    [
        (Chemicals.CAUSTIC, True),
        (Chemicals.HYPOCHLORITE, True),
        (Chemicals.WATER, False),
        (Chemicals.SEAWATER, False),
    ],
)
def test_which_chemicals_eat_silica(chemical: Chemicals, refused: bool) -> None:
    """Common practice, no source: the maker must say that a thickener is fit for hypochlorite or caustic."""
    job = settings(
        cans=(can("K", "ORANGE"),), cards=(ORANGE,), lines=(LineDuty(line="X", chemical=Chemical(chemical)),)
    )
    assert ("silica" in only(cans_for(job, "X", START, material="cpvc")).refused) is refused


def test_the_lot_that_expires_in_week_3() -> None:
    job = settings(cans=(can("K-5", "GREY", date(2027, 4, 20)),), cards=(GREY,))
    week = [
        only(cans_for(job, "B-201", day_of_use(job, days), material="pvc")) for days in (0, 7, 15, 16, 21)
    ]
    assert [w.refused for w in week] == [(), (), (), ("expires-before-use",), ("expires-before-use",)]
    assert week[2].fits  # good on the date itself, 15 days after the start


def test_expired_before_the_work_begins() -> None:
    job = settings(cans=(can("K", "GREY", date(2027, 4, 4)),), cards=(GREY,))
    assert only(cans_for(job, "B-201", START, material="pvc")).refused == ("expired",)


def test_cpvc_cement_on_pvc_and_the_other_way_round() -> None:
    job = settings(cans=(can("K", "WHITE"),), cards=(GREY, WHITE))
    assert only(cans_for(job, "B-201", START, material="pvc")).refused == ("material", "other-card")


def test_sizes_steps_and_what_nobody_said() -> None:
    small = card("GREY", "pvc", sizes_to=TWO, steps="one-step")
    job = settings(cans=(can("K", "GREY"),), cards=(small,))
    assert only(cans_for(job, "B-201", START, material="pvc", sizes=(TWO, SIX))).refused == ("size", "steps")
    vague = card("GREY", "pvc", "", sizes_to=None, read_back_by="")
    job = settings(
        cans=(can("K", "GREY", None),), cards=(vague,), lines=(LineDuty(line="B-201", cement="GREY"),),
    )  # fmt: skip
    found = only(cans_for(job, "B-201", START, material="pvc", sizes=(SIX,)))
    assert found.refused == ()
    assert found.unknown == ("chemical-unknown", "expiry-unknown", "size-unknown", "card-not-read-back")
    assert not found.fits


def test_thickener_unknown_beside_hypochlorite_and_a_can_without_a_card() -> None:
    vague = card("WHITE", "cpvc", "")
    job = settings(cans=(can("K", "WHITE"), can("L", "")), cards=(vague,))
    first, second = cans_for(job, "B-301", START, material="cpvc")
    assert (first.refused, first.unknown) == ((), ("thickener-unknown",))
    assert second.unknown == ("no-card",)


def test_cans_for_other_lines_are_not_asked_and_no_start_means_no_day() -> None:
    job = settings(
        cans=(can("K", "GREY", date(2028, 1, 1), "B-3*"), can("L", "GREY")),
        cards=(GREY,),
        conditions=Conditions(),
    )
    assert day_of_use(job, 3) is None
    found = only(cans_for(job, "B-201", None, material="pvc"))
    assert (found.can.id, found.unknown) == ("L", ("day-unknown",))


def test_primer_has_a_date_and_no_card() -> None:
    primer = Can(id="PR", kind="primer", volume=PINT, expires=date(2027, 4, 10))
    job = settings(cans=(primer,))
    found = only(cans_for(job, "B-201", date(2027, 4, 11), material="pvc", kind="primer"))
    assert (found.refused, found.unknown) == (("expires-before-use",), ())
