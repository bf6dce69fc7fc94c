"""Photographs on a phone: on its disk before they show, made smaller, sent last, never lost on the way."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from card_rig import Server, arrived, card, kept_by_worker, phone, shelf
from web_rig import browser, works

pytestmark = pytest.mark.slow
COUNT = "return (await shelf.keys('photos')).length;"


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    one = Server(works(tmp_path / "job"))
    yield one
    one.stop()


def taken(size: tuple[int, int], kind: str = "JPEG") -> dict[str, object]:
    out = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(out, kind)
    return {"name": f"photo.{kind.lower()}", "mimeType": f"image/{kind.lower()}", "buffer": out.getvalue()}


def test_a_photograph_waits_through_a_reload_and_arrives_after_its_entry_and_in_parts(
    chromium: Browser, server: Server
) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        kept_by_worker(page)
        context.set_offline(True)
        page.set_input_files("#camera-photo", taken((3600, 2400)))  # type: ignore[arg-type]
        page.locator("#done", has_text="photo owed").wait_for()
        page.reload()
        page.locator("#done", has_text="photo owed").wait_for()
        assert shelf(page, COUNT) == 1
        size, wide, high = shelf(
            page,
            "const [one] = await shelf.all('photos');"
            "const b = await createImageBitmap(new Blob([one.bytes]));"
            "return [one.bytes.length, b.width, b.height];",
        )
        assert (wide, high) == (1600, 1067)
        # The network drops after the first part, and comes back.
        sent: list[str] = []

        def drops(route: object) -> None:
            sent.append(route.request.url)  # type: ignore[attr-defined]
            if len(sent) == 2:
                route.abort()  # type: ignore[attr-defined]
            else:
                route.continue_()  # type: ignore[attr-defined]

        page.route("**/sync/photo/*?at=*", drops)
        context.set_offline(False)
        arrived(page)
        while shelf(page, COUNT):
            page.click("#send")
            page.wait_for_timeout(100)
        assert [int(u.split("at=")[1].split("&")[0]) for u in sent][:3] == [0, 200_000, 200_000]
        page.locator("#done li", has_text="photo").filter(has_not_text="owed").wait_for()
        looked = context.new_page()
        looked.goto(f"{server.address}/joint/B-201/J1")
        shown = looked.locator("img.photo")
        shown.scroll_into_view_if_needed()
        assert shown.evaluate("(i) => i.decode().then(() => i.naturalWidth)") == 1600
        assert looked.evaluate("document.documentElement.scrollWidth <= innerWidth")
    told = server.entries()
    assert [e.kind for e in told] == ["note"]
    digest = told[0].body["photos"][0]
    assert (server.folder / "files" / digest[:2] / digest).stat().st_size == size


def test_a_small_picture_goes_as_it_is_and_what_is_no_picture_is_not_kept(
    chromium: Browser, server: Server
) -> None:
    small = taken((300, 200), "PNG")
    with phone(chromium) as context:
        page = card(context, server)
        page.set_input_files(
            "#camera-photo", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"<html>no</html>"}
        )
        page.get_by_text("that is no picture").wait_for()
        assert shelf(page, "return (await shelf.all('entries')).length;") == 0
        page.set_input_files("#camera-photo", small)  # type: ignore[arg-type]
        page.locator("#done li", has_text="photo").wait_for()
        arrived(page)
        while shelf(page, COUNT):
            page.click("#send")
            page.wait_for_timeout(100)
    digest = server.entries()[0].body["photos"][0]
    assert (server.folder / "files" / digest[:2] / digest).read_bytes() == small["buffer"]


@pytest.mark.parametrize("how", ["crammed", "quota"])
def test_a_phone_with_no_room_refuses_photographs_and_still_keeps_entries(
    chromium: Browser, server: Server, how: str
) -> None:
    with phone(chromium) as context:
        page = card(context, server)
        if how == "crammed":
            page.evaluate("void (navigator.storage.estimate = async () => ({ usage: 95, quota: 100 }))")
        else:
            page.evaluate(
                "(() => { const real = IDBObjectStore.prototype.put;"
                "IDBObjectStore.prototype.put = function (value, key) {"
                "if (this.name === 'photos') throw new DOMException('full', 'QuotaExceededError');"
                "return real.call(this, value, key); }; })()"
            )
        page.set_input_files("#camera-photo", taken((800, 600)))  # type: ignore[arg-type]
        page.get_by_text("No room for photos").wait_for()
        page.locator("#done li", has_text="photo owed").wait_for()
        arrived(page)
        assert shelf(page, COUNT) == 0
    told = server.entries()
    assert [(e.kind, e.body["text"]) for e in told] == [("note", "photo owed")]
