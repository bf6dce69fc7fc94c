"""The joint card in a real browser: the logbook's bytes, nothing lost, nothing twice, nothing too early."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route

from card_rig import Server, arrived, card, kept_by_worker, phone, send, shelf, write
from lineproof.desk.record_typed import measured
from lineproof.desk.words_card import CARD
from lineproof.logbook.entry import canonical, make, parse, seal_of
from lineproof.logbook.fold import fold
from lineproof.logbook.kinds import faults
from lineproof.logbook.sqlite_store import SqliteStore
from web_rig import browser, works

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server for tests that do not look at what arrived."""
    one = Server(works(tmp_path_factory.mktemp("card") / "job"))
    yield one
    one.stop()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    one = Server(works(tmp_path / "job"))
    yield one
    one.stop()


# ---------------------------------------------------------------- the same bytes


def _texts(count: int) -> list[Any]:
    rnd = random.Random(7)
    letters = (
        'aZ09 "\\/\b\f\n\r\t\x00\x1f\x7f\u0085\u00e9\u2028\u2029\ufeff\uffff\ud7ff\ue000\U0001f6e0\U0010ffff'
    )

    def one(depth: int) -> Any:
        pick = rnd.randrange(8 if depth < 4 else 5)
        if pick < 2:
            return "".join(rnd.choice(letters) for _ in range(rnd.randrange(9)))
        if pick == 2:
            return rnd.choice([0, 1, -1, 2**53 - 1, -(2**53) + 1, rnd.randrange(10**9)])
        if pick < 5:
            return rnd.choice([None, True, False, ""])
        if pick == 5:
            return [one(depth + 1) for _ in range(rnd.randrange(4))]
        return {one(9) if rnd.random() < 0.1 else _key(rnd, letters): one(depth + 1) for _ in range(4)}

    def _key(rnd: random.Random, letters: str) -> str:
        return "".join(rnd.choice(letters) for _ in range(rnd.randrange(1, 6)))

    return [{"body": one(0), "z": i} for i in range(count)]


def _keys_are_texts(value: Any) -> bool:
    if isinstance(value, dict):
        return all(isinstance(k, str) for k in value) and all(map(_keys_are_texts, value.values()))
    return all(map(_keys_are_texts, value)) if isinstance(value, list) else True


def test_bytes_and_seals_are_those_of_the_logbook(chromium: Browser, shared: Server) -> None:
    values = [v for v in _texts(300) if _keys_are_texts(v)]
    assert len(values) > 100
    previous = "0f" * 32
    with phone(chromium) as context:
        page = context.new_page()
        page.goto(shared.address + "/card/")
        told = page.evaluate(
            """async ([values, previous]) => {
            const { canonical, seal, hex } = await import('/static/card/bytes.js');
            return Promise.all(values.map(async (v) => { const raw = canonical(JSON.parse(v));
              return [hex(raw), await seal(previous, raw)]; })); }""",
            [[json.dumps(v) for v in values], previous],
        )
        for value, (raw, seal) in zip(values, told, strict=True):
            assert bytes.fromhex(raw) == canonical(value)
            assert seal == seal_of(previous, canonical(value))
        refused = page.evaluate(
            """async () => { const { canonical } = await import('/static/card/bytes.js');
            const bad = [1.5, 2 ** 53, NaN, undefined, 'half \\ud83d', '\\udc00', new Date(), () => 1, 10n];
            return bad.map((v) => {
              try { canonical({ v }); return 'taken'; } catch { return 'refused'; } }); }"""
        )
        assert set(refused) == {"refused"}
        lengths = page.evaluate(
            """async () => { const m = await import('/static/card/measure.js');
            const us = { length: 'in', inch_step: 16 }, si = { length: 'mm', inch_step: 16 };
            const inches = [0, 1, 8, 16, 35, 97].map((n) => m.length(n, us));
            return { length: inches.concat([0, 3, 157].map((n) => m.length(n, si))),
              temperature: [[-20, 'F'], [0, 'F'], [32, 'F'], [61, 'F'], [-5, 'C'], [0, 'C'], [21, 'C']]
                .map(([n, unit]) => m.temperature(n, unit)),
              fraction: [0, 7, 55, 100].map(m.percent) }; }"""
        )
    for kind, many in lengths.items():
        for one in many:
            ours = measured(one["typed"], kind)
            assert one["unit"] == ours["unit"]
            assert float(one["si"]) == pytest.approx(float(ours["si"]), abs=2e-9)


def test_every_word_the_card_shows_is_in_both_languages_with_the_same_blanks() -> None:
    from lineproof.desk.web import app

    scripts = "".join(f.read_text("utf-8") for f in (app.HERE / "static" / "card").glob("*.js"))
    used = set(re.findall(r'\bt\(\s*"(\w+)"', scripts)) | {f"odd_{w}" for w in ("early", "pullers")}
    assert len(used) > 60
    assert sorted(used - CARD.keys()) == []
    for key, (english, spanish) in CARD.items():
        assert english, key
        assert spanish, key
        assert set(re.findall(r"\{(\w+)\}", english)) == set(re.findall(r"\{(\w+)\}", spanish)), key
    said = " ".join(w for both in CARD.values() for w in both)
    assert not re.search(r"\bGO\b|\bADELANTE\b", said), "no GO from a phone's cache"


# ---------------------------------------------------------------- a joint, step by step

STEPS = (
    "marked", "cleaned", "socket_primed", "pipe_primed", "socket_primed_again", "pipe_cemented",
    "socket_cemented", "pipe_cemented_again", "pushed", "home",
)  # fmt: skip


def take_steps(page: Page, *steps: str) -> None:
    for step in steps:
        page.click(f"#do-{step}.big")
        if step == "socket_primed" and page.locator("#anyway").count():
            page.click("#anyway")
        if step != "home":
            page.locator(f"#do-{step}.big").wait_for(state="detached")
    if steps[-1] == "home":
        page.wait_for_selector("#clock-hold, #clock-handsoff")


def test_a_joint_is_told_with_who_what_and_when(chromium: Browser, server: Server) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        page.click("#do-dry_fit")
        page.wait_for_selector("#do-marked")
        page.click("#boxes summary")
        page.select_option("#role-pipe_end", label="Joiner 1")
        page.select_option("#role-socket", label="Lead 1")
        page.click("#cans summary")
        page.select_option("#can-cement", label="lot HG-2611")
        page.select_option("#can-primer", index=1)
        page.click("#measured summary")
        page.click("#joint-temperature .stepper button:last-child")
        page.locator("#joint-temperature output", has_text="60").wait_for()
        page.click("#joint-temperature .pair button:first-child")
        page.locator("#joint-temperature output", has_text="50").wait_for()
        page.locator("#do-marked.big").dblclick()
        page.wait_for_selector("#do-cleaned.big")
        take_steps(page, *STEPS[1:-1])
        assert page.locator("#clock-working b").inner_text()[0] in "45"
        page.reload()
        page.wait_for_selector("#do-home.big")
        take_steps(page, "home")
        page.click("#do-hold_end")
        assert "to go" in page.locator(".note.stop").first.inner_text()
        page.click("#back")
        page.click("#do-hold_end")
        page.click("#anyway")
        page.wait_for_selector("#clock-handsoff")
        assert "NOT BEFORE" in page.locator("#clock-handsoff").inner_text()
        arrived(page)
        text = page.inner_text("main")
    assert not re.search(r"\bGO\b", text)
    told = server.entries()
    assert [e.kind for e in told] == ["dry_fit", "joint_made", "hold_end"]
    assert not any(faults(e) for e in told)
    made = told[1].body
    assert made["roles"] == {"pipe_end": server.person("P-2"), "socket": server.person("P-1")}
    assert made["lots"]["cement"] == "HG-2611"
    assert made["joint_temperature"]["typed"] == "50 F"
    assert [s["step"] for s in made["steps"]] == ["dry_fitted", *STEPS, "hold_begun"]
    assert "insisted" not in made
    assert "3:00" in told[2].body["insisted"] or "2:5" in told[2].body["insisted"]
    with SqliteStore(server.folder / "logbook.db") as store:
        assert any(s.entry.kind == "card" for s in store.read_since()), "the cement card is sealed with it"


def test_line_zero_comes_first_and_an_extra_joint_takes_two_taps(chromium: Browser, server: Server) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        zero = page.evaluate(
            """async () => { const told = await (await fetch('/sync/job')).json();
            return Object.keys(told.joints).find((j) => told.facts[told.joints[j].facts].first.length); }"""
        )
        page.goto(f"{server.address}/card/{zero}")
        page.wait_for_selector("#do-first0.big")
        assert "FIRST" in page.locator("#zero").first.inner_text()
        page.click("#do-first0")
        page.wait_for_selector("#do-dry_fit")
        page.click("#extra")
        page.click("#extra-coupling")
        page.wait_for_url("**/F1-*")
        page.wait_for_selector("#do-dry_fit")
        arrived(page)
    told = server.entries()
    assert told[0].kind == "first_on"
    assert told[0].body["what"] in ("ring", "nut")
    assert told[1].kind == "field_joint"
    assert told[1].body["beside"] == zero
    assert told[1].body["joint"].endswith(f"/F1-{told[1].writer[:4]}")


def test_a_tag_of_an_old_issue_is_superseded_and_of_another_job_is_refused(
    chromium: Browser, shared: Server
) -> None:
    with phone(chromium) as context:
        page = card(context, shared)
        page.goto(shared.address + "/card/")
        page.wait_for_selector("#tag")
        page.fill("#tag", "LP:OTHER:B-201/J2:0")
        page.click("#open")
        page.get_by_text("of another job").wait_for()
        page.fill("#tag", "LP:BRK:B-201/J2:7")
        page.click("#open")
        assert page.locator("#superseded").inner_text().startswith("SUPERSEDED")
        page.goto(shared.address + "/card/")
        page.wait_for_selector("#tag")
        page.fill("#tag", "b-201/j2")
        page.click("#open")
        page.wait_for_selector("#do-dry_fit")
        assert page.locator("#superseded").count() == 0


# ---------------------------------------------------------------- nothing lost, nothing twice


def test_a_shift_offline_with_reloads_and_a_killed_server_arrives_exactly_once(
    chromium: Browser, server: Server
) -> None:
    """40 joints: the phone is offline, reloaded in between, and the server is killed while it takes them."""
    with phone(chromium) as context:
        page = card(context, server)
        kept_by_worker(page)
        context.set_offline(True)
        server.stop()
        names = page.evaluate(
            """async () => { const { app } = await import('/static/card/card.js');
            return Object.keys(app.job.joints).slice(0, 40); }"""
        )
        for n, name in enumerate(names):
            if n % 10 == 0:  # a fresh page from what the phone keeps, with no server and no signal
                page.goto(f"{server.address}/card/{name}")
                page.wait_for_selector("html[data-ready]")
                page.locator("#photo").dblclick()
                page.wait_for_selector("#kept")
            else:
                write(page, "note", {"joint": name, "text": "photo owed"})
            for kind in ("joint_made", "hold_end", "pullers_off"):
                write(page, kind, {"joint": name})
        waiting = shelf(page, "return await shelf.count('entries', 'waiting', 1);")
        seals = shelf(page, "return (await shelf.all('entries')).map((e) => e.seal);")
        assert waiting == len(seals) == 160, "a double tap is one entry"
        server.start()
        page.route("**/sync/entries", _cut_off_after(server, 2))
        context.set_offline(False)
        for _ in range(6):
            send(page)
        page.unroute("**/sync/entries")
        send(page)
        arrived(page)
        assert shelf(page, "return await shelf.count('entries', 'waiting', 1);") == 0
    kept = [e.seal for e in server.entries()]
    assert len(kept) == len(set(kept))
    assert kept == seals
    with SqliteStore(server.folder / "logbook.db") as store:
        state = fold(store.read_since())
    assert state.holes == ()
    assert state.forks == ()


def _cut_off_after(server: Server, times: int) -> Any:
    """The server takes the entries, but its answer never comes: it is killed and started again."""
    left = [times]

    def handle(route: Route) -> None:
        if left[0]:
            left[0] -= 1
            route.fetch()
            server.stop()
            server.start()
            route.abort()
        else:
            route.continue_()

    return handle


def test_the_page_of_a_portal_clears_nothing(chromium: Browser, server: Server) -> None:
    with phone(chromium, service_workers="block") as context:
        page = card(context, server)
        page.route(
            "**/sync/**", lambda r: r.fulfill(status=200, content_type="text/html", body="<h1>Sign in</h1>")
        )
        page.click("#photo")
        page.wait_for_selector("#kept")
        page.get_by_text("answers with a page of its own").wait_for()
        assert shelf(page, "return await shelf.count('entries', 'waiting', 1);") == 1
        page.unroute("**/sync/**")
        page.route("**/sync/entries", lambda r: r.fulfill(json={"lineproof": "taken", "entries": [
            {"id": "x", "sequence": 1, "seal": "0" * 64, "new": True, "forked": False}]}))  # fmt: skip
        send(page)
        page.get_by_text("does not fit what was sent").wait_for()
        assert shelf(page, "return await shelf.count('entries', 'waiting', 1);") == 1
        assert server.entries() == []
        page.unroute("**/sync/entries")
        page.click("#send")
        arrived(page)
    assert [e.kind for e in server.entries()] == ["note"]


def test_two_phones_on_one_joint_are_two_stories_in_words(chromium: Browser, server: Server) -> None:
    tell = "async () => (await import('/static/card/card.js')).write('joint_made', { joint: 'B-201/J3' })"
    with phone(chromium) as one, phone(chromium) as two:
        first, second = card(one, server, "B-201/J3"), card(two, server, "B-201/J3", "Lead 1")
        for page in (first, second):
            page.evaluate(tell)
            send(page)
        second.wait_for_selector("#stories")
        assert second.locator("#stories").inner_text().startswith("TWO STORIES")
        first.reload()
        first.wait_for_selector("#stories")
        first.click("#language")
        assert first.locator("#stories").inner_text().startswith("DOS VERSIONES")
    with SqliteStore(server.folder / "logbook.db") as store:
        state = fold(store.read_since())
    assert state.joints["B-201/J3"].two_stories
    assert len({e.writer for e in server.entries()}) == 2


def test_another_body_under_an_id_of_this_phone_is_a_fork_in_words(chromium: Browser, server: Server) -> None:
    with phone(chromium) as context:
        page = card(context, server, "B-201/J4")
        page.route("**/sync/entries", lambda r: r.abort())
        page.click("#photo")
        page.wait_for_selector("#kept")
        raw = bytes(shelf(page, "return [...(await shelf.all('entries'))[0].raw];"))
        mine = parse(raw)
        other = make({**json.loads(raw), "body": {"joint": "B-201/J4", "text": "another story"}})
        with SqliteStore(server.folder / "logbook.db", job=mine.job) as store:
            store.append([other])
        page.unroute("**/sync/entries")
        page.click("#send")
        page.wait_for_selector("#forked")
        assert "Both are kept" in page.locator("#forked").inner_text()
    assert {e.raw for e in server.entries()} == {mine.raw, other.raw}


def test_two_tabs_of_one_phone_write_one_chain(chromium: Browser, server: Server) -> None:
    tell = """async (who) => { const { write } = await import('/static/card/card.js');
      const note = (n) => write('note', { text: `${who} ${n}`, joint: 'B-201/J5' });
      await Promise.all([1, 2, 3, 4, 5, 6].map(note)); }"""
    with phone(chromium) as context:
        one, two = card(context, server, "B-201/J5"), card(context, server, "B-201/J5")
        one.evaluate(f"window.both = ({tell})('one')")
        two.evaluate(tell, "two")
        one.evaluate("window.both")
        send(one)
    told = server.entries()
    assert [e.sequence for e in told] == list(range(1, 13))
    assert sorted(str(e.body["text"]) for e in told) == sorted(
        f"{w} {n}" for w in ("one", "two") for n in range(1, 7)
    )


def test_entries_that_wait_come_along_into_a_newer_store_and_a_newer_worker(
    chromium: Browser, server: Server
) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        kept_by_worker(page)
        page.route("**/sync/entries", lambda r: r.abort())
        page.click("#photo")
        page.wait_for_selector("#kept")
        page.goto(server.address + "/static/mark.svg")
        # The store as the first version had it, with the same entry waiting.
        page.evaluate(
            """async () => { const { open, STEPS } = await import('/static/card/shelf.js');
            const name = `lineproof-${localStorage.getItem('lineproof-job')}`;
            const now = await open(name);
            const entries = await now.all('entries'), keys = ['writer', 'who', 'job'];
            const about = await Promise.all(keys.map((k) => now.get('about', k)));
            now.close();
            await new Promise((done) => { indexedDB.deleteDatabase(name).onsuccess = done; });
            const old = await open(name, STEPS.slice(0, 1));
            await old.change(['entries', 'about'], (tx) => {
              entries.forEach((e) => tx.objectStore('entries').add(e));
              keys.forEach((k, n) => tx.objectStore('about').add(about[n], k)); });
            old.close(); }"""
        )
        page.goto(f"{server.address}/card/B-201/J1")
        page.wait_for_selector("html[data-ready]")
        assert shelf(page, "return await shelf.count('entries', 'joint', 'B-201/J1');") == 1
        page.unroute("**/sync/entries")
        page.click("#send")
        arrived(page)
    assert [e.kind for e in server.entries()] == ["note"]


def test_a_newer_worker_takes_over_on_a_tap_and_keeps_what_waits(
    chromium: Browser, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        kept_by_worker(page)
        page.route("**/sync/entries", lambda r: r.abort())
        page.click("#photo")
        page.wait_for_selector("#kept")
        old = page.evaluate("caches.keys()")
        monkeypatch.setitem(CARD, "photo_owed", ("the photo is owed", "se debe la foto"))
        page.evaluate("navigator.serviceWorker.getRegistration('/card/').then((r) => r.update())")
        page.click("#update")
        page.get_by_text("the photo is owed").first.wait_for()
        new = page.evaluate("caches.keys()")
        assert len(new) == 1
        assert new != old
        page.unroute("**/sync/entries")
        page.click("#send")
        arrived(page)
    assert [e.kind for e in server.entries()] == ["note"]


def test_a_worker_keeps_no_page_that_is_not_ours(chromium: Browser, shared: Server) -> None:
    with phone(chromium) as context:
        context.route(
            "**/static/card/card.css", lambda r: r.fulfill(body="<h1>Sign in</h1>", content_type="text/css")
        )
        page = card(context, shared)
        page.wait_for_timeout(500)
        assert (
            page.evaluate("async () => (await caches.match('/static/card/card.css')) === undefined ? 0 : 1")
            == 0
        )
        assert page.evaluate(
            "navigator.serviceWorker.getRegistration('/card/').then((r) => !r || r.active === null)"
        )


# ---------------------------------------------------------------- clocks and room


def test_a_phone_a_day_wrong_is_told_and_its_times_are_not_taken_for_set(
    chromium: Browser, server: Server
) -> None:
    with phone(chromium) as context:
        page = context.new_page()
        page.add_init_script("const real = Date.now.bind(Date); Date.now = () => real() + 86400000;")
        page.goto(f"{server.address}/card/B-201/J6")
        page.wait_for_selector("html[data-ready]")
        page.get_by_role("button", name=re.compile("^Joiner 1 ·")).click()
        page.click("#photo")
        page.wait_for_selector("#kept")
        arrived(page)
        page.get_by_text("THE CLOCK OF THIS PHONE IS WRONG by 24 h").wait_for()
    entry = server.entries()[0]
    assert entry.synchronised != "yes"
    with SqliteStore(server.folder / "logbook.db") as store:
        event = fold(store.read_since()).joints["B-201/J6"].events[0]
    assert not event.stamp.trusted


def test_time_that_passed_is_never_too_long_and_time_that_is_left_never_too_long(
    chromium: Browser, shared: Server
) -> None:
    with phone(chromium) as context:
        page = context.new_page()
        page.goto(shared.address + "/card/")
        told = page.evaluate(
            """async () => { const { BOOT, passed, passedAtMost } = await import('/static/card/clock.js');
            const at = (wall, mono, boot = BOOT) => ({ wall, mono, boot, synchronised: 'unknown' });
            const out = {};
            out.plain = passed(at(0, 0), {}, at(60000, 60));
            out.stepped_on = passed(at(0, 0), {}, at(3600000, 60));
            out.stepped_back = passed(at(0, 0), {}, at(-3600000, 60));
            out.left_stepped_on = passedAtMost(at(0, 0), {}, at(3600000, 60));
            out.left_stepped_back = passedAtMost(at(0, 0), {}, at(-3600000, 60));
            const old = at(0, 100, 'page-old');
            out.after_start = passed(old, { 'page-old': 130 }, at(3600000, 5));
            out.later = passed(old, { 'page-old': 130 }, at(3610000, 15));
            out.not_seen = passed(at(0, 7, 'page-lost'), {}, at(3600000, 5));
            out.left_after_start = passedAtMost(old, { 'page-old': 130 }, at(3600000, 5));
            return out; }"""
        )
    assert told["plain"] == told["stepped_on"] == 60
    assert told["stepped_back"] == 0
    assert told["left_stepped_on"] == 3600
    assert told["left_stepped_back"] == 60
    assert told["after_start"] == 30, "only what the old page was seen to be open for"
    assert told["later"] == 40
    assert told["not_seen"] == 0
    assert told["left_after_start"] == 3600


def test_a_clock_counts_as_set_only_while_it_was_held_against_a_set_one(
    chromium: Browser, shared: Server
) -> None:
    with phone(chromium) as context:
        page = context.new_page()
        page.goto(shared.address + "/card/")
        told = page.evaluate(
            """async () => { const { hold, read, wrongBy } = await import('/static/card/clock.js?own');
            const said = (off, synchronised, took = 0) => {
              const now = Date.now();
              hold(now - took, now, { now: new Date(now - off).toISOString(), synchronised });
              return read().synchronised; };
            const out = { before: read().synchronised, near: said(300, 'yes'), slow: said(0, 'yes', 5000),
              far: said(5000, 'yes'), day: said(86400000, 'yes'), unset: said(0, 'no') };
            out.wrong = Math.round(wrongBy());
            said(0, 'yes');
            const real = Date.now.bind(Date);
            Date.now = () => real() + 3600000; // somebody sets the phone's clock
            out.set_since = read().synchronised;
            return out; }"""
        )
    assert told == {
        "before": "unknown", "near": "yes", "slow": "unknown", "far": "unknown", "day": "no",
        "unset": "unknown", "wrong": 0, "set_since": "unknown",
    }  # fmt: skip


def test_it_says_where_it_is_not_safe_and_warns_early_when_room_runs_out(
    chromium: Browser, shared: Server
) -> None:
    with phone(chromium) as context:
        page = card(context, shared)
        page.get_by_text("NOT SAFE TO KEEP HERE").wait_for()
        page.add_init_script(
            "navigator.storage.persisted = async () => true;"
            "navigator.storage.estimate = async () => ({ usage: 81, quota: 100 });"
        )
        page.reload()
        page.get_by_text("NEARLY FULL").wait_for()
        assert page.get_by_text("NOT SAFE TO KEEP HERE").count() == 0


def test_a_tap_that_cannot_be_kept_is_never_shown_as_done(chromium: Browser, shared: Server) -> None:
    with phone(chromium) as context:
        page = card(context, shared)
        page.evaluate(
            "void (IDBObjectStore.prototype.add = "
            "() => { throw new DOMException('full', 'QuotaExceededError'); })"
        )
        page.click("#photo")
        page.get_by_text("NOT KEPT").wait_for()
        assert page.locator("#done li").count() == 0
        assert page.locator("#kept").count() == 0


def test_the_file_of_entries_is_the_chain_itself(chromium: Browser, server: Server, tmp_path: Path) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        page.click("#photo")
        page.wait_for_selector("#kept")
        with page.expect_download() as got:
            page.click("#file")
        got.value.save_as(tmp_path / "entries.jsonl")
        arrived(page)
    entries = [parse(line) for line in (tmp_path / "entries.jsonl").read_bytes().splitlines()]
    assert [e.raw for e in entries] == [e.raw for e in server.entries()]


# ---------------------------------------------------------------- how it looks

TARGETS = """() => [...document.querySelectorAll('button, select, input, textarea, summary, .tap')]
  .filter((e) => e.checkVisibility()).map((e) => [e.outerHTML.slice(0, 60), e.getBoundingClientRect()])
  .filter(([, r]) => r.height < 56 || r.width < 56).map(([h]) => h)"""
CONTRAST = """() => {
  const lum = (c) => {
    const [r, g, b] = c.match(/[\\d.]+/g).map(Number).map((v) => v / 255)
      .map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const behind = (e) => {
    for (let n = e; n; n = n.parentElement) {
      const b = getComputedStyle(n).backgroundColor;
      if (!/^rgba.*, 0\\)$/.test(b)) return b; }
    return 'rgb(255, 255, 255)'; };
  return [...document.querySelectorAll('main *')]
    .filter((e) => e.checkVisibility() && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
    .map((e) => { const a = lum(getComputedStyle(e).color), b = lum(behind(e));
      return [e.outerHTML.slice(0, 60), (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)]; })
    .filter(([, r]) => r < 7); }"""
"""Contrast as WCAG 2 defines it: below 7:1."""


def test_targets_contrast_and_width_on_a_phone(chromium: Browser, shared: Server) -> None:
    with phone(chromium) as context:
        page = card(context, shared)
        for part in ("boxes", "cans", "measured", "facts", "todo", "examine", "further"):
            page.click(f"#{part} > summary")
        seen = set()
        for change in ("#language", "#light", "#language", "#light"):
            page.click(change)
            seen.add(page.locator("#language").inner_text() + page.locator("#light").inner_text())
            assert page.evaluate(TARGETS) == []
            assert page.evaluate(CONTRAST) == []
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        assert seen == {"Englishoscuro", "Englishclaro", "Españollight", "Españoldark"}
        page.goto(shared.address + "/card/")
        page.wait_for_selector("#tag")
        assert page.evaluate(TARGETS) == []
        assert page.evaluate(CONTRAST) == []


def test_the_scripts_are_small() -> None:
    """All JavaScript of the pages, packed: up to 120 kB for the whole site."""
    import gzip

    from lineproof.desk.web import app

    packed = sum(len(gzip.compress(f.read_bytes())) for f in (app.HERE / "static").rglob("*.js"))
    assert packed <= 120_000
