"""Whatever joints of the built-in works are made, the plan keeps every other joint as it was issued."""

from __future__ import annotations

from collections import Counter
from importlib import resources
from pathlib import Path

import pytest

from lineproof.desk.record_book import joints_of
from lineproof.desk.verbs_plan import issued
from lineproof.job.folder import Job, new_job, read_job
from lineproof.plan.make_pack import make_pack, named_work
from lineproof.plan.work import work
from rigs import coupling, elbow, flange, job_at, stock


@pytest.fixture(scope="module")
def works(tmp_path_factory: pytest.TempPathFactory) -> tuple[Job, frozenset[str]]:
    folder = tmp_path_factory.mktemp("works") / "job"
    new_job(folder, like=resources.files("lineproof") / "demo" / "brackstow")
    issued(folder, make_pack(read_job(folder), issuing=True))
    job = read_job(folder)
    return job, frozenset(n for n in joints_of(folder).newest if "/" in n)


def joints_with(job: Job, made: frozenset[str]) -> frozenset[str]:
    named, _ = named_work(work(job, nest=False, recorded=made), recorded=made)
    return frozenset(j.id for j in named.cutting.joints)


# A leg of three sticks, both couplings; its middle and last pieces fill their sticks to the tenth of a
# millimetre that joints.csv keeps.
@pytest.mark.parametrize(
    "made",
    [["J17"], ["J18"], ["J37"], ["J38"], ["J39"], ["J40"], ["J37", "J40"]],
    ids=" ".join,
)
def test_one_made_joint_of_a_split_leg_moves_no_other(
    works: tuple[Job, frozenset[str]], made: list[str]
) -> None:
    job, all_of_them = works
    assert joints_with(job, frozenset(f"B-301/{name}" for name in made)) == all_of_them


@pytest.mark.parametrize("nth", [1, 2, 7])
def test_any_share_of_the_works_may_be_made(works: tuple[Job, frozenset[str]], nth: int) -> None:
    job, all_of_them = works
    assert len(all_of_them) == 341
    assert joints_with(job, frozenset(sorted(all_of_them)[::nth])) == all_of_them


def test_rounding_starts_afresh_at_a_piece_that_is_made(tmp_path: Path) -> None:
    """Three pieces of one straight, each 5/128 in over a whole number of sixteenths (8/128 in); by hand.

    Carried along: 5, 10, 15 of 128 come to 1, 1, 2 sixteenths, so the pieces get 1, 0, 1. Afresh at the first
    and so at the second: 1, then 5 and 10 of 128: 1, 0. Afresh at the second and so at the third: 1, 1, 1.
    At the third alone 5 and 10 of 128, then 5: 1, 0, 1.
    """
    over = 5 / 128 * 0.0254
    feet = [f"{(n * 0.3048 + over) / 0.3048:.9f}ft" for n in (5, 6, 7)]
    walk = (
        'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
        f"go north 3'\ngo east {feet[0]}\ncoupling\ngo east {feet[1]}\ncoupling\ngo east {feet[2]}\n"
        "go north 3'\nends at open\n"
    )
    parts = [
        elbow("6in", "6 in", "3 in"), flange("6in", "3 1/2 in", "3 in"), coupling("6in", "3 1/4 in", "3 in"),
    ]  # fmt: skip
    job_at(tmp_path / "job", walk, parts, toml=stock("6in"))
    folder = tmp_path / "job"
    issued(folder, make_pack(read_job(folder), issuing=True))

    def extra(made: frozenset[str]) -> tuple[int, ...]:
        """Sixteenths that each piece of the straight is longer than its whole number of them."""
        cutting = work(read_job(folder), nest=False, recorded=made).cutting
        straight = [p for p in cutting.pieces if p.way[0] > 0.5]
        return tuple(round(((p.cut or 0.0) - (p.exact or 0.0) + over) / (0.0254 / 16)) for p in straight)

    assert extra(frozenset()) == (1, 0, 1)
    made = [n for n in joints_of(folder).newest if n.startswith("L/J")]
    assert len(made) == 9
    afresh = Counter(extra(frozenset([name])) for name in made)
    assert afresh == {(1, 1, 0): 2, (1, 1, 1): 2, (1, 0, 1): 5}
