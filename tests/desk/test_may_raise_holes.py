"""Ways in which a release could have been talked into GO, each tried: none of them may.

The job is that of ``raise_rig``, all of it invented: joints made at 52 F, asked 26 h later. Each test takes
the answer that is GO and tells one thing of it that a slip, a lying clock or one person alone could tell.
"""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from lineproof.book.load import book
from lineproof.checks.conditions import OnTheSpot, on_the_spot
from lineproof.checks.section_state import Fresh, fresh
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.writing import Pen, Writer
from logbook.rig import Hands, named, pascals
from move_rig import fahr
from raise_rig import BESIDE, BRANCHED, PSI, WALK, Site, job_folder
from verb_rig import Said, verb

GO, WAIT, CANNOT_TELL, STOP = 0, 11, 12, 13
READY = "2026-11-24T18:00:00.000000Z"
EARLIER = "2026-11-23T08:00:00.000000Z"


@pytest.fixture
def released(ready: Site) -> Site:
    assert ready.asks("--release", "--for", "30min").code == GO
    return ready


def opens(site: Site, what: str = "L/J4") -> Said:
    """``may open`` as typed."""
    return verb("may", "open", what, "--job", site.folder)


def newest(site: Site, kind: str) -> str:
    """Id of the newest entry of a kind."""
    return str(verb("record", "list", kind, "--json", "--job", site.folder).data["entries"][-1]["id"])


def replaced(site: Site, joint: str, by: str) -> None:
    said = verb("record", "add", "replaced", joint, f"by={by}", "--by", "A", "--job", site.folder)
    assert said.code == 0, said


def other_clock(site: Site, *, minutes: float) -> Hands:
    """The clock of another phone, not set by any server, ahead of ours or behind."""
    hands = Hands(site.clock.wall, boot="boot of a phone", synchronised="no")
    hands.set(minutes=minutes)
    return hands


def on_phone(site: Site, hands: Hands, kind: str, by: str = "B", **body: object) -> None:
    """An entry written on another phone, by the clock of that phone; it is received here at once."""
    phone = Writer(id=named("writer phone 2"), who=site.who(by), device="phone 2", software="0.1.0")
    Pen(site.store, phone, hands).write(kind, body)


# ---------------------------------------------------------------- one person alone corrects


def test_one_person_does_not_bring_a_green_block_forward(ready: Site) -> None:
    told = ready.write("grout", "A", section="S", what="thrust block", ready=READY)
    ready.write("correction", "A", corrects=told.id, reason="misread", fields={"ready": EARLIER})
    assert ready.asks().code == WAIT
    ready.write(
        "correction", "A", corrects=told.id, reason="seen", fields={"ready": EARLIER}, second=ready.who("E")
    )
    assert ready.asks().code == GO, "two people stand by it"


@pytest.mark.parametrize("field", ["section", "ready"])
def test_one_person_does_not_take_a_block_to_another_section(ready: Site, field: str) -> None:
    body = {"section": "S", "what": "grout"} | ({"ready": READY} if field == "section" else {})
    told = ready.write("grout", "A", **body)
    new = {"section": "S2"} if field == "section" else {"ready": EARLIER}
    ready.write("correction", "A", corrects=told.id, reason="misread", fields=new)
    assert ready.asks().code in (WAIT, CANNOT_TELL)


@pytest.mark.parametrize("condition", ["people-out", "joints-ready", "nothing-since"])
def test_nobody_puts_a_yes_into_the_mouth_of_another(site: Site, condition: str) -> None:
    site.around(without=condition)
    by = {"people-out": "C", "joints-ready": "A", "nothing-since": "T"}[condition]
    told = site.write("condition", by, section="S", condition=condition, answer=False, place="gate")
    site.write("correction", "B", corrects=told.id, reason="misread", fields={"answer": True})
    assert site.asks().code in (CANNOT_TELL, STOP)


@pytest.mark.parametrize(
    ("kind", "body", "new"),
    [
        ("restraint_checked", {"good": False}, {"good": True}),
        ("bolts_torqued", {"good": False}, {"good": True}),
        ("isolation", {"boundary": "pump P", "how": "valve"}, {"how": "blind"}),
        ("source", {"source": "pump 2", "most": pascals("150 psi", f"{150 * PSI:.3f}")},
         {"most": pascals("90 psi", f"{90 * PSI:.3f}")}),
        ("source", {"source": "pump 2", "most": pascals("150 psi", f"{150 * PSI:.3f}")}, {"section": "S2"}),
        ("isolation", {"boundary": "pump P", "how": "valve"}, {"boundary": "pump X"}),
        ("isolation", {"boundary": "pump P", "how": "valve"}, {"section": "S2"}),
        ("condition", {"condition": "people-out", "answer": False, "place": "x"}, {"section": "S2"}),
        ("condition", {"condition": "people-out", "answer": False, "place": "x"}, {"condition": "lunch"}),
        ("condition", {"condition": "people-out", "answer": False, "place": "x"}, {"about": "lunch"}),
    ],
)  # fmt: skip
def test_one_person_does_not_correct_bad_news_away(
    ready: Site, kind: str, body: dict[str, object], new: dict[str, object]
) -> None:
    told = ready.write(kind, "B", section="S", **body)
    assert ready.asks().code in (STOP, CANNOT_TELL)
    ready.write("correction", "B", corrects=told.id, reason="misread", fields=new)
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_one_person_does_not_hang_a_tag_elsewhere(ready: Site) -> None:
    told = ready.write("hold_tag_set", "E", tag="H-1", on="L/J2", reason="waits")
    ready.write("correction", "B", corrects=told.id, reason="misread", fields={"on": "S2"})
    assert ready.asks().code in (STOP, CANNOT_TELL)
    ready.write("hold_tag_set", "E", tag="H-2", on="L/J2", reason="waits")


def test_one_person_does_not_move_a_stray_to_another_section(ready: Site) -> None:
    told = ready.write("field_joint", "A", joint="L/F1", beside="L/J2", section="S")
    ready.write("field_joint", "A", joint="M/F9", beside="L/J2", section="S")
    ready.write("cut_out", "A", joint="M/F9")
    new = {"beside": "M/F9", "section": "S2"}
    ready.write("correction", "B", corrects=told.id, reason="misread", fields=new)
    assert ready.asks().code in (STOP, CANNOT_TELL)


@pytest.mark.parametrize("new", [{"void": True}, {"fields": {"section": "S2"}}, {"fields": {"may": "move"}}])
@pytest.mark.parametrize("second", [False, True])
def test_no_correction_ends_under_pressure(ready: Site, new: dict[str, object], second: bool) -> None:
    ready.write("zero_proved", "T", section="S", vent="vent at E1")
    assert ready.asks("--release").code == GO
    more = {"second": ready.who("E")} if second else {}
    ready.write("correction", "B", corrects=newest(ready, "release_given"), reason="slip", **new, **more)
    assert opens(ready).code == STOP
    assert opens(ready, "S").code == STOP


def test_a_zero_of_another_section_is_not_corrected_into_this_one(released: Site) -> None:
    released.clock.wait(minutes=5)
    told = released.write("zero_proved", "T", section="S2", vent="vent")
    assert opens(released).code == STOP
    released.write("correction", "B", corrects=told.id, reason="misread", fields={"section": "S"})
    assert opens(released).code != GO


# ---------------------------------------------------------------- clocks


def test_a_no_from_a_phone_whose_clock_is_behind_is_not_outlived_by_an_older_yes(ready: Site) -> None:
    on_phone(
        ready, other_clock(ready, minutes=-30), "condition", section="S", condition="people-out",
        answer=False, place="gate",
    )  # fmt: skip
    assert ready.asks().code == STOP


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("isolation", {"boundary": "pump P", "how": "valve"}),
        ("restraint_checked", {"good": False}),
        ("source", {"source": "hand pump", "most": pascals("150 psi", f"{150 * PSI:.3f}")}),
    ],
)
def test_bad_news_from_a_clock_that_is_behind_stands(ready: Site, kind: str, body: dict[str, object]) -> None:
    on_phone(ready, other_clock(ready, minutes=-30), kind, section="S", **body)
    ready.write("condition", "C", section="S", condition="heard-for", about="phone 2", answer=True)
    assert ready.asks().code == STOP


def test_a_gauge_that_failed_by_a_phone_whose_clock_is_behind(ready: Site) -> None:
    on_phone(ready, other_clock(ready, minutes=-30), "gauge", gauge="G-1", place="PG", due="2026-11-22",
             error=pascals("1 psi", f"{PSI:.3f}"), range=pascals("200 psi", f"{200 * PSI:.3f}"))  # fmt: skip
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_a_hot_reading_by_a_clock_that_is_ahead_counts(ready: Site) -> None:
    here, ready.clock = ready.clock, Hands(ready.clock.wall, boot="phone")
    ready.clock.set(minutes=5)
    ready.write("reading", "A", phone="phone 2", temperature=fahr(80.0), of="joint", joint="L/J2")
    ready.clock = here
    assert "the pipe is at 80 F" in ready.asks().out


def test_a_yes_of_a_phone_whose_clock_is_ahead_grows_old_from_when_it_came(site: Site) -> None:
    """Its clock says 11:30 and is wrong; it came here at 11:00, and at 11:31 it is 31 minutes old."""
    site.around(without="people-out")
    ahead = Hands(site.clock.wall, boot="boot of a phone")
    ahead.set(minutes=30)
    on_phone(site, ahead, "condition", "C", section="S", condition="people-out", answer=True, place="gate")
    site.clock.wait(minutes=31)
    site.write("condition", "T", section="S", condition="nothing-since", answer=True)
    site.write("condition", "C", section="S", condition="heard-for", about="phone 2", answer=True)
    said = site.asks()
    assert said.code == CANNOT_TELL
    assert "people-out" in said.out


def test_a_clock_that_jumped_ahead_does_not_ripen_grout(ready: Site) -> None:
    soon = "2026-11-23T19:00:00.000000Z"  # 12:00 on the site; it is 11:00
    ready.write("grout", "A", section="S", what="grout", ready=soon)
    assert ready.asks().code == WAIT
    ready.clock.set(hours=2)
    ready.around()
    ready.write("reading", "A", temperature=fahr(52.0), of="joint", joints=list(ready.joints()))
    assert ready.asks().code != GO


def test_zero_confirmed_by_one_person_to_after_the_release_does_not_count(ready: Site) -> None:
    zero = ready.write("zero_proved", "T", section="S", vent="vent")
    ready.clock.wait(minutes=5)
    assert ready.asks("--release").code == GO
    given = newest(ready, "release_given")
    ready.write("time_confirmed", "B", of=given, true_time=EARLIER, how="watch")
    ready.write("time_confirmed", "B", of=zero.id, true_time="2026-11-23T18:30:00.000000Z", how="watch")
    out = ready.folder / "carry.rec"
    assert verb("record", "export", out, "--job", ready.folder).code == 0
    ready.store.close()
    for name in ("logbook.db", "logbook.db-wal", "logbook.db-shm"):
        (ready.folder / name).unlink(missing_ok=True)
    assert verb("record", "import", out, "--job", ready.folder).code == 0
    assert opens(ready).code == STOP


# ---------------------------------------------------------------- who


def test_nobody_named_answers_for_nothing(site: Site) -> None:
    site.around(without="people-out")
    site.write("condition", "X-9", section="S", condition="people-out", answer=True, place="gate")
    assert site.asks().code == CANNOT_TELL


def test_nobody_named_proves_zero(released: Site) -> None:
    released.clock.wait(minutes=5)
    released.write("zero_proved", "X-9", section="S", vent="vent")
    assert opens(released).code == STOP


def test_a_no_about_something_counts(ready: Site) -> None:
    ready.write(
        "condition", "C", section="S", condition="people-out", answer=False, about="pit 2", place="pit"
    )
    assert ready.asks().code == STOP


def test_a_no_to_a_question_nobody_knows_is_not_passed_over(ready: Site) -> None:
    ready.write("condition", "C", section="S", condition="people out", answer=False, place="pit")
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_two_phones_of_one_name_are_each_answered_for(ready: Site) -> None:
    for n in (2, 3):
        ready.write("reading", "B", phone=f"phone {n}", temperature=fahr(52), of="joint", joint="L/J2")
    ready.clock.wait(minutes=11)
    ready.write("condition", "C", section="S", condition="heard-for", about="phone 2", answer=True)
    assert ready.asks().code == CANNOT_TELL


def test_an_old_entry_carried_in_now_is_not_word_of_the_phone(ready: Site) -> None:
    here, ready.clock = ready.clock, Hands(ready.clock.wall, boot="phone")
    ready.clock.set(hours=-1)
    ready.write("reading", "B", phone="phone 2", temperature=fahr(52), of="joint", joint="L/J2")
    ready.clock = here
    assert ready.asks().code == CANNOT_TELL


# ---------------------------------------------------------------- names


def test_a_valve_at_an_end_typed_otherwise_counts(ready: Site) -> None:
    ready.write("isolation", "B", section="S", boundary="Pump P", how="valve")
    assert ready.asks().code in (STOP, CANNOT_TELL)


def settings(site: Site, old: str, new: str) -> None:
    file = site.folder / "job.toml"
    told = file.read_text("utf-8")
    assert old in told
    file.write_text(told.replace(old, new, 1), "utf-8")


def test_a_section_renamed_while_under_pressure_stays_so(released: Site) -> None:
    settings(released, 'id = "S"\n', 'id = "S9"\n')
    settings(released, 'section = "S"\n', 'section = "S9"\n')
    released.write("zero_proved", "T", section="S9", vent="vent")
    assert opens(released).code == STOP
    said = verb("may", "move", "L/J2", "--job", released.folder)
    assert said.code == STOP


def test_a_section_whose_lines_were_changed_while_under_pressure(released: Site) -> None:
    settings(released, 'lines = ["L*"]\ngauge', 'lines = ["K*"]\ngauge')
    file = released.folder / "job.toml"
    file.write_text(file.read_text("utf-8") + '\n[[sections]]\nid = "S2"\nlines = ["L"]\n', "utf-8")
    (released.folder / "lines" / "k.walk").write_text(
        (released.folder / "lines" / "line.walk").read_text("utf-8").replace("line L", "line K").replace(
            '"pump P" at 0, 0, 0', '"pump K" at 50\', 0, 0'), "utf-8")  # fmt: skip
    released.write("zero_proved", "T", section="S2", vent="vent")
    assert opens(released).code == STOP


def test_a_medium_that_job_toml_calls_air_is_not_water_by_typing(ready: Site) -> None:
    settings(ready, 'medium = "water"', 'medium = "air"')
    assert ready.asks().code in (STOP, CANNOT_TELL)


@pytest.mark.parametrize("day", ["2026-11-20", "2026-11-21"])
def test_of_two_caps_of_one_day_the_lower_holds_and_each_place_its_own(ready: Site, day: str) -> None:
    file = ready.folder / "job.toml"
    more = (
        '\n[[pressure_caps]]\nsection = "S"\npressure = "90 psi"\nwall_temperature = "73 F"\n'
        'signed_by = "E"\ndate = 2026-11-20\nplace = "pump P"\n'
    )
    file.write_text(
        file.read_text("utf-8").replace("date = 2026-11-20\n", f"date = {day}\n", 1) + more, "utf-8"
    )
    assert ready.asks().code == STOP


def test_a_cap_signed_in_time_to_come_is_none(ready: Site) -> None:
    file = ready.folder / "job.toml"
    head, _, tail = file.read_text("utf-8").partition("[[pressure_caps]]")
    file.write_text(f"{head}[[pressure_caps]]{tail.replace('2026-11-20', '2027-11-20', 1)}", "utf-8")
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_a_tag_on_another_section_of_the_same_lines_counts(ready: Site) -> None:
    file = ready.folder / "job.toml"
    file.write_text(file.read_text("utf-8") + '\n[[sections]]\nid = "S2"\nlines = ["L"]\n', "utf-8")
    assert ready.asks().code == GO
    ready.write("hold_tag_set", "E", tag="H-1", on="S2", reason="waits")
    assert ready.asks().code in (STOP, CANNOT_TELL)


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("grout", {"what": "grout", "ready": READY}),
        ("restraint_checked", {"good": False}),
        ("source", {"source": "pump 2", "most": pascals("150 psi", f"{150 * PSI:.3f}")}),
        ("condition", {"condition": "people-out", "answer": False, "place": "pit"}),
    ],
)
def test_bad_news_of_a_section_of_the_same_lines_counts(
    ready: Site, kind: str, body: dict[str, object]
) -> None:
    file = ready.folder / "job.toml"
    file.write_text(file.read_text("utf-8") + '\n[[sections]]\nid = "S2"\nlines = ["L"]\n', "utf-8")
    ready.write(kind, "E", section="S2", **body)
    assert ready.asks().code != GO


# ---------------------------------------------------------------- joints


def test_a_joint_cut_out_is_not_replaced_by_one_that_was_there_all_along(ready: Site) -> None:
    ready.write("cut_out", "A", joint="L/J2", reason="weeps")
    replaced(ready, "L/J2", "L/J3")
    ready.around()
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_a_stray_is_not_drawn_by_naming_an_older_joint(ready: Site) -> None:
    ready.write("field_joint", "A", joint="L/F1", beside="L/J2", section="S")
    ready.write("joint_made", "A", joint="L/F1", joint_temperature=fahr(52))
    replaced(ready, "L/F1", "L/J3")
    ready.around()
    assert ready.asks().code in (STOP, CANNOT_TELL)


def test_a_stray_beside_what_nobody_can_place_counts(ready: Site) -> None:
    ready.write("joint_made", "A", joint="OLD/J9")
    ready.write("cut_out", "A", joint="OLD/J9")
    ready.write("field_joint", "A", joint="OLD/F1", beside="OLD/J9")
    ready.around()
    assert ready.asks().code in (STOP, CANNOT_TELL)


# ---------------------------------------------------------------- stories


def test_one_person_alone_does_not_settle_which_making_stands(ready: Site) -> None:
    ready.clock.wait(minutes=5)
    ready.write("joint_made", joint="L/J1", joint_temperature=fahr(52))
    told = verb("record", "list", "joint_made", "--json", "--job", ready.folder).data["entries"]
    first = min((e for e in told if "L/J1" in e["about"]), key=lambda e: str(e["at"]))["entry"]
    words = ("record", "settle", first, "--reason", "slip", "--by", "A", "--job", ready.folder)
    assert verb(*words).code == 0
    ready.around()
    assert ready.asks().code == CANNOT_TELL
    assert verb(*words, "--second", "B").code == 0
    assert ready.asks().code == GO, "two people stand by it"


def test_one_person_alone_does_not_settle_a_knock_away(ready: Site) -> None:
    """The folder was copied: two machines went on under one name, and one of them recorded a knock."""
    other = ready.folder.parent / "clone"
    ready.store.close()
    shutil.copytree(ready.folder, other)
    ready.clock.wait(minutes=5)
    told = {}
    for folder, kind, body in (
        (other, "disturbed", {"joint": "L/J3", "how": "bucket"}), (ready.folder, "note", {"text": "lunch"}),
    ):  # fmt: skip
        ready.store = SqliteStore(folder / "logbook.db", job=ready.job, clock=lambda: ready.clock.wall)
        told[kind] = ready.write(kind, "A", **body)
        if folder == other:
            ready.store.close()
    carried = ready.folder / "carried.rec"
    assert verb("record", "export", carried, "--job", other).code == 0
    assert verb("record", "import", carried, "--job", ready.folder).code == 0
    words = ("record", "settle", told["note"].seal[:12], "--reason", "slip", "--by", "A")
    assert verb(*words, "--job", ready.folder).code == 0
    ready.around()
    assert ready.asks().code == CANNOT_TELL


# ---------------------------------------------------------------- ends


def test_two_ends_of_one_name_are_two_ends(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = job_folder(tmp_path / "job")
    walk = WALK.replace("ends at cap", 'ends at flange fixed "pump P"')
    (folder / "lines" / "line.walk").write_text(walk, "utf-8")
    site = Site(folder, monkeypatch)
    site.made_and_cured()
    site.around()
    said = site.asks()
    assert said.code == CANNOT_TELL
    assert "nobody recorded how it ends at" in said.out


LOOP = """line M size 2in pipe pvc sch80
starts at branch M
go west 5'
go north 4'
go east 5'
ends at branch N
"""


def two_sections(folder: Path) -> None:
    """S holds line L alone, S2 line M."""
    file = folder / "job.toml"
    told = file.read_text("utf-8").replace('lines = ["L*"]\ngauge', 'lines = ["L"]\ngauge')
    told = told.replace('line = "L*"', 'line = "*"')
    file.write_text(told + '\n[[sections]]\nid = "S2"\nlines = ["M"]\n', "utf-8")


def test_one_blind_does_not_close_two_ways_into_a_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    line = BRANCHED.replace("ends at cap", "tee west 2in as N\ngo north 4'\nends at cap")
    folder = job_folder(tmp_path / "job", walks={"line.walk": line, "other.walk": LOOP})
    two_sections(folder)
    site = Site(folder, monkeypatch)
    site.to("7:10")
    assert verb("plan", "--issue", "--no-paper", "--job", folder).code in (0, 10, 12, 13)
    site.around()
    site.write("isolation", "B", section="S", boundary="M", how="blind")
    said = site.asks("--json").data
    assert said["beyond"] == ["M"]
    ends = [f["subject"] for f in said["findings"] if f["id"] == "RAI-04"]
    for name in ends:
        if name.startswith("M at "):
            site.write("isolation", "B", section="S", boundary=name, how="blind")
            assert len([n for n in ends if n.startswith("M at ")]) == 2
    assert site.asks("--json").data["beyond"] == []


@pytest.fixture
def branched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    """A branch M off line L, in a section of its own, blinded off and released; all of M was proved zero."""
    folder = job_folder(tmp_path / "job", walks={"line.walk": BRANCHED, "other.walk": BESIDE})
    two_sections(folder)
    site = Site(folder, monkeypatch)
    site.made_and_cured(("L/J1", "L/J2", "L/J3", "L/J4", "M/J1"))
    site.around()
    site.write("isolation", "B", section="S", boundary="M", how="blind")
    site.write("zero_proved", "T", section="S2", vent="vent")
    assert site.asks("--release").code == GO
    return site


def test_the_joint_where_a_branch_begins_is_under_the_pressure_of_both(branched: Site) -> None:
    for what in ("open", "move", "load"):
        assert verb("may", what, "M/J1", "--job", branched.folder).code == STOP
    assert opens(branched, "M/J2").code == GO


def test_a_branch_that_was_open_under_pressure_is_not_opened_behind_a_later_blind(branched: Site) -> None:
    branched.clock.wait(minutes=2)
    branched.write("isolation", "B", section="S", boundary="M", how="valve")
    assert opens(branched, "M/J2").code == STOP
    branched.clock.wait(minutes=2)
    branched.write("isolation", "B", section="S", boundary="M", how="blind")
    assert opens(branched, "M/J2").code == STOP, "water may stand behind the blind"


# ---------------------------------------------------------------- the release


def test_a_release_brought_to_the_phone_that_knows_of_the_knock_is_withdrawn(
    ready: Site, tmp_path: Path
) -> None:
    """The phone knocked a joint after the release and had not heard of it; then it is told of the release."""
    before = tmp_path / "before.rec"
    assert verb("record", "export", before, "--job", ready.folder).code == 0
    assert ready.asks("--release", "--for", "30min").code == GO
    after = tmp_path / "after.rec"
    assert verb("record", "export", after, "--job", ready.folder).code == 0
    ready.store.close()
    for name in ("logbook.db", "logbook.db-wal", "logbook.db-shm"):
        (ready.folder / name).unlink(missing_ok=True)
    assert verb("record", "import", before, "--job", ready.folder).code == 0
    me = ready.folder / ".local" / "writer.json"
    me.write_text(me.read_text("utf-8").replace(named("writer site"), named("writer phone 2")), "utf-8")
    ready.clock.wait(minutes=2)
    said = verb("record", "add", "disturbed", "L/J3", "how=bucket", "--by", "B", "--job", ready.folder)
    assert said.code == 0, said
    said = verb("record", "import", after, "--job", ready.folder)
    assert "is WITHDRAWN" in said.out + said.err


def test_an_older_knock_by_a_late_phone_withdraws(released: Site) -> None:
    """Not told at once: what is written later for a release that stands is judged by all that is known."""
    released.write(
        "disturbed", "B", joint="L/J3", how="bucket"
    )  # written, and the machine died before it watched
    said = verb("record", "add", "humidity", "50 %", "--by", "A", "--job", released.folder)
    assert "is WITHDRAWN" in said.out + said.err


def test_a_hot_pipe_after_the_release_withdraws(released: Site) -> None:
    released.clock.wait(minutes=5)
    words = ("reading", "L/J2", "temperature=90F", "of=joint", "--by", "A")
    said = verb("record", "add", *words, "--job", released.folder)
    assert "is WITHDRAWN" in said.out + said.err


def test_a_broken_job_file_withdraws(released: Site) -> None:
    (released.folder / "lines" / "line.walk").write_text("line L size 2in\ngo nowhere\n", "utf-8")
    said = verb("record", "add", "humidity", "50 %", "--by", "A", "--job", released.folder)
    assert "is WITHDRAWN" in said.out + said.err


def test_a_cap_lowered_in_job_toml_withdraws_when_it_is_asked_again(released: Site) -> None:
    settings(released, 'pressure = "150 psi"\nwall', 'pressure = "90 psi"\nwall')
    said = released.asks()
    assert said.code == STOP
    assert "is WITHDRAWN" in said.err


def test_a_gauge_does_not_read_high_by_an_error_below_nothing(site: Site) -> None:
    """149 psi at the gauge, 9.5 psi of water, cap 150 psi: an error typed as -30 psi makes it no 128 psi."""
    site.around(without="gauge", psi=149)
    error, full = pascals("-30 psi", f"{-30 * PSI:.3f}"), pascals("200 psi", f"{200 * PSI:.3f}")
    site.write("gauge", "T", gauge="G-1", place="PG", due="2027-03-01", error=error, range=full)
    assert site.asks(psi=149).code == STOP


def test_opening_asks_a_record_that_tells_one_story(ready: Site) -> None:
    told = ready.write("zero_proved", "T", section="S", vent="vent")
    assert opens(ready).code == GO
    ready.write("correction", "B", corrects=told.id, reason="slip", void=True)
    assert opens(ready).code != GO


def test_hours_of_the_night_that_comes_twice_are_told_apart() -> None:
    """Clocks go back on 1 November 2026 at 2:00 (USA): 1:55 and, 70 minutes on, 2:05."""
    zone = ZoneInfo("America/Denver")
    first = datetime(2026, 11, 1, 1, 55, tzinfo=zone)
    later = datetime(2026, 11, 1, 2, 5, tzinfo=zone)
    assert later.timestamp() - first.timestamp() == 70 * 60
    facts = OnTheSpot(
        subject="S", condition="people-out", now=later, answered=first, good=True, answered_by="C", place="x"
    )
    assert on_the_spot(facts, book()).verdict is Verdict.CANNOT_TELL
    ready = datetime(2026, 11, 1, 1, 30, fold=1, tzinfo=zone)
    now = datetime(2026, 11, 1, 1, 40, tzinfo=zone)
    assert ready.timestamp() - now.timestamp() == 50 * 60
    assert (
        fresh(Fresh(subject="S", section="S", what="grout", now=now, ready=ready), book()).verdict
        is Verdict.WAIT
    )


def test_a_phone_that_only_hung_and_lifted_a_tag_was_on_the_section_too(ready: Site) -> None:
    ready.write("hold_tag_set", "B", phone="phone 3", tag="H-9", on="L/J2", reason="weeps")
    ready.write("hold_tag_lifted", "B", phone="phone 3", tag="H-9", reason="dry")
    assert ready.asks().code == GO, "heard just now"
    ready.clock.wait(minutes=11)
    assert "phone 3 wrote of this section" in ready.asks().out
