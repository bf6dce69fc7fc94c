"""The network's door: who gets in, how far, and what happens to those who try.

Each test fails if the guard it is about is taken away. Requests are made in this process, through the very
application that the listener serves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from lan_rig import PHONE, Lan, key
from lineproof.desk.lan import door as rules
from lineproof.desk.lan import phones as store
from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.pairing import offer
from lineproof.desk.lan.phones import Phones
from lineproof.desk.lan.rates import Rate, asker
from lineproof.desk.record_book import opened, person_uuid
from lineproof.desk.web.access import ROWS, Role
from lineproof.floor.errors import BadInput
from lineproof.logbook.entry import Entry
from verb_rig import verb

GAP = {"line": "B-201a", "a": "E1", "b": "F1", "length": "4'"}
RECORD_WRITES = {"/sync/entries", "/sync/photo/{digest}", "/may", "/record/{kind}", "/papers/make"}
MAY_WRITE = {
    "lead": {
        "/tape", "/tape/fitting", "/pad/{line:path}", "/api/pad/step", "/api/pad/save", "/phones/pair",
        "/phones/drop",
        "/settle",
        "/issue",
    },
    "joiner": {"/tape", "/tape/fitting"},
    "inspector": {"/settle"},
    "engineer": {"/settle"},
    "test_in_charge": {"/settle", "/release"},
    "witness": set[str](),
}  # fmt: skip


@pytest.fixture
def lan(tmp_path: Path) -> Iterator[Lan]:
    made = Lan(tmp_path / "job")
    yield made
    made.close()


def entries(lan: Lan, kind: str = "") -> list[Entry]:
    if not (lan.folder / "logbook.db").exists():
        return []
    with opened(lan.folder) as book:
        return [s.entry for s in book.read_since() if not kind or s.entry.kind == kind]


def taped(lan: Lan) -> bytes:
    file = lan.folder / "taped.csv"
    return file.read_bytes() if file.exists() else b""


def address(path: str) -> str:
    for name, value in {
        "{line:path}": "B-201", "{line}": "B-201", "{number}": "J1", "{name}": "B-201",
        "{path:path}": "mark.svg", "{kind}": "note", "{digest}": "a" * 64, "{id:path}": "B-2/raise-1",
    }.items():  # fmt: skip
        path = path.replace(name, value)
    return path


# ---------------------------------------------------------------- who gets in


def test_a_stranger_sees_nothing_of_the_job(lan: Lan) -> None:
    ask = lan.stranger()
    for row in ROWS:
        if row.unpaired:
            continue
        told = ask.request(row.method, address(row.path), headers={"accept": "text/html"})
        assert told.status_code in (303, 401), row.path
        assert "Brackstow" not in told.text
        assert "B-201" not in told.text
    assert ask.get("/lines", headers={"accept": "text/html"}).headers["location"] == "/pair"
    assert "Brackstow" not in ask.get("/pair").text
    assert ask.get("/sync/job").json()["lineproof"] == "refused"


def test_this_machine_is_asked_nothing_as_before(lan: Lan) -> None:
    for row in ROWS:
        if row.method == "GET":
            assert lan.machine.get(address(row.path)).status_code not in (401, 403), row.path


@pytest.mark.slow
@pytest.mark.parametrize("role", [r.value for r in Role])
def test_each_role_gets_as_far_as_the_job_gives_it_and_no_further(lan: Lan, role: str) -> None:
    """What each may write stands here a second time, in a list of its own."""
    ask = lan.phone(role)
    may = set() if role == "viewer" else RECORD_WRITES | MAY_WRITE[role]
    before = taped(lan)
    for row in ROWS:
        if row.unpaired:
            continue
        kind = {"content-type": row.takes[0]} if row.takes else {}
        told = ask.request(row.method, address(row.path), headers=kind)
        if row.method == "POST":
            assert (told.status_code == 403) == (row.path not in may), (
                row.path,
                told.status_code,
                told.text[:80],
            )
        elif row.path in ("/pad", "/pad/new", "/pad/{line:path}", "/phones", "/issue"):
            assert (told.status_code == 403) == (role != "lead"), row.path
        elif row.path in ("/record/{kind}", "/sync/photo/{digest}"):
            assert (told.status_code == 403) == (role == "viewer"), row.path
        else:
            assert told.status_code not in (401, 403), row.path
    assert taped(lan) == before
    head = ask.get("/lines").text
    assert ('href="/phones"' in head) == (role == "lead"), "what is not open is not offered"


def test_a_role_ends_when_job_toml_names_somebody_else(lan: Lan) -> None:
    ask = lan.phone("lead")
    assert ask.get("/phones").status_code == 200
    job = lan.folder / "job.toml"
    job.write_text(job.read_text("utf-8").replace('lead = "P-1"', 'lead = "P-3"'), "utf-8")
    assert ask.get("/phones").status_code == 403
    assert ask.get("/lines").status_code == 200, "still somebody of the job"


def test_nobody_is_paired_as_what_job_toml_does_not_say(lan: Lan) -> None:
    for person, role in (("P-2", "lead"), ("P-2", "test_in_charge"), ("P-1", "engineer"), ("P-77", "viewer")):
        with pytest.raises(BadInput):
            offer(lan.network.phones, lan.settings, person, [role])
    with pytest.raises(BadInput):
        offer(lan.network.phones, lan.settings, "P-2", [])
    lead = lan.phone("lead")
    told = lead.post(
        "/phones/pair", data={"key": key(lead, "/phones"), "person": "P-2", "roles": ["engineer"]}
    )
    assert told.status_code == 400
    assert "big-code" not in told.text


def test_a_dropped_phone_is_out_at_once_and_its_entries_stay(lan: Lan) -> None:
    ask, lead = lan.phone("joiner"), lan.phone("lead")
    found = re.search(r'name="phone" value="(ph-\w+)"[\s\S]*$', lead.get("/phones").text)
    assert found
    phone = next(p for p in lan.network.phones.all() if p.person == "P-2")
    told = lead.post("/phones/drop", data={"key": key(lead, "/phones"), "phone": phone.id, "reason": "lost"})
    assert told.status_code == 200
    assert ask.get("/lines").status_code == 401
    dropped = entries(lan, "phone_dropped")
    assert [dict(e.body) for e in dropped] == [
        {"phone": phone.id, "person": person_uuid(dropped[0].job, "P-2"), "reason": "lost"}
    ]
    assert dropped[0].who == person_uuid(dropped[0].job, "P-1")
    assert lead.post("/phones/drop", data={"key": key(lead, "/phones"), "phone": phone.id}).status_code == 400


def test_what_is_signed_on_a_page_is_signed_by_the_person_of_the_phone(lan: Lan) -> None:
    joiner, inspector = lan.phone("joiner"), lan.phone("inspector")
    lifted = {"f.tag": "H-1", "keep": "yes", "once": "", "by": ""}

    def tell(ask: TestClient, kind: str, sent: dict[str, str]) -> Any:
        return ask.post(f"/record/{kind}", data={"key": key(ask), **sent})

    assert "cannot be put down" in tell(joiner, "hold_tag_lifted", lifted).text
    assert "cannot sign as P-1" in tell(inspector, "note", {"f.text": "a", "by": "P-1"}).text
    own = tell(inspector, "note", {"f.text": "seen", "by": ""})
    assert own.status_code == 200
    assert "P-8" in own.text
    given = {
        "key": key(joiner),
        "verb": "raise",
        "subject": "B-2",
        "gauge": "90psi",
        "at": "PG-2",
        "medium": "water",
    }
    before = [e.id for e in entries(lan)]
    assert joiner.post("/release", data=given).status_code == 403
    charge = lan.phone("test_in_charge")
    told = charge.post("/release", data={**given, "key": key(charge), "by": "P-1"})
    assert "cannot sign as P-1" in told.text
    assert [e.kind for e in entries(lan) if e.id not in before] == ["phone_paired"]


# ---------------------------------------------------------------- pairing


def test_a_code_works_once_and_not_after_its_time(tmp_path: Path) -> None:
    now = [1_000_000.0]
    phones = Phones(tmp_path, now=lambda: now[0])
    first = phones.offer("P-2", [Role.JOINER], by="P-1")
    assert re.fullmatch("[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{4}", first.code)
    assert phones.take(first.code.lower().replace("-", " "), "a") is not None, "as people type it"
    assert phones.take(first.code, "b") is None
    late = phones.offer("P-2", [Role.JOINER], by="P-1")
    now[0] += store.CODE_LIVES + 1
    assert phones.take(late.code, "c") is None
    for odd in ("", "-", "A" * 40, late.code + "2", "' OR 1=1 --"):
        assert phones.take(odd, "d") is None
    phones.close()


def test_neither_codes_nor_sessions_can_be_read_from_the_disk(lan: Lan) -> None:
    code = lan.code("joiner")
    ask = lan.phone("lead")
    session = ask.cookies[rules.COOKIE]
    lan.network.phones.close()
    for file in (lan.folder / ".local").rglob("*"):
        if file.is_file():
            content = file.read_bytes()
            assert session.encode() not in content
            assert code.encode() not in content
            assert code.replace("-", "").encode() not in content


def test_a_session_from_before_the_pairing_is_worth_nothing_after_it(lan: Lan) -> None:
    """Session fixation: what somebody planted beforehand is not what the phone has afterwards."""
    planted = "p" * 43
    ask = lan.stranger()
    ask.cookies.set(rules.COOKIE, planted, domain=lan.network.authority.name, path="/")
    told = ask.post("/pair", data={"code": lan.code("joiner"), "name": "x"})
    assert told.status_code == 303
    fresh = re.match(rf"{rules.COOKIE}=([\w-]+);", told.headers["set-cookie"])
    assert fresh
    assert fresh[1] != planted
    assert len(fresh[1]) >= 43, "256 bits"
    thief = lan.stranger()
    thief.cookies.set(rules.COOKIE, planted, domain=lan.network.authority.name, path="/")
    assert thief.get("/lines").status_code == 401


def test_pairing_again_ends_the_session_before_and_keeps_the_phone(lan: Lan) -> None:
    ask = lan.phone("joiner")
    old = ask.cookies[rules.COOKIE]
    phone = lan.network.phones.all()[0]
    told = ask.post("/pair", data={"code": lan.code("joiner", again=phone.id), "name": "x"})
    assert told.status_code == 303
    assert ask.cookies[rules.COOKIE] != old
    assert [p.id for p in lan.network.phones.all()] == [phone.id]
    thief = lan.stranger()
    thief.cookies.set(rules.COOKIE, old, domain=lan.network.authority.name, path="/")
    assert thief.get("/lines").status_code == 401
    with pytest.raises(BadInput, match="no phone of P-3"):
        offer(lan.network.phones, lan.settings, "P-3", ["viewer"], again=phone.id)


def test_the_cookie_is_for_this_host_over_https_and_for_no_script(lan: Lan) -> None:
    told = lan.stranger().post("/pair", data={"code": lan.code("viewer"), "name": "x"})
    parts = [p.strip() for p in told.headers["set-cookie"].split(";")]
    assert parts[0].startswith("__Host-")
    assert {"Secure", "HttpOnly", "Path=/"} <= set(parts)
    assert any(p in ("SameSite=Lax", "SameSite=Strict") for p in parts)
    assert not any(p.lower().startswith("domain") for p in parts)
    language = lan.stranger().get("/pair?in=es").headers["set-cookie"]
    assert "HttpOnly" in language


def test_a_phone_that_is_not_seen_for_long_is_paired_again(tmp_path: Path) -> None:
    now = [1_000_000.0]
    phones = Phones(tmp_path, now=lambda: now[0])
    made = phones.take(phones.offer("P-2", [Role.JOINER], by="").code, "a")
    assert made is not None
    now[0] += 40 * 86400
    assert phones.by_session(made.session) is not None, "weeks without a signal"
    now[0] += store.UNSEEN + 1
    assert phones.by_session(made.session) is None
    phones.close()


def test_guessing_codes_is_hopeless_and_is_told(lan: Lan) -> None:
    code = lan.code("lead")
    one = lan.stranger()
    seen = [one.post("/pair", data={"code": f"2222-{n:04}", "name": "x"}).status_code for n in range(12)]
    assert seen[: rules.TRIES] == [403] * rules.TRIES
    assert set(seen[rules.TRIES :]) == {429}
    assert one.post("/pair", data={"code": code, "name": "x"}).status_code == 429, "also with the right one"
    tried = rules.TRIES
    for n in range(2, 60):  # many addresses do not help: open codes are closed
        many = lan.stranger(f"192.168.7.{100 + n}")
        for _ in range(rules.TRIES):
            if tried < rules.ALL_TRIES:
                tried += many.post("/pair", data={"code": "2222-2222", "name": "x"}).status_code == 403
    assert tried == rules.ALL_TRIES
    assert lan.stranger("192.168.7.250").post("/pair", data={"code": code, "name": "x"}).status_code == 403
    assert entries(lan) == [], "who knocks writes nothing"
    lan.network.audit.tell_refused()
    told = entries(lan, "refusals")
    assert len(told) == 1
    body = dict(told[0].body)
    assert body["counts"]["wrong code"] == rules.ALL_TRIES + 1
    assert body["counts"]["too often"] == 8
    assert body["codes_closed"] == 1
    assert body["addresses"] == 9
    # 40 tries at 30 open codes of 40 bits: less than one in a thousand million.
    assert rules.ALL_TRIES * store.MOST_OPEN / len(store.LETTERS) ** store.LENGTH < 1.1e-9


def test_an_attacker_cannot_fill_the_logbook(lan: Lan) -> None:
    now = [5_000.0]
    audit = Audit(lan.folder, now=lambda: now[0])
    for n in range(5000):
        audit.refused("not paired", f"10.{n % 250}.{n // 250}.7")
        if audit.due():
            audit.tell_refused()
        now[0] += 1
    assert len(entries(lan, "refusals")) == 2, "5000 s: one at once, one an hour later"
    assert entries(lan)[-1].body["addresses"] <= 1000
    assert len(entries(lan)[-1].raw) < 1000


# ---------------------------------------------------------------- forms of others, names of others


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://evil.example"}, {"origin": "null"}, {"origin": ""},
        {"origin": "http://{name}:8643"}, {"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"},
    ],
)  # fmt: skip
def test_a_form_of_another_site_writes_nothing(lan: Lan, headers: dict[str, str]) -> None:
    """CSRF: with the right session and even the right key."""
    lead = lan.phone("lead")
    good = key(lead)
    sent = {n: v.format(name=lan.network.authority.name) for n, v in headers.items()}
    before = taped(lan)
    told = lead.post("/tape", data={"key": good, **GAP}, headers=sent)
    assert told.status_code == 403
    assert taped(lan) == before
    fresh = lan.stranger()
    code = lan.code("viewer")
    assert fresh.post("/pair", data={"code": code, "name": "x"}, headers=sent).status_code == 403
    assert fresh.post("/pair", data={"code": code, "name": "x"}).status_code == 303, (
        "the code was not used up"
    )


def test_the_key_of_a_form_is_that_of_its_session(lan: Lan) -> None:
    lead, joiner = lan.phone("lead"), lan.phone("joiner")
    keys = {key(lead), key(joiner), key(lan.machine)}
    assert len(keys) == 3
    before = taped(lan)
    for other in (key(joiner), key(lan.machine), "", "é"):
        assert lead.post("/tape", data={"key": other, **GAP}).status_code in (400, 422)
    assert lan.machine.post("/tape", data={"key": key(lead), **GAP}).status_code == 400
    assert taped(lan) == before
    assert rules.COOKIE not in lead.get("/tape").text
    assert lead.cookies[rules.COOKIE] not in lead.get("/tape").text


@pytest.mark.parametrize(
    "host", ["evil.example", "{name}.evil.example", "", "10.0.0.7", "192.168.7.2.nip.example", "other.local"]
)
def test_another_name_for_the_server_is_refused(lan: Lan, host: str) -> None:
    """DNS rebinding: a page of another site that lets its name point here comes with its own name."""
    lead = lan.phone("lead")
    told = lead.get("/lines", headers={"host": host.format(name=lan.network.authority.name)})
    assert told.status_code == 421
    assert "B-201" not in told.text


def test_the_door_of_this_machine_is_not_opened_by_its_name_on_the_network(lan: Lan) -> None:
    ask = lan.stranger()
    assert ask.get("/lines", headers={"host": "localhost"}).status_code == 401
    assert ask.get("/lines", headers={"x-forwarded-for": "127.0.0.1"}).status_code == 401


def test_only_the_site_s_own_network_is_answered(lan: Lan) -> None:
    for address_ in ("203.0.113.9", "2001:db8::1", "testclient", ""):
        assert lan.stranger(address_).get("/pair").status_code == 403
    for address_ in ("10.1.1.1", "fd00::1", "::ffff:192.168.7.9", "127.0.0.1", "fe80::1%eth0"):
        assert lan.stranger(address_).get("/pair").status_code == 200


def test_headers_hold_on_the_network_too(lan: Lan) -> None:
    told = lan.stranger().get("/pair")
    assert told.headers["x-frame-options"] == "DENY"
    assert "frame-ancestors 'none'" in told.headers["content-security-policy"]
    assert "unsafe" not in told.headers["content-security-policy"]
    assert "max-age" in told.headers["strict-transport-security"]
    assert "access-control-allow-origin" not in told.headers
    for host in (
        "localhost",
        "192.168.7.2",
    ):  # plain http is at home there: insisting on https would break it
        assert "strict-transport-security" not in lan.stranger().get("/pair", headers={"host": host}).headers
    assert "strict-transport-security" not in lan.machine.get("/lines").headers


# ---------------------------------------------------------------- too much, too often, wrong ways


@pytest.mark.parametrize(
    "path",
    [
        "/papers/..%2fjob.toml", "/papers/%2e%2e/job.toml", "/static/..%2f..%2fapp.py",
        "/static/%2e%2e/app.py",
        "/static/....//app.py", "/static//etc/passwd", "/papers/..\\job.toml", "/lines/..%2f..%2fjob.toml",
        "/card/..%2f/..%2fjob.toml", "/papers/job.toml%00.pdf",
    ],
)  # fmt: skip
def test_no_path_leads_out(lan: Lan, path: str) -> None:
    told = lan.phone("lead").get(path)
    assert told.status_code in (200, 400, 404)
    assert "timezone" not in told.text
    assert "create_app" not in told.text
    assert "root:" not in told.text


def test_large_and_broken_uploads_are_refused_at_the_edge(lan: Lan) -> None:
    lead = lan.phone("lead")
    stranger = lan.stranger()
    big = b"x" * 2001
    assert (
        stranger.post(
            "/pair", content=big, headers={"content-type": "application/x-www-form-urlencoded"}
        ).status_code
        == 413
    )
    assert stranger.post("/sync/entries", content=b"x" * 1_000_001).status_code == 401, "not even looked at"
    for row in ROWS:
        if row.method != "POST" or row.unpaired:
            continue
        large = b"x" * (row.largest + 1)
        if not row.roles & {Role.LEAD}:
            continue
        told = lead.post(address(row.path), content=large, headers={"content-type": row.takes[0]})
        assert told.status_code == 413, row.path
        if "multipart/form-data" in row.takes:
            continue
        told = lead.post(
            address(row.path), content=b"--x", headers={"content-type": "multipart/form-data; boundary=x"}
        )
        assert told.status_code == 415, row.path
    assert (
        lead.post(
            "/tape", content=b"\xff%%%&&=", headers={"content-type": "application/x-www-form-urlencoded"}
        ).status_code
        == 400
    )


def test_who_asks_too_often_is_told_to_wait(lan: Lan) -> None:
    ask = lan.stranger()
    codes = [ask.get("/pair").status_code for _ in range(90)]
    assert codes[0] == 200
    assert codes[-1] == 429
    assert int(ask.get("/pair").headers["retry-after"]) >= 1
    assert lan.stranger("192.168.7.21").get("/pair").status_code == 200, "nobody else pays for it"
    lead = lan.phone("lead", address="192.168.7.22")
    assert [lead.get("/static/mark.svg").status_code for _ in range(120)] == [200] * 120, (
        "a paired phone works"
    )


def test_a_bucket_fills_again_and_forgets_the_oldest_only() -> None:
    now = [0.0]
    rate = Rate(2, 0.5, now=lambda: now[0])
    assert [rate.wait("a"), rate.wait("a"), rate.wait("a") > 0] == [0, 0, True]
    now[0] += 2
    assert rate.wait("a") == 0
    assert rate.wait("a") == pytest.approx(2)
    for n in range(6000):
        rate.wait(f"other {n}")
    assert len(rate._left) <= 4096
    assert asker("2001:db8::1") == asker("2001:db8::ffff"), "one device has a whole /64"
    assert asker("::ffff:10.0.0.1") == asker("10.0.0.1")


# ---------------------------------------------------------------- the plain port


def test_plain_http_has_the_instructions_and_the_certificate_and_nothing_else(lan: Lan) -> None:
    lan.network.trust.rate = Rate(1000, 1)
    ask = TestClient(lan.network.trust, base_url="http://192.168.7.2:8644", client=(PHONE, 1))
    page = ask.get("/")
    assert page.status_code == 200
    for n in range(0, 8, 2):
        assert " ".join(lan.network.authority.fingerprint.split()[n : n + 2]) in page.text
    assert 'lang="es"' in page.text
    assert "Brackstow" not in page.text
    assert "<script" not in page.text
    assert "default-src 'none'" in page.headers["content-security-policy"]
    got = ask.get("/job-ca.crt")
    assert got.content == lan.network.authority.file
    assert got.headers["content-type"] == "application/x-x509-ca-cert"
    assert b"PRIVATE" not in got.content
    for row in ROWS:
        if address(row.path) != "/":
            assert ask.get(address(row.path)).status_code == 404, row.path
            assert ask.post(address(row.path)).status_code == 405
    for path in ("/ca.key", "/.local/authority/ca.key", "/job-ca.crt/../ca.key", "//", "/%2e%2e/job.toml"):
        assert ask.get(path).status_code == 404 or ask.get(path).text == page.text
        assert "PRIVATE" not in ask.get(path).text
    assert "set-cookie" not in page.headers
    assert ask.get("/", headers={"host": "evil.example"}).status_code == 421


# ---------------------------------------------------------------- the verbs


def test_the_verbs_pair_list_and_drop(lan: Lan) -> None:
    at: list[Any] = ["--job", lan.folder]
    assert "serve --lan" in verb("phones", "pair", "P-2", "--as", "joiner", *at).err
    lan.network.phones.about("address", lan.network.address)
    said = verb("phones", "pair", "P-2", "--as", "joiner", "--by", "P-1", *at)
    assert said.code == 0, said.err
    code = re.search(r"code for P-2: ([0-9A-Z-]{9})", said.out)
    assert code
    assert "in person" in said.out
    told = lan.stranger().post("/pair", data={"code": code[1], "name": "crew phone"})
    assert told.status_code == 303
    listed = verb("phones", *at)
    phone = re.search(r"(ph-\w+)  P-2 as joiner, crew phone", listed.out)
    assert phone
    assert '"person": "P-2"' in verb("phones", "--json", *at).out
    assert verb("phones", "drop", phone[1], "--reason", "broken", *at).code == 0
    assert verb("phones", "drop", phone[1], *at).code == 64
    wrong = verb("phones", "pair", "P-2", "--as", "engineer", *at)
    assert wrong.code == 64
    assert "cannot be paired as engineer" in wrong.err
    assert verb("phones", "pair", "P-2", "--as", "boss", *at).code == 64
