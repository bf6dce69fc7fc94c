"""The whole job judged: planted traps are named and no others, alike ones are told together."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from lineproof.book.load import Book, book
from lineproof.checks import registry
from lineproof.desk.say import say
from lineproof.floor.errors import DrawingMismatch
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.duty import Chemical, Chemicals
from lineproof.job.folder import Job, new_job, read_job
from lineproof.job.parts import Catalogue
from lineproof.job.walk_read import read_walk
from lineproof.plan.judge import Judgement, judge, told_together
from lineproof.plan.work import Work, work

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "src" / "lineproof" / "demo" / "brackstow"
CONFIRMED: Book = book().with_confirmations(book().every_confirmation())


@pytest.fixture(scope="module")
def example(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """The short job that a new folder starts with."""
    folder = tmp_path_factory.mktemp("jobs") / "ex"
    new_job(folder)
    return read_job(folder)


@pytest.fixture(scope="module")
def demo() -> Judgement:
    return judge(work(read_job(DEMO), seconds=1.0))


def judged(job: Job, *walks: str, shelf: Book | None = None, **settings: object) -> Judgement:
    return judge(worked(job, *walks, shelf=shelf, **settings))


def worked(job: Job, *walks: str, shelf: Book | None = None, **settings: object) -> Work:
    if walks:
        job = replace(job, walks=tuple(read_walk(w, f"lines/{n}.walk") for n, w in enumerate(walks)))
    if settings:
        job = replace(job, settings=replace(job.settings, **settings))
    return work(job, seconds=1.0, shelf=shelf)


def of(judgement: Judgement, *ids: str) -> list[Finding]:
    return [f for f in judgement.findings if f.id in ids and f.verdict is not Verdict.GO]


STRAIGHT = """line EX-1 size 6in pipe pvc sch80
starts at flange fixed "pump P-1" flat at 0, 0, 2'-6" facing north
go north 8'-0"
go up 6'-0"
go east 24'-6" field
ends at flange fixed "tank T-1" flat
"""


# ---------------------------------------------------------------- planted traps, one at a time


def stops(judgement: Judgement) -> Counter[str]:
    return Counter(f.id for f in judgement.findings if f.verdict is Verdict.STOP)


@pytest.fixture(scope="module")
def base(example: Job) -> Counter[str]:
    return stops(judged(example, STRAIGHT))


def new_stops(judgement: Judgement, base: Counter[str]) -> Counter[str]:
    return stops(judgement) - base


def test_overlapping_sockets_are_named_with_the_shortest_nipple(example: Job, base: Counter[str]) -> None:
    found = judged(example, STRAIGHT.replace("go up 6'-0\"", 'go up 8"'))
    assert new_stops(found, base) == Counter({"GEO-01": 1})
    (trap,) = of(found, "GEO-01")
    # two 90s, centre to face 6 9/16 in each: 8 - 13 1/8 in between the faces
    assert trap.measured == pytest.approx((8 - 13.125) * 0.0254)
    # the nipple: 3 1/16 in into each socket and the 4 in that straps need
    assert trap.facts["nipple"] == pytest.approx((2 * 3.0625 + 4) * 0.0254)
    assert set(trap.facts["pieces"]) & {"EX-1/B"}


def test_a_missing_fitting_angle_is_named_with_the_choices(example: Job, base: Counter[str]) -> None:
    found = judged(example, STRAIGHT.replace("go up 6'-0\"", "go north 3' up 5'"))
    assert new_stops(found, base)["GEO-02"] >= 1
    assert 45.0 in of(found, "GEO-02")[0].facts["choices"]


def test_a_tagged_part_of_another_size_and_material_is_named(example: Job, base: Counter[str]) -> None:
    elbow = next(r for r in example.parts.rows if r.kind.value == "coupling")
    wrong = replace(
        elbow, tag="M-1", kind=type(elbow.kind)("other"), material="cpvc", lot="", count=None, measured=1
    )
    job = replace(example, parts=Catalogue([*example.parts.rows, wrong]))
    walk = STRAIGHT.replace("go up 6", 'put "M-1"\ngo north 4\'\ngo up 6')
    found = judged(job, walk)
    assert new_stops(found, base) == Counter({"SYS-02": 1})
    assert of(found, "SYS-02")[0].facts["part_material"] == "cpvc"
    said = judged(job, walk.replace('put "M-1"', 'put "M-1" mixed'))
    assert new_stops(said, base) == Counter()
    assert of(said, "SYS-02")[0].verdict is Verdict.CARE
    size = replace(
        wrong, material="pvc", outlets=tuple(replace(o, size=type(o.size)("d", 160.0)) for o in wrong.outlets)
    )
    metric = judged(replace(job, parts=Catalogue([*example.parts.rows, size])), walk)
    (trap,) = of(metric, "SYS-01")
    # NPS 6 is 6.625 in outside (168.3 mm); d160 is 160.0 mm
    assert trap.facts["pipe_od"] == pytest.approx(0.168275)
    assert trap.facts["socket_od"] == pytest.approx(0.160)


def test_flat_on_raised_stops_until_a_filler_is_listed(example: Job, base: Counter[str]) -> None:
    walk = STRAIGHT.replace('"tank T-1" flat', '"tank T-1" raised')
    assert new_stops(judged(example, walk), base) == Counter({"FLG-01": 1})
    listed = tuple(replace(f, count=1) for f in example.settings.fillers)
    assert new_stops(judged(example, walk, fillers=listed), base) == Counter()


def test_silica_and_hypochlorite_stop_line_and_lot(example: Job, base: Counter[str]) -> None:
    duty = tuple(replace(d, chemical=Chemical(Chemicals.HYPOCHLORITE, 0.125)) for d in example.settings.lines)
    found = judged(example, STRAIGHT, lines=duty)
    assert new_stops(found, base) == Counter({"CEM-03": 2})
    assert {f.subject for f in of(found, "CEM-03")} == {"EX-1", "cement Heavy grey (invented), lot H-0417"}


def test_a_lot_out_of_date_is_named(example: Job, base: Counter[str]) -> None:
    cans = tuple(replace(c, expires=date(2027, 4, 1)) if c.id == "K-1" else c for c in example.settings.cans)
    found = judged(example, STRAIGHT, cans=cans)
    assert new_stops(found, base) == Counter({"CEM-04": 1})
    assert of(found, "CEM-04")[0].governs == "H-0417"


def test_a_short_socket_is_named(example: Job, base: Counter[str]) -> None:
    rows = [
        replace(r, outlets=tuple(replace(o, depth=0.07) for o in r.outlets)) if r.kind.value == "elbow" else r
        for r in example.parts.rows
    ]
    found = judged(replace(example, parts=Catalogue(rows)), STRAIGHT)
    assert new_stops(found, base) == Counter({"PRT-02": 1})
    # 3.000 in is the least depth carried for NPS 6 (D2467)
    assert of(found, "PRT-02")[0].limit == pytest.approx(0.0762)


def drop(n: int, out: str, turned: bool = False) -> str:
    way = {"east": "west", "west": "east"}[out] if turned else out
    return f"""line TD-{n} size 6in pipe pvc sch80
starts at open at {20 * n}', 0, 10' facing east
spool "TD"
go east 3'
go down 4'
go {"north" if out == "east" else "south"} 3'
go {way} 3'
spool ends
ends at open
"""


def test_a_wrong_rotation_among_repeats_is_named(example: Job, base: Counter[str]) -> None:
    right = [drop(n, "east") for n in range(5)]
    alike = judged(example, *right)
    assert of(alike, "SPL-01") == []
    wrong = judged(example, *right[:4], drop(4, "east", turned=True))
    (trap,) = of(wrong, "SPL-01")
    assert (trap.governs, trap.facts["how"]) == ("TD-4/E3", "turned")
    assert trap.facts["turned"] == pytest.approx(3.14159, abs=1e-4)
    longer = judged(example, *right[:4], drop(4, "east").replace("go down 4'", "go down 5'"))
    (trap,) = of(longer, "SPL-01")
    assert (trap.governs, trap.facts["how"]) == ("TD-4/E2", "length")


def test_a_spool_turned_as_a_whole_is_the_same_spool(example: Job) -> None:
    one = drop(0, "east")
    other = (
        one.replace("TD-0", "TD-1")
        .replace("facing east", "facing north")
        .replace("go east 3'\ngo down", "go north 3'\ngo down")
    )
    other = other.replace("go north 3'\ngo east 3'\nspool", "go west 3'\ngo north 3'\nspool")
    assert of(judged(example, one, other), "SPL-01") == []


# ---------------------------------------------------------------- the answer as a whole


def test_the_traps_of_the_demo_are_named(demo: Judgement) -> None:
    """Planted in the demo: two lots, one joiner, hot work next door; the low valve is the weakest part."""
    named = {(f.id, f.governs or f.subject) for f in demo.findings if f.verdict is Verdict.STOP}
    assert ("CEM-04", "HG-2504") in named
    assert any(i == "CEM-03" and "HO-2619" in who for i, who in named)
    assert ("PPL-01", "P-3") in named
    assert {who for i, who in named if i == "PPL-01"} == {"P-3"}
    assert any(i == "HOT-01" for i, _ in named)
    weakest = next(f for f in demo.each if f.id == "PRS-01" and f.subject == "B-2")
    assert weakest.facts["part"] == "V-7"


def test_a_lead_reads_some_findings_not_hundreds(demo: Judgement) -> None:
    assert len(demo.joints) == 341
    assert len(demo.findings) <= 30 < len(demo.each)
    assert [f.verdict for f in demo.findings] == sorted((f.verdict for f in demo.findings), reverse=True)
    open_causes = [f for f in demo.each if f.verdict is not Verdict.GO]
    told = {s for f in demo.findings for s in (*f.facts.get("subjects", ()), f.subject)}
    assert {f.subject for f in open_causes} <= told
    assert demo.verdict is Verdict.STOP


def test_every_finding_can_be_said(demo: Judgement, example: Job) -> None:
    for f in demo.findings:
        text = say(f, example.settings.shown.shown)
        assert "{" not in text
        assert "None" not in text


def test_joints_and_pieces_take_their_worst(demo: Judgement) -> None:
    for f in demo.each:
        if registry.all_checks()[f.id].stage in registry.MAKING:
            assert all(demo.joints[j] >= f.verdict for j in f.facts["joints"])
            assert all(demo.pieces[p] >= f.verdict for p in f.facts["pieces"])
    assert demo.count(demo.pieces) > 0


def test_pressure_does_not_hold_up_the_making_of_a_joint(example: Job) -> None:
    # 150 psi at 73 F is 132 psi at 80 F (factor 0.88, PPI Recommendation C); 135 psi is too much.
    too_much = tuple(replace(s, pressure=135 * 6894.757) for s in example.settings.sections)
    good = judged(example, STRAIGHT, shelf=CONFIRMED, sections=too_much)
    assert any(f.id == "PRS-01" and f.verdict is Verdict.STOP for f in good.each)
    assert set(good.joints.values()) == {Verdict.GO}


def test_confirmations_clear_what_only_waits_for_them(example: Job) -> None:
    before = judged(example, STRAIGHT)
    assert set(before.joints.values()) == {Verdict.CARE}
    steps = before.confirmations
    assert steps[0].joints or steps[1].joints
    freed = {j for step in steps for j in step.joints}
    assert freed == set(before.joints)
    # hold the confirmations it asks for, and the joints are GO
    keys = {(s.table, s.edition, h) for s in steps for h in s.hashes}
    after = judged(example, STRAIGHT, shelf=book().with_confirmations(keys))
    assert set(after.joints.values()) == {Verdict.GO}
    assert after.confirmations == ()


def test_alike_ones_are_told_together_by_the_worst(example: Job) -> None:
    walk = STRAIGHT
    found = judged(example, walk)
    one = next(f for f in found.each if f.id == "PRT-02")
    many = [
        replace(
            one,
            subject=f"S{n}",
            verdict=Verdict.STOP,
            measured=0.07 - n / 100,
            facts={**one.facts, "why": "x", "subjects": (f"S{n}",)},
        )
        for n in range(5)
    ]
    (told,) = told_together(many)
    assert told.facts["told_together"] == 5
    assert told.subject == "S4"
    assert set(told.facts["subjects"]) == {f"S{n}" for n in range(5)}
    assert len(told_together(many[:3])) == 3


def test_a_planned_last_day_beats_the_estimate(example: Job) -> None:
    w = worked(example, STRAIGHT)
    late = judge(w, last_day=date(2028, 12, 31))
    # cans of the new job folder: cement to 2028-04-30, primer to 2028-06-30, cleaner to 2029-01-31
    stopped = {f.governs for f in late.each if f.id == "CEM-04" and f.verdict is Verdict.STOP}
    assert stopped == {"H-0417", "U-0388"}
    early = judge(w, last_day=date(2027, 5, 4))
    assert all(f.verdict is Verdict.GO for f in early.each if f.id == "CEM-04")


def test_questions_grow_with_causes_not_with_joints(example: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    def line(n: int, legs: int) -> str:
        body = "".join(f"go {('north', 'east')[k % 2]} 10'\n" for k in range(legs))
        head = f"line EX-{n} size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\n"
        return f"{head}{body}ends at open\n"

    plenty = [replace(r, count=None) for r in example.parts.rows]
    job = replace(example, parts=Catalogue(plenty))
    small, large = worked(job, line(1, 20)), worked(job, line(1, 400))
    assert len(large.cutting.joints) > 15 * len(small.cutting.joints)
    assert len(judge(large).each) <= len(judge(small).each) + 3


# ---------------------------------------------------------------- seeded jobs, one trap each


def seeded(seed: int) -> tuple[list[str], str]:
    """Walks of a small invented job with one planted trap, and what must name it."""
    pick = np.random.default_rng(seed)
    legs = [int(n) for n in pick.integers(4, 12, size=6)]
    trap = ("overlap", "rotation", "angle", "mixed", "misclosure")[seed % 5]
    up = '8"' if trap == "overlap" else f"{legs[1]}'"
    middle = "north 3' up 5'" if trap == "angle" else f"up {up}"
    part = 'put "M-1"\ngo north 4\'\n' if trap == "mixed" else ""
    end = f" at {legs[2] + (1 if trap == 'misclosure' else 0)}', {legs[0]}', {2.5 + legs[1]}ft"
    main = (
        'line EX-1 size 6in pipe pvc sch80\nstarts at flange fixed "pump" flat at 0, 0, 2.5ft facing north\n'
        f"go north {legs[0]}'\n{part}go {middle}\ngo east {legs[2]}' field\n"
        'ends at flange fixed "tank" flat'
        f"{end if trap == 'misclosure' else ''}\n"
    )
    odd = int(pick.integers(0, 5))
    drops = [drop(n, "east", turned=trap == "rotation" and n == odd) for n in range(5)]
    named = {
        "overlap": "GEO-01",
        "rotation": "SPL-01",
        "angle": "GEO-02",
        "mixed": "SYS-02",
        "misclosure": "",
    }
    return [main, *drops], named[trap]


@pytest.mark.parametrize("seed", range(50))
def test_a_planted_trap_is_named_and_no_other(seed: int, example: Job, base: Counter[str]) -> None:
    rows = [replace(r, count=None) for r in example.parts.rows]
    coupling = next(r for r in rows if r.kind.value == "coupling")
    wrong = replace(
        coupling, tag="M-1", kind=type(coupling.kind)("other"), material="cpvc", lot="", measured=1
    )
    job = replace(example, parts=Catalogue([*rows, wrong]))
    walks, named = seeded(seed)
    if not named:
        with pytest.raises(DrawingMismatch, match="from where it is said to end"):
            judged(job, *walks)
        return
    assert set(new_stops(judged(job, *walks), base)) == {named}
