"""Joints keep their names: what is edited, moved, renamed or put back, and what is asked or refused.

Joint counts by hand: one cemented joint a socket, so two a coupling (common practice, no source).
"""

from __future__ import annotations

import pytest

from id_rig import Bench, by_socket, cut, head, ids
from lineproof.floor.errors import BadInput, EntrySealed
from lineproof.job.joints_csv import COLUMNS, FILE, appended, read_joints
from lineproof.plan.align import align, gaps
from lineproof.plan.ask import SameAs, read_answer
from lineproof.plan.ids import MatchUnclear
from rigs import FOOT, INCH

LEGS = "go north 10'\ngo east 12'\ntee north as a\ngo east 4'\ngo up 6'\nends at cap\n"
WALK = head() + LEGS


def test_a_first_issue_numbers_the_walk_in_walking_order():
    # by hand: flange 1, elbow 2, tee run 2, elbow 2, cap 1
    named = Bench().issue(WALK)
    assert ids(named) == [f"L/J{n}" for n in range(1, 9)]
    assert named.born == tuple(ids(named))


def test_the_same_walk_again_changes_nothing():
    bench = Bench()
    first = bench.issue(WALK)
    text = bench.old.text
    again = bench.issue(WALK)
    assert ids(again) == ids(first)
    assert again.rows == ()
    assert bench.old.text == text


@pytest.mark.parametrize(
    "walk",
    [
        WALK.replace("12'", '144"'),
        WALK.replace("12'", "3.6576 m"),
        WALK.replace("go east 4'", "GO  east  4'-0\"   # to the tank"),
        "# walked twice\n\n" + WALK.replace("tee", "\n# here the header begins\ntee"),
    ],
)
def test_units_blanks_and_comments_change_nothing(walk):
    bench = Bench()
    first = bench.issue(WALK)
    again = bench.name(walk)
    assert ids(again) == ids(first)
    assert again.rows == ()


def test_a_leg_of_another_length_keeps_every_id():
    bench = Bench()
    first = bench.issue(WALK)
    again = bench.issue(WALK.replace("12'", "13'-6\""))
    assert ids(again) == ids(first)
    assert again.born == again.retired == ()


def test_a_leg_said_in_two_dimensions_keeps_every_id():
    bench = Bench()
    first = bench.issue(WALK)
    again = bench.issue(WALK.replace("go east 12'", "go east 7'\ngo east 5'"))
    assert ids(again) == ids(first)


def test_a_leg_cut_in_two_by_a_coupling_gets_two_new_joints():
    bench = Bench()
    bench.issue(WALK)
    again = bench.issue(WALK.replace("go east 12'", "go east 7'\ncoupling\ngo east 5'"))
    assert ids(again) == ["L/J1", "L/J2", "L/J3", "L/J9", "L/J10", "L/J4", "L/J5", "L/J6", "L/J7", "L/J8"]
    assert again.born == ("L/J9", "L/J10")
    assert again.retired == ()


def test_a_tee_put_in_at_the_front_leaves_the_others_alone():
    bench = Bench()
    bench.issue(WALK)
    again = bench.issue(WALK.replace("go north 10'", "go north 3'\ntee west as w\ngo north 7'"))
    assert ids(again) == ["L/J1", "L/J9", "L/J10", *(f"L/J{n}" for n in range(2, 9))]


def test_the_mate_of_a_standing_flange_keeps_its_id_when_the_next_statement_goes():
    bench = Bench()
    bench.issue(head() + "go north 3'\ncoupling\ngo north 4'\ntee east as a\ngo north 4'\nends at cap\n")
    again = bench.issue(head() + "go north 7'\ntee east as a\ngo north 4'\nends at cap\n")
    assert ids(again) == ["L/J1", "L/J4", "L/J5", "L/J6"]
    assert again.retired == ("L/J2", "L/J3")


def test_a_deleted_tee_retires_its_joints_and_their_numbers():
    bench = Bench()
    bench.issue(WALK)
    without = WALK.replace("tee north as a\n", "")
    again = bench.issue(without)
    assert again.retired == ("L/J4", "L/J5")
    assert ids(again) == ["L/J1", "L/J2", "L/J3", "L/J6", "L/J7", "L/J8"]
    back = bench.issue(WALK)  # after an issue the number is gone for good
    assert ids(back) == ["L/J1", "L/J2", "L/J3", "L/J9", "L/J10", "L/J6", "L/J7", "L/J8"]
    assert bench.old.newest["L/J4"].retired == 2


def test_taken_out_and_put_back_before_the_issue_is_nothing():
    bench = Bench()
    first = bench.issue(WALK)
    draft = bench.name(WALK.replace("tee north as a\n", ""), issuing=False)
    assert draft.retired == ("L/J4", "L/J5")
    assert draft.rows == ()
    assert ids(bench.issue(WALK)) == ids(first)


def test_a_tee_that_is_edited_keeps_its_id_by_its_label():
    bench = Bench()
    first = bench.issue(WALK)
    assert ids(bench.issue(WALK.replace("tee north as a", "tee south as a"))) == ids(first)


def test_an_edited_statement_of_another_kind_is_another_part():
    bench = Bench()
    bench.issue(head() + "go north 10'\ncoupling\ngo north 10'\nends at cap\n")
    again = bench.issue(head() + "go north 10'\nunion\ngo north 10'\nends at cap\n")
    assert ids(again) == ["L/J1", "L/J5", "L/J6", "L/J4"]


def test_a_renamed_line_keeps_its_joints():
    bench = Bench()
    first = bench.issue(WALK)
    again = bench.issue(WALK.replace("line L ", "line B-7 "))
    assert ids(again) == ids(first)
    more = bench.issue(
        WALK.replace("line L ", "line B-7 ").replace("go up 6'", "go up 3'\ncoupling\ngo up 3'")
    )
    assert set(ids(more)) - set(ids(first)) == {"B-7/J9", "B-7/J10"}


def test_a_name_that_is_given_again_never_gives_an_id_again():
    bench = Bench()
    first = bench.issue(WALK)
    renamed = WALK.replace("line L ", "line B-7 ")
    other = head("L", "50'") + "go north 3'\nunion\ngo north 2'\nends at cap\n"
    again = bench.issue({"a.walk": renamed.replace(" as a", " as b7"), "b.walk": other})
    assert set(ids(first)) <= set(ids(again))
    new = set(ids(again)) - set(ids(first))
    assert new == {"L/J9", "L/J10", "L/J11", "L/J12"}


def test_two_lines_that_swap_their_names_keep_their_joints():
    legs = head("A") + LEGS, head("B", "50'") + "go north 3'\nunion\ngo north 2'\nends at cap\n"
    bench = Bench()
    first = bench.issue({"a.walk": legs[0], "b.walk": legs[1]})
    swapped = {
        "a.walk": legs[0].replace("line A", "line B"),
        "b.walk": legs[1].replace("line B", "line A"),
    }
    again = bench.issue(swapped)
    assert ids(again) == ids(first)


def test_two_lines_alike_that_are_both_renamed_are_asked_for():
    bench = Bench()
    bench.issue(head("A") + LEGS + head("B") + LEGS.replace("as a", "as b"))
    again = head("C") + LEGS + head("D") + LEGS.replace("as a", "as b")
    assert bench.name(again).questions == ()  # each label tells them apart
    bench = Bench()
    legs = "go north 10'\ngo east 3'\nends at cap\n"
    bench.issue(head("A") + legs + head("B") + legs)
    both = head("C") + legs + head("D") + legs
    named = bench.name(both)
    assert {q.joints[0] for q in named.questions} == {"A/J1", "B/J1"}
    assert named.rows == ()
    answers = [SameAs("A/J2", "line.walk", 9), SameAs("B/J2", "line.walk", 4)]
    settled = bench.issue(both, answers=answers)
    assert ids(settled) == ["B/J1", "B/J2", "B/J3", "B/J4", "A/J1", "A/J2", "A/J3", "A/J4"]


def test_the_order_of_files_and_lines_does_not_matter():
    one, two = head("A") + LEGS, head("B", "50'") + LEGS.replace("as a", "as b")
    bench = Bench()
    first = by_socket(bench.issue({"1.walk": one, "2.walk": two}))
    assert by_socket(bench.issue({"1.walk": two, "2.walk": one})) == first
    assert by_socket(bench.issue(two + one)) == first
    assert len(first) == 16


TWINS = head() + "go north 5'\ncoupling\ngo north 5'\ncoupling\ngo north 5'\nends at cap\n"
TWIN = head() + "go north 5'\ncoupling\ngo north 5'\nends at cap\n"


def test_one_of_two_twins_gone_is_asked_and_nothing_is_changed():
    bench = Bench()
    bench.issue(TWINS)
    named = bench.name(TWIN)
    assert len(named.questions) == 1
    assert named.questions[0].joints == ("L/J2", "L/J3", "L/J4", "L/J5")
    assert named.rows == ()
    with pytest.raises(MatchUnclear) as error:
        named.must_be_clear()
    text = str(error.value)
    assert "L/J2" in text
    assert 'answer "L/J2 same as line.walk:4" or "L/J2 gone"' in text
    assert error.value.place.line == 4


@pytest.mark.parametrize(
    ("answer", "kept"),
    [
        ("L/J2 same as line.walk:4", ["L/J1", "L/J2", "L/J3", "L/J6"]),
        ("L/J2 gone", ["L/J1", "L/J4", "L/J5", "L/J6"]),
        ("L/J5 same as line.walk:4", ["L/J1", "L/J4", "L/J5", "L/J6"]),
        ("L/J4  gone", ["L/J1", "L/J2", "L/J3", "L/J6"]),
    ],
)
def test_an_answer_settles_which_twin_it_is(answer, kept):
    bench = Bench()
    bench.issue(TWINS)
    assert ids(bench.issue(TWIN, answers=[read_answer(answer)])) == kept


@pytest.mark.parametrize(
    "text", ["L/J2", "L/J2 same as here", "L/J2 same as a.walk:0", "gone", "x same as :3"]
)
def test_what_is_no_answer_is_refused(text):
    with pytest.raises(BadInput, match="is no answer"):
        read_answer(text)


@pytest.mark.parametrize(
    ("answers", "says"),
    [
        ([SameAs("L/J99", "line.walk", 4)], "no living joint"),
        ([SameAs("L/J2", "line.walk", 77)], "where no statement stands"),
        ([SameAs("L/J2", "line.walk", 4), SameAs("L/J3")], "in two places"),
        ([SameAs("L/J2", "line.walk", 5), SameAs("L/J4", "line.walk", 4)], "cross each other"),
    ],
)
def test_an_answer_that_cannot_be_is_refused(answers, says):
    bench = Bench()
    bench.issue(TWINS)
    with pytest.raises(BadInput, match=says):
        bench.name(TWIN, answers=answers)


# ------------------------------------------------------------------ joints that have a record


def test_a_recorded_joint_may_not_be_taken_out():
    bench = Bench()
    bench.issue(WALK)
    with pytest.raises(EntrySealed) as error:
        bench.name(WALK.replace("tee north as a\n", ""), recorded=["L/J5"])
    text = str(error.value)
    assert text.startswith("line.walk:1: L/J5 has a record")
    assert "cut it out in the logbook" in text


def test_a_recorded_joint_may_not_become_another_size():
    bench = Bench()
    bench.issue(head() + "go north 10'\ngo east 4'\nends at cap\n")
    bigger = head().replace("6in", "8in") + "go north 10'\ngo east 4'\nends at cap\n"
    assert ids(bench.name(bigger)) == ["L/J1", "L/J2", "L/J3", "L/J4"]
    with pytest.raises(EntrySealed, match=r"6 in pvc sch80 elbow 90 deg.*8 in"):
        bench.name(bigger, recorded=["L/J2"])


def test_a_recorded_joint_whose_pipe_leads_elsewhere_is_asked_for():
    bench = Bench()
    bench.issue(WALK)
    cut_in_two = WALK.replace("go east 12'", "go east 7'\ncoupling\ngo east 5'")
    named = bench.name(cut_in_two, recorded=["L/J3"])
    assert [q.joints for q in named.questions] == [("L/J3",)]
    assert not named.questions[0].may_be_gone
    settled = bench.issue(cut_in_two, recorded=["L/J3"], answers=[SameAs("L/J3", "line.walk", 4)])
    assert "L/J3" in ids(settled)


def test_a_recorded_joint_stays_while_its_neighbours_lengths_change():
    bench = Bench()
    bench.issue(WALK)
    again = bench.issue(WALK.replace("12'", "13'"), recorded=["L/J3", "L/J4"])
    assert ids(again) == [f"L/J{n}" for n in range(1, 9)]
    assert bench.old.newest["L/J4"].piece == bench.old.rows[4].piece  # the piece it was made with
    assert bench.old.newest["L/J5"].born == 1


def test_a_record_of_a_joint_nobody_knows_is_refused():
    bench = Bench()
    bench.issue(WALK)
    with pytest.raises(BadInput, match="record of L/J77"):
        bench.name(WALK, recorded=["L/J77"])


def test_a_line_with_a_record_may_not_be_taken_away():
    bench = Bench()
    bench.issue(WALK)
    other = head("M", "9'") + "go north 3'\nends at cap\n"
    with pytest.raises(EntrySealed, match="L/J1 has a record"):
        bench.name(other, recorded=["L/J1"])


# ------------------------------------------------------------------ sticks

LONG = head() + "go north 50'\nends at cap\n"


def test_couplings_between_sticks_get_ids_with_the_issue():
    # 50 ft from 20 ft sticks: 3 pieces, 2 couplings, 4 joints, and the flange and the cap
    bench = Bench()
    draft = bench.name(LONG, issuing=False)
    assert ids(draft) == ["L/J1", *(f"L/(on issue {n})" for n in range(1, 5)), "L/J2"]
    assert draft.rows == ()
    assert ids(bench.issue(LONG)) == ["L/J1", "L/J3", "L/J4", "L/J5", "L/J6", "L/J2"]


def test_longer_sticks_retire_the_couplings_that_are_not_made():
    bench = Bench()
    bench.issue(LONG)
    again = bench.issue(LONG, stick="40 ft")
    assert ids(again) == ["L/J1", "L/J5", "L/J6", "L/J2"]  # the one 40 ft along stands where it stood
    assert again.retired == ("L/J3", "L/J4")


def test_shorter_sticks_keep_the_couplings_that_stay_in_place():
    # with 20 ft sticks couplings stand one stick apart; the walk's own joints never change
    bench = Bench()
    first = bench.issue(LONG)
    again = bench.issue(LONG, stick="10 ft")
    assert ids(again)[0] == ids(first)[0]
    assert ids(again)[-1] == ids(first)[-1]
    assert not set(again.born) & set(ids(first))


def test_a_made_coupling_does_not_move_with_the_stock():
    bench = Bench()
    bench.issue(LONG)
    with pytest.raises(EntrySealed, match="L/J3 has a record"):
        bench.name(LONG, stick="40 ft", recorded=["L/J3"])


@pytest.mark.parametrize("stick", ["10 ft", "24 ft", "40 ft", "60 ft"])
@pytest.mark.parametrize("ends", ["plain", "cement bell"])
@pytest.mark.parametrize("stop_gap", ["0 in", "1/16 in"])
def test_other_stock_cuts_only_what_is_not_made(stick, ends, stop_gap):
    bench = Bench(keep=True, stop_gap=stop_gap)
    first = bench.issue(LONG, ends=ends)
    made = next(
        j.id for j in first.joints if "#" in j.socket[0] or "." in j.socket[0] or j.socket[1] == "bell"
    )
    rows = bench.old.joints
    again = bench.issue(LONG, stick=stick, ends=ends, recorded=[made])
    assert made in ids(again)
    assert (bench.old.joints[made].at, bench.old.joints[made].piece) == (rows[made].at, rows[made].piece)
    place = {j.id: j.place for j in again.joints}
    was = {j.id: j.place for j in first.joints}
    assert place[made] == pytest.approx(was[made], abs=1e-3)


def test_a_made_piece_and_the_free_stretches_fill_the_leg():
    # by hand: 50 ft to the stop of the cap, less 1/2 in in the flange; made is the first 20 ft stick
    bench = Bench(keep=True)
    first = bench.issue(LONG)
    _, cutting, _ = cut(LONG, "10 ft", "plain", bench.old, frozenset(["L/J3"]))
    assert ids(first)[1] == "L/J3"
    lengths = [p.exact for p in cutting.pieces]
    assert lengths[0] == cutting.pieces[0].cut == pytest.approx(20 * FOOT, abs=1e-4)
    assert all(length <= 10 * FOOT + 1e-9 for length in lengths[1:])
    stops = len(lengths) - 1  # each coupling leaves twice 1/4 in between two pipe ends
    assert sum(lengths) + stops * 0.5 * INCH == pytest.approx(50 * FOOT - 0.5 * INCH, abs=1e-4)


def test_a_leg_too_short_for_what_is_made_says_so():
    bench = Bench(keep=True)
    bench.issue(LONG)
    with pytest.raises(EntrySealed, match="L/J3 has a record"):
        bench.name(LONG.replace("50'", "15'"), recorded=["L/J3"])


def test_bells_get_ids_with_the_issue_too():
    bench = Bench()
    draft = bench.name(LONG, issuing=False, ends="cement bell")
    assert ids(draft)[0] == "L/J1"
    assert len(draft.on_issue) == 2
    first = bench.issue(LONG, ends="cement bell")
    assert ids(bench.issue(LONG.replace("50'", "50'-3\""), ends="cement bell")) == ids(first)


# ------------------------------------------------------------------ joints.csv


def test_joints_csv_only_grows():
    bench = Bench()
    bench.issue(WALK)
    before = bench.old.text
    bench.issue(WALK.replace("tee north as a\n", ""))
    assert bench.old.text.startswith(before)
    assert len(bench.old.text) > len(before)


def issued_text() -> str:
    bench = Bench()
    bench.issue(WALK)
    return bench.old.text


@pytest.mark.parametrize(
    ("change", "row"),
    [
        (lambda t: t.replace("L/J3,", "L/J33,", 1), 11),
        (lambda t: "".join(r for r in t.splitlines(True) if not r.startswith("L/J4,")), 12),
        (lambda t: t + "L/J9,pipe in socket,L,x,y,p,q,1,,,,,abcdefghijklmnop\n", 17),
        (lambda t: t + "\n", 17),
        (lambda t: t.rstrip("\n") + ',""""x\n', 16),
    ],
)
def test_a_row_changed_by_hand_is_named(change, row):
    changed = change(issued_text())
    with pytest.raises(EntrySealed) as error:
        read_joints(changed)
    assert str(error.value).startswith(f"{FILE}:{row}: ")
    assert "put the file back" in error.value.next


def test_another_heading_is_no_joints_csv():
    with pytest.raises(BadInput, match=r"heading is not that of a joints\.csv"):
        read_joints("id,line\nL/J1,L\n")


def test_a_spreadsheet_that_only_changes_line_ends_does_no_harm():
    text = issued_text()
    assert read_joints("\ufeff" + text.replace("\n", "\r\n")).rows == read_joints(text).rows
    assert text.splitlines()[0] == ",".join(COLUMNS)


def test_a_line_longer_than_a_cell_is_kept_whole():
    legs = "".join(f"go north 5'\ntee west as t{n}\n" for n in range(700))
    walk = head() + legs + "go north 5'\nends at cap\n"
    bench = Bench()
    first = bench.issue(walk)
    parts = [r for r in bench.old.rows if r.kind == "line"]
    assert len(parts) > 1
    assert max(len(r.walked) for r in parts) < 32_000
    again = bench.issue(walk.replace("tee west as t699\n", ""))
    assert ids(again) == [*ids(first)[:-3], ids(first)[-1]]
    third = bench.issue(walk.replace("tee west as t699\n", ""))
    assert third.rows == ()


def test_an_id_cannot_be_born_twice():
    old = read_joints(issued_text())
    row = old.joints["L/J1"]
    with pytest.raises(BadInput, match="born with issue 1"):
        appended(old, [type(row)(id="L/J1", kind=row.kind, line="L", born=2)])


# ------------------------------------------------------------------ matching


@pytest.mark.parametrize(
    ("old", "new", "pairs", "unclear"),
    [
        ("abcd", "abcd", {0: 0, 1: 1, 2: 2, 3: 3}, {}),
        ("abcd", "abxcd", {0: 0, 1: 1, 2: 3, 3: 4}, {}),
        ("axbxc", "axbc", {0: 0, 1: 1, 2: 2, 4: 3}, {}),
        ("axx", "ax", {0: 0}, {1: (-1, 1), 2: (-1, 1)}),
        ("ax", "axx", {0: 0}, {1: (1, 2)}),
        ("", "ab", {}, {}),
    ],
)
def test_sequences_are_matched_as_one_would_by_hand(old, new, pairs, unclear):
    found = align(list(old), list(new))
    assert found.pairs == pairs
    assert found.unclear == unclear


def test_an_entry_alone_of_its_kind_is_found_where_it_moved():
    assert align(list("ab"), list("ba")).pairs == {0: 1, 1: 0}
    assert gaps({0: 0, 2: 2}, 3, 3) == [(range(1, 2), range(1, 2))]


def test_long_sequences_of_twins_are_matched_without_recursion():
    many = ["x"] * 20_000
    found = align(many, many[1:])
    assert found.pairs == {}
    assert len(found.unclear) == 20_000
