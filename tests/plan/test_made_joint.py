"""Was it made right: little stories of one joint, told to the logbook and asked by MAD-01 to MAD-05.

The papers are invented (``made_rig``): shortfall up to 1/4 in, hold 1 min, cement lot 7731 of card C-2 with
rows from 0 to 100 F. That a correction by one person alone never helps is the rule of the issue.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from lineproof.floor.verdicts import Verdict
from logbook.rig import ANNA, BELA, CORA, metres
from made_rig import CANS, Made, said
from move_rig import J1, J2, fahr
from rigs import elbow, flange

GO, CANNOT_TELL, STOP = Verdict.GO, Verdict.CANNOT_TELL, Verdict.STOP


def test_a_joint_recorded_as_it_should_be(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole()
    assert site.against() == set()
    assert {f.id for f in site.findings()} == {"MAD-01", "MAD-02", "MAD-03", "MAD-04", "MAD-05"}


def test_nothing_recorded_but_that_it_was_made(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.story.write("9:00", "joint_made", {"joint": J1})
    assert site.against() == {
        "MAD-01 not_recorded", "MAD-02 not_looked", "MAD-03 not_named", "MAD-04 not_named",
        "MAD-05 no_hold_end",
    }  # fmt: skip
    assert {f.verdict for f in site.findings()} == {CANNOT_TELL}


@pytest.mark.parametrize(
    ("inches", "metres_si", "verdict"), [("1/4 in", "0.00635", GO), ("0.26 in", "0.0066", STOP)]
)
def test_the_shortfall_is_the_procedures_number(
    tmp_path: Path, inches: str, metres_si: str, verdict: Verdict
) -> None:
    site = Made(tmp_path)
    site.make()
    typed = metres("1 in", "0.0254")
    site.record("9:10", "insertion", shortfall=metres(inches, metres_si), allowed=typed)
    assert site.verdict("MAD-01") is verdict


def test_a_procedure_without_a_number_stops_it(tmp_path: Path) -> None:
    site = Made(tmp_path, papers={'allowed_shortfall = "1/4 in"\n': ""})
    site.whole()
    assert site.against() == {"MAD-01 no_allowed"}
    assert site.verdict("MAD-01") is STOP


def test_a_second_smaller_measure_does_not_take_the_first_away(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole()
    site.record("9:30", "insertion", shortfall=metres("9 mm", "0.009"))
    site.record("9:31", "insertion", shortfall=metres("1 mm", "0.001"))
    assert site.verdict("MAD-01") is STOP


def test_one_person_alone_cannot_push_it_home_with_a_pencil(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.make()
    entry = site.record("9:10", "insertion", shortfall=metres("9 mm", "0.009"))
    site.correct("9:15", entry, shortfall=metres("3 mm", "0.003"))
    assert "MAD-01 alone" in site.against()
    site.correct("9:20", entry, shortfall=metres("2 mm", "0.002"), second=ANNA)
    assert "MAD-01 alone" in site.against(), "naming oneself twice is still one person"
    site.correct("9:25", entry, shortfall=metres("2 mm", "0.002"), second=BELA)
    assert site.verdict("MAD-01") is GO


def test_whoever_made_it_does_not_examine_it(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.make()
    site.record("9:03", "hold_end")
    for who in (ANNA, BELA):
        site.record("9:20", "examined", who, list="A-1", accepted=True)
        assert "MAD-02 maker" in site.against()
    site.record("9:30", "examined", CORA, list="A-1", accepted=True)
    assert site.verdict("MAD-02") is GO


def test_a_role_taken_away_by_one_person_alone_makes_no_examiner(tmp_path: Path) -> None:
    site = Made(tmp_path)
    made = site.make(roles={"pipe_end": ANNA, "socket": CORA})
    site.record("9:03", "hold_end")
    site.record("9:20", "examined", CORA, list="A-1", accepted=True)
    site.correct("9:30", made, BELA, roles={"pipe_end": ANNA, "socket": BELA})
    assert "MAD-02 maker" in site.against()


def test_what_happens_after_the_look_asks_for_another_one(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole()
    site.record("12:00", "disturbed", how="bucket")
    assert site.against() == {"MAD-02 before"}
    site.record("12:30", "examined", CORA, list="A-1", accepted=True, at=said("11:59"))
    assert site.against() == {"MAD-02 before"}
    site.record("12:40", "examined", CORA, list="A-1", accepted=True)
    assert site.against() == set()


def test_refused_is_stop_and_the_same_eyes_do_not_take_it_back(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole()
    site.record("10:00", "examined", CORA, list="A-1", accepted=False, points={"bead": False})
    assert site.verdict("MAD-02") is STOP
    site.record("10:05", "examined", CORA, list="A-1", accepted=True, points={"bead": True})
    assert site.against() == {"MAD-02 alone"}
    turned = Made(tmp_path / "turned")
    turned.make()
    turned.record("9:03", "hold_end")
    look = turned.record("9:20", "examined", CORA, list="A-1", accepted=False)
    turned.correct("9:30", look, CORA, accepted=True)
    assert "MAD-02 alone" in turned.against()


def test_a_refusal_told_late_may_have_come_last(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole(roles={"pipe_end": ANNA, "socket": ANNA})
    assert site.against() == set()
    site.record("11:00", "examined", BELA, list="A-1", accepted=False, at=said("9:15"))
    assert site.verdict("MAD-02") is STOP
    assert site.progress().joints[J1].rejected
    site.record("12:00", "examined", CORA, list="A-1", accepted=True)
    assert site.against() == set()
    assert not site.progress().joints[J1].rejected


def test_accepted_with_a_point_refused(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.make()
    site.record("9:03", "hold_end")
    site.record("9:20", "examined", CORA, list="A-1", accepted=True, points={"bead all round": False})
    assert "MAD-02 points" in site.against()


def test_makers_without_a_card_or_a_name(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole(roles={"pipe_end": CORA, "socket": BELA})
    assert "MAD-03 none" in site.against(), "C has no qualification"
    other = Made(tmp_path / "other")
    other.whole(roles={"pipe_end": ANNA})
    assert other.against() == {"MAD-03 not_named"}


def test_a_name_that_one_person_alone_puts_in_is_not_known(tmp_path: Path) -> None:
    site = Made(tmp_path)
    made = site.make(roles={"pipe_end": CORA, "socket": BELA})
    site.correct("9:30", made, roles={"pipe_end": ANNA, "socket": BELA})
    assert "MAD-03 none" in site.against(), "the worse of the two"
    site.correct("9:40", made, roles={"pipe_end": ANNA, "socket": BELA}, second=BELA)
    assert site.verdict("MAD-03") is GO


def test_recorded_joints_keep_a_qualification_alive(tmp_path: Path) -> None:
    """Longer than 6 months without the process: ASME B31.1a-2008. Last use typed: 2 November 2026."""
    site = Made(tmp_path)
    far = 175  # 22 November 2026 + 175 days = 16 May 2027, more than 6 months after 2 November
    site.make(day=far, joint=J2)
    assert "MAD-03 lapsed" in site.against()
    other = Made(tmp_path / "other")
    other.make(day=150)
    other.make(day=far, joint=J2)
    assert other.verdict("MAD-03") is GO, "both joined on 21 April"


def test_lots_that_nobody_knows_or_that_are_past_their_date(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole(lots={"cement": "9999", "primer": "118"})
    assert site.against() == {"MAD-04 unknown"}
    late = Made(tmp_path / "late", cans=CANS.replace("2027-06-30", "2026-11-21"))
    late.whole()
    assert late.verdict("MAD-04") is STOP
    last = Made(tmp_path / "last", cans=CANS.replace("2027-06-30", "2026-11-22"))
    last.whole()
    assert last.against() == set(), "its last day is a day of use"


def test_a_can_received_opened_and_thrown_away(tmp_path: Path) -> None:
    life = {'sizes_to = "12in"\n': 'sizes_to = "12in"\nopen_life = "6 h"\n'}
    site = Made(tmp_path, papers=life)
    can = {"can": "C2-04", "lot": "880", "holds": "cement", "expires": "2027-06-30", "card": "C-2"}
    site.story.write("7:30", "can_received", can)
    made = {"lots": {"primer": "118"}, "cans": ["C2-04"]}
    site.whole(**made)
    assert site.against() == {"MAD-04 not_opened"}
    opened = Made(tmp_path / "opened", papers=life)
    opened.story.write("7:30", "can_received", can)
    opened.story.write("7:40", "can_opened", {"can": "C2-04"})
    opened.whole(**made)
    assert opened.against() == set()
    opened.make("13:41", joint=J2, **made)
    assert "MAD-04 open_long" in opened.against()
    gone = Made(tmp_path / "gone")
    gone.story.write("7:30", "can_received", can)
    gone.story.write("8:00", "can_thrown", {"can": "C2-04"})
    gone.whole(**made)
    assert "MAD-04 thrown" in gone.against()


def test_cement_of_another_card_or_added_afterwards(tmp_path: Path) -> None:
    can = {"can": "C9", "lot": "1", "holds": "cement", "expires": "2027-06-30", "card": "C-9"}
    site = Made(tmp_path)
    site.story.write("7:30", "can_received", can)
    site.whole(lots={"primer": "118"}, cans=["C9"])
    assert site.verdict("MAD-04") is STOP
    other = Made(tmp_path / "other")
    made = other.make(lots=None)
    lots = {"cement": "7731", "primer": "118"}
    other.correct("9:30", made, lots=lots)
    assert "MAD-04 alone" in other.against()
    other.correct("9:40", made, lots=lots, second=BELA)
    assert other.verdict("MAD-04") is GO


def test_the_day_that_one_person_says_late(tmp_path: Path) -> None:
    """Told on the 23rd for the 22nd, cement good until the 22nd: the day decides, so one person cannot."""
    cans = CANS.replace("2027-06-30", "2026-11-22")
    site = Made(tmp_path, cans=cans)
    made = site.make("7:10", day=1, at=said("9:00"))
    assert "MAD-04 date_unsure" in site.against()
    site.correct("7:20", made, at=said("9:00"), second=BELA)
    assert site.verdict("MAD-04") is GO


def test_hold_temperature_and_order(tmp_path: Path) -> None:
    short = Made(tmp_path)
    short.make(steps=[{"step": "home", "at": said("8:59")}])
    short.record("9:00", "hold_end", at=said("8:59"))
    assert "MAD-05 hold_short" in short.against()
    unsure = Made(tmp_path / "unsure")
    unsure.make()
    unsure.record("9:00", "hold_end")
    assert "MAD-05 hold_unsure" in unsure.against()
    cold = Made(tmp_path / "cold")
    cold.whole(joint_temperature=fahr(-5))
    assert cold.against() == {"MAD-05 outside_card"}
    odd = Made(tmp_path / "odd")
    steps = [{"step": "home", "at": said("8:58")}, {"step": "pipe_primed", "at": said("8:59")}]
    odd.whole(steps=steps, insisted="so it was")
    assert odd.against() == {"MAD-05 order"}


def test_a_warmer_joint_by_one_person_alone(tmp_path: Path) -> None:
    site = Made(tmp_path)
    made = site.make(joint_temperature=fahr(-5))
    site.record("9:03", "hold_end")
    site.correct("9:30", made, joint_temperature=fahr(52))
    assert "MAD-05 outside_card" in site.against()
    added = Made(tmp_path / "added")
    made = added.make(joint_temperature=None)
    added.record("9:03", "hold_end")
    added.correct("9:30", made, joint_temperature=fahr(52))
    assert "MAD-05 no_temperature" in added.against(), "one person alone puts in what was not read"
    added.correct("9:40", made, joint_temperature=fahr(52), second=BELA)
    assert added.verdict("MAD-05") is GO


def test_the_ring_is_on_before(tmp_path: Path) -> None:
    parts = [
        elbow("2in", "2 1/2 in", "1 1/2 in"),
        flange("2in", "2 1/4 in", "1 1/2 in", first_on="ring"),
    ]
    site = Made(tmp_path, parts=parts)
    site.whole()
    assert site.against() == {"MAD-05 first_on"}
    site.record("10:00", "first_on", what="ring")
    assert site.against() == {"MAD-05 first_on"}, "it cannot go on afterwards"
    other = Made(tmp_path / "other", parts=parts)
    other.record("8:50", "first_on", what="ring")
    other.whole()
    assert other.against() == set()


def test_joints_alike_are_told_in_one(tmp_path: Path) -> None:
    site = Made(tmp_path)
    site.whole()
    site.make("9:30", joint=J2)
    site.story.write("9:33", "hold_end", {"joint": J2})
    told = [f for f in site.findings() if f.id == "MAD-03"]
    assert [f.facts["joints"] for f in told] == [(J1, J2)]
