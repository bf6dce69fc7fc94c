"""Settings with invented cans, cards, people and crews, for tests of who and what fits a line."""

from __future__ import annotations

from datetime import date

from lineproof.book.sizes import Size
from lineproof.job.duty import Chemical, Chemicals, LineDuty
from lineproof.job.people import Procedure
from lineproof.job.settings import Conditions, Cutting, JobHead, Settings, Site

TWO, SIX = Size.parse("2in"), Size.parse("6in")
START = date(2027, 4, 5)

LINES = (
    LineDuty(line="B-2*", chemical=Chemical(Chemicals.WATER), cement="GREY", procedure="P"),
    LineDuty(line="B-3*", chemical=Chemical(Chemicals.HYPOCHLORITE, 0.125), cement="WHITE", procedure="P"),
)
PROCEDURE = Procedure(id="P", steps="two-step", material="pvc", size_lo=TWO, size_hi=SIX)
CUT = {"kerf": 0.003, "trim": 0.01, "stop_gap": 0.0, "bevel": 0.002, "field_extra": 0.1, "useful_offcut": 0.5}


def settings(**more: object) -> Settings:
    """A job's settings: water in B-2*, hypochlorite in B-3*, joining from 5 April 2027."""
    given = {"lines": LINES, "conditions": Conditions(start=START), "procedures": (PROCEDURE,)}
    return Settings(
        job=JobHead(id="B", name="Brackstow (invented)", invented=True),
        site=Site(name="B", timezone="Etc/UTC"),
        cutting=Cutting(**CUT, tape_error=0.001, cut_error=0.001),
        **{**given, **more},
    )
