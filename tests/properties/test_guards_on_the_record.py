"""What one person alone corrects never helps: no wait gets shorter, nothing that was open or refused gets GO.

The rule is the issue's: a correction or late entry that shortens any wait needs a second named person. The
joint, its card and its papers are invented (``made_rig``); every field that a wait or a check rests on has
its row below, so that a new one without a guard is seen.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lineproof.floor.verdicts import Verdict
from lineproof.job.folder import read_job
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import NOTHING_BEFORE, Entry, moment_text
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.plan.made_joint import made_findings
from lineproof.plan.make_pack import named_work
from lineproof.plan.may_move import may_move
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work, work
from logbook.rig import ANNA, BELA, CORA, entry, metres, stored
from made_rig import CANS, PEOPLE, made_job
from move_rig import J1, at, fahr, handling

Body = dict[str, Any]
Told = tuple[str, str, Body, str]
"""Clock, kind, body, who."""

NOW = Stamp(wall=at("20:00"), confirmed=True)
LATE_CAN = {"can": "C-late", "lot": "881", "holds": "cement", "card": "C-2", "expires": "2026-11-01"}
GOOD_CAN = {**LATE_CAN, "can": "C-good", "lot": "882", "expires": "2027-06-30"}
DAMP = "".join(
    handling(hours, low, high, "60 %")
    for hours, low, high in (("1 h", "60 F", "100 F"), ("2 h", "40 F", "60 F"), ("4 h", "0 F", "40 F"))
)
"""Every row is printed up to 60 % only."""


def said(clock: str) -> str:
    return moment_text(at(clock))


def damp(percent: float) -> dict[str, str]:
    return {"typed": f"{percent:g} %", "si": f"{percent / 100:g}", "unit": "1"}


def story(change: Mapping[str, Body] | None = None) -> list[Told]:
    """A joint made as it should be, with some bodies changed."""
    made = {
        "joint": J1,
        "roles": {"pipe_end": ANNA, "socket": BELA},
        "lots": {"primer": "118"},
        "cans": ["C-good"],
        "card": "C-2",
        "steps": [{"step": "home", "at": said("9:00")}],
        "joint_temperature": fahr(52),
        "humidity": damp(50),
    }
    told: list[Told] = [
        ("7:30", "can_received", GOOD_CAN, ANNA),
        ("7:31", "can_received", LATE_CAN, ANNA),
        ("9:01", "joint_made", made, ANNA),
        ("9:03", "hold_end", {"joint": J1}, ANNA),
        ("9:10", "insertion", {"joint": J1, "shortfall": metres("2 mm", "0.002")}, ANNA),
        ("9:20", "examined", {"joint": J1, "list": "A-1", "accepted": True}, CORA),
        ("9:30", "humidity", {"humidity": damp(50)}, CORA),
        ("10:00", "reading", {"joint": J1, "temperature": fahr(52), "of": "joint"}, ANNA),
        ("11:05", "humidity", {"humidity": damp(50)}, CORA),
        ("11:10", "reading", {"joint": J1, "temperature": fahr(52), "of": "joint"}, ANNA),
    ]
    found = []
    for clock, kind, body, who in told:
        merged = {**body, **((change or {}).get(kind) or {})}
        found.append((clock, kind, {k: v for k, v in merged.items() if v is not None}, who))
    return found


class Log:
    """A logbook without a store: one chain a person."""

    def __init__(self, told: Sequence[Told]) -> None:
        self.entries: list[Entry] = []
        self._last: dict[str, Entry] = {}
        for clock, kind, body, who in told:
            self.add(at(clock), kind, body, who)

    def add(self, wall: datetime, kind: str, body: Body, who: str) -> Entry:
        last = self._last.get(who)
        place, previous = (last.sequence + 1, last.seal) if last else (1, NOTHING_BEFORE)
        new = entry(who[:8], place, previous, kind, body, who=who, wall=wall)
        self._last[who] = new
        self.entries.append(new)
        return new

    def first(self, kind: str) -> Entry:
        return next(e for e in self.entries if e.kind == kind)

    def correct(self, kind: str, fields: Body, who: str, *, second: str = "", minutes: int = 0) -> None:
        body = {"corrects": self.first(kind).id, "reason": "misread", "fields": fields}
        wall = at("12:00") + timedelta(minutes=minutes)
        self.add(wall, "correction", body | ({"second": second} if second else {}), who)


Answer = dict[str, tuple[Verdict, datetime | None]]


def answers(log: Log, job: Work, now: Stamp = NOW) -> Answer:
    """The worst verdict of each check, and not before when."""
    state = fold(stored(log.entries))
    progress = progress_of(state, now, people=PEOPLE)
    places = [(progress.of(joint_name(j, n)), j) for n, j in enumerate(job.cutting.joints)]
    found = [*made_findings(places, job, progress), *may_move(J1, job, progress).findings]
    told: Answer = {}
    for f in found:
        before = told.get(f.id, (Verdict.GO, None))
        told[f.id] = (max(before[0], f.verdict), f.until or before[1])
    return told


def helped(before: Answer, after: Answer) -> list[str]:
    """Checks that let go what they did not before, or wait less long; a WAIT lets nothing go."""
    found = []
    for check, (verdict, until) in before.items():
        now, then = after.get(check, (Verdict.STOP, None))
        if now < verdict and (now < Verdict.WAIT or (verdict is Verdict.STOP and now < Verdict.CANNOT_TELL)):
            found.append(f"{check} {verdict.word} -> {now.word}")
        if until is not None and now is Verdict.WAIT and then is not None and then < until:
            found.append(f"{check} {until} -> {then}")
    return found


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Work:
    folder = tmp_path_factory.mktemp("guards")
    return _site(folder, DAMP)


def _site(folder: Path, rows: str) -> Work:
    cans = CANS.replace('lot = "7731"\nexpires = 2027-06-30', 'lot = "7731"\nexpires = 2026-11-22')
    made_job(folder, rows=rows, cans=cans)
    return named_work(work(read_job(folder), nest=False))[0]


def test_the_story_itself_is_go(site: Work) -> None:
    told = answers(Log(story()), site)
    assert {check for check, (verdict, _) in told.items() if verdict > Verdict.GO} == set()
    assert {"MAD-01", "MAD-02", "MAD-03", "MAD-04", "MAD-05", "MOV-01", "MOV-02", "MOV-03"} <= set(told)


COLD, WARM = fahr(-5), fahr(52)
WET, DRY = damp(75), damp(50)
GOOD_STEPS = [{"step": "home", "at": said("9:00")}]
FIELDS = [
    # kind, field, as first told, as it should be, the check it stands against
    ("joint_made", "joint_temperature", COLD, WARM, "MAD-05"),
    ("joint_made", "joint_temperature", COLD, WARM, "MOV-02"),
    ("joint_made", "joint_temperature", fahr(105), WARM, "MAD-05"),
    ("joint_made", "joint_temperature", None, WARM, "MAD-05"),
    ("joint_made", "joint_temperature", None, WARM, "MOV-02"),
    ("joint_made", "humidity", WET, DRY, "MOV-02"),
    ("joint_made", "humidity", None, DRY, "MOV-02"),
    ("joint_made", "roles", {"pipe_end": CORA, "socket": BELA}, {"pipe_end": ANNA, "socket": BELA}, "MAD-03"),
    ("joint_made", "roles", {"pipe_end": CORA, "socket": BELA}, {"pipe_end": ANNA, "socket": BELA}, "MAD-02"),
    ("joint_made", "roles", {"pipe_end": ANNA}, {"pipe_end": ANNA, "socket": BELA}, "MAD-03"),
    ("joint_made", "roles", None, {"pipe_end": ANNA, "socket": BELA}, "MAD-03"),
    ("joint_made", "lots", None, {"primer": "118"}, "MAD-04"),
    ("joint_made", "lots", {"primer": "no such"}, {"primer": "118"}, "MAD-04"),
    ("joint_made", "cans", ["C-late"], ["C-good"], "MAD-04"),
    ("joint_made", "cans", None, ["C-good"], "MAD-04"),
    ("joint_made", "card", "C-8", "C-2", "MAD-04"),
    ("joint_made", "steps", [{"step": "home", "at": said("9:03")}], GOOD_STEPS, "MAD-05"),
    ("joint_made", "steps", [*GOOD_STEPS, {"step": "pipe_primed", "at": said("9:00")}], GOOD_STEPS, "MAD-05"),
    ("insertion", "shortfall", metres("9 mm", "0.009"), metres("2 mm", "0.002"), "MAD-01"),
    ("examined", "accepted", False, True, "MAD-02"),
    ("examined", "accepted", False, True, "MOV-03"),
    ("examined", "points", {"bead": False}, {"bead": True}, "MAD-02"),
    ("hold_end", "pushed_back", metres("3 mm", "0.003"), metres("0", "0"), "MOV-03"),
    ("can_received", "expires", "2026-11-01", "2027-06-30", "MAD-04"),
    ("can_received", "expires", None, "2027-06-30", "MAD-04"),
    ("can_received", "card", "C-8", "C-2", "MAD-04"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "field", "bad", "good", "check"), FIELDS)
def test_one_person_alone_settles_no_field_and_two_do(
    kind: str, field: str, bad: object, good: object, check: str, site: Work
) -> None:
    change = {kind: {field: bad, "insisted": "so it was"} if field == "steps" else {field: bad}}
    if kind == "hold_end":
        change["examined"] = {"at": said("9:02")}  # nobody looked since
    log = Log(story(change))
    before = answers(log, site)
    assert before[check][0] > Verdict.GO, "the field matters"
    log.correct(kind, {field: good}, ANNA)
    assert helped(before, answers(log, site)) == [], "by the one who wrote it"
    log.correct(kind, {field: good}, BELA, minutes=1)
    assert helped(before, answers(log, site)) == [], "by another one alone"
    log.correct(kind, {field: good}, ANNA, second=ANNA, minutes=2)
    assert helped(before, answers(log, site)) == [], "by one who is named twice"
    log.correct(kind, {field: good}, ANNA, second=CORA, minutes=3)
    after = answers(log, site)[check][0]
    assert after is Verdict.GO, "two people settle it"


MOMENTS = [said(clock) for clock in ("7:00", "8:30", "9:00", "9:02", "9:05", "10:30", "11:30")]
PICK: dict[str, dict[str, list[Any]]] = {
    "joint_made": {
        "joint_temperature": [fahr(t) for t in (-5, 30, 52, 70, 95, 105)],
        "humidity": [damp(h) for h in (20, 60, 61, 90)],
        "roles": [
            {"pipe_end": a, "socket": b} for a, b in ((ANNA, BELA), (CORA, BELA), (BELA, BELA), (ANNA, CORA))
        ],
        "lots": [{"primer": "118"}, {"primer": "no such"}, {"cement": "7731", "primer": "118"}],
        "cans": [["C-good"], ["C-late"], []],
        "card": ["C-2", "C-8"],
        "at": MOMENTS,
        "steps": [[{"step": "home", "at": m}] for m in MOMENTS],
    },
    "hold_end": {
        "at": MOMENTS,
        "pushed_back": [metres("0", "0"), metres("3 mm", "0.003")],
    },
    "insertion": {
        "shortfall": [metres(f"{mm} mm", f"{mm / 1000:g}") for mm in (0, 2, 6, 7, 30)],
        "allowed": [metres("30 mm", "0.03")],
        "at": MOMENTS,
    },
    "examined": {"accepted": [True, False], "points": [{"bead": True}, {"bead": False}], "at": MOMENTS},
    "reading": {
        "temperature": [fahr(t) for t in (20, 38, 52, 70)], "at": MOMENTS,
        "of": ["joint", "pipe", "air"],
    },
    "humidity": {"humidity": [damp(h) for h in (20, 60, 61, 90)], "at": MOMENTS},
    "can_received": {"expires": ["2026-11-01", "2026-11-22", "2027-06-30"], "card": ["C-2", "C-8"]},
}  # fmt: skip
CHANGES = st.lists(
    st.sampled_from([(k, f) for k, fields in PICK.items() for f in fields]).flatmap(
        lambda where: st.tuples(st.just(where), st.sampled_from(PICK[where[0]][where[1]]))
    ),
    min_size=0,
    max_size=4,
    unique_by=lambda change: change[0],
)
CORRECTIONS = st.lists(
    st.tuples(
        st.sampled_from([(k, f) for k, fields in PICK.items() for f in fields]).flatmap(
            lambda where: st.tuples(st.just(where), st.sampled_from(PICK[where[0]][where[1]]))
        ),
        st.sampled_from([ANNA, BELA, CORA]),
    ),
    min_size=1,
    max_size=3,
)


@settings(max_examples=120, deadline=None)
@given(first=CHANGES, corrections=CORRECTIONS, minute=st.integers(0, 700))
def test_no_correction_by_one_person_alone_helps(
    site: Work, first: list[Any], corrections: list[Any], minute: int
) -> None:
    change: dict[str, Body] = {}
    for (kind, field), value in first:
        change.setdefault(kind, {})[field] = value
    log = Log(story(change))
    now = Stamp(wall=at("12:30") + timedelta(minutes=minute), confirmed=True)
    before = answers(log, site, now)
    for n, (((kind, field), value), who) in enumerate(corrections):
        log.correct(kind, {field: value}, who, minutes=n)
    assert helped(before, answers(log, site, now)) == []


@settings(max_examples=30, deadline=None)
@given(first=CHANGES, kind=st.sampled_from(sorted(PICK)), who=st.sampled_from([ANNA, BELA, CORA]))
def test_nothing_is_struck_out_to_advantage_by_one_person_alone(
    site: Work, first: list[Any], kind: str, who: str
) -> None:
    change: dict[str, Body] = {}
    for (where, field), value in first:
        change.setdefault(where, {})[field] = value
    log = Log(story(change))
    before = max(verdict for verdict, _ in answers(log, site).values())
    void = {"corrects": log.first(kind).id, "reason": "not so", "void": True}
    log.add(at("12:00"), "correction", void, who)
    after = max(verdict for verdict, _ in answers(log, site).values())
    assert after >= min(before, Verdict.CANNOT_TELL)


def test_a_cold_reading_that_one_person_alone_moves_out_of_the_way(site: Work) -> None:
    """A row of 4 h below 40 F: 38 F at 10:00 holds whatever its moment is said to be afterwards."""
    for field, value in (("at", said("7:00")), ("of", "air"), ("temperature", fahr(52))):
        log = Log(story({"reading": {"temperature": fahr(38)}}))
        now = Stamp(wall=at("11:05"), confirmed=True)
        before = answers(log, site, now)["MOV-02"]
        assert (before[0], before[1]) == (Verdict.WAIT, at("13:05"))
        log.correct("reading", {field: value}, ANNA)
        assert helped({"MOV-02": before}, answers(log, site, now)) == [], field
