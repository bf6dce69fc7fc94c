"""Every code of the joint card has its sentence, and the sentence says what the trade says."""

from __future__ import annotations

import re
import string
from pathlib import Path

import pytest

from joint_rig import PAPERS, WALK12, planned
from lineproof.desk.words_joint import (
    BLANK,
    CAUTIONS,
    MISSING,
    STEPS,
    fill,
    say_end,
    say_first,
    say_missing,
    say_step,
)
from lineproof.floor.shown import Shown
from lineproof.floor.unit_table import UNITS
from lineproof.plan import joint_steps as steps
from lineproof.plan.joint_model import JointEnd, LineZero

US = Shown.us()
SRC = Path(steps.__file__).parent


def sources() -> str:
    return "\n".join(p.read_text("utf-8") for p in sorted(SRC.glob("joint*.py")))


def test_every_step_caution_and_missing_code_has_words() -> None:
    text = sources()
    assert set(re.findall(r'_step\(\s*"([a-z-]+)"', text)) <= set(STEPS)
    assert set(re.findall(r'(?:lacks|would_help)\(\s*"([a-z-]+)"', text)) == set(MISSING)
    assert set(steps.CAUTIONS) == set(CAUTIONS)


@pytest.mark.parametrize("catalogue", [STEPS, MISSING], ids=["steps", "missing"])
def test_every_fact_is_shown_as_a_quantity_that_exists(catalogue: dict[str, str]) -> None:
    for sentence in catalogue.values():
        for _, name, spec, _ in string.Formatter().parse(re.sub(r"\[\[|\]\]", "", sentence)):
            assert name is None or spec in {"", "inches", "start", *UNITS}, sentence


def test_what_is_missing_is_a_blank_and_its_part_falls_away() -> None:
    assert fill("Hold for {time:time}.", {}, US) == f"Hold for {BLANK}."
    assert fill("Mark {a:inches}[[, then {b:inches}]].", {"a": 0.0254}, US) == 'Mark 1".'
    assert (
        fill("Mark {a:inches}[[, then {b:inches}]].", {"a": 0.0254, "b": 0.0508}, US) == 'Mark 1", then 2".'
    )


def test_a_card_for_a_large_joint_reads_as_the_crew_needs_it(tmp_path) -> None:
    plan = planned(tmp_path, WALK12)[1][0]
    told = {s.code: say_step(s, US) for s in steps.joint_steps(plan, bevel=0.00238125)}
    assert told["if-short"].startswith("If it stops short: no hammer, no pulling back; measure, record, ask.")
    assert told["if-short"].endswith('The procedure allows 1/4".')
    assert told["push-home"].count("without turning") == 1
    assert told["hold"] == "Hold it pushed in for 3 min: it wants to move out."
    assert "2 applicators side by side" in told["cement-coats"]
    assert f"cure time, {BLANK} to 144.5 psi at this joint" in told["no-pressure"]
    assert 'Bevel the outside, 3/32"' in fill(
        STEPS["cut-bevel-deburr"], {"bevel": 0.00238125}, Shown(inch_step=32)
    )
    assert say_end(plan.socket) == "elbow 90, E1, lot E12-3"
    assert say_end(plan.spigot) == "piece A, end b"
    assert say_missing(plan.cure.missing[0], US) == "card C-2 has no cure row for 12 in at 45 F to 144.5 psi"


def test_small_joints_may_be_turned_while_they_move(tmp_path) -> None:
    plan = planned(tmp_path)[1][0]
    told = {s.code: say_step(s, US) for s in steps.joint_steps(plan)}
    assert "quarter turn while it moves" in told["push-home"]
    assert "set-pullers" not in told
    assert told["hands-in-place"].startswith("3 people, each with a named box")
    assert told["hands-in-place"].endswith("doubled up: 1. The lead says whose.")


def test_one_step_cards_speak_of_no_primer(tmp_path) -> None:
    papers = PAPERS.replace('steps = "two-step"', 'steps = "one-step"')
    plan = planned(tmp_path, papers=papers)[1][0]
    told = " ".join(say_step(s, US) for s in steps.joint_steps(plan))
    assert "rime" not in told
    assert "full coats on the pipe end" in told


def test_line_zero_is_in_capitals_where_it_could_not_be_put_on_later() -> None:
    late = LineZero("backing ring", "L/F1", "L/B", "a", (0.0, 1.0, 0.0), capital=True)
    told = say_first(late, US)
    assert told == told.upper()
    assert told.startswith("BACKING RING ON THE PIPE FIRST, OVER END A")
    assert "BOTH ENDS OF THIS PIECE CARRY FITTINGS" in told
    half = LineZero("union nut", "L/U1", "L/B", "a", (0.0, 1.0, 0.0), capital=False, sure=False)
    assert say_first(half, US).startswith("If this half carries it: union nut on the pipe first")


@pytest.mark.parametrize(
    ("end", "told"),
    [
        (JointEnd("L/V1", "valve", "V1", "a", tag="V-7"), "valve, V-7, V1"),
        (JointEnd("L/X1", "ground", "X1", "b", tag="pump P-3"), "what stands, pump P-3"),
        (JointEnd("L/X2", "ground", "X2", "b"), "what stands, X2"),
        (JointEnd("L/C", "piece", "C", "bell"), "piece C, bell"),
    ],
)
def test_ends_as_a_fitter_says_them(end: JointEnd, told: str) -> None:
    assert say_end(end) == told
