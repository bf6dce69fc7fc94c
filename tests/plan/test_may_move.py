"""May it be moved: little stories of a joint, against a handling card typed in ``move_rig`` (invented).

Its rows: 1 h above 60 F, 2 h from 40 to 60 F, 4 h down to 0 F. That the coldest band met counts for the whole
time, and that an edge belongs to the colder band, are the design's rules; waits are counted by hand.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from lineproof.checks.clocked import rounded_up
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.job.folder import read_job
from lineproof.job.progress import FORECAST, Temperature
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import NOTHING_BEFORE, moment_text
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.plan.make_pack import named_work
from lineproof.plan.may_move import MayMove, may_move
from lineproof.plan.work import work
from logbook.rig import BELA, chain, entry
from move_rig import CARD, J1, J2, J3, WALK, Story, at, fahr, handling, job_with

GO, WAIT, CANNOT_TELL, STOP = Verdict.GO, Verdict.WAIT, Verdict.CANNOT_TELL, Verdict.STOP


class Site:
    """A job with its logbook, asked at told moments."""

    def __init__(
        self,
        folder: Path,
        *,
        rows: str = CARD,
        walk: str = WALK,
        read_back: bool = True,
        synchronised: str = "yes",
    ) -> None:
        job_with(folder, rows=rows, walk=walk, read_back=read_back)
        self.story = Story(folder, synchronised=synchronised)
        self.work, _ = named_work(work(read_job(folder), nest=False))

    def ask(
        self,
        clock: str,
        subject: str = J1,
        *,
        known: int | None = None,
        now: Stamp | None = None,
        forecast: tuple[Temperature, ...] = (),
        not_made: tuple[str, ...] = (),
        dampest: float | None = None,
    ) -> MayMove:
        state = fold(self.story.store.read_since(), known_by=known)
        progress = progress_of(state, now or Stamp(wall=at(clock), confirmed=True), forecast=forecast)
        return may_move(subject, self.work, progress, not_made=not_made, dampest=dampest)


def why(found: MayMove) -> set[str]:
    """Check and reason of all that stands against it."""
    return {f"{f.id} {f.facts['why']}" for f in found.findings if f.verdict > GO}


def test_two_hours_at_52_f_count_from_the_hold_end_and_round_up(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    found = site.ask("10:30")
    assert (found.verdict, found.until) == (WAIT, at("11:05"))
    assert found.governs is not None
    assert found.governs.subject == J1
    assert (found.governs.measured, found.governs.limit) == (pytest.approx(57 * 60), 7200.0)
    assert found.governs.facts["mark"] == "40 F to 60 F"


def test_go_needs_a_reading_after_the_two_hours(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    assert why(site.ask("11:10")) == {"MOV-02 no_reading"}
    site.story.read("11:02", 52)
    assert why(site.ask("11:10")) == {"MOV-02 no_reading"}
    site.story.read("11:03", 52)
    found = site.ask("11:10")
    assert (found.verdict, found.until) == (GO, None)


def test_a_colder_band_met_on_the_way_counts_for_the_whole_time(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03", cold=70)
    site.story.read("9:30", 70)
    assert site.ask("9:40").until == at("10:05")
    site.story.read("9:50", 60)  # the edge belongs to the colder band
    assert site.ask("9:55").until == at("11:05")
    site.story.read("10:30", 38)
    assert site.ask("10:40").until == at("13:05")


def test_cold_after_the_latch_changes_nothing_but_late_cold_from_before_it_does(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    for clock in ("10:00", "11:00", "12:00"):
        site.story.read(clock, 52)
    site.story.read("12:30", 30)
    assert site.ask("12:31").verdict is GO
    before = site.story.receipt
    site.story.read("12:40", 38, said="10:30")
    found = site.ask("12:41")
    assert (found.verdict, found.until) == (WAIT, at("13:05"))
    assert site.ask("12:41", known=before).verdict is GO, "yesterday's answer replays"


def test_a_warm_reading_told_late_earns_nothing(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    site.story.read("11:30", 52, said="11:05")
    assert why(site.ask("11:31")) == {"MOV-02 no_reading"}


def test_a_disturbance_starts_again_and_wants_another_pair_of_eyes(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    site.story.write("10:10", "disturbed", {"joint": J1, "how": "bucket touched the pipe"})
    found = site.ask("10:15")
    assert (found.verdict, why(found)) == (CANNOT_TELL, {"MOV-02 wait", "MOV-03 disturbed"})
    assert found.until == at("12:10"), "a CANNOT TELL still shows what is known"
    look = {"joint": J1, "list": "A-1", "accepted": True}
    site.story.write("10:20", "examined", look)
    assert site.ask("10:25").verdict is CANNOT_TELL, "whoever made it does not count"
    site.story.write("10:30", "examined", look, who=BELA)
    found = site.ask("10:35")
    assert (found.verdict, found.until) == (WAIT, at("12:10"))


def test_moving_it_before_its_time_starts_again_and_after_it_does_not(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    for clock in ("10:00", "11:00", "11:30"):
        site.story.read(clock, 52)
    site.story.write("11:40", "moved", {"joint": J1, "how": "lowered"})
    assert site.ask("12:00").verdict is GO
    site.story.write("12:10", "disturbed", {"joint": J1, "how": "bucket"})
    assert why(site.ask("12:20")) == {"MOV-02 wait", "MOV-03 disturbed"}


def test_moved_early(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    site.story.write("10:40", "moved", {"joint": J1})
    found = site.ask("10:41")
    assert found.until == at("12:40")
    assert "MOV-03 disturbed" in why(found)


def test_a_move_told_late_counts_from_when_it_is_said_for_the_latch(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    for clock in ("10:00", "11:00", "12:00"):
        site.story.read(clock, 52)
    site.story.write("12:05", "moved", {"joint": J1, "at": moment_text(at("10:30"))})
    found = site.ask("12:10")
    assert (found.verdict, found.until) == (CANNOT_TELL, at("14:05")), "and from 12:05 for the wait"
    assert "MOV-03 disturbed" in why(found)


def test_a_joint_that_was_held_or_knocked_cannot_be_said_not_to_be_made(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.write("9:30", "disturbed", {"joint": J2})
    assert "MOV-01 no_record" in why(site.ask("9:40", "L/A", not_made=("all",)))
    with pytest.raises(BadInput, match="only done to a made joint"):
        site.ask("9:40", "L/A", not_made=(J2,))


def test_pipe_that_backed_out_of_the_socket_wants_a_look(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.write("9:00", "joint_made", {"joint": J1, "joint_temperature": fahr(52)})
    back = {"typed": "3 mm", "si": "0.003", "unit": "m"}
    site.story.write("9:03", "hold_end", {"joint": J1, "pushed_back": back})
    assert why(site.ask("9:30")) == {"MOV-02 wait", "MOV-03 disturbed"}


def test_a_spool_is_what_lies_between_spool_and_spool_ends(tmp_path: Path) -> None:
    walk = (
        'line L size 2in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
        "go north 6'\ngo east 4'\nspool \"TD\"\ngo north 3'\ngo east 3'\nspool ends\nends at open\n"
    )
    site = Site(tmp_path, walk=walk)
    site.story.made("9:00", "9:03")
    spool = site.ask("9:30", "TD", not_made=("all",))
    assert (spool.verdict, spool.joints) == (CANNOT_TELL, ()), "nothing of it is recorded"
    # Flange J1, first elbow J2 and J3, then the spool: second elbow J4 and J5, third J6 and J7.
    assert spool.left_out == ("L/J4", "L/J5", "L/J6", "L/J7")
    assert site.ask("9:30", "L", not_made=("all",)).joints == (J1,)


@pytest.mark.parametrize(
    ("cold", "reason"), [(None, "MOV-02 no_first"), (-5.0, "MOV-02 no_row"), (105.0, "MOV-02 no_row")]
)
def test_nothing_read_or_outside_the_card(tmp_path: Path, cold: float | None, reason: str) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03", cold=cold)
    found = site.ask("9:30")
    assert (found.verdict, why(found)) == (CANNOT_TELL, {reason})
    assert found.until is None or cold is None


def test_a_hole_of_more_than_two_hours(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("11:00", 52)
    site.story.read("11:10", 52)
    assert site.ask("11:20").verdict is GO
    other = Site(tmp_path / "other")
    other.story.made("9:00", "9:03")
    other.story.read("11:01", 52)
    assert why(other.ask("11:20")) == {"MOV-02 hole"}


def test_a_loggers_file_that_nobody_read_in(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    site.story.read("11:10", 52)
    site.story.write("11:12", "reading_file", {"file": "ab" * 32, "name": "log-7.csv", "joints": [J1]})
    assert why(site.ask("11:20")) == {"MOV-02 unread"}


def test_a_forecast_only_puts_it_off(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    cold = tuple(Temperature(at(c), 273.15, FORECAST) for c in ("10:45", "11:30", "12:30", "13:30"))
    found = site.ask("10:30", forecast=cold)
    assert (found.verdict, found.until) == (WAIT, at("13:05"))
    warm = tuple(Temperature(at(c), 295.0, FORECAST) for c in ("10:45", "11:30", "12:30"))
    assert site.ask("10:30", forecast=warm).until == at("11:05")
    assert site.ask("11:10", forecast=warm).verdict is CANNOT_TELL


def test_humidity_that_the_card_asks_for(tmp_path: Path) -> None:
    site = Site(tmp_path, rows=handling("2 h", "40 F", "60 F", "60 %"))
    site.story.made("9:00", "9:03", damp="55")
    site.story.read("10:00", 52)
    site.story.read("11:10", 52)
    assert why(site.ask("11:20")) == {"MOV-02 no_humidity"}
    assert site.ask("11:20", dampest=0.6).verdict is GO
    assert why(site.ask("11:20", dampest=0.61)) == {"MOV-02 no_row"}


def test_a_factor_that_nobody_records_is_taken_to_hold(tmp_path: Path) -> None:
    rows = CARD + '[[cards.factors]]\nwhen = "loose fit"\ntimes = 1.5\n'
    site = Site(tmp_path, rows=rows)
    site.story.made("9:00", "9:03")
    assert site.ask("9:30").until == at("12:05")


def test_what_is_not_recorded_is_cannot_tell_until_somebody_says_it_is_not_made(tmp_path: Path) -> None:
    site = Site(tmp_path)
    assert why(site.ask("9:00")) == {"MOV-01 no_record"}
    site.story.write("9:00", "joint_made", {"joint": J1, "joint_temperature": fahr(52)})
    assert why(site.ask("9:10")) == {"MOV-01 no_hold_end", "MOV-02 no_start"}
    site.story.write("9:11", "hold_end", {"joint": J1})
    site.story.read("11:00", 52)
    site.story.read("11:20", 52)
    assert site.ask("11:21", "L/A").joints == (J1, J2)
    assert why(site.ask("11:21", "L/A")) == {"MOV-01 no_record"}
    found = site.ask("11:21", "L/A", not_made=(J2,))
    assert (found.verdict, found.left_out) == (GO, (J2,))
    assert site.ask("11:21", "L", not_made=("all",)).verdict is GO
    with pytest.raises(BadInput, match="only done to a made joint"):
        site.ask("11:21", "L/A", not_made=(J1,))
    with pytest.raises(BadInput, match="does not hang"):
        site.ask("11:21", "L/A", not_made=(J3,))
    with pytest.raises(BadInput, match="nothing is called"):
        site.ask("11:21", "L/Z")


def test_the_joint_that_waits_longest_governs(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.made("9:30", "9:33", J2)
    site.story.made("9:40", "9:41", J3, cold=70)
    found = site.ask("9:50", "L")
    assert found.governs is not None
    assert (found.verdict, found.until, found.governs.subject) == (WAIT, at("11:35"), J2)


def test_rejected_two_stories_cut_out_and_off_the_drawing(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    site.story.write("9:10", "rejected", {"joint": J1, "reason": "no bead"})
    assert (site.ask("9:11").verdict, "MOV-03 rejected" in why(site.ask("9:11"))) == (STOP, True)
    site.story.write("9:20", "cut_out", {"joint": J1, "reason": "no bead"})
    assert why(site.ask("9:21")) == {"MOV-03 cut_out"}
    site.story.write("9:30", "field_joint", {"joint": "L/F1", "beside": J1})
    found = site.ask("9:31", "L", not_made=(J2, J3))
    assert (found.joints, found.left_out) == (("L/F1",), (J1, J2, J3))
    assert {"MOV-01 no_record", "MOV-03 off_drawing"} <= why(found)
    site.story.made("10:00", "10:03", J2)
    site.story.made("10:10", "10:13", J2)
    assert "MOV-03 unclear" in why(site.ask("10:20", J2))


def test_a_tag_on_it_stops_and_one_that_cannot_be_placed_leaves_it_open(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    for tag, on in (("H-1", "S"), ("H-2", "L/A"), ("H-3", "L"), ("H-4", J1)):
        site.story.write("9:10", "hold_tag_set", {"tag": tag, "on": on, "reason": "engineer"})
        assert "MOV-04 stop" in why(site.ask("9:20")), on
        site.story.write("9:11", "hold_tag_lifted", {"tag": tag})
        assert site.ask("9:20").verdict is WAIT
    site.story.write("9:12", "hold_tag_set", {"tag": "H-5", "on": J3, "reason": "engineer"})
    assert site.ask("9:20").verdict is WAIT, "it hangs on another joint"
    site.story.write("9:13", "hold_tag_set", {"tag": "H-6", "on": "the red one", "reason": "engineer"})
    assert why(site.ask("9:20")) == {"MOV-02 wait", "MOV-04 cannot_tell"}


def test_a_card_that_nobody_read_back(tmp_path: Path) -> None:
    site = Site(tmp_path, read_back=False)
    site.story.made("9:00", "9:03")
    assert "CEM-06 not_typed" in why(site.ask("9:30"))


def test_clocks_that_cannot_be_compared_and_one_that_was_put_on(tmp_path: Path) -> None:
    site = Site(tmp_path, synchronised="no")
    site.story.made("9:00", "9:03")
    site.story.read("10:00", 52)
    assert why(site.ask("10:30")) == {"MOV-02 clock_unsure"}
    # Asked on the same device since the same start: the smaller of its two clocks counts.
    site.story.clock.wait(minutes=10)
    site.story.clock.set(hours=2)
    told = site.story.clock.read()
    assert told.wall == at("12:10")
    now = Stamp(wall=told.wall, monotonic=told.monotonic, boot=told.boot, synchronised="no")
    found = site.ask("", now=now)
    # By its own start it is 10:10, so 53 minutes remain: not before 13:03 on this clock.
    assert (found.verdict, found.until) == (WAIT, at("13:05"))


def test_a_hold_end_told_late_or_put_back_counts_from_when_it_was_written(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.write("9:00", "joint_made", {"joint": J1, "joint_temperature": fahr(52)})
    held = site.story.write("10:00", "hold_end", {"joint": J1, "at": moment_text(at("9:05"))})
    assert site.ask("10:05").until == at("12:00")
    back = {"corrects": held.id, "reason": "clock", "fields": {"at": moment_text(at("9:02"))}}
    site.story.write("10:10", "correction", back)
    assert site.ask("10:15").until == at("12:00")


def test_a_warmer_correction_by_one_person_leaves_the_colder_value(tmp_path: Path) -> None:
    site = Site(tmp_path)
    fields = {"joint_temperature": fahr(70)}
    made = site.story.write("9:00", "joint_made", {"joint": J1, "joint_temperature": fahr(52)})
    site.story.write("9:03", "hold_end", {"joint": J1})
    site.story.write("9:05", "correction", {"corrects": made.id, "reason": "misread", "fields": fields})
    assert site.ask("9:10").until == at("11:05")
    other = Site(tmp_path / "other")
    made = other.story.write("9:00", "joint_made", {"joint": J1, "joint_temperature": fahr(52)})
    other.story.write("9:03", "hold_end", {"joint": J1})
    told = {"corrects": made.id, "reason": "misread", "fields": fields, "second": BELA}
    other.story.write("9:05", "correction", told)
    assert other.ask("9:10").until == at("10:05")


def test_a_missing_entry_of_any_writer_may_be_about_this_joint(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    three = chain("two", [("note", {"text": "rain"})] * 3, start=at("9:05"))
    site.story.store.append([three[0], three[2]])
    assert why(site.ask("9:30")) == {"MOV-02 wait", "MOV-03 gaps"}
    site.story.store.append([three[1]])
    assert site.ask("9:30").verdict is WAIT


def test_a_word_from_newer_software_leaves_its_joint_open(tmp_path: Path) -> None:
    site = Site(tmp_path)
    site.story.made("9:00", "9:03")
    newer = entry("two", 1, NOTHING_BEFORE, "joint_shaken", {"joint": J1}, wall=at("9:05"))
    site.story.store.append([newer])
    assert "MOV-03 unclear" in why(site.ask("9:30"))


def test_rounding_up_is_never_earlier() -> None:
    for seconds in (0, 1, 299, 300, 301):
        told = at("11:00") + timedelta(seconds=seconds)
        assert timedelta(0) <= rounded_up(told) - told < timedelta(minutes=5)
        assert rounded_up(told).minute % 5 == 0
