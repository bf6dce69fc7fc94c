"""The fold: what stands is the same for every order of arrival, and every correction leaves its trace."""

from __future__ import annotations

import itertools
import random
from collections.abc import Mapping
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.logbook.entry import Entry, make
from lineproof.logbook.fold import Fold, fold
from lineproof.logbook.state import State
from lineproof.logbook.store import Stored
from logbook.rig import (
    ANNA,
    BELA,
    BODIES,
    CORA,
    MADE,
    START,
    J,
    at,
    chain,
    entry,
    fields,
    kelvin,
    named,
    store_at,
    stored,
)

Told = list[tuple[str, Mapping[str, Any]]]


def state_of(*chains: list[Entry], known_by: int | None = None) -> State:
    return fold(stored([each for one in chains for each in one]), known_by=known_by)


def test_a_joint_as_told_by_one_phone() -> None:
    kinds = ["first_on", "dry_fit", "joint_made", "hold_end", "pullers_off", "moved", "reading"]
    joint = state_of(chain("one", [(kind, BODIES[kind]) for kind in kinds])).joints[J]
    assert (joint.is_made, joint.two_stories, joint.unclear) == (True, False, ())
    assert [event.kind for event in joint.events] == kinds
    assert [event.kind for event in joint.disturbances] == ["moved"]
    assert [event.body["temperature"]["typed"] for event in joint.readings] == ["9 C"]
    assert joint.made[0].body["steps"] == MADE["steps"]


def test_two_made_from_two_writers_are_two_stories_until_settled() -> None:
    one, two = chain("one", [("joint_made", MADE)]), chain("two", [("joint_made", MADE)], who=BELA)
    joint = state_of(one, two).joints[J]
    assert (joint.two_stories, joint.unclear, len(joint.made)) == (True, ("two-stories",), 2)
    seals = [one[0].seal, two[0].seal]
    body = {"seals": seals, "stand": seals[:1], "reason": "Bela only watched"}
    alone = state_of(one, two, chain("three", [("fork_settled", body)])).joints[J]
    assert alone.two_stories, "one person alone strikes nothing out"
    body = {**body, "second": BELA}
    settled = chain("three", [("fork_settled", body)])
    joint = state_of(one, two, settled).joints[J]
    assert (joint.two_stories, joint.unclear, joint.made[0].entry) == (False, (), one[0])
    against = chain("four", [("fork_settled", {**body, "stand": seals[1:]})])
    assert state_of(one, two, settled, against).joints[J].two_stories
    late = chain("five", [("joint_made", MADE)])
    assert state_of(one, two, settled, late).joints[J].two_stories


def test_cut_out_replaced_and_made_again() -> None:
    told: Told = [("joint_made", MADE), ("rejected", BODIES["rejected"])]
    joint = state_of(chain("one", told)).joints[J]
    assert (joint.is_made, joint.is_rejected) == (True, True)
    told += [("cut_out", BODIES["cut_out"]), ("replaced", BODIES["replaced"])]
    joint = state_of(chain("one", told)).joints[J]
    assert (joint.is_made, joint.is_cut_out, joint.replaced_by) == (False, True, ("B-201/F1", "B-201/F2"))
    joint = state_of(
        chain("one", told), chain("two", [("joint_made", MADE)], start=START + timedelta(days=1))
    )
    assert set(joint.joints[J].unclear) == {"two-stories", "made-after-cut-out"}


def test_examined_counts_only_by_another_person() -> None:
    made = chain("one", [("joint_made", MADE)], who=ANNA)
    for who, counts in [(ANNA, 0), (BELA, 0), (CORA, 0), (named("person Dora"), 1)]:
        looked = chain("two", [("examined", BODIES["examined"])], who=who)
        assert len(state_of(made, looked).joints[J].examined_by_another) == counts
    refused = chain(
        "two", [("examined", {**BODIES["examined"], "accepted": False})], who=named("person Dora")
    )
    assert state_of(made, refused).joints[J].is_rejected


def test_a_field_joint_blocks_its_section_at_once_until_it_is_cut_out() -> None:
    told: Told = [("field_joint", BODIES["field_joint"])]
    state = state_of(chain("one", told))
    assert state.field_joints == ("B-201/F1",)
    assert (state.joints["B-201/F1"].beside, state.joints["B-201/F1"].section) == (J, "B-2")
    assert [event.kind for event in state.sections["B-2"].events] == ["field_joint"]
    told.append(("cut_out", {"joint": "B-201/F1", "reason": "not wanted"}))
    assert state_of(chain("one", told)).field_joints == ()


def test_hold_tags_hang_until_each_is_lifted() -> None:
    hang, lift = ("hold_tag_set", BODIES["hold_tag_set"]), ("hold_tag_lifted", BODIES["hold_tag_lifted"])
    assert state_of(chain("one", [hang])).hanging == ("H-3",)
    assert state_of(chain("one", [hang, lift])).hanging == ()
    assert state_of(chain("one", [hang, lift, hang])).hanging == ("H-3",)
    # Set again on a phone a day behind: sorted before the lift, and still it hangs.
    behind = chain("two", [hang], start=START - timedelta(days=1))
    assert state_of(chain("one", [hang, lift]), behind).hanging == ("H-3",)


def test_cans_gauges_releases_and_the_rest_stand_under_their_names() -> None:
    state = state_of(chain("one", [(kind, BODIES[kind]) for kind in BODIES if kind != "fork_settled"]))
    assert [event.kind for event in state.cans["C2-04"].events] == [
        "can_received",
        "can_opened",
        "can_thrown",
    ]
    assert state.gauges["PG-2"].newest is not None
    assert [event.kind for event in state.releases["R-1"].events] == [
        "release_asked",
        "release_given",
        "release_expired",
        "release_withdrawn",
    ]
    assert "zero_proved" in {event.kind for event in state.sections["B-2"].events}
    others = {"step_in_clock", "issue", "imported", "answer", "humidity", "card"}
    others |= {"phone_paired", "phone_dropped", "chain_bound", "refusals"}
    assert {event.kind for event in state.others} == others
    assert {event.kind for event in state.pending} == {"correction", "time_confirmed"}
    assert state.unknown == ()


def test_a_correction_is_applied_and_the_old_value_is_kept() -> None:
    read = ("reading", BODIES["reading"])
    told = chain("one", [read])
    fix = {
        "corrects": told[0].id,
        "reason": "read the air",
        "second": BELA,
        "fields": {"temperature": kelvin("5 C", "278.15")},
    }
    event = state_of(told, chain("two", [("correction", fix)])).joints[J].readings[0]
    assert event.body["temperature"]["typed"] == "5 C"
    (was,) = event.was
    assert (was.field, was.old["typed"], was.new["typed"]) == ("temperature", "9 C", "5 C")  # type: ignore[index]
    assert (was.reason, was.who, was.second) == ("read the air", ANNA, BELA)


def test_a_correction_moves_an_entry_to_the_right_joint() -> None:
    told = chain("one", [("hold_end", {"joint": "B-201/J30"})])
    fix = {"corrects": told[0].id, "reason": "wrong joint tapped", "fields": {"joint": J}}
    state = state_of(told, chain("two", [("correction", fix)]))
    assert state.joints["B-201/J30"].events == ()
    assert [event.kind for event in state.joints[J].events] == ["hold_end"]


def test_a_voided_entry_does_not_stand_and_a_voided_correction_corrects_nothing() -> None:
    told = chain("one", [("joint_made", MADE)])
    void = chain("two", [("correction", {"corrects": told[0].id, "reason": "slip", "void": True})])
    assert not state_of(told, void).joints[J].is_made
    back = chain("three", [("correction", {"corrects": void[0].id, "reason": "no slip", "void": True})])
    assert state_of(told, void, back).joints[J].is_made


@pytest.mark.parametrize("how", [{"void": True}, {"fields": {"joint": "B-201/J30"}}])
def test_what_one_person_alone_takes_away_leaves_the_joint_unclear(how: dict[str, Any]) -> None:
    told = chain("one", [("hold_end", {"joint": J})])
    fix = {"corrects": told[0].id, "reason": "slip", **how}
    assert "taken-away-alone" in state_of(told, chain("two", [("correction", fix)])).joints[J].unclear
    both = chain("two", [("correction", {**fix, "second": CORA})])
    assert "taken-away-alone" not in state_of(told, both).joints[J].unclear


def test_corrections_in_a_circle_end() -> None:
    first = {"corrects": named("b 1"), "reason": "x", "void": True}
    second = {"corrects": named("a 1"), "reason": "x", "void": True}
    state = state_of(chain("a", [("correction", first)]), chain("b", [("correction", second)]))
    assert state.entries == 2


def test_a_correction_that_makes_no_sense_is_not_applied_but_flagged() -> None:
    told = chain("one", [("joint_made", MADE)])
    fix = {"corrects": told[0].id, "reason": "x", "fields": {"humidity": "wet"}}
    joint = state_of(told, chain("two", [("correction", fix)])).joints[J]
    assert joint.unclear == ("faulty-entry",)


def test_an_entry_of_a_newer_kind_makes_its_joint_unclear() -> None:
    for newer in (
        entry("one", 1, "0" * 64, "ultrasound", {"joint": J}),
        entry("one", 1, "0" * 64, "moved", {"joint": J, "degrees": 3}, kind_version=2),
        make(fields("one", 1, "0" * 64, "moved", {"joint": J}, version=2)),
    ):
        assert state_of([newer]).joints[J].unclear == ("newer-entry",)
    state = state_of([entry("one", 1, "0" * 64, "ultrasound", {"pipe": "p"})])
    assert [event.kind for event in state.unknown] == ["ultrasound"]


def test_a_faulty_entry_from_elsewhere_is_kept_and_makes_its_joint_unclear() -> None:
    faulty = entry("one", 1, "0" * 64, "examined", {"joint": J, "accepted": "yes"})
    joint = state_of([faulty]).joints[J]
    assert (joint.unclear, len(joint.events), joint.examined_by_another) == (("faulty-entry",), 1, ())


def test_a_fork_makes_its_joints_unclear_until_settled() -> None:
    one = chain("one", [("note", {"text": "x"}), ("hold_end", {"joint": J})])
    other = entry("one", 2, one[0].seal, "hold_end", {"joint": "B-201/J32"}, id=named("other"))
    state = state_of(one, [other])
    assert len(state.forks) == 1
    assert [state.joints[name].unclear for name in (J, "B-201/J32")] == [("fork",), ("fork",)]
    seals = [one[1].seal, other.seal]
    both = chain("two", [("fork_settled", {"seals": seals, "stand": seals, "reason": "both happened"})])
    state = state_of(one, [other], both)
    assert (state.forks, state.joints[J].unclear) == ((), ())
    body = {"seals": seals, "stand": seals[1:], "reason": "a copy"}
    alone = chain("two", [("fork_settled", body)])
    assert len(state_of(one, [other], alone).forks) == 1, "one person alone strikes nothing out"
    agreed = chain("three", [("fork_settled", body)], who=BELA)
    assert state_of(one, [other], alone, agreed).forks == ()
    only = chain("two", [("fork_settled", {**body, "second": BELA})])
    state = state_of(one, [other], only)
    assert (state.joints[J].events, len(state.joints["B-201/J32"].events)) == ((), 1)


def test_a_hole_is_named() -> None:
    told = chain("one", [("note", {"text": str(i)}) for i in range(5)])
    assert [(h.first, h.last) for h in state_of([told[0], *told[3:]]).holes] == [(2, 3)]


def test_events_stand_in_the_order_of_corrected_time() -> None:
    late = chain(
        "one",
        [
            ("moved", {"joint": J, "how": "lowered"}),
            ("hold_end", {"joint": J, "at": at(-30), "note": "late"}),
        ],
    )
    joint = state_of(late).joints[J]
    assert [(event.kind, event.late) for event in joint.events] == [("hold_end", True), ("moved", False)]
    confirmed = {"of": late[0].id, "true_time": at(-60), "how": "site clock"}
    events = state_of(late, chain("two", [("time_confirmed", confirmed)], who=BELA)).joints[J].events
    assert [event.kind for event in events] == ["moved", "hold_end"]
    assert (events[0].confirmed_by, events[0].stamp.confirmed) == ((BELA,), True)


def test_of_two_confirmed_times_the_later_counts() -> None:
    told = chain("one", [("hold_end", {"joint": J})])
    body = {"of": told[0].id, "how": "watch"}
    said = chain("two", [("time_confirmed", {**body, "true_time": at(m)}) for m in (5, 9, 7)])
    event = state_of(told, said).joints[J].events[0]
    assert event.at == START + timedelta(minutes=9)


def test_known_by_hides_what_came_later(tmp_path: Path) -> None:
    store = store_at(tmp_path)
    told = chain("one", [("joint_made", MADE), ("hold_end", {"joint": J}), ("disturbed", {"joint": J})])
    receipts = [store.append([each]).receipt.number for each in told[:2]]
    receipts.append(store.append(told[2:]).receipt.number)
    for number, many in zip(receipts, (1, 2, 3), strict=True):
        assert len(fold(store.read_since(), known_by=number).joints[J].events) == many
    assert fold(store.read_since()) == fold(store.read_since(), known_by=3)
    assert fold(store.read_since(), known_by=0).joints == {}


# ---- order of arrival

MADE_TOO = {**MADE, "joint": "B-201/J32"}


def tangled() -> list[Entry]:
    """Entries that speak of each other: corrections of corrections, a fork, two stories, a late time."""
    one = chain("one", [("joint_made", MADE), ("hold_end", {"joint": J}), ("reading", BODIES["reading"])])
    twin = entry("one", 2, one[0].seal, "hold_end", {"joint": "B-201/J32"}, id=named("twin"))
    two = chain(
        "two",
        [
            ("correction", {"corrects": one[1].id, "reason": "a", "fields": {"joint": "B-201/J33"}}),
            ("joint_made", MADE),
        ],
        who=BELA,
    )
    three = chain(
        "three",
        [
            ("correction", {"corrects": two[0].id, "reason": "b", "void": True}),
            ("time_confirmed", {"of": one[1].id, "true_time": at(-90), "how": "site clock"}),
            ("fork_settled", {"seals": [one[1].seal, twin.seal], "stand": [twin.seal], "reason": "c"}),
        ],
    )
    return [*one, twin, *two, *three]


def test_every_permutation_of_arrival_gives_the_same_state() -> None:
    told = tangled()
    # All orders of the six that speak of each other, with the rest before, after and between.
    close, rest = [told[1], told[3], told[4], told[6], told[7], told[8]], [told[0], told[2], told[5]]
    expected = fold(stored(told))
    for i, order in enumerate(itertools.permutations(close)):
        mixed = [*rest[: i % 4], *order, *rest[i % 4 :]]
        assert fold(stored(mixed)) == expected


def test_a_state_asked_for_on_the_way_does_not_change_the_next() -> None:
    told = tangled()
    expected = fold(stored(told))
    for seed in range(60):
        order = random.Random(seed).sample(told, len(told))
        growing = Fold()
        for each in stored(order):
            growing.add(each)
            growing.state()
        assert growing.state() == expected


JOINTS = st.sampled_from(["J1", "J2", "J3"])


@st.composite
def histories(draw: st.DrawFn) -> list[Entry]:
    """Chains of three writers that make, correct, void, confirm and settle each other's entries."""
    told: list[Entry] = []
    ends: dict[str, Entry | None] = {"a": None, "b": None, "c": None}
    for _ in range(draw(st.integers(1, 14))):
        word = draw(st.sampled_from("abc"))
        end = ends[word]
        kind = draw(
            st.sampled_from(["joint_made", "hold_end", "cut_out", "correction", "time_confirmed", "fork"])
        )
        target = draw(st.sampled_from(told)) if told else None
        body: dict[str, Any] = {"joint": draw(JOINTS)}
        if kind == "joint_made":
            body = {**MADE, **body}
        elif kind == "cut_out":
            body["reason"] = "x"
        elif kind != "hold_end" and target is None:
            kind = "hold_end"
        elif kind == "correction" and target is not None:
            body = {"corrects": target.id, "reason": "x"}
            body |= {"void": True} if draw(st.booleans()) else {"fields": {"joint": draw(JOINTS)}}
        elif kind == "time_confirmed" and target is not None:
            body = {"of": target.id, "true_time": at(draw(st.integers(-99, 99))), "how": "x"}
        elif kind == "fork" and target is not None:
            kind = "fork_settled"
            seals = sorted({target.seal, draw(st.sampled_from(told)).seal})
            body = {"seals": seals, "stand": draw(st.lists(st.sampled_from(seals))), "reason": "x"}
        branch = draw(st.integers(0, 9)) == 0  # now and then a chain forks
        base = end if end is None or not branch else next(e for e in told if e.writer == end.writer)
        (new,) = chain(word, [(kind, body)], after=base, start=START + timedelta(minutes=len(told)))
        if any(new.seal == each.seal for each in told):
            continue
        told.append(new)
        ends[word] = new
    return told


@given(histories(), st.randoms(use_true_random=False))
def test_any_order_of_any_history_gives_the_same_state(told: list[Entry], dice: random.Random) -> None:
    expected = fold(stored(told))
    order = list(told)
    dice.shuffle(order)
    growing = Fold()
    for each in stored(order):
        growing.add(each)
        if dice.random() < 0.3:
            growing.state()
    assert growing.state() == expected
    assert growing.folded == len(told)


def test_one_new_entry_is_folded_once_whatever_is_there_already(monkeypatch: pytest.MonkeyPatch) -> None:
    told = stored(
        [
            each
            for j in range(200)
            for each in chain(
                f"w{j}", [("joint_made", {**MADE, "joint": f"J{j}"}), ("hold_end", {"joint": f"J{j}"})]
            )
        ]
    )
    growing = Fold()
    for each in told:
        growing.add(each)
    growing.state()
    read: list[str] = []
    once = growing._amended.event
    monkeypatch.setattr(growing._amended, "event", lambda seal: read.append(seal) or once(seal))
    before = growing.folded
    (late,) = chain("late", [("disturbed", {"joint": "J7"})], start=START + timedelta(days=1))
    growing.add(Stored(late, 2, 999))
    state = growing.state()
    assert growing.folded - before == 1
    assert read == [late.seal], "nothing that was read before is read again"
    assert [event.kind for event in state.joints["J7"].events][-1] == "disturbed"
    growing.add(Stored(late, 2, 999))
    assert growing.folded - before == 1


def test_an_entry_on_many_joints_is_read_once_for_all_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    names = [f"J{n}" for n in range(300)]
    file = {"file": "ab" * 32, "name": "log.csv", "joints": names, "of": "joint", "clock_checked": True}
    made = [("joint_made", {**MADE, "joint": name}) for name in names]
    growing = Fold()
    read: list[str] = []
    once = growing._amended.event
    monkeypatch.setattr(growing._amended, "event", lambda seal: read.append(seal) or once(seal))
    for each in stored(chain("one", [*made, ("reading_file", file)])):
        growing.add(each)
    state = growing.state()
    assert len(read) == len(set(read)) == 301
    assert len({id(state.joints[name].readings[0]) for name in names}) == 1


def test_a_correction_of_an_entry_on_many_joints_is_seen_at_all_of_them() -> None:
    """Read before and after: what was kept of it is thrown away when a correction, or a void, comes."""
    file = {"file": "ab" * 32, "name": "log.csv", "joints": ["J1", "J2"], "of": "joint"}
    entries = chain("one", [("reading_file", file)])
    growing = Fold()
    for each in stored(entries):
        growing.add(each)
    assert [e.body["of"] for e in growing.state().joints["J2"].readings] == ["joint"]
    fix = {"corrects": entries[0].id, "reason": "in the air", "fields": {"of": "air", "joints": ["J2", "J3"]}}
    void = {"corrects": entries[0].id, "reason": "another job", "void": True}
    first, second = chain("two", [("correction", fix), ("correction", void)])
    growing.add(Stored(first, 2, 7))
    joints = growing.state().joints
    assert [len(joints[n].readings) for n in ("J1", "J2", "J3")] == [0, 1, 1]
    assert [e.body["of"] for e in joints["J3"].readings] == ["air"]
    growing.add(Stored(second, 3, 8))
    assert [len(j.readings) for j in growing.state().joints.values()] == [0, 0, 0]
