"""A job asked again and again answers as it does from scratch, and reads only what is new.

The entries and hours are invented. What is compared is our own answer made two ways: from scratch, and by
what is held; so these are properties of the holding, not checks of the answer, which stand in
``test_may_raise.py``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from lineproof.desk.site_kept import KeptSite
from lineproof.desk.site_known import site_known
from lineproof.floor.verdicts import Verdict
from lineproof.job.progress import NO_SERIES, JointProgress, Series
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.plan.may_raise import MayRaise, may_raise
from lineproof.plan.section_at import Asked
from move_rig import fahr
from raise_rig import PSI, Site, job_folder

ASKED = Asked(verb="raise", section="S", pressure=100 * PSI, gauge="PG", medium="water", asker="T")


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    return Site(job_folder(tmp_path / "job"), monkeypatch)


def plain(joint: JointProgress) -> object:
    """A joint with its readings as lists, to be compared."""

    def listed(series: Series | None) -> object:
        if series is None:
            return None
        held, late = ([column.tolist() for column in r.arrays()] for r in (series.held, series.late))
        return held, late, series.ever, series.hot, listed(series.base)

    bare = replace(joint, readings=NO_SERIES, damp=None)
    return bare, listed(joint.readings), listed(joint.damp)


def both(kept: KeptSite, site: Site) -> MayRaise:
    """The answer by what is held, after it was found to be the one from scratch."""
    known, held = kept.may_raise(ASKED)
    anew = site_known(site.folder)
    fresh = may_raise(ASKED, anew.work, anew.progress)
    assert held == fresh
    assert {n: plain(j) for n, j in known.progress.joints.items()} == {
        n: plain(j) for n, j in anew.progress.joints.items()
    }
    assert known.progress.makings == anew.progress.makings
    assert known.progress.writers == anew.progress.writers
    assert known.log.head == anew.log.head
    assert known.log.state == anew.log.state
    return held


def test_one_more_entry_is_folded_once_and_only_its_joint_is_read_again(site: Site) -> None:
    site.made_and_cured()
    site.around()
    kept = KeptSite(site.folder)
    assert both(kept, site).verdict is Verdict.GO
    joints = site.joints()
    folded, read = kept.folded, kept.read
    told = kept.told
    site.clock.wait(minutes=1)
    site.write("examined", "C", joint=joints[0], list="A-1", accepted=True)
    assert both(kept, site).verdict is Verdict.GO
    assert kept.folded - folded == 1
    assert kept.read - read == 1
    assert kept.told - told == 1
    site.clock.wait(minutes=1)
    assert both(kept, site).verdict is Verdict.GO
    assert (kept.folded - folded, kept.read - read, kept.told - told) == (1, 1, 1), "time alone reads nothing"
    kept.close()


def test_every_step_of_a_story_is_answered_as_from_scratch(site: Site) -> None:
    site.to("7:10")
    kept = KeptSite(site.folder)
    verdicts = [both(kept, site).verdict]
    site.made_and_cured()
    verdicts.append(both(kept, site).verdict)
    site.around()
    verdicts.append(both(kept, site).verdict)
    first, second, third = (*site.joints(), *site.joints())[:3]
    steps: list[Callable[[], object]] = [
        lambda: site.clock.wait(minutes=7),
        lambda: site.write("reading", temperature=fahr(30), of="joint", joints=[second]),
        lambda: site.write("moved", joint=first, how="lowered"),
        lambda: site.write("hold_tag_set", tag="T-1", on=third, reason="bead open"),
        lambda: site.write("hold_tag_lifted", tag="T-1"),
        lambda: site.write("humidity", humidity={"typed": "90 %", "si": "0.9", "unit": "1"}),
        lambda: site.clock.wait(hours=5),
        lambda: site.readings(site.joints(), site.clock.wall, 3),
        lambda: site.around(),
        lambda: site.write("correction", corrects=made.id, reason="misread", fields=warmer),
        lambda: site.write("can_thrown", can="K-1", reason="thick"),
        lambda: site.write("field_joint", joint="F-1", beside=first),
        lambda: site.write("joint_made", joint="F-1", phone="phone"),
        lambda: site.write("rejected", joint="F-1", reason="bead"),
        lambda: site.clock.set(hours=-3),
        lambda: site.clock.restart("boot-2"),
        lambda: site.write("hold_end", joint=second),
        lambda: site.clock.wait(hours=30),
        lambda: site.write("cut_out", joint=second, reason="leaks"),
    ]
    warmer = {"joint_temperature": fahr(70)}
    made = site.write("joint_made", joint=third, phone="phone")
    for step in steps:
        verdicts.append(both(kept, site).verdict)
        step()
    verdicts.append(both(kept, site).verdict)
    assert {Verdict.GO, Verdict.CANNOT_TELL, Verdict.STOP} <= set(verdicts)
    kept.close()


def test_a_changed_file_of_the_job_has_it_planned_anew(site: Site) -> None:
    site.made_and_cured()
    site.around()
    kept = KeptSite(site.folder)
    assert both(kept, site).verdict is Verdict.GO
    path = site.folder / "job.toml"
    told = path.read_text("utf-8")
    path.write_text(told.replace('pressure = "150 psi"\nwall', 'pressure = "99 psi"\nwall'), "utf-8")
    assert path.read_text("utf-8") != told
    assert both(kept, site).verdict is Verdict.STOP
    path.write_text(told, "utf-8")
    assert both(kept, site).verdict is Verdict.GO
    kept.close()


def test_a_logbook_put_back_from_yesterday_is_read_from_the_first_entry(site: Site, tmp_path: Path) -> None:
    site.made_and_cured()
    site.store.close()
    old = {p.name: p.read_bytes() for p in site.folder.glob("logbook.db*")}
    kept = KeptSite(site.folder)
    both(kept, site)
    kept.close()
    again = Site.__new__(Site)
    again.__dict__.update(site.__dict__)
    again.store = SqliteStore(site.folder / "logbook.db")
    again.around()
    held = both(kept, again)
    again.store.close()
    kept.close()
    for path in site.folder.glob("logbook.db*"):
        path.unlink()
    for name, content in old.items():
        (site.folder / name).write_bytes(content)
    assert both(kept, again) != held
    kept.close()
