"""Qualifications ahead of the plan's days, and kept by recorded joints. People and cards are invented.

ASME B31.1a-2008: a qualification lapses when the process was not used for more than six months.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from lineproof.floor.verdicts import Verdict
from lineproof.plan.judge import judge
from lineproof.plan.people import scheme_of, worked_of
from logbook.rig import ANNA, BELA, CORA
from made_rig import Made, said
from move_rig import J1, J2

GO, CARE, CANNOT_TELL, STOP = Verdict.GO, Verdict.CARE, Verdict.CANNOT_TELL, Verdict.STOP
START = "start = 2027-05-03"


def said_of(site: Made, check: str, person: str) -> tuple[Verdict, Any]:
    progress = site.progress(day=400)
    found = judge(site.work, progress=progress).each
    f = next(f for f in found if f.id == check and f.facts.get("person") == person)
    return f.verdict, f.facts["why"]


def test_the_line_asks_for_a_day_six_months_after_the_last_use(tmp_path: Path) -> None:
    """Last use 2 November 2026; the line is joined on 2 or 3 May 2027."""
    papers = {START: "start = 2027-05-02", "[[lines]]": "[[lines]]"}
    assert said_of(Made(tmp_path / "a", papers={**papers}), "PPL-01", "A") == (GO, "go")
    assert said_of(Made(tmp_path / "b"), "PPL-01", "A") == (STOP, "lapsed")


def test_a_joint_recorded_on_the_way_keeps_it(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.make(day=100)  # 2 March 2027, by A and B
    assert said_of(site, "PPL-01", "A") == (GO, "go")
    other = Made(tmp_path / "other")
    other.make(day=100, roles={"pipe_end": BELA, "socket": BELA})
    assert said_of(other, "PPL-01", "A") == (STOP, "lapsed")


def test_it_ends_before_the_last_planned_day_of_the_crew(tmp_path: Path) -> None:
    """Three joints of NPS 2 take a day (handbook hours): first and last planned day are 30 April 2027."""
    papers = {START: "start = 2027-04-30", "last_used_on = 2026-11-02": "last_used_on = 2026-11-02"}
    site = Made(tmp_path, papers=papers)
    assert said_of(site, "PPL-03", "A") == (GO, "go")
    ends = {**papers, "last_used_on = 2026-11-02": "last_used_on = 2026-11-02\nexpires = 2027-04-30"}
    assert said_of(Made(tmp_path / "a", papers=ends), "PPL-03", "A") == (GO, "go")
    walk = "line L size 2in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"
    long = walk + "".join(f"go north 10'\ngo {way} 10'\n" for way in ("east", "west") * 20) + "ends at open\n"
    many = Made(tmp_path / "b", papers=ends, walk=long)
    assert said_of(many, "PPL-03", "A") == (CARE, "ends")
    assert said_of(many, "PPL-01", "A") == (GO, "go")


def test_the_profile_that_job_toml_names(tmp_path: Path) -> None:
    assert scheme_of(Made(tmp_path / "none").work) == ("asme-b31.1", False)
    told = {"[conditions]": '[code_basis]\ndocuments = ["ASME B31.3"]\n[conditions]'}
    assert scheme_of(Made(tmp_path / "doc", papers=told).work) == ("asme-b31.3", False)
    bound = {"[conditions]": '[code_basis]\ndocuments = ["ASME B31.3"]\njoiners = "en-13067"\n[conditions]'}
    site = Made(tmp_path / "bound", papers={**bound, START: "start = 2026-08-30"})
    assert scheme_of(site.work) == ("en-13067", True)
    # tested 2 March 2026, never confirmed since: after six months nobody can tell (EN 13067, from memory)
    assert said_of(site, "PPL-01", "A")[0] is CARE, "a rule from memory gives no GO"
    later = Made(tmp_path / "later", papers={**bound, START: "start = 2026-09-03"})
    assert said_of(later, "PPL-01", "A") == (CANNOT_TELL, "not_confirmed")


def test_what_the_record_says_of_each_persons_joints(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.make("9:00")
    site.make("9:30", joint=J2)
    site.record("10:00", "rejected", CORA, reason="no bead")
    worked = worked_of(site.work, site.progress())
    day = date(2026, 11, 22)
    for person in "AB":
        told = worked[person, "pvc", "two-step"]
        assert (told.days, told.joints, told.failed) == ((day,), (day, day), (day,))
    assert worked_of(site.work, None) == {}


@pytest.mark.parametrize("how", ["late", "roles", "story"])
def test_what_one_person_alone_says_keeps_nothing(tmp_path: Path, how: str) -> None:
    site = Made(tmp_path)
    if how == "late":
        site.make("9:00", day=3, at=said("9:00"))
    else:
        made = site.make("9:00", roles={"pipe_end": CORA, "socket": CORA})
        if how == "roles":
            site.correct("9:30", made, roles={"pipe_end": ANNA, "socket": ANNA})
        else:
            site.make("9:30", roles={"pipe_end": ANNA, "socket": ANNA})
    told = worked_of(site.work, site.progress(day=5)).get(("A", "pvc", "two-step"))
    assert told is None or told.days == ()
    assert J1 in site.progress(day=5).makings
