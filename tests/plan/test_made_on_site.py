"""Whatever joints of the built-in works are made, the plan keeps every other joint as it was issued."""

from __future__ import annotations

from importlib import resources

import pytest

from lineproof.desk.record_book import joints_of
from lineproof.desk.verbs_plan import issued
from lineproof.job.folder import Job, new_job, read_job
from lineproof.plan.make_pack import make_pack, named_work
from lineproof.plan.work import work


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
