"""The second way out in a real browser: codes of one phone read by another; tags read by the page."""

from __future__ import annotations

import base64
import io
import random
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import segno
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page

from card_rig import Server, arrived, card, kept_by_worker, phone, shelf, write
from lineproof.logbook.frames import entries_from
from web_rig import browser, works

pytestmark = pytest.mark.slow
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    one = Server(works(tmp_path / "job"))
    yield one
    one.stop()


def pictures_of(page: Page) -> list[bytes]:
    """Every code as the screen shows it, stepped by hand."""
    page.click("#codes")
    page.click("#frame-next")
    page.wait_for_selector("#code[data-frame]")
    of = int(page.locator("#frame").inner_text().split()[-1])
    found: dict[str, bytes] = {}
    while len(found) < of:
        shown = page.locator("#code").get_attribute("data-frame") or ""
        url = page.evaluate("document.getElementById('code').toDataURL()")
        found[shown] = base64.b64decode(url.partition(",")[2])
        page.click("#frame-next")
        if of > 1:
            page.locator(f"#code:not([data-frame='{shown}'])").wait_for()
    return [found[k] for k in sorted(found, key=int)]


def as_files(pictures: list[bytes]) -> list[Any]:
    return [{"name": f"{n}.png", "mimeType": "image/png", "buffer": p} for n, p in enumerate(pictures)]


def test_codes_of_a_phone_without_a_network_reach_the_job_through_another_phone(
    chromium: Browser, server: Server
) -> None:
    with phone(chromium) as one, phone(chromium) as two:
        page = card(one, server)
        kept_by_worker(page)
        one.set_offline(True)
        for n in range(9):
            write(page, "note", {"joint": "B-201/J1", "text": f"told in the trench {n} ü"})
        raws = [bytes(r) for r in shelf(page, "return (await shelf.all('entries')).map((e) => [...e.raw]);")]
        pictures = pictures_of(page)
        assert len(pictures) > 3
        # An independent reader sees the frames, and the command line takes them.
        texts = [zxingcpp.read_barcodes(Image.open(io.BytesIO(p)))[0].text for p in pictures]
        assert entries_from(random.Random(4).sample(texts, len(texts))) == b"".join(r + b"\n" for r in raws)
        assert server.entries() == []
        # Another phone reads them in another order, some twice, one of them late.
        other = card(two, server, "B-201/J2", "Lead 1")
        other.goto(f"{server.address}/card/")
        other.click("#read > summary")
        late, rest = pictures[1], [p for n, p in enumerate(pictures) if n != 1]
        other.set_input_files("#read-pictures", as_files([*reversed(rest), rest[0]]))
        of = len(pictures)
        other.get_by_text(f"{of - 1} of {of} codes read; missing: 2").wait_for()
        other.set_input_files("#read-pictures", as_files([late]))
        other.get_by_text(f"All {of} codes read").wait_for()
        arrived(other)
        assert shelf(other, "return (await shelf.keys('carried')).length;") == 0
        assert sorted(e.raw for e in server.entries()) == sorted(raws)
        # The first phone finds a network after all: nothing is there twice.
        page.click("#codes-done")
        one.set_offline(False)
        page.click("#send")
        arrived(page)
        assert [e.raw for e in server.entries()] == raws


def test_what_was_read_waits_on_that_phone_until_the_job_answers(chromium: Browser, server: Server) -> None:
    with phone(chromium) as one, phone(chromium) as two:
        page = card(one, server)
        page.route("**/sync/entries", lambda r: r.abort())
        write(page, "note", {"joint": "B-201/J1", "text": "carried"})
        pictures = pictures_of(page)
        other = card(two, server, "B-201/J2", "Lead 1")
        kept_by_worker(other)
        other.goto(f"{server.address}/card/")
        two.set_offline(True)
        other.click("#read > summary")
        other.set_input_files("#read-pictures", as_files(pictures))
        other.get_by_text("Entries of another phone wait here").wait_for()
        other.reload()
        other.get_by_text("Entries of another phone wait here").wait_for()
        two.set_offline(False)
        other.click("#send")
        other.get_by_text("Entries of another phone wait here").wait_for(state="detached")
    assert [e.body["text"] for e in server.entries()] == ["carried"]


def test_the_page_reads_tags_of_an_independent_writer_where_the_phone_has_no_reader(
    chromium: Browser, server: Server
) -> None:
    """Codes written by segno (ISO/IEC 18004), turned and blurred as a hand holds them."""
    texts = ("LP:BRK:B-201/J14:2", "HG-2611", "LP:BRK:B-201/F1-ab12:0")
    with phone(chromium) as context:
        page = card(context, server)
        page.evaluate("void delete window.BarcodeDetector")
        for text in texts:
            out = io.BytesIO()
            segno.make(text, error="m", micro=False).save(out, kind="png", scale=9, border=6)
            for turn in (0, 7, 90):
                turned = Image.open(out).convert("L").rotate(turn, expand=True, fillcolor=255)
                seen = io.BytesIO()
                turned.resize((turned.width * 2 // 3, turned.height * 2 // 3)).save(seen, "PNG")
                read = page.evaluate(
                    "async (b) => (await import('/static/card/codes.js')).readPicture("
                    "new Blob([Uint8Array.from(b)], { type: 'image/png' }))",
                    list(seen.getvalue()),
                )
                assert read == text, turn


def test_the_packed_scripts_are_what_their_lock_builds() -> None:
    """Built anew from the pinned packages and compared byte for byte."""
    ran = subprocess.run(
        [ROOT / "scripts" / "assets" / "make.sh", "--check"], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "as built from the lock" in ran.stdout
    lock = (ROOT / "scripts" / "assets" / "package-lock.json").read_text("utf-8")
    assert "resolved" not in lock
    assert '"integrity"' in lock
