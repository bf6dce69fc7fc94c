"""What a paired phone may send: its own chain, and of what is signed only what its person signs."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lan_rig import Lan
from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.sendings import KINDS, OWN_NAME, WORK, kinds_for
from lineproof.desk.record_book import job_uuid, opened, person_uuid
from lineproof.desk.release_watch import HARMLESS
from lineproof.desk.web.access import Role
from lineproof.floor.errors import BadInput
from lineproof.logbook import kinds
from lineproof.logbook.entry import Entry, make
from logbook.rig import BODIES, chain

TYPE = {"content-type": "application/x-ndjson"}
HELD: list[tuple[str, dict[str, Any]]] = [("hold_end", {"joint": f"B-201/J{n}"}) for n in range(1, 4)]
CARD = (
    "joint_made", "first_on", "dry_fit", "insertion", "hold_end", "pullers_off", "moved", "disturbed",
    "examined", "rejected", "cut_out", "field_joint", "note", "step_in_clock",
)  # fmt: skip
"""What the card writes by itself: were one refused, everything behind it would stay on the phone."""


@pytest.fixture
def lan(tmp_path: Path) -> Iterator[Lan]:
    made = Lan(tmp_path / "job")
    yield made
    made.close()


def post(ask: TestClient, entries: Sequence[Entry]) -> Any:
    return ask.post("/sync/entries", content=b"".join(e.raw + b"\n" for e in entries), headers=TYPE)


def told_by(lan: Lan, writer: str, person: str, bodies: Sequence[tuple[str, dict[str, Any]]]) -> list[Entry]:
    """A chain whose entries bear the name of a person of the job."""
    job = job_uuid(lan.settings)
    made: list[Entry] = []
    for entry in chain(writer, list(bodies), job=job):
        fields = {**json.loads(entry.raw), "who": person_uuid(job, person)}
        if made:
            fields["previous"] = made[-1].seal
        made.append(make(fields))
    return made


def kept(lan: Lan) -> list[Entry]:
    if not (lan.folder / "logbook.db").exists():
        return []
    with opened(lan.folder) as book:
        return [s.entry for s in book.read_since()]


def test_the_first_sending_binds_the_chain_and_another_phone_cannot_go_on_with_it(lan: Lan) -> None:
    one, two = lan.phone("joiner"), lan.phone("joiner", person="P-3")
    sent = told_by(lan, "phone", "P-2", HELD)
    assert post(one, sent[:2]).status_code == 200
    for _ in range(2):
        assert post(one, sent[:2]).status_code == 200, "a lost answer is asked again"
    refused = post(two, sent[2:])
    assert refused.status_code == 403
    sentence = refused.json()["sentence"]
    assert refused.json()["lineproof"] == "refused"
    phones = {p.person: p.id for p in lan.network.phones.all()}
    assert phones["P-2"] in sentence
    assert phones["P-3"] in sentence
    assert "nothing is lost" in sentence
    assert (
        "nada"
        in two.post(
            "/sync/entries", content=sent[2].raw + b"\n", headers={**TYPE, "accept-language": "es"}
        ).json()["sentence"]
    )
    assert [e.raw for e in kept(lan) if e.kind == "hold_end"] == [e.raw for e in sent[:2]]
    assert post(one, sent[2:]).status_code == 200, "what was refused to another is still taken from its own"
    bound = [e for e in kept(lan) if e.kind == "chain_bound"]
    assert [dict(e.body) for e in bound] == [
        {"phone": phones["P-2"], "chain": sent[0].writer, "person": person_uuid(sent[0].job, "P-2")}
    ]


def test_a_phone_paired_again_goes_on_with_its_chain(lan: Lan) -> None:
    one = lan.phone("joiner")
    sent = told_by(lan, "phone", "P-2", HELD)
    assert post(one, sent[:1]).status_code == 200
    phone = lan.network.phones.all()[0]
    lan.network.phones.drop(phone.id)
    lost = post(one, sent[1:])
    assert lost.status_code == 401
    assert lost.json()["lineproof"] == "refused"
    assert (
        one.post("/pair", data={"code": lan.code("joiner", again=phone.id), "name": "x"}).status_code == 303
    )
    assert post(one, sent[1:]).status_code == 200
    fresh = lan.phone("joiner")
    assert post(fresh, told_by(lan, "phone", "P-2", HELD)[2:]).status_code == 403, "as a new one it would not"


def test_a_chain_that_no_phone_began_is_not_gone_on_with(lan: Lan) -> None:
    """Such as that of this machine: a phone that writes on it would speak for the office."""
    sent = told_by(lan, "office", "P-1", HELD)
    assert post(lan.machine, sent[:2]).status_code == 200, "this machine is asked nothing"
    told = post(lan.phone("lead"), sent[2:])
    assert told.status_code == 403
    assert "file" in told.json()["sentence"]
    assert len(kept(lan)) == 3  # two held, one paired


def test_a_binding_that_cannot_be_told_is_taken_back(lan: Lan, monkeypatch: pytest.MonkeyPatch) -> None:
    one = lan.phone("joiner")
    sent = told_by(lan, "phone", "P-2", HELD)

    def full(*_: object, **__: object) -> None:
        raise BadInput("the disk is full", next="make room")

    monkeypatch.setattr(Audit, "bound", full)
    assert post(one, sent).status_code == 400
    assert lan.network.phones.owner(sent[0].writer) == ""
    monkeypatch.undo()
    assert post(one, sent).status_code == 200


def test_every_kind_says_whose_phone_may_send_it() -> None:
    assert set(KINDS) == {name for name, _ in kinds.KINDS}
    for kind in ("release_given", "answer", "issue", "card", "fork_settled", "phone_paired", "refusals"):
        assert KINDS[kind] == frozenset(), "written by the server, with what it rests on"
    assert Role.VIEWER not in frozenset().union(*KINDS.values())
    for role in (Role.LEAD, Role.JOINER, Role.INSPECTOR, Role.ENGINEER, Role.TEST_IN_CHARGE):
        assert set(CARD) <= set(kinds_for(frozenset({role}))), "the card's own entries never get stuck"
    assert not OWN_NAME & set(CARD) - {"note", "step_in_clock"}
    assert {"phone_paired", "phone_dropped", "chain_bound", "refusals"} <= HARMLESS


MAY_SIGN = {
    "hold_tag_lifted": {"lead", "inspector", "engineer", "test_in_charge"},
    "condition": {"lead", "joiner", "inspector", "engineer", "test_in_charge"},
    "zero_proved": {"lead", "test_in_charge"},
    "isolation": {"lead", "test_in_charge"},
    "correction": {"lead"},
    "time_confirmed": {"lead"},
    "release_given": set[str](),
    "answer": set[str](),
    "issue": set[str](),
}
"""Who signs what, a second time (the table of signatures: lead, inspector, person in charge; no source beyond
the job's own rules)."""


@pytest.mark.parametrize("role", ["lead", "joiner", "inspector", "engineer", "test_in_charge", "witness"])
def test_what_is_signed_is_taken_only_from_whoever_signs_it(lan: Lan, role: str) -> None:
    ask, person = lan.phone(role), lan.person(role)
    for kind, roles in MAY_SIGN.items():
        told = post(ask, told_by(lan, f"{role} {kind}", person, [(kind, BODIES[kind])]))
        assert (told.status_code == 200) == (role in roles), (kind, told.text)
        assert told.status_code in (200, 403)
    before = [e.kind for e in kept(lan)]
    if role in MAY_SIGN["condition"]:
        told = post(ask, told_by(lan, f"{role} other", "P-5", [("condition", BODIES["condition"])]))
        assert told.status_code == 403, "not under another name"
        assert person in told.json()["sentence"]
    assert [e.kind for e in kept(lan)] == before
    made = post(ask, told_by(lan, f"{role} made", "P-5", [("joint_made", BODIES["joint_made"])]))
    assert (made.status_code == 200) == (role != "witness"), "the work may be written down for another"


def test_one_bad_entry_keeps_the_whole_sending_on_the_phone(lan: Lan) -> None:
    ask = lan.phone("joiner")
    sent = told_by(lan, "phone", "P-2", [*HELD, ("release_given", BODIES["release_given"])])
    told = post(ask, sent)
    assert told.status_code == 403
    assert "Entry 4 (release_given)" in told.json()["sentence"]
    assert [e.kind for e in kept(lan)] == ["phone_paired"]
    assert lan.network.phones.owner(sent[0].writer) == "", "and binds nothing"


def test_a_kind_of_newer_software_is_kept_and_forwarded(lan: Lan) -> None:
    ask = lan.phone("joiner")
    entry = told_by(lan, "phone", "P-2", HELD[:1])[0]
    newer = make({**json.loads(entry.raw), "kind": "thing_of_tomorrow"})
    assert post(ask, [newer]).status_code == 200
    assert kept(lan)[-1].raw == newer.raw


def test_a_viewer_sends_nothing(lan: Lan) -> None:
    told = post(lan.phone("viewer"), told_by(lan, "phone", "P-3", HELD))
    assert told.status_code == 403
    assert [e.kind for e in kept(lan)] == ["phone_paired"]


def test_the_phone_is_told_whose_it_is_and_what_it_may_send(lan: Lan) -> None:
    told = lan.phone("joiner").get("/sync/job").json()
    assert told["me"]["id"] == "P-2"
    assert told["me"]["uuid"] == person_uuid(told["job"], "P-2")
    assert told["me"]["kinds"] == list(kinds_for(frozenset({Role.JOINER})))
    assert "hold_tag_lifted" not in told["me"]["kinds"]
    assert "me" not in lan.machine.get("/sync/job").json()
    assert WORK.isdisjoint({Role.VIEWER, Role.WITNESS})
