"""Cases of every check: facts, and the verdict they must give once every table row is confirmed.

Limits that come from outside are named beside the case; a rule of our own says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

from lineproof.book.sizes import Size
from lineproof.checks.card_guards import CardRows
from lineproof.checks.card_times import BesideStandard, CardCure, CardTimes
from lineproof.checks.cement import ESTIMATE, Body, CardFits, CardNamed, Chemistry, LotDate, ReadBack
from lineproof.checks.conditions import Heard, OnTheSpot
from lineproof.checks.curing import Cured
from lineproof.checks.fittings import CentreToFace, LotCount, Measured, SocketDepth
from lineproof.checks.flanges import Drilling, Faces, FaceSaid, Torque
from lineproof.checks.geometry import AngleAsked, Closing, CouplingPlace, FieldPiece, Leftover, Room
from lineproof.checks.hour import HourAt, Tent
from lineproof.checks.joiners import Ahead, CrewSkill, HandsThere, Joiner, MockUp
from lineproof.checks.last_gap import LastGap
from lineproof.checks.made import Examined, Hand, Insertion, Makers, WholeRecord
from lineproof.checks.made_lots import LotsUsed, LotUsed
from lineproof.checks.moving import HandsOff, HoldEnded, HoldTags, JointRecord
from lineproof.checks.pressure import FITTING, OPENED, PIPE, Cap, Heights, InSection, Medium, Rated, Weakest
from lineproof.checks.qualified import NO_WORK, Need, Worked
from lineproof.checks.raising import CapThere, GaugeGood, SourceLimit, WallNow
from lineproof.checks.registry import About
from lineproof.checks.section_state import (
    Fresh,
    LookedAt,
    Pressed,
    SectionEnd,
    SectionKnown,
)
from lineproof.checks.sequence import Carried, LoopOpens, OrderFound, TwoAtOnce
from lineproof.checks.site import HotWorkNear, Storage, Weather
from lineproof.checks.springing import Spring
from lineproof.checks.stock import BellMeasured, SpoolAlike, StockNamed
from lineproof.checks.systems import Family, Materials, Sizes, Systems
from lineproof.floor.verdicts import Verdict
from lineproof.job.card_rows import CardRow
from lineproof.job.people import Qualification

GO, CARE, CANNOT_TELL, STOP = Verdict.GO, Verdict.CARE, Verdict.CANNOT_TELL, Verdict.STOP
IN, FT, PSI, GAL = 0.0254, 0.3048, 6894.757293168, 231 * 0.0254**3
NPS12, NPS8, NPS6, NPS24 = Size("nps", 12.0), Size("nps", 8.0), Size("nps", 6.0), Size("nps", 24.0)
D315, D110, D250 = Size("d", 315.0), Size("d", 110.0), Size("d", 250.0)


def fahrenheit(t: float) -> float:
    return (t - 32.0) * 5.0 / 9.0 + 273.15


@dataclass(frozen=True)
class Case:
    id: str
    name: str
    facts: About
    verdict: Verdict
    why: str = ""


CASES: list[Case] = []


def group(id: str, kind: type[About], base: dict[str, Any]) -> Any:
    """A maker of cases that change some of the base facts."""

    def case(name: str, verdict: Verdict, why: str = "", **change: Any) -> None:
        facts = kind(**{"subject": "B-201/E1", **base, **change})
        CASES.append(Case(id, name, facts, verdict, why))

    return case


# ---------------------------------------------------------------- geometry

case = group(
    "GEO-01", Room, {"face_to_face": 5 * IN, "needed": 4 * IN, "own_room": 12 * IN, "nipple": 16 * IN}
)
case("go", GO)
case("limit: just the room needed", GO, face_to_face=4 * IN)
case("stop: less than straps need", STOP, "close", face_to_face=3 * IN)
case("stop: sockets meet", STOP, "meet", face_to_face=-1 * IN)
case("missing: not measured", CANNOT_TELL, "not_measured", face_to_face=None)
case("missing: room not said and little there", CANNOT_TELL, "not_said", needed=None)
case("room not said and plenty there", GO, needed=None, face_to_face=12 * IN)

case = group(
    "GEO-02", AngleAsked, {"angle_deg": 45.0, "fitting_deg": 45.0, "choices": (90.0, 45.0, 22.5, 11.25)}
)
case("go", GO)
case("stop: no fitting turns 60 degrees", STOP, "none", angle_deg=60.0, fitting_deg=None)

HALF = math.radians(0.5)
case = group(
    "GEO-03", Leftover, {"leftover": HALF / 2, "limit": HALF, "limit_by": "BP-1", "lands_at": "B-201/E1"}
)
case("go: within the procedure", GO)
case("go: nothing left", GO, "none", leftover=0.0)
case("limit: as much as the procedure allows", GO, leftover=HALF)
case("stop: more than the procedure allows", STOP, "over", leftover=HALF * 1.01)
case("missing: no procedure, small", CARE, "small", limit=None)
case("missing: no procedure, exactly half a degree", CARE, "small", limit=None, leftover=HALF)
case("missing: no procedure, more", CANNOT_TELL, "no_limit", limit=None, leftover=HALF * 1.01)

case = group("GEO-04", FieldPiece, {"runs": ()})
case("go", GO)
case("care: no field piece", CARE, runs=("B-201/A", "B-201/B"))

case = group("GEO-05", CouplingPlace, {"found": True})
case("go", GO)
case("stop", STOP, found=False)

case = group("GEO-06", Closing, {"closed": True})
case("go", GO)
case("stop", STOP, closed=False)
case("missing: fittings not measured", CANNOT_TELL, closed=None, waits=("elbow 90, 12 in",))

# ---------------------------------------------------------------- systems

case = group(
    "SYS-01", Sizes,
    {
        "pipe_size": NPS12, "socket_size": NPS12, "material": "pvc", "pipe_series": "sch80",
        "socket_series": "sch80", "pipe_family": "ips", "part": "elbow 90, 12 in",
    },
)  # fmt: skip
case("go", GO)
case(
    "stop: d315 pipe in a 12 in socket",
    STOP,
    "differ",
    pipe_size=D315,
    pipe_series="pn10",
    pipe_family="metric",
)
case("stop: 10 in socket", STOP, "differ", socket_size=Size("nps", 10.0))
case("stop: size that no table lists", STOP, "differ_unlisted", socket_size=Size("nps", 13.0))

case = group("SYS-02", Materials, {"pipe_material": "cpvc", "part_material": "cpvc", "part": "valve, 2 in"})
case("go", GO)
case("stop: PVC part on a CPVC line", STOP, part_material="pvc")
case("care: said to be meant", CARE, part_material="pvc", mixed=True)

SYSTEM = {
    "size": NPS12, "material": "pvc", "pipe_family": "ips", "socket_family": "ips", "pipe_series": "sch80",
    "socket_series": "sch80", "part": "elbow 90, 12 in",
}  # fmt: skip
case = group("SYS-03", Systems, SYSTEM)
case("go", GO)
case("stop: irrigation pipe in an iron-pipe socket", STOP, "family", pipe_family="irrigation")
case("care: a Sch 40 fitting on Sch 80 pipe", CARE, "lower", socket_series="sch40")
case("go: a Sch 80 fitting on Sch 40 pipe", GO, pipe_series="sch40")
case("care: SDR 41 on SDR 26, the thinner wall", CARE, "lower", pipe_series="sdr26", socket_series="sdr41")
case("go: Sch 80 fitting on SDR 26 pipe, by rating", GO, pipe_series="sdr26")
case(
    "care: Sch 40 fitting on SDR 26 pipe, by rating",
    CARE,
    "lower_rated",
    pipe_series="sdr26",
    socket_series="sch40",
)
case("care: no table compares them", CARE, "other_series", material="cpvc", pipe_series="sdr11")
case("missing: family not said", CANNOT_TELL, "not_said", pipe_family="")

case = group(
    "SYS-04", Family,
    {"size": NPS12, "material": "pvc", "series": "sdr26", "family": "ips", "choices": ("ips", "irrigation")},
)  # fmt: skip
case("go", GO)
case("missing: nobody said", CANNOT_TELL, family="")

# ---------------------------------------------------------------- fittings

case = group("PRT-01", Measured, {"what": "elbow 90, 12 in, lot E12-3"})
case("go", GO)
case("missing: not measured", CANNOT_TELL, reason="not measured", wants=3, measured=1, waiting=4, places=2)

DEPTH = {"what": "elbow 90, 12 in", "size": NPS12, "material": "pvc", "series": "sch80", "depth": 6.1 * IN}
case = group("PRT-02", SocketDepth, DEPTH)
case("go", GO)
# NPS 12: 6.000 in least depth in the table of sockets carried (D2467)
case("limit: the least depth", GO, depth=6.0 * IN)
case("stop: below the standard", STOP, "below_standard", depth=5.9 * IN)
case("missing: not measured", CANNOT_TELL, "not_measured", depth=None)
LARGE = {"size": NPS24, "sisters": 0.305, "sister_count": 12}
case("go: as its sisters", GO, depth=0.303, **LARGE)
case("limit: 5 mm short of its sisters (own rule)", GO, depth=0.300, **LARGE)
case("stop: 12 mm short of its sisters", STOP, "shorter_than_sisters", depth=0.293, **LARGE)
case("go: alone, about as deep as expected", GO, depth=0.300, size=NPS24)
case("alone, unlikely", CANNOT_TELL, "unlikely", depth=0.150, size=NPS24)
case("missing: no table, no sisters", CANNOT_TELL, "no_table", size=NPS12, series="sdr26")

REACH = {
    "what": "elbow 90, 12 in", "reach": 12.8 * IN, "depth": 6.1 * IN, "turn_deg": 90.0, "across": NPS12,
    "material": "pvc", "series": "sch80", "family": "ips",
}  # fmt: skip
case = group("PRT-03", CentreToFace, REACH)
case("go", GO)
case("go: nothing to clear", GO, across=None)
# Sch 80, NPS 12: 12.750 - 2 x 0.687 = 11.376 in bore (ASTM D1785 sizes); half of it for a right angle
case("limit: the stop at the edge of the bore", GO, reach=6.1 * IN + 11.376 / 2 * IN)
case("inside the bore", CANNOT_TELL, "inside_bore", reach=11.5 * IN)
case("stop at the centre", CANNOT_TELL, "past_centre", reach=6.1 * IN)
case("missing: depth", CANNOT_TELL, "not_measured", depth=None)
case("missing: bore", CANNOT_TELL, "no_bore", series="sdr99")

case = group("PRT-04", LotCount, {"what": "elbow 90, 12 in", "have": 6, "needed": 5})
case("go", GO)
case("limit: just enough", GO, needed=6)
case("care: one to order", CARE, "short", needed=7)
case("missing: not counted", CANNOT_TELL, "not_counted", have=None)

# ---------------------------------------------------------------- flanges

case = group("FLG-01", Faces, {"size": NPS12, "face_a": "flat", "face_b": "flat", "pairs": 2})
case("go", GO)
case("stop: flat on raised", STOP, face_b="raised")
case("stop: one filler for two pairs", STOP, face_b="raised", fillers=1)
case("limit: a filler for each", GO, face_b="raised", fillers=2)
case("missing: face not said", CANNOT_TELL, "not_said", face_b="")

case = group("FLG-02", FaceSaid, {"face": "flat"})
case("go", GO)
case("missing: nobody said", CANNOT_TELL, face="")

case = group("FLG-03", Torque, {"size": NPS12, "torque": 80.0, "source": "data sheet (invented)"})
case("go", GO)
case("missing: torque", CANNOT_TELL, torque=None)
case("missing: its paper", CANNOT_TELL, source="")

case = group("FLG-04", Drilling, {"size": D250, "drilling_a": "pn10", "drilling_b": "pn10"})
case("go", GO)
# EN 1092-1: PN 10 and PN 16 share their drilling to DN 150 and part from DN 200
case("go: drilled alike at this size", GO, size=D110, drilling_b="pn16")
case("stop: 12 bolts each way, other circles", STOP, "bolts", size=D315, drilling_b="pn16")
case("stop: no table for one of them", STOP, "differ", drilling_b="class150")
case("missing: not said", CANNOT_TELL, "not_said", drilling_b="")

# ---------------------------------------------------------------- cement

case = group("CEM-01", CardNamed, {"card": "C-1", "known": True})
case("go", GO)
case("missing: none named", CANNOT_TELL, "none", card="", known=False)
case("missing: not there", CANNOT_TELL, "not_there", known=False)

case = group("CEM-02", CardFits, {"card": "C-1", "card_material": "pvc", "line_material": "pvc"})
case("go", GO)
case("stop: CPVC cement on PVC", STOP, "material", card_material="cpvc")
case("stop: one-step cement, two-step procedure", STOP, "steps", card_steps="one-step", line_steps="two-step")
case("missing: card does not say", CANNOT_TELL, "not_said", card_material="")

case = group("CEM-03", Chemistry, {"chemical": "water", "thickener": "silica", "card": "C-1"})
case("go: water", GO)
BLEACH = {"chemical": "hypochlorite", "chemical_text": "hypochlorite 12.5 %"}
case("go: no silica", GO, thickener="none", **BLEACH)
case("stop: silica and hypochlorite", STOP, "silica", **BLEACH)
case("stop: silica and caustic", STOP, "silica", chemical="caustic", chemical_text="caustic")
case("missing: thickener", CANNOT_TELL, "no_thickener", thickener="", **BLEACH)
case("missing: chemical", CANNOT_TELL, "no_chemical", chemical="")

case = group(
    "CEM-04", LotDate,
    {
        "kind": "cement", "lot": "HG-1", "expires": date(2027, 6, 30), "first_day": date(2027, 4, 12),
        "last_day": date(2027, 5, 3), "last_day_by": "plan",
    },
)  # fmt: skip
case("go", GO)
case("limit: its last day is the last day of use", GO, expires=date(2027, 5, 3))
case("stop: expires in week 3", STOP, "expires_early", expires=date(2027, 4, 28))
case("stop: expired before the start", STOP, "expired", expires=date(2027, 4, 11))
case("care: close to an estimate", CARE, "close", expires=date(2027, 5, 4), last_day_by=ESTIMATE)
case("missing: date", CANNOT_TELL, "no_date", expires=None)
case("missing: start", CANNOT_TELL, "no_start", first_day=None)
case("missing: end", CANNOT_TELL, "no_end", last_day=None)

case = group(
    "CEM-05", Body, {"size": NPS12, "material": "pvc", "card": "C-1", "body": "heavy", "suits": True}
)
case("go", GO)
case("go: card does not say its largest size", GO, suits=None)
# bodies by size as carried under ASTM D2564: medium to NPS 6, heavy to NPS 12
case("limit: medium at NPS 6", GO, size=NPS6, body="medium")
case("stop: medium at NPS 8", STOP, "thin", size=NPS8, body="medium")
case("stop: regular for a net fit", STOP, "thin", size=Size("nps", 2.0), body="regular", fit="net")
case("go: regular for an interference fit", GO, size=Size("nps", 2.0), body="regular", fit="interference")
case("stop: the card ends below the size", STOP, "card_ends", suits=False)
case("missing: body", CANNOT_TELL, "no_body", body="")
case("missing: above the classes, card silent", CANNOT_TELL, "no_class", size=NPS24, suits=None)
case("go: CPVC by its card", GO, material="cpvc")

case = group("CEM-06", ReadBack, {"card": "C-1", "typed_by": "P-1", "read_back_by": "P-4"})
case("go", GO)
case("same person", CANNOT_TELL, "same_person", read_back_by="P-1")
case("missing: second reader", CANNOT_TELL, "not_read_back", read_back_by="")
case("missing: who typed", CANNOT_TELL, "not_typed", typed_by="")
case("missing: a reading back since it was changed", CANNOT_TELL, "changed", changed=True)

COLD = fahrenheit(50.0)
TIMES = {
    "size": NPS8, "card": "C-1", "hold": 180.0, "handling": 4 * 3600.0, "temperature": COLD, "humidity": 0.5,
}  # fmt: skip
case = group("CEM-07", CardTimes, TIMES)
case("go", GO)
case("missing: no row", CANNOT_TELL, "no_row", handling=None)
case(
    "missing: no temperature",
    CANNOT_TELL,
    "no_input",
    handling=None,
    temperature=None,
    lacks=("pipe temperature",),
)

case = group(
    "CEM-09", CardCure,
    {
        "size": NPS8, "card": "C-1", "cure": 72 * 3600.0, "pressure": 100 * PSI, "temperature": COLD,
        "humidity": 0.5,
    },
)  # fmt: skip
case("go", GO)
case("missing: no row", CANNOT_TELL, "no_row", cure=None)
case("missing: no height", CANNOT_TELL, "no_input", cure=None, pressure=None, lacks=("elevation",))

case = group(
    "CEM-08", BesideStandard,
    {
        "size": NPS6, "material": "pvc", "card": "C-1", "handling": 96 * 3600.0, "cure": 400 * 3600.0,
        "temperature": COLD, "pressure": 100 * PSI, "humidity": 0.5, "both_names": True,
    },
)  # fmt: skip
case("go", GO)
case("care: shorter, two names", CARE, "shorter", cure=3600.0)
case("missing: shorter, one name", CANNOT_TELL, "shorter", cure=3600.0, both_names=False)
case("go: nothing carried above NPS 8", GO, "none_carried", size=NPS12)

H = 3600.0


def printed(kind: str, hours: float, lo: float, hi: float, size: Size = NPS6, **more: Any) -> CardRow:
    """A row between two temperatures. [degF]"""
    return CardRow(
        kind=kind, size_lo=size, size_hi=size, time=hours * H, temp_lo=fahrenheit(lo), temp_hi=fahrenheit(hi),
        **more,
    )  # fmt: skip


RISING = (printed("handling", 1.0, 40, 60), printed("handling", 0.5, 60, 100))
case = group("CEM-10", CardRows, {"card": "C-1", "rows": RISING, "both_names": False})
case("go", GO)
case("limit: just as long for colder", GO, rows=(printed("handling", 0.5, 40, 60), RISING[1]))
FALLING = {
    "colder": (printed("handling", 0.4, 40, 60), RISING[1]),
    "larger": (RISING[0], printed("handling", 0.9, 40, 60, NPS8)),
    "more pressure": (
        printed("cure", 24, 40, 60, pressure_max=100 * PSI),
        printed("cure", 23, 40, 60, pressure_max=180 * PSI),
    ),
    "damper": (
        printed("cure", 24, 40, 60, pressure_max=100 * PSI, humidity_max=0.6),
        printed("cure", 23, 40, 60, pressure_max=100 * PSI, humidity_max=0.8),
    ),
}
for harder, fall in FALLING.items():
    case(f"missing: shorter for {harder}, one name", CANNOT_TELL, "falls", rows=fall)
    case(f"care: shorter for {harder}, two names", CARE, "falls", rows=fall, both_names=True)
case("go: of another kind", GO, rows=(printed("hold", 0.1, 0, 40), RISING[1]))

# handling 1 h from 40 to 60 F, cure 12 h to 180 psi there for NPS 6: ASTM D2855-96(2002), from memory
TWELVE = printed("cure", 12, 40, 60, pressure_max=180 * PSI)
case = group(
    "CEM-11", CardRows,
    {"card": "C-1", "rows": (*RISING, TWELVE), "both_names": False, "material": "pvc", "steps": "two-step"},
)  # fmt: skip
case("limit: just as long as the standard's", GO)
ELEVEN = printed("cure", 11.9, 40, 60, pressure_max=180 * PSI)
case("missing: shorter, one name", CANNOT_TELL, "shorter", rows=(ELEVEN,))
case("care: shorter, two names", CARE, "shorter", rows=(ELEVEN,), both_names=True)
case(
    "care: reaches into the next column",
    CARE,
    "shorter",
    both_names=True,
    rows=(printed("cure", 12, 40, 60, pressure_max=181 * PSI),),
)
case(
    "care: reaches into the colder band",
    CARE,
    "shorter",
    both_names=True,
    rows=(printed("cure", 12, 39, 60, pressure_max=180 * PSI),),
)
case(
    "care: damp row beside the standard's times 1.5",
    CARE,
    "shorter",
    both_names=True,
    rows=(
        printed("cure", 12, 40, 60, pressure_max=180 * PSI, humidity_max=0.6),
        printed("cure", 17.9, 40, 60, pressure_max=180 * PSI, humidity_max=0.8),
    ),
)
case(
    "go: damp row just as long",
    GO,
    rows=(
        printed("cure", 12, 40, 60, pressure_max=180 * PSI, humidity_max=0.6),
        printed("cure", 18, 40, 60, pressure_max=180 * PSI, humidity_max=0.8),
    ),
)
case("go: nothing carried above NPS 8", GO, rows=(printed("cure", 1, 40, 60, NPS12, pressure_max=180 * PSI),))
case("go: nothing carried for CPVC", GO, rows=(ELEVEN,), material="cpvc")
case("go: nothing carried for one-step cement", GO, rows=(ELEVEN,), steps="one-step")

# ---------------------------------------------------------------- joiners

CARD = Qualification(
    material="pvc", steps="two-step", size_lo=Size("nps", 2.0), size_hi=NPS12, procedure="BP-2",
    tested_on=date(2026, 2, 10), last_used_on=date(2026, 11, 1),
)  # fmt: skip
NEED = Need(
    material="pvc", steps="two-step", smallest=NPS6, largest=NPS12, procedure="BP-2", day=date(2027, 4, 12)
)


def need(**change: Any) -> Need:
    return Need(**{**{f: getattr(NEED, f) for f in NEED.__dataclass_fields__}, **change})


case = group("PPL-01", Joiner, {"person": "P-3", "name": "Joiner 2", "qualifications": (CARD,), "need": NEED})
case("go", GO)
# longer than 6 months without the process: ASME B31.1a-2008
case("limit: six months to the day", GO, need=need(day=date(2027, 5, 1)))
case("stop: a day more", STOP, "lapsed", need=need(day=date(2027, 5, 2)))
case("stop: size not covered", STOP, "size", need=need(largest=Size("nps", 16.0)))
case("stop: metric is not inch", STOP, "size", need=need(smallest=D315, largest=D315))
case("stop: material", STOP, "material", need=need(material="cpvc"))
case("stop: steps", STOP, "steps", need=need(steps="one-step"))
case("stop: procedure", STOP, "procedure", need=need(procedure="BP-9"))
case("stop: tested after the day", STOP, "not_yet", need=need(day=date(2026, 2, 9)))
case("stop: nothing on the list", STOP, "none", qualifications=())
case("missing: first day", CANNOT_TELL, "no_day", need=need(day=None))


def card(**change: Any) -> tuple[Qualification, ...]:
    return (Qualification(**{**{f: getattr(CARD, f) for f in Qualification.__dataclass_fields__}, **change}),)


MAY1, MAY2 = date(2027, 5, 1), date(2027, 5, 2)
NPS4 = Size("nps", 4.0)
MARCH = Worked(days=(date(2027, 3, 1),), joints=(date(2027, 3, 1),))
case("go: joints recorded on the way keep it", GO, need=need(day=MAY2), worked=MARCH)
# greater of NPS 4 and 25 % of the largest: ASME B31.1a-2008
SIX, FOUR = card(size_hi=NPS24, test_size=NPS6), card(size_hi=NPS24, test_size=NPS4)
case("limit: NPS 6 stands for NPS 24", GO, need=need(largest=NPS24), qualifications=SIX)
case("stop: NPS 4 not for NPS 24", STOP, "test_size", need=need(largest=NPS24), qualifications=FOUR)
case(
    "missing: how far a metric piece reaches",
    CANNOT_TELL,
    "no_size_rule",
    qualifications=card(test_size=D110),
)
case("stop: by another profile", STOP, "scheme", bound=True, qualifications=card(scheme="en-13067"))
# EN 13067: 2 years, confirmed every 6 months (from memory)
EN = card(scheme="en-13067", tested_on=MAY1, confirmed_on=date(2028, 11, 5))
case("limit: two years to the day", GO, qualifications=EN, need=need(day=date(2029, 5, 1)))
case("stop: two years and a day", STOP, "expired", qualifications=EN, need=need(day=date(2029, 5, 2)))
case(
    "missing: the employer's word", CANNOT_TELL, "not_confirmed", qualifications=EN,
    need=need(day=date(2028, 5, 2)),
)  # fmt: skip
case("stop: past its own last day", STOP, "expired", qualifications=card(expires=date(2027, 4, 11)))
case("missing: any last day", CANNOT_TELL, "no_expiry", scheme="imo-a.753")
case("go: on its own last day", GO, scheme="imo-a.753", qualifications=card(expires=date(2027, 4, 12)))
# after any production joint that failed: 49 CFR 192.285(c)
CFR = {"scheme": "49-cfr-192.285", "qualifications": card(tested_on=date(2027, 1, 10))}
case("go: nothing failed", GO, **CFR)
case("stop: one failed since the test", STOP, "failed", worked=Worked(failed=(date(2027, 3, 1),)), **CFR)
case("go: one failed before the test", GO, worked=Worked(failed=(date(2027, 1, 9),)), **CFR)
# 3 joints or 3 %, the greater: 49 CFR 192.285(c) to 2018; 3 % of 100 are 3, of 101 more
OLD = {"scheme": "49-cfr-192.285-2018", "qualifications": card(tested_on=date(2027, 1, 10))}
THREE = (date(2027, 3, 1),) * 3
FEB = date(2027, 2, 1)
case("go: two failed", GO, worked=Worked(failed=THREE[:2]), **OLD)
case("stop: three failed", STOP, "failed", worked=Worked(failed=THREE), **OLD)
case("limit: three of 100", STOP, "failed", worked=Worked(failed=THREE, joints=(FEB,) * 100), **OLD)
case("go: three of 101", GO, worked=Worked(failed=THREE, joints=(FEB,) * 101), **OLD)

case = group(
    "PPL-02", CrewSkill, {"crews": ("CR-1",), "people": (((CARD,), NO_WORK), ((), NO_WORK)), "need": NEED}
)
case("go: one of two", GO)
case("limit: six months to the day", GO, need=need(day=date(2027, 5, 1)))
case("stop: nobody", STOP, people=(((), NO_WORK), ((), NO_WORK)))
case("stop: all lapsed", STOP, need=need(day=date(2027, 5, 2)))
case("missing: crew", CANNOT_TELL, "no_crew", crews=())
case("missing: first day", CANNOT_TELL, "no_day", need=need(day=None))

case = group(
    "PPL-03", Ahead,
    {"person": "P-3", "name": "Joiner 2", "qualifications": (CARD,), "need": NEED, "last_day": MAY1},
)  # fmt: skip
case("go", GO)
case("care: a day later", CARE, "ends", last_day=MAY2)
case("go: a joint made since", GO, last_day=MAY2, worked=Worked(days=(date(2027, 4, 13),)))
case("missing: the last day", CANNOT_TELL, "no_end", last_day=None)
case("missing: any end", CANNOT_TELL, "no_expiry", scheme="imo-a.753")

case = group("PPL-04", MockUp, {"person": "P-3", "name": "Joiner 2", "test": NPS12, "largest": NPS12})
case("go", GO)
case("care: NPS 6 for NPS 24", CARE, "small", test=NPS6, largest=NPS24)
case("go: small joints take no crew", GO, test=NPS4, largest=NPS6)
case("go: the document alone speaks", GO, "not_said", test=None)

case = group("HND-01", HandsThere, {"size": NPS12, "present": 4, "by_procedure": None})
# three from NPS 10 to 24: page of a plastics-failure laboratory
case("go", GO)
case("limit: just as many as the table asks for", GO, present=3)
case("care: fewer than the table asks for", CARE, "few", present=2)
case("stop: fewer than the procedure asks for", STOP, "procedure", present=3, by_procedure=4)
case("go: procedure kept", GO, by_procedure=4)
case(
    "care: too slow for the working time",
    CARE,
    "time",
    by_procedure=4,
    by_time=5,
    coating_time=150.0,
    working_time=120.0,
)
case("missing: crew", CANNOT_TELL, "no_crew", present=None)
case("missing: no rule reaches the size", CANNOT_TELL, "no_rule", size=Size("nps", 30.0))

# ---------------------------------------------------------------- pressure

# scenario of the house: a 150 psi valve 22 ft below a gauge at 135 psi sees 135 + 22 x 0.433 = 144.5 psi
VALVE = Rated(
    name="V-7", what="valve, 12 in", slot=OPENED, height=0.0, rating=150 * PSI, rated_at=fahrenheit(73.0),
    size=NPS12, material="pvc", series="sch80",
)  # fmt: skip
PIPE12 = Rated(
    name="B-201 E1 to T2", what="pipe, 12 in pvc sch80", slot=PIPE, height=0.0, rating=None, rated_at=None,
    size=NPS12, material="pvc", series="sch80", family="ips",
)  # fmt: skip
UNION = Rated(
    name="U1", what="union, 12 in", slot=OPENED, height=22 * FT, rating=None, rated_at=None, size=NPS12,
    material="pvc", series="sch80",
)  # fmt: skip
ELBOW = Rated(
    name="E1", what="elbow 90, 12 in", slot=FITTING, height=0.0, rating=None, rated_at=None, size=NPS12,
    material="pvc", series="sch80",
)  # fmt: skip
SECTION = {
    "section": "B-2", "gauge": "PG-2", "planned": 135 * PSI, "gauge_height": 22 * FT, "gauge_error": 2 * PSI,
    "wall": fahrenheit(73.0), "wall_by": "pressure cap", "parts": (VALVE, PIPE12, UNION),
}  # fmt: skip
case = group("PRS-01", Weakest, SECTION)
case("go", GO)
LEFT = 150 * PSI - 135 * PSI - 1000 * 9.80665 * 22 * FT
case("limit: the gauge error takes all that is left", GO, gauge_error=LEFT)
case("stop: a little more", STOP, gauge_error=LEFT + 10.0)
case("stop: hot wall", STOP, wall=fahrenheit(90.0))
case("go: hot wall, low pressure", GO, wall=fahrenheit(90.0), planned=60 * PSI)
case("missing: rating of a fitting", CANNOT_TELL, "unrated", parts=(VALVE, ELBOW))
case(
    "missing: height of a part",
    CANNOT_TELL,
    "unplaced",
    parts=(VALVE, Rated(**{**{f: getattr(VALVE, f) for f in VALVE.__dataclass_fields__}, "height": None})),
)
case("missing: gauge height", CANNOT_TELL, "no_input", gauge_height=None)
case("missing: wall temperature", CANNOT_TELL, "no_input", wall=None)

case = group(
    "PRS-02", Cap,
    {"section": "B-2", "planned": 135 * PSI, "cap": 150 * PSI, "signed_by": "P-7", "engineer": "P-7"},
)  # fmt: skip
case("go", GO)
case("limit: planned as the cap", GO, cap=135 * PSI)
case("stop: cap below", STOP, cap=134 * PSI)
case("missing: cap", CANNOT_TELL, "no_cap", cap=None)
case("missing: planned", CANNOT_TELL, "no_plan", planned=None)
case("missing: the engineer's signature", CANNOT_TELL, "not_engineer", signed_by="P-1")

case = group("PRS-03", Heights, {"section": "B-2", "gauge": "PG-2", "gauge_height": 6.0})
case("go", GO)
case("missing: gauge", CANNOT_TELL, "no_gauge", gauge="")
case("missing: its elevation", CANNOT_TELL, "gauge", gauge_height=None)
case("missing: a line's", CANNOT_TELL, "lines", unplaced=("B-201",))

case = group("PRS-04", Medium, {"section": "B-2", "medium": "water"})
case("go", GO)
case("stop: air", STOP, medium="air")
case("stop: gas", STOP, medium="gas")
case("missing: medium", CANNOT_TELL, "not_said", medium="")

case = group("PRS-05", InSection, {"sections": ("B-2",)})
case("go", GO)
case("missing: section", CANNOT_TELL, sections=())

# ---------------------------------------------------------------- site

case = group(
    "HOT-01", HotWorkNear,
    {
        "place": "bay 2", "kind": "welding", "since": date(2027, 4, 1), "until": date(2027, 4, 11),
        "first_day": date(2027, 4, 12), "last_day": date(2027, 5, 3),
    },
)  # fmt: skip
case("go: over the day before", GO)
case("go: begins the day after", GO, since=date(2027, 5, 4), until=date(2027, 5, 9))
case("limit: the first day", STOP, until=date(2027, 4, 12))
case("limit: the last day", STOP, since=date(2027, 5, 3), until=None)
case("missing: days of hot work", CANNOT_TELL, since=None, until=None)
case("missing: days of joining", CANNOT_TELL, first_day=None, last_day=None)

case = group("WTH-01", Weather, {"temperature": fahrenheit(60.0), "humidity": 0.6})
case("go", GO)
# 40 F and 90 F in direct sun: US municipal specification, Nashua 2021
case("limit: 40 F", GO, temperature=fahrenheit(40.0))
case("stop: 39 F", STOP, "cold", temperature=fahrenheit(39.0))
case("care: 39 F, and the card has a row", CARE, "cold", temperature=fahrenheit(39.0), card_covers=True)
case("limit: 90 F", GO, temperature=fahrenheit(90.0))
case("care: 91 F", CARE, "hot", temperature=fahrenheit(91.0))
case("care: near the dew point", CARE, "dew", humidity=0.9)
case("no dew point", CANNOT_TELL, "no_dew", humidity=0.0)
case("missing: humidity", CANNOT_TELL, "no_input", humidity=None)
case("missing: temperature", CANNOT_TELL, "no_input", temperature=None)

# 29 CFR 1926.152(b): 25 gal outside a cabinet, 60 gal in one, three cabinets in an area
case = group("STO-01", Storage, {"store": "ST-1", "kind": "room", "held": 20 * GAL})
case("go", GO)
case("limit: 25 gal in a room", GO, held=25 * GAL)
case("stop: 26 gal in a room", STOP, "over", held=26 * GAL)
case("limit: 60 gal in a cabinet", GO, kind="cabinet", held=60 * GAL, cabinets=3)
case("stop: 61 gal in a cabinet", STOP, "over", kind="cabinet", held=61 * GAL, cabinets=1)
case("stop: four cabinets", STOP, "cabinets", kind="cabinet", cabinets=4)
case("stop: the store's own limit", STOP, "over", own_limit=10 * GAL, own_limit_by="site rule")
case("missing: store", CANNOT_TELL, "no_place", store="", held=None)

# ---------------------------------------------------------------- spring

# NPS 2, 40 ft at 300 outside diameters gains 9.1 in and needs about 1.5 in: arc geometry, worked by hand
SPRUNG = {
    "size": Size("nps", 2.0), "od": 2.375 * IN, "material": "pvc", "procedure": "BP-1",
    "words": "NPS 2 and under may be sprung", "size_to": None, "radius": None, "needed": 1.5 * IN,
    "length": 40 * FT, "not_cured": (), "signed_by": "P-9", "engineer": "P-9",
}  # fmt: skip
case = group("SPR-01", Spring, SPRUNG)
case("go", GO)
case("go: the procedure's own radius", GO, radius=400 * 2.375 * IN)
case("go: a bent run, by the frame", GO, radius=300 * 2.375 * IN, travel=2 * IN)
case("limit: just the travel wanted", GO, radius=10.0, length=6.0, needed=6.0**3 / (24 * 10.0**2))
case("stop: the procedure says nothing", STOP, "not_allowed", words="")
case("stop: NPS 3", STOP, "too_large", size=Size("nps", 3.0), od=3.5 * IN)
case("stop: a size of the other kind", STOP, "too_large", size=D110, size_to=Size("nps", 4.0))
case("stop: d75", STOP, "too_large", size=Size("d", 75.0), od=0.075)
case("go: d63", GO, size=Size("d", 63.0), od=0.063)
case("stop: a fresh joint in the run", STOP, "not_cured", not_cured=("B-201/J4",))
# NPS 2, 20 ft: an eighth of 9.1 in
case("stop: half the run gives an eighth", STOP, "short", length=20 * FT)
case("missing: cure of the run", CANNOT_TELL, "no_state", not_cured=None)
case("missing: travel wanted", CANNOT_TELL, "no_run", needed=None)
case("missing: length", CANNOT_TELL, "no_run", length=None)
case("missing: radius of a pipe not listed", CANNOT_TELL, "no_radius", material="cpvc")
case("missing: radius of a bent run", CANNOT_TELL, "no_radius", travel=2 * IN)
case("missing: signature", CANNOT_TELL, "not_signed", signed_by="P-1")

# ---------------------------------------------------------------- hour

NINE = datetime(2026, 11, 22, 9, 0, tzinfo=UTC)
HALF_HOUR = timedelta(minutes=30)
FINE, MIND, NOT_KNOWN, REFUSED = range(4)
case = group(
    "HRS-01", HourAt,
    {"begins": NINE, "seen": True, "stands": FINE, "binds": "", "met": None, "held": None,
     "now": NINE + HALF_HOUR, "pipe_read": NINE + timedelta(minutes=5), "hand_dry": NINE + HALF_HOUR},
)  # fmt: skip
case("go", GO)
# half an hour is our own rule
case("limit: a reading just under 30 minutes old", GO, pipe_read=NINE + timedelta(seconds=1))
case("care: a reading 30 minutes old", CARE, "no_reading", pipe_read=NINE)
case("care: a reading of later", CARE, "no_reading", pipe_read=NINE + 2 * HALF_HOUR)
case("care: no dry hand", CARE, "no_reading", hand_dry=None)
case("care: a forecast, whatever was read", CARE, "forecast", seen=False)
case("stop: rain", STOP, "rain", stands=REFUSED, binds="rain", met=0.001, held=0.0)
case("stop: rain soon", STOP, "rain_soon", stands=REFUSED, binds="rain_soon", met=3600.0, held=7200.0)
case("stop: cold", STOP, "cold", stands=REFUSED, binds="cold", met=fahrenheit(39.0), held=fahrenheit(40.0))
case("stop: wet", STOP, "wet", stands=REFUSED, binds="wet", met=-0.5, held=0.0)
case("care: sun", CARE, "sun", stands=MIND, binds="sun", met=fahrenheit(95.0), held=fahrenheit(90.0))
case("care: hot pipe", CARE, "hot", stands=MIND, binds="hot", met=fahrenheit(120.0), held=fahrenheit(110.0))
case("care: near the dew point", CARE, "dew", stands=MIND, binds="dew", met=2.0, held=3.0)
case("care: chilled film", CARE, "film", stands=MIND, binds="film", met=-1.0, held=0.0)
case("care: too few hands", CARE, "hands", stands=MIND, binds="hands", met=4, held=3)
case("missing: working time", CARE, "no_time", stands=MIND, binds="hands", held=3)
case("missing: wind", CANNOT_TELL, "hole", stands=NOT_KNOWN, binds="hole", lacking=("wind",))
case("missing: a row of the card", CANNOT_TELL, "no_row", stands=NOT_KNOWN, binds="no_row", met=280.0)
case(
    "missing: weather ahead",
    CANNOT_TELL,
    "rain_end",
    stands=NOT_KNOWN,
    binds="rain_end",
    met=3600.0,
    held=7200.0,
)

# heat, sparks and flame: 49 CFR 192.281(b)(3), Kentucky 815 KAR 20:071 s.1(3)
case = group(
    "TNT-01", Tent,
    {"air": fahrenheit(60.0), "card_low": fahrenheit(40.0), "card_high": fahrenheit(100.0),
     "heat_on_joint": False, "heater_out": True, "after": fahrenheit(45.0)},
)  # fmt: skip
case("go", GO)
case("limit: the card's coldest", GO, air=fahrenheit(40.0), after=fahrenheit(40.0))
case("go: a card without ends", GO, card_low=None, card_high=None)
case("stop: heater by open primer", STOP, "heater", heater_out=False)
case("stop: heat on the joint", STOP, "heat", heat_on_joint=True)
case("stop: too cold in it", STOP, "band", air=fahrenheit(39.0))
case("stop: too hot in it", STOP, "band", air=fahrenheit(101.0))
case("stop: cold once it is down", STOP, "cold_after", after=fahrenheit(30.0))
case("missing: where the heater is", CANNOT_TELL, "not_said", heater_out=None)
case("missing: air in it", CANNOT_TELL, "not_said", air=None)
case("missing: weather ahead", CANNOT_TELL, "after", after=None)

# ---------------------------------------------------------------- last gap

LAST = {
    "length": 0.002, "sideways": 0.001, "angle": math.radians(0.1), "length_most": 0.003,
    "tape_first": "B-201/D",
}  # fmt: skip
case = group("GAP-01", LastGap, LAST)
# ASME B31.3 335.1.1, from memory: 3 mm, 1 mm in 200 mm
case("go", GO)
case("limit: 3 mm sideways", GO, sideways=0.003)
case("limit: the job's length", GO, length=0.003)
case("go: the job's own numbers", GO, sideways_most=0.005, angle_most=math.radians(1), sideways=0.005)
case("care: too long", CARE, "over", length=0.0031)
case("care: sideways", CARE, "over", sideways=0.0031)
case("care: 1 mm in 190 mm", CARE, "over_angle", angle=1 / 190)
case("care: nothing to leave for taping", CARE, "over", length=0.004, tape_first="")
case("missing: what the gasket takes up", CANNOT_TELL, "no_limit", length_most=None)
case("missing: an error on the way", CANNOT_TELL, "no_misfit", length=None, unknown=("tape error",))

# ---------------------------------------------------------------- stock

case = group("STK-01", StockNamed, {"size": NPS12, "material": "pvc", "series": "sch80", "items": ("PVC12",)})
case("go", GO)
case("missing: none", CANNOT_TELL, "none", items=())
case("missing: which of two", CANNOT_TELL, "several", items=("PVC12", "PVC12B"))

case = group("STK-02", BellMeasured, {"stock": "D12", "belled": True, "depth": 0.2})
case("go", GO)
case("go: plain ends", GO, belled=False, depth=None)
case("missing: depth", CANNOT_TELL, depth=None)

case = group("SPL-01", SpoolAlike, {"spool": "TD", "repeats": 20, "alike": 18})
case("go", GO)
case("stop: an elbow turned", STOP, "turned", differs_at="C-03t7/E2", how="turned", turned=math.pi / 2)
case("stop: a leg longer", STOP, "length", differs_at="C-03t7/E2", how="length", longer=0.1)
case("stop: another part", STOP, "parts", differs_at="C-03t7/E2", how="parts")

# ---------------------------------------------------------------- moving

HELD = datetime(2026, 11, 22, 9, 3, tzinfo=UTC)
case = group("MOV-01", HoldEnded, {"made": True, "hold_ended": HELD, "pullers": True, "pullers_off": HELD})
case("go", GO)
case("go: no device was called for", GO, pullers=False, pullers_off=None)
case("missing: the making", CANNOT_TELL, "no_record", made=False)
case("missing: hold end", CANNOT_TELL, "no_hold_end", hold_ended=None)
case("missing: pullers off", CANNOT_TELL, "no_pullers_off", pullers_off=None)
case(
    "missing: whether a device was called for", CANNOT_TELL, "no_pullers_off", pullers=None, pullers_off=None
)

OFF = {
    "size": NPS6, "card": "C-2", "mark": "table 2", "factors": (), "wait": 7200.0, "credited": 7200.0,
    "coldest": fahrenheit(52.0), "started": HELD, "reached": HELD + timedelta(hours=2), "not_before": None,
}  # fmt: skip
LATER = {"reached": None, "credited": 3600.0, "not_before": HELD + timedelta(hours=2)}
case = group("MOV-02", HandsOff, OFF)
case("go", GO)
case("wait", Verdict.WAIT, codes=("not_yet",), **LATER)
case("wait: longer by a forecast", Verdict.WAIT, "foretold", codes=("not_yet",), foretold=True, **LATER)
case("wait: hold end still ahead", Verdict.WAIT, codes=("start_ahead",), **LATER)
case("missing: card", CANNOT_TELL, "no_card", card="")
case("missing: what a logger's file says", CANNOT_TELL, "unread", unread=("logger-7.csv",))
case("missing: a clock that is set", CANNOT_TELL, "clock_unsure", clock_unsure=True)
case("missing: hold end", CANNOT_TELL, "no_start", reached=None, codes=("no_start", "not_yet"))
case("missing: first reading", CANNOT_TELL, "no_first", codes=("no_assembly_temperature",), **LATER)
case("missing: a reading on the way", CANNOT_TELL, "hole", codes=("temperature_hole",), **LATER)
HOLE = {"codes": ("temperature_hole",), **LATER}
case("missing: that, and the air", CANNOT_TELL, "hole_air", air="it is not imported", **HOLE)
case("missing: row", CANNOT_TELL, "no_row", reached=None, wait=None, codes=("no_card_row",))
case("missing: row, whatever the clock says", CANNOT_TELL, "no_row", reached=None, wait=None)
case("missing: humidity", CANNOT_TELL, "no_humidity", codes=("humidity_not_known",), **LATER)
case("missing: a reading since", CANNOT_TELL, "no_reading", reached=None, codes=("no_reading_since",))

case = group("CUR-01", Cured, {**OFF, "pressure": 100 * PSI, "column": 180 * PSI})
case("go", GO)
case("wait", Verdict.WAIT, codes=("not_yet",), **LATER)
case("wait: longer by a forecast", Verdict.WAIT, "foretold", codes=("not_yet",), foretold=True, **LATER)
case("wait: hold end still ahead", Verdict.WAIT, codes=("start_ahead",), **LATER)
case("missing: card", CANNOT_TELL, "no_card", card="")
case("missing: pressure at the joint", CANNOT_TELL, "no_pressure", pressure=None)
case("missing: what a logger's file says", CANNOT_TELL, "unread", unread=("logger-7.csv",))
case("missing: a clock that is set", CANNOT_TELL, "clock_unsure", clock_unsure=True)
case("missing: hold end", CANNOT_TELL, "no_start", reached=None, codes=("no_start", "not_yet"))
case("missing: first reading", CANNOT_TELL, "no_first", codes=("no_assembly_temperature",), **LATER)
case("missing: a reading on the way", CANNOT_TELL, "hole", codes=("temperature_hole",), **LATER)
HOLE = {"codes": ("temperature_hole",), **LATER}
case("missing: that, and the air", CANNOT_TELL, "hole_air", air="it is not imported", **HOLE)
case("missing: row", CANNOT_TELL, "no_row", reached=None, wait=None, codes=("no_card_row",))
case("missing: row, whatever the clock says", CANNOT_TELL, "no_row", reached=None, wait=None)
case("missing: humidity", CANNOT_TELL, "no_humidity", codes=("humidity_not_known",), **LATER)
case("missing: a reading since", CANNOT_TELL, "no_reading", reached=None, codes=("no_reading_since",))

case = group("MOV-03", JointRecord, {})
case("go", GO)
case("go: disturbed and looked at since", GO, disturbed=("disturbed: bucket",), looked=True)
case("stop: rejected", STOP, "rejected", rejected=True)
case("stop: cut out", STOP, "cut_out", cut_out=True)
case("missing: one story", CANNOT_TELL, "unclear", unclear=("two-stories",), cut_out=True)
case("missing: entries of a writer", CANNOT_TELL, "gaps", gaps=("entry 3 of writer 5 missing",))
case("missing: its place", CANNOT_TELL, "off_drawing", off_drawing=True)
case("missing: a look after it was knocked", CANNOT_TELL, "disturbed", disturbed=("disturbed: bucket",))

case = group("MOV-04", HoldTags, {})
case("go", GO)
case("stop: a tag hangs", STOP, tags=("H-3",))
case("missing: what the tag hangs on", CANNOT_TELL, unplaced=("H-4",))

# ---------------------------------------------------------------- made right

MM = 0.001
case = group(
    "MAD-01", Insertion, {"shortfall": 2 * MM, "worst": 2 * MM, "allowed": 6 * MM, "procedure": "BP-2"}
)
case("go", GO)
case("limit: just as short as the procedure allows", GO, shortfall=6 * MM, worst=6 * MM)
case("stop: shorter", STOP, "short", shortfall=6.01 * MM, worst=6.01 * MM)
case("stop: the procedure gives no number", STOP, "no_allowed", allowed=None, typed=6 * MM)
case("stop: typed as allowed beside it", STOP, "short", shortfall=9 * MM, worst=9 * MM, typed=10 * MM)
case("go: typed as allowed, less", GO, "typed", typed=3 * MM)
case("missing: the measure", CANNOT_TELL, "not_recorded", shortfall=None, worst=None)
case("missing: a second person behind the smaller one", CANNOT_TELL, "alone", worst=9 * MM)
case("missing: one procedure", CANNOT_TELL, "procedure", other_procedure="BP-9")

LOOKED = {"state": "accepted", "by": "P-8", "list": "A-1", "at": HELD, "last_touched": HELD}
case = group("MAD-02", Examined, LOOKED)
case("go", GO)
case("stop: refused", STOP, "refused", state="refused")
case("missing: an examination", CANNOT_TELL, "not_looked", state="not_looked", by="", list="", at=None)
case("missing: another person than the maker", CANNOT_TELL, "maker", state="maker")
case("missing: who looked", CANNOT_TELL, "nobody", state="nobody", by="")
case("missing: a look since it was knocked", CANNOT_TELL, "before", state="before")
case("missing: a second person behind the turn", CANNOT_TELL, "alone", state="alone")
case("missing: a point of the list", CANNOT_TELL, "points", state="points", points=("bead",))

DAY1 = date(2027, 4, 12)
HAND = Hand(role="pipe end", person="P-2", qualifications=(CARD,))


def hand(**change: Any) -> tuple[Hand, ...]:
    return (HAND, Hand(**{**{f: getattr(HAND, f) for f in Hand.__dataclass_fields__}, **change}))


MADE = {"hands": (HAND,), "need": NEED, "last_day": DAY1}
case = group("MAD-03", Makers, MADE)
case("go", GO)
# longer than 6 months without the process: ASME B31.1a-2008; last use 1 November 2026
case("limit: six months to the day", GO, need=need(day=date(2027, 5, 1)), last_day=date(2027, 5, 1))
case("stop: a day more", STOP, "lapsed", need=need(day=date(2027, 5, 2)), last_day=date(2027, 5, 2))
case(
    "go: a recorded joint kept it",
    GO,
    need=need(day=date(2027, 5, 2)),
    last_day=date(2027, 5, 2),
    hands=hand(worked=Worked(days=(date(2027, 4, 30),)))[1:],
)
case(
    "stop: the recorded joint came after it had lapsed",
    STOP,
    "lapsed",
    need=need(day=date(2027, 5, 4)),
    last_day=date(2027, 5, 4),
    hands=hand(worked=Worked(days=(date(2027, 5, 2),)))[1:],
)
case("stop: size not covered", STOP, "size", need=need(largest=Size("nps", 16.0)))
case("stop: material", STOP, "material", need=need(material="cpvc"))
case("stop: steps", STOP, "steps", need=need(steps="one-step"))
case("stop: procedure", STOP, "procedure", need=need(procedure="BP-9"))
case("stop: the other hand has none", STOP, "none", hands=hand(role="socket", qualifications=()))
case("stop: before the test", STOP, "not_yet", need=need(day=date(2026, 2, 9)), last_day=date(2026, 2, 9))
case("missing: who did the socket", CANNOT_TELL, "not_named", hands=hand(role="socket", person=""))
case(
    "missing: the day, where it matters", CANNOT_TELL, "day", need=need(day=date(2027, 5, 1)),
    last_day=date(2027, 5, 2),
)  # fmt: skip
case(
    "missing: any day of use", CANNOT_TELL, "no_day",
    hands=hand(
        qualifications=(
            Qualification(material="pvc", steps="two-step", size_lo=NPS6, size_hi=NPS12, procedure="BP-2"),
        )
    )[1:],
)  # fmt: skip


def by(**change: Any) -> tuple[Hand, ...]:
    worked = change.pop("worked", NO_WORK)
    return hand(qualifications=card(**change), worked=worked)[1:]


BAD = by(tested_on=date(2027, 1, 10), worked=Worked(failed=(DAY1,)))
PIECE = by(size_hi=NPS24, test_size=NPS4)
case("stop: the test piece was too small", STOP, "test_size", need=need(largest=NPS24), hands=PIECE)
case("missing: how far it reaches", CANNOT_TELL, "no_size_rule", hands=by(test_size=D110))
case("stop: another profile", STOP, "scheme", bound=True, hands=by(scheme="en-13067"))
case("stop: past its last day", STOP, "expired", hands=by(expires=date(2027, 4, 11)))
case("stop: after a joint that was bad", STOP, "failed", scheme="49-cfr-192.285", hands=BAD)
case("missing: any last day", CANNOT_TELL, "no_expiry", scheme="imo-a.753")
case("missing: the employer's word", CANNOT_TELL, "not_confirmed", hands=by(scheme="en-13067"))

CEMENT = LotUsed(name="C2-04", known=True, kind="cement", cards=("C-2",), expires=(date(2027, 6, 30),))
PRIMER = LotUsed(name="P-118", known=True, kind="primer", cards=("",), expires=(date(2027, 6, 30),))


def can(**change: Any) -> tuple[LotUsed, ...]:
    return (LotUsed(**{**{f: getattr(CEMENT, f) for f in LotUsed.__dataclass_fields__}, **change}), PRIMER)


NOON = datetime(2027, 4, 12, 18, 0, tzinfo=UTC)
case = group(
    "MAD-04", LotsUsed,
    {
        "lots": (CEMENT, PRIMER), "lots_alone": False, "cards": ("C-2",), "card_material": "pvc",
        "card_steps": "two-step", "material": "pvc", "steps": "two-step", "first_day": DAY1,
        "last_day": DAY1, "latest": NOON,
    },
)  # fmt: skip
case("go", GO)
case("limit: its last day", GO, lots=can(expires=(DAY1,)))
case("stop: a day past its date", STOP, "expired", lots=can(expires=(DAY1 - timedelta(days=1),)))
case("stop: another card", STOP, "other_card", lots=can(cards=("C-9",)))
case("stop: thrown away before", STOP, "thrown", lots=can(thrown="before"))
case("stop: cement for another material", STOP, "card_material", card_material="cpvc")
case("stop: cement for other steps", STOP, "card_steps", card_steps="one-step")
case(
    "limit: stood open just as long as the card allows", GO,
    lots=can(opened=NOON - timedelta(hours=8), opened_needed=True), open_life=8 * 3600.0,
)  # fmt: skip
case(
    "stop: stood open a second longer", STOP, "open_long",
    lots=can(opened=NOON - timedelta(hours=8, seconds=1), opened_needed=True), open_life=8 * 3600.0,
)  # fmt: skip
case(
    "missing: when it was opened", CANNOT_TELL, "not_opened", lots=can(opened_needed=True), open_life=28800.0
)
case("missing: the lot", CANNOT_TELL, "unknown", lots=can(known=False, cards=(), expires=()))
case("missing: one story of the can", CANNOT_TELL, "unclear", lots=can(unclear=True))
case("missing: when it was thrown away", CANNOT_TELL, "thrown_about", lots=can(thrown="perhaps"))
case("missing: the date", CANNOT_TELL, "no_date", lots=can(expires=(None,)))
case("missing: the day", CANNOT_TELL, "date_unsure", lots=can(expires=(DAY1,)), last_day=date(2027, 4, 13))
case("missing: card of the lot", CANNOT_TELL, "no_lot_card", lots=can(cards=("",)))
case("missing: card of the joint", CANNOT_TELL, "no_card", cards=("",), card_material="", card_steps="")
case("missing: a second person behind the change", CANNOT_TELL, "alone", lots_alone=True)
case("missing: steps", CANNOT_TELL, "no_steps", steps="")
case("missing: cement", CANNOT_TELL, "not_named", lots=(PRIMER,))
case("missing: primer", CANNOT_TELL, "not_named", lots=(CEMENT,))
case("missing: whether primer belongs", CANNOT_TELL, "primer", steps="one-step", card_steps="one-step")

RECORD = {
    "first_needed": (), "first_on": (), "held": 180.0, "held_from_home": True, "hold": 180.0,
    "temperature": fahrenheit(52.0), "in_card": True, "card": "C-2",
}  # fmt: skip
case = group("MAD-05", WholeRecord, RECORD)
case("go: held just as long as asked", GO)
case("go: with the ring on", GO, first_needed=("ring",), first_on=("ring",))
case("go: odd and kept", GO, "shown", shown=("wiped after hold begun",))
case("stop: held too short", STOP, "hold_short", held=179.0)
case("missing: when it went home", CANNOT_TELL, "hold_unsure", held=20.0, held_from_home=False)
case("missing: ring", CANNOT_TELL, "first_on", first_needed=("ring",), first_on=("nut",))
case("missing: hold end", CANNOT_TELL, "no_hold_end", held=None)
case("missing: hold time", CANNOT_TELL, "no_hold_row", hold=None)
case("missing: temperature", CANNOT_TELL, "no_temperature", temperature=None, in_card=False)
case("missing: a row for the cold", CANNOT_TELL, "outside_card", in_card=False)
case("missing: steps in order", CANNOT_TELL, "order", wet_order=("socket primed after home",))

# ---------------------------------------------------------------- filling and raising

NOON = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)


def before(**ago: float) -> datetime:
    return NOON - timedelta(**ago)


case = group("MOV-05", Pressed, {"section": "B-2"})
case("go", GO)
case("go: zero proved this morning", GO, zero=before(hours=3), zero_needed=True, now=NOON)
case("stop: released and not proved zero", STOP, "pressed", release="R-1", since=before(hours=9))
case("unclear: its record tells two stories", CANNOT_TELL, "unclear", unclear=("fork",))
case("missing: zero, where it is to be opened", CANNOT_TELL, "no_zero", zero_needed=True, now=NOON)
case(
    "missing: zero today (a day is our own rule)", CANNOT_TELL, "old_zero", zero=before(hours=25),
    zero_needed=True, now=NOON,
)  # fmt: skip

# Head of water by hand: 22 ft at 1000 kg/m3 and 9.80665 m/s2 is 9.5376 psi; 135 + 9.5376 + 2 = 146.5376 psi.
CAP = {
    "section": "B-2", "asked": 135 * PSI, "gauge_height": 24.5 * FT, "gauge_error": 2 * PSI, "place": "V-7",
    "height": 2.5 * FT, "density": 1000.0, "cap": 150 * PSI, "signed_by": "P-7", "engineer": "P-7",
}  # fmt: skip
case = group("RAI-01", CapThere, CAP)
case("go", GO)
case("limit: just at the cap", GO, cap=146.5377 * PSI)
case("stop: just above the cap", STOP, cap=146.5374 * PSI)
case("stop: above it and not signed either", STOP, cap=140 * PSI, signed_by="")
case("missing: cap", CANNOT_TELL, "no_cap", cap=None)
case("missing: gauge error", CANNOT_TELL, "no_input", gauge_error=None)
case("missing: gauge elevation", CANNOT_TELL, "no_input", gauge_height=None)
case("missing: the place of the cap", CANNOT_TELL, "no_input", height=None)
case("missing: pressure asked for", CANNOT_TELL, "no_input", asked=None)
case("missing: signature", CANNOT_TELL, "not_engineer", signed_by="P-1")
case("missing: an engineer", CANNOT_TELL, "not_engineer", engineer="", signed_by="")

case = group(
    "RAI-02", WallNow, {"section": "B-2", "hottest": fahrenheit(60.0), "signed_for": fahrenheit(73.0)}
)
case("go", GO)
case("limit: just as warm", GO, hottest=fahrenheit(73.0))
case("stop: hotter", STOP, hottest=fahrenheit(73.1))
case("missing: a reading", CANNOT_TELL, "no_reading", hottest=None)
case("missing: cap", CANNOT_TELL, "no_cap", signed_for=None)

SOURCE = {
    "section": "B-2", "asked": 135 * PSI, "sources": ("pump",), "strongest": "pump", "most": 135 * PSI,
}  # fmt: skip
case = group("RAI-03", SourceLimit, SOURCE)
case("go", GO)
case("stop: its relief opens higher", STOP, most=145 * PSI)
case("missing: source", CANNOT_TELL, "no_source", most=None, sources=())
case("missing: pressure asked for", CANNOT_TELL, "no_input", asked=None)

END = {
    "section": "B-2", "boundary": "pump P-3", "another_line": False, "how": "blind", "now": NOON,
    "looked": before(hours=2),
}  # fmt: skip
case = group("RAI-04", SectionEnd, END)
case("go", GO)
case("go: air gap", GO, how="air gap")
case("go: vented beyond", GO, how="vent beyond")
case("stop: a closed valve is no isolation", STOP, "valve", how="valve")
case("go: a valve to another line, which counts then", GO, "counts", how="valve", another_line=True)
case("go: nothing to another line, which counts then", GO, "counts", how="", another_line=True)
case("missing: how it ends", CANNOT_TELL, "not_said", how="", looked=None)
case("missing: a look today (a day is our own rule)", CANNOT_TELL, "old", looked=before(hours=24.01))

case = group("RAI-05", Heard, {"writer": "1f2e", "device": "phone 2", "now": NOON})
case("go: this machine", GO, here=True)
case("go: heard", GO, heard=before(minutes=10))
case("missing: word of it for ten minutes", CANNOT_TELL, "silent", heard=before(minutes=10.1))
case("missing: word of it, whose clock is ahead", CANNOT_TELL, "silent", heard=before(minutes=-1))
case("missing: word of it at all", CANNOT_TELL, "silent")
case(
    "go: answered for", GO, "answered_for", heard=before(hours=3), answered=before(minutes=5), good=True,
    answered_by="P-5",
)  # fmt: skip
case("stop: nobody can answer for it", STOP, "no", answered=before(minutes=5), answered_by="P-5")
case("missing: an answer that is not old", CANNOT_TELL, "silent", answered=before(minutes=11), good=True)

OUT = {
    "condition": "people-out", "now": NOON, "asker": "P-9", "lead": "P-1", "answered": before(minutes=15),
    "good": True, "answered_by": "P-5", "place": "gallery gate",
}  # fmt: skip
case = group("RAI-06", OnTheSpot, OUT)
case("go", GO)
case("stop: the answer is no", STOP, "no", good=False)
case("missing: an answer", CANNOT_TELL, "no_answer", answered=None, good=False)
case("missing: an answer of this quarter of an hour", CANNOT_TELL, "old", answered=before(minutes=15.1))
case("missing: where it was said", CANNOT_TELL, "no_place", place="")
NOTHING = {"condition": "nothing-since", "answered_by": "P-9", "place": ""}
case("go: nothing since, by the one who asks", GO, **NOTHING)
case("missing: the one who asks", CANNOT_TELL, "not_asker", **{**NOTHING, "answered_by": "P-5"})
case("missing: anybody who asks", CANNOT_TELL, "not_asker", asker="", **NOTHING)
case("missing: an answer after the last joint", CANNOT_TELL, "before", after=before(minutes=3), **NOTHING)
case(
    "missing: an answer that reaches back", CANNOT_TELL, "too_short", since=before(minutes=30),
    needed_since=before(minutes=40), **NOTHING,
)  # fmt: skip
READY = {"condition": "joints-ready", "place": "", "answered": before(hours=3)}
case("go: the lead says ready", GO, answered_by="P-1", **READY)
case("missing: the lead", CANNOT_TELL, "not_lead", answered_by="P-2", **READY)
case("missing: a lead in job.toml", CANNOT_TELL, "not_lead", lead="", answered_by="P-1", **READY)

GAUGE = {
    "place": "PG-2", "gauges": ("G-14",), "today": date(2026, 11, 26), "asked": 135 * PSI,
    "due": date(2026, 11, 26), "error": 2 * PSI, "full": 200 * PSI,
}  # fmt: skip
case = group("RAI-07", GaugeGood, GAUGE)
case("go: on its last day", GO)
case("stop: out of calibration", STOP, "due", due=date(2026, 11, 25))
case("stop: its scale ends below", STOP, "range", full=130 * PSI)
case("missing: gauge", CANNOT_TELL, "none", gauges=())
case("missing: which of two", CANNOT_TELL, "several", gauges=("G-14", "G-15"))
case("missing: its calibration", CANNOT_TELL, "half", due=None)
case("missing: its error", CANNOT_TELL, "half", error=None)
case("missing: its range", CANNOT_TELL, "half", full=None)
case("missing: one elevation", CANNOT_TELL, "place", other_place=True)
case("missing: one story", CANNOT_TELL, "unclear", unclear=("fork",))

LOOK = {"section": "B-2", "what": "restraint", "now": NOON, "looked": before(hours=24), "good": True}
for check_id, what in (("RAI-08", "restraint"), ("RAI-10", "bolts")):
    case = group(check_id, LookedAt, {**LOOK, "what": what})
    case("go", GO)
    case("stop: found bad", STOP, "bad", good=False)
    case("missing: a look", CANNOT_TELL, "not", looked=None, good=False)
    case("missing: a look since the last change", CANNOT_TELL, "before", after=before(hours=1))
    case("missing: a look today (a day is our own rule)", CANNOT_TELL, "old", looked=before(hours=24.1))

case = group("RAI-09", Fresh, {"section": "B-2", "what": "grout", "now": NOON, "ready": NOON})
case("go", GO)
case("wait", Verdict.WAIT, ready=before(hours=-3))
case("missing: when it is ready", CANNOT_TELL, "no_time", ready=None)

case = group("RAI-11", SectionKnown, {"section": "B-2", "in_charge": "P-9"})
case("go", GO)
case("missing: one story", CANNOT_TELL, "unclear", unclear=("fork",))
case("missing: the place of a joint", CANNOT_TELL, "stray", strays=("B-201/J31-F1",))
case("missing: somebody in charge", CANNOT_TELL, "nobody", in_charge="")

# ---------------------------------------------------------------- closure and order (geometry; own rules)

case = group("SEQ-01", LoopOpens, {"as_drawn": False})
case("go", GO, as_drawn=True)
case("every end stands", STOP, "shut", openings=("flat faces at F1 and F2",))
case("nothing may be put in", STOP, "closed", closed=True)
case("a header on two stubs", STOP, "at_once", at_once=True)
case("standing flanges bolted up last", CARE, "ends", with_ends=True, ends=("pump P-3",))
case("missing faces", CANNOT_TELL, "faces", with_faces=True, faces=("B-201/F3",))
case("missing end of the search", CANNOT_TELL, "not_found")

case = group("SEQ-02", OrderFound, {"found": False})
case("go", GO, found=True)
case("missing room", CANNOT_TELL, "no_room", joint="A-1/J2", by="A-1/B")
case("missing openings", CANNOT_TELL, "loops_first")

case = group("SEQ-03", Carried, {"mass": 120.0, "most": 120.0, "tackle": "chain fall"})
case("go", GO, mass=90.0)
case("exactly what is lifted", GO)
case("heavier than any tackle", STOP, "too_heavy", mass=120.5)
case("missing limit", CANNOT_TELL, "no_limit", most=None)
case("missing mass", CANNOT_TELL, "not_weighed", mass=None, not_weighed=("V-7",))

case = group("SEQ-04", TwoAtOnce, {"needed": 4, "have": 4})
case("exactly enough", GO)
case("too few", STOP, "too_few", needed=6)
case("missing hands", CANNOT_TELL, "not_said", needed=None)
